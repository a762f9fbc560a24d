"""The whole network of airways in one compact record, read from the catalogue in one go.

Every segment of every airway whose courses are radials is there twice, once a direction, as numbers in columns;
what they say is read out of the same `Airway`s that a flight is resolved from (see `network_building`).
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from math import asin, cos, radians, sin, sqrt

from msgspec import Struct

from navlog.catalogue.nearness import SPHERE_NM
from navlog.nav.chart import Position

NO_LIMIT_FT = 99_999.0
"""Stands where no maximum is published, and as a minimum where no height would do."""

_SAME_POINT_NM = 0.5


class Network(Struct, frozen=True, dict=True):
    """Points, and links from one to a neighbour along an airway, each in one direction.

    The links that leave point `p` are those from `first[p]` up to `first[p + 1]`; columns of links have one entry
    a link. `mea_ft` holds in the link's direction and is 0 where none is published; `mca_ft` is the highest
    altitude asked at its start by a crossing toward its end, else 0; `maa_ft` is `NO_LIMIT_FT` without one.
    `hears_ft` is the altitude from which the guiding stations' unusable sectors leave the link usable. `closed`
    says why a link is no way for VOR ("discontinued", "signal gap", "GNSS only" ...), empty where it is one.
    `asked_ft` is the highest of MEA, MCA and `hears_ft`, the altitude from which a link can be entered and flown:
    `NO_LIMIT_FT` where it is closed.
    `behind` and `ahead` are the stations that the link is flown by, those at the two ends of its part of the
    airway, as numbers among `stations`, -1 where there is none. `turns` are (link, point, altitude): arriving
    by the link, for turning off its airway toward the point (-1: toward any).
    """

    points: tuple[str, ...]
    latitudes: Sequence[float]
    longitudes: Sequence[float]
    airways: tuple[str, ...]
    stations: tuple[str, ...]
    first: Sequence[int]
    start: Sequence[int]
    end: Sequence[int]
    airway: Sequence[int]
    distance_nm: Sequence[float]
    mea_ft: Sequence[float]
    mca_ft: Sequence[float]
    maa_ft: Sequence[float]
    hears_ft: Sequence[float]
    asked_ft: Sequence[float]
    closed: tuple[str, ...]
    behind: Sequence[int]
    ahead: Sequence[int]
    turns: tuple[tuple[int, int, float], ...] = ()

    def links_from(self, point: int) -> range:
        """The links that leave a point."""
        return range(self.first[point], self.first[point + 1])

    def position(self, point: int) -> Position:
        """Where a point is."""
        return Position(self.latitudes[point], self.longitudes[point])

    @cached_property
    def turn_ft(self) -> dict[tuple[int, int], float]:
        """The minimum turning altitude by (link arrived on, point turned toward), -1 for any point."""
        found: dict[tuple[int, int], float] = {}
        for link, toward, altitude_ft in self.turns:
            found[link, toward] = max(altitude_ft, found.get((link, toward), 0.0))
        return found

    @cached_property
    def turning_links(self) -> frozenset[int]:
        """The links at whose end some turn has a minimum altitude."""
        return frozenset(link for link, _, _ in self.turns)

    def named(self, ident: str, near: Position | None = None) -> tuple[int, ...]:
        """The points of that name; with `near`, only those within half a mile of it."""
        # A few names of thousands are asked for: looking through them takes less than an index of all.
        found: list[int] = []
        for _ in range(self.points.count(ident)):
            found.append(self.points.index(ident, found[-1] + 1 if found else 0))
        return tuple(one for one in found if near is None or self.apart_nm(one, near) <= _SAME_POINT_NM)

    def apart_nm(self, point: int, place: Position) -> float:
        """Roughly how far a point is from a place: on a sphere, up to 0.6 percent off."""
        return chord_nm(self.vector(point), vector(place.latitude_deg, place.longitude_deg))

    @cached_property
    def _vectors(self) -> dict[int, tuple[float, float, float]]:
        return {}

    def vector(self, point: int) -> tuple[float, float, float]:
        """A point as a unit vector from the earth's centre."""
        found = self._vectors.get(point)
        if found is None:
            found = self._vectors[point] = vector(self.latitudes[point], self.longitudes[point])
        return found


def vector(latitude_deg: float, longitude_deg: float) -> tuple[float, float, float]:
    """A place as a unit vector from the centre of a sphere."""
    latitude, longitude = radians(latitude_deg), radians(longitude_deg)
    across = cos(latitude)
    return across * cos(longitude), across * sin(longitude), sin(latitude)


def chord_nm(one: tuple[float, float, float], other: tuple[float, float, float]) -> float:
    """The distance on a sphere between two unit vectors."""
    x, y, z = one[0] - other[0], one[1] - other[1], one[2] - other[2]
    return 2.0 * SPHERE_NM * asin(min(1.0, 0.5 * sqrt(x * x + y * y + z * z)))
