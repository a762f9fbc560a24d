"""Which flights of a library change between two cycles of published data, and how."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from concurrent.futures import Executor
from functools import partial
from typing import TYPE_CHECKING, TypeAlias

from msgspec import Struct

from navlog.nav.chart import Provenance
from navlog.nav.problems import NavlogError, Problem, Span, printable
from navlog.nav.problems import in_order as problems_in_order
from navlog.request.records import BrokenFlight, FlightPlans, Request
from navlog.request.typed import NO_OVERRIDES, Overrides
from navlog.rules.answers import with_text
from navlog.studies.batch import (
    FILES_A_TASK,
    WINDOW,
    RouteSource,
    Row,
    catalogue_here,
    counted,
    groups,
    in_order,
    read_plans,
)
from navlog.studies.cycles import Change

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue


class Cycles(Struct, frozen=True):
    """Two catalogues by path, and what stands in every flight's place; can be sent to another process."""

    old: str
    new: str
    overrides: Overrides = NO_OVERRIDES


class _Comparison(Struct, frozen=True):
    """What changes on one flight; `flight` is None where a file's common part stops it whole.

    `problems` are those of a flight that cannot be flown on the new cycle. `status` is changed, unchanged or
    problem; a flight that only the old cycle refuses has a change of kind `problem`. `old` and `new` are the
    editions that speak on the flight's day in each catalogue, empty where the flight could not be read; the same
    ones on both sides are a problem, beside which the changes are told all the same.
    """

    flight: str | None
    file: str
    line: int
    changes: tuple[Change, ...] = ()
    problems: tuple[Problem, ...] = ()
    old: tuple[Provenance, ...] = ()
    new: tuple[Provenance, ...] = ()

    @property
    def status(self) -> str:
        """`changed`, `unchanged` or `problem`."""
        if self.problems:
            return "problem"
        return "changed" if self.changes else "unchanged"


def compare_sources(
    sources: Iterable[RouteSource],
    cycles: Cycles,
    executor: Executor | None = None,
    *,
    window: int = WINDOW,
    files_a_task: int = FILES_A_TASK,
) -> Iterator[tuple[_Comparison, ...]]:
    """What changes on the flights of each source, in the order of the sources; as `check_sources` works."""
    tasks = groups(sources, files_a_task)
    work = partial(_compare_group, cycles=cycles)
    found = map(work, tasks) if executor is None else in_order(executor, work, tasks, window)
    for compared in found:
        yield from compared


def _compare_group(sources: tuple[RouteSource, ...], cycles: Cycles) -> tuple[tuple[_Comparison, ...], ...]:
    """What changes on the flights of each source, worked in this thread."""
    old, new = catalogue_here(cycles.old), catalogue_here(cycles.new)
    return tuple(tuple(_source_comparisons(source, cycles.overrides, old, new)) for source in sources)


def _source_comparisons(
    source: RouteSource, overrides: Overrides, old: Catalogue, new: Catalogue
) -> Iterator[_Comparison]:
    """What changes on each flight of one source."""
    try:
        plans = read_plans(source, overrides)
    except NavlogError as error:
        yield _Comparison(None, source.file, 1, problems=error.problems)
        return
    if plans.problems:
        yield _Comparison(None, source.file, 1, problems=plans.problems)
    for flight in plans.flights:
        yield _compared(flight, plans, old, new)


def _compared(flight: Request | BrokenFlight, plans: FlightPlans, old: Catalogue, new: Catalogue) -> _Comparison:
    """What changes on one flight."""
    if isinstance(flight, BrokenFlight):
        return _Comparison(flight.name, flight.file, flight.line, problems=flight.problems)
    from navlog.resolve.flight import resolve_flight
    from navlog.studies.cycles import changes

    editions = old.sources(flight.day), new.sources(flight.day)
    place = flight.name, flight.file, flight.line
    try:
        now = resolve_flight(flight, new)
    except NavlogError as error:
        problems = problems_in_order(with_text(problem, plans) for problem in error.problems)
        return _Comparison(*place, (), problems, *editions)
    try:
        was = resolve_flight(flight, old)
    except NavlogError as error:
        refused = tuple(Change("problem", flight.name, "the flight", one.message, "fine") for one in error.problems)
        same = _same_cycle(flight, plans, editions, ((), ()))
        return _Comparison(*place, refused, same, *editions)
    same = _same_cycle(flight, plans, editions, (was.sources, now.sources))
    return _Comparison(*place, changes(was, now), same, *editions)


_Sides: TypeAlias = tuple[tuple[Provenance, ...], tuple[Provenance, ...]]
"""Editions of the old catalogue and of the new one."""


def _same_cycle(flight: Request, plans: FlightPlans, editions: _Sides, used: _Sides) -> tuple[Problem, ...]:
    """A problem where both sides answer from the same editions, so that nothing is compared.

    `editions` speak on the flight's day, `used` are those of them that supply something of the flight. An edition
    without a date can be another download, so it alone does not make what is used the same.
    """
    (old, new), (was, now) = editions, used
    dated = any(one.effective is not None for one in now)
    if old != new and not (dated and was == now):
        return ()
    both = editions_text(now if dated and was == now else new)
    problem = Problem(
        "same-cycle",
        f"both catalogues answer for {flight.day} from {both}, so two cycles are not compared",
        flight.spans.get("date") or Span(flight.file, flight.line),
        "give a --date of the new cycle, and with --since a catalogue that holds the old cycle alone",
    )
    return (with_text(problem, plans),)


def editions_text(editions: tuple[Provenance, ...]) -> str:
    """Editions in words, most trusted first."""
    from navlog.catalogue.text import source_text

    return "; ".join(map(source_text, editions)) or "no published data"


CHANGE_COLUMNS = ("file", "line", "flight", "kind", "where", "what", "old", "new")
"""The columns of the comma-separated form of a comparison of cycles."""


def change_lines(comparison: _Comparison) -> Iterator[str]:
    """`FILE:LINE: change: flight: what was, what is [kind]` for each change."""
    place = f"{comparison.file}:{comparison.line}"
    for one in comparison.changes:
        yield printable(f"{place}: change: {comparison.flight}: {one.message} [{one.kind}]")


def change_rows(comparison: _Comparison) -> Iterator[Row]:
    """A row for each change and each problem."""
    place = (comparison.file, comparison.line, comparison.flight)
    for one in comparison.changes:
        yield (*place, one.kind, one.where, one.what, one.old, one.new)
    for problem in comparison.problems:
        yield (*place, "problem", None, problem.code, None, problem.message)


def change_json(comparison: _Comparison) -> str:
    """The changes of one flight as one line of JSON, without a line end."""
    import json

    from navlog.sheets.json_lines import problem_object
    from navlog.sheets.json_values import source_object

    found = {
        "schema": "navlog/since-1",
        "flight": comparison.flight,
        "source": {"file": comparison.file, "line": comparison.line},
        "status": comparison.status,
        "old_catalogue": [source_object(one) for one in comparison.old],
        "new_catalogue": [source_object(one) for one in comparison.new],
        "changes": [
            {"kind": one.kind, "where": one.where, "what": one.what, "old": one.old, "new": one.new}
            for one in comparison.changes
        ],
        "problems": [problem_object(problem) for problem in comparison.problems],
    }
    return json.dumps(found, ensure_ascii=True, allow_nan=False)


def edition_lines(editions: dict[tuple[str, str], int]) -> Iterator[str]:
    """Which editions were compared, a line a pair of them: `2 flights: old FAA NASR, ...; new FAA NASR, ...`."""
    for (old, new), flights in editions.items():
        yield f"{counted(flights, 'flight')}: old {old}"
        yield f"{' ' * len(counted(flights, 'flight'))}  new {new}"


def change_summary(statuses: dict[str, int]) -> str:
    """`214 flights: 209 unchanged, 5 changed`, and the problems where there are any."""
    words = [f"{statuses.get('unchanged', 0)} unchanged", f"{statuses.get('changed', 0)} changed"]
    if statuses.get("problem"):
        words.append(counted(statuses["problem"], "problem"))
    return f"{counted(sum(statuses.values()), 'flight')}: {', '.join(words)}"
