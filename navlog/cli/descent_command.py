"""`navlog descent`: rate, distance, angle and start of a descent or climb."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from navlog.cli.options import (
    BURN,
    DISTANCE,
    ELAPSED,
    LEVEL,
    SIZE,
    SPEED,
    Computation,
    Value,
    answer_options,
    show,
)
from navlog.nav.units import read_gradient_ft_per_nm, read_rate_ft_min

if TYPE_CHECKING:
    from navlog.nav.units import Amount


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
@answer_options
def command(form: str, workings: bool, burn: Amount | None, **given: Any) -> None:
    """Compute a descent or climb from one of rate, gradient, angle, distance and time.

    Without heights a slope turns into a rate; without a groundspeed there is no rate and no time.
    """
    from navlog.computations.descent import Slope, solve
    from navlog.computations.descent_words import answer

    found = solve(
        Slope(given["rate"], given["gradient"], given["angle"], given["distance"], given["time"]),
        from_ft=None if given["start"] is None else given["start"][0],
        to_ft=None if given["end"] is None else given["end"][0],
        groundspeed_kt=given["gs"],
        level_nm=given["level"],
        burn=burn,
    )
    show("descent", (answer(found),), form=form, workings=workings)
