"""`navlog check`: the findings for every flight of files and folders, and what else is asked of a library."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

import click

from navlog.cli import echo_error
from navlog.cli.catalogue_option import catalogue_option, opened_catalogue
from navlog.cli.check_questions import compare, judge_requirements, propose_around
from navlog.cli.completion import requirements
from navlog.cli.flightfile import (
    aircraft_overrides,
    flight_from,
    flight_overrides,
    named_file,
    quotes_outside,
    tell_understood,
)
from navlog.cli.gate_options import GATE_OPTIONS, Gathering, gate_from, gate_options, refuse_other_baselines
from navlog.cli.options import Number, is_given
from navlog.cli.sharing import Sharing, sharing_from, sharing_options, sources_of
from navlog.cli.terminal import FlightTally, show, with_progress
from navlog.nav.problems import NavlogError, printable
from navlog.nav.record import changed
from navlog.studies.check_formats import WRITERS

if TYPE_CHECKING:
    from navlog.request.typed import Overrides
    from navlog.studies.checking import Memory, Settings, Verdict
    from navlog.studies.route_files import RouteFiles

_OF_FINDINGS = ("strict", "every", "radial_limits", "cache", *GATE_OPTIONS)
"""Options that say something of findings, which other questions have none of."""


@click.command("check", epilog="Example: navlog check routes --jobs 4 --unavailable QHB")
@click.argument("paths", nargs=-1, metavar="PATH...", type=click.Path(allow_dash=True))
@click.option("--format", "form", type=click.Choice(list(WRITERS)), default="text", show_default=True)
@click.option("--strict", is_flag=True, help="Leave with status 1 for warnings too.")
@sharing_options
@click.option(
    "--radial-limits",
    nargs=2,
    type=Number(0, 90),
    metavar="WARN ERROR",
    help="Degrees by which a charted radial may be off the computed one [3 6].",
)
@click.option("--since", metavar="OLD", help="Instead: what changed since a cycle (2605) or another catalogue's file.")
@click.option(
    "--requirement",
    "requirements",
    shell_complete=requirements,
    multiple=True,
    metavar="NAME",
    help="Instead: a training distance, as 61.109.",
)
@click.option("--propose-around", "around", metavar="IDENT", help="Instead: the way round, where this station is lost.")
@click.option("--all", "every", is_flag=True, help="A line for each finding, not one for each rule.")
@gate_options
@click.option("--cache", metavar="FOLDER", help="Remember what is said of files there, until something changes.")
@catalogue_option
@flight_overrides
@aircraft_overrides
def command(  # noqa: PLR0913 - one argument an option
    *,
    paths: tuple[str, ...],
    form: str,
    strict: bool,
    radial_limits: tuple[float, float] | None,
    since: str | None,
    requirements: tuple[str, ...],
    around: str | None,
    cache: str | None,
    catalogue: str,
    **options: object,
) -> int:
    """Check every flight of the route files and folders at PATH... (`-` for standard input).

    Findings go to standard output, problems and the summary to standard error. The forms github (annotations of a
    workflow), sarif and junit are for other tools. A baseline keeps findings by file, flight, rule and leg.
    """
    from navlog.rules.registry import DEFAULT_THRESHOLDS, Thresholds
    from navlog.studies.route_files import passed_over, route_files

    _refuse_what_does_not_fit(since, requirements, around, form)
    if radial_limits is not None and radial_limits[0] > radial_limits[1]:
        raise click.BadParameter("WARN is above ERROR.", param_hint="--radial-limits")
    every, sharing, asked = bool(options.pop("every")), sharing_from(options), gate_from(options)
    quote_outside, overrides = quotes_outside(options), flight_from(options)
    _refuse_wrong_overrides(overrides)
    files = route_files(paths or (named_file(None, overrides, "PATH..."),))
    for name in passed_over(paths):
        echo_error(printable(f"not read: {name}: the name of a route file ends in .route"))
    with opened_catalogue(catalogue) as published:
        known = catalogue if published is not None else None
    if around is not None:
        return propose_around(with_progress(sources_of(files), len(files)), around, overrides, catalogue, form)
    if requirements:
        from navlog.studies.requirement_files import RequirementsAsked

        return judge_requirements(
            files, RequirementsAsked(requirements, overrides, known, quote_outside), sharing, form
        )
    if since is not None:
        return compare(files, (since, catalogue), overrides, quote_outside, sharing, form)
    refuse_other_baselines(asked)
    from navlog.studies.checking import Settings

    settings = Settings(
        overrides,
        known,
        DEFAULT_THRESHOLDS if radial_limits is None else Thresholds(*radial_limits),
        json=form == "json",
        quote_outside=quote_outside,
        gate=asked.gate(),
        baseline_in=asked.baseline_folder,
    )
    tally = _find(files, settings, _memory_of(cache, settings), sharing, Gathering(asked), form, every=every)
    return tally.exit_status("error", "warning") if strict else tally.exit_status("error")


def _memory_of(cache: str | None, settings: Settings) -> Memory | None:
    """What the folder of `--cache` holds for a check with these settings, None where none is given."""
    if cache is None:
        return None
    from navlog.studies.checking import Memory
    from navlog.studies.remembered import open_cache

    return Memory(open_cache(cache, settings, settings.catalogue))


def _find(
    files: RouteFiles,
    settings: Settings,
    memory: Memory | None,
    sharing: Sharing,
    gathering: Gathering,
    form: str,
    *,
    every: bool,
) -> FlightTally:
    """Print the findings of every flight as they come, then what was gathered of them; how the flights came out."""
    from navlog.studies.checking import check_sources, summary

    if memory is not None and sharing.cluster is None:
        # Each process remembers by itself; a cluster's results are remembered here.
        settings = changed(settings, cache=memory.cache)
    tally, catalogues = FlightTally(len(files)), [settings.catalogue] if settings.catalogue is not None else []
    with sharing.engine(files, catalogues, in_parts=memory is None, memory=memory) as engine:
        found = tally.each(check_sources(sources_of(files), settings, engine))
        for piece in WRITERS[form](gathering.each(_told(found, settings.overrides)), every=every):
            show(piece, lines=form == "text")
    gathering.tell(whole="problem" not in tally.statuses)
    echo_error(summary(tally.statuses))
    return tally


def _told(verdicts: Iterable[Verdict], overrides: Overrides) -> Iterator[Verdict]:
    """The verdicts; on the way it is told how a route typed in was understood."""
    from navlog.request.typed import ROUTE_OPTION

    for verdict in verdicts:
        if verdict.understood is not None and verdict.file == ROUTE_OPTION:
            tell_understood(verdict.understood, overrides)
        yield verdict


def _refuse_what_does_not_fit(since: str | None, requirements: tuple[str, ...], around: str | None, form: str) -> None:
    """Raises click.UsageError for options that another question has no use for, instead of passing them over."""
    questions = {"--since": since is not None, "--requirement": bool(requirements), "--propose-around": bool(around)}
    chosen = [name for name, given in questions.items() if given]
    if not chosen:
        return
    if len(chosen) > 1:
        raise click.UsageError(f"{' and '.join(chosen)} ask different things; give one of them.")
    (asked,) = chosen
    given = [
        param
        for param in click.get_current_context().command.params
        if param.name in (*_OF_FINDINGS, *(("jobs", "cluster", "quote_outside") if around is not None else ()))
        and is_given(param.name)
    ]
    if given:
        raise click.UsageError(f"{given[0].opts[0]} does not go with {asked}.")
    forms = ("text", "json") if around is not None else ("text", "json", "csv")
    if form not in forms:
        raise click.UsageError(f"--format {form} does not go with {asked}; {', '.join(forms[:-1])} and {forms[-1]} do.")


def _refuse_wrong_overrides(overrides: Overrides) -> None:
    """Raise what is wrong in the options themselves, once instead of for every file."""
    from navlog.request.flights import read_flights

    problems = read_flights("", "-", overrides=overrides).problems
    wrong = [problem for problem in problems if problem.span is not None and problem.span.file.startswith("--")]
    if wrong:
        raise NavlogError(*wrong)
