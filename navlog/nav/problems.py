"""What went wrong and where: the one error type of the package.

Imports nothing of ours, so that every other module may raise a problem, and next to nothing of others: it is on the
way of every start, to which `dataclasses` alone would add 2 ms.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

_MOST_SHOWN = 400
"""Characters of a user's line that are printed below a problem."""

_LONGEST_MESSAGE = 2000

DIRECTIONS = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""Unicode Standard Annex 9, section 2: the explicit directional formatting characters and marks."""

_CONTROLS = {*range(0x20), *range(0x7F, 0xA0), 0x2028, 0x2029} - {*b"\t\n\f\r"}
_STEERING = dict.fromkeys({*_CONTROLS, *map(ord, DIRECTIONS)}, "?")
"""Control characters by Unicode number, but those of lines, pages and tabs, and what each becomes."""


class Span(NamedTuple):
    """A place in a file: lines and columns count from 1, `length` is in columns."""

    file: str
    line: int
    column: int = 1
    length: int = 1


class Problem(NamedTuple):
    """A reason why no trustworthy number follows.

    `code` is a stable kebab-case name, `message` is plain, lower case and without a full stop,
    `text` is the user's own line, `hint` says in one line what to do. `of_temperature` is one of a temperature, whose
    place is where that is stated.
    """

    code: str
    message: str
    span: Span | None = None
    hint: str | None = None
    text: str | None = None
    of_temperature: bool = False


class NavlogError(Exception):
    """Raised where work cannot go on; carries every problem found so far."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__(*problems)
        self.problems = problems

    def __str__(self) -> str:
        return "\n".join(format_problem(problem) for problem in self.problems)


def problem_error(code: str, message: str, *, hint: str | None = None, span: Span | None = None) -> NavlogError:
    """A `NavlogError` with one problem, for values that have no place in a file of their own."""
    return NavlogError(Problem(code, message, span, hint))


def at(error: NavlogError, span: Span, text: str | None = None) -> NavlogError:
    """The same error with `span` (and the user's line) given to every problem that has no place yet."""
    return NavlogError(
        *(problem if problem.span is not None else problem._replace(span=span, text=text) for problem in error.problems)
    )


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Problems without doubles, by file, line and column; those without a place come first."""
    unique = dict.fromkeys(problems)
    return tuple(sorted(unique, key=lambda p: (p.span is not None, p.span or Span("", 0), p.code, p.message)))


def format_problem(problem: Problem) -> str:
    """The printed form: `FILE:LINE:COL: error: message [code]`, the user's line with a caret, one hint."""
    span = problem.span
    place = f"{printable(span.file)}:{span.line}:{span.column}: " if span else ""
    lines = [f"{place}error: {printable(_shortened(problem.message))} [{problem.code}]"]
    if span is not None and problem.text is not None:
        # Of a line that is very long, what stands around the place is shown.
        left = max(0, span.column - 1 - _MOST_SHOWN // 2) if len(problem.text) > _MOST_SHOWN else 0
        label = f"{span.line:>4} | "
        lines.append(label + printable(problem.text[left : left + _MOST_SHOWN].replace("\t", " ")))
        lines.append(" " * 4 + " | " + " " * (span.column - 1 - left) + "^" * min(max(1, span.length), _MOST_SHOWN))
    if problem.hint:
        lines.append(f"  hint: {printable(_shortened(problem.hint))}")
    return "\n".join(lines)


def _shortened(text: str) -> str:
    """`text` with its middle left out where it is longer than a message ever is: it quotes a monstrous word."""
    if len(text) <= _LONGEST_MESSAGE:
        return text
    half = _LONGEST_MESSAGE // 2
    return f"{text[:half]} ... {text[-half:]}"


def inert(text: str) -> str:
    """Text of many lines with `?` for what would steer a terminal: controls and changes of direction.

    Ends of lines and pages and tabs stay, and so do letters of every script.
    """
    shown = text.translate(_STEERING)
    # A return alone would let the rest of a line cover its beginning.
    return "\r\n".join(line.replace("\r", "?") for line in shown.split("\r\n")) if "\r" in shown else shown


def printable(text: str) -> str:
    """`text` with control and bidirectional characters shown as `?`, so that a terminal stays as it was."""
    if text.isprintable():
        return text
    return "".join(character if character.isprintable() else "?" for character in text)
