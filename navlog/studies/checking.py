"""The check of route files: each flight's findings and problems in a form that is cheap to hand on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from datetime import date
from typing import TYPE_CHECKING

from msgspec import MsgspecError, Struct

from navlog.nav.problems import NavlogError, Problem, Span, printable
from navlog.nav.record import changed
from navlog.printed.findings import by_line, told_together, worst
from navlog.request.places import route_words
from navlog.request.records import BrokenFlight, FlightPlans, Request, RouteWord
from navlog.request.references import References
from navlog.request.typed import NO_OVERRIDES, Overrides
from navlog.rules.answers import Answer, answers
from navlog.rules.registry import DEFAULT_THRESHOLDS, Finding, Thresholds
from navlog.studies.batch import Engine, RouteSource, Row, Work, catalogue_here, counted, read_plans
from navlog.studies.gate import OPEN, Gate, Known, gated, known_of
from navlog.studies.remembered import Cache, packed, recalled, remember, unpacked

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue


class Settings(Struct, frozen=True):
    """How to check; everything here can be sent to another process.

    `catalogue` is the path of the published data, None for none. With `json` each verdict carries its flight
    as a line of JSON. `quote_outside` is as in `References`. `gate` is what counts; with `baseline_in` each verdict has
    what a baseline in that folder would keep of it. `cache` is where verdicts are remembered, if anywhere.
    """

    overrides: Overrides = NO_OVERRIDES
    catalogue: str | None = None
    thresholds: Thresholds = DEFAULT_THRESHOLDS
    json: bool = False
    quote_outside: bool = False
    gate: Gate = OPEN
    baseline_in: str | None = None
    cache: Cache | None = None


class Verdict(Struct, frozen=True):
    """What a check says of one flight; `flight` is None where a file's common part stops it whole.

    `status` is ok, warning, error or problem. `json` is the flight's line of JSON, where it is wanted; `understood` the
    route as a pasted one was read.
    """

    flight: str | None
    file: str
    line: int
    status: str
    findings: tuple[Finding, ...]
    problems: tuple[Problem, ...]
    json: str | None = None
    understood: tuple[RouteWord, ...] | None = None
    known: tuple[Known, ...] = ()


def check_sources(
    sources: Iterable[RouteSource], settings: Settings, engine: Engine | None = None
) -> Iterator[tuple[Verdict, ...]]:
    """The verdicts on the flights of each source, in the order of the sources.

    Works on `engine`, or in this thread. Raises the problems of opening the catalogue; a file that cannot be read is a
    verdict.
    """
    return (engine or Engine()).each(Work(_check_group, settings, in_parts=settings.cache is None), sources)


def _check_group(
    sources: tuple[RouteSource, ...], settings: Settings, references: References
) -> tuple[tuple[Verdict, ...], ...]:
    """The verdicts on the flights of each source, worked in this thread."""
    # What is remembered holds for the files that flights name.
    references.watched |= settings.cache is not None
    begun = [_begun(source, settings, references) for source in sources]
    catalogue: Catalogue | None = None
    if settings.catalogue is not None:
        catalogue = catalogue_here(settings.catalogue)
        _read_ahead(catalogue, [flight for one in begun if isinstance(one, _Read) for flight in one.plans.flights])
    return tuple(_verdicts(one, settings, catalogue, references) if isinstance(one, _Read) else one for one in begun)


class Memory(Struct, frozen=True):
    """The verdicts that a cache holds. Sources come with their bytes; what was typed in is not remembered."""

    cache: Cache

    def recalled(self, source: RouteSource, references: References) -> tuple[Verdict, ...] | None:
        """What was said of a file, where that still holds."""
        body = recalled(self.cache, source.file, source.bytes(), references)
        with suppress(MsgspecError, ValueError, RecursionError):
            if body is not None:
                return unpacked(body, tuple[Verdict, ...])
        return None

    def remember(self, source: RouteSource, references: References, verdicts: tuple[Verdict, ...]) -> None:
        """Keep what is said of a file by what `references` have in use."""
        remember(self.cache, source.file, source.bytes(), references, packed(verdicts))


class _Read(Struct, frozen=True):
    """A file as read; `source` has its bytes where its verdicts are to be remembered."""

    plans: FlightPlans
    source: RouteSource | None


def _begun(source: RouteSource, settings: Settings, references: References) -> _Read | tuple[Verdict, ...]:
    """The verdicts on the flights of a source where they are remembered, else what it holds."""
    kept = None
    try:
        if settings.cache is not None and source.data is None:
            source = kept = changed(source, data=source.bytes())
            known = Memory(settings.cache).recalled(kept, references)
            if known is not None:
                return known
        plans = read_plans(source, settings.overrides)
    except NavlogError as error:
        plans = FlightPlans(source.file, (), (), error.problems)
    return _Read(plans, kept)


def _read_ahead(catalogue: Catalogue, flights: Iterable[Request | BrokenFlight]) -> None:
    """Look up what the routes of a task name, all at once for each day."""
    words: dict[date, dict[str, None]] = {}
    for one in flights:
        if isinstance(one, Request):
            words.setdefault(one.day, {}).update(dict.fromkeys(route_words(one)))
    # What is wrong with the data is told with the flight that needs it.
    with suppress(NavlogError):
        for day, some in words.items():
            catalogue.read_ahead(tuple(some), day)


def _verdicts(
    read: _Read, settings: Settings, catalogue: Catalogue | None, references: References
) -> tuple[Verdict, ...]:
    """The verdicts on the flights of a file, remembered where they are to be."""
    if read.source is not None:
        references.used.clear()
    found = answers(read.plans, catalogue, references, thresholds=settings.thresholds)
    worked = tuple(_verdict(answer, settings) for answer in found)
    if settings.cache is not None and read.source is not None:
        Memory(settings.cache).remember(read.source, references, worked)
    return worked


def _verdict(answer: Answer, settings: Settings) -> Verdict:
    """What is handed on of an answer."""
    known = () if settings.baseline_in is None else known_of(answer, settings.baseline_in)
    answer = gated(answer, settings.gate)
    line = None
    if settings.json:
        from navlog.sheets.json_lines import json_line

        line = json_line(answer, with_legs=False)
    flown = answer.report.log.route.request if answer.report is not None else None
    route = flown.route if flown is not None and flown.pasted else None
    return Verdict(
        answer.flight, answer.file, answer.line, answer.status, answer.findings, answer.problems, line, route, known
    )


COLUMNS = ("file", "line", "flight", "leg", "severity", "rule", "message", "source", "accepted")
"""The columns of the comma-separated form; a problem has severity `problem` and its code as the rule."""


def text_lines(verdict: Verdict, *, every: bool = False) -> Iterator[str]:
    """`FILE:LINE: severity: flight, leg N: message [rule]` for each rule with a finding that is not accepted.

    With `every` for each finding; else the line is that of the worst one, and all legs are listed.
    """
    open_findings = [finding for finding in verdict.findings if finding.accepted is None]
    for group in by_line(open_findings, every=every):
        yield printable(_text_line(verdict.flight, group))


def _text_line(flight: str | None, group: Sequence[Finding]) -> str:
    """Findings of one rule in the manner of a compiler's message, for editors that find the place."""
    one = worst(group)
    where = any(one.leg is not None or one.alternate is not None for one in group)
    told = told_together(group)
    text = f"{flight}, {told}" if where else f"{flight}: {told}"
    return f"{one.span.file}:{one.span.line}: {one.severity.value}: {text} [{one.rule}]"


def csv_rows(verdict: Verdict) -> Iterator[Row]:
    """A row for each finding, accepted ones too, and each problem."""
    for one in verdict.findings:
        place = (one.span.file, one.span.line, verdict.flight, one.leg)
        yield (*place, one.severity.value, one.rule, one.told, one.source, one.accepted)
    for problem in verdict.problems:
        span = problem.span or Span(verdict.file, verdict.line)
        yield (span.file, span.line, verdict.flight, None, "problem", problem.code, problem.message, None, None)


def summary(statuses: dict[str, int]) -> str:
    """`214 flights: 198 ok, 11 warnings, 5 errors`, and the problems where there are any."""
    words = [
        f"{statuses.get('ok', 0)} ok",
        counted(statuses.get("warning", 0), "warning"),
        counted(statuses.get("error", 0), "error"),
    ]
    if statuses.get("problem"):
        words.append(counted(statuses["problem"], "problem"))
    return f"{counted(sum(statuses.values()), 'flight')}: {', '.join(words)}"
