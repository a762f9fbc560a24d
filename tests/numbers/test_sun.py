"""The sun beside PyEphem's: VSOP87 planets, sidereal time and transits of another make."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from math import degrees
from random import Random

import ephem
from helpers.compared import Difference, check, random_position

from navlog.nav.chart import Position
from navlog.nav.sun import CIVIL_TWILIGHT_DEG, daylight, is_night, solar_date, sun_elevation_deg

# Meeus' low accuracy is 0.01 degrees; PyEphem's observer stands on the earth and not at its centre, 0.0024.
HEIGHT_DEG = 0.0125
SET_DEG = -50.0 / 60.0  # USNO: 34' of refraction and 16' of semidiameter


def observer(position: Position, moment: datetime) -> ephem.Observer:
    here = ephem.Observer()
    here.lat, here.lon = str(position.latitude_deg), str(position.longitude_deg)
    here.pressure = 0.0
    here.elevation = 0.0
    here.date = ephem.Date(moment.astimezone(UTC).replace(tzinfo=None))
    return here


def height_deg(position: Position, moment: datetime) -> float:
    return degrees(ephem.Sun(observer(position, moment)).alt)


def of_heights(random: Random) -> Iterator[Difference]:
    position = random_position(random, highest_deg=89.0)
    moment = datetime(2000, 1, 1, tzinfo=UTC) + timedelta(days=random.uniform(0, 14_610))
    theirs_deg = height_deg(position, moment)
    yield "sun_elevation_deg", sun_elevation_deg(position, moment) - theirs_deg
    sure = abs(theirs_deg - CIVIL_TWILIGHT_DEG) > HEIGHT_DEG
    yield "is_night", float(sure and is_night(position, moment) != (theirs_deg < CIVIL_TWILIGHT_DEG))
    # A day of mean solar time begins when the mean sun, 4 minutes a degree, crosses the far meridian.
    mean = moment + timedelta(minutes=4 * position.longitude_deg)
    yield "solar_date, days", float((solar_date(position, moment) - mean.date()).days)


def test_the_height_of_the_sun() -> None:
    check(of_heights, {"sun_elevation_deg": HEIGHT_DEG, "is_night": 0.0, "solar_date, days": 0.0}, times=10)


def of_events(random: Random) -> Iterator[Difference]:
    position = random_position(random, highest_deg=60.0)
    day = date(2000, 1, 1) + timedelta(days=random.randrange(14_610))
    found = daylight(position, day)
    started = found.noon - timedelta(hours=1)
    transit = observer(position, started).next_transit(ephem.Sun()).datetime().replace(tzinfo=UTC)
    yield "noon, s", (found.noon - transit).total_seconds()
    for moment, wanted_deg in (
        (found.dawn, CIVIL_TWILIGHT_DEG),
        (found.sunset, SET_DEG),
        (found.dusk, CIVIL_TWILIGHT_DEG),
    ):
        if moment is None:
            continue
        off_deg = height_deg(position, moment) - wanted_deg
        yield "set and twilight, degrees", off_deg
        a_minute_on = height_deg(position, moment + timedelta(minutes=1)) - wanted_deg
        rate_deg_per_s = (a_minute_on - off_deg) / 60.0
        if abs(rate_deg_per_s) > 0.001:
            yield "set and twilight, s", off_deg / rate_deg_per_s


def test_the_events_of_a_day() -> None:
    # A quarter of the speed at which the sun rises at the equator, 0.001 degrees a second, and a grazing sun aside.
    check(of_events, {"noon, s": 4.0, "set and twilight, degrees": HEIGHT_DEG, "set and twilight, s": 12.5})
