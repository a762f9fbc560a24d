"""The radio frequencies of a flight in order of use, with a blank for each call that none is stated for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from navlog.flightlog.records import Log
from navlog.request.records import RadioFrequency
from navlog.resolve.route import Point

_CALLED = {
    "ATIS": ("atis", "awos", "asos", "weather"),
    "GND": ("ground", "gnd"),
    "TWR": ("tower", "twr", "ctaf", "unicom"),
    "DEP": ("departure", "dep"),
    "APP": ("approach", "app"),
}
"""The words by which a stated frequency is known to be one of these (common practice, no source)."""
_LEAVING = ("ATIS", "GND", "TWR", "DEP")
_ARRIVING = ("APP", "ATIS", "TWR", "GND")
"""What is listened to and called before take-off, and before the landing (common practice, no source)."""


class Radios(Struct, frozen=True):
    """What is written down at a place in order of use: names and frequencies; an empty frequency is for the pen.

    `off` labels the room for the time of the next take-off, at a landing on the way alone.
    """

    place: str
    lines: tuple[tuple[str, str], ...]
    off: str = ""


def landings(log: Log) -> tuple[Point, ...]:
    """The points where the flight lands, the destination last."""
    return (*(point for point in log.route.points[1:-1] if point.landing is not None), log.route.points[-1])


def stated_at(log: Log, point: Point) -> tuple[RadioFrequency, ...]:
    """The frequencies stated for a point."""
    return tuple(one for one in log.route.request.radios if one.place == point.ident)


def stated_leaving(log: Log) -> tuple[RadioFrequency, ...]:
    """Those stated for the departure and for places on the way where the flight does not land."""
    elsewhere = {point.ident for point in landings(log)} - {log.route.points[0].ident}
    return tuple(one for one in log.route.request.radios if one.place not in elsewhere)


def radios_leaving(log: Log) -> Radios:
    """Before the first take-off: the departure's, then those of the way."""
    start = log.route.points[0]
    own = stated_at(log, start)
    way = ((f"{one.place} {one.name}", one.frequency_mhz) for one in stated_leaving(log) if one not in own)
    return Radios(start.name, (*_in_order(own, _LEAVING), *way))


def radios_landing(log: Log, point: Point, off: str) -> Radios:
    """Before a landing; at one on the way also those of the next take-off, and its planned time in words."""
    stated = stated_at(log, point)
    if point.landing is None:
        return Radios(point.name, tuple(_in_order(stated, _ARRIVING)))
    return Radios(point.name, tuple(_in_order(stated, (*_ARRIVING, "DEP"))), off)


def _in_order(stated: Sequence[RadioFrequency], calls: Sequence[str]) -> Iterator[tuple[str, str]]:
    """The stated ones as they stand, and each call that none of them is where it comes."""
    called = [next((call for call in calls if _is(one, call)), "") for one in stated]
    missing = [call for call in calls if call not in called]
    for one, call in zip(stated, called, strict=True):
        while call and missing and calls.index(missing[0]) < calls.index(call):
            yield missing.pop(0), ""
        yield one.name, one.frequency_mhz
    yield from ((call, "") for call in missing)


def _is(one: RadioFrequency, call: str) -> bool:
    """Whether the name of a frequency has a word of a call."""
    return any(word in one.name.lower() for word in _CALLED[call])
