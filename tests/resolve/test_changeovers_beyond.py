"""Changeovers to a station that the airway does not pass, as V66 has at DUG to DMN (FAA NASR AWY_SEG_ALT, 2026-05-14).

Places lie on and near the equator, where a minute of longitude is 1.0018 NM (WGS84, 111,319.5 m a degree).
"""

from __future__ import annotations

import pytest

from navlog.nav.chart import ChangeoverAt, Position, Segment, Station, StationKind
from navlog.nav.record import changed
from navlog.resolve.beyond import guide_airway
from navlog.resolve.route import Changeover, GuidedPart, Point, PointKind
from navlog.resolve.sections import Section

MINUTE_NM = 1.0018


def station(ident: str, north: float, east: float) -> Station:
    return Station(ident, StationKind.VOR, Position(north / 60, east / 60), frequency_mhz=113.0, declination_deg=0.0)


def section(places: tuple[tuple[float, float], ...], one: ChangeoverAt, beyond: Station) -> Section:
    """From QAA over F1, F2 ... to QBB by minutes north and east, 10 NM from one to the next."""
    last = len(places) - 1
    names = ["QAA", *(f"F{number}" for number in range(1, last)), "QBB"]
    stations = {0: station("QAA", *places[0]), last: station("QBB", *places[last])}
    return Section(
        tuple(
            Point(PointKind.FIX, name, Position(north / 60, east / 60), stations.get(at))
            for at, (name, (north, east)) in enumerate(zip(names, places, strict=True))
        ),
        tuple(Segment(names[at], names[at + 1], changeovers=(one,) if at == 0 else ()) for at in range(last)),
        (10.0,) * last,
        stations[0],
        stations[last],
        True,
        lambda ident, _near: beyond if ident == beyond.ident else None,
    )


def parts(of: Section) -> list[GuidedPart]:
    return [part for hop in guide_airway(of) for part in hop]


def held(of: Section) -> list[tuple[str | None, str | None, float]]:
    """Station, flag and NM of each part."""
    return [
        (part.guidance.station.ident, part.guidance.flag.value, round(part.end_nm - part.start_nm, 6))
        if part.guidance
        else (None, None, round(part.end_nm - part.start_nm, 6))
        for part in parts(of)
    ]


def changeover(of: Section) -> Changeover:
    (found,) = [part.changeover for part in parts(of) if part.changeover is not None]
    return found


STRAIGHT = section(
    ((0, 0), (0, 10), (0, 20), (0, 30), (0, 40)), ChangeoverAt(8.0, "QAA", "QDD", "F2"), station("QDD", 0, 70)
)
"""8 NM from QAA to QDD, 70 minutes east on the same line, as far as F2."""

THE_OTHER_WAY = changed(
    STRAIGHT,
    points=STRAIGHT.points[::-1],
    segments=tuple(one.reversed() for one in reversed(STRAIGHT.segments) if one is not None),
    behind=STRAIGHT.ahead,
    ahead=STRAIGHT.behind,
)


def test_the_station_beyond_guides_as_far_as_the_chart_says() -> None:
    assert held(STRAIGHT) == [
        ("QAA", "FROM", 8), ("QDD", "TO", 2), ("QDD", "TO", 10), ("QBB", "TO", 10), ("QBB", "TO", 10),
    ]  # fmt: skip
    at = changeover(STRAIGHT)
    assert (at.behind.ident, at.ahead.ident) == ("QAA", "QDD")
    assert (at.distance_nm, at.distance_ahead_nm) == pytest.approx((8, 70 * MINUTE_NM - 8), abs=0.01)


def test_the_other_way_stations_flags_and_distances_change_places() -> None:
    assert held(THE_OTHER_WAY) == [
        ("QBB", "FROM", 10), ("QBB", "FROM", 10), ("QDD", "FROM", 10), ("QDD", "FROM", 2), ("QAA", "TO", 8),
    ]  # fmt: skip
    at = changeover(THE_OTHER_WAY)
    assert (at.behind.ident, at.ahead.ident) == ("QDD", "QAA")
    assert (at.distance_nm, at.distance_ahead_nm) == pytest.approx((70 * MINUTE_NM - 8, 8), abs=0.01)


def test_from_a_bend_on_the_way_to_the_station_beyond_counts_from_the_bend() -> None:
    # North to F1, then east: QDD is 50 minutes beyond the bend, at which stations are changed.
    bent = section(((0, 0), (10, 0), (10, 10), (10, 20)), ChangeoverAt(10.0, "QAA", "QDD"), station("QDD", 10, 50))
    assert held(bent)[:2] == [("QAA", "FROM", 10), ("QDD", "TO", 10)]
    at = changeover(bent)
    assert (at.distance_nm, at.distance_ahead_nm) == pytest.approx((10, 50 * MINUTE_NM), abs=0.01)
