"""Fuel required against fuel on board, and the reserve by rule.

14 CFR 91.151: by day 30 minutes, by night 45 minutes at normal cruise after the first intended landing;
14 CFR 91.167: 45 minutes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
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
    board, used = _since_fuelling(conditions, legs)
    reserve = None if burn is None else reserve_min / 60.0 * burn
    contingency = None if used is None else used * conditions.contingency_percent / 100.0
    alternate = _alternate_fuel(legs, alternates)
    required = total(used, alternate, contingency, reserve, conditions.extra)
    diversion = None
    for way in _diversions(conditions, legs, alternates):
        needed = total(way.used, way.alternate, way.contingency, reserve, conditions.extra)
        # Once a diversion cannot be told, what the flight requires cannot be: unknown is never less than known.
        if required is not None and (needed is None or needed > required):
            required, diversion = needed, way
    margin = None if board is None or required is None else board - required
    return Fuel(
        on_board=board,
        used=used,
        alternate=alternate,
        contingency=contingency,
        extra=conditions.extra,
        burn_per_h=burn,
        reserve=reserve,
        reserve_min=reserve_min,
        reserve_rule=rule,
        required=required,
        remaining=legs[-1].fuel_remaining,
        margin=margin,
        margin_min=margin / burn * 60.0 if margin is not None and burn else None,
        endurance_min=_endurance_min(legs, board, used, burn),
        diversion=diversion,
    )


def fuel_on_way(flight: Log, way: Log, begun: Passage | None) -> Fuel:
    """The fuel of the way to an alternate from where `flight` leaves for it: what is on board there, and the reserve.

    That is the flight's, as are the extra fuel and the contingency of what is flown to that place; there is no
    further alternate. Without a passage what is on board is not known.
    """
    of_flight, used = flight.fuel, way.totals.fuel
    behind = None if begun is None else begun.used
    contingency = None if behind is None else behind * flight.conditions.contingency_percent / 100.0
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
    """Minutes until the tanks are empty from the last take-off with fuel taken; None where it cannot be told.

    The flight as planned, then at the cruise burn what it leaves.
    """
    flown_min = total(*(leg.time_min for leg in tanks(legs)[-1]))
    # Tanks dry before the end have no burn to go on at; that they do is an error of its own.
    if board is None or used is None or flown_min is None or not burn_per_h or used > board:
        return None
    return flown_min + (board - used) / burn_per_h * 60.0


def total(*amounts: _Amount | None) -> _Amount | None:
    """The sum of amounts; None where one of them is not known."""
    return None if None in amounts else sum(amounts)  # type: ignore[arg-type]  # none of them is None


def _diversions(conditions: Conditions, legs: tuple[Leg, ...], alternates: tuple[Log, ...]) -> Iterator[Diversion]:
    """The ways to alternates from points on the way, on the last filling of the tanks; the fuel before it is gone."""
    last_filling = sum(leg.fuel_taken is not None for leg in legs)
    for log in alternates:
        start, airport = log.route.points[0].name, log.route.points[-1].name
        for passage in log.begun:
            # From the destination it is the alternate of the account, counted there.
            if passage.filling == last_filling and passage.leg is not legs[-1]:
                used = passage.used
                contingency = None if used is None else used * conditions.contingency_percent / 100.0
                yield Diversion(start, airport, used, log.totals.fuel, contingency)


def tanks(legs: tuple[Leg, ...]) -> list[tuple[Leg, ...]]:
    """The legs flown on each filling of the tanks."""
    ends = [end for end, leg in enumerate(legs[:-1], 1) if leg.fuel_taken is not None]
    return [legs[first:end] for first, end in pairwise((0, *ends, len(legs)))]


def _since_fuelling(conditions: Conditions, legs: tuple[Leg, ...]) -> tuple[float | None, float | None]:
    """Fuel on board at the last take-off with fuel taken, and used since."""
    taken = [leg.fuel_taken for leg in legs if leg.fuel_taken is not None]
    return taken[-1] if taken else conditions.on_board, total(*(leg.fuel_used for leg in tanks(legs)[-1]))


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
        contingency = fuel.contingency if last else _contingency_of(tank, contingency_percent)
        alternate = fuel.alternate if last else 0.0
        kept = total(*(counted(part) for part in (fuel.reserve, fuel.extra, contingency, alternate)))
        # Backward from what is kept: used up to the end less used up to here is what the rest burns.
        needed = [_ahead(one, used[-1], kept) for one in used]
        if last and fuel.diversion is not None:
            turns = [
                index for index, leg in enumerate(tank) if leg.ends_stretch and leg.end.name == fuel.diversion.start
            ]
            parts = (fuel.diversion.alternate, fuel.diversion.contingency, fuel.reserve, fuel.extra)
            kept = total(*(counted(part) for part in parts))
            # Where the point is passed more than once the last passage binds: up to it the diversion must be in reach.
            for index in range(turns[-1] + 1 if turns else 0):
                needed[index] = _more(needed[index], _ahead(used[index], used[turns[-1]], kept))
        found += needed
    return tuple(found)


def _ahead(used: _Amount | None, used_there: _Amount | None, kept: _Amount | None) -> _Amount | None:
    """What is burnt from here to a place ahead and kept there."""
    return None if used is None or used_there is None or kept is None else used_there - used + kept


def _more(one: _Amount | None, other: _Amount | None) -> _Amount | None:
    """The larger amount; None where either is not known."""
    return None if one is None or other is None else max(one, other)


def _running_use(tank: tuple[Leg, ...]) -> tuple[float | None, ...]:
    """The fuel used up to each leg's end on one filling."""
    used = [leg.fuel_used for leg in tank]
    return tuple(accumulate(used, total) if None in used else accumulate(used))


def _contingency_of(tank: tuple[Leg, ...], percent: float) -> float | None:
    """The contingency fuel on one filling."""
    used = total(*(leg.fuel_used for leg in tank))
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
