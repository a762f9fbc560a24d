"""`navlog log`: compute and print the log of each flight of a route file."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from navlog.cli.catalogue_option import catalogue_option, opened_catalogue
from navlog.cli.flightfile import flight_overrides, only_flight, overrides_from, read_route_file
from navlog.cli.options import SPEED
from navlog.cli.output import print_problems, write

if TYPE_CHECKING:
    from navlog.answers import Answer
    from navlog.request import FlightPlans


@click.command("log", epilog="Example: navlog log examples/round_robin.route --wind 230/15")
@click.argument("file", type=click.Path(allow_dash=True))
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
@click.option("--flight", metavar="NAME", help="Only the flight of that name.")
@click.option("-o", "--output", metavar="PATH", help="Write to a file, whole or not at all.")
@click.option("--compare-altitudes", is_flag=True, help="Add time and fuel at each level up to the `ceiling`.")
@click.option("--wind-spread", type=SPEED, metavar="KNOTS", help="Add the range of time and fuel in winds so far off.")
@catalogue_option
@flight_overrides
def command(
    file: str,
    form: str,
    flight: str | None,
    output: str | None,
    compare_altitudes: bool,
    wind_spread: float | None,
    catalogue: str,
    **options: object,
) -> int:
    """Compute and print the VOR navigation log of each flight in FILE (`-` for standard input)."""
    from navlog.answers import answers, exit_status

    plans = only_flight(read_route_file(file, overrides_from(options)), flight)
    with opened_catalogue(catalogue) as published:
        found = tuple(answers(plans, published))
    if compare_altitudes or wind_spread is not None:
        return with_what_if(found, plans, form, output, compare_altitudes, wind_spread)
    for one in found:
        print_problems(one.problems)
    reports = [one.report for one in found if one.report is not None]
    if form == "json":
        from navlog.sheets.json_lines import json_line

        write("".join(json_line(one) + "\n" for one in found), output)
    elif reports:
        from navlog.sheets.text import SHEET_BREAK, text_log

        write(SHEET_BREAK.join(text_log(report) for report in reports), output)
    return exit_status(found)


def with_what_if(
    found: tuple[Answer, ...],
    plans: FlightPlans,
    form: str,
    output: str | None,
    compare_altitudes: bool,
    wind_error_kt: float | None,
) -> int:
    """Print the logs with what other levels and winds would do."""
    from navlog.answers import exit_status
    from navlog.whatif import answered

    if form not in ("text", "json"):
        raise click.UsageError("--compare-altitudes and --wind-spread go with --format text or json")
    pairs = [answered(one, plans, compare_altitudes=compare_altitudes, wind_error_kt=wind_error_kt) for one in found]
    for one, _ in pairs:
        print_problems(one.problems)
    if form == "json":
        from navlog.sheets.whatif_json import json_line_with

        write("".join(json_line_with(one, more) + "\n" for one, more in pairs), output)
    else:
        from navlog.sheets.text import SHEET_BREAK, text_log
        from navlog.sheets.whatif_text import what_if_text

        sheets = [
            text_log(one.report) + what_if_text(one.report.log, more)
            for one, more in pairs
            if one.report is not None and more is not None
        ]
        if sheets:
            write(SHEET_BREAK.join(sheets), output)
    return exit_status(one for one, _ in pairs)
