"""The fields within reach, worked by hand and by other libraries: geographiclib on the ellipsoid, pygeomag.

Invented: the aeroplane flies at 120 kt and 8 gal/h, so that 15 NM take a gallon.
"""

from __future__ import annotations

from datetime import date

import pytest
from geographiclib.geodesic import Geodesic
from helpers.drawn import reports
from helpers.flown import apart_deg
from pygeomag import GeoMag

from navlog.flightlog.records import Log
from navlog.nav.chart import Airport, Place, Position, Provenance, Source, Station, StationKind
from navlog.nav.record import changed
from navlog.studies.revision_reach import Field, fields_within_reach, nearest_station, usable_stations, variation_at

HERE = Position(46.0, -39.0)
NM = 1852.0
FLIGHT = (
    "station QAA 113.00 N46 00.00 W039 00.00 decl 10W class H\n"
    "station QBB 114.00 N46 20.00 W039 00.00 decl 10W class H\n"
    "airport XAA N45 50.00 W039 00.00 elev 100ft\nairport XCC N46 40.00 W039 00.00 elev 100ft\n"
    "date 2026-07-18\noff 15:00Z\nwind calm\naltitude 3500\ntas 120kt\nburn 8gph\nfuel 40gal\nrules vfr day\n"
)
ROUTE = "route QAA QBB XCC\n"


def log_of(*more: str) -> Log:
    """The flight with statements replaced or added by their keywords."""
    words = {one.split()[0] for one in more}
    kept = [one for one in FLIGHT.splitlines() if one.split()[0] not in words]
    (report,) = reports("\n".join((*kept, *more, ROUTE)))
    return report.log


def field(ident: str, latitude_deg: float, longitude_deg: float, status: str | None = None) -> Airport:
    return Airport(ident, Position(latitude_deg, longitude_deg), elevation_ft=100.0, status=status)


class Near:
    """A catalogue that knows these places; `asked` is for what."""

    def __init__(self, *places: Place) -> None:
        self.places = places
        self.asked: list[tuple[Position, float, date, frozenset[str]]] = []

    def nearby(self, position: Position, radius_nm: float, day: date, kinds: frozenset[str]) -> tuple[Place, ...]:
        self.asked.append((position, radius_nm, day, kinds))
        return self.places


def reached(log: Log, *places: Place, here: Position = HERE) -> dict[str, Field]:
    return {one.airport.ident: one for one in fields_within_reach(log, here, Near(*places))}


def test_course_heading_and_variation_are_those_of_the_middle_of_the_way() -> None:
    # 290 NM along the great circle to a place on the same parallel: 2.5 degrees north of east here, east in the middle.
    there = field("XFAR", 46.0, -32.0)
    line = Geodesic.WGS84.InverseLine(46.0, -39.0, 46.0, -32.0)
    middle = line.Position(line.s13 / 2.0)
    variation = GeoMag().calculate(glat=middle["lat2"], glon=middle["lon2"], alt=0.0, time=2026.0 + 198.0 / 365.0).d
    found = reached(log_of(), there)["XFAR"]
    assert found.distance_nm == pytest.approx(line.s13 / NM, abs=0.001)
    assert found.true_course_deg == pytest.approx(middle["azi2"], abs=0.001)
    assert found.true_course_deg == pytest.approx(90.0, abs=0.01)
    assert found.magnetic_heading_deg == pytest.approx(90.0 - variation, abs=0.05)
    # Nothing turns the compass of an aeroplane without a card that is known.
    assert found.compass_heading_deg is None
    assert found.groundspeed_kt == pytest.approx(120.0)
    assert found.time_min == pytest.approx(line.s13 / NM / 2.0)
    assert found.fuel_left == pytest.approx(40.0 - line.s13 / NM / 15.0)


@pytest.mark.parametrize("stated", ["variation 5E", "variation 0E", "variation 12W"])
def test_a_stated_variation_goes_before_the_model(stated: str) -> None:
    turned = {"5E": 5.0, "0E": 0.0, "12W": -12.0}[stated.split()[1]]
    log = log_of(stated)
    assert variation_at(log, HERE) == turned
    found = reached(log, field("XFAR", 46.0, -32.0))["XFAR"]
    assert found.magnetic_heading_deg is not None
    assert apart_deg(found.magnetic_heading_deg, 90.0 - turned) < 0.01


def test_without_a_model_and_a_stated_variation_no_heading_is_told() -> None:
    log = log_of()
    without = changed(log, route=changed(log.route, magnetic_model=None))
    assert variation_at(without, HERE) is None
    assert reached(without, field("XFAR", 46.0, -32.0))["XFAR"].magnetic_heading_deg is None


@pytest.mark.parametrize(
    ("wind", "groundspeed_kt", "heading_deg"),
    [
        # East into 90 kt; from behind; across, asin(60/120) = 30 degrees to the right and 120 cos 30 made good.
        ("090/90", 30.0, 90.0),
        ("270/90", 210.0, 90.0),
        ("180/60", 103.923, 120.0),
    ],
)
def test_the_wind_ahead_is_flown_in(wind: str, groundspeed_kt: float, heading_deg: float) -> None:
    found = reached(log_of("variation 0E", f"wind {wind}"), field("XNIG", 46.0, -37.6))["XNIG"]
    assert found.groundspeed_kt == pytest.approx(groundspeed_kt, abs=0.01)
    assert found.magnetic_heading_deg == pytest.approx(heading_deg, abs=0.1)
    assert found.time_min == pytest.approx(found.distance_nm / groundspeed_kt * 60.0, rel=1e-4)


def test_upwind_of_a_wind_that_cannot_be_flown_nothing_is_in_reach() -> None:
    log = log_of("variation 0E", "wind 090/130")
    found = reached(log, field("XNIG", 46.0, -37.6), field("XWES", 46.0, -40.4))
    assert "XNIG" not in found
    assert found["XWES"].groundspeed_kt == pytest.approx(250.0, abs=0.1)


@pytest.mark.parametrize(
    ("fuel", "kept", "left"),
    [
        # A degree of latitude from N46 is 60.02 NM (WGS84): 30.01 min and 4.001 gal. By day 30 min, 4 gal, are kept (14
        # CFR 91.151).
        ("8.01gal", True, 4.009),
        ("7.99gal", False, 3.989),
        ("4.01gal", False, 0.009),
        ("3.99gal", None, None),
    ],
)
def test_a_field_is_in_reach_while_fuel_is_left_and_keeps_the_reserve_or_not(
    fuel: str, kept: bool | None, left: float | None
) -> None:
    away_nm = Geodesic.WGS84.Inverse(46.0, -39.0, 45.0, -39.0)["s12"] / NM
    assert away_nm == pytest.approx(60.02, abs=0.01)
    found = reached(log_of(f"fuel {fuel}"), field("XDEG", 45.0, -39.0)).get("XDEG")
    assert (None if found is None else found.reserve_kept) is kept
    if found is not None:
        assert found.fuel_left == pytest.approx(left, abs=0.001)


@pytest.mark.parametrize("fuel", ["", "fuel 0gal"])
def test_without_fuel_that_is_known_or_left_nothing_is_in_reach(fuel: str) -> None:
    log = log_of()
    conditions = changed(log.conditions, on_board=0.0 if fuel else None)
    near = Near(field("XDEG", 45.0, -39.0))
    assert fields_within_reach(changed(log, conditions=conditions), HERE, near) == ()
    assert near.asked == []


def test_without_a_burn_or_a_wind_nobody_knows_what_is_in_reach() -> None:
    log, there = log_of(), field("XDEG", 45.0, -39.0)
    assert "XDEG" in reached(log, there)
    without_burn = reached(changed(log, fuel=changed(log.fuel, burn_per_h=None)), there)
    without_wind = reached(changed(log, conditions=changed(log.conditions, winds=None)), there)
    for found, reason in ((without_burn, "no burn"), (without_wind, "no wind")):
        assert {(one.time_min, one.fuel_left, one.reason) for one in found.values()} == {(None, None, reason)}
    # Without a burn nobody knows how far the catalogue is to be asked.
    assert (set(without_burn), set(without_wind)) == ({"XAA", "XCC"}, {"XAA", "XCC", "XDEG"})


@pytest.mark.parametrize(
    ("fuel", "radius_nm"),
    [
        # As far as still air allows, 15 NM a gallon, and 60 NM for the stations about the fields; 1,000 NM at the most.
        ("10gal", 210.0),
        ("62gal", 990.0),
        ("63gal", 1_000.0),
    ],
)
def test_the_catalogue_is_asked_as_far_as_the_fuel_goes(fuel: str, radius_nm: float) -> None:
    near = Near()
    fields_within_reach(log_of(f"fuel {fuel}"), HERE, near)
    ((position, asked_nm, day, kinds),) = near.asked
    assert (position, day, kinds) == (HERE, date(2026, 7, 18), frozenset({"airport", "vor"}))
    assert asked_nm == pytest.approx(radius_nm)


def test_those_that_keep_the_reserve_come_first_then_by_time_and_eight_at_the_most() -> None:
    # 9 gal: 5 of them are 75 NM, beyond which the reserve is touched. XAA and XCC of the file lie 10 and 40 NM away.
    places = [field(f"X{number}", 46.0, -39.0 - number / 4.0) for number in range(1, 10)]
    found = fields_within_reach(log_of("fuel 9gal"), HERE, Near(*reversed(places)))
    assert [one.airport.ident for one in found] == ["XAA", "X1", "X2", "X3", "XCC", "X4", "X5", "X6"]
    assert [one.reserve_kept for one in found] == [(one.time_min or 0.0) < 37.5 for one in found]
    later = fields_within_reach(log_of("fuel 9gal", "wind 270/60"), HERE, Near(places[3]))
    # Into 60 kt X4 takes 41.8 min and keeps nothing; across it the fields of the file are flown at 103.9 kt.
    assert [(one.airport.ident, one.reserve_kept) for one in later] == [("XAA", True), ("XCC", True), ("X4", False)]


def test_a_closed_field_and_the_place_itself_are_no_fields_and_the_files_own_goes_before_the_published_one() -> None:
    closed, open_too = field("XCL", 46.0, -39.5, "closed indefinitely"), field("XOP", 46.0, -39.5)
    elsewhere = field("XCC", 47.0, -39.0)
    found = reached(log_of(), closed, open_too, elsewhere)
    assert set(found) == {"XAA", "XCC", "XOP"}
    assert found["XCC"].airport.position.latitude_deg == pytest.approx(46.0 + 40.0 / 60.0)
    assert set(reached(log_of(), here=Position(45.0 + 50.0 / 60.0, -39.0))) == {"XCC"}


def vor(ident: str, longitude_deg: float, declination_deg: float | None = 0.0) -> Station:
    place = Position(46.0, longitude_deg)
    return Station(
        ident, StationKind.VOR, place, frequency_mhz=115.0, declination_deg=declination_deg,
        provenance=Provenance(Source.NASR, "2026-07-09"),
    )  # fmt: skip


def test_a_field_is_told_from_the_nearest_station_whose_radials_are_known() -> None:
    there = field("XNIG", 46.0, -37.0)
    # A degree of longitude is 41.8 NM at N46; one farther than 60 is not named.
    near, nearest, silent = vor("QNE", -36.0), vor("QNT", -37.5, -10.0), vor("QSI", -37.1, None)
    assert nearest_station(there, (near, nearest, silent)) is nearest
    assert nearest_station(there, (near, silent)) is near
    assert nearest_station(there, (silent, vor("QFA", -35.5))) is None
    found = reached(log_of(), there, near, nearest, silent)["XNIG"]
    assert found.station is nearest
    line = Geodesic.WGS84.Inverse(46.0, -37.5, 46.0, -37.0)
    # Radials count from the station's declination, 10 west.
    assert found.radial_deg == pytest.approx(line["azi1"] + 10.0, abs=0.01)
    assert found.station_nm == pytest.approx(line["s12"] / NM, abs=0.001)
    alone = reached(changed(log := log_of(), route=changed(log.route, stretches=())), field("XNIG", 46.0, -30.0))
    assert (alone["XNIG"].station, alone["XNIG"].radial_deg, alone["XNIG"].station_nm) == (None, None, None)


def test_stations_are_those_of_file_route_and_catalogue_that_are_in_service_and_vors() -> None:
    dme = Station("QDM", StationKind.DME, HERE)
    log = log_of("unavailable QAA")
    found = [one.ident for one in usable_stations(log, (vor("QNE", -36.0), dme, field("XNIG", 46.0, -37.0)))]
    assert set(found) == {"QBB", "QNE"}


def test_private_fields_come_after_public_ones_that_keep_the_reserve_as_well() -> None:
    # 20.9 and 41.8 NM off: the nearer one is private.
    near, far = field("XPR", 46.0, -39.5), field("XPU", 46.0, -40.0)
    own, other = changed(near, use="private"), changed(far, use="public")
    found = fields_within_reach(log_of(), HERE, Near(own, other))
    names = [one.airport.ident for one in found]
    assert names.index("XPU") < names.index("XPR") == len(names) - 1
    unmarked = [one.airport.ident for one in fields_within_reach(log_of(), HERE, Near(near, far))]
    assert unmarked.index("XPR") < unmarked.index("XPU")
