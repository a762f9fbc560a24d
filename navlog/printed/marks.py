"""What tells a place in flight, in the words that every sheet uses."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.facts import north_mark
from navlog.flightlog.records import Leg, Mark
from navlog.nav import figures
from navlog.resolve.route import MarkKind, PointKind


def radial(mark: Mark) -> str:
    """The radial that the needle reads: `213`, `087T` of a true-referenced station."""
    return figures.course(mark.by.radial_deg) + north_mark(mark.station)


def mark_text(mark: Mark) -> str:
    """What tells the place: `QHB DME 12.4`, `QEL R-213 crosses`."""
    if mark.kind is MarkKind.DME:
        return f"{mark.station.ident} DME {figures.distance(mark.dme_nm)}"
    return f"{mark.station.ident} R-{radial(mark)} crosses"


def beside(mark: Mark) -> Iterator[str]:
    """What must be known beside it: a published radial that is another, and why it may not be received."""
    if mark.kind is MarkKind.RADIAL and mark.by.makeup_differs:
        yield f"published R-{figures.course(mark.by.published_radial_deg)}"
    yield from (f"may not be received, {trouble.value}" for trouble in mark.troubles)


def in_brackets(mark: Mark) -> str:
    """The same in brackets behind it; empty where there is nothing."""
    told = "; ".join(beside(mark))
    return f" ({told})" if told else ""


def by_time_alone(leg: Leg) -> bool:
    """Whether the leg ends at a place that nothing but the clock tells."""
    if leg.ends_stretch:
        return leg.stretch.candidates is not None and not leg.marks
    return leg.end.kind == PointKind.POSITION
