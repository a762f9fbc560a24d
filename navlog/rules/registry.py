"""What a rule is, what a finding is, and how a rule is made from a function."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date, datetime
from enum import IntEnum, StrEnum
from typing import Any, Literal, Protocol, TypeAlias, TypeVar

from msgspec import Struct, field

from navlog.flightlog.counted import Count, counts, elapsed_min, leaving
from navlog.flightlog.fuel import after
from navlog.flightlog.records import Leg, Log, Passage
from navlog.nav.chart import Position, Station
from navlog.nav.guidance import Guidance
from navlog.nav.problems import Span
from navlog.nav.record import changed
from navlog.request.records import Acceptance, Request
from navlog.resolve.route import Changeover


class Severity(StrEnum):
    """How grave a finding is."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


_GRAVEST_FIRST = tuple(Severity)


class Group(IntEnum):
    """What a rule is about, in the order of what kills first; findings of one severity are told in it."""

    FLYING = 0
    """Wind that cannot be flown, and fuel."""
    HEIGHT = 1
    """Height over terrain, and minimums."""
    GUIDANCE = 2
    """What the needle tells: reception, unusable parts, radials that are wrong."""
    REST = 3
    DATA = 4
    """The age and the source of the data."""


Subject: TypeAlias = Literal[
    "acceptance",
    "aircraft",
    "alternate",
    "bulletin",
    "changeover",
    "difference",
    "fix of the file",
    "fuel stop",
    "height",
    "hold",
    "ifr",
    "notice",
    "place stated",
    "receiver",
    "reserve stated",
    "temperature",
    "temperature stated",
    "terrain",
    "unguided",
    "unplaced",
    "variation stated",
    "wind at a place",
]
"""What not every flight has; a rule of one is asked of no other flight."""


class Thresholds(Struct, frozen=True):
    """Limits that a user may set: by how many degrees a charted radial may disagree with the positions.

    Common practice, no source: legal courses for one line differ by 9 degrees (Kirksville to LOAMY).
    """

    radial_warning_deg: float = 3.0
    radial_error_deg: float = 6.0


DEFAULT_THRESHOLDS = Thresholds()


class Neighbours(Protocol):
    """What the rules ask of published data about stations that the flight does not use."""

    def stations_on(self, frequency_mhz: float, near: Position, radius_nm: float, day: date) -> tuple[Station, ...]:
        """Every station on a frequency within `radius_nm` of a place, and perhaps some farther off."""


class Case(Struct, frozen=True, eq=False):
    """What a rule looks at: the log of a route or of a way to an alternate, the limits, and published data.

    `legs` are the log's; `first_legs` are those that begin a stretch, `bound` those on which minimum altitudes
    bind, each with the lowest height at which they do, and `exposed` those whose signal no MEA or MOCA
    assures. `guided` are the radials used, each once in a stretch, with the first leg flown on it, and
    `stations` the stations, each once. `changeovers` are the legs that end at one, `marked` those on the way whose
    end something tells, `unguided` those without a station in use, and `ground_ft` is the lowest elevation known along
    the flight, 0 without one. `begun` is where the route passes the point at which the way to an alternate begins, each
    passage; of the route itself it is empty. `unused` are the flight's own acceptances that no finding of the other
    rules needed, known once those have run.

    `facts` are what several rules ask and is found once (`once_a_case`).
    """

    log: Log
    legs: tuple[Leg, ...]
    first_legs: tuple[Leg, ...]
    bound: tuple[tuple[Leg, float], ...]
    exposed: tuple[tuple[Leg, Guidance], ...]
    guided: tuple[tuple[Leg, Guidance], ...]
    stations: tuple[tuple[Station, Leg], ...]
    changeovers: tuple[tuple[Leg, Changeover], ...]
    marked: tuple[Leg, ...]
    unguided: tuple[Leg, ...]
    ground_ft: float
    request: Request
    thresholds: Thresholds = DEFAULT_THRESHOLDS
    neighbours: Neighbours | None = None
    begun: tuple[Passage, ...] = ()
    unused: tuple[Acceptance, ...] = ()
    facts: dict[Callable[..., Any], tuple[Any, ...]] = field(default_factory=dict)

    def count(self, leg: Leg) -> Count:
        """What is printed of a leg, so that a finding says what its row does."""
        return _counts(self)[leg.number - self.legs[0].number]

    def clock(self, leg: Leg) -> datetime | None:
        """The clock that is printed at a leg's end, None where it is not known."""
        return after(_off(self)[0], _elapsed_min(self)[leg.number - self.legs[0].number])

    @property
    def takes_off(self) -> bool:
        """Whether the way begins on the ground; a diversion in the air does not."""
        return self.log.conditions.entry_ft is None

    @property
    def landings(self) -> tuple[Leg, ...]:
        """The legs that end in a landing: each on the way, and the last one."""
        last = self.legs[-1]
        return tuple([leg for leg in self.legs if leg.lands or leg is last])

    @property
    def arriving(self) -> tuple[Leg, ...]:
        """The legs of the route that are flown up to where the way to an alternate begins in the air."""
        return tuple(one.leg for one in self.begun if one.leg is not None and one.airborne)

    @property
    def by_rules(self) -> Severity:
        """An error where the flight is under instrument flight rules, a warning under visual ones."""
        return Severity.ERROR if self.request.rules == "ifr" else Severity.WARNING


_Fact = TypeVar("_Fact")


def once_a_case(facts: Callable[[Case], Iterable[_Fact]]) -> Callable[[Case], tuple[_Fact, ...]]:
    """A function of a case that several rules ask, whose answer is kept with the case."""

    def gathered(case: Case) -> tuple[_Fact, ...]:
        found = case.facts.get(facts)
        if found is None:
            found = case.facts[facts] = tuple(facts(case))
        return found

    return gathered


@once_a_case
def _off(case: Case) -> tuple[datetime | None]:
    return (leaving(case.log)[0],)


@once_a_case
def _elapsed_min(case: Case) -> tuple[int | None, ...]:
    return elapsed_min(case.log)


@once_a_case
def _counts(case: Case) -> tuple[Count, ...]:
    return counts(case.log)


class Found(Struct, frozen=True):
    """What a rule's function yields; the leg is None for the whole flight.

    `severity` is given where it differs from the rule's own, `span` where the leg's place is not meant. `about`
    names what is told once a flight, as a station used both on the route and on the way to an alternate. `by` is how
    far a number is beyond its limit, which tells the worst of several. `station` is the one that the message is of.
    `apart` tells it in a line of its own where its rule's others share one. `also` are further legs that it holds for,
    `joint` says that the message names what is on each.
    """

    message: str
    leg: Leg | None = None
    severity: Severity | None = None
    span: Span | None = None
    about: str | None = None
    by: float = 0.0
    station: str | None = None
    apart: bool = False
    also: tuple[Leg, ...] = ()
    joint: bool = False


class OnAlternate(Struct, frozen=True):
    """Where on the ways to alternates a finding is: which of the flight's, and the leg there.

    `number` counts the alternates from 1, `name` tells this one from the others; `leg` is None for the whole way.
    """

    number: int
    name: str
    leg: int | None


class Finding(Struct, frozen=True):
    """A number is computed and the flight is unwise or worth a look.

    `leg` is a leg of the route, None for the whole flight and on the way to an alternate, which `alternate`
    tells. `accepted` is the reason with which the flight accepts it, None where it does not. `group` is its rule's,
    `by` how far a number is beyond its limit, `station` the one it is of where it is of a single one. One `apart` has
    a line of its own, others share that of their rule. `also` are the numbers of further legs of the same way that it
    holds for, and where it is `joint` the message names what is on each.
    """

    rule: str
    severity: Severity
    message: str
    leg: int | None
    span: Span
    source: str
    accepted: str | None = None
    alternate: OnAlternate | None = None
    group: Group = Group.REST
    by: float = 0.0
    station: str | None = None
    apart: bool = False
    also: tuple[int, ...] = ()
    joint: bool = False

    @property
    def rank(self) -> tuple[int, ...]:
        """Where it is told: what is not accepted first, then by severity and by what kills first."""
        return int(self.accepted is not None), _GRAVEST_FIRST.index(self.severity), self.group

    @property
    def number(self) -> int | None:
        """The leg of the route, or of the way to the alternate; None for the whole of it."""
        return self.leg if self.alternate is None else self.alternate.leg

    @property
    def told(self) -> str:
        """The message, with the way before it on the way to an alternate: what stands where no leg of one can."""
        return self.message if self.alternate is None else f"{self.where}: {self.message}"

    @property
    def where(self) -> str:
        """Where it is, in words: `leg 3`, `alternate XOLD leg 1`; empty for the whole flight."""
        way = f"alternate {self.alternate.name}" if self.alternate is not None else ""
        return f"{way} leg {self.number}".strip() if self.number is not None else way


_Check: TypeAlias = Callable[[Case], Iterator[Found]]


class Rule(Struct, frozen=True):
    """One check. `passing` and `failing` are route files that tests run; `remedy` says what to do.

    `at_times` are severities besides the usual one; `more` says when. A rule of the `whole_flight` looks at it
    once, any other at the route and at the way to each alternate.

    A rule that is not `acceptable` is never silenced: the numbers are unknown or cannot be flown. Findings of the
    severities `apart` have a line each, where others share that of their rule. It is asked only where the flight, or
    the way to an alternate, has its `subject`.
    """

    ident: str
    severity: Severity
    source: str
    remedy: str
    check: _Check
    passing: str
    failing: str
    acceptable: bool = True
    at_times: tuple[Severity, ...] = ()
    whole_flight: bool = False
    group: Group = Group.REST
    apart: tuple[Severity, ...] = ()
    subject: Subject | None = None

    @property
    def title(self) -> str:
        """The first line of what its function says of itself."""
        return (self.check.__doc__ or self.ident).partition("\n")[0].removesuffix(".")

    @property
    def more(self) -> str:
        """The rest of it, in one line."""
        return " ".join((self.check.__doc__ or "").partition("\n")[2].split())


def rule(  # noqa: PLR0913 - a rule says all of this of itself
    ident: str,
    severity: Severity,
    *,
    group: Group,
    source: str,
    remedy: str,
    passing: str,
    failing: str,
    acceptable: bool = True,
    at_times: tuple[Severity, ...] = (),
    apart: tuple[Severity, ...] = (),
    subject: Subject | None = None,
) -> Callable[[_Check], Rule]:
    """Make a rule of the function below; its docstring's first line is the rule's title.

    It runs over the route and over the way to each alternate; see `once_a_flight`.
    """

    def make(check: _Check) -> Rule:
        return Rule(
            ident,
            severity,
            source,
            remedy,
            check,
            passing,
            failing,
            acceptable,
            at_times,
            group=group,
            apart=apart,
            subject=subject,
        )

    return make


def once_a_flight(one: Rule) -> Rule:
    """The rule as one whose subject is the whole flight: it is not told again on the way to an alternate."""
    return changed(one, whole_flight=True)
