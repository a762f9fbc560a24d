"""The computations of the air and of time: `navlog wind`, `airspeed`, `descent`; options and a call each."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from navlog.cli.options import (
    BURN,
    DECLINATION,
    DISTANCE,
    ELAPSED,
    LEVEL,
    PRESSURE,
    SIZE,
    SPEED,
    TEMPERATURE,
    WIND,
    Computation,
    Value,
)
from navlog.computations.passage import read_groundspeed_kt
from navlog.nav.norths import Direction, read_direction
from navlog.nav.units import read_gradient_ft_per_nm, read_mach, read_rate_ft_min

if TYPE_CHECKING:
    from navlog.computations.answer import Solution
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
@click.option("--wind", type=WIND, help="Wind from true north, 045/40, or magnetic, 045M/40; calm.")
@click.option("--wind-from", type=_DIRECTION, help="The wind's direction alone: 045T or 045M.")
@click.option("--wind-speed", type=SPEED, help="The wind's speed alone.")
@click.option("--variation", type=DECLINATION, help="Variation, such as 7E; needed for magnetic directions.")
@click.option("--distance", type=DISTANCE, help="Also the time that this distance takes.")
@click.option("--burn", type=BURN, help="Also the fuel for that distance.")
def wind(distance: float | None, burn: Amount | None, **given: Any) -> tuple[Solution, ...]:
    """Solve the wind triangle: give four of course, groundspeed, heading, TAS and the wind's two parts.

    With groundspeed and TAS alone the headwind part, with a groundspeed and a distance the time.
    """
    from navlog.computations.windproblem import Given, answers

    blowing: StatedWind | None = given["wind"]
    if blowing is not None:
        if given["wind_from"] is not None or given["wind_speed"] is not None:
            raise click.UsageError("Give --wind, or --wind-from or --wind-speed, not both.")
        given |= {"wind_from": Direction(blowing.from_deg, blowing.magnetic), "wind_speed": blowing.speed_kt}
    known = Given(
        course=given["course"],
        groundspeed_kt=given["gs"],
        heading=given["heading"],
        tas_kt=given["tas"],
        wind_from=given["wind_from"],
        wind_speed_kt=given["wind_speed"],
        variation_deg=given["variation"],
    )
    return answers(known, distance_nm=distance, burn=burn)


@click.command(
    "airspeed", cls=Computation, epilog="Example: navlog airspeed 10000ft -10C --cas 150kt --altimeter 29.92inHg"
)
@click.argument("level", type=LEVEL)
@click.argument("temperature", type=TEMPERATURE, required=False)
@click.option("--cas", type=SPEED, help="Calibrated airspeed.")
@click.option("--tas", type=SPEED, help="True airspeed.")
@click.option("--mach", type=Value("number", read_mach), help="Mach number.")
@click.option("--altimeter", type=PRESSURE, help="Altimeter setting: 1013hPa or 29.92inHg.")
def airspeed(level: tuple[float, bool], **given: Any) -> tuple[Solution, ...]:
    """Compute airspeeds and altitudes at LEVEL (5500ft, FL085) and TEMPERATURE (-10C, 23F; else standard)."""
    from navlog.computations.airspeed import answer, solve

    altitude_ft, flight_level = level
    found = solve(
        level_ft=altitude_ft,
        flight_level=flight_level,
        altimeter_hpa=given["altimeter"],
        temperature_c=given["temperature"],
        cas_kt=given["cas"],
        tas_kt=given["tas"],
        mach=given["mach"],
    )
    return (answer(found),)


@click.command(
    "descent",
    cls=Computation,
    epilog="Example: navlog descent --start 6500ft --end 1500ft --rate 500 --gs 108kt --burn 8.5gph",
)
@click.option("--start", type=LEVEL, help="Height at the beginning: 6500ft or FL310.")
@click.option("--end", type=LEVEL, help="Height at the end; above the start it is a climb.")
@click.option("--gs", type=SPEED, help="Groundspeed; a rate or a time needs it.")
@click.option("--rate", type=Value("rate", read_rate_ft_min), help="Rate: 500 or 500ft/min.")
@click.option("--gradient", type=Value("gradient", read_gradient_ft_per_nm), help="Gradient: 350 or 350ft/nm.")
@click.option("--angle", type=SIZE, help="Angle of the path in degrees: 3.")
@click.option("--distance", type=DISTANCE, help="Distance over which to do it.")
@click.option("--time", type=ELAPSED, help="Time in which to do it.")
@click.option("--level", type=DISTANCE, default="0", help="How far before the point to be level.")
@click.option("--burn", type=BURN, help="Fuel burn, for the fuel on the way.")
def descent(**given: Any) -> tuple[Solution, ...]:
    """Compute a descent or climb from one of rate, gradient, angle, distance and time.

    Without heights a slope turns into a rate; without a groundspeed there is no rate and no time.
    """
    from navlog.computations.descent import Slope, answer, solve

    found = solve(
        Slope(given["rate"], given["gradient"], given["angle"], given["distance"], given["time"]),
        from_ft=None if given["start"] is None else given["start"][0],
        to_ft=None if given["end"] is None else given["end"][0],
        groundspeed_kt=given["gs"],
        level_nm=given["level"],
        burn=given["burn"],
    )
    return (answer(found),)
