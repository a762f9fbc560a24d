"""Room for the pen before the flight and on arrival, behind the knee page where it is asked for."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from navlog.flightlog.records import Log
from navlog.printed.radios import landings, stated_at, stated_leaving
from navlog.request.records import RadioFrequency


class Box(Struct, frozen=True):
    """A titled block of lines to fill in, each with the labels of its fields side by side."""

    title: str
    lines: tuple[tuple[str, ...], ...]


_WEATHER = (
    ("code", "time Z"),
    ("wind", "visibility"),
    ("cloud", "temp/dew"),
    ("altimeter", "runway"),
)
"""As it is read out by a station's recording: its wind is magnetic."""


def before_flight(log: Log) -> tuple[Box, ...]:
    """What is filled in before take-off, in the order in which it is heard."""
    start = log.route.points[0].name
    return (
        Box("AIRCRAFT", (("reg", "pilot"), ("off block", "off"), ("hours", "fuel"))),
        Box(f"WEATHER {start}", _WEATHER),
        Box(
            "CLEARANCE",
            (
                ("limit",),
                ("route",),
                ("altitude", "frequency"),
                ("squawk", "void time"),
            ),
        ),
        *_radio_box("RADIO", stated_leaving(log)),
    )


def on_arrival(log: Log) -> tuple[Box, ...]:
    """What is heard on the way and before the last landing."""
    end = log.route.points[-1].name
    return (
        Box("ALTIMETER ON THE WAY", (("setting", "from"), ("setting", "from"))),
        Box(f"WEATHER {end}", _WEATHER),
        *(box for point in landings(log) for box in _radio_box(f"RADIO {point.name}", stated_at(log, point))),
    )


def _radio_box(title: str, radios: Iterable[RadioFrequency]) -> tuple[Box, ...]:
    """Frequencies in order of use, each with room for the one assigned instead; no box without any."""
    lines = tuple((f"{one.frequency_mhz} {one.place} {one.name}",) for one in radios)
    return (Box(title, lines),) if lines else ()
