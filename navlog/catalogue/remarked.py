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
    Unusable,
    UseRadial,
    read_remark,
    speaks_of_guidance,
    station_spoken_of,
)
from navlog.catalogue.airways import Chain, add_crossing
from navlog.catalogue.nearness import angle_between_deg, apart_nm, bearing_deg
from navlog.nav.chart import (
    Bearing,
    ChangeoverAt,
    CrossingAltitude,
    Position,
    Segment,
    Service,
    Station,
    UnusableRadial,
)
from navlog.nav.record import changed

_FIT_DEG = 3.0
"""A published radial is whole degrees of a course that may bend; a wrong station is off by tens."""

_AT_POINT_NM = 1.0
"""Changeover distances are published in whole miles."""


class _Finder(Protocol):
    """What reading a remark needs of the catalogue."""

    def named(self, name: str, near: Position) -> Station | None:
        """The VOR of that name near a position."""

    def branches(self, airway: str, point: str) -> tuple[tuple[str, float], ...]:
        """The neighbours of a point on another airway, with the courses toward them."""


class _Remarked(NamedTuple):
    """Reads the remarks of one airway's rows into its segments."""

    chain: Chain
    segments: list[Segment]
    finder: _Finder

    def read_all(self) -> None:
        """Change the segments as the remarks say; every remark stays with its segment in words."""
        from navlog.catalogue.records import text

        for index, row in enumerate(self.chain.rows):
            remark = text(row["remark"])
            if remark is None or not self.segments:
                continue
            said = read_remark(remark)
            limits = next((one for one in said if isinstance(one, Unusable)), None)
            understood = [self._take(one, index, remark, limits) for one in said]
            # One part that is not understood may undo another, so the whole remark is doubted.
            if not (understood and all(understood)) and speaks_of_guidance(remark):
                self._not_understood(index, remark)

    def _take(self, said: Said, index: int, remark: str, limits: Unusable | None) -> bool:
        match said:
            case UseRadial():
                return self._use_radial(said, index, remark, limits)
            case Unusable():
                return self._unusable(said, index, remark)
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

    def _not_understood(self, index: int, remark: str) -> None:
        """A remark takes away the guidance of the station that it begins with, else all guidance of its segment."""
        own = min(index, len(self.segments) - 1)
        name = station_spoken_of(remark)
        station = self._station(name, index) if name is not None else None
        if station is None or "USE " in remark.upper():
            self.segments[own] = changed(self.segments[own], doubtful=True)
        elif self.segments[own].silent is None:
            self._add_unusable(own, UnusableRadial(station.ident, remark=remark))

    def _use_radial(self, said: UseRadial, index: int, remark: str, limits: Unusable | None) -> bool:
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
        # A name found by likeness may be another station's: its radial then passes elsewhere.
        if angle_between_deg(radial_deg, said.radial_deg) > _FIT_DEG:
            return False
        along = Bearing(station.ident, said.radial_deg, station_kind=station.published_kind)
        below_ft = limits.below_ft if limits is not None else None
        self.segments[index] = changed(self.segments[index], along=along, along_below_ft=below_ft)
        if limits is not None and limits.beyond_nm is None and limits.between is None:
            for other in self._rest_of_leg(index):
                if self.segments[other].along is None:
                    told = self._told(other, remark)
                    self.segments[other] = changed(told, along=along, along_below_ft=below_ft)
        return True

    def _unusable(self, said: Unusable, index: int, remark: str) -> bool:
        """The station neither guides nor marks fixes on the straight leg, as far as the remark's limits reach."""
        own = min(index, len(self.segments) - 1)
        station = self._station(said.name, index)
        if station is None:
            return False
        found = UnusableRadial(station.ident, said.radial_deg, said.beyond_nm, said.below_ft, remark)
        if said.between is None:
            self._add_unusable(own, found)
            for other in self._rest_of_leg(own):
                self.segments[other] = self._told(other, remark)
                self._add_unusable(other, found)
            return True
        names = self.chain.points
        if not set(said.between) <= set(names):
            return False
        first, last = sorted(names.index(name) for name in said.between)
        for other in range(first, last):
            self.segments[other] = self._told(other, remark)
            self._add_unusable(other, found)
        return True

    def _add_unusable(self, index: int, found: UnusableRadial) -> None:
        segment = self.segments[index]
        if found not in segment.unusable:
            self.segments[index] = changed(segment, unusable=(*segment.unusable, found))

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
        # One radial leads along a straight run: what is said of it on one segment holds on all.
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
        """The changeover point is where the way is so far from a station that need not be on the airway.

        Where no place is, nothing is known of the point; the radials of the airway's own stations stay.
        """
        station = self._station(said.name, index)
        if station is None or station.position is None or index >= len(self.segments):
            return False
        changeovers = []
        for one in self.segments[index].changeovers:
            if station.ident in self.chain.points:
                changeovers.append(changed(one, station=station.ident))
            elif (along_nm := self._along_nm(index, station.position, one.distance_nm)) is not None:
                measured = (one.distance_nm, station.ident)
                changeovers.append(changed(one, distance_nm=along_nm, measured=measured))
        self.segments[index] = changed(self.segments[index], changeovers=tuple(changeovers))
        return True

    def _along_nm(self, index: int, origin: Position, distance_nm: float) -> float | None:
        """How far along the way from point `index` it is first `distance_nm` from a place, going away from it."""
        along_nm = 0.0
        for segment, start, end in zip(
            self.segments[index:], self.chain.places[index:], self.chain.places[index + 1 :], strict=False
        ):
            ends = [place.position for place in (start, end) if place is not None and place.position is not None]
            if len(ends) < 2 or segment.distance_nm is None:
                return None
            # Going away only: toward the station the same distance is met once before, on its other side.
            if apart_nm(origin, ends[0]) <= distance_nm <= apart_nm(origin, ends[1]):
                low, high = 0.0, 1.0
                for _ in range(20):
                    middle = (low + high) / 2.0
                    nearer = apart_nm(origin, _between(ends[0], ends[1], middle)) < distance_nm
                    low, high = (middle, high) if nearer else (low, middle)
                return along_nm + low * segment.distance_nm
            along_nm += segment.distance_nm
        return None

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
        if not published or abs(published[0].distance_nm - along_nm) > _AT_POINT_NM:
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


def _between(start: Position, end: Position, share: float) -> Position:
    """A place on the way of one segment, near enough: by latitude and longitude, which bend it by yards."""
    east_deg = (end.longitude_deg - start.longitude_deg + 180.0) % 360.0 - 180.0
    north_deg = end.latitude_deg - start.latitude_deg
    return Position(start.latitude_deg + share * north_deg, start.longitude_deg + share * east_deg)


def read_remarks(chain: Chain, made: Sequence[Segment], finder: _Finder) -> tuple[Segment, ...]:
    """The segments as their remarks change them."""
    remarked = _Remarked(chain, list(made), finder)
    remarked.read_all()
    return tuple(remarked.segments)
