"""Fixes and bearings against published courses and GeographicLib's geodesics."""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin, sqrt
from random import Random

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from navlog.computations import position
from navlog.computations.fixing import _workings, answer, solve
from navlog.computations.position import needle_workings, radial_on_needle
from navlog.nav.angles import difference_deg
from navlog.nav.chart import Position, Station, StationKind
from navlog.nav.guidance import Flag
from navlog.nav.problems import NavlogError
from navlog.nav.units import FEET_PER_NM, NAUTICAL_MILE_M
from navlog.request.stationlist import read_fix

# Invented stations in an empty stretch of ocean.
QHB = Station(
    "QHB",
    StationKind.VOR,
    Position(46.205, -39.345),
    frequency_mhz=113.7,
    declination_deg=-15.0,
    service="L",
    dme=True,
    elevation_ft=820.0,
)
QEL = Station("QEL", StationKind.VOR, Position(45.735, -39.55), frequency_mhz=110.2, declination_deg=-17.0)
BOTH = (QHB, QEL)


def radial_and_nm(station: Station, position: Position) -> tuple[float, float]:
    """By GeographicLib instead of PROJ."""
    assert station.position is not None
    assert station.declination_deg is not None
    line = Geodesic.WGS84.Inverse(
        station.position.latitude_deg,
        station.position.longitude_deg,
        position.latitude_deg,
        position.longitude_deg,
    )
    return (line["azi1"] - station.declination_deg) % 360.0, line["s12"] / NAUTICAL_MILE_M


def test_two_radials_meet_where_geographiclib_finds_both() -> None:
    found = solve(read_fix("QHB 160 x QEL 090"), BOTH)
    for line, station in zip(found.lines, BOTH, strict=True):
        radial_deg, distance_nm = radial_and_nm(station, found.position)
        assert radial_deg == pytest.approx(line.radial_deg, abs=1e-6)
        assert distance_nm == pytest.approx(line.distance_nm, abs=1e-6)
    assert found.cut_deg is not None
    # 160 - 15 and 90 - 17 are true bearings 72 degrees apart, less what the meridians converge.
    assert found.cut_deg == pytest.approx(72.0, abs=0.3)


def test_an_error_beside_the_published_crossing_error() -> None:
    # TERPS' 3.6 degrees at 30 NM: 1.9 NM at a cut of 90 degrees, 2.7 at 45, 3.8 at 30 (computed).
    for cut_deg, off_nm in ((90.0, 1.9), (45.0, 2.7), (30.0, 3.8)):
        crossing = Position(46.0, -39.0)
        first, second = station_at(crossing, 200.0, "QAA"), station_at(crossing, 200.0 + cut_deg, "QBB")
        radials = [radial_and_nm(station, crossing)[0] for station in (first, second)]
        text = f"QAA {radials[0]:07.3f} x QBB {radials[1]:07.3f}"
        found = solve(read_fix(text), (first, second), bearing_error_deg=3.6)
        assert found.cut_deg == pytest.approx(cut_deg, abs=0.01)
        assert found.lines[0].shift_nm == pytest.approx(off_nm, abs=0.05)
        assert found.error_nm is not None
        assert found.error_nm > max(line.shift_nm for line in found.lines)


def station_at(place: Position, azimuth_deg: float, ident: str) -> Station:
    """A station 30 NM from a place."""
    there = Geodesic.WGS84.Direct(place.latitude_deg, place.longitude_deg, azimuth_deg, 30.0 * NAUTICAL_MILE_M)
    return Station(ident, StationKind.VOR, Position(there["lat2"], there["lon2"]), declination_deg=-16.0)


def test_a_radial_and_a_distance_over_the_ground() -> None:
    found = solve(read_fix("QHB 084 21nm"), BOTH, altitude_ft=5500.0)
    radial_deg, distance_nm = radial_and_nm(QHB, found.position)
    assert radial_deg == pytest.approx(84.0, abs=1e-6)
    assert distance_nm == pytest.approx(21.0, abs=1e-6)
    (line,) = found.lines
    # sqrt(21^2 + (4,680 / 6,076)^2)
    assert line.dme_nm == pytest.approx((21.0**2 + (4680.0 / FEET_PER_NM) ** 2) ** 0.5)
    assert (found.cut_deg, found.dme_error_nm) == (None, None)


def test_slant_range_as_published() -> None:
    # EASA question bank: 6,000 ft above, DME 5.0 NM: 4.9 NM; ICAO Doc 8168: sqrt(5^2 - 0.027 x 6^2).
    found = solve(read_fix("QHB 084 dme 5 at 6820"), BOTH)
    assert found.lines[0].distance_nm == pytest.approx(4.9, abs=0.05)
    assert found.lines[0].distance_nm == pytest.approx((25.0 - 0.027 * 36.0) ** 0.5, abs=0.001)
    assert found.lines[0].dme_nm == pytest.approx(5.0)
    assert found.dme_error_nm == 0.5  # FAA AIM 1-1-7
    assert solve(read_fix("QHB 084 dme 100 at 6820"), BOTH).dme_error_nm == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("QHB 160 x QEL 270", "no-crossing"),  # they diverge
        ("QHB 090 x QEL 092", "no-crossing"),  # parallel by true bearing: 075 both
        ("QHB 084 dme 0.5 at 5500", "impossible-dme"),
        ("QEL 084 dme 5 at 5500", "no-elevation"),
        ("QHX 084 5nm", "unknown-ident"),
        ("QHB 84 5nm", "bad-angle"),
        ("N46 05.00 W039 02.00", "bad-fix"),
        ("QHB 084", "missing-word"),
    ],
)
def test_what_is_no_fix_is_a_problem(text: str, code: str) -> None:
    with pytest.raises(NavlogError, match=rf"\[{code}\]"):
        solve(read_fix(text), BOTH)


def test_a_station_must_have_what_a_radial_needs() -> None:
    chart_only = Station("QHB", StationKind.VOR, declination_deg=-15.0)
    unaligned = Station("QHB", StationKind.VOR, Position(46.0, -39.0))
    beacon = Station("QHB", StationKind.NDB, Position(46.0, -39.0), declination_deg=-15.0)
    for station, code in ((chart_only, "no-position"), (unaligned, "no-declination"), (beacon, "no-radial")):
        with pytest.raises(NavlogError, match=code):
            solve(read_fix("QHB 084 5nm"), (station,))


def test_bearings_as_published_for_victor_airways() -> None:
    # FAA NASR 2026-05-14: GEP to ODI leaves on 125.47, is met on the 311.80 radial of ODI, 110.30 NM.
    gep = Station("GEP", StationKind.VOR, Position(45.14568488, -93.37318094), declination_deg=6.0)
    odi = Station("ODI", StationKind.VOR, Position(43.91232916, -91.46751616), declination_deg=1.0)
    assert gep.position is not None
    assert odi.position is not None
    (from_gep,) = position.solve(odi.position, (gep,))
    (from_odi,) = position.solve(gep.position, (odi,))
    assert from_gep.radial_deg == pytest.approx(125.47, abs=0.02)
    assert from_odi.radial_deg == pytest.approx(311.80, abs=0.02)
    assert from_gep.distance_nm == pytest.approx(110.30, abs=0.05)
    assert from_odi.course_to_deg == pytest.approx(131.80, abs=0.02)


def test_stations_come_nearest_first_with_what_their_dme_reads() -> None:
    near, far = position.solve(Position(46.1, -39.3), (QEL, QHB), altitude_ft=5500.0)
    assert (near.ident, far.ident) == ("QHB", "QEL")
    assert near.dme_nm == pytest.approx((near.distance_nm**2 + (4680.0 / FEET_PER_NM) ** 2) ** 0.5)
    assert (far.dme_nm, far.in_cone, far.service_nm) == (None, None, None)
    assert near.morse == "--.- .... -..."


def test_over_the_station_the_needle_is_not_trusted() -> None:
    # ICAO Doc 8168, Volume I: the cone opens 50 degrees from the vertical: 10,000 ft above it is 1.96 NM.
    def in_cone(north_nm: float) -> bool | None:
        place = Position(46.205 + north_nm / 60.0, -39.345)
        return position.solve(place, (QHB,), altitude_ft=10_820.0)[0].in_cone

    assert (in_cone(1.9), in_cone(2.0)) == (True, False)


def test_right_over_the_station_there_is_no_radial() -> None:
    (seen,) = position.solve(Position(46.205, -39.345), (QHB,))
    assert (seen.radial_deg, seen.course_to_deg, seen.distance_nm) == (None, None, 0.0)


@pytest.mark.parametrize(
    ("service", "above_ft", "radius_nm"),
    [
        ("VH", 5000.0, 70.0),  # FAA AIM, table 1-1-1
        ("VH", 14_500.0, 100.0),
        ("VH", 18_000.0, 130.0),
        ("VH", 45_001.0, 100.0),
        ("VL", 4999.0, 40.0),
        ("VL", 5000.0, 70.0),
    ],
)
def test_service_volumes_count_from_the_station(service: str, above_ft: float, radius_nm: float) -> None:
    station = Station("QHB", StationKind.VOR, Position(46.0, -39.0), service=service, elevation_ft=500.0)
    (seen,) = position.solve(Position(46.5, -39.0), (station,), altitude_ft=above_ft + 500.0)
    assert seen.service_nm == radius_nm


def test_stations_without_a_place_are_left_out() -> None:
    chart_only = Station("QCC", StationKind.VOR, declination_deg=-15.0)
    assert len(position.solve(Position(46.0, -39.0), (chart_only, QHB))) == 1
    with pytest.raises(NavlogError, match="no station here has a position"):
        position.solve(Position(46.0, -39.0), (chart_only,))


def test_a_centred_needle_names_the_radial() -> None:
    # FAA commercial item: 035 TO is the 215 radial; FROM it is the course itself.
    assert radial_on_needle(35.0, Flag.TO).radial_deg == 215.0
    assert radial_on_needle(35.0, Flag.FROM).radial_deg == 35.0
    (step,) = needle_workings(radial_on_needle(35.0, Flag.TO))
    assert (step.values, step.result) == ("035 + 180", "215")


@given(st.floats(1, 360), st.floats(1.0, 100.0))
def test_a_fix_has_the_radial_and_distance_that_made_it(radial_deg: float, distance_nm: float) -> None:
    found = solve(read_fix(f"QHB {radial_deg:07.3f} {distance_nm:.3f}nm"), BOTH)
    (seen,) = position.solve(found.position, (QHB,))
    assert seen.radial_deg is not None
    assert abs(difference_deg(seen.radial_deg, round(radial_deg, 3))) < 1e-6
    assert seen.distance_nm == pytest.approx(round(distance_nm, 3), abs=1e-6)


def test_workings_of_fixes_and_bearings() -> None:
    crossing = _workings(solve(read_fix("QHB 160 x QEL 090"), BOTH))
    assert [step.what for step in crossing] == [
        "true bearing from QHB",
        "true bearing from QEL",
        "shift by an error at QHB, along QEL's radial",
        "shift by an error at QEL, along QHB's radial",
        "both errors at their worst",
    ]
    assert (crossing[0].values, crossing[0].result) == ("160 + (-15)", "145.0T")
    by_dme = _workings(solve(read_fix("QHB 084 dme 5 at 6820"), BOTH))
    assert by_dme[1].values == "5.00^2 = 4.90^2 + (6000 ft / 6,076)^2"
    (seen,) = position.solve(Position(46.1, -39.3), (QHB,), altitude_ft=5500.0)
    radial, dme = position.workings(seen)
    assert (radial.what, dme.what) == ("radial of QHB", "DME of QHB")
    assert radial.values.endswith(" - (-15)")


@pytest.mark.parametrize("text", ["QHB 160 x QEL 090", "QHB 190 x QEL 075", "QHB 120 x QEL 060"])
@pytest.mark.parametrize("error_deg", [1.0, 2.0])
def test_crossing_radials_drawn_at_random_scatter_as_far_as_is_told(text: str, error_deg: float) -> None:
    """Both radials are off at random within the error; the fix is found anew on the plane that touches it, within 2 %.

    The farthest of all draws is what both errors at their worst make, the mean square what each alone makes.
    """
    found = solve(read_fix(text), BOTH, bearing_error_deg=error_deg)
    spots, bearings = [], []
    for station in BOTH:
        assert station.position is not None
        here, there = found.position, station.position
        line = Geodesic.WGS84.Inverse(here.latitude_deg, here.longitude_deg, there.latitude_deg, there.longitude_deg)
        azimuth, away_nm = radians(line["azi1"]), line["s12"] / NAUTICAL_MILE_M
        spots.append((away_nm * sin(azimuth), away_nm * cos(azimuth)))
        bearings.append(azimuth + pi)
    chance, moved = Random(8168), []
    for _ in range(20_000):
        first, second = (one + radians(chance.uniform(-error_deg, error_deg)) for one in bearings)
        # Where two lines meet: spot + share x direction of each.
        east, north = spots[1][0] - spots[0][0], spots[1][1] - spots[0][1]
        share = (east * cos(second) - north * sin(second)) / sin(first - second)
        moved.append(hypot(spots[0][0] + share * sin(first), spots[0][1] + share * cos(first)))
    first_nm, second_nm = (line.shift_nm for line in found.lines)
    assert max(moved) == pytest.approx(found.error_nm, rel=0.02)
    mean_square = sum(one * one for one in moved) / len(moved)
    assert sqrt(mean_square) == pytest.approx(sqrt((first_nm**2 + second_nm**2) / 3.0), rel=0.02)


def test_radials_that_need_not_cross_have_no_farthest_error() -> None:
    """An error of half the cut or more lets the two be parallel."""
    found = solve(read_fix("QHB 160 x QEL 090"), BOTH, bearing_error_deg=37.0)
    assert found.error_nm is None
    assert "need not cross" in " ".join(answer(found).lines)
