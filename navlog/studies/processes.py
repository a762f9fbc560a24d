"""A pool of processes that an interrupt stops cleanly."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from concurrent.futures import Executor
from contextlib import contextmanager


@contextmanager
def process_pool(jobs: int) -> Iterator[Executor]:
    """An executor of `jobs` processes; on the way out by an error what has not begun is dropped.

    The processes start afresh instead of as copies, so that they share no open file with this one. They leave
    an interrupt to this process, which waits for the tasks under way.
    """
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    executor = ProcessPoolExecutor(jobs, mp_context=get_context("spawn"), initializer=_ignore_interrupts)
    try:
        yield executor
    finally:
        executor.shutdown(wait=True, cancel_futures=True)


def _ignore_interrupts() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
