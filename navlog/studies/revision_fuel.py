"""Fuel in flight: what the planned burn leaves by the time flown, and what a reading is held against."""

from __future__ import annotations

from datetime import datetime

from msgspec import Struct

from navlog.flightlog.records import Leg, Log
from navlog.nav.figures import down
from navlog.nav.figures import fuel as fuel_figure
from navlog.nav.problems import Span, problem_error
from navlog.nav.units import Amount, fuel_in
from navlog.studies.revision_timing import CLOCK_MIN, PartFlown, Passed, in_words

_FAR_FROM_PLAN_GAL = 1.0
"""A reading further than this from what the planned burn leaves is worth a warning (common practice, no source)."""

_RATE_FROM_H = 0.5
"""In less time a reading to half a gallon tells no burn an hour (common practice, no source)."""

_USUAL_KG_PER_L = 0.72
"""Aviation gasoline, for that gallon alone where no density is given (common practice, no source)."""


class ByPlan(Struct, frozen=True):
    """What the planned burn leaves at the last point passed, in the log's unit; None where it is not known.

    `filled` is on board at the take-off since which it counts, `since` names it. `left` goes by the time flown in the
    air; `least` counts time lost about a stop as flown too. `taken` is on board after a refuelling there. `flown` are
    the legs flown at the filling.
    """

    since: str
    flown: int
    filled: float | None
    left: float | None
    least: float | None
    taken: float | None


class Reading(Struct, frozen=True):
    """Fuel as read: how far it is from what the planned burn leaves by then, None up to 1 gal; negative for less.

    `refuelled` says that the tanks were filled before it was read; `read_per_h` the use of an hour, where it is told.
    """

    fuel: float
    refuelled: bool
    far: float | None
    read_per_h: float | None


def by_plan(log: Log, parts: tuple[PartFlown, ...]) -> ByPlan:
    """What the planned burn leaves at the end of the parts flown, counted from the last filling before it.

    Time lost counts at the cruise burn, time gained at no more than was planned for it, so that no fuel comes of it.
    Where the plan is kept within what the clock can tell it is the plan's own.
    """
    last = parts[-1].passed
    filling, filled = _filling(log, last.leg)
    since = f"take-off at {log.legs[filling].start.name}"
    left = last.leg.fuel_remaining
    flown = [part for part in parts if part.passed.leg.number > filling]
    late = _minutes_late(log, parts)
    rate = log.fuel.burn_per_h
    if left is None or rate is None or late is None:
        return ByPlan(since, filling, filled, left, None, last.leg.fuel_taken)
    behind = late[len(late) - len(flown) :]
    in_air_min = sum(minutes for part, minutes in zip(flown, behind, strict=True) if part.stop_min is None)
    # On the ground nothing burns, and a stop cut short is no fuel saved.
    at_stops_min = sum(
        max(minutes, 0.0) for part, minutes in zip(flown, behind, strict=True) if part.stop_min is not None
    )
    gained_per_h = min(rate, _mean_burn(flown, rate))
    return ByPlan(
        since,
        filling,
        filled,
        left - _burnt(in_air_min, rate, gained_per_h),
        left - _burnt(in_air_min + at_stops_min, rate, gained_per_h),
        last.leg.fuel_taken,
    )


def _filling(log: Log, leg: Leg) -> tuple[int, float | None]:
    """How many legs are flown at the last filling of the tanks before a leg ends, and what was on board then."""
    found, filled = 0, log.conditions.on_board
    for one in log.legs[: leg.number - 1]:
        if one.fuel_taken is not None:
            found, filled = one.number, one.fuel_taken
    return found, filled


def _minutes_late(log: Log, parts: tuple[PartFlown, ...]) -> list[float] | None:
    """How many minutes more than planned each part took, negative for less; None where the plan has no times."""
    found, behind_min = list[float](), 0.0
    for part in parts:
        planned: datetime | None = log.eta(part.passed.leg)
        if planned is None:
            return None
        late_min = (part.passed.moment - planned).total_seconds() / 60.0
        found.append(late_min - behind_min)
        behind_min = late_min
    return found


def _mean_burn(parts: list[PartFlown], rate: float) -> float:
    """The planned use of an hour over the parts without a stop, in the air alone."""
    legs = [leg for part in parts if part.stop_min is None for leg in part.legs]
    hours = sum(leg.time_min or 0.0 for leg in legs) / 60.0
    return sum(leg.fuel_used or 0.0 for leg in legs) / hours if hours else rate


def _burnt(late_min: float, rate: float, gained_per_h: float) -> float:
    """What lost minutes burn beyond the plan, negative for minutes gained; nothing within what the clock can tell."""
    if abs(late_min) <= CLOCK_MIN:
        return 0.0
    return late_min / 60.0 * (rate if late_min > 0.0 else gained_per_h)


def reading_of(log: Log, last: Passed, plan: ByPlan, fuel: Amount) -> Reading:
    """Fuel read at the last point, against what the planned burn leaves there by the time flown.

    Where the tanks are filled there it was read on landing, unless it is nearer to what is on board afterwards, or more
    than 1 gal over what is left on landing: so little is not burnt, and a small uplift must not pass for the whole.
    Raises a `mixed-fuel-units` problem where it cannot be converted, `too-much-fuel` where it is more than the
    plan had on board when the tanks were last filled.
    """
    read = _in_unit(log, last.leg, plan, fuel)
    refuelled = plan.taken is not None and (
        plan.left is None
        or (plan.filled is not None and read > plan.filled + 1e-6)
        or abs(read - plan.taken) < abs(read - plan.left)
        or (plan.taken > plan.left and (_far(log, read - plan.left) or 0.0) > 0.0)
    )
    planned = plan.taken if refuelled else plan.left
    far = None if planned is None else _far(log, read - planned)
    off = log.conditions.off
    # When the aeroplane really took off again after a stop is not told, so no burn an hour follows.
    stopped = plan.flown or any(leg.lands for leg in log.legs[: last.leg.number - 1])
    per_h = None
    if not stopped and not refuelled and off is not None and plan.filled is not None:
        hours = (last.moment - off).total_seconds() / 3600.0
        per_h = (plan.filled - read) / hours if hours >= _RATE_FROM_H else None
    return Reading(read, refuelled, far, per_h)


def _in_unit(log: Log, leg: Leg, plan: ByPlan, fuel: Amount) -> float:
    """The fuel read at the end of a leg, in the log's unit; raises the problems of `reading_of`."""
    found = fuel_in(fuel, log.fuel_unit.name, density_kg_per_l=_density_kg_per_l(log))
    if found is None:
        raise problem_error(
            "mixed-fuel-units",
            f"`{fuel.unit}` and `{log.fuel_unit.name}` cannot be counted together without a density",
            span=Span("--fuel", 1),
            hint=f"give the fuel in {log.fuel_unit.name}",
        )
    filled = plan.filled if plan.filled is None or plan.taken is None else max(plan.filled, plan.taken)
    # A gauge may read high, never higher than the tanks were filled to: that is a slip of the pen.
    if filled is not None and found.value > filled + 1e-6:
        step, unit = log.fuel_unit.step, log.fuel_unit.name
        raise problem_error(
            "too-much-fuel",
            f"{found.value:g} {unit} at {in_words(leg)} is more than the {fuel_figure(down(filled, step), step)} {unit}"
            " on board at take-off",
            span=Span("--fuel", 1),
            hint=_why_too_much(log, leg),
        )
    return found.value


def _why_too_much(log: Log, leg: Leg) -> str:
    """What more fuel than was on board may come of: of a point passed again it may be read at the later passage."""
    name = leg.end.name
    if leg.end.point is not None and any(
        one.end.name == name and one.lands is leg.lands for one in log.legs[leg.number :]
    ):
        return f"{name} is passed again: give --at {name} once for each passage, in the order flown"
    if any(one.fuel_taken is not None for one in log.legs[: leg.number]):
        return "check the reading, or the `fuel` behind the `land` of the route"
    return "check the reading, or the flight's own `fuel`"


def _density_kg_per_l(log: Log) -> float | None:
    """The fuel's density as the aircraft file states it."""
    aircraft = log.conditions.aircraft
    return aircraft.fuel_density_kg_per_l if aircraft is not None else None


def _far(log: Log, over: float) -> float | None:
    """How far a reading is from the plan; None up to 1 gal."""
    density = _density_kg_per_l(log) or _USUAL_KG_PER_L
    gallon = fuel_in(Amount(_FAR_FROM_PLAN_GAL, "gal"), log.fuel_unit.name, density_kg_per_l=density)
    return over if gallon is not None and abs(over) > gallon.value else None
