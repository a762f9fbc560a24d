"""Segments with what their remarks say of guidance, crossing, turning and changing over.

A remark names stations by name, sometimes misspelt. A station is taken only where it fits: by the name and
nearness, and for a radial to fly by the radial passing along the segment.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple, Protocol

from navlog.catalogue.airway_remarks import (
    ChangeAt,
    ChangeTo,
    CrossAt,
    MeasuredFrom,
    Said,
    Turn,
    UseRadial,
    read_remark,
    speaks_of_guidance,
    unusable_throughout,
)
from navlog.catalogue.airways import Chain, add_crossing
from navlog.catalogue.nearness import angle_between_deg, apart_nm, bearing_deg
from navlog.nav.chart import Bearing, ChangeoverAt, CrossingAltitude, Position, Segment, Service, Station
from navlog.nav.record import changed

FIT_DEG = 3.0
"""A published radial is whole degrees of a course that may bend; a wrong station is off by tens."""

AT_POINT_NM = 1.0
"""Changeover distances are published in whole miles."""


class Finder(Protocol):
    """What reading a remark needs of the catalogue."""

    def named(self, name: str, near: Position) -> Station | None:
        """The VOR of that name near a position."""

    def branches(self, airway: str, point: str) -> tuple[tuple[str, float], ...]:
        """The neighbours of a point on another airway, with the courses toward them."""


class Remarked(NamedTuple):
    """Reads the remarks of one airway's rows into its segments."""

    chain: Chain
    segments: list[Segment]
    finder: Finder

    def read_all(self) -> None:
        """Change the segments as the remarks say; every remark stays with its segment in words."""
        from navlog.catalogue.records import text

        for index, row in enumerate(self.chain.rows):
            remark = text(row["remark"])
            if remark is None or not self.segments:
                continue
            said = read_remark(remark)
            understood = [self._take(one, index, remark) for one in said]
            if not (understood and all(understood)) and speaks_of_guidance(remark):
                own = min(index, len(self.segments) - 1)
                self.segments[own] = changed(self.segments[own], doubtful=True)
                self._silence(remark, own)

    def _take(self, said: Said, index: int, remark: str) -> bool:
        match said:
            case UseRadial():
                return self._use_radial(said, index, remark)
            case CrossAt():
                return self._cross_at(said, remark)
            case Turn():
                return self._turn(said, index, remark)
            case ChangeTo():
                return self._change_to(said, index)
            case MeasuredFrom():
                return self._measured_from(said, index)
            case ChangeAt():
                return self._change_at(said, index)

    def _use_radial(self, said: UseRadial, index: int, remark: str) -> bool:
        if index >= len(self.segments):
            return False
        station = self._station(said.name, index)
        ends = [
            place.position for place in self.chain.places[index : index + 2] if place is not None and place.position
        ]
        if station is None or station.position is None or station.declination_deg is None or not ends:
            return False
        # The end farther from the station tells its radial best.
        far = max(ends, key=lambda position: apart_nm(station.position or position, position))
        radial_deg = bearing_deg(station.position, far) - station.declination_deg
        if angle_between_deg(radial_deg, said.radial_deg) > FIT_DEG:
            return False
        along = Bearing(station.ident, said.radial_deg, station_kind=station.published_kind)
        self.segments[index] = changed(self.segments[index], along=along)
        if unusable_throughout(remark):
            for other in self._rest_of_leg(index):
                if self.segments[other].along is None:
                    self.segments[other] = changed(self._told(other, remark), along=along)
        return True

    def _silence(self, remark: str, index: int) -> None:
        """The station whose radial a remark calls unusable neither guides the leg nor marks its fixes."""
        name = unusable_throughout(remark)
        station = self._station(name, index) if name is not None else None
        if station is not None:
            self.segments[index] = changed(self.segments[index], silent=station.ident)
            for other in self._rest_of_leg(index):
                self.segments[other] = changed(self._told(other, remark), silent=station.ident)

    def _told(self, index: int, remark: str) -> Segment:
        segment = self.segments[index]
        return segment if remark in segment.remarks else changed(segment, remarks=(*segment.remarks, remark))

    def _rest_of_leg(self, index: int) -> Iterator[int]:
        """The other segments of the straight run, from one turning point to the next, that holds `index`."""
        first = last = index
        while first > 0 and not self._turns_at(first):
            first -= 1
        while last + 1 < len(self.segments) and not self._turns_at(last + 1):
            last += 1
        yield from (other for other in range(first, last + 1) if other != index)

    def _turns_at(self, point: int) -> bool:
        before, after = self.segments[point - 1], self.segments[point]
        broken = Service.DISCONTINUED in (before.service, after.service)
        return before.turn or broken or isinstance(self.chain.places[point], Station)

    def _cross_at(self, said: CrossAt, remark: str) -> bool:
        for index, place in enumerate(self.chain.places):
            if isinstance(place, Station) and place.name == said.name:
                add_crossing(self.chain, self.segments, index, said.altitude_ft, said.way, remark)
                return True
        return False

    def _turn(self, said: Turn, index: int, remark: str) -> bool:
        """The turn goes to the segment by which it is reached, as the next one is on another airway."""
        arrival = self.chain.neighbour(index, said.way, arriving=True)
        if arrival is None:
            return False
        from navlog.catalogue.airways import COMPASS_DEG

        point, wanted = self.chain.points[index], COMPASS_DEG[said.onto_way]
        away = [
            (angle_between_deg(course, wanted), name)
            for name, course in self.finder.branches(said.onto, point)
            if name != self.chain.points[arrival]
        ]
        angle, toward = min(away, default=(180.0, None))
        crossing = CrossingAltitude(
            said.altitude_ft,
            point,
            toward if angle < 90.0 else None,
            turning=True,
            remark=remark,
            coming_from=self.chain.points[arrival],
        )
        own = min(index, arrival)
        self.segments[own] = changed(self.segments[own], crossings=(*self.segments[own].crossings, crossing))
        return True

    def _change_to(self, said: ChangeTo, index: int) -> bool:
        """The station beyond the changeover point, where the column names the next one on the airway."""
        station = self._station(said.name, index)
        if station is None or index >= len(self.segments) or not self.segments[index].changeovers:
            return False
        if said.until is not None and said.until not in self.chain.points[index:]:
            return False
        changeovers = tuple(
            changed(one, ahead=station.ident, until=said.until) for one in self.segments[index].changeovers
        )
        self.segments[index] = changed(self.segments[index], changeovers=changeovers)
        return True

    def _measured_from(self, said: MeasuredFrom, index: int) -> bool:
        """From a station that need not be on the airway; nothing then tells who guides before the point."""
        station = self._station(said.name, index)
        if station is None or index >= len(self.segments):
            return False
        changeovers = tuple(changed(one, station=station.ident) for one in self.segments[index].changeovers)
        self.segments[index] = changed(self.segments[index], changeovers=changeovers)
        return station.ident in self.chain.points

    def _change_at(self, said: ChangeAt, index: int) -> bool:
        """The named fix, where its distance along the airway is the published one; else the fix wins."""
        if said.point not in self.chain.points[index:]:
            return False
        end = self.chain.points.index(said.point, index)
        lengths = [segment.distance_nm for segment in self.segments[index:end]]
        if None in lengths:
            return False
        along_nm = sum(length for length in lengths if length is not None)
        published = self.segments[index].changeovers
        if not published or abs(published[0].distance_nm - along_nm) > AT_POINT_NM:
            ahead = published[0].ahead if published else None
            changeover = ChangeoverAt(along_nm, self.chain.points[index], ahead)
            self.segments[index] = changed(self.segments[index], changeovers=(changeover,))
        return True

    def _station(self, name: str, index: int) -> Station | None:
        near = next(
            (place.position for place in self.chain.places[index : index + 2] if place is not None and place.position),
            None,
        )
        return self.finder.named(name, near) if near is not None else None


def read_remarks(chain: Chain, made: Sequence[Segment], finder: Finder) -> tuple[Segment, ...]:
    """The segments as their remarks change them."""
    remarked = Remarked(chain, list(made), finder)
    remarked.read_all()
    return tuple(remarked.segments)
