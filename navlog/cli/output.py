"""Writing results: to standard output, or to a file that is written whole or not at all."""

from __future__ import annotations

import os
import sys

import click

from navlog.problems import Problem, Span, format_problem, problem_error


def write(data: str | bytes, path: str | None) -> None:
    """Write a sheet to `path`, or to standard output for None and `-`.

    A file appears whole or stays as it was. Raises NavlogError where it cannot be written.
    """
    if path is None or path == "-":
        if isinstance(data, bytes):
            sys.stdout.buffer.write(data)
        else:
            click.echo(printable_here(data), nl=False)
        return
    raw = data if isinstance(data, bytes) else data.encode()
    from tempfile import NamedTemporaryFile

    folder = os.path.dirname(os.path.abspath(path))
    temporary = None
    try:
        with NamedTemporaryFile(dir=folder, prefix=".navlog-", delete=False) as opened:
            temporary = opened.name
            opened.write(raw)
            opened.flush()
            os.fsync(opened.fileno())
        os.chmod(temporary, 0o666 & ~current_umask())
        os.replace(temporary, path)
    except BaseException as error:
        if temporary is not None and os.path.exists(temporary):
            os.unlink(temporary)
        if isinstance(error, OSError):
            reason = (error.strerror or str(error)).lower()
            raise problem_error("cannot-write", f"cannot write this file: {reason}", span=Span(path, 1)) from None
        raise


def current_umask() -> int:
    """The process's file-creation mask, which can only be read by setting it."""
    mask = os.umask(0)
    os.umask(mask)
    return mask


def printable_here(text: str) -> str:
    """The text with `?` for each character that standard output cannot show."""
    encoding = sys.stdout.encoding or "ascii"
    return text.encode(encoding, "replace").decode(encoding)


def print_problems(problems: tuple[Problem, ...]) -> None:
    """Print problems to standard error."""
    from navlog.cli import echo_error

    for problem in problems:
        echo_error(format_problem(problem))
