"""`navlog position`: the radials and distances of stations from a position."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from navlog.cli.options import ALTITUDE, ANGLE, Computation, Value, answer_options, show
from navlog.cli.stations import Given, station_options
from navlog.nav.angles import read_position

if TYPE_CHECKING:
    from navlog.computations.answer import Answer
    from navlog.nav.chart import Position


@click.command(
    "position",
    cls=Computation,
    epilog='Example: navlog position "N46 05.00 W039 02.00" --from examples/round_robin.route --altitude 5500ft',
)
@click.argument("position", type=Value("position", read_position), required=False)
@station_options
@click.option("--altitude", type=ALTITUDE, help="Your altitude, for what each DME reads.")
@click.option(
    "--centred",
    type=(ANGLE, click.Choice(["TO", "FROM"])),
    help="Instead of a position: the course and flag with the needle centred, such as 035 TO.",
)
@answer_options
def command(
    *,
    position: Position | None,
    given: Given,
    altitude: float | None,
    centred: tuple[float, str] | None,
    form: str,
    workings: bool,
) -> None:
    """Give the radial, course TO and distance of each station from POSITION, the nearest first.

    Stations are given with --station or --from, or named with --station and taken from the catalogue. Or say
    what radial you are on: --centred 035 TO is the 215 radial.
    """
    from navlog.computations import fixing_words as words
    from navlog.computations.fixing import position_bearings, radial_on_needle
    from navlog.nav.guidance import Flag

    if (position is None) == (centred is None):
        raise click.UsageError("Give a POSITION, or --centred with a course and TO or FROM.")
    if centred is not None:
        if given.typed or given.route_file is not None or altitude is not None:
            raise click.UsageError("--centred needs no stations: leave out --station, --from and --altitude.")
        answers: tuple[Answer, ...] = (words.radial(radial_on_needle(centred[0], Flag(centred[1]))),)
    else:
        assert position is not None
        answers = words.position(position_bearings(position, given.stations(), altitude_ft=altitude))
    show("position", answers, form=form, workings=workings)
