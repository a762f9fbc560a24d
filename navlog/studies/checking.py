"""The check of route files: each flight's findings and problems in a form that is cheap to hand on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from concurrent.futures import Executor
from functools import partial
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.nav.plainfile import read_plain
from navlog.nav.problems import NavlogError, Problem, Span
from navlog.request.flights import NO_OVERRIDES, Overrides
from navlog.request.records import FlightPlans
from navlog.request.references import References
from navlog.rules.answers import Answer, check_text, text_plans
from navlog.rules.registry import DEFAULT_THRESHOLDS, Finding, Thresholds
from navlog.studies.ordered import groups, in_order

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue

WINDOW = 16
"""Tasks under way at once: enough for a small machine, few enough to hold little."""

FILES_A_TASK = 16
"""So many that handing a task over costs little beside the work."""


class Settings(Struct, frozen=True):
    """How to check; everything here can be sent to another process.

    `catalogue` is the path of the published data, None for none. With `json` each verdict carries its flight
    as a line of JSON. `quote_outside` is as in `References`.
    """

    overrides: Overrides = NO_OVERRIDES
    catalogue: str | None = None
    thresholds: Thresholds = DEFAULT_THRESHOLDS
    json: bool = False
    quote_outside: bool = False


class Source(Struct, frozen=True):
    """A route file by name; `data` is its content where that is already read, as from standard input."""

    file: str
    data: bytes | None = None


class Verdict(Struct, frozen=True):
    """What a check says of one flight; `flight` is None where a file's common part stops it whole.

    `status` is ok, warning, error or problem. `json` is the flight's line of JSON, where it is wanted.
    """

    flight: str | None
    file: str
    line: int
    status: str
    findings: tuple[Finding, ...]
    problems: tuple[Problem, ...]
    json: str | None = None


def check_sources(
    sources: Iterable[Source],
    settings: Settings,
    executor: Executor | None = None,
    *,
    window: int = WINDOW,
    files_a_task: int = FILES_A_TASK,
) -> Iterator[tuple[Verdict, ...]]:
    """The verdicts on the flights of each source, in the order of the sources.

    Works in this thread, or on `executor`, any of `concurrent.futures` or made like it, with at most `window`
    tasks submitted at once. Raises the problems of opening the catalogue; a file that cannot be read is a
    verdict.
    """
    tasks = groups(sources, files_a_task)
    work = partial(check_group, settings=settings)
    found = map(work, tasks) if executor is None else in_order(executor, work, tasks, window)
    for checked in found:
        yield from checked


def check_group(sources: tuple[Source, ...], settings: Settings) -> tuple[tuple[Verdict, ...], ...]:
    """The verdicts on the flights of each source, worked in this thread."""
    catalogue: Catalogue | None = None
    if settings.catalogue is not None:
        from navlog.studies.opening import catalogue_here

        catalogue = catalogue_here(settings.catalogue)
    references = References(quote_outside=settings.quote_outside)
    return tuple(
        tuple(verdict(answer, settings) for answer in source_answers(source, settings, catalogue, references))
        for source in sources
    )


def source_answers(
    source: Source, settings: Settings, catalogue: Catalogue | None, references: References
) -> Iterator[Answer]:
    """The answers for the flights of one source; one with the problem where it cannot be read."""
    try:
        data = source.data if source.data is not None else read_file(source.file)
    except NavlogError as error:
        yield Answer(None, source.file, 1, None, error.problems)
        return
    yield from check_text(
        data,
        source.file,
        catalogue=catalogue,
        overrides=settings.overrides,
        references=references,
        thresholds=settings.thresholds,
    )


def read_plans(source: Source, overrides: Overrides) -> FlightPlans:
    """The flights of one source; raises `cannot-read`, `bad-encoding` and `too-large`."""
    data = source.data if source.data is not None else read_file(source.file)
    return text_plans(data, source.file, overrides)


def read_file(file: str) -> bytes:
    """The bytes of a file, of one that is too large just enough to tell; raises `cannot-read`."""
    from navlog.request.lexer import LARGEST_BYTES

    return read_plain(file, LARGEST_BYTES, "this file", Span(file, 1))


def verdict(answer: Answer, settings: Settings) -> Verdict:
    """What is handed on of an answer."""
    line = None
    if settings.json:
        from navlog.sheets.json_lines import json_line

        line = json_line(answer, with_legs=False)
    return Verdict(answer.flight, answer.file, answer.line, answer.status, answer.findings, answer.problems, line)
