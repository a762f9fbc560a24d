"""Names in any script to the letters that a sheet can print."""

from __future__ import annotations


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
