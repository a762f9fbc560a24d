"""What if: the same route at other levels and in other winds, by planning it again.

The spread of winds is a seeded sample, so the same flight always gets the same answer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import atan2, degrees, hypot, sqrt
from random import Random

from navlog.flightlog import Conditions, Log, plan
from navlog.problems import NavlogError, problem_error
from navlog.request import Level
from navlog.route import Route
from navlog.wind import Wind, WindColumn, added

SAMPLES = 200
SEED = 91_151
"""Any fixed number: the sample must be the same every time."""

CENTRAL = 0.9
"""The share of the sampled winds that the printed range holds."""


@dataclass(frozen=True, slots=True)
class AtLevel:
    """The route flown at one level; `reason` says why it has no log."""

    level: Level
    log: Log | None
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class Spread:
    """Time and fuel over the sampled winds: least, most, and the range that holds nine in ten.

    Times are minutes of flight, fuel is in the log's unit. `unflyable` counts the winds in which the route
    cannot be flown.
    """

    error_kt: float
    samples: int
    unflyable: int
    time_min: tuple[float, float, float, float]
    fuel: tuple[float, float, float, float] | None


def at_levels(route: Route, conditions: Conditions, levels: Iterable[Level]) -> Iterator[AtLevel]:
    """The log of the route at each cruising level in place of the planned one.

    Level changes that the route line itself states stay as they are.
    """
    planned = route.request.cruise
    for level in levels:
        stretches = tuple(
            replace(stretch, level=level) if stretch.level == planned else stretch for stretch in route.stretches
        )
        try:
            yield AtLevel(level, plan(replace(route, stretches=stretches, alternates=()), conditions))
        except NavlogError as error:
            yield AtLevel(level, None, error.problems[0].message)


def wind_spread(log: Log, error_kt: float) -> Spread:
    """How time and fuel vary over winds around those given.

    Each sample adds one wind vector, the same along the whole route, drawn from a round normal distribution
    whose root mean square is `error_kt`: forecast errors of neighbouring places and heights go together
    (common practice, no source). Raises a `no-wind` problem where the log has no times to vary.
    """
    if log.conditions.winds is None or log.totals.time_min is None:
        raise problem_error("no-wind", "the wind spread needs a flight with wind and times", hint="give a `wind`")
    draws = Random(SEED)
    times: list[float] = []
    fuels: list[float] = []
    unflyable = 0
    route = replace(log.route, alternates=())
    for _ in range(SAMPLES):
        east_kt, north_kt = (draws.gauss(0.0, error_kt / sqrt(2.0)) for _ in range(2))
        winds = shifted(log.conditions.winds, degrees(atan2(east_kt, north_kt)), hypot(east_kt, north_kt))
        totals = plan(route, replace(log.conditions, winds=winds)).totals
        if totals.time_min is None:
            unflyable += 1
            continue
        times.append(totals.time_min)
        if totals.fuel is not None:
            fuels.append(totals.fuel)
    if not times:
        raise problem_error("no-wind", "the route cannot be flown in any of the sampled winds")
    return Spread(error_kt, SAMPLES, unflyable, outline(times), outline(fuels) if len(fuels) == len(times) else None)


def shifted(columns: tuple[WindColumn, ...], more_from_deg: float, more_kt: float) -> tuple[WindColumn, ...]:
    """The winds with one more wind added to each as a vector."""
    more = Wind(more_from_deg, more_kt)
    return tuple(
        replace(
            column,
            levels=tuple(replace(level, wind=added(level.wind, more)) for level in column.levels),
        )
        for column in columns
    )


def outline(values: list[float]) -> tuple[float, float, float, float]:
    """Least, lower end, upper end and most: the two ends hold nine values in ten between them."""
    ordered = sorted(values)
    tail = (1.0 - CENTRAL) / 2.0
    low, high = (ordered[round(share * (len(ordered) - 1))] for share in (tail, 1.0 - tail))
    return ordered[0], low, high, ordered[-1]


def headwind_to_reserve_kt(log: Log) -> float | None:
    """The steady headwind, beyond the wind given, at which the reserve is gone; None where that is not known.

    Every leg's groundspeed is less by it and its fuel more in proportion to its time. 0 where the reserve is
    gone already.
    """
    margin = log.fuel.margin
    legs = [leg for leg in log.legs if leg.distance_nm > 0.0]
    if margin is None or any(leg.groundspeed_kt is None or leg.fuel_used is None for leg in legs):
        return None
    if margin <= 0.0:
        return 0.0

    def more_fuel(headwind_kt: float) -> float:
        total = 0.0
        for leg in legs:
            speed_kt, fuel = leg.groundspeed_kt or 0.0, leg.fuel_used or 0.0
            if speed_kt <= headwind_kt:
                return float("inf")
            total += fuel * (speed_kt / (speed_kt - headwind_kt) - 1.0)
        return total

    low, high = 0.0, min(leg.groundspeed_kt or 0.0 for leg in legs)
    for _ in range(60):
        middle = (low + high) / 2.0
        if more_fuel(middle) <= margin:
            low = middle
        else:
            high = middle
    return low
