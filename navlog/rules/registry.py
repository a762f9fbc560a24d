"""What a rule is, what a finding is, and how a rule is made from a function."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Protocol, TypeAlias

from navlog.chart import Station
from navlog.flightlog.records import Leg, Log
from navlog.guidance import Guidance
from navlog.problems import Span
from navlog.request import Request


class Severity(StrEnum):
    """How grave a finding is."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Thresholds:
    """Limits that a user may set: by how many degrees a charted radial may disagree with the positions.

    Common practice, no source: legal courses for one line differ by 9 degrees (Kirksville to LOAMY).
    """

    radial_warning_deg: float = 3.0
    radial_error_deg: float = 6.0


DEFAULT_THRESHOLDS = Thresholds()


class Neighbours(Protocol):
    """What the rules ask of published data about stations that the flight does not use."""

    def stations_on(self, frequency_mhz: float, day: date) -> tuple[Station, ...]:
        """Every station on a frequency."""


@dataclass(frozen=True, slots=True)
class Case:
    """What a rule looks at: a log, the limits, and published data where there is any.

    `legs` are the log's; `first_legs` are those that begin a stretch, `bound` those on which minimum altitudes
    bind, each with the lowest height at which they do, and `exposed` those whose signal no MEA or MOCA
    assures. `guided` are the radials used, each once in a stretch, with the first leg flown on it, and
    `stations` the stations, each once.
    """

    log: Log
    legs: tuple[Leg, ...]
    first_legs: tuple[Leg, ...]
    bound: tuple[tuple[Leg, float], ...]
    exposed: tuple[tuple[Leg, Guidance], ...]
    guided: tuple[tuple[Leg, Guidance], ...]
    stations: tuple[tuple[Station, Leg], ...]
    request: Request
    thresholds: Thresholds = DEFAULT_THRESHOLDS
    neighbours: Neighbours | None = None

    @property
    def by_rules(self) -> Severity:
        """An error where the flight is under instrument flight rules, a warning under visual ones."""
        return Severity.ERROR if self.request.rules == "ifr" else Severity.WARNING


@dataclass(frozen=True, slots=True)
class Found:
    """What a rule's function yields; the leg is None for the whole flight.

    `severity` is given where it differs from the rule's own, `span` where the leg's place is not meant.
    """

    message: str
    leg: Leg | None = None
    severity: Severity | None = None
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """A number is computed and the flight is unwise or worth a look.

    `accepted` is the reason with which the flight accepts it, None where it does not.
    """

    rule: str
    severity: Severity
    message: str
    leg: int | None
    span: Span
    source: str
    accepted: str | None = None


Check: TypeAlias = Callable[[Case], Iterator[Found]]


@dataclass(frozen=True, slots=True)
class Rule:
    """One check. `passing` and `failing` are route files that tests run; `remedy` says what to do.

    `at_times` are severities besides the usual one; `more` says when.

    `title` says what is wrong, `more` what else the rule's function says of itself. A rule that is not
    `acceptable` is never silenced: the numbers are unknown or cannot be flown.
    """

    ident: str
    severity: Severity
    title: str
    more: str
    source: str
    remedy: str
    check: Check
    passing: str
    failing: str
    acceptable: bool = True
    at_times: tuple[Severity, ...] = ()


def rule(
    ident: str,
    severity: Severity,
    *,
    source: str,
    remedy: str,
    passing: str,
    failing: str,
    acceptable: bool = True,
    at_times: tuple[Severity, ...] = (),
) -> Callable[[Check], Rule]:
    """Make a rule of the function below; its docstring's first line is the rule's title."""

    def make(check: Check) -> Rule:
        title, _, more = (check.__doc__ or ident).partition("\n")
        words = " ".join(more.split())
        title = title.rstrip(".")
        return Rule(ident, severity, title, words, source, remedy, check, passing, failing, acceptable, at_times)

    return make
