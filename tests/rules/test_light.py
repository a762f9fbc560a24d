"""A flight that begins by daylight and ends after sunset is told so; sunset and twilight are astral's."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from astral import Observer
from astral.sun import dusk, sunset
from helpers.flown import flight

DAY = date(2026, 7, 18)


def told(landing: datetime, *statements: str, minutes: int = 30) -> list[str]:
    """What is told of a flight of so many minutes, due east into XBB at 41 N 74 W, that lands about then."""
    off = landing - timedelta(minutes=minutes)
    away_min = {30: "W075 19.70", 60: "W076 39.40"}[minutes]
    found = flight(
        f"airport XAA N41 00.00 {away_min} elev 0ft\nairport XBB N41 00.00 W074 00.00 elev 0ft\n"
        f"date {off:%Y-%m-%d}\noff {off:%H:%M}Z\nwind calm\naltitude 3500\ntas 120.4kt\nburn 8gph\nfuel 30gal\n"
        + "".join(f"{statement}\n" for statement in statements)
        + "route XAA XBB\n"
    )
    assert all(one["severity"] == "note" for one in found["findings"] if one["rule"] == "after-sunset")
    return [one["message"] for one in found["findings"] if one["rule"] == "after-sunset"]


SUNSET = sunset(Observer(41.0, -74.0), DAY, tzinfo=UTC)
DUSK = dusk(Observer(41.0, -74.0), DAY, depression=6.0, tzinfo=UTC)


def test_a_landing_after_sunset_says_by_how_much_and_when_night_begins() -> None:
    assert told(SUNSET - timedelta(minutes=3)) == []
    (message,) = told(SUNSET + timedelta(minutes=9))
    words = message.split()
    assert words[0] == "XBB"
    assert abs(int(words[words.index("min") - 1]) - 9) <= 1
    (night,) = [word for word in words if word == words[-1]]
    begins = datetime.strptime(f"{DUSK:%Y-%m-%d} {night}", "%Y-%m-%d %H:%MZ").replace(tzinfo=UTC)
    assert abs(begins - DUSK) <= timedelta(minutes=1)
    assert "and night begins" in message


def test_a_landing_by_night_says_when_night_began() -> None:
    (message,) = told(DUSK + timedelta(minutes=5), minutes=60)
    assert "and night began" in message


@pytest.mark.parametrize(
    "statements",
    [
        # Who says it flies by night knows, and so does who takes off after sunset; IFR asks for nothing else by night.
        ("rules vfr night",),
        ("rules ifr",),
    ],
)
def test_what_is_meant_for_the_night_is_not_told(statements: tuple[str, ...]) -> None:
    assert told(SUNSET + timedelta(minutes=9), *statements) == []


def test_a_flight_that_begins_after_sunset_is_not_told() -> None:
    # At XAA, 1.3 degrees farther west, the sun sets 5 minutes later.
    assert told(SUNSET + timedelta(minutes=33)) != []
    assert told(SUNSET + timedelta(minutes=37)) == []


def test_a_landing_by_night_with_a_days_reserve_is_told_once() -> None:
    assert told(DUSK + timedelta(minutes=5), "rules vfr day", minutes=60) == []
    # In twilight the reserve of the day is right, and the sun is down all the same.
    assert told(SUNSET + timedelta(minutes=9), "rules vfr day") != []
