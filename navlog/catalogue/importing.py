"""An import from end to end: find the published files, read each, write the catalogue."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from navlog.catalogue import (
    cifp,
    dof,
    nasr,
    ourairports,
)
from navlog.catalogue.archive import Member, members
from navlog.catalogue.batch import Batch, Tick, register
from navlog.catalogue.report import FileReport, ImportReport, Progress
from navlog.catalogue.schema import create_indices
from navlog.catalogue.store import rebuilt
from navlog.nav.problems import NavlogError, Problem, problem_error

if TYPE_CHECKING:
    import sqlite3

SOURCES = (
    nasr,
    cifp,
    ourairports,
    dof,
)
"""The readers of published data, one a source: which file names each knows, and how it loads them."""


def import_data(path: Path, catalogue_path: Path, *, progress: Progress | None = None) -> ImportReport:
    """Read the published data at `path` into the catalogue file, which is written whole or not at all.

    `path` is a folder, a zip, or one file: FAA NASR CSV files, FAA CIFP, OurAirports, the FAA's Digital Obstacle
    File. What an earlier import of the same source and cycle brought is replaced file by file; everything else
    stays, as does what a file without a row to take would replace. Raises problems for a path that holds none of
    these or no row of them, for files without the columns of their publisher, after which nothing is taken, for a
    hostile archive and where nothing can be written.
    """
    with members(path, _wanted) as found:
        _refuse_doubles(found)
        if not found:
            raise problem_error(
                "no-known-data",
                f"{path} holds no published data that is known",
                hint="NASR NAV_BASE.csv and the like, FAACIFP18, OurAirports navaids.csv or airports.csv, DOF.DAT",
            )
        with rebuilt(catalogue_path) as connection:
            return _load_all(connection, found, _meter(found, progress), catalogue_path)


def _wanted(name: str) -> bool:
    return any(source.knows(name) for source in SOURCES)


def _refuse_doubles(found: Sequence[Member]) -> None:
    seen: dict[str, str] = {}
    for member in found:
        first = seen.setdefault(member.name.lower(), member.label)
        if first != member.label:
            raise problem_error(
                "several-cycles",
                f"{first} and {member.label} are both there",
                hint="name the folder or zip of one cycle",
            )


def _load_all(connection: sqlite3.Connection, found: Sequence[Member], tick: Tick, path: Path) -> ImportReport:
    files: list[FileReport] = []
    missing: list[tuple[str, str]] = []
    notes: list[str] = []
    broken: list[Problem] = []
    for source in SOURCES:
        own = [member for member in found if source.knows(member.name)]
        if not own:
            continue
        edition = connection.execute("SELECT coalesce(max(id), 0) + 1 FROM edition").fetchone()[0]
        batch: Batch = source.load(connection, own, edition, tick)
        if batch.loaded:
            files += register(connection, batch, edition)
            missing += batch.missing
        notes += batch.notes
        broken += batch.broken
    # Without the stations, say, every answer would be wrong that the other files give.
    if broken:
        raise NavlogError(*broken)
    if not any(file.rows for file in files):
        raise problem_error("no-known-data", "; ".join(notes), hint="is it the publishers' own data?")
    _lay_up_networks(connection, path)
    return ImportReport(tuple(files), tuple(missing), tuple(notes))


def _lay_up_networks(connection: sqlite3.Connection, path: Path) -> None:
    """Make the networks of airways out of what is there now, by the same questions that a flight asks."""
    from navlog.catalogue.network_store import lay_up
    from navlog.catalogue.queries import Catalogue

    create_indices(connection)
    lay_up(Catalogue(connection, path))


def _meter(found: Sequence[Member], progress: Progress | None) -> Tick:
    """Adds up the bytes read of all files for whoever shows progress."""
    total = sum(member.size for member in found)
    read: dict[str, int] = {}

    def tick(member: Member, done: int) -> None:
        if progress is not None:
            read[member.label] = done
            progress(member.name, sum(read.values()), total)

    return tick
