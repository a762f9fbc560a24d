"""Time and distance to a station from the change of its bearing: estimates for nil wind and a steady heading.

The station near the wing tip: FAA-H-8083-25, chapter 16, "Time and distance check from a station". The
station ahead, its relative bearing growing: the triangle, of which the doubled bearing is the simple case.
"""

from __future__ import annotations

from msgspec import Struct

from navlog.computations.amounts import fuel_amount, stopwatch, time
from navlog.computations.answer import Solution
from navlog.computations.passage import fuel_used
from navlog.nav.angles import difference_deg, sin_cos_deg
from navlog.nav.figures import distance, whole
from navlog.nav.problems import problem_error
from navlog.nav.units import Amount
from navlog.nav.workings import Working

_LARGEST_CHANGE_DEG = 30.0
"""A larger change is no small angle any more (common practice, no source)."""


class _StationTime(Struct, frozen=True):
    """How far the station is now. `relative_deg` are the two relative bearings where those were used."""

    change_deg: float
    elapsed_min: float
    time_min: float
    relative_deg: tuple[float, float] | None = None
    speed_kt: float | None = None
    distance_nm: float | None = None
    fuel: Amount | None = None


def by_change(
    *, change_deg: float, elapsed_min: float, speed_kt: float | None = None, burn: Amount | None = None
) -> _StationTime:
    """Abeam: minutes to the station = 60 x minutes between bearings / degrees of change.

    Raises a problem for no change, one beyond 30 degrees, no time, or a speed of 0.
    """
    if not 0.0 < change_deg <= _LARGEST_CHANGE_DEG:
        raise problem_error(
            "bad-change",
            f"a bearing change of {change_deg:g} degrees cannot be used",
            hint="fly on until it is between 5 and 30 degrees, the station abeam",
        )
    # A degree taken as a sixtieth of the distance, not 1/57.3: 5 % long at 10 degrees about the wing tip, 7 % at 30.
    time_min = 60.0 * elapsed_min / change_deg
    return _answer(change_deg, elapsed_min, time_min, None, speed_kt, burn)


def by_radials(
    *,
    first_deg: float,
    second_deg: float,
    elapsed_min: float,
    speed_kt: float | None = None,
    burn: Amount | None = None,
) -> _StationTime:
    """Abeam, from the two radials or bearings themselves."""
    change_deg = abs(difference_deg(second_deg, first_deg))
    return by_change(change_deg=change_deg, elapsed_min=elapsed_min, speed_kt=speed_kt, burn=burn)


def by_relative_bearings(
    *,
    first_deg: float,
    second_deg: float,
    elapsed_min: float,
    speed_kt: float | None = None,
    burn: Amount | None = None,
) -> _StationTime:
    """From two relative bearings on one side: time = elapsed x sin(first) / sin(second - first).

    Where the bearing doubles that is the time elapsed. Raises a problem where the bearing does not grow away
    from the nose on one side.
    """
    first, second = difference_deg(first_deg, 0.0), difference_deg(second_deg, 0.0)
    change_deg = abs(second) - abs(first)
    # A bearing that crosses the nose, or falls toward it, belongs to no triangle with a station ahead of abeam.
    if first * second <= 0.0 or change_deg <= 0.0 or abs(second) >= 180.0:
        raise problem_error(
            "bad-change",
            "on a steady heading the relative bearing grows away from the nose, on one side",
            hint="give the earlier relative bearing first, such as 015 030",
        )
    # Exact in the plane, where the rule above is only near; a doubled bearing makes both sines alike.
    time_min = elapsed_min * sin_cos_deg(abs(first))[0] / sin_cos_deg(change_deg)[0]
    return _answer(change_deg, elapsed_min, time_min, (abs(first), abs(second)), speed_kt, burn)


def _workings(found: _StationTime) -> tuple[Working, ...]:
    """The rule used, then distance and fuel where they were asked for."""
    elapsed = f"{found.elapsed_min:g} min"
    if found.relative_deg is None:
        steps = [
            Working(
                "time to the station",
                "60 x minutes between bearings / degrees of change",
                f"60 x {elapsed} / {found.change_deg:g}",
                f"{found.time_min:.1f} min",
                "FAA-H-8083-25, chapter 16, time and distance check",
            )
        ]
    else:
        first, second = found.relative_deg
        steps = [
            Working(
                "time to the station",
                "minutes elapsed x sin(first relative bearing) / sin(change)",
                f"{elapsed} x sin({first:g}) / sin({second:g} - {first:g})",
                f"{found.time_min:.1f} min",
                "law of sines; doubled bearing: FAA commercial knowledge test",
            )
        ]
    if found.speed_kt is not None:
        steps.append(
            Working(
                "distance to the station",
                "speed x time",
                f"{found.speed_kt:g} kt x {found.time_min:.2f} min / 60",
                f"{found.distance_nm:.1f} NM",
                "FAA-H-8083-25, chapter 16, time and distance check",
            )
        )
    if found.fuel is not None:
        rate = found.fuel.value * 60.0 / found.time_min
        steps.append(
            Working(
                "fuel to the station",
                "burn x time",
                f"{rate:g} {found.fuel.unit}/h x {found.time_min:.2f} min / 60",
                f"{found.fuel.value:.1f} {found.fuel.unit}",
                "FAA commercial knowledge test",
            )
        )
    return tuple(steps)


def _answer(
    change_deg: float,
    elapsed_min: float,
    time_min: float,
    relative_deg: tuple[float, float] | None,
    speed_kt: float | None,
    burn: Amount | None,
) -> _StationTime:
    if not elapsed_min > 0.0:
        raise problem_error("bad-value", "no time has passed", hint="give the time between the bearings")
    if speed_kt is not None and not speed_kt > 0.0:
        raise problem_error("bad-value", "the speed is zero", hint="a speed is above 0 kt")
    distance_nm = None if speed_kt is None else speed_kt * time_min / 60.0
    fuel = fuel_used(burn, time_min)
    return _StationTime(change_deg, elapsed_min, time_min, relative_deg, speed_kt, distance_nm, fuel)


def _lines(found: _StationTime) -> tuple[str, ...]:
    """The estimate, and what it rests on."""
    parts = [f"{time(found.time_min)} to the station"]
    if found.distance_nm is not None:
        parts.append(f"{distance(found.distance_nm)} NM at {whole(found.speed_kt)} kt")
    if found.fuel is not None:
        parts.append(fuel_amount(found.fuel))
    if found.relative_deg is None:
        how = f"bearing changed {found.change_deg:g} degrees in {stopwatch(found.elapsed_min)}, station abeam"
    else:
        first, second = found.relative_deg
        how = f"relative bearing from {first:03g} to {second:03g} in {stopwatch(found.elapsed_min)}"
    told = (", ".join(parts), f"{how}: an estimate for nil wind and a steady heading")
    return told


def answer(found: _StationTime) -> Solution:
    """What is printed, with its workings."""
    return Solution((found,), _lines(found), _workings(found))
