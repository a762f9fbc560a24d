"""The stations that a command's `--station` and `--from` give, and published ones that are only named."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, Any

import click
from msgspec import Struct

from navlog.cli.catalogue_option import catalogue_option
from navlog.cli.options import DAY, in_capitals
from navlog.nav.problems import NavlogError, problem_error

if TYPE_CHECKING:
    from datetime import date

    from navlog.nav.chart import Position, Station


class GivenStation(Struct, frozen=True):
    """What the user says of stations: typed ones or their names, a route file, and which published data."""

    typed: tuple[str, ...]
    route_file: str | None
    catalogue: str
    day: date | None

    def stations(self, wanted: tuple[str, ...] = ()) -> tuple[Station, ...]:
        """Stations as typed, those of the route file, and from the catalogue those that are only named.

        `wanted` are names that the computation needs. Raises the problems of all, and one where there is no
        station. The source of every published station goes to standard error.
        """
        from navlog.request.stationlist import read_station, stations_in, together

        stations = tuple(read_station(text) for text in self.typed if not _is_name(text))
        filed = stations_in(*self._filed()) if self.route_file is not None else ()
        known = {station.ident for station in (*stations, *filed)}
        named = [in_capitals(text.strip()) for text in self.typed if _is_name(text)]
        missing = [name for name in dict.fromkeys((*named, *wanted)) if name not in known]
        # Beside stations given by hand, a name that nobody knows is likelier a slip for one of those.
        sure = [name for name in missing if name in named or not known]
        return together((*stations, *_published(missing, self.catalogue, self.day, sure=sure)), filed)

    def positions(self, names: tuple[str, ...]) -> dict[str, Position]:
        """Where stations, airports and fixes of these names are: as typed, as the route file states, else as published.

        Raises the problem of one that is not known, or has no position. What is published is named on standard error.
        """
        from navlog.request.stationlist import positions_in, read_station

        found = positions_in(*self._filed()) if self.route_file is not None else {}
        for station in (read_station(text) for text in self.typed if not _is_name(text)):
            if station.position is None and station.ident in names:
                raise problem_error("no-position", f"the station `{station.ident}` has no position")
            if station.position is not None:
                found[station.ident] = station.position
        missing = tuple(name for name in names if name not in found)
        return found | _published_positions(missing, self.catalogue, self.day) if missing else found

    def _filed(self) -> tuple[str, str]:
        """The text of the route file, and its name."""
        from navlog.cli.flightfile import read_bytes
        from navlog.request.lexer import decode

        file = self.route_file or ""
        return decode(read_bytes(file), file), file


def station_options(function: Callable[..., object]) -> Callable[..., object]:
    """The options `--station` (many), `--from`, `--catalogue` and `--date`, passed on as `given`."""

    @wraps(function)
    def command(
        *, station: tuple[str, ...], route_file: str | None, catalogue: str, day: date | None, **others: Any
    ) -> object:
        return function(given=GivenStation(station, route_file, catalogue, day), **others)

    dated = click.option("--date", "day", type=DAY, help="The day of the published data (default: today, UTC).")
    filed = click.option("--from", "route_file", metavar="FILE", help="Take the stations that this route file defines.")
    typed = click.option(
        "--station",
        multiple=True,
        metavar="TEXT",
        help="A station as a route file writes it, 'QHB 113.70 N46 12.30 W039 20.70 decl 15W dme elev 820ft',"
        " or the identifier of a published one.",
    )
    return typed(filed(catalogue_option(dated(command))))


def _is_name(text: str) -> bool:
    """Whether a `--station` is an identifier alone."""
    return len(text.split()) == 1


def _unknown(name: str) -> NavlogError:
    """The problem of a station that is only named, without a catalogue to look it up in."""
    return problem_error(
        "unknown-ident",
        f"the station `{name}` is not known, as there is no catalogue",
        hint=f"write it out, --station '{name} 113.70 N46 12.30 W039 20.70 decl 15W', or give --from and a route file"
        " that defines it, or import published data",
    )


def _published_positions(names: tuple[str, ...], catalogue: str, day: date | None) -> dict[str, Position]:
    """Where the catalogue has the places of these names; raises for one that is not known."""
    from datetime import UTC, datetime

    from navlog.catalogue.lookups import place_at
    from navlog.cli import echo_error
    from navlog.cli.catalogue_option import opened_catalogue
    from navlog.nav.problems import printable

    with opened_catalogue(catalogue) as held:
        if held is None:
            raise problem_error(
                "unknown-ident",
                f"`{names[0]}` is not known, as there is no catalogue",
                hint="give its position, or --from and a route file that states it, or import published data",
            )
        found = {name: place_at(held, name, day or datetime.now(UTC).date()) for name in names}
    for name, (told, _) in found.items():
        echo_error(printable(f"{name}: {told}"))
    return {name: position for name, (_, position) in found.items()}


def _published(names: list[str], catalogue: str, day: date | None, *, sure: list[str]) -> tuple[Station, ...]:
    """The catalogue's stations of these names; raises for one of `sure` not known."""
    if not names:
        return ()
    from datetime import UTC, datetime

    from navlog.catalogue.answers import one_station
    from navlog.catalogue.text import source_text, use_text
    from navlog.cli import echo_error
    from navlog.cli.catalogue_option import opened_catalogue

    day = day or datetime.now(UTC).date()
    with opened_catalogue(catalogue) as held:
        if held is None:
            if sure:
                raise _unknown(sure[0])
            return ()
        found = tuple(one_station(held, name, day) for name in names if name in sure or held.stations(name, day))
    for station in found:
        told = station.provenance
        echo_error(f"{station.ident}: {source_text(told)}{use_text(told, (told,), day)}")
    return found
