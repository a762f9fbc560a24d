"""How long a flight is so high that 14 CFR 91.211 asks for oxygen.

The cabin is taken to be as high as the aircraft, so not pressurised. The regulation speaks of "cabin pressure altitudes
above 12,500 feet (MSL)": where an altimeter setting is given, the higher of altitude and pressure altitude counts. Over
the time of a leg the height changes evenly.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from navlog.flightlog.altitudes import SAME_FT, pressure_ft
from navlog.flightlog.records import Leg, Unknown

CREW_AFTER_30_MIN_FT = 12_500.0
CREW_FT = 14_000.0
EVERYONE_FT = 15_000.0


class HighTime(Struct, frozen=True):
    """Minutes above the heights of 14 CFR 91.211(a), each in all that is higher too; None where a time is not known.

    `highest_ft` is the highest flown.
    """

    above_12500_min: float | None
    above_14000_min: float | None
    above_15000_min: float | None
    highest_ft: float
    unknown: tuple[Unknown, ...] = ()

    @property
    def between_min(self) -> float | None:
        """Minutes above 12,500 ft and not above 14,000 ft; None where not known."""
        low, high = self.above_12500_min, self.above_14000_min
        return None if low is None or high is None else low - high


def high_time(legs: Iterable[Leg]) -> HighTime:
    """The minutes that legs are flown at heights where oxygen is asked for."""
    flown = tuple(legs)
    low_min, high_min, top_min = (_above(flown, height) for height in (CREW_AFTER_30_MIN_FT, CREW_FT, EVERYONE_FT))
    by_key = (("above_12500_min", low_min), ("above_14000_min", high_min), ("above_15000_min", top_min))
    missing = tuple(Unknown(key, "the time of a leg so high is not known") for key, value in by_key if value is None)
    return HighTime(low_min, high_min, top_min, highest_ft(flown), missing)


def highest_ft(legs: Iterable[Leg]) -> float:
    """The highest that the cabin is on legs."""
    highest = max(legs, key=lambda leg: max(leg.start_altitude_ft, leg.end_altitude_ft))
    return max(_cabin_ft(highest))


def _above(legs: tuple[Leg, ...], height_ft: float) -> float | None:
    """The minutes above a height; None where the time of a leg that is so high is not known."""
    total_min = 0.0
    for leg in legs:
        share = share_above(leg, height_ft)
        # A leg that stays low needs no time to be left out.
        if share and leg.time_min is None:
            return None
        total_min += share * (leg.time_min or 0.0)
    return total_min


def share_above(leg: Leg, height_ft: float) -> float:
    """The share of a leg's time in which the cabin counts as higher than a height, 0 to 1."""
    return _share_above(*_cabin_ft(leg), height_ft)


def _cabin_ft(leg: Leg) -> tuple[float, float]:
    """How high the cabin counts as at a leg's two ends."""
    start_ft, end_ft = leg.start_altitude_ft, leg.end_altitude_ft
    return max(start_ft, pressure_ft(start_ft, leg.altimeter_hpa)), max(end_ft, pressure_ft(end_ft, leg.altimeter_hpa))


def _share_above(start_ft: float, end_ft: float, height_ft: float) -> float:
    """The share of an even change from one height to another that is above a third, 0 to 1."""
    low_ft, high_ft = sorted((start_ft, end_ft))
    # The regulation says `above`: level at 12,500 ft, and what rounding makes of it, is not.
    if high_ft <= height_ft + SAME_FT:
        return 0.0
    if low_ft >= height_ft:
        return 1.0
    return (high_ft - height_ft) / (high_ft - low_ft)
