"""Fuel required against fuel on board, and the reserve by rule.

14 CFR 91.151: by day 30 minutes, by night 45 minutes at normal cruise after the first intended landing;
14 CFR 91.167: 45 minutes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import datetime, timedelta
from itertools import accumulate, pairwise
from typing import TypeVar

from msgspec import Struct

from navlog.flightlog.performance import air_at, cruise, fuel_in_time
from navlog.flightlog.records import Conditions, Diversion, Fuel, Leg, Log, Passage, Phase, Run, Unknown
from navlog.nav.chart import Position
from navlog.nav.figures import down, up
from navlog.nav.record import changed
from navlog.nav.sun import is_night
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


def reserve_by_rule(request: Request, *, night: bool | None) -> tuple[float, str]:
    """Minutes of reserve that the rules of flight ask, whatever the flight states as its reserve, and which rule does.

    `night` tells whether the landing falls in the night; None where it cannot be told, and the longer reserve
    then holds.
    """
    if request.rules == "ifr":
        return _IFR_MIN, "14 CFR 91.167"
    # A landing by night asks for the night's reserve, whatever the flight says of its light.
    if request.daytime == "day" and not night:
        return _VFR_DAY_MIN, "14 CFR 91.151, day as stated by `rules vfr day`"
    if request.daytime == "night":
        return _VFR_NIGHT_MIN, "14 CFR 91.151, night as stated by `rules vfr night`"
    # The longer of the two: an unknown hour must not shorten a reserve.
    if night is None:
        return _VFR_NIGHT_MIN, "14 CFR 91.151 night, since day or night at landing is not known"
    return (_VFR_NIGHT_MIN, "14 CFR 91.151 night") if night else (_VFR_DAY_MIN, "14 CFR 91.151 day")


def reserve_at(request: Request, place: Position | None, landing: datetime | None) -> tuple[float, str]:
    """Minutes of reserve at a landing and the rule behind them: the flight's own, or the rule's where that is more.

    91.151 asks for fuel "to fly to the first point of intended landing", and each flight between two landings has
    its own: one by night asks nothing of one by day before it.
    """
    stated_min = request.reserve_min
    # The sun is asked only where it can matter.
    longest = request.rules == "ifr" or request.daytime == "night" or (stated_min or 0.0) >= _VFR_NIGHT_MIN
    night = None if longest else _by_night(place, landing)
    if stated_min is None:
        return reserve_by_rule(request, night=night)
    least = reserve_by_rule(request, night=night or False)
    return (stated_min, AS_STATED) if stated_min >= least[0] else least


def _by_night(place: Position | None, landing: datetime | None) -> bool | None:
    """Whether a landing falls in the night of 14 CFR 1.1; None where its time or place is not known."""
    if landing is None or place is None:
        return None
    return is_night(place, landing)


def reserve_after(request: Request, way: Log, passage: Passage | None) -> tuple[float, str]:
    """Minutes of reserve after the way to an alternate, begun at a passage of its point, and the rule behind them."""
    leg, left = way.legs[-1], None if passage is None else passage.at
    return reserve_at(request, leg.end.position, after(left, leg.elapsed_min))


def after(start: datetime | None, elapsed_min: float | None) -> datetime | None:
    """The time so many minutes after another; None where one of them is not known."""
    return None if start is None or elapsed_min is None else start + timedelta(minutes=elapsed_min)


def fuel_summary(
    route: Route, conditions: Conditions, legs: tuple[Leg, ...], alternates: tuple[Log, ...], behind: tuple[Run, ...]
) -> Fuel:
    """The fuel of the flight since the last take-off with fuel taken, and of each filling before it.

    `behind` is what of the same flight is flown before these legs.
    """
    burn, flown = _reserve_burn_per_h((*behind, *legs), conditions), _Flown(route.request, conditions, legs, alternates)
    *earlier, last = (
        _account(flown, burn, filling, *filled) for filling, filled in enumerate(_filled(conditions, legs))
    )
    return changed(last, earlier=tuple(earlier)) if earlier else last


class _Flown(Struct, frozen=True):
    """What an account is made of: the legs of a flight and the ways to its alternates."""

    request: Request
    conditions: Conditions
    legs: tuple[Leg, ...]
    alternates: tuple[Log, ...]

    def reserve_at_end(self, leg: Leg) -> tuple[float, str]:
        """Minutes of reserve at the landing in which a leg ends, and the rule behind them."""
        return reserve_at(self.request, leg.end.position, after(self.conditions.off, leg.elapsed_min))

    def contingency(self, used: float | None) -> float | None:
        """The contingency fuel of a trip."""
        return contingency_of(used, self.conditions.contingency_percent)


def earlier_fillings(log: Log) -> Iterator[tuple[tuple[Leg, ...], Fuel]]:
    """The legs and the fuel of each filling of the tanks before the last, whose own is the flight's."""
    return zip(tanks(log.legs), log.fuel.earlier, strict=False)


def _account(flown: _Flown, burn: float | None, filling: int, board: float | None, tank: tuple[Leg, ...]) -> Fuel:
    """The fuel of one filling of the tanks, counted from 0: its legs, and what is on board at the take-off on it.

    The reserve is that of its last landing, or of that at an alternate from there where it is longer.
    """
    extra = flown.conditions.extra
    beyond = [(way, one) for way in flown.alternates for one in way.begun if one.leg is tank[-1] is flown.legs[-1]]
    asked = [flown.reserve_at_end(tank[-1]), *(reserve_after(flown.request, way, one) for way, one in beyond)]
    reserve_min, rule = max(asked, key=lambda one: one[0])
    used, reserve = total(*[leg.fuel_used for leg in tank]), fuel_in_time(reserve_min, burn)
    contingency, alternate = flown.contingency(used), _most(way.totals.fuel for way, _ in beyond)
    required = total(used, alternate, contingency, reserve, extra)
    diversion = None
    for way in (*_diversions(flown, burn, filling), *_landings(flown, burn, tank)):
        needed = total(way.used, way.alternate, way.contingency, way.reserve, extra)
        # Once a diversion cannot be told, what the flight requires cannot be: unknown is never less than known.
        if required is not None and (needed is None or needed > required):
            required, diversion = needed, way
    margin = None if board is None or required is None else board - required
    return Fuel(
        on_board=board,
        used=used,
        alternate=alternate,
        contingency=contingency,
        extra=extra,
        burn_per_h=burn,
        reserve=reserve,
        reserve_min=reserve_min,
        reserve_rule=rule,
        required=required,
        remaining=tank[-1].fuel_remaining,
        margin=margin,
        margin_min=margin / burn * 60.0 if margin is not None and burn else None,
        endurance_min=_endurance_min(tank, board, used, burn),
        diversion=diversion,
    )


def fuel_on_way(flight: Log, way: Log, begun: Passage | None) -> Fuel:
    """The fuel of the way to an alternate from where `flight` leaves for it: what is on board there, and the reserve.

    That is the landing's at the alternate. The extra fuel is the flight's, as is the contingency, of what is flown to
    that place; there is no further alternate. Without a passage what is on board is not known.
    """
    of_flight, used = flight.fuel, way.totals.fuel
    behind = None if begun is None else begun.used
    contingency = contingency_of(behind, flight.conditions.contingency_percent)
    burn = of_flight.burn_per_h
    reserve_min, rule = reserve_after(flight.route.request, way, begun)
    reserve = fuel_in_time(reserve_min, burn)
    required = total(used, contingency, reserve, of_flight.extra)
    margin = None if begun is None or begun.left is None or required is None else begun.left - required
    return changed(
        of_flight,
        on_board=None if begun is None else begun.left,
        used=used,
        # 14 CFR 91.167 asks for fuel to one alternate and the reserve after it, not for one beyond.
        alternate=0.0,
        contingency=contingency,
        reserve=reserve,
        reserve_min=reserve_min,
        reserve_rule=rule,
        required=required,
        remaining=way.legs[-1].fuel_remaining,
        margin=margin,
        margin_min=margin / burn * 60.0 if margin is not None and burn else None,
        endurance_min=_endurance_min(way.legs, None if begun is None else begun.left, used, burn),
        diversion=None,
        earlier=(),
    )


def _endurance_min(
    legs: tuple[Leg, ...], board: float | None, used: float | None, burn_per_h: float | None
) -> float | None:
    """Minutes until the tanks are empty from the take-off with them filled; None where it cannot be told.

    The legs as planned, then at the cruise burn what they leave.
    """
    flown_min = total(*[leg.time_min for leg in legs])
    # Tanks dry before the end have no burn to go on at; that they do is an error of its own.
    if board is None or used is None or flown_min is None or not burn_per_h or used > board:
        return None
    return flown_min + (board - used) / burn_per_h * 60.0


def total(*amounts: _Amount | None) -> _Amount | None:
    """The sum of amounts; None where one of them is not known."""
    return None if None in amounts else sum(amounts)  # type: ignore[arg-type]  # none of them is None


def _diversions(flown: _Flown, burn_per_h: float | None, filling: int) -> Iterator[Diversion]:
    """The ways to alternates from points on the way, on one filling of the tanks, counted from 0."""
    for log in flown.alternates:
        start, airport = log.route.points[0].name, log.route.points[-1].name
        for passage in log.begun:
            # From the destination it is the alternate of the account, counted there.
            if passage.filling == filling and passage.leg is not flown.legs[-1]:
                minutes, rule = reserve_after(flown.request, log, passage)
                reserve, contingency = fuel_in_time(minutes, burn_per_h), flown.contingency(passage.used)
                yield Diversion(start, airport, passage.used, log.totals.fuel, contingency, reserve, minutes, rule)


def _landings(flown: _Flown, burn_per_h: float | None, tank: tuple[Leg, ...]) -> Iterator[Diversion]:
    """The landings on one filling of the tanks before its last, each an end of its own with a reserve of its own."""
    if not [leg for leg in tank[:-1] if leg.lands]:
        return
    used: float | None = 0.0
    for leg in tank[:-1]:
        used = total(used, leg.fuel_used)
        if leg.lands:
            minutes, rule = flown.reserve_at_end(leg)
            reserve, contingency = fuel_in_time(minutes, burn_per_h), flown.contingency(used)
            yield Diversion(leg.end.name, None, used, 0.0, contingency, reserve, minutes, rule)


def tanks(legs: tuple[Leg, ...]) -> list[tuple[Leg, ...]]:
    """The legs flown on each filling of the tanks."""
    ends = [end for end, leg in enumerate(legs[:-1], 1) if leg.fuel_taken is not None]
    return [legs[first:end] for first, end in pairwise((0, *ends, len(legs)))] if ends else [legs]


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
    for tank, account in zip(tanks(legs), (*fuel.earlier, fuel), strict=True):
        used, last = used_on(tank), tank[-1] is legs[-1]
        if last:
            contingency, alternate = fuel.contingency, fuel.alternate
        else:
            contingency, alternate = contingency_of(total(*[leg.fuel_used for leg in tank]), contingency_percent), 0.0
        kept = total(*map(counted, (account.reserve, fuel.extra, contingency, alternate)))
        # Backward from what is kept: used up to the end less used up to here is what the rest burns.
        known = [one for one in used if one is not None]
        if kept is not None and len(known) == len(used):
            needed: list[_Amount | None] = [known[-1] - one + kept for one in known]
        else:
            needed = [total(_burnt(tank, used, here, len(tank) - 1, counted), kept) for here in range(len(tank))]
        way = account.diversion
        if way is not None:
            turns = [index for index, leg in enumerate(tank) if leg.ends_stretch and leg.end.name == way.start]
            kept = total(*map(counted, (way.alternate, way.contingency, way.reserve, fuel.extra)))
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


def _reserve_burn_per_h(flown: tuple[Run, ...], conditions: Conditions) -> float | None:
    """The burn of normal cruise: as stated, else that of the last cruise flown, else the table's at the top reached."""
    if conditions.burn_per_h is not None:
        return conditions.burn_per_h
    # The last cruise is nearest to the conditions in which a reserve would be flown (91.151: `normal cruising speed`).
    for one in reversed(flown):
        if one.phase is Phase.CRUISE and one.time_min and one.fuel_used is not None:
            return one.fuel_used / one.time_min * 60.0
    stretch = flown[-1].stretch
    top_ft = max(one.end_altitude_ft for one in flown)
    air = air_at(conditions, stretch.end.position, top_ft)
    going = cruise(conditions, air, stretch.tas_kt)
    return going.burn_per_h if going is not None else None


def _most(amounts: Iterable[float | None]) -> float | None:
    """The largest of amounts of fuel: 0 without one, None where one is not known."""
    known = tuple(amounts)
    return None if None in known else max((one for one in known if one is not None), default=0.0)
