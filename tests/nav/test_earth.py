"""Geodesics against published lines and against an independent implementation, and where radials meet."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given, settings
from hypothesis import strategies as st

from navlog.nav import earth
from navlog.nav.angles import difference_deg, normalize_deg
from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError

AUTHORITIES = Path(__file__).parents[1] / "authorities"
METRE_NM = 1 / 1852
# Two implementations of the same series: Karney states 15 nanometres for each.
GEODESIC_NM = 1e-7 * METRE_NM
# Positions are checked as a distance; the promise of `crossing`.
FIX_NM = 1e-6
# A few units in the last place of 360.
COURSE_DEG = 1e-11

WGS84 = Geodesic.WGS84
HARBOUR = Position(46.205, -39.345)
ELDON = Position(45.735, -39.55)

latitudes = st.floats(min_value=-90, max_value=90)
longitudes = st.floats(min_value=-180, max_value=180)
positions = st.builds(Position, latitudes, longitudes)
courses = st.floats(min_value=0, max_value=360)
# The first call imports PROJ, which may take longer than one example is given.
patient = settings(deadline=None)


def rows(name: str) -> list[dict[str, str]]:
    with (AUTHORITIES / name).open(encoding="ascii", newline="") as file:
        assert next(file).startswith("# ")
        return list(csv.DictReader(file))


def refusal(first: Position, first_course: float, second: Position, second_course: float) -> str:
    with pytest.raises(NavlogError) as caught:
        earth.crossing(first, first_course, second, second_course)
    (problem,) = caught.value.problems
    assert problem.code == "no-crossing"
    assert problem.hint == "check both radials and which station each belongs to"
    return problem.message


def from_here(position: Position, course_deg: float, distance_nm: float) -> tuple[Position, float]:
    """The independent direct solution: the place, and the course back from it to `position`."""
    line = WGS84.Direct(position.latitude_deg, position.longitude_deg, course_deg, distance_nm * 1852)
    return Position(line["lat2"], line["lon2"]), normalize_deg(line["azi2"] + 180.0)


def apart_nm(a: Position, b: Position) -> float:
    line = WGS84.Inverse(a.latitude_deg, a.longitude_deg, b.latitude_deg, b.longitude_deg)
    return float(line["s12"]) / 1852


@pytest.mark.parametrize("row", rows("karney_geodesics.csv"), ids=lambda row: row["s12"])
def test_the_published_test_set_is_reproduced(row: dict[str, str]) -> None:
    start = Position(float(row["lat1"]), float(row["lon1"]))
    end = Position(float(row["lat2"]), float(row["lon2"]))
    line = earth.inverse(start, end)
    assert line.distance_nm == pytest.approx(float(row["s12"]) / 1852, abs=GEODESIC_NM)
    assert difference_deg(line.course_deg, float(row["azi1"])) == pytest.approx(0.0, abs=COURSE_DEG)
    assert difference_deg(line.end_course_deg, float(row["azi2"])) == pytest.approx(0.0, abs=COURSE_DEG)
    there = earth.direct(start, float(row["azi1"]), float(row["s12"]) / 1852)
    assert apart_nm(there, end) == pytest.approx(0.0, abs=GEODESIC_NM)


@pytest.mark.parametrize(
    ("start", "end", "distance_m", "course_deg", "end_course_deg", "metre", "degree"),
    [
        # Flinders Peak to Buninyong, GRS80 (differs from WGS84 by less than a micrometre here): Geoscience
        # Australia, 54972.271 m, 306 52 05.37 forward, 127 10 25.07 reverse.
        pytest.param(
            Position(-(37 + 57 / 60 + 3.7203 / 3600), 144 + 25 / 60 + 29.5244 / 3600),
            Position(-(37 + 39 / 60 + 10.1561 / 3600), 143 + 55 / 60 + 35.3839 / 3600),
            54972.271,
            306 + 52 / 60 + 5.37 / 3600,
            127 + 10 / 60 + 25.07 / 3600 + 180,
            0.0005,
            0.005 / 3600,
            id="Flinders Peak to Buninyong",
        ),
        # Ordnance Survey's extremes of Great Britain as published with a Vincenty calculator.
        pytest.param(
            Position(50.06632, -5.71475),
            Position(58.64402, -3.07009),
            969954.166,
            9.1419,
            11.2972,
            0.0005,
            0.00005,
            id="Land's End to John o'Groats",
        ),
        # Inputs of GeographicLib's example, JFK to LHR; distance and course computed with GeographicLib.
        pytest.param(
            Position(40.6, -73.8),
            Position(51.6, -0.5),
            5551759.400,
            51.1989,
            None,
            0.0005,
            0.00005,
            id="JFK to LHR",
        ),
        # Vincenty's method fails near the antipodes; this distance is published for Karney's.
        pytest.param(
            Position(0, 0),
            Position(0.5, 179.5),
            19936288.579,
            None,
            None,
            0.0005,
            0.0,
            id="near the antipodes",
        ),
    ],
)
def test_named_lines(
    start: Position,
    end: Position,
    distance_m: float,
    course_deg: float | None,
    end_course_deg: float | None,
    metre: float,
    degree: float,
) -> None:
    """Each to half of the last digit in which it is published."""
    line = earth.inverse(start, end)
    assert line.distance_nm * 1852 == pytest.approx(distance_m, abs=metre)
    if course_deg is not None:
        assert line.course_deg == pytest.approx(course_deg, abs=degree)
    if end_course_deg is not None:
        assert line.end_course_deg == pytest.approx(end_course_deg, abs=degree)


@pytest.mark.parametrize("row", rows("nasr_vor_segments.csv"), ids=lambda row: f"{row['from']}-{row['to']}")
def test_published_airway_courses_are_geodesic_azimuths_less_declination(row: dict[str, str]) -> None:
    start = Position(float(row["from_lat"]), float(row["from_lon"]))
    end = Position(float(row["to_lat"]), float(row["to_lon"]))
    line = earth.inverse(start, end)
    radial = line.course_deg - float(row["from_declination"])
    back = line.end_course_deg + 180.0 - float(row["to_declination"])
    # Half of the last printed digit, and as much again for positions rounded before it was computed. The
    # published distances are 8 parts in 100,000 longer throughout, 0.012 NM on the longest of these.
    printed = 0.01
    assert difference_deg(radial, float(row["mag_course"])) == pytest.approx(0.0, abs=printed)
    assert difference_deg(back, float(row["opp_mag_course"])) == pytest.approx(0.0, abs=printed)
    assert line.distance_nm == pytest.approx(float(row["distance_nm"]), abs=printed, rel=1e-4)


@pytest.mark.parametrize(
    ("latitude_deg", "east_deg", "course_deg", "end_course_deg"),
    [(35, 2, 89.43, 90.57), (45, 2, 89.29, 90.71), (60, 2, 89.13, 90.87), (60, 5, 87.83, 92.17)],
)
def test_meridians_converge_between_the_two_ends(
    latitude_deg: float, east_deg: float, course_deg: float, end_course_deg: float
) -> None:
    # Half of the convergency, east x sin(latitude), at each end.
    line = earth.inverse(Position(latitude_deg, 0), Position(latitude_deg, east_deg))
    assert line.course_deg == pytest.approx(course_deg, abs=0.01)
    assert line.end_course_deg == pytest.approx(end_course_deg, abs=0.01)


def test_convergency_over_18_degrees_at_60_south() -> None:
    # 60S 165W to 60S 177E: great circle and rhumb line differ by 7.8 degrees at departure (navigation exam).
    line = earth.inverse(Position(-60, -165), Position(-60, 177))
    assert difference_deg(270.0, line.course_deg) == pytest.approx(7.8, abs=0.05)


def test_the_date_line_is_no_detour() -> None:
    # One degree of longitude at 52 N is 60 cos 52 = 36.94 NM on a sphere; the ellipsoid is 0.3 % wider there.
    line = earth.inverse(Position(52, 179.5), Position(52, -179.5))
    assert line.distance_nm == pytest.approx(36.94, rel=0.005)
    assert line.course_deg == pytest.approx(90 - 0.5 * 0.788, abs=0.01)  # half the convergency, sin 52 = 0.788
    there = earth.direct(Position(52, 179.5), line.course_deg, line.distance_nm)
    assert there.longitude_deg == pytest.approx(-179.5, abs=1e-9)


def test_an_examination_problem_across_the_date_line() -> None:
    # General navigation exam: from 04-10S 178-22W north 2,950 NM, then west 382 NM along the parallel, to
    # 45N 172-38E. It counts 60 NM to a degree; the ellipsoid's differ from that by 0.5 % at most.
    turning = earth.direct(Position(-(4 + 10 / 60), -(178 + 22 / 60)), 0.0, 2950.0)
    assert turning.latitude_deg == pytest.approx(45.0, abs=0.005 * 2950 / 60)
    west_nm = earth.distance_nm(Position(45.0, -(178 + 22 / 60)), Position(45.0, 172 + 38 / 60))
    assert west_nm == pytest.approx(382.0, rel=0.005)


def test_directions_of_the_four_winds() -> None:
    here = Position(0, 0)
    for course_deg, there in ((0, (1, 0)), (90, (0, 1)), (180, (-1, 0)), (270, (0, -1))):
        assert earth.inverse(here, Position(*there)).course_deg == pytest.approx(course_deg, abs=COURSE_DEG)


@patient
@given(positions, positions)
def test_random_lines_agree_with_an_independent_implementation(start: Position, end: Position) -> None:
    theirs = WGS84.Inverse(start.latitude_deg, start.longitude_deg, end.latitude_deg, end.longitude_deg)
    assert earth.distance_nm(start, end) == pytest.approx(theirs["s12"] / 1852, abs=GEODESIC_NM)


@patient
@given(
    st.builds(Position, st.floats(min_value=-89, max_value=89), longitudes),
    courses,
    st.floats(min_value=0.01, max_value=3000),
)
def test_going_there_and_measuring_it_agree(start: Position, course_deg: float, distance_nm: float) -> None:
    there = earth.direct(start, course_deg, distance_nm)
    theirs, back_deg = from_here(start, course_deg, distance_nm)
    assert apart_nm(there, theirs) == pytest.approx(0.0, abs=GEODESIC_NM)
    line = earth.inverse(start, there)
    assert line.distance_nm == pytest.approx(distance_nm, abs=GEODESIC_NM)
    # A course is only as good as the line is long: 1e-7 m sideways.
    course_error_deg = COURSE_DEG + 57.3 * GEODESIC_NM / distance_nm
    assert difference_deg(line.course_deg, course_deg) == pytest.approx(0.0, abs=course_error_deg)
    if abs(there.latitude_deg) < 89:
        behind = difference_deg(line.end_course_deg + 180.0, back_deg)
        assert behind == pytest.approx(0.0, abs=course_error_deg)


def test_a_point_along_has_its_distances_and_course() -> None:
    line = earth.inverse(HARBOUR, ELDON)
    changeover, course_deg = earth.point_along(HARBOUR, ELDON, 11.0)
    assert apart_nm(HARBOUR, changeover) == pytest.approx(11.0, abs=GEODESIC_NM)
    assert apart_nm(changeover, ELDON) == pytest.approx(line.distance_nm - 11.0, abs=GEODESIC_NM)
    onward = earth.inverse(changeover, ELDON).course_deg
    assert difference_deg(course_deg, onward) == pytest.approx(0.0, abs=1e-9)


def test_two_points_at_one_place_have_a_distance_and_no_course() -> None:
    nearly = Position(46.205, -39.345 + 1e-6)
    assert earth.distance_nm(HARBOUR, HARBOUR) == 0.0
    for other in (HARBOUR, nearly):
        with pytest.raises(NavlogError) as caught:
            earth.inverse(HARBOUR, other)
        (problem,) = caught.value.problems
        assert (problem.code, problem.message, problem.hint) == (
            "coincident-points",
            "two points at the same place have no course between them",
            "leave one of the two out, or correct its position",
        )
    # At the pole every longitude is one place.
    with pytest.raises(NavlogError):
        earth.inverse(Position(90, -97), Position(90, 10))


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), float("-inf")])
def test_what_is_not_a_number_is_a_problem(bad: float) -> None:
    for call in (
        lambda: earth.direct(HARBOUR, bad, 10.0),
        lambda: earth.direct(HARBOUR, 10.0, bad),
        lambda: earth.point_along(HARBOUR, ELDON, bad),
        lambda: earth.crossing(HARBOUR, bad, ELDON, 10.0),
        lambda: earth.crossing(HARBOUR, 10.0, ELDON, bad),
    ):
        with pytest.raises(NavlogError) as caught:
            call()
        (problem,) = caught.value.problems
        assert (problem.code, problem.message) == ("bad-value", "a course or distance is not a finite number")


@pytest.mark.parametrize("middle", [HARBOUR, Position(10, 180), Position(89.9, 20), Position(-89.9, 0), Position(0, 0)])
@pytest.mark.parametrize(("first_nm", "second_nm"), [(30.0, 30.0), (0.5, 200.0), (480.0, 450.0)])
@pytest.mark.parametrize("cut_deg", [2.0, 30.0, 90.0, 150.0, 178.0])
def test_radials_meet_where_they_were_drawn_from(
    middle: Position, first_nm: float, second_nm: float, cut_deg: float
) -> None:
    first, first_course_deg = from_here(middle, 25.0, first_nm)
    second, second_course_deg = from_here(middle, 25.0 + cut_deg, second_nm)
    found = earth.crossing(first, first_course_deg, second, second_course_deg)
    assert apart_nm(found.position, middle) == pytest.approx(0.0, abs=FIX_NM)
    assert found.first_distance_nm == pytest.approx(first_nm, abs=FIX_NM)
    assert found.second_distance_nm == pytest.approx(second_nm, abs=FIX_NM)
    assert found.cut_deg == pytest.approx(min(cut_deg, 180.0 - cut_deg), abs=1e-6)


@patient
@given(
    positions,
    courses,
    st.floats(min_value=1, max_value=179),
    st.floats(min_value=0.1, max_value=499),
    st.floats(min_value=0.1, max_value=499),
)
def test_any_two_radials_meet_within_a_millionth_of_a_mile(
    middle: Position, direction_deg: float, cut_deg: float, first_nm: float, second_nm: float
) -> None:
    first, first_course_deg = from_here(middle, direction_deg, first_nm)
    second, second_course_deg = from_here(middle, direction_deg + cut_deg, second_nm)
    found = earth.crossing(first, first_course_deg, second, second_course_deg)
    assert apart_nm(found.position, middle) == pytest.approx(0.0, abs=FIX_NM)


def test_radials_that_meet_behind_a_station_have_no_crossing() -> None:
    west, east = Position(46, -40), Position(46, -39)
    assert "ahead" in refusal(west, 300.0, east, 300.0 - 40.0)
    assert "behind the first station" in refusal(west, 240.0, east, 20.0)
    assert "behind the second station" in refusal(west, 20.0, east, 240.0 - 100.0)
    diverging = "the two radials diverge: they would meet behind both stations"
    assert refusal(west, 300.0, east, 60.0) == diverging


def test_a_radial_over_the_other_station_does_not_cross_there() -> None:
    west, east = Position(46, -40), Position(46, -39)
    assert "second station" in refusal(west, earth.inverse(west, east).course_deg, east, 10.0)


def test_parallel_and_facing_radials_have_no_crossing() -> None:
    west, east = Position(46, -40), Position(46, -39)
    there = earth.inverse(west, east)
    parallel = "the two radials are parallel"
    assert refusal(west, there.course_deg, east, there.end_course_deg + 180.0) == parallel
    assert refusal(west, there.course_deg, east, there.end_course_deg) == parallel
    assert refusal(Position(0, 0), 0.05, Position(0, 0.1 / 60), 0.0) == parallel


@pytest.mark.parametrize(("cut_deg", "meets"), [(0.105, True), (0.095, False)])
def test_the_smallest_cut_is_a_tenth_of_a_degree(cut_deg: float, meets: bool) -> None:
    first, first_course_deg = from_here(HARBOUR, 25.0, 30.0)
    second, second_course_deg = from_here(HARBOUR, 25.0 + cut_deg, 200.0)
    if meets:
        found = earth.crossing(first, first_course_deg, second, second_course_deg)
        assert found.cut_deg == pytest.approx(cut_deg, abs=1e-6)
    else:
        assert refusal(first, first_course_deg, second, second_course_deg) == "the two radials are parallel"


def test_radials_that_meet_beyond_500_nm_have_no_crossing() -> None:
    middle = Position(30, -40)
    for first_nm, second_nm in ((501.0, 100.0), (100.0, 501.0), (1900.0, 1900.0), (4000.0, 4100.0)):
        first, first_course_deg = from_here(middle, 25.0, first_nm)
        second, second_course_deg = from_here(middle, 75.0, second_nm)
        assert "500 NM" in refusal(first, first_course_deg, second, second_course_deg)


def test_two_radials_of_one_station_have_no_crossing() -> None:
    assert refusal(HARBOUR, 10.0, HARBOUR, 100.0) == "both radials start from the same place"


def test_a_wrong_declination_moves_a_fix() -> None:
    # 3 degrees of declination at 40 NM: the chord 2 x 40 x sin 1.5 = 2.094 NM.
    moved = apart_nm(earth.direct(HARBOUR, 84.0, 40.0), earth.direct(HARBOUR, 87.0, 40.0))
    assert moved == pytest.approx(2.094, abs=0.001)
