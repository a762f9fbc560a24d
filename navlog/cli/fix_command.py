"""`navlog fix`: where two radials, or a radial and a distance, put a fix."""

from __future__ import annotations

import click

from navlog.cli.options import ALTITUDE, SIZE, Computation, answer_options, show
from navlog.cli.stations import Given, station_options


@click.command(
    "fix",
    cls=Computation,
    epilog="Example: navlog fix QHB 160 x QEL 090 --from examples/round_robin.route",
)
@click.argument("words", nargs=-1, required=True, metavar="FIX")
@station_options
@click.option("--bearing-error", type=SIZE, default="1", show_default=True, help="The error of each bearing, degrees.")
@click.option("--altitude", type=ALTITUDE, help="Your altitude, for what the DME reads.")
@answer_options
def command(
    *,
    words: tuple[str, ...],
    given: Given,
    bearing_error: float,
    altitude: float | None,
    form: str,
    workings: bool,
) -> None:
    """Place a FIX: `QHB 160 x QEL 090`, `QEL 180 12nm` over the ground, or `QEL 180 dme 12 at 5500`.

    Stations come from --station, as a route file writes them, or from a route file with --from; those that
    neither gives come from the catalogue.
    """
    from navlog.computations.fixing import fix
    from navlog.computations.fixing_words import fix as answer
    from navlog.request.stationlist import read_fix

    definition = read_fix(" ".join(words))
    found = fix(
        definition,
        given.stations(tuple(name.ident for name, _ in definition.radials)),
        bearing_error_deg=bearing_error,
        altitude_ft=altitude,
    )
    show("fix", (answer(found),), form=form, workings=workings)
