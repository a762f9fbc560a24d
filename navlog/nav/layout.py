"""Laying words into a width: never broken at a hyphen, as in the name of a rule, nor at a space that holds."""

from __future__ import annotations

from collections.abc import Iterable

HELD = "\N{NO-BREAK SPACE}"
"""Between words that stay on one line, as a figure and what it is of; printed as a space."""


def wrapped(text: str, width: int, indent: str = "", *, first: str = "") -> list[str]:
    """A paragraph within a width, later lines indented; what has no space to break at is broken anywhere."""
    from textwrap import wrap

    lines = wrap(text, width, initial_indent=first, subsequent_indent=indent, break_on_hyphens=False)
    return [loosened(line) for line in lines]


def held(text: str) -> str:
    """The text with no place to break it between words."""
    return text.replace(" ", HELD)


def loosened(text: str) -> str:
    """The text with plain spaces."""
    return text.replace(HELD, " ")


def packed(phrases: Iterable[str], width: int, gap: int = 2) -> list[str]:
    """Phrases on as few lines as they need in their order; one too long for a line is wrapped."""
    lines: list[str] = []
    for phrase in phrases:
        if lines and len(lines[-1]) + gap + len(phrase) <= width:
            lines[-1] += " " * gap + phrase
        else:
            lines.extend(wrapped(phrase, width, "  "))
    return lines
