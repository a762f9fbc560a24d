"""A flight that begins by daylight and ends after sunset is told so; sunset and twilight are astral's."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from functools import partial
from pathlib import Path

import pytest
from astral import Observer
from astral.sun import dawn, dusk, sunrise, sunset
from helpers.flown import flight, navlog

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
        # Who says it flies by night knows; IFR asks for nothing else by night.
        ("rules vfr night",),
        ("rules ifr",),
    ],
)
def test_what_is_meant_for_the_night_is_not_told(statements: tuple[str, ...]) -> None:
    assert told(SUNSET + timedelta(minutes=9), *statements) == []


def test_a_take_off_after_sunset_is_told_beside_the_landing() -> None:
    # At XAA, 1.3 degrees farther west, the sun sets 5 minutes later.
    assert len(told(SUNSET + timedelta(minutes=33))) == 1
    start, end = told(SUNSET + timedelta(minutes=37))
    assert start.startswith("the take-off from XAA at ")
    assert "min after sunset, and night begins" in start
    assert end.startswith("XBB at ")
    assert "and night began" in end


DAWN, SUNRISE = (event(Observer(41.0, -74.0), DAY, tzinfo=UTC) for event in (partial(dawn, depression=6.0), sunrise))


def test_a_landing_before_sunrise_is_told_by_it_and_so_is_the_take_off_by_night() -> None:
    landing = SUNRISE - timedelta(minutes=9)
    start, end = told(landing)
    assert start.startswith("the take-off from XAA at ")
    # 39 minutes before the sunrise at XBB, which XAA has 5 minutes later.
    assert 43 <= int(start.split(" min before sunrise, and night ends ")[0].split()[-1]) <= 45
    assert 8 <= int(end.split(" min before sunrise, and night ended ")[0].split()[-1]) <= 10
    ended = datetime.strptime(f"{DAWN:%Y-%m-%d} {end.split()[-1]}", "%Y-%m-%d %H:%MZ").replace(tzinfo=UTC)
    assert abs(ended - DAWN) <= timedelta(minutes=1)


def test_by_night_a_take_off_is_told_where_the_landing_is_in_daylight() -> None:
    (only,) = told(SUNRISE + timedelta(minutes=3))
    assert only.startswith("the take-off from XAA at ")


def test_of_two_the_darker_is_told_in_the_line_for_both(tmp_path: Path) -> None:
    # From XBB back to XAA, and landed there by night: the landing in twilight is not the one to tell.
    off = SUNSET + timedelta(minutes=4 - 30)
    trip = tmp_path / "trip.route"
    trip.write_text(
        "airport XAA N41 00.00 W075 19.70 elev 0ft\nairport XBB N41 00.00 W074 00.00 elev 0ft\n"
        f"date {off:%Y-%m-%d}\noff {off:%H:%M}Z\nwind calm\naltitude 3500\ntas 120.4kt\nburn 8gph\nfuel 30gal\n"
        "route XAA XBB land 15min XAA\n"
    )
    (line,) = [one for one in navlog("check", str(trip)).out.splitlines() if "after-sunset" in one]
    assert "XAA at " in line
    assert "and night began" in line
    assert "the worst of 2" in line


def test_a_landing_by_night_with_a_days_reserve_is_told_once() -> None:
    assert told(DUSK + timedelta(minutes=5), "rules vfr day", minutes=60) == []
    # In twilight the reserve of the day is right, and the sun is down all the same.
    assert told(SUNSET + timedelta(minutes=9), "rules vfr day") != []
