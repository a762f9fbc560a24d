"""Identifiers in Morse."""

from __future__ import annotations

from msgspec import Struct

from navlog.computations.answer import Solution
from navlog.nav.radio import morse
from navlog.nav.workings import Working


class IdentCode(Struct, frozen=True):
    """An identifier and its code."""

    ident: str
    morse: str


def answer(ident: str) -> Solution:
    """The code of one identifier; raises `bad-ident` for anything but capitals and digits."""
    code = morse(ident)
    step = Working("code", "each letter, a space between", " ".join(ident), code, "ITU-R M.1677-1")
    return Solution((IdentCode(ident, code),), (f"{ident} {code}",), (step,))
