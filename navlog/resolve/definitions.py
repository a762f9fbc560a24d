"""What the definitions of two points say of the way between them: radials and distances from one station."""

from __future__ import annotations

from math import cos, radians, sqrt

from navlog.nav.angles import difference_deg
from navlog.nav.chart import Bearing
from navlog.resolve.makeup import made_up_distance_nm, taken_from
from navlog.resolve.route import Point


def stated_distance_nm(start: Point, end: Point) -> float | None:
    """The distance by which one point is defined from the other."""
    for one, other in ((start, end), (end, start)):
        if one.station is not None and (made_nm := made_up_distance_nm(other.fix, one.station)) is not None:
            return made_nm
    return None


def made_up_radial_deg(place: Point, other: Point) -> float | None:
    """The radial of the station `place` by which the file defines the fix `other`."""
    return None if place.station is None else other.defined_radial_deg(place.station)


def defined_distance_nm(start: Point, end: Point) -> float | None:
    """How far apart two points are by the file's own radials and distances from one station, on the plane, NM.

    One of them may be that station itself. None where no station defines both.
    """
    for one in defined_from(start):
        for other in defined_from(end):
            same = (one.station, one.station_kind) == (other.station, other.station_kind)
            if not same or one.distance_nm is None or other.distance_nm is None:
                continue
            if 0.0 in (one.distance_nm, other.distance_nm):
                return one.distance_nm + other.distance_nm
            if one.radial_deg is not None and other.radial_deg is not None:
                between = radians(difference_deg(one.radial_deg, other.radial_deg))
                squared = one.distance_nm**2 + other.distance_nm**2
                # The law of cosines; rounding may leave a little less than nothing.
                return sqrt(max(0.0, squared - 2.0 * one.distance_nm * other.distance_nm * cos(between)))
    return None


def defined_from(place: Point) -> tuple[Bearing, ...]:
    """How a point lies from stations by the file: a station from itself, a fix by its definition."""
    if place.station is not None:
        return (taken_from(place.station, None, 0.0),)
    return place.definition


def first_known(*values: float | None) -> float | None:
    """The first value that is not None."""
    return next((value for value in values if value is not None), None)
