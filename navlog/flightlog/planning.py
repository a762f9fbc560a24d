"""Stretches to legs: a route and its conditions become a log, or the log of what is still ahead.

Makes no findings, only says why a number is unknown.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from navlog.flightlog import profile
from navlog.flightlog.conditions import conditions as conditions_of
from navlog.flightlog.fuel import LEAST, fuel_on_way, fuel_summary, least_fuel, total
from navlog.flightlog.legs import NO_FUEL, NO_OFF, legs
from navlog.flightlog.marks import ends_told, lowland_ft
from navlog.flightlog.performance import placed_at_level
from navlog.flightlog.records import (
    STAYING,
    Conditions,
    Fuel,
    FuelUnit,
    Leg,
    LegPoint,
    Log,
    Passage,
    Phase,
    Run,
    Totals,
    Unknown,
)
from navlog.flightlog.runs import runs, with_holds
from navlog.nav.problems import NavlogError
from navlog.nav.record import changed
from navlog.request.records import Request
from navlog.request.references import References
from navlog.resolve.flight import resolve_flight
from navlog.resolve.lookup import ChartLookup
from navlog.resolve.route import PointKind, Route

__all__ = [
    "Conditions",
    "Fuel",
    "FuelUnit",
    "Leg",
    "LegPoint",
    "Log",
    "Passage",
    "Phase",
    "Totals",
    "Unknown",
    "conditions_of",
    "plan",
    "plan_rest",
    "planned",
]


def planned(request: Request, references: References, catalogue: ChartLookup | None) -> Log:
    """The log of a flight, with what the notices that it names change. Raises the flight's problems."""
    log = _as_written(request, references, catalogue)
    if not request.notices:
        return log
    from navlog.flightlog.noticed import with_notices

    return with_notices(log, references, catalogue)


def _as_written(request: Request, references: References, catalogue: ChartLookup | None) -> Log:
    """The log of a flight without its notices. Raises the flight's problems."""
    terrain = references.terrain(request.terrain) if request.terrain is not None else None
    route = resolve_flight(request, catalogue, terrain)
    return plan(route, conditions_of(route, references, catalogue))


def plan(route: Route, conditions: Conditions | None = None) -> Log:
    """The log of a route in `conditions`, by default those that the flight itself states.

    Raises NavlogError where the stated fuel or wind cannot be counted, or the aircraft file does not cover
    a height or temperature flown.
    """
    return _planned_after((), route, conditions if conditions is not None else conditions_of(route))


def _planned_after(behind: tuple[Run, ...], route: Route, conditions: Conditions) -> Log:
    """The log of a route that is flown after other runs, as a way to an alternate is; raises as `plan` does."""
    try:
        flown = legs(with_holds(route, runs(profile.steps(route, conditions)), conditions), conditions)
        return _log_of(route, conditions, flown, behind)
    except NavlogError as error:
        raise placed_at_level(error, conditions, route.request) from None


def _log_of(route: Route, conditions: Conditions, flown: tuple[Leg, ...], behind: tuple[Run, ...]) -> Log:
    """The log that legs make up: totals, fuel and alternates beside them; `behind` is flown before them."""
    times = [leg.time_min for leg in flown]
    totals = Totals(
        distance_nm=sum([leg.distance_nm for leg in flown]),
        time_min=total(*times),
        fuel=flown[-1].fuel_used_total,
    )
    alternates = tuple(
        # Planned before the account, which needs their fuel; they get their own account from it afterwards.
        changed(_planned_after((*behind, *flown), way, _beside(way, conditions, begun)), begun=begun)
        for way, begun in zip(route.alternates, _begun_at(route, conditions, flown), strict=True)
    )
    fuel = fuel_summary(route, conditions, flown, alternates, behind)
    ground_ft = lowland_ft(route.points, flown)
    whole = tuple(
        [
            changed(
                leg,
                marks=end.marks,
                told_by=end.told_by,
                other_setting=end.other_setting,
                fuel_least=least,
                unknown=(*leg.unknown, *end.unknown, *missing),
            )
            for leg, end, (least, missing) in zip(
                flown, ends_told(route, flown, ground_ft), least_fuel(flown, fuel, conditions), strict=True
            )
        ]
    )
    flight = Log(route, conditions, whole, fuel, totals, ground_ft)
    # The passages point at legs, so they are told again of the legs that carry the least fuel.
    begun = _begun_at(route, conditions, whole) if alternates else ()
    ways = (_leaving(flight, way, there) for way, there in zip(alternates, begun, strict=True))
    return changed(flight, alternates=tuple(ways))


def _leaving(flight: Log, way: Log, begun: tuple[Passage, ...]) -> Log:
    """The way to an alternate with its account: the flight's reserve, and the contingency of what is flown to it."""
    fuel = fuel_on_way(flight, way, begun[-1] if begun else None)
    legs = tuple(
        changed(leg, fuel_least=least, unknown=(*_as_left(leg.unknown, flight, way), *missing))
        for leg, (least, missing) in zip(way.legs, least_fuel(way.legs, fuel, way.conditions), strict=True)
    )
    return changed(way, fuel=fuel, legs=legs, begun=begun, flight=flight)


def _as_left(unknown: tuple[Unknown, ...], flight: Log, way: Log) -> tuple[Unknown, ...]:
    """Why figures of the way to an alternate are not known, where it is the flight's clock or fuel at its start.

    The least fuel is left out: it goes by the account of the way.
    """
    start, reasons = way.route.points[0].name, dict[str, str]()
    if flight.conditions.off is not None:
        reasons[NO_OFF] = f"it is not known when the route is left at {start}"
    if flight.conditions.on_board is not None:
        reasons[NO_FUEL] = f"it is not known what is left at {start}"
    return tuple(changed(one, reason=reasons.get(one.reason, one.reason)) for one in unknown if one.key != LEAST)


def _begun_at(route: Route, conditions: Conditions, flown: tuple[Leg, ...]) -> tuple[tuple[Passage, ...], ...]:
    """Each passage of the point where each way to an alternate begins.

    An alternate that names no point is flown from the end of the route alone.
    """
    return tuple(
        _passages(way.points[0].name if asked.start is not None else None, conditions, flown)
        for way, asked in zip(route.alternates, route.request.alternates, strict=False)
    )


def _beside(alternate: Route, given: Conditions, begun: tuple[Passage, ...]) -> Conditions:
    """The conditions of the way to an alternate: the clock and the fuel of the last passage of its point, no pattern.

    It begins at the height at which the route passes there, the lowest where it does so more than once.
    """
    place = alternate.request.route[-1].span
    # The last passage: least fuel and latest clock, so that what holds from there holds from the earlier ones.
    at, left = (begun[-1].at, begun[-1].left) if begun else (None, None)
    beside = changed(given, off=at, on_board=left, used_before=0.0, taxi=0.0, fuel_at_stops=(), pattern_ft=None)
    heights_ft = [one.height_ft for one in begun if one.height_ft is not None]
    # The lowest, and none where one passage is on the ground: climbing from there takes most, and binds soonest.
    entry_ft = min(heights_ft) if heights_ft and len(heights_ft) == len(begun) else None
    return changed(beside, entry_ft=entry_ft, level_span=place)


def _passages(start: str | None, conditions: Conditions, legs: tuple[Leg, ...]) -> tuple[Passage, ...]:
    """Each passage of a point by its name, in flying order; the end of the flight for None.

    None where the point is behind, as in the rest of a flight.
    """
    if start is None:
        return tuple(one for one in _every_passage(conditions, legs) if one.leg is legs[-1])
    return tuple(
        one
        for one in _every_passage(conditions, legs)
        if (legs[0].start if one.leg is None else one.leg.end).name == start
    )


def _every_passage(conditions: Conditions, legs: tuple[Leg, ...]) -> Iterator[Passage]:
    """The beginning of the flight and each point of the route, a stop with fuel taken as landing and as take-off."""
    filling, first = 0, legs[0]
    used: float | None = 0.0
    height_ft = None if _on_ground(first.start) else first.start_altitude_ft
    yield Passage(None, height_ft, False, conditions.off, filling, used, conditions.on_board)
    for leg, following in zip(legs, (*legs[1:], None), strict=True):
        used = None if used is None or leg.fuel_used is None else used + leg.fuel_used
        # Height left over an airport is lost there: the passage is the landing after it.
        if not leg.ends_stretch or (following is not None and following.phase is Phase.LOSING):
            continue
        ends = leg.lands or (leg is legs[-1] and _on_ground(leg.end))
        height_ft = None if ends else leg.end_altitude_ft
        yield Passage(leg, height_ft, False, _clock(conditions, leg.elapsed_min), filling, used, leg.fuel_remaining)
        if leg.fuel_taken is not None:
            filling, used = filling + 1, 0.0
            leaving_min = None if leg.elapsed_min is None else leg.elapsed_min + leg.stop_min
            # Twice at a stop with fuel: a diversion on landing has what was left, one after take-off what was taken.
            yield Passage(leg, None, True, _clock(conditions, leaving_min), filling, used, leg.fuel_taken)


def _on_ground(point: LegPoint) -> bool:
    """Whether a flight that begins or ends at a point stands there: at an airport."""
    return point.kind == PointKind.AIRPORT


def _clock(conditions: Conditions, elapsed_min: float | None) -> datetime | None:
    """The UTC time so many minutes after take-off; None where unknown."""
    if conditions.off is None or elapsed_min is None:
        return None
    return conditions.off + timedelta(minutes=elapsed_min)


_End = tuple[int, float, bool]
"""Where a leg ends: its stretch, the distance along it, and whether that is after time spent there."""


def plan_rest(route: Route, conditions: Conditions, passed: Leg) -> Log | None:
    """The log of what lies ahead of the end of `passed`, numbered as in the whole flight; None at the last point.

    The whole route is planned in `conditions`, so that climbs and descents ahead lie where these put them;
    `off` and `on_board` of the conditions are the clock and the fuel at that end. Raises what `plan` raises.
    """
    try:
        flown = with_holds(route, runs(profile.steps(route, conditions)), conditions)
        # By order and not by number: in the new conditions climbs may be longer, and legs cut elsewhere.
        behind = sum(flying_order(one) <= flying_order(passed) for one in flown)
        if behind == len(flown):
            return None
        first, *others = legs(flown[behind:], conditions)
        ahead = (changed(first, start=passed.end), *others)
        numbered = tuple(changed(leg, number=leg.number + behind) for leg in ahead)
        return _log_of(route, conditions, numbered, flown[:behind])
    except NavlogError as error:
        raise placed_at_level(error, conditions, route.request) from None


def flying_order(one: Run) -> _End:
    """Where a run or leg ends, in flying order."""
    return one.stretch.number, one.end_nm, one.phase in STAYING
