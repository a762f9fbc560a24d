"""`navlog intercept`: the heading that meets a radial, and where; what a needle's deflection means."""

from __future__ import annotations

from typing import Any

import click

from navlog.cli.options import ANGLE, DISTANCE, SIZE, SPEED, Computation, Value, answer_options, show


def _deflection(text: str) -> float:
    from navlog.computations.intercept import read_deflection_deg

    return read_deflection_deg(text)


@click.command(
    "intercept",
    cls=Computation,
    epilog="Example: navlog intercept --present 215 --radial 230 --inbound --heading 310 --distance 20nm --gs 110kt",
)
@click.option("--present", type=ANGLE, help="The radial you are on.")
@click.option("--radial", type=ANGLE, help="The radial to meet.")
@click.option("--course", type=ANGLE, help="Instead of the radial: the course to fly on it.")
@click.option("--inbound", is_flag=True, help="You will fly the radial to the station.")
@click.option("--outbound", is_flag=True, help="You will fly it from the station.")
@click.option("--heading", type=ANGLE, help="Your heading now, magnetic: which way to turn.")
@click.option("--angle", type=SIZE, help="Intercept angle; else twice the degrees off, from 20 to 45.")
@click.option("--distance", type=DISTANCE, help="Distance from the station now.")
@click.option("--gs", type=SPEED, help="Groundspeed: how long it takes.")
@click.option("--selector", type=ANGLE, help="What the course selector is set to now.")
@click.option(
    "--deflection", type=Value("deflection", _deflection), help="A needle's deflection, 2dots or 4deg: how far off."
)
@click.option("--off", type=DISTANCE, help="A distance off the radial: what the needle shows.")
@answer_options
def command(form: str, workings: bool, **given: Any) -> None:
    """Give the turn, heading, distance and time to meet a radial, and what the needle shows.

    With --deflection or --off, and --distance, turn dots and degrees into miles off the radial and back.
    """
    from navlog.computations import intercept
    from navlog.computations.intercept_words import answer, needle

    if given["deflection"] is not None or given["off"] is not None:
        if given["distance"] is None or (given["deflection"] is None) == (given["off"] is None):
            raise click.UsageError("Give --deflection or --off, and --distance.")
        if given["off"] is None:
            shown = intercept.needle_from_deflection(given["deflection"], given["distance"])
        else:
            shown = intercept.needle_from_offset(given["off"], given["distance"])
        show("intercept", (needle(shown),), form=form, workings=workings)
        return
    if given["present"] is None or given["inbound"] == given["outbound"]:
        raise click.UsageError("Give --present and --inbound or --outbound.")
    if (given["radial"] is None) == (given["course"] is None):
        raise click.UsageError("Give --radial or --course.")
    way = intercept.Way.INBOUND if given["inbound"] else intercept.Way.OUTBOUND
    radial_deg = given["radial"]
    if radial_deg is None:
        radial_deg = intercept.radial_of_course(given["course"], way)
    found = intercept.solve(
        present_radial_deg=given["present"],
        radial_deg=radial_deg,
        way=way,
        angle_deg=given["angle"],
        heading_deg=given["heading"],
        distance_nm=given["distance"],
        groundspeed_kt=given["gs"],
        selector_deg=given["selector"],
    )
    show("intercept", (answer(found),), form=form, workings=workings)
