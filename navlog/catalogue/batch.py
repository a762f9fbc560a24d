"""What one source brings in one import, and its place among the editions that the catalogue holds."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import TYPE_CHECKING, TypeAlias

from msgspec import Struct, field

from navlog.catalogue.archive import Member
from navlog.catalogue.report import FileReport
from navlog.catalogue.rows import Loaded
from navlog.catalogue.schema import INDICES, KINDS
from navlog.nav.airac import cycle_ident, expiry, of_earlier_cycle
from navlog.nav.chart import Provenance
from navlog.nav.problems import Problem
from navlog.nav.record import changed

if TYPE_CHECKING:
    import sqlite3

Tick: TypeAlias = Callable[[Member, int], None]
"""Told the file being read and how many of its bytes have been."""


class Batch(Struct):
    """The files of one source as loaded, of which edition they are, and what there is to say.

    Whether files of an earlier cycle are among them the edition itself tells, once it is entered.
    """

    provenance: Provenance
    loaded: list[Loaded]
    missing: list[tuple[str, str]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    broken: list[Problem] = field(default_factory=list)


def register(connection: sqlite3.Connection, batch: Batch, edition: int) -> list[FileReport]:
    """Enter the batch as `edition`, in place of what the same source and cycle brought before.

    Rows of a kind that this batch does not bring stay and become part of the new edition. So do those of a
    kind whose file holds no row to take; such a file is told of in the batch's notes, as is one that holds
    fewer rows than before.
    """
    own = batch.provenance
    earlier = connection.execute(
        "SELECT id FROM edition WHERE source = ? AND cycle IS ?", (own.source.value, own.cycle)
    ).fetchall()
    before: dict[str, int] = dict(
        connection.execute(
            "SELECT kind, sum(holding.rows) FROM holding JOIN edition ON edition.id = holding.edition "
            "WHERE source = ? AND cycle IS ? GROUP BY kind",
            (own.source.value, own.cycle),
        )
    )
    batch.notes += _shrunken(batch, before)
    taken = [loaded for loaded in batch.loaded if loaded.rows]
    if taken:
        _enter(connection, batch, edition, taken, [old for (old,) in earlier])
        batch.notes += _older_beside(connection, batch, edition)
    return [
        FileReport(
            loaded.label,
            KINDS[loaded.table],
            _of_file(own, loaded.effective),
            loaded.rows,
            loaded.rejected,
            tuple(sorted(loaded.rejections, key=lambda one: one.line)),
            before.get(loaded.table),
        )
        for loaded in batch.loaded
    ]


def _of_file(edition: Provenance, effective: date | None) -> Provenance:
    """Where one file is from: a cycle of its own where it is of an earlier one than the edition."""
    if effective is None or edition.effective is None or of_earlier_cycle(effective, edition.effective) is None:
        return edition
    return changed(edition, cycle=cycle_ident(effective), effective=effective, expires=expiry(effective))


def _older_beside(connection: sqlite3.Connection, batch: Batch, edition: int) -> list[str]:
    """What to say of files of an earlier cycle that stay from before, so that the edition is of mixed cycles."""
    newest, brought = batch.provenance.effective, {loaded.name for loaded in batch.loaded}
    held = connection.execute(
        "SELECT DISTINCT file, effective FROM holding WHERE edition = ? AND effective IS NOT NULL", (edition,)
    )
    return [
        f"{file} of {day}, which stays beside it, is of an earlier cycle"
        for file, day in held
        if file not in brought and newest is not None and of_earlier_cycle(date.fromisoformat(day), newest) is not None
    ]


def _shrunken(batch: Batch, before: dict[str, int]) -> list[str]:
    """What to say of files that hold no row to take, or fewer than the same cycle had before."""
    notes = []
    for loaded in batch.loaded:
        kind, had = KINDS[loaded.table], before.get(loaded.table, 0)
        if not loaded.rows:
            first = min(loaded.rejections, key=lambda one: one.line, default=None)
            why = f", all are rejected, line {first.line} as {first.reason}" if first is not None else ""
            stay = f"; the {had} {kind} of before stay" if had else ""
            notes.append(f"{loaded.name} is not taken, as it holds no row of {kind}{why}{stay}")
        elif loaded.rows < had:
            notes.append(f"{loaded.name} has {had - loaded.rows} {kind} fewer than before: is it the whole file?")
    return notes


def _enter(
    connection: sqlite3.Connection, batch: Batch, edition: int, taken: Sequence[Loaded], earlier: Sequence[int]
) -> None:
    """Write the edition and what it holds, and delete the rows that it replaces in the earlier ones."""
    own = batch.provenance
    brought = {loaded.table for loaded in taken}
    for old in earlier:
        for table in INDICES:
            replaced = table in brought or (table == "sector" and "station_remark" in brought)
            if replaced:
                connection.execute(f"DELETE FROM {table} WHERE edition = ?", (old,))
                connection.execute("DELETE FROM holding WHERE edition = ? AND kind = ?", (old, table))
            else:
                connection.execute(f"UPDATE {table} SET edition = ? WHERE edition = ?", (edition, old))
        connection.execute("UPDATE holding SET edition = ? WHERE edition = ?", (edition, old))
        connection.execute("DELETE FROM edition WHERE id = ?", (old,))
    connection.execute(
        "INSERT INTO edition (id, source, cycle, effective, expires, verified) VALUES (?, ?, ?, ?, ?, ?)",
        (
            edition,
            own.source.value,
            own.cycle,
            own.effective.isoformat() if own.effective else None,
            own.expires.isoformat() if own.expires else None,
            own.verified,
        ),
    )
    connection.executemany(
        "INSERT INTO holding (edition, kind, file, effective, rows, rejected) VALUES (?, ?, ?, ?, ?, ?)",
        (
            (
                edition,
                loaded.table,
                loaded.name,
                loaded.effective.isoformat() if loaded.effective else None,
                loaded.rows,
                loaded.rejected,
            )
            for loaded in taken
        ),
    )
