"""The points that words and `fix` statements mean, what stands beside them, and what is published otherwise.

QNN stands at N46 W039 with a declination of 10E, so that its radial 350 leads true north: 30 NM on it are N46 30.0.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from helpers.namesakes import DAY, asked
from msgspec import Struct
from pygeomag import GeoMag

from navlog.nav.chart import Airport, Bearing, Fix, Position, Provenance, Station, StationKind
from navlog.nav.record import changed
from navlog.request.records import Level
from navlog.resolve.flight import resolve_flight
from navlog.resolve.lookup import NoCatalogue
from navlog.resolve.route import Namesake, Point, PointKind, Route

QNN = "station QNN 113.00 N46 00.00 W039 00.00 decl 10E dme elev 1000ft"


def resolved(*statements: str, catalogue: NoCatalogue | None = None) -> Route:
    return resolve_flight(asked(QNN, *statements), catalogue or NoCatalogue())


def second(*statements: str) -> Point:
    """The second point of the route."""
    return resolved(*statements).points[1]


def assert_near(found: Position | None, latitude_deg: float, longitude_deg: float) -> Position:
    """The position, within 0.02 NM of where it should be."""
    assert found is not None
    assert (found.latitude_deg, found.longitude_deg) == pytest.approx((latitude_deg, longitude_deg), abs=0.0004)
    return found


def test_a_radial_and_distance_on_the_route_line_is_a_fix_made_up_of_them() -> None:
    point = second("route XHAR QNN350030 XOLD")
    position = assert_near(point.position, 46.5, -39.0)
    made = Fix("QNN350030", position, (Bearing("QNN", 350.0, 30.0, "VOR"),))
    assert point == Point(PointKind.FIX, "QNN350030", position, made, span=point.span)
    assert point.span is not None
    assert (point.span.column, point.span.length) == (12, 9)


def test_a_bearing_from_an_airport_is_magnetic_by_the_model() -> None:
    point = second("route QNN XOLD090010 QEL XOLD")
    assert point.bearing is not None
    # 18 July 2026 is day 198 of 365, by the model's own library at N45 41 W039 20.
    variation_deg = GeoMag(base_year=2025).calculate(45 + 41 / 60, -39 - 20 / 60, 0, 2026 + 198 / 365).d
    assert (point.bearing.place, point.bearing.distance_nm, point.bearing.model) == ("XOLD", 10.0, "WMM2025")
    assert point.bearing.variation_deg == pytest.approx(variation_deg, abs=0.01)
    assert point.place == Fix("XOLD090010", point.position)
    assert (point.kind, point.ident) == (PointKind.FIX, "XOLD090010")


MADE = (Bearing("QNN", 350.0, 30.0, "VOR"),)


def test_a_fix_by_radial_and_distance_has_its_place_make_up_and_mra() -> None:
    point = second("fix LAKER QNN 350 30nm mra 5000", "route XHAR LAKER XOLD")
    position = assert_near(point.position, 46.5, -39.0)
    assert point.fix is not None
    assert point.fix == Fix("LAKER", position, MADE, 5_000.0, span=point.fix.span)
    assert point == Point(PointKind.FIX, "LAKER", position, point.fix, span=point.span)


def test_a_dme_reading_is_laid_down_to_the_ground() -> None:
    # 7,076 ft are 6,076 ft, 1.000 NM, above the station: the root of 30 squared less 1 is 29.983 NM.
    point = second("fix LAKER QNN 350 dme 30 at 7076ft", "route XHAR LAKER XOLD")
    assert_near(point.position, 46.0 + 29.983 / 60.0, -39.0)
    assert point.fix is not None
    assert point.fix.makeup[0].distance_nm == pytest.approx(29.983, abs=0.001)


def test_two_radials_cross_with_the_error_of_a_degree_at_the_farther_station() -> None:
    # QPP is 40 minutes of longitude east of N46 30 W039: 27.6 NM, whence LAKER lies 0.24 degrees north of west. The
    # farther station is QNN, 30 NM away: 30 x sin 1 / sin 90 are 0.524 NM.
    cross = ("station QPP 114.00 N46 30.00 W038 20.00 decl 0.24W", "fix LAKER QNN 350 x QPP 270.48")
    point = second(*cross, "route XHAR LAKER XOLD")
    position = assert_near(point.position, 46.5, -39.0)
    assert point.fix is not None
    makeup = (Bearing("QNN", 350.0, None, "VOR"), Bearing("QPP", 270.48, None, "VOR"))
    assert point.fix == Fix("LAKER", position, makeup, span=point.fix.span)
    assert point.crossing is not None
    assert point.crossing.cut_deg == pytest.approx(89.8, abs=0.1)
    assert point.crossing.error_nm_per_deg == pytest.approx(0.524, abs=0.001)


def test_a_stated_position_goes_before_all_and_none_comes_of_a_station_without() -> None:
    stated = second("fix LAKER N46 10.00 W039 00.00", "route XHAR LAKER XOLD")
    assert stated.fix is not None
    assert stated.fix == Fix("LAKER", stated.position, span=stated.fix.span)
    bare = ("station QPP 114.00 decl 0E", "direct XHAR - LAKER 20nm", "direct LAKER - XOLD 20nm")
    unplaced = second(*bare, "fix LAKER QPP 350 30nm", "route XHAR LAKER XOLD")
    assert (unplaced.position, unplaced.definition) == (None, (Bearing("QPP", 350.0, 30.0, "VOR"),))
    crossed = second(*bare, "fix LAKER QNN 350 x QPP 270", "route XHAR LAKER XOLD")
    assert (crossed.position, crossed.crossing) == (None, None)
    assert [one.station for one in crossed.definition] == ["QNN", "QPP"]


def test_of_a_point_of_an_airway_without_a_record_the_name_is_known_and_of_a_bare_position_the_place() -> None:
    here = second("route XHAR 4600N03900W XOLD")
    assert here == Point(PointKind.POSITION, None, Position(46.0, -39.0), span=here.span)
    stop = second("route XHAR XOLD land 45min XHAR")
    assert stop.landing is not None
    assert (stop.kind, stop.ident) == (PointKind.AIRPORT, "XOLD")


class Checked(Struct, frozen=True):
    """What was asked for checkpoints."""

    near: Position
    day: date
    provenance: Provenance = Provenance()


class Beside(NoCatalogue):
    """Stations, an airport, and checkpoints that tell what was asked."""

    def __init__(self, *stations: Station) -> None:
        self.given = stations

    def stations(self, ident: str, day: date) -> tuple[Station, ...]:
        return tuple(one for one in self.given if (one.ident, day) == (ident, DAY))

    def airports(self, ident: str, day: date) -> tuple[Airport, ...]:
        return (Airport("YHAR", Position(46.0, -39.0)),) if (ident, day) == ("YHAR", DAY) else ()

    def checkpoints(self, near: Position, day: date) -> tuple[Any, ...]:
        return (Checked(near, day),)


def vor(ident: str, latitude_min: float, longitude_min: float, **more: Any) -> Station:
    """A VOR so many minutes north of N46 and west of W039."""
    place = Position(46.0 + latitude_min / 60.0, -39.0 - longitude_min / 60.0)
    return Station(ident, more.pop("kind", StationKind.VOR), place, **more)


SAME = vor("QHB", 12.3, 20.7, frequency_mhz=113.7, declination_deg=-15.0)
OFF = "QHB is at N46 12.30 W039 20.70 in the file and 0.2 NM away, at N46 12.50 W039 20.70, as published"


@pytest.mark.parametrize(
    ("published", "expected"),
    [
        ((SAME,), ()),
        ((), ()),
        ((vor("QHB", 12.39, 20.7),), ()),
        ((vor("QHB", 12.5, 20.7),), (OFF,)),
        ((vor("QHB", 12.5, 20.7, kind=StationKind.NDB),), ()),
        # The nearest of its name is the one meant.
        ((vor("QHB", 40.0, 20.7, frequency_mhz=110.0), SAME), ()),
        ((vor("QHB", 40.0, 20.7), vor("QHB", 12.5, 20.7)), (OFF,)),
        ((changed(SAME, frequency_mhz=113.75),), ("QHB is on 113.70 in the file and 113.75 as published",)),
        # Of two records of one place the first tells.
        (
            (changed(SAME, frequency_mhz=113.75), SAME),
            ("QHB is on 113.70 in the file and 113.75 as published",),
        ),
        ((changed(SAME, frequency_mhz=None),), ()),
        ((changed(SAME, declination_deg=-14.0),), ("QHB has a declination of 15W in the file and 14W as published",)),
        ((changed(SAME, declination_deg=-15.04),), ()),
        ((changed(SAME, declination_deg=None),), ()),
        ((changed(SAME, position=None, frequency_mhz=113.75),), ()),
    ],
)
def test_what_the_file_says_otherwise_than_the_published_data_is_told(
    published: tuple[Station, ...], expected: tuple[str, ...]
) -> None:
    assert resolved("route XHAR QHB V801 QEL XOLD", catalogue=Beside(*published)).differs == expected


def test_a_station_of_the_file_without_a_place_is_held_against_the_first() -> None:
    bare = ("station QHB 113.70", "direct QHB - XHAR 9.6nm")
    far = vor("QHB", 40.0, 20.7, frequency_mhz=110.0)
    found = resolved(*bare, "variation 13W", catalogue=Beside(far, SAME)).differs
    assert found == ("QHB is on 113.70 in the file and 110.00 as published",)


# YHAR lies at N46 W039.
@pytest.mark.parametrize(
    ("station", "route", "apart_nm"),
    [
        (vor("YHAR", 10.0, 0.0), "YHAR QHB V801 QEL XOLD", 10.0),
        (vor("YHAR", 10.0, 0.0), "XOLD QEL V801 QHB YHAR", 10.0),
        (vor("YHAR", 1.1, 0.0), "YHAR QHB V801 QEL XOLD", 1.1),
        (vor("YHAR", 0.9, 0.0), "YHAR QHB V801 QEL XOLD", None),  # on the field
        (vor("YHAR", 10.0, 0.0, kind=StationKind.NDB), "YHAR QHB V801 QEL XOLD", None),
        (vor("YHAR", 10.0, 0.0), "YHAR:airport QHB V801 QEL XOLD", None),
        (vor("YHAR", 10.0, 0.0), "YHAR:4600N03900W QHB V801 QEL XOLD", None),
        (vor("YHAR", 10.0, 0.0), "QHB V801 QEL YHAR:airport over XOLD", None),
        (vor("YHAR", 10.0, 0.0), "YHAR:vor QEL XOLD", None),
    ],
)
def test_a_vor_of_the_name_of_an_airport_elsewhere_is_told(
    station: Station, route: str, apart_nm: float | None
) -> None:
    found = resolved(f"route {route}", catalogue=Beside(station)).namesakes
    assert [(one.airport, one.station) for one in found] == ([] if apart_nm is None else [("YHAR", station)])
    assert [one.apart_nm for one in found] == ([] if apart_nm is None else [pytest.approx(apart_nm, abs=0.01)])
    assert [one.span.length for one in found] == ([] if apart_nm is None else [4])


def test_a_namesake_without_a_place_is_told_too() -> None:
    bare = changed(vor("YHAR", 10.0, 0.0), position=None)
    (found,) = resolved("route YHAR QHB V801 QEL XOLD", catalogue=Beside(bare)).namesakes
    assert found == Namesake("YHAR", bare, None, found.span)


@pytest.mark.parametrize(
    ("statements", "asked_there"),
    [
        (("rules ifr", "route YHAR QHB V801 QEL XOLD"), True),
        (("route YHAR QHB V801 QEL XOLD",), False),
        (("rules vfr", "route YHAR QHB V801 QEL XOLD"), False),
        (("rules ifr", "route QHB V801 QEL XOLD"), False),
    ],
)
def test_checkpoints_are_asked_for_where_a_flight_under_ifr_takes_off(
    statements: tuple[str, ...], asked_there: bool
) -> None:
    found: Any = resolved(*statements, catalogue=Beside()).checkpoints
    assert found == ((Checked(Position(46.0, -39.0), DAY),) if asked_there else ())


def test_the_way_to_an_alternate_is_a_flight_of_its_own() -> None:
    route = resolved("hold QEL 4min", "alternate XHAR", "alternate XOLD from QEL at 5500")
    assert [one.request.name for one in route.alternates] == ["flight alternate XHAR", "flight alternate XOLD"]
    assert [[point.ident for point in one.points] for one in route.alternates] == [
        ["XOLD", "XHAR"], ["QEL", "XOLD"],
    ]  # fmt: skip
    for one in route.alternates:
        assert (one.request.holds, one.request.alternates, one.request.pattern_ft) == ((), (), None)
        assert one.magnetic_model == route.magnetic_model == "WMM2025"
    assert [one.request.cruise for one in route.alternates] == [Level(3_000.0), Level(5_500.0)]
    words = [[word.text for word in one.request.route] for one in route.alternates]
    assert words == [["XOLD", "XHAR"], ["QEL", "XOLD"]]
    assert [one.request.route[0].qualifier for one in route.alternates] == ["airport", "vor"]
