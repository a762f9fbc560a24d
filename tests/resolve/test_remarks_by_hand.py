"""What remarks on an airway take away of a hop's guidance, in miles worked by hand.

QAA, FIXA, FIXB and QBB stand on one meridian about 45 N, where a minute of latitude is 1.0001 NM (WGS84): 10, 20 and 10
miles apart. Stations are changed midway, 10 miles along the hop from FIXA to FIXB.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from navlog.nav.chart import Bearing, Position, Segment, Station, StationKind, UnusableRadial
from navlog.nav.record import changed
from navlog.nav.sectors import Sector
from navlog.resolve.route import GuidedPart, Point, PointKind
from navlog.resolve.sections import Section
from navlog.resolve.told import guide


def north(minutes: float) -> Position:
    """A place so many minutes north of 44 40 N."""
    return Position(44.0 + (40.0 + minutes) / 60.0, -39.0)


def vor(ident: str, minutes: float) -> Station:
    return Station(ident, StationKind.VOR, north(minutes), frequency_mhz=113.0, declination_deg=0.0)


QAA, QBB, QCC, QDD = vor("QAA", 0), vor("QBB", 40), vor("QCC", -20), vor("QDD", 60)
BEYOND = {one.ident: one for one in (QCC, QDD)}


def hop(*unusable: UnusableRadial, level_ft: float = 5_000.0, **fields: Any) -> tuple[GuidedPart, ...]:
    """The parts of the hop from FIXA to FIXB, of which the chart says what is given."""
    names = ("QAA", "FIXA", "FIXB", "QBB")
    segments = tuple(Segment(one, other) for one, other in pairwise(names))
    middle = changed(segments[1], unusable=unusable, **fields)
    section = Section(
        (
            Point(PointKind.STATION, "QAA", north(0), QAA),
            Point(PointKind.FIX, "FIXA", north(10)),
            Point(PointKind.FIX, "FIXB", north(30)),
            Point(PointKind.STATION, "QBB", north(40), QBB),
        ),
        (segments[0], middle, segments[2]),
        (10.0, 20.0, 10.0),
        QAA,
        QBB,
        True,
        lambda name, _near: BEYOND.get(name),
        (level_ft,) * 3,
    )
    return guide(section)[1]


def held(parts: tuple[GuidedPart, ...]) -> list[tuple[float, float, str]]:
    return [
        (round(part.start_nm, 1), round(part.end_nm, 1), f"{part.guidance.station.ident} {part.guidance.flag}"
         if part.guidance else "-")
        for part in parts
    ]  # fmt: skip


WHOLE = [(0, 10, "QAA FROM"), (10, 20, "QBB TO")]


@pytest.mark.parametrize(
    ("remark", "expected"),
    [
        (UnusableRadial("QXX"), WHOLE),
        (UnusableRadial("QAA"), [(0, 10, "-"), (10, 20, "QBB TO")]),
        (UnusableRadial("QBB"), [(0, 10, "QAA FROM"), (10, 20, "-")]),
        # FIXA lies 10 miles from QAA: 15 of them reach 5 miles along the hop.
        (UnusableRadial("QAA", beyond_nm=15.0), [(0, 5, "QAA FROM"), (5, 10, "-"), (10, 20, "QBB TO")]),
        # FIXB lies 10 miles from QBB: its 15 miles begin 15 along the hop.
        (UnusableRadial("QBB", beyond_nm=15.0), [(0, 10, "QAA FROM"), (10, 15, "-"), (15, 20, "QBB TO")]),
        (UnusableRadial("QAA", beyond_nm=25.0), WHOLE),
        # A reach is a whole mile: half a mile beside a fix or the changeover point is the point itself.
        (UnusableRadial("QAA", beyond_nm=19.6), WHOLE),
        (UnusableRadial("QAA", beyond_nm=19.4), [(0, 9.4, "QAA FROM"), (9.4, 10, "-"), (10, 20, "QBB TO")]),
        (UnusableRadial("QAA", beyond_nm=10.4), [(0, 10, "-"), (10, 20, "QBB TO")]),
        (UnusableRadial("QAA", beyond_nm=10.6), [(0, 0.6, "QAA FROM"), (0.6, 10, "-"), (10, 20, "QBB TO")]),
        (UnusableRadial("QAA", beyond_nm=5.0), [(0, 10, "-"), (10, 20, "QBB TO")]),
        (UnusableRadial("QAA", below_ft=5_000.0), WHOLE),
        (UnusableRadial("QAA", below_ft=5_100.0), [(0, 10, "-"), (10, 20, "QBB TO")]),
    ],
)
def test_a_remark_takes_away_a_radial_as_far_as_it_says(
    remark: UnusableRadial, expected: list[tuple[float, float, str]]
) -> None:
    assert held(hop(remark)) == expected


def test_two_remarks_take_away_what_each_says() -> None:
    both = hop(UnusableRadial("QAA", beyond_nm=15.0), UnusableRadial("QBB", beyond_nm=12.0))
    assert held(both) == [(0, 5, "QAA FROM"), (5, 10, "-"), (10, 18, "-"), (18, 20, "QBB TO")]


@pytest.mark.parametrize(
    ("remark", "words"),
    [
        (UnusableRadial("QAA", beyond_nm=15.0), "beyond 15 NM"),
        (UnusableRadial("QAA", below_ft=6_000.0), "below 6000 ft"),
        (UnusableRadial("QAA", beyond_nm=15.0, below_ft=6_000.0), "beyond 15 NM below 6000 ft"),
        (UnusableRadial("QAA"), "here"),
    ],
)
def test_the_reason_says_how_far_and_how_high(remark: UnusableRadial, words: str) -> None:
    (reason,) = [part.reason for part in hop(remark) if part.guidance is None]
    assert reason == f"a published remark says that the radial of QAA is unusable {words}"


def test_above_a_remarks_height_the_station_carries_it_for_climbs_and_descents() -> None:
    first, second = hop(UnusableRadial("QAA", 350.0, 15.0, 5_000.0, "as published"))
    assert first.guidance is not None
    assert second.guidance is not None
    # A whole degree is named: one more on either side is not used.
    assert first.guidance.station.unusable == (Sector(349.0, 351.0, 15.0, 5_000.0, "vor", "as published"),)
    assert second.guidance.station.unusable == ()
    (around,) = [part for part in hop(UnusableRadial("QAA", None, 15.0, 5_000.0)) if part.start_nm == 0.0]
    assert around.guidance is not None
    (sector,) = around.guidance.station.unusable
    assert (round(sector.start_deg, 3), round(sector.end_deg, 3)) == (359, 1)  # the radial flown is 360


def test_the_radial_flown_is_the_remarks_where_it_names_none() -> None:
    _, toward = hop(UnusableRadial("QBB", None, 15.0, 5_000.0))
    assert toward.guidance is not None
    (sector,) = toward.guidance.station.unusable
    assert (round(sector.start_deg, 3), round(sector.end_deg, 3)) == (179, 181)


@pytest.mark.parametrize(("beyond_nm", "told"), [(25.0, [True, False]), (15.0, [False, True, False])])
def test_the_changeover_point_stays_at_its_place(beyond_nm: float, told: list[bool]) -> None:
    assert [part.changeover is not None for part in hop(UnusableRadial("QAA", beyond_nm=beyond_nm))] == told


def test_a_remark_that_could_not_be_read_takes_all_away() -> None:
    assert held(hop(doubtful=True)) == [(0, 20, "-")]


@pytest.mark.parametrize(
    ("station", "below_ft", "expected"),
    [
        ("QCC", None, [(0, 20, "QCC FROM")]),  # 20 miles behind QAA
        ("QDD", None, [(0, 20, "QDD TO")]),  # and 20 beyond QBB
        ("QCC", 5_100.0, [(0, 20, "QCC FROM")]),
        ("QCC", 5_000.0, WHOLE),
        ("QZZ", None, [(0, 20, "-")]),
    ],
)
def test_another_stations_radial_leads_where_the_chart_says_so(
    station: str, below_ft: float | None, expected: list[tuple[float, float, str]]
) -> None:
    parts = hop(along=Bearing(station, 1.0 if station == "QCC" else 181.0), along_below_ft=below_ft)
    assert held(parts) == expected
    if expected[0][2] in ("QCC FROM", "QDD TO"):
        (part,) = parts
        assert part.guidance is not None
        radial = part.guidance.radial
        # The charted radial is flown; by position both ends lie due north or south.
        assert radial.charted == (1.0 if station == "QCC" else 181.0)
        assert radial.computed == pytest.approx(0.0 if station == "QCC" else 180.0, abs=1e-6)
