"""A published figure of an airway beside the one measured again: what every part of the audit compares."""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct

from navlog.nav import earth
from navlog.nav.chart import Place, Segment, Service
from navlog.nav.guidance import StatedDistance

BROKEN = (Service.DISCONTINUED, Service.BORDER)


class Checked(StrEnum):
    """What of an airway is compared."""

    RADIAL = "radial"
    COURSE = "course at a fix"
    LENGTH = "length"
    CHANGEOVER = "changeover point"
    PAIR = "pair of changeover points"
    GAP = "discontinued part"

    @property
    def unit(self) -> str:
        """What its figures are in."""
        return "degrees" if self in (Checked.RADIAL, Checked.COURSE, Checked.GAP) else "NM"


class FigureComparison(Struct, frozen=True):
    """One published figure beside the computed one, in degrees or NM.

    `at` is the point whose figure it is, on the way from `start` to `end`. `difference` is published less
    computed, None where nothing can be computed; `note` says more about the case.
    """

    checked: Checked
    airway: str
    location: str | None
    start: str
    end: str
    at: str
    published: float
    computed: float | None
    difference: float | None
    note: str | None = None


def measured(segment: Segment, start: Place | None, end: Place | None) -> StatedDistance:
    """The length of a segment as published and between the positions of its two points."""
    computed = None
    if start is not None and end is not None and start.position is not None and end.position is not None:
        computed = earth.distance_nm(start.position, end.position)
    return StatedDistance(segment.distance_nm, computed)
