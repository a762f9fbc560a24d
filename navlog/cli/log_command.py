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
from navlog.cli.options import SPEED, is_given
from navlog.cli.output import folders_made, print_problems, refuse_inputs, write_all
from navlog.nav.problems import NavlogError
from navlog.sheets.formats import (
    DRAWN,
    EXTRAS,
    MODULES,
    PAGED,
    PAPERS,
    SUFFIXES_TEXT,
    file_names,
    format_of,
    known_suffix,
    sheet,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from navlog.catalogue.queries import Catalogue
    from navlog.request.records import FlightPlans
    from navlog.request.references import References
    from navlog.request.typed import Overrides
    from navlog.rules.answers import Answer
    from navlog.studies.whatif import WhatIf

    Maker = Callable[[str, tuple[Answer, ...]], str | bytes | None]


@click.command("log", epilog="Example: navlog log examples/round_robin.route --wind 230/15")
@click.argument("files", nargs=-1, metavar="[PATH]...", type=click.Path(allow_dash=True))
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
    help="Write this file instead, in the format of its suffix; again for more files, all of them whole or none. With"
    " a name that ends in / a folder, with one file a flight in the format of --format.",
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
@click.option("--wide", is_flag=True, help="Set all columns of planning beside each other, not within 130 characters.")
@click.option("--compare-altitudes", is_flag=True, help="Add time and fuel at each level up to the `ceiling`.")
@click.option("--wind-spread", type=SPEED, metavar="KNOTS", help="Add the range of time and fuel in winds so far off.")
@click.option("--all", "every", is_flag=True, help="A line for each finding, not one for each rule.")
@catalogue_option
@flight_overrides
@aircraft_overrides
def command(
    files: tuple[str, ...],
    form: str | None,
    flight: str | None,
    paths: tuple[str, ...],
    page: str,
    compare_altitudes: bool,
    wind_spread: float | None,
    catalogue: str,
    **options: object,
) -> int:
    """Compute and print the log of each flight in the files and folders at PATH... (`-` for standard input).

    The formats: text, the whole log; strip, html and pdf, kneeboard pages in the order of flying, with room for the
    pen; steps, what to do in words; planning, every column; markdown; csv and json for programs; gpx, kml and
    geojson for maps; item15, the route of an ICAO flight plan.

    Logs go to standard output or to the files of --output, problems to standard error. Exit status 1 where a finding
    is an error, 2 where a flight has a problem; the other flights are printed.
    """
    from navlog.request.references import References
    from navlog.rules.answers import exit_status

    targets = _targets_of(form, paths)
    forms = [one for one, _ in targets]
    every = bool(options.pop("every"))
    made = _maker(page, options, forms, every=every)
    references = References(quote_outside=quotes_outside(options))
    overrides = flight_from(options)
    what_if = compare_altitudes or wind_spread is not None
    names = _route_files(files, alone=flight is not None or what_if)
    books, unread = _read_all(names, overrides)
    inputs = (*(path for plans in books for path in files_read(plans)), *names, catalogue)
    refuse_inputs([path for path in paths if not path.endswith("/")], inputs)
    _refuse_unknown_suffixes(paths)
    if names and "route" in forms:
        raise click.UsageError("A route file is written of --route without PATH.")
    books = tuple(only_flight(plans, flight) for plans in books)
    if what_if and not set(forms) <= {"text", "json"}:
        raise click.UsageError("--compare-altitudes and --wind-spread go with --format text or json")
    with opened_catalogue(catalogue) as published:
        computed = partial(_answers_of, published, references, forms)
        found = (*unread, *(one for plans in _in_turn(books) for one in computed(plans)))
        if what_if:
            from navlog.studies.whatif import answered

            asked = partial(answered, compare_altitudes=compare_altitudes, wind_error_kt=wind_spread)
            pairs = [asked(one, books[0], published, references) for one in found]
            found = tuple(one for one, _ in pairs)
            made = partial(_what_if_sheet, pairs=pairs, every=every)
    sheets = _sheets(targets, found, overrides, made)
    print_problems(dict.fromkeys(problem for answer in found for problem in answer.problems))
    for answer in found:
        if answer.report is not None:
            tell_understood(answer.report.log.route.request.route, overrides)
    refuse_inputs([path for _, path in sheets if path is not None], inputs)
    with folders_made([path for path in paths if path.endswith("/")]):
        write_all(sheets)
    return exit_status(found)


def _maker(page: str, options: dict[str, object], forms: list[str], *, every: bool) -> Maker:
    """What makes a sheet of a format as the options ask, which are taken out of `options`.

    Raises click.UsageError for an option that no output's format has a use for.
    """
    small, wide = bool(options.pop("small")), bool(options.pop("wide"))
    behind = _extras_of(options.pop("extras"), small, forms)
    if wide and "planning" not in forms:
        raise click.UsageError("--wide goes with the format planning")
    return partial(sheet, paper=page, every=every, extras=behind, small=small, wide=wide)


def _sheets(
    targets: list[tuple[str, str | None]], found: tuple[Answer, ...], overrides: Overrides, made: Maker
) -> list[tuple[str | bytes, str | None]]:
    """What is to be written and where, None for standard output; a path that ends in / has a file for each flight."""
    sheets: list[tuple[str | bytes | None, str | None]] = []
    for form, path in targets:
        if form == "route":
            sheets.append((_route_file(found, overrides, path), path))
        elif path is not None and path.endswith("/"):
            named = zip(file_names(found, form), found, strict=True)
            sheets += [(made(form, (answer,)), f"{path}{name}") for name, answer in named]
        else:
            sheets.append((made(form, found), path))
    return [(data, path) for data, path in sheets if data is not None]


def _in_turn(books: Sequence[FlightPlans]) -> Iterable[FlightPlans]:
    """The files, with how far they have come where there are several."""
    if len(books) < 2:
        return books
    from navlog.cli.terminal import with_progress

    return with_progress(books, len(books))


def _answers_of(
    published: Catalogue | None, references: References, forms: list[str], plans: FlightPlans
) -> tuple[Answer, ...]:
    """The answers of a file's flights, with what lies around them where a sheet shows that."""
    from navlog.rules.answers import answers

    found = tuple(answers(plans, published, references))
    if not any(one in PAGED or one in DRAWN for one in forms):
        return found
    from navlog.studies.surroundings import for_sheets

    return for_sheets(found, forms, published, references)


def _route_files(paths: tuple[str, ...], *, alone: bool) -> tuple[str, ...]:
    """The route files of the paths, those of folders among them; none where there are no paths.

    Raises click.UsageError where several stand and one `alone` is asked for.
    """
    from os.path import isdir

    if len(paths) < 2 and not any(path != "-" and isdir(path) for path in paths):
        return paths
    from navlog.studies.route_files import route_files

    found = tuple(route_files(paths))
    if alone and len(found) > 1:
        raise click.UsageError("--flight, --compare-altitudes and --wind-spread go with one route file")
    return found


def _read_all(names: tuple[str, ...], overrides: Overrides) -> tuple[tuple[FlightPlans, ...], tuple[Answer, ...]]:
    """The flights of each file, and of several files those that cannot be read; one alone raises its problems."""
    if len(names) < 2:
        return (read_route_file(named_file(names[0] if names else None, overrides, "PATH"), overrides),), ()
    from navlog.rules.answers import Answer

    books, unread = [], []
    for name in names:
        try:
            books.append(read_route_file(name, overrides))
        except NavlogError as error:
            unread.append(Answer(None, name, 1, None, error.problems))
    return tuple(books), tuple(unread)


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


def _refuse_unknown_suffixes(paths: tuple[str, ...]) -> None:
    """Raise click.UsageError for a path whose suffix says nothing of what is to be in it."""
    unknown = [path for path in paths if not known_suffix(path)]
    if unknown:
        raise click.UsageError(f"{unknown[0]}: this suffix names no format; {SUFFIXES_TEXT}")


def _extras_of(text: object, small: bool, forms: list[str]) -> tuple[str, ...]:
    """What is asked for behind the knee page.

    Raises click.UsageError for a name that is none, and, for --page too, where no output is such a page.
    """
    names = tuple(name.strip() for name in str(text or "").split(",") if name.strip())
    unknown = [name for name in names if name not in EXTRAS]
    if unknown:
        raise click.UsageError(f"--with knows no `{unknown[0]}`; it adds {', '.join(EXTRAS)}")
    for option, given in (("--with", bool(names)), ("--page", is_given("page"))):
        if given and not set(PAGED) & set(forms):
            raise click.UsageError(f"{option} goes with the formats {', '.join(PAGED)}")
    if "drawings" in names and forms == ["strip"]:
        raise click.UsageError("--with drawings: a strip is text; drawings go with pdf")
    if small and "strip" not in forms:
        raise click.UsageError("--small goes with the format strip")
    return names


def _what_if_sheet(
    form: str, found: tuple[Answer, ...], *, pairs: list[tuple[Answer, WhatIf | None]], every: bool
) -> str | None:
    """The logs of `found` with what other levels and winds would do, which `pairs` has for each."""
    pairs = [(one, more) for one, more in pairs if any(one is each for each in found)]
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
