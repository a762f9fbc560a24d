"""The airports of a flight in words: heights of field and pattern, and the sun at the landing."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from navlog.flightlog.airfields import Airfield, PatternBy, airfields
from navlog.flightlog.records import Leg, Log
from navlog.nav.figures import half_up, minutes, whole
from navlog.nav.layout import held
from navlog.printed.clocks import clock_text
from navlog.printed.rows import rows

BY_NIGHT = "LANDING BY NIGHT"
_HALF_MINUTE = timedelta(seconds=30)


def airfield_lines(log: Log) -> Iterator[str]:
    """A line for each airport of the flight; the margins are those of the printed times."""
    for one, landing in _landings(log):
        at = "" if landing is None else f" {_clock(landing, log)}"
        by = (
            ""
            if one.pattern_by is None
            else ", as stated"
            if one.pattern_by is PatternBy.STATED
            else f" by {held(one.pattern_by.value)}"
        )
        heights = f"elevation {whole(one.elevation_ft)} ft, pattern {whole(one.pattern_ft)} ft{by}"
        sun = "".join(f"; {part}" for part in _sun_texts(one, landing, log))
        who = f"{one.ident} {one.name}," if one.name else one.ident
        yield f"{who} {one.role.value}{at}: {heights}{sun}"


def short_airfield_lines(log: Log) -> Iterator[str]:
    """A shorter line for each: times in UTC alone, of the sun its setting, and whether it is night."""
    day = log.conditions.day
    for one, landing in _landings(log):
        at = "" if landing is None else f" {clock_text(landing, None, day)}"
        sunset = None if one.sun is None or _towards_morning(one, landing) else _rounded(one.sun.sunset)
        night = f", {BY_NIGHT}" if one.night else ""
        sun = "" if sunset is None else f", sunset {clock_text(sunset, None, day)}{_margin(sunset, landing)}"
        heights = f"elevation {whole(one.elevation_ft)} ft, pattern {whole(one.pattern_ft)} ft"
        yield f"{one.ident} {one.role.value}{at}: {heights}{night}{sun}"


def _landings(log: Log) -> Iterator[tuple[Airfield, datetime | None]]:
    """Each airport of the flight with the time of the landing there as its row prints it; None where there is none."""
    clocks = {row.leg.number: row.clock for row in rows(log)}
    at_alternates = [rows(way)[-1].clock for way in log.alternates]
    for one in airfields(log):
        landing = None if one.leg is None else clocks.get(one.leg)
        yield one, landing if one.alternate is None else at_alternates[one.alternate - 1]


def sunset_texts(log: Log, leg: Leg) -> Iterator[str]:
    """The sunset at the airport where a leg of the route lands, and that it is night then; nothing if not known."""
    for one in airfields(log):
        sunset = None if one.sun is None or one.leg != leg.number else _rounded(one.sun.sunset)
        if sunset is not None:
            yield f"{f'{BY_NIGHT}, ' if one.night else ''}sunset {_clock(sunset, log)}"


def _sun_texts(one: Airfield, landing: datetime | None, log: Log) -> Iterator[str]:
    """Sunset and the end of civil twilight beside the landing; nothing for a departure."""
    sun = one.sun
    if sun is None:
        return
    if landing is None:
        yield "time of landing not known"
    if one.night:
        until = _rounded(one.night_ends)
        yield BY_NIGHT + ("" if until is None else f", until {_clock(until, log)}")
        if _towards_morning(one, landing):
            return
    events = (("sunset", _rounded(sun.sunset)), ("end of civil twilight", _rounded(sun.dusk)))
    yield from (f"{name} {_clock(event, log)}{_margin(event, landing)}" for name, event in events if event is not None)
    missing = [name for name, event in events if event is None]
    if missing:
        yield f"no {' and no '.join(missing)} that day"


def _towards_morning(one: Airfield, landing: datetime | None) -> bool:
    """Whether a landing by night is nearer to the morning: the sunset of the evening before then tells nothing."""
    dusk = None if one.sun is None else one.sun.dusk
    if landing is None or dusk is None or one.night_ends is None:
        return False
    return one.night_ends - landing < landing - dusk


def _margin(event: datetime, landing: datetime | None) -> str:
    """How long before or after a landing, both as printed; empty where its time is not known."""
    if landing is None:
        return ""
    after_min = half_up((event - landing).total_seconds() / 60.0)
    return f", {minutes(abs(after_min))} {'after' if after_min >= 0 else 'BEFORE'} landing"


def _rounded(moment: datetime | None) -> datetime | None:
    """A moment as printed: the nearest minute; None where it is not known."""
    return None if moment is None else (moment + _HALF_MINUTE).replace(second=0, microsecond=0)


def _clock(moment: datetime, log: Log) -> str:
    """A time of day as the sheet prints it."""
    return clock_text(moment, log.conditions.zone, log.conditions.day)
