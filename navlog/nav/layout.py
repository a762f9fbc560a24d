"""Laying words into a width in letters that a sheet can print, and cells into columns.

Words are never broken at a hyphen, as in the name of a rule, nor at a space that holds.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from navlog.nav.problems import printable

if TYPE_CHECKING:
    from tabulate import TableFormat

WIDTH = 80
"""The columns of a terminal, within which everything is printed but tables as wide as they need."""

_HELD = "\N{NO-BREAK SPACE}"
"""Between words that stay on one line, as a figure and what it is of; printed as a space."""


def wrapped(text: str, width: int, indent: str = "", *, first: str = "") -> list[str]:
    """A paragraph within a width, later lines indented; what has no space to break at is broken anywhere."""
    # What has plain spaces to break at where it must is cut there, in a tenth of the time that `textwrap` takes.
    lines = []
    if text[-1:].strip() and "\t" not in text and text.splitlines() == [text]:
        lines = _cut_at_spaces(text, width, indent, first)
    if not lines:
        from textwrap import wrap

        lines = wrap(text, width, initial_indent=first, subsequent_indent=indent, break_on_hyphens=False)
    return [loosened(line) for line in lines]


def _cut_at_spaces(text: str, width: int, indent: str, first: str) -> list[str]:
    """The lines of a paragraph as `wrapped` has them; none where a word may be too long for a line."""
    lines = []
    while len(first) + len(text) > width:
        cut = text.rfind(" ", 0, width - len(first) + 1)
        line = text[: max(0, cut)].rstrip(" ")
        if not line or len(first) > len(indent):
            return []
        lines.append(first + line)
        first, text = indent, text[cut:].lstrip(" ")
    return [*lines, first + text]


def broken_before(line: str, width: int) -> list[str]:
    """A line of cells with those that have no room on a line below, at the right edge."""
    cut = line.rfind(" ", 0, width + 1)
    kept, rest = line[:cut].rstrip(), line[cut:].strip()
    return [kept, rest.rjust(width)] if kept else [line]


def held(text: str) -> str:
    """The text with no place to break it between words."""
    return text.replace(" ", _HELD)


def loosened(text: str) -> str:
    """The text with plain spaces."""
    return text.replace(_HELD, " ")


def packed(phrases: Iterable[str], width: int, gap: int = 2) -> list[str]:
    """Phrases on as few lines as they need in their order; one too long for a line is wrapped."""
    lines: list[str] = []
    for phrase in phrases:
        if lines and len(lines[-1]) + gap + len(phrase) <= width:
            lines[-1] += " " * gap + phrase
        else:
            lines.extend(wrapped(phrase, width, "  "))
    return lines


def columns(
    rows: Sequence[Sequence[str]], sides: str, *, heads: int = 0, rule: str = "", indent: str = ""
) -> list[str]:
    """Rows of cells, a line each whatever stands in them, in columns as wide as they need.

    `sides` has a letter a column: `l` for cells set to the left, `r` to the right. The first `heads` rows are
    headings; with a `rule` of `-` a line of it follows them, with one of `|` they and all are a table of Markdown.
    """
    from tabulate import SEPARATING_LINE, tabulate

    # The headings go in as rows: what the library takes for headings it makes wider than they are. A line end
    # in a published name would end the line, so none gets there.
    lines = [[printable(cell) for cell in row] for row in rows]
    if not lines:
        return []
    if rule:
        lines.insert(heads, [SEPARATING_LINE, *[""] * (len(sides) - 1)])
    aligned = ["right" if side == "r" else "left" for side in sides]
    # Every cell is text already, so none is taken for a number and written anew.
    return tabulate(lines, tablefmt=_table(rule, indent), colalign=aligned, disable_numparse=True).split("\n")


def _table(rule: str, indent: str) -> TableFormat:
    from tabulate import DataRow, Line, TableFormat

    if rule == "|":
        row = DataRow("| ", " | ", " |")
        return TableFormat(None, _markdown_rule, None, None, row, row, 0, None)
    row, line = DataRow(indent, "  ", ""), Line(indent, "-", "  ", "") if rule else None
    return TableFormat(None, line, None, None, row, row, 0, None)


def _markdown_rule(widths: Sequence[int], sides: Sequence[str]) -> str:
    """The line under the headings, which says to Markdown which side each column is set to.

    Some dialects ask for three marks even under a narrower column.
    """
    ends = (":" if side == "right" else "-" for side in sides)
    cells = ("-" * max(width - 1, 2) + end for width, end in zip(widths, ends, strict=True))
    return f"| {' | '.join(cells)} |"


def plain(text: str, encoding: str = "ascii") -> str:
    """The text in the letters of `encoding`, one for each: accents are dropped where they must be, the rest is `?`."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_letter(character, encoding) for character in text)


def _letter(character: str, encoding: str) -> str:
    """One character as one letter of `encoding`."""
    from unicodedata import combining, normalize

    parts = normalize("NFKD", character)
    accented = len(parts) > 1 and all(map(combining, parts[1:]))
    for form in (character, parts[0] if accented else "?"):
        kept = form.encode(encoding, "ignore").decode(encoding)
        if kept and kept.isprintable():
            return kept
    return "?"
