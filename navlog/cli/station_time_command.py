"""`navlog station-time`: time and distance to a station from the change of its bearing."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from navlog.cli.options import ANGLE, BURN, SIZE, SPEED, Computation, Value, answer_options, show
from navlog.nav.units import read_stopwatch_min

if TYPE_CHECKING:
    from navlog.nav.units import Amount


@click.command(
    "station-time",
    cls=Computation,
    epilog="Example: navlog station-time --change 10 --time 75s --speed 120kt --burn 8.5gph",
)
@click.option("--change", type=SIZE, help="The change of bearing in degrees, the station abeam.")
@click.option("--radials", type=(ANGLE, ANGLE), help="Instead: the two radials or bearings, such as 360 350.")
@click.option("--relative", type=(ANGLE, ANGLE), help="Instead: two relative bearings, such as 015 030.")
@click.option(
    "--time",
    "elapsed",
    type=Value("time", read_stopwatch_min),
    required=True,
    help="Time between them: 75s, 2min30s, 7min.",
)
@click.option("--speed", type=SPEED, help="TAS or groundspeed, for the distance.")
@click.option("--burn", type=BURN, help="Fuel burn, for the fuel to the station.")
@answer_options
def command(
    *,
    change: float | None,
    radials: tuple[float, float] | None,
    relative: tuple[float, float] | None,
    elapsed: float,
    speed: float | None,
    burn: Amount | None,
    form: str,
    workings: bool,
) -> None:
    """Estimate time, distance and fuel to a station on a steady heading."""
    from navlog.computations import station_time
    from navlog.computations.station_time_words import answer

    if [change, radials, relative].count(None) != 2:
        raise click.UsageError("Give one of --change, --radials and --relative.")
    if change is not None:
        found = station_time.by_change(change_deg=change, elapsed_min=elapsed, speed_kt=speed, burn=burn)
    else:
        solve = station_time.by_radials if relative is None else station_time.by_relative_bearings
        first, second = radials or relative or (0.0, 0.0)
        found = solve(first_deg=first, second_deg=second, elapsed_min=elapsed, speed_kt=speed, burn=burn)
    show("station-time", (answer(found),), form=form, workings=workings)
