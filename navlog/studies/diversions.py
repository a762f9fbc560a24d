"""The airports beside a flight's way to which it could divert: asked of published data, once a report."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from msgspec import Struct

from navlog.flightlog.legs import minus
from navlog.flightlog.performance import air_at
from navlog.flightlog.records import Leg, Log
from navlog.nav import earth
from navlog.nav.chart import Airport, Place, Position, Source, Station, StationKind
from navlog.nav.guidance import distance_from, radial_toward
from navlog.nav.notices import AirportClosed, Notice, StationOut, airport_names
from navlog.nav.radio import slant_nm
from navlog.nav.record import changed
from navlog.nav.wind import triangle
from navlog.request.references import References
from navlog.rules.answers import Answer
from navlog.rules.diversion import FieldBeside, FieldsBeside
from navlog.studies.revision_reach import Around, nearest_station, usable_stations, variation_at

_REACH_NM = 25.0
"""A field farther from the way is not beside it: some 12 minutes of a light aircraft (common practice, no source)."""
_STATION_NM = 60.0
_ONE_PLACE_NM = 0.5
"""Airports nearer to each other are one under two names, and a way so near to one leads over it."""
_A_DAY = timedelta(days=1)


class _Abeam(Struct, frozen=True):
    """Where a leg comes nearest to a field: the place, how far it is from the leg's start, and the field from it."""

    leg: Leg
    here: Position
    from_start_nm: float
    distance_nm: float


def with_diversions(answer: Answer, around: Around | None, references: References) -> Answer:
    """The answer with the diversions in its report, of the route file alone where nothing published is there."""
    if answer.report is None:
        return answer
    log = answer.report.log
    notices = [one for reference in log.route.request.notices for one in references.notices(reference)]
    return changed(answer, report=changed(answer.report, diversions=_fields_beside(log, around, notices)))


def _fields_beside(log: Log, around: Around | None, notices: Iterable[Notice] = ()) -> FieldsBeside:
    """The open airports within 25 NM of the way published as public, and those of the route file, in flying order.

    Each is told from the point of the way nearest to it. Heliports, seaplane bases and the like are left out, and
    so are the flight's own airports and alternates, which have rows of their own, fields that a notice closes around
    the day of the flight, and those that the fuel left at the end of that leg does not reach.
    """
    flown = [leg for leg in log.legs if not leg.stays and leg.start.position is not None and leg.end.position]
    near = tuple(dict.fromkeys(place for leg in flown for place in _near(log, leg, around)))
    counting = tuple(one for one in notices if one.void is None and _around(one, log.conditions.off, log))
    closed = {
        name
        for notice in counting
        for one in notice.effects
        if isinstance(one, AirportClosed)
        for name in airport_names(one.airport)
    }
    silent = {one.station for notice in counting for one in notice.effects if isinstance(one, StationOut)}
    stations = tuple(one for one in usable_stations(log, near) if one.ident not in silent)
    begun = _begun(log)
    found: list[FieldBeside] = []
    shut: list[str] = []
    unknown = 0
    for field in _fields(log, near):
        abeam = min(
            (one for leg in flown for one in _abeams(leg, field)), key=lambda one: one.distance_nm, default=None
        )
        if abeam is None:
            continue
        if field.ident in closed:
            shut.append(field.ident)
        elif field.use is None and field.provenance.source is not Source.FILE:
            unknown += 1
        else:
            found.extend(_from(log, abeam, begun[abeam.leg.number], field, stations))
    way_nm = sum(leg.distance_nm for leg in log.legs)
    ordered = sorted(found, key=lambda one: (one.along_nm, one.distance_nm, one.airport.ident))
    return FieldsBeside(way_nm, _REACH_NM, around is not None, unknown, tuple(shut), tuple(ordered))


def _around(notice: Notice, off: datetime | None, log: Log) -> bool:
    """Whether a notice is in force within a day of the take-off; without an hour of take-off it always is."""
    if off is None:
        return True
    last = off + timedelta(minutes=log.legs[-1].elapsed_min or 0.0)
    start, end = notice.period.start, notice.period.end if notice.lapses else None
    return (start is None or start <= last + _A_DAY) and (end is None or end >= off - _A_DAY)


def _begun(log: Log) -> dict[int, tuple[float, str, float]]:
    """Where each leg begins: NM from take-off, the last point of the route passed, and NM beyond it."""
    found: dict[int, tuple[float, str, float]] = {}
    along_nm, past, past_nm = 0.0, log.legs[0].start.name, 0.0
    for leg in log.legs:
        if leg.start.ident is not None:
            past, past_nm = leg.start.ident, along_nm
        found[leg.number] = (along_nm, past, along_nm - past_nm)
        along_nm += leg.distance_nm
    return found


def _near(log: Log, leg: Leg, around: Around | None) -> Iterator[Place]:
    """Airports and VORs published around a leg."""
    start, end = leg.start.position, leg.end.position
    if around is None or start is None or end is None:
        return
    half_nm = earth.distance_nm(start, end) / 2.0
    middle = start if half_nm < earth.COINCIDENT_NM else earth.point_along(start, end, half_nm)[0]
    kinds = frozenset({"airport", StationKind.VOR})
    yield from around.nearby(middle, half_nm + _STATION_NM, log.conditions.day, kinds)


def _fields(log: Log, near: Iterable[Place]) -> list[Airport]:
    """The open airports not known to be private, of the file and published, each place once and none of the flight."""
    own = [
        point.place.position
        for way in (log.route, *log.route.alternates)
        for point in way.points
        if isinstance(point.place, Airport)
    ]
    found: list[Airport] = []
    for one in (*log.route.request.definitions.airports.values(), *near):
        if not isinstance(one, Airport) or one.kind != "airport" or one.status is not None or one.use == "private":
            continue
        known = (*own, *(other.position for other in found))
        if all(earth.distance_nm(one.position, place) > _ONE_PLACE_NM for place in known):
            found.append(one)
    return found


def _abeams(leg: Leg, field: Airport) -> Iterator[_Abeam]:
    """Where a leg comes nearest to a field within reach of it."""
    start, end = leg.start.position, leg.end.position
    if start is None or end is None or earth.distance_nm(start, field.position) > leg.distance_nm + _REACH_NM:
        return
    here, from_start_nm = _nearest(start, end, leg.distance_nm, field.position)
    distance_nm = earth.distance_nm(here, field.position)
    if distance_nm <= _REACH_NM:
        yield _Abeam(leg, here, from_start_nm, distance_nm)


def _from(
    log: Log, abeam: _Abeam, begun: tuple[float, str, float], field: Airport, stations: tuple[Station, ...]
) -> Iterator[FieldBeside]:
    """The field from there, where the fuel reaches it."""
    leg, overhead = abeam.leg, abeam.distance_nm <= _ONE_PLACE_NM
    magnetic_deg = heading_deg = None
    time_min: float | None = 0.0
    if not overhead:
        magnetic_deg, heading_deg, time_min = _direct(log, abeam, field)
    burn, left = log.fuel.burn_per_h, leg.fuel_remaining
    if time_min is not None and burn is not None and left is not None and left < time_min / 60.0 * burn:
        return
    station = nearest_station(field, stations)
    along_nm, past, beyond_nm = begun
    yield FieldBeside(
        airport=field,
        along_nm=along_nm + abeam.from_start_nm,
        past=past,
        beyond_nm=beyond_nm + abeam.from_start_nm,
        distance_nm=abeam.distance_nm,
        overhead=overhead,
        magnetic_course_deg=magnetic_deg,
        magnetic_heading_deg=heading_deg,
        time_min=time_min,
        station=station,
        radial_deg=radial_toward(station, field.position) if station is not None else None,
        dme_nm=_dme_nm(station, field, leg) if station is not None else None,
    )


def _direct(log: Log, abeam: _Abeam, field: Airport) -> tuple[float | None, float | None, float | None]:
    """Magnetic course and heading to a field, and the minutes."""
    leg = abeam.leg
    middle, _ = earth.point_along(abeam.here, field.position, abeam.distance_nm / 2.0)
    course_deg = earth.inverse(abeam.here, field.position).course_deg
    variation_deg = variation_at(log, middle)
    wind = air_at(log.conditions, middle, leg.end_altitude_ft).wind
    solved = None
    if wind is not None and leg.tas_kt is not None:
        solved = triangle(true_course_deg=course_deg, tas_kt=leg.tas_kt, wind=wind)
    if solved is None or solved.groundspeed_kt is None:
        return minus(course_deg, variation_deg), None, None
    heading_deg = minus(solved.true_heading_deg, variation_deg)
    return minus(course_deg, variation_deg), heading_deg, abeam.distance_nm / solved.groundspeed_kt * 60.0


def _nearest(start: Position, end: Position, length_nm: float, place: Position) -> tuple[Position, float]:
    """The point of a leg nearest to a place, and how far it is from the leg's start."""
    if earth.distance_nm(start, end) < earth.COINCIDENT_NM:
        return start, 0.0
    along_nm, _ = earth.offset(start, end, place)
    if along_nm <= 0.0:
        return start, 0.0
    if along_nm >= earth.distance_nm(start, end):
        return end, length_nm
    return earth.point_along(start, end, along_nm)[0], along_nm


def _dme_nm(station: Station, field: Airport, leg: Leg) -> float | None:
    """What the DME reads over the field at the height flown; None without one, or with its elevation unknown."""
    ground_nm = distance_from(station, field.position)
    if ground_nm is None or not station.dme or station.elevation_ft is None:
        return None
    return slant_nm(ground_nm, leg.end_altitude_ft - station.elevation_ft)
