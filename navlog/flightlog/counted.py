"""The figures of a log as they are printed: columns that add, for rows and findings alike.

Running totals are rounded once from the exact sum; a leg shows the difference. Fuel used rounds up and fuel on board
down, both anew from each fuelling, so that never more is left than there is.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import accumulate

from msgspec import Struct

from navlog.flightlog.fuel import after, tanks
from navlog.flightlog.records import Leg, Log
from navlog.nav import figures
from navlog.nav.record import changed
from navlog.resolve.route import Changeover, ChangeoverKind

_COMPUTED = (ChangeoverKind.TURN, ChangeoverKind.MIDPOINT, ChangeoverKind.RECEPTION)


class Count(Struct, frozen=True):
    """A leg with its printed counts: tenths of a NM, whole minutes, fuel steps; None where unknown.

    `begun_nm` are the exact miles flown where its stretch begins, `left_steps` the fuel left at the leg's end.
    """

    log: Log
    leg: Leg
    begun_nm: float
    distance_tenths: int
    remaining_tenths: int
    time_min: int | None
    elapsed_min: int | None
    clock: datetime | None
    fuel_steps: int | None
    left_steps: int | None

    def tenths(self, from_nm: float, to_nm: float) -> int:
        """The tenths of a NM from one place of the stretch to another, which end with the distances of the legs."""
        return figures.half_up(self.begun_nm + to_nm, 0.1) - figures.half_up(self.begun_nm + from_nm, 0.1)

    def along(self, at_nm: float) -> str:
        """How far a place is along the stretch, as printed."""
        return figures.tenths(self.tenths(0.0, at_nm))

    def away(self, away_nm: float) -> str:
        """How far the station in use is, by the printed distances where the stretch begins or ends there."""
        stretch, guidance = self.leg.stretch, self.leg.part.guidance
        station, length_nm = None if guidance is None else guidance.station, stretch.length_nm
        if station is not None and station is stretch.start.station:
            return self.along(away_nm)
        if station is not None and station is stretch.end.station:
            return figures.tenths(self.tenths(length_nm - away_nm, length_nm))
        return figures.distance(away_nm)

    @property
    def changeover(self) -> Changeover | None:
        """The changeover point at the leg's end, a computed one as far from the station behind as the legs print."""
        found, at_nm = self.leg.changeover, self.leg.end_nm
        if found is None or found.kind not in _COMPUTED or self.begun_nm + at_nm < found.distance_nm:
            # A station that the flight does not pass has no printed legs from it.
            return found
        return changed(found, distance_nm=self.tenths(at_nm - found.distance_nm, at_nm) / 10.0)


def counts(log: Log) -> tuple[Count, ...]:
    """The printed counts of each leg.

    The clock is `off` plus the printed running minutes and the stops. The way to an alternate goes on from the printed
    clock and fuel of the flight where it leaves. Behind a leg of unknown time a leg shows its own.
    """
    legs, step = log.legs, log.fuel_unit.step
    distances = figures.running([leg.distance_nm for leg in legs], 0.1)
    times = _running_min(legs)
    total_tenths = distances[-1] or 0
    found = []
    flown_nm = 0.0
    off, board = leaving(log)
    shown = zip(
        legs,
        distances,
        figures.differences(distances),
        _with_stops(legs, times),
        figures.differences(times),
        since_fuelling(legs, step, log.conditions.used_before),
        strict=True,
    )
    for leg, along, length, passed_min, time_min, (fuel_steps, since_steps) in shown:
        found.append(
            Count(
                log=log,
                leg=leg,
                begun_nm=flown_nm - leg.start_nm,
                distance_tenths=length or 0,
                remaining_tenths=total_tenths - (along or 0),
                time_min=_own_minutes(leg) if time_min is None else time_min,
                elapsed_min=passed_min,
                clock=after(off, passed_min),
                fuel_steps=fuel_steps,
                left_steps=None if board is None or since_steps is None else board - since_steps,
            )
        )
        flown_nm += leg.distance_nm
        if leg.fuel_taken is not None:
            # Down again at each filling, as the fuel on board is; used counts from zero with it.
            board = figures.down(leg.fuel_taken, step)
    return tuple(found)


def elapsed_min(log: Log) -> tuple[int | None, ...]:
    """The minutes from the take-off to each leg's end as printed, stops included."""
    return _with_stops(log.legs, _running_min(log.legs))


def _with_stops(legs: tuple[Leg, ...], times_min: tuple[int | None, ...]) -> tuple[int | None, ...]:
    """The printed minutes to each leg's end with the stops before it."""
    if not [leg for leg in legs if leg.stop_min]:
        return times_min
    # Behind the leg's own row: the stop belongs to the next one's clock.
    stops_min = accumulate([figures.half_up(leg.stop_min) for leg in legs[:-1]], initial=0)
    return tuple(None if flown is None else flown + stop for flown, stop in zip(times_min, stops_min, strict=True))


def _running_min(legs: tuple[Leg, ...]) -> tuple[int | None, ...]:
    """The printed minutes flown up to each leg's end."""
    # The sheet's clock is this one, rounded once: adding rounded legs would drift from the watch.
    return figures.running([leg.time_min for leg in legs], 1.0)


def count_of(log: Log, leg: Leg) -> Count:
    """The printed counts of one leg."""
    return counts(log)[leg.number - log.legs[0].number]


def leaving(log: Log) -> tuple[datetime | None, int | None]:
    """The clock and fuel steps with which a log begins; on the way to an alternate those printed where it leaves."""
    given, step = log.conditions, log.fuel_unit.step
    begun = log.begun[-1] if log.begun else None
    if log.flight is not None and begun is not None and begun.leg is not None:
        count = count_of(log.flight, begun.leg)
        if not begun.fuelled:
            return count.clock, count.left_steps
        stop_min = figures.half_up(begun.leg.stop_min)
        clock = None if count.clock is None else count.clock + timedelta(minutes=stop_min)
        return clock, None if begun.leg.fuel_taken is None else figures.down(begun.leg.fuel_taken, step)
    # In the rest of a flight the filling goes on, so that its fuel adds up as on the sheet of the whole.
    return given.off, None if given.on_board is None else figures.down(given.on_board + given.used_before, step)


def running_fuel(tank: tuple[Leg, ...], step: float) -> tuple[int | None, ...]:
    """The steps of fuel used up to each leg's end on one filling."""
    return figures.running([leg.fuel_used for leg in tank], step, upward=True)


def since_fuelling(
    legs: tuple[Leg, ...], step: float, used_before: float = 0.0
) -> tuple[tuple[int | None, int | None], ...]:
    """The steps of fuel that each leg shows as used, and those used since the last fuelling.

    `used_before` is what was used of the first filling before the first leg.
    """
    found: list[tuple[int | None, int | None]] = []
    for tank in tanks(legs):
        since = figures.running([used_before, *(leg.fuel_used for leg in tank)], step, upward=True)
        found.extend(zip(figures.differences(since)[1:], since[1:], strict=True))
        used_before = 0.0
    return tuple(found)


def _own_minutes(leg: Leg) -> int | None:
    """The whole minutes of a leg by itself; None where they are unknown."""
    return None if leg.time_min is None else figures.half_up(leg.time_min)
