"""A library of route files: which files it has, how they are read and worked in order, and rows of what is said.

A catalogue is opened once a thread, as its connection may only be used by the thread that made it.
"""

from __future__ import annotations

import gc
import os
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from itertools import islice
from typing import TYPE_CHECKING, TypeAlias, TypeVar

from msgspec import Struct

from navlog.nav.problems import NavlogError, Problem, Span, problem_error
from navlog.request.lexer import file_bytes
from navlog.request.records import FlightPlans
from navlog.request.typed import Overrides
from navlog.rules.answers import text_plans

if TYPE_CHECKING:
    from concurrent.futures import Executor, Future

    from navlog.catalogue.queries import Catalogue

_Work = TypeVar("_Work")
_Found = TypeVar("_Found")

_SUFFIX = ".route"
WINDOW = 16
"""Tasks under way at once: enough for a small machine, few enough to hold little."""
FILES_A_TASK = 16
"""So many that handing a task over costs little beside the work."""
Row: TypeAlias = tuple[str | int | None, ...]


class RouteSource(Struct, frozen=True):
    """A route file by name; `data` is its content where that is already read, as from standard input."""

    file: str
    data: bytes | None = None


def route_files(paths: Iterable[str]) -> tuple[str, ...]:
    """The files, and every route file in the folders and below them, sorted by name; each once.

    `-` stays as it is. Raises `no-route-files` for folders that hold none.
    """
    found: list[str] = []
    empty: list[Problem] = []
    for path in paths:
        if path != "-" and os.path.isdir(path):
            inside = sorted(_in_folder(path))
            found += inside
            if not inside:
                message = f"no file in this folder or below it ends in {_SUFFIX}"
                empty.append(Problem("no-route-files", message, Span(path, 1)))
        else:
            found.append(path)
    if empty:
        raise NavlogError(*empty)
    return tuple(dict.fromkeys(found))


def passed_over(paths: Iterable[str]) -> tuple[str, ...]:
    """The files of the folders and below whose names look like a route file's and are read by nobody."""
    return tuple(
        os.path.join(where, name)
        for path in paths
        if path != "-" and os.path.isdir(path)
        for where, _, files in _walked(path)
        for name in sorted(files)
        if _SUFFIX in name.lower() and not name.endswith(_SUFFIX) and not name.startswith(".")
    )


def _walked(folder: str) -> Iterator[tuple[str, list[str], list[str]]]:
    """The folders below one, itself too, without hidden ones; links are not followed."""
    for where, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        yield where, folders, files


def _in_folder(folder: str) -> Iterator[str]:
    """The route files in a folder and below it; what begins with a point is hidden, links are not followed."""
    for where, _, files in _walked(folder):
        yield from (os.path.join(where, name) for name in files if name.endswith(_SUFFIX) and not name.startswith("."))


def read_plans(source: RouteSource, overrides: Overrides) -> FlightPlans:
    """The flights of one source; raises `cannot-read`, `bad-encoding` and `too-large`."""
    data = source.data if source.data is not None else file_bytes(source.file)
    return text_plans(data, source.file, overrides)


def in_order(
    executor: Executor, function: Callable[[_Work], _Found], works: Iterable[_Work], window: int
) -> Iterator[_Found]:
    """`function(work)` for each work, in order; at most `window` are submitted and not yet taken.

    Neither the works nor the answers are ever all held. When the caller stops early, what has not begun is
    cancelled.
    """
    from concurrent.futures import BrokenExecutor

    waiting: deque[Future[_Found]] = deque()
    try:
        for work in works:
            waiting.append(executor.submit(function, work))
            if len(waiting) >= window:
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()
    except BrokenExecutor:
        # A system short of memory ends a process so; what is told up to here stands.
        message = "a worker process ended unasked; what is told up to here stands, and the rest was not checked"
        raise problem_error("worker-lost", message, hint="run again, with fewer --jobs") from None
    finally:
        for future in waiting:
            future.cancel()


def groups(items: Iterable[_Work], size: int) -> Iterator[tuple[_Work, ...]]:
    """The items in groups of `size`, the last one smaller."""
    rest = iter(items)
    while group := tuple(islice(rest, size)):
        yield group


@contextmanager
def process_pool(jobs: int) -> Iterator[Executor]:
    """An executor of `jobs` processes; on the way out by an error what has not begun is dropped.

    The processes start afresh instead of as copies, so that they share no open file with this one. They leave
    an interrupt to this process, which waits for the tasks under way.
    """
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    executor = ProcessPoolExecutor(
        jobs, mp_context=get_context("spawn"), initializer=_begin_work, initargs=(gc.get_threshold(),)
    )
    try:
        yield executor
    finally:
        executor.shutdown(wait=True, cancel_futures=True)


def _begin_work(collected_after: tuple[int, int, int]) -> None:
    """Make a process ready: interrupts are the first one's, and the collector runs as seldom as there."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.set_threshold(*collected_after)


class _Held:
    """Open catalogues by file, closed when nobody holds them any more."""

    def __init__(self) -> None:
        self.by_file: dict[tuple[str, int, int], Catalogue] = {}

    def __del__(self) -> None:
        for catalogue in self.by_file.values():
            # At the end of the process another thread may be the one to clear up.
            with suppress(Exception):
                catalogue.close()


class _Opened(threading.local):
    """What one thread holds; it goes with the thread."""

    def __init__(self) -> None:
        self.held = _Held()


_opened = _Opened()


def catalogue_here(path: str) -> Catalogue:
    """The catalogue at `path` opened by this thread, now or before; a file written anew is opened anew.

    Raises the problems of `open_catalogue`.
    """
    try:
        status = os.stat(path)
        key = (path, status.st_mtime_ns, status.st_ino)
    except OSError:
        key = (path, 0, 0)
    catalogue = _opened.held.by_file.get(key)
    if catalogue is None:
        from navlog.catalogue import open_catalogue

        catalogue = _opened.held.by_file[key] = open_catalogue(path)
    return catalogue


def csv_text(rows: Iterable[Row]) -> str:
    """Rows as RFC 4180 has them: CRLF ends, every text in quotes, numbers bare, nothing for None.

    A text that a spreadsheet would run as a formula begins with an apostrophe.
    """
    import csv
    import io

    from navlog.sheets.csv_rows import safe

    written = io.StringIO(newline="")
    writer = csv.writer(written, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    for row in rows:
        writer.writerow(["" if cell is None else safe(cell) if isinstance(cell, str) else cell for cell in row])
    return written.getvalue()


def counted(number: int, word: str) -> str:
    """A number of things."""
    return f"{number} {word}{'' if number == 1 else 's'}"
