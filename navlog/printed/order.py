"""What a pilot's sheet holds in flying order: places, and room for the pen between them."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.records import Log
from navlog.printed.boxes import Box, after_flight, at_stop, before_flight, on_arrival
from navlog.printed.events import Event, events
from navlog.printed.meant import NOTHING, Meant


def in_order(log: Log, meant: Meant = NOTHING) -> Iterator[Event | Box]:
    """Events and boxes from before the flight until after it, those of a stop between landing and take-off."""
    yield from before_flight(log)
    *before, last = events(log, meant)
    for one in before:
        yield one
        if one.stop:
            yield from at_stop(one.stop_at, one.stop)
    yield from on_arrival(log)
    yield last
    yield from after_flight()
