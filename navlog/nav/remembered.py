"""Answers of a pure function remembered by what was asked: as `lru_cache` does it, with 80 bytes less an answer."""

from __future__ import annotations

from collections.abc import Callable
from itertools import islice
from typing import Any, TypeVar

_Asked = TypeVar("_Asked", bound=tuple[Any, ...])
_Answer = TypeVar("_Answer")


class Remembered(dict[_Asked, _Answer]):
    """The answers of `function` to at most `most` questions: `remembered[a, b]` is `function(a, b)`.

    What it raises is raised, and not remembered. Where there is no room the oldest eighth goes, not those that were not
    asked for longest: which these are would cost a link of a chain an answer.
    """

    __slots__ = ("_function", "_most")

    def __init__(self, function: Callable[..., _Answer], most: int) -> None:
        self._function = function
        self._most = most

    def __missing__(self, asked: _Asked) -> _Answer:
        answer = self._function(*asked)
        if len(self) >= self._most:
            # Many at once: whoever looks for the first of a dictionary passes over all that were taken out before it.
            for oldest in list(islice(self, max(1, self._most // 8))):
                # Another thread may have taken it.
                self.pop(oldest, None)
        self[asked] = answer
        return answer
