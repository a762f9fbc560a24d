"""`navlog airspeed`: CAS, TAS and Mach number, pressure and density altitude."""

from __future__ import annotations

import click

from navlog.cli.options import LEVEL, PRESSURE, SPEED, TEMPERATURE, Computation, Value, answer_options, show
from navlog.nav.units import read_mach


@click.command(
    "airspeed", cls=Computation, epilog="Example: navlog airspeed 10000ft -10C --cas 150kt --altimeter 29.92inHg"
)
@click.argument("level", type=LEVEL)
@click.argument("temperature", type=TEMPERATURE, required=False)
@click.option("--cas", type=SPEED, help="Calibrated airspeed.")
@click.option("--tas", type=SPEED, help="True airspeed.")
@click.option("--mach", type=Value("number", read_mach), help="Mach number.")
@click.option("--altimeter", type=PRESSURE, help="Altimeter setting: 1013hPa or 29.92inHg.")
@answer_options
def command(
    *,
    level: tuple[float, bool],
    temperature: float | None,
    cas: float | None,
    tas: float | None,
    mach: float | None,
    altimeter: float | None,
    form: str,
    workings: bool,
) -> None:
    """Compute airspeeds and altitudes at LEVEL (5500ft, FL085) and TEMPERATURE (-10C, 23F; else standard)."""
    from navlog.computations.airspeed import solve
    from navlog.computations.airspeed_words import answer

    altitude_ft, flight_level = level
    found = solve(
        level_ft=altitude_ft,
        flight_level=flight_level,
        altimeter_hpa=altimeter,
        temperature_c=temperature,
        cas_kt=cas,
        tas_kt=tas,
        mach=mach,
    )
    show("airspeed", (answer(found),), form=form, workings=workings)
