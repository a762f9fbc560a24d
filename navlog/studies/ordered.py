"""Work on an executor with the answers in the order of the work, and only so much of it under way at once."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor, Future
from itertools import islice
from typing import TypeVar

Work = TypeVar("Work")
Answer = TypeVar("Answer")


def in_order(
    executor: Executor, function: Callable[[Work], Answer], works: Iterable[Work], window: int
) -> Iterator[Answer]:
    """`function(work)` for each work, in order; at most `window` are submitted and not yet taken.

    Neither the works nor the answers are ever all held. When the caller stops early, what has not begun is
    cancelled.
    """
    waiting: deque[Future[Answer]] = deque()
    try:
        for work in works:
            waiting.append(executor.submit(function, work))
            if len(waiting) >= window:
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()
    finally:
        for future in waiting:
            future.cancel()


def groups(items: Iterable[Work], size: int) -> Iterator[tuple[Work, ...]]:
    """The items in groups of `size`, the last one smaller."""
    rest = iter(items)
    while group := tuple(islice(rest, size)):
        yield group
