"""What a route file says: words, statements and flights, each with its place in the file."""

from __future__ import annotations

from collections.abc import Hashable
from datetime import date
from typing import TypeAlias

from msgspec import Struct

from navlog.nav.chart import Airport, Station
from navlog.nav.problems import Problem, Span
from navlog.nav.units import Amount
from navlog.request.records import (
    Acceptance,
    AirwayDefinition,
    AlternateRequest,
    DirectDefinition,
    Equipment,
    FileReference,
    FixDefinition,
    HoldRequest,
    Level,
    Name,
    RadioFrequency,
    RouteWord,
    WindStatement,
)


class Word(Struct, frozen=True):
    """One word of a line; `text` is without its quotes, `span` is with them."""

    text: str
    span: Span
    quoted: bool = False


class ClockTime(Struct, frozen=True):
    """The value of `off`: a time of day in UTC, or in `zone` where the file names one."""

    hour: int
    minute: int
    zone: Name | None = None


class FlightRules(Struct, frozen=True):
    """The value of `rules`: "vfr" or "ifr", and "day" or "night" where it is said."""

    rules: str
    daytime: str | None = None


# Statements whose first word is the name that they define.
DEFINING = frozenset({"station", "airport", "fix", "airway"})
# Statements that one scope may hold more than once.
REPEATABLE = frozenset(
    {
        *("station", "airport", "fix", "airway", "direct", "unavailable"),
        *("wind", "alternate", "hold", "accept", "radio", "note"),
    }
)

Value: TypeAlias = (
    Station
    | Airport
    | FixDefinition
    | AirwayDefinition
    | tuple[DirectDefinition, ...]
    | Name
    | FileReference
    | WindStatement
    | date
    | ClockTime
    | Level
    | FlightRules
    | Equipment
    | Amount
    | float
    | str
    | tuple[RouteWord, ...]
    | AlternateRequest
    | HoldRequest
    | Acceptance
    | RadioFrequency
)


class Statement(Struct, frozen=True):
    """A keyword and what follows it; `span` is the keyword's, `value` None where it could not be read."""

    keyword: str
    words: tuple[Word, ...]
    value: Value | None
    span: Span


class FlightBlock(Struct, frozen=True):
    """A `flight` line with the statements below it, and the problems found there."""

    name: str
    span: Span
    statements: tuple[Statement, ...]
    problems: tuple[Problem, ...] = ()


class Tree(Struct, frozen=True):
    """A whole file: the lines as they stand, the statements before the first flight, and the flights.

    `problems` are those of the common part; a flight keeps its own.
    """

    file: str
    lines: tuple[str, ...]
    common: tuple[Statement, ...]
    flights: tuple[FlightBlock, ...]
    problems: tuple[Problem, ...] = ()

    def all_problems(self) -> tuple[Problem, ...]:
        """Every problem of the file, in the order of its lines."""
        return self.problems + tuple(problem for flight in self.flights for problem in flight.problems)


def scope_keys(statement: Statement) -> tuple[Hashable, ...]:
    """What a scope may hold only once of `statement`: two statements that share a key exclude each other.

    Within a scope that is a problem; between a flight and the common part the flight's own one counts.
    Empty for statements that add up.
    """
    keyword, value = statement.keyword, statement.value
    if value is None and keyword in DEFINING and statement.words:
        return ((keyword, statement.words[0].text),)
    match value:
        case Station() | Airport() | FixDefinition():
            return ((keyword, value.ident),)
        case AirwayDefinition():
            return ((keyword, value.airway.ident),)
        case WindStatement():
            return ((keyword, value.place.text if value.place else None),)
        case HoldRequest():
            return ((keyword, value.point.text),)
        case Acceptance():
            return ((keyword, value.rule, None if value.part is None else value.part.key),)
    if keyword == "direct" and isinstance(value, tuple):
        return tuple(
            (keyword, frozenset((pair.segment.start, pair.segment.end)))
            for pair in value
            if isinstance(pair, DirectDefinition)
        )
    return () if keyword in REPEATABLE else ((keyword,),)
