"""Which flights of a library change between two cycles of published data, and how."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from concurrent.futures import Executor
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from navlog.answers import with_text
from navlog.batch.checking import FILES_A_TASK, WINDOW, Source, read_plans
from navlog.batch.ordered import groups, in_order
from navlog.cycles import Change
from navlog.flights import NO_OVERRIDES, Overrides
from navlog.problems import NavlogError, Problem
from navlog.problems import in_order as problems_in_order
from navlog.request import BrokenFlight, FlightPlans, Request

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue


@dataclass(frozen=True, slots=True)
class Cycles:
    """Two catalogues by path, and what stands in every flight's place; can be sent to another process."""

    old: str
    new: str
    overrides: Overrides = NO_OVERRIDES


@dataclass(frozen=True, slots=True)
class Comparison:
    """What changes on one flight; `flight` is None where a file's common part stops it whole.

    `problems` are those of a flight that cannot be flown on the new cycle. `status` is changed, unchanged or
    problem; a flight that only the old cycle refuses has a change of kind `problem`.
    """

    flight: str | None
    file: str
    line: int
    changes: tuple[Change, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def status(self) -> str:
        """`changed`, `unchanged` or `problem`."""
        if self.problems:
            return "problem"
        return "changed" if self.changes else "unchanged"


def compare_sources(
    sources: Iterable[Source],
    cycles: Cycles,
    executor: Executor | None = None,
    *,
    window: int = WINDOW,
    files_a_task: int = FILES_A_TASK,
) -> Iterator[tuple[Comparison, ...]]:
    """What changes on the flights of each source, in the order of the sources; as `check_sources` works."""
    tasks = groups(sources, files_a_task)
    work = partial(compare_group, cycles=cycles)
    found = map(work, tasks) if executor is None else in_order(executor, work, tasks, window)
    for compared in found:
        yield from compared


def compare_group(sources: tuple[Source, ...], cycles: Cycles) -> tuple[tuple[Comparison, ...], ...]:
    """What changes on the flights of each source, worked in this thread."""
    from navlog.batch.opening import catalogue_here

    old, new = catalogue_here(cycles.old), catalogue_here(cycles.new)
    return tuple(tuple(source_comparisons(source, cycles.overrides, old, new)) for source in sources)


def source_comparisons(source: Source, overrides: Overrides, old: Catalogue, new: Catalogue) -> Iterator[Comparison]:
    """What changes on each flight of one source."""
    try:
        plans = read_plans(source, overrides)
    except NavlogError as error:
        yield Comparison(None, source.file, 1, problems=error.problems)
        return
    if plans.problems:
        yield Comparison(None, source.file, 1, problems=plans.problems)
    for flight in plans.flights:
        yield compared(flight, plans, old, new)


def compared(flight: Request | BrokenFlight, plans: FlightPlans, old: Catalogue, new: Catalogue) -> Comparison:
    """What changes on one flight."""
    if isinstance(flight, BrokenFlight):
        return Comparison(flight.name, flight.file, flight.line, problems=flight.problems)
    from navlog.cycles import changes
    from navlog.resolve import resolve_flight

    try:
        now = resolve_flight(flight, new)
    except NavlogError as error:
        problems = problems_in_order(with_text(problem, plans) for problem in error.problems)
        return Comparison(flight.name, flight.file, flight.line, problems=problems)
    try:
        was = resolve_flight(flight, old)
    except NavlogError as error:
        refused = tuple(Change("problem", flight.name, "the flight", one.message, "fine") for one in error.problems)
        return Comparison(flight.name, flight.file, flight.line, refused)
    return Comparison(flight.name, flight.file, flight.line, changes(was, now))
