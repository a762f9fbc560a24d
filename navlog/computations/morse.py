"""Identifiers in Morse."""

from __future__ import annotations

from msgspec import Struct

from navlog.computations.answer import Answer
from navlog.nav.radio import morse
from navlog.nav.workings import Step


class Ident(Struct, frozen=True):
    """An identifier and its code."""

    ident: str
    morse: str


def answer(ident: str) -> Answer:
    """The code of one identifier; raises `bad-ident` for anything but capitals and digits."""
    code = morse(ident)
    step = Step("code", "each letter, a space between", " ".join(ident), code, "ITU-R M.1677-1")
    return Answer((Ident(ident, code),), (f"{ident} {code}",), (step,))
