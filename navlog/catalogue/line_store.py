"""The lines along VOR airways and the magnetic field at places, as an import lays them up beside the names.

They follow from the positions: what flights else find by themselves, each process anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import pairwise

from msgspec import Struct

from navlog.nav import earth
from navlog.nav.chart import Place, Position
from navlog.nav.lines import Along, Geodesic, Lines, is_back, line_between
from navlog.nav.magnetism import MagneticField, field_at
from navlog.nav.problems import NavlogError


class LaidUpLine(Struct, array_like=True):
    """The line between two neighbouring points of an airway, its courses true, and the magnetic field in its middle.

    Its numbers stand one behind the other, as most of what is laid up are these.
    """

    distance_nm: float
    start_deg: float
    middle_deg: float
    end_deg: float
    middle_latitude_deg: float
    middle_longitude_deg: float
    middle_field: MagneticField | None


def lines_along(places: Sequence[Place | None], day: date) -> tuple[LaidUpLine | None, ...]:
    """The line of each hop from place to place; None without positions, and where both are one place."""
    return tuple(_line(start, end, day) for start, end in _ends(places))


def _line(start: Position | None, end: Position | None, day: date) -> LaidUpLine | None:
    if start is None or end is None or earth.distance_nm(start, end) < earth.COINCIDENT_NM:
        return None
    line = line_between(start, end)
    courses, middle = line.true_course, line.middle
    return LaidUpLine(
        line.distance_nm,
        courses.start_deg,
        courses.middle_deg,
        courses.end_deg,
        middle.latitude_deg,
        middle.longitude_deg,
        _field(middle, day),
    )


def fields_there(places: Iterable[Place], day: date) -> tuple[MagneticField | None, ...]:
    """The magnetic field at each place, by the model in force on a day; None where it is not known."""
    return tuple(_field(place.position, day) for place in places)


def _field(place: Position | None, day: date) -> MagneticField | None:
    try:
        return None if place is None else field_at(place, day)
    except NavlogError:
        # No model covers the day.
        return None


def take_lines(found: Iterable[LaidUpLine | None], places: Sequence[Place | None], lines: Lines) -> None:
    """Add what `lines_along` found; raises ValueError where it is not of as many places."""
    for one, (start, end) in zip(found, _ends(places), strict=True):
        if one is None or start is None or end is None:
            continue
        middle = Position(one.middle_latitude_deg, one.middle_longitude_deg)
        courses = Along(one.start_deg, one.middle_deg, one.end_deg)
        lines.add_line(start, end, Geodesic(one.distance_nm, middle, courses))
        if one.middle_field is not None:
            lines.add_field(middle, one.middle_field)


def take_fields(found: Iterable[MagneticField | None], places: Iterable[Place], lines: Lines) -> None:
    """Add what `fields_there` found; raises ValueError where it is not of as many places."""
    for field, place in zip(found, places, strict=True):
        if field is not None and place.position is not None:
            lines.add_field(place.position, field)


def _ends(places: Iterable[Place | None]) -> Iterator[tuple[Position | None, Position | None]]:
    """The positions of the two ends of each hop, in the order in which the line between them is found."""
    for start, end in pairwise(None if place is None else place.position for place in places):
        yield (end, start) if start is not None and end is not None and is_back(start, end) else (start, end)
