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
from typing import TYPE_CHECKING, Generic, Protocol, TypeAlias, TypeVar

from msgspec import Struct

from navlog.nav.problems import NavlogError, Problem, Span, problem_error
from navlog.request.lexer import file_bytes
from navlog.request.records import FlightPlans
from navlog.request.references import References, UsedFile
from navlog.request.typed import Overrides
from navlog.rules.answers import text_plans

if TYPE_CHECKING:
    from concurrent.futures import Executor, Future

    from navlog.catalogue.queries import Catalogue

_Work = TypeVar("_Work")
_Found = TypeVar("_Found")
_Answer = TypeVar("_Answer")

_SUFFIX = ".route"
_WINDOW = 16
"""Tasks under way at once: enough for a small machine, few enough to hold little."""
_FILES_A_TASK = 16
"""So many that handing a task over costs little beside the work."""
Row: TypeAlias = tuple[str | int | None, ...]


class RouteSource(Struct, frozen=True):
    """A route file by name; `data` is its content where that is already read, as from standard input.

    `problems` are why it cannot be read, where that is known.
    """

    file: str
    data: bytes | None = None
    problems: tuple[Problem, ...] = ()

    def bytes(self) -> bytes:
        """What the file holds, read now or before; raises `cannot-read`."""
        if self.problems:
            raise NavlogError(*self.problems)
        return self.data if self.data is not None else file_bytes(self.file)

    def read(self) -> RouteSource:
        """The same source with what it holds, or with why it cannot be read."""
        try:
            return RouteSource(self.file, self.bytes())
        except NavlogError as error:
            return RouteSource(self.file, problems=error.problems)


class RouteFiles(Struct, frozen=True):
    """The files, and every route file in the folders and below them, by name in each folder; each once.

    They are looked for each time, so that no more than the names of a folder and of those above it are held. `-` stays
    as it is.
    """

    paths: tuple[str, ...]

    def __iter__(self) -> Iterator[str]:
        for number, path in enumerate(self.paths):
            before = self.paths[:number]
            for file in _in_folder(path) if _is_folder(path) else (path,):
                if not any(_holds(other, file) for other in before):
                    yield file

    def __len__(self) -> int:
        return sum(1 for _ in self)


def route_files(paths: Iterable[str]) -> RouteFiles:
    """The route files of paths; raises `no-route-files` for folders that hold none."""
    found = RouteFiles(tuple(dict.fromkeys(paths)))
    message = f"no file in this folder or below it ends in {_SUFFIX}"
    empty = [
        Problem("no-route-files", message, Span(path, 1))
        for path in found.paths
        if _is_folder(path) and next(_in_folder(path), None) is None
    ]
    if empty:
        raise NavlogError(*empty)
    return found


def _is_folder(path: str) -> bool:
    return path != "-" and os.path.isdir(path)


def _holds(path: str, file: str) -> bool:
    """Whether a file is one of those of a path."""
    if not _is_folder(path):
        return path == file
    head = os.path.join(path, "")
    if not file.startswith(head) or not file.endswith(_SUFFIX):
        return False
    names = file[len(head) :].split(os.sep)
    above = [os.path.join(path, *names[:length]) for length in range(1, len(names))]
    return not any(name.startswith(".") for name in names) and not any(map(os.path.islink, above))


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
    """The route files in a folder and below it by name; what begins with a point is hidden, links are not followed."""
    waiting = _entries(folder)
    while waiting:
        path = waiting.pop()
        if path.endswith(os.sep):
            waiting += _entries(path)
        else:
            yield path


def _entries(folder: str) -> list[str]:
    """Route files and folders in a folder, the last name first; those end as in a path, so that paths come in order."""
    try:
        with os.scandir(folder) as found:
            names = [
                f"{one.name}{os.sep}" if one.is_dir() else one.name
                for one in found
                if one.name[0] != "." and (one.name.endswith(_SUFFIX) or one.is_dir(follow_symlinks=False))
                if not (one.is_symlink() and one.is_dir())
            ]
    except OSError:
        return []
    return [os.path.join(folder, name) for name in sorted(names, reverse=True)]


def read_plans(source: RouteSource, overrides: Overrides) -> FlightPlans:
    """The flights of one source; raises `cannot-read`, `bad-encoding` and `too-large`."""
    return text_plans(source.bytes(), source.file, overrides)


class _Asked(Protocol):
    """What is asked of every file; all of it can be sent to another process."""

    @property
    def quote_outside(self) -> bool:
        """As in `References`."""


_AnyAsked = TypeVar("_AnyAsked", bound=_Asked)


class Work(Struct, Generic[_AnyAsked, _Found], frozen=True):
    """What is done with the files of a task, in any thread or process: `function` answers, a value a file."""

    function: Callable[[tuple[RouteSource, ...], _AnyAsked, References], tuple[_Found, ...]]
    asked: _AnyAsked

    def __call__(self, sources: tuple[RouteSource, ...], used: dict[UsedFile, str] | None = None) -> tuple[_Found, ...]:
        """The answers, worked here; `used` gets the fingerprint of every file that flights name."""
        references = References(quote_outside=self.asked.quote_outside, watched=used is not None)
        answers = self.function(sources, self.asked, references)
        if used is not None:
            used.update(references.used)
        return answers


class Engine(Struct):
    """Works in this thread, or on `executor`, any of `concurrent.futures` or made like it.

    At most `window` tasks of `files_a_task` files are submitted at once; both may change while it works.
    """

    executor: Executor | None = None
    window: int = _WINDOW
    files_a_task: int = _FILES_A_TASK

    def each(self, work: Work[_AnyAsked, _Found], sources: Iterable[RouteSource]) -> Iterator[_Found]:
        """The answer for each source, in order; what `work` raises is raised."""
        tasks = self.tasks(sources)
        found = map(work, tasks) if self.executor is None else self.in_order(self.executor, work, tasks)
        for answers in found:
            yield from answers

    def tasks(self, sources: Iterable[RouteSource]) -> Iterator[tuple[RouteSource, ...]]:
        """The sources in tasks, the last one smaller."""
        rest = iter(sources)
        while task := tuple(islice(rest, self.files_a_task)):
            yield task

    def result(self, future: Future[_Answer]) -> _Answer:
        """What a task came to, waited for."""
        return future.result()

    def in_order(
        self, executor: Executor, function: Callable[[_Work], _Answer], works: Iterable[_Work]
    ) -> Iterator[_Answer]:
        """`function(work)` for each work, in order; at most `window` are submitted and not yet taken.

        Neither the works nor the answers are ever all held. When the caller stops early, what has not begun is
        cancelled.
        """
        from concurrent.futures import BrokenExecutor

        waiting: deque[Future[_Answer]] = deque()
        try:
            for work in works:
                waiting.append(executor.submit(function, work))
                while len(waiting) >= self.window:
                    yield self.result(waiting.popleft())
            while waiting:
                yield self.result(waiting.popleft())
        except BrokenExecutor:
            # A system short of memory ends a process so; what is told up to here stands.
            message = "a worker process ended unasked; what is told up to here stands, and the rest was not checked"
            raise problem_error("worker-lost", message, hint="run again, with fewer --jobs") from None
        finally:
            for future in waiting:
                future.cancel()


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
