"""Altitudes as the levels that they are, and heights compared: the one place where both is done.

Every height flown is an altitude, as charts and fields state theirs. A flight level is a pressure altitude: its
altitude is what an altimeter set to the flight's setting reads there (ICAO Doc 7488/3, as `atmosphere` has it);
without a setting it is not known and the level's own feet stand in (`request/levels.py`).
"""

from __future__ import annotations

from collections.abc import Iterable

from navlog.flightlog.records import Leg
from navlog.request.levels import level_altitude_ft
from navlog.request.records import Level

SAME_FT = 0.5
"""Heights print as whole feet; less than half of one apart they are the same, and sums of floats are."""


STANDARD_FROM_FT = 18_000.0
"""From here on altimeters stand at the standard setting (14 CFR 91.121), and winds are forecast by pressure."""


def below(height_ft: float, other_ft: float) -> bool:
    """Whether one height is lower than another by more than rounding."""
    # The play is for the one who flies as planned: 2,999.9999 ft of a sum of climbs is 3,000 ft.
    return height_ft < other_ft - SAME_FT


def height_on_scale_ft(altitude_ft: float, level: Level, altimeter_hpa: float | None) -> float:
    """An altitude on the scale by which `level` counts: of a flight level as a pressure altitude."""
    return pressure_ft(altitude_ft, altimeter_hpa) if level.flight_level else altitude_ft


def pressure_ft(altitude_ft: float, altimeter_hpa: float | None) -> float:
    """The pressure altitude of an altitude at the setting; without one the altitude's own feet stand in."""
    if altimeter_hpa is None:
        return altitude_ft
    from navlog.nav.atmosphere import pressure_altitude_ft

    return pressure_altitude_ft(indicated_altitude_ft=altitude_ft, altimeter_hpa=altimeter_hpa)


def level_flown(height_ft: float, leg: Leg, levels: Iterable[Level]) -> Level | None:
    """The level, of the leg's own and of others, that an altitude flown on a leg is; None where it is none.

    From 18,000 ft of pressure altitude on, on the way to or from a flight level, it is one as well: there every
    altimeter stands at the standard setting (14 CFR 91.121).
    """
    # The leg's own first: with a setting of 1013 an altitude and a flight level are the same height.
    for level in (leg.stretch.level, *levels):
        if abs(height_ft - level_altitude_ft(level, leg.altimeter_hpa)) < SAME_FT:
            return level
    standard_ft = pressure_ft(height_ft, leg.altimeter_hpa)
    by_standard = leg.stretch.level.flight_level and not below(standard_ft, STANDARD_FROM_FT)
    return Level(standard_ft, flight_level=True) if by_standard else None


def altitudes_ft(leg: Leg) -> tuple[float, float]:
    """The altitudes at a leg's two ends."""
    return leg.start_altitude_ft, leg.end_altitude_ft
