"""`navlog wind`: the wind triangle for any two unknowns."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from navlog.cli.options import (
    BURN,
    DECLINATION,
    DISTANCE,
    SPEED,
    WIND,
    Computation,
    Value,
    answer_options,
    show,
)
from navlog.computations.passage import read_groundspeed_kt
from navlog.nav.norths import Direction, read_direction

if TYPE_CHECKING:
    from navlog.nav.units import Amount
    from navlog.request.records import StatedWind

_DIRECTION = Value("direction", read_direction)


@click.command(
    "wind",
    cls=Computation,
    epilog="Example: navlog wind --course 090T --tas 120kt --wind 045/40 --variation 7E",
)
@click.option("--course", type=_DIRECTION, help="Course or track, with its north: 090T or 090M.")
@click.option("--heading", type=_DIRECTION, help="Heading, with its north: 104T or 104M.")
@click.option("--tas", type=SPEED, help="True airspeed.")
@click.option("--gs", type=Value("speed", read_groundspeed_kt), help="Groundspeed: 108kt, or as flown: 9nm/5min.")
@click.option("--wind", "wind", type=WIND, help="Wind from true north, 045/40, or magnetic, 045M/40; calm.")
@click.option("--wind-from", type=_DIRECTION, help="The wind's direction alone: 045T or 045M.")
@click.option("--wind-speed", type=SPEED, help="The wind's speed alone.")
@click.option("--variation", type=DECLINATION, help="Variation, such as 7E; needed for magnetic directions.")
@click.option("--distance", type=DISTANCE, help="Also the time that this distance takes.")
@click.option("--burn", type=BURN, help="Also the fuel for that distance.")
@answer_options
def command(form: str, workings: bool, distance: float | None, burn: Amount | None, **given: Any) -> None:
    """Solve the wind triangle: give four of course, groundspeed, heading, TAS and the wind's two parts.

    With groundspeed and TAS alone the headwind part, with a groundspeed and a distance the time.
    """
    from navlog.computations.wind_words import report
    from navlog.computations.windproblem import Given

    wind: StatedWind | None = given.pop("wind")
    if wind is not None:
        if given["wind_from"] is not None or given["wind_speed"] is not None:
            raise click.UsageError("Give --wind, or --wind-from or --wind-speed, not both.")
        given |= {"wind_from": Direction(wind.from_deg, wind.magnetic), "wind_speed": wind.speed_kt}
    known = Given(
        course=given["course"],
        groundspeed_kt=given["gs"],
        heading=given["heading"],
        tas_kt=given["tas"],
        wind_from=given["wind_from"],
        wind_speed_kt=given["wind_speed"],
        variation_deg=given["variation"],
    )
    answers = report(known, distance_nm=distance, burn=burn)
    show("wind", answers, form=form, workings=workings)
