"""What lies below a place or a course: the highest ground and obstacle near it, and the minimum by terrain."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from navlog.computations.answer import Solution
from navlog.nav.angles import position_text
from navlog.nav.chart import Position
from navlog.nav.clearance import Below, below
from navlog.nav.corridor import Corridor
from navlog.nav.earth import COINCIDENT_NM
from navlog.nav.figures import distance, place_text, plain, up, whole
from navlog.nav.obstacles import Obstacle
from navlog.nav.problems import problem_error
from navlog.nav.terrain import FARTHEST_NM, Spot, Terrain
from navlog.nav.workings import Working


class _High(Struct, frozen=True):
    """A high place: feet above mean sea level, its source's tolerance, and where.

    `along_nm` and `aside_nm`, right of the course, are None beside a place alone.
    """

    height_ft: float
    tolerance_ft: float | None
    latitude_deg: float
    longitude_deg: float
    along_nm: float | None
    aside_nm: float | None
    away_nm: float
    source: str


class _GroundBelow(Struct, frozen=True):
    """The highest ground and obstacle within `radius_nm` of a course, or of a place, whose length is then 0.

    `minimum_ft` is None where terrain is missing, `terrain_known` then false, and `unknown` says why; the highest that
    is known is told all the same. `obstacles_known` is false where no obstacle of any place is known.
    """

    radius_nm: float
    length_nm: float
    ground: _High | None
    obstacle: _High | None
    terrain_known: bool
    obstacles_known: bool
    mountainous: bool | None
    clearance_ft: float
    minimum_ft: float | None
    tiles: tuple[str, ...]
    unknown: tuple[str, ...]


_LONGEST_NM = 1000.0
"""Farther than any leg by VOR; what is asked over half the earth would look at every mile of it."""


def course_of(start: Position, end: Position | None, radius_nm: float) -> Corridor:
    """What lies within `radius_nm` of the geodesic from `start` to `end`, or of `start` alone.

    Raises a problem for a radius that is not above 0 and up to 100 NM, and for a course longer than 1000 NM.
    """
    if not 0.0 < radius_nm <= FARTHEST_NM:
        told = f"a radius of {plain(radius_nm)} NM is not above 0 and up to {FARTHEST_NM:g} NM"
        raise problem_error("bad-value", told)
    course = Corridor(start, end or start, radius_nm)
    if course.length_nm > _LONGEST_NM:
        told = f"a course of {distance(course.length_nm)} NM is longer than {_LONGEST_NM:g} NM"
        raise problem_error("bad-value", told, hint="ask for one part of it after another")
    return course


def solve(terrain: Terrain, course: Corridor, obstacles: Iterable[Obstacle] | None) -> _GroundBelow:
    """The highest ground and obstacle near a course, and the minimum; None for `obstacles` where none are known."""
    found: Below = below(terrain, course, obstacles)
    length_nm = course.length_nm
    on_course = length_nm >= COINCIDENT_NM
    return _GroundBelow(
        radius_nm=course.least_nm,
        length_nm=length_nm,
        ground=_high(found.highest, on_course=on_course),
        obstacle=_high(found.obstacle, on_course=on_course),
        terrain_known=found.minimum_ft is not None,
        obstacles_known=found.obstacles_known,
        mountainous=found.mountainous,
        clearance_ft=found.clearance_ft,
        minimum_ft=found.minimum_ft,
        tiles=found.tiles,
        unknown=found.unknown,
    )


def _high(spot: Spot | None, *, on_course: bool) -> _High | None:
    if spot is None:
        return None
    return _High(
        height_ft=spot.height_ft,
        tolerance_ft=spot.tolerance_ft,
        latitude_deg=spot.position.latitude_deg,
        longitude_deg=spot.position.longitude_deg,
        along_nm=spot.along_nm if on_course else None,
        aside_nm=spot.aside_nm if on_course else None,
        away_nm=spot.away_nm,
        source=spot.source,
    )


def _workings(found: _GroundBelow) -> tuple[Working, ...]:
    """The minimum by terrain, where there is one."""
    if found.minimum_ft is None:
        return ()
    (top,) = sorted((one for one in (found.ground, found.obstacle) if one is not None), key=_top_ft)[-1:]
    tolerance = "" if top.tolerance_ft is None else f" + {up(top.tolerance_ft, 1.0)}"
    return (
        Working(
            "minimum by terrain",
            "highest ground or obstacle + its source's tolerance + clearance, rounded up to 100 ft",
            f"{whole(top.height_ft)}{tolerance} + {whole(found.clearance_ft)}",
            f"{whole(found.minimum_ft)} ft",
            "14 CFR 91.177(a)(2) and part 95, subpart B",
        ),
    )


def _top_ft(high: _High) -> float:
    return high.height_ft + (high.tolerance_ft or 0.0)


def _lines(found: _GroundBelow) -> tuple[str, ...]:
    """The highest ground and obstacle, the minimum, and what it rests on."""
    near = f"within {distance(found.radius_nm)} NM"
    said = [f"highest ground{'' if found.terrain_known else ' known'} {near}: {_high_text(found.ground)}"]
    if found.obstacles_known:
        said.append(f"highest obstacle {near}: {_high_text(found.obstacle)}")
    minimum = "?" if found.minimum_ft is None else f"{whole(found.minimum_ft)} ft"
    said.append(f"minimum by terrain {minimum}: {_clearance(found)}; computed, never a clearance")
    said += [f"not known: {why}" for why in found.unknown]
    said.append(f"tiles {' '.join(found.tiles) or 'none'}")
    if not found.obstacles_known:
        said.append("no obstacles are known: towers and masts are not in these figures")
    return tuple(said)


def _high_text(high: _High | None) -> str:
    if high is None:
        return "none"
    tolerance = " (tolerance not stated)"
    if high.tolerance_ft is not None:
        tolerance = f" (+{up(high.tolerance_ft, 1.0)} tolerance)"
    where = position_text(Position(high.latitude_deg, high.longitude_deg))
    return f"{whole(high.height_ft)} ft{tolerance} at {where}, {_place(high)}, {high.source}"


def _place(high: _High) -> str:
    """How far along and to which side of a course, or how far from a place."""
    if high.along_nm is None or high.aside_nm is None:
        return f"{distance(high.away_nm)} NM away"
    off_end = "behind the start" if high.along_nm <= 0.0 else "beyond the end"
    return place_text(f"{distance(high.along_nm)} NM along", high.aside_nm, high.away_nm, off_end)


def _clearance(found: _GroundBelow) -> str:
    """The clearance and why it is asked for."""
    area = "not in a mountainous area"
    if found.mountainous is not False:
        area = "mountainous area" if found.mountainous else "whether the area is mountainous is not decided"
    return f"{whole(found.clearance_ft)} ft above ({area})"


def answer(found: _GroundBelow) -> Solution:
    """What is printed, with its workings."""
    return Solution((found,), _lines(found), _workings(found))
