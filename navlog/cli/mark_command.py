"""`navlog mark`: a pilot's own figures against the computed ones."""

from __future__ import annotations

from typing import Any

import click

from navlog.cli.catalogue_option import catalogue_option, opened_catalogue
from navlog.cli.completion import flights_of_file
from navlog.cli.flightfile import flight_overrides, read_bytes, sole_log
from navlog.cli.options import DISTANCE, ELAPSED, SIZE, SPEED
from navlog.cli.output import write

_TOLERANCES = ("angle_deg", "speed_kt", "time_min", "distance_nm", "fuel")


@click.command("mark", epilog="Example: navlog mark examples/round_robin.route answers.csv --degrees 2")
@click.argument("file", required=False, type=click.Path(allow_dash=True))
@click.argument("answers", type=click.Path(allow_dash=True), required=False)
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
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
@catalogue_option
@flight_overrides
def command(
    *,
    file: str | None,
    answers: str | None,
    template: bool,
    flight: str | None,
    form: str,
    catalogue: str,
    **options: Any,
) -> int:
    """Mark a pilot's own figures in ANSWERS, a CSV file, against the log of FILE.

    A row a leg, `leg` and any of: true_course, magnetic_course, set_course, flag, wca, true_heading,
    magnetic_heading, compass_heading, heading, groundspeed, changeover, distance, time, eta, fuel_used, fuel_left,
    told_by;
    leg `total` for the totals, `alternate XOLD 1` for those of an alternate. told_by says what tells the leg's end:
    `QEL 134`, `QHB DME 12.1`. Cells may stay empty. What is off is shown with the slip that would explain it.
    Exit status 1 when a figure is off.
    """
    if options["route"] is not None and answers is None:
        file, answers = None, file
    if template != (answers is None):
        raise click.UsageError("Give the ANSWERS to mark, or --template to write an empty file of them.")
    if answers is not None and file == answers == "-":
        raise click.UsageError("FILE and ANSWERS cannot both be standard input.")
    with opened_catalogue(catalogue) as published:
        log = sole_log(file, options, flight, published)
    from navlog.studies import marking

    if answers is None:
        write(marking.template(log), None)
        return 0
    from navlog.request.lexer import decode
    from navlog.studies.marking_text import marking_json, marking_text

    given = marking.read_answers(decode(read_bytes(answers), answers, "a file of answers"), answers, log)
    tolerances = marking.tolerances(log.fuel_unit, **{name: options[name] for name in _TOLERANCES})
    marked = marking.mark(log, given, tolerances)
    write(marking_json(marked, answers) if form == "json" else marking_text(marked, answers), None)
    return 1 if marked.count(marking.MarkedVerdict.OFF) else 0
