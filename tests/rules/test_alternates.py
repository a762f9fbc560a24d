"""The way to an alternate is judged by every rule of the route, with the same findings, and told by its name."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from helpers.judged import found, judged, judged_text, of

from navlog.rules.domains import every_rule
from navlog.rules.registry import Finding, Rule
from navlog.rules.samples import FLOWN_BY_FILE, SampleCatalogue, sample

FROM_QHB = ("alternate QHB via V801 QEL XOLD", "route XHAR QHB XHAR", "airport XOLD N45 41.00 W039 20.00 elev 350ft")
"""The alternate alone flies the airway to QEL."""

TO_XHAR = "direct XOLD - XHAR 34.7nm min 4000"

EACH_WAY = [one for one in every_rule() if not one.whole_flight]

CLOCK = re.compile(r"\d\d:\d\d\S*")


def on_alternates(rule: str, *changed: str) -> list[str]:
    """What one rule finds on the ways to alternates, as `severity alternate NAME leg N: message`."""
    told = [one for one in judged(*changed) if one.rule == rule and one.alternate is not None]
    return [f"{one.severity.value} {one.told}" for one in told]


def alike(findings: list[Finding]) -> Counter[tuple[str, str, str]]:
    """Rule, severity and message of findings, times of day aside."""
    return Counter((one.rule, one.severity.value, CLOCK.sub("TIME", one.message)) for one in findings)


def flown_as_route(text: str) -> str:
    """A rule's sample with an airport at the end of its route."""
    (route,) = re.findall(r"^route .*$", text, re.MULTILINE)
    *before, last = route.split()
    if last.startswith("X"):
        return text
    if last[0].isdigit():
        return text.replace(route, f"airport XEND {last}\n{' '.join(before)} XEND")
    ends = f"{route} XOLD"
    by_chart = re.search(rf"^station {last} \S+ decl", text, re.MULTILINE)
    if by_chart and not re.search(rf"^direct .*\b{last}\b.*XOLD", text, re.MULTILINE):  # no position tells how far
        ends += f"\ndirect {last} - XOLD 9.6nm min 2500"
    return text.replace(route, ends)


def flown_as_alternate(text: str) -> str:
    """The same way, flown to an alternate after a short flight to where it begins."""
    (route,) = re.findall(r"^route .*$", text, re.MULTILINE)
    _, start, *way = route.split()
    beside = f"route XAWAY {start}\nairport XAWAY N46 14.50 W039 01.20 elev 790ft"
    if re.search(rf"^station {start} \S+ decl", text, re.MULTILINE):  # by the chart alone: no position tells how far
        beside += f"\ndirect XAWAY - {start} 13.7nm min 2500"
    return text.replace(route, f"{beside}\nalternate {start} via {' '.join(way)}")


@pytest.mark.parametrize("rule", EACH_WAY, ids=lambda rule: rule.ident)
def test_a_way_has_the_same_findings_as_a_route_and_as_an_alternate(rule: Rule) -> None:
    text, each_way = flown_as_route(rule.failing), {one.ident for one in EACH_WAY}
    alone = [one for one in judged_text(text, SampleCatalogue()) if one.rule in each_way]
    together = judged_text(flown_as_alternate(text), SampleCatalogue())
    there = [one for one in together if one.alternate is not None]
    assert rule.ident in {one.rule for one in alone}
    assert rule.ident in {one.rule for one in together}
    once = alike([one for one in together if one.alternate is None])
    # `variation-differs` names only the first place of the flight, which is another one here.
    left_out = alike([one for one in alone if one.rule != "variation-differs"]) - alike(there)
    assert left_out - once == Counter(), "found on the route, and neither on the alternate nor on the way to it"
    assert alike(there) - alike(alone) == Counter(), "found on the alternate alone"
    assert {one.rule for one in there} <= each_way


def test_no_finding_of_the_whole_flight_is_told_twice() -> None:
    bare = ("alternate XHAR", "-wind", "-off", "-fuel", "rules ifr", "unavailable QEL")
    told = Counter(
        one.rule for one in judged(*bare) if one.rule in {rule.ident for rule in every_rule() if rule.whole_flight}
    )
    assert told == {"no-wind": 1, "no-off": 1, "no-fuel": 1, "vor-check": 1}


def test_a_station_is_told_once_that_the_route_and_an_alternate_use() -> None:
    # QUV is of a source that is not verified, and its channel is not paired with its frequency.
    by_quv = "route XHAR QHB V801 QEL/A055 QUV XOLD"
    for rule in ("unverified-source", "channel-unpaired"):
        assert len(found(rule, by_quv, "alternate QUV via QEL QUV XHAR")) == 1
        (there,) = on_alternates(rule, "alternate QEL via QUV XHAR")
        assert there.startswith("warning alternate XHAR leg ")


def test_an_inbound_course_for_a_radial_is_an_error_on_the_way_to_an_alternate() -> None:
    # XOLD lies on the 126 true, 143 magnetic of QEL (17W); 323 is the course in from there.
    back = ("alternate QEL via XOLD", "route XHAR QHB V801 QEL QHB XHAR")
    direct = "direct QEL {} - XOLD 9.6nm min 2500"
    (told,) = on_alternates("radial-reversed", *back, direct.format(306))
    assert told.startswith(
        "error alternate XOLD leg 1: QEL 306 is the inbound course, not the radial: the radial is 126"
    )
    assert on_alternates("radial-reversed", *back, direct.format(126)) == []


def test_a_finding_on_an_alternate_is_on_no_leg_of_the_route() -> None:
    low = judged("alternate XHAR at 3500", TO_XHAR)
    (one,) = [one for one in low if one.rule == "under-minimum"]
    assert (one.leg, one.alternate.number, one.alternate.name, one.alternate.leg) == (None, 1, "XHAR", 1)  # type: ignore[union-attr]
    assert one.where == "alternate XHAR leg 1"
    assert one.message == "3500 ft is below the stated minimum of 4000 ft"


def test_two_ways_to_one_airport_are_told_apart() -> None:
    told = on_alternates("minimum-unknown", "alternate XHAR", "alternate QEL via XHAR", "-direct QHB")
    assert {one.split(" leg ")[0] for one in told} == {"note alternate XHAR"}
    text = sample("-direct QHB") + "alternate XHAR\nalternate QEL via XHAR\n"
    there = [one for one in judged_text(text, SampleCatalogue()) if one.alternate is not None]
    assert {one.where.split(" leg ")[0] for one in there} == {"alternate XHAR from XOLD", "alternate XHAR from QEL"}


def test_findings_on_alternates_come_after_those_on_the_route() -> None:
    order = [(one.alternate.number if one.alternate else 0, one.number or 0) for one in judged("alternate XHAR")]
    assert order == sorted(order)
    assert order[-1][0] == 1


def test_a_station_out_of_service_on_the_way_to_an_alternate_is_an_error() -> None:
    told = on_alternates("station-out", *FROM_QHB, "unavailable QEL")
    assert [one.split(": ", 1)[1] for one in told] == [
        "QHB to QEL relies on QEL, which is out of service",
        "QEL to XOLD relies on QEL, which is out of service",
    ]
    assert on_alternates("station-out", *FROM_QHB) == []


def test_an_unusable_sector_on_the_way_to_an_alternate_is_told() -> None:
    station = "station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme elev 410ft unusable 025-040"
    (told,) = on_alternates("unusable-sector", *FROM_QHB, station)
    assert told.startswith("warning alternate XOLD leg 2: QEL is unusable on radials 025-040")


def test_a_course_that_is_not_known_on_the_way_to_an_alternate_is_told() -> None:
    station = "station QEL 110.20 N45 44.10 W039 33.00 class L dme elev 410ft"
    why = "no course to set for QEL: its declination is not given and no radial is charted"
    assert on_alternates("course-unknown", *FROM_QHB, station) == [f"warning alternate XOLD leg 3: {why}"]


def test_an_arrival_above_the_field_of_an_alternate_is_told_whatever_the_pattern() -> None:
    # 9.6 NM from QEL at 100 kt and 500 ft a minute lose some 3000 ft of the 8650 ft; the MEA holds until QEL.
    high = (
        "airway V801 QHB 212 - 034 QEL 29.5nm mea 9000",
        "altitude 9000",
        "-direct QEL",
        "pattern 1800ft",
        "rules ifr",
    )
    (told,) = on_alternates("arrival-height", *FLOWN_BY_FILE, "alternate QHB via V801 QEL XOLD", *high)
    assert told.startswith("warning alternate XOLD leg ")
    assert re.search(r" ft \(\d+ min and \d\.\d gal planned to lose it\) above the field at 350 ft$", told)


@pytest.mark.parametrize("height_ft", [4500, 5500])
def test_a_crossing_altitude_where_an_alternate_begins_is_held_against_the_height_of_the_route(height_ft: int) -> None:
    # 14 CFR 91.177(b): the point is crossed at or above the MCA; the route passes QHB at its own height.
    airway = "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 mca 5000 QHB to QEL cop 11 QHB"
    told = on_alternates("under-mca", *FROM_QHB, airway, f"altitude {height_ft}")
    below = ["warning alternate XOLD leg 1: QHB is crossed at 4500 ft, below the MCA of 5000 ft toward QEL"]
    assert told == (below if height_ft < 5000 else [])


@pytest.mark.parametrize(("first", "then"), [("4500", "A055"), ("5500", "A045")])
def test_of_two_passages_the_lower_is_held_against_a_crossing_altitude(first: str, then: str) -> None:
    (told,) = on_alternates(
        "under-mca",
        *FROM_QHB,
        "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 mca 5000 QHB to QEL cop 11 QHB",
        "station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L dme elev 150ft",
        f"altitude {first}",
        f"route XHAR QHB QSK/{then} QHB XHAR",
    )
    assert told == "warning alternate XOLD leg 1: QHB is crossed at 4500 ft, below the MCA of 5000 ft toward QEL"


def test_a_course_easily_missed_where_an_alternate_begins_is_told() -> None:
    # V801 comes in on 214; LAKER lies on the 218 of QEL, 4 degrees on.
    beyond = ("airport XLAK N45 20.00 W039 46.20 elev 100ft", "direct QEL 218 - XLAK 25.8nm min 2500")
    told = on_alternates("course-easily-missed", "alternate QEL via XLAK", *beyond)
    assert told == ["note alternate XLAK leg 1: at QEL set 218 FROM QEL, 4 degrees from 214"]


def test_the_next_frequency_where_an_alternate_begins_is_compared_with_the_one_in_use() -> None:
    # 110.4 after 110.2: 0.2 MHz away, as in the ASRS report that the rule names.
    skerry = "station QSK 110.40 N45 40.00 W039 00.00 decl 14W class L dme elev 150ft"
    back = (
        "route XHAR QHB V801 QEL QHB XHAR",
        "direct QSK - XOLD 14.1nm min 2500",
        "direct QEL 126 - QSK 23nm on QSK 285",
    )
    told = on_alternates("frequencies-alike", "alternate QEL via QSK XOLD", skerry, *back[:2])
    assert [one.split(": ", 1)[1] for one in told] == ["QSK 110.40 comes after QEL 110.20"]


def test_a_diversion_over_an_airport_is_no_take_off() -> None:
    over = ("airport XMID N45 58.00 W039 26.00", "route XHAR QHB XMID over QEL XOLD", *FLOWN_BY_FILE)
    told = [one for one in found("climb-left-out", *over, "alternate XMID via XHAR") if "XMID" in one]
    assert told == []


def test_what_the_flight_accepts_is_accepted_on_its_alternates() -> None:
    low = ("alternate XHAR at 3500", TO_XHAR)
    (one,) = [one for one in judged(*low, 'accept under-minimum "by day"') if one.rule == "under-minimum"]
    assert one.accepted == "by day"


@pytest.mark.parametrize(
    ("retired", "rule", "changed"),
    [
        ("alternate-limits", "under-minimum", ("alternate XHAR at 3500", TO_XHAR)),
        ("alternate-guidance", "no-guidance", ("alternate XHAR",)),
        ("alternate-minimum", "minimum-unknown", ("alternate XHAR",)),
    ],
)
def test_a_retired_rule_is_still_accepted_on_alternates_with_a_note(
    retired: str, rule: str, changed: tuple[str, ...]
) -> None:
    findings = judged(*changed, f'accept {retired} "known ground"')
    assert {one.accepted for one in findings if one.rule == rule and one.alternate} == {"known ground"}
    (note,) = of("rule-retired", findings)
    assert note.startswith(f"note: `{retired}` is told on the way to an alternate by ")
    assert f"`{rule}`" in note


def test_a_retired_rule_accepts_nothing_on_the_route_and_nothing_that_never_may_be() -> None:
    findings = judged("altitude 2000", "alternate XHAR at 3500", TO_XHAR, 'accept alternate-limits "x"', "wind 300/150")
    assert {one.accepted for one in findings if one.alternate is None} == {None}
    assert {one.accepted for one in findings if one.rule == "unflyable-wind"} == {None}
    assert {one.alternate is not None for one in findings if one.rule == "unflyable-wind"} == {True, False}


def test_a_long_leg_to_an_alternate_without_a_minimum_is_a_warning_under_ifr() -> None:
    assert on_alternates("minimum-unknown", "alternate XHAR", "rules ifr") == [
        "warning alternate XHAR leg 1: no minimum altitude is known for the 34.7 NM from XOLD to XHAR,"
        " and terrain is not looked at"
    ]
