"""Make-ups, distances between points and what may tell a point, each record whole and worked by hand.

Places are so many NM north of N45 W039 on its meridian: a minute of latitude is 1.0 NM (WGS84, N45 to N46).
"""

from __future__ import annotations

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st

from navlog.nav.chart import Bearing, Fix, Position, Provenance, Segment, Source, Station, StationKind
from navlog.nav.guidance import StatedDistance
from navlog.nav.lines import Lines
from navlog.nav.problems import NavlogError, Problem, Span
from navlog.nav.record import changed
from navlog.request.records import RouteWord
from navlog.resolve.identify import by_distance_alone, is_to_tell, named_candidates, other_candidates
from navlog.resolve.lines import distance_between
from navlog.resolve.makeup import bearings_from, made_up_distance_nm, may_be_meant, taken_from
from navlog.resolve.route import Identification, MarkKind, Point, PointKind


def north(nm: float) -> Position:
    return Position(45.0 + nm / 60.0, -39.0)


NASR = Provenance(Source.NASR)
QAA = Station("QAA", StationKind.VOR, north(0.0), frequency_mhz=113.0, declination_deg=0.0, dme=True)
PUBLISHED = changed(QAA, provenance=NASR)


@pytest.mark.parametrize(
    ("station", "kind"),
    [
        (QAA, "VOR"),
        (changed(QAA, published_kind="VORTAC"), "VORTAC"),
        (Station("QAA", StationKind.NDB), "NDB"),
        (Station("QAA", StationKind.TACAN), "TACAN"),
    ],
)
def test_a_bearing_is_told_with_the_kind_of_its_station(station: Station, kind: str) -> None:
    assert taken_from(station, 12.0, 3.0) == Bearing("QAA", 12.0, 3.0, kind)
    assert taken_from(station, None) == Bearing("QAA", None, None, kind)
    assert taken_from(station, 12.0).is_from(station)


# AIM 1-1-8: no service volume is wider than 130 NM; 300 NM leave room for what is received beyond it.
@pytest.mark.parametrize(("nm", "meant"), [(0.0, True), (299.5, True), (301.0, False)])
def test_a_station_is_meant_within_300_miles(nm: float, meant: bool) -> None:
    assert may_be_meant(QAA, north(nm)) is meant
    assert may_be_meant(QAA, None)
    # On one meridian as far either side of the equator, 20 degrees and some 1,200 NM apart.
    assert not may_be_meant(changed(QAA, position=Position(10.0, -39.0)), Position(-10.0, -39.0))
    assert may_be_meant(changed(QAA, position=None), north(nm))


# Whatever a look at the degrees alone makes of it, near a pole and across 180 degrees too.
@settings(deadline=None)
@given(
    st.floats(-89.0, 89.0),
    st.floats(-180.0, 180.0),
    st.floats(0.0, 360.0),
    st.floats(0.0, 299.999) | st.floats(300.001, 600.0),
)
def test_a_station_is_meant_by_its_distance_anywhere(lat: float, lon: float, way_deg: float, nm: float) -> None:
    there = Geodesic.WGS84.Direct(lat, lon, way_deg, nm * 1852.0)
    station = changed(QAA, position=Position(there["lat2"], there["lon2"]))
    assert may_be_meant(station, Position(lat, lon)) is (nm <= 300.0)


def fix(*makeup: Bearing, nm: float | None = 10.0, published: bool = True) -> Fix:
    return Fix("FIXAA", None if nm is None else north(nm), makeup, published=published)


def at(distance_nm: float | None) -> Bearing:
    return Bearing("QAA", 360.0, distance_nm, "VOR")


@pytest.mark.parametrize(
    ("of", "station", "told"),
    [
        (fix(at(10.9)), QAA, [10.9]),
        (fix(at(11.1)), QAA, []),  # of another place than the file's station, a mile and more off
        (fix(at(8.9)), QAA, []),
        (fix(at(None)), QAA, [None]),
        (fix(at(50.0)), PUBLISHED, [50.0]),
        (fix(at(50.0), published=False), QAA, [50.0]),
        (fix(at(50.0), nm=None), QAA, [50.0]),
        (fix(at(50.0)), changed(QAA, position=None), [50.0]),
        (fix(at(310.0), nm=310.0), PUBLISHED, []),
        (fix(at(310.0), nm=310.0, published=False), PUBLISHED, [310.0]),
        (fix(Bearing("QBB", 1.0), Bearing("QAA", 2.0, 7.0, "NDB"), Bearing("QAA", 3.0, 10.0)), QAA, [10.0]),
    ],
)
def test_a_make_up_counts_for_the_station_that_it_was_measured_from(
    of: Fix, station: Station, told: list[float | None]
) -> None:
    assert [one.distance_nm for one in bearings_from(of, station)] == told
    assert bearings_from(None, station) == ()


@pytest.mark.parametrize(
    ("of", "station", "nm"),
    [
        (fix(at(None), at(10.0)), QAA, 10.0),
        (fix(at(10.0)), changed(QAA, dme=False), None),
        (fix(at(10.0), published=False), changed(QAA, dme=False), 10.0),
        (fix(), QAA, None),
        (None, QAA, None),
    ],
)
def test_a_distance_by_make_up_needs_dme_where_it_is_published(of: Fix | None, station: Station, nm: float) -> None:
    assert made_up_distance_nm(of, station) == nm


WORD = RouteWord("FIXBB", Span("flight.route", 3, 7, 5), "FIXBB")


def defined(ident: str, *makeup: Bearing) -> Point:
    """A fix of the file without a position."""
    return Point(PointKind.FIX, ident, None, Fix(ident, None, makeup))


def by(station: str, radial_deg: float | None, distance_nm: float | None, kind: str = "VOR") -> Bearing:
    return Bearing(station, radial_deg, distance_nm, kind)


NO_PLACE = Point(PointKind.STATION, "QAA", None, changed(QAA, position=None))
PLACED = Point(PointKind.STATION, "QAA", north(0.0), QAA)
CHART = Segment("FIXAA", "FIXBB", 33.0)
EAST_40, NORTH_30 = defined("FIXBB", by("QAA", 90.0, 40.0)), defined("FIXAA", by("QAA", 0.0, 30.0))


@pytest.mark.parametrize(
    ("segment", "start", "end", "expected"),
    [
        # From a station to what is defined from it, either way round; by the chart, with that beside it.
        (None, NO_PLACE, EAST_40, StatedDistance(40.0)),
        (None, EAST_40, NO_PLACE, StatedDistance(40.0)),
        (CHART, NO_PLACE, EAST_40, StatedDistance(33.0, None, 40.0)),
        (CHART, EAST_40, NO_PLACE, StatedDistance(33.0, None, 40.0)),
        # 30 NM north and 40 east of one station are 50 NM apart; on one radial they are 10.
        (CHART, NORTH_30, EAST_40, StatedDistance(33.0, None, 50.0)),
        (CHART, NORTH_30, defined("FIXBB", by("QAA", 0.0, 40.0)), StatedDistance(33.0, None, 10.0)),
        (CHART, NORTH_30, defined("FIXBB", by("QAA", 180.0, 40.0)), StatedDistance(33.0, None, 70.0)),
        # 60 degrees and equal arms: as far from each other as from the station.
        (CHART, NORTH_30, defined("FIXBB", by("QAA", 300.0, 30.0)), StatedDistance(33.0, None, 30.0)),
        (CHART, NORTH_30, defined("FIXBB", by("QBB", 9.0, 8.0), by("QAA", 0.0, 50.0)),
         StatedDistance(33.0, None, 20.0)),
        # Of another station, of another aid of its name, without a distance or a radial nothing is told.
        (CHART, NORTH_30, defined("FIXBB", by("QBB", 90.0, 40.0)), StatedDistance(33.0)),
        (CHART, NORTH_30, defined("FIXBB", by("QAA", 90.0, 40.0, "NDB")), StatedDistance(33.0)),
        (CHART, NORTH_30, defined("FIXBB", by("QAA", 90.0, None)), StatedDistance(33.0)),
        (CHART, defined("FIXAA", by("QAA", 90.0, None)), EAST_40, StatedDistance(33.0)),
        (CHART, NORTH_30, defined("FIXBB", by("QAA", None, 40.0)), StatedDistance(33.0)),
        (CHART, defined("FIXAA", by("QAA", None, 40.0)), NORTH_30, StatedDistance(33.0)),
    ],
)  # fmt: skip
def test_a_distance_is_told_as_charted_and_as_defined(
    segment: Segment | None, start: Point, end: Point, expected: StatedDistance
) -> None:
    found = distance_between(segment, start, end, WORD, Lines())
    assert (found.charted, found.computed) == (expected.charted, expected.computed)
    assert found.defined == (None if expected.defined is None else pytest.approx(expected.defined))


@pytest.mark.parametrize(("segment", "charted"), [(None, None), (CHART, 33.0)])
def test_with_both_positions_it_is_computed_and_no_make_up_is_asked(
    segment: Segment | None, charted: float | None
) -> None:
    end = Point(PointKind.FIX, "FIXBB", north(30.0), Fix("FIXBB", north(30.0), (by("QAA", 0.0, 99.0),)))
    found = distance_between(segment, PLACED, end, WORD, Lines())
    assert (found.charted, found.defined) == (charted, None)
    assert found.computed == pytest.approx(30.0, abs=0.01)


def test_two_points_at_one_place_or_at_no_known_distance_are_problems() -> None:
    same = Point(PointKind.FIX, "FIXBB", north(0.0), Fix("FIXBB", north(0.0)))
    with pytest.raises(NavlogError) as raised:
        distance_between(CHART, PLACED, same, WORD, Lines())
    assert raised.value.problems == (
        Problem("zero-length-leg", "`QAA` and `FIXBB` are the same place", WORD.span),
    )  # fmt: skip
    with pytest.raises(NavlogError) as raised:
        distance_between(None, PLACED, defined("FIXBB"), WORD, Lines())
    hint = "give both a position, or state `direct QAA - FIXBB 12nm`"
    told = Problem("unknown-distance", "no distance is known from `QAA` to `FIXBB`", WORD.span, hint)
    assert raised.value.problems == (told,)


QCC = Station("QCC", StationKind.VOR, north(40.0), frequency_mhz=114.0, declination_deg=10.0, dme=True)


def finder(ident: str, near: Position | None) -> Station | None:
    return {"QAA": QAA, "QCC": QCC}.get(ident) if near is not None else None


def rounded(found: Identification) -> Identification:
    """To the tenth, without the station's other fields."""
    tenths = {
        name: round(value, 1)
        for name in ("radial_deg", "away_nm", "bearing_deg", "published_radial_deg", "published_nm")
        if (value := getattr(found, name)) is not None
    }
    return changed(found, **tenths)


def candidates(of: Fix, flown: Station | None = QAA, *, dme: bool = True) -> list[Identification]:
    point = Point(PointKind.FIX, of.ident, of.position, of)
    return [rounded(one) for one in named_candidates(point, flown, finder, dme=dme)]


def mark(station: Station, kind: MarkKind, *figures: float | None, **more: bool) -> Identification:
    return Identification(station, kind, *figures, **more)  # type: ignore[arg-type]


FLOWN_DME = mark(QAA, MarkKind.DME, 0.0, 20.0, 0.0, named=True, flown=True)
RADIAL, DME = MarkKind.RADIAL, MarkKind.DME


@pytest.mark.parametrize(
    ("of", "expected"),
    [
        # 20 NM north of QAA and 20 NM south of QCC, whose radials are 10 degrees less than true: 170.
        (fix(nm=20.0), [FLOWN_DME]),
        (fix(by("QCC", 170.0, 20.0), nm=20.0), [
            FLOWN_DME,
            mark(QCC, DME, 170.0, 20.0, 180.0, None, 20.0, published=True, named=True),
            mark(QCC, RADIAL, 170.0, 20.0, 180.0, 170.0, None, published=True, named=True),
        ]),
        # The needle reads what the position makes, beside it the published figure; the file's own are flown as typed.
        (fix(by("QCC", 172.0, None), nm=20.0), [
            FLOWN_DME, mark(QCC, RADIAL, 170.0, 20.0, 180.0, 172.0, None, published=True, named=True),
        ]),
        (fix(by("QCC", 172.0, 21.0), nm=20.0, published=False), [
            FLOWN_DME,
            mark(QCC, DME, 172.0, 21.0, 180.0, None, None, named=True),
            mark(QCC, RADIAL, 172.0, 21.0, 180.0, None, None, named=True),
        ]),
        # Without a position the make-up's own figures are all there is; the radial flown tells nothing along itself.
        (fix(by("QAA", 5.0, 21.0), nm=None, published=False), [
            mark(QAA, DME, 5.0, 21.0, 5.0, None, None, named=True, flown=True),
        ]),
        (fix(by("QZZ", 172.0, 20.0), nm=20.0), [FLOWN_DME]),
    ],
)  # fmt: skip
def test_a_fix_is_told_by_its_make_up_and_by_the_dme_of_the_station_flown(
    of: Fix, expected: list[Identification]
) -> None:
    assert candidates(of) == expected


@pytest.mark.parametrize(("made_nm", "away_nm"), [(20.04, 20.04), (19.96, 19.96), (20.07, 20.0), (30.0, 20.0)])
def test_a_published_distance_counts_where_it_prints_as_the_positions(made_nm: float, away_nm: float) -> None:
    of = fix(by("QAA", 0.0, made_nm), nm=20.0)
    point = Point(PointKind.FIX, of.ident, of.position, of)
    (one,) = named_candidates(point, PUBLISHED, finder, dme=True)
    assert one.away_nm == pytest.approx(away_nm, abs=0.005)
    assert one.published_nm == made_nm


def test_without_dme_on_board_or_at_the_station_radials_alone_tell() -> None:
    of = fix(by("QCC", 170.0, 20.0), nm=20.0)
    radial = mark(QCC, RADIAL, 170.0, 20.0, 180.0, 170.0, None, published=True, named=True)
    assert candidates(of, dme=False) == [radial]
    assert candidates(of, changed(QAA, dme=False), dme=True)[1:] == [radial]
    assert candidates(of, None)[1:] == [radial]
    assert candidates(of, changed(QAA, kind=StationKind.NDB))[1:] == [radial]


@pytest.mark.parametrize("kind", [PointKind.STATION, PointKind.AIRPORT])
def test_a_station_or_an_airport_needs_nothing_to_tell_it(kind: PointKind) -> None:
    assert not is_to_tell(Point(kind, "QAA", north(20.0), QAA if kind is PointKind.STATION else None), guides=True)


@pytest.mark.parametrize(
    ("kind", "to_tell"), [(StationKind.VOR, True), (StationKind.DME, True), (StationKind.NDB, False)]
)
def test_a_station_without_a_flag_is_to_be_told(kind: StationKind, to_tell: bool) -> None:
    point = Point(PointKind.STATION, "QAA", QAA.position, changed(QAA, kind=kind))
    assert is_to_tell(point, guides=False) is to_tell


@pytest.mark.parametrize(("nm", "told"), [(79.9, True), (80.1, False), (-79.9, True), (-80.1, False)])
def test_other_stations_radials_tell_within_80_miles(nm: float, told: bool) -> None:
    point = Point(PointKind.POSITION, None, north(nm))
    found = [rounded(one) for one in other_candidates(point, None, (), (QAA,))]
    way_deg = 0.0 if nm > 0 else 180.0
    assert found == ([mark(QAA, RADIAL, way_deg, 79.9, way_deg)] if told else [])


@pytest.mark.parametrize("lat", [0.0, 45.0, -60.0, 75.0, 85.0, -88.0, 89.0, 89.9])
@pytest.mark.parametrize(("nm", "told"), [(0.5, True), (79.9, True), (80.1, False)])
def test_they_do_in_every_direction_and_across_a_pole(lat: float, nm: float, told: bool) -> None:
    """Places by the WGS84 geodesic of another library."""
    station = changed(QAA, position=Position(lat, 179.5))
    for way_deg in range(0, 360, 10):
        line = Geodesic.WGS84.Direct(lat, 179.5, way_deg, nm * 1852.0)
        point = Point(PointKind.POSITION, None, Position(line["lat2"], line["lon2"]))
        assert bool(list(other_candidates(point, None, (), (station,)))) is told, way_deg


def test_other_stations_are_those_that_tell_nothing_yet() -> None:
    point = Point(PointKind.POSITION, None, north(20.0))
    dme = mark(QCC, DME, 170.0, 20.0, 180.0)
    unplaced, beacon = changed(QCC, ident="QNP", position=None), changed(QCC, ident="QNB", kind=StationKind.NDB)
    known = (QAA, unplaced, beacon, QCC)
    assert [one.station.ident for one in other_candidates(point, None, (dme,), known)] == ["QAA", "QCC"]
    assert [one.station.ident for one in other_candidates(point, QAA, (dme,), known)] == ["QCC"]
    radial = changed(dme, kind=RADIAL)
    assert [one.station.ident for one in other_candidates(point, None, (radial,), known)] == ["QAA"]
    here = Point(PointKind.POSITION, None, QAA.position)
    assert [one.station.ident for one in other_candidates(here, None, (), known)] == ["QCC"]


def test_the_dme_of_a_station_whose_vor_is_out_tells_by_its_distance() -> None:
    of = fix(by("QCC", 170.0, 20.0), nm=20.0)
    point = Point(PointKind.FIX, of.ident, of.position, of)
    stations = (QAA, QCC, changed(QCC, ident="QXX", dme=False), changed(QCC, ident="QYY", status="OUT OF SERVICE"))
    assert [rounded(one) for one in by_distance_alone(point, stations)] == [
        mark(QAA, DME, 0.0, 20.0, 0.0),
        mark(QCC, DME, 170.0, 20.0, 180.0, None, 20.0, published=True, named=True),
    ]
