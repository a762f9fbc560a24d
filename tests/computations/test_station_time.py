"""Time and distance to a station against published answers."""

from __future__ import annotations

from math import radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.computations.station_time import _workings, by_change, by_radials, by_relative_bearings
from navlog.nav.problems import NavlogError
from navlog.nav.units import Amount


@pytest.mark.parametrize(
    ("change_deg", "elapsed_min", "speed_kt", "time_min", "distance_nm"),
    [
        (10.0, 75 / 60, 120.0, 7.5, 15.0),  # FAA PHAK, time and distance check: 75 s, 7.5 min, 15 NM
        (10.0, 120 / 60, None, 12.0, None),  # VOR text: 10 degrees in 120 s, 12 min
        (10.0, 5.0, None, 30.0, None),  # knowledge-test card: 30 min
        (5.0, 6.0, None, 72.0, None),  # FAA commercial item: 72 min
        (5.0, 1.5, 115.0, 18.0, 34.5),  # FAA commercial item: 34.5 NM
        (5.0, 2.0, 145.0, 24.0, 58.0),  # FAA commercial item: 58 NM
        (15.0, 7.5, 85.0, 30.0, 42.5),  # FAA commercial item: 30 min, 42.5 NM
        (10.0, 2.0, 160.0, 12.0, 32.0),  # FAA commercial item: 32 NM
    ],
)
def test_bearing_change_as_published(
    change_deg: float, elapsed_min: float, speed_kt: float | None, time_min: float, distance_nm: float | None
) -> None:
    found = by_change(change_deg=change_deg, elapsed_min=elapsed_min, speed_kt=speed_kt)
    assert found.time_min == pytest.approx(time_min)
    assert found.distance_nm == (None if distance_nm is None else pytest.approx(distance_nm))


def test_fuel_to_the_station_as_published() -> None:
    # FAA commercial items: 72 min at 12 gal/h is 14.4 gal; 30 min at 9.6 gal/h is 4.8 gal.
    first = by_change(change_deg=5.0, elapsed_min=6.0, burn=Amount(12.0, "gal/h"))
    second = by_change(change_deg=15.0, elapsed_min=7.5, burn=Amount(9.6, "gal/h"))
    assert first.fuel == Amount(14.4, "gal")
    assert second.fuel == Amount(4.8, "gal")


def test_change_between_two_radials() -> None:
    # FAA commercial item: R-360 at 1237, R-350 at 1244, TAS 120: 42 min, 84 NM.
    found = by_radials(first_deg=360.0, second_deg=350.0, elapsed_min=7.0, speed_kt=120.0)
    assert (found.time_min, found.distance_nm) == (42.0, 84.0)


def test_a_doubled_relative_bearing_takes_as_long_again() -> None:
    # FAA commercial item: relative bearing 015 doubles in 6 min: 6 min.
    assert by_relative_bearings(first_deg=15.0, second_deg=30.0, elapsed_min=6.0).time_min == (pytest.approx(6.0))
    assert by_relative_bearings(first_deg=345.0, second_deg=330.0, elapsed_min=6.0).time_min == (pytest.approx(6.0))


@given(st.integers(5, 80), st.integers(5, 60))
def test_relative_bearings_solve_the_triangle(first_deg: int, change_deg: int) -> None:
    # The station's distance off the track is the same from both ends: flown x sin x sin / sin.
    found = by_relative_bearings(first_deg=float(first_deg), second_deg=float(first_deg + change_deg), elapsed_min=10.0)
    abeam = found.time_min * sin(radians(first_deg + change_deg))
    from_start = abeam / sin(radians(first_deg))
    flown = (from_start**2 - abeam**2) ** 0.5 - found.time_min * (
        1 - sin(radians(first_deg + change_deg)) ** 2
    ) ** 0.5 * (1 if first_deg + change_deg <= 90 else -1)
    assert flown == pytest.approx(10.0)


@pytest.mark.parametrize("change_deg", [0.0, 31.0])
def test_no_change_and_a_large_one_are_refused(change_deg: float) -> None:
    with pytest.raises(NavlogError, match="bad-change"):
        by_change(change_deg=change_deg, elapsed_min=2.0)


@pytest.mark.parametrize(("first_deg", "second_deg"), [(30.0, 15.0), (15.0, 345.0), (360.0, 20.0), (90.0, 180.0)])
def test_relative_bearings_must_grow_on_one_side(first_deg: float, second_deg: float) -> None:
    with pytest.raises(NavlogError, match="bad-change"):
        by_relative_bearings(first_deg=first_deg, second_deg=second_deg, elapsed_min=2.0)


def test_no_time_and_no_speed_are_refused() -> None:
    with pytest.raises(NavlogError, match="no time has passed"):
        by_change(change_deg=10.0, elapsed_min=0.0)
    with pytest.raises(NavlogError, match="the speed is zero"):
        by_change(change_deg=10.0, elapsed_min=1.0, speed_kt=0.0)


def test_workings_name_the_rule() -> None:
    found = by_change(change_deg=10.0, elapsed_min=1.25, speed_kt=120.0, burn=Amount(9.0, "gal/h"))
    first, second, third = _workings(found)
    assert (first.values, first.result) == ("60 x 1.25 min / 10", "7.5 min")
    assert second.result == "15.0 NM"
    assert third.values == "9 gal/h x 7.50 min / 60"
    (triangle,) = _workings(by_relative_bearings(first_deg=15.0, second_deg=30.0, elapsed_min=6.0))
    assert triangle.values == "6 min x sin(15) / sin(30 - 15)"
