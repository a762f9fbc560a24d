"""`navlog propose`: routes between two places, along the airways and as published."""

from __future__ import annotations

import os

import click

from navlog.cli.catalogue_option import catalogue_option
from navlog.cli.options import DISTANCE
from navlog.cli.output import print_lines, refuse_inputs, write

_STATEMENTS = ("date", "off", "rules", "equipment", "tas", "burn", "fuel", "wind", "unavailable", "ceiling")

_SUFFIXES = {".route": "route", ".json": "json", ".jsonl": "json"}


@click.command("propose", epilog="Example: navlog propose XNOR XOLD --altitude 5000 --tas 110 --wind 230/15")
@click.argument("start", metavar="FROM")
@click.argument("goal", metavar="TO")
@click.option("--altitude", metavar="LEVEL", help="The level to fly (default: the lowest that works).")
@click.option("--ceiling", metavar="LEVEL", help="The highest to consider (default: the aircraft's, else 17500).")
@click.option("--via", multiple=True, metavar="IDENT", help="A point of an airway to pass; again for more, in order.")
@click.option("--avoid", multiple=True, metavar="IDENT", help="A point or airway not to be flown; again for more.")
@click.option("--unavailable", multiple=True, metavar="IDENT", help="A station out of service; again for more.")
@click.option("--notices", multiple=True, metavar="FILE", help="A file of notices (NOTAMs) that count; again for more.")
@click.option("--date", metavar="DATE", help="The day of the flight (default: today, UTC).")
@click.option("--off", metavar="TIME", help="Wheels off: 15:10Z. Published routes may hold at some hours alone.")
@click.option("--rules", metavar="RULES", default="ifr", show_default=True, help="ifr or vfr.")
@click.option("--equipment", metavar="TEXT", default="vor 2 dme 1", show_default=True, help="The receivers on board.")
@click.option("--tas", metavar="KT", help="True airspeed; without it or --aircraft no times are told.")
@click.option("--burn", metavar="GPH", help="Fuel flow.")
@click.option("--fuel", metavar="AMOUNT", help="Usable fuel at start-up, before taxi.")
@click.option("--aircraft", metavar="FILE", help="An aircraft file.")
@click.option("--wind", multiple=True, metavar="TEXT", help="The wind: 230/15 (default: calm, and said so).")
@click.option("--count", type=click.IntRange(1, 9), default=3, show_default=True, help="How many of our own routes.")
@click.option(
    "--limit-off-airway",
    "most_off_nm",
    type=DISTANCE,
    default="80nm",
    show_default=True,
    help="How far off, at either end, an airway may be joined or left; 80nm at most.",
)
@click.option("--format", "form", type=click.Choice(["text", "json", "route"]), help="[default: text]")
@click.option("-o", "--output", "path", metavar="PATH", help="Write this file instead, in the format of its suffix.")
@catalogue_option
def command(  # noqa: PLR0913 - one argument an option
    *,
    start: str,
    goal: str,
    altitude: str | None,
    via: tuple[str, ...],
    avoid: tuple[str, ...],
    aircraft: str | None,
    count: int,
    most_off_nm: float,
    form: str | None,
    path: str | None,
    catalogue: str,
    **options: str | tuple[str, ...] | None,
) -> int:
    """Propose routes FROM one airport, station, fix or position TO another.

    Along the Victor airways and jet routes in force on the day, each way with its own MEA, MCA and MAA, and where
    VORs guide; on and off them by direct legs within range of a station that is received. Published preferred routes
    that fit come first, as published. Every route has been through the log and the rules.

    The best is the one of the least miles, or in a wind of the least time; a change of airway counts as 5 NM more,
    a mile off the airways as 1.5. It is no more than 5 % longer than the shortest that works. A way by one station and
    no airway is proposed only where the airways are 1.3 times as long. The others share no more than 60 % with one
    before, and are no more than 1.3 times as long. Under VFR, which may fly direct, none is
    proposed that is more than twice the direct distance and 40 NM more than it, but by points of --via.

    Exit status 1 where nothing connects the two, with the reason on standard error, and where the fuel is not enough
    for any of the ways found.
    """
    from navlog.catalogue import open_catalogue
    from navlog.cli import echo_error
    from navlog.studies.proposal_flights import Asked, Flights
    from navlog.studies.proposal_text import proposal_json_lines, proposal_lines, route_file
    from navlog.studies.proposing import propose

    form = _form_of(form, path)
    statements = _statements(options, aircraft, path)
    if form == "route" and not {"tas", "aircraft"} & {keyword for keyword, _ in statements}:
        raise click.UsageError("a route file needs a speed: give --tas or --aircraft")
    asked = Asked(start, goal, statements, altitude, via=via, avoid=avoid, count=count, most_off_nm=most_off_nm)
    refuse_inputs([path] if path is not None else [], [catalogue, *([aircraft] if aircraft is not None else [])])
    with open_catalogue(catalogue) as published:
        flights = Flights(published, asked, folder=_folder(path))
        found = propose(published, flights)
    if not found.own:
        echo_error(found.why_none)
        if not found.published:
            return 1
    if form == "text" and path is None:
        print_lines(proposal_lines(found, flights))
    elif form == "text":
        write("".join(f"{line}\n" for line in proposal_lines(found, flights)), path)
    else:
        write(proposal_json_lines(found, flights) if form == "json" else route_file(found, flights), path)
    return 1 if not found.own or found.lacks_fuel else 0


def _form_of(form: str | None, path: str | None) -> str:
    """The format that the suffix of a path names, else the one asked for; raises click.UsageError where they differ."""
    suffix = os.path.splitext(path or "")[1].lower()
    named = _SUFFIXES.get(suffix)
    if suffix not in ("", ".txt", *_SUFFIXES):
        raise click.UsageError(
            f"{path}: proposals are no {suffix} file; .route and .json are known, none and .txt are text"
        )
    if named is not None and form not in (None, named):
        raise click.UsageError(f"--format {form} does not fit {path}, whose suffix says {named}")
    return named or form or "text"


def _statements(
    options: dict[str, str | tuple[str, ...] | None], aircraft: str | None, path: str | None
) -> tuple[tuple[str, str], ...]:
    """The statements that the options make, in the order of a route file."""
    from datetime import UTC, datetime

    if options["date"] is None:
        options["date"] = datetime.now(UTC).date().isoformat()
    found: list[tuple[str, str]] = []
    for keyword in _STATEMENTS:
        given = options[keyword]
        texts = given if isinstance(given, tuple) else (given,)
        found += [(keyword, text) for text in texts if text is not None]
    notices = options["notices"]
    files = [("notices", name) for name in notices] if isinstance(notices, tuple) else []
    for keyword, file in (*files, *((("aircraft", aircraft),) if aircraft is not None else ())):
        # A route file names the files that it reads from its own folder.
        folder = _folder(path)
        name = os.path.relpath(file, folder or ".") if folder or os.path.isabs(file) else file
        found.append((keyword, f'"{name}"' if " " in name else name))
    return tuple(found)


def _folder(path: str | None) -> str:
    """The folder of the route file that is written, empty for the one that one is in."""
    return os.path.dirname(path) if path is not None and path != "-" else ""
