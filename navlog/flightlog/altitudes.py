"""Heights flown beside altitudes that charts state: the one place where they are turned and compared.

A flight level is a pressure altitude. Its altitude is what an altimeter set to the flight's setting reads there
(ICAO Doc 7488/3, as `atmosphere` has it); without a setting it is not known and the level's own feet stand in.
"""

from __future__ import annotations

from navlog.flightlog.records import Leg, Phase
from navlog.request.records import Level
from navlog.resolve.route import PointKind

SAME_FT = 0.5
"""Heights print as whole feet; less than half of one apart they are the same, and sums of floats are."""


def below(height_ft: float, other_ft: float) -> bool:
    """Whether one height is lower than another by more than rounding."""
    return height_ft < other_ft - SAME_FT


def altitude_ft(height_ft: float, level: Level, altimeter_hpa: float | None) -> float:
    """The altitude of a height on the scale of `level`: of a flight level at the altimeter setting."""
    if not level.flight_level or altimeter_hpa is None:
        return height_ft
    from navlog.nav.atmosphere import indicated_altitude_ft

    return indicated_altitude_ft(pressure_altitude_ft=height_ft, altimeter_hpa=altimeter_hpa)


def height_on_scale_ft(altitude_ft: float, level: Level, altimeter_hpa: float | None) -> float:
    """The height on the scale of `level` at which an altitude is flown, the inverse of `altitude_ft`."""
    if not level.flight_level or altimeter_hpa is None:
        return altitude_ft
    from navlog.nav.atmosphere import pressure_altitude_ft

    return pressure_altitude_ft(indicated_altitude_ft=altitude_ft, altimeter_hpa=altimeter_hpa)


def altitudes_ft(leg: Leg, *, highest: bool = False) -> tuple[float, float]:
    """The altitudes at a leg's two ends; `highest` takes the highest that fit in place of the lowest.

    They are one but for a height on the way to or from a flight level.
    """
    if leg.phase is Phase.CRUISE and not leg.stretch.level.flight_level:
        return leg.start_altitude_ft, leg.end_altitude_ft
    choose = max if highest else min
    start_ft = choose(_fitting_ft(leg, leg.start_altitude_ft, leg.start.kind))
    return start_ft, choose(_fitting_ft(leg, leg.end_altitude_ft, leg.end.kind))


def _fitting_ft(leg: Leg, height_ft: float, kind: str) -> tuple[float, ...]:
    """The altitudes that a height at an end of a leg may be, the end a point of `kind`.

    Where in a climb or descent the altimeter is set over is not known: short of the level both scales count.
    """
    level = leg.stretch.level
    by_setting_ft = altitude_ft(height_ft, level, leg.altimeter_hpa)
    if leg.phase in (Phase.CRUISE, Phase.HOLD) or abs(height_ft - level.altitude_ft) < SAME_FT:
        return (by_setting_ft,)
    return (height_ft,) if kind == PointKind.AIRPORT else (height_ft, by_setting_ft)
