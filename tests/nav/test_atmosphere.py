"""The standard atmosphere against Doc 7488/3, the FAA's density altitude, `ambiance` and itself."""

from __future__ import annotations

from pathlib import Path

import pytest
from ambiance import Atmosphere
from hypothesis import given
from hypothesis import strategies as st

from navlog.nav.atmosphere import (
    altitude_of_pressure_ft,
    cas_from_tas_kt,
    density_altitude_ft,
    density_ratio,
    indicated_altitude_ft,
    mach,
    pressure_altitude_ft,
    pressure_hpa,
    speed_of_sound_kt,
    standard_temperature_c,
    tas_from_cas_kt,
)
from navlog.nav.problems import NavlogError
from navlog.nav.units import FOOT_M, read_pressure_hpa

KNOT_M_PER_S = 1852 / 3600
EARTH_RADIUS_M = 6_356_766  # Doc 7488/3, for geometric to geopotential heights
DOC_7488 = [
    tuple(map(float, line.split()))
    for line in (Path(__file__).parents[1] / "authorities" / "icao_doc_7488.txt").read_text().splitlines()
    if not line.startswith("#")
]

altitudes_ft = st.floats(-16_000, 65_600)
temperatures_c = st.floats(-80, 50)


def geopotential_ft(geometric_m: float) -> float:
    return EARTH_RADIUS_M * geometric_m / (EARTH_RADIUS_M + geometric_m) / FOOT_M


def geometric_m(geopotential_feet: float) -> float:
    height_m = geopotential_feet * FOOT_M
    return EARTH_RADIUS_M * height_m / (EARTH_RADIUS_M - height_m)


@pytest.mark.parametrize("row", DOC_7488, ids=lambda row: f"{row[0]:.0f} m")
def test_every_row_of_doc_7488_to_one_in_its_last_digit(row: tuple[float, ...]) -> None:
    height_m, temperature_k, pressure_pa, density, sound_m_per_s = row
    altitude_ft = geopotential_ft(height_m)
    temperature_c = standard_temperature_c(altitude_ft)
    ratio = density_ratio(pressure_altitude_ft=altitude_ft, temperature_c=temperature_c)
    assert temperature_c + 273.15 == pytest.approx(temperature_k, abs=0.001)
    assert pressure_hpa(altitude_ft) * 100 == pytest.approx(pressure_pa, rel=1e-5)
    assert ratio * 1.225 == pytest.approx(density, abs=0.00001)
    assert speed_of_sound_kt(temperature_c) * KNOT_M_PER_S == pytest.approx(sound_m_per_s, abs=0.001)


def test_the_tropopause_stands_at_11_km() -> None:
    # Doc 7488/3: 216.65 K and 226.321 hPa at 11 km; the temperature stays to 20 km.
    assert standard_temperature_c(11_000 / FOOT_M) == pytest.approx(-56.5, abs=1e-9)
    assert pressure_hpa(11_000 / FOOT_M) == pytest.approx(226.321, abs=0.001)
    assert standard_temperature_c(20_000 / FOOT_M) == pytest.approx(-56.5, abs=1e-9)


@given(altitude_ft=altitudes_ft)
def test_agrees_with_ambiance_at_every_height(altitude_ft: float) -> None:
    # 2e-6: ambiance starts its stratosphere at a tropopause pressure rounded to a tenth of a pascal.
    theirs = Atmosphere(geometric_m(altitude_ft))
    temperature_c = standard_temperature_c(altitude_ft)
    ratio = density_ratio(pressure_altitude_ft=altitude_ft, temperature_c=temperature_c)
    assert temperature_c == pytest.approx(theirs.temperature_in_celsius[0], abs=1e-6)
    assert pressure_hpa(altitude_ft) * 100 == pytest.approx(theirs.pressure[0], rel=2e-6)
    assert ratio * 1.225 == pytest.approx(theirs.density[0], rel=2e-6)
    assert speed_of_sound_kt(temperature_c) * KNOT_M_PER_S == pytest.approx(theirs.speed_of_sound[0], rel=1e-6)


@given(altitude_ft=altitudes_ft)
def test_pressure_leads_back_to_its_altitude(altitude_ft: float) -> None:
    assert altitude_of_pressure_ft(pressure_hpa(altitude_ft)) == pytest.approx(altitude_ft, abs=1e-6)


@given(altitude_ft=altitudes_ft)
def test_standard_air_has_its_own_altitude_as_density_altitude(altitude_ft: float) -> None:
    found_ft = density_altitude_ft(pressure_altitude_ft=altitude_ft, temperature_c=standard_temperature_c(altitude_ft))
    assert found_ft == pytest.approx(altitude_ft, abs=1e-6)


def test_density_altitude_of_the_pilots_handbook() -> None:
    # FAA-H-8083-25, chapter 10, sample problem 1: 5,883 ft, 30.10 inHg, 70 F; 5,718 and about 7,700 ft.
    altitude_ft = pressure_altitude_ft(indicated_altitude_ft=5883, altimeter_hpa=read_pressure_hpa("30.10inHg"))
    density_ft = density_altitude_ft(pressure_altitude_ft=altitude_ft, temperature_c=(70 - 32) / 1.8)
    assert altitude_ft == pytest.approx(5718, abs=2)
    assert density_ft == pytest.approx(7700, abs=15)
    assert density_ft == pytest.approx(7709.5, abs=0.2)  # worked separately from the same gas law


def test_pressure_altitude_conversion_of_the_pilots_handbook() -> None:
    # FAA-H-8083-25, figure 10-3: an altimeter setting of 29.7 adds 205 ft.
    added_ft = pressure_altitude_ft(indicated_altitude_ft=0, altimeter_hpa=read_pressure_hpa("29.7inHg"))
    assert added_ft == pytest.approx(205, abs=1)


@given(altitude_ft=st.floats(-1_000, 45_000), altimeter_hpa=st.floats(950, 1050))
def test_indicated_altitude_undoes_pressure_altitude(altitude_ft: float, altimeter_hpa: float) -> None:
    standard_ft = pressure_altitude_ft(indicated_altitude_ft=altitude_ft, altimeter_hpa=altimeter_hpa)
    back_ft = indicated_altitude_ft(pressure_altitude_ft=standard_ft, altimeter_hpa=altimeter_hpa)
    assert back_ft == pytest.approx(altitude_ft, abs=1e-6)


@pytest.mark.parametrize(
    ("cas_kt", "altitude_ft", "temperature_c", "tas_kt", "within_kt"),
    [
        pytest.param(110, 7000, 16, 126, 1.0, id="a published slide-rule answer"),
        pytest.param(120, 5500, None, 130, 0.5, id="EASA question: about 130"),
        pytest.param(150, 10000, -10, 173, 1.0, id="EASA question, by slide rule: 173"),
        pytest.param(110, 7000, 16, 125.3, 0.05, id="110 kt, worked separately"),
        pytest.param(120, 5500, None, 130.1, 0.05, id="120 kt at 5,500 ft, worked separately"),
        pytest.param(100, 5000, None, 107.7, 0.05, id="100 kt at 5,000 ft, worked separately"),
        pytest.param(120, 10000, None, 139.4, 0.05, id="120 kt at 10,000 ft, worked separately"),
        pytest.param(140, 8000, -1, 157.6, 0.05, id="140 kt at 8,000 ft, worked separately"),
        pytest.param(250, 12500, -20, 293.8, 0.05, id="250 kt at 12,500 ft, worked separately"),
    ],
)
def test_true_airspeed_of_the_reference_table(
    cas_kt: float, altitude_ft: float, temperature_c: float | None, tas_kt: float, within_kt: float
) -> None:
    if temperature_c is None:
        temperature_c = standard_temperature_c(altitude_ft)
    found_kt = tas_from_cas_kt(cas_kt=cas_kt, pressure_altitude_ft=altitude_ft, temperature_c=temperature_c)
    assert found_kt == pytest.approx(tas_kt, abs=within_kt)


@given(cas_kt=st.floats(0, 250), altitude_ft=st.floats(-1_000, 40_000), temperature_c=temperatures_c)
def test_true_airspeed_leads_back_to_calibrated(cas_kt: float, altitude_ft: float, temperature_c: float) -> None:
    tas_kt = tas_from_cas_kt(cas_kt=cas_kt, pressure_altitude_ft=altitude_ft, temperature_c=temperature_c)
    back_kt = cas_from_tas_kt(tas_kt=tas_kt, pressure_altitude_ft=altitude_ft, temperature_c=temperature_c)
    assert back_kt == pytest.approx(cas_kt, abs=1e-6)


def test_mach_1_is_661_knots_in_standard_sea_level_air() -> None:
    # 340.294 m/s by Doc 7488/3.
    assert mach(tas_kt=340.294 * 3600 / 1852, temperature_c=15) == pytest.approx(1, abs=2e-6)


@pytest.mark.parametrize(
    ("code", "refused"),
    [
        ("outside-atmosphere", lambda: pressure_hpa(66_000)),
        ("outside-atmosphere", lambda: standard_temperature_c(-17_000)),
        ("outside-atmosphere", lambda: pressure_hpa(float("nan"))),
        ("outside-atmosphere", lambda: altitude_of_pressure_ft(1.0)),
        ("bad-pressure", lambda: altitude_of_pressure_ft(0.0)),
        ("bad-temperature", lambda: speed_of_sound_kt(-273.15)),
        ("bad-temperature", lambda: density_ratio(pressure_altitude_ft=0, temperature_c=float("inf"))),
        ("bad-speed", lambda: mach(tas_kt=-1, temperature_c=15)),
        (
            "bad-speed",
            lambda: tas_from_cas_kt(cas_kt=500, pressure_altitude_ft=50_000, temperature_c=-56),
        ),
        ("bad-speed", lambda: cas_from_tas_kt(tas_kt=700, pressure_altitude_ft=0, temperature_c=15)),
    ],
)
def test_values_out_of_range_are_refused(code: str, refused: object) -> None:
    assert callable(refused)
    with pytest.raises(NavlogError) as caught:
        refused()
    assert [problem.code for problem in caught.value.problems] == [code]
