"""Climbs and descents against published answers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.computations.descent import Slope, _workings, solve
from navlog.nav.problems import NavlogError
from navlog.nav.units import Amount


@pytest.mark.parametrize(
    ("gradient_ft_per_nm", "groundspeed_kt", "rate_ft_min"),
    [(350.0, 120.0, 700.0), (200.0, 120.0, 400.0), (300.0, 75.0, 375.0)],  # the rule of FAA AIM 5-2-9
)
def test_rate_of_a_gradient_as_published(gradient_ft_per_nm: float, groundspeed_kt: float, rate_ft_min: float) -> None:
    found = solve(Slope(gradient_ft_per_nm=gradient_ft_per_nm), groundspeed_kt=groundspeed_kt)
    assert found.rate_ft_min == pytest.approx(rate_ft_min)
    assert (found.distance_nm, found.start_nm, found.time_min) == (None, None, None)


def test_three_miles_a_thousand_feet_as_published() -> None:
    # Instrument Procedures Handbook: FL310 to 6,000 ft is 25,000 ft and 75 NM; FL350 to sea level 105 NM.
    slope = Slope(gradient_ft_per_nm=1000.0 / 3.0)
    assert solve(slope, from_ft=31_000.0, to_ft=6_000.0).distance_nm == pytest.approx(75.0)
    assert solve(slope, from_ft=35_000.0, to_ft=0.0).distance_nm == pytest.approx(105.0)


def test_three_degrees_as_published() -> None:
    # A 3 degree path is 3.14 NM per 1,000 ft, and about groundspeed x 5 ft/min.
    found = solve(Slope(angle_deg=3.0), from_ft=1000.0, to_ft=0.0, groundspeed_kt=90.0)
    assert found.distance_nm == pytest.approx(3.14, abs=0.005)
    assert found.rate_ft_min == pytest.approx(90.0 * 5.0, rel=0.07)


def test_descent_of_the_commercial_test() -> None:
    # FAA commercial item: 6,500 to 800 above 700, 500 ft/min, GS 107.7 (computed), 8.5 gal/h: 10 min, 18 NM, 1.4 gal.
    found = solve(
        Slope(rate_ft_min=500.0),
        from_ft=6500.0,
        to_ft=1500.0,
        groundspeed_kt=107.7,
        burn=Amount(8.5, "gal/h"),
    )
    assert found.time_min == pytest.approx(10.0)
    assert found.distance_nm == pytest.approx(17.95, abs=0.01)
    assert found.fuel is not None
    assert found.fuel.value == pytest.approx(1.417, abs=0.001)
    assert found.climbing is False


def test_climb_to_a_crossing_altitude() -> None:
    # From 6,000 to an MCA of 8,400 at 500 ft/min and 110 kt: 4.8 min, start 8.8 NM before (computed).
    found = solve(Slope(rate_ft_min=500.0), from_ft=6000.0, to_ft=8400.0, groundspeed_kt=110.0)
    assert found.climbing is True
    assert found.time_min == pytest.approx(4.8)
    assert found.start_nm == pytest.approx(8.8)


def test_level_before_the_point_begins_earlier() -> None:
    found = solve(Slope(gradient_ft_per_nm=500.0), from_ft=3000.0, to_ft=1000.0, level_nm=5.0)
    assert (found.distance_nm, found.start_nm) == (4.0, 9.0)


@given(st.integers(200, 2000), st.integers(60, 250), st.integers(500, 20_000))
def test_every_figure_of_a_slope_gives_the_others(rate: int, groundspeed_kt: int, height_ft: int) -> None:
    def path(slope: Slope) -> tuple[float | None, ...]:
        found = solve(slope, from_ft=float(height_ft), to_ft=0.0, groundspeed_kt=groundspeed_kt)
        return found.rate_ft_min, found.angle_deg, found.distance_nm, found.time_min

    rate_ft_min, angle_deg, distance_nm, time_min = path(Slope(rate_ft_min=float(rate)))
    assert rate_ft_min == pytest.approx(rate)
    for slope in (Slope(angle_deg=angle_deg), Slope(distance_nm=distance_nm), Slope(time_min=time_min)):
        assert path(slope) == pytest.approx((rate_ft_min, angle_deg, distance_nm, time_min))


@pytest.mark.parametrize(
    ("slope", "heights_and_speed", "why"),
    [
        (Slope(), {}, "one figure makes the slope; 0 are given"),
        (Slope(rate_ft_min=500.0, angle_deg=3.0), {"groundspeed_kt": 90.0}, "2 are given"),
        (Slope(rate_ft_min=0.0), {"groundspeed_kt": 90.0}, "the slope is zero"),
        (Slope(rate_ft_min=500.0), {"groundspeed_kt": 0.0}, "the groundspeed is zero"),
        (Slope(rate_ft_min=500.0), {}, "no slope without a groundspeed"),
        (Slope(time_min=5.0), {"groundspeed_kt": 90.0}, "no slope without heights"),
        (Slope(distance_nm=5.0), {}, "no slope without heights"),
        (Slope(angle_deg=3.0), {"from_ft": 3000.0}, "one height is missing"),
        (Slope(angle_deg=3.0), {"from_ft": 3000.0, "to_ft": 3000.0}, "both heights are the same"),
        (Slope(angle_deg=90.0), {}, "no flight path"),
        (Slope(distance_nm=0.1), {"from_ft": 3000.0, "to_ft": 0.0}, "no flight path"),
    ],
)
def test_bad_input_is_a_problem(slope: Slope, heights_and_speed: dict[str, float], why: str) -> None:
    with pytest.raises(NavlogError, match=why):
        solve(slope, **heights_and_speed)  # type: ignore[arg-type]


def test_workings_show_what_is_known() -> None:
    found = solve(Slope(rate_ft_min=500.0), from_ft=6500.0, to_ft=1500.0, groundspeed_kt=108.0)
    assert [(step.what, step.result) for step in _workings(found)] == [
        ("angle", "2.62 degrees"),
        ("rate", "500 ft/min"),
        ("distance", "18.0 NM"),
        ("time", "10.0 min"),
    ]
    assert [step.what for step in _workings(solve(Slope(angle_deg=3.0)))] == ["angle"]
