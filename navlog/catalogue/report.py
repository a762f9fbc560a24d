"""What an import did: files read, rows kept and rejected, files that were missing."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from msgspec import Struct

from navlog.nav.chart import Provenance

MOST_LISTED = 1000
"""Rejected rows listed for one file; more are counted."""

Progress: TypeAlias = Callable[[str, int, int], None]
"""Called with the file being read, the bytes read of all files so far, and their total."""


class Rejection(Struct, frozen=True):
    """A row that is not in the catalogue, where it stands and why."""

    file: str
    line: int
    reason: str


class FileReport(Struct, frozen=True):
    """One file read: `kind` says what its rows are, `rows` how many the catalogue took, `provenance` its own cycle.

    `rejected` counts every row refused; `rejections` lists the first of them, at most 1,000. `before` is how
    many rows of the kind the same source and cycle had, None where it had none. A file without a row to take
    leaves them as they were.
    """

    file: str
    kind: str
    provenance: Provenance
    rows: int
    rejected: int = 0
    rejections: tuple[Rejection, ...] = ()
    before: int | None = None


class ImportReport(Struct, frozen=True):
    """Everything an import has to say. `missing` is (file, what can't be answered without it)."""

    files: tuple[FileReport, ...]
    missing: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def rows(self) -> int:
        """How many rows the catalogue took."""
        return sum(file.rows for file in self.files)

    @property
    def rejected(self) -> int:
        """How many rows were refused."""
        return sum(file.rejected for file in self.files)
