"""Re-figuring in flight: from times at points and fuel on board to new arrivals, fuel and the reserve.

Groundspeeds made good give the wind found (`revision_wind`); the way ahead is planned again with the forecast winds,
each changed by the difference found, from the clock and the fuel at the last point passed. What is flown stays as
it was.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from msgspec import Struct

from navlog.flightlog.fuel import reserve_at, total
from navlog.flightlog.performance import fuel_in_time
from navlog.flightlog.planning import flying_order, plan_rest
from navlog.flightlog.records import Conditions, Leg, Log
from navlog.nav.figures import down
from navlog.nav.figures import fuel as fuel_figure
from navlog.nav.problems import Span, problem_error
from navlog.nav.record import changed
from navlog.nav.units import Amount, fuel_in
from navlog.studies.revision_reach import Around, Field, fields_within_reach
from navlog.studies.revision_timing import PartFlown, Passed, in_words, parts_flown, passed_points
from navlog.studies.revision_wind import WindFound, conditions_with, wind_found

_FAR_FROM_PLAN_GAL = 1.0
"""A reading further than this from what the plan leaves is worth a warning (common practice, no source)."""

_RATE_FROM_H = 0.5
"""In less time a reading to half a gallon tells no burn an hour (common practice, no source)."""

_USUAL_KG_PER_L = 0.72
"""Aviation gasoline, for that gallon alone where no density is given (common practice, no source)."""

__all__ = ["Around", "Field", "PartFlown", "Revision", "WindFound", "revise"]


class _Used(Struct, frozen=True):
    """Since when fuel is used, what was on board then and what is read, in the log's unit, and the use of an hour."""

    since: str
    filled: float
    read: float
    read_per_h: float | None


class _AtMeasuredBurn(Struct, frozen=True):
    """What lies ahead at so many times the planned burn as was measured, and whether and where the reserve is lost."""

    times: float
    rest: Log
    reserve_holds: bool | None
    lost_at: Leg | None


class Revision(Struct, frozen=True):
    """What is known in flight at the last point passed.

    `fuel` is on board there in the log's unit, `fuel_read` whether it was read or follows from the planned burn.
    `used` is what went since the tanks were last known. `surplus` and `shortage` are how far the reading is above and
    below what the plan leaves there, None up to 1 gal.
    `rest` is the log of what lies ahead, None at the end of the flight. `holds_by_plan` tells whether the reserve is
    on board at every landing ahead, and the alternate's fuel at the last; None where that is not known. `lost_at` is
    the leg at whose end it is not. `measured` is the same at the measured burn, however short the time flown, where
    the reading is more than 1 gal under what the planned burn leaves by then. `fields` are those within reach where
    either is lost.
    """

    planned: Log
    parts: tuple[PartFlown, ...]
    wind: WindFound | None
    fuel: float | None
    fuel_read: bool
    surplus: float | None
    rest: Log | None
    holds_by_plan: bool | None
    lost_at: Leg | None
    fields: tuple[Field, ...]
    shortage: float | None = None
    used: _Used | None = None
    measured: _AtMeasuredBurn | None = None

    @property
    def passed(self) -> Passed:
        """The last point passed."""
        return self.parts[-1].passed

    @property
    def reserve_holds(self) -> bool | None:
        """Whether the reserve holds by the worse of planned and measured burn; None where that is not known."""
        return _worse(self.holds_by_plan, self.measured)

    def planned_leg(self, leg: Leg) -> Leg | None:
        """The leg of the plan that ends where a leg ahead does; None for one that the plan does not have."""
        return next((one for one in self.planned.legs if flying_order(one) == flying_order(leg)), None)


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
    Raises a problem for a time, a point or a fuel that cannot be; see `revision_timing.passed_points`.
    """
    points = passed_points(log, actuals, headings)
    parts = parts_flown(log, points)
    wind = wind_found(parts)
    last = points[-1]
    by_plan = _fuel_by_plan(log, points)
    on_board = _fuel_read(log, last.leg, fuel) if fuel is not None else by_plan
    ahead = _conditions_ahead(log, last, on_board, wind)
    rest = plan_rest(log.route, ahead, last.leg)
    holds, lost_at = _reserve(rest) if rest is not None else _reserve_at_end(log, last.leg, on_board)
    over = _over_plan(log, last.leg, on_board) if fuel is not None else None
    far = _far(log, over)
    more, less = (far, None) if far is None or far > 0.0 else (None, -far)
    used = _used(log, last, on_board) if fuel is not None else None
    measured = _at_measured_burn(log, last, ahead, used, by_plan)
    worst = rest if measured is None else measured.rest
    fields: tuple[Field, ...] = ()
    if _worse(holds, measured) is False and worst is not None and last.leg.end.position is not None:
        fields = fields_within_reach(worst, last.leg.end.position, around)
    return Revision(
        log, parts, wind, on_board, fuel is not None, more, rest, holds, lost_at, fields, less, used, measured
    )


def _worse(by_plan: bool | None, measured: _AtMeasuredBurn | None) -> bool | None:
    """The worse of two answers: lost before not known before held."""
    answers = (by_plan,) if measured is None else (by_plan, measured.reserve_holds)
    return False if False in answers else None if None in answers else True


def _at_measured_burn(
    log: Log, last: Passed, ahead: Conditions, used: _Used | None, by_plan: float | None
) -> _AtMeasuredBurn | None:
    """The way ahead at the measured burn; None where that is not known or no more than 1 gal went beyond the plan.

    What the planned burn takes in the time flown, climb and all, is the measure, so that neither a climb nor lost
    time counts as a burn above the planned one. A few minutes tell it as well: a leak must not wait to be seen.
    """
    left = last.leg.fuel_remaining
    # Minutes lost since a stop may have been lost on the ground, where nothing burns.
    if by_plan is not None and not any(leg.lands for leg in log.legs[: last.leg.number - 1]):
        left = by_plan
    if used is None or left is None:
        return None
    more = _far(log, left - used.read)
    if more is None or more < 0.0:
        return None
    # Where the plan takes next to nothing, a printed step of it stands for that.
    times = (used.filled - used.read) / max(used.filled - left, log.fuel_unit.step)
    burn = None if ahead.burn_per_h is None else ahead.burn_per_h * times
    rest = plan_rest(log.route, changed(ahead, burn_per_h=burn, aircraft_unit=ahead.aircraft_unit * times), last.leg)
    return None if rest is None else _AtMeasuredBurn(times, rest, *_reserve(rest))


def alternates_of(rest: Log | None) -> tuple[Log, ...]:
    """The ways to alternates from points ahead or here, with the clock and fuel of what lies ahead."""
    return () if rest is None else tuple(way for way in rest.alternates if way.begun)


def reserve_holds_at(way: Log) -> bool | None:
    """Whether the reserve is on board at an alternate; None where that is not known."""
    left, kept = way.legs[-1].fuel_remaining, way.fuel.reserve
    return None if left is None or kept is None else left >= kept - 1e-9


def _fuel_read(log: Log, leg: Leg, fuel: Amount) -> float:
    """The fuel read at the end of a leg, in the log's unit.

    Raises a `mixed-fuel-units` problem where it cannot be converted, `too-much-fuel` where it is more than the
    plan had on board when the tanks were last filled.
    """
    found = fuel_in(fuel, log.fuel_unit.name, density_kg_per_l=_density_kg_per_l(log))
    if found is None:
        raise problem_error(
            "mixed-fuel-units",
            f"`{fuel.unit}` and `{log.fuel_unit.name}` cannot be counted together without a density",
            span=Span("--fuel", 1),
            hint=f"give the fuel in {log.fuel_unit.name}",
        )
    filled = _most_on_board(log, leg)
    # A gauge may read high, never higher than the tanks were filled to: that is a slip of the pen.
    if filled is not None and found.value > filled + 1e-6:
        step, unit = log.fuel_unit.step, log.fuel_unit.name
        raise problem_error(
            "too-much-fuel",
            f"{found.value:g} {unit} at {in_words(leg)} is more than the {fuel_figure(down(filled, step), step)} {unit}"
            " on board at take-off",
            span=Span("--fuel", 1),
            hint="check the reading, or the flight's own `fuel`",
        )
    return found.value


def _density_kg_per_l(log: Log) -> float | None:
    """The fuel's density as the aircraft file states it."""
    aircraft = log.conditions.aircraft
    return aircraft.fuel_density_kg_per_l if aircraft is not None else None


def _most_on_board(log: Log, leg: Leg) -> float | None:
    """The fuel at the take-off before the end of a leg, or what is taken on there if that is more."""
    filled = log.conditions.on_board
    for one in log.legs[: leg.number - 1]:
        filled = filled if one.fuel_taken is None else one.fuel_taken
    taken = leg.fuel_taken
    return filled if filled is None or taken is None else max(filled, taken)


def _over_plan(log: Log, leg: Leg, read: float | None) -> float | None:
    """By how much a reading exceeds what the plan leaves at the end of a leg, negative where it is less."""
    planned = leg.fuel_remaining if leg.fuel_taken is None else leg.fuel_taken
    return None if read is None or planned is None else read - planned


def _far(log: Log, over: float | None) -> float | None:
    """How far a reading is from the plan; None up to 1 gal."""
    gallon = fuel_in(
        Amount(_FAR_FROM_PLAN_GAL, "gal"),
        log.fuel_unit.name,
        density_kg_per_l=_density_kg_per_l(log) or _USUAL_KG_PER_L,
    )
    return over if over is not None and gallon is not None and abs(over) > gallon.value else None


def _used(log: Log, last: Passed, read: float | None) -> _Used | None:
    """What went since the last take-off whose fuel is known; None where the plan has none."""
    before = log.legs[: last.leg.number - 1]
    begun, filled, started = 0, log.conditions.on_board, log.conditions.off
    for one in before:
        if one.fuel_taken is not None:
            begun, filled = one.number, one.fuel_taken
    if read is None or filled is None or last.leg.fuel_remaining is None:
        return None
    # When the aeroplane really took off again after a stop is not told, so no burn an hour follows.
    stopped = any(leg.lands for leg in before)
    hours = None if started is None or stopped else (last.moment - started).total_seconds() / 3600.0
    per_h = (filled - read) / hours if hours and hours >= _RATE_FROM_H else None
    return _Used(f"take-off at {log.legs[begun].start.name}", filled, read, per_h)


def _fuel_by_plan(log: Log, points: tuple[Passed, ...]) -> float | None:
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
        # Fuel taken makes up for what was lost before it; only later minutes count.
        elif any(leg.fuel_taken is not None for leg in log.legs[point.leg.number - 1 : last.leg.number - 1]):
            late_min = (point.moment - planned).total_seconds() / 60.0
    return left - late_min / 60.0 * burn


def _conditions_ahead(log: Log, last: Passed, fuel: float | None, wind: WindFound | None) -> Conditions:
    """The conditions from the last point on: its clock and fuel, after a landing there those of the next take-off."""
    off, on_board = last.moment, fuel
    if last.leg.lands:
        off += timedelta(minutes=last.leg.stop_min)
        # What was read on landing is no longer there once the tanks are filled.
        on_board = last.leg.fuel_taken if last.leg.fuel_taken is not None else fuel
    return changed(conditions_with(log.conditions, wind), off=off, on_board=on_board)


def _reserve(rest: Log) -> tuple[bool | None, Leg | None]:
    """Whether the reserve holds at every landing ahead, and the leg at whose end it does not."""
    for leg in rest.legs:
        if leg.triangle is not None and leg.triangle.unflyable is not None:
            return False, leg
        if leg.lands or leg is rest.legs[-1]:
            held, lost_at = _reserve_at_end(rest, leg, leg.fuel_remaining)
            if not held:
                return held, lost_at
    return True, None


def _reserve_at_end(log: Log, leg: Leg, fuel: float | None) -> tuple[bool | None, Leg | None]:
    """Whether the reserve, and at the end of the flight the alternate's fuel, is on board where a leg ends."""
    # At a stop on the way the reserve alone must be there, by its own light; the alternate is for the end.
    if leg.lands:
        kept = fuel_in_time(reserve_at(log.route.request, leg.end.position, log.eta(leg))[0], log.fuel.burn_per_h)
    else:
        kept = total(log.fuel.reserve, log.fuel.alternate)
    if fuel is None or kept is None:
        return None, None
    return (True, None) if fuel >= kept - 1e-9 else (False, leg)
