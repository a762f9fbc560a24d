"""Text inside XML."""

from __future__ import annotations

_ENTITIES = (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("'", "&#39;"))


def escaped(text: str) -> str:
    """Text for an element or an attribute of XML or HTML; what neither may hold becomes `?`."""
    shown = "".join(character if _allowed(character) else "?" for character in text)
    for character, entity in _ENTITIES:
        shown = shown.replace(character, entity)
    return shown


def _allowed(character: str) -> bool:
    """Whether XML 1.0 (section 2.2) may hold a character, and it cannot turn the text around it."""
    return character in "\t\n" or character.isprintable()


def element(name: str, text: str) -> str:
    """An element that holds text."""
    return f"<{name}>{escaped(text)}</{name}>"
