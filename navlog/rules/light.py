"""The light at landings: sunset, and the night of 14 CFR 1.1."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta

from navlog.flightlog.records import Leg
from navlog.nav.chart import Position
from navlog.nav.figures import half_up, whole, zulu
from navlog.nav.sun import is_night, night_around, sun_elevation_deg, sun_is_set
from navlog.request.records import Request
from navlog.rules.registry import Case, Found, Group, Severity, once_a_case, once_a_flight, rule
from navlog.rules.samples import BASE, sample

_NIGHT_RESERVE_MIN = 45.0
"""14 CFR 91.151(a)(2)."""


@once_a_case
def landings_by_night(case: Case) -> Iterator[tuple[Leg, datetime]]:
    """The landings that fall in the night of 14 CFR 1.1, each by the last leg before it, with the time as printed."""
    for leg, place, eta in _landings(case):
        if is_night(place, eta):
            yield leg, eta


def _landings(case: Case) -> Iterator[tuple[Leg, Position, datetime]]:
    """Each landing by the last leg before it, with its place and the time as printed; those of which both are known."""
    for leg in case.landings:
        eta = case.clock(leg)
        if eta is not None and leg.end.position is not None:
            yield leg, leg.end.position, eta


@rule(
    "dark-arrival",
    Severity.WARNING,
    group=Group.FLYING,
    subject="reserve stated",
    source="14 CFR 91.151(a)(2), 14 CFR 1.1: night begins with the end of evening civil twilight",
    remedy="leave earlier, or plan the 45 minutes of a night flight: `rules vfr night`",
    passing=sample("rules vfr day"),
    failing=sample("rules vfr day", "off 23:30Z"),
)
def dark_arrival(case: Case) -> Iterator[Found]:
    """A landing falls in the night and the reserve is that of a day flight."""
    if not _keeps_a_days_reserve(case):
        return
    day = case.log.conditions.day
    for leg, eta in landings_by_night(case):
        # What the fuel plan keeps for a landing by night is the rule's, so no reserve planned is named here.
        stated = "rules vfr day" if case.request.reserve_min is None else "reserve"
        planned = (
            f"this landing asks for a reserve of 45 min, and `{stated}` states {whole(own_reserve_min(case.request))}"
        )
        yield Found(f"{leg.end.name} at {zulu(eta, day)} is by night{_twilights(leg, eta, day)}: {planned}", leg)


def _twilights(leg: Leg, eta: datetime, day: date) -> str:
    """When civil twilight ended and begins again around an arrival by night; empty where the sun does not rise."""
    if leg.end.position is None:
        return ""
    evening, morning = night_around(leg.end.position, eta)
    told = (("ended", evening.dusk), ("begins", morning.dawn))
    # To the nearest minute.
    parts = [f"{what} {zulu(at + timedelta(seconds=30), day)}" for what, at in told if at is not None]
    return f" (civil twilight {', '.join(parts)})" if parts else ""


def own_reserve_min(request: Request) -> float | None:
    """The reserve that a flight states, by the minute or by `rules vfr day`; None where it states none."""
    return 30.0 if request.reserve_min is None and request.daytime == "day" else request.reserve_min


def _keeps_a_days_reserve(case: Case) -> bool:
    """Whether a flight under VFR states a reserve of less than 45 minutes, or that it is flown by day."""
    own_min = own_reserve_min(case.request)
    # Without either the reserve goes by the sun at each landing.
    return case.request.rules == "vfr" and own_min is not None and own_min < _NIGHT_RESERVE_MIN


@once_a_flight
@rule(
    "after-sunset",
    Severity.NOTE,
    group=Group.REST,
    source="14 CFR 91.209(a): position lights from sunset to sunrise; 1.1: night lies between the civil twilights",
    remedy="leave earlier, or see to lights and a lit field; `rules vfr night` where the night is meant",
    passing=BASE,
    failing=sample("off 22:05Z"),
)
def after_sunset(case: Case) -> Iterator[Found]:
    """A flight under VFR takes off or lands between sunset and sunrise, and does not say that it is flown by night.

    A landing by night with the reserve of the day is told by `dark-arrival`.
    """
    request, off, start = case.request, case.log.conditions.off, case.legs[0].start
    if request.rules != "vfr" or request.daytime == "night" or off is None:
        return
    told = {leg.number for leg, _ in landings_by_night(case)} if _keeps_a_days_reserve(case) else set()
    moments = [(leg, f"{leg.end.name} at", place, eta) for leg, place, eta in _landings(case) if leg.number not in told]
    if start.position is not None and case.takes_off:
        moments.insert(0, (case.legs[0], f"the take-off from {start.name} at", start.position, off))
    for leg, what, place, at in moments:
        if sun_is_set(place, at):
            day = case.log.conditions.day
            # The deeper the sun, the darker: a landing by night is worse than one in twilight.
            yield Found(f"{what} {zulu(at, day)} is {_dark(place, at, day)}", leg, by=-sun_elevation_deg(place, at))


def _dark(place: Position, at: datetime, day: date) -> str:
    """How long after sunset or before sunrise a time is, whichever is nearer, and when night begins or ends there."""
    evening, morning = night_around(place, at)
    since = None if evening.sunset is None else (at - evening.sunset).total_seconds() / 60.0
    until = None if morning.sunrise is None else (morning.sunrise - at).total_seconds() / 60.0
    if since is not None and (until is None or since <= until):
        return f"{half_up(since)} min after sunset{_night('begins', 'began', evening.dusk, at, day)}"
    if until is not None:
        return f"{half_up(until)} min before sunrise{_night('ends', 'ended', morning.dawn, at, day)}"
    return "after sunset: the sun does not rise there"


def _night(is_still_to: str, has: str, when: datetime | None, at: datetime, day: date) -> str:
    """When night begins or began, ends or ended, to the nearest minute; empty where it does not."""
    if when is None:
        return ""
    return f", and night {is_still_to if at < when else has} {zulu(when + timedelta(seconds=30), day)}"
