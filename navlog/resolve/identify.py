"""How a fix is recognised in flight: the DME of the station flown, or another station's radial."""

from __future__ import annotations

from collections.abc import Iterable
from math import radians, sin

from navlog.nav import earth
from navlog.nav.angles import difference_deg
from navlog.nav.chart import Station, StationKind
from navlog.nav.guidance import Guidance, StatedRadial, distance_from, radial_toward
from navlog.nav.radio import service_radius_nm
from navlog.request.records import Equipment, Level
from navlog.resolve.makeup import bearings_from, made_up_distance_nm
from navlog.resolve.route import Identification, Point, PointKind
from navlog.resolve.sections import StationFinder

WEAK_CUT_DEG = 30.0
"""A cut under 30 degrees marks a fix badly (practice: an error unless it is published)."""

FARTHEST_NM = 80.0
"""Beyond this a cross radial below 18,000 ft is not counted on (common practice, no source)."""

DME_UNKNOWN_NM = 40.0
"""What a DME of an unknown class is counted on for: the radius of class L (AIM 1-1-8)."""

VOLUME_FLOOR_FT = 1_000.0
"""Standard service volumes begin so far above the station (AIM 1-1-8)."""


def identify(
    point: Point,
    guidance: Guidance | None,
    equipment: Equipment,
    find_station: StationFinder,
    known: Iterable[Station],
    silent: str | None = None,
    *,
    level: Level,
) -> tuple[Identification, ...]:
    """How `point` is recognised on `guidance` at `level`: one identification, or two where no station guides.

    The DME of the station flown comes first where it serves, last where it does not; in between the published
    or stated make-up of a fix, then a radial computed for a station of the route that crosses well. Empty where
    nothing serves: time alone marks the point. `silent` is a station whose radial here is published as unusable.
    """
    if point.kind not in (PointKind.FIX, PointKind.POSITION):
        return ()
    by_dme: tuple[Identification, ...] = ()
    if guidance is not None and equipment.dme > 0 and guidance.station.dme:
        ground_nm = made_distance_nm(point, guidance.station)
        if ground_nm is not None:
            by_dme = (Identification(guidance.station, ground_nm=ground_nm),)
            if ground_nm <= dme_reach_nm(guidance.station, level) or published_by_dme(point, guidance.station):
                return by_dme
    crossing = tuple(one for one in crossings(point, guidance, find_station) if one.station.ident != silent)
    if not crossing:
        crossing = tuple(
            Identification(station, StatedRadial(None, radial_toward(station, point.position)))
            for station in known
            if usable(station, guidance) and station.ident != silent and cuts_well(station, guidance, point)
        )
    best = sorted(crossing, key=lambda one: -quality(one, guidance, point))
    return tuple(best[: 1 if guidance is not None else 2]) or by_dme


def dme_reach_nm(station: Station, level: Level) -> float:
    """How far a station's DME serves at a level, by its class, at least as far as 1,000 ft above it."""
    service = station.dme_service or station.service
    if service is None or station.elevation_ft is None:
        return DME_UNKNOWN_NM
    radius_nm = service_radius_nm(service, max(level.altitude_ft - station.elevation_ft, VOLUME_FLOOR_FT))
    return DME_UNKNOWN_NM if radius_nm is None else radius_nm


def published_by_dme(point: Point, station: Station) -> bool:
    """Whether a published fix is made up by that station's DME, which was checked in flight there."""
    fix = point.fix
    return fix is not None and fix.published and made_up_distance_nm(fix, station) is not None


def made_distance_nm(point: Point, station: Station) -> float | None:
    """The distance over the ground from a station: as the fix is made up, else computed."""
    made_nm = made_up_distance_nm(point.fix, station)
    return made_nm if made_nm is not None else distance_from(station, point.position)


def crossings(point: Point, guidance: Guidance | None, find_station: StationFinder) -> tuple[Identification, ...]:
    """The radials of other stations that make up the fix."""
    found = []
    for bearing in point.fix.makeup if point.fix is not None else ():
        station = find_station(bearing.station, point.position)
        if station is None or bearing.radial_deg is None or not usable(station, guidance):
            continue
        if bearing not in bearings_from(point.fix, station):
            continue
        radial = StatedRadial(bearing.radial_deg, radial_toward(station, point.position))
        found.append(Identification(station, radial))
    return tuple(found)


def usable(station: Station, guidance: Guidance | None) -> bool:
    """Whether a station can give a cross radial beside the one flown."""
    return station.kind is StationKind.VOR and (guidance is None or station.ident != guidance.station.ident)


def cuts_well(station: Station, guidance: Guidance | None, point: Point) -> bool:
    """Whether a station's computed radial crosses the one flown well, and is near enough to count on."""
    if radial_toward(station, point.position) is None:
        return False
    distance_nm = distance_from(station, point.position)
    return distance_nm is not None and distance_nm <= FARTHEST_NM and cut_deg(station, guidance, point) >= WEAK_CUT_DEG


def cut_deg(station: Station, guidance: Guidance | None, point: Point) -> float:
    """The angle at the point between the bearings of two stations, 0 to 90; 90 where it cannot be told."""
    if guidance is None or guidance.station.position is None or station.position is None or point.position is None:
        return 90.0
    if earth.distance_nm(guidance.station.position, point.position) < 0.001:
        return 0.0
    one = earth.inverse(point.position, guidance.station.position).course_deg
    other = earth.inverse(point.position, station.position).course_deg
    between = abs(difference_deg(one, other))
    return min(between, 180.0 - between)


def quality(identification: Identification, guidance: Guidance | None, point: Point) -> float:
    """The higher, the less a bearing error moves the fix: sine of the cut over the distance."""
    station = identification.station
    distance_nm = distance_from(station, point.position) or FARTHEST_NM
    return sin(radians(cut_deg(station, guidance, point))) / max(distance_nm, 1.0)
