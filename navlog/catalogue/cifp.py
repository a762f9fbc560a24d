"""FAA CIFP, the file FAACIFP18 in ARINC 424-18: 132 columns a record, of which five kinds are kept.

D (VHF navaid), DB (NDB), EA (enroute waypoint), ER (enroute airway) and PA (airport). It has no MOCA, MCA,
MRA, changeover points or gaps; where an airway stops and goes on elsewhere, each piece is an airway here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from io import TextIOWrapper
from typing import TYPE_CHECKING

from msgspec import Struct, field

from navlog.catalogue.archive import Member
from navlog.catalogue.batch import Batch, Tick
from navlog.catalogue.cifp_records import (
    COLUMNS,
    AirwayRecord,
    Row,
    UnreadableRecord,
    read_airport,
    read_airway,
    read_ndb,
    read_vhf,
    read_waypoint,
)
from navlog.catalogue.decoding import FALLBACK, in_columns
from navlog.catalogue.rows import Loaded
from navlog.nav.airac import cycle_ident, effective_date, expiry
from navlog.nav.chart import Provenance, Source
from navlog.nav.problems import NavlogError

if TYPE_CHECKING:
    import sqlite3

_RECORD_LENGTH = 132
_NAME_END = 123
"""The last column of a name, in each kind of record that has one."""
_BLOCK_ROWS = 1000
_READERS: dict[str, tuple[str, Callable[[str], Row | None]]] = {
    "D ": ("station", read_vhf),
    "DB": ("station", read_ndb),
    "EA": ("fix", read_waypoint),
    "P ": ("airport", read_airport),
}
_AIRWAY = "ER"


def knows(name: str) -> bool:
    """True for the name of a CIFP file; the FAA's has no ending."""
    return name.upper().startswith("FAACIFP")


def load(connection: sqlite3.Connection, members: Sequence[Member], edition: int, tick: Tick) -> Batch:
    """Load the five kinds of record; the cycle is the header's, else that of the latest change."""
    member = members[0]
    sinks = {
        table: _Sink(connection, Loaded(member.label, table, edition, 0))
        for table in ("station", "fix", "airport", "airway_point")
    }
    airways = _Airways(sinks["airway_point"])
    header, changes = "", set()
    with TextIOWrapper(member.open(), "utf-8", FALLBACK) as text:
        for number, ending in enumerate(text, 1):
            line = in_columns(ending.rstrip("\n"), _RECORD_LENGTH, _NAME_END)
            if line.startswith("HDR01"):
                # From memory, ARINC 424-18, first header record: the cycle stands in columns 36 to 39.
                header = line[35:39]
            elif _is_kept(line):
                # Each record bears the cycle of its last change: without a header the latest of them is the file's own.
                changes.add(line[128:132])
                _read(line, number, sinks, airways)
            if number % _BLOCK_ROWS == 0:
                tick(member, number * (_RECORD_LENGTH + 2))
    airways.close()
    for sink in sinks.values():
        sink.flush()
    loaded = [sink.loaded for sink in sinks.values() if sink.loaded.rows or sink.loaded.rejected]
    return _batch(member, loaded, header, changes)


def _is_kept(line: str) -> bool:
    """True for a standard record of the five kinds; only subsection A of section P is an airport."""
    section = line[4:6]
    if line[:1] != "S" or not (section in _READERS or section == _AIRWAY):
        return False
    # Section P keeps its subsection seven columns on, where other sections have it behind their letter.
    return section != "P " or line[12:13] == "A"


def _read(line: str, number: int, sinks: dict[str, _Sink], airways: _Airways) -> None:
    section = line[4:6]
    table = "airway_point" if section == _AIRWAY else _READERS[section][0]
    try:
        if len(line) != _RECORD_LENGTH:
            raise UnreadableRecord(f"{len(line)} columns where a record has {_RECORD_LENGTH}")
        if section == _AIRWAY:
            airways.add(read_airway(line))
        else:
            sinks[table].add(_READERS[section][1](line))
    except UnreadableRecord as error:
        sinks[table].loaded.reject(number, str(error))


def _batch(member: Member, loaded: list[Loaded], header: str, changes: set[str]) -> Batch:
    effective = _effective(header)
    notes = []
    if effective is None:
        effective = max(filter(None, map(_effective, changes)), default=None)
        notes.append(f"{member.name} has no header, so its cycle is that of its latest change")
    if effective is None:
        return Batch(Provenance(Source.CIFP), loaded, notes=notes)
    provenance = Provenance(Source.CIFP, cycle_ident(effective), effective, expiry(effective))
    return Batch(provenance, loaded, notes=notes)


def _effective(cycle: str) -> date | None:
    try:
        return effective_date(cycle)
    except NavlogError:
        return None


class _Sink(Struct):
    """Rows on their way into one table, a block at a time."""

    connection: sqlite3.Connection
    loaded: Loaded
    waiting: list[Row] = field(default_factory=list)

    def add(self, row: Row | None) -> None:
        """Take a row; a record that makes none is no row."""
        if row is not None:
            self.waiting.append(row)
            if len(self.waiting) >= _BLOCK_ROWS:
                self.flush()

    def flush(self) -> None:
        """Write what is waiting."""
        table, columns = self.loaded.table, COLUMNS[self.loaded.table].split()
        self.connection.executemany(
            f"INSERT INTO {table} (edition, {', '.join(columns)}) "
            f"VALUES ({self.loaded.edition}, {', '.join('?' * len(columns))})",
            self.waiting,
        )
        self.loaded.rows += len(self.waiting)
        self.waiting.clear()


class _Airways(Struct):
    """Airway records in file order: a point's row needs the course that arrives at the next point."""

    sink: _Sink
    last: AirwayRecord | None = None
    pieces: dict[tuple[str, str], int] = field(default_factory=dict)

    def add(self, record: AirwayRecord | None) -> None:
        """Take the next record; continuations make none."""
        if record is None:
            return
        # Only the very next record of the same airway goes on with it: the next piece begins after an `E`.
        goes_on = self.last is not None and self.last.key == record.key and not self.last.is_end
        self._write(record if goes_on else None)
        if not goes_on:
            self.pieces[record.key] = self.pieces.get(record.key, 0) + 1
        self.last = record

    def close(self) -> None:
        """Write the last point."""
        self._write(None)

    def _write(self, following: AirwayRecord | None) -> None:
        if self.last is not None:
            self.sink.add(self.last.row(self.pieces[self.last.key], following))
