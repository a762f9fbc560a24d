"""The sun beside PyEphem's: VSOP87 planets, sidereal time and transits of another make."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from math import degrees
from random import Random

import ephem
from helpers.compared import Difference, check, random_position

from navlog.nav.chart import Position
from navlog.nav.sun import CIVIL_TWILIGHT_DEG, is_night, sun_elevation_deg

# Meeus' low accuracy is 0.01 degrees; PyEphem's observer stands on the earth and not at its centre, 0.0024.
HEIGHT_DEG = 0.0125


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


def test_the_height_of_the_sun() -> None:
    check(of_heights, {"sun_elevation_deg": HEIGHT_DEG, "is_night": 0.0}, times=10)
