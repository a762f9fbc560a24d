"""Laying words into a width."""

from __future__ import annotations

from collections.abc import Iterable


def wrapped(text: str, width: int, indent: str = "") -> list[str]:
    """A paragraph within a width, later lines indented; what has no space to break at is broken anywhere."""
    from textwrap import wrap

    return wrap(text, width, subsequent_indent=indent)


def packed(phrases: Iterable[str], width: int, gap: int = 2) -> list[str]:
    """Phrases on as few lines as they need in their order; one too long for a line is wrapped."""
    lines: list[str] = []
    for phrase in phrases:
        if lines and len(lines[-1]) + gap + len(phrase) <= width:
            lines[-1] += " " * gap + phrase
        else:
            lines.extend(wrapped(phrase, width, "  "))
    return lines
