"""Standard streams without a buffer of their own: what they do not take at once is written again, never lost."""

from __future__ import annotations

import errno
import os
from io import BufferedIOBase, RawIOBase, TextIOWrapper
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer


class WholeWrites(BufferedIOBase):
    """Hands bytes on at once, as often as it takes; keeps none and does not close what it writes to."""

    def __init__(self, raw: RawIOBase) -> None:
        self._raw = raw

    @property
    def name(self) -> object:
        """What Python calls it."""
        return getattr(self._raw, "name", None)

    def write(self, data: ReadableBuffer, /) -> int:
        """Write all of `data`; raises OSError where the system takes no more of it."""
        rest = memoryview(data).cast("B")
        size = len(rest)
        while rest:
            taken = self._raw.write(rest)
            if not taken:
                # None is a stream that would have to wait, which nobody does here.
                raise BlockingIOError(errno.EAGAIN, os.strerror(errno.EAGAIN))
            rest = rest[taken:]
        return size

    def flush(self) -> None:
        """Flush what it writes to."""
        self._raw.flush()

    def writable(self) -> bool:
        """Whether it can be written to."""
        return self._raw.writable()

    def isatty(self) -> bool:
        """Whether it is a terminal."""
        return self._raw.isatty()

    def fileno(self) -> int:
        """The number of the open file."""
        return self._raw.fileno()


def whole(stream: TextIO, raw: RawIOBase) -> TextIO:
    """A text stream like `stream` that writes whole into `raw`, the bytes below it."""
    return TextIOWrapper(WholeWrites(raw), encoding=stream.encoding, errors=stream.errors, write_through=True)
