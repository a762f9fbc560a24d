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
from navlog.nav.sun import CIVIL_TWILIGHT_DEG, Daylight, daylight, is_night, solar_date, sun_elevation_deg

RISE_SET_DEG = -50.0 / 60.0  # USNO: 34' of refraction and 16' of semidiameter
HEIGHTS_DEG = (CIVIL_TWILIGHT_DEG, RISE_SET_DEG, None, RISE_SET_DEG, CIVIL_TWILIGHT_DEG)
EVENTS = tuple(zip(("dawn", "sunrise", "noon", "sunset", "dusk"), HEIGHTS_DEG, strict=True))
USNO = [
    line.split()
    for line in (Path(__file__).parents[1] / "authorities" / "usno_sun.txt").read_text().splitlines()
    if not line.startswith("#")
]
HALF_MINUTE = timedelta(seconds=30.5)  # the Observatory prints whole minutes
GRAZING = timedelta(seconds=90)  # the sun sinks 1' in that time at 70 N on the edge of the midnight sun

places = st.builds(Position, st.floats(-89, 89), st.floats(-180, 179.9))
moments = st.floats(0, 14_610).map(lambda days: datetime(2000, 1, 1, tzinfo=UTC) + timedelta(days=days))


@pytest.mark.parametrize("row", USNO, ids=lambda row: str(row[0]))
def test_the_sun_stands_at_its_height_at_every_published_rise_set_and_twilight(row: list[str]) -> None:
    name, latitude, longitude, _, *published = row
    place = Position(float(latitude), float(longitude))
    within = GRAZING if name in {"70N-15-May", "70N-16-May"} else HALF_MINUTE
    for (event, height_deg), printed in zip(EVENTS, published, strict=True):
        if height_deg is None or printed in ("-", "?"):
            continue
        moment = datetime.fromisoformat(printed).replace(tzinfo=UTC)
        before, after = (sun_elevation_deg(place, moment + shift) - height_deg for shift in (-within, within))
        rises = event in ("dawn", "sunrise")
        assert (before < 0.0 < after) if rises else (before > 0.0 > after), event
        if height_deg == CIVIL_TWILIGHT_DEG:
            assert (is_night(place, moment - within), is_night(place, moment + within)) == (rises, not rises), event


@pytest.mark.parametrize("row", USNO, ids=lambda row: str(row[0]))
def test_every_published_set_and_twilight(row: list[str]) -> None:
    name, latitude, longitude, day, *published = row
    found = daylight(Position(float(latitude), float(longitude)), date.fromisoformat(day))
    within = GRAZING if name in {"70N-15-May", "70N-16-May"} else HALF_MINUTE
    for (event, _), expected in zip(EVENTS, published, strict=True):
        if event == "sunrise" or expected == "?":
            continue
        moment: datetime | None = getattr(found, event)
        if expected == "-":
            assert moment is None, event
        else:
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
@pytest.mark.parametrize(("latitude_deg", "longitude_deg"), [(46, -39), (35.4, -17.6), (-50, -70), (0, 20), (50, 10)])
def test_night_begins_and_ends_where_astral_says(latitude_deg: float, longitude_deg: float, day: date) -> None:
    """14 CFR 1.1: between the end of evening and the beginning of morning civil twilight."""
    place, observer = Position(latitude_deg, longitude_deg), Observer(latitude_deg, longitude_deg)
    minute = timedelta(minutes=1)
    for event, ends in (("dawn", True), ("dusk", False)):
        moment = getattr(astral_sun, event)(observer, day, tzinfo=UTC)
        assert (is_night(place, moment - minute), is_night(place, moment + minute)) == (ends, not ends), event


@pytest.mark.parametrize("day", [date(2026, month, 5) for month in range(1, 13)], ids=str)
@pytest.mark.parametrize(("latitude_deg", "longitude_deg"), [(46, -39), (35.4, -97.6), (-50, -70), (0, 20), (50, 10)])
def test_the_events_of_a_day_agree_with_astral(latitude_deg: float, longitude_deg: float, day: date) -> None:
    found = daylight(Position(latitude_deg, longitude_deg), day)
    observer = Observer(latitude_deg, longitude_deg)
    for event in ("dawn", "sunset", "dusk"):
        moment: datetime | None = getattr(found, event)
        assert moment is not None
        theirs = getattr(astral_sun, event)(observer, moment.date(), tzinfo=UTC)
        assert abs(moment - theirs) < timedelta(minutes=1), event


@pytest.mark.parametrize("day", [date(2025, 6, 21), date(2025, 12, 21)])
def test_polar_day_and_night_have_no_events(day: date) -> None:
    found = daylight(Position(80.0, 15.0), day)
    assert found == Daylight(None, None, found.noon, None, None)


@given(place=places, moment=moments)
def test_the_day_of_a_moment_surrounds_it(place: Position, moment: datetime) -> None:
    noon = daylight(place, solar_date(place, moment)).noon
    assert abs(noon - moment) < timedelta(hours=12, minutes=20)


@pytest.mark.parametrize(("day", "dark"), [(date(2025, 6, 21), False), (date(2025, 12, 21), True)])
def test_polar_day_and_night_have_one_answer(day: date, dark: bool) -> None:
    moment = datetime(day.year, day.month, day.day, tzinfo=UTC)
    for hour in range(24):
        assert is_night(Position(80.0, 15.0), moment + timedelta(hours=hour)) is dark
