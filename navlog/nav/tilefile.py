"""Files of terrain heights, which stay open and are read by parts, as one may be cut short in the meantime.

Mapped into memory, such a file would end the process where its bytes are no longer there.
"""

from __future__ import annotations

import os
from functools import lru_cache
from pathlib import Path
from threading import Lock
from weakref import finalize

from navlog.nav.plainfile import open_plain
from navlog.nav.problems import problem_error


class UnreadableTileError(Exception):
    """A file is no tile of heights in a form that is read here; says why not."""


class TileFile:
    """A plain file that is read by parts, by several threads too."""

    def __init__(self, path: Path) -> None:
        """Open it; raises OSError, for what is no plain file too."""
        with open_plain(path) as opened:
            self._handle = os.dup(opened.fileno())
        # Closed when nobody reads it any more, or the process ends.
        finalize(self, os.close, self._handle)
        self._lock = Lock()

    def __len__(self) -> int:
        """How many bytes it holds now."""
        return os.fstat(self._handle).st_size

    def part(self, start: int, length: int) -> bytes:
        """So many bytes from a place on; fewer where the file ends before."""
        # Not every system reads at a place in one step.
        with self._lock:
            os.lseek(self._handle, start, os.SEEK_SET)
            return os.read(self._handle, length)


@lru_cache(maxsize=64)
def opened_tile(path: Path) -> TileFile:
    """The file of a tile; raises UnreadableTileError."""
    try:
        return TileFile(path)
    except (OSError, ValueError) as error:
        raise UnreadableTileError((getattr(error, "strerror", None) or str(error)).lower()) from None


def heights_part(path: Path, start: int, length: int) -> bytes:
    """So many bytes of a tile that was whole when it was opened; raises `cannot-read` where they are gone."""
    try:
        found = opened_tile(path).part(start, length)
    except (OSError, UnreadableTileError) as error:
        raise problem_error("cannot-read", f"cannot read the terrain tile `{path}`: {error}") from None
    if len(found) < length:
        raise problem_error("cannot-read", f"the terrain tile `{path}` was cut short while it was read")
    return found


@lru_cache(maxsize=8)
def first_part(path: Path, length: int) -> bytes:
    """The first bytes of a tile whose rows lie all over it; raises as `heights_part` does."""
    return heights_part(path, 0, length)
