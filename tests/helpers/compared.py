"""A computation beside an independent way to its numbers, on random input: the largest difference of each.

A comparison draws its input and yields the difference of each of its numbers by name. The suite draws a few
inputs, the same every time; `NAVLOG_DRAWS=10000 pytest tests/numbers` draws more and prints the largest
differences.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping
from math import cos, radians, sin
from random import Random
from typing import Any

from geographiclib.geodesic import Geodesic
from mpmath import MPContext

from navlog.nav.chart import Position

Difference = tuple[str, float]
Comparison = Callable[[Random], Iterator[Difference]]

GIVEN_DRAWS = os.environ.get("NAVLOG_DRAWS")
DRAWS = int(GIVEN_DRAWS or 20)
M_PER_NM = 1852.0
LARGEST: dict[str, float] = {}
"""The largest difference of each number in this run, by comparison and name."""

# Forty digits, so that its own rounding plays no part beside a double's sixteen.
mp = MPContext()
mp.dps = 40


def check(comparison: Comparison, tolerances: Mapping[str, float], *, times: int = 1) -> None:
    """Every number that the comparison yields stays within its tolerance, and each of them came up.

    A comparison that costs little is drawn `times` as often.
    """
    random = Random(comparison.__name__)
    largest: dict[str, float] = {}
    for _ in range(times * DRAWS):
        for name, difference in comparison(random):
            # The other way round, so that not-a-number counts as large.
            if not abs(difference) <= largest.get(name, -1.0):
                largest[name] = abs(float(difference))
    LARGEST.update({f"{comparison.__name__.removeprefix('of_')}: {name}": most for name, most in largest.items()})
    assert largest.keys() == tolerances.keys()
    over = {name: most for name, most in largest.items() if not most <= tolerances[name]}
    assert not over, f"over the tolerance: {over}"


def between(one_deg: Any, other_deg: Any) -> float:
    """The signed angle between two directions; exact for fractions, 40 digits for mpmath's numbers."""
    return float((one_deg - other_deg + 180) % 360 - 180)


def vector(direction_deg: float, length: float) -> Any:
    """East and north as the two parts of a complex number, to 40 digits."""
    angle = mp.mpf(direction_deg) * mp.pi / 180
    return mp.mpf(length) * mp.mpc(mp.sin(angle), mp.cos(angle))


def direction_deg(east_north: Any) -> Any:
    """The direction of such a vector."""
    return mp.atan2(east_north.real, east_north.imag) * 180 / mp.pi


def random_position(random: Random, *, highest_deg: float = 85.0) -> Position:
    """A place, as likely in any part of the earth up to a latitude."""
    return Position(random.uniform(-highest_deg, highest_deg), random.uniform(-180.0, 180.0))


def line(start: Position, end: Position) -> tuple[float, float, float]:
    """NM, course at the start and at the end, by GeographicLib."""
    found = Geodesic.WGS84.Inverse(start.latitude_deg, start.longitude_deg, end.latitude_deg, end.longitude_deg)
    return found["s12"] / M_PER_NM, found["azi1"], found["azi2"]


def there(start: Position, course_deg: float, distance_nm: float) -> Position:
    """The end of a geodesic, by GeographicLib."""
    found = Geodesic.WGS84.Direct(start.latitude_deg, start.longitude_deg, course_deg, distance_nm * M_PER_NM)
    return Position(found["lat2"], found["lon2"])


def offset(direction: float, length: float) -> tuple[float, float]:
    """East and north in doubles, for flights in small steps."""
    return length * sin(radians(direction)), length * cos(radians(direction))
