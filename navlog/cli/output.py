"""Writing results: to standard output, or to a file that is written whole or not at all.

Standard streams without a buffer of their own: what they do not take at once is written again, never lost.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from errno import EAGAIN, EISDIR, ENXIO
from io import BufferedIOBase, RawIOBase, TextIOWrapper
from typing import TYPE_CHECKING, TextIO

import click

from navlog.nav.problems import NavlogError, Problem, Span, format_problem, inert, printable, problem_error

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer


def write(data: str | bytes, path: str | None) -> None:
    """Write a sheet to `path`, or to standard output for None and `-`.

    A file appears whole or stays as it was. Raises NavlogError where it cannot be written.
    """
    write_all([(data, path)])


def write_all(sheets: Sequence[tuple[str | bytes, str | None]]) -> None:
    """Write several sheets; files appear only once all of them are on the disk, standard output last.

    Raises NavlogError where one cannot be written, and then leaves every file as it was.
    """
    plain = [(data, path) for data, path in sheets if path is not None and path != "-" and not _is_device(path)]
    for data, path in sheets:
        if path is None or path == "-":
            _refuse_terminal(data)
    if plain:
        with ending_in_order():
            _write_files(plain)
    for data, path in sheets:
        if path is None or path == "-":
            _to_stdout(data)
        elif _is_device(path):
            _to_device(data, path)


def _write_files(sheets: Sequence[tuple[str | bytes, str]]) -> None:
    """Write plain files, each under another name until all of them are on the disk."""
    from navlog.nav.interruptions import held_back

    staged: list[tuple[str, str]] = []
    try:
        for data, path in sheets:
            with held_back():
                staged.append((path, _staged_file(data, path)))
        with held_back():
            for path, temporary in staged:
                _tell_replaced(path, temporary)
                with _said_of(path):
                    os.replace(temporary, os.path.realpath(path))  # what a link names is written; the link stays
    finally:
        for _, temporary in staged:
            if os.path.exists(temporary):
                os.unlink(temporary)


@contextmanager
def ending_in_order() -> Iterator[None]:
    """Let SIGTERM and SIGHUP raise `Ended`, so that what is begun inside is taken away; else they end the process.

    A signal that is ignored, as under `nohup`, stays so.
    """
    import signal

    from navlog.cli import Ended

    def end(number: int, _: object) -> None:
        raise Ended(number)

    numbers = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    taken = [number for number in numbers if signal.getsignal(number) is signal.SIG_DFL]
    # In another thread than the first no handler may be set; whoever runs this as a library ends it as he will.
    with suppress(ValueError):
        for number in taken:
            signal.signal(number, end)
    try:
        yield
    finally:
        with suppress(ValueError):
            for number in taken:
                signal.signal(number, signal.SIG_DFL)


def _tell_replaced(path: str, by: str) -> None:
    """Say that a route file is replaced by another text: a sheet can be made again, what a pilot wrote cannot."""
    from filecmp import cmp

    if path.endswith(".route") and os.path.exists(path) and not cmp(path, by, shallow=False):
        from navlog.cli import echo_error

        echo_error(f"{path}: another text stood there and is replaced")


@contextmanager
def folders_made(paths: Sequence[str]) -> Iterator[None]:
    """Make the folders that are not there; where what follows fails, they are gone again.

    Raises NavlogError where one cannot be made.
    """
    if all(map(os.path.isdir, paths)):
        yield
        return
    made: list[str] = []
    with ending_in_order():
        try:
            for path in paths:
                if not os.path.isdir(path):
                    with _said_of(path):
                        os.mkdir(path)
                    made.append(path)
            yield
        except BaseException:
            for path in reversed(made):
                with suppress(OSError):
                    os.rmdir(path)
            raise


def refuse_inputs(paths: Iterable[str], inputs: Iterable[str]) -> None:
    """Raise a problem for each output that is a file which this run reads, or that another output is too."""
    read = [path for path in inputs if os.path.exists(path)]
    written: set[str] = set()
    problems = []
    for path in paths:
        if path == "-" or _is_device(path):
            continue
        real, span = os.path.realpath(path), Span(path, 1)
        if os.path.exists(path) and any(os.path.samefile(path, one) for one in read):
            hint = "give the output a name of its own"
            problems.append(Problem("output-is-input", "this run reads the file that it would write", span, hint))
        elif real in written:
            problems.append(Problem("output-twice", "two outputs are this one file", span))
        written.add(real)
    if problems:
        raise NavlogError(*problems)


def _staged_file(data: str | bytes, path: str) -> str:
    """The data in a file beside `path`, from which it takes one step to appear there whole.

    A file that is there already hands its permissions on.
    """
    from stat import S_IMODE
    from tempfile import NamedTemporaryFile

    with _said_of(path):
        if os.path.isdir(path):
            raise IsADirectoryError(EISDIR, os.strerror(EISDIR))
        mode = S_IMODE(os.stat(path).st_mode) if os.path.exists(path) else 0o666 & ~_current_umask()
        folder = os.path.dirname(os.path.realpath(path))
        with NamedTemporaryFile(dir=folder, prefix=".navlog-", delete=False) as opened:
            try:
                opened.write(_encoded(data))
                opened.flush()
                os.fsync(opened.fileno())
                os.chmod(opened.name, mode)
            except BaseException:
                os.unlink(opened.name)
                raise
        return opened.name


def _is_device(path: str) -> bool:
    """Whether a path is there and no plain file that another could stand in for: `/dev/stdout`, a named pipe."""
    if os.path.abspath(path).startswith("/dev/"):
        return os.path.exists(path)
    return os.path.exists(path) and not os.path.isfile(path) and not os.path.isdir(path)


def _to_device(data: str | bytes, path: str) -> None:
    """Write straight into a device, or into a pipe that somebody reads; raises `cannot-write` for any other pipe."""
    with _said_of(path):
        try:
            # Opened to wait, a named pipe that nobody reads would hold this run for ever.
            handle = os.open(path, os.O_WRONLY | os.O_APPEND | getattr(os, "O_NONBLOCK", 0))
        except OSError as error:
            if error.errno == ENXIO:
                raise OSError(ENXIO, "this is no plain file, and nobody reads from it") from None
            raise
        with os.fdopen(handle, "wb") as opened:
            os.set_blocking(handle, True)
            opened.write(_encoded(data))


def _encoded(data: str | bytes) -> bytes:
    """A sheet as it is written: text in UTF-8, with nothing in it that would steer a terminal."""
    return data if isinstance(data, bytes) else inert(data).encode("utf-8", "replace")


@contextmanager
def _said_of(path: str) -> Iterator[None]:
    """Turn what the system says of a file into a problem."""
    try:
        yield
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise problem_error("cannot-write", f"cannot write this file: {reason}", span=Span(path, 1)) from None


def _refuse_terminal(data: str | bytes) -> None:
    """Raise a problem where a PDF would go to a terminal."""
    if isinstance(data, bytes) and data.startswith(b"%PDF") and sys.stdout.isatty():
        raise problem_error("pdf-to-terminal", "a PDF is not for a terminal", hint="write it to a file: -o trip.pdf")


def _to_stdout(data: str | bytes) -> None:
    """Print a sheet."""
    if isinstance(data, bytes):
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
    else:
        from navlog.cli import shown_on

        click.echo(shown_on(sys.stdout, data), nl=False)


def print_lines(lines: Iterable[str]) -> None:
    """Print lines; each stays one, whatever names from outside stand in it."""
    write(one_a_line(lines), None)


def one_a_line(lines: Iterable[str]) -> str:
    """The lines as one text; each stays one, whatever names from outside stand in it."""
    return "".join(f"{printable(line)}\n" for line in lines)


def _current_umask() -> int:
    """The process's file-creation mask, which can only be read by setting it."""
    mask = os.umask(0)
    os.umask(mask)
    return mask


def print_problems(problems: Iterable[Problem]) -> None:
    """Print problems to standard error."""
    from navlog.cli import echo_error

    for problem in problems:
        echo_error(format_problem(problem))


class _WholeWrites(BufferedIOBase):
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
                raise BlockingIOError(EAGAIN, os.strerror(EAGAIN))
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
    return TextIOWrapper(_WholeWrites(raw), encoding=stream.encoding, errors=stream.errors, write_through=True)
