"""`navlog below`: the highest ground below a place or a course."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from navlog.cli.options import DISTANCE, Computation, in_capitals
from navlog.cli.stations import GivenStation, station_options

if TYPE_CHECKING:
    from navlog.computations.answer import Solution
    from navlog.nav.chart import Position
    from navlog.nav.corridor import Corridor
    from navlog.nav.obstacles import Obstacle


@click.command(
    "below",
    cls=Computation,
    epilog='Example: navlog below "N46 05.00 W039 02.00" QHB --from examples/round_robin.route'
    " --terrain examples/terrain",
)
@click.argument("places", nargs=-1, required=True, metavar="PLACE [PLACE]")
@station_options
@click.option(
    "--terrain",
    "terrain_folder",
    metavar="FOLDER",
    envvar="NAVLOG_TERRAIN",
    help="The folder of terrain tiles, SRTM .hgt, DTED or GeoTIFF (default: NAVLOG_TERRAIN).",
)
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
    """Give the highest ground and obstacle near PLACE, or near the course from one PLACE to another.

    A PLACE is a position, or the identifier of a station, airport or fix: a station given as for `navlog position`,
    one that the route file of --from states, or a published one. The minimum by terrain is the highest
    ground or obstacle, with the tolerance that its source states, plus 1,000 ft, or 2,000 in the mountainous areas
    of 14 CFR 95. It is computed, never a clearance. Obstacles are those of the catalogue. A course is at most
    1000 NM long.
    """
    if len(places) > 2:
        raise click.UsageError("Give one place, or two for the course between them.")
    if terrain_folder is None:
        raise click.UsageError("Give --terrain with the folder of the tiles, or set NAVLOG_TERRAIN.")
    from navlog.computations.below import answer, course_of, solve
    from navlog.nav.terrain import open_terrain

    terrain = open_terrain(terrain_folder)
    start, *others = _positions(places, given)
    course = course_of(start, others[0] if others else None, radius)
    return (answer(solve(terrain, course, _obstacles(course, given))),)


def _obstacles(course: Corridor, given: GivenStation) -> tuple[Obstacle, ...] | None:
    """What the catalogue knows near a course, its source told on standard error; None without a catalogue of any."""
    from datetime import UTC, datetime

    from navlog.catalogue.obstacles import obstacles_near
    from navlog.catalogue.text import source_text, use_text
    from navlog.cli import echo_error
    from navlog.cli.catalogue_option import opened_catalogue

    day = given.day or datetime.now(UTC).date()
    with opened_catalogue(given.catalogue) as catalogue:
        known = None if catalogue is None else obstacles_near(catalogue, course, day)
    if known is None:
        return None
    for told in known.sources:
        echo_error(f"obstacles: {source_text(told)}{use_text(told, (told,), day)}")
    return known.found


def _positions(places: tuple[str, ...], given: GivenStation) -> list[Position]:
    """Where the places are; raises the problem of one that is neither a position nor a place that is known."""
    from navlog.nav.angles import read_position
    from navlog.nav.problems import NavlogError
    from navlog.request.route_line import is_identifier

    found: dict[str, Position] = {}
    for place in places:
        try:
            found[place] = read_position(place)
        except NavlogError:
            if not is_identifier(in_capitals(place)):
                raise
    names = tuple(dict.fromkeys(in_capitals(place) for place in places if place not in found))
    known = given.positions(names) if names else {}
    return [found[place] if place in found else known[in_capitals(place)] for place in places]
