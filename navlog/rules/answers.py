"""A route file's flights to answers: the report of each, or the problems that stand in its way."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.nav.problems import NavlogError, Problem, in_order
from navlog.nav.record import changed
from navlog.request.flights import read_flights
from navlog.request.places import unwritten
from navlog.request.records import BrokenFlight, FlightPlans, Name, Request
from navlog.request.references import References
from navlog.request.typed import NO_OVERRIDES, Overrides

if TYPE_CHECKING:
    from navlog.resolve.lookup import ChartLookup
    from navlog.rules.registry import Finding, Thresholds
    from navlog.rules.report import Report


class Answer(Struct, frozen=True):
    """What one flight came to; `flight` is None where a file's common part stops it whole."""

    flight: str | None
    file: str
    line: int
    report: Report | None
    problems: tuple[Problem, ...] = ()

    def __repr__(self) -> str:
        if self.report is None:
            codes = ", ".join(dict.fromkeys(problem.code for problem in self.problems))
            return f"<{type(self).__name__} {self.flight or self.file}: problem: {codes}>"
        found = f"{len(self.findings)} finding{'' if len(self.findings) == 1 else 's'}"
        return f"<{type(self).__name__} {self.flight}: {self.status}, {found}>"

    @property
    def status(self) -> str:
        """`ok`, `warning`, `error` or `problem`."""
        return self.report.status if self.report is not None else "problem"

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules found, accepted findings too; none where there are problems."""
        return self.report.findings if self.report is not None else ()


def check_text(
    text: str | bytes,
    file: str = "-",
    *,
    catalogue: ChartLookup | None = None,
    overrides: Overrides = NO_OVERRIDES,
    references: References | None = None,
    thresholds: Thresholds | None = None,
) -> tuple[Answer, ...]:
    """What `navlog check` says of a route file: an answer a flight with its findings or problems, in file order.

    `file` names the text in problems, and the aircraft and bulletin files that it names are read from that file's
    folder. `catalogue` is published data, as `open_catalogue` opens it: points are looked up there, and stations
    that could be mistaken for those in use. Never raises for what a user may have written: a text that cannot be
    read is one answer with its problems.
    """
    try:
        plans = text_plans(text, file, overrides)
    except NavlogError as error:
        return (Answer(None, file, 1, None, error.problems),)
    return tuple(answers(plans, catalogue, references, thresholds=thresholds))


def text_plans(text: str | bytes, file: str, overrides: Overrides = NO_OVERRIDES) -> FlightPlans:
    """The flights of a route file's text or bytes; raises `bad-encoding` and `too-large`."""
    if isinstance(text, str):
        return read_flights(text, file, overrides=overrides)
    from navlog.request.lexer import decode

    return read_flights(decode(text, file), file, overrides=overrides, data=text)


def answers(
    plans: FlightPlans,
    catalogue: ChartLookup | None = None,
    references: References | None = None,
    *,
    thresholds: Thresholds | None = None,
) -> Iterator[Answer]:
    """An answer for each flight of a file in its order; one for the whole file where it could not be read."""
    files = references if references is not None else References()
    if plans.problems:
        yield Answer(None, plans.file, 1, None, plans.problems)
        return
    found = _each(plans, catalogue, files, thresholds)
    unsure = unwritten(plans)
    # A place that no route line writes may lie on an airway: only the routes together tell.
    yield from _with_places(tuple(found), unsure, plans) if unsure else found


def _with_places(found: tuple[Answer, ...], unsure: tuple[Name, ...], plans: FlightPlans) -> Iterator[Answer]:
    """The answers, with a problem in place of each that accepts something at a place which no flight passes."""
    from navlog.rules.acceptance import passed, unknown_place

    known: set[str] = set()
    for one in found:
        known |= passed(one.report.log.route) if one.report is not None else set()
    # What a flight with a problem would pass is not known.
    strange = {name.span for name in unsure if name.ident not in known} if all(one.report for one in found) else set()
    for one in found:
        accepted = one.report.log.route.request.accepted if one.report is not None else ()
        problems = [
            with_text(unknown_place(name, known), plans)
            for acceptance in accepted
            if acceptance.part is not None
            for name in acceptance.part.names
            if name.span in strange
        ]
        yield changed(one, report=None, problems=in_order(problems)) if problems else one


def _each(
    plans: FlightPlans, catalogue: ChartLookup | None, references: References, thresholds: Thresholds | None
) -> Iterator[Answer]:
    """The answer for each flight."""
    judged: Callable[[Request], Report] | None = None
    for flight in plans.flights:
        if isinstance(flight, BrokenFlight):
            yield Answer(flight.name, flight.file, flight.line, None, flight.problems)
        else:
            judged = judged or _judging(catalogue, references, thresholds)
            yield _answer(flight, plans, judged)


def _judging(
    catalogue: ChartLookup | None, references: References, thresholds: Thresholds | None
) -> Callable[[Request], Report]:
    """What makes a flight's report, or raises its problems; what that takes is loaded here, once a file."""
    from navlog.flightlog.planning import planned
    from navlog.rules.report import judge

    return lambda flight: judge(planned(flight, references, catalogue), thresholds=thresholds, neighbours=catalogue)


def _answer(flight: Request, plans: FlightPlans, judged: Callable[[Request], Report]) -> Answer:
    """The answer for one flight that was read; never raises for what a user may have written."""
    try:
        report = judged(flight)
    except NavlogError as error:
        from navlog.resolve.flight import dated

        problems = tuple(with_text(dated(problem, flight), plans) for problem in error.problems)
        return Answer(flight.name, flight.file, flight.line, None, in_order(problems))
    return Answer(flight.name, flight.file, flight.line, report)


def with_text(problem: Problem, plans: FlightPlans) -> Problem:
    """The problem with the user's own line, where it is in the route file."""
    span = problem.span
    if span is None or problem.text is not None or span.file != plans.file or span.line > len(plans.lines):
        return problem
    return problem._replace(text=plans.lines[span.line - 1])


def exit_status(found: Iterable[Answer], *, strict: bool = False) -> int:
    """2 where a flight has a problem, 1 where one has an error (`strict`: a warning), else 0."""
    statuses = {one.status for one in found}
    if "problem" in statuses:
        return 2
    return 1 if "error" in statuses or (strict and "warning" in statuses) else 0
