"""FAA Digital Obstacle File, in its fixed-width form (`DOF.DAT`) and its comma-separated one (`DOF.CSV`).

The FAA's layout: a fixed-width file begins with its currency date, in 128 columns a record; the other has none, so
that it is dated by the latest change in it. What is marked as dismantled is no obstacle. From memory: the file is
published every 56 days.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime, timedelta
from functools import partial
from io import TextIOWrapper
from typing import TYPE_CHECKING

from navlog.catalogue.archive import Member
from navlog.catalogue.batch import Batch, Tick
from navlog.catalogue.decoding import FALLBACK
from navlog.catalogue.rows import Layout, Loaded, load_csv, no_name, no_position, not_a_number, outside, reject_where
from navlog.nav.chart import Provenance, Source
from navlog.nav.problems import NavlogError

if TYPE_CHECKING:
    import sqlite3

_NAME = re.compile(r"(dof.*|\d\d-[a-z]{2})\.(dat|csv)", re.IGNORECASE)
_CURRENCY = re.compile(r"\s*CURRENCY DATE\s*=\s*(\d\d)/(\d\d)/(\d\d)")
_RECORD = re.compile(r"\d\d-\d{6} ")
_LASTS = timedelta(days=56)
_BLOCK_ROWS = 1000
_SHORTEST = 101

_CSV = Layout(
    "obstacle",
    (
        ("ident", "OAS"),
        ("verified", "VERIFIED STATUS"),
        ("country", "COUNTRY"),
        ("state", "STATE"),
        ("city", "CITY"),
        ("latitude", "LATDEC"),
        ("longitude", "LONDEC"),
        ("type", "TYPE"),
        ("agl", "AGL"),
        ("amsl", "AMSL"),
        ("accuracy", "ACCURACY"),
        ("action", "ACTION"),
        ("changed", "JDATE"),
    ),
    frozenset({"OAS", "LATDEC", "LONDEC", "TYPE", "AGL", "AMSL", "ACCURACY"}),
)
_COLUMNS = [column for column, _ in _CSV.columns]

_REASONS = [
    *not_a_number("agl", "amsl"),
    *no_name("ident"),
    *no_position(),
    ("amsl = ''", "it has no height"),
    outside("amsl", -1500, 32000),
]


def knows(name: str) -> bool:
    """True for `DOF.DAT`, `DOF.CSV` and the files of single states, as `01-AL.DAT`, in capitals or not."""
    return _NAME.fullmatch(name) is not None


def load(connection: sqlite3.Connection, members: Sequence[Member], edition: int, tick: Tick) -> Batch:
    """Load every file; the edition is dated by the newest currency date, else by the latest change."""
    batch = Batch(Provenance(Source.DOF), [])
    dates: list[date] = []
    for member in members:
        try:
            fixed = member.name.lower().endswith(".dat")
            if fixed:
                loaded, current = _load_columns(connection, member, edition, tick)
                dates += [current] if current is not None else []
            else:
                loaded = load_csv(connection, member, _CSV, edition, partial(tick, member))
        except NavlogError as error:
            batch.broken += error.problems
            continue
        reject_where(connection, loaded, _REASONS)
        batch.notes += _settle(connection, loaded)
        batch.loaded.append(loaded)
    if not dates:
        rows = connection.execute("SELECT max(changed) FROM obstacle WHERE edition = ?", (edition,)).fetchone()
        latest = _julian(str(rows[0] or "").strip())
        if latest is not None:
            batch.notes.append("the obstacles have no currency date, so they are dated by the latest change in them")
            dates.append(latest)
    if dates:
        current = max(dates)
        batch.provenance = Provenance(Source.DOF, current.isoformat(), current, current + _LASTS)
    return batch


def _settle(connection: sqlite3.Connection, loaded: Loaded) -> list[str]:
    """What is dismantled goes, and codes and names lose their padding."""
    rows = (loaded.first_row,)
    gone = connection.execute("DELETE FROM obstacle WHERE rowid >= ? AND trim(action) = 'D'", rows).rowcount
    loaded.rows -= gone
    connection.execute(
        "UPDATE obstacle SET ident = trim(ident), type = trim(type), accuracy = trim(accuracy), city = trim(city),"
        " verified = trim(verified) WHERE rowid >= ?",
        rows,
    )
    return [f"{loaded.name}: {gone} obstacles are dismantled and left out"] if gone else []


def _load_columns(
    connection: sqlite3.Connection, member: Member, edition: int, tick: Tick
) -> tuple[Loaded, date | None]:
    """The records of a fixed-width file, and its currency date."""
    first_row = connection.execute("SELECT coalesce(max(rowid), 0) + 1 FROM obstacle").fetchone()[0]
    loaded = Loaded(member.label, "obstacle", edition, first_row)
    current: date | None = None
    insert = (
        f"INSERT INTO obstacle (edition, {', '.join(_COLUMNS)}) VALUES ({edition}, {', '.join('?' * len(_COLUMNS))})"
    )
    waiting: list[tuple[object, ...]] = []
    lines: list[int] = []

    def flush() -> None:
        loaded.place(first_row + loaded.rows, tuple(lines))
        connection.executemany(insert, waiting)
        loaded.rows += len(waiting)
        waiting.clear()
        lines.clear()

    with TextIOWrapper(member.open(), "utf-8", FALLBACK) as text:
        for number, ending in enumerate(text, 1):
            line = ending.rstrip("\r\n")
            if _RECORD.match(line) is None:
                current = _currency(line) or current
                if number > 4 and line.strip():
                    loaded.reject(number, "it does not begin with an obstacle's number")
                continue
            if len(line) < _SHORTEST:
                loaded.reject(number, f"{len(line)} columns where a record has 128")
                continue
            waiting.append(tuple(_fields(line)))
            lines.append(number)
            if len(waiting) >= _BLOCK_ROWS:
                flush()
                # A record is 128 columns and the end of its line.
                tick(member, number * 130)
    flush()
    return loaded, current


def _fields(line: str) -> Iterator[str | float]:
    """What a record of fixed columns holds, in the order of the table's columns."""
    yield line[0:9]
    yield line[10:11]
    yield line[12:14]
    yield line[15:17].strip()
    yield line[18:34]
    yield _degrees(line[35:37], line[38:40], line[41:46], line[46:47], "NS")
    yield _degrees(line[48:51], line[52:54], line[55:60], line[60:61], "EW")
    yield line[62:80]
    yield line[83:88].strip()
    yield line[89:94].strip()
    yield line[97:98] + line[99:100]
    yield line[118:119]
    yield line[120:127]


def _degrees(degrees: str, minutes: str, seconds: str, side: str, sides: str) -> float | str:
    """A latitude or longitude in degrees; the empty text, which is no position, where it cannot be read."""
    try:
        parts = float(degrees), float(minutes), float(seconds)
    except ValueError:
        return ""
    # Seconds of 60.00 occur, rounded from 59.996.
    if side not in tuple(sides) or min(parts) < 0.0 or parts[1] >= 60.0 or parts[2] > 60.0:
        return ""
    value = parts[0] + parts[1] / 60.0 + parts[2] / 3600.0
    return value if side == sides[0] else -value


def _currency(line: str) -> date | None:
    """The date of a line `CURRENCY DATE = 06/27/26`."""
    found = _CURRENCY.match(line)
    if found is None:
        return None
    try:
        return date(2000 + int(found[3]), int(found[1]), int(found[2]))
    except ValueError:
        return None


def _julian(text: str) -> date | None:
    """A date written as year and day of the year, `2026178`."""
    try:
        return datetime.strptime(text, "%Y%j").replace(tzinfo=UTC).date()
    except ValueError:
        return None
