"""What the catalogue says of a name on a day: the resolver's questions, answered in chart records.

The same kind and identifier within 2 NM is one object, told by NASR before CIFP before OurAirports; each
source speaks with the edition in force on the day (see `editions.in_force`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from functools import cached_property
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, TypeAlias, TypeVar

from navlog.catalogue.damage import reading
from navlog.catalogue.editions import Edition, in_force, read_editions
from navlog.catalogue.nearness import SAME_PLACE_NM, apart_nm
from navlog.catalogue.opened import at_once, numbers
from navlog.catalogue.records import Published, airport, bearing, fix, one_object, station, text
from navlog.catalogue.schema import KINDS, NAMES_TABLE, OBSTACLE, damaged
from navlog.nav.chart import Airport, Airway, Bearing, Fix, Place, Position, Provenance, Source, Station
from navlog.nav.lines import Lines
from navlog.nav.receiver_check import Checkpoint

if TYPE_CHECKING:
    from sqlite3 import Connection, Row

    from navlog.nav.corridor import Corridor
    from navlog.nav.obstacles import Obstacles

_LARGEST_CACHE = 16_384
"""More names than are on all VOR airways of the United States."""
_Key = TypeVar("_Key")
_T = TypeVar("_T")
_Told: TypeAlias = "dict[tuple[object, ...], list[Row]]"


class Catalogue:
    """Published data opened for reading; a context manager. Use it in the thread that opened it."""

    def __init__(self, connection: Connection, path: Path) -> None:
        from sqlite3 import Row

        connection.row_factory = Row
        self.connection = connection
        self.path = path
        self._stations: dict[tuple[str, date], tuple[Published, ...]] = {}
        self._fixes: dict[tuple[str, date], tuple[Fix, ...]] = {}
        self._airports: dict[tuple[str, date], tuple[Airport, ...]] = {}
        self._airways: dict[tuple[str, date], tuple[Airway, ...]] = {}
        self._checkpoints: dict[tuple[Position, date], tuple[Checkpoint, ...]] = {}
        self._on_frequency: dict[tuple[float, date], tuple[tuple[str, Position], ...]] = {}
        self._around: dict[tuple[float, Position, float, date], tuple[Station, ...]] = {}
        self._sources: dict[date, tuple[Provenance, ...]] = {}
        self._in_force: dict[tuple[str, date], tuple[Edition, ...]] = {}
        self.lines = Lines()
        self.editions = self._read_editions()

    def __enter__(self) -> Catalogue:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the file; nothing can be asked afterwards."""
        self.connection.close()

    @cached_property
    def tables(self) -> frozenset[str]:
        """The names of the file's tables."""
        return frozenset(row["name"] for row in self.query("SELECT name FROM sqlite_master WHERE type = 'table'"))

    def sources(self, day: date) -> tuple[Provenance, ...]:
        """The source and cycle of everything that speaks of places and ways on `day`, most trusted first."""
        if day not in self._sources:
            kinds = (kind for kind in KINDS if kind != OBSTACLE)
            found = {edition.provenance: None for kind in kinds for edition in self.in_force(kind, day)}
            order = list(Source)
            _make_room(self._sources)
            self._sources[day] = tuple(sorted(found, key=lambda one: order.index(one.source)))
        return self._sources[day]

    def in_force(self, kind: str, day: date) -> tuple[Edition, ...]:
        """The editions that tell rows of `kind` on `day`, most trusted first."""
        key = (kind, day)
        if key not in self._in_force:
            _make_room(self._in_force)
            self._in_force[key] = in_force(self.editions, kind, day)
        return self._in_force[key]

    # A name asked for again, as most of a library are, is answered before anything that reads.

    def stations(self, ident: str, day: date) -> tuple[Station, ...]:
        """Every station of that identifier, the most trusted source first."""
        known = self._stations.get((ident, day))
        found = self.published_stations([ident], day)[ident] if known is None else known
        return tuple([one.station for one in found])

    def stations_on(self, frequency_mhz: float, near: Position, radius_nm: float, day: date) -> tuple[Station, ...]:
        """Every station on that frequency in MHz within `radius_nm` of a place, and some a little farther off."""
        key = (frequency_mhz, near, radius_nm, day)
        found = self._around.get(key)
        if found is None:
            _make_room(self._around)
            found = self._around[key] = self._on_around(*key)
        return found

    def _on_around(self, frequency_mhz: float, near: Position, radius_nm: float, day: date) -> tuple[Station, ...]:
        known = self._on_frequency.get((frequency_mhz, day))
        placed = self._read_frequency(frequency_mhz, day) if known is None else known
        # A little more than asked: distances are a sphere's, and another source may place a station up to 2 NM off.
        reach_nm = 1.01 * radius_nm + SAME_PLACE_NM
        around = [ident for ident, there in placed if apart_nm(there, near) <= reach_nm]
        named = self.published_stations(around, day).values()
        # Once more: of a name found by its frequency other stations have other ones.
        return tuple([one.station for found in named for one in found if one.station.frequency_mhz == frequency_mhz])

    @reading
    def _read_frequency(self, frequency_mhz: float, day: date) -> tuple[tuple[str, Position], ...]:
        from navlog.catalogue.neighbourhood import on_frequency

        _make_room(self._on_frequency)
        found = self._on_frequency[frequency_mhz, day] = on_frequency(self, frequency_mhz, day)
        return found

    def fixes(self, ident: str, day: date) -> tuple[Fix, ...]:
        """Every fix of that name; one without a published position is placed by its make-up if it can be."""
        known = self._fixes.get((ident, day))
        return self.published_fixes([ident], day)[ident] if known is None else known

    def airports(self, ident: str, day: date) -> tuple[Airport, ...]:
        """Every landing place of that FAA or ICAO identifier, under the identifier asked for."""
        known = self._airports.get((ident, day))
        return self._airports_of([ident], day)[ident] if known is None else known

    @reading
    def _airports_of(self, idents: Sequence[str], day: date) -> dict[str, tuple[Airport, ...]]:
        _make_room(self._airports)
        missing = [ident for ident in idents if (ident, day) not in self._airports]
        found: dict[str, dict[int, Row]] = {ident: {} for ident in missing}
        for column in ("ident", "icao"):
            for row in self.rows("airport", column, missing, day):
                found[row[column]][row["rowid"]] = row
        for ident, rows in found.items():
            groups = one_object(self._most_trusted_first([rows[number] for number in sorted(rows)], "airport", day))
            self._airports[ident, day] = tuple(
                airport(group[0], self.provenance(group[0]["edition"], "airport"), ident) for group in groups
            )
        return {ident: self._airports[ident, day] for ident in idents}

    def airways(self, ident: str, day: date) -> tuple[Airway, ...]:
        """Every airway of that designator, one for each location, with the places of its points."""
        known = self._airways.get((ident, day))
        return self.airways_of([ident], day)[ident] if known is None else known

    @reading
    def airways_of(self, idents: Sequence[str], day: date) -> dict[str, tuple[Airway, ...]]:
        """The airways of each designator, as `airways` has those of one."""
        _make_room(self._airways)
        missing = [ident for ident in idents if (ident, day) not in self._airways]
        if missing and NAMES_TABLE in self.tables:
            from navlog.catalogue.airway_store import take_laid_up

            take_laid_up(self, missing, day, self._stations, self._fixes, self._airways, self.lines)
            missing = [ident for ident in missing if (ident, day) not in self._airways]
        if missing:
            from navlog.catalogue.airway_queries import airways_with_rows

            for ident, found in airways_with_rows(self, missing, day).items():
                self._airways[ident, day] = tuple(airway for airway, _ in found)
        return {ident: self._airways[ident, day] for ident in idents}

    @reading
    def read_ahead(self, idents: Sequence[str], day: date) -> None:
        """Look up all that names of routes may mean, so that each kind of it is one question for all of them."""
        self.airways_of(idents, day)
        self.published_stations(idents, day)
        self.published_fixes(idents, day)
        self._airports_of(idents, day)

    @reading
    def airways_joining(self, first: str, second: str, day: date) -> tuple[str, ...]:
        """The designators of the airways that hold both points."""
        from navlog.catalogue.airway_queries import joining

        return joining(self, first, second, day)

    @reading
    def checkpoints(self, near: Position, day: date) -> tuple[Checkpoint, ...]:
        """The published checkpoints for VOR receivers nearest to a place."""
        key = (near, day)
        if key not in self._checkpoints:
            from navlog.catalogue.checkpoints import nearest_checkpoints

            _make_room(self._checkpoints)
            self._checkpoints[key] = nearest_checkpoints(self, near, day)
        return self._checkpoints[key]

    @reading
    def obstacles(self, corridor: Corridor, day: date) -> Obstacles | None:
        """Every obstacle that may stand in a corridor; None where none of any place is known."""
        from navlog.catalogue.obstacles import obstacles_near

        return obstacles_near(self, corridor, day)

    @reading
    def similar(self, ident: str, day: date, near: Position | None) -> tuple[Place, ...]:
        """Places whose identifier is one slip away from `ident`, the likeliest first."""
        from navlog.catalogue.neighbourhood import similar

        return similar(self, ident, day, near)

    @reading
    def nearby(self, position: Position, radius_nm: float, day: date, kinds: Iterable[str]) -> tuple[Place, ...]:
        """Stations, airports and fixes within `radius_nm`, nearest first.

        `kinds` are those of `StationKind` and of `Airport.kind`, and "fix".
        """
        from navlog.catalogue.neighbourhood import nearby

        return nearby(self, position, radius_nm, day, frozenset(kinds))

    @reading
    def published_stations(self, idents: Iterable[str], day: date) -> dict[str, tuple[Published, ...]]:
        """The stations of each identifier, with the keys by which airways know them."""
        wanted = list(dict.fromkeys(idents))
        _make_room(self._stations)
        missing = [ident for ident in wanted if (ident, day) not in self._stations]
        if missing:
            rows = _by(self.rows("station", "ident", missing, day), "ident")
            remarks = _by_station(self.rows("station_remark", "ident", list(rows), day))
            # All names at once: one question for a route is faster than one for each point.
            sectors = _by_station(self.rows("sector", "ident", list(rows), day, kind="station_remark"))
            for ident in missing:
                self._stations[ident, day] = tuple(
                    self._station(group, sectors, remarks)
                    for group in one_object(rows.get(ident, []), of_stations=True)
                )
        return {ident: self._stations[ident, day] for ident in wanted}

    def _station(self, group: list[Row], sectors: _Told, remarks: _Told) -> Published:
        row = group[0]
        own = _station_key(row)
        unread = [one for one in remarks.get(own, ()) if not one["read"]]
        record = station(row, self.provenance(row["edition"], "station"), sectors.get(own, ()), unread)
        keys = tuple((one["type"], text(one["city"]) or "", text(one["region"]) or "") for one in group)
        return Published(record, keys)

    @reading
    def published_fixes(self, idents: Iterable[str], day: date) -> dict[str, tuple[Fix, ...]]:
        """The fixes of each name."""
        wanted = list(dict.fromkeys(idents))
        _make_room(self._fixes)
        missing = [ident for ident in wanted if (ident, day) not in self._fixes]
        if missing:
            rows = _by(self.rows("fix", "ident", missing, day), "ident")
            makeups = _by(self.rows("makeup", "fix", missing, day), "fix")
            unplaced = [ident for ident in missing if ident not in rows]
            named = _by(self._named_by_airways(unplaced, day), "point")
            for ident in missing:
                self._fixes[ident, day] = self._fixes_of(
                    ident, day, rows.get(ident, []), makeups.get(ident, []), named.get(ident, [])
                )
        return {ident: self._fixes[ident, day] for ident in wanted}

    def _fixes_of(
        self, ident: str, day: date, rows: list[Row], makeups: list[Row], named: list[Row]
    ) -> tuple[Fix, ...]:
        """The published fixes, then those that only a make-up or an airway names, by region."""
        by_region: dict[str, tuple[Bearing, ...]] = {}
        for row in makeups:
            region = text(row["region"]) or ""
            by_region[region] = (*by_region.get(region, ()), bearing(row))
        found = [
            fix(
                group[0],
                self.provenance(group[0]["edition"], "fix"),
                by_region.pop(text(group[0]["region"]) or "", ()),
            )
            for group in one_object(rows)
        ]
        known = {one.region or "" for one in found}
        told_by = {text(row["region"]) or "": (row["edition"], "airway") for row in named}
        told_by |= {text(row["region"]) or "": (row["edition"], "fix") for row in makeups}
        for region, telling in told_by.items():
            if region not in known:
                from navlog.catalogue.placing import placed

                unplaced = Fix(
                    ident,
                    makeup=by_region.get(region, ()),
                    region=region or None,
                    published=True,
                    provenance=self.provenance(*telling),
                )
                found.append(placed(self, unplaced, day))
        return tuple(found)

    def rows(
        self,
        table: str,
        column: str,
        names: Sequence[str],
        day: date,
        order: str = "rowid",
        *,
        kind: str = "",
        besides: str = "",
    ) -> list[Row]:
        """Rows of `table` with one of `names` in `column`, of the editions in force, most trusted first.

        The editions are those that tell rows of `kind`, by itself those of the table. `besides` is a condition in SQL.
        """
        kind = kind or table
        editions = self.in_force(kind, day)
        found: list[Row] = []
        for marks, some in at_once(names) if editions else ():
            found += self.query(
                f"SELECT rowid, * FROM {table} WHERE {column} IN ({marks}) "
                f"AND edition IN ({numbers(editions)}) {besides} ORDER BY {order}",
                some,
            )
        return self._most_trusted_first(found, kind, day) if len(editions) > 1 else found

    def _named_by_airways(self, idents: Sequence[str], day: date) -> list[Row]:
        """Fixes that an airway passes, whether or not any other file knows them."""
        # Most points are stations, which have a city or are told by their type: hardly any need be read to be left out.
        fixes = "AND ifnull(trim(city), '') = '' AND type IS NOT 'VHF' AND type IS NOT 'NDB'"
        rows = self.rows("airway_point", "point", idents, day, besides=fixes)
        return [
            row
            for row in rows
            if not text(row["city"]) and text(row["region"]) and text(row["type"]) not in ("VHF", "NDB")
        ]

    def _most_trusted_first(self, rows: list[Row], kind: str, day: date) -> list[Row]:
        """The rows by the edition that tells them, and of each in the order given."""
        rank = {edition.number: place for place, edition in enumerate(self.in_force(kind, day))}
        return sorted(rows, key=lambda row: rank[row["edition"]])

    def provenance(self, edition: int, kind: str) -> Provenance:
        """Where the records of one kind in an edition come from."""
        return self._provenances[edition, kind]

    def query(self, sql: str, parameters: Sequence[object] = ()) -> list[Row]:
        """Rows of a query; a file that turns out to be damaged is a `damaged-catalogue` problem."""
        from sqlite3 import DatabaseError, ProgrammingError

        try:
            return self.connection.execute(sql, parameters).fetchall()
        except ProgrammingError:
            raise
        except (DatabaseError, UnicodeDecodeError) as error:
            raise damaged(self.path, error) from None

    @reading
    def _read_editions(self) -> tuple[Edition, ...]:
        found = read_editions(self.query, self.path)
        self._provenances = {(one.number, kind): one.provenance_of(kind) for one in found for kind in KINDS}
        return found


def _station_key(row: Row) -> tuple[object, ...]:
    return row["edition"], row["ident"], row["type"], row["city"], row["country"]


def _by_station(rows: Iterable[Row]) -> _Told:
    found: _Told = {}
    for row in rows:
        found.setdefault(_station_key(row), []).append(row)
    return found


def _by(rows: Iterable[Row], column: str) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in rows:
        found.setdefault(row[column], []).append(row)
    return found


def _make_room(cache: dict[_Key, _T]) -> None:
    # The oldest goes, not all at once: a library of more names than there is room for asks for the last ones again.
    while len(cache) >= _LARGEST_CACHE:
        del cache[next(iter(cache))]
