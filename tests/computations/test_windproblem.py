"""The wind triangle against published answers, and for every pair of unknowns against itself."""

from __future__ import annotations

from itertools import combinations
from math import hypot

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from navlog.computations.windproblem import Given, _WindAnswer, _workings, solve
from navlog.nav.angles import difference_deg, sin_cos_deg
from navlog.nav.norths import Direction
from navlog.nav.problems import NavlogError
from navlog.nav.record import changed as replace

# A flight computer is read to half a degree and half a knot.
HALF = 0.5


def true(angle_deg: float) -> Direction:
    return Direction(angle_deg, magnetic=False)


def magnetic(angle_deg: float) -> Direction:
    return Direction(angle_deg, magnetic=True)


def only(known: Given) -> _WindAnswer:
    (answer,) = solve(known)
    return answer


@pytest.mark.parametrize(
    ("known", "heading_deg", "groundspeed_kt"),
    [
        # FAA PHAK, chapter on navigation, figure 15-21: 88 kt; heading 076 from memory.
        (Given(course=true(90), tas_kt=120, wind_from=true(45), wind_speed_kt=40), 76.4, 88.3),
        # The same chapter, Chickasha to Guthrie; course and answers from memory.
        (Given(course=true(31), tas_kt=115, wind_from=true(360), wind_speed_kt=10), 28.4, 106.3),
        # EASA question bank, general navigation: heading 174, groundspeed 176.
        (Given(course=true(180), tas_kt=180, wind_from=true(100), wind_speed_kt=18), 174.35, 176.0),
        # FAA commercial knowledge test: course 075, wind 175/20, TAS 80, groundspeed 81.
        (Given(course=true(75), tas_kt=80, wind_from=true(175), wind_speed_kt=20), 89.3, 81.0),
    ],
)
def test_heading_and_groundspeed_as_published(known: Given, heading_deg: float, groundspeed_kt: float) -> None:
    answer = only(known)
    assert answer.true_heading_deg == pytest.approx(heading_deg, abs=HALF)
    assert answer.groundspeed_kt == pytest.approx(groundspeed_kt, abs=HALF)
    assert answer.found == ("heading", "groundspeed")


def test_magnetic_course_with_a_true_wind_as_published() -> None:
    # EASA question bank: course 045 M, variation 15 E, wind 190 T/30, TAS 130: heading 055 M, GS 147.
    answer = only(Given(course=magnetic(45), tas_kt=130, wind_from=true(190), wind_speed_kt=30, variation_deg=15.0))
    assert answer.magnetic_heading_deg == pytest.approx(55.2, abs=HALF)
    assert answer.groundspeed_kt == pytest.approx(147.4, abs=HALF)


def test_radial_course_of_the_instrument_test() -> None:
    # FAA instrument Q47: radial course 151, variation 14 E, wind 230T/08, TAS 175: GS 171.5 (computed).
    answer = only(Given(course=magnetic(151), tas_kt=175, wind_from=true(230), wind_speed_kt=8, variation_deg=14.0))
    assert answer.groundspeed_kt == pytest.approx(171.5, abs=0.1)
    assert answer.wind_correction_deg == pytest.approx(2.4, abs=0.1)


def test_west_variation_is_added_going_to_magnetic() -> None:
    # US Navy P-305, question 6: course 126 M, variation 2 W is 124 T; correction 7.7 R, GS 158.3 (computed).
    answer = only(Given(course=magnetic(126), tas_kt=170, wind_from=true(190), wind_speed_kt=25, variation_deg=-2.0))
    assert answer.true_course_deg == pytest.approx(124.0)
    assert answer.wind_correction_deg == pytest.approx(7.7, abs=0.1)
    assert answer.groundspeed_kt == pytest.approx(158.3, abs=0.1)
    assert answer.magnetic_heading_deg == pytest.approx(answer.true_heading_deg + 2.0)


def test_track_and_groundspeed_as_published() -> None:
    # EASA question bank: heading 254, TAS 163, wind 130/30: track 262, groundspeed 182.
    answer = only(Given(heading=true(254), tas_kt=163, wind_from=true(130), wind_speed_kt=30))
    assert answer.true_course_deg == pytest.approx(262.0, abs=HALF)
    assert answer.groundspeed_kt == pytest.approx(182.0, abs=1.0)


@pytest.mark.parametrize(
    ("known", "from_deg", "speed_kt"),
    [
        # Flight-computer instruction sheet, example 16 (a plotter reading): 154 at 34; exact 154.07 / 33.06.
        (Given(course=true(94), groundspeed_kt=146, heading=true(104), tas_kt=165), 154.07, 33.06),
        # CNATRA P-203, figure 4.6-2, the wind computed: flown 092.3 / 41.5, planned 302.8 / 14.1.
        (Given(course=true(45), groundspeed_kt=220, heading=true(52), tas_kt=250), 92.3, 41.5),
        (Given(course=true(55), groundspeed_kt=255, heading=true(52), tas_kt=250), 302.8, 14.1),
    ],
)
def test_wind_from_track_and_heading_as_published(known: Given, from_deg: float, speed_kt: float) -> None:
    answer = only(known)
    assert answer.wind_from_true_deg == pytest.approx(from_deg, abs=0.1)
    assert answer.wind_speed_kt == pytest.approx(speed_kt, abs=0.1)
    assert answer.found == ("wind direction", "wind speed")


def test_airspeed_and_heading_for_a_groundspeed() -> None:
    # The first triangle above, asked the other way round.
    answer = only(Given(course=true(90), groundspeed_kt=88.33, wind_from=true(45), wind_speed_kt=40))
    assert answer.tas_kt == pytest.approx(120.0, abs=0.01)
    assert answer.true_heading_deg == pytest.approx(76.37, abs=0.01)


def test_a_wind_stronger_than_the_airspeed_may_be_flown() -> None:
    # TAS 80, wind 135/100, course 360: correction 62 right, groundspeed 108 (computed).
    answer = only(Given(course=true(360), tas_kt=80, wind_from=true(135), wind_speed_kt=100))
    assert answer.wind_correction_deg == pytest.approx(62.1, abs=0.1)
    assert answer.groundspeed_kt == pytest.approx(108.1, abs=0.1)


def test_calm_needs_no_correction() -> None:
    answer = only(Given(course=true(33), tas_kt=100, wind_from=true(360), wind_speed_kt=0))
    assert (answer.wind_correction_deg, answer.groundspeed_kt) == (0.0, 100.0)


@pytest.mark.parametrize(
    ("wind_from_deg", "wind_speed_kt", "why"),
    [
        (90.0, 90.0, "the crosswind of 90 kt is more than the TAS of 80 kt"),
        (360.0, 100.0, "the headwind of 100 kt leaves no groundspeed at a TAS of 80 kt"),
        (45.0, 100.0, "the headwind of 71 kt leaves no groundspeed at a TAS of 80 kt"),
    ],
)
def test_an_impossible_triangle_says_why(wind_from_deg: float, wind_speed_kt: float, why: str) -> None:
    known = Given(course=true(360), tas_kt=80, wind_from=true(wind_from_deg), wind_speed_kt=wind_speed_kt)
    with pytest.raises(NavlogError, match="impossible-triangle") as caught:
        solve(known)
    assert caught.value.problems[0].message == why


@pytest.mark.parametrize(
    ("known", "code"),
    [
        (Given(), "wrong-number"),
        (Given(course=true(90), tas_kt=100), "wrong-number"),
        (
            Given(true(90), 90.0, true(90), 100.0, true(90), 10.0),
            "wrong-number",
        ),
        (Given(course=true(90), tas_kt=0, wind_from=true(45), wind_speed_kt=4), "bad-value"),
        (Given(course=true(90), groundspeed_kt=0, heading=true(90), tas_kt=90), "bad-value"),
        (Given(course=magnetic(90), tas_kt=90, wind_from=true(45), wind_speed_kt=4), "no-variation"),
        # Two directions, and a wind too weak to join 100 and 200 kt.
        (
            Given(groundspeed_kt=200, tas_kt=100, wind_from=true(45), wind_speed_kt=4),
            "impossible-triangle",
        ),
        # Everything along one line: any pair of speeds would do.
        (Given(course=true(90), heading=true(90), wind_from=true(90), wind_speed_kt=4), "undetermined"),
        (Given(groundspeed_kt=90, tas_kt=90, wind_from=true(45), wind_speed_kt=0), "undetermined"),
    ],
)
def test_what_cannot_be_solved_is_refused(known: Given, code: str) -> None:
    with pytest.raises(NavlogError, match=code):
        solve(known)


NAMES = ("course", "groundspeed_kt", "heading", "tas_kt", "wind_from", "wind_speed_kt")
DIRECTIONS = st.integers(0, 359).map(float)


@pytest.mark.parametrize("unknown", list(combinations(NAMES, 2)), ids="-".join)
@given(
    heading_deg=DIRECTIONS,
    tas_kt=st.integers(60, 300),
    from_deg=DIRECTIONS,
    wind_kt=st.integers(3, 55),
)
def test_any_two_unknowns_come_back(
    unknown: tuple[str, str], heading_deg: float, tas_kt: int, from_deg: float, wind_kt: int
) -> None:
    sine, cosine = sin_cos_deg(heading_deg - from_deg)
    # Where air and wind lie along one line, two speeds or directions cannot be told apart.
    assume(abs(sine) > 0.1)
    whole = only(
        Given(heading=true(heading_deg), tas_kt=tas_kt, wind_from=true(from_deg), wind_speed_kt=float(wind_kt))
    )
    assert whole.groundspeed_kt == pytest.approx(hypot(tas_kt - wind_kt * cosine, wind_kt * sine))
    everything = Given(
        course=true(whole.true_course_deg),
        groundspeed_kt=whole.groundspeed_kt,
        heading=true(heading_deg),
        tas_kt=tas_kt,
        wind_from=true(from_deg),
        wind_speed_kt=wind_kt,
    )
    answers = solve(replace(everything, **dict.fromkeys(unknown)))
    assert 1 <= len(answers) <= 2
    assert any(same(answer, whole) for answer in answers)


def same(one: _WindAnswer, other: _WindAnswer) -> bool:
    turns = (
        difference_deg(one.true_course_deg, other.true_course_deg),
        difference_deg(one.true_heading_deg, other.true_heading_deg),
        difference_deg(one.wind_from_true_deg, other.wind_from_true_deg),
        one.groundspeed_kt - other.groundspeed_kt,
        one.tas_kt - other.tas_kt,
        one.wind_speed_kt - other.wind_speed_kt,
    )
    return all(abs(turn) < 1e-4 for turn in turns)


def test_workings_write_the_triangle_on_the_board() -> None:
    answer = only(Given(course=true(90), tas_kt=120, wind_from=true(45), wind_speed_kt=40, variation_deg=7.0))
    steps = {step.what: step for step in _workings(answer)}
    assert steps["wind correction"].values == "-28.3 / 120"
    assert steps["wind correction"].result == "14L"
    assert steps["magnetic heading"].values == "076 - (+7)"
    assert steps["magnetic heading"].result == "069M"
    assert all(step.source for step in steps.values())
