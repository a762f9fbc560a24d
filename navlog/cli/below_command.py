"""`navlog below`: the highest ground below a place or a course."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from navlog.cli.options import DISTANCE, Computation, in_capitals
from navlog.cli.stations import GivenStation, station_options
from navlog.cli.terrain_option import terrain_option

if TYPE_CHECKING:
    from navlog.computations.answer import Solution
    from navlog.nav.chart import Position


@click.command(
    "below",
    cls=Computation,
    epilog='Example: navlog below "N46 05.00 W039 02.00" QHB --from examples/round_robin.route'
    " --terrain examples/terrain",
)
@click.argument("places", nargs=-1, required=True, metavar="PLACE [PLACE]")
@station_options
@terrain_option
@click.option(
    "--radius",
    type=DISTANCE,
    default="4nm",
    show_default=True,
    help="How far from the place, or either side of the course.",
)
def command(
    *, places: tuple[str, ...], given: GivenStation, terrain_folder: str | None, radius: float
) -> tuple[Solution, ...]:
    """Give the highest ground near PLACE, or near the course from one PLACE to another, and the minimum over it.

    A PLACE is a position or a station, given as for `navlog position`. The minimum by terrain is the highest
    ground, with the tolerance that its source states, plus 1,000 ft, or 2,000 in the mountainous areas of 14 CFR
    95. It is computed, never a clearance.
    """
    if len(places) > 2:
        raise click.UsageError("Give one place, or two for the course between them.")
    if terrain_folder is None:
        raise click.UsageError("Give --terrain with the folder of the tiles, or set NAVLOG_TERRAIN.")
    from navlog.computations.below import answer, solve
    from navlog.nav.terrain import open_terrain

    terrain = open_terrain(terrain_folder)
    start, *others = _positions(places, given)
    return (answer(solve(terrain, start, others[0] if others else None, radius)),)


def _positions(places: tuple[str, ...], given: GivenStation) -> list[Position]:
    """Where the places are; raises the problem of one that is neither a position nor a station with one."""
    from navlog.nav.angles import read_position
    from navlog.nav.problems import problem_error

    named = tuple(in_capitals(place) for place in places if place.isascii() and place.isalpha())
    known = {station.ident: station.position for station in given.stations(named)} if named else {}
    found = []
    for place in places:
        position = known[in_capitals(place)] if in_capitals(place) in known else read_position(place)
        if position is None:
            raise problem_error("no-position", f"the station `{in_capitals(place)}` has no position")
        found.append(position)
    return found
