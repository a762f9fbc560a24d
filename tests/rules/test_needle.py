"""What is set on the needle leads where the leg leads, or a finding says why it does not: every form of a slip."""

from __future__ import annotations

import json
from dataclasses import dataclass

import pytest
from helpers import needles
from helpers.flown import EXAMPLES, navlog
from helpers.flown import flight as flown
from helpers.generated import Generated, generated_flights
from helpers.judged import found, judged
from hypothesis import given, settings
from hypothesis import strategies as st

from navlog.nav import earth
from navlog.nav.chart import Position
from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.rules.answers import answers
from navlog.rules.courses import radial_reversed
from navlog.rules.domains import every_rule
from navlog.rules.registry import Rule, Severity
from navlog.rules.samples import FILES, SampleCatalogue, sample
from navlog.sheets.json_lines import flight_object

HARBOUR = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft"
ELDON = "station QEL 110.20 decl 17W class L dme elev 410ft"
"""The second station by the chart alone."""

PINEY = "fix PINEY N46 00.80 W039 25.75"
"""12 NM from QHB on its 212 radial by position (197 true)."""

ONWARD = ("-direct QHB", "-direct QEL", "altitude 4500")
NORTHS = ("station QHB 113.70 decl 15W class L dme elev 820ft", ELDON, *ONWARD, "-airway V801")


def reversals(*changed: str) -> list[str]:
    return [one.removeprefix("error: ") for one in found("radial-reversed", *changed)]


def airway(chart: str, *more: str) -> tuple[str, ...]:
    """A flight along V801 of which the chart says `chart`; positions are the test's own."""
    return (*ONWARD, f"airway V801 {chart}", "route QHB V801 QEL", *more)


# A radial is a bearing FROM the station (AIM 1-1-3): on one straight line the radials at its two ends are
# reciprocal but for the stations' norths, whatever fixes lie between.
@pytest.mark.parametrize("known", ["fix PINEY N46 00.80 W039 25.75", "fix PINEY QHB 212 12nm"])
def test_a_fix_between_the_stations_does_not_hide_a_reversed_radial(known: str) -> None:
    told = reversals(*airway("QHB 212 - PINEY 12nm mea 3000 - 214 QEL 17.5nm mea 3000", HARBOUR, ELDON, known))
    assert [one for one in told if "QEL 214 is the inbound course, not the radial" in one]


def test_a_fix_between_the_stations_changes_nothing_about_right_radials() -> None:
    told = judged(*airway("QHB 212 - PINEY 12nm mea 3000 - 034 QEL 17.5nm mea 3000", HARBOUR, ELDON, PINEY))
    assert needles.WHY.isdisjoint(one.rule for one in told)


def test_a_reversed_radial_is_told_where_only_the_far_side_is_flown() -> None:
    chart = "QHB 212 - PINEY 12nm mea 3000 cop 11 QHB - 214 QEL 17.5nm mea 3000"
    stations = ("station QHB 113.70 decl 15W", "station QEL 110.20 decl 17W", "fix PINEY QHB 212 12nm")
    assert reversals(*airway(chart, *stations), "route PINEY V801 QEL")


def test_a_reversed_radial_is_told_flown_the_other_way() -> None:
    chart = "QHB 212 - PINEY 12nm mea 3000 - 214 QEL 17.5nm mea 3000"
    assert reversals(*airway(chart, HARBOUR, ELDON, PINEY), "route QEL V801 QHB")


def test_positioned_fixes_tell_a_reversed_radial_of_a_station_without_one() -> None:
    # The airway begins at a fix, so no second station is there to compare with.
    text = sample(
        *ONWARD,
        ELDON,
        PINEY,
        "fix LAKER N45 52.00 W039 29.50",
        "-airway V801",
        "airway V9 PINEY - LAKER 9.2nm mea 3000 - 214 QEL 8.3nm mea 3000",
        "route PINEY V9 QEL",
    )
    (answer,) = answers(read_flights(text, "f.route"), SampleCatalogue(), References(FILES))
    assert answer.report is not None
    (told,) = [one for one in answer.report.findings if one.rule == "radial-reversed"]
    assert told.severity is Severity.ERROR
    assert "QEL 214 is the inbound course" in told.message


def test_a_reversed_radial_is_never_accepted() -> None:
    chart = airway("QHB 212 - PINEY 12nm mea 3000 - 214 QEL 17.5nm mea 3000", HARBOUR, ELDON, PINEY)
    text = sample(*chart) + 'accept radial-reversed "known"\n'
    (answer,) = answers(read_flights(text, "f.route"), SampleCatalogue(), References(FILES))
    assert [problem.code for problem in answer.problems] == ["not-acceptable"]


def test_a_station_without_declination_is_held_against_positions_by_the_variation() -> None:
    # The line leads 197 true where the variation is 12.6W: about 210 magnetic, and 030 is the way back.
    silent = "station QHB 113.70 N46 12.30 W039 20.70 class L dme elev 820ft"
    chart = "QHB {} - PINEY 12nm mea 3000"
    route = (silent, ELDON, PINEY, "route QHB V801 PINEY")
    assert reversals(*airway(chart.format("030")), *route)
    assert not reversals(*airway(chart.format("210")), *route)


def test_over_a_station_an_airway_does_not_leave_on_the_radial_it_came_on() -> None:
    chart = "QHB 212 - 034 QEL 29.5nm mea 3000 - 214 MOORE 10nm mea 3000"
    onward = ("fix MOORE QEL 214 10nm", "route QHB V801 MOORE")
    stations = ("station QHB 113.70 decl 15W", ELDON)
    good = chart.replace("- 214 MOORE", "214 - MOORE")
    bad = chart.replace("- 214 MOORE", "034 - MOORE")
    assert not reversals(*airway(good), *stations, *onward)
    # Without the fix's own definition only the turn over QEL tells it.
    assert [
        one for one in reversals(*airway(bad), *stations, "fix MOORE QHB 214 x QEL 214", *onward[1:]) if "QEL" in one
    ]


def test_an_airway_that_turns_sharply_is_worth_a_look_and_no_error() -> None:
    # V182 turns by 127 degrees at BKE, V107 by 148 at STABO (FAA NASR 2026-05-14).
    chart = "QHB 212 - LAKER 12nm mea 3000 turn - {} QEL 17.5nm mea 3000"
    base = ("station QHB 113.70", "station QEL 110.20", "variation 13W", "fix LAKER QHB 212 12nm")
    assert found("radials-bent", *airway(chart.format("160")), *base) == [
        "warning: outbound 212 and inbound 160 are a turn of 128 degrees: is one of them the inbound course?"
    ]
    assert not reversals(*airway(chart.format("160")), *base)
    assert found("radials-bent", *airway(chart.format("074")), *base) == []


def test_a_true_referenced_station_beside_a_magnetic_one_is_compared_in_true() -> None:
    # 212 true out; by a north of 30W the radial back is 032 + 30 = 062.
    stations = ("station QHB 113.70 decl true", "station QEL 110.20 decl 30W", "variation 30W")
    assert found("radials-bent", *airway("QHB 212 - 062 QEL 29.5nm mea 3000"), *stations) == []
    assert found("radials-bent", *airway("QHB 212 - 032 QEL 29.5nm mea 3000"), *stations)
    assert reversals(*airway("QHB 212 - 242 QEL 29.5nm mea 3000"), *stations)


def test_a_radial_on_which_the_leg_does_not_lie_is_an_error() -> None:
    # The far end lies on the radial of a station abeam, the leg does not.
    base = ("station QSK 112.40 N45 52.00 W038 38.00 decl 14W class L dme elev 150ft",)
    chart = "airway V801 QHB - QEL 29.5nm mea 3000 on QSK 273"
    (told,) = found("needle-off-course", *base, chart)
    assert told.startswith("error: 273 FROM QSK leads 259 true and the leg 197 true")


def test_a_stated_course_is_held_against_the_positions() -> None:
    places = ("fix LAKER N45 52.00 W039 29.50", PINEY, "route PINEY LAKER", *ONWARD)
    chart = "direct PINEY - LAKER 9.2nm min 2500 course {}"
    assert reversals(*places, chart.format("017T")) == ["course 017T leads back: the leg's true course is 197"]
    assert not reversals(*places, chart.format("197T"))
    assert found("needle-off-course", *places, chart.format("220T"))
    assert not found("needle-off-course", *places, chart.format("197T"))


# A fix defined by a station's radial and distance lies there: what the chart says of the way to it is the same.
DEFINED = "fix PINEY QHB 212 12nm"


@pytest.mark.parametrize("way", ["airway V801 QHB {} - PINEY {}nm", "direct QHB {} - PINEY {}nm"])
@pytest.mark.parametrize("back", [False, True])
def test_a_chart_only_radial_and_distance_are_held_against_the_fix(way: str, back: bool) -> None:
    via = " V801 " if way.startswith("airway") else " "
    ends = ("PINEY", "QHB") if back else ("QHB", "PINEY")

    def told(radial: str, distance: str) -> dict[str, str]:
        flight = (*NORTHS, DEFINED, way.format(radial, distance), f"route {via.join(ends)}")
        rules = ("radial-reversed", "radial-differs", "digits-transposed", "distance-differs")
        return {one.rule: one.severity.value for one in judged(*flight) if one.rule in rules}

    assert told("212", "12") == {}
    assert told("032", "12") == {"radial-reversed": "error"}
    assert told("216", "12") == {"radial-differs": "warning"}
    assert told("221", "12") == {"radial-differs": "error", "digits-transposed": "warning"}
    assert told("122", "12") == {"radial-differs": "error", "digits-transposed": "warning"}
    assert told("212", "19") == {"distance-differs": "error"}
    assert told("212", "12.4") == {}


def test_the_longer_of_a_charted_and_a_defined_distance_is_flown() -> None:
    for charted, longer in (("19", 19.0), ("9", 12.0)):
        text = sample(*NORTHS, DEFINED, f"airway V801 QHB 212 - PINEY {charted}nm mea 3000", "route QHB V801 PINEY")
        assert flown(text)["totals"]["distance_nm"] == longer


def test_two_fixes_of_one_station_are_as_far_apart_as_their_definitions_say() -> None:
    # 6 and 12 NM out on one radial; a right angle between radials 6 and 8 NM out makes 10 NM (3-4-5).
    for other, apart in (("QHB 212 12nm", 6.0), ("QHB 302 8nm", 10.0)):
        fixes = ("fix LAKER QHB 212 6nm", f"fix PINEY {other}", "route QHB LAKER PINEY")
        for charted, told in ((apart, False), (apart + 2.0, True)):
            way = (f"direct LAKER - PINEY {charted:g}nm", "direct QHB 212 - LAKER 6nm")
            assert bool(found("distance-differs", *NORTHS, *fixes, *way)) is told


def test_a_radial_is_held_against_a_fix_by_crossing_radials() -> None:
    fix = "fix ROSKO QHB 160 x QEL 090"
    for radial, rules in (("160", set()), ("340", {"radial-reversed"}), ("170", {"radial-differs"})):
        chart = f"airway V801 QHB {radial} - ROSKO 20nm mea 3000"
        told = {one.rule for one in judged(*NORTHS, fix, chart, "route QHB V801 ROSKO")}
        assert told & {"radial-reversed", "radial-differs"} == rules
    chart = "airway V802 QEL 270 - ROSKO 20nm mea 3000"
    assert reversals(*NORTHS, fix, chart, "route ROSKO V802 QEL")


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.route")), ids=lambda path: path.stem)
def test_every_needle_of_the_examples_leads_where_its_leg_does(path: object) -> None:
    for line in navlog("log", str(path), "--format", "json").out.splitlines():
        assert needles.unexplained(json.loads(line)) == []


@pytest.mark.parametrize("rule", every_rule(), ids=lambda rule: rule.ident)
def test_every_needle_of_the_samples_leads_where_its_leg_does_or_is_told(rule: Rule) -> None:
    for text in (rule.passing, rule.failing):
        file = str(EXAMPLES / "sample.route")
        (answer,) = answers(read_flights(text, file), SampleCatalogue(), References(FILES))
        assert needles.unexplained(flight_object(answer)) == []


@given(generated_flights())
@settings(max_examples=60, deadline=None)
def test_every_needle_of_generated_flights_leads_where_its_leg_does_or_is_told(made: Generated) -> None:
    assert needles.unexplained(flown(made.text)) == []


def test_the_second_look_sees_a_needle_and_a_course_that_are_out() -> None:
    text = sample()
    good = flown(text)
    assert needles.unexplained(good) == []
    legs = [json.loads(json.dumps(leg)) for leg in good["legs"]]
    legs[1]["guidance"]["set_course_deg"] += 8.5
    assert needles.unexplained(good | {"legs": legs})
    legs = [json.loads(json.dumps(leg)) for leg in good["legs"]]
    legs[2]["true_course_deg"] += 180.0
    assert "after leg 2: course jumps" in needles.unexplained(good | {"legs": legs})


@dataclass(frozen=True, slots=True)
class Charted:
    """A straight airway as a route file, and the station whose radial is the wrong way round, if one is."""

    text: str
    slipped: str | None


@st.composite
def charted_airways(draw: st.DrawFn) -> Charted:
    """Two stations and up to three fixes on one line, placed or not, flown either way, one radial reversed or none."""
    true_deg = draw(st.integers(0, 359))
    between = draw(st.integers(0, 3))
    lengths = [draw(st.integers(5, 20)) for _ in range(between + 1)]
    norths = [draw(st.one_of(st.none(), st.integers(-25, 25))) for _ in range(2)]
    radials = [(true_deg + turn - (north or 0)) % 360 or 360 for turn, north in zip((0, 180), norths, strict=True)]
    slip = draw(st.sampled_from((None, 0, 1)))
    if slip is not None:
        radials[slip] = (radials[slip] + 180) % 360 or 360
    placed = draw(st.booleans())
    along = [sum(lengths[:index]) for index in range(between + 2)]
    at = [
        earth.direct(Position(46.2, -39.3), float(true_deg), float(one)) if one else Position(46.2, -39.3)
        for one in along
    ]
    # Without positions a fix is told by its distance along the first station's radial, rightly written.
    right = (true_deg - (norths[0] or 0)) % 360 or 360

    def where(index: int) -> str:
        return f"{at[index].latitude_deg:.6f} {at[index].longitude_deg:.6f}"

    def decl(north: int | None) -> str:
        return "decl true" if north is None else f"decl {abs(north)}{'E' if north >= 0 else 'W'}"

    names = ["QHB", *(f"FIX{letter}A" for letter in "ABC"[:between]), "QEL"]
    chain = f"QHB {radials[0]:03d}"
    for index, name in enumerate(names[1:]):
        radial = f"{radials[1]:03d} " if name == "QEL" else ""
        chain += f" - {radial}{name} {lengths[index]}nm mea 2000"
    statements = [
        f"station QHB 113.70 {where(0) + ' ' if placed else ''}{decl(norths[0])}",
        f"station QEL 110.20 {decl(norths[1])}",
        *(
            f"fix {name} {where(index) if placed else f'QHB {right:03d} {along[index]}nm'}"
            for index, name in enumerate(names)
            if name.startswith("FIX")
        ),
        f"airway V801 {chain}",
        "tas 110kt",
        "wind calm",
        "date 2026-07-18",
        "altitude 4500",
        "variation 5W",
    ]
    route = names[::-1] if draw(st.booleans()) else names
    first = draw(st.integers(0, len(route) - 2))
    last = draw(st.integers(first + 1, len(route) - 1))
    return Charted(
        "\n".join((*statements, f"route {route[first]} V801 {route[last]}")) + "\n",
        None if slip is None else ("QHB", "QEL")[slip],
    )


@given(charted_airways())
@settings(max_examples=150, deadline=None)
def test_a_radial_the_wrong_way_round_is_told_on_every_straight_airway_and_a_right_one_is_not(made: Charted) -> None:
    found = flown(made.text)
    rules = {finding["rule"] for finding in found["findings"]}
    assert needles.unexplained(found) == []
    used = {leg["guidance"]["ident"] for leg in found["legs"] if leg["guidance"] is not None}
    if made.slipped is None:
        assert needles.WHY.isdisjoint(rules)
    elif made.slipped in used:
        assert "radial-reversed" in rules


def test_the_way_to_an_alternate_is_held_to_the_same_rule() -> None:
    chart = ("direct QEL 306 - XOLD 9.6nm min 2500", "alternate XOLD", "-direct QHB", "route XHAR QHB V801 QEL")
    text = sample(*chart, "direct QHB - XHAR 9.6nm min 2500", "-direct QEL", chart[0])
    (answer,) = answers(read_flights(text, "f.route"), SampleCatalogue(), References(FILES))
    assert answer.report is not None
    found = [one for one in answer.report.findings if one.alternate and one.rule == radial_reversed.ident]
    assert [one.message for one in found] == ["QEL 306 is the inbound course, not the radial: the radial is 126"]
