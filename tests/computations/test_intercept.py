"""Intercepts against the plane geometry of station, aeroplane and meeting point; needles against the handbook."""

from __future__ import annotations

import re
from math import atan2, cos, degrees, hypot, radians, sin

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from navlog.computations import needle
from navlog.computations.intercept import (
    Way,
    _workings,
    radial_of_course,
    solve,
)
from navlog.nav.angles import difference_deg
from navlog.nav.guidance import Flag
from navlog.nav.problems import NavlogError
from navlog.nav.units import FEET_PER_NM

WHOLE_RADIALS = st.integers(1, 360).map(float)


def flown(radial_deg: float, distance_nm: float, heading_deg: float, flown_nm: float) -> tuple[float, float]:
    """Radial and distance after flying straight, in the plane."""
    east = distance_nm * sin(radians(radial_deg)) + flown_nm * sin(radians(heading_deg))
    north = distance_nm * cos(radians(radial_deg)) + flown_nm * cos(radians(heading_deg))
    return degrees(atan2(east, north)), hypot(east, north)


@given(
    present=WHOLE_RADIALS,
    radial=WHOLE_RADIALS,
    way=st.sampled_from(Way),
    angle_deg=st.integers(5, 90),
    distance_nm=st.integers(2, 60),
)
def test_flying_the_heading_meets_the_radial(
    present: float, radial: float, way: Way, angle_deg: int, distance_nm: int
) -> None:
    try:
        found = solve(
            present_radial_deg=present,
            radial_deg=radial,
            way=way,
            angle_deg=float(angle_deg),
            distance_nm=float(distance_nm),
        )
    except NavlogError:
        assume(False)
    assert found.to_radial_nm is not None
    assert found.meeting_nm is not None
    met_deg, met_nm = flown(present, distance_nm, found.heading_deg, found.to_radial_nm)
    assert met_nm == pytest.approx(found.meeting_nm, abs=1e-6)
    assert abs(difference_deg(met_deg, radial)) < 1e-6
    if found.angle_deg:
        assert abs(difference_deg(found.heading_deg, found.set_course_deg)) == pytest.approx(angle_deg)


@given(present=WHOLE_RADIALS, off_deg=st.integers(1, 89), angle_deg=st.integers(1, 90), distance=st.integers(1, 60))
def test_inbound_is_refused_exactly_where_the_radial_is_not_met_a_mile_out(
    present: float, off_deg: int, angle_deg: int, distance: int
) -> None:
    met_nm = distance * sin(radians(angle_deg - off_deg)) / sin(radians(angle_deg))
    works = angle_deg > off_deg and met_nm >= 1.0
    assume(abs(met_nm - 1.0) > 1e-6)
    question = {
        "present_radial_deg": present,
        "radial_deg": (present + off_deg) % 360.0,
        "angle_deg": float(angle_deg),
        "distance_nm": float(distance),
    }
    if works:
        assert solve(**question, way=Way.INBOUND).meeting_nm == pytest.approx(met_nm)
        return
    with pytest.raises(NavlogError, match="no-intercept") as caught:
        solve(**question, way=Way.INBOUND)
    hint = caught.value.problems[0].hint or ""
    assert "direct to the station" in hint
    if hint.startswith("an angle of "):
        least_deg = float(hint.split()[3])
        assert solve(**{**question, "angle_deg": least_deg}, way=Way.INBOUND).meeting_nm is not None
        with pytest.raises(NavlogError):
            solve(**{**question, "angle_deg": least_deg - 1.0}, way=Way.INBOUND)


def test_inbound_from_the_south_west() -> None:
    # On R-215 at 20 NM, R-230 inbound at 45: 20 sin 30 / sin 45 = 14.1 NM from the station, after 7.3 NM.
    found = solve(
        present_radial_deg=215.0,
        radial_deg=230.0,
        way=Way.INBOUND,
        angle_deg=45.0,
        heading_deg=310.0,
        distance_nm=20.0,
        groundspeed_kt=110.0,
    )
    assert (found.set_course_deg, found.flag) == (50.0, Flag.TO)
    assert (found.heading_deg, found.turn_deg) == (5.0, 55.0)
    assert found.meeting_nm == pytest.approx(14.14, abs=0.01)
    assert found.to_radial_nm == pytest.approx(7.32, abs=0.01)
    assert found.time_min == pytest.approx(7.32 / 110.0 * 60.0, abs=0.01)


def test_outbound_turns_toward_the_radial() -> None:
    # On outbound at 45: heading 075, met at 20 sin 75 / sin 45 = 27.3 NM.
    found = solve(present_radial_deg=360.0, radial_deg=30.0, way=Way.OUTBOUND, angle_deg=45.0, distance_nm=20.0)
    assert (found.heading_deg, found.flag, found.needle) == (75.0, Flag.FROM, "right")
    assert found.meeting_nm == pytest.approx(27.32, abs=0.01)


@pytest.mark.parametrize(("off_deg", "angle_deg"), [(4.0, 20.0), (10.0, 20.0), (15.0, 30.0), (30.0, 45.0)])
def test_the_angle_is_twice_the_degrees_off_from_20_to_45(off_deg: float, angle_deg: float) -> None:
    found = solve(present_radial_deg=100.0, radial_deg=100.0 + off_deg, way=Way.OUTBOUND)
    assert found.angle_deg == angle_deg


@pytest.mark.parametrize(
    ("present", "way", "needle"),
    [
        (190.0, Way.INBOUND, "right"),  # west of the 180 radial, facing 360: the line is to the right
        (170.0, Way.INBOUND, "left"),
        (190.0, Way.OUTBOUND, "left"),  # facing 180, west is to the right: the line is to the left
        (170.0, Way.OUTBOUND, "right"),
    ],
)
def test_the_needle_points_to_the_radial(present: float, way: Way, needle: str) -> None:
    found = solve(present_radial_deg=present, radial_deg=180.0, way=way)
    assert found.needle == needle
    assert found.needle_dots == pytest.approx(5.0)


def test_on_the_radial_there_is_nothing_to_intercept() -> None:
    found = solve(present_radial_deg=40.0, radial_deg=40.0, way=Way.INBOUND, distance_nm=12.0, groundspeed_kt=90.0)
    assert (found.heading_deg, found.angle_deg, found.needle) == (220.0, 0.0, "centred")
    assert (found.to_radial_nm, found.time_min, found.meeting_nm) == (0.0, 0.0, 12.0)


def test_a_selector_180_out_is_named() -> None:
    # FAA commercial item: tracking in on the 215 radial, 035 is set; 215 would be reverse sensing.
    question = {"present_radial_deg": 210.0, "radial_deg": 215.0}
    assert solve(**question, way=Way.INBOUND, selector_deg=35.0).reverse_sensing is False
    assert solve(**question, way=Way.INBOUND, selector_deg=215.0).reverse_sensing is True
    assert solve(**question, way=Way.INBOUND).reverse_sensing is False


def test_the_flag_changes_abeam_the_station() -> None:
    def flag(present: float) -> Flag | None:
        return solve(present_radial_deg=present, radial_deg=90.0, way=Way.OUTBOUND, angle_deg=30.0).flag_now

    assert flag(20.0) is Flag.FROM
    assert flag(360.0) is None
    assert flag(330.0) is Flag.TO


@pytest.mark.parametrize(
    ("question", "message", "hint"),
    [
        (
            {"present_radial_deg": 215.0, "radial_deg": 260.0, "way": Way.INBOUND},
            "at 45 degrees the radial, 45 degrees away, is not met before the station",
            "an angle of 46 degrees or more works; or go direct to the station: course 035 TO",
        ),
        (
            # cot A = (cos 40 - 1 / 6) / sin 40, so A is 47.0 or more: 48 in whole degrees.
            {
                "present_radial_deg": 90.0,
                "radial_deg": 130.0,
                "way": Way.INBOUND,
                "angle_deg": 42.0,
                "distance_nm": 6.0,
            },
            "the radial is met 0.3 NM from the station, nearer than 1 NM",
            "an angle of 48 degrees or more works; or go direct to the station: course 270 TO",
        ),
        (
            {"present_radial_deg": 360.0, "radial_deg": 120.0, "way": Way.INBOUND, "angle_deg": 90.0},
            "at 90 degrees the radial, 120 degrees away, is not met before the station",
            "go direct to the station: course 180 TO",
        ),
        (
            {"present_radial_deg": 360.0, "radial_deg": 140.0, "way": Way.OUTBOUND, "angle_deg": 40.0},
            "at 40 degrees the radial, 140 degrees away, is never met",
            "an angle under 40 degrees works; or fly to the station first: course 180 TO",
        ),
        (
            {"present_radial_deg": 10.0, "radial_deg": 190.0, "way": Way.OUTBOUND},
            "at 45 degrees the radial, 180 degrees away, is never met",
            "fly to the station first: course 190 TO",
        ),
    ],
)
def test_a_radial_that_is_not_met_is_refused_with_a_way_out(
    question: dict[str, float], message: str, hint: str
) -> None:
    with pytest.raises(NavlogError) as caught:
        solve(**question)  # type: ignore[arg-type]
    (problem,) = caught.value.problems
    assert (problem.code, problem.message, problem.hint) == ("no-intercept", message, hint)


@pytest.mark.parametrize(
    "wrong", [{"angle_deg": 0.0}, {"angle_deg": 91.0}, {"groundspeed_kt": 0.0}, {"distance_nm": 0.0}]
)
def test_bad_input_is_a_problem(wrong: dict[str, float]) -> None:
    with pytest.raises(NavlogError):
        solve(present_radial_deg=10.0, radial_deg=20.0, way=Way.OUTBOUND, **wrong)


def test_a_dot_is_200_feet_a_mile() -> None:
    # The rule of the knowledge tests; exact for 2 degrees is 212.1 ft.
    shown = needle.from_deflection(needle.read_deflection_deg("1dot"), 1.0)
    assert shown.off_nm * FEET_PER_NM == pytest.approx(212.1, abs=0.1)


def test_a_fifth_of_the_scale_at_60_miles_is_two_miles() -> None:
    # FAA commercial item: one-fifth deflection (2 degrees) at 60 NM is about 2 NM.
    assert needle.from_deflection(2.0, 60.0).off_nm == pytest.approx(2.0, abs=0.1)


def test_five_miles_at_a_hundred_is_a_dot_and_a_half() -> None:
    # An instructor's answer by the 200 ft rule: 1.5 dots; exact 1.43.
    shown = needle.from_offset(5.0, 100.0)
    assert shown.dots == pytest.approx(1.5, abs=0.1)
    assert shown.full_scale is False
    assert needle.from_offset(20.0, 100.0).full_scale is True


@given(st.floats(0.1, 44.9), st.floats(0.5, 130.0))
def test_deflection_and_distance_off_are_inverse(deflection_deg: float, distance_nm: float) -> None:
    there = needle.from_deflection(deflection_deg, distance_nm)
    back = needle.from_offset(there.off_nm, distance_nm)
    assert back.deflection_deg == pytest.approx(deflection_deg)


def test_nobody_is_farther_off_a_radial_than_from_its_station() -> None:
    with pytest.raises(NavlogError, match="30 NM from a station is 50 NM off"):
        needle.from_offset(50.0, 30.0)


def test_needles_are_refused_at_the_station_and_beyond_90() -> None:
    with pytest.raises(NavlogError, match="the distance is zero"):
        needle.from_offset(1.0, 0.0)
    with pytest.raises(NavlogError, match="never 90 degrees off"):
        needle.from_deflection(90.0, 10.0)


def test_a_course_names_its_radial() -> None:
    assert radial_of_course(35.0, Way.INBOUND) == 215.0
    assert radial_of_course(35.0, Way.OUTBOUND) == 35.0


def test_workings_put_the_numbers_in() -> None:
    found = solve(
        present_radial_deg=215.0,
        radial_deg=230.0,
        way=Way.INBOUND,
        angle_deg=45.0,
        distance_nm=20.0,
        groundspeed_kt=110.0,
    )
    steps = {step.what: (step.values, step.result) for step in _workings(found)}
    assert steps == {
        "degrees between the radials (D)": ("230 - 215", "15"),
        "course to set": ("230 + 180", "050 TO"),
        "intercept heading": ("050 - 45", "005"),
        "met at, from the station": ("20 x sin(45 - 15) / sin(45)", "14.1 NM"),
        "distance to the radial": ("20 x sin(15) / sin(45)", "7.3 NM"),
        "time to the radial": ("7.3 NM / 110 kt", "4.0 min"),
    }
    assert [step.result for step in needle.workings(needle.from_deflection(4.0, 30.0))] == [
        "2.0 dots",
        "2.10 NM",
    ]


@given(present=st.integers(1, 360), off=st.integers(1, 179), distance=st.integers(1, 400))
def test_an_angle_that_a_hint_names_is_accepted(present: int, off: int, distance: int) -> None:
    given_flight = {
        "present_radial_deg": float(present),
        "radial_deg": float((present + off - 1) % 360 + 1),
        "way": Way.INBOUND,
        "distance_nm": distance / 10.0,
    }
    try:
        solve(**given_flight)  # type: ignore[arg-type]
    except NavlogError as error:
        hint = error.problems[0].hint or ""
        named = re.search(r"an angle of (\d+) degrees", hint)
        if named is not None:
            assert solve(**given_flight, angle_deg=float(named[1])).meeting_nm >= 1.0 - 1e-6  # type: ignore[arg-type, operator]


def test_the_least_angle_of_90_degrees_works() -> None:
    # d sin(A - D) / sin A = 2 sin 30 = 1 NM: met just where it may be.
    met = solve(present_radial_deg=1.0, radial_deg=61.0, way=Way.INBOUND, distance_nm=2.0, angle_deg=90.0)
    assert met.meeting_nm == pytest.approx(1.0)
