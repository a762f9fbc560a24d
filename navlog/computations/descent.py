"""Climb and descent on a straight path: rate, gradient, angle, distance, time and where to begin.

gradient = height / distance; tan(angle) = gradient / 6,076.1 ft; rate = gradient x groundspeed / 60 (FAA AIM
5-2-9, climb gradients; geometry).
"""

from __future__ import annotations

from math import atan, degrees, radians, tan

from msgspec import Struct

from navlog.computations.amounts import fuel_amount, time
from navlog.computations.answer import Solution
from navlog.computations.passage import fuel_used
from navlog.nav.figures import distance, half_up, whole
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.units import FEET_PER_NM, Amount
from navlog.nav.workings import Working

_STEEPEST_DEG = 45.0


class _Descent(Struct, frozen=True):
    """A path between two heights; `height_ft` is their difference, `climbing` its direction.

    Without heights only the slope is known, and without a groundspeed no rate or time. `start_nm` is how far
    before the point to begin, `level_nm` how far before it to be level.
    """

    gradient_ft_per_nm: float
    angle_deg: float
    groundspeed_kt: float | None = None
    rate_ft_min: float | None = None
    from_ft: float | None = None
    to_ft: float | None = None
    climbing: bool = False
    height_ft: float | None = None
    distance_nm: float | None = None
    level_nm: float = 0.0
    start_nm: float | None = None
    time_min: float | None = None
    fuel: Amount | None = None


class Slope(Struct, frozen=True):
    """How steep: exactly one of these is set; a distance or a time makes the slope with the heights."""

    rate_ft_min: float | None = None
    gradient_ft_per_nm: float | None = None
    angle_deg: float | None = None
    distance_nm: float | None = None
    time_min: float | None = None


def solve(
    slope: Slope,
    *,
    from_ft: float | None = None,
    to_ft: float | None = None,
    groundspeed_kt: float | None = None,
    level_nm: float = 0.0,
    burn: Amount | None = None,
) -> _Descent:
    """The path that one figure of its slope, the heights and the groundspeed make.

    Raises a problem for anything but one figure, for zero rates, speeds and heights, a slope beyond 45
    degrees, and where heights or groundspeed are missing for the figure given.
    """
    given = [getattr(slope, name) for name in Slope.__struct_fields__]
    numbers = [number for number in given if number is not None]
    if len(numbers) != 1:
        raise problem_error(
            "wrong-number",
            f"one figure makes the slope; {len(numbers)} are given",
            hint="give one of rate, gradient, angle, distance and time",
        )
    if not numbers[0] > 0.0:
        raise problem_error("bad-value", "the slope is zero", hint="give a figure above 0")
    if groundspeed_kt is not None and not groundspeed_kt > 0.0:
        raise problem_error("bad-value", "the groundspeed is zero", hint="a speed is above 0 kt")
    if (from_ft is None) != (to_ft is None):
        raise _missing("one height is missing", "give both heights, or neither")
    height_ft = None if from_ft is None or to_ft is None else abs(to_ft - from_ft)
    if height_ft == 0.0:
        raise problem_error("bad-value", "both heights are the same", hint="give two different heights")
    gradient_ft_per_nm = _gradient(slope, height_ft, groundspeed_kt)
    angle_deg = degrees(atan(gradient_ft_per_nm / FEET_PER_NM))
    if angle_deg > _STEEPEST_DEG:
        raise problem_error("bad-value", f"a slope of {angle_deg:.0f} degrees is no flight path")
    distance_nm = None if height_ft is None else height_ft / gradient_ft_per_nm
    time_min = None
    if distance_nm is not None and groundspeed_kt is not None:
        time_min = 60.0 * distance_nm / groundspeed_kt
    return _Descent(
        gradient_ft_per_nm=gradient_ft_per_nm,
        angle_deg=angle_deg,
        groundspeed_kt=groundspeed_kt,
        rate_ft_min=None if groundspeed_kt is None else gradient_ft_per_nm * groundspeed_kt / 60.0,
        from_ft=from_ft,
        to_ft=to_ft,
        climbing=from_ft is not None and to_ft is not None and to_ft > from_ft,
        height_ft=height_ft,
        distance_nm=distance_nm,
        level_nm=level_nm,
        start_nm=None if distance_nm is None else distance_nm + level_nm,
        time_min=time_min,
        fuel=fuel_used(burn, time_min),
    )


def _workings(found: _Descent) -> tuple[Working, ...]:
    """Slope, rate, distance, start and time, as far as they are known."""
    gradient = f"{found.gradient_ft_per_nm:.0f}"
    steps = [
        Working(
            "angle",
            "tan(angle) = gradient / 6,076 ft",
            f"{gradient} / 6,076",
            f"{found.angle_deg:.2f} degrees",
            "geometry",
        )
    ]
    if found.rate_ft_min is not None:
        steps.append(
            Working(
                "rate",
                "gradient x groundspeed / 60",
                f"{gradient} ft/NM x {found.groundspeed_kt:g} kt / 60",
                f"{found.rate_ft_min:.0f} ft/min",
                "FAA AIM 5-2-9",
            )
        )
    if found.distance_nm is not None:
        steps.append(
            Working(
                "distance",
                "height / gradient",
                f"{found.height_ft:.0f} ft / {gradient} ft/NM",
                f"{found.distance_nm:.1f} NM",
                "geometry",
            )
        )
    if found.time_min is not None:
        steps.append(
            Working(
                "time",
                "distance / groundspeed",
                f"{found.distance_nm:.1f} NM / {found.groundspeed_kt:g} kt",
                f"{found.time_min:.1f} min",
                "FAA-H-8083-25, chapter 16",
            )
        )
    return tuple(steps)


def _gradient(slope: Slope, height_ft: float | None, groundspeed_kt: float | None) -> float:
    if slope.gradient_ft_per_nm is not None:
        return slope.gradient_ft_per_nm
    if slope.angle_deg is not None:
        if slope.angle_deg > _STEEPEST_DEG:
            raise problem_error("bad-value", f"a slope of {slope.angle_deg:g} degrees is no flight path")
        return FEET_PER_NM * tan(radians(slope.angle_deg))
    # Heights and distance make a slope without any speed; a rate or a time needs the groundspeed.
    if slope.distance_nm is not None:
        if height_ft is None:
            raise _missing("a distance makes no slope without heights", "give both heights")
        return height_ft / slope.distance_nm
    if groundspeed_kt is None:
        raise _missing("a rate or a time makes no slope without a groundspeed", "give the groundspeed")
    if slope.rate_ft_min is not None:
        return 60.0 * slope.rate_ft_min / groundspeed_kt
    if height_ft is None or slope.time_min is None:
        raise _missing("a time makes no slope without heights", "give both heights")
    return 60.0 * height_ft / (slope.time_min * groundspeed_kt)


def _missing(message: str, hint: str) -> NavlogError:
    return problem_error("missing-value", message, hint=hint)


def _lines(found: _Descent) -> tuple[str, ...]:
    """Where to begin and how long it takes, as far as heights and groundspeed are known, and the slope."""
    told = []
    verb = "climb" if found.climbing else "descend"
    if found.distance_nm is not None:
        before = f"{distance(found.start_nm)} NM before the point"
        level = f", to be level {distance(found.level_nm)} NM before it" if found.level_nm else ""
        told.append(f"{verb} {whole(found.height_ft)} ft: begin {before}{level}")
        taken = f"{distance(found.distance_nm)} NM"
        if found.time_min is not None:
            taken += f" in {time(found.time_min)} at {whole(found.groundspeed_kt)} kt"
        if found.fuel is not None:
            taken += f", {fuel_amount(found.fuel)}"
        told.append(taken)
    slope = f"{half_up(found.angle_deg, 0.1) / 10:.1f} degrees, {whole(found.gradient_ft_per_nm)} ft/NM"
    if found.rate_ft_min is not None:
        slope = f"{whole(found.rate_ft_min)} ft/min, {slope}"
    told.append(slope)
    return tuple(told)


def answer(found: _Descent) -> Solution:
    """What is printed, with its workings."""
    return Solution((found,), _lines(found), _workings(found))
