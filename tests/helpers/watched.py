"""A watch on code that must not hang, in seconds of the processor, so that a busy machine makes no difference."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager


class Hang(BaseException):
    """Raised where code takes too long; nothing that catches errors catches it."""


SLOW_MACHINE = 10.0


@contextmanager
def within_seconds(most_s: float) -> Iterator[None]:
    """Raise `Hang` in code that takes ten times longer: a guard against hangs, not a measure of speed.

    Where the system has no such clock, the code is not watched.
    """
    if not hasattr(signal, "setitimer"):
        yield
        return

    def stop(number: int, frame: object) -> None:
        raise Hang(f"more than {most_s} s")

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, most_s * SLOW_MACHINE)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        signal.signal(signal.SIGPROF, before)
