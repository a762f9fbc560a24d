"""A vector triangle of two sides that each lack one number, solved from the third side.

For the wind triangle: air - wind from - ground = 0. Plane vectors, directions clockwise from north.
"""

from __future__ import annotations

from math import acos, atan2, degrees, hypot, sqrt

from msgspec import Struct

from navlog.nav.angles import normalize_deg, sin_cos_deg
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.record import changed

_NOTHING = 1e-9


class Side(Struct, frozen=True):
    """A side of the triangle: air - wind from - ground = 0, with `sign` for its place in that sum."""

    name: str
    sign: float
    direction_deg: float | None
    speed_kt: float | None


def solve_sides(known: Side, first: Side, second: Side) -> list[tuple[Side, Side]]:
    """The sides `first` and `second` completed, each lacking a direction or a speed: none, one or two pairs.

    Law of cosines, or two lines that cross. Raises an `undetermined` problem where any value fits.
    """
    target = _scaled(-known.sign, _vector(known))
    if first.direction_deg is None and second.direction_deg is None:
        return _two_directions(target, first, second)
    if first.direction_deg is None:
        return _direction_and_speed(target, first, second)
    if second.direction_deg is None:
        return [(one, other) for other, one in _direction_and_speed(target, second, first)]
    along = _scaled(first.sign, _unit(first))
    across = _scaled(second.sign, _unit(second))
    area = along[0] * across[1] - along[1] * across[0]
    if abs(area) < _NOTHING:
        raise _undetermined()
    speeds = (
        (target[0] * across[1] - target[1] * across[0]) / area,
        (along[0] * target[1] - along[1] * target[0]) / area,
    )
    return [(changed(first, speed_kt=speeds[0]), changed(second, speed_kt=speeds[1]))]


def _direction_and_speed(target: tuple[float, float], turning: Side, growing: Side) -> list[tuple[Side, Side]]:
    """The direction of a side of known speed, and the speed of a side of known direction."""
    along = _scaled(growing.sign, _unit(growing))
    length = number(turning.speed_kt)
    ahead = along[0] * target[0] + along[1] * target[1]
    across = along[0] * target[1] - along[1] * target[0]
    if abs(across) > length + _NOTHING:
        return []
    # At a right angle the two meet in one point, and rounding may put it just out of reach.
    reach = sqrt(max(0.0, (length - across) * (length + across)))
    solved = []
    for speed_kt in dict.fromkeys((ahead + reach, ahead - reach)):
        if speed_kt < -_NOTHING:
            continue
        rest = (target[0] - speed_kt * along[0], target[1] - speed_kt * along[1])
        direction_deg = _bearing(_scaled(turning.sign, rest))
        pair = changed(turning, direction_deg=direction_deg), changed(growing, speed_kt=max(speed_kt, 0.0))
        solved.append(pair)
    return solved


def _two_directions(target: tuple[float, float], first: Side, second: Side) -> list[tuple[Side, Side]]:
    """The directions of two sides of known speed: two mirrored triangles over the third side."""
    base = hypot(*target)
    one, other = number(first.speed_kt), number(second.speed_kt)
    if base < _NOTHING or one < _NOTHING:
        raise _undetermined()
    cosine = (base * base + one * one - other * other) / (2.0 * base * one)
    if abs(cosine) > 1.0 + _NOTHING:
        return []
    angle_deg = degrees(acos(max(-1.0, min(1.0, cosine))))
    solved = []
    for turn_deg in dict.fromkeys((angle_deg, -angle_deg)):
        sine, cosine = sin_cos_deg(_bearing(target) + turn_deg)
        rest = (target[0] - one * sine, target[1] - one * cosine)
        solved.append(
            (
                changed(first, direction_deg=_bearing(_scaled(first.sign, (one * sine, one * cosine)))),
                changed(second, direction_deg=_bearing(_scaled(second.sign, rest))),
            )
        )
    return solved


def number(value: float | None) -> float:
    """A number of a side that is known to be complete."""
    assert value is not None
    return value


def _unit(side: Side) -> tuple[float, float]:
    return sin_cos_deg(number(side.direction_deg))


def _vector(side: Side) -> tuple[float, float]:
    return _scaled(number(side.speed_kt), _unit(side))


def _scaled(factor: float, vector: tuple[float, float]) -> tuple[float, float]:
    return factor * vector[0], factor * vector[1]


def _bearing(vector: tuple[float, float]) -> float:
    return normalize_deg(degrees(atan2(*vector)))


def _undetermined() -> NavlogError:
    return problem_error(
        "undetermined", "any answer would fit these numbers", hint="give the other numbers of the triangle"
    )
