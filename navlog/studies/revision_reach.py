"""The fields that the fuel on board still reaches from a point passed, in the wind found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta
from typing import Protocol

from msgspec import Struct

from navlog.flightlog.fuel import after, reserve_at
from navlog.flightlog.legs import deviation_on, minus
from navlog.flightlog.performance import Air, Going, air_at, cruise, fuel_in_time, with_cruise_beyond
from navlog.flightlog.records import Log
from navlog.nav import earth
from navlog.nav.chart import Airport, Place, Position, Station, StationKind
from navlog.nav.guidance import distance_from, radial_toward
from navlog.nav.notices import MARGIN, AirportClosed, Notice, airport_names
from navlog.nav.problems import NavlogError
from navlog.nav.record import changed
from navlog.nav.wind import triangle

_MOST_FIELDS = 8
_FARTHEST_NM = 1_000.0
_AROUND_FIELD_NM = 60.0
"""A station farther from a field than this is not named for it."""
_A_DAY = timedelta(days=1)
_ROW_HOLDS_FT = 2_000.0
"""So far beyond a cruise table its nearest row is some 4 % off in true airspeed (common practice, no source)."""


class Around(Protocol):
    """What a catalogue says of the places around one."""

    def nearby(self, position: Position, radius_nm: float, day: date, kinds: frozenset[str]) -> tuple[Place, ...]:
        """The places of those kinds, nearest first."""


class Field(Struct, frozen=True):
    """A field within reach, direct from the point passed at the height flown there.

    `station`, `radial_deg` and `station_nm` say where it lies from the nearest VOR; the radial is None at the
    station itself. `fuel_left` is on landing, in the log's unit; `reserve_kept` tells whether the reserve of
    a landing there, by its own light, is in it. What cannot be told is None, for the `reason`; `beyond` is said where
    the cruise table ends before the height flown and its nearest row is counted. `closed_by` is the notice that closes
    it when it is reached, where that is not known on the day from now on.
    """

    airport: Airport
    distance_nm: float
    true_course_deg: float
    magnetic_course_deg: float | None
    station: Station | None
    radial_deg: float | None
    station_nm: float | None
    magnetic_heading_deg: float | None = None
    compass_heading_deg: float | None = None
    groundspeed_kt: float | None = None
    time_min: float | None = None
    fuel_left: float | None = None
    reserve_kept: bool | None = None
    reason: str | None = None
    beyond: str | None = None
    closed_by: str | None = None


def fields_within_reach(
    log: Log, here: Position, around: Around | None, notices: tuple[Notice, ...] = ()
) -> tuple[Field, ...]:
    """The fields that can be reached with the fuel on board, those that keep the reserve first, then by time.

    Then come those of which that is not known, by distance, and last those that a notice closes.
    `log` is that of the rest of the flight: its conditions hold the fuel and the wind, its first leg the height
    and speed. The fields are those of the route file and of the route, and those nearby in the catalogue; at most 8.
    """
    fuel = log.conditions.on_board
    if fuel is None or fuel <= 0.0:
        return ()
    near = tuple(_nearby(log, here, fuel, around))
    stations = tuple(one for one in usable_stations(log, near) if not _is_silent(one, notices, log.conditions.off))
    published = [one for one in near if isinstance(one, Airport)]
    # The file's own last, so that what the pilot states of a field goes before what is published.
    seen = {field.ident: field for field in (*published, *_own_fields(log)) if field.status is None}
    reached = [one for field in seen.values() for one in _reached(log, here, field, fuel, stations)]
    off = log.conditions.off
    found = [changed(one, closed_by=closed_by(notices, one.airport.ident, off, one.time_min)) for one in reached]
    return tuple(sorted(found, key=_order)[:_MOST_FIELDS])


def _order(field: Field) -> tuple[bool, bool, bool, bool, float]:
    """By which fields are told: open and known first, with the reserve first, private ones last, then the nearest."""
    closed, private = field.closed_by is not None, field.airport.use == "private"
    if field.time_min is None:
        return closed, True, True, private, field.distance_nm
    return closed, False, not field.reserve_kept, private, field.time_min


def closed_by(notices: Iterable[Notice], ident: str, start: datetime | None, time_min: float | None) -> str | None:
    """The notice that closes an airport so many minutes after a start, within 30 minutes; None where none does.

    Where the time is not known one counts that is in force within a day, and without a start any.
    """
    for notice in notices:
        names = (airport_names(one.airport) for one in notice.effects if isinstance(one, AirportClosed))
        if notice.void is None and any(ident in some for some in names) and _counts(notice, start, time_min):
            return notice.ident
    return None


def _counts(notice: Notice, start: datetime | None, time_min: float | None) -> bool:
    """Whether a notice is in force within 30 minutes of an arrival; what is not known is held against the flight."""
    if start is None:
        return True
    first = start if time_min is None else start + timedelta(minutes=time_min)
    last = start + _A_DAY if time_min is None else first
    return notice.in_force(first - MARGIN, last + MARGIN)


def _is_silent(station: Station, notices: Iterable[Notice], now: datetime | None) -> bool:
    """Whether a notice has a station out of service."""
    return any(one.void is None and one.puts_out(station.ident) and _counts(one, now, 0.0) for one in notices)


def _own_fields(log: Log) -> Iterator[Airport]:
    """The airports of the route file, of the route and of its alternates."""
    yield from log.route.request.definitions.airports.values()
    for route in (log.route, *log.route.alternates):
        yield from (point.place for point in route.points if isinstance(point.place, Airport))


def _nearby(log: Log, here: Position, fuel: float, around: Around | None) -> Iterator[Place]:
    """Airports and VORs of the catalogue within what the fuel could reach in no wind."""
    burn, tas_kt = log.fuel.burn_per_h, log.legs[0].tas_kt
    if around is None or not burn or tas_kt is None:
        return
    # As far as still air allows, and 60 NM more for the stations about the fields there.
    radius_nm = min(_FARTHEST_NM, fuel / burn * tas_kt + _AROUND_FIELD_NM)
    yield from around.nearby(here, radius_nm, log.conditions.day, frozenset({"airport", StationKind.VOR}))


def usable_stations(log: Log, near: Iterable[Place]) -> Iterator[Station]:
    """The VORs in service of the file, of the route and of the catalogue."""
    given = log.route.request.definitions
    guiding = [part.guidance.station for stretch in log.route.stretches for part in stretch.parts if part.guidance]
    for one in (*given.stations.values(), *guiding, *near):
        if isinstance(one, Station) and one.kind is StationKind.VOR and one.ident not in given.unavailable:
            yield one


def _reached(log: Log, here: Position, airport: Airport, fuel: float, stations: tuple[Station, ...]) -> Iterator[Field]:
    """The field, if it is another place and the fuel reaches it."""
    distance_nm = earth.distance_nm(here, airport.position)
    if distance_nm < earth.COINCIDENT_NM:
        return
    middle, course_deg = earth.point_along(here, airport.position, distance_nm / 2.0)
    station = nearest_station(airport, stations)
    field = Field(
        airport=airport,
        distance_nm=distance_nm,
        true_course_deg=course_deg,
        magnetic_course_deg=minus(course_deg, variation_at(log, middle)),
        station=station,
        radial_deg=radial_toward(station, airport.position) if station is not None else None,
        station_nm=distance_from(station, airport.position) if station is not None else None,
    )
    yield from _flown_to(log, field, middle, fuel)


def _flown_to(log: Log, field: Field, middle: Position, fuel: float) -> Iterator[Field]:
    """The field with the way there flown, where the fuel reaches it; else with why that is not known."""
    first, conditions, burn = log.legs[0], log.conditions, log.fuel.burn_per_h
    air = air_at(conditions, middle, first.start_altitude_ft)
    going, beyond = _cruising(log, air)
    if going is None or air.wind is None or burn is None:
        reason = beyond or ("no true airspeed" if going is None else "no wind" if air.wind is None else "no burn")
        yield changed(field, reason=reason)
        return
    solved = triangle(true_course_deg=field.true_course_deg, tas_kt=going.tas_kt, wind=air.wind)
    # Upwind of a wind that cannot be flown nothing is in reach, however near.
    if solved.groundspeed_kt is None:
        return
    time_min = field.distance_nm / solved.groundspeed_kt * 60.0
    left = fuel - time_min / 60.0 * burn
    if left < 0.0:
        return
    place = field.airport.position
    reserve_min, _ = reserve_at(log.route.request, place, after(conditions.off, time_min))
    heading_deg = minus(solved.true_heading_deg, variation_at(log, middle))
    yield changed(
        field,
        magnetic_heading_deg=heading_deg,
        compass_heading_deg=minus(heading_deg, deviation_on(conditions, heading_deg)),
        groundspeed_kt=solved.groundspeed_kt,
        time_min=time_min,
        fuel_left=left,
        reserve_kept=left >= (fuel_in_time(reserve_min, burn) or 0.0) - 1e-9,
        beyond=beyond,
    )


def _cruising(log: Log, air: Air) -> tuple[Going | None, str | None]:
    """The cruise in the air of a way, and what the table says of a height that is beyond its end.

    A little beyond it its nearest row is counted; farther off nothing is known.
    """
    first, conditions = log.legs[0], log.conditions
    try:
        return cruise(conditions, air, first.stretch.tas_kt), None
    except NavlogError as error:
        beyond = error.problems[0].message
    try:
        return cruise(with_cruise_beyond(conditions, _ROW_HOLDS_FT), air, first.stretch.tas_kt), beyond
    except NavlogError:
        return None, beyond


def variation_at(log: Log, place: Position) -> float | None:
    """The variation as stated, else the model's; None outside its years."""
    if log.route.request.variation_deg is not None:
        return log.route.request.variation_deg
    if log.route.magnetic_model is None:
        return None
    from navlog.nav.magnetism import variation_deg

    return variation_deg(place, log.conditions.day)


def nearest_station(airport: Airport, stations: tuple[Station, ...]) -> Station | None:
    """The VOR nearest to a field, of those whose radials are known."""
    near: list[tuple[float, Station]] = []
    for station in stations:
        distance_nm = distance_from(station, airport.position)
        if distance_nm is not None and station.declination_deg is not None and distance_nm <= _AROUND_FIELD_NM:
            near.append((distance_nm, station))
    return min(near, key=lambda pair: pair[0])[1] if near else None


def without_headings_to(fields: tuple[Field, ...]) -> tuple[Field, ...]:
    """Fields with no heading, where the wind across is not known; times stay."""
    return tuple(changed(field, magnetic_heading_deg=None, compass_heading_deg=None) for field in fields)
