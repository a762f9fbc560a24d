"""The flight on the ground: its places, and the great-circle lines between them, for maps and drawings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import ceil

from navlog import earth, figures
from navlog.chart import Position, Station
from navlog.flightlog.records import Leg, Log
from navlog.route import ChangeoverKind, PointKind
from navlog.sheets.events import place_name
from navlog.sheets.remarks import dme_channel, stations_in_order, tuned

LINE_STEP_NM = 10.0
"""A great circle is drawn through points this far apart."""


@dataclass(frozen=True, slots=True)
class MarkedPlace:
    """A place of the flight with what is to be known of it in words."""

    name: str
    kind: str
    position: Position | None
    about: str


def places(log: Log) -> tuple[MarkedPlace, ...]:
    """The points of the route, changeover points and changes of level in flying order, then other stations used.

    A point that is passed twice stands once.
    """
    found: dict[tuple[str, str, Position | None], MarkedPlace] = {}

    def add(place: MarkedPlace) -> None:
        found.setdefault((place.name, place.kind, place.position), place)

    for index, leg in enumerate(log.legs):
        if index == 0:
            add(of_point(leg, leg.start.kind, at_start=True))
        add(of_point(leg, leg.end.kind, at_start=False))
    idents = {place.name for place in found.values() if place.kind == PointKind.STATION}
    for station in stations_in_order(log):
        if station.ident not in idents:
            add(MarkedPlace(station.ident, PointKind.STATION.value, station.position, station_text(station)))
    return tuple(found.values())


def of_point(leg: Leg, kind: str, *, at_start: bool) -> MarkedPlace:
    """An end of a leg as a place."""
    point = leg.start if at_start else leg.end
    place = point.point.place if point.point is not None else None
    about = place.name or "" if place is not None else ""
    if point.point is not None and point.point.station is not None:
        about = station_text(point.point.station)
    elif not at_start and leg.changeover is not None and leg.changeover.kind is not ChangeoverKind.UNKNOWN:
        changeover = leg.changeover
        about = (
            f"{figures.distance(changeover.distance_nm)} NM from {changeover.behind.ident}"
            f" ({changeover.kind.value}), then {tuned(changeover.ahead)}"
        )
    return MarkedPlace(place_name(point), kind, point.position, about)


def station_text(station: Station) -> str:
    """How a station is tuned and identified, and its name."""
    channel = dme_channel(station)
    return " ".join(filter(None, (tuned(station), f"DME {channel}" if channel else "", station.name)))


def great_circle(leg: Leg) -> tuple[Position, ...]:
    """The geodesic that a leg flies, a point at least every 10 NM; empty without positions or length."""
    start, end = leg.start.position, leg.end.position
    if start is None or end is None or earth.distance_nm(start, end) < earth.COINCIDENT_NM:
        return ()
    line = earth.inverse(start, end)
    pieces = ceil(line.distance_nm / LINE_STEP_NM)
    between = (earth.direct(start, line.course_deg, line.distance_nm * step / pieces) for step in range(1, pieces))
    return (start, *between, end)


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
            latitude = latitude_at_antimeridian(before, position)
            pieces[-1].append((side, latitude))
            pieces.append([(-side, latitude)])
        if not pieces[-1] or pieces[-1][-1] != here:
            pieces[-1].append(here)
        before = position
    return tuple(tuple(piece) for piece in pieces if len(piece) > 1)


def latitude_at_antimeridian(before: Position, after: Position) -> float:
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
