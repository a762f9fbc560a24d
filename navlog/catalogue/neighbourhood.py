"""Places around a position, and names that are spelt alike."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from navlog.catalogue.nearness import apart_nm, box, nearest_first
from navlog.catalogue.opened import Opened, numbers
from navlog.catalogue.records import AIRPORT_KINDS, airport, one_object
from navlog.nav.chart import Airport, Place, Position, StationKind

if TYPE_CHECKING:
    from sqlite3 import Row

_FIX = "fix"
_LARGEST_RADIUS_NM = 1000.0
_MOST_SIMILAR = 8
_AROUND_DEG = 360.0
"""No longitude lies beyond."""
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"


def nearby(
    catalogue: Opened, position: Position, radius_nm: float, day: date, kinds: frozenset[str]
) -> tuple[Place, ...]:
    """Places of the kinds asked for within `radius_nm` (at most 1,000), nearest first."""
    radius_nm = min(radius_nm, _LARGEST_RADIUS_NM)
    found: list[Place] = []
    if kinds & {kind.value for kind in StationKind}:
        idents = {row["ident"] for row in _in_box(catalogue, "station", position, radius_nm, day)}
        stations = catalogue.published_stations(sorted(idents), day)
        found += [one.station for named in stations.values() for one in named if one.station.kind in kinds]
    if kinds & {_FIX}:
        idents = {row["ident"] for row in _in_box(catalogue, "fix", position, radius_nm, day)}
        found += [one for named in catalogue.published_fixes(sorted(idents), day).values() for one in named]
    if kinds & {"airport", "heliport", *AIRPORT_KINDS.values()}:
        found += [one for one in _airports(catalogue, position, radius_nm, day) if one.kind in kinds]
    near = [place for place in found if place.position and apart_nm(position, place.position) <= radius_nm]
    return tuple(nearest_first(near, position))


def on_frequency(catalogue: Opened, frequency_mhz: float, day: date) -> tuple[tuple[str, Position], ...]:
    """The names of stations tuned on a frequency in MHz, and where each is."""
    editions = catalogue.in_force("station", day)
    if not editions:
        return ()
    rows = catalogue.query(
        "SELECT ident, latitude, longitude FROM station WHERE frequency BETWEEN ? AND ? "
        f"AND edition IN ({numbers(editions)}) ORDER BY ident",
        (frequency_mhz - 0.001, frequency_mhz + 0.001),
    )
    return tuple((ident, Position(latitude, longitude)) for ident, latitude, longitude in rows)


def _in_box(catalogue: Opened, table: str, position: Position, radius_nm: float, day: date) -> list[Row]:
    editions = catalogue.in_force(table, day)
    if not editions:
        return []
    south, north, middle, reach = box(position, radius_nm)
    west, east = -_AROUND_DEG, _AROUND_DEG
    if reach is not None and abs(middle) + reach < 180.0:
        # Most boxes do not cross the antimeridian; the file then gives a tenth of the rows between the latitudes.
        west, east = middle - reach, middle + reach
    rows = catalogue.query(
        f"SELECT rowid, * FROM {table} WHERE latitude BETWEEN ? AND ? AND longitude BETWEEN ? AND ?"
        f" AND edition IN ({numbers(editions)})",
        (south, north, west, east),
    )
    if reach is None:
        return rows
    return [row for row in rows if abs((row["longitude"] - middle + 180.0) % 360.0 - 180.0) <= reach]


def _airports(catalogue: Opened, position: Position, radius_nm: float, day: date) -> list[Airport]:
    """Airports of all sources, each once; two sources may know one by different identifiers."""
    rank = {edition.number: place for place, edition in enumerate(catalogue.in_force("airport", day))}
    named: dict[str, list[Row]] = {}
    rows = _in_box(catalogue, "airport", position, radius_nm + 2.0, day)
    for row in sorted(rows, key=lambda row: (rank[row["edition"]], row["rowid"])):
        # The more trusted source comes first and names the group; the other joins it by either identifier.
        key = next((name for name in (row["icao"], row["ident"]) if name in named), row["icao"] or row["ident"])
        named.setdefault(key, []).append(row)
    return [
        airport(group[0], catalogue.provenance(group[0]["edition"], "airport"), None)
        for rows in named.values()
        for group in one_object(rows)
    ]


def similar(catalogue: Opened, ident: str, day: date, near: Position | None) -> tuple[Place, ...]:
    """Places whose identifier differs from `ident` by one character missing, added, changed or swapped.

    Nearest first where `near` is given, else swapped characters before the others; at most eight.
    """
    spelt = sorted(_one_slip(ident.upper()))
    stations = [
        one.station
        for named in catalogue.published_stations(_known(catalogue, "station", spelt, day), day).values()
        for one in named
        if one.station.kind not in (StationKind.VOT, StationKind.MARKER)
    ]
    airports = [
        one
        for name in _known(catalogue, "airport", spelt, day)
        for one in catalogue.airports(name, day)
        if one.kind == "airport"
    ]
    fixes = [
        one for named in catalogue.published_fixes(_known(catalogue, "fix", spelt, day), day).values() for one in named
    ]
    found: list[Place] = [*stations, *airports, *fixes]
    if near is not None:
        return tuple(nearest_first(found, near)[:_MOST_SIMILAR])
    # Swapped characters keep every letter of the word.
    found.sort(key=lambda place: sorted(place.ident) != sorted(ident.upper()))
    return tuple(found[:_MOST_SIMILAR])


def _known(catalogue: Opened, table: str, spelt: list[str], day: date) -> list[str]:
    columns = ("ident", "icao") if table == "airport" else ("ident",)
    return sorted({row[column] for column in columns for row in catalogue.rows(table, column, spelt, day)})


def _one_slip(ident: str) -> set[str]:
    """Every spelling one slip away; of an overlong word only its length is the slip."""
    if not 1 <= len(ident) <= 6:
        return set()
    halves = [(ident[:place], ident[place:]) for place in range(len(ident) + 1)]
    spelt = {left + right[1:] for left, right in halves if right}
    spelt |= {left + right[1] + right[0] + right[2:] for left, right in halves if len(right) > 1}
    spelt |= {left + letter + right[1:] for left, right in halves if right for letter in _LETTERS}
    spelt |= {left + letter + right for left, right in halves for letter in _LETTERS}
    return {word for word in spelt if len(word) > 1} - {ident}
