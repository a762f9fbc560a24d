"""Laying words into a width, in letters that a sheet can print.

They are never broken at a hyphen, as in the name of a rule, nor at a space that holds.
"""

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


def plain(text: str, encoding: str = "ascii") -> str:
    """The text in the letters of `encoding`, one for each: accents are dropped where they must be, the rest is `?`."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(letter(character, encoding) for character in text)


def letter(character: str, encoding: str) -> str:
    """One character as one letter of `encoding`."""
    from unicodedata import combining, normalize

    parts = normalize("NFKD", character)
    accented = len(parts) > 1 and all(map(combining, parts[1:]))
    for form in (character, parts[0] if accented else "?"):
        kept = form.encode(encoding, "ignore").decode(encoding)
        if kept and kept.isprintable():
            return kept
    return "?"
