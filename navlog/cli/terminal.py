"""What is different on a terminal alone: the colour of severities, how far long work has come; findings in that way."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, TextIO, TypeVar

import click
from msgspec import Struct, field

if TYPE_CHECKING:
    from typing import Protocol

    from navlog.nav.problems import Problem

    class _Told(Protocol):
        """What is told of a flight."""

        @property
        def status(self) -> str:
            """How it came out."""

        @property
        def problems(self) -> tuple[Problem, ...]:
            """Why nothing can be told."""


_COLOURS = {"error": "red", "warning": "yellow", "note": "cyan"}
_SEVERITY = r"(?m)^((?:[^\n]*?:\d+(?::\d+)?: )?)(error|warning|note)(?=: )"
"""The severity of a line in the manner of a compiler's, behind its place where it has one."""
_LINE_START = "\r\x1b[K"


def coloured(stream: TextIO) -> bool:
    """Whether a stream shows colour: a terminal that is not dumb, and nobody has asked for none.

    https://no-color.org: NO_COLOR with any value but none asks for none.
    """
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def in_colour(text: str) -> str:
    """Lines of findings and problems with their severity in its colour."""
    # Compiled here, and remembered by `re`: most runs colour nothing.
    return re.sub(_SEVERITY, lambda found: found[1] + click.style(found[2], fg=_COLOURS[found[2]], bold=True), text)


_AnyTold = TypeVar("_AnyTold", bound="_Told")
_Item = TypeVar("_Item")


def with_progress(items: Iterable[_Item], many: int) -> Iterator[_Item]:
    """The items, with how many of `many` are done and the time left on standard error, where that is a terminal.

    The line is taken away while an item is in use, so that what is printed then stands alone.
    """
    if many < 2 or not sys.stderr.isatty() or os.environ.get("TERM") == "dumb":
        yield from items
        return
    bar = click.progressbar(length=many, label="files", show_pos=True, file=sys.stderr)
    try:
        for item in items:
            click.echo(_LINE_START, err=True, nl=False)
            yield item
            sys.stdout.flush()
            bar.make_step(1)
            click.echo(bar.format_progress_line(), err=True, nl=False)
    finally:
        click.echo(_LINE_START, err=True, nl=False)


class FlightTally(Struct):
    """Counts flights by status while they pass, prints their problems, and shows progress on a terminal."""

    files: int
    statuses: dict[str, int] = field(default_factory=dict)

    def each(self, found: Iterable[tuple[_AnyTold, ...]]) -> Iterator[_AnyTold]:
        """The flights of each file, counted."""
        from navlog.cli.output import print_problems

        for flights in with_progress(found, self.files):
            told: set[Problem] = set()
            for flight in flights:
                self.statuses[flight.status] = self.statuses.get(flight.status, 0) + 1
                # What stands before the flights of a file is a problem of each, told once.
                print_problems(problem for problem in flight.problems if problem not in told)
                told.update(flight.problems)
                yield flight

    def exit_status(self, *faults: str) -> int:
        """2 where a flight has a problem, 1 where one has a status of `faults`, else 0."""
        if "problem" in self.statuses:
            return 2
        return 1 if any(status in self.statuses for status in faults) else 0


def show(text: str, *, lines: bool = False) -> None:
    """Print to standard output, as bytes, so that a line end stays what it is; `lines` of findings in colour."""
    if text:
        from navlog.cli import shown_on

        shown = shown_on(sys.stdout, text)
        if lines and coloured(sys.stdout):
            click.echo(in_colour(shown), nl=False)
        else:
            sys.stdout.buffer.write(shown.encode(sys.stdout.encoding or "ascii", "replace"))
