"""Work shared out to the workers of a Dask cluster: the tasks of a pool of processes, with the same answers.

Route files are read here and sent. Published data and the files that flights name are read by each worker at the same
path, and are held by digest against those of this machine, as are this program, Python and the libraries: a worker
with others is a problem, never another answer. What is sent and answered is bytes to the cluster, so that it need not
look into them. A task whose worker is lost is done again by another.
"""

from __future__ import annotations

import pickle
import re
from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import lru_cache, partial
from time import perf_counter
from typing import TYPE_CHECKING, Any, Protocol, TypeVar

from msgspec import Struct

from navlog.nav.problems import NavlogError, Span, problem_error
from navlog.request.references import References, UsedFile, folder_digest
from navlog.studies.batch import Engine, RouteSource, Work
from navlog.studies.remembered import file_digest, file_written, made_of

if TYPE_CHECKING:
    from concurrent.futures import Executor, Future

_OPTION = Span("--cluster", 1)
_ADDRESS = re.compile(r"(tcp|tls)://[^\s/:]+:\d{1,5}|(tcp|tls)://\[[0-9A-Fa-f:]+\]:\d{1,5}")
_CONNECT_S = 10.0
_LOOK_S = 20.0
_FILES_A_TASK, _TASK_S = 50, 1.0
_BYTES_A_TASK = 1_000_000
"""More than tasks of a second have: what they took is measured."""
_FIRST_FILES = 4
"""The first tasks are short: how long a file takes is not yet known."""
_TASKS_A_WORKER = 3
"""One under way, one that waits, and one on its way back."""
_ASK = "the workers run the same navlog and libraries, in the folder of this command, and see the same files there"
_AnyAsked = TypeVar("_AnyAsked")
_Found = TypeVar("_Found")


class _Answer(Struct, frozen=True):
    """What a task came to: the answers, how long they took, and the digests of the files that flights name."""

    answers: tuple[Any, ...]
    seconds: float
    used: dict[UsedFile, str]


class _Memory(Protocol):
    """Answers remembered on this machine, by sources with their bytes; workers have no part in it."""

    def recalled(self, source: RouteSource, references: References) -> Any:
        """The answer for a source where it still holds, else None."""

    def remember(self, source: RouteSource, references: References, answer: Any) -> None:
        """Keep an answer, which holds for the files that `references` have in use."""


class _Asked(Struct):
    """A file of a task; `known` is what is remembered of it, and `kept` says whether its answer is to be."""

    source: RouteSource
    known: Any
    kept: bool


class _Cluster(Engine, kw_only=True):
    """Works on a cluster: tasks of about a second or 50 files, as many as its workers need to be busy."""

    client: Any
    most_files: int
    catalogues: tuple[str, ...]
    references: References
    memory: _Memory | None
    tasks_taken: int = 0

    def answers(self, work: Work[Any, _Found], tasks: Iterable[tuple[RouteSource, ...]]) -> Iterator[_Found]:
        """The answers of each task, in order; raises `worker-differs`, `worker-lost` and `cluster-lost`."""
        under_way: deque[list[_Asked]] = deque()

        def sent() -> Iterator[bytes]:
            for task in tasks:
                under_way.append([self._asked(one) for one in task])
                yield pickle.dumps((work, tuple(one.source for one in under_way[-1] if one.known is None)))

        there = partial(_worked_there, self.catalogues, _here(self.catalogues))
        assert self.executor is not None
        for found in self.in_order(self.executor, there, sent()):
            yield from self._taken(found, under_way.popleft())

    def _asked(self, source: RouteSource) -> _Asked:
        """A file with its bytes and what is remembered of it."""
        read = source.read()
        kept = self.memory is not None and source.data is None and not read.problems
        known = self.memory.recalled(read, self.references) if self.memory is not None and kept else None
        return _Asked(read, known, kept)

    def result(self, future: Future[Any]) -> Any:
        """What a task came to, waited for as long as the cluster has workers."""
        from concurrent.futures import CancelledError

        from distributed.scheduler import KilledWorker

        alone = 0
        while True:
            try:
                return future.result(timeout=_LOOK_S)
            except TimeoutError:
                # A worker that is started anew is away for a moment.
                alone = alone + 1 if not self.client.nthreads() else 0
                if alone == 2 or future.done():
                    raise _lost("cluster-lost", "the cluster has no worker left") from None
            except KilledWorker:
                raise _lost("worker-lost", "every worker that took one of the tasks was lost with it") from None
            except (CancelledError, OSError) as error:
                raise _lost("cluster-lost", f"the scheduler no longer answers ({type(error).__name__})") from None
            except Exception as error:
                # What the work itself raises comes as an answer.
                told = " ".join(str(error).split())
                raise _differs(f"the cluster cannot read a task of this navlog: {told}") from None

    def _taken(self, found: bytes | str, task: list[_Asked]) -> Iterator[Any]:
        """The answers of a task, where the worker had what this machine has, with those remembered."""
        if isinstance(found, str):
            raise _differs(found)
        answer: _Answer | Exception = pickle.loads(found)
        if isinstance(answer, Exception):
            raise answer
        here = References(used={used: self.references.fingerprint(used) for used in answer.used})
        for used, digest in answer.used.items():
            if _digest(used, here.used[used]) != digest:
                raise _differs(f"a worker of the cluster reads another `{used.path}` than this machine")
        self.tasks_taken += 1
        if self.tasks_taken % self.window == 0:
            self.look()
        if answer.answers:
            self.files_a_task = _files_a_task(answer, self.most_files)
        worked = iter(answer.answers)
        for one in task:
            told = next(worked) if one.known is None else one.known
            if self.memory is not None and one.kept and one.known is None:
                # What any file of the task used counts for each: which of them did is not told.
                self.memory.remember(one.source, here, told)
            yield told

    def look(self) -> None:
        """Fit the window to the workers of now."""
        self.window = max(2, _TASKS_A_WORKER * sum(self.client.nthreads().values()))


def _files_a_task(answer: _Answer, most: int) -> int:
    """So many files as take about a second, by those of the last task."""
    return max(1, min(most, int(_TASK_S * len(answer.answers) / max(answer.seconds, 1e-6))))


def _lost(code: str, message: str) -> NavlogError:
    hint = "the logs of scheduler and workers say why; a worker that has no navlog ends at its first task"
    return problem_error(code, f"{message}; what is told up to here stands", span=_OPTION, hint=hint)


def _differs(message: str) -> NavlogError:
    return problem_error("worker-differs", message, span=_OPTION, hint=_ASK)


@contextmanager
def on_cluster(address: str, files: int, catalogues: Sequence[str], memory: _Memory | None = None) -> Iterator[Engine]:
    """The cluster whose scheduler is at an address, for so many files and these files of published data.

    What `memory` holds is not sent, and it keeps what is answered.
    Raises `no-distributed`, `bad-value` for what is no address, and `no-cluster` where no scheduler or worker answers.
    """
    if _ADDRESS.fullmatch(address) is None:
        raise problem_error("bad-value", f"`{address}` is no address", span=_OPTION, hint="write tcp://HOST:8786")
    from logging import CRITICAL, getLogger

    try:
        import distributed
    except ImportError:
        message = "a cluster needs the package `distributed`, which is not installed"
        raise problem_error("no-distributed", message, hint="pip install 'navlog[cluster]'") from None
    # What happens is told as problems; Dask would tell it as tracebacks beside them.
    for name in ("distributed", "distributed.client"):
        getLogger(name).setLevel(CRITICAL)
    connect: Any = distributed.Client  # It has no types.
    try:
        client: Any = connect(address, timeout=_CONNECT_S, set_as_default=False)
    except (OSError, ValueError) as error:
        raise problem_error("no-cluster", f"no scheduler answers there: {error}", span=_OPTION) from None
    with client:
        try:
            client.wait_for_workers(1, timeout=_CONNECT_S)
        except TimeoutError:
            raise problem_error("no-cluster", "the scheduler has no worker", span=_OPTION) from None
        workers = sum(client.nthreads().values())
        most = max(1, min(_FILES_A_TASK, files // (_TASKS_A_WORKER * workers)))
        executor: Executor = client.get_executor(pure=False)
        engine = _Cluster(
            executor=executor,
            files_a_task=min(_FIRST_FILES, most),
            bytes_a_task=_BYTES_A_TASK,
            client=client,
            most_files=most,
            catalogues=tuple(catalogues),
            references=References(),
            memory=memory,
        )
        engine.look()
        yield engine


def _worked_there(catalogues: tuple[str, ...], expected: dict[str, str], task: bytes) -> bytes | str:
    """On a worker: the answers to a task, or what it raised, as bytes; in words, what is not as the sender has it."""
    from distributed import get_worker

    found = _here(catalogues)
    for part, value in expected.items():
        if found[part] != value:
            where = get_worker().address
            return f"the worker {where} has another {part}: {found[part]}, and this machine {value}"
    start = perf_counter()
    work, sources = pickle.loads(task)
    used: dict[UsedFile, str] = {}
    try:
        answers = work(sources, used)
    except Exception as error:
        return pickle.dumps(error)
    digests = {one: _digest(one, seen) for one, seen in used.items()}
    return pickle.dumps(_Answer(answers, perf_counter() - start, digests))


def _here(catalogues: Sequence[str]) -> dict[str, str]:
    """What answers depend on beside route files, on this machine: each part with its edition or digest."""
    return {**_made_of(), **{f"catalogue {path}": _catalogue(path) for path in catalogues}}


def _catalogue(path: str) -> str:
    try:
        return _digest_of(path, file_written(path))[:16]
    except OSError as error:
        return (error.strerror or str(error)).lower()


_made_of = lru_cache(maxsize=1)(made_of)
"""Of a process as it began."""


@lru_cache(maxsize=64)
def _digest_of(path: str, written: tuple[int, ...]) -> str:
    del written  # A file written anew is another.
    return file_digest(path)


@lru_cache(maxsize=1024)
def _digest(used: UsedFile, seen: str) -> str:
    """What a file that a flight names holds, the same on any machine; `seen` tells it from itself after a change."""
    return folder_digest(used) or seen
