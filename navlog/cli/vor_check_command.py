"""`navlog vor-check`: the receiver check of 14 CFR 91.171."""

from __future__ import annotations

from datetime import date, datetime

import click

from navlog.cli.options import ANGLE, DAY, Computation, answer_options, show


@click.command(
    "vor-check",
    cls=Computation,
    epilog="Example: navlog vor-check ground --expected 095 --indicated 098 --place 'XHAR run-up area'",
)
@click.argument("kind", type=click.Choice(["vot", "repair-station", "ground", "airborne", "airway", "dual"]))
@click.option("--indicated", type=ANGLE, required=True, help="The bearing read with the needle centred.")
@click.option(
    "--expected", type=ANGLE, help="The published radial, the certified bearing, or the other receiver's bearing."
)
@click.option("--flag", type=click.Choice(["TO", "FROM"]), help="For a VOT: the flag that shows.")
@click.option("--place", metavar="TEXT", help="Where, for the record.")
@click.option("--date", "day", type=DAY, help="The day of the check (default: today).")
@answer_options
def command(
    *,
    kind: str,
    indicated: float,
    expected: float | None,
    flag: str | None,
    place: str | None,
    day: date | None,
    form: str,
    workings: bool,
) -> int:
    """Check a VOR receiver against the limits of 14 CFR 91.171; exit status 1 when it is not within them."""
    from navlog.computations.vor_check import Check, solve
    from navlog.computations.vor_check_words import answer
    from navlog.nav.guidance import Flag

    found = solve(
        Check(kind),
        indicated_deg=indicated,
        expected_deg=expected,
        flag=None if flag is None else Flag(flag),
        place=place,
        day=day or datetime.now().astimezone().date(),
    )
    show("vor-check", (answer(found),), form=form, workings=workings)
    return 0 if found.passed else 1
