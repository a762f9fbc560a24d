"""The line between two places: by their positions, remembered, and by how the file defines them."""

from __future__ import annotations

from math import cos, radians, sqrt

from navlog.nav.angles import difference_deg, normalize_deg
from navlog.nav.chart import Bearing, Segment
from navlog.nav.guidance import StatedDistance, track_true_deg
from navlog.nav.lines import Along, Lines
from navlog.nav.magnetism import VariationAlong, model_for
from navlog.nav.problems import NavlogError, problem_error
from navlog.request.records import Request, RouteWord
from navlog.resolve.makeup import made_up_distance_nm, taken_from
from navlog.resolve.route import GuidedPart, Point


def true_course(
    segment: Segment | None, start: Point, end: Point, variation_deg: float | None, lines: Lines
) -> tuple[Along | None, str]:
    """The geodesic's course at start, middle and end, and its source; the stated one where a position is missing.

    `variation_deg` is the flight's stated one, by which a stated magnetic course counts.
    """
    if start.position is not None and end.position is not None:
        return lines.between(start.position, end.position).true_course, "geodesic"
    stated = segment.course if segment is not None else None
    if stated is not None:
        degrees, north = stated
        shift_deg = 0.0 if north == "T" else variation_deg
        if shift_deg is not None:
            true_deg = normalize_deg(degrees + shift_deg)
            # A stated course is one number for the whole leg; how it turns along the way nobody said.
            return Along(true_deg, true_deg, true_deg), "stated"
    return None, "station north"


def variation_along(
    start: Point, end: Point, request: Request, lines: Lines
) -> tuple[Along | VariationAlong | None, str]:
    """The file's variation, else the model's at start, middle and end, and its source; None without positions.

    Raises a `no-magnetic-model` problem for a day that no model covers.
    """
    stated_deg = request.variation_deg
    if stated_deg is not None:
        return Along(stated_deg, stated_deg, stated_deg), "file"
    if start.position is None or end.position is None:
        return None, "station"
    model_for(request.day)
    places = start.position, lines.between(start.position, end.position).middle, end.position
    return VariationAlong(*places, request.day, *map(lines.field_at, places)), "model"


def distance_between(
    segment: Segment | None, start: Point, end: Point, word: RouteWord, lines: Lines
) -> StatedDistance:
    """How far apart two points are, as charted and as computed.

    Raises NavlogError where neither is to be had, or the points are one place.
    """
    charted = segment.distance_nm if segment is not None else None
    computed = defined = None
    if start.position is not None and end.position is not None:
        try:
            computed = lines.distance_nm(start.position, end.position)
        except NavlogError:
            message = f"`{start.name}` and `{end.name}` are the same place"
            raise problem_error("zero-length-leg", message, span=word.span) from None
    # Only where no chart has it: a make-up is measured from the station, not along the airway.
    elif charted is None:
        charted = _stated_distance_nm(start, end)
    else:
        defined = _defined_distance_nm(start, end)
    if charted is None and computed is None:
        raise problem_error(
            "unknown-distance",
            f"no distance is known from `{start.name}` to `{end.name}`",
            span=word.span,
            hint=f"give both a position, or state `direct {start.name} - {end.name} 12nm`",
        )
    return StatedDistance(charted, computed, defined)


def _stated_distance_nm(start: Point, end: Point) -> float | None:
    """The distance by which one point is defined from the other."""
    for one, other in ((start, end), (end, start)):
        if one.station is not None and (made_nm := made_up_distance_nm(other.fix, one.station)) is not None:
            return made_nm
    return None


def made_up_radial_deg(place: Point, other: Point) -> float | None:
    """The radial of the station `place` by which the file defines the fix `other`."""
    return None if place.station is None else other.defined_radial_deg(place.station)


def _defined_distance_nm(start: Point, end: Point) -> float | None:
    """How far apart two points are by the file's own radials and distances from one station, on the plane, NM.

    One of them may be that station itself. None where no station defines both.
    """
    for one in _defined_from(start):
        for other in _defined_from(end):
            same = (one.station, one.station_kind) == (other.station, other.station_kind)
            if not same or one.distance_nm is None or other.distance_nm is None:
                continue
            # One of them is the station: no radial is needed to say how far the other is.
            if 0.0 in (one.distance_nm, other.distance_nm):
                return one.distance_nm + other.distance_nm
            if one.radial_deg is not None and other.radial_deg is not None:
                between = radians(difference_deg(one.radial_deg, other.radial_deg))
                squared = one.distance_nm**2 + other.distance_nm**2
                # The law of cosines; rounding may leave a little less than nothing.
                return sqrt(max(0.0, squared - 2.0 * one.distance_nm * other.distance_nm * cos(between)))
    return None


def _defined_from(place: Point) -> tuple[Bearing, ...]:
    """How a point lies from stations by the file: a station from itself, a fix by its definition."""
    if place.station is not None:
        return (taken_from(place.station, None, 0.0),)
    return place.definition


def first_known(*values: float | None) -> float | None:
    """The first value that is not None."""
    return next((value for value in values if value is not None), None)


def part_course_deg(parts: tuple[GuidedPart, ...]) -> float | None:
    """The true course that the set course of the first guided part means by its station's north; None without one."""
    return next((track_true_deg(part.guidance) for part in parts if part.guidance is not None), None)
