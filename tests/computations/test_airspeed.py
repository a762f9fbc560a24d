"""Airspeeds and altitudes against published answers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.computations.airspeed import _workings, solve
from navlog.nav.problems import NavlogError
from navlog.nav.units import read_pressure_hpa, read_temperature_c


def test_pressure_and_density_altitude_as_published() -> None:
    # FAA PHAK, chapter 10, sample problem 1: 5,883 ft, 30.10 inHg, 70 F: 5,718 ft and about 7,700 ft.
    found = solve(
        level_ft=5883.0,
        altimeter_hpa=read_pressure_hpa("30.10inHg"),
        temperature_c=read_temperature_c("70F"),
    )
    assert found.pressure_altitude_ft == pytest.approx(5718.0, abs=2.0)
    assert found.density_altitude_ft == pytest.approx(7700.0, abs=15.0)
    assert (found.cas_kt, found.tas_kt, found.mach) == (None, None, None)


@pytest.mark.parametrize(
    ("cas_kt", "altitude_ft", "temperature_c", "tas_kt", "tolerance_kt"),
    [
        (120.0, 5500.0, None, 130.1, 0.1),  # EASA question bank: about 130
        (150.0, 10_000.0, -10.0, 173.0, 1.0),  # EASA question bank
        (110.0, 7000.0, 16.0, 126.0, 1.0),  # a slide rule's reading
        (100.0, 5000.0, None, 107.7, 0.1),  # computed from Doc 7488 constants
    ],
)
def test_true_airspeed_as_published(
    cas_kt: float, altitude_ft: float, temperature_c: float | None, tas_kt: float, tolerance_kt: float
) -> None:
    found = solve(level_ft=altitude_ft, temperature_c=temperature_c, cas_kt=cas_kt)
    assert found.tas_kt == pytest.approx(tas_kt, abs=tolerance_kt)
    assert found.temperature_standard is (temperature_c is None)


@given(st.integers(60, 300), st.integers(0, 30_000), st.integers(-50, 40))
def test_every_airspeed_gives_the_others_back(cas_kt: int, altitude_ft: int, temperature_c: int) -> None:
    found = solve(level_ft=altitude_ft, temperature_c=temperature_c, cas_kt=cas_kt)
    by_tas = solve(level_ft=altitude_ft, temperature_c=temperature_c, tas_kt=found.tas_kt)
    by_mach = solve(level_ft=altitude_ft, temperature_c=temperature_c, mach=found.mach)
    assert by_tas.cas_kt == pytest.approx(cas_kt, abs=1e-6)
    assert by_mach.cas_kt == pytest.approx(cas_kt, abs=1e-6)


def test_mach_one_at_sea_level_is_661_knots() -> None:
    # ICAO Doc 7488/3: 340.294 m/s.
    assert solve(level_ft=0.0, mach=0.5).tas_kt == pytest.approx(0.5 * 340.294 * 3600 / 1852, abs=0.01)


def test_isa_deviation_is_the_temperature_less_the_standard_one() -> None:
    assert solve(level_ft=0.0, temperature_c=25.0).isa_deviation_c == pytest.approx(10.0)


def test_a_flight_level_is_a_pressure_altitude() -> None:
    found = solve(level_ft=10_000.0, flight_level=True)
    assert (found.pressure_altitude_ft, found.altimeter_standard) == (10_000.0, False)
    assert solve(level_ft=10_000.0).altimeter_standard is True


@pytest.mark.parametrize(
    "wrong",
    [
        {"cas_kt": 0.0},
        {"mach": 0.0},
        {"cas_kt": 100.0, "tas_kt": 110.0},
        {"flight_level": True, "altimeter_hpa": 1013.0},
        {"mach": 1.0},
        {"temperature_c": -300.0},
    ],
)
def test_bad_input_is_a_problem(wrong: dict[str, float]) -> None:
    with pytest.raises(NavlogError):
        solve(level_ft=5000.0, **wrong)  # type: ignore[arg-type]


def test_workings_go_from_pressure_to_true_airspeed() -> None:
    found = solve(level_ft=5883.0, altimeter_hpa=read_pressure_hpa("30.10inHg"), cas_kt=100.0)
    assert [step.what for step in _workings(found)] == [
        "pressure altitude",
        "density altitude",
        "Mach number",
        "true airspeed",
    ]
    assert _workings(found)[0].values == "5883 + (-165)"  # PHAK's conversion is -165 ft
