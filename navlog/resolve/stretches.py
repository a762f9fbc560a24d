"""Hops to stretches: points placed, distances and guidance found, limits in the direction of flight."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from functools import lru_cache
from itertools import groupby, pairwise

from msgspec import Struct

from navlog.nav.angles import difference_deg
from navlog.nav.chart import Airway, Position, Segment, Service, Source, Station, StationKind
from navlog.nav.guidance import StatedDistance
from navlog.nav.problems import NavlogError
from navlog.nav.record import changed
from navlog.request.levels import level_altitude_ft
from navlog.request.records import Level, Request, RouteWord
from navlog.resolve.direct import guide_direct
from navlog.resolve.identify import by_distance_alone, dmes_alone, is_to_tell, named_candidates, other_candidates
from navlog.resolve.lines import (
    distance_between,
    first_known,
    made_up_radial_deg,
    part_course_deg,
    true_course,
    variation_along,
)
from navlog.resolve.makeup import may_be_meant
from navlog.resolve.names import Names
from navlog.resolve.path import Hop, Stop, limits, place_on_airway, turning_limits
from navlog.resolve.points import placed, point
from navlog.resolve.route import GuidedPart, Identification, MarkKind, Point, Stretch
from navlog.resolve.sections import NO_RADIAL, Section
from navlog.resolve.survey import Surveyed, SurveyMemory

_BROKEN = (Service.DISCONTINUED, Service.BORDER)


class _Draft(Struct, frozen=True):
    """A hop with its points placed and its distance known; `stops` are as the path gives them."""

    hop: Hop
    start: Point
    end: Point
    distance: StatedDistance
    level: Level
    tas_kt: float | None
    planned_ft: float


class Surveyor(Struct, frozen=True):
    """Turns the hops of one flight into stretches."""

    names: Names
    memory: SurveyMemory | None

    @property
    def request(self) -> Request:
        """The flight asked for."""
        return self.names.request

    def guiding(self, place: Point) -> Station | None:
        """The station that a point is, if it can guide: a VOR that is not out of service."""
        return self.usable(place.station)

    def usable(self, station: Station | None) -> Station | None:
        """The station itself if it is a VOR in service, else None."""
        if station is None or station.kind is not StationKind.VOR or not station.in_service:
            return None
        return None if station.ident in self.request.definitions.unavailable else station

    def find_station(self, ident: str, near: Position | None) -> Station | None:
        """The VOR in service of that name; None where there is none, or more than one that may be meant.

        There are namesakes all over the world, and those far from `near` are not meant.
        """
        found = self.vors(ident, near)
        # Two that may be meant are none: a wrong station is worse than a part without guidance.
        return self.usable(found[0]) if len(found) == 1 else None

    def vors(self, ident: str, near: Position | None) -> list[Station]:
        """The VORs of that name, in service or not, that may be meant near a place."""
        return [one for one in self.names.stations(ident) if one.kind is StationKind.VOR and may_be_meant(one, near)]

    def stretches(self, hops: tuple[Hop, ...]) -> tuple[tuple[Point, ...], tuple[Stretch, ...]]:
        """The points of the flight, one more than the stretches between them, and the stretches.

        Raises NavlogError where a point cannot be placed or a distance is not to be had.
        """
        points = self.points(hops)
        drafts = self.drafts(hops, points)
        surveyed = [one for group in _runs(drafts) for one in self.surveyed(group)]
        known = self.known_stations(drafts, surveyed)
        around = zip((None, *drafts), drafts, surveyed, (*surveyed[1:], None), strict=False)
        found = [
            self.stretch(number, before, draft, here, after, known)
            for number, (before, draft, here, after) in enumerate(around, 1)
        ]
        return points, tuple(found)

    def points(self, hops: tuple[Hop, ...]) -> tuple[Point, ...]:
        """The points of the path; raises every problem of placing one, of unused definitions too."""
        names, found = self.names, []
        for definition in self.request.definitions.fixes.values():
            try:
                placed(names, definition)
            except NavlogError as error:
                names.problems.extend(error.problems)
        for stop in (hops[0].start, *(hop.end for hop in hops)):
            try:
                found.append(point(names, stop))
            except NavlogError as error:
                names.problems.extend(error.problems)
        names.refuse()
        return tuple(found)

    def drafts(self, hops: tuple[Hop, ...], points: tuple[Point, ...]) -> tuple[_Draft, ...]:
        """The hops with their points, distance, level and speed."""
        request, found = self.request, []
        level, tas_kt, hpa = request.cruise, request.tas_kt, request.altimeter_hpa
        for hop, start, end in zip(hops, points, points[1:], strict=False):
            if hop.start.named:
                level = hop.start.word.level or level
                tas_kt = hop.start.word.tas_kt or tas_kt
            try:
                distance = distance_between(hop.segment, start, end, hop.end.word, self.names.catalogue.lines)
            except NavlogError as error:
                self.names.problems.extend(error.problems)
            else:
                found.append(_Draft(hop, start, end, distance, level, tas_kt, level_altitude_ft(level, hpa)))
        self.names.refuse()
        return tuple(found)

    def surveyed(self, group: tuple[_Draft, ...]) -> tuple[Surveyed, ...]:
        """What is the same for all flights of each hop of a run along one airway, or of one direct leg.

        What published data alone decides is remembered as long as the catalogue is open.
        """
        if self.memory is None or (key := self.key(group)) is None:
            return self.survey(group)
        found = self.memory.run(key)
        return self.memory.keep_run(key, self.survey(group)) if found is None else found

    def key(self, group: tuple[_Draft, ...]) -> tuple[object, ...] | None:
        """All that the survey of a run goes by where published data alone decide; None where they do not."""
        request, first, hop = self.request, group[0], group[0].hop
        always = (request.day, request.variation_deg, request.equipment.dme > 0)
        if hop.airway is not None and hop.airway.provenance.source is not Source.FILE:
            return (hop.airway, hop.index, len(group), _levels_that_matter(hop.airway, group), *always)
        if hop.airway is None and hop.segment is None:
            start, end = first.start, first.end
            # A place has the name that was asked for, so that a text of its own need not be kept with each leg.
            ends = (start.place or start.ident, start.position, end.place or end.ident, end.position)
            return (*ends, first.planned_ft, *always)
        return None

    def survey(self, group: tuple[_Draft, ...]) -> tuple[Surveyed, ...]:
        """What is the same for all flights of each hop of a run."""
        first, airway = group[0], group[0].hop.airway
        if airway is None:
            return (self.surveyed_hop(first, guide_direct(self.direct_section(first), first.planned_ft)),)
        return tuple(map(self.surveyed_hop, group, self.guided_along(airway, group)))

    def surveyed_hop(self, draft: _Draft, parts: tuple[GuidedPart, ...]) -> Surveyed:
        """What is the same for all flights of one hop, guided by `parts`."""
        request, lines = self.request, self.names.catalogue.lines
        course, course_source = true_course(draft.hop.segment, draft.start, draft.end, request.variation_deg, lines)
        variations, variation_source = variation_along(draft.start, draft.end, request, lines)
        flown = parts[-1].guidance.station if parts and parts[-1].guidance is not None else None
        within = limits(draft.hop, draft.end)
        return Surveyed(
            self.saying_what_is_out(parts, draft),
            within if self.memory is None else self.memory.one(within),
            course,
            course_source,
            variations,
            variation_source,
            self.marks(draft.end, flown) if is_to_tell(draft.end, guides=self.guiding(draft.end) is not None) else None,
            course.start_deg if course is not None else part_course_deg(parts[:1]),
            course.end_deg if course is not None else part_course_deg(parts[-1:]),
        )

    def marks(self, end: Point, flown: Station | None) -> tuple[Identification, ...]:
        """What the chart names to tell a point, where the needle is on the station flown."""
        dme = self.request.equipment.dme > 0
        key = (end.place, end.position, flown, self.request.day, dme)
        if self.memory is not None and (found := self.memory.marks.get(key)) is not None:
            return found
        alone = by_distance_alone(end, dmes_alone(end, self.request, self.vors))
        named = (*named_candidates(end, flown, self.find_station, dme=dme), *alone)
        return named if self.memory is None else self.memory.keep_marks(key, named)

    def guided_along(self, airway: Airway, group: tuple[_Draft, ...]) -> tuple[tuple[GuidedPart, ...], ...]:
        """The parts of each hop of a run along an airway, looked at from guiding station to guiding station."""
        from navlog.resolve.beyond import guide_airway

        first, lines = group[0], self.names.catalogue.lines
        low, high = first.hop.index, first.hop.index + len(group)
        start, end = self.extent(airway, low, high, group)
        points = [self.airway_point(airway, index, group, low) for index in range(start, end + 1)]
        lengths = [
            distance_between(segment, one, other, first.hop.end.word, lines).flown or 0.0
            for segment, (one, other) in zip(airway.segments[start:end], pairwise(points), strict=True)
        ]
        edges = [0, *(k for k in range(1, len(points) - 1) if self.guiding(points[k])), len(points) - 1]
        flown_ft = _levels_that_matter(airway, group, self.request.definitions.unavailable)
        # Beyond the flown part the level of its nearer end stands in: there the way is only looked at for guidance.
        levels_ft = (
            tuple(flown_ft[min(max(k - low, 0), len(flown_ft) - 1)] for k in range(start, end)) if flown_ft else ()
        )
        guided: list[tuple[GuidedPart, ...]] = []
        for left, right in pairwise(edges):
            section = Section(
                tuple(points[left : right + 1]),
                airway.segments[start + left : start + right],
                tuple(lengths[left:right]),
                self.guiding(points[left]),
                self.guiding(points[right]),
                airway.provenance.source is not Source.FILE,
                self.find_station,
                levels_ft[left:right],
                airway.provenance.source,
                lines.between,
            )
            guided.extend(guide_airway(section))
        return tuple(guided[low - start : high - start])

    def extent(self, airway: Airway, low: int, high: int, group: tuple[_Draft, ...]) -> tuple[int, int]:
        """The points of the airway from the guiding station before the flown part to the one after it."""
        start, end = low, high
        while start > 0 and not self.guiding(self.airway_point(airway, start, group, low)):
            if not self.measurable(airway, start - 1):
                break
            start -= 1
        while end < len(airway.points) - 1 and not self.guiding(self.airway_point(airway, end, group, low)):
            if not self.measurable(airway, end):
                break
            end += 1
        return start, end

    def measurable(self, airway: Airway, index: int) -> bool:
        """Whether guidance may be looked for across a segment that is not flown itself."""
        segment = airway.segments[index]
        # An airway that is broken there is two, and the station beyond guides neither.
        if segment.service in _BROKEN:
            return False
        if segment.distance_nm is not None:
            return True
        ends = (self.airway_point(airway, index, (), 0), self.airway_point(airway, index + 1, (), 0))
        return all(end.position is not None for end in ends)

    def airway_point(self, airway: Airway, index: int, group: tuple[_Draft, ...], low: int) -> Point:
        """A point of the airway: the flight's own where it is flown."""
        if group and low <= index <= low + len(group):
            return group[0].start if index == low else group[index - low - 1].end
        ident = airway.points[index]
        word = RouteWord(ident, airway.span or self.request.route[0].span, ident)
        return point(self.names, Stop(ident, place_on_airway(self.names, airway, ident, word), word))

    def direct_section(self, draft: _Draft) -> Section:
        """One direct leg as a section; a fix on a station's radial is held by that radial."""
        segment = draft.hop.segment or Segment(draft.start.name, draft.end.name)
        segment = changed(
            segment,
            start_radial_deg=first_known(segment.start_radial_deg, made_up_radial_deg(draft.start, draft.end)),
            end_radial_deg=first_known(segment.end_radial_deg, made_up_radial_deg(draft.end, draft.start)),
        )
        return Section(
            (draft.start, draft.end),
            (segment,),
            (draft.distance.flown or 0.0,),
            self.guiding(draft.start),
            self.guiding(draft.end),
            False,
            self.find_station,
            line_between=self.names.catalogue.lines.between,
        )

    def known_stations(self, drafts: tuple[_Draft, ...], surveyed: list[Surveyed]) -> tuple[Station, ...]:
        """The stations of the flight: those that guide, those it passes, and those the file defines."""
        guiding = [part.guidance.station for one in surveyed for part in one.parts if part.guidance is not None]
        passed = [self.guiding(draft.end) for draft in drafts]
        defined = [self.usable(station) for station in self.request.definitions.stations.values()]
        found = {station.ident: station for station in (*guiding, *passed, *defined) if station is not None}
        return tuple(found.values())

    def stretch(
        self,
        number: int,
        before: _Draft | None,
        draft: _Draft,
        here: Surveyed,
        after: Surveyed | None,
        known: tuple[Station, ...],
    ) -> Stretch:
        """The stretch of one hop."""
        hop, segment = draft.hop, draft.hop.segment
        return Stretch(
            number,
            draft.start,
            draft.end,
            hop.via,
            draft.distance,
            draft.distance.flown or 0.0,
            here.parts,
            turning_limits(here.limits, hop, draft.end, before.hop) if before is not None else here.limits,
            draft.level,
            draft.tas_kt,
            here.true_course,
            here.course_source,
            here.variation,
            here.variation_source,
            None if after is None or draft.end.landing is not None else _turn_deg(here, after),
            _candidates(draft, here, known),
            segment.course if segment is not None else None,
            hop.airway,
            segment.service if segment is not None else Service.NORMAL,
            segment.gap_nm if segment is not None else None,
            segment.remarks if segment is not None else (),
            hop.joins,
            draft.hop.end.word.span,
        )

    def saying_what_is_out(self, parts: tuple[GuidedPart, ...], draft: _Draft) -> tuple[GuidedPart, ...]:
        """The parts, those that no radial leads along for the reason that a VOR at one end is out of service."""
        if all(one.reason != NO_RADIAL for one in parts):
            return parts
        ends = [place.station for place in (draft.start, draft.end) if place.station is not None]
        out = [one.ident for one in ends if one.kind is StationKind.VOR and self.usable(one) is None]
        reason = f"{' and '.join(out)} {'is' if len(out) == 1 else 'are'} out of service"
        return tuple(changed(one, reason=reason) if out and one.reason == NO_RADIAL else one for one in parts)


def _candidates(draft: _Draft, here: Surveyed, known: tuple[Station, ...]) -> tuple[Identification, ...] | None:
    """What may tell the end of a hop in flight, but for a radial published as unusable on it; None of one to see."""
    if here.named is None:
        return None
    last = here.parts[-1].guidance if here.parts else None
    every = (*here.named, *other_candidates(draft.end, last.station if last is not None else None, here.named, known))
    silent = draft.hop.segment.silent if draft.hop.segment is not None else None
    # A radial that the remark calls unusable may still tell by DME: only azimuth is meant.
    if silent is None:
        return every
    return tuple(one for one in every if one.kind is MarkKind.DME or one.station.ident != silent)


def _turn_deg(here: Surveyed, after: Surveyed) -> float | None:
    """The change of true course from one hop to the next, right positive; None where one is not known."""
    if here.arriving_deg is None or after.leaving_deg is None:
        return None
    return difference_deg(after.leaving_deg, here.arriving_deg)


def _levels_that_matter(
    airway: Airway, group: tuple[_Draft, ...], unavailable: Collection[str] = ()
) -> tuple[float, ...]:
    """The planned altitude of each hop of a run, where a remark on the airway holds only below some height.

    Also where a station is out, since the others are then received as far as the level flown makes it.
    """
    heights = unavailable or _holds_below_some_height(airway) or airway.has_outage
    return tuple(draft.planned_ft for draft in group) if heights else ()


@lru_cache(maxsize=4_096)
def _holds_below_some_height(airway: Airway) -> bool:
    """Whether a remark on an airway holds only below some height."""
    return any(one.below_ft is not None for segment in airway.segments for one in segment.unusable)


def _runs(drafts: tuple[_Draft, ...]) -> Iterator[tuple[_Draft, ...]]:
    """The drafts in runs along one airway; each direct leg is a run of its own."""
    for key, group in groupby(drafts, key=lambda draft: id(draft.hop.airway) if draft.hop.airway is not None else None):
        if key is None:
            yield from ((draft,) for draft in group)
        else:
            yield tuple(group)
