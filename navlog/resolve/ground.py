"""What lies below the direct stretches of a flight, and the minimum by terrain where none is stated."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians, tan

from navlog.nav.accuracy import Accuracy
from navlog.nav.chart import Position
from navlog.nav.clearance import below
from navlog.nav.corridor import Corridor
from navlog.nav.earth import COINCIDENT_NM, distance_nm, point_along
from navlog.nav.mountains import clearance_ft
from navlog.nav.record import changed
from navlog.nav.terrain import Spot, Terrain
from navlog.resolve.lookup import ChartLookup
from navlog.resolve.route import Ground, GuidedPart, PartBelow, Route, Stretch

_OFF_AIRWAYS_NM = 4.0
"""14 CFR 91.177(a)(2): obstacles within 4 NM of the course to be flown."""

_DEAD_RECKONING_DEG = 15.0
"""How fast the area opens where no station guides (ICAO Doc 8168, volume II, II-3-1)."""


def grounded(route: Route, terrain: Terrain, catalogue: ChartLookup) -> Route:
    """The route and its alternates with what lies below each direct stretch."""
    return changed(
        route,
        stretches=tuple(_with_ground(stretch, route, terrain, catalogue) for stretch in route.stretches),
        alternates=tuple(grounded(way, terrain, catalogue) for way in route.alternates),
    )


def _with_ground(stretch: Stretch, route: Route, terrain: Terrain, catalogue: ChartLookup) -> Stretch:
    """A direct stretch with its ground, whose minimum stands where nothing is published or stated."""
    if stretch.airway is not None:
        return stretch
    found = _ground(stretch, route, terrain, catalogue)
    limits = stretch.limits
    # What somebody has published or surveyed goes before what is computed of tiles.
    if limits.mea_ft is None and limits.minimum_ft is None and found.minimum_ft is not None:
        limits = changed(limits, minimum_ft=found.minimum_ft, minimum_kind="terrain")
    return changed(stretch, ground=found, limits=limits)


def _ground(stretch: Stretch, route: Route, terrain: Terrain, catalogue: ChartLookup) -> Ground:
    """What lies below a stretch, part by part of its guidance."""
    start, end = stretch.start.position, stretch.end.position
    if start is None or end is None or distance_nm(start, end) < COINCIDENT_NM:
        why = "its two ends have no positions, or one and the same"
        return Ground((), None, None, False, clearance_ft(None), None, None, (), (why,))
    parts = []
    for part, corridor in _corridors(stretch, start, end, route.request.accuracy):
        obstacles = catalogue.obstacles(corridor, route.request.day)
        widths = corridor.half_width_nm(0.0), corridor.half_width_nm(corridor.length_nm)
        parts.append(PartBelow(part.start_nm, part.end_nm, widths, below(terrain, corridor, obstacles)))
    answers = {one.below.mountainous for one in parts}
    minimums = [one.below.minimum_ft for one in parts]
    known = [one for one in minimums if one is not None]
    return Ground(
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
    )


def _highest(spots: Iterator[tuple[Spot | None, float]]) -> Spot | None:
    """The highest of several spots, each told along a part that begins so far along its stretch."""
    moved = [changed(spot, along_nm=spot.along_nm + from_nm) for spot, from_nm in spots if spot is not None]
    return max(moved, key=lambda one: one.top_ft, default=None)


def _corridors(
    stretch: Stretch, start: Position, end: Position, accuracy: Accuracy
) -> Iterator[tuple[GuidedPart, Corridor]]:
    """How wide to look below each part: 4 NM, or as far off as its guidance may be, whichever is more.

    Where no station guides, the area opens by 15 degrees from where guidance ended.
    """
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
