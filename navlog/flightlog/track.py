"""The way flown, cut at points and changeovers: course, variation and place at any distance along it."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from navlog.nav import earth
from navlog.nav.angles import normalize_deg
from navlog.nav.chart import Position
from navlog.nav.guidance import track_true_deg
from navlog.nav.lines import Along
from navlog.nav.magnetism import VariationAlong, variation_deg
from navlog.resolve.route import GuidedPart, Stretch

CLOSE_NM = 1e-9
"""Distances from take-off are sums of floats; nearer than this is the same place."""


class Piece(Struct, frozen=True):
    """A part of a stretch; `from_nm` and `to_nm` are how far its two ends lie from take-off along the way."""

    stretch: Stretch
    part: GuidedPart
    from_nm: float
    to_nm: float


def pieces(stretches: Iterable[Stretch]) -> tuple[Piece, ...]:
    """The pieces of neighbouring stretches."""
    found: list[Piece] = []
    along_nm = 0.0
    for stretch in stretches:
        for part in stretch.parts:
            from_nm, along_nm = along_nm, along_nm + (part.end_nm - part.start_nm)
            found.append(Piece(stretch, part, from_nm, along_nm))
    return tuple(found)


def settled(track: Iterable[Piece], along_nm: float) -> float:
    """A distance from take-off, moved to the end of a piece that lies as near as rounding."""
    ends = (end for piece in track for end in (piece.from_nm, piece.to_nm))
    return next((end for end in ends if abs(end - along_nm) <= CLOSE_NM), along_nm)


def position_at(stretch: Stretch, along_nm: float) -> Position | None:
    """The place at a distance along a stretch; a charted length is laid out evenly on the geodesic."""
    found = _on_geodesic(stretch, along_nm)
    return None if found is None else found[0]


def course_at(stretch: Stretch, part: GuidedPart, along_nm: float) -> tuple[float | None, Position | None]:
    """The true course at a distance along a stretch, degrees, and the place where positions are known.

    Without positions the course is what the set course means by the station's north, or by the variation
    where the station's declination is not known; else the stated course.
    """
    found = _on_geodesic(stretch, along_nm)
    if found is not None:
        return found[1], found[0]
    if part.guidance is not None and part.guidance.set_course_deg is not None:
        true_deg = track_true_deg(part.guidance)
        # A charted radial counts from the station's north; where that is not known today's variation is nearest to it.
        if true_deg is None and stretch.variation is not None:
            true_deg = normalize_deg(part.guidance.set_course_deg + stretch.variation.middle_deg)
        return true_deg, None
    return (stretch.true_course.middle_deg if stretch.true_course is not None else None), None


def variation_at(stretch: Stretch, part: GuidedPart, along_nm: float) -> tuple[float | None, str]:
    """The variation at a distance along a stretch, degrees, and its source.

    Linear between the model's values at start, middle and end, near a pole the model's own there. Without positions
    the declination of the guiding station stands in for it, with source "station"; of a true-referenced one it says
    nothing about magnetic north.
    """
    along, fraction = stretch.variation, along_nm / stretch.length_nm
    if fraction != 0.5 and isinstance(along, VariationAlong) and along.bends:
        place = position_at(stretch, along_nm)
        if place is not None:
            return variation_deg(place, along.day), stretch.variation_source
    if along is not None:
        return _between(along, fraction), stretch.variation_source
    station = part.guidance.station if part.guidance is not None else None
    # A station turned to true north has declination 0, which is no variation.
    if station is None or station.declination_deg is None or station.true_referenced:
        return None, "unknown"
    return station.declination_deg, "station"


def _between(along: Along | VariationAlong, fraction: float) -> float:
    """The value at a fraction of a stretch, linear from start to middle and from middle to end."""
    if fraction == 0.5:
        # A leg that is the whole stretch: the model need not be asked at the ends.
        return along.middle_deg
    if fraction < 0.5:
        return along.start_deg + (along.middle_deg - along.start_deg) * fraction * 2.0
    return along.middle_deg + (along.end_deg - along.middle_deg) * (fraction * 2.0 - 1.0)


def _on_geodesic(stretch: Stretch, along_nm: float) -> tuple[Position, float] | None:
    start, end, computed_nm = stretch.start.position, stretch.end.position, stretch.distance.computed
    if start is None or end is None or computed_nm is None:
        return None
    # The charted length is flown, the positions are the chart's: one is spread evenly over the other.
    fraction = along_nm / stretch.length_nm
    if fraction == 0.5 and isinstance(stretch.variation, VariationAlong) and stretch.true_course is not None:
        # A leg that is the whole stretch: its middle is known from there.
        return stretch.variation.middle, stretch.true_course.middle_deg
    return earth.point_along(start, end, fraction * computed_nm)
