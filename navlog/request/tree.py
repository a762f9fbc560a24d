"""What a route file says: words, statements and flights, each with its place in the file."""

from __future__ import annotations

from datetime import date
from typing import TypeAlias

from msgspec import Struct

from navlog.nav.accuracy import Accuracy
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
    ReceiverCheck,
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


class AltimeterSetting(Struct, frozen=True):
    """The value of `altimeter`: the setting, and the unit "hPa" or "inHg" in which it is written and told."""

    altimeter_hpa: float
    altimeter_unit: str


class Taxiing(Struct, frozen=True):
    """The value of `taxi`: the fuel for it, the minutes from off-block to wheels off, or both."""

    taxi: Amount | None = None
    taxi_min: float | None = None


Value: TypeAlias = (
    Station
    | Airport
    | FixDefinition
    | AirwayDefinition
    | tuple[DirectDefinition, ...]
    | Name
    | FileReference
    | Accuracy
    | WindStatement
    | date
    | ClockTime
    | Level
    | FlightRules
    | AltimeterSetting
    | Taxiing
    | Equipment
    | Amount
    | float
    | str
    | tuple[RouteWord, ...]
    | AlternateRequest
    | HoldRequest
    | Acceptance
    | RadioFrequency
    | ReceiverCheck
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

    `problems` are those of the common part; a flight keeps its own. One `cut` is not read to its end.
    """

    file: str
    lines: tuple[str, ...]
    common: tuple[Statement, ...]
    flights: tuple[FlightBlock, ...]
    problems: tuple[Problem, ...] = ()
    cut: bool = False

    def all_problems(self) -> tuple[Problem, ...]:
        """Every problem of the file, in the order of its lines."""
        return self.problems + tuple(problem for flight in self.flights for problem in flight.problems)
