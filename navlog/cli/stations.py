"""The stations that a command's `--station` and `--from` give."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from navlog.chart import Station


def given_stations(typed: tuple[str, ...], route_file: str | None) -> tuple[Station, ...]:
    """Stations as typed, and those of the route file; raises their problems, and one where there is none."""
    from navlog.stationlist import read_station, stations_in, together

    stations = tuple(read_station(text) for text in typed)
    if route_file is None:
        return together(stations, ())
    from navlog.cli.flightfile import read_bytes
    from navlog.routefile import decode

    return together(stations, stations_in(decode(read_bytes(route_file), route_file), route_file))
