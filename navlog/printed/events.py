"""What the places of a flight are called where a leg begins or ends, and what the only receiver did there."""

from __future__ import annotations

from navlog.flightlog.records import Leg, LegPoint
from navlog.printed.rows import Row
from navlog.resolve.route import PointKind


def place_name(point: LegPoint) -> str:
    """The name of a place; one that has none is called what it is: `COP`, `TOP OF CLIMB`."""
    if point.kind == PointKind.CHANGEOVER and point.ident is None:
        return "COP"
    return point.name if point.ident is not None or point.point is not None else point.kind.upper()


def end_name(leg: Leg, following: Leg | None) -> str:
    """The name of a leg's end; inside a stretch, where a station's range ends or begins, what is heard there."""
    if leg.end.kind == PointKind.POSITION and not leg.ends_stretch and following is not None:
        guided, goes_on = (one.part.guidance is not None for one in (leg, following))
        if guided != goes_on:
            return "END OF SIGNAL" if guided else "SIGNAL AGAIN"
    return place_name(leg.end)


def tuned_away(arriving: Row) -> bool:
    """Whether the only receiver was set to a cross radial at the leg's end."""
    leg = arriving.leg
    alone = arriving.log.route.request.equipment.vor == 1
    return alone and any(not mark.by.flown for mark in leg.told_by)
