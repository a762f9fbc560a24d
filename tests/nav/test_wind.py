"""The wind triangle against published problems, at its limits, and winds mixed as vectors."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from navlog.nav.angles import difference_deg
from navlog.nav.problems import NavlogError
from navlog.nav.wind import (
    CALM,
    Triangle,
    Wind,
    WindColumn,
    WindLevel,
    added,
    at_height,
    mix,
    track_from_heading,
    triangle,
    wind_from_track,
)

# Published answers are whole knots and degrees.
WHOLE = 0.5
# The same figures worked out to the second decimal outside the project.
HUNDREDTH = 0.005
# Trigonometry of speeds up to some hundred knots in doubles.
ROUNDING = 1e-9
STANDING_KT = 1e-3  # a groundspeed under this is standing still

directions = st.floats(min_value=0, max_value=360)
speeds = st.floats(min_value=0, max_value=150)
winds = st.builds(Wind, directions, speeds)


def flown(course_deg: float, tas_kt: float, from_deg: float, speed_kt: float) -> tuple[float, float, float]:
    """Correction, heading and groundspeed of a triangle that can be flown."""
    solved = triangle(true_course_deg=course_deg, tas_kt=tas_kt, wind=Wind(from_deg, speed_kt))
    assert solved.unflyable is None
    assert solved.wind_correction_deg is not None
    assert solved.true_heading_deg is not None
    assert solved.groundspeed_kt is not None
    return solved.wind_correction_deg, solved.true_heading_deg, solved.groundspeed_kt


def refused(call: Callable[[], object]) -> tuple[str, str, str | None]:
    """Code, message and hint of the one problem raised."""
    with pytest.raises(NavlogError) as caught:
        call()
    (problem,) = caught.value.problems
    return problem.code, problem.message, problem.hint


@pytest.mark.parametrize(
    ("course_deg", "tas_kt", "from_deg", "speed_kt", "heading_deg", "groundspeed_kt"),
    [
        # PHAK chapter 15, dead reckoning: groundspeed 88 published, heading 076 from memory of the same page.
        pytest.param(90, 120, 45, 40, 76, 88, id="PHAK"),
        # PHAK's Chickasha to Guthrie: inputs published, answers from memory.
        pytest.param(31, 115, 0, 10, 28, 106, id="PHAK Chickasha-Guthrie"),
        # EASA question bank, general navigation, as reproduced: TT 180, TAS 180, W/V 100/18.
        pytest.param(180, 180, 100, 18, 174, 176, id="EASA 100/18"),
        # The same: course 045 M, variation 15 E, so 060 true, W/V 190/30, TAS 130; heading 055 M is 070 true.
        pytest.param(60, 130, 190, 30, 70, 147, id="EASA FL55"),
    ],
)
def test_published_headings_and_groundspeeds(
    course_deg: float,
    tas_kt: float,
    from_deg: float,
    speed_kt: float,
    heading_deg: float,
    groundspeed_kt: float,
) -> None:
    _, heading, groundspeed = flown(course_deg, tas_kt, from_deg, speed_kt)
    assert heading == pytest.approx(heading_deg, abs=WHOLE)
    assert groundspeed == pytest.approx(groundspeed_kt, abs=WHOLE)


@pytest.mark.parametrize(
    ("course_deg", "tas_kt", "from_deg", "speed_kt", "correction_deg", "groundspeed_kt"),
    [
        # asin(40 sin(-45) / 120) = -13.63; 120 cos 13.63 - 40 cos 45 = 88.33
        (90, 120, 45, 40, -13.63, 88.33),
        (31, 115, 0, 10, -2.57, 106.31),
        (180, 180, 100, 18, -5.65, 176.00),
        # asin(12 sin(55) / 110) = 5.13; 110 cos 5.13 - 12 cos 55 = 102.68
        (0, 110, 55, 12, 5.13, 102.68),
    ],
)
def test_the_same_worked_to_two_decimals(
    course_deg: float,
    tas_kt: float,
    from_deg: float,
    speed_kt: float,
    correction_deg: float,
    groundspeed_kt: float,
) -> None:
    correction, _, groundspeed = flown(course_deg, tas_kt, from_deg, speed_kt)
    assert correction == pytest.approx(correction_deg, abs=HUNDREDTH)
    assert groundspeed == pytest.approx(groundspeed_kt, abs=HUNDREDTH)


def test_examination_problems_with_time_and_fuel() -> None:
    # FAA commercial: wind 175/20, 135 NM, course 075, TAS 80, 105 lb/h: 1 h 40 min, 175 lb (TAS from memory).
    _, _, groundspeed = flown(75, 80, 175, 20)
    assert 135 / groundspeed * 60 == pytest.approx(100, abs=WHOLE)
    assert 135 / groundspeed * 105 == pytest.approx(175, abs=WHOLE)
    # FAA commercial: descend 6,500 to 1,500 ft at 500 ft/min; TAS 110, course 335, wind 060/15,
    # variation 3 W, deviation +2: 10 min, compass heading 348, 18 NM.
    _, heading, groundspeed = flown(335, 110, 60, 15)
    assert heading + 3 + 2 == pytest.approx(348, abs=WHOLE)
    assert groundspeed * 10 / 60 == pytest.approx(18, abs=WHOLE)
    # FAA instrument: VOR radial course 151, variation 14 E, wind 230/08 true, TAS 175, 75 NM; 24:00 min flown
    # and 18:30 min of approach at 17.5 gal an hour: 20 of the choices 17, 20, 25 gal.
    _, _, groundspeed = flown(165, 175, 230, 8)
    assert (24 + 75 / groundspeed * 60 + 18.5) / 60 * 17.5 == pytest.approx(20, abs=WHOLE)
    # US Navy P-305, chapter 5, question 6: wind 190/25, TAS 170, magnetic course 126, variation 2 W; the page
    # read has no answer, 158.3 is worked out outside the project.
    assert flown(124, 170, 190, 25)[2] == pytest.approx(158.3, abs=0.05)


def test_a_wind_from_the_right_is_corrected_to_the_right() -> None:
    solved = triangle(true_course_deg=0, tas_kt=100, wind=Wind(90, 20))
    assert solved.crosswind_kt == 20
    assert solved.headwind_kt == 0
    assert solved.wind_correction_deg == pytest.approx(math.degrees(math.asin(0.2)), abs=ROUNDING)
    # Flight computer instruction sheet, example 15: course 236, correction +8 (from the right): heading 244.
    ahead = triangle(true_course_deg=236, tas_kt=100, wind=Wind(326, 100 * math.sin(math.radians(8))))
    assert ahead.true_heading_deg == pytest.approx(244, abs=ROUNDING)


def test_calm_has_no_direction() -> None:
    assert Wind(270, 0) == CALM == Wind(0, 0)
    assert flown(123, 80, 270, 0) == (0, 123, 80)


def test_north_is_one_direction() -> None:
    assert Wind(360, 10) == Wind(0, 10)
    assert flown(360, 100, 360, 10) == (0, 0, 90)


@pytest.mark.parametrize(
    ("course_deg", "tas_kt", "wind", "why"),
    [
        (0, 80, Wind(90, 90), "crosswind of 90 kt is more than the TAS of 80 kt"),
        (0, 80, Wind(0, 100), "headwind of 100 kt leaves no groundspeed"),
        (0, 80, Wind(45, 100), "headwind of 71 kt leaves no groundspeed"),
        (0, 80, Wind(0, 80), "leaves no groundspeed"),
        (60, 80, Wind(60, 80), "leaves no groundspeed"),
        (0, 80, Wind(90, 80), "crosswind of 80 kt leaves no groundspeed"),
    ],
)
def test_what_cannot_be_flown_says_why_and_has_no_numbers(
    course_deg: float, tas_kt: float, wind: Wind, why: str
) -> None:
    solved = triangle(true_course_deg=course_deg, tas_kt=tas_kt, wind=wind)
    assert solved.unflyable is not None
    assert why in solved.unflyable
    assert solved.wind_correction_deg is solved.true_heading_deg is solved.groundspeed_kt is None


def test_a_wind_above_the_airspeed_can_be_flown_from_behind() -> None:
    # TAS 80, wind 135/100, course 360: correction +62, groundspeed 108.
    correction, _, groundspeed = flown(0, 80, 135, 100)
    assert correction == pytest.approx(62, abs=WHOLE)
    assert groundspeed == pytest.approx(108, abs=WHOLE)


def test_a_groundspeed_of_one_knot_is_still_flown() -> None:
    # TAS 80 against 79 kt: 30 NM take 30 h.
    assert flown(0, 80, 0, 79)[2] == pytest.approx(1, abs=ROUNDING)


def test_out_and_back_costs_more_than_still_air() -> None:
    # 100 NM each way, TAS 100, 30 kt along the track: 85.7 + 46.2 = 131.9 min, not 120.
    minutes = sum(100 / flown(course, 100, 0, 30)[2] * 60 for course in (0, 180))
    assert minutes == pytest.approx(131.9, abs=0.05)


@pytest.mark.parametrize("tas_kt", [0.0, -80.0, float("nan"), float("inf")])
def test_an_airspeed_that_is_none_is_a_problem(tas_kt: float) -> None:
    problem = refused(lambda: triangle(true_course_deg=0, tas_kt=tas_kt, wind=CALM))
    assert problem == ("bad-value", "a wind triangle needs a course and a true airspeed above 0 kt", None)


@pytest.mark.parametrize(("from_deg", "speed_kt"), [(0, -1), (float("nan"), 5), (0, float("inf"))])
def test_a_wind_without_sense_is_a_problem(from_deg: float, speed_kt: float) -> None:
    problem = refused(lambda: Wind(from_deg, speed_kt))
    assert problem == ("bad-value", "a wind needs a direction and a speed of 0 kt or more", None)


def test_published_winds_from_track_and_groundspeed() -> None:
    # Flight computer instruction sheet, example 16: course 094, heading 104, TAS 165, groundspeed 146:
    # wind 154 at 34, read off a plotter; 154.07 at 33.06 exactly.
    found = wind_from_track(true_heading_deg=104, tas_kt=165, true_track_deg=94, groundspeed_kt=146)
    assert found.from_true_deg == pytest.approx(154, abs=WHOLE)
    assert found.speed_kt == pytest.approx(34, abs=1)
    assert found.speed_kt == pytest.approx(33.06, abs=HUNDREDTH)
    # CNATRA P-203, lesson 4.6: flown 045 at 220 kt on heading 052 at TAS 250; computed 092.3 at 41.5.
    found = wind_from_track(true_heading_deg=52, tas_kt=250, true_track_deg=45, groundspeed_kt=220)
    assert found.from_true_deg == pytest.approx(92.3, abs=0.05)
    assert found.speed_kt == pytest.approx(41.5, abs=0.05)


def test_no_drift_and_no_loss_is_calm() -> None:
    assert wind_from_track(true_heading_deg=77, tas_kt=97, true_track_deg=77, groundspeed_kt=97) == CALM


def test_a_published_track_from_heading() -> None:
    # EASA question bank, as reproduced: heading 254, TAS 163, W/V 130/30: track 262, groundspeed 182 (261.88
    # and 181.49 exactly, so the printed groundspeed is rounded up by a hair).
    track, groundspeed = track_from_heading(true_heading_deg=254, tas_kt=163, wind=Wind(130, 30))
    assert track == pytest.approx(262, abs=WHOLE)
    assert groundspeed == pytest.approx(181.49, abs=HUNDREDTH)


def test_an_aeroplane_held_still_has_no_track() -> None:
    assert refused(lambda: track_from_heading(true_heading_deg=30, tas_kt=60, wind=Wind(30, 60))) == (
        "no-track",
        "the wind holds the aeroplane still, so it has no track",
        "check wind and airspeed",
    )


@given(directions, st.floats(min_value=60, max_value=200), winds)
def test_the_triangle_closes(course_deg: float, tas_kt: float, wind: Wind) -> None:
    solved = triangle(true_course_deg=course_deg, tas_kt=tas_kt, wind=wind)
    assume(solved.groundspeed_kt is not None and solved.groundspeed_kt > 1)
    assert solved.true_heading_deg is not None
    assert solved.groundspeed_kt is not None
    track, groundspeed = track_from_heading(true_heading_deg=solved.true_heading_deg, tas_kt=tas_kt, wind=wind)
    # Near a correction of 90 degrees the arcsine costs half of the digits.
    assert groundspeed == pytest.approx(solved.groundspeed_kt, abs=1e-5)
    assert difference_deg(track, course_deg) == pytest.approx(0, abs=1e-5)
    found = wind_from_track(
        true_heading_deg=solved.true_heading_deg,
        tas_kt=tas_kt,
        true_track_deg=course_deg,
        groundspeed_kt=solved.groundspeed_kt,
    )
    assert found.speed_kt == pytest.approx(wind.speed_kt, abs=1e-5)


@given(directions, st.floats(min_value=1, max_value=200), winds)
def test_flyable_exactly_by_crosswind_and_groundspeed(course_deg: float, tas_kt: float, wind: Wind) -> None:
    solved: Triangle = triangle(true_course_deg=course_deg, tas_kt=tas_kt, wind=wind)
    across = wind.speed_kt * math.sin(math.radians(wind.from_true_deg - course_deg))
    against = wind.speed_kt * math.cos(math.radians(wind.from_true_deg - course_deg))
    assume(not math.isclose(abs(across), tas_kt, rel_tol=1e-9))
    along = math.sqrt(tas_kt**2 - across**2) - against if abs(across) < tas_kt else -math.inf
    assume(abs(along - STANDING_KT) > ROUNDING)
    assert (solved.unflyable is None) == (along > STANDING_KT)


def test_winds_either_side_of_north_mix_to_north() -> None:
    # 350/20 and 010/30: adding degrees and halving would give 180; as vectors 002/24.6.
    mixed = mix(((Wind(350, 20), 1.0), (Wind(10, 30), 1.0)))
    assert mixed.from_true_deg == pytest.approx(2.02, abs=HUNDREDTH)
    assert mixed.speed_kt == pytest.approx(24.64, abs=HUNDREDTH)


def test_winds_add_as_vectors() -> None:
    # 3 from the north and 4 from the east: 5 from atan2(4, 3), 53.13 degrees.
    total = added(Wind(0, 3), Wind(90, 4))
    assert total.from_true_deg == pytest.approx(53.13, abs=HUNDREDTH)
    assert total.speed_kt == pytest.approx(5)


def test_opposite_winds_mix_to_calm() -> None:
    assert mix(((Wind(90, 20), 2.0), (Wind(270, 20), 2.0))) == CALM


@given(st.lists(st.tuples(winds, st.floats(min_value=0.1, max_value=10)), min_size=1, max_size=5))
def test_a_mixture_is_no_stronger_than_its_strongest(parts: list[tuple[Wind, float]]) -> None:
    assert mix(parts).speed_kt <= max(wind.speed_kt for wind, _ in parts) + ROUNDING


@pytest.mark.parametrize(
    ("height_ft", "warmer_c"), [(3000, 5), (4500, 3.5), (6000, 2), (7500, 0.5), (9000, -1), (12000, -1)]
)
def test_the_temperature_goes_by_the_levels_that_have_one(height_ft: float, warmer_c: float) -> None:
    # ICAO Doc 7488: 15 C less 1.9812 C a thousand feet. 5 C warmer than that at 3,000 ft, 1 C colder at 9,000; the
    # level between has a wind alone.
    column = WindColumn(
        (
            WindLevel(3000, Wind(230, 12), 15 - 3 * 1.9812 + 5),
            WindLevel(6000, Wind(240, 18)),
            WindLevel(9000, Wind(250, 25), 15 - 9 * 1.9812 - 1),
        )
    )
    assert at_height(column, height_ft).temperature_c == pytest.approx(15 - height_ft / 1000 * 1.9812 + warmer_c)
