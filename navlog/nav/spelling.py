"""Suggestions for misspelt words."""

from __future__ import annotations

from collections.abc import Iterable


def suggestion(word: str, known: Iterable[str]) -> str | None:
    """The one of `known` that `word` was most likely meant to be, None when none is near.

    Differences of case alone come first, then letters in another order.
    """
    candidates = tuple(known)
    lowered = {candidate.lower(): candidate for candidate in candidates}
    if word.lower() in lowered:
        return lowered[word.lower()]
    letters = sorted(word.lower())
    for candidate in candidates:
        if sorted(candidate.lower()) == letters:
            return candidate
    if not candidates or not word or len(word) > 50:
        return None
    close = alike(word.lower(), lowered, most=1)
    return lowered[close[0]] if close else None


def alike(word: str, known: Iterable[str], *, most: int, likeness: float = 0.6) -> list[str]:
    """The `most` of `known` that are spelt most like `word`, the likest first.

    `likeness` is the least share of letters in common, 0 to 1, as `difflib` counts it.
    """
    from difflib import get_close_matches

    return get_close_matches(word, list(known), most, likeness)
