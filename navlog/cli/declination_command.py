"""`navlog declination`: the magnetic model at a place, beside a station's declination."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

import click

from navlog.cli.options import DAY, DECLINATION, Computation, Value, answer_options, show
from navlog.nav.angles import read_position

if TYPE_CHECKING:
    from navlog.nav.chart import Position


@click.command(
    "declination",
    cls=Computation,
    epilog='Example: navlog declination "N46 12.30 W039 20.70" --date 2026-07-18 --station 15W',
)
@click.argument("position", type=Value("position", read_position))
@click.option("--date", "day", type=DAY, help="The day (default: today in UTC).")
@click.option("--station", type=DECLINATION, help="A station's declination to compare, such as 15W.")
@answer_options
def command(*, position: Position, day: date | None, station: float | None, form: str, workings: bool) -> None:
    """Give the variation at POSITION by the World Magnetic Model, its uncertainty and yearly change."""
    from navlog.computations.declination import solve
    from navlog.computations.declination_words import answer

    found = solve(position, day or datetime.now(UTC).date(), station_declination_deg=station)
    show("declination", (answer(found),), form=form, workings=workings)
