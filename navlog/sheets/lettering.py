"""Names in any script to the letters that a sheet can print."""

from __future__ import annotations


def plain(text: str, encoding: str = "ascii") -> str:
    """The text in the letters of `encoding`: accents are dropped where they must be, the rest becomes `?`."""
    if text.isascii():
        return text
    from unicodedata import normalize

    shown = []
    for character in text:
        for form in (character, normalize("NFKD", character)):
            kept = form.encode(encoding, "ignore").decode(encoding)
            if kept and kept.isprintable():
                shown.append(kept)
                break
        else:
            shown.append("?")
    return "".join(shown)
