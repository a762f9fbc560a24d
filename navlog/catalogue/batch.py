"""What one source brings in one import, and its place among the editions that the catalogue holds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeAlias

from navlog.catalogue.archive import Member
from navlog.catalogue.report import FileReport
from navlog.catalogue.rows import Loaded
from navlog.catalogue.schema import INDICES, KINDS
from navlog.chart import Provenance

if TYPE_CHECKING:
    import sqlite3

Tick: TypeAlias = Callable[[Member, int], None]
"""Told the file being read and how many of its bytes have been."""


@dataclass(slots=True)
class Batch:
    """The files of one source as loaded, of which edition they are, and what there is to say."""

    provenance: Provenance
    loaded: list[Loaded]
    missing: list[tuple[str, str]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def register(connection: sqlite3.Connection, batch: Batch, edition: int) -> list[FileReport]:
    """Enter the batch as `edition`, in place of what the same source and cycle brought before.

    Rows of a kind that this batch does not bring stay and become part of the new edition.
    """
    own = batch.provenance
    brought = {loaded.table for loaded in batch.loaded}
    earlier = connection.execute(
        "SELECT id FROM edition WHERE source = ? AND cycle IS ?", (own.source.value, own.cycle)
    ).fetchall()
    for (old,) in earlier:
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
        "INSERT INTO holding (edition, kind, file, rows, rejected) VALUES (?, ?, ?, ?, ?)",
        (
            (
                edition,
                loaded.table,
                loaded.label.replace("\\", "/").rpartition("/")[2],
                loaded.rows,
                loaded.rejected,
            )
            for loaded in batch.loaded
        ),
    )
    return [
        FileReport(
            loaded.label,
            KINDS[loaded.table],
            own,
            loaded.rows,
            loaded.rejected,
            tuple(sorted(loaded.rejections, key=lambda one: one.line)),
        )
        for loaded in batch.loaded
    ]
