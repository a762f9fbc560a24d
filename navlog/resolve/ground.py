"""What lies below the direct stretches of a flight, and the minimum by terrain where none is stated."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import chain
from math import radians, tan
from typing import TypeAlias

from msgspec import Struct

from navlog.nav.accuracy import Accuracy
from navlog.nav.chart import Position, Provenance
from navlog.nav.clearance import ON_COURSE_NM, Below, abeam, below, under_course
from navlog.nav.corridor import Corridor
from navlog.nav.earth import COINCIDENT_NM, distance_nm, point_along
from navlog.nav.mountains import clearance_ft
from navlog.nav.obstacles import Obstacle, Obstacles
from navlog.nav.record import changed
from navlog.nav.terrain import Spot, Terrain, higher, highest_within
from navlog.resolve.lookup import ChartLookup
from navlog.resolve.route import GuidedPart, Route, Stretch

_LONGEST_NM = 1_000.0
"""No longer stretch is looked below, which a slip of a position makes and no VOR guides: it would take minutes."""

_OFF_AIRWAYS_NM = 4.0
"""14 CFR 91.177(a)(2): obstacles within 4 NM of the course to be flown."""

_DEAD_RECKONING_DEG = 15.0
"""How fast the area opens where no station guides (ICAO Doc 8168, volume II, II-3-1)."""


class InBand(Struct, frozen=True):
    """The highest ground within the error of a part's guidance, and how high the ground under its course is at most.

    `half_width_nm` is how far the error reaches abeam of `highest`, whose miles count along the whole stretch.
    """

    highest: Spot
    half_width_nm: float
    on_course_ft: float


class _PartBelow(Struct, frozen=True):
    """What lies below a part of a direct stretch, from `start_nm` to `end_nm` along it.

    `corridor` is where it was looked for, `obstacles` are those near it. `band` is None where no station guides, and
    where terrain is missing.
    """

    start_nm: float
    end_nm: float
    corridor: Corridor
    obstacles: tuple[Obstacle, ...] | None
    below: Below
    band: InBand | None = None

    @property
    def half_width_nm(self) -> float:
        """How far either side of the course was looked at the most."""
        return max(self.corridor.half_width_nm(nm) for nm in (0.0, self.corridor.length_nm))


class Ground(Struct, frozen=True):
    """What lies below a direct stretch, and the minimum by terrain; None where it is not known, for `unknown`.

    `highest` and `obstacle` are told by miles along the whole stretch. `editions` are those that obstacles are of.
    `terrain` is what it was looked up in, None where nothing was.
    """

    terrain: Terrain | None
    parts: tuple[_PartBelow, ...]
    highest: Spot | None
    obstacle: Spot | None
    obstacles_known: bool
    clearance_ft: float
    mountainous: bool | None
    minimum_ft: float | None
    tiles: tuple[str, ...]
    unknown: tuple[str, ...]
    editions: tuple[Provenance, ...] = ()

    @property
    def unread(self) -> tuple[tuple[str, str], ...]:
        """The files of terrain there that cannot be read, each with why."""
        return tuple(dict.fromkeys(file for one in self.parts for file in one.below.unread))

    @property
    def top(self) -> Spot | None:
        """The higher of ground and obstacle, tolerances counted."""
        return higher(self.highest, self.obstacle)

    @property
    def least_ft(self) -> float | None:
        """The minimum over what is known of all parts, which none can be lower than; None where nothing is known."""
        return max((one.below.least_ft for one in self.parts if one.below.least_ft is not None), default=None)

    def between(self, start_nm: float, end_nm: float) -> Below | None:
        """What lies below the stretch from one distance along it to another of the same part, told from the first.

        None where that part has no length to speak of, or no positions.
        """
        middle_nm = (start_nm + end_nm) / 2.0
        one = next((one for one in self.parts if one.start_nm <= middle_nm <= one.end_nm), None)
        if one is None or self.terrain is None:
            return None
        from_nm, to_nm = max(start_nm, one.start_nm) - one.start_nm, min(end_nm, one.end_nm) - one.start_nm
        if (from_nm, to_nm) == (0.0, one.end_nm - one.start_nm):
            return one.below
        share = one.corridor.length_nm / (one.end_nm - one.start_nm)
        return _below(self.terrain, one.corridor.between(from_nm * share, to_nm * share), one.obstacles)


@lru_cache(maxsize=256)
def _below(terrain: Terrain, corridor: Corridor, obstacles: tuple[Obstacle, ...] | None) -> Below:
    """What lies below a piece of a stretch: every sheet of a flight asks for the same ones."""
    return below(terrain, corridor, obstacles)


def grounded(route: Route, terrain: Terrain, catalogue: ChartLookup) -> Route:
    """The route and its alternates with what lies below their stretches; the obstacles' editions join its sources."""
    stretches = tuple(_with_ground(stretch, route, terrain, catalogue) for stretch in route.stretches)
    alternates = tuple(grounded(way, terrain, catalogue) for way in route.alternates)
    of_alternates = (one for way in alternates for one in way.stretches)
    grounds = [one.ground for one in (*stretches, *of_alternates) if one.ground is not None]
    editions = dict.fromkeys(edition for ground in grounds for edition in ground.editions)
    sources = (*route.sources, *(edition for edition in editions if edition not in route.sources))
    return changed(route, stretches=stretches, alternates=alternates, sources=sources)


def _with_ground(stretch: Stretch, route: Route, terrain: Terrain, catalogue: ChartLookup) -> Stretch:
    """A stretch with what lies abeam; a direct one with its ground, whose minimum stands where none is stated."""
    start, end = stretch.start.position, stretch.end.position
    why = None
    if start is None or end is None or distance_nm(start, end) < COINCIDENT_NM:
        why = "its two ends have no positions, or one and the same"
    elif distance_nm(start, end) > _LONGEST_NM:
        why = f"its two ends are more than {_LONGEST_NM:.0f} NM apart"
    if why is not None:
        ground = Ground(None, (), None, None, False, clearance_ft(None), None, None, (), (why,))
        return changed(stretch, ground=ground) if stretch.airway is None else stretch
    looked = tuple(
        (part, corridor, catalogue.obstacles(corridor, route.request.day))
        for part, corridor in corridors(stretch, route.request.accuracy)
    )
    pieces = (
        abeam(terrain, corridor, None if obstacles is None else obstacles.found, part.start_nm, part.end_nm)
        for part, corridor, obstacles in looked
    )
    stretch = changed(stretch, abeam=tuple(chain.from_iterable(pieces)))
    if stretch.airway is not None:
        return stretch
    found = _ground(looked, terrain, route.request.accuracy)
    limits = stretch.limits
    # What somebody has published or surveyed goes before what is computed of tiles.
    if limits.mea_ft is None and limits.minimum_ft is None and found.minimum_ft is not None:
        limits = changed(limits, minimum_ft=found.minimum_ft, minimum_kind="terrain")
    return changed(stretch, ground=found, limits=limits)


_Looked: TypeAlias = tuple[GuidedPart, Corridor, Obstacles | None]


def _ground(looked: Sequence[_Looked], terrain: Terrain, accuracy: Accuracy) -> Ground:
    """What lies below a stretch, part by part of its guidance."""
    parts = []
    for part, corridor, obstacles in looked:
        near = None if obstacles is None else obstacles.found
        band = _in_band(part, corridor, terrain, accuracy)
        found = below(terrain, corridor, near)
        parts.append(_PartBelow(part.start_nm, part.end_nm, corridor, near, found, band))
    answers = {one.below.mountainous for one in parts}
    minimums = [one.below.minimum_ft for one in parts]
    known = [one for one in minimums if one is not None]
    editions = dict.fromkeys(one for _, _, obstacles in looked if obstacles is not None for one in obstacles.sources)
    return Ground(
        terrain=terrain,
        parts=tuple(parts),
        highest=_highest((one.below.highest, one.start_nm) for one in parts),
        obstacle=_highest((one.below.obstacle, one.start_nm) for one in parts),
        obstacles_known=all(one.below.obstacles_known for one in parts),
        clearance_ft=max(one.below.clearance_ft for one in parts),
        mountainous=True if True in answers else None if None in answers else False,
        # The highest of all parts, and none while one is unknown: the stretch is flown whole at one level.
        minimum_ft=max(known) if len(known) == len(minimums) else None,
        tiles=tuple(sorted({name for one in parts for name in one.below.tiles})),
        unknown=tuple(dict.fromkeys(why for one in parts for why in one.below.unknown)),
        editions=tuple(editions),
    )


def _in_band(part: GuidedPart, corridor: Corridor, terrain: Terrain, accuracy: Accuracy) -> InBand | None:
    """The highest ground within the error of a part's guidance, beside what lies under its course."""
    station = part.guidance.station.position if part.guidance is not None else None
    if station is None:
        return None
    first_nm, last_nm = (accuracy.aside_nm(distance_nm(station, end)) for end in (corridor.start, corridor.end))
    opening = (last_nm - first_nm) / corridor.length_nm
    band = Corridor(corridor.start, corridor.end, ON_COURSE_NM, first_nm, opening, square=True)
    found, middle = highest_within(terrain, band), under_course(terrain, corridor.start, corridor.end)
    if found.highest is None or middle is None or found.unknown:
        return None
    width_nm = band.half_width_nm(found.highest.along_nm)
    spot = changed(found.highest, along_nm=part.start_nm + found.highest.along_nm)
    return InBand(spot, width_nm, middle.height_ft)


def _highest(spots: Iterator[tuple[Spot | None, float]]) -> Spot | None:
    """The highest of several spots, each told along a part that begins so far along its stretch."""
    return higher(*(changed(spot, along_nm=spot.along_nm + from_nm) for spot, from_nm in spots if spot is not None))


def corridors(stretch: Stretch, accuracy: Accuracy) -> Iterator[tuple[GuidedPart, Corridor]]:
    """How wide to look below each part: 4 NM, or as far off as its guidance may be, whichever is more.

    Where no station guides, the area opens by 15 degrees from where guidance ended. Nothing without positions, and
    nothing of a stretch of more than 1,000 NM.
    """
    start, end = stretch.start.position, stretch.end.position
    if start is None or end is None or distance_nm(start, end) > _LONGEST_NM:
        return
    # Parts count the charted length, tiles the measured one.
    scale = distance_nm(start, end) / stretch.length_nm if stretch.length_nm > 0.0 else 1.0
    before_nm = _OFF_AIRWAYS_NM
    for part in stretch.parts:
        first, last = (_place(start, end, along_nm * scale) for along_nm in (part.start_nm, part.end_nm))
        length_nm = distance_nm(first, last)
        if length_nm < COINCIDENT_NM:
            continue
        station = part.guidance.station.position if part.guidance is not None else None
        if station is None:
            corridor = Corridor(first, last, _OFF_AIRWAYS_NM, before_nm, tan(radians(_DEAD_RECKONING_DEG)))
        else:
            first_nm, last_nm = (accuracy.aside_nm(distance_nm(station, place)) for place in (first, last))
            corridor = Corridor(first, last, _OFF_AIRWAYS_NM, first_nm, (last_nm - first_nm) / length_nm)
        yield part, corridor
        # The next part opens from the width that the one before had: an aircraft does not jump back to its course.
        before_nm = corridor.half_width_nm(length_nm)


def _place(start: Position, end: Position, along_nm: float) -> Position:
    return start if along_nm <= 0.0 else point_along(start, end, along_nm)[0]
