"""The chart as notices leave it: stations, fixes and airways of file and catalogue with what notices change.

What is out of service joins the file's `unavailable`; unusable sectors join those that are published; altitudes and
changeover points take the place of those of the segment.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import TYPE_CHECKING

from navlog.nav.angles import difference_deg
from navlog.nav.chart import (
    Airport,
    Airway,
    BothWays,
    ChangeoverAt,
    CrossingAltitude,
    Fix,
    Place,
    Position,
    Provenance,
    Segment,
    Service,
    Station,
)
from navlog.nav.earth import COINCIDENT_NM, distance_nm, inverse
from navlog.nav.lines import Lines
from navlog.nav.notices import (
    CrossingMinimum,
    Effect,
    Notice,
    ReceptionMinimum,
    SegmentChangeover,
    SegmentClosed,
    SegmentMinimum,
    StationOut,
    StationSector,
)
from navlog.nav.record import changed
from navlog.request.records import AirwayDefinition, Definitions, FixDefinition, Name, Request
from navlog.resolve.lookup import ChartLookup, NoCatalogue

if TYPE_CHECKING:
    from collections.abc import Callable

    from navlog.nav.corridor import Corridor
    from navlog.nav.obstacles import Obstacles
    from navlog.nav.receiver_check import Checkpoint

_WAYS_DEG = {
    "north": 0.0,
    "northeast": 45.0,
    "east": 90.0,
    "southeast": 135.0,
    "south": 180.0,
    "southwest": 225.0,
    "west": 270.0,
    "northwest": 315.0,
}


def as_told(
    request: Request, catalogue: ChartLookup | None, notices: Iterable[Notice]
) -> tuple[Request, ChartLookup | None]:
    """The flight and the published data as the effects of notices change them."""
    told = tuple((notice, effect) for notice in notices for effect in notice.effects)
    if not told:
        return request, catalogue
    chart = _ToldChart(catalogue or NoCatalogue(), told)
    given = request.definitions
    known = {
        effect.station: Name(effect.station, notice.span)
        for notice, effect in told
        if isinstance(effect, StationOut)
        # A DME that is out leaves the VOR to guide; it is taken from the station below.
        and effect.of != "dme"
        and (effect.station in given.stations or chart.stations(effect.station, request.day))
    }
    more_than_vor = {effect.station for _, effect in told if isinstance(effect, StationOut) and effect.of != "vor"}
    definitions = Definitions(
        stations={ident: chart.station(one) for ident, one in given.stations.items()},
        airports=given.airports,
        fixes={ident: chart.definition(one) for ident, one in given.fixes.items()},
        airways={ident: _defined(chart, one, given) for ident, one in given.airways.items()},
        directs=given.directs,
        unavailable={**known, **given.unavailable},
        # A station that the file itself calls out of service is out whole.
        dme_serves=tuple(sorted(set(known) - more_than_vor - set(given.unavailable))),
    )
    return changed(request, definitions=definitions), chart if catalogue is not None else None


class _ToldChart:
    """Published data with what notices change."""

    def __init__(self, chart: ChartLookup, told: tuple[tuple[Notice, Effect], ...]) -> None:
        self._chart = chart
        self._told = told

    @property
    def lines(self) -> Lines:
        """The lines between places, which no notice moves."""
        return self._chart.lines

    def station(self, station: Station) -> Station:
        """A station with sectors added, and without a DME that is out."""
        for notice, effect in self._told:
            if isinstance(effect, StationSector) and effect.station == station.ident:
                sector = changed(effect.sector, remark=f"by {notice.ident}: {effect.sector.remark}")
                if sector not in station.unusable:
                    station = changed(station, unusable=(*station.unusable, sector))
            elif isinstance(effect, StationOut) and effect.station == station.ident and effect.of != "vor":
                station = changed(station, dme=False, dme_service=None)
        return station

    def fix(self, fix: Fix) -> Fix:
        """A fix with another MRA."""
        mra_ft = self._mra_ft(fix.ident)
        return fix if mra_ft is None else changed(fix, mra_ft=mra_ft)

    def definition(self, fix: FixDefinition) -> FixDefinition:
        """The file's fix with another MRA."""
        mra_ft = self._mra_ft(fix.ident)
        return fix if mra_ft is None else changed(fix, mra_ft=mra_ft)

    def _mra_ft(self, ident: str) -> float | None:
        told = (one.altitude_ft for _, one in self._told if isinstance(one, ReceptionMinimum) and one.fix == ident)
        # Of several notices on one fix the highest: none says that it replaces the other.
        return max(told, default=None)

    def airway(self, airway: Airway, where: Callable[[str], Position | None]) -> Airway:
        """An airway with other altitudes and changeover points, its places as notices leave them."""
        segments = list(airway.segments)
        for notice, effect in sorted(self._told, key=_safest_last):
            kinds = SegmentMinimum | SegmentClosed | SegmentChangeover | CrossingMinimum
            if isinstance(effect, kinds) and airway.ident in effect.airways:
                _change(airway, segments, effect, where, notice.ident)
        places = tuple(self._place(one) for one in airway.places)
        return changed(airway, segments=tuple(segments), places=places)

    def _place(self, place: Place | None) -> Place | None:
        if isinstance(place, Station):
            return self.station(place)
        return self.fix(place) if isinstance(place, Fix) else place

    def stations(self, ident: str, day: date) -> tuple[Station, ...]:
        """Every station of that identifier."""
        return tuple(self.station(one) for one in self._chart.stations(ident, day))

    def stations_on(self, frequency_mhz: float, near: Position, radius_nm: float, day: date) -> tuple[Station, ...]:
        """Every station on that frequency around a place."""
        return tuple(self.station(one) for one in self._chart.stations_on(frequency_mhz, near, radius_nm, day))

    def fixes(self, ident: str, day: date) -> tuple[Fix, ...]:
        """Every fix of that name."""
        return tuple(self.fix(one) for one in self._chart.fixes(ident, day))

    def airports(self, ident: str, day: date) -> tuple[Airport, ...]:
        """Every landing place of that identifier."""
        return self._chart.airports(ident, day)

    def airways(self, ident: str, day: date) -> tuple[Airway, ...]:
        """Every airway of that designator."""
        found = []
        for airway in self._chart.airways(ident, day):
            known = {one.ident: one.position for one in airway.places if one is not None}
            found.append(self.airway(airway, known.get))
        return tuple(found)

    def airways_joining(self, first: str, second: str, day: date) -> tuple[str, ...]:
        """The designators of the airways that hold both points."""
        return self._chart.airways_joining(first, second, day)

    def similar(self, ident: str, day: date, near: Position | None) -> tuple[Place, ...]:
        """Places whose identifier is spelt like `ident`."""
        return self._chart.similar(ident, day, near)

    def checkpoints(self, near: Position, day: date) -> tuple[Checkpoint, ...]:
        """The checkpoints for VOR receivers at the nearest place that has any."""
        return self._chart.checkpoints(near, day)

    def sources(self, day: date) -> tuple[Provenance, ...]:
        """The sources and cycles that supply this day."""
        return self._chart.sources(day)

    def obstacles(self, corridor: Corridor, day: date) -> Obstacles | None:
        """Every obstacle that may stand in a corridor."""
        return self._chart.obstacles(corridor, day)


def _safest_last(told: tuple[Notice, Effect]) -> float:
    """The order in which effects change a segment: the highest MEA or MOCA and the lowest MAA come last, and hold."""
    # Of several notices in force on one segment none says that it replaces the other.
    effect = told[1]
    if not isinstance(effect, SegmentMinimum):
        return 0.0
    return -effect.altitude_ft if effect.kind == "MAA" else effect.altitude_ft


def _defined(chart: _ToldChart, definition: AirwayDefinition, given: Definitions) -> AirwayDefinition:
    """The file's airway as notices change it; a changeover point of theirs needs no check of the file's."""
    known = _positions(given)
    airway = chart.airway(definition.airway, known.get)
    pairs = zip(airway.segments, definition.airway.segments, definition.changeovers, strict=False)
    kept = tuple(name if one.changeovers == before.changeovers else None for one, before, name in pairs)
    return changed(definition, airway=airway, changeovers=kept)


def _positions(given: Definitions) -> Mapping[str, Position | None]:
    return {
        **{ident: one.position for ident, one in given.stations.items()},
        **{ident: one.position for ident, one in given.airports.items()},
        **{ident: one.position for ident, one in given.fixes.items()},
    }


def _change(
    airway: Airway,
    segments: list[Segment],
    effect: SegmentMinimum | SegmentClosed | SegmentChangeover | CrossingMinimum,
    where: Callable[[str], Position | None],
    by: str,
) -> None:
    """Change the segments that an effect is about; none where its points are not on the airway."""
    points = airway.points
    if isinstance(effect, CrossingMinimum):
        if effect.at in points:
            _add_crossing(points, segments, effect, where, by)
        return
    if effect.start not in points or effect.end not in points:
        return
    low, high = sorted((points.index(effect.start), points.index(effect.end)))
    for index in range(low, high):
        segment = segments[index]
        if isinstance(effect, SegmentClosed):
            segments[index] = changed(segment, service=Service.UNUSABLE)
        elif isinstance(effect, SegmentMinimum):
            segments[index] = _with_minimum(segment, effect, _course_deg(segment, where))
        else:
            segments[index] = changed(segment, changeovers=())
    if isinstance(effect, SegmentChangeover) and effect.station in (points[low], points[high]):
        ahead = points[high] if effect.station == points[low] else points[low]
        changeover = ChangeoverAt(effect.distance_nm, effect.station, ahead)
        # One statement for the section is enough: guidance gathers them from all its segments.
        segments[low] = changed(segments[low], changeovers=(changeover,))


def _course_deg(segment: Segment, where: Callable[[str], Position | None]) -> float | None:
    """The true course of a segment as written; None where a position is missing."""
    return _between_deg(where(segment.start), where(segment.end))


def _between_deg(here: Position | None, there: Position | None) -> float | None:
    """The true course from one place to another; None where one is not known, or they are the same."""
    if here is None or there is None or distance_nm(here, there) < COINCIDENT_NM:
        return None
    return inverse(here, there).course_deg


def _with_minimum(segment: Segment, effect: SegmentMinimum, course_deg: float | None) -> Segment:
    """The segment with another MEA, MOCA or MAA."""
    if effect.kind == "MEA":
        return changed(segment, mea=_both_ways(segment.mea, effect, course_deg))
    if effect.kind == "MOCA":
        return changed(segment, moca=_both_ways(segment.moca, effect, course_deg))
    return changed(segment, maa=_both_ways(segment.maa, effect, course_deg))


def _both_ways(before: BothWays, effect: SegmentMinimum, course_deg: float | None) -> BothWays:
    """The altitude for the way that is meant, for both where none is named.

    Where it cannot be told which way is meant, either may be the other one: there the safer of old and new holds.
    """
    altitude_ft = effect.altitude_ft
    if effect.way is None:
        return BothWays(altitude_ft, altitude_ft)
    if course_deg is None:
        safer = min if effect.kind == "MAA" else max
        told = (
            altitude_ft if old is None else safer(old, altitude_ft) for old in (before.forward_ft, before.backward_ft)
        )
        return BothWays(*told)
    # `Eastbound` is half the compass: airways rarely run along one of its points.
    forward = abs(difference_deg(course_deg, _WAYS_DEG[effect.way])) < 90.0
    return BothWays(altitude_ft, before.backward_ft) if forward else BothWays(before.forward_ft, altitude_ft)


def _add_crossing(
    points: tuple[str, ...],
    segments: list[Segment],
    effect: CrossingMinimum,
    where: Callable[[str], Position | None],
    by: str,
) -> None:
    """Add an MCA at a point for the neighbour that lies the way meant, for each where that cannot be told."""
    index = points.index(effect.at)
    here = where(effect.at)
    for neighbour, beside in ((index - 1, index - 1), (index + 1, index)):
        if not 0 <= neighbour < len(points):
            continue
        there = where(points[neighbour])
        if not _leads(here, there, effect.way):
            continue
        crossing = CrossingAltitude(effect.altitude_ft, effect.at, points[neighbour], remark=f"by {by}")
        if crossing not in segments[beside].crossings:
            segments[beside] = changed(segments[beside], crossings=(*segments[beside].crossings, crossing))


def _leads(here: Position | None, there: Position | None, way: str | None) -> bool:
    """Whether it is `way` from here to there, within 90 degrees; also where that cannot be told."""
    course_deg = _between_deg(here, there) if way is not None else None
    return way is None or course_deg is None or abs(difference_deg(course_deg, _WAYS_DEG[way])) < 90.0
