"""Which flights of a library change between two cycles of published data, and how."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import TYPE_CHECKING, TypeAlias

from msgspec import Struct

from navlog.nav.chart import Provenance
from navlog.nav.problems import NavlogError, Problem, Span, printable, problem_error
from navlog.nav.problems import in_order as problems_in_order
from navlog.nav.record import changed
from navlog.request.records import BrokenFlight, FlightPlans, Request
from navlog.request.references import References
from navlog.request.typed import NO_OVERRIDES, Overrides
from navlog.resolve.route import Route
from navlog.rules.answers import with_text
from navlog.studies.batch import Engine, RouteSource, Row, Work, catalogue_here, counted, read_plans
from navlog.studies.cycles import Change

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue


class Cycles(Struct, frozen=True):
    """Two catalogues by path, and what stands in every flight's place; can be sent to another process.

    `old_begins` is the first day of the old cycle where both cycles are in one catalogue. A flight without a date of
    the command line is moved by whole cycles into the days of the newest cycle of `new`.
    """

    old: str
    new: str
    overrides: Overrides = NO_OVERRIDES
    old_begins: date | None = None
    quote_outside: bool = False


class _Comparison(Struct, frozen=True):
    """What changes on one flight; `flight` is None where a file's common part stops it whole.

    `problems` are those of a flight that cannot be flown on the new cycle. `status` is changed, unchanged or
    problem; a flight that only the old cycle refuses has a change of kind `problem`. `old` and `new` are the
    editions that speak on the flight's day in each catalogue, empty where the flight could not be read; the same
    ones on both sides are a problem, beside which the changes are told all the same. `old_day` and `new_day` are the
    days on which it is flown there; `flown` are the pieces of airways that it flies on the old cycle.
    """

    flight: str | None
    file: str
    line: int
    changes: tuple[Change, ...] = ()
    problems: tuple[Problem, ...] = ()
    old: tuple[Provenance, ...] = ()
    new: tuple[Provenance, ...] = ()
    old_day: date | None = None
    new_day: date | None = None
    flown: tuple[tuple[str, str, str], ...] = ()

    @property
    def status(self) -> str:
        """`changed`, `unchanged` or `problem`."""
        if self.problems:
            return "problem"
        return "changed" if self.changes else "unchanged"


def compare_sources(
    sources: Iterable[RouteSource], cycles: Cycles, engine: Engine | None = None
) -> Iterator[tuple[_Comparison, ...]]:
    """What changes on the flights of each source, in the order of the sources; as `check_sources` works."""
    return (engine or Engine()).each(Work(_compare_group, cycles), sources)


def _compare_group(
    sources: tuple[RouteSource, ...], cycles: Cycles, references: References
) -> tuple[tuple[_Comparison, ...], ...]:
    """What changes on the flights of each source, worked in this thread."""
    old, new = catalogue_here(cycles.old), catalogue_here(cycles.new)
    books = (_Plans(source, cycles.overrides, references) for source in sources)
    return tuple(tuple(_source_comparisons(on, cycles, old, new)) for on in books)


def _source_comparisons(on: _Plans, cycles: Cycles, old: Catalogue, new: Catalogue) -> Iterator[_Comparison]:
    """What changes on each flight of one source."""
    source = on.source
    try:
        plans = on.day(None)
    except NavlogError as error:
        yield _Comparison(None, source.file, 1, problems=error.problems)
        return
    if plans.problems:
        yield _Comparison(None, source.file, 1, problems=plans.problems)
    begins = _newest(new) if cycles.overrides.date is None else None
    for number, flight in enumerate(plans.flights):
        if isinstance(flight, BrokenFlight):
            yield _Comparison(flight.name, flight.file, flight.line, problems=flight.problems)
            continue
        new_day = _in_cycle(flight.day, begins)
        old_day = _in_cycle(new_day, cycles.old_begins)
        yield _compared(on, number, (old, old_day), (new, new_day))


class _Plans:
    """The flights of one source as read for a day; the file and what it names are read once a day."""

    def __init__(self, source: RouteSource, overrides: Overrides, references: References) -> None:
        self.source, self._overrides, self.references = source, overrides, references
        self._known: dict[date | None, FlightPlans] = {}

    def day(self, day: date | None) -> FlightPlans:
        """The flights with that day in the place of their own; with their own for None."""
        if day not in self._known:
            overrides = self._overrides if day is None else changed(self._overrides, date=day.isoformat())
            self._known[day] = read_plans(self.source, overrides)
        return self._known[day]

    def flight(self, number: int, day: date) -> Request | BrokenFlight:
        """One of the flights on a day."""
        own = self.day(None).flights[number]
        return own if isinstance(own, BrokenFlight) or own.day == day else self.day(day).flights[number]


_Side: TypeAlias = "tuple[Catalogue, date]"
"""A catalogue and the day on which it is asked."""


def _compared(on: _Plans, number: int, old: _Side, new: _Side) -> _Comparison:
    """What changes on one flight."""
    from navlog.studies.cycles import changes

    plans, flight = on.day(None), on.flight(number, new[1])
    before = on.flight(number, old[1])
    for one in (flight, before):
        if isinstance(one, BrokenFlight):
            return _Comparison(one.name, one.file, one.line, problems=one.problems)
    assert isinstance(flight, Request)
    assert isinstance(before, Request)
    told = _Comparison(
        flight.name, flight.file, flight.line, old=old[0].sources(old[1]), new=new[0].sources(new[1]),
        old_day=old[1], new_day=new[1],
    )  # fmt: skip
    was = _resolved(before, on.references, old[0])
    now = _resolved(flight, on.references, new[0])
    if isinstance(was, Route):
        told = changed(told, flown=tuple(dict.fromkeys(_pieces(was))))
    if not isinstance(now, Route):
        problems = problems_in_order(with_text(problem, plans) for problem in now.problems)
        return changed(told, problems=problems)
    if not isinstance(was, Route):
        refused = tuple(Change("problem", "the flight", "the problem", one.message, "none") for one in was.problems)
        return changed(told, changes=refused, problems=_same_cycle(flight, plans, told, ((), ())))
    same = _same_cycle(flight, plans, told, (was.sources, now.sources))
    return changed(told, changes=changes(was, now), problems=same)


def _resolved(flight: Request, references: References, catalogue: Catalogue) -> Route | NavlogError:
    """The route of a flight, with what the notices that it names change at its hours; or what stands in its way."""
    from navlog.flightlog.planning import planned
    from navlog.resolve.flight import resolve_flight

    try:
        if flight.notices:
            return planned(flight, references, catalogue).route
        return resolve_flight(flight, catalogue)
    except NavlogError as error:
        return error


def _pieces(route: Route) -> Iterator[tuple[str, str, str]]:
    """The pieces of airways that a route and the ways to its alternates fly."""
    for stretch in (*route.stretches, *(one for way in route.alternates for one in way.stretches)):
        if stretch.airway is not None:
            yield stretch.airway.ident, stretch.start.name, stretch.end.name


def days_compared(cycles: Cycles, new: Catalogue) -> tuple[date, date] | None:
    """A day of the old cycle and one of the new: those of the command line's date, else the newest cycle's first."""
    from navlog.request.flight_statements import read_date

    typed = cycles.overrides.date
    day = read_date(typed) if typed is not None else _newest(new)
    return None if day is None else (_in_cycle(day, cycles.old_begins), day)


def _newest(catalogue: Catalogue) -> date | None:
    """The first day of the newest cycle of stations or airways, by the most trusted source that has one."""
    own = [edition for edition in catalogue.editions if edition.holds("airway_point") or edition.holds("station")]
    for source in dict.fromkeys(edition.provenance.source for edition in own):
        days = [one.provenance.effective for one in own if one.provenance.source is source]
        begun = [day for day in days if day is not None]
        if begun:
            return max(begun)
    return None


def _in_cycle(day: date, begins: date | None) -> date:
    """The day moved by whole cycles of 28 days into the cycle that begins on a day; itself without one."""
    return day if begins is None else begins + (day - begins) % timedelta(days=28)


def cycle_held(catalogue: Catalogue, ident: str) -> date:
    """The first day of a cycle that a catalogue holds, by its four digits.

    Raises `bad-cycle`, and `unknown-cycle` where it does not hold it.
    """
    from navlog.nav.airac import effective_date

    effective_date(ident)
    held = [one.provenance for one in catalogue.editions if one.holds("airway_point") or one.holds("station")]
    for one in held:
        if one.cycle == ident and one.effective is not None:
            return one.effective
    cycles = ", ".join(sorted({one.cycle for one in held if one.cycle is not None})) or "none"
    hint = f"a file of that name is `./{ident}`; a cycle is added by `navlog catalogue import PATH`"
    raise problem_error("unknown-cycle", f"the catalogue holds no cycle {ident}: it holds {cycles}", hint=hint)


def refuse_newer(old: Catalogue, new: Catalogue, begins: date | None) -> None:
    """Raises `newer-cycle` where the old side's newest cycle, or the one that `begins` on a day, follows the new's."""
    was, now = begins or _newest(old), _newest(new)
    if was is not None and now is not None and was > now:
        message = f"the side to compare with begins on {was}, after the newest cycle of the catalogue, {now}"
        hint = "give the older one with --since and the newer one with --catalogue"
        raise problem_error("newer-cycle", message, span=Span("--since", 1), hint=hint)


_Sides: TypeAlias = tuple[tuple[Provenance, ...], tuple[Provenance, ...]]
"""Editions of the old catalogue and of the new one."""


def _same_cycle(flight: Request, plans: FlightPlans, told: _Comparison, used: _Sides) -> tuple[Problem, ...]:
    """A problem where both sides answer from the same editions, so that nothing is compared.

    Those of `told` speak on the flight's day, `used` are those of them that supply something of the flight. An
    edition without a date can be another download, so it alone does not make what is used the same.
    """
    old, new, (was, now) = told.old, told.new, used
    dated = any(one.effective is not None for one in now)
    if old != new and not (dated and was == now):
        return ()
    both = editions_text(now if dated and was == now else new)
    problem = Problem(
        "same-cycle",
        f"both sides answer for {flight.day} from {both}, so two cycles are not compared",
        flight.spans.get("date") or Span(flight.file, flight.line),
        "give with --since the older cycle or a catalogue that holds it alone, and a --date, if any, of the newer",
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
        "old_day": comparison.old_day.isoformat() if comparison.old_day is not None else None,
        "new_day": comparison.new_day.isoformat() if comparison.new_day is not None else None,
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
