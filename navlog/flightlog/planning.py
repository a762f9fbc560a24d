"""Stretches to legs: a route and its conditions become a log.

Makes no findings, only says why a number is unknown.
"""

from __future__ import annotations

from navlog.flightlog import profile
from navlog.flightlog.conditions import conditions as conditions_of
from navlog.flightlog.fuel import fuel_summary
from navlog.flightlog.legs import legs
from navlog.flightlog.marks import with_marks
from navlog.flightlog.passages import passages
from navlog.flightlog.performance import placed_at_level
from navlog.flightlog.records import Conditions, Fuel, FuelUnit, Leg, LegPoint, Log, Passage, Phase, Totals, Unknown
from navlog.flightlog.runs import runs, with_holds
from navlog.nav.problems import NavlogError
from navlog.nav.record import changed
from navlog.resolve.route import Route

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
    "log_of",
    "plan",
]


def plan(route: Route, conditions: Conditions | None = None) -> Log:
    """The log of a route in `conditions`, by default those that the flight itself states.

    Raises NavlogError where the stated fuel or wind cannot be counted, or the aircraft file does not cover
    a height or temperature flown.
    """
    given = conditions if conditions is not None else conditions_of(route)
    try:
        return log_of(route, given, legs(with_holds(route, runs(profile.steps(route, given)), given), given))
    except NavlogError as error:
        raise placed_at_level(error, given) from None


def log_of(route: Route, conditions: Conditions, flown: tuple[Leg, ...]) -> Log:
    """The log that legs make up: totals, fuel and alternates beside them."""
    flown = with_marks(route, flown)
    times = [leg.time_min for leg in flown]
    totals = Totals(
        distance_nm=sum(leg.distance_nm for leg in flown),
        time_min=None if None in times else sum(time for time in times if time is not None),
        fuel=flown[-1].fuel_used_total,
    )
    alternates: tuple[Log, ...] = ()
    for way, asked in zip(route.alternates, route.request.alternates, strict=False):
        # An alternate that names no point is flown from the end of the route alone.
        begun = passages(way.points[0].name if asked.start is not None else None, conditions, flown)
        alternates += (changed(plan(way, beside(way, conditions, begun)), begun=begun),)
    return Log(route, conditions, flown, fuel_summary(route, conditions, flown, alternates), totals, alternates)


def beside(alternate: Route, given: Conditions, begun: tuple[Passage, ...]) -> Conditions:
    """The conditions of the way to an alternate: no clock, no fuel on board, no pattern.

    It begins at the height at which the route passes its point, the lowest where it does so more than once.
    """
    place = alternate.request.route[-1].span
    without_clock = changed(given, off=None, on_board=None, taxi=0.0, fuel_at_stops=(), pattern_ft=None)
    heights_ft = [one.height_ft for one in begun if one.height_ft is not None]
    entry_ft = min(heights_ft) if heights_ft and len(heights_ft) == len(begun) else None
    return changed(without_clock, entry_ft=entry_ft, level_span=place)
