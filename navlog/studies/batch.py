"""A library of route files: which files it has, how they are read and worked in order, and rows of what is said.

A catalogue is opened once a thread, as its connection may only be used by the thread that made it.
"""

from __future__ import annotations

import gc
import os
import re
import sys
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from functools import lru_cache
from itertools import chain
from typing import TYPE_CHECKING, Any, Generic, Protocol, TypeAlias, TypeVar

from msgspec import Struct

from navlog.nav.problems import NavlogError, Problem, problem_error
from navlog.nav.record import changed
from navlog.request.lexer import file_bytes
from navlog.request.places import unwritten
from navlog.request.records import FlightPlans
from navlog.request.references import References, UsedFile
from navlog.request.typed import Overrides
from navlog.rules.answers import answers, text_plans
from navlog.rules.samples import BASE

if TYPE_CHECKING:
    from concurrent.futures import Executor, Future
    from multiprocessing.context import BaseContext

    from navlog.catalogue.queries import Catalogue

_Work = TypeVar("_Work")
_Found = TypeVar("_Found")
_Answer = TypeVar("_Answer")

_WINDOW = 16
"""Tasks under way at once: enough for a small machine, few enough to hold little."""
_FILES_A_TASK = 16
"""So many that handing a task over costs little beside the work."""
_BYTES_A_TASK = 8_192
"""About 90 flights of three lines: so few that no process is long at work when the others have nothing left."""
_FLIGHT = re.compile(rb"^[ \t]*flight\b", re.MULTILINE)
_TASKS_BEFORE_GIVING_BACK = 16
"""So many that giving back costs a thousandth of them."""
Row: TypeAlias = tuple[str | int | None, ...]


class _Part(Struct, frozen=True):
    """One of `of` shares of a file's flights, counted from 0."""

    number: int
    of: int

    def share(self, plans: FlightPlans) -> FlightPlans:
        """The file with the flights of this part alone."""
        if plans.problems or unwritten(plans):
            # What is said of all flights together, the first part says.
            return plans if self.number == 0 else changed(plans, flights=(), problems=(), partial=True)
        first, end = (number * len(plans.flights) // self.of for number in (self.number, self.number + 1))
        return changed(plans, flights=plans.flights[first:end], partial=True)


class RouteSource(Struct, frozen=True):
    """A route file by name; `data` is its content where that is already read, as from standard input.

    `problems` are why it cannot be read, where that is known. Of a large file it may be a part.
    """

    file: str
    data: bytes | None = None
    problems: tuple[Problem, ...] = ()
    part: _Part | None = None

    def bytes(self) -> bytes:
        """What the file holds, read now or before; raises `cannot-read`."""
        if self.problems:
            raise NavlogError(*self.problems)
        return self.data if self.data is not None else file_bytes(self.file)

    def read(self) -> RouteSource:
        """The same source with what it holds, or with why it cannot be read."""
        try:
            return changed(self, data=self.bytes())
        except NavlogError as error:
            return changed(self, problems=error.problems)

    @property
    def size(self) -> int:
        """How many bytes there are to work on; 0 where that is not known."""
        if self.data is not None:
            return len(self.data) // (1 if self.part is None else self.part.of)
        with suppress(OSError):
            return os.stat(self.file).st_size
        return 0

    @property
    def ends(self) -> bool:
        """Whether the file ends with it."""
        return self.part is None or self.part.number == self.part.of - 1

    def parts(self) -> Iterator[RouteSource]:
        """The source; a large one in parts of as many flights each."""
        if self.size <= _BYTES_A_TASK:
            yield self
            return
        read = self.read()
        flights = len(_FLIGHT.findall(read.data or b""))
        many = min(flights, -(-read.size // _BYTES_A_TASK))
        if many < 2:
            yield self
        else:
            yield from (changed(read, part=_Part(number, many)) for number in range(many))


def read_plans(source: RouteSource, overrides: Overrides) -> FlightPlans:
    """The flights of one source; raises `cannot-read`, `bad-encoding` and `too-large`."""
    if source.part is None:
        return text_plans(source.bytes(), source.file, overrides)
    return source.part.share(_whole_plans(source.bytes(), source.file, overrides))


# The parts of a file come one after the other.
_whole_plans = lru_cache(maxsize=1)(text_plans)


class _Asked(Protocol):
    """What is asked of every file; all of it can be sent to another process."""

    @property
    def quote_outside(self) -> bool:
        """As in `References`."""


_AnyAsked = TypeVar("_AnyAsked", bound=_Asked)


class Work(Struct, Generic[_AnyAsked, _Found], frozen=True):
    """What is done with the files of a task, in any thread or process: `function` answers, a value a file.

    With `in_parts` a value is a tuple, and those of a large file's parts make up the file's.
    """

    function: Callable[[tuple[RouteSource, ...], _AnyAsked, References], tuple[_Found, ...]]
    asked: _AnyAsked
    in_parts: bool = False

    def __call__(self, sources: tuple[RouteSource, ...], used: dict[UsedFile, str] | None = None) -> tuple[_Found, ...]:
        """The answers, worked here; `used` gets the fingerprint of every file that flights name."""
        references = References(quote_outside=self.asked.quote_outside, watched=used is not None)
        answers = self.function(sources, self.asked, references)
        if used is not None:
            used.update(references.used)
        _opened.tasks += 1
        if _opened.tasks % _TASKS_BEFORE_GIVING_BACK == 0:
            _give_back()
        return answers


class Engine(Struct):
    """Works in this thread, or on `executor`, any of `concurrent.futures` or made like it.

    At most `window` tasks are submitted at once, each of `files_a_task` files or, where these are larger, about
    `bytes_a_task`; both numbers of tasks and files may change while it works.
    """

    executor: Executor | None = None
    window: int = _WINDOW
    files_a_task: int = _FILES_A_TASK
    bytes_a_task: int = _BYTES_A_TASK

    def each(self, work: Work[_AnyAsked, _Found], sources: Iterable[RouteSource]) -> Iterator[_Found]:
        """The answer for each source, in order; what `work` raises is raised."""
        asked: deque[RouteSource] = deque()

        def shared() -> Iterator[RouteSource]:
            for source in sources:
                for part in source.parts() if work.in_parts else (source,):
                    asked.append(part)
                    yield part

        told: list[Any] = []
        for answer in self.answers(work, self.tasks(shared())):
            told.append(answer)
            if asked.popleft().ends:
                yield answer if len(told) == 1 else tuple(chain.from_iterable(told))  # type: ignore[misc]
                told.clear()

    def answers(self, work: Work[_AnyAsked, _Found], tasks: Iterable[tuple[RouteSource, ...]]) -> Iterator[_Found]:
        """The answers of each task, in order."""
        found = map(work, tasks) if self.executor is None else self.in_order(self.executor, work, tasks)
        return chain.from_iterable(found)

    def tasks(self, sources: Iterable[RouteSource]) -> Iterator[tuple[RouteSource, ...]]:
        """The sources in tasks, the last one smaller."""
        task: list[RouteSource] = []
        size = 0
        for source in sources:
            task.append(source)
            size += source.size
            if len(task) >= self.files_a_task or size >= self.bytes_a_task:
                yield tuple(task)
                task, size = [], 0
        if task:
            yield tuple(task)

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

    They leave an interrupt to this process, which waits for the tasks under way.
    """
    from concurrent.futures import ProcessPoolExecutor

    executor = ProcessPoolExecutor(
        jobs, mp_context=_beginning(), initializer=_begin_work, initargs=(gc.get_threshold(),)
    )
    try:
        yield executor
    finally:
        executor.shutdown(wait=True, cancel_futures=True)


def _beginning() -> BaseContext:
    """How processes begin: as copies of this one, which has all modules loaded, else afresh.

    A copy would share an open catalogue, which SQLite forbids, and locks that another thread holds; on systems other
    than Linux the libraries of the system may not be copied.
    """
    from multiprocessing import get_context

    if sys.platform != "linux" or threading.active_count() > 1 or _opened.held.by_file:
        return get_context("spawn")
    # A flight loads what flights need, for all copies.
    tuple(answers(text_plans(BASE, "-")))
    return get_context("fork")


def _begin_work(collected_after: tuple[int, int, int]) -> None:
    """Make a process ready: interrupts are the first one's, and the collector runs as seldom as there."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.set_threshold(*collected_after)
    threading.Thread(target=_end_with_the_first, daemon=True).start()


def _end_with_the_first() -> None:
    """End this process when the first one is gone, which a signal may end without a word."""
    import signal
    from multiprocessing import parent_process

    first, at_work = parent_process(), threading.main_thread().ident
    if first is None or at_work is None:
        return
    first.join()
    if sys.platform == "win32":
        os._exit(1)
    # To the thread at work, which holds signals back until a file is whole.
    signal.pthread_kill(at_work, signal.SIGTERM)


def _give_back() -> None:
    """Give back the memory of tuples that are gone.

    Python keeps up to 2,000 of each length for later ones, 2.7 MiB over a library, until the collector looks at all
    there is. That costs more than it finds, so all there is is put out of its sight meanwhile.
    """
    # What the calling program has put out of sight for good would come back with the rest.
    if gc.get_freeze_count() == 0:
        gc.freeze()
        gc.collect()
        gc.unfreeze()


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
        self.tasks = 0


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
