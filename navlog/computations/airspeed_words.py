"""Airspeeds and altitudes."""

from __future__ import annotations

from navlog.computations import airspeed
from navlog.computations.airspeed import Airspeed
from navlog.computations.answer import Answer
from navlog.nav.figures import half_up, level, whole


def answer(found: Airspeed) -> Answer:
    """Speeds where one was given, then altitudes, then temperature."""
    lines = []
    if found.tas_kt is not None and found.mach is not None:
        lines.append(f"TAS {whole(found.tas_kt)} kt, CAS {whole(found.cas_kt)} kt, Mach {found.mach:.2f}")
    at = level(found.level_ft, flight_level=found.flight_level)
    unit = "" if found.flight_level else " ft"
    assumed = " (no altimeter setting: 1013 hPa taken)" if found.altimeter_standard else ""
    lines.append(f"at {at}{unit}: pressure altitude {whole(found.pressure_altitude_ft)} ft{assumed}")
    lines.append(f"density altitude {whole(found.density_altitude_ft)} ft")
    lines.append(_temperature(found))
    return Answer((found,), tuple(lines), airspeed.workings(found))


def _temperature(found: Airspeed) -> str:
    celsius = half_up(found.temperature_c)
    if found.temperature_standard:
        return f"temperature {celsius:+d}C (none given: standard taken)"
    warmer = half_up(abs(found.isa_deviation_c))
    if not warmer:
        return f"temperature {celsius:+d}C, standard"
    return f"temperature {celsius:+d}C, {warmer}C {'above' if found.isa_deviation_c > 0 else 'below'} standard"
