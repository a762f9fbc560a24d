"""Times, groundspeeds and fuel against published answers."""

from __future__ import annotations

import pytest

from navlog.computations.passage import headwind, passage, read_groundspeed_kt
from navlog.nav.problems import NavlogError
from navlog.nav.units import Amount, read_distance_nm, read_speed_kt


@pytest.mark.parametrize(
    ("distance_nm", "groundspeed_kt", "time_min"),
    [
        # FAA PHAK, "Basic calculations".
        (210.0, 140.0, 90.0),
        (210.0, 120.0, 105.0),
        (270.0, 90.0, 180.0),
        # FAA educator lesson "Time in aviation": 329 mi at 94 mph take 3 h 30 min.
        (read_distance_nm("329sm"), read_speed_kt("94mph"), 210.0),
        # TM 1-205 Air Navigation, section V: 134 mi at 170 mph take 47.28 min.
        (read_distance_nm("134sm"), read_speed_kt("170mph"), 47.294),
    ],
)
def test_time_as_published(distance_nm: float, groundspeed_kt: float, time_min: float) -> None:
    passed = passage(distance_nm=distance_nm, groundspeed_kt=groundspeed_kt)
    assert passed.time_min == pytest.approx(time_min, abs=0.02)


def test_fuel_keeps_the_unit_of_the_burn() -> None:
    # FAA commercial knowledge test: 135 NM at 81 kt and 105 lb/h are 1:40 and 175 lb.
    passed = passage(distance_nm=135.0, groundspeed_kt=81.0, burn=Amount(105.0, "lb/h"))
    assert passed.fuel is not None
    assert passed.fuel.value == pytest.approx(175.0, abs=0.1)
    assert passed.fuel.unit == "lb"
    assert passed.time_min == pytest.approx(100.0, abs=0.1)


def test_groundspeed_from_distance_and_time() -> None:
    # FAA private knowledge test: 9 NM from 1456 to 1501 is 108 kt, and 50 NM more take 28 min.
    groundspeed_kt = read_groundspeed_kt("9nm/5min")
    assert groundspeed_kt == pytest.approx(108.0)
    assert passage(distance_nm=50.0, groundspeed_kt=groundspeed_kt).time_min == pytest.approx(27.8, abs=0.03)


def test_a_speed_in_km_per_hour_is_no_distance_in_a_time() -> None:
    assert read_groundspeed_kt("185.2km/h") == pytest.approx(100.0)


def test_headwind_part_of_a_groundspeed() -> None:
    # US Navy P-802: 36 NM in 10:00 at TAS 210 is 216 kt, a 6 kt tailwind.
    assert headwind(tas_kt=210.0, groundspeed_kt=read_groundspeed_kt("36nm/10min")).headwind_kt == (pytest.approx(-6.0))


@pytest.mark.parametrize("text", ["9nm/0min", "9/x", "0nm/0s", "9nm/5kt"])
def test_a_groundspeed_that_takes_no_time_is_refused(text: str) -> None:
    with pytest.raises(NavlogError):
        read_groundspeed_kt(text)


def test_no_passage_at_no_speed() -> None:
    with pytest.raises(NavlogError, match="bad-value"):
        passage(distance_nm=10.0, groundspeed_kt=0.0)
    with pytest.raises(NavlogError, match="bad-value"):
        headwind(tas_kt=0.0, groundspeed_kt=90.0)
