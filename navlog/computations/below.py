"""What lies below a place or a course: the highest ground within a distance, and the minimum by terrain over it."""

from __future__ import annotations

from msgspec import Struct

from navlog.computations.answer import Solution
from navlog.nav.angles import position_text
from navlog.nav.chart import Position
from navlog.nav.clearance import Below, below
from navlog.nav.corridor import Corridor
from navlog.nav.earth import COINCIDENT_NM
from navlog.nav.figures import distance, up, whole
from navlog.nav.problems import problem_error
from navlog.nav.terrain import Terrain
from navlog.nav.workings import Working


class _GroundBelow(Struct, frozen=True):
    """The highest ground within `radius_nm` of a course, or of a place, whose length is then 0.

    Heights are feet above mean sea level. Right of the course is positive. What is not known is None, and `unknown`
    says why; the highest that is known is told all the same.
    """

    radius_nm: float
    length_nm: float
    highest_ft: float | None
    tolerance_ft: float | None
    latitude_deg: float | None
    longitude_deg: float | None
    along_nm: float | None
    aside_nm: float | None
    away_nm: float | None
    mountainous: bool | None
    clearance_ft: float
    minimum_ft: float | None
    tiles: tuple[str, ...]
    unknown: tuple[str, ...]


def solve(terrain: Terrain, start: Position, end: Position | None, radius_nm: float) -> _GroundBelow:
    """The ground within `radius_nm` of the geodesic from `start` to `end`, or of `start` alone.

    Raises a problem for a radius that is not above 0, and one above 100 NM.
    """
    if not 0.0 < radius_nm <= 100.0:
        raise problem_error("bad-value", f"a radius of {radius_nm:g} NM is not above 0 and up to 100 NM")
    corridor = Corridor(start, end or start, radius_nm)
    return _recorded(corridor, below(terrain, corridor))


def _recorded(corridor: Corridor, found: Below) -> _GroundBelow:
    spot, length_nm = found.highest, corridor.length_nm
    on_course = spot if length_nm >= COINCIDENT_NM else None
    return _GroundBelow(
        radius_nm=corridor.least_nm,
        length_nm=length_nm,
        highest_ft=None if spot is None else spot.height_ft,
        tolerance_ft=None if spot is None else spot.tolerance_ft,
        latitude_deg=None if spot is None else spot.position.latitude_deg,
        longitude_deg=None if spot is None else spot.position.longitude_deg,
        along_nm=None if on_course is None else on_course.along_nm,
        aside_nm=None if on_course is None else on_course.aside_nm,
        away_nm=None if spot is None else spot.away_nm,
        mountainous=found.mountainous,
        clearance_ft=found.clearance_ft,
        minimum_ft=found.minimum_ft,
        tiles=found.tiles,
        unknown=found.unknown,
    )


def _workings(found: _GroundBelow) -> tuple[Working, ...]:
    """The minimum by terrain, where there is one."""
    if found.minimum_ft is None or found.highest_ft is None:
        return ()
    tolerance = "" if found.tolerance_ft is None else f" + {up(found.tolerance_ft, 1.0)}"
    return (
        Working(
            "minimum by terrain",
            "highest ground + its source's tolerance + clearance, rounded up to 100 ft",
            f"{whole(found.highest_ft)}{tolerance} + {whole(found.clearance_ft)}",
            f"{whole(found.minimum_ft)} ft",
            "14 CFR 91.177(a)(2) and part 95, subpart B",
        ),
    )


def _lines(found: _GroundBelow) -> tuple[str, ...]:
    """The highest ground, the clearance, the minimum, and what it rests on."""
    known = "highest ground" if not found.unknown else "highest ground known"
    said = [f"{known} {_height(found)}"]
    minimum = "?" if found.minimum_ft is None else f"{whole(found.minimum_ft)} ft"
    said.append(f"minimum by terrain {minimum}: {_clearance(found)}; computed, never a clearance")
    said += [f"not known: {why}" for why in found.unknown]
    said.append(f"tiles {' '.join(found.tiles) or 'none'}")
    said.append("towers and other obstacles are not in these figures")
    return tuple(said)


def _height(found: _GroundBelow) -> str:
    if found.highest_ft is None or found.latitude_deg is None or found.longitude_deg is None:
        return f"within {distance(found.radius_nm)} NM: none"
    tolerance = " (its source states no tolerance)"
    if found.tolerance_ft is not None:
        tolerance = f" (its source: {up(found.tolerance_ft, 1.0)} ft more or less)"
    where = position_text(Position(found.latitude_deg, found.longitude_deg))
    return f"{whole(found.highest_ft)} ft{tolerance} at {where}, {_place(found)}"


def _place(found: _GroundBelow) -> str:
    """How far along and to which side of a course, or how far from a place."""
    if found.along_nm is None or found.aside_nm is None:
        return f"{distance(found.away_nm)} NM away"
    side = "right" if found.aside_nm > 0.0 else "left"
    return f"{distance(found.along_nm)} NM along, {distance(abs(found.aside_nm))} {side}"


def _clearance(found: _GroundBelow) -> str:
    """The clearance and why it is asked for."""
    area = "not in a mountainous area"
    if found.mountainous is not False:
        area = "mountainous area" if found.mountainous else "whether the area is mountainous is not decided"
    return f"{whole(found.clearance_ft)} ft above ({area})"


def answer(found: _GroundBelow) -> Solution:
    """What is printed, with its workings."""
    return Solution((found,), _lines(found), _workings(found))
