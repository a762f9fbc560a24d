"""The editions that a catalogue holds, and which of them speak on a day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from navlog.nav.chart import Provenance, Source


class Holding(NamedTuple):
    """Rows of one kind, from one file of an edition."""

    kind: str
    file: str
    rows: int
    rejected: int


class Edition(NamedTuple):
    """One source's data of one cycle: where it is from, and what it holds."""

    number: int
    provenance: Provenance
    holdings: tuple[Holding, ...] = ()

    def holds(self, kind: str) -> bool:
        """True where this edition has rows of that kind."""
        return any(holding.kind == kind for holding in self.holdings)


def in_force(editions: Sequence[Edition], kind: str, day: date) -> tuple[Edition, ...]:
    """One edition of each source that holds `kind`, the most trusted first.

    It is the one effective on `day`, else the nearest earlier one, else the earliest later one; an
    edition without a date always counts as earlier.
    """
    chosen = []
    for source in Source:
        own = [edition for edition in editions if edition.provenance.source is source and edition.holds(kind)]
        begun = [edition for edition in own if _begins(edition) <= day]
        if begun:
            # An expired cycle is nearer to the day than a later one, which may hold what was not there yet.
            chosen.append(max(begun, key=_begins))
        elif own:
            chosen.append(min(own, key=_begins))
    return tuple(chosen)


def _begins(edition: Edition) -> date:
    return edition.provenance.effective or date.min
