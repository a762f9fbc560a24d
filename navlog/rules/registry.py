"""What a rule is, what a finding is, and how a rule is made from a function."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from navlog.flightlog.records import Leg, Log
from navlog.problems import Span


class Severity(StrEnum):
    """How grave a finding is."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


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


Check: TypeAlias = Callable[[Log], Iterator[Found]]


@dataclass(frozen=True, slots=True)
class Rule:
    """One check. `passing` and `failing` are route files that tests run; `remedy` says what to do.

    A rule that is not `acceptable` is never silenced: the numbers are unknown or cannot be flown.
    """

    ident: str
    severity: Severity
    title: str
    source: str
    remedy: str
    check: Check
    passing: str
    failing: str
    acceptable: bool = True


def rule(
    ident: str,
    severity: Severity,
    *,
    source: str,
    remedy: str,
    passing: str,
    failing: str,
    acceptable: bool = True,
) -> Callable[[Check], Rule]:
    """Make a rule of the function below; its docstring's first line is the rule's title."""

    def make(check: Check) -> Rule:
        title = (check.__doc__ or ident).splitlines()[0].rstrip(".")
        return Rule(ident, severity, title, source, remedy, check, passing, failing, acceptable)

    return make
