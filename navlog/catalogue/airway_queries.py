"""Airways out of the catalogue: which rows make one airway, and which place each of its points is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

from navlog.catalogue.airways import Chain, is_border, segments
from navlog.catalogue.damage import reading
from navlog.catalogue.nearness import apart_nm, nearest_first
from navlog.catalogue.opened import Opened, numbers
from navlog.catalogue.records import Published, number, text
from navlog.nav.chart import (
    STATION_KINDS,
    Airway,
    Fix,
    Place,
    Position,
    Provenance,
    Segment,
    Station,
    StationKind,
)
from navlog.nav.record import changed
from navlog.nav.spelling import alike

if TYPE_CHECKING:
    from sqlite3 import Row

_NAMED_WITHIN_NM = 200.0
"""A station that a remark names is on the airway or beside it."""

_TELLING = ("MTA", "MCA", "COP", "USE ", "R-", " R ")
"""Words without one of which no remark has anything to be read; most remarks have none."""

_STATION_TYPES = frozenset(("VHF", *STATION_KINDS))

_AnyPlace = TypeVar("_AnyPlace", bound=Place)


@reading
def airways_with_rows(
    catalogue: Opened, idents: Sequence[str], day: date
) -> dict[str, list[tuple[Airway, tuple[Row, ...]]]]:
    """The airways of each designator, each with the row of every point as published.

    One for each location; a less trusted source adds only others.
    """
    found: dict[str, list[tuple[Airway, tuple[Row, ...]]]] = {ident: [] for ident in idents}
    told = _by(catalogue.rows("airway_point", "airway", idents, day, "location, seq, rowid"), "airway", "edition")
    # Every point of a route line is asked for as an airway, and most are none.
    names = list(dict.fromkeys(ident for ident, _ in told))
    if not names:
        return found
    points = _points_of(catalogue, [row for rows in told.values() for row in rows], day)
    remarks = _by(catalogue.rows("airway", "ident", names, day, kind="airway_point"), "ident", "edition", "location")
    for (ident, edition), rows in told.items():
        trusted = tuple(airway for airway, _ in found[ident])
        for (location,), own in _by(rows, "location").items():
            if not any(_is_told(airway, own) for airway in trusted):
                said = [one for row in remarks.get((ident, edition, location), ()) if (one := text(row["remark"]))]
                airway = changed(
                    _airway(catalogue, ident, own, day, points),
                    location=location,
                    remarks=tuple(said[-1:]),
                    provenance=catalogue.provenance(edition, "airway"),
                )
                found[ident].append((airway, tuple(own)))
    return found


class _Points(NamedTuple):
    """What the names of points may be, by name."""

    stations: dict[str, tuple[Published, ...]]
    fixes: dict[str, tuple[Fix, ...]]


def _points_of(catalogue: Opened, rows: Sequence[Row], day: date) -> _Points:
    """The places of all airways, looked up at once."""
    return _Points(
        catalogue.published_stations((row["point"] for row in rows if _is_station(row)), day),
        catalogue.published_fixes((row["point"] for row in rows if not _is_station(row)), day),
    )


def joining(catalogue: Opened, first: str, second: str, day: date) -> tuple[str, ...]:
    """The designators of the airways that hold both points, in one location."""
    editions = catalogue.in_force("airway_point", day)
    if not editions or not (first + second).isascii():
        return ()
    rows = catalogue.query(
        "SELECT DISTINCT a.airway FROM airway_point a JOIN airway_point b ON b.point = ? "
        "AND b.airway = a.airway AND b.location = a.location AND b.edition = a.edition "
        f"WHERE a.point = ? AND a.edition IN ({numbers(editions)})",
        (second, first),
    )
    return tuple(sorted((row[0] for row in rows), key=_designator_order))


@reading
def through(catalogue: Opened, station: Station, day: date) -> tuple[str, ...]:
    """The designators of the airways that pass a station; a beacon's are not those of a VOR of its name."""
    if station.kind in (StationKind.VOT, StationKind.MARKER):
        return ()
    names = {
        row["airway"]
        for row in catalogue.rows("airway_point", "point", [station.ident], day)
        if _is_station(row) and _is_beacon(row) is (station.kind is StationKind.NDB)
    }
    return tuple(sorted(names, key=_designator_order))


@reading
def designators(catalogue: Opened, day: date) -> tuple[str, ...]:
    """Every airway designator known on `day`."""
    editions = catalogue.in_force("airway_point", day)
    if not editions:
        return ()
    rows = catalogue.query(f"SELECT DISTINCT airway FROM airway_point WHERE edition IN ({numbers(editions)})")
    return tuple(sorted((row[0] for row in rows), key=_designator_order))


def _designator_order(ident: str) -> tuple[str, int, str]:
    """Sorts V9 before V12."""
    digits = ident.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    letters = ident[: len(ident) - len(digits)]
    return letters, int(digits) if digits.isascii() and digits.isdigit() else 0, ident


def _by(rows: Iterable[Row], *columns: str) -> dict[tuple[Any, ...], list[Row]]:
    """The rows by their values of some columns."""
    found: dict[tuple[Any, ...], list[Row]] = {}
    for row in rows:
        found.setdefault(tuple(row[column] for column in columns), []).append(row)
    return found


def _is_told(airway: Airway, rows: Sequence[Row]) -> bool:
    """True where a more trusted source tells the same airway: two of its points are on it."""
    # Two points: airways of one designator in two places may share one name by chance.
    return len(set(airway.points) & {row["point"] for row in rows}) >= 2


def _is_station(row: Row) -> bool:
    return text(row["type"]) in _STATION_TYPES


def _is_beacon(row: Row) -> bool:
    return "NDB" in (text(row["type"]) or "")


def _airway(catalogue: Opened, ident: str, rows: Sequence[Row], day: date, named: _Points) -> Airway:
    places: list[Place | None] = []
    before: Position | None = None
    for row in rows:
        if _is_station(row):
            place: Place | None = pick_station(named.stations[row["point"]], row, before)
        else:
            place = _pick_fix(named.fixes[row["point"]], row, before, catalogue.provenance(row["edition"], "airway"))
        places.append(place)
        before = place.position if place is not None and place.position is not None else before
    points = tuple(row["point"] for row in rows)
    # SQLite's rows look for a column among all the names they have, and each of these is asked for some forty.
    columns = rows[0].keys()
    told = tuple(dict(zip(columns, row, strict=True)) for row in rows)
    chain = Chain(told, tuple(places), points)
    finder = _Finder(catalogue, day, tuple(place for place in places if isinstance(place, Station)))
    made: Sequence[Segment] = segments(chain)
    # Only where the station ahead is not on the airway: that reading looks for it in the whole catalogue.
    if any(one.ahead not in points[index + 1 :] for index, each in enumerate(made) for one in each.changeovers):
        from navlog.catalogue.changeover_sides import on_their_sides

        made = on_their_sides(catalogue, chain, made, day)
    if made and any(word in row["remark"] for row in told if row["remark"] for word in _TELLING):
        from navlog.catalogue.remarked import read_remarks

        made = read_remarks(chain, made, finder)
    return Airway(ident, points, tuple(made), chain.places)


def pick_station(candidates: Sequence[Published], row: Row, before: Position | None) -> Station | None:
    """The station that a row names: by type and city or region, then by kind, then the nearest.

    The type may have changed since the airway files were made, so the city alone also counts.
    """
    kind, city, region = text(row["type"]), text(row["city"]), text(row["region"])

    def fit(one: Published) -> int:
        best = 0
        for own_kind, own_city, own_region in one.keys:
            if city is not None and own_city == city:
                best = max(best, 3 if own_kind == kind else 2)
            elif city is None and region is not None and own_region == region:
                best = max(best, 2)
        beacon = one.station.kind is StationKind.NDB
        plain = one.station.kind not in (StationKind.VOT, StationKind.MARKER)
        # Type and place count before the kind of aid, which changes when a VOR becomes a DME.
        return 4 * best + 2 * (plain and beacon is _is_beacon(row)) + plain

    if len(candidates) < 2:
        return candidates[0].station if candidates else None
    most = max(map(fit, candidates))
    best = [one.station for one in candidates if fit(one) == most]
    return _nearest(best, before)


def _pick_fix(candidates: Sequence[Fix], row: Row, before: Position | None, provenance: Provenance) -> Fix:
    """The fix that a row names, with the reception altitude given there; border points have no record."""
    point, region, mra = row["point"], text(row["region"]), number(row["mra"])
    own = [one for one in candidates if one.region == region or None in (one.region, region)]
    # A point without a record keeps its name, so that a flight may be told why it has no place.
    if is_border(point) or not own:
        return Fix(point, mra_ft=mra, region=region, published=True, provenance=provenance)
    found = _nearest(own, before)
    return found if mra is None else changed(found, mra_ft=mra)


def _nearest(places: Sequence[_AnyPlace], near: Position | None) -> _AnyPlace:
    return places[0] if near is None or len(places) == 1 else nearest_first(places, near)[0]


def _within_reach(near: Position, station: Station) -> bool:
    return station.position is not None and apart_nm(near, station.position) <= _NAMED_WITHIN_NM


class _Finder(NamedTuple):
    """Stations by the names that remarks use, and branches of other airways."""

    catalogue: Opened
    day: date
    on_airway: tuple[Station, ...]

    def named(self, name: str, near: Position) -> Station | None:
        """The VOR of that name within 200 NM, on the airway first; a name may be misspelt by a little."""
        for station in self.on_airway:
            if station.name == name and _within_reach(near, station):
                return station
        around = [
            place
            for place in (*self.on_airway, *self._around(near))
            if isinstance(place, Station) and _within_reach(near, place)
        ]
        names = {place.name: place for place in reversed(around) if place.name is not None}
        close = alike(name, names, most=1, likeness=0.8)
        return names[close[0]] if close else None

    def _around(self, near: Position) -> tuple[Place, ...]:
        return self.catalogue.nearby(near, _NAMED_WITHIN_NM, self.day, (StationKind.VOR,))

    def branches(self, airway: str, point: str) -> tuple[tuple[str, float], ...]:
        """The neighbours of a point on another airway, with the published courses toward them."""
        rows = [
            row
            for row in self.catalogue.rows("airway_point", "airway", [airway], self.day)
            if row["point"] == point or text(row["next"]) == point
        ]
        found = []
        for row in rows:
            onward = row["point"] == point
            course = number(row["course" if onward else "opposite_course"])
            neighbour = text(row["next"]) if onward else row["point"]
            if course is not None and neighbour is not None:
                found.append((neighbour, course))
        return tuple(found)
