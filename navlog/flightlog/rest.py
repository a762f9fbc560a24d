"""The rest of a flight: the legs that are still ahead, with clock and fuel counted from a point already passed."""

from __future__ import annotations

from navlog.flightlog import profile
from navlog.flightlog.legs import legs
from navlog.flightlog.performance import placed_at_level
from navlog.flightlog.planning import log_of
from navlog.flightlog.records import STAYING, Conditions, Leg, Log
from navlog.flightlog.runs import Run, runs, with_holds
from navlog.nav.problems import NavlogError
from navlog.nav.record import changed
from navlog.resolve.route import Route

Place = tuple[int, float, bool]
"""Where a leg ends: its stretch, the distance along it, and whether that is after time spent there."""


def plan_rest(route: Route, conditions: Conditions, passed: Leg) -> Log | None:
    """The log of what lies ahead of the end of `passed`, numbered as in the whole flight; None at the last point.

    The whole route is planned in `conditions`, so that climbs and descents ahead lie where these put them;
    `off` and `on_board` of the conditions are the clock and the fuel at that end. Raises what `plan` raises.
    """
    try:
        flown = tuple(with_holds(route, runs(profile.steps(route, conditions)), conditions))
        behind = sum(place_of(one) <= place_of(passed) for one in flown)
        if behind == len(flown):
            return None
        first, *others = legs(flown[behind:], conditions)
        ahead = (changed(first, start=passed.end), *others)
        return log_of(route, conditions, tuple(changed(leg, number=leg.number + behind) for leg in ahead))
    except NavlogError as error:
        raise placed_at_level(error, conditions) from None


def place_of(one: Run | Leg) -> Place:
    """Where a run or leg ends, in flying order."""
    return one.stretch.number, one.end_nm, one.phase in STAYING
