"""What of the published data names stations, whole tables at once: fixes by their radials, changeovers, airports."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from navlog.catalogue.damage import reading
from navlog.catalogue.opened import Opened, numbers
from navlog.catalogue.records import AIRPORT_KINDS, number, text
from navlog.nav.chart import STATION_KINDS, Position, Station, StationKind

if TYPE_CHECKING:
    from sqlite3 import Row

_VOR_TYPES = tuple(name for name, (kind, _) in STATION_KINDS.items() if kind is StationKind.VOR)
_AIRPORT_TYPES = tuple(name for name, kind in AIRPORT_KINDS.items() if kind == "airport")
_CLOSED = ("CI", "CP")
"""NASR's APT_BASE, ARPT_STATUS: closed indefinitely, closed permanently."""


class PublishedChangeover(NamedTuple):
    """A changeover point as an airway publishes it: so far from `station` on the way to `ahead`, NM."""

    airway: str
    station: str
    ahead: str
    distance_nm: float


class OpenAirport(NamedTuple):
    """An airport that is open: its identifier, where it is, and its elevation in feet, None where not published."""

    ident: str
    position: Position
    elevation_ft: float | None


@reading
def vors_in_service(catalogue: Opened, day: date) -> dict[str, tuple[Station, ...]]:
    """The VORs in service by identifier, those of another station's name together."""
    rows = _rows(catalogue, "station", "DISTINCT ident", f"type IN ({_listed(_VOR_TYPES)})", day)
    found = {}
    for ident, published in catalogue.published_stations(sorted({row["ident"] for row in rows}), day).items():
        stations = tuple(one.station for one in published if one.station.kind is StationKind.VOR)
        if any(one.in_service for one in stations):
            found[ident] = tuple(one for one in stations if one.in_service)
    return found


@reading
def radials_of_fixes(catalogue: Opened, day: date) -> dict[tuple[str, str], frozenset[str]]:
    """For each fix, by name and region, the identifiers of the VORs of which its make-up names a radial."""
    where = f"radial <> '' AND type IN ({_listed(_VOR_TYPES)})"
    found: dict[tuple[str, str], set[str]] = {}
    for row in _rows(catalogue, "makeup", "fix, region, station, edition", where, day):
        found.setdefault((row["fix"], text(row["region"]) or ""), set()).add(row["station"])
    return {name: frozenset(stations) for name, stations in found.items()}


@reading
def published_changeovers(catalogue: Opened, day: date) -> tuple[PublishedChangeover, ...]:
    """Every changeover point that the airways in force publish, in their order."""
    columns = "airway, point, cop_station, cop_distance, edition"
    rows = _rows(catalogue, "airway_point", columns, "cop_distance <> '' AND cop_station <> ''", day)
    found = (PublishedChangeover(row["airway"], row["point"], row["cop_station"], row["cop_distance"]) for row in rows)
    return tuple(dict.fromkeys(found))


@reading
def points_in_order(catalogue: Opened, day: date) -> dict[str, tuple[str, ...]]:
    """The points of each airway as written, those of one designator in several places one after the other."""
    found: dict[str, list[str]] = {}
    for row in _rows(catalogue, "airway_point", "airway, point, edition", "1", day):
        found.setdefault(row["airway"], []).append(row["point"])
    return {airway: tuple(points) for airway, points in found.items()}


@reading
def open_airports(catalogue: Opened, day: date) -> tuple[OpenAirport, ...]:
    """Every airport that is not published as closed, by the most trusted source that knows it.

    One that another source knows by another identifier is told apart by that alone.
    """
    columns = "ident, icao, latitude, longitude, elevation, status, edition"
    rows = _rows(catalogue, "airport", columns, f"type IN ({_listed(_AIRPORT_TYPES)})", day)
    known: set[str] = set()
    found = []
    for row in rows:
        names = {row["ident"], text(row["icao"]) or row["ident"]}
        if not names & known and row["status"] not in _CLOSED:
            position = Position(row["latitude"], row["longitude"])
            found.append(OpenAirport(text(row["icao"]) or row["ident"], position, number(row["elevation"])))
        known |= names
    return tuple(found)


def _rows(catalogue: Opened, table: str, columns: str, where: str, day: date) -> list[Row]:
    """Rows of a table that hold `where`, of the editions in force, the most trusted first."""
    found: list[Row] = []
    for edition in catalogue.in_force(table, day):
        some = numbers((edition,))
        found += catalogue.query(f"SELECT {columns} FROM {table} WHERE {where} AND edition = {some} ORDER BY rowid")
    return found


def _listed(words: tuple[str, ...]) -> str:
    return ", ".join(f"'{word}'" for word in words)
