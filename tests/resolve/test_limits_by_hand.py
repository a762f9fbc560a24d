"""Limits in the direction of flight, and the turns for which a minimum turning altitude holds.

FAA AIM, glossary: a minimum crossing altitude (MCA) holds at a fix "when proceeding in the direction of a higher
minimum en route IFR altitude", a minimum turning altitude (MTA) where a turn is made over it.
"""

from __future__ import annotations

import pytest
from helpers.drawn import reports
from helpers.flown import held, legs
from helpers.judged import along, found

from navlog.nav.chart import CrossingAltitude, Segment
from navlog.nav.problems import Span
from navlog.nav.record import changed
from navlog.request.records import RouteWord
from navlog.resolve.path import Hop, Stop, limits, turning_limits
from navlog.resolve.route import Point, PointKind
from navlog.sheets.json_legs import leg_object


def hop(start: str, end: str, via: str, *crossings: CrossingAltitude) -> Hop:
    stops = [Stop(name, None, RouteWord(name, Span("test.route", 1), name)) for name in (start, end)]
    return Hop(stops[0], stops[1], via, Segment(start, end, 10.0, crossings=crossings))


TURN = CrossingAltitude(9_000.0, "FIXB", "FIXC", turning=True, coming_from="FIXA")
"""For a flight from FIXA that turns at FIXB toward FIXC."""


@pytest.mark.parametrize(
    ("before", "then", "holds"),
    [
        (hop("FIXA", "FIXB", "V1", TURN), hop("FIXB", "FIXC", "V2"), True),
        # Onto another way, on along the same airway, or from another side it does not turn so.
        (hop("FIXA", "FIXB", "V1", TURN), hop("FIXB", "FIXD", "V2"), False),
        (hop("FIXA", "FIXB", "V1", TURN), hop("FIXB", "FIXC", "V1"), False),
        (hop("FIXZ", "FIXB", "V1", TURN), hop("FIXB", "FIXC", "V2"), False),
        (hop("FIXZ", "FIXB", "V1", changed(TURN, coming_from=None)), hop("FIXB", "FIXC", "V2"), True),
    ],
)
def test_a_turning_altitude_holds_for_the_turn_that_it_names(before: Hop, then: Hop, holds: bool) -> None:
    end = Point(PointKind.FIX, then.end.ident)
    crossings = turning_limits(limits(then, end), then, end, before).crossings_start
    assert [one.altitude_ft for one in crossings] == ([9_000.0] if holds else [])


@pytest.mark.parametrize(("toward", "holds"), [("FIXC", True), (None, True), ("FIXA", False)])
def test_a_crossing_altitude_holds_toward_the_point_that_it_names(toward: str | None, holds: bool) -> None:
    then = hop("FIXB", "FIXC", "V1", CrossingAltitude(7_000.0, "FIXB", toward))
    assert bool(limits(then, Point(PointKind.FIX, "FIXC")).crossings_start) is holds


@pytest.mark.parametrize(("turning", "mca_ft"), [(False, 6000), (True, None)])
def test_json_tells_no_turning_altitude_as_a_crossing_altitude(turning: bool, mca_ft: float | None) -> None:
    (report,) = reports(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\ndirect QAA 090 - 270 QBB 30nm\ndate 2026-07-18\n"
        "variation 0E\nwind calm\ntas 120kt\naltitude 4500\nroute QAA QBB\n"
    )
    leg = report.log.legs[0]
    crossing = CrossingAltitude(6_000.0, "QAA", "QBB", turning=turning)
    asked = changed(leg.stretch, limits=changed(leg.stretch.limits, crossings_start=(crossing,)))
    assert leg_object(report.log, changed(leg, stretch=asked))["mca_ft"] == mca_ft


@pytest.mark.parametrize(("route", "told"), [("route QHB V801 QEL", False), ("route QEL V801 QHB", True)])
def test_an_maa_is_that_of_the_direction_flown(route: str, told: bool) -> None:
    # As written 9,000 ft, the other way 5,000.
    way = along("QHB 212 - 032 QEL 29.5nm mea 3000 maa 9000/5000", route, "altitude 7000")
    assert bool(found("over-maa", *way)) is told


@pytest.mark.parametrize(
    ("behind", "ahead", "expected"),
    [
        ("VL elev 0ft", "VL elev 0ft", [("QAA", 45.0), ("QBB", 45.0)]),
        ("VL elev 4000ft", "VL elev 4000ft", [("QAA", 40.0), (None, 10.0), ("QBB", 40.0)]),
        # Both are received from 20 to 40 NM: as near to the middle, 45 NM, as that allows.
        ("VL elev 4000ft", "VL elev 0ft", [("QAA", 40.0), ("QBB", 50.0)]),
        ("VL elev 0ft", "VL elev 4000ft", [("QAA", 50.0), ("QBB", 40.0)]),
    ],
)
def test_a_service_volume_is_as_wide_as_the_height_above_its_station_makes_it(
    behind: str, ahead: str, expected: list[tuple[str | None, float]]
) -> None:
    # FAA AIM 1-1-8: a VL serves 40 NM from 1,000 to 5,000 ft above it, 70 NM above. The flight is at 8,500 ft.
    flown = legs(
        f"station QAA 113.00 decl 0E class {behind}\nstation QBB 114.00 decl 0E class {ahead}\n"
        "direct QAA 090 - 270 QBB 90nm\ndate 2026-07-18\nvariation 0E\nwind calm\ntas 120kt\naltitude 8500\n"
        "route QAA QBB\n"
    )
    assert held({"legs": flown}) == expected
