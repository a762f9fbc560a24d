"""The wind triangle, solved exactly for whatever is unknown, and the wind at a height and a place.

Directions are degrees true, and a wind's is where it blows from; speeds are knots, heights feet. A crosswind
from the right, and a correction to the right, are positive. Winds add, mix and interpolate as vectors.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise
from math import acos, asin, atan2, degrees, hypot, isfinite, sqrt

from msgspec import Struct
from msgspec.structs import force_setattr

from navlog.nav import earth
from navlog.nav.angles import normalize_deg, sin_cos_deg
from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.record import changed

# Below this a speed is the rounding of a difference, and its direction means nothing.
_NOTHING_KT = 1e-9
# The sides of a triangle are told apart down to this, in knots and, of unit vectors, in their area.
_ROUNDING = 1e-9
# A groundspeed under this covers 24 NM in a thousand days, and its digits are those of rounding.
_STANDING_KT = 1e-3
NEAREST_COLUMNS = 3
"""How many of the columns around a place count there."""


class Wind(Struct, frozen=True):
    """A wind by the direction it blows from, kept in [0, 360), and its speed; `Wind(0, 0)` is calm."""

    from_true_deg: float
    speed_kt: float

    def __post_init__(self) -> None:
        if not (isfinite(self.from_true_deg) and isfinite(self.speed_kt) and self.speed_kt >= 0.0):
            raise problem_error("bad-value", "a wind needs a direction and a speed of 0 kt or more")
        # Calm has no direction: equal calms must be equal records, whatever was typed before 0 kt.
        direction_deg = normalize_deg(self.from_true_deg) if self.speed_kt else 0.0
        force_setattr(self, "from_true_deg", direction_deg)


CALM = Wind(0.0, 0.0)


class Triangle(Struct, frozen=True):
    """Course, airspeed and wind, with the heading and groundspeed that follow from them.

    Where no heading holds the course, or the wind carries the aeroplane back, `unflyable` says why, and
    correction, heading and groundspeed are None.
    """

    true_course_deg: float
    tas_kt: float
    wind: Wind
    crosswind_kt: float
    headwind_kt: float
    wind_correction_deg: float | None
    true_heading_deg: float | None
    groundspeed_kt: float | None
    unflyable: str | None = None


class WindLevel(Struct, frozen=True):
    """Wind and, where known, temperature at one height."""

    height_ft: float
    wind: Wind
    temperature_c: float | None = None


class WindColumn(Struct, frozen=True, cache_hash=True):
    """The winds over one place, or without a position everywhere; levels are kept lowest first."""

    levels: tuple[WindLevel, ...]
    position: Position | None = None
    name: str | None = None

    def __post_init__(self) -> None:
        levels = tuple(sorted(self.levels, key=lambda level: level.height_ft))
        heights = {level.height_ft for level in levels}
        if not levels or len(heights) != len(levels) or not all(map(isfinite, heights)):
            raise problem_error("bad-wind", "winds need one wind or more, each at a height of its own")
        force_setattr(self, "levels", levels)


class _Aloft(Struct, frozen=True):
    """Wind and temperature at a height; `beyond_ft` is how far that lies outside the heights given."""

    wind: Wind
    temperature_c: float | None
    beyond_ft: float


def triangle(*, true_course_deg: float, tas_kt: float, wind: Wind) -> Triangle:
    """The heading that holds a course, and the groundspeed, from true airspeed and wind.

    The sine of the correction is crosswind / TAS, and the groundspeed is TAS x cos(correction) less the
    headwind. It can be flown when the crosswind is no more than the TAS and the groundspeed is above 0,
    that is 0.001 kt or more. Raises a `bad-value` problem for a TAS that is not above 0.
    """
    if not (isfinite(true_course_deg) and isfinite(tas_kt) and tas_kt > 0.0):
        raise problem_error("bad-value", "a wind triangle needs a course and a true airspeed above 0 kt")
    sine, cosine = sin_cos_deg(wind.from_true_deg - true_course_deg)
    crosswind_kt, headwind_kt = wind.speed_kt * sine, wind.speed_kt * cosine
    course_deg = normalize_deg(true_course_deg)
    # The sine of the correction would be over 1: the aeroplane drifts off whatever it heads.
    if abs(crosswind_kt) > tas_kt:
        why = f"the crosswind of {abs(crosswind_kt):.0f} kt is more than the TAS of {tas_kt:.0f} kt"
        return Triangle(course_deg, tas_kt, wind, crosswind_kt, headwind_kt, None, None, None, why)
    # TAS x cos(correction), in a form that keeps its digits when the crosswind nearly equals the TAS.
    ahead_kt = sqrt((tas_kt - crosswind_kt) * (tas_kt + crosswind_kt))
    if ahead_kt - headwind_kt < _STANDING_KT:
        # A crosswind as strong as the TAS leaves nothing for going ahead, without any headwind.
        blows = "headwind" if headwind_kt >= 0.5 else "crosswind"
        worth_kt = headwind_kt if headwind_kt >= 0.5 else abs(crosswind_kt)
        why = f"the {blows} of {worth_kt:.0f} kt leaves no groundspeed at a TAS of {tas_kt:.0f} kt"
        return Triangle(course_deg, tas_kt, wind, crosswind_kt, headwind_kt, None, None, None, why)
    correction_deg = degrees(asin(crosswind_kt / tas_kt))
    heading_deg = normalize_deg(true_course_deg + correction_deg)
    groundspeed_kt = ahead_kt - headwind_kt
    return Triangle(course_deg, tas_kt, wind, crosswind_kt, headwind_kt, correction_deg, heading_deg, groundspeed_kt)


def wind_from_track(*, true_heading_deg: float, tas_kt: float, true_track_deg: float, groundspeed_kt: float) -> Wind:
    """The wind that explains a track and groundspeed made good on a heading and true airspeed."""
    air_east, air_north = _vector(true_heading_deg, tas_kt)
    ground_east, ground_north = _vector(true_track_deg, groundspeed_kt)
    return _wind(air_east - ground_east, air_north - ground_north)


def track_from_heading(*, true_heading_deg: float, tas_kt: float, wind: Wind) -> tuple[float, float]:
    """The track made good, in degrees true, and the groundspeed on a heading in a wind.

    Raises a `no-track` problem where the wind holds the aeroplane still.
    """
    air_east, air_north = _vector(true_heading_deg, tas_kt)
    from_east, from_north = _vector(wind.from_true_deg, wind.speed_kt)
    east, north = air_east - from_east, air_north - from_north
    groundspeed_kt = hypot(east, north)
    if not groundspeed_kt >= _NOTHING_KT:
        raise problem_error(
            "no-track",
            "the wind holds the aeroplane still, so it has no track",
            hint="check wind and airspeed",
        )
    return normalize_deg(degrees(atan2(east, north))), groundspeed_kt


def mix(winds_with_weights: Iterable[tuple[Wind, float]]) -> Wind:
    """The weighted mean of winds as vectors; the weights are positive and need not add up to 1."""
    east = north = total = 0.0
    for wind, weight in winds_with_weights:
        wind_east, wind_north = _vector(wind.from_true_deg, wind.speed_kt)
        east += weight * wind_east
        north += weight * wind_north
        total += weight
    return _wind(east / total, north / total)


def added(wind: Wind, more: Wind) -> Wind:
    """The sum of two winds as vectors."""
    east, north = (
        one + other
        for one, other in zip(
            _vector(wind.from_true_deg, wind.speed_kt), _vector(more.from_true_deg, more.speed_kt), strict=True
        )
    )
    return _wind(east, north)


@lru_cache(maxsize=4_096)
def at_height(column: WindColumn, height_ft: float) -> _Aloft:
    """Wind and temperature at a height, linear between the levels next to it, the wind as a vector.

    Below the lowest and above the highest level that one holds. The temperature goes by the levels that have
    one: its difference from the standard atmosphere is linear between them and held beyond them.
    """
    levels = column.levels
    beyond_ft = max(levels[0].height_ft - height_ft, height_ft - levels[-1].height_ft, 0.0)
    below, above, share = levels_around(levels, height_ft)
    # At a level itself its wind as forecast, not what is left of it after two turns through vectors.
    wind = below.wind if share == 0.0 else mix(((below.wind, 1.0 - share), (above.wind, share)))
    measured = [level for level in levels if level.temperature_c is not None]
    temperature_c = None
    if measured:
        from navlog.nav.atmosphere import standard_temperature_c

        below, above, share = levels_around(measured, height_ft)
        # Differences from the standard, not temperatures: these fall with height, and beyond the levels go on to do so.
        low_c, high_c = (
            (level.temperature_c or 0.0) - standard_temperature_c(level.height_ft) for level in (below, above)
        )
        temperature_c = standard_temperature_c(height_ft) + low_c + share * (high_c - low_c)
    return _Aloft(wind, temperature_c, beyond_ft)


def at_place(columns: Sequence[WindColumn], position: Position | None, height_ft: float) -> _Aloft:
    """Wind and temperature at a place and height, from the columns around it.

    The three nearest columns count, each by the inverse square of its distance; at a column's own place it
    counts alone (common practice, no source). A column without a position holds everywhere, and is used where
    there is no other or `position` is unknown. `beyond_ft` is the mean of the columns used, by the same weights.
    Raises `ValueError` where no column can be used.
    """
    if len(columns) == 1 and columns[0].position is None:
        return at_height(columns[0], height_ft)
    used = [(at_height(column, height_ft), weight) for column, weight in columns_around(columns, position)]
    if len(used) == 1:
        return used[0][0]
    measured = [(aloft.temperature_c, weight) for aloft, weight in used if aloft.temperature_c is not None]
    temperature_c = None
    if measured:
        total = sum(weight for _, weight in measured)
        temperature_c = sum(degrees_c * weight for degrees_c, weight in measured) / total
    return _Aloft(
        mix((aloft.wind, weight) for aloft, weight in used),
        temperature_c,
        sum(aloft.beyond_ft * weight for aloft, weight in used) / sum(weight for _, weight in used),
    )


def columns_around(columns: Sequence[WindColumn], position: Position | None) -> tuple[tuple[WindColumn, float], ...]:
    """The columns that count at a place, each with its weight, as `at_place` mixes them; the nearest first.

    Raises `ValueError` where no column can be used.
    """
    placed = [(column, column.position) for column in columns if column.position is not None]
    if position is None or not placed:
        everywhere = next((column for column in columns if column.position is None), None)
        if everywhere is None:
            raise ValueError("no wind column holds here")
        return ((everywhere, 1.0),)
    distances = [(earth.distance_nm(place, position), column) for column, place in placed]
    distances.sort(key=lambda pair: pair[0])
    # At a column's own place the inverse square has no value; elsewhere one column alone needs no weight.
    if len(distances) == 1 or distances[0][0] < earth.COINCIDENT_NM:
        return ((distances[0][1], 1.0),)
    return tuple((column, 1.0 / distance_nm**2) for distance_nm, column in distances[:NEAREST_COLUMNS])


def levels_around(levels: Sequence[WindLevel], height_ft: float) -> tuple[WindLevel, WindLevel, float]:
    """The levels next to a height, and how far it lies from the lower to the upper, from 0 to 1."""
    if height_ft <= levels[0].height_ft:
        return levels[0], levels[0], 0.0
    for below, above in pairwise(levels):
        if height_ft < above.height_ft:
            return below, above, (height_ft - below.height_ft) / (above.height_ft - below.height_ft)
    return levels[-1], levels[-1], 0.0


def _vector(direction_deg: float, speed_kt: float) -> tuple[float, float]:
    """East and north parts."""
    sine, cosine = sin_cos_deg(direction_deg)
    return speed_kt * sine, speed_kt * cosine


def _wind(from_east_kt: float, from_north_kt: float) -> Wind:
    speed_kt = hypot(from_east_kt, from_north_kt)
    if speed_kt < _NOTHING_KT:
        return CALM
    return Wind(degrees(atan2(from_east_kt, from_north_kt)), speed_kt)


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
    target = _scaled(-known.sign, _side_vector(known))
    if first.direction_deg is None and second.direction_deg is None:
        return _two_directions(target, first, second)
    if first.direction_deg is None:
        return _direction_and_speed(target, first, second)
    if second.direction_deg is None:
        return [(one, other) for other, one in _direction_and_speed(target, second, first)]
    along = _scaled(first.sign, _unit(first))
    across = _scaled(second.sign, _unit(second))
    area = along[0] * across[1] - along[1] * across[0]
    if abs(area) < _ROUNDING:
        raise _undetermined()
    # Cramer's rule for the two lengths along the known directions.
    speeds = (
        (target[0] * across[1] - target[1] * across[0]) / area,
        (along[0] * target[1] - along[1] * target[0]) / area,
    )
    return [(changed(first, speed_kt=speeds[0]), changed(second, speed_kt=speeds[1]))]


def _direction_and_speed(target: tuple[float, float], turning: Side, growing: Side) -> list[tuple[Side, Side]]:
    """The direction of a side of known speed, and the speed of a side of known direction."""
    along = _scaled(growing.sign, _unit(growing))
    length = complete(turning.speed_kt)
    ahead = along[0] * target[0] + along[1] * target[1]
    across = along[0] * target[1] - along[1] * target[0]
    if abs(across) > length + _ROUNDING:
        return []
    # At a right angle the two meet in one point, and rounding may put it just out of reach.
    reach = sqrt(max(0.0, (length - across) * (length + across)))
    solved = []
    # Law of cosines: a circle meets a line twice, ahead and behind; a tangent once, which the dict takes out.
    for speed_kt in dict.fromkeys((ahead + reach, ahead - reach)):
        # A negative speed is the same line flown backward, no answer.
        if speed_kt < -_ROUNDING:
            continue
        rest = (target[0] - speed_kt * along[0], target[1] - speed_kt * along[1])
        direction_deg = _bearing(_scaled(turning.sign, rest))
        pair = changed(turning, direction_deg=direction_deg), changed(growing, speed_kt=max(speed_kt, 0.0))
        solved.append(pair)
    return solved


def _two_directions(target: tuple[float, float], first: Side, second: Side) -> list[tuple[Side, Side]]:
    """The directions of two sides of known speed: two mirrored triangles over the third side."""
    base = hypot(*target)
    one, other = complete(first.speed_kt), complete(second.speed_kt)
    # Two equal sides and nothing between them may point anywhere.
    if base < _ROUNDING or one < _ROUNDING:
        raise _undetermined()
    cosine = (base * base + one * one - other * other) / (2.0 * base * one)
    if abs(cosine) > 1.0 + _ROUNDING:
        return []
    # A flat triangle may come out a rounding beyond 1.
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


def complete(value: float | None) -> float:
    """A number of a side that is known to be complete."""
    assert value is not None
    return value


def _unit(side: Side) -> tuple[float, float]:
    return sin_cos_deg(complete(side.direction_deg))


def _side_vector(side: Side) -> tuple[float, float]:
    return _scaled(complete(side.speed_kt), _unit(side))


def _scaled(factor: float, vector: tuple[float, float]) -> tuple[float, float]:
    return factor * vector[0], factor * vector[1]


def _bearing(vector: tuple[float, float]) -> float:
    return normalize_deg(degrees(atan2(*vector)))


def _undetermined() -> NavlogError:
    return problem_error(
        "undetermined", "any answer would fit these numbers", hint="give the other numbers of the triangle"
    )
