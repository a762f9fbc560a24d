"""`navlog without`: what goes if a station goes."""

from __future__ import annotations

from datetime import UTC, date, datetime

import click

from navlog.cli.catalogue_option import catalogue_option
from navlog.cli.completion import PublishedName
from navlog.cli.options import DAY
from navlog.cli.output import one_a_line, write


@click.command("without", epilog="Example: navlog without QHB QEL --date 2026-07-18")
@click.argument("names", nargs=-1, metavar="IDENT...", type=PublishedName("station"))
@click.option("--all", "every", is_flag=True, help="Rank every VOR in service by what hangs on it.")
@click.option("--staying", metavar="FILE", help="Instead: what a list of the VORs that stay leaves without one.")
@click.option("--mon", metavar="FILE", help="Instead, or besides: what lies far from every airport of a list.")
@click.option("--date", "day", type=DAY, metavar="DATE", help="The day (default: today, UTC).")
@click.option("--format", "form", type=click.Choice(["text", "json", "csv"]), default="text", show_default=True)
@catalogue_option
def command(
    *,
    names: tuple[str, ...],
    every: bool,
    staying: str | None,
    mon: str | None,
    day: date | None,
    form: str,
    catalogue: str,
) -> int:
    """Tell what goes if the VORs of these identifiers go, all at once.

    Airways lose runs: the parts between the neighbouring guiding stations, or from one to the airway's end. Each is
    told with the miles that its log then flies without guidance at its lowest altitude, and the best way round at that
    altitude, or at another where that is much shorter. Then the fixes that lose their last radial, the changeover
    points, the direct legs, and the airports that receive no other VOR: by service volume, horizon over level ground
    and unusable sectors.

    --staying and --mon tell instead which places of the airways, 5,000 ft above ground, receive none of the VORs of a
    list (less those of IDENT), or have no airport of a list within 100 NM.
    """
    if staying is not None or mon is not None:
        if every:
            raise click.UsageError("--all does not go with --staying and --mon.")
        return _covered(names, staying, mon, day or datetime.now(UTC).date(), form, catalogue)
    if bool(names) is every:
        raise click.UsageError("Give the identifiers of VORs, or --all for a ranking of every one.")
    from navlog.catalogue import open_catalogue
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

    with open_catalogue(catalogue) as published:
        asked = hanging(published, day or datetime.now(UTC).date())
        if every:
            order = ranked(asked)
            if form == "json":
                told = "".join(f"{without_json(one, rank=rank)}\n" for rank, one in enumerate(order, 1))
            elif form == "csv":
                told = csv_text([RANKING_COLUMNS, *ranking_rows(order)])
            else:
                told = one_a_line(ranking_lines(asked, order))
        else:
            found = asked.without(known_vors(asked, names))
            rounds = asked.rounds(found)
            if form == "json":
                told = f"{without_json(found, rounds)}\n"
            elif form == "csv":
                told = csv_text([WITHOUT_COLUMNS, *without_rows(found, rounds)])
            else:
                told = one_a_line(without_lines(asked, found, rounds))
    write(told, None)
    return 0


def _covered(names: tuple[str, ...], staying: str | None, mon: str | None, day: date, form: str, catalogue: str) -> int:
    """Print which places the VORs that stay, and the airports of the network, leave uncovered."""
    from navlog.catalogue import open_catalogue
    from navlog.cli.flightfile import read_bytes
    from navlog.request.lexer import decode
    from navlog.studies.batch import csv_text
    from navlog.studies.coverage import (
        COVERAGE_COLUMNS,
        airports_named,
        coverage_json,
        coverage_lines,
        coverage_rows,
        covered,
        idents_in,
        stations_named,
    )
    from navlog.studies.without import hanging, known_vors

    lists = {file: idents_in(decode(read_bytes(file), file), file) for file in (staying, mon) if file is not None}
    with open_catalogue(catalogue) as published:
        asked = hanging(published, day)
        gone = frozenset(known_vors(asked, names))
        kept = stations_named(asked, lists[staying]) if staying is not None else tuple(sorted(asked.stations))
        airports = airports_named(asked, lists[mon]) if mon is not None else None
        found = covered(asked, (ident for ident in kept if ident not in gone), airports)
        if form == "json":
            told = coverage_json(found)
        elif form == "csv":
            told = csv_text([COVERAGE_COLUMNS, *coverage_rows(found)])
        else:
            told = one_a_line(coverage_lines(asked, found))
    write(told, None)
    return 0
