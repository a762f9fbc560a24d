"""The editions that a catalogue holds, and which of them speak on a day."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from navlog.catalogue.schema import KINDS, damaged
from navlog.nav.airac import of_earlier_cycle
from navlog.nav.chart import Provenance, Source
from navlog.nav.record import changed

if TYPE_CHECKING:
    from pathlib import Path
    from sqlite3 import Row

_TOLD_BY = {"station": ("station", "station_remark"), "fix": ("fix", "makeup"), "airway": ("airway", "airway_point")}
"""The kinds of rows of which a record is made, by its own kind, where they are more than that."""


class Holding(NamedTuple):
    """Rows of one kind, from one file of an edition, and the day from which the file holds where it is dated."""

    kind: str
    file: str
    rows: int
    rejected: int
    effective: date | None = None


class Edition(NamedTuple):
    """One source's data of one cycle: where it is from, and what it holds."""

    number: int
    provenance: Provenance
    holdings: tuple[Holding, ...] = ()

    def holds(self, kind: str) -> bool:
        """True where this edition has rows of that kind."""
        return any(holding.kind == kind for holding in self.holdings)

    def provenance_of(self, kind: str) -> Provenance:
        """Where records of one kind are from: `oldest` is that of the files that tell them, not of any other."""
        told_by = _TOLD_BY.get(kind, (kind,))
        days = [one.effective for one in self.holdings if one.kind in told_by and one.effective is not None]
        newest = self.provenance.effective
        oldest = of_earlier_cycle(min(days), newest) if days and newest is not None else None
        return self.provenance if oldest == self.provenance.oldest else changed(self.provenance, oldest=oldest)


_EDITIONS = """
    SELECT *, (SELECT min(holding.effective) FROM holding WHERE holding.edition = edition.id) AS oldest
    FROM edition ORDER BY effective, id
"""
"""Every edition with the date of its oldest file, where that is known."""


def read_editions(query: Callable[[str], Iterable[Row]], path: Path) -> tuple[Edition, ...]:
    """Every edition of the catalogue at `path`, the most trusted first; raises a problem for a kind that is none."""
    holdings: dict[int, list[Holding]] = {}
    for row in query("SELECT * FROM holding ORDER BY rowid"):
        if row["kind"] not in KINDS:
            raise damaged(path, f"it holds {row['kind']!r}")
        held = Holding(row["kind"], row["file"], row["rows"], row["rejected"], _day(row["effective"]))
        holdings.setdefault(row["edition"], []).append(held)
    found = [Edition(row["id"], _provenance(row), tuple(holdings.get(row["id"], ()))) for row in query(_EDITIONS)]
    order = list(Source)
    return tuple(sorted(found, key=lambda edition: order.index(edition.provenance.source)))


def _provenance(row: Row) -> Provenance:
    """Where an edition's rows come from, by its own row."""
    effective, expires, oldest = (_day(row[name]) for name in ("effective", "expires", "oldest"))
    mixed = of_earlier_cycle(oldest, effective) if oldest and effective else None
    return Provenance(Source(row["source"]), row["cycle"], effective, expires, bool(row["verified"]), mixed)


def _day(told: str | None) -> date | None:
    """The day that a column of dates holds; None where it is empty."""
    return date.fromisoformat(told) if told else None


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
