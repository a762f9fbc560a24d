"""`navlog without`: what goes if a station goes."""

from __future__ import annotations

from datetime import UTC, date, datetime

import click

from navlog.cli.catalogue_option import catalogue_option, needed_catalogue
from navlog.cli.options import DAY
from navlog.cli.output import write


@click.command("without", epilog="Example: navlog without QHB QEL --date 2026-07-18")
@click.argument("names", nargs=-1, metavar="IDENT...")
@click.option("--all", "every", is_flag=True, help="Rank every VOR in service by what hangs on it.")
@click.option("--date", "day", type=DAY, metavar="DATE", help="The day (default: today, UTC).")
@click.option("--format", "form", type=click.Choice(["text", "json", "csv"]), default="text", show_default=True)
@catalogue_option
def command(*, names: tuple[str, ...], every: bool, day: date | None, form: str, catalogue: str) -> int:
    """Tell what goes if the VORs of these identifiers go, all at once.

    Airways lose runs: the parts between the neighbouring guiding stations, or from one to the airway's end. Each is
    told with the miles that its log then flies without guidance at its lowest altitude, and the best way round at that
    altitude, or else at the lowest at which there is one. Then the fixes that lose their last radial, the changeover
    points, the direct legs, and the airports that receive no other VOR: by service volume, horizon over level ground
    and unusable sectors.
    """
    if bool(names) is every:
        raise click.UsageError("Give the identifiers of VORs, or --all for a ranking of every one.")
    from navlog.studies.batch import csv_text
    from navlog.studies.without import hanging, known_vors, ranked
    from navlog.studies.without_text import (
        RANKING_COLUMNS,
        WITHOUT_COLUMNS,
        ranking_lines,
        ranking_rows,
        without_json,
        without_lines,
        without_rows,
    )

    with needed_catalogue(catalogue) as published:
        asked = hanging(published, day or datetime.now(UTC).date())
        if every:
            order = ranked(asked)
            if form == "json":
                told = "".join(f"{without_json(one, rank=rank)}\n" for rank, one in enumerate(order, 1))
            elif form == "csv":
                told = csv_text([RANKING_COLUMNS, *ranking_rows(order)])
            else:
                told = "".join(f"{line}\n" for line in ranking_lines(asked, order))
        else:
            found = asked.without(known_vors(asked, names))
            rounds = asked.rounds(found)
            if form == "json":
                told = f"{without_json(found, rounds)}\n"
            elif form == "csv":
                told = csv_text([WITHOUT_COLUMNS, *without_rows(found, rounds)])
            else:
                told = "".join(f"{line}\n" for line in without_lines(asked, found, rounds))
    write(told, None)
    return 0
