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
from navlog.flightlog.performance import fuel_in_time, with_cruise_beyond
from navlog.flightlog.planning import flying_order, plan_rest
from navlog.flightlog.records import Conditions, Leg, Log
from navlog.nav.notices import Notice
from navlog.nav.problems import NavlogError
from navlog.nav.record import changed
from navlog.nav.units import Amount
from navlog.studies.revision_fuel import ByPlan, Reading, by_plan, reading_of
from navlog.studies.revision_notices import AsWritten, NoticeChange, notice_changes, rest_with_notices
from navlog.studies.revision_reach import Around, Field, closed_by, fields_within_reach, without_headings_to
from navlog.studies.revision_timing import PartFlown, Passed, parts_flown, passed_points
from navlog.studies.revision_wind import WindFound, conditions_with, wind_found, without_headings

__all__ = ["Around", "AsWritten", "Field", "PartFlown", "Revision", "WindFound", "revise"]


class _AheadOtherwise(Struct, frozen=True):
    """What lies ahead at so many times the planned burn or with other fuel, and where the reserve is lost."""

    times: float
    rest: Log
    reserve_holds: bool | None
    lost_at: Leg | None


class Revision(Struct, frozen=True):
    """What is known in flight at the last point passed.

    `plan` is what the planned burn leaves there, `reading` the fuel read, None without one.
    `rest` is the log of what lies ahead, None at the end of the flight. `holds_by_plan` tells whether the reserve is
    on board at every landing ahead, and the alternate's fuel at the last; None where that is not known. `lost_at` is
    the leg at whose end it is not. `measured` is the same at the measured burn, however short the time flown, where
    the reading is more than 1 gal under what the planned burn leaves by then. `fields` are those within reach where
    either is lost. `noticed` are the notices that count ahead otherwise than in the plan. `beyond` says where the
    cruise table ends before a height that the way has in the wind found, and the nearest row is counted. `notices` are
    all that the flight hands in. `unfilled` is what lies ahead should a reading taken for that on landing be all that
    is on board after refuelling.
    """

    planned: Log
    parts: tuple[PartFlown, ...]
    wind: WindFound | None
    plan: ByPlan
    reading: Reading | None
    rest: Log | None
    holds_by_plan: bool | None
    lost_at: Leg | None
    fields: tuple[Field, ...]
    measured: _AheadOtherwise | None = None
    noticed: tuple[NoticeChange, ...] = ()
    beyond: str | None = None
    notices: tuple[Notice, ...] = ()
    unfilled: _AheadOtherwise | None = None

    @property
    def passed(self) -> Passed:
        """The last point passed."""
        return self.parts[-1].passed

    @property
    def fuel(self) -> float | None:
        """Fuel on board there in the log's unit, as read or by the planned burn."""
        return self.plan.least if self.reading is None else self.reading.fuel

    @property
    def after_refuelling(self) -> bool | None:
        """Whether that fuel is on board after the tanks are filled there, else on landing; None where none are."""
        return None if self.plan.taken is None else self.reading is not None and self.reading.refuelled

    @property
    def worst(self) -> Log | None:
        """The log of what lies ahead at the measured burn, where that is worse than the planned one."""
        return self.rest if self.measured is None else self.measured.rest

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
    written: AsWritten | None = None,
) -> Revision:
    """The flight re-figured from points passed with their times, headings held and the fuel now on board.

    `actuals` and `headings` are as typed: names of points with times in UTC, and with directions such as `213M`.
    With `written` the notices ahead are judged by the clock as it runs, else those count that the plan has.
    Raises a problem for a time, a point or a fuel that cannot be; see `revision_timing.passed_points`.
    """
    points = passed_points(log, actuals, headings)
    parts = parts_flown(log, points)
    wind, last, plan = wind_found(parts), points[-1], by_plan(log, parts)
    reading = reading_of(log, last, plan, fuel) if fuel is not None else None
    rest, beyond = _rest(log, _conditions_ahead(log, last, plan, reading, wind), last.leg)
    if rest is not None and written is not None:
        rest = rest_with_notices(log, rest, last.leg, written)
    rest = None if rest is None else without_headings(rest, wind)
    on_board = plan.least if reading is None else reading.fuel
    holds, lost_at = _reserve(rest) if rest is not None else _reserve_at_end(log, last.leg, on_board)
    measured = None if rest is None else _at_measured_burn(log, last, rest, plan, reading)
    unfilled = None if rest is None else _with_reading_alone(rest, last.leg, plan, reading)
    handed = () if written is None else written.notices
    noticed = () if rest is None else tuple(notice_changes(log, rest))
    found = Revision(
        log, parts, wind, plan, reading, rest, holds, lost_at, (), measured, noticed, beyond, handed, unfilled
    )
    if found.reserve_holds is not False or found.worst is None or last.leg.end.position is None:
        return found
    fields = fields_within_reach(found.worst, last.leg.end.position, around, handed)
    return changed(found, fields=without_headings_to(fields) if wind is not None and wind.headwind_alone else fields)


def _rest(log: Log, ahead: Conditions, passed: Leg) -> tuple[Log | None, str | None]:
    """What lies ahead, and what the cruise table says of a height that the way does not have in the plan's wind.

    The aeroplane is in the air: a hold in the climb may come to lie beyond the table, and there is an answer all the
    same, by the nearest row. Raises what `plan_rest` raises of other matters.
    """
    try:
        return plan_rest(log.route, ahead, passed), None
    except NavlogError as error:
        (problem, *_) = error.problems
        if problem.code != "outside-table":
            raise
    return plan_rest(log.route, with_cruise_beyond(ahead, 50_000.0, 100.0), passed), problem.message


def _worse(by_plan: bool | None, measured: _AheadOtherwise | None) -> bool | None:
    """The worse of two answers: lost before not known before held."""
    answers = (by_plan,) if measured is None else (by_plan, measured.reserve_holds)
    return False if False in answers else None if None in answers else True


def _at_measured_burn(
    log: Log, last: Passed, ahead: Log, plan: ByPlan, reading: Reading | None
) -> _AheadOtherwise | None:
    """The way ahead at the measured burn; None where that is not known or no more than 1 gal went beyond the plan.

    What the planned burn takes in the time flown, climb and all, is the measure, so that neither a climb nor lost
    time counts as a burn above the planned one. A few minutes tell it as well: a leak must not wait to be seen.
    """
    if reading is None or reading.far is None or reading.far > 0.0 or reading.refuelled:
        return None
    if plan.filled is None or plan.left is None:
        return None
    # Where the plan takes next to nothing, a printed step of it stands for that.
    times = (plan.filled - reading.fuel) / max(plan.filled - plan.left, log.fuel_unit.step)
    given = ahead.conditions
    burn = None if given.burn_per_h is None else given.burn_per_h * times
    rest = plan_rest(ahead.route, changed(given, burn_per_h=burn, aircraft_unit=given.aircraft_unit * times), last.leg)
    return None if rest is None else _AheadOtherwise(times, rest, *_reserve(rest))


def _with_reading_alone(ahead: Log, passed: Leg, plan: ByPlan, reading: Reading | None) -> _AheadOtherwise | None:
    """The way ahead with no more than a reading that may be of before or after refuelling; None where it is not."""
    if reading is None or reading.refuelled or plan.taken is None or reading.fuel >= plan.taken:
        return None
    rest = plan_rest(ahead.route, changed(ahead.conditions, on_board=reading.fuel, used_before=0.0), passed)
    return None if rest is None else _AheadOtherwise(1.0, rest, *_reserve(rest))


def alternates_of(rest: Log | None) -> tuple[Log, ...]:
    """The ways to alternates from points ahead or here, with the clock and fuel of what lies ahead."""
    return () if rest is None else tuple(way for way in rest.alternates if way.begun)


def alternate_closed_by(revision: Revision, way: Log) -> str | None:
    """The notice that closes an alternate when it is reached."""
    last = way.legs[-1]
    return closed_by(revision.notices, last.end.name, way.conditions.off, last.elapsed_min)


def reserve_holds_at(way: Log) -> bool | None:
    """Whether the reserve is on board at an alternate; None where that is not known."""
    left, kept = way.legs[-1].fuel_remaining, way.fuel.reserve
    return None if left is None or kept is None else left >= kept - 1e-9


def _conditions_ahead(
    log: Log, last: Passed, plan: ByPlan, reading: Reading | None, wind: WindFound | None
) -> Conditions:
    """The conditions from the last point on: its clock and fuel, after a landing there those of the next take-off."""
    off, on_board, used = last.moment, plan.least, 0.0
    if reading is not None:
        on_board = reading.fuel
    elif plan.filled is not None and plan.least is not None:
        used = plan.filled - plan.least
    if last.leg.lands:
        off += timedelta(minutes=last.leg.stop_min)
        # What was read on landing is no longer there once the tanks are filled.
        if plan.taken is not None and (reading is None or not reading.refuelled):
            on_board, used = plan.taken, 0.0
    return changed(conditions_with(log.conditions, wind), off=off, on_board=on_board, used_before=used)


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
