"""What the questions in other modules need of an opened catalogue; `queries.Catalogue` is one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from pathlib import Path
    from sqlite3 import Connection, Row

    from navlog.catalogue.editions import Edition
    from navlog.catalogue.records import Published
    from navlog.nav.chart import Airport, Fix, Place, Position, Provenance, Station

_MOST_NAMES = 400


class Opened(Protocol):
    """Rows as published, of the editions in force on a day, and the records made of them."""

    connection: Connection
    path: Path

    @property
    def tables(self) -> frozenset[str]:
        """The names of the file's tables."""

    def in_force(self, kind: str, day: date) -> tuple[Edition, ...]:
        """The editions that tell rows of `kind` on `day`, most trusted first."""

    def query(self, sql: str, parameters: Sequence[object] = ()) -> list[Row]:
        """Rows of a query."""

    def rows(
        self, table: str, column: str, names: Sequence[str], day: date, order: str = "rowid", *, kind: str = ""
    ) -> list[Row]:
        """Rows of `table` with one of `names` in `column`, of the editions in force, most trusted first."""

    def provenance(self, edition: int, kind: str) -> Provenance:
        """Where the rows of an edition come from."""

    def sources(self, day: date) -> tuple[Provenance, ...]:
        """The source and cycle of everything that speaks on `day`, most trusted first."""

    def stations(self, ident: str, day: date) -> tuple[Station, ...]:
        """Every station of that identifier, the most trusted source first."""

    def airports(self, ident: str, day: date) -> tuple[Airport, ...]:
        """Every landing place of that identifier."""

    def published_stations(self, idents: Iterable[str], day: date) -> dict[str, tuple[Published, ...]]:
        """The stations of each identifier, with the keys by which airways know them."""

    def published_fixes(self, idents: Iterable[str], day: date) -> dict[str, tuple[Fix, ...]]:
        """The fixes of each name."""

    def nearby(self, position: Position, radius_nm: float, day: date, kinds: Iterable[str]) -> tuple[Place, ...]:
        """Places of those kinds within `radius_nm`, nearest first."""


def at_once(names: Iterable[str]) -> Iterator[tuple[str, list[str]]]:
    """Names in lots of which one question may have all, each lot with its marks in SQL."""
    # No published name is empty, and none has letters that the file could not even be asked for.
    possible = [name for name in names if name and name.isascii()]
    for first in range(0, len(possible), _MOST_NAMES):
        some = possible[first : first + _MOST_NAMES]
        yield ", ".join("?" * len(some)), some


def numbers(editions: Iterable[Edition]) -> str:
    """The editions' numbers for an SQL list."""
    return ", ".join(str(edition.number) for edition in editions)
