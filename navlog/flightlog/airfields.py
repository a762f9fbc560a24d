"""The airports of a flight: how high the field and its pattern are, and the sun at the landing."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from enum import StrEnum

from msgspec import Struct

from navlog.flightlog.profile import PATTERN_FT
from navlog.flightlog.records import Leg, Log, Unknown
from navlog.nav.chart import Airport, Position
from navlog.nav.record import changed
from navlog.nav.sun import Daylight, daylight, is_night, night_around, solar_date
from navlog.resolve.route import Point

_BY_THE_CLOCK = ("eta", "night", "sunset_margin_min", "civil_twilight_margin_min")
"""The JSON keys of what is not known where the time of the landing is not."""


class _Role(StrEnum):
    """What a flight does at an airport."""

    DEPARTURE = "departure"
    LANDING = "landing"
    DESTINATION = "destination"
    ALTERNATE = "alternate"


class PatternBy(StrEnum):
    """What the height of the traffic pattern is by."""

    STATED = "stated"
    CONVENTION = "AIM 4-3-3"


class Airfield(Struct, frozen=True):
    """An airport of the flight. Heights are above the sea; `pattern_by` says by what that of the pattern is.

    `arrival` is the UTC time of the landing, at an alternate the latest by the passages of the point from which it is
    flown. `sun` are the events of the day of the landing, in the night of the day before it, and where the time is
    not known of the flight's day. `night` is that of 14 CFR 1.1, `night_ends` when morning twilight ends that of the
    landing. What is None without an `unknown` by its
    JSON key does not apply or, of the sun, does not happen. `leg` is the number of the leg of the route that ends
    here, None at the departure and an alternate, where `alternate` is which of the flight's, counted from 1.
    """

    ident: str
    role: _Role
    position: Position
    elevation_ft: float | None
    pattern_ft: float | None
    pattern_by: PatternBy | None
    arrival: datetime | None = None
    sun: Daylight | None = None
    night: bool | None = None
    night_ends: datetime | None = None
    leg: int | None = None
    alternate: int | None = None
    unknown: tuple[Unknown, ...] = ()
    name: str | None = None

    @property
    def sunset_margin_min(self) -> float | None:
        """The minutes from the landing to sunset, negative after it; None where one of them is not known."""
        return _minutes_to(self.arrival, None if self.sun is None else self.sun.sunset)

    @property
    def twilight_margin_min(self) -> float | None:
        """The minutes from the landing to the end of evening civil twilight, negative after it."""
        return _minutes_to(self.arrival, None if self.sun is None else self.sun.dusk)


def _minutes_to(arrival: datetime | None, event: datetime | None) -> float | None:
    """The minutes from a landing to an event of the sun."""
    return None if arrival is None or event is None else (event - arrival).total_seconds() / 60.0


def airfields(log: Log) -> tuple[Airfield, ...]:
    """The airports at which the flight takes off and lands, in flying order, then those of its alternates.

    The pattern is where the flight states it for the last landing, elsewhere 1,000 ft above the field (AIM 4-3-3).
    """
    ways = enumerate(log.alternates, 1)
    return (*_of_route(log), *(changed(one, alternate=number) for number, way in ways for one in _at_alternate(way)))


def _of_route(log: Log) -> Iterator[Airfield]:
    """The airports of the route itself."""
    start = log.route.points[0]
    if log.legs[0].start.point is start and log.conditions.entry_ft is None:
        yield from _at(start, _Role.DEPARTURE)
    for leg in log.legs:
        last = leg is log.legs[-1]
        if leg.end.point is not None and (leg.lands or last):
            stated_ft = log.conditions.pattern_ft if last else None
            for one in _at(leg.end.point, _Role.DESTINATION if last else _Role.LANDING, stated_ft):
                yield _landed(one, leg, log.eta(leg), log)


def _at_alternate(way: Log) -> Iterator[Airfield]:
    """The airport to which the way to an alternate leads."""
    leg, point = way.legs[-1], way.route.points[-1]
    left = max((one.at for one in way.begun if one.at is not None), default=None)
    arrival = None if left is None or leg.elapsed_min is None else left + timedelta(minutes=leg.elapsed_min)
    for one in _at(point, _Role.ALTERNATE):
        yield _landed(one, leg, arrival, way)


def _at(point: Point, role: _Role, stated_ft: float | None = None) -> Iterator[Airfield]:
    """The airport that a point is; none of another point."""
    if not isinstance(point.place, Airport):
        return
    elevation_ft = point.place.elevation_ft
    pattern_ft, by = stated_ft, PatternBy.STATED
    if pattern_ft is None and elevation_ft is not None:
        pattern_ft, by = elevation_ft + PATTERN_FT, PatternBy.CONVENTION
    keys = (("elevation_ft", elevation_ft), ("pattern_ft", pattern_ft))
    missing = tuple(Unknown(key, "the elevation is not known") for key, value in keys if value is None)
    found = point.place
    by_what = None if pattern_ft is None else by
    yield Airfield(
        found.ident, role, found.position, elevation_ft, pattern_ft, by_what, unknown=missing, name=found.name
    )


def _landed(one: Airfield, leg: Leg, arrival: datetime | None, log: Log) -> Airfield:
    """The airport with the sun at a landing, as far as the time is known."""
    number = leg.number if one.role is not _Role.ALTERNATE else None
    if arrival is None:
        missing = (Unknown(key, _why_no_time(leg)) for key in _BY_THE_CLOCK)
        sun = daylight(one.position, log.conditions.day)
        return changed(one, sun=sun, leg=number, unknown=(*one.unknown, *missing))
    if not is_night(one.position, arrival):
        sun = daylight(one.position, solar_date(one.position, arrival))
        return changed(one, arrival=arrival, sun=sun, night=False, leg=number)
    # After midnight the twilight that matters ended on the day before.
    sun, morning = night_around(one.position, arrival)
    return changed(one, arrival=arrival, sun=sun, night=True, night_ends=morning.dawn, leg=number)


def _why_no_time(leg: Leg) -> str:
    """Why the time of a landing is not known."""
    by_key = {one.key: one.reason for one in leg.unknown}
    return by_key.get("elapsed_min") or by_key.get("eta") or "when the flight leaves for there is not known"
