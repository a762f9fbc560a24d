"""Signals that end a process, held back while a file that is begun must not be left behind."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def held_back() -> Iterator[None]:
    """Let Ctrl-C, SIGTERM and SIGHUP wait until what is inside is done; where a system cannot, nothing waits."""
    import signal

    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGTERM, signal.SIGHUP})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
