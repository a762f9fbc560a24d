"""The atmosphere beside its own equation of balance, airspeeds beside Bernoulli's, both integrated to 20 digits."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from random import Random
from typing import Any

from helpers.compared import Difference, check
from mpmath import MPContext

from navlog.computations import airspeed
from navlog.nav import atmosphere

mp = MPContext()
mp.dps = 20

# Primary constants of ICAO Doc 7488/3; 1.4 is its ratio of specific heats.
GAS, GRAVITY, LAPSE = mp.mpf("287.05287"), mp.mpf("9.80665"), mp.mpf("0.0065")
SEA_LEVEL_PA, SEA_LEVEL_K, TROPOPAUSE_M = mp.mpf(101_325), mp.mpf("288.15"), mp.mpf(11_000)
FOOT_M, KNOT_M_PER_S = mp.mpf("0.3048"), mp.mpf(1852) / 3600
RATIO = mp.mpf("1.4")

# Powers and exponentials of doubles.
RELATIVE = 1e-13


def temperature_k(height_m: Any) -> Any:
    return SEA_LEVEL_K - LAPSE * min(height_m, TROPOPAUSE_M)


def integral(function: Callable[[Any], Any], start: Any, end: Any) -> Any:
    """Over the unit interval, whose nodes mpmath keeps: those of every other interval would fill the memory."""
    return (end - start) * mp.quad(lambda share: function(start + share * (end - start)), [0, 1])


def pressure_pa(height_m: Any) -> Any:
    """The weight of the air above: d(ln p) = -g / (R T) dh from sea level."""

    def per_metre(at_m: Any) -> Any:
        return GRAVITY / (GAS * temperature_k(at_m))

    weight = integral(per_metre, mp.mpf(0), min(height_m, TROPOPAUSE_M))
    if height_m > TROPOPAUSE_M:
        weight += integral(per_metre, TROPOPAUSE_M, height_m)
    return SEA_LEVEL_PA * mp.exp(-weight)


def speed_m_per_s(rise_pa: Any, static_pa: Any, air_k: Any) -> Any:
    """The speed that brings a rise of pressure to rest: v^2 / 2 is the integral of dp / density, heat kept."""
    density = static_pa / (GAS * air_k)

    def per_pascal(pressure_pa: Any) -> Any:
        return 1 / (density * (pressure_pa / static_pa) ** (1 / RATIO))

    return mp.sqrt(2 * integral(per_pascal, static_pa, static_pa + rise_pa))


def rise_pa(speed: Any, static_pa: Any, air_k: Any) -> Any:
    """The rise of pressure that a speed makes, by the secant method on the integral."""
    first = static_pa / (GAS * air_k) * speed**2 / 2
    return mp.findroot(lambda rise: speed_m_per_s(rise, static_pa, air_k) - speed, (first, 1.1 * first))


def of_air(random: Random) -> Iterator[Difference]:
    altitude_ft, air_c = random.uniform(-16_000, 65_000), random.uniform(-80, 50)
    height_m, air_k = mp.mpf(altitude_ft) * FOOT_M, mp.mpf(air_c) + mp.mpf("273.15")
    pressure = pressure_pa(height_m)
    found_c = atmosphere.standard_temperature_c(altitude_ft)
    yield "standard_temperature_c", float(found_c + mp.mpf("273.15") - temperature_k(height_m))
    yield "pressure_hpa, share", float(100 * mp.mpf(atmosphere.pressure_hpa(altitude_ft)) / pressure - 1)
    back_ft = atmosphere.altitude_of_pressure_ft(float(pressure / 100))
    yield "altitude_of_pressure_ft", float(back_ft - mp.mpf(altitude_ft))
    ratio = pressure / SEA_LEVEL_PA * SEA_LEVEL_K / air_k
    found_ratio = atmosphere.density_ratio(pressure_altitude_ft=altitude_ft, temperature_c=air_c)
    yield "density_ratio, share", float(found_ratio / ratio - 1)
    sound = mp.sqrt(RATIO * GAS * air_k) / KNOT_M_PER_S
    yield "speed_of_sound_kt, share", float(atmosphere.speed_of_sound_kt(air_c) / sound - 1)
    if 0 < altitude_ft < 50_000:
        dense_ft = atmosphere.density_altitude_ft(pressure_altitude_ft=altitude_ft, temperature_c=air_c)
        dense_m = mp.mpf(dense_ft) * FOOT_M
        standard = pressure_pa(dense_m) / SEA_LEVEL_PA * SEA_LEVEL_K / temperature_k(dense_m)
        yield "density_altitude_ft, share of the density", float(standard / ratio - 1)
    setting_hpa = random.uniform(950, 1050)
    indicated_ft = random.uniform(0, 15_000)
    flown_ft = atmosphere.pressure_altitude_ft(indicated_altitude_ft=indicated_ft, altimeter_hpa=setting_hpa)
    shift_m = (mp.mpf(flown_ft) - indicated_ft) * FOOT_M
    yield "pressure_altitude_ft, share of the setting", float(pressure_pa(shift_m) / (100 * mp.mpf(setting_hpa)) - 1)
    back_ft = atmosphere.indicated_altitude_ft(pressure_altitude_ft=flown_ft, altimeter_hpa=setting_hpa)
    yield "indicated_altitude_ft", back_ft - indicated_ft


def test_the_air_weighs_what_stands_over_it() -> None:
    shares = ("pressure_hpa, share", "density_ratio, share", "speed_of_sound_kt, share")
    solved = ("density_altitude_ft, share of the density", "pressure_altitude_ft, share of the setting")
    # Feet: a ten-million-millionth of the pressure over some 20,000 ft of scale height.
    feet = {"altitude_of_pressure_ft": 1e-8, "indicated_altitude_ft": 1e-10, "standard_temperature_c": 1e-12}
    check(of_air, dict.fromkeys((*shares, *solved), RELATIVE) | feet)


def of_airspeeds(random: Random) -> Iterator[Difference]:
    altitude_ft, air_c = random.uniform(-1_000, 40_000), random.uniform(-60, 45)
    static_pa, air_k = pressure_pa(mp.mpf(altitude_ft) * FOOT_M), mp.mpf(air_c) + mp.mpf("273.15")
    cas_kt = random.uniform(40, 250)
    impact_pa = rise_pa(mp.mpf(cas_kt) * KNOT_M_PER_S, SEA_LEVEL_PA, SEA_LEVEL_K)
    tas_kt = speed_m_per_s(impact_pa, static_pa, air_k) / KNOT_M_PER_S
    here = {"pressure_altitude_ft": altitude_ft, "temperature_c": air_c}
    yield "tas_from_cas_kt", float(atmosphere.tas_from_cas_kt(cas_kt=cas_kt, **here) - tas_kt)
    yield "cas_from_tas_kt", float(atmosphere.cas_from_tas_kt(tas_kt=float(tas_kt), **here) - cas_kt)
    mach = tas_kt * KNOT_M_PER_S / mp.sqrt(RATIO * GAS * air_k)
    yield "mach", float(atmosphere.mach(tas_kt=float(tas_kt), temperature_c=air_c) - mach)
    given: tuple[tuple[str, float], ...] = (("cas_kt", cas_kt), ("tas_kt", float(tas_kt)), ("mach", float(mach)))
    solve: Callable[..., airspeed.Airspeed] = airspeed.solve
    for name, value in given:
        answer = solve(level_ft=altitude_ft, flight_level=True, temperature_c=air_c, **{name: value})
        assert answer.cas_kt is not None
        assert answer.tas_kt is not None
        assert answer.mach is not None
        off = (answer.cas_kt - cas_kt, float(answer.tas_kt - tas_kt), 661.5 * float(answer.mach - mach))
        yield f"airspeed.solve from {name}, kt", max(map(abs, off))


def test_airspeeds_bring_the_air_to_rest() -> None:
    solved = dict.fromkeys((f"airspeed.solve from {name}, kt" for name in ("cas_kt", "tas_kt", "mach")), 1e-9)
    check(of_airspeeds, solved | {"tas_from_cas_kt": 1e-9, "cas_from_tas_kt": 1e-9, "mach": 1e-12})
