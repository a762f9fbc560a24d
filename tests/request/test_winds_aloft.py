"""Winds aloft by height and by place: between levels, beyond them, and between columns."""

from __future__ import annotations

import pytest

from navlog.nav import earth
from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError
from navlog.nav.wind import (
    CALM,
    Wind,
    WindColumn,
    WindLevel,
    at_height,
    at_place,
    columns_around,
    levels_around,
)

# Trigonometry of speeds up to some hundred knots in doubles.
ROUNDING = 1e-9

HARBOUR = Position(46.205, -39.345)

# The winds of the example: 3000 230/12, 6000 240/18 +4C.
EXAMPLE = WindColumn((WindLevel(6000, Wind(240, 18), 4.0), WindLevel(3000, Wind(230, 12))))


def test_half_way_in_height_is_the_mean_vector() -> None:
    # log.md's worked leg, computed outside the project: at 4,500 ft 236.002 / 14.945.
    aloft = at_height(EXAMPLE, 4500)
    assert aloft.wind.from_true_deg == pytest.approx(236.002, abs=0.0005)
    assert aloft.wind.speed_kt == pytest.approx(14.945, abs=0.0005)
    assert aloft.beyond_ft == 0


@pytest.mark.parametrize(
    ("height_ft", "wind", "beyond_ft"),
    [
        (3000, Wind(230, 12), 0),
        (6000, Wind(240, 18), 0),
        (500, Wind(230, 12), 2500),
        (9500, Wind(240, 18), 3500),
    ],
)
def test_outside_its_heights_the_nearest_level_holds(height_ft: float, wind: Wind, beyond_ft: float) -> None:
    aloft = at_height(EXAMPLE, height_ft)
    assert aloft.wind == wind
    assert aloft.beyond_ft == beyond_ft


def test_temperature_goes_by_the_levels_that_have_one() -> None:
    column = WindColumn(
        (
            WindLevel(3000, Wind(200, 10)),
            WindLevel(6000, Wind(200, 10), 10.0),
            WindLevel(9000, Wind(200, 10), 4.0),
        )
    )
    assert at_height(column, 7500).temperature_c == pytest.approx(7.0, abs=ROUNDING)
    # Beyond the levels the standard lapse of 0.0065 K/m (ICAO Doc 7488), 1.9812 C in 1,000 ft, goes on.
    assert at_height(column, 4000).temperature_c == pytest.approx(10.0 + 2 * 1.9812, abs=ROUNDING)
    assert at_height(column, 12000).temperature_c == pytest.approx(4.0 - 3 * 1.9812, abs=ROUNDING)
    assert at_height(WindColumn((WindLevel(3000, CALM),)), 3000).temperature_c is None


@pytest.mark.parametrize("levels", [(), (WindLevel(3000, CALM), WindLevel(3000, Wind(90, 5)))])
def test_a_column_needs_winds_at_heights_of_their_own(levels: tuple[WindLevel, ...]) -> None:
    with pytest.raises(NavlogError) as caught:
        WindColumn(levels)
    (problem,) = caught.value.problems
    assert (problem.code, problem.message) == (
        "bad-wind",
        "winds need one wind or more, each at a height of its own",
    )


def test_at_a_level_it_counts_alone() -> None:
    low, middle, high = levels = tuple(WindLevel(height, Wind(height / 100, 10)) for height in (3000, 6000, 9000))
    assert levels_around(levels, 2000) == levels_around(levels, 3000) == (low, low, 0.0)
    assert levels_around(levels, 6000) == (middle, high, 0.0)
    assert levels_around(levels, 7500) == (middle, high, 0.5)
    assert levels_around(levels, 9000) == levels_around(levels, 9500) == (high, high, 0.0)


def test_a_temperature_of_zero_is_a_temperature() -> None:
    assert at_height(WindColumn((WindLevel(6000, CALM, 0.0),)), 6000).temperature_c == pytest.approx(0.0, abs=ROUNDING)


def column_at(position: Position | None, wind: Wind, temperature_c: float | None = None) -> WindColumn:
    return WindColumn((WindLevel(3000, wind, temperature_c),), position)


def test_a_column_without_a_place_holds_everywhere() -> None:
    column = column_at(None, Wind(200, 10))
    assert at_place((column,), HARBOUR, 3000).wind == Wind(200, 10)
    assert at_place((column,), None, 3000).wind == Wind(200, 10)
    # Where a wind is given for a place, it goes before the one for everywhere.
    placed = column_at(earth.direct(HARBOUR, 90, 40), Wind(300, 30))
    assert at_place((column, placed), HARBOUR, 3000).wind == Wind(300, 30)
    assert at_place((column, placed), None, 3000).wind == Wind(200, 10)


def test_no_column_that_holds_is_an_error() -> None:
    with pytest.raises(ValueError, match=r"^no wind column holds here$"):
        at_place((column_at(HARBOUR, CALM),), None, 3000)


def test_at_a_columns_own_place_it_holds_alone() -> None:
    columns = (
        column_at(HARBOUR, Wind(200, 10), 5.0),
        column_at(earth.direct(HARBOUR, 90, 20), Wind(300, 40), 9.0),
    )
    aloft = at_place(columns, HARBOUR, 3000)
    assert (aloft.wind, aloft.temperature_c, aloft.beyond_ft) == (Wind(200, 10), 5.0, 0.0)


def test_nearer_columns_count_by_the_square_of_their_distance() -> None:
    # 10 NM and 20 NM away: weights 4 to 1, so (4 x 10 + 30) / 5 = 14 kt and (4 x 5 + 10) / 5 = 6 degrees C.
    columns = (
        column_at(earth.direct(HARBOUR, 270, 10), Wind(200, 10), 5.0),
        column_at(earth.direct(HARBOUR, 45, 20), Wind(200, 30), 10.0),
    )
    aloft = at_place(columns, HARBOUR, 4000)
    assert aloft.wind.speed_kt == pytest.approx(14, abs=ROUNDING)
    assert aloft.temperature_c == pytest.approx(6 - 1.9812, abs=ROUNDING)
    assert aloft.beyond_ft == 1000


def test_only_the_three_nearest_columns_count() -> None:
    near = [column_at(earth.direct(HARBOUR, course, 10), Wind(90, 20)) for course in (0, 120, 240)]
    far = column_at(earth.direct(HARBOUR, 0, 11), Wind(270, 100))
    aloft = at_place((far, *near), HARBOUR, 3000)
    assert aloft.wind.from_true_deg == pytest.approx(90, abs=ROUNDING)
    assert aloft.wind.speed_kt == pytest.approx(20, abs=ROUNDING)


def test_a_temperature_that_one_column_lacks_comes_from_the_others() -> None:
    columns = (
        column_at(earth.direct(HARBOUR, 270, 10), Wind(200, 10)),
        column_at(earth.direct(HARBOUR, 90, 10), Wind(200, 10), 8.0),
    )
    assert at_place(columns, HARBOUR, 3000).temperature_c == pytest.approx(8.0, abs=ROUNDING)


def test_columns_without_temperatures_give_none() -> None:
    columns = tuple(column_at(earth.direct(HARBOUR, course, 10), CALM) for course in (90, 270))
    assert at_place(columns, HARBOUR, 3000).temperature_c is None


def test_weights_are_inverse_squares_and_one_column_counts_whole() -> None:
    everywhere, here = column_at(None, CALM), column_at(HARBOUR, CALM)
    near, far = (column_at(earth.direct(HARBOUR, 90, distance), CALM) for distance in (10, 20))
    assert columns_around((everywhere,), HARBOUR) == ((everywhere, 1.0),)
    assert columns_around((far, here), HARBOUR) == ((here, 1.0),)
    assert columns_around((far,), HARBOUR) == ((far, 1.0),)
    first, second = columns_around((far, near), HARBOUR)
    assert (first[0], second[0]) == (near, far)
    assert first[1] == pytest.approx(1 / 100)
    assert second[1] == pytest.approx(1 / 400)


def test_a_far_column_counts_for_heights_by_its_weight_alone() -> None:
    # 1 NM and 10 NM away: weights 100 to 1. The near one has winds on both sides of 8000 ft, the far one is 4900 off.
    near = WindColumn((WindLevel(6000, Wind(200, 10)), WindLevel(9000, Wind(200, 10))), earth.direct(HARBOUR, 270, 1))
    far = WindColumn((WindLevel(12900, Wind(200, 10)),), earth.direct(HARBOUR, 90, 10))
    assert at_place((near, far), HARBOUR, 8000).beyond_ft == pytest.approx(4900 / 101, abs=1.0)
