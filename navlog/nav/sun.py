"""Sunset, civil twilight and night at a place, by the height of the sun's centre.

The sun's place is Meeus, Astronomical Algorithms (2nd edition, 1998), chapter 25, low accuracy (0.01
degree), as in NOAA's solar calculator; the hour angle is from sidereal time (chapter 12). UTC stands for
both UT1 and terrestrial time, which is worth less than a second of twilight. The observer is at sea
level with a free horizon. All moments are aware datetimes.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from math import asin, atan2, copysign, cos, degrees, radians, sin

from msgspec import Struct

from navlog.nav.angles import difference_deg
from navlog.nav.chart import Position

CIVIL_TWILIGHT_DEG = -6.0
_SET_DEG = -50.0 / 60.0
"""USNO: 34' of refraction and 16' of semidiameter."""

_J2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)
_DAY = timedelta(days=1)
_HALF_DAY = timedelta(hours=12)
_PRECISION = timedelta(seconds=0.1)


class Daylight(Struct, frozen=True):
    """The sun's events of one day at a place, in UTC; what does not happen is None.

    `dawn` begins morning civil twilight and `dusk` ends evening civil twilight, of which the first may fall on the
    UTC date before and the last on the one after. Where there is no dusk, `is_night` at `noon` tells polar night
    from a day, or a twilight, without end.
    """

    dawn: datetime | None
    sunrise: datetime | None
    noon: datetime
    sunset: datetime | None
    dusk: datetime | None


def is_night(position: Position, moment_utc: datetime) -> bool:
    """Whether it is night by 14 CFR 1.1: between the end of evening and the start of morning civil twilight.

    Civil twilight is the sun's centre 6 degrees below the horizon (Air Almanac, USNO).
    """
    return sun_elevation_deg(position, moment_utc) < CIVIL_TWILIGHT_DEG


def sun_is_set(position: Position, moment_utc: datetime) -> bool:
    """Whether the sun is below the horizon: its centre by more than 50 minutes of arc (USNO)."""
    return sun_elevation_deg(position, moment_utc) < _SET_DEG


@lru_cache(maxsize=512)
def daylight(position: Position, day: date) -> Daylight:
    """The sun's events of the day at `position` whose noon falls on the date `day` by mean solar time.

    An event is looked for within twelve hours of noon. Accurate to a minute below 65 degrees of latitude;
    where the sun only grazes the horizon, its time is worth several minutes. Remembered, as flights of a library land
    at the same fields.
    """
    noon = _noon(position, day)
    return Daylight(
        dawn=_crossing(position, noon, -_HALF_DAY, CIVIL_TWILIGHT_DEG),
        sunrise=_crossing(position, noon, -_HALF_DAY, _SET_DEG),
        noon=noon,
        sunset=_crossing(position, noon, _HALF_DAY, _SET_DEG),
        dusk=_crossing(position, noon, _HALF_DAY, CIVIL_TWILIGHT_DEG),
    )


def night_around(position: Position, moment_utc: datetime) -> tuple[Daylight, Daylight]:
    """The day whose evening begins the night around a moment, and the one whose morning ends it."""
    # By the place's own date: a UTC date would part an evening in the Pacific in two.
    day = solar_date(position, moment_utc)
    this = daylight(position, day)
    if moment_utc < this.noon:
        return daylight(position, day - _DAY), this
    return this, daylight(position, day + _DAY)


def solar_date(position: Position, moment_utc: datetime) -> date:
    """The date by the place's mean solar time: the `day` whose `daylight` surrounds a moment."""
    return (moment_utc.astimezone(UTC) + timedelta(hours=position.longitude_deg / 15.0)).date()


def sun_elevation_deg(position: Position, moment_utc: datetime) -> float:
    """The height of the sun's centre over the horizon, without refraction (Meeus, equation 13.6)."""
    declination, hour_angle = _declination_and_hour_angle(position.longitude_deg, moment_utc)
    latitude = radians(position.latitude_deg)
    sine = sin(latitude) * sin(declination) + cos(latitude) * cos(declination) * cos(hour_angle)
    # Under a sun in the zenith rounding goes beyond 1.
    return degrees(asin(sine if -1.0 <= sine <= 1.0 else copysign(1.0, sine)))


def _declination_and_hour_angle(longitude_deg: float, moment_utc: datetime) -> tuple[float, float]:
    """The sun's declination and its hour angle west of the meridian, in radians."""
    declination, right_ascension, sidereal_deg = _place_among_stars(moment_utc)
    return declination, radians((sidereal_deg + longitude_deg) % 360.0) - right_ascension


@lru_cache(maxsize=512)
def _place_among_stars(moment_utc: datetime) -> tuple[float, float, float]:
    """The sun's declination and right ascension, in radians, and the sidereal time at Greenwich, in degrees.

    Remembered, as many flights of a file take off, or land by the printed clock, in the same minute.
    """
    days = (moment_utc - _J2000) / _DAY
    century = days / 36525.0
    mean_longitude_deg = 280.46646 + century * (36000.76983 + century * 0.0003032)
    anomaly = radians(357.52911 + century * (35999.05029 - century * 0.0001537))
    centre_deg = (
        (1.914602 - century * (0.004817 + century * 0.000014)) * sin(anomaly)
        + (0.019993 - century * 0.000101) * sin(2.0 * anomaly)
        + 0.000289 * sin(3.0 * anomaly)
    )
    # The moon's ascending node: the one term of nutation that the low accuracy keeps (Meeus, chapter 25).
    node = radians(125.04 - 1934.136 * century)
    nutation_deg = -0.00478 * sin(node)
    # 0.00569 degrees is aberration: the sun is seen where it was when its light left.
    longitude = radians(mean_longitude_deg + centre_deg - 0.00569 + nutation_deg)
    obliquity = radians(23.439291 - 0.0130042 * century + 0.00256 * cos(node))
    declination = asin(sin(obliquity) * sin(longitude))
    right_ascension = atan2(cos(obliquity) * sin(longitude), cos(longitude))
    # The last term is the equation of the equinoxes: the longitude above is apparent, not mean (Meeus, chapter 12).
    sidereal_deg = (
        280.46061837 + 360.98564736629 * days + 0.000387933 * century * century + nutation_deg * cos(obliquity)
    )
    return declination, right_ascension, sidereal_deg


def _noon(position: Position, day: date) -> datetime:
    """When the sun crosses the meridian: mean noon corrected twice by the hour angle then."""
    noon = datetime.combine(day, time(12), UTC) - timedelta(hours=position.longitude_deg / 15.0)
    # The equation of time is at most 17 minutes and changes by half a minute a day: one pass leaves 0.4 s, two nothing.
    for _ in range(2):
        _, hour_angle = _declination_and_hour_angle(position.longitude_deg, noon)
        noon -= difference_deg(degrees(hour_angle), 0.0) / 360.0 * _DAY
    return noon


def _crossing(position: Position, noon: datetime, toward_midnight: timedelta, elevation_deg: float) -> datetime | None:
    """The moment between noon and midnight when the sun stands at `elevation_deg`, by halving."""
    above, below = noon, noon + toward_midnight
    # From noon to midnight the sun sinks, so there is one crossing or none; in polar night noon itself is too low.
    if not sun_elevation_deg(position, above) >= elevation_deg > sun_elevation_deg(position, below):
        return None
    while abs(below - above) > _PRECISION:
        middle = above + (below - above) / 2
        if sun_elevation_deg(position, middle) >= elevation_deg:
            above = middle
        else:
            below = middle
    return above
