"""`navlog check`: the findings for every flight of files and folders, and what else is asked of a library."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

import click

from navlog.cli import echo_error
from navlog.cli.catalogue_option import catalogue_option, opened_catalogue
from navlog.cli.completion import requirements
from navlog.cli.flightfile import (
    aircraft_overrides,
    flight_from,
    flight_overrides,
    named_file,
    quotes_outside,
    tell_understood,
)
from navlog.cli.gate_options import GATE_OPTIONS, gate_from, gate_options, refuse_other_baselines
from navlog.cli.options import Number, is_given
from navlog.cli.output import print_problems, write
from navlog.cli.sharing import Sharing, sharing_from, sharing_options, sources_of
from navlog.cli.terminal import FlightTally, coloured, in_colour, with_progress
from navlog.nav.problems import NavlogError, printable
from navlog.nav.record import changed
from navlog.studies.check_formats import WRITERS

if TYPE_CHECKING:
    from navlog.request.typed import Overrides
    from navlog.studies.batch import RouteSource
    from navlog.studies.comparing import Cycles
    from navlog.studies.gate import Known, RuleCount
    from navlog.studies.requirement_files import RequirementsAsked
    from navlog.studies.route_files import RouteFiles
    from navlog.studies.runs_gone import Flown, Hop

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
    every, sharing = bool(options.pop("every")), sharing_from(options)
    asked = gate_from(options)
    refuse_other_baselines(asked)
    quote_outside, overrides = quotes_outside(options), flight_from(options)
    _refuse_wrong_overrides(overrides)
    files = route_files(paths or (named_file(None, overrides, "PATH..."),))
    for name in passed_over(paths):
        echo_error(printable(f"not read: {name}: the name of a route file ends in .route"))
    with opened_catalogue(catalogue) as published:
        known = catalogue if published is not None else None
    if around is not None:
        return _propose_around(with_progress(sources_of(files), len(files)), around, overrides, catalogue, form)
    if requirements:
        from navlog.studies.requirement_files import RequirementsAsked

        return _judge_requirements(
            files, RequirementsAsked(requirements, overrides, known, quote_outside), sharing, form
        )
    if since is not None:
        return _compare(files, (since, catalogue), overrides, quote_outside, sharing, form)
    thresholds = DEFAULT_THRESHOLDS if radial_limits is None else Thresholds(*radial_limits)
    from navlog.studies.checking import Memory, Settings, Verdict, check_sources, summary
    from navlog.studies.gate import baseline_text, count_rules, summary_lines

    settings = Settings(
        overrides,
        known,
        thresholds,
        json=form == "json",
        quote_outside=quote_outside,
        gate=asked.gate(),
        baseline_in=asked.baseline_folder,
    )
    memory = None
    if cache is not None:
        from navlog.studies.remembered import open_cache

        memory = Memory(open_cache(cache, settings, known))
        if sharing.cluster is None:
            settings = changed(settings, cache=memory.cache)
    tally = FlightTally(len(files))
    kept: list[Known] = []
    counts: dict[str, RuleCount] = {}

    def seen(verdicts: Iterable[Verdict]) -> Iterator[Verdict]:
        for verdict in verdicts:
            if verdict.understood is not None and not paths:
                tell_understood(verdict.understood, overrides)
            kept.extend(verdict.known)
            if asked.by_rule:
                count_rules(counts, verdict.findings)
            yield verdict

    with sharing.engine(files, [known] if known is not None else [], in_parts=cache is None, memory=memory) as engine:
        found = check_sources(sources_of(files), settings, engine)
        for piece in WRITERS[form](seen(tally.each(found)), every=every):
            _show(piece, lines=form == "text")
    if asked.write_baseline is not None and "problem" in tally.statuses:
        # What a file with a problem was known for would be lost, and come back as new once it is mended.
        echo_error(f"not written: {printable(asked.write_baseline)}: a baseline needs every flight without a problem")
    elif asked.write_baseline is not None:
        write(baseline_text(kept), asked.write_baseline)
    for line in summary_lines(counts) if asked.by_rule else ():
        echo_error(line)
    echo_error(summary(tally.statuses))
    return tally.exit_status("error", "warning") if strict else tally.exit_status("error")


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


def _compare(
    files: RouteFiles,
    catalogues: tuple[str, str],
    overrides: Overrides,
    quote_outside: bool,
    sharing: Sharing,
    form: str,
) -> int:
    """Print which flights change between two catalogues and how; status 1 if any does."""
    from navlog.catalogue import open_catalogue
    from navlog.studies.batch import csv_text
    from navlog.studies.comparing import (
        CHANGE_COLUMNS,
        Cycles,
        change_json,
        change_lines,
        change_rows,
        change_summary,
        compare_sources,
        cycle_held,
        edition_lines,
        editions_text,
        refuse_newer,
    )

    editions: dict[tuple[str, str], int] = {}
    flown: dict[Flown, tuple[Hop, ...]] = {}
    begins, (old, new) = None, catalogues
    if len(old) == 4 and old.isascii() and old.isdigit():
        with open_catalogue(new) as published:
            old, begins = new, cycle_held(published, old)
    with open_catalogue(old) as before, open_catalogue(new) as after:
        refuse_newer(before, after, begins)
    cycles, tally = Cycles(old, new, overrides, begins, quote_outside), FlightTally(len(files))
    if form == "csv":
        _show(csv_text([CHANGE_COLUMNS]))
    with sharing.engine(files, [old, new]) as engine:
        found = compare_sources(sources_of(files), cycles, engine)
        for comparison in tally.each(found):
            if comparison.old or comparison.new:
                pair = editions_text(comparison.old), editions_text(comparison.new)
                editions[pair] = editions.get(pair, 0) + 1
            if comparison.flown:
                flown[comparison.file, comparison.line, comparison.flight or ""] = comparison.flown
            if form == "json":
                _show(f"{change_json(comparison)}\n")
            elif form == "csv":
                _show(csv_text(change_rows(comparison)))
            else:
                _show("".join(f"{line}\n" for line in change_lines(comparison)))
    _tell_gone(cycles, flown, form)
    for line in edition_lines(editions):
        echo_error(line)
    echo_error(change_summary(tally.statuses))
    return tally.exit_status("changed")


def _tell_gone(cycles: Cycles, flown: Mapping[Flown, Sequence[Hop]], form: str) -> None:
    """Print the runs of airways that the new cycle has no longer, with the flights that used them."""
    from navlog.catalogue import open_catalogue
    from navlog.studies.batch import csv_text
    from navlog.studies.comparing import days_compared
    from navlog.studies.runs_gone import gone_json, gone_lines, gone_rows, runs_gone, users

    with open_catalogue(cycles.old) as before, open_catalogue(cycles.new) as after:
        days = days_compared(cycles, after)
        gone = runs_gone(before, days[0], after, days[1]) if days is not None else ()
    by = users(gone, flown)
    if form == "json":
        _show(gone_json(gone, by))
    elif form == "csv":
        _show(csv_text(gone_rows(gone, by)))
    else:
        _show("".join(f"{line}\n" for line in gone_lines(gone, by)))


def _propose_around(
    sources: Iterable[RouteSource], station: str, overrides: Overrides, catalogue: str, form: str
) -> int:
    """Print the way round for each flight that relies on a station; status 1 where one has none."""
    from navlog.catalogue import open_catalogue
    from navlog.studies.ways_around import around_json, around_line, ways_around

    statuses: set[str] = set()
    with open_catalogue(catalogue) as published:
        for source in sources:
            for one in ways_around(source, overrides, published, station):
                statuses.add(one.status)
                print_problems(one.problems)
                if form == "json":
                    _show(f"{around_json(one)}\n")
                elif not one.problems:
                    _show(f"{printable(around_line(one))}\n")
    return 2 if "problem" in statuses else 1 if "none" in statuses else 0


def _judge_requirements(files: RouteFiles, asked: RequirementsAsked, sharing: Sharing, form: str) -> int:
    """Print how the flights of each file stand against training requirements; status 1 where one does not hold."""
    from navlog.studies.batch import csv_text
    from navlog.studies.requirement_files import judge_sources, requirement_summary
    from navlog.studies.requirements import (
        REQUIREMENT_COLUMNS,
        assessment_lines,
        broken_json,
        known_requirement,
        requirement_json,
        requirement_rows,
    )

    for name in asked.names:
        known_requirement(name)
    tally = FlightTally(len(files))
    if form == "csv":
        _show(csv_text([REQUIREMENT_COLUMNS]))
    with sharing.engine(files, [asked.catalogue] if asked.catalogue is not None else []) as engine:
        found = judge_sources(sources_of(files), asked, engine)
        for judged in tally.each(found):
            if form == "text" and not judged.problems:
                _show(f"{judged.file}\n")
            for one in judged.assessments:
                if form == "json":
                    _show(f"{requirement_json(judged.file, one)}\n")
                elif form == "csv":
                    _show(csv_text(requirement_rows(judged.file, one)))
                else:
                    _show("".join(f"{line}\n" for line in assessment_lines(one)))
            for name in asked.names if judged.problems and form == "json" else ():
                _show(f"{broken_json(judged.file, name, judged.problems)}\n")
    echo_error(requirement_summary(tally.statuses))
    return tally.exit_status("fail", "depends")


def _refuse_wrong_overrides(overrides: Overrides) -> None:
    """Raise what is wrong in the options themselves, once instead of for every file."""
    from navlog.request.flights import read_flights

    problems = read_flights("", "-", overrides=overrides).problems
    wrong = [problem for problem in problems if problem.span is not None and problem.span.file.startswith("--")]
    if wrong:
        raise NavlogError(*wrong)


def _show(text: str, *, lines: bool = False) -> None:
    """Print to standard output, as bytes, so that a line end stays what it is; `lines` of findings in colour."""
    if text:
        from navlog.cli import shown_on

        shown = shown_on(sys.stdout, text)
        if lines and coloured(sys.stdout):
            click.echo(in_colour(shown), nl=False)
        else:
            sys.stdout.buffer.write(shown.encode(sys.stdout.encoding or "ascii", "replace"))
