"""Rough distances and bearings on a sphere, to choose between places; never for a figure of the log."""

from __future__ import annotations

from collections.abc import Iterable
from math import acos, asin, atan2, cos, degrees, floor, radians, sin, sqrt
from typing import Generic, TypeAlias, TypeVar

from navlog.nav.chart import Place, Position

SAME_PLACE_NM = 2.0
"""Records of one identifier and kind from two sources are one object within this distance."""

SPHERE_NM = 3440.07
"""Mean radius of the earth (6,371.0 km); within 0.3 % of any geodesic."""

_Any = TypeVar("_Any", bound=Place)
_Kept = TypeVar("_Kept")
_Vector: TypeAlias = tuple[float, float, float]


def apart_nm(one: Position, other: Position) -> float:
    """The distance between two positions, by haversines."""
    lat1, lat2 = radians(one.latitude_deg), radians(other.latitude_deg)
    half_lat, half_lon = (lat2 - lat1) / 2.0, radians(other.longitude_deg - one.longitude_deg) / 2.0
    # Haversines keep their digits at short distances, where the law of cosines has none left.
    chord = sin(half_lat) ** 2 + cos(lat1) * cos(lat2) * sin(half_lon) ** 2
    return 2.0 * SPHERE_NM * asin(min(1.0, sqrt(chord)))


def bearing_deg(start: Position, end: Position) -> float:
    """The true bearing from `start` to `end`, 0 to 360."""
    lat1, lat2 = radians(start.latitude_deg), radians(end.latitude_deg)
    lon = radians(end.longitude_deg - start.longitude_deg)
    east = sin(lon) * cos(lat2)
    north = cos(lat1) * sin(lat2) - sin(lat1) * cos(lat2) * cos(lon)
    return degrees(atan2(east, north)) % 360.0


def angle_between_deg(one_deg: float, other_deg: float) -> float:
    """The angle between two directions, 0 to 180."""
    angle = abs(one_deg - other_deg) % 360.0
    return min(angle, 360.0 - angle)


def nearest_first(places: Iterable[_Any], near: Position) -> list[_Any]:
    """The places by distance from `near`; those without a position last."""
    return sorted(places, key=lambda one: apart_nm(near, one.position) if one.position else 1e9)


def box(center: Position, radius_nm: float) -> tuple[float, float, float, float | None]:
    """South and north limits, the center's longitude and the largest difference from it, degrees.

    The difference is None where every longitude is near enough, as about a pole.
    """
    # A degree of latitude is 59.7 NM at least: the box is a little too large, never too small.
    reach_deg = radius_nm / 59.0
    south, north = center.latitude_deg - reach_deg, center.latitude_deg + reach_deg
    widest = max(abs(south), abs(north))
    if widest >= 89.0:
        return south, north, center.longitude_deg, None
    # By its narrowest parallel, where a degree of longitude is shortest.
    return south, north, center.longitude_deg, reach_deg / cos(radians(widest))


class Cells(Generic[_Kept]):
    """Things kept by where they are, so that those around a place are found without looking at all."""

    def __init__(self, placed: Iterable[tuple[Position, _Kept]]) -> None:
        self._by_degree: dict[tuple[int, int], list[tuple[_Vector, _Kept]]] = {}
        for position, kept in placed:
            self._by_degree.setdefault(_degree(position), []).append((_vector(position), kept))

    def around(self, place: Position, radius_nm: float) -> list[tuple[float, _Kept]]:
        """What is within a radius, nearest first, each with its distance in NM by a sphere."""
        high = int(radius_nm / 60.0) + 1
        widest_deg = abs(place.latitude_deg) + high
        # About a pole every longitude is near enough.
        wide = 180 if widest_deg >= 89.0 else int(radius_nm / 59.0 / cos(radians(widest_deg))) + 1
        south, west = _degree(place)
        x, y, z = _vector(place)
        least = cos(radius_nm / SPHERE_NM)
        found: list[tuple[float, _Kept]] = []
        for row in range(south - high, south + high + 1):
            for column in range(west - wide, west + wide + 1) if wide < 180 else range(-180, 180):
                for (there_x, there_y, there_z), kept in self._by_degree.get((row, (column + 180) % 360 - 180), ()):
                    dot = x * there_x + y * there_y + z * there_z
                    if dot >= least:
                        found.append((SPHERE_NM * acos(min(1.0, dot)), kept))
        return sorted(found, key=lambda one: one[0])


def _degree(place: Position) -> tuple[int, int]:
    return floor(place.latitude_deg), floor(place.longitude_deg)


def _vector(place: Position) -> _Vector:
    latitude, longitude = radians(place.latitude_deg), radians(place.longitude_deg)
    across = cos(latitude)
    return across * cos(longitude), across * sin(longitude), sin(latitude)
