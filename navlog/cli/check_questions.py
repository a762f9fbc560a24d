"""What `navlog check` is asked of a library instead of findings: what changed, ways round, training distances."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from navlog.cli import echo_error
from navlog.cli.output import print_problems
from navlog.cli.sharing import Sharing, sources_of
from navlog.cli.terminal import FlightTally, show
from navlog.nav.problems import printable

if TYPE_CHECKING:
    from navlog.request.typed import Overrides
    from navlog.studies.batch import RouteSource
    from navlog.studies.comparing import Cycles
    from navlog.studies.requirement_files import RequirementsAsked
    from navlog.studies.route_files import RouteFiles
    from navlog.studies.runs_gone import Flown, Hop


def compare(
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
        show(csv_text([CHANGE_COLUMNS]))
    with sharing.engine(files, [old, new]) as engine:
        found = compare_sources(sources_of(files), cycles, engine)
        for comparison in tally.each(found):
            if comparison.old or comparison.new:
                pair = editions_text(comparison.old), editions_text(comparison.new)
                editions[pair] = editions.get(pair, 0) + 1
            if comparison.flown:
                flown[comparison.file, comparison.line, comparison.flight or ""] = comparison.flown
            if form == "json":
                show(f"{change_json(comparison)}\n")
            elif form == "csv":
                show(csv_text(change_rows(comparison)))
            else:
                show("".join(f"{line}\n" for line in change_lines(comparison)))
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
        show(gone_json(gone, by))
    elif form == "csv":
        show(csv_text(gone_rows(gone, by)))
    else:
        show("".join(f"{line}\n" for line in gone_lines(gone, by)))


def propose_around(
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
                    show(f"{around_json(one)}\n")
                elif not one.problems:
                    show(f"{printable(around_line(one))}\n")
    return 2 if "problem" in statuses else 1 if "none" in statuses else 0


def judge_requirements(files: RouteFiles, asked: RequirementsAsked, sharing: Sharing, form: str) -> int:
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
        show(csv_text([REQUIREMENT_COLUMNS]))
    with sharing.engine(files, [asked.catalogue] if asked.catalogue is not None else []) as engine:
        found = judge_sources(sources_of(files), asked, engine)
        for judged in tally.each(found):
            if form == "text" and not judged.problems:
                show(f"{judged.file}\n")
            for one in judged.assessments:
                if form == "json":
                    show(f"{requirement_json(judged.file, one)}\n")
                elif form == "csv":
                    show(csv_text(requirement_rows(judged.file, one)))
                else:
                    show("".join(f"{line}\n" for line in assessment_lines(one)))
            for name in asked.names if judged.problems and form == "json" else ():
                show(f"{broken_json(judged.file, name, judged.problems)}\n")
    echo_error(requirement_summary(tally.statuses))
    return tally.exit_status("fail", "depends")
