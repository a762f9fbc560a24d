"""`navlog revise`: in flight, from actual times and fuel to new arrivals and the reserve."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from navlog.cli.catalogue_option import catalogue_option, opened_catalogue
from navlog.cli.completion import flights_of_file
from navlog.cli.flightfile import flight_overrides, sole_flight
from navlog.cli.options import Value
from navlog.cli.output import write
from navlog.nav.units import read_fuel

if TYPE_CHECKING:
    from navlog.nav.units import Amount


@click.command(
    "revise",
    epilog="Example: navlog revise examples/round_robin.route --at QHB 15:17 --at cop 15:25 --fuel 34.5gal",
)
@click.argument("file", required=False, type=click.Path(allow_dash=True))
@click.option(
    "--at",
    "actuals",
    nargs=2,
    multiple=True,
    metavar="POINT TIME",
    help="A point passed, and when, UTC; `cop` is the next changeover point. In the order flown.",
)
@click.option(
    "--heading",
    "headings",
    nargs=2,
    multiple=True,
    metavar="POINT HEADING",
    help="The heading that held the course to a point passed: QEL 213M. It tells the whole wind; the latest counts.",
)
@click.option(
    "--fuel",
    type=Value("fuel", read_fuel),
    help="Usable fuel on board at the last point passed; where tanks are filled there, on landing, or after it where"
    " that is nearer to the plan.",
)
@click.option("--flight", metavar="NAME", shell_complete=flights_of_file, help="The flight, where FILE has several.")
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
@catalogue_option
@flight_overrides
def command(
    *,
    file: str | None,
    actuals: tuple[tuple[str, str], ...],
    headings: tuple[tuple[str, str], ...],
    fuel: Amount | None,
    flight: str | None,
    form: str,
    catalogue: str,
    **options: object,
) -> int:
    """Re-figure the flight of FILE from the times at points passed and the fuel on board.

    Gives the groundspeed made good and the headwind part it means, the wind found, new arrivals, the fuel at
    the destination and whether the reserve still holds; where not, the fields within reach. Where the reading is
    more than 1 gal under what the planned burn leaves by then, however few minutes after take-off, the same at the
    measured burn stands before it. Notices count ahead by the clock as it runs. --off is the actual take-off. Exit
    status 1 when the reserve is lost by either.
    """
    from navlog.studies.revision import AsWritten, revise
    from navlog.studies.revision_json import revision_json
    from navlog.studies.revision_text import revision_text

    with opened_catalogue(catalogue) as published:
        log, request, references = sole_flight(file, options, flight, published)
        written = AsWritten(request, references, published)
        revision = revise(log, actuals=actuals, headings=headings, fuel=fuel, around=published, written=written)
    write(revision_json(revision) if form == "json" else revision_text(revision), None)
    return 1 if revision.reserve_holds is False else 0
