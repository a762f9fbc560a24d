"""What has a name in the catalogue, whatever it is, and the airways that join two points."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.catalogue.reception import Neighbour, neighbours
from navlog.nav.chart import Airport, Airway, Fix, Place, Position, Segment, Service, StationKind
from navlog.nav.problems import NavlogError, problem_error

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue

_AROUND_NM = 40.0
_MOST_AROUND = 6


class AirportFound(Struct, frozen=True):
    """An airport and the VORs around it, nearest first, with the radial on which it lies from each."""

    airport: Airport
    stations: tuple[Neighbour, ...]


class FixFound(Struct, frozen=True):
    """A fix and the airways through it."""

    fix: Fix
    airways: tuple[str, ...]


class Joining(Struct, frozen=True):
    """An airway from one point to another, in the direction of flight, with the segments between.

    `mea_ft` is the highest MEA on the way and `mea_at` the segment that asks for it; `distance_nm` and `mea_ft` are
    None where one segment has none. `service` is that of the worst segment.
    """

    airway: Airway
    segments: tuple[Segment, ...]
    distance_nm: float | None
    mea_ft: float | None
    mea_at: Segment | None
    service: Service


def airports_named(catalogue: Catalogue, ident: str, day: date) -> tuple[AirportFound, ...]:
    """Every airport of that identifier. Raises an `unknown-ident` problem where there is none."""
    found = catalogue.airports(ident, day)
    if not found:
        raise _nothing(catalogue, ident, day, "airport", Airport)
    return tuple(AirportFound(one, _stations_around(catalogue, one, day)) for one in found)


def _stations_around(catalogue: Catalogue, airport: Airport, day: date) -> tuple[Neighbour, ...]:
    around = catalogue.nearby(airport.position, _AROUND_NM, day, (StationKind.VOR,))
    return neighbours(around, airport.position, None)[:_MOST_AROUND]


def fixes_named(catalogue: Catalogue, ident: str, day: date) -> tuple[FixFound, ...]:
    """Every fix of that identifier. Raises an `unknown-ident` problem where there is none."""
    found = catalogue.fixes(ident, day)
    if not found:
        raise _nothing(catalogue, ident, day, "fix", Fix)
    # Airways know their points by name alone, so of several fixes of one name none has its own list.
    airways = catalogue.airways_joining(ident, ident, day) if len(found) == 1 else ()
    return tuple(FixFound(one, airways) for one in found)


def place_at(catalogue: Catalogue, ident: str, day: date) -> tuple[str, Position]:
    """What an identifier names, in words, and where it is: of several kinds a VOR before an airport before the rest.

    Raises `unknown-ident`, and `ambiguous-name` where two of the chosen kind stand apart.
    """
    stations = catalogue.stations(ident, day)
    vors = tuple(one for one in stations if one.kind is StationKind.VOR)
    others = tuple(one for one in stations if one.kind is not StationKind.VOR)
    chosen: tuple[Place, ...] = next(
        filter(None, (vors, catalogue.airports(ident, day), catalogue.fixes(ident, day), others)), ()
    )
    placed = {one.position: one for one in chosen if one.position is not None}
    if not placed:
        raise _nothing(catalogue, ident, day, "place", object)
    if len(placed) > 1:
        told = "; ".join(" ".join(filter(None, (one.ident, one.name, one.region))) for one in placed.values())
        hint = f"give its position instead: {told}"
        raise problem_error("ambiguous-name", f"`{ident}` is {len(placed)} places", hint=hint)
    ((position, place),) = placed.items()
    return place.name or place.ident, position


def joining(catalogue: Catalogue, first: str, second: str, day: date) -> tuple[Joining, ...]:
    """The airways that join two points, as flown from the first to the second.

    Raises `unknown-ident` where one of the points has no name in the catalogue.
    """
    for ident in (first, second):
        if not (catalogue.stations(ident, day) or catalogue.fixes(ident, day) or catalogue.airports(ident, day)):
            raise _nothing(catalogue, ident, day, "point", object)
    return tuple(
        _between(airway, first, second)
        for ident in catalogue.airways_joining(first, second, day)
        for airway in catalogue.airways(ident, day)
        if first in airway.points and second in airway.points and first != second
    )


def _between(airway: Airway, first: str, second: str) -> Joining:
    if airway.points.index(first) > airway.points.index(second):
        airway = airway.reversed()
    segments = airway.segments[airway.points.index(first) : airway.points.index(second)]
    lengths = [one.distance_nm for one in segments]
    known = [(one.mea.forward_ft, index) for index, one in enumerate(segments) if one.mea.forward_ft is not None]
    # Of equal ones the first that is met.
    highest_ft, index = max(known, key=lambda one: (one[0], -one[1]), default=(None, 0))
    order = tuple(Service)
    return Joining(
        airway,
        segments,
        None if None in lengths else sum(one for one in lengths if one is not None),
        highest_ft if len(known) == len(segments) else None,
        segments[index] if len(known) == len(segments) else None,
        max((one.service for one in segments), key=order.index),
    )


def completions(catalogue: Catalogue, beginning: str, day: date, tables: tuple[str, ...]) -> Iterator[str]:
    """Identifiers that begin so, for a shell to choose among; at most 200."""
    from navlog.catalogue.opened import numbers

    found: set[str] = set()
    for table in tables:
        editions = catalogue.in_force(table, day)
        if not editions:
            continue
        rows = catalogue.query(
            f"SELECT DISTINCT ident FROM {table} WHERE ident >= ? AND ident < ? "
            f"AND edition IN ({numbers(editions)}) ORDER BY ident LIMIT 200",
            (beginning, beginning + "~"),
        )
        found.update(row[0] for row in rows)
    yield from sorted(found)[:200]


def _nothing(catalogue: Catalogue, ident: str, day: date, what: str, kind: type) -> NavlogError:
    """A problem for a name that is none of that kind, with what has it instead, or with names like it."""
    others = [
        told
        for told, found in (
            ("a station: `navlog catalogue station`", catalogue.stations(ident, day)),
            ("an airport: `navlog catalogue airport`", catalogue.airports(ident, day)),
            ("a fix: `navlog catalogue fix`", catalogue.fixes(ident, day)),
            ("an airway: `navlog catalogue airway`", catalogue.airways(ident, day)),
        )
        if found
    ]
    if others:
        hint = f"`{ident}` is {' and '.join(others)}"
    else:
        close = [one.ident for one in catalogue.similar(ident, day, None) if isinstance(one, kind)]
        hint = f"did you mean {', '.join(dict.fromkeys(close))}?" if close else "see `navlog catalogue info`"
    return problem_error("unknown-ident", f"no {what} is called `{ident}`", hint=hint)
