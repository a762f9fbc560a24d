"""What `navlog check` does in each of its ways: counting, progress, and training distances."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Protocol, TypeVar

import click
from msgspec import Struct, field

from navlog.cli.output import print_problems
from navlog.nav.problems import NavlogError, Problem

if TYPE_CHECKING:
    from navlog.request.flights import Overrides
    from navlog.resolve.lookup import ChartLookup
    from navlog.resolve.route import Route
    from navlog.studies.checking import Source
    from navlog.studies.requirements import Assessment, Requirement

LINE_START = "\r\x1b[K"


class Told(Protocol):
    """What is told of a flight."""

    @property
    def status(self) -> str:
        """How it came out."""

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Why nothing can be told."""


AnyTold = TypeVar("AnyTold", bound=Told)


class Tally(Struct):
    """Counts flights by status while they pass, prints their problems, and shows progress on a terminal."""

    files: int
    statuses: dict[str, int] = field(default_factory=dict)

    def each(self, found: Iterable[tuple[AnyTold, ...]]) -> Iterator[AnyTold]:
        """The flights of each file, counted."""
        shown = sys.stderr.isatty() and self.files > 1
        try:
            for done, flights in enumerate(found, 1):
                if shown:
                    click.echo(LINE_START, err=True, nl=False)
                for flight in flights:
                    self.statuses[flight.status] = self.statuses.get(flight.status, 0) + 1
                    print_problems(flight.problems)
                    yield flight
                if shown:
                    sys.stdout.flush()
                    click.echo(f"{done} of {self.files} files", err=True, nl=False)
        finally:
            if shown:
                click.echo(LINE_START, err=True, nl=False)

    def exit_status(self, *faults: str) -> int:
        """2 where a flight has a problem, 1 where one has a status of `faults`, else 0."""
        if "problem" in self.statuses:
            return 2
        return 1 if any(status in self.statuses for status in faults) else 0


def show(text: str) -> None:
    """Print to standard output, as bytes, so that a line end stays what it is."""
    if text:
        from navlog.cli import shown_on

        sys.stdout.buffer.write(shown_on(sys.stdout, text).encode(sys.stdout.encoding or "ascii", "replace"))


def refuse_wrong_overrides(overrides: Overrides) -> None:
    """Raise what is wrong in the options themselves, once instead of for every file."""
    from navlog.request.flights import read_flights

    problems = read_flights("", "-", overrides=overrides).problems
    wrong = [problem for problem in problems if problem.span is not None and problem.span.file.startswith("--")]
    if wrong:
        raise NavlogError(*wrong)


def judge_requirements(
    sources: Iterable[Source], names: tuple[str, ...], overrides: Overrides, catalogue: str | None, form: str
) -> int:
    """Print how the flights of each file stand against training requirements; status 1 where one does not hold."""
    from contextlib import nullcontext

    from navlog.cli.catalogue_option import opened_catalogue
    from navlog.resolve.lookup import NoCatalogue
    from navlog.studies.check_forms import REQUIREMENT_COLUMNS, csv_text, requirement_json, requirement_rows
    from navlog.studies.requirements import assess, assessment_lines

    asked = tuple(known_requirement(name) for name in names)
    if form == "csv":
        show(csv_text([REQUIREMENT_COLUMNS]))
    status = 0
    with opened_catalogue(catalogue) if catalogue is not None else nullcontext() as published:
        for source in sources:
            try:
                routes = routes_of(source, overrides, published or NoCatalogue())
                found: list[Assessment] = [assess(one, routes) for one in asked]
            except NavlogError as error:
                print_problems(error.problems)
                status = 2
                continue
            if form == "text":
                show(f"{source.file}\n")
            for one in found:
                if form == "json":
                    show(f"{requirement_json(source.file, one)}\n")
                elif form == "csv":
                    show(csv_text(requirement_rows(source.file, one)))
                else:
                    show("".join(f"{line}\n" for line in assessment_lines(one)))
            if status == 0 and any(one.result != "pass" for one in found):
                status = 1
    return status


def known_requirement(name: str) -> Requirement:
    """The requirement of that name; raises `unknown-requirement` with those there are."""
    from navlog.studies.requirements import REQUIREMENTS, requirement_named

    found = requirement_named(name)
    if found is None:
        from navlog.nav.problems import problem_error

        known = ", ".join(one.name for one in REQUIREMENTS)
        raise problem_error("unknown-requirement", f"no requirement is called `{name}`", hint=f"there are {known}")
    return found


def routes_of(source: Source, overrides: Overrides, catalogue: ChartLookup) -> tuple[Route, ...]:
    """The routes of a file's flights in order; raises every problem of the file."""
    from navlog.request.records import Request
    from navlog.resolve.flight import resolve_flight
    from navlog.studies.checking import read_plans

    plans = read_plans(source, overrides)
    problems = list(plans.problems)
    routes = []
    for flight in plans.flights:
        if not isinstance(flight, Request):
            problems += flight.problems
            continue
        try:
            routes.append(resolve_flight(flight, catalogue))
        except NavlogError as error:
            problems += error.problems
    if problems:
        raise NavlogError(*problems)
    return tuple(routes)
