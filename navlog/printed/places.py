"""The flight on the ground: its places, and the great-circle lines between them, for maps and drawings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import atan2, ceil, cos, degrees, radians, sin

from msgspec import Struct

from navlog.flightlog.changeovers import far_text, kind_text
from navlog.flightlog.counted import counts
from navlog.flightlog.facts import changeover_place
from navlog.flightlog.records import Leg, LegPoint, Log
from navlog.nav import earth, figures
from navlog.nav.angles import normalize_deg
from navlog.nav.chart import Position, Station
from navlog.printed.place_names import place_name
from navlog.printed.remarks import dme_channel, stations_in_order, tuned
from navlog.printed.rows import marked
from navlog.resolve.route import Changeover, PointKind

_LINE_STEP_NM = 10.0
"""A great circle is drawn through points this far apart."""


class _MarkedPlace(Struct, frozen=True):
    """A place of the flight with what is to be known of it in words; `label` is what a drawing shows."""

    name: str
    kind: str
    position: Position | None
    about: str
    label: str


def places(log: Log) -> tuple[_MarkedPlace, ...]:
    """The points of the route, changeover points and changes of level in flying order, then other stations used.

    A point that is passed twice stands once.
    """
    found: dict[tuple[str, str, Position | None], _MarkedPlace] = {}

    def add(place: _MarkedPlace) -> None:
        found.setdefault((place.name, place.kind, place.position), place)

    add(_of_point(log.legs[0].start, place_name(log.legs[0].start), None))
    for count in counts(log):
        add(_of_point(count.leg.end, place_name(count.leg.end), count.changeover))
    idents = {place.name for place in found.values() if place.kind == PointKind.STATION}
    for station in stations_in_order(log):
        if station.ident not in idents:
            about, label = _station_text(station), _station_label(station)
            add(_MarkedPlace(station.ident, PointKind.STATION.value, station.position, about, label))
    return tuple(found.values())


def _of_point(point: LegPoint, name: str, changeover: Changeover | None) -> _MarkedPlace:
    """An end of a leg as a place."""
    place = point.point.place if point.point is not None else None
    about, label = (place.name if place is not None else None) or "", name
    if isinstance(place, Station):
        about, label = _station_text(place), _station_label(place)
    elif point.name == point.kind and point.kind != PointKind.CHANGEOVER:
        label = name.lower()
    at = None if changeover is None else changeover_place(changeover)
    if changeover is not None and at is not None:
        far, behind = far_text(changeover), changeover.behind.ident
        told = f"{at} ({kind_text(changeover)}), then {tuned(changeover.ahead)}"
        about = "; ".join(filter(None, (about, told)))
        label = f"{'' if name == 'COP' else f'{name} '}COP {far} NM {behind}"
    return _MarkedPlace(name, point.kind, point.position, about, label)


def _station_label(station: Station) -> str:
    """A station with its frequency."""
    return f"{marked(station)} {figures.frequency(station.frequency_mhz)}"


def _station_text(station: Station) -> str:
    """How a station is tuned and identified, and its name."""
    channel = dme_channel(station)
    return " ".join(filter(None, (tuned(station), f"DME {channel}" if channel else "", station.name)))


def great_circle(leg: Leg) -> tuple[Position, ...]:
    """The geodesic that a leg flies, a point at least every 10 NM; empty without positions or length."""
    start, end = leg.start.position, leg.end.position
    if start is None or end is None or earth.distance_nm(start, end) < earth.COINCIDENT_NM:
        return ()
    line = earth.inverse(start, end)
    pieces = ceil(line.distance_nm / _LINE_STEP_NM)
    between = (earth.direct(start, line.course_deg, line.distance_nm * step / pieces) for step in range(1, pieces))
    return (start, *between, end)


class Plane:
    """Positions laid flat: bearings and distances from the middle of them are true."""

    def __init__(self, positions: Sequence[Position]) -> None:
        self.center = _middle(positions)

    def at(self, position: Position) -> tuple[float, float]:
        """NM east and north of the middle."""
        if earth.distance_nm(self.center, position) < earth.COINCIDENT_NM:
            return (0.0, 0.0)
        line = earth.inverse(self.center, position)
        angle = radians(line.course_deg)
        return (line.distance_nm * sin(angle), line.distance_nm * cos(angle))

    def angle_deg(self, position: Position, true_deg: float) -> float:
        """A true direction at a position as an angle in the plane, clockwise from its north."""
        start, end = self.at(position), self.at(earth.direct(position, normalize_deg(true_deg), 1.0))
        return degrees(atan2(end[0] - start[0], end[1] - start[1]))


def _middle(positions: Sequence[Position]) -> Position:
    """A place amid positions: halfway along the longest line from the first."""
    first = positions[0]
    far = max(positions, key=lambda position: earth.distance_nm(first, position))
    length_nm = earth.distance_nm(first, far)
    return first if length_nm < earth.COINCIDENT_NM else earth.point_along(first, far, length_nm / 2.0)[0]


def cut_at_antimeridian(line: Iterable[Position]) -> tuple[tuple[tuple[float, float], ...], ...]:
    """A line as (longitude, latitude) pairs, cut where it crosses 180 degrees (RFC 7946, section 3.1.9)."""
    pieces: list[list[tuple[float, float]]] = []
    before: Position | None = None
    for position in line:
        here = (position.longitude_deg, position.latitude_deg)
        if before is None:
            pieces.append([])
        elif abs(position.longitude_deg - before.longitude_deg) > 180.0:
            side = 180.0 if before.longitude_deg > 0.0 else -180.0
            latitude = _latitude_at_antimeridian(before, position)
            pieces[-1].append((side, latitude))
            pieces.append([(-side, latitude)])
        if not pieces[-1] or pieces[-1][-1] != here:
            pieces[-1].append(here)
        before = position
    return tuple(tuple(piece) for piece in pieces if len(piece) > 1)


def _latitude_at_antimeridian(before: Position, after: Position) -> float:
    """The latitude at which the short line between two points crosses 180 degrees of longitude."""
    to_line = 180.0 - abs(before.longitude_deg)
    whole = to_line + 180.0 - abs(after.longitude_deg)
    share = to_line / whole if whole else 0.0
    return before.latitude_deg + share * (after.latitude_deg - before.latitude_deg)


def lines(log: Log) -> Iterator[tuple[Leg, tuple[tuple[tuple[float, float], ...], ...]]]:
    """Each leg that has a line, with its pieces."""
    for leg in log.legs:
        pieces = cut_at_antimeridian(great_circle(leg))
        if pieces:
            yield leg, pieces
