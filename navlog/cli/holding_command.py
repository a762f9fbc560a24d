"""`navlog holding`: entry, timing, speed limit and wind-corrected headings of a holding pattern."""

from __future__ import annotations

from typing import Any

import click

from navlog.cli.options import ALTITUDE, ANGLE, DECLINATION, SPEED, WIND, Computation, answer_options, show


@click.command(
    "holding",
    cls=Computation,
    epilog="Example: navlog holding --inbound 360 --heading 070 --altitude 5000ft --tas 110kt --wind 240M/20",
)
@click.option("--inbound", type=ANGLE, required=True, help="Inbound course, magnetic.")
@click.option("--heading", type=ANGLE, required=True, help="Heading on reaching the fix, magnetic.")
@click.option("--altitude", type=ALTITUDE, required=True, help="Altitude above mean sea level.")
@click.option("--turns", type=click.Choice(["right", "left"]), default="right", show_default=True)
@click.option("--rules", type=click.Choice(["us", "icao"]), default="us", show_default=True, help="Speeds and timing.")
@click.option("--tas", type=SPEED, help="True airspeed, with --wind: the corrected headings.")
@click.option("--wind", type=WIND, help="Wind from magnetic north, 240M/20, or true, 240/20; calm.")
@click.option("--variation", type=DECLINATION, help="Variation, for a true wind.")
@answer_options
def command(form: str, workings: bool, **given: Any) -> None:
    """Give the entry to a holding pattern, how it is timed and how fast it may be flown."""
    from navlog.computations.holding import Rules, Turns, solve
    from navlog.computations.holding_words import answer

    found = solve(
        inbound_course_deg=given["inbound"],
        heading_deg=given["heading"],
        altitude_ft=given["altitude"],
        turns=Turns(given["turns"]),
        rules=Rules(given["rules"]),
        tas_kt=given["tas"],
        wind=given["wind"],
        variation_deg=given["variation"],
    )
    show("holding", (answer(found),), form=form, workings=workings)
