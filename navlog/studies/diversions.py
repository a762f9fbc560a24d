"""The airports beside a flight's way to which it could divert: asked of published data, once a report."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from navlog.flightlog.legs import minus
from navlog.flightlog.performance import air_at
from navlog.flightlog.records import Leg, Log
from navlog.nav import earth
from navlog.nav.chart import Airport, Place, Position, Source, Station, StationKind
from navlog.nav.guidance import distance_from, radial_toward
from navlog.nav.radio import slant_nm
from navlog.nav.record import changed
from navlog.nav.wind import triangle
from navlog.rules.answers import Answer
from navlog.rules.diversion import FieldBeside, FieldsBeside
from navlog.studies.revision_reach import Around, nearest_station, usable_stations, variation_at

_REACH_NM = 25.0
"""A field farther from the way is not beside it: some 12 minutes of a light aircraft (common practice, no source)."""
_STATION_NM = 60.0


def with_diversions(answer: Answer, around: Around | None) -> Answer:
    """The answer with the diversions in its report, of the route file alone where nothing published is there."""
    if answer.report is None:
        return answer
    return changed(answer, report=changed(answer.report, diversions=diversions(answer.report.log, around)))


def diversions(log: Log, around: Around | None) -> FieldsBeside:
    """The open airports within 25 NM of the way published as public, and those of the route file, in flying order.

    Each is told from the point of the way nearest to it. Heliports, seaplane bases and the like are left out, and
    so are the flight's own ends and alternates, which have rows of their own, and fields that the fuel left at the
    end of that leg does not reach.
    """
    flown = [leg for leg in log.legs if not leg.stays and leg.start.position is not None and leg.end.position]
    near = {leg.number: tuple(_near(log, leg, around)) for leg in flown}
    stations = tuple(usable_stations(log, (one for places in near.values() for one in places)))
    own = {
        point.place.position
        for way in (log.route, *log.route.alternates)
        for point in way.points
        if isinstance(point.place, Airport)
    }
    best: dict[Position, FieldBeside] = {}
    begun = _begun(log)
    for leg in flown:
        for field in _fields(log, near[leg.number]):
            if field.position in own:
                continue
            found = _from_leg(log, leg, begun[leg.number], field, stations)
            known = best.get(field.position)
            if found is not None and (known is None or found.distance_nm < known.distance_nm):
                best[field.position] = found
    way_nm = sum(leg.distance_nm for leg in log.legs)
    ordered = sorted(best.values(), key=lambda one: (one.along_nm, one.distance_nm, one.airport.ident))
    return FieldsBeside(way_nm, _REACH_NM, around is not None, tuple(ordered))


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


def _fields(log: Log, near: Iterable[Place]) -> Iterator[Airport]:
    """The open airports not known to be private: of the file and published."""
    for one in (*log.route.request.definitions.airports.values(), *near):
        if isinstance(one, Airport) and one.kind == "airport" and one.status is None and _may_land(one):
            yield one


def _may_land(field: Airport) -> bool:
    """Whether a field is published as public, or the route file itself names it."""
    return field.use == "public" or field.provenance.source is Source.FILE


def _from_leg(
    log: Log, leg: Leg, begun: tuple[float, str, float], field: Airport, stations: tuple[Station, ...]
) -> FieldBeside | None:
    """The field from the point of a leg nearest to it; None beyond reach."""
    start, end = leg.start.position, leg.end.position
    if start is None or end is None or earth.distance_nm(start, field.position) > leg.distance_nm + _REACH_NM:
        return None
    here, from_start_nm = _abeam(start, end, leg.distance_nm, field.position)
    distance_nm = earth.distance_nm(here, field.position)
    if not earth.COINCIDENT_NM < distance_nm <= _REACH_NM:
        return None
    middle, _ = earth.point_along(here, field.position, distance_nm / 2.0)
    course_deg = earth.inverse(here, field.position).course_deg
    wind = air_at(log.conditions, middle, leg.end_altitude_ft).wind
    solved = None
    if wind is not None and leg.tas_kt is not None:
        solved = triangle(true_course_deg=course_deg, tas_kt=leg.tas_kt, wind=wind)
    speed_kt = solved.groundspeed_kt if solved is not None else None
    time_min = distance_nm / speed_kt * 60.0 if speed_kt is not None else None
    burn, left = log.fuel.burn_per_h, leg.fuel_remaining
    if time_min is not None and burn is not None and left is not None and left < time_min / 60.0 * burn:
        return None
    variation_deg = variation_at(log, middle)
    station = nearest_station(field, stations)
    along_nm, past, beyond_nm = begun
    return FieldBeside(
        airport=field,
        along_nm=along_nm + from_start_nm,
        past=past,
        beyond_nm=beyond_nm + from_start_nm,
        distance_nm=distance_nm,
        true_course_deg=course_deg,
        magnetic_course_deg=minus(course_deg, variation_deg),
        magnetic_heading_deg=minus(solved.true_heading_deg if solved is not None else None, variation_deg),
        time_min=time_min,
        station=station,
        radial_deg=radial_toward(station, field.position) if station is not None else None,
        dme_nm=_dme_nm(station, field, leg) if station is not None else None,
    )


def _abeam(start: Position, end: Position, length_nm: float, place: Position) -> tuple[Position, float]:
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
