"""Sun and twilight against the U.S. Naval Observatory, Meeus, `astral` and the rule's own words."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from astral import Observer
from astral import sun as astral_sun
from hypothesis import given
from hypothesis import strategies as st

from navlog.nav.chart import Position
from navlog.nav.sun import Daylight, daylight, is_night, solar_date, sun_elevation_deg

EVENTS = ("dawn", "sunrise", "noon", "sunset", "dusk")
USNO = [
    line.split()
    for line in (Path(__file__).parents[1] / "authorities" / "usno_sun.txt").read_text().splitlines()
    if not line.startswith("#")
]
HALF_MINUTE = timedelta(seconds=30.5)  # the Observatory prints whole minutes
GRAZING = timedelta(seconds=90)  # the sun sinks 1' in that time at 70 N on the edge of the midnight sun
OBSERVATORY_PLACE = Position(38.9217, -77.0669)

places = st.builds(Position, st.floats(-89, 89), st.floats(-180, 179.9))
moments = st.floats(0, 14_610).map(lambda days: datetime(2000, 1, 1, tzinfo=UTC) + timedelta(days=days))


@pytest.mark.parametrize("row", USNO, ids=lambda row: str(row[0]))
def test_every_published_rise_set_and_twilight(row: list[str]) -> None:
    name, latitude, longitude, day, *published = row
    found = daylight(Position(float(latitude), float(longitude)), date.fromisoformat(day))
    within = GRAZING if name in {"70N-15-May", "70N-16-May"} else HALF_MINUTE
    for event, expected in zip(EVENTS, published, strict=True):
        moment: datetime | None = getattr(found, event)
        if expected == "-":
            assert moment is None, event
        elif expected != "?":
            assert moment is not None, event
            assert abs(moment - datetime.fromisoformat(expected).replace(tzinfo=UTC)) <= within, event


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "moment", "elevation_deg", "within_deg"),
    [
        # Meeus, example 25.a: the declination is the height at the pole.
        pytest.param(90, 0, datetime(1992, 10, 13, tzinfo=UTC), -7.78507, 0.00001, id="Meeus 25.a"),
        # USNO celestial navigation data, from the same public table as the others in usno_sun.txt.
        pytest.param(-33.8688, 151.2093, datetime(2025, 6, 21, 1, tzinfo=UTC), 31.11522, 0.002, id="Sydney"),
        pytest.param(64.1466, -21.9426, datetime(2025, 9, 22, 13, tzinfo=UTC), 25.82978, 0.002, id="Iceland"),
        pytest.param(64.1466, -21.9426, datetime(2025, 6, 21, 13, tzinfo=UTC), 48.99850, 0.002, id="summer"),
    ],
)
def test_published_heights_of_the_sun(
    latitude_deg: float, longitude_deg: float, moment: datetime, elevation_deg: float, within_deg: float
) -> None:
    found_deg = sun_elevation_deg(Position(latitude_deg, longitude_deg), moment)
    assert found_deg == pytest.approx(elevation_deg, abs=within_deg)


@given(place=places, moment=moments)
def test_the_height_of_the_sun_agrees_with_astral(place: Position, moment: datetime) -> None:
    observer = Observer(place.latitude_deg, place.longitude_deg)
    theirs_deg = astral_sun.elevation(observer, moment, with_refraction=False)
    # 0.02: both hold to a hundredth of a degree.
    assert sun_elevation_deg(place, moment) == pytest.approx(theirs_deg, abs=0.02)


@pytest.mark.parametrize("day", [date(2026, month, 5) for month in range(1, 13)], ids=str)
@pytest.mark.parametrize(("latitude_deg", "longitude_deg"), [(46, -39), (35.4, -97.6), (-50, -70), (0, 20), (50, 10)])
def test_the_events_of_a_day_agree_with_astral(latitude_deg: float, longitude_deg: float, day: date) -> None:
    found = daylight(Position(latitude_deg, longitude_deg), day)
    observer = Observer(latitude_deg, longitude_deg)
    for event in ("dawn", "sunrise", "sunset", "dusk"):
        moment: datetime | None = getattr(found, event)
        assert moment is not None
        theirs = getattr(astral_sun, event)(observer, moment.date(), tzinfo=UTC)
        assert abs(moment - theirs) < timedelta(minutes=1), event


def test_night_is_from_the_end_of_evening_to_the_start_of_morning_civil_twilight() -> None:
    today = daylight(OBSERVATORY_PLACE, date(2026, 3, 5))
    assert today.dawn is not None
    assert today.dusk is not None
    assert today.sunset is not None
    assert not is_night(OBSERVATORY_PLACE, today.sunset + timedelta(minutes=20))
    assert not is_night(OBSERVATORY_PLACE, today.dusk - timedelta(seconds=1))
    assert is_night(OBSERVATORY_PLACE, today.dusk + timedelta(seconds=1))
    assert is_night(OBSERVATORY_PLACE, today.dawn - timedelta(seconds=1))
    assert not is_night(OBSERVATORY_PLACE, today.dawn + timedelta(seconds=1))


@pytest.mark.parametrize(("day", "dark"), [(date(2025, 6, 21), False), (date(2025, 12, 21), True)])
def test_polar_day_and_night_have_no_events_and_one_answer(day: date, dark: bool) -> None:
    place = Position(80.0, 15.0)
    found = daylight(place, day)
    assert found == Daylight(None, None, found.noon, None, None)
    assert is_night(place, found.noon) is dark
    assert is_night(place, found.noon + timedelta(hours=12)) is dark


@given(place=places, moment=moments)
def test_the_day_of_a_moment_surrounds_it(place: Position, moment: datetime) -> None:
    noon = daylight(place, solar_date(place, moment)).noon
    assert abs(noon - moment) < timedelta(hours=12, minutes=20)


@given(place=places, moment=moments)
def test_the_events_of_a_day_follow_one_another(place: Position, moment: datetime) -> None:
    found = daylight(place, moment.date())
    happened = [at for event in EVENTS if (at := getattr(found, event)) is not None]
    assert happened == sorted(happened)
    assert found.noon.date() in {moment.date() + timedelta(days=shift) for shift in (-1, 0, 1)}
