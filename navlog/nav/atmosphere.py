"""The ICAO standard atmosphere up to 20 km and the airspeeds and altitudes that follow from it.

Source: ICAO Doc 7488/3, Manual of the ICAO Standard Atmosphere (1993). Altitudes are geopotential feet,
temperatures degrees Celsius, pressures hectopascals, speeds knots. A pressure altitude is the height at
which the standard atmosphere has the pressure in question. Every function refuses values outside its
range with a `NavlogError`.
"""

from __future__ import annotations

from math import exp, expm1, isfinite, log, log1p, pow, sqrt

from navlog.nav.problems import problem_error
from navlog.nav.units import FOOT_M, NAUTICAL_MILE_M

# Primary constants of Doc 7488/3.
_SEA_LEVEL_HPA = 1013.25
_SEA_LEVEL_K = 288.15
ZERO_CELSIUS_K = 273.15
_GRAVITY_M_PER_S2 = 9.80665
_GAS_CONSTANT = 287.05287  # m2 / (K s2), for dry air
_LAPSE_K_PER_M = 0.0065
_TROPOPAUSE_M = 11_000.0
_LOWEST_M = -5_000.0
_HIGHEST_M = 20_000.0
_HEAT_RATIO = 1.4

_TROPOPAUSE_K = _SEA_LEVEL_K - _LAPSE_K_PER_M * _TROPOPAUSE_M
_PRESSURE_POWER = _GRAVITY_M_PER_S2 / (_GAS_CONSTANT * _LAPSE_K_PER_M)
_TROPOPAUSE_PRESSURE_RATIO = pow(_TROPOPAUSE_K / _SEA_LEVEL_K, _PRESSURE_POWER)
_TROPOPAUSE_DENSITY_RATIO = pow(_TROPOPAUSE_K / _SEA_LEVEL_K, _PRESSURE_POWER - 1.0)
_SCALE_HEIGHT_M = _GAS_CONSTANT * _TROPOPAUSE_K / _GRAVITY_M_PER_S2


def standard_temperature_c(pressure_altitude_ft: float) -> float:
    """The standard temperature at a pressure altitude: 15 C at sea level, -56.5 C from 11 to 20 km."""
    return _standard_temperature_k(_height_m(pressure_altitude_ft)) - ZERO_CELSIUS_K


def pressure_hpa(pressure_altitude_ft: float) -> float:
    """The static pressure at a pressure altitude."""
    return _SEA_LEVEL_HPA * _pressure_ratio(_height_m(pressure_altitude_ft))


def altitude_of_pressure_ft(static_hpa: float) -> float:
    """The pressure altitude of a static pressure, the inverse of `pressure_hpa`."""
    if not (isfinite(static_hpa) and static_hpa > 0.0):
        raise problem_error("bad-pressure", f"a pressure of {static_hpa:g} hPa is not above zero")
    return _altitude_ft(static_hpa / _SEA_LEVEL_HPA, power=_PRESSURE_POWER, at_tropopause=_TROPOPAUSE_PRESSURE_RATIO)


def pressure_altitude_ft(*, indicated_altitude_ft: float, altimeter_hpa: float) -> float:
    """The pressure altitude of a height read on an altimeter set to `altimeter_hpa`.

    The setting shifts the height scale by its own standard altitude; FAA-H-8083-25, chapter 10, sample
    problem 1: 5,883 ft with 30.10 inHg is a pressure altitude of 5,718 ft.
    """
    # A setting above 1013.25 has a negative altitude: in high pressure the same reading is lower on the standard scale.
    return indicated_altitude_ft + altitude_of_pressure_ft(altimeter_hpa)


def indicated_altitude_ft(*, pressure_altitude_ft: float, altimeter_hpa: float) -> float:
    """What an altimeter set to `altimeter_hpa` reads at a pressure altitude (a flight level x 100)."""
    return pressure_altitude_ft - altitude_of_pressure_ft(altimeter_hpa)


def density_ratio(*, pressure_altitude_ft: float, temperature_c: float) -> float:
    """Air density over standard sea-level density, by the gas law: (p / p0) x (T0 / T)."""
    pressure_ratio = _pressure_ratio(_height_m(pressure_altitude_ft))
    return pressure_ratio * _SEA_LEVEL_K / _kelvin(temperature_c)


def density_altitude_ft(*, pressure_altitude_ft: float, temperature_c: float) -> float:
    """The height at which the standard atmosphere has the air's density; dry air, exact."""
    ratio = density_ratio(pressure_altitude_ft=pressure_altitude_ft, temperature_c=temperature_c)
    # Density falls as pressure over temperature, so with one power of temperature less.
    return _altitude_ft(ratio, power=_PRESSURE_POWER - 1.0, at_tropopause=_TROPOPAUSE_DENSITY_RATIO)


def speed_of_sound_kt(temperature_c: float) -> float:
    """The speed of sound in air at a temperature: sqrt(1.4 R T)."""
    return sqrt(_HEAT_RATIO * _GAS_CONSTANT * _kelvin(temperature_c)) * 3600.0 / NAUTICAL_MILE_M


def mach(*, tas_kt: float, temperature_c: float) -> float:
    """The Mach number of a true airspeed in air of a temperature."""
    return _speed(tas_kt) / speed_of_sound_kt(temperature_c)


def tas_from_cas_kt(*, cas_kt: float, pressure_altitude_ft: float, temperature_c: float) -> float:
    """The true airspeed of a calibrated airspeed, for compressible flow below Mach 1.

    Impact pressure by the isentropic pitot equation at sea level, then Mach number from it at the static
    pressure (NACA Report 837, Aiken, 1946). `temperature_c` is the static temperature of the air.
    """
    # An airspeed indicator is marked as if all air were that of sea level: there CAS and TAS are the same.
    impact_hpa = _SEA_LEVEL_HPA * _impact_ratio(_speed(cas_kt) / _SEA_LEVEL_SOUND_KT)
    number = _mach_of_impact(impact_hpa / pressure_hpa(pressure_altitude_ft))
    return _subsonic(number) * speed_of_sound_kt(temperature_c)


def cas_from_tas_kt(*, tas_kt: float, pressure_altitude_ft: float, temperature_c: float) -> float:
    """The calibrated airspeed of a true airspeed, the inverse of `tas_from_cas_kt`."""
    number = _subsonic(mach(tas_kt=tas_kt, temperature_c=temperature_c))
    impact_hpa = pressure_hpa(pressure_altitude_ft) * _impact_ratio(number)
    return _SEA_LEVEL_SOUND_KT * _mach_of_impact(impact_hpa / _SEA_LEVEL_HPA)


def _impact_ratio(number: float) -> float:
    """Impact pressure over static pressure at a Mach number."""
    # 3.5 and 0.2 are g / (g - 1) and (g - 1) / 2 of the ratio of heats, 1.4; at low speeds 1 + x would lose digits.
    return expm1(3.5 * log1p(0.2 * number * number))


def _mach_of_impact(ratio: float) -> float:
    """The Mach number at which impact pressure over static pressure is `ratio`."""
    return sqrt(5.0 * expm1(2.0 / 7.0 * log1p(ratio)))


def _standard_temperature_k(height_m: float) -> float:
    # Isothermal from 11 to 20 km, where this atmosphere ends, so the higher of the two is always right.
    falling_k = _SEA_LEVEL_K - _LAPSE_K_PER_M * height_m
    return falling_k if falling_k > _TROPOPAUSE_K else _TROPOPAUSE_K


def _pressure_ratio(height_m: float) -> float:
    if height_m <= _TROPOPAUSE_M:
        return pow(_standard_temperature_k(height_m) / _SEA_LEVEL_K, _PRESSURE_POWER)
    return _TROPOPAUSE_PRESSURE_RATIO * exp((_TROPOPAUSE_M - height_m) / _SCALE_HEIGHT_M)


def _altitude_ft(ratio: float, *, power: float, at_tropopause: float) -> float:
    """The height at which a quantity that falls with temperature to `power` is `ratio` of sea level."""
    if ratio >= at_tropopause:
        height_m = _SEA_LEVEL_K / _LAPSE_K_PER_M * (1.0 - pow(ratio, 1.0 / power))
    else:
        height_m = _TROPOPAUSE_M + _SCALE_HEIGHT_M * log(at_tropopause / ratio)
    _check_height(height_m)
    return height_m / FOOT_M


def _height_m(altitude_ft: float) -> float:
    height_m = altitude_ft * FOOT_M
    _check_height(height_m)
    return height_m


def _check_height(height_m: float) -> None:
    # A metre of play, so that the limits survive the way to feet and back.
    if not _LOWEST_M - 1.0 <= height_m <= _HIGHEST_M + 1.0:
        raise problem_error(
            "outside-atmosphere",
            f"an altitude of {height_m / FOOT_M:,.0f} ft is not in the standard atmosphere used here",
            hint=f"it reaches from {_LOWEST_M / FOOT_M:,.0f} to {_HIGHEST_M / FOOT_M:,.0f} ft",
        )


def _kelvin(temperature_c: float) -> float:
    if not (isfinite(temperature_c) and temperature_c > -ZERO_CELSIUS_K):
        raise problem_error("bad-temperature", f"{temperature_c:g} C is not a temperature of air")
    return temperature_c + ZERO_CELSIUS_K


def _speed(speed_kt: float) -> float:
    if not (isfinite(speed_kt) and speed_kt >= 0.0):
        raise problem_error("bad-speed", f"an airspeed of {speed_kt:g} kt is not zero or more")
    return speed_kt


def _subsonic(number: float) -> float:
    if number >= 1.0:
        raise problem_error(
            "bad-speed",
            f"Mach {number:.2f} is not below the speed of sound",
            hint="give the airspeed in knots",
        )
    return number


_SEA_LEVEL_SOUND_KT = speed_of_sound_kt(_SEA_LEVEL_K - ZERO_CELSIUS_K)
