"""Changeover points in words, for rules and sheets alike: as published where they are, else as computed."""

from __future__ import annotations

from navlog.nav import figures
from navlog.resolve.route import Changeover, ChangeoverKind

NOT_IN_SOURCE = "not in this source"
"""Of a changeover point that is convention alone: what the airway is read from carries none."""


def _published(changeover: Changeover) -> tuple[float, str] | None:
    """The published distance and its station: that from the station behind, else another; None where none is."""
    if changeover.kind is not ChangeoverKind.PUBLISHED or not changeover.stated:
        return None
    # The chart may give it from both sides; a pilot counts from the station he leaves.
    from_behind = (one for one in changeover.stated if one[1] == changeover.behind.ident)
    return next(from_behind, changeover.stated[0])


def far_text(changeover: Changeover) -> str:
    """How far it lies from the station behind, as published where that is the station: `46` or `46.4`, in NM."""
    known = _published(changeover)
    if known is not None and known[1] == changeover.behind.ident:
        return f"{known[0]:g}"
    return figures.distance(changeover.distance_nm)


def place_text(changeover: Changeover) -> str:
    """Where it lies, what is published first: `46 NM from DUG`.

    `60 NM from EED as published, 42.5 NM from GFS by the way flown`: a published figure is whole, and need not add up.
    """
    known = _published(changeover)
    behind = f"{far_text(changeover)} NM from {changeover.behind.ident}"
    if known is None or known[1] == changeover.behind.ident:
        return behind
    return f"{known[0]:g} NM from {known[1]} as published, {behind} by the way flown"


def kind_text(changeover: Changeover) -> str:
    """How it was found; that it is convention alone where the source of the airway carries none."""
    return f"{changeover.kind.value}, {NOT_IN_SOURCE}" if changeover.not_in_source else changeover.kind.value
