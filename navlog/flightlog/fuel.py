"""Fuel required against fuel on board, and the reserve by rule.

14 CFR 91.151: by day 30 minutes, by night 45 minutes at normal cruise after the first intended landing;
14 CFR 91.167: 45 minutes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import accumulate, pairwise
from typing import TypeVar

from navlog.flightlog.performance import air_at, cruise
from navlog.flightlog.records import Conditions, Diversion, Fuel, Leg, Log, Passage, Phase, Unknown
from navlog.nav.figures import down, up
from navlog.nav.record import changed
from navlog.request.records import Request
from navlog.resolve.route import Route

_Amount = TypeVar("_Amount", int, float)
"""Fuel in the log's unit, or in whole printed steps of it."""

LEAST = "fuel_least_gal"
_VFR_DAY_MIN = 30.0
_VFR_NIGHT_MIN = 45.0
_IFR_MIN = 45.0
LONGEST_MIN = max(_VFR_DAY_MIN, _VFR_NIGHT_MIN, _IFR_MIN)
"""No rule of flight asks for a longer reserve."""

AS_STATED = "as stated"
"""What stands for the rule where the flight states its reserve."""


def reserve_rule(request: Request, *, night: bool | None) -> tuple[float, str]:
    """Minutes of reserve and the rule behind them.

    `night` tells whether a landing falls in the night; None where it cannot be told, and the longer reserve
    then holds.
    """
    if request.reserve_min is not None:
        return request.reserve_min, AS_STATED
    if request.rules == "ifr":
        return _IFR_MIN, "14 CFR 91.167"
    if request.daytime == "day":
        return _VFR_DAY_MIN, "14 CFR 91.151, day as stated by `rules vfr day`"
    if request.daytime == "night":
        return _VFR_NIGHT_MIN, "14 CFR 91.151, night as stated by `rules vfr night`"
    # The longer of the two: an unknown hour must not shorten a reserve.
    if night is None:
        return _VFR_NIGHT_MIN, "14 CFR 91.151 night, since day or night at landing is not known"
    return (_VFR_NIGHT_MIN, "14 CFR 91.151 night") if night else (_VFR_DAY_MIN, "14 CFR 91.151 day")


def _lands_at_night(route: Route, conditions: Conditions, legs: tuple[Leg, ...]) -> bool | None:
    """Whether any landing falls in the night of 14 CFR 1.1; None where a time or place is not known."""
    from datetime import timedelta

    if route.request.rules == "ifr" or route.request.daytime or route.request.reserve_min is not None:
        return None
    from navlog.nav.sun import is_night

    dark = False
    for leg in legs:
        # 91.151 counts from a first landing, which a stop is too: one of them in the dark asks for the night's reserve.
        if leg.lands or leg is legs[-1]:
            if conditions.off is None or leg.elapsed_min is None or leg.end.position is None:
                return None
            dark = dark or is_night(leg.end.position, conditions.off + timedelta(minutes=leg.elapsed_min))
    return dark


def fuel_summary(route: Route, conditions: Conditions, legs: tuple[Leg, ...], alternates: tuple[Log, ...]) -> Fuel:
    """The fuel of the flight since the last take-off with fuel taken."""
    reserve_min, rule = reserve_rule(route.request, night=_lands_at_night(route, conditions, legs))
    burn = _reserve_burn_per_h(legs, conditions)
    reserve = None if burn is None else reserve_min / 60.0 * burn
    kept = Fuel(
        on_board=None,
        used=None,
        alternate=_alternate_fuel(legs, alternates),
        contingency=None,
        extra=conditions.extra,
        burn_per_h=burn,
        reserve=reserve,
        reserve_min=reserve_min,
        reserve_rule=rule,
        required=None,
        remaining=None,
        margin=None,
        margin_min=None,
    )
    *_, (board, tank) = _filled(conditions, legs)
    ways = _diversions(conditions, legs, alternates, sum(leg.fuel_taken is not None for leg in legs))
    return _accounted(kept, board, tank, conditions.contingency_percent, ways)


def earlier_fillings(log: Log) -> Iterator[tuple[tuple[Leg, ...], Fuel]]:
    """The legs and the fuel of each filling of the tanks before the last, whose own is the flight's."""
    conditions, kept = log.conditions, changed(log.fuel, alternate=0.0, diversion=None)
    for number, (board, tank) in enumerate(_filled(conditions, log.legs)):
        if tank[-1] is not log.legs[-1]:
            ways = _diversions(conditions, log.legs, log.alternates, number)
            yield tank, _accounted(kept, board, tank, conditions.contingency_percent, ways)


def _accounted(
    kept: Fuel, board: float | None, tank: tuple[Leg, ...], contingency_percent: float, ways: Iterable[Diversion]
) -> Fuel:
    """The fuel of one filling of the tanks, with the reserve, extra and alternate fuel of `kept`."""
    used = total(*(leg.fuel_used for leg in tank))
    contingency = contingency_of(used, contingency_percent)
    required = total(used, kept.alternate, contingency, kept.reserve, kept.extra)
    diversion = None
    for way in ways:
        needed = total(way.used, way.alternate, way.contingency, kept.reserve, kept.extra)
        # Once a diversion cannot be told, what the flight requires cannot be: unknown is never less than known.
        if required is not None and (needed is None or needed > required):
            required, diversion = needed, way
    margin, burn = None if board is None or required is None else board - required, kept.burn_per_h
    return changed(
        kept,
        on_board=board,
        used=used,
        contingency=contingency,
        required=required,
        remaining=tank[-1].fuel_remaining,
        margin=margin,
        margin_min=margin / burn * 60.0 if margin is not None and burn else None,
        endurance_min=_endurance_min(tank, board, used, burn),
        diversion=diversion,
    )


def fuel_on_way(flight: Log, way: Log, begun: Passage | None) -> Fuel:
    """The fuel of the way to an alternate from where `flight` leaves for it: what is on board there, and the reserve.

    That is the flight's, as are the extra fuel and the contingency of what is flown to that place; there is no
    further alternate. Without a passage what is on board is not known.
    """
    of_flight, used = flight.fuel, way.totals.fuel
    behind = None if begun is None else begun.used
    contingency = contingency_of(behind, flight.conditions.contingency_percent)
    required = total(used, contingency, of_flight.reserve, of_flight.extra)
    margin = None if begun is None or begun.left is None or required is None else begun.left - required
    burn = of_flight.burn_per_h
    return changed(
        of_flight,
        on_board=None if begun is None else begun.left,
        used=used,
        # 14 CFR 91.167 asks for fuel to one alternate and the reserve after it, not for one beyond.
        alternate=0.0,
        contingency=contingency,
        required=required,
        remaining=way.legs[-1].fuel_remaining,
        margin=margin,
        margin_min=margin / burn * 60.0 if margin is not None and burn else None,
        endurance_min=_endurance_min(way.legs, None if begun is None else begun.left, used, burn),
        diversion=None,
    )


def _endurance_min(
    legs: tuple[Leg, ...], board: float | None, used: float | None, burn_per_h: float | None
) -> float | None:
    """Minutes until the tanks are empty from the take-off with them filled; None where it cannot be told.

    The legs as planned, then at the cruise burn what they leave.
    """
    flown_min = total(*(leg.time_min for leg in legs))
    # Tanks dry before the end have no burn to go on at; that they do is an error of its own.
    if board is None or used is None or flown_min is None or not burn_per_h or used > board:
        return None
    return flown_min + (board - used) / burn_per_h * 60.0


def total(*amounts: _Amount | None) -> _Amount | None:
    """The sum of amounts; None where one of them is not known."""
    return None if None in amounts else sum(amounts)  # type: ignore[arg-type]  # none of them is None


def _diversions(
    conditions: Conditions, legs: tuple[Leg, ...], alternates: tuple[Log, ...], filling: int
) -> Iterator[Diversion]:
    """The ways to alternates from points on the way, on one filling of the tanks, counted from 0."""
    for log in alternates:
        start, airport = log.route.points[0].name, log.route.points[-1].name
        for passage in log.begun:
            # From the destination it is the alternate of the account, counted there.
            if passage.filling == filling and passage.leg is not legs[-1]:
                contingency = contingency_of(passage.used, conditions.contingency_percent)
                yield Diversion(start, airport, passage.used, log.totals.fuel, contingency)


def tanks(legs: tuple[Leg, ...]) -> list[tuple[Leg, ...]]:
    """The legs flown on each filling of the tanks."""
    ends = [end for end, leg in enumerate(legs[:-1], 1) if leg.fuel_taken is not None]
    return [legs[first:end] for first, end in pairwise((0, *ends, len(legs)))]


def _filled(conditions: Conditions, legs: tuple[Leg, ...]) -> Iterator[tuple[float | None, tuple[Leg, ...]]]:
    """What is on board at the take-off on each filling of the tanks, and the legs flown on it."""
    board = conditions.on_board
    for tank in tanks(legs):
        yield board, tank
        board = tank[-1].fuel_taken


def least_fuel(
    legs: tuple[Leg, ...], fuel: Fuel, conditions: Conditions
) -> Iterator[tuple[float | None, tuple[Unknown, ...]]]:
    """The least fuel that must be left at the end of each leg, and why it is not known in gallons, if it is not."""
    for amount in least_by_part(
        legs, fuel, conditions.contingency_percent, used_on=_running_use, counted=lambda amount: amount
    ):
        if amount is not None and conditions.fuel_unit.gal is not None:
            yield amount, ()
        else:
            yield amount, (Unknown(LEAST, _why_no_least(fuel, conditions, known=amount is not None)),)


def _why_no_least(fuel: Fuel, conditions: Conditions, *, known: bool) -> str:
    """What is missing for the least fuel to go on with in gallons; `known` tells whether it is known in the unit."""
    if known:
        return f"fuel is in {conditions.fuel_unit.name} and no density is given"
    return "the reserve is not known" if fuel.reserve is None else "the fuel needed ahead is not known"


def least_by_part(
    legs: tuple[Leg, ...],
    fuel: Fuel,
    contingency_percent: float,
    *,
    used_on: Callable[[tuple[Leg, ...]], tuple[_Amount | None, ...]],
    counted: Callable[[float | None], _Amount | None],
) -> tuple[_Amount | None, ...]:
    """The fuel that must be left at each leg's end to go on as planned; None where a part of it is not known.

    That is what is burnt up to the next fuelling or the last landing and what is kept there: reserve, extra and
    contingency, at the end the alternate's fuel as well. Up to a point from which a diversion takes more, that is
    what counts. `used_on` tells what is used up to each leg's end on one filling, and `counted` counts a part:
    exactly, or in the steps of a sheet, whose columns must add as printed.
    """
    found: list[_Amount | None] = []
    for tank in tanks(legs):
        used, last = used_on(tank), tank[-1] is legs[-1]
        trip = total(*(leg.fuel_used for leg in tank))
        contingency = fuel.contingency if last else contingency_of(trip, contingency_percent)
        alternate = fuel.alternate if last else 0.0
        kept = total(*(counted(part) for part in (fuel.reserve, fuel.extra, contingency, alternate)))
        # Backward from what is kept: used up to the end less used up to here is what the rest burns.
        needed = [total(_burnt(tank, used, here, len(tank) - 1, counted), kept) for here in range(len(tank))]
        if last and fuel.diversion is not None:
            turns = [
                index for index, leg in enumerate(tank) if leg.ends_stretch and leg.end.name == fuel.diversion.start
            ]
            parts = (fuel.diversion.alternate, fuel.diversion.contingency, fuel.reserve, fuel.extra)
            kept = total(*(counted(part) for part in parts))
            # Where the point is passed more than once the last passage binds: up to it the diversion must be in reach.
            for index in range(turns[-1] + 1 if turns else 0):
                needed[index] = _more(needed[index], total(_burnt(tank, used, index, turns[-1], counted), kept))
        found += needed
    return tuple(found)


def _burnt(
    tank: tuple[Leg, ...],
    used: tuple[_Amount | None, ...],
    here: int,
    there: int,
    counted: Callable[[float | None], _Amount | None],
) -> _Amount | None:
    """What is burnt between the ends of two legs of a filling, of which `used` tells what is used up to each end."""
    first, last = used[here], used[there]
    if first is not None and last is not None:
        return last - first
    # What was burnt before is not known: the legs ahead count by themselves.
    return counted(total(0.0, *(leg.fuel_used for leg in tank[here + 1 : there + 1])))


def _more(one: _Amount | None, other: _Amount | None) -> _Amount | None:
    """The larger amount; None where either is not known."""
    return None if one is None or other is None else max(one, other)


def _running_use(tank: tuple[Leg, ...]) -> tuple[float | None, ...]:
    """The fuel used up to each leg's end on one filling."""
    used = [leg.fuel_used for leg in tank]
    return tuple(accumulate(used, total) if None in used else accumulate(used))


def contingency_of(used: float | None, percent: float) -> float | None:
    """The contingency fuel of a trip; None where a share is wanted of one that is not known."""
    if not percent:
        return 0.0
    return None if used is None else used * percent / 100.0


def printed_margin(fuel: Fuel, step: float) -> int | None:
    """The steps of fuel beyond what is required as printed: on board rounded down, each part rounded up.

    None where a part is not known.
    """
    steps = [None if part is None else up(part, step) for part in fuel.parts]
    known = [one for one in steps if one is not None]
    if fuel.on_board is None or len(known) < len(steps):
        return None
    # Each part as its column prints it, each rounded against the flight; an exact margin would not add up on paper.
    return down(fuel.on_board, step) - sum(known)


def _reserve_burn_per_h(legs: tuple[Leg, ...], conditions: Conditions) -> float | None:
    """The burn of normal cruise: as stated, else that of the last cruise leg, else the table's at the top reached."""
    if conditions.burn_per_h is not None:
        return conditions.burn_per_h
    # The last cruise is nearest to the conditions in which a reserve would be flown (91.151: `normal cruising speed`).
    for leg in reversed(legs):
        if leg.phase is Phase.CRUISE and leg.time_min and leg.fuel_used is not None:
            return leg.fuel_used / leg.time_min * 60.0
    stretch = legs[-1].stretch
    top_ft = max(leg.end_altitude_ft for leg in legs)
    air = air_at(conditions, stretch.end.position, top_ft)
    going = cruise(conditions, air, stretch.tas_kt)
    return going.burn_per_h if going is not None else None


def _alternate_fuel(legs: tuple[Leg, ...], alternates: tuple[Log, ...]) -> float | None:
    """The most fuel that an alternate from the destination takes: 0 without one, None where not known."""
    from_end = [log.totals.fuel for log in alternates if any(one.leg is legs[-1] for one in log.begun)]
    # The largest of several is not known either while one of them is not.
    if None in from_end:
        return None
    return max((fuel for fuel in from_end if fuel is not None), default=0.0)
