"""What the places of a flight are called where a leg begins or ends, in full and where room is short."""

from __future__ import annotations

from navlog.flightlog.records import Leg, LegPoint
from navlog.printed.rows import point_name
from navlog.resolve.route import PointKind

SHORT = {
    PointKind.TOP_OF_CLIMB: "TOC",
    PointKind.TOP_OF_DESCENT: "TOD",
    PointKind.LEVEL_CHANGE: "LEVEL",
    PointKind.CHANGEOVER: "COP",
}
"""What a place between two points is called where room is short."""


def place_name(point: LegPoint) -> str:
    """The name of a place; one that has none is called what it is: `COP`, `TOP OF CLIMB`."""
    if point.kind == PointKind.CHANGEOVER and point.ident is None:
        return "COP"
    return point.name if point.ident is not None or point.point is not None else point.kind.upper()


def short_name(point: LegPoint) -> str:
    """The name of a place on the knee page: its own, else what it is: `COP`, `TOC`, `TOD`."""
    if point.ident is None and point.point is None:
        return SHORT.get(PointKind(point.kind), point.kind.upper())
    return point_name(point.kind, point.name)


def end_name(leg: Leg, following: Leg | None) -> str:
    """The name of a leg's end; inside a stretch, where a station's range ends or begins, what is heard there."""
    return _signal(leg, following, "END OF SIGNAL", "SIGNAL AGAIN") or place_name(leg.end)


def short_end_name(leg: Leg, following: Leg | None) -> str:
    """The same on the knee page; where the stations' range ends or begins, `NO VOR` or `VOR`."""
    return _signal(leg, following, "NO VOR", "VOR") or short_name(leg.end)


def _signal(leg: Leg, following: Leg | None, ends: str, begins: str) -> str:
    """The word for the end or the beginning of guidance inside a stretch; empty where there is neither."""
    if leg.end.kind != PointKind.POSITION or leg.ends_stretch or following is None:
        return ""
    guided, goes_on = (one.part.guidance is not None for one in (leg, following))
    return "" if guided == goes_on else ends if guided else begins
