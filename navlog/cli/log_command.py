"""`navlog log`: compute and print the log of each flight of a route file."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import click

from navlog.cli.catalogue_option import catalogue_option, opened_catalogue
from navlog.cli.completion import flights_of_file
from navlog.cli.flightfile import (
    aircraft_overrides,
    files_read,
    flight_from,
    flight_overrides,
    named_file,
    only_flight,
    quotes_outside,
    read_route_file,
    tell_understood,
)
from navlog.cli.options import SPEED
from navlog.cli.output import print_problems, refuse_inputs, write_all
from navlog.sheets.formats import DRAWN, EXTRAS, MODULES, PAGED, PAPERS, format_of, sheet

if TYPE_CHECKING:
    from navlog.request.typed import Overrides
    from navlog.rules.answers import Answer
    from navlog.studies.whatif import WhatIf


@click.command("log", epilog="Example: navlog log examples/round_robin.route --wind 230/15")
@click.argument("file", required=False, type=click.Path(allow_dash=True))
@click.option("--format", "form", type=click.Choice(list(MODULES)), help="[default: by the suffix of PATH, else text]")
@click.option(
    "--flight",
    metavar="NAME",
    shell_complete=flights_of_file,
    help="Only the flight of that name, where FILE has several.",
)
@click.option(
    "-o",
    "--output",
    "paths",
    multiple=True,
    metavar="PATH",
    help="Write this file instead, in the format of its suffix; again for more files, all of them whole or none.",
)
@click.option(
    "--page", type=click.Choice(PAPERS), default=PAPERS[0], show_default=True, help="The paper of strip, html and pdf."
)
@click.option(
    "--with",
    "extras",
    metavar="NAME,...",
    help=f"Add behind the pages of strip, html and pdf: {', '.join(EXTRAS)}.",
)
@click.option("--small", is_flag=True, help="Set the strip in type of 9 points, not 12: more on a page.")
@click.option("--compare-altitudes", is_flag=True, help="Add time and fuel at each level up to the `ceiling`.")
@click.option("--wind-spread", type=SPEED, metavar="KNOTS", help="Add the range of time and fuel in winds so far off.")
@click.option("--all", "every", is_flag=True, help="A line for each finding, not one for each rule.")
@catalogue_option
@flight_overrides
@aircraft_overrides
def command(
    file: str | None,
    form: str | None,
    flight: str | None,
    paths: tuple[str, ...],
    page: str,
    compare_altitudes: bool,
    wind_spread: float | None,
    catalogue: str,
    **options: object,
) -> int:
    """Compute and print the VOR navigation log of each flight in FILE (`-` for standard input).

    The formats: text, the whole log; strip, html and pdf, kneeboard pages in the order of flying, with room for the
    pen; steps, what to do in words; planning, every column; markdown; csv and json for programs; gpx, kml and
    geojson for maps; item15, the route of an ICAO flight plan.

    Logs go to standard output or to the files of --output, problems to standard error. Exit status 1 where a finding
    is an error, 2 where a flight has a problem; the other flights are printed.
    """
    from navlog.request.references import References
    from navlog.rules.answers import answers, exit_status

    targets = _targets_of(form, paths)
    small = bool(options.pop("small"))
    behind = _extras_of(options.pop("extras"), small, [one for one, _ in targets])
    every = bool(options.pop("every"))
    references = References(quote_outside=quotes_outside(options))
    overrides = flight_from(options)
    plans = read_route_file(named_file(file, overrides), overrides)
    refuse_inputs(paths, (*files_read(plans), catalogue))
    if file is not None and any(one == "route" for one, _ in targets):
        raise click.UsageError("A route file is written of --route without FILE.")
    plans = only_flight(plans, flight)
    what_if = compare_altitudes or wind_spread is not None
    if what_if and any(one not in ("text", "json") for one, _ in targets):
        raise click.UsageError("--compare-altitudes and --wind-spread go with --format text or json")
    pairs: list[tuple[Answer, WhatIf | None]] = []
    with opened_catalogue(catalogue) as published:
        found = tuple(answers(plans, published, references))
        if any(one in PAGED or one in DRAWN for one, _ in targets):
            from navlog.studies.surroundings import for_sheets

            found = for_sheets(found, [one for one, _ in targets], published, references)
        if what_if:
            from navlog.studies.whatif import answered

            asked = partial(answered, compare_altitudes=compare_altitudes, wind_error_kt=wind_spread)
            pairs = [asked(one, plans, published, references) for one in found]
    if what_if:
        found = tuple(one for one, _ in pairs)
        sheets: list[tuple[str | bytes | None, str | None]]
        sheets = [(_what_if_sheet(one, pairs, every=every), path) for one, path in targets]
    else:
        sheets = [
            (
                _route_file(found, overrides, path)
                if one == "route"
                else sheet(one, found, page, every=every, extras=behind, small=small),
                path,
            )
            for one, path in targets
        ]
    for answer in found:
        print_problems(answer.problems)
        if answer.report is not None:
            tell_understood(answer.report.log.route.request.route, overrides)
    write_all([(data, path) for data, path in sheets if data is not None])
    return exit_status(found)


def _route_file(found: tuple[Answer, ...], overrides: Overrides, path: str | None) -> str | None:
    """What the options say as a route file, None where they make no flight."""
    from os.path import dirname

    from navlog.request.writer import options_text

    routes = [one.report.log.route.request.route for one in found if one.report is not None]
    return options_text(overrides, routes[0], dirname(path or "")) if routes else None


def _targets_of(form: str | None, paths: tuple[str, ...]) -> list[tuple[str, str | None]]:
    """Each output's format and path (None for standard output): the suffix names it, else `--format` does.

    Raises click.UsageError where a path stands twice, or `--format` is no output's format.
    """
    if not paths:
        return [(form or "text", None)]
    if len(set(paths)) < len(paths):
        raise click.UsageError("one --output stands twice")
    targets: list[tuple[str, str | None]] = [
        ("route" if path.endswith(".route") else format_of(path) or form or "text", path) for path in paths
    ]
    if form is not None and form not in (one for one, _ in targets):
        raise click.UsageError(f"--format {form} does not fit {paths[0]}, whose suffix says {targets[0][0]}")
    return targets


def _extras_of(text: object, small: bool, forms: list[str]) -> tuple[str, ...]:
    """What is asked for behind the knee page.

    Raises click.UsageError for a name that is none, and where no output is such a page.
    """
    names = tuple(name.strip() for name in str(text or "").split(",") if name.strip())
    unknown = [name for name in names if name not in EXTRAS]
    if unknown:
        raise click.UsageError(f"--with knows no `{unknown[0]}`; it adds {', '.join(EXTRAS)}")
    if names and not set(PAGED) & set(forms):
        raise click.UsageError(f"--with goes with the formats {', '.join(PAGED)}")
    if "drawings" in names and forms == ["strip"]:
        raise click.UsageError("--with drawings: a strip is text; drawings go with pdf")
    if small and "strip" not in forms:
        raise click.UsageError("--small goes with the format strip")
    return names


def _what_if_sheet(form: str, pairs: list[tuple[Answer, WhatIf | None]], *, every: bool) -> str | None:
    """The logs with what other levels and winds would do."""
    if form == "json":
        from navlog.studies.whatif_text import json_line_with

        return "".join(json_line_with(one, more) + "\n" for one, more in pairs)
    from navlog.nav.record import changed
    from navlog.sheets.text import SHEET_BREAK, text_log
    from navlog.studies.whatif_text import what_if_text

    texts = [
        text_log(changed(one.report, every=every)) + what_if_text(one.report.log, more)
        for one, more in pairs
        if one.report is not None and more is not None
    ]
    return SHEET_BREAK.join(texts) or None
