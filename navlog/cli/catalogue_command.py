"""`navlog catalogue`: published data in, and what it says."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from datetime import UTC, date, datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from navlog.cli import Commands
from navlog.cli.catalogue_option import catalogue_option
from navlog.cli.completion import PublishedName
from navlog.cli.options import IDENT, Number, in_capitals
from navlog.cli.output import ending_in_order, print_lines, write
from navlog.nav.problems import printable

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue
    from navlog.catalogue.report import Progress


def _read_date(context: click.Context, parameter: click.Parameter, value: str | None) -> date:
    del context, parameter
    if value is None:
        return datetime.now(UTC).date()
    try:
        return date.fromisoformat(value)
    except ValueError:
        raise click.BadParameter(f"{value!r} is not a date such as 2026-07-18") from None


_date_option = click.option(
    "--date", "day", metavar="DATE", callback=_read_date, help="The day asked about (default: today, UTC)."
)


_form_option = click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)


@click.group(cls=Commands, epilog="Example: navlog catalogue import 28DaySubscription_Effective_2026-05-14.zip")
def command() -> None:
    """Published stations, fixes, airports and airways: import them and ask about them."""


@command.command("import", epilog="Example: navlog catalogue import 14_May_2026_CSV.zip")
@click.argument("path", type=click.Path(path_type=Path))
@catalogue_option
def import_command(path: Path, catalogue: str) -> None:
    """Import published data from PATH, a folder, a zip or a file.

    FAA NASR in its CSV form, FAA CIFP, and OurAirports navaids.csv and airports.csv are read. The same
    source and cycle again replaces what it brought before, and fewer rows than before are said; a failed
    import changes nothing. For a catalogue apart from your own, name its file with --catalogue here and
    wherever it is asked.
    """
    from navlog.catalogue import import_data
    from navlog.catalogue.text import import_lines, rejection_lines
    from navlog.cli import echo_error

    with ending_in_order():
        if sys.stderr.isatty():
            with click.progressbar(length=1000, label="importing", file=sys.stderr) as bar:
                report = import_data(path, Path(catalogue), progress=_shown_on(bar.update))
                bar.update(1000 - bar.pos)
        else:
            report = import_data(path, Path(catalogue))
    for line in rejection_lines(report):
        echo_error(printable(line))
    print_lines(import_lines(report))
    echo_error(f"{report.rows} rows taken, {report.rejected} rejected; the catalogue is {catalogue}")


def _shown_on(update: Callable[[int], None]) -> Progress:
    shown = 0

    def progress(name: str, done: int, total: int) -> None:
        nonlocal shown
        del name
        now = min(1000, done * 1000 // max(total, 1))
        if now > shown:
            update(now - shown)
            shown = now

    return progress


@command.command("info", epilog="Example: navlog catalogue info --date 2026-07-18")
@_form_option
@catalogue_option
@_date_option
def info_command(form: str, catalogue: str, day: date) -> None:
    """Show sources, cycles and counts."""
    from navlog.catalogue import open_catalogue
    from navlog.catalogue.text import info_lines

    with open_catalogue(Path(catalogue)) as held:
        _tell("info", form, day, held.editions, lambda: info_lines(held.editions, held.sources(day), day))


@command.command("station", epilog="Example: navlog catalogue station QSK")
@click.argument("ident", type=PublishedName("station", "airport", "fix"))
@_form_option
@catalogue_option
@_date_option
def station_command(ident: str, form: str, catalogue: str, day: date) -> None:
    """Show everything published of the station IDENT, in capitals or not, beside today's variation.

    Where no station has the name, what has it: an airport or a fix.
    """
    from navlog.catalogue import open_catalogue
    from navlog.catalogue.answers import describe_stations
    from navlog.catalogue.text import station_lines

    with open_catalogue(Path(catalogue)) as held:
        if not held.stations(ident, day) and (held.airports(ident, day) or held.fixes(ident, day)):
            _tell_what_it_is(held, ident, form, day)
            return
        for number, found in enumerate(describe_stations(held, ident, day)):
            if number and form == "text":
                print_lines([""])
            lines = partial(station_lines, found.station, found.variation_deg, day, found.airways)
            _tell("station", form, day, [found], lines)


def _tell_what_it_is(held: Catalogue, ident: str, form: str, day: date) -> None:
    """Print the airports and fixes of a name that no station has."""
    from navlog.cli import echo_error

    kinds = (
        *(["an airport"] if held.airports(ident, day) else []),
        *(["a fix"] if held.fixes(ident, day) else []),
    )
    echo_error(f"{ident} is no station but {' and '.join(kinds)}")
    if held.airports(ident, day):
        _tell_airports(held, ident, form, day)
    if held.fixes(ident, day):
        _tell_fixes(held, ident, form, day)


@command.command("airport", epilog="Example: navlog catalogue airport XHAR")
@click.argument("ident", type=PublishedName("airport"))
@_form_option
@catalogue_option
@_date_option
def airport_command(ident: str, form: str, catalogue: str, day: date) -> None:
    """Show the airport IDENT, in capitals or not: position, elevation, and the VORs around it."""
    from navlog.catalogue import open_catalogue

    with open_catalogue(Path(catalogue)) as held:
        _tell_airports(held, ident, form, day)


def _tell_airports(held: Catalogue, ident: str, form: str, day: date) -> None:
    from navlog.catalogue.lookup_text import airport_lines
    from navlog.catalogue.lookups import airports_named

    for found in airports_named(held, ident, day):
        _tell("airport", form, day, [found], partial(airport_lines, found, day))


@command.command("fix", epilog="Example: navlog catalogue fix COVEY")
@click.argument("ident", type=PublishedName("fix"))
@_form_option
@catalogue_option
@_date_option
def fix_command(ident: str, form: str, catalogue: str, day: date) -> None:
    """Show the fix IDENT, in capitals or not: position, the radials and distances that make it, its airways."""
    from navlog.catalogue import open_catalogue

    with open_catalogue(Path(catalogue)) as held:
        _tell_fixes(held, ident, form, day)


def _tell_fixes(held: Catalogue, ident: str, form: str, day: date) -> None:
    from navlog.catalogue.lookup_text import fix_lines
    from navlog.catalogue.lookups import fixes_named

    for found in fixes_named(held, ident, day):
        _tell("fix", form, day, [found], partial(fix_lines, found, day))


@command.command("airway", epilog="Example: navlog catalogue airway V805")
@click.argument("ident", type=PublishedName("airway"))
@_form_option
@catalogue_option
@_date_option
def airway_command(ident: str, form: str, catalogue: str, day: date) -> None:
    """Show the airway IDENT, in capitals or not: points, radials, distances, changeovers, altitudes both ways."""
    from navlog.catalogue import open_catalogue
    from navlog.catalogue.answers import known_airways
    from navlog.catalogue.text import airway_lines

    with open_catalogue(Path(catalogue)) as held:
        for number, airway in enumerate(known_airways(held, ident, day)):
            if number and form == "text":
                print_lines([""])
            _tell("airway", form, day, [airway], partial(airway_lines, airway, day))


@command.command("between", epilog="Example: navlog catalogue between QHB QSK")
@click.argument("first", type=PublishedName("station", "fix"))
@click.argument("second", type=PublishedName("station", "fix"))
@_form_option
@catalogue_option
@_date_option
def between_command(first: str, second: str, form: str, catalogue: str, day: date) -> int:
    """Show the airways that join FIRST and SECOND, with length and highest MEA in that direction.

    Exit status 1 where none does.
    """
    from navlog.catalogue import open_catalogue
    from navlog.catalogue.lookup_text import joining_lines
    from navlog.catalogue.lookups import joining
    from navlog.cli import echo_error

    with open_catalogue(Path(catalogue)) as held:
        found = joining(held, first, second, day)
    if not found:
        echo_error(f"no airway joins {first} and {second} on {day}")
        return 1
    _tell("between", form, day, found, lambda: joining_lines(found))
    return 0


@command.command(
    "nearby",
    # Southern latitudes in decimals begin with a minus.
    context_settings={"ignore_unknown_options": True},
    epilog='Example: navlog catalogue nearby "N46 05.00 W039 02.00" --altitude 4500',
)
@click.argument("center", metavar="POSITION", type=PublishedName("station", "airport", "fix", read=str))
@click.option("--radius", default=40.0, show_default=True, type=Number(0.0, 1000.0), metavar="NM")
@click.option(
    "--altitude",
    type=Number(0.0, 60000.0),
    metavar="FT",
    help="Say which stations are received so high: by horizon, service volume, unusable sectors.",
)
@_form_option
@catalogue_option
@_date_option
def nearby_command(*, center: str, radius: float, altitude: float | None, form: str, catalogue: str, day: date) -> None:
    """Show the stations and airports around POSITION, or around what has that name, nearest first.

    `radial` is that of the station on which POSITION lies, `course` the true one from POSITION to the place.
    """
    from navlog.catalogue import open_catalogue
    from navlog.catalogue.answers import AROUND
    from navlog.catalogue.lookups import place_at
    from navlog.catalogue.reception import neighbours
    from navlog.catalogue.text import neighbour_lines
    from navlog.cli import echo_error
    from navlog.nav.angles import read_position
    from navlog.request.route_line import is_identifier

    with open_catalogue(Path(catalogue)) as held:
        if is_identifier(center.strip().upper()):
            name, position = place_at(held, in_capitals(center.strip()), day)
            echo_error(printable(f"around {name}"))
        else:
            position = read_position(center)
        found = neighbours(held.nearby(position, radius, day, AROUND), position, altitude)
        _tell("nearby", form, day, found, lambda: neighbour_lines(found, altitude))


def _tell(kind: str, form: str, day: date, records: Iterable[object], lines: Callable[[], Iterable[str]]) -> None:
    """Print an answer in the form asked for."""
    if form == "text":
        print_lines(lines())
        return
    from navlog.catalogue.lookup_json import answer_lines

    write(answer_lines(kind, day, records), None)


@command.command("audit", epilog="Example: navlog catalogue audit V805 --length 0.5")
@click.argument("idents", nargs=-1, type=IDENT, metavar="[AIRWAY]...")
@click.option(
    "--course",
    default=0.1,
    show_default=True,
    type=Number(0.0, 180.0),
    metavar="DEG",
    help="List courses that are more than this off.",
)
@click.option(
    "--length",
    default=0.1,
    show_default=True,
    type=Number(0.0, 1000.0),
    metavar="NM",
    help="List lengths that are more than this off.",
)
@click.option(
    "--changeover",
    default=1.0,
    show_default=True,
    type=Number(0.0, 1000.0),
    metavar="NM",
    help="List changeover points of which two figures differ by this or more.",
)
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
@catalogue_option
@_date_option
def audit_command(
    *, idents: tuple[str, ...], course: float, length: float, changeover: float, form: str, catalogue: str, day: date
) -> int:
    """Measure airways again: published against computed courses, lengths and changeover points.

    All airways, or those named, in capitals or not. Exit status 1 where something disagrees.
    """
    from navlog.catalogue import open_catalogue
    from navlog.catalogue.answers import airways_to_audit
    from navlog.catalogue.audit import AuditLimits, audit
    from navlog.catalogue.audit_text import audit_json, audit_lines
    from navlog.cli import echo_error

    with open_catalogue(Path(catalogue)) as held:
        names = airways_to_audit(held, idents, day)
        found = audit(held, names, day, AuditLimits(course, length, changeover))
    if form == "json":
        write(audit_json(found), None)
    else:
        print_lines(audit_lines(found))
    echo_error(f"{found.disagreements} figures of {found.airways} airways disagree")
    return 1 if found.disagreements else 0
