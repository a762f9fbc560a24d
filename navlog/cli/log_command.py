"""`navlog log`: compute and print the log of each flight of a route file."""

from __future__ import annotations

import click

from navlog.cli.catalogue_option import catalogue_option, opened_catalogue
from navlog.cli.flightfile import flight_overrides, only_flight, overrides_from, read_route_file
from navlog.cli.output import print_problems, write


@click.command("log", epilog="Example: navlog log examples/round_robin.route --wind 230/15")
@click.argument("file", type=click.Path(allow_dash=True))
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
@click.option("--flight", metavar="NAME", help="Only the flight of that name.")
@click.option("-o", "--output", metavar="PATH", help="Write to a file, whole or not at all.")
@catalogue_option
@flight_overrides
def command(file: str, form: str, flight: str | None, output: str | None, catalogue: str, **options: object) -> int:
    """Compute and print the VOR navigation log of each flight in FILE (`-` for standard input)."""
    from navlog.answers import answers, exit_status

    plans = only_flight(read_route_file(file, overrides_from(options)), flight)
    with opened_catalogue(catalogue) as published:
        found = tuple(answers(plans, published))
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
