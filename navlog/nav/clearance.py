"""The minimum by terrain of a course: the highest ground near it, and how far above that 14 CFR 91.177 wants it flown.

Computed from the data at hand, never a clearance: nobody has surveyed or flown it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from msgspec import Struct

from navlog.nav.chart import Position
from navlog.nav.corridor import Corridor
from navlog.nav.earth import COINCIDENT_NM, direct, inverse, point_along
from navlog.nav.figures import up
from navlog.nav.mountains import clearance_ft, mountainous
from navlog.nav.obstacles import Obstacle, highest_obstacle
from navlog.nav.record import changed
from navlog.nav.terrain import Spot, Terrain, higher, highest_within

_STEP_NM = 2.0
_SIDES = (-1.0, -0.5, 0.0, 0.5, 1.0)


class Below(Struct, frozen=True):
    """What lies below a course, and the minimum that follows.

    `clearance_ft` is 2,000 where `mountainous` is true, or None: not decided. `minimum_ft` is None where terrain is
    missing, and `unknown` says why, `unread` which files cannot be read; `highest` is then the highest that is known.
    `obstacle` is the highest of them; `obstacles_known` is false where no obstacle of any place is known.
    """

    highest: Spot | None
    obstacle: Spot | None
    obstacles_known: bool
    mountainous: bool | None
    clearance_ft: float
    minimum_ft: float | None
    tiles: tuple[str, ...]
    unknown: tuple[str, ...]
    unread: tuple[tuple[str, str], ...] = ()

    @property
    def top(self) -> Spot | None:
        """The higher of ground and obstacle that are known."""
        return higher(self.highest, self.obstacle)

    @property
    def least_ft(self) -> float | None:
        """The minimum over what is known, which none can be lower than; None where nothing is."""
        # The chart's MEA and MOCA are whole hundreds; up, since down would eat into the clearance.
        return None if self.top is None else up(self.top.top_ft + self.clearance_ft, 100.0) * 100.0


class Abeam(Struct, frozen=True):
    """What lies below a short piece of a course, from `start_nm` to `end_nm` along it, and abeam of it.

    `on_course` is the highest ground under the course itself, None where that is not known. `top` is the highest known
    ground or obstacle abeam within the corridor, tolerances counted, and `minimum_ft` the minimum over it; None where
    terrain is missing. Miles are told along the whole course. `tiles` are those that lie below. `looked` is where it
    was looked up, None of one that is made up of places alone.
    """

    start_nm: float
    end_nm: float
    on_course: Spot | None
    top: Spot | None
    minimum_ft: float | None
    mountainous: bool | None
    tiles: tuple[str, ...] = ()
    looked: _Looked | None = None


class _Looked(Struct, frozen=True):
    """Where a piece of a course was looked up."""

    terrain: Terrain
    corridor: Corridor
    obstacles: tuple[Obstacle, ...] | None


def below(terrain: Terrain, corridor: Corridor, obstacles: Iterable[Obstacle] | None) -> Below:
    """The highest ground and obstacle in a corridor, and the minimum over both; `obstacles` None: none are known.

    That is the greater height with the tolerance that its source states, plus 1,000 ft, or 2,000 in mountainous
    areas and where that is not decided, rounded up to 100 ft.
    """
    ground = highest_within(terrain, corridor)
    in_mountains, needed_ft = _area(corridor)
    found = Below(
        highest=ground.highest,
        obstacle=None if obstacles is None else highest_obstacle(obstacles, corridor),
        obstacles_known=obstacles is not None,
        mountainous=in_mountains,
        clearance_ft=needed_ft,
        minimum_ft=None,
        tiles=ground.tiles,
        unknown=ground.unknown,
        unread=ground.unread,
    )
    # An obstacle alone makes no minimum: the ground beside it may be higher.
    return found if ground.highest is None or ground.unknown else changed(found, minimum_ft=found.least_ft)


ON_COURSE_NM = 0.1
"""How far either side the ground counts as under the course: about a place of a tile of 3 seconds."""
_COARSER_NM = (ON_COURSE_NM, 0.3, 1.0)
"""How far either side is looked in turn, where tiles have no place so near."""


def under_course(terrain: Terrain, start: Position, end: Position) -> Spot | None:
    """The highest ground under a course itself; None where it is not known."""
    for aside_nm in _COARSER_NM:
        found = highest_within(terrain, Corridor(start, end, aside_nm, square=True))
        if found.unknown:
            return None
        if found.highest is not None:
            return found.highest
    return None


def abeam(
    terrain: Terrain,
    corridor: Corridor,
    obstacles: tuple[Obstacle, ...] | None,
    start_nm: float,
    end_nm: float,
    step_nm: float = _STEP_NM,
) -> Iterator[Abeam]:
    """The corridor in pieces of 2 NM at most, each with what lies below it and to both sides, nothing beyond its ends.

    The corridor is that of a whole course from `start_nm` to `end_nm`. Empty for a course of no length.
    """
    length_nm = corridor.length_nm
    if length_nm < COINCIDENT_NM:
        return
    highest_first = None if obstacles is None else tuple(sorted(obstacles, key=lambda one: -one.top_ft))
    pieces = int(length_nm / step_nm) + 1
    share = (end_nm - start_nm) / length_nm
    for number in range(pieces):
        from_nm, to_nm = length_nm * number / pieces, length_nm * (number + 1) / pieces
        piece = changed(corridor.between(from_nm, to_nm), square=True)
        found = below(terrain, piece, highest_first)
        on_course, top = (
            None if spot is None else changed(spot, along_nm=start_nm + share * (from_nm + spot.along_nm))
            for spot in (under_course(terrain, piece.start, piece.end), found.top)
        )
        yield Abeam(
            start_nm=start_nm + share * from_nm,
            end_nm=start_nm + share * to_nm,
            on_course=on_course,
            top=top,
            minimum_ft=found.minimum_ft,
            mountainous=found.mountainous,
            tiles=found.tiles,
            looked=_Looked(terrain, piece, highest_first),
        )


_CLOSER_NM = 0.1
"""Along this a climb gains 40 ft, a steep one 60: less than a tile's own tolerance."""


def obstacle_on_course(piece: Abeam) -> Spot | None:
    """The highest obstacle that its source places as near the course as ground that counts as under it; None of none.

    How far its place may be off does not count: it is told as beside the course with that.
    """
    at = piece.looked
    if at is None or not at.obstacles:
        return None
    course = changed(at.corridor, least_nm=ON_COURSE_NM, start_nm=ON_COURSE_NM, opening=0.0)
    found = highest_obstacle(at.obstacles, course, as_placed=True)
    if found is None:
        return None
    share = (piece.end_nm - piece.start_nm) / at.corridor.length_nm
    return changed(found, along_nm=piece.start_nm + share * found.along_nm)


@lru_cache(maxsize=256)
def closer(piece: Abeam) -> tuple[Abeam, ...]:
    """A piece of a course cut up into pieces of 0.1 NM at most, for a climb or descent.

    Its highest place may be passed high above, and a lower one not.
    """
    at = piece.looked
    if at is None:
        return (piece,)
    return tuple(abeam(at.terrain, at.corridor, at.obstacles, piece.start_nm, piece.end_nm, _CLOSER_NM))


def _area(corridor: Corridor) -> tuple[bool | None, float]:
    """Whether any of a corridor lies in a mountainous area, else whether any is not decided, and the clearance."""
    answers = {mountainous(place) for place in _places(corridor)}
    # One place in the mountains is enough: 91.177 asks for 2,000 ft above what lies within 4 NM, not on the average.
    found = True if True in answers else None if None in answers else False
    return found, clearance_ft(found)


def _places(corridor: Corridor) -> list[Position]:
    """Places all over a corridor, 2 NM apart along it."""
    length_nm = corridor.length_nm
    if length_nm < COINCIDENT_NM:
        around = (direct(corridor.start, course, corridor.half_width_nm(0.0)) for course in range(0, 360, 30))
        return [corridor.start, *around]
    pieces = int(length_nm / _STEP_NM) + 1
    found = []
    for number in range(pieces + 1):
        along_nm = length_nm * number / pieces
        here, course_deg = point_along(corridor.start, corridor.end, along_nm)
        width_nm = corridor.half_width_nm(along_nm)
        found += [direct(here, course_deg + 90.0, side * width_nm) if side else here for side in _SIDES]
    ahead_deg = inverse(corridor.start, corridor.end).course_deg
    found.append(direct(corridor.start, ahead_deg + 180.0, corridor.half_width_nm(0.0)))
    end, end_deg = point_along(corridor.start, corridor.end, length_nm)
    found.append(direct(end, end_deg, corridor.half_width_nm(length_nm)))
    return found
