"""A library of files against training requirements, in order, in this thread or on an executor."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from navlog.nav.problems import NavlogError, Problem
from navlog.request.records import Request
from navlog.request.references import References
from navlog.request.typed import Overrides
from navlog.resolve.lookup import ChartLookup, NoCatalogue
from navlog.resolve.route import Route
from navlog.studies.batch import Engine, RouteSource, Work, catalogue_here, counted, read_plans
from navlog.studies.requirements import Assessment, assess, known_requirement


class RequirementsAsked(Struct, frozen=True):
    """What is asked of every file; all of it can be sent to another process. `catalogue` is a path, None for none."""

    names: tuple[str, ...]
    overrides: Overrides
    catalogue: str | None
    quote_outside: bool = False


class _FileJudged(Struct, frozen=True):
    """What the flights of one file come to, a requirement each, or the problems that stand in its way."""

    file: str
    assessments: tuple[Assessment, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def status(self) -> str:
        """`pass`, `depends`, `fail` or `problem`, the worst of the requirements."""
        if self.problems:
            return "problem"
        results = {one.result for one in self.assessments}
        return next((result for result in ("fail", "depends") if result in results), "pass")


def judge_sources(
    sources: Iterable[RouteSource], asked: RequirementsAsked, engine: Engine | None = None
) -> Iterator[tuple[_FileJudged, ...]]:
    """The judgement of each source, in the order of the sources; as `check_sources` works.

    Raises `unknown-requirement` for a name that is none.
    """
    for name in asked.names:
        known_requirement(name)
    return (engine or Engine()).each(Work(_judge_group, asked), sources)


def _judge_group(
    sources: tuple[RouteSource, ...], asked: RequirementsAsked, references: References
) -> tuple[tuple[_FileJudged], ...]:
    """The judgement of each source, worked in this thread."""
    catalogue = NoCatalogue() if asked.catalogue is None else catalogue_here(asked.catalogue)
    return tuple((_judged(source, asked, catalogue, references),) for source in sources)


def _judged(
    source: RouteSource, asked: RequirementsAsked, catalogue: ChartLookup, references: References
) -> _FileJudged:
    try:
        routes = _routes_of(source, asked.overrides, catalogue, references)
        return _FileJudged(source.file, tuple(assess(known_requirement(name), routes) for name in asked.names))
    except NavlogError as error:
        return _FileJudged(source.file, problems=error.problems)


def _routes_of(
    source: RouteSource, overrides: Overrides, catalogue: ChartLookup, references: References
) -> tuple[Route, ...]:
    """The routes of a file's flights in order; raises every problem of the file."""
    from navlog.flightlog.planning import planned
    from navlog.resolve.flight import resolve_flight

    plans = read_plans(source, overrides)
    problems = list(plans.problems)
    routes = []
    for flight in plans.flights:
        if not isinstance(flight, Request):
            problems += flight.problems
            continue
        try:
            noticed = flight.notices and planned(flight, references, catalogue)
            routes.append(noticed.route if noticed else resolve_flight(flight, catalogue))
        except NavlogError as error:
            problems += error.problems
    if problems:
        raise NavlogError(*problems)
    return tuple(routes)


def requirement_summary(statuses: dict[str, int]) -> str:
    """`12 files: 8 pass, 1 depends, 3 fail`, and the problems where there are any."""
    words = [f"{statuses.get(status, 0)} {status}" for status in ("pass", "depends", "fail")]
    if statuses.get("problem"):
        words.append(counted(statuses["problem"], "problem"))
    return f"{counted(sum(statuses.values()), 'file')}: {', '.join(words)}"
