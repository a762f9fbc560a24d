"""Re-figuring in flight: from times at points and fuel on board to new arrivals, fuel and the reserve.

Groundspeeds made good give the wind found (`windfound`); the way ahead is planned again with the forecast winds,
each changed by the difference found, from the clock and the fuel at the last point passed. What is flown stays as
it was.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import timedelta

from navlog.flightlog.records import Conditions, Leg, Log
from navlog.flightlog.rest import place_of, plan_rest
from navlog.fuelmass import fuel_in
from navlog.problems import Span, problem_error
from navlog.revision.reach import Around, Field, fields_within_reach
from navlog.revision.timing import PartFlown, Passed, parts_flown, passed_points
from navlog.revision.windfound import WindFound, conditions_with, wind_found
from navlog.units import Amount

__all__ = ["Around", "Field", "PartFlown", "Revision", "WindFound", "revise"]


@dataclass(frozen=True, slots=True)
class Revision:
    """What is known in flight at the last point passed.

    `fuel` is on board there in the log's unit, `fuel_read` whether it was read or follows from the planned burn.
    `rest` is the log of what lies ahead, None at the end of the flight. `reserve_holds` tells whether the
    reserve is on board at every landing ahead, and the alternate's fuel at the last; None where that is not known.
    `lost_at` is the leg at whose end it is not. `fields` are those within reach where it does not hold.
    """

    planned: Log
    parts: tuple[PartFlown, ...]
    wind: WindFound | None
    fuel: float | None
    fuel_read: bool
    rest: Log | None
    reserve_holds: bool | None
    lost_at: Leg | None
    fields: tuple[Field, ...]

    @property
    def passed(self) -> Passed:
        """The last point passed."""
        return self.parts[-1].passed

    def planned_leg(self, leg: Leg) -> Leg | None:
        """The leg of the plan that ends where a leg ahead does; None for one that the plan does not have."""
        return next((one for one in self.planned.legs if place_of(one) == place_of(leg)), None)


def revise(
    log: Log,
    *,
    actuals: Iterable[tuple[str, str]],
    headings: Iterable[tuple[str, str]] = (),
    fuel: Amount | None = None,
    around: Around | None = None,
) -> Revision:
    """The flight re-figured from points passed with their times, headings held and the fuel now on board.

    `actuals` and `headings` are as typed: names of points with times in UTC, and with directions such as `213M`.
    Raises a problem for a time, a point or a fuel that cannot be; see `timing.passed_points`.
    """
    points = passed_points(log, actuals, headings)
    parts = parts_flown(log, points)
    wind = wind_found(parts)
    last = points[-1]
    on_board = fuel_read(log, fuel) if fuel is not None else fuel_by_plan(log, points)
    rest = plan_rest(log.route, conditions_ahead(log, last, on_board, wind), last.leg)
    holds, lost_at = reserve(rest) if rest is not None else reserve_at_end(log, last.leg, on_board)
    fields: tuple[Field, ...] = ()
    if holds is False and rest is not None and last.leg.end.position is not None:
        fields = fields_within_reach(rest, last.leg.end.position, around)
    return Revision(log, parts, wind, on_board, fuel is not None, rest, holds, lost_at, fields)


def fuel_read(log: Log, fuel: Amount) -> float:
    """The fuel as read, in the log's unit; raises a `mixed-fuel-units` problem where it cannot be converted."""
    aircraft = log.conditions.aircraft
    density = aircraft.fuel_density_kg_per_l if aircraft is not None else None
    found = fuel_in(fuel, log.fuel_unit.name, density_kg_per_l=density)
    if found is None:
        raise problem_error(
            "mixed-fuel-units",
            f"`{fuel.unit}` and `{log.fuel_unit.name}` cannot be counted together without a density",
            span=Span("--fuel", 1),
            hint=f"give the fuel in {log.fuel_unit.name}",
        )
    return found.value


def fuel_by_plan(log: Log, points: tuple[Passed, ...]) -> float | None:
    """What the plan leaves at the last point, less the cruise burn for the time lost since the last fuelling."""
    last, burn, late_min = points[-1], log.fuel.burn_per_h, 0.0
    left = last.leg.fuel_remaining
    if left is None or burn is None:
        return None
    for point in points:
        planned = log.eta(point.leg)
        if planned is None:
            return None
        if point is last:
            late_min = (point.moment - planned).total_seconds() / 60.0 - late_min
        elif any(leg.fuel_taken is not None for leg in log.legs[point.leg.number - 1 : last.leg.number - 1]):
            late_min = (point.moment - planned).total_seconds() / 60.0
    return left - late_min / 60.0 * burn


def conditions_ahead(log: Log, last: Passed, fuel: float | None, wind: WindFound | None) -> Conditions:
    """The conditions from the last point on: its clock and fuel, after a landing there those of the next take-off."""
    off, on_board = last.moment, fuel
    if last.leg.lands:
        off += timedelta(minutes=last.leg.stop_min)
        on_board = last.leg.fuel_taken if last.leg.fuel_taken is not None else fuel
    return replace(conditions_with(log.conditions, wind), off=off, on_board=on_board)


def reserve(rest: Log) -> tuple[bool | None, Leg | None]:
    """Whether the reserve holds at every landing ahead, and the leg at whose end it does not."""
    for leg in rest.legs:
        if leg.triangle is not None and leg.triangle.unflyable is not None:
            return False, leg
        if leg.lands or leg is rest.legs[-1]:
            held, lost_at = reserve_at_end(rest, leg, leg.fuel_remaining)
            if not held:
                return held, lost_at
    return True, None


def reserve_at_end(log: Log, leg: Leg, fuel: float | None) -> tuple[bool | None, Leg | None]:
    """Whether the reserve, and at the end of the flight the alternate's fuel, is on board where a leg ends."""
    kept = log.fuel.reserve
    if kept is not None and not leg.lands:
        kept = None if log.fuel.alternate is None else kept + log.fuel.alternate
    if fuel is None or kept is None:
        return None, None
    return (True, None) if fuel >= kept - 1e-9 else (False, leg)
