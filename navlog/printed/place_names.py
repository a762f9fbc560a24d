"""What the places of a flight are called where a leg begins or ends, in full and where room is short."""

from __future__ import annotations

from navlog.flightlog.records import LegPoint
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
    """The name of a place; one that has none is called what it is: `COP`, `TOP OF CLIMB`, `NO VOR`."""
    if point.kind == PointKind.CHANGEOVER and point.ident is None:
        return "COP"
    return point.kind.upper() if point.name == point.kind else point.name


def short_name(point: LegPoint) -> str:
    """The name of a place on the knee page: its own, else what it is: `COP`, `TOC`, `TOD`."""
    if point.name == point.kind:
        return SHORT.get(PointKind(point.kind), point.kind.upper())
    return point_name(point.kind, point.name)
