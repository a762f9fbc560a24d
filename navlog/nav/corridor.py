"""The ground within a distance of a course: whether a place lies in it, and which part of a parallel may.

`placed` tells exactly, on the ellipsoid. `capsules` are quick and hold a little more than the corridor, so that what
lies outside them needs no exact look.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import pairwise
from math import cos, radians, sin, sqrt, tan

from msgspec import Struct

from navlog.nav.chart import Position
from navlog.nav.earth import COINCIDENT_NM, distance_nm, offset, point_along
from navlog.nav.problems import NavlogError
from navlog.nav.record import changed
from navlog.nav.units import NAUTICAL_MILE_M

_PIECE_NM = 4.0
# Here a degree of longitude loses 1.3 % along a piece; nearer the pole a plane with a margin is no picture of it.
_FARTHEST_LATITUDE_DEG = 85.0
_SEMI_MAJOR_NM = 6_378_137.0 / NAUTICAL_MILE_M
_ECCENTRICITY_SQUARED = 0.006694379990141
"""WGS84."""


class Corridor(Struct, frozen=True):
    """All places within a distance of a course, or of a place where it has no length.

    The distance either side is `least_nm`, or `start_nm` + `opening` x the miles flown where that is more: a band
    that opens or closes. Beyond either end it holds what is as near to the end as the width there, with `square` ends
    nothing.
    """

    start: Position
    end: Position
    least_nm: float
    start_nm: float = 0.0
    opening: float = 0.0
    square: bool = False

    @property
    def length_nm(self) -> float:
        """How long the course is."""
        return distance_nm(self.start, self.end)

    def half_width_nm(self, along_nm: float) -> float:
        """How far either side of the course the corridor reaches, so far along it."""
        return max(self.least_nm, self.start_nm + self.opening * along_nm)

    def wider(self, by_nm: float) -> Corridor:
        """The corridor of the same course, wider by so much on either side and beyond its ends."""
        # Both widths: a band that opens is the greater of the two, so widening one alone would not always reach.
        return changed(self, least_nm=self.least_nm + by_nm, start_nm=self.start_nm + by_nm)

    def between(self, from_nm: float, to_nm: float) -> Corridor:
        """The corridor of the course from one distance along it to another, as wide there as this one."""
        first = self.start if from_nm <= 0.0 else point_along(self.start, self.end, from_nm)[0]
        last = self.end if to_nm >= self.length_nm else point_along(self.start, self.end, to_nm)[0]
        start_nm = self.start_nm + self.opening * from_nm
        return Corridor(first, last, self.least_nm, start_nm, self.opening, self.square)


class _Place(Struct, frozen=True):
    """Where a place lies from a course: miles along it and right of it, and how far from it."""

    along_nm: float
    aside_nm: float
    away_nm: float


def placed(corridor: Corridor, position: Position) -> _Place | None:
    """Where a place lies from the course of a corridor, which is no quarter of the earth long; None outside it."""
    length_nm = corridor.length_nm
    if length_nm < COINCIDENT_NM:
        away_nm = distance_nm(corridor.start, position)
        return _Place(0.0, 0.0, away_nm) if away_nm <= corridor.half_width_nm(0.0) else None
    try:
        along_nm, aside_nm = offset(corridor.start, corridor.end, position)
    except NavlogError:
        # A quarter of the earth away or more, as a notice of another country is.
        return None
    # Off the ends it is the distance to the end, not to the course produced: the corridor is round there.
    if along_nm < 0.0 or along_nm > length_nm:
        if corridor.square:
            return None
        end, at_nm = (corridor.start, 0.0) if along_nm < 0.0 else (corridor.end, length_nm)
        away_nm = distance_nm(end, position)
        along_nm = at_nm
    else:
        at_nm, away_nm = along_nm, abs(aside_nm)
    return _Place(along_nm, aside_nm, away_nm) if away_nm <= corridor.half_width_nm(at_nm) else None


class Capsule(Struct, frozen=True):
    """A short piece of a corridor in the plane: two ends in degrees, and a radius, a little more than the width's.

    `beyond_nm` is how far it goes on beyond square ends; None where they are round.
    """

    latitudes_deg: tuple[float, float]
    longitudes_deg: tuple[float, float]
    radius_nm: float
    beyond_nm: float | None = None

    def limits_deg(self) -> tuple[float, float]:
        """The latitudes between which it lies."""
        reach_deg = self.radius_nm / _nm_per_degree(self.latitudes_deg[0])[0]
        return min(self.latitudes_deg) - reach_deg, max(self.latitudes_deg) + reach_deg

    def across_deg(self, latitude_deg: float) -> tuple[float, float] | None:
        """The longitudes between which it holds a parallel, the second the greater; None where it does not."""
        north_nm, east_nm = _nm_per_degree((self.latitudes_deg[0] + self.latitudes_deg[1]) / 2.0)
        (y1, y2), (x1, x2) = (
            tuple((one - latitude_deg) * north_nm for one in self.latitudes_deg),
            tuple((one - self.longitudes_deg[0]) * east_nm for one in self.longitudes_deg),
        )
        found = []
        long_nm = sqrt((x2 - x1) ** 2 + (y2 - y1) ** 2)
        if self.beyond_nm is not None and long_nm > 0.0:
            # Square ends: each side goes on a little, and the ends are sides as well.
            dx, dy = ((x2 - x1) / long_nm * self.beyond_nm, (y2 - y1) / long_nm * self.beyond_nm)
            x1, y1, x2, y2 = x1 - dx, y1 - dy, x2 + dx, y2 + dy
            long_nm += 2.0 * self.beyond_nm
            aside = -(y2 - y1) / long_nm * self.radius_nm, (x2 - x1) / long_nm * self.radius_nm
            for x, y in ((x1, y1), (x2, y2)):
                if abs(y) <= abs(aside[1]) and aside[1] != 0.0:
                    found.append(x - aside[0] * y / aside[1])
        for x, y in ((x1, y1), (x2, y2)) if self.beyond_nm is None else ():
            if abs(y) <= self.radius_nm:
                # The two round ends: where the parallel cuts a circle about each.
                half = sqrt(self.radius_nm**2 - y * y)
                found += [x - half, x + half]
        # The two sides, parallel to the course.
        # A piece along a parallel has sides that never cut it; its ends alone reach them.
        if long_nm > 0.0 and y1 != y2:
            for side in (-self.radius_nm, self.radius_nm):
                dx, dy = -(y2 - y1) / long_nm * side, (x2 - x1) / long_nm * side
                share = (-dy - y1) / (y2 - y1)
                if 0.0 <= share <= 1.0:
                    found.append(x1 + dx + share * (x2 - x1))
        if not found:
            return None
        west = self.longitudes_deg[0]
        return west + min(found) / east_nm, west + max(found) / east_nm


def capsules(corridor: Corridor) -> Iterator[Capsule]:
    """The corridor in short pieces that hold all of it, and a little more."""
    length_nm = corridor.length_nm
    pieces = max(1, int(length_nm / _PIECE_NM) + 1) if length_nm >= COINCIDENT_NM else 1
    line = [_at(corridor, length_nm * number / pieces) for number in range(pieces + 1)]
    # Longitudes go on past 180, so that neighbouring pieces stay beside each other.
    west_deg = corridor.start.longitude_deg
    for number, (first, last) in enumerate(pairwise(line)):
        width_nm = max(corridor.half_width_nm(length_nm * (number + one) / pieces) for one in (0, 1))
        steep = 1.0 + tan(radians(min(abs(first.latitude_deg), _FARTHEST_LATITUDE_DEG)))
        # A plane is off by the height of the corridor and the meridians that close in on a pole.
        margin_nm = 0.03 + 0.002 * (width_nm + length_nm / pieces) * steep
        east_deg = west_deg + (last.longitude_deg - first.longitude_deg + 180.0) % 360.0 - 180.0
        beyond_nm = margin_nm if corridor.square else None
        yield Capsule((first.latitude_deg, last.latitude_deg), (west_deg, east_deg), width_nm + margin_nm, beyond_nm)
        west_deg = east_deg


def too_far_north(pieces: Iterable[Capsule]) -> bool:
    """Whether any comes so near a pole that a plane is no picture of it."""
    return any(abs(latitude) > _FARTHEST_LATITUDE_DEG for piece in pieces for latitude in piece.latitudes_deg)


def _at(corridor: Corridor, along_nm: float) -> Position:
    if along_nm <= 0.0:
        return corridor.start
    return point_along(corridor.start, corridor.end, along_nm)[0]


@lru_cache(maxsize=4096)
def _nm_per_degree(latitude_deg: float) -> tuple[float, float]:
    """How many miles a degree of latitude, and one of longitude, is there (WGS84)."""
    sine = sin(radians(latitude_deg))
    w = 1.0 - _ECCENTRICITY_SQUARED * sine * sine
    north = _SEMI_MAJOR_NM * (1.0 - _ECCENTRICITY_SQUARED) / w**1.5
    east = _SEMI_MAJOR_NM / sqrt(w) * cos(radians(latitude_deg))
    return radians(north), radians(east)
