"""What may tell a point in flight: DME distances and radials, with all of them that does not depend on height."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from math import cos, radians, sin

from navlog.nav import earth
from navlog.nav.chart import Position, Station, StationKind
from navlog.nav.guidance import radial_deg, true_bearing_deg
from navlog.nav.lines import REMEMBERED
from navlog.nav.record import changed
from navlog.nav.remembered import Remembered
from navlog.request.records import Request
from navlog.resolve.makeup import bearings_from, made_up_distance_nm
from navlog.resolve.route import Identification, MarkKind, Point, PointKind
from navlog.resolve.sections import StationFinder

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_VOR, _RADIAL = StationKind.VOR, MarkKind.RADIAL

FARTHEST_NM = 80.0
"""Beyond this a cross radial below 18,000 ft is not counted on (common practice, no source)."""

_FARTHEST_DEG = FARTHEST_NM / 59.7
"""Of latitude: a degree is 59.7 NM at least."""

_SAME_NM = 0.05
"""A published distance that prints as the position's is the position's; a farther one is of another place."""


def is_to_tell(point: Point, *, guides: bool) -> bool:
    """Whether something must tell a point: a station that `guides` tells itself by its flag, an airport by being seen.

    So does an NDB, by a receiver that the flight need not state.
    """
    if point.station is not None:
        return not guides and point.station.kind is not StationKind.NDB
    return point.kind in (PointKind.FIX, PointKind.POSITION)


def named_candidates(
    point: Point, flown: Station | None, find_station: StationFinder, *, dme: bool
) -> tuple[Identification, ...]:
    """What may tell `point` by its make-up and by the DME of the station flown.

    The make-up is a published one or the file's own. Without a `dme` on board there are radials alone.
    """
    stations = {flown.ident: flown} if flown is not None else {}
    for bearing in point.fix.makeup if point.fix is not None else ():
        station = None if bearing.station in stations else find_station(bearing.station, point.position)
        if station is not None:
            stations[station.ident] = station
    found: list[Identification] = []
    for station in stations.values():
        if station.kind is _VOR:
            found.extend(_of_station(point, station, dme=dme and station.dme, flown=station is flown))
    return tuple(found)


def dmes_alone(
    point: Point, request: Request, vors: Callable[[str, Position | None], Iterable[Station]]
) -> Iterator[Station]:
    """The stations of which the DME alone serves at a point: it itself, and those whose VOR is out.

    `vors` finds the VORs of a name, in service or not. Without a DME on board there are none.
    """
    if request.equipment.dme == 0:
        return
    own = point.station
    if own is not None and own.kind is not _VOR and own.ident not in request.definitions.unavailable:
        yield own
    for name in request.definitions.dme_serves:
        yield from vors(name, point.position)


def by_distance_alone(point: Point, stations: Iterable[Station]) -> Iterator[Identification]:
    """The distances of a point from stations of which the DME alone serves."""
    for station in stations:
        for one in _of_station(point, station, dme=station.dme and station.in_service, flown=True):
            named = station == point.station or made_up_distance_nm(point.fix, station) is not None
            yield changed(one, flown=False, named=named)


def other_candidates(
    point: Point, flown: Station | None, named: tuple[Identification, ...], known: Iterable[Station]
) -> Iterator[Identification]:
    """The radials of the flight's `known` stations within 80 NM that no make-up names."""
    # The radial of the station flown is the course, which tells nothing along it.
    told = set() if flown is None else {flown.ident}
    for one in named:
        if one.kind is _RADIAL:
            told.add(one.station.ident)
    for station in known:
        if station.kind is _VOR and station.ident not in told and _may_be_near(station, point.position):
            found = _RADIALS[station, point.position]
            if found is not None:
                yield found


def _radial_at(station: Station, position: Position | None) -> Identification | None:
    """The radial on which a place lies of a station within 80 NM; None of one farther off or of unknown position."""
    seen = _seen_from(station, position)
    radial = None if seen is None else radial_deg(station, seen.course_deg)
    if seen is None or radial is None or seen.distance_nm > FARTHEST_NM:
        return None
    return Identification(station, _RADIAL, radial, seen.distance_nm, seen.end_course_deg)


_RADIALS: Remembered[tuple[Station, Position | None], Identification | None] = Remembered(_radial_at, REMEMBERED)


def _of_station(point: Point, station: Station, *, dme: bool, flown: bool) -> Iterator[Identification]:
    """What one station that is `flown` or named by the make-up may tell of a point."""
    bearings = bearings_from(point.fix, station)
    made_deg = next((one.radial_deg for one in bearings if one.radial_deg is not None), None)
    made_nm = next((one.distance_nm for one in bearings if one.distance_nm is not None), None)
    published = point.fix is not None and point.fix.published
    seen = _seen_from(station, point.position)
    radial = None if seen is None else radial_deg(station, seen.course_deg)
    away_nm = seen.distance_nm if seen is not None else 0.0 if station == point.station else None
    # The file's own figures are flown as typed; of a published point the needle reads what its position makes.
    if radial is None or (made_deg is not None and not published):
        radial = made_deg
    if made_nm is not None and (away_nm is None or not published or abs(made_nm - away_nm) <= _SAME_NM):
        away_nm = made_nm
    bearing_deg = None if seen is None else seen.end_course_deg
    if bearing_deg is None and radial is not None:
        bearing_deg = true_bearing_deg(station, radial)
    if dme and away_nm is not None and (flown or made_nm is not None):
        yield Identification(
            station,
            MarkKind.DME,
            radial,
            away_nm,
            bearing_deg,
            published_nm=made_nm if published else None,
            published=published and made_nm is not None,
            named=True,
            flown=flown,
        )
    if radial is not None and not flown and made_deg is not None:
        yield Identification(
            station,
            _RADIAL,
            radial,
            away_nm,
            bearing_deg,
            published_radial_deg=made_deg if published else None,
            published=published,
            named=True,
        )


def _may_be_near(station: Station, position: Position | None) -> bool:
    """Whether a station may be within 80 NM of a place: a quick look before the geodesic."""
    if station.position is None or position is None:
        return False
    there, here = station.position, position
    if abs(there.latitude_deg - here.latitude_deg) > _FARTHEST_DEG:
        return False
    turned_deg = abs(there.longitude_deg - here.longitude_deg)
    if turned_deg <= _FARTHEST_DEG:
        return True
    # No way is shorter than the chord across the smaller circle of latitude, near a pole too.
    one_deg, other_deg = abs(there.latitude_deg), abs(here.latitude_deg)
    smaller = cos(radians(one_deg if one_deg > other_deg else other_deg))
    return smaller * sin(radians(turned_deg / 2.0)) <= sin(radians(_FARTHEST_DEG / 2.0))


def _seen_from(station: Station, position: Position | None) -> earth.Inverse | None:
    """The line from a station to a place; None where either is not known or they are one place."""
    if station.position is None or position is None:
        return None
    line = earth.measured(station.position, position)
    return None if line.distance_nm < earth.COINCIDENT_NM else line
