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
    from difflib import get_close_matches

    close = get_close_matches(word.lower(), lowered, n=1, cutoff=0.6)
    return lowered[close[0]] if close else None
