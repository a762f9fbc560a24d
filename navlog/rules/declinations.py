"""How doubtful a stated declination or variation is beside the variation of the magnetic model at the same place."""

from __future__ import annotations

from navlog.nav.angles import difference_deg
from navlog.nav.figures import east_west
from navlog.rules.registry import Severity

_REVERSED_FROM_DEG = 8.0
"""No VOR of the US is farther off than 7.7 degrees (824 in FAA NASR of 2026-05-14 against WMM2025 on 2026-05-20)."""

_LETTER_DEG = 6.0
"""With the other letter a value this near is likely the one meant; 85 % of those VORs are as near."""

_DOUBTFUL_DEG, _WRONG_DEG = 10.0, 15.0
"""Common practice, no source: Alaskan stations were up to 13.8 degrees behind (OurAirports, 2026-08-22)."""


def doubt(stated_deg: float, model_deg: float) -> tuple[Severity, str]:
    """How grave a declination's or variation's distance from the model's is, and what may be meant instead.

    Degrees, east positive. The words are empty where nothing speaks for another value.
    """
    off_deg = abs(difference_deg(stated_deg, model_deg))
    if off_deg > _REVERSED_FROM_DEG and abs(difference_deg(-stated_deg, model_deg)) <= _LETTER_DEG:
        return Severity.ERROR, f"; is {east_west(-stated_deg)} meant?"
    if off_deg > _WRONG_DEG:
        return Severity.ERROR, f", {off_deg:.1f} degrees off"
    return (Severity.WARNING if off_deg > _DOUBTFUL_DEG else Severity.NOTE), ""
