"""`navlog mark`: pilots' own figures against the computed ones, of one or of a class."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from navlog.cli.catalogue_option import catalogue_option, opened_catalogue
from navlog.cli.completion import flights_of_file
from navlog.cli.flightfile import flight_overrides, read_bytes, sole_log
from navlog.cli.options import DISTANCE, ELAPSED, SIZE, SPEED
from navlog.cli.output import print_lines, print_problems, write
from navlog.nav.problems import NavlogError, in_order

if TYPE_CHECKING:
    from navlog.flightlog.records import Log
    from navlog.studies.marking import Marking, Tolerances

_TOLERANCES = ("angle_deg", "speed_kt", "time_min", "distance_nm", "fuel")


@click.command("mark", epilog="Example: navlog mark examples/round_robin.route answers.csv --degrees 2")
@click.argument("file", required=False, type=click.Path(allow_dash=True))
@click.argument("answers", type=click.Path(allow_dash=True), nargs=-1, metavar="ANSWERS...")
@click.option("--template", is_flag=True, help="Write an empty file of answers for FILE instead of marking one.")
@click.option(
    "--degrees", "angle_deg", type=SIZE, default="1", show_default=True, help="How far directions may be off."
)
@click.option(
    "--knots", "speed_kt", type=SPEED, default="1", show_default=True, help="How far groundspeeds may be off."
)
@click.option("--minutes", "time_min", type=ELAPSED, default="1", show_default=True, help="How far times may be off.")
@click.option(
    "--miles", "distance_nm", type=DISTANCE, default="0.5", show_default=True, help="How far distances may be."
)
@click.option("--fuel", metavar="FUEL", help="How far fuel may be off (default: 0.1 gal; 1 L, lb or kg).")
@click.option("--flight", metavar="NAME", shell_complete=flights_of_file, help="The flight, where FILE has several.")
@click.option("--format", "form", type=click.Choice(["text", "json", "csv"]), default="text", show_default=True)
@catalogue_option
@flight_overrides
def command(
    *,
    file: str | None,
    answers: tuple[str, ...],
    template: bool,
    flight: str | None,
    form: str,
    catalogue: str,
    **options: Any,
) -> int:
    """Mark a pilot's own figures in ANSWERS, a CSV file, against the log of FILE; of several, or a folder, a class.

    A row a leg, `leg` and any of: true_course, magnetic_course, set_course, flag, wca, true_heading,
    magnetic_heading, compass_heading, heading, groundspeed, changeover, distance, time, eta, fuel_used, fuel_left,
    told_by; leg `total` for the totals, `alternate XOLD 1` for those of an alternate. told_by says what tells the leg's
    end: `QEL 134`, `QHB DME 12.1`. Cells may stay empty. What is off is shown with the slip that would explain it.
    With several a table of the class follows, with the slips by kind; --format csv gives it alone, a row a pilot, for
    a gradebook. Exit status 1 when a figure is off.
    """
    from navlog.studies.class_table import answer_files, is_sheet

    if options["route"] is not None and file is not None and (not answers or is_sheet(file)):
        answers, file = (file, *answers), None
    if template == bool(answers):
        raise click.UsageError("Give the ANSWERS to mark, or --template to write an empty file of them.")
    if (file == "-" and "-" in answers) or answers.count("-") > 1:
        raise click.UsageError("FILE and ANSWERS cannot both be standard input, nor two of ANSWERS.")
    with opened_catalogue(catalogue) as published:
        log = sole_log(file, options, flight, published)
    from navlog.studies import marking

    if template:
        write(marking.template(log), None)
        return 0
    tolerances = marking.tolerances(log.fuel_unit, **{name: options[name] for name in _TOLERANCES})
    files = answer_files(answers)
    found, status = [], 0
    for name in files:
        try:
            found.append((name, _marked(name, log, tolerances)))
        except NavlogError as error:
            # Of a class the others are marked all the same.
            print_problems(in_order(error.problems))
            status = 2
    _show(found, form, a_class=len(files) > 1)
    off = any(one.count(marking.MarkedVerdict.OFF) for _, one in found)
    return status or int(off)


def _marked(file: str, log: Log, tolerances: Tolerances) -> Marking:
    """The marking of one file of answers; raises the file's problems."""
    from navlog.request.lexer import decode
    from navlog.studies import marking

    given = marking.read_answers(decode(read_bytes(file), file, "a file of answers"), file, log)
    return marking.mark(log, given, tolerances)


def _show(found: list[tuple[str, Marking]], form: str, *, a_class: bool) -> None:
    """Print each marking, and the table of a class."""
    from navlog.studies.batch import csv_text
    from navlog.studies.class_table import PilotMarked, class_lines, class_rows, pilot_of
    from navlog.studies.marking_text import marking_json, marking_text

    if not found:
        return
    pilots = [PilotMarked(pilot_of(file), one) for file, one in found]
    if form == "csv":
        write(csv_text(class_rows(pilots)), None)
    elif form == "json":
        write("".join(marking_json(one, file) for file, one in found), None)
    else:
        write("\n".join(marking_text(one, file) for file, one in found), None)
        if a_class:
            print_lines(["", *class_lines(pilots)])
