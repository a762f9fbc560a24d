"""Writing the catalogue file whole or not at all.

A new file is built beside the old one and takes its name in one step (`os.replace`), so a crash, a full
disk or Ctrl-C in the middle leaves the old catalogue as it was.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from navlog.catalogue.schema import check_marks, create_indices, create_tables, damaged, drop_indices, open_read_only
from navlog.nav.problems import NavlogError, problem_error

if TYPE_CHECKING:
    import sqlite3


@contextmanager
def rebuilt(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection to a copy of the catalogue at `path` that replaces it when the context ends well.

    Raises `catalogue-busy` while another import works on the same catalogue, `not-written` where the disk
    refuses, and the problems of `check_marks` for an old file that can't be built upon.
    """
    import sqlite3

    if not path.name:
        raise _not_written(path, "this names no file")
    # Beside the old file: `os.replace` is one step only within one file system.
    new = path.with_name(path.name + ".new")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _not_written(path, error.strerror) from None
    # Before the lock: a lock file laid beside somebody's other data would stay there.
    if os.path.exists(path):
        _refuse_other(path)
    with _locked(path):
        try:
            _start(path, new)
            connection = sqlite3.connect(new, isolation_level=None)
            try:
                _prepare(connection, path)
                yield connection
                create_indices(connection)
                connection.execute("COMMIT")
            finally:
                connection.close()
            _publish(new, path)
        except (sqlite3.DatabaseError, UnicodeDecodeError) as error:
            raise _not_written(path, error) from None
        finally:
            with suppress(OSError):
                new.unlink(missing_ok=True)


def _refuse_other(path: Path) -> None:
    """Raise the problems of what stands at `path` and is no catalogue, before a lock is laid beside it."""
    if not path.is_file():
        raise _not_written(path, "what is there is no plain file")
    open_read_only(path).close()


@contextmanager
def _locked(path: Path) -> Iterator[None]:
    """One import at a time; the system drops the lock when a process dies.

    The lock is SQLite's on an empty file of its own, as that works alike on every system. The file stays:
    taking it away would let two imports lock two different files of that name.
    """
    import sqlite3

    lock = path.with_name(path.name + ".lock")
    try:
        connection = sqlite3.connect(lock, isolation_level=None, timeout=0.0)
    except sqlite3.Error as error:
        raise _not_written(path, error) from None
    try:
        try:
            connection.execute("BEGIN EXCLUSIVE")
        except sqlite3.OperationalError as error:
            if "locked" not in str(error):
                raise _not_written(path, error) from None
            raise problem_error(
                "catalogue-busy",
                f"another import is writing {path}",
                hint="wait for it to end, then try again",
            ) from None
        yield
    finally:
        connection.close()


def _start(path: Path, new: Path) -> None:
    """An empty new file, or a copy of the catalogue to build upon; what a crashed import left goes away."""
    from shutil import copyfile

    try:
        new.unlink(missing_ok=True)
        if path.exists():
            copyfile(path, new)
    except OSError as error:
        raise _not_written(path, error.strerror) from None


def _prepare(connection: sqlite3.Connection, path: Path) -> None:
    # Nothing needs undoing in a file that is thrown away on failure.
    connection.execute("PRAGMA journal_mode = OFF")
    connection.execute("PRAGMA synchronous = OFF")
    connection.execute("PRAGMA locking_mode = EXCLUSIVE")
    if path.exists():
        check_marks(connection, path)
        state = connection.execute("PRAGMA quick_check(1)").fetchone()[0]
        if state != "ok":
            raise damaged(path, state)
    connection.execute("BEGIN")
    create_tables(connection)
    drop_indices(connection)


def _publish(new: Path, path: Path) -> None:
    """Give the finished file the catalogue's name, once every byte of it is on the disk."""
    try:
        with new.open("rb+") as file:
            # Written out before it takes the name: a power cut would else leave the name on an empty file.
            os.fsync(file.fileno())
        os.replace(new, path)
    except OSError as error:
        raise _not_written(path, error.strerror) from None
    _sync_folder(path.parent)


def _sync_folder(folder: Path) -> None:
    """Make the new name last through a power cut, where the system lets a folder be synced."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _not_written(path: Path, why: object) -> NavlogError:
    return problem_error(
        "not-written",
        f"the catalogue {path} could not be written: {why}",
        hint="it is as it was; see to room and permission, or name another with `--catalogue`",
    )
