"""What a case gathers of a flight, leg by leg, and what a finding holds besides its words."""

from __future__ import annotations

import pytest
from helpers.judged import CHART_ONLY, reported

from navlog.nav.problems import Span
from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.rules import report
from navlog.rules.answers import answers
from navlog.rules.registry import Finding, Group, OnAlternate, Severity
from navlog.rules.samples import FILES, SampleCatalogue, sample

_BY_FILE = ("aircraft climber.toml", "-tas", "-burn", "wind calm", "route XHAR QHB V801 QEL XOLD")


# Legs: XHAR to QHB, to the changeover, to QEL, to XOLD; by the aircraft file to QHB, to the level on V801, to the
# changeover, down from before QEL, and to XOLD.
@pytest.mark.parametrize(
    ("flight", "first", "guided", "stations", "changeovers", "ground_ft"),
    [
        ((), [1, 2, 4], "1 QHB TO, 2 QHB FROM, 3 QEL TO, 4 QEL FROM", "QHB 1, QEL 3", [2], 350.0),
        # In the hold no new stretch begins and no other radial is used.
        (("hold QEL 5min",), [1, 2, 5], "1 QHB TO, 2 QHB FROM, 3 QEL TO, 5 QEL FROM", "QHB 1, QEL 3", [2], 350.0),
        # A radial is used once in a stretch, however many legs climb and descend on it.
        (_BY_FILE, [1, 2, 6], "1 QHB TO, 2 QHB FROM, 4 QEL TO, 6 QEL FROM", "QHB 1, QEL 4", [3], 350.0),
        # Each way of a stretch is its own; a station is told once. The field left last lies at 790 ft.
        (
            ("route XHAR QHB V801 QEL QHB XHAR", "-direct QEL"),
            [1, 2, 4, 6],
            "1 QHB TO, 2 QHB FROM, 3 QEL TO, 4 QEL FROM, 5 QHB TO, 6 QHB FROM",
            "QHB 1, QEL 3",
            [2, 4],
            410.0,
        ),
        # Without an elevation the ground is at sea level.
        (CHART_ONLY, [1], "1 QHB FROM, 2 QEL TO", "QHB 1, QEL 2", [1], 0.0),
    ],
)
def test_what_a_case_gathers_of_a_flight(
    flight: tuple[str, ...], first: list[int], guided: str, stations: str, changeovers: list[int], ground_ft: float
) -> None:
    case = report.case_of(reported(*flight).log)
    assert [leg.number for leg in case.first_legs] == first
    assert ", ".join(f"{leg.number} {one.station.ident} {one.flag.value}" for leg, one in case.guided) == guided
    assert ", ".join(f"{station.ident} {leg.number}" for station, leg in case.stations) == stations
    assert [leg.number for leg, _ in case.changeovers] == changeovers
    assert case.ground_ft == ground_ft


# An MEA or MOCA assures the signal on V801 alone; what tells a fix counts once, not again in the hold over it.
@pytest.mark.parametrize(
    ("flight", "exposed", "marked"),
    [
        ((), "1 QHB, 4 QEL", []),
        (
            ("altitude 2900", "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 cop 11 QHB"),
            "1 QHB, 2 QHB, 3 QEL, 4 QEL",
            [],
        ),
        (("route XHAR QHB V801 QEL QHB XHAR", "-direct QEL"), "1 QHB, 4 QEL, 5 QHB, 6 QHB", []),
        (CHART_ONLY, "", []),
        # From airport to airport nothing guides; beyond XHAR stations do.
        (("route XOLD XHAR over QHB V801 QEL", "-direct QEL"), "2 QHB", []),
        (
            ("fix ROSKO QHB 160 x QEL 090", "route XHAR QHB ROSKO QEL XOLD", "hold ROSKO 5min"),
            "1 QHB, 2 QHB, 3 QHB, 4 QEL, 5 QEL",
            [2],
        ),
    ],
)
def test_whose_signal_no_minimum_assures_and_which_fixes_are_told(
    flight: tuple[str, ...], exposed: str, marked: list[int]
) -> None:
    case = report.case_of(reported(*flight).log)
    assert ", ".join(dict.fromkeys(f"{leg.number} {one.station.ident}" for leg, one in case.exposed)) == exposed
    assert [leg.number for leg in case.marked] == marked


@pytest.mark.parametrize(
    ("rules", "bound"),
    [
        # Under VFR the climb binds where it ends, at 4,500 ft, and no descent does.
        ("rules vfr", [(2, 4500), (3, 4500), (4, 4500)]),
        # Under IFR the descent to QEL binds to its end, at 3,157 ft, and the last one where it begins.
        ("rules ifr", [(2, 4500), (3, 4500), (4, 4500), (5, 3157), (6, 3157)]),
    ],
)
def test_where_minimums_bind_by_the_rules_of_the_flight(rules: str, bound: list[tuple[int, int]]) -> None:
    case = report.case_of(reported(*_BY_FILE, rules).log)
    assert [(leg.number, round(low_ft)) for leg, low_ft in case.bound] == bound


def test_a_way_to_an_alternate_begins_in_the_air_where_a_minimum_binds_at_once() -> None:
    (way,) = reported(
        *_BY_FILE[:-1], "route XHAR QHB V801 QEL XOLD", "alternate XHAR from QHB", "rules ifr"
    ).log.alternates
    assert [leg.number for leg, _ in report.case_of(way).bound][:1] == [1]


def found(rule: str, text: str) -> list[Finding]:
    """What one rule finds in each flight of a route file."""
    told = answers(read_flights(text, "two.route"), SampleCatalogue(), References(FILES))
    return [one for answer in told for one in answer.findings if one.rule == rule]


def test_findings_on_the_ways_to_alternates_whole() -> None:
    # From airport to airport no station guides; QEL and QHB do on the way from QEL to XHAR.
    far = "airport XFLD N45 20.00 W039 20.00 elev 100ft\n"
    told = found("no-guidance", sample() + far + "alternate XHAR\nalternate XHAR from QEL\nalternate XFLD\n")
    assert [one.alternate for one in told] == [OnAlternate(1, "XHAR from XOLD", 1), OnAlternate(3, "XFLD", 1)]
    for one, line in zip(told, (18, 20), strict=True):
        assert (one.rule, one.severity, one.leg, one.group) == ("no-guidance", Severity.WARNING, None, Group.GUIDANCE)
        assert (one.span.file, one.span.line, one.span.column) == ("two.route", line, 11)
        assert one.source == "14 CFR 95.8001; AIM 1-1-8 for service volumes off airways"
        assert (one.accepted, one.station, one.apart) == (None, None, False)


def test_a_finding_of_a_whole_flight_stands_where_its_flight_begins() -> None:
    text = sample("-off", "-route") + 'flight "one"\n  route XHAR QHB\nflight "two"\n  route QHB V801 QEL XOLD\n'
    assert [one.span for one in found("no-off", text)] == [Span("two.route", 15), Span("two.route", 17)]


def test_an_acceptance_that_nothing_needs_is_told_from_the_first_line_on_and_is_accepted_as_others_are() -> None:
    first = 'accept under-mea "none"\n' + sample()
    assert [(one.span.line, one.accepted) for one in found("accept-unused", first)] == [(1, None)]
    both = sample() + 'accept under-mea "none"\naccept accept-unused "kept for the way back"\n'
    assert [(one.span.line, one.accepted) for one in found("accept-unused", both)][:1] == [
        (17, "kept for the way back")
    ]


def test_of_one_rule_and_severity_the_whole_flight_comes_before_its_legs() -> None:
    text = sample("route XHAR QHB V801 QEL", "-direct QEL", "aircraft climber.toml", "fuel 42gal")
    more = text.replace("route XHAR QHB V801 QEL", "route XHAR QHB V801 QEL XOLD land 20min fuel 41gal XHAR")
    assert [one.leg for one in found("fuel-over-usable", more)] == [None, 5]
