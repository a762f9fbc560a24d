"""Where a flight passes the points from which its alternates are flown: height, clock and fuel there."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from navlog.flightlog.records import Conditions, Leg, LegPoint, Passage, Phase
from navlog.resolve.route import PointKind


def passages(start: str | None, conditions: Conditions, legs: tuple[Leg, ...]) -> tuple[Passage, ...]:
    """Each passage of a point by its name, in flying order; the end of the flight for None.

    None where the point is behind, as in the rest of a flight.
    """
    if start is None:
        return tuple(one for one in every_passage(conditions, legs) if one.leg is legs[-1])
    return tuple(
        one
        for one in every_passage(conditions, legs)
        if (legs[0].start if one.leg is None else one.leg.end).name == start
    )


def every_passage(conditions: Conditions, legs: tuple[Leg, ...]) -> Iterator[Passage]:
    """The beginning of the flight and each point of the route, a stop with fuel taken as landing and as take-off."""
    filling, first = 0, legs[0]
    used: float | None = 0.0
    height_ft = None if on_ground(first.start) else first.start_altitude_ft
    yield Passage(None, height_ft, False, conditions.off, filling, used, conditions.on_board)
    for leg, following in zip(legs, (*legs[1:], None), strict=True):
        used = None if used is None or leg.fuel_used is None else used + leg.fuel_used
        if not leg.ends_stretch or (following is not None and following.phase is Phase.LOSING):
            continue
        ends = leg.lands or (leg is legs[-1] and on_ground(leg.end))
        height_ft = None if ends else leg.end_altitude_ft
        yield Passage(leg, height_ft, False, clock(conditions, leg.elapsed_min), filling, used, leg.fuel_remaining)
        if leg.fuel_taken is not None:
            filling, used = filling + 1, 0.0
            leaving_min = None if leg.elapsed_min is None else leg.elapsed_min + leg.stop_min
            yield Passage(leg, None, True, clock(conditions, leaving_min), filling, used, leg.fuel_taken)


def on_ground(point: LegPoint) -> bool:
    """Whether a flight that begins or ends at a point stands there: at an airport."""
    return point.kind == PointKind.AIRPORT


def clock(conditions: Conditions, elapsed_min: float | None) -> datetime | None:
    """The UTC time so many minutes after take-off; None where unknown."""
    if conditions.off is None or elapsed_min is None:
        return None
    return conditions.off + timedelta(minutes=elapsed_min)
