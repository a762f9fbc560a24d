"""The line between two places: its length, its middle and its true courses; and what an import found of lines."""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct

from navlog.nav import earth
from navlog.nav.angles import reciprocal_deg
from navlog.nav.chart import Position
from navlog.nav.magnetism import MagneticField

REMEMBERED = 16_384
"""More than a library of 10,000 flights over the United States asks for."""
_ROOM = 2 * REMEMBERED
"""More than there are lines and places on all VOR airways of the United States, both ways."""


class Along(Struct, frozen=True, gc=False):
    """A value at the start, middle and end of a stretch, degrees."""

    start_deg: float
    middle_deg: float
    end_deg: float

    def reversed(self) -> Along:
        """The same course flown the other way."""
        return Along(*map(reciprocal_deg, (self.end_deg, self.middle_deg, self.start_deg)))


class Geodesic(Struct, frozen=True, gc=False):
    """The geodesic between two places: its length and its true courses at start, middle and end."""

    distance_nm: float
    middle: Position
    true_course: Along

    def reversed(self) -> Geodesic:
        """The same line the other way."""
        # Both ways have one middle to the last bit, so that the magnetic model is asked there once.
        return Geodesic(self.distance_nm, self.middle, self.true_course.reversed())


@lru_cache(maxsize=REMEMBERED)
def line_between(start: Position, end: Position) -> Geodesic:
    """The line between two places; raises a `coincident-points` problem where they are one."""
    if is_back(start, end):
        return line_between(end, start).reversed()
    found = earth.inverse_once(start, end)
    # The middle of the line, since halfway between two latitudes and longitudes lies beside it.
    middle, middle_deg = earth.travel(start, found.course_deg, found.distance_nm / 2.0)
    return Geodesic(found.distance_nm, middle, Along(found.course_deg, middle_deg, found.end_course_deg))


def is_back(start: Position, end: Position) -> bool:
    """Whether the line from `start` to `end` is found as the reverse of the way back."""
    return (end.latitude_deg, end.longitude_deg) < (start.latitude_deg, start.longitude_deg)


class Lines:
    """The lines between places, and the magnetic field at places, of which some were found beforehand.

    They follow from the positions alone: it is the same who found them, and when.
    """

    def __init__(self) -> None:
        self._lines: dict[tuple[Position, Position], Geodesic] = {}
        self._fields: dict[Position, MagneticField] = {}

    def add_line(self, start: Position, end: Position, line: Geodesic) -> None:
        """Remember what `line_between` found of a line, which then tells the way back too."""
        self._lines[start, end] = line
        if len(self._lines) > _ROOM:
            del self._lines[next(iter(self._lines))]

    def add_field(self, place: Position, field: MagneticField) -> None:
        """Remember what `field_at` found at a place."""
        self._fields[place] = field
        if len(self._fields) > _ROOM:
            del self._fields[next(iter(self._fields))]

    def between(self, start: Position, end: Position) -> Geodesic:
        """What `line_between` finds."""
        found = self._lines.get((start, end))
        if found is None:
            back = self._lines.get((end, start))
            # Not kept: what is made of it is.
            found = line_between(start, end) if back is None else back.reversed()
        return found

    def distance_nm(self, start: Position, end: Position) -> float:
        """The length of the line, which is the same both ways; raises what `line_between` raises."""
        found = self._lines.get((start, end)) or self._lines.get((end, start))
        return line_between(start, end).distance_nm if found is None else found.distance_nm

    def field_at(self, place: Position) -> MagneticField | None:
        """The magnetic field at a place; None where it was not found beforehand."""
        return self._fields.get(place)
