"""Calibrated and true airspeed, Mach number, pressure and density altitude from what is known."""

from __future__ import annotations

from msgspec import Struct

from navlog.computations.answer import Solution
from navlog.nav import atmosphere
from navlog.nav.figures import half_up, level, whole
from navlog.nav.problems import problem_error
from navlog.nav.workings import Working

_ATMOSPHERE = "ICAO Doc 7488/3, Manual of the ICAO Standard Atmosphere"
_PITOT = "isentropic pitot equation, NACA Report 837"


class Airspeed(Struct, frozen=True):
    """Everything that level, altimeter setting, temperature and one speed say.

    `temperature_standard` and `altimeter_standard` say that the standard value was taken for want of
    another; `isa_deviation_c` is the temperature less the standard one. Without a speed the three speeds
    are None.
    """

    level_ft: float
    flight_level: bool
    altimeter_hpa: float | None
    altimeter_standard: bool
    pressure_altitude_ft: float
    temperature_c: float
    temperature_standard: bool
    isa_deviation_c: float
    density_altitude_ft: float
    cas_kt: float | None
    tas_kt: float | None
    mach: float | None


def solve(
    *,
    level_ft: float,
    flight_level: bool = False,
    altimeter_hpa: float | None = None,
    temperature_c: float | None = None,
    cas_kt: float | None = None,
    tas_kt: float | None = None,
    mach: float | None = None,
) -> Airspeed:
    """The altitudes and the speeds at a level, from at most one of `cas_kt`, `tas_kt` and `mach`.

    A flight level is a pressure altitude; an altitude without `altimeter_hpa` is taken as one. Without
    `temperature_c` the standard one holds. Raises a problem for a speed of 0, Mach 1 or more, more than one
    speed, or a height outside the atmosphere.
    """
    speeds = [speed for speed in (cas_kt, tas_kt, mach) if speed is not None]
    if len(speeds) > 1:
        raise problem_error("wrong-number", "one airspeed is enough", hint="give CAS, TAS or Mach number")
    if speeds and not speeds[0] > 0.0:
        raise problem_error("bad-value", "the airspeed is zero", hint="a speed is above 0")
    if flight_level and altimeter_hpa is not None:
        raise problem_error("wrong-number", "a flight level needs no altimeter setting", hint="leave it out")
    pressure_altitude_ft = level_ft
    if altimeter_hpa is not None:
        pressure_altitude_ft = atmosphere.pressure_altitude_ft(
            indicated_altitude_ft=level_ft, altimeter_hpa=altimeter_hpa
        )
    standard_c = atmosphere.standard_temperature_c(pressure_altitude_ft)
    air_c = standard_c if temperature_c is None else temperature_c
    if mach is not None:
        tas_kt = mach * atmosphere.speed_of_sound_kt(air_c)
    if cas_kt is not None:
        tas_kt = atmosphere.tas_from_cas_kt(
            cas_kt=cas_kt, pressure_altitude_ft=pressure_altitude_ft, temperature_c=air_c
        )
    elif tas_kt is not None:
        cas_kt = atmosphere.cas_from_tas_kt(
            tas_kt=tas_kt, pressure_altitude_ft=pressure_altitude_ft, temperature_c=air_c
        )
    return Airspeed(
        level_ft=level_ft,
        flight_level=flight_level,
        altimeter_hpa=altimeter_hpa,
        altimeter_standard=altimeter_hpa is None and not flight_level,
        pressure_altitude_ft=pressure_altitude_ft,
        temperature_c=air_c,
        temperature_standard=temperature_c is None,
        isa_deviation_c=air_c - standard_c,
        density_altitude_ft=atmosphere.density_altitude_ft(
            pressure_altitude_ft=pressure_altitude_ft, temperature_c=air_c
        ),
        cas_kt=cas_kt,
        tas_kt=tas_kt,
        mach=None if tas_kt is None else atmosphere.mach(tas_kt=tas_kt, temperature_c=air_c),
    )


def _workings(found: Airspeed) -> tuple[Working, ...]:
    """Pressure altitude, density altitude, and the speeds where one was given."""
    steps = []
    if found.altimeter_hpa is not None:
        steps.append(
            Working(
                "pressure altitude",
                "indicated altitude + standard altitude of the altimeter setting",
                f"{found.level_ft:.0f} + ({found.pressure_altitude_ft - found.level_ft:+.0f})",
                f"{found.pressure_altitude_ft:.0f} ft",
                f"{_ATMOSPHERE}; FAA-H-8083-25, chapter 10, sample problem 1",
            )
        )
    pressure_hpa = atmosphere.pressure_hpa(found.pressure_altitude_ft)
    air_k = found.temperature_c + atmosphere.ZERO_CELSIUS_K
    ratio = atmosphere.density_ratio(pressure_altitude_ft=found.pressure_altitude_ft, temperature_c=found.temperature_c)
    steps.append(
        Working(
            "density altitude",
            "height of the standard atmosphere with density ratio (p / 1013.25) x (288.15 / T)",
            f"({pressure_hpa:.1f} / 1013.25) x (288.15 / {air_k:.2f}) = {ratio:.4f}",
            f"{found.density_altitude_ft:.0f} ft",
            _ATMOSPHERE,
        )
    )
    if found.cas_kt is None or found.tas_kt is None or found.mach is None:
        return tuple(steps)
    sound_kt = atmosphere.speed_of_sound_kt(found.temperature_c)
    return (
        *steps,
        Working(
            "Mach number",
            "impact pressure of the CAS at sea level, over the static pressure, gives Mach",
            f"CAS {found.cas_kt:.1f} kt, static pressure {pressure_hpa:.1f} hPa",
            f"{found.mach:.3f}",
            _PITOT,
        ),
        Working(
            "true airspeed",
            "Mach x speed of sound, sqrt(1.4 x R x T)",
            f"{found.mach:.4f} x {sound_kt:.1f}",
            f"{found.tas_kt:.1f} kt",
            _ATMOSPHERE,
        ),
    )


def _lines(found: Airspeed) -> tuple[str, ...]:
    """Speeds where one was given, then altitudes, then temperature."""
    told = []
    if found.tas_kt is not None and found.mach is not None:
        told.append(f"TAS {whole(found.tas_kt)} kt, CAS {whole(found.cas_kt)} kt, Mach {found.mach:.2f}")
    at = level(found.level_ft, flight_level=found.flight_level)
    unit = "" if found.flight_level else " ft"
    assumed = " (no altimeter setting: 1013 hPa taken)" if found.altimeter_standard else ""
    told.append(f"at {at}{unit}: pressure altitude {whole(found.pressure_altitude_ft)} ft{assumed}")
    told.append(f"density altitude {whole(found.density_altitude_ft)} ft")
    told.append(_temperature(found))
    return tuple(told)


def answer(found: Airspeed) -> Solution:
    """What is printed, with its workings."""
    return Solution((found,), _lines(found), _workings(found))


def _temperature(found: Airspeed) -> str:
    celsius = half_up(found.temperature_c)
    if found.temperature_standard:
        return f"temperature {celsius:+d}C (none given: standard taken)"
    warmer = half_up(abs(found.isa_deviation_c))
    if not warmer:
        return f"temperature {celsius:+d}C, standard"
    return f"temperature {celsius:+d}C, {warmer}C {'above' if found.isa_deviation_c > 0 else 'below'} standard"
