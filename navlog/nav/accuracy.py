"""How far off a radial and a DME may be, and how far along track that puts a point: the one place for both."""

from __future__ import annotations

from math import radians, sin

from msgspec import Struct

_SMALLEST_CUT_DEG = 0.01
"""Below this a line of position lies along the track and tells nothing along it."""


class Accuracy(Struct, frozen=True):
    """What a standard counts on: a crossing radial's error in degrees, a DME's as NM or a share, the greater."""

    name: str
    crossing_deg: float
    dme_least_nm: float
    dme_share: float

    def radial_nm(self, away_nm: float, cut_deg: float) -> float | None:
        """How far along track a crossing radial's error may move a point `away_nm` from its station.

        `cut_deg` is the angle between radial and track, 0 to 90. None where the radial lies along the track.
        """
        if cut_deg < _SMALLEST_CUT_DEG:
            return None
        return away_nm * sin(radians(self.crossing_deg)) / sin(radians(cut_deg))

    def dme_nm(self, slant_nm: float) -> float:
        """How far off a DME's reading may be."""
        return max(self.dme_least_nm, self.dme_share * slant_nm)

    def circle_nm(self, ground_nm: float, slant_nm: float, cut_deg: float) -> float | None:
        """How far along track a DME's error may move a point `ground_nm` from its station.

        `cut_deg` is the angle between the station's radial and the track. None where the circle lies along it.
        """
        crosses_deg = 90.0 - cut_deg
        if crosses_deg < _SMALLEST_CUT_DEG or ground_nm <= 0.0:
            return None
        # Near the station the reading is mostly height: it changes less than the distance over the ground.
        return self.dme_nm(slant_nm) * slant_nm / ground_nm / sin(radians(crosses_deg))


# A DME counts as standing at its VOR: of 797 pairs in FAA NASR 2026-05-14 the farthest apart are 0.061 NM (JAC).
COUNTED_ON = Accuracy("FAA Order 8260.3 (TERPS) and AIM 1-1-7", 3.6, 0.5, 0.03)
"""Crossing radials by TERPS, 3.6 degrees either side; a DME by AIM 1-1-7, half a mile or 3 %."""
