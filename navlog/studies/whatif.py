"""What if: the same flight at other levels, resolved and planned anew, and its route planned in other winds.

A level decides what is received, so that guidance and the ways to alternates go by it as well as the profile.
The spread of winds is a seeded sample, so the same flight always gets the same answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from math import atan2, degrees, hypot, sqrt
from random import Random
from typing import TYPE_CHECKING, TypeAlias

from msgspec import Struct

from navlog.flightlog.altitudes import height_on_scale_ft
from navlog.flightlog.planning import conditions_of, plan, planned
from navlog.flightlog.records import Leg, Log
from navlog.nav.problems import NavlogError, Span, problem_error
from navlog.nav.record import changed
from navlog.nav.wind import Wind, WindColumn, added
from navlog.request.levels import level_altitude_ft
from navlog.request.records import FlightPlans, Level
from navlog.request.references import References
from navlog.resolve.flight import resolve_flight
from navlog.resolve.lookup import ChartLookup
from navlog.resolve.route import Stretch

if TYPE_CHECKING:
    from navlog.rules.answers import Answer

_SAMPLES = 200
_SEED = 91_151
"""Any fixed number: the sample must be the same every time."""

CENTRAL = 0.9
"""The share of the sampled winds that the printed range holds."""


_STEP_FT = 500
_UNKNOWN_MINIMUM_FT = 3_000.0
"""Over the highest elevation known where no minimum is; the tables of levels begin there (14 CFR 91.159)."""


class AtLevel(Struct, frozen=True):
    """The flight at one level; `reason` says why it has no log.

    `by_rule` is on how many of the stretches flown at the planned level this one is a cruising level.
    """

    level: Level
    by_rule: int
    log: Log | None
    reason: str | None = None

    @property
    def wind_beyond_ft(self) -> float | None:
        """How far beyond the heights given the wind is held, where `wind-beyond-heights` tells it; else None."""
        from navlog.rules.windfuel import farthest_from_winds

        legs = () if self.log is None else self.log.legs
        worst = farthest_from_winds(legs, takes_off=True)
        return None if worst is None else worst.wind_beyond_ft


class LevelComparison(Struct, frozen=True):
    """The flight at each cruising level from `lowest_ft`, the highest minimum, to `highest_ft`, both altitudes.

    `stretches` are those flown at the planned level. A level is compared that is one by rule on any of them.
    `minimum_known` tells whether a minimum is known on all of them.
    """

    levels: tuple[AtLevel, ...]
    planned: Level
    lowest_ft: float
    highest_ft: float
    stretches: int
    minimum_known: bool

    @property
    def least_time(self) -> AtLevel | None:
        """The level of the shortest flight among those by rule on most stretches, the lowest of several."""
        return self._least(lambda log: log.totals.time_min)

    @property
    def least_fuel(self) -> AtLevel | None:
        """The level of the least fuel among those by rule on most stretches, the lowest of several."""
        return self._least(lambda log: log.totals.fuel)

    def _least(self, of: Callable[[Log], float | None]) -> AtLevel | None:
        """The first level at which a figure is least; None where it is nowhere known."""
        flown = [(one, of(one.log)) for one in self.levels if one.log is not None]
        known = [(one, value) for one, value in flown if value is not None]
        most = max((one.by_rule for one, _ in known), default=0)
        best = min((value for one, value in known if one.by_rule == most), default=None)
        return next((one for one, value in known if one.by_rule == most and value == best), None)


class WhatIf(Struct, frozen=True):
    """What was asked beside the log; None for what was not. `headwind_kt` belongs to the spread."""

    comparison: LevelComparison | None = None
    spread: Spread | None = None
    headwind_kt: float | None = None


class Spread(Struct, frozen=True):
    """Time and fuel over the sampled winds: least, most, and the range that holds nine in ten.

    Times are minutes of flight, fuel is in the log's unit. `unflyable` counts the winds in which the route
    cannot be flown.
    """

    error_kt: float
    samples: int
    unflyable: int
    time_min: tuple[float, float, float, float]
    fuel: tuple[float, float, float, float] | None


_AtAnother: TypeAlias = Callable[[Level], Log]
"""The flight planned at another level; raises what stands in its way."""


def _what_if(log: Log, at: _AtAnother, *, compare_altitudes: bool, wind_error_kt: float | None) -> WhatIf:
    """The comparison of levels and the spread of winds, as far as they are asked for."""
    comparison = _compared_levels(log, at) if compare_altitudes else None
    if wind_error_kt is None:
        return WhatIf(comparison)
    return WhatIf(comparison, _wind_spread(log, wind_error_kt), _headwind_to_reserve_kt(log))


def answered(
    answer: Answer,
    plans: FlightPlans,
    catalogue: ChartLookup | None,
    references: References,
    *,
    compare_altitudes: bool,
    wind_error_kt: float | None,
) -> tuple[Answer, WhatIf | None]:
    """An answer with what was asked beside its log; a problem of that is the flight's.

    `catalogue` and `references` are those by which it was answered.
    """
    if answer.report is None:
        return answer, None
    log = answer.report.log

    def at(level: Level) -> Log:
        request = changed(log.route.request, cruise=level)
        if request.notices:
            # At another level the flight is at its places at other hours.
            return planned(request, references, catalogue)
        route = resolve_flight(request, catalogue)
        return plan(route, conditions_of(route, references, catalogue))

    try:
        return answer, _what_if(log, at, compare_altitudes=compare_altitudes, wind_error_kt=wind_error_kt)
    except NavlogError as error:
        from navlog.rules.answers import with_text

        problems = tuple(with_text(problem, plans) for problem in error.problems)
        return changed(answer, report=None, problems=problems), None


def _compared_levels(log: Log, at: _AtAnother) -> LevelComparison:
    """The flight at each cruising level for its courses between the highest minimum and the ceiling.

    Level changes that the route line itself states stay as they are. Raises a `no-ceiling` problem without a
    `ceiling`, and a `no-level` problem where no cruising level lies below it.
    """
    request = log.route.request
    if request.ceiling is None:
        raise problem_error(
            "no-ceiling",
            "comparing altitudes needs the highest one to consider",
            span=request.spans.get("altitude"),
            hint="give a `ceiling`, such as `ceiling 9500`",
        )
    stretches = tuple(one for one in log.route.stretches if one.level == request.cruise)
    if not stretches:
        message = "no part of the route is flown at the planned level, so there is none to compare"
        raise problem_error("no-level", message, span=request.spans.get("altitude"))
    minimums = [_minimum_ft(stretch) for stretch in stretches]
    known = [minimum for minimum in minimums if minimum is not None]
    lowest_ft = max(known, default=_highest_elevation_ft(log) + _UNKNOWN_MINIMUM_FT)
    ceilings = [one.limits.maa_ft for one in stretches if one.limits.maa_ft is not None]
    highest_ft = min((level_altitude_ft(request.ceiling, request.altimeter_hpa), *ceilings))
    scale = request.cruise, request.altimeter_hpa
    heights = _heights_ft(height_on_scale_ft(lowest_ft, *scale), height_on_scale_ft(highest_ft, *scale))
    counted = [(ft, _stretches_by_rule(log, stretches, ft)) for ft in heights]
    chosen = [(ft, count) for ft, count in counted if count]
    if not chosen:
        message = f"no cruising level lies between {lowest_ft:,.0f} ft and {highest_ft:,.0f} ft"
        hint = "the highest minimum is the floor, and the `ceiling` or the lowest MAA the top"
        raise problem_error("no-level", message, span=request.spans.get("ceiling"), hint=hint)
    return LevelComparison(
        tuple(_at_level(log, Level(ft, request.cruise.flight_level), count, at) for ft, count in chosen),
        request.cruise,
        lowest_ft,
        highest_ft,
        len(stretches),
        len(known) == len(minimums),
    )


def _heights_ft(lowest_ft: float, highest_ft: float) -> Iterable[float]:
    """The multiples of 500 ft from one height to another."""
    first = int(-(-lowest_ft // _STEP_FT)) * _STEP_FT
    return (float(ft) for ft in range(first, int(highest_ft) + 1, _STEP_FT))


def _minimum_ft(stretch: Stretch) -> float | None:
    """The lowest level on a stretch: its MEA or stated minimum, and no lower than where it must be entered."""
    limits = stretch.limits
    return (
        None
        if limits.least_ft is None
        else max(limits.least_ft, *(one.altitude_ft for one in limits.crossings_start), 0.0)
    )


def _highest_elevation_ft(log: Log) -> float:
    """The highest elevation known among the points of the route; 0 where none is."""
    places = [point.place for point in log.route.points]
    known = [place.elevation_ft for place in places if place is not None]
    return max((elevation_ft for elevation_ft in known if elevation_ft is not None), default=0.0)


def _stretches_by_rule(log: Log, stretches: tuple[Stretch, ...], altitude_ft: float) -> int:
    """On how many stretches an altitude is a cruising level for the course set on leaving their start.

    Where the flight's table of levels says nothing, as low down under VFR, the same levels are taken.
    """
    from navlog.nav.cruising_levels import TABLES, fits
    from navlog.rules.cruising import by_stretch, course_leaving, leaving

    request = log.route.request
    table = TABLES.get(request.levels)
    whole = altitude_ft % 1_000 == (_STEP_FT if request.rules == "vfr" else 0)
    if table is not None and request.rules == "vfr" and altitude_ft >= table.vfr_below_ft:
        return 0
    count, numbers = 0, {stretch.number for stretch in stretches}
    for number, legs in by_stretch(log.legs).items():
        if number not in numbers:
            continue
        course = course_leaving(leaving(legs))
        if table is None or course is None or not table.binds(request.rules, altitude_ft, 0.0):
            count += whole
        else:
            count += fits(altitude_ft, odd=table.is_odd(course), rules=request.rules)
    return count


def _at_level(log: Log, level: Level, by_rule: int, at: _AtAnother) -> AtLevel:
    """The flight with another cruising level in place of the planned one."""
    try:
        return AtLevel(level, by_rule, log if level == log.route.request.cruise else at(level))
    except NavlogError as error:
        return AtLevel(level, by_rule, None, error.problems[0].message)


def _wind_spread(log: Log, error_kt: float) -> Spread:
    """How time and fuel vary over winds around those given.

    Each sample adds one wind vector, the same along the whole route, drawn from a round normal distribution
    whose root mean square is `error_kt`: forecast errors of neighbouring places and heights go together
    (common practice, no source). Raises a `no-wind` problem where the log has no times to vary.
    """
    if not error_kt > 0.0:
        raise problem_error("bad-value", "a spread of winds is more than 0 kt", span=Span("--wind-spread", 1))
    if log.conditions.winds is None or log.totals.time_min is None:
        message = "a spread of winds needs a flight whose wind and times are known"
        raise problem_error("no-wind", message, span=_flight_span(log), hint="give a `wind` and a speed")
    draws = Random(_SEED)
    times: list[float] = []
    fuels: list[float] = []
    unflyable = 0
    route = changed(log.route, alternates=())
    for _ in range(_SAMPLES):
        east_kt, north_kt = (draws.gauss(0.0, error_kt / sqrt(2.0)) for _ in range(2))
        winds = shifted(log.conditions.winds, degrees(atan2(east_kt, north_kt)), hypot(east_kt, north_kt))
        totals = plan(route, changed(log.conditions, winds=winds)).totals
        if totals.time_min is None:
            unflyable += 1
            continue
        times.append(totals.time_min)
        if totals.fuel is not None:
            fuels.append(totals.fuel)
    if not times:
        message = "the route cannot be flown in any of the sampled winds"
        raise problem_error("no-wind", message, span=_flight_span(log), hint="give a smaller spread")
    return Spread(error_kt, _SAMPLES, unflyable, _outline(times), _outline(fuels) if len(fuels) == len(times) else None)


def _flight_span(log: Log) -> Span:
    """Where the flight is written."""
    return Span(log.route.request.file, log.route.request.line)


def shifted(columns: tuple[WindColumn, ...], more_from_deg: float, more_kt: float) -> tuple[WindColumn, ...]:
    """The winds with one more wind added to each as a vector."""
    more = Wind(more_from_deg, more_kt)
    return tuple(
        changed(
            column,
            levels=tuple(changed(level, wind=added(level.wind, more)) for level in column.levels),
        )
        for column in columns
    )


def _outline(values: list[float]) -> tuple[float, float, float, float]:
    """Least, lower end, upper end and most: the two ends hold nine values in ten between them."""
    ordered = sorted(values)
    tail = (1.0 - CENTRAL) / 2.0
    low, high = (ordered[round(share * (len(ordered) - 1))] for share in (tail, 1.0 - tail))
    return ordered[0], low, high, ordered[-1]


def _headwind_to_reserve_kt(log: Log) -> float | None:
    """The steady headwind, beyond the wind given, from which the reserve is no longer whole at the last landing.

    Every leg's groundspeed is less by it and its fuel more in proportion to its time; the fuel to the
    alternate stays. None where something of this is not known, 0 where the reserve is not whole already.
    """
    fuel, legs = log.fuel, [leg for leg in _since_fuelled(log.legs) if leg.distance_nm > 0.0]
    if fuel.remaining is None or fuel.reserve is None or fuel.alternate is None:
        return None
    if any(leg.groundspeed_kt is None or leg.fuel_used is None for leg in legs):
        return None
    spare = fuel.remaining - fuel.reserve - fuel.alternate

    def more_fuel(headwind_kt: float) -> float:
        total = 0.0
        for leg in legs:
            speed_kt, used = leg.groundspeed_kt or 0.0, leg.fuel_used or 0.0
            if speed_kt <= headwind_kt:
                return float("inf")
            total += used * (speed_kt / (speed_kt - headwind_kt) - 1.0)
        return total

    low, high = 0.0, min(leg.groundspeed_kt or 0.0 for leg in legs)
    for _ in range(60):
        middle = (low + high) / 2.0
        if more_fuel(middle) <= spare:
            low = middle
        else:
            high = middle
    return low if spare > 0.0 else 0.0


def _since_fuelled(legs: tuple[Leg, ...]) -> tuple[Leg, ...]:
    """The legs since the last landing at which fuel is taken."""
    taken = [index for index, leg in enumerate(legs) if leg.fuel_taken is not None]
    return legs[taken[-1] + 1 :] if taken else legs
