"""Length, courses and variation of the line between two places, remembered: routes share their lines."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import NamedTuple

from navlog.nav import earth
from navlog.nav.chart import Position
from navlog.nav.magnetism import variation_deg
from navlog.resolve.route import Along

REMEMBERED = 65_536


class Line(NamedTuple):
    """The geodesic between two places: its length and its true courses at start, middle and end."""

    distance_nm: float
    middle: Position
    true_course: Along


@lru_cache(maxsize=REMEMBERED)
def line(start: Position, end: Position) -> Line:
    """The line between two places; raises a `coincident-points` problem where they are one."""
    found = earth.inverse(start, end)
    middle, middle_deg = earth.point_along(start, end, found.distance_nm / 2.0)
    return Line(found.distance_nm, middle, Along(found.course_deg, middle_deg, found.end_course_deg))


@lru_cache(maxsize=REMEMBERED)
def variation(start: Position, end: Position, day: date) -> Along:
    """The model's variation at the start, middle and end of the line between two places on a day."""
    places = (start, line(start, end).middle, end)
    return Along(*(variation_deg(place, day) for place in places))
