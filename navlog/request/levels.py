"""Planned levels as the altitudes at which they are flown."""

from __future__ import annotations

from navlog.request.records import Level


def level_altitude_ft(level: Level, altimeter_hpa: float | None) -> float:
    """The altitude at which a level is flown: of a flight level what an altimeter set to the setting reads there.

    Without a setting that is not known, and the level's own feet stand in.
    """
    # The level's own feet are off by 27 ft a hPa from 1013, which a finding says; a guessed setting would say nothing.
    if not level.flight_level or altimeter_hpa is None:
        return level.altitude_ft
    from navlog.nav.atmosphere import indicated_altitude_ft

    return indicated_altitude_ft(pressure_altitude_ft=level.altitude_ft, altimeter_hpa=altimeter_hpa)
