"""Opening files that others name: a plain file alone is opened, and no more of it read than is asked for.

A named pipe would wait for ever for a writer, a device may have no end or do something when it is opened.
"""

from __future__ import annotations

import os
from stat import S_ISDIR, S_ISREG
from typing import IO

from navlog.nav.problems import Span, problem_error

_FOR_PIPES = "name a plain file; a route file is also read from standard input, by the name `-`"
_FLAGS = os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOCTTY", 0)


class NotPlainError(OSError):
    """What is there is a named pipe, a device or a socket."""

    def __init__(self, path: str | os.PathLike[str]) -> None:
        super().__init__(None, "this is no plain file but a pipe, a device or a socket", os.fspath(path))


def open_plain(path: str | os.PathLike[str]) -> IO[bytes]:
    """The file at `path`, links followed, opened for reading; raises OSError, for what is no plain file too."""
    # Looked at before it is opened, for what opening would do; and after, as another may stand there by then.
    _refuse_special(path, os.stat(path).st_mode)
    handle = os.open(path, _FLAGS)
    try:
        _refuse_special(path, os.fstat(handle).st_mode)
        return os.fdopen(handle, "rb")
    except BaseException:
        os.close(handle)
        raise


def _refuse_special(path: str | os.PathLike[str], mode: int) -> None:
    if not S_ISREG(mode) and not S_ISDIR(mode):
        raise NotPlainError(path)
    if S_ISDIR(mode):
        from errno import EISDIR

        raise IsADirectoryError(EISDIR, os.strerror(EISDIR), os.fspath(path))


def read_most(opened: IO[bytes], most_bytes: int) -> bytes:
    """What a file holds, of one with more than `most_bytes` one more than that; no more room is taken than it needs."""
    size = os.fstat(opened.fileno()).st_size
    data = opened.read(min(size, most_bytes) + 1)
    # It has grown, or its size is not told.
    return data if len(data) <= size else data + opened.read(most_bytes + 1 - len(data))


def read_plain(path: str, most_bytes: int, what: str, span: Span) -> bytes:
    """The bytes of a plain file, of one with more than `most_bytes` one more than that, which tells it.

    Raises `cannot-read`, at `span`, with `what` the file is called there.
    """
    try:
        with open_plain(path) as opened:
            return read_most(opened, most_bytes)
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        hint = _FOR_PIPES if isinstance(error, NotPlainError) else None
        raise problem_error("cannot-read", f"cannot read {what}: {reason}", span=span, hint=hint) from None
