"""Speeds with a digit too many, and levels and patterns with one too few."""

from __future__ import annotations

import pytest
from helpers.judged import found

from navlog.rules.samples import FLOWN_BY_FILE


@pytest.mark.parametrize(
    ("statements", "told"),
    [
        (("route XHAR QHB V801 QEL/N0090A055 XOLD",), None),
        (("route XHAR QHB V801 QEL/N0220A055 XOLD",), None),
        (
            ("route XHAR QHB V801 QEL/N0900A055 XOLD",),
            "warning: 900 kt, where the flight's own is 110 kt",
        ),
        (("route XHAR QHB V801 QEL/N0054A055 XOLD",), "warning: 54 kt, where the flight's own is 110 kt"),
        # The standard atmosphere's density ratio at 4500 ft is 0.8747 (ICAO Doc 7488): 250 kt are 267 true there, less
        # 1 for compressibility, and in air 30 degrees warmer the square root of 309.2 / 279.2 times as much, 280.
        (("tas 280kt",), None),
        (
            ("tas 999kt",),
            "warning: 999 kt at 4500 ft: 250 knots indicated, the most below 10,000 ft, are 280 kt in warm air",
        ),
        (("tas 999kt", "altitude 10500", "route XHAR QHB V801 QEL XOLD"), None),
    ],
)
def test_a_speed_with_a_digit_too_many_is_asked_about(statements: tuple[str, ...], told: str | None) -> None:
    assert set(found("airspeed-doubtful", *statements)) == (set() if told is None else {told})


def test_the_book_speed_is_the_flights_own_where_no_other_is_stated() -> None:
    # The climber's cruise is 110 kt.
    (told,) = found("airspeed-doubtful", *FLOWN_BY_FILE, "route XHAR QHB V801 QEL/N0900A055 XOLD")
    assert told == "warning: 900 kt, where the flight's own is 110 kt"


@pytest.mark.parametrize(
    ("statements", "told"),
    [
        # 14 CFR 91.119(c): 500 ft above the surface; XHAR lies at 790 ft, QHB at 820.
        (("altitude 1320", "route XHAR QHB"), []),
        (("altitude 1319", "route XHAR QHB"), ["warning: 1319 ft is only 499 ft above QHB, elevation 820 ft"]),
        (
            ("airport XHAR N46 14.50 W039 07.20 elev 4490ft", "route XHAR QHB"),
            ["warning: 4500 ft is only 10 ft above XHAR, elevation 4490 ft"],
        ),
    ],
)
def test_a_level_near_the_ground_of_its_own_leg_is_told(statements: tuple[str, ...], told: list[str]) -> None:
    assert found("level-near-ground", "-airway V801", "-direct QEL", *statements) == told


@pytest.mark.parametrize(
    ("pattern", "told"),
    [
        # XOLD lies at 350 ft; AIM 4-3-3 recommends 1,000 ft above the field.
        ("1350ft", []),
        ("850ft", []),
        ("849ft", ["warning: the pattern at 849 ft is only 499 ft above XOLD, elevation 350 ft"]),
        ("360ft", ["warning: the pattern at 360 ft is only 10 ft above XOLD, elevation 350 ft"]),
        ("350ft", []),
        ("300ft", ["warning: the pattern at 300 ft is below XOLD, elevation 350 ft"]),
    ],
)
def test_a_pattern_just_above_the_field_is_told(pattern: str, told: list[str]) -> None:
    assert found("pattern-low", f"pattern {pattern}") == told


def test_a_descent_is_not_missed_where_the_cruise_is_below_the_pattern() -> None:
    # 3990 ft would be the pattern: no wind is the reason that none is flown from 3000.
    high = "airport XOLD N45 41.00 W039 20.00 elev 2990ft"
    level = "route XHAR QHB V801 QEL XOLD"
    told = found("climb-left-out", *FLOWN_BY_FILE, high, level, "altitude 3000")
    assert not [one for one in told if "too low for the wind" in one]


@pytest.mark.parametrize(("ceiling", "told"), [("2000", 1), ("4500", 0)])
def test_a_ceiling_below_the_flights_own_level_is_told(ceiling: str, told: int) -> None:
    some = found("stated-unused", f"ceiling {ceiling}")
    assert some == ["warning: the ceiling of 2000 ft is below the level of 4500 ft; only comparisons heed it"][:told]
