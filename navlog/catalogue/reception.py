"""Places around an aircraft with radial and distance, and which stations it can receive at a height."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from navlog.nav import earth
from navlog.nav.angles import normalize_deg
from navlog.nav.chart import Place, Position, Station, StationKind
from navlog.nav.guidance import radial_deg
from navlog.nav.radio import radio_horizon_nm, service_radius_nm


class Neighbour(Struct, frozen=True):
    """A place, how far and on which bearing the aircraft lies from it, and what reaches the aircraft.

    `course_deg` is the true course from the aircraft to it. `radial_deg` is the station's own, None for what has no
    radials and at the place itself. `in_sight` is the radio horizon's answer, `in_service` the standard service
    volume's; None where a figure is missing. `unusable` names the parts, "vor" and "dme", that are published as
    unusable there.
    """

    place: Place
    distance_nm: float
    bearing_deg: float | None
    radial_deg: float | None
    in_sight: bool | None = None
    in_service: bool | None = None
    unusable: tuple[str, ...] = ()
    course_deg: float | None = None


def neighbours(places: Iterable[Place], position: Position, altitude_ft: float | None) -> tuple[Neighbour, ...]:
    """How the aircraft lies from each place; with an altitude (feet MSL), what it receives."""
    return tuple(_neighbour(place, position, altitude_ft) for place in places if place.position is not None)


def _neighbour(place: Place, position: Position, altitude_ft: float | None) -> Neighbour:
    assert place.position is not None
    distance_nm = earth.distance_nm(place.position, position)
    at_place = distance_nm < earth.COINCIDENT_NM
    line = None if at_place else earth.inverse(place.position, position)
    bearing, course = (None, None) if line is None else (line.course_deg, normalize_deg(line.end_course_deg + 180.0))
    station = place if isinstance(place, Station) else None
    radial = radial_deg(station, bearing) if station is not None and bearing is not None else None
    in_sight = in_service = None
    unusable: tuple[str, ...] = ()
    if station is not None and altitude_ft is not None:
        unusable = tuple(
            part
            for part in _parts(station)
            if station.unusable_at(part, radial, distance_nm=distance_nm, altitude_ft=altitude_ft)
        )
    if (
        station is not None
        and station.kind is not StationKind.NDB  # whose waves follow the ground
        and altitude_ft is not None
        and station.elevation_ft is not None
    ):
        # From sea level, as nothing here tells the ground between: over high country it promises too much.
        in_sight = distance_nm <= radio_horizon_nm(max(altitude_ft, 0.0), max(station.elevation_ft, 0.0))
        service = station.service or station.dme_service
        if service is not None:
            reach_nm = service_radius_nm(service, altitude_ft - station.elevation_ft)
            in_service = reach_nm is not None and distance_nm <= reach_nm
    return Neighbour(place, distance_nm, bearing, radial, in_sight, in_service, unusable, course)


def _parts(station: Station) -> tuple[str, ...]:
    """What of a station may be unusable: a VOR's bearing, and the distance of any."""
    return (*(("vor",) if station.kind is StationKind.VOR else ()), *(("dme",) if station.dme else ()))
