"""Rows of a comma-separated file into a table, at the speed of the CSV reader; what does not fit is listed.

The shape of a whole block of rows is checked at once and one row at a time only where something is wrong.
Values are checked in SQL afterwards, when a row's number in its table leads back to its line.
"""

from __future__ import annotations

import csv
from bisect import bisect_right
from collections.abc import Callable, Sequence
from datetime import date
from io import TextIOWrapper
from itertools import islice
from operator import itemgetter
from typing import TYPE_CHECKING, TypeAlias

from msgspec import Struct, field

from navlog.catalogue.archive import Member
from navlog.catalogue.decoding import FALLBACK
from navlog.catalogue.report import MOST_LISTED, Rejection
from navlog.nav.problems import problem_error

if TYPE_CHECKING:
    import sqlite3

_BLOCK_ROWS = 200
"""Few enough that the rows of a block never set off the garbage collector (measured)."""

_Doubt: TypeAlias = Callable[[list[str]], str | None]
"""What is wrong with a row, as its file's columns stand; None where nothing is."""

_HOPELESS_ROWS = 10_000
"""So many rejected rows without a good one among them, and the rest of a file is not read."""


class AngleTwice(Struct, frozen=True):
    """The columns of an angle in decimals, in degrees, minutes and seconds, and of its hemisphere with its signs."""

    decimal: str
    parts: tuple[str, str, str]
    hemisphere: str
    signs: dict[str, float]


_APART_DEG = 1.0 / 3600.0
"""How far the two may be apart; in the NASR of 2026-05-14 they are within 1.4e-6 degrees (measured)."""


class Layout(Struct, frozen=True):
    """How a file's columns go into a table: (table's column, file's column) pairs.

    A file that lacks a column of `needed` is not read; any other column may be missing. `dated` is the
    file's column of effective dates, of which a file has one. `angles` are columns of angles told twice: in decimals
    with their sign, and in degrees, minutes, seconds and hemisphere.
    """

    table: str
    columns: tuple[tuple[str, str], ...]
    needed: frozenset[str]
    dated: str | None = None
    angles: tuple[AngleTwice, ...] = ()


class Loaded(Struct):
    """What went into a table from one file: the date its rows carry, as told and as read, and where each row stands."""

    label: str
    table: str
    edition: int
    first_row: int
    published: str | None = None
    effective: date | None = None
    rows: int = 0
    rejected: int = 0
    rejections: list[Rejection] = field(default_factory=list)
    _starts: list[int] = field(default_factory=list)
    _lines: list[int | tuple[int, ...]] = field(default_factory=list)

    @property
    def name(self) -> str:
        """The file's own name, without folder or archive."""
        return self.label.replace("\\", "/").rpartition("/")[2]

    def reject(self, line: int, reason: str) -> None:
        """Count a row as refused and list it while there is room."""
        self.rejected += 1
        if len(self.rejections) < MOST_LISTED:
            self.rejections.append(Rejection(self.label, line, reason))

    def place(self, row: int, lines: int | tuple[int, ...]) -> None:
        """Note that the rows from number `row` stand on `lines`, or one a line from there."""
        self._starts.append(row)
        self._lines.append(lines)

    def line_of(self, row: int) -> int:
        """The line of the file on which row number `row` of the table begins."""
        block = bisect_right(self._starts, row) - 1
        lines, offset = self._lines[block], row - self._starts[block]
        return lines + offset if isinstance(lines, int) else lines[offset]


def load_csv(
    connection: sqlite3.Connection, member: Member, layout: Layout, edition: int, tick: Callable[[int], None]
) -> Loaded:
    """Insert the rows of `member` and say what was refused; `tick` is told the bytes read so far.

    Raises a `wrong-columns` problem where a needed column is missing.
    """
    first_row = connection.execute(f"SELECT coalesce(max(rowid), 0) + 1 FROM {layout.table}").fetchone()[0]
    loaded = Loaded(member.label, layout.table, edition, first_row)
    with member.open() as binary, TextIOWrapper(binary, "utf-8-sig", FALLBACK, newline="") as text:
        reader = csv.reader(text)
        try:
            header = [name.strip() for name in next(reader, [])]
        except csv.Error as error:
            raise problem_error("wrong-columns", f"{member.label} has no header row: {error}") from None
        _require(layout, header, member.label)
        present = [pair for pair in layout.columns if pair[1] in header]
        pick: Callable[[list[str]], tuple[str, ...]] = itemgetter(*(header.index(name) for _, name in present))
        dated = header.index(layout.dated) if layout.dated is not None else None
        contradicts = [_contradiction(header, one) for one in layout.angles if _is_told(header, one)]
        insert = (
            f"INSERT INTO {layout.table} (edition, {', '.join(name for name, _ in present)}) "
            f"VALUES ({edition}, {', '.join('?' * len(present))})"
        )
        row = first_row
        while True:
            line = reader.line_num + 1
            block: list[list[str]] = []
            broken: csv.Error | None = None
            try:
                # Rows read before an error stay in the list.
                block.extend(islice(reader, _BLOCK_ROWS))
            except csv.Error as error:
                broken = error
            if not block and broken is None:
                break
            if dated is not None and loaded.published is None and block:
                loaded.published = next((one[dated] for one in block if len(one) == len(header)), None)
            # The usual block is as it should be; each row is looked at by itself only where it is not.
            if broken is None and _plain(
                block, len(header), dated, loaded.published, reader.line_num - line + 1, contradicts
            ):
                loaded.place(row, line)
            else:
                block, lines, after = _sort_out(block, line, len(header), dated, loaded, contradicts)
                loaded.place(row, lines)
                if broken is not None:
                    loaded.reject(after, f"can't be read up to line {reader.line_num}: {broken}")
            connection.executemany(insert, map(pick, block))
            row += len(block)
            loaded.rows += len(block)
            tick(binary.tell())
            # Another kind of file under that name: a list of a million faults helps nobody.
            if not loaded.rows and loaded.rejected > _HOPELESS_ROWS:
                break
    return loaded


def _require(layout: Layout, header: Sequence[str], label: str) -> None:
    missing = sorted(layout.needed - set(header))
    if missing:
        raise problem_error(
            "wrong-columns",
            f"{label} has no column {', '.join(missing)}" if header else f"{label} is empty",
            hint="put the publisher's own file in its place, or take it away: nothing of this import is taken",
        )


def _is_told(header: Sequence[str], angle: AngleTwice) -> bool:
    return {angle.decimal, *angle.parts, angle.hemisphere} <= set(header)


def _contradiction(header: Sequence[str], angle: AngleTwice) -> _Doubt:
    """What tells of a row whether its angle in decimals is another than in degrees, minutes and seconds."""
    decimal, degrees, minutes, seconds, hemisphere = map(header.index, (angle.decimal, *angle.parts, angle.hemisphere))
    signs = angle.signs

    def contradicts(row: list[str]) -> str | None:
        try:
            told = float(row[degrees]) + float(row[minutes]) / 60.0 + float(row[seconds]) / 3600.0
            apart = abs(told * signs[row[hemisphere]] - float(row[decimal]))
        except ValueError:
            # What is no number is another reason's business.
            return None
        except KeyError:
            return f"{angle.hemisphere} is `{row[hemisphere]}`, not {' or '.join(signs)}"
        return f"{angle.decimal} is not its degrees, minutes and seconds" if apart > _APART_DEG else None

    return contradicts


def _plain(
    block: list[list[str]],
    width: int,
    dated: int | None,
    published: str | None,
    lines: int,
    contradicts: Sequence[_Doubt],
) -> bool:
    """True where every row has the header's width, the file's date, one line and no contradiction."""
    if lines != len(block) or set(map(len, block)) != {width} or any(any(map(one, block)) for one in contradicts):
        return False
    return dated is None or set(map(itemgetter(dated), block)) == {published}


def _sort_out(
    block: list[list[str]],
    line: int,
    width: int,
    dated: int | None,
    loaded: Loaded,
    contradicts: Sequence[_Doubt],
) -> tuple[list[list[str]], tuple[int, ...], int]:
    """The rows of a block that fit, their lines, and the line after; empty lines are no rows."""
    fitting, lines = [], []
    for one in block:
        begins = line
        # A quoted cell may hold line breaks, so rows and lines part company.
        line += 1 + sum(cell.count("\n") for cell in one)
        if not one:
            continue
        if len(one) != width:
            loaded.reject(begins, f"{len(one)} columns where the header has {width}")
        elif dated is not None and one[dated] != loaded.published:
            loaded.reject(begins, f"dated {one[dated]} in a file of {loaded.published}")
        elif (doubt := next(filter(None, (told(one) for told in contradicts)), None)) is not None:
            loaded.reject(begins, doubt)
        else:
            fitting.append(one)
            lines.append(begins)
    return fitting, tuple(lines), line


def reject_where(connection: sqlite3.Connection, loaded: Loaded, reasons: Sequence[tuple[str, str]]) -> None:
    """Delete the loaded rows for which a condition holds; `reasons` are (SQL condition, what to say)."""
    cases = " ".join(f"WHEN {condition} THEN '{reason}'" for condition, reason in reasons)
    refused = connection.execute(
        f"SELECT rowid, CASE {cases} END AS reason FROM {loaded.table} "
        f"WHERE rowid >= ? AND ({' OR '.join(f'({condition})' for condition, _ in reasons)})",
        (loaded.first_row,),
    ).fetchall()
    for row, reason in refused:
        loaded.reject(loaded.line_of(row), reason)
    loaded.rows -= len(refused)
    connection.executemany(f"DELETE FROM {loaded.table} WHERE rowid = ?", ((row,) for row, _ in refused))


def not_a_number(*columns: str) -> list[tuple[str, str]]:
    """Conditions for number columns that hold text; SQLite sorts every text after every number."""
    return [(f"{column} > ''", f"the {column.replace('_', ' ')} is not a number") for column in columns]


def no_position() -> list[tuple[str, str]]:
    """Conditions for a missing or impossible position."""
    return [
        ("latitude = '' OR longitude = ''", "it has no position"),
        *not_a_number("latitude", "longitude"),
        ("latitude NOT BETWEEN -90 AND 90", "the latitude is not between -90 and 90"),
        ("longitude NOT BETWEEN -180 AND 180", "the longitude is not between -180 and 180"),
    ]


def outside(column: str, low: float, high: float) -> tuple[str, str]:
    """The condition for a number out of range; an empty one is text, which sorts above every number."""
    what = column.replace("_", " ")
    return (f"{column} <> '' AND {column} NOT BETWEEN {low} AND {high}", f"the {what} is out of range")


def impossible_height(column: str) -> tuple[str, str]:
    """The condition for an altitude or elevation in feet that no route file may have either."""
    return outside(column, -2_000, 60_000)


def trim(connection: sqlite3.Connection, loaded: Loaded, column: str) -> None:
    """Take the padding off the few values that have some."""
    connection.execute(
        f"UPDATE {loaded.table} SET {column} = trim({column}) "
        f"WHERE rowid >= ? AND ({column} GLOB ' *' OR {column} GLOB '* ')",
        (loaded.first_row,),
    )


def no_name(column: str) -> list[tuple[str, str]]:
    """Conditions for an identifier that is missing, or not text at all."""
    return [
        (f"{column} IS NULL OR trim({column}) = ''", "it has no identifier"),
        (f"instr({column}, char(65533))", "the identifier is not readable text"),
    ]
