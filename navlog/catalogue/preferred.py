"""Published preferred routes between two airports, as the FAA prints them (NASR PFR_BASE)."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.catalogue.damage import reading
from navlog.catalogue.opened import Opened, numbers
from navlog.catalogue.records import text

if TYPE_CHECKING:
    from sqlite3 import Row


class PreferredRoute(Struct, frozen=True):
    """One preferred route, its columns as published, empty where nothing stands there.

    `kind` is the FAA's type: TEC, L (low), H (high), SLD, SHD, HPD or NAR. `altitude` may hold an altitude, a range or
    altitudes by class of aircraft; `route` is what lies between the two airports.
    """

    origin: str
    destination: str
    kind: str
    altitude: str
    aircraft: str
    hours: str
    area: str
    direction: str
    route: str


@reading
def preferred_routes(catalogue: Opened, origin: str, destination: str, day: date) -> tuple[PreferredRoute, ...]:
    """The routes published from one airport to another, each once, by their FAA or ICAO identifiers."""
    editions = catalogue.in_force("preferred_route", day)
    if not editions:
        return ()
    origins, destinations = (_names(catalogue, ident, day) for ident in (origin, destination))
    rows = catalogue.query(
        f"SELECT * FROM preferred_route WHERE origin IN ({_marks(origins)}) "
        f"AND destination IN ({_marks(destinations)}) AND edition IN ({numbers(editions)}) ORDER BY rowid",
        (*origins, *destinations),
    )
    return tuple(dict.fromkeys(_preferred(row) for row in rows))


def _names(catalogue: Opened, ident: str, day: date) -> tuple[str, ...]:
    """Every identifier of the airport that has this one."""
    editions = catalogue.in_force("airport", day)
    rows = (
        catalogue.query(
            f"SELECT ident, icao FROM airport WHERE (ident = ? OR icao = ?) AND edition IN ({numbers(editions)})",
            (ident, ident),
        )
        if editions
        else []
    )
    return tuple(dict.fromkeys([ident, *(name for row in rows for name in (text(row[0]), text(row[1])) if name)]))


def _marks(names: tuple[str, ...]) -> str:
    return ", ".join("?" * len(names))


def _preferred(row: Row) -> PreferredRoute:
    told = (
        text(row[column]) or ""
        for column in ("origin", "destination", "kind", "altitude", "aircraft", "hours", "area", "direction", "route")
    )
    return PreferredRoute(*told)
