"""How far off a radial and a DME may be, and how far along track that puts a point: the one place for both."""

from __future__ import annotations

from math import radians, sin, tan

from msgspec import Struct

from navlog.nav.problems import NavlogError, problem_error

_SMALLEST_CUT_DEG = 0.01
"""Below this a line of position lies along the track and tells nothing along it."""


class Accuracy(Struct, frozen=True):
    """What a standard counts on: errors of a course flown on a radial and of a crossing one, degrees, and of a DME.

    The DME's error is so many NM or a share of its reading, the greater; their sum where `dme_adds`.
    """

    key: str
    name: str
    along_deg: float
    crossing_deg: float
    dme_least_nm: float
    dme_share: float
    dme_adds: bool = False

    def aside_nm(self, away_nm: float) -> float:
        """How far off its course an aircraft may be that holds a radial `away_nm` from the station."""
        return away_nm * tan(radians(self.along_deg))

    def radial_nm(self, away_nm: float, cut_deg: float) -> float | None:
        """How far along track a crossing radial's error may move a point `away_nm` from its station.

        `cut_deg` is the angle between radial and track, 0 to 90. None where the radial lies along the track.
        """
        if cut_deg < _SMALLEST_CUT_DEG:
            return None
        # Law of sines: the error sideways at the station's distance, drawn out where the radial cuts the track aslant.
        return away_nm * sin(radians(self.crossing_deg)) / sin(radians(cut_deg))

    def dme_nm(self, slant_nm: float) -> float:
        """How far off a DME's reading may be."""
        # Doc 8168 adds the fixed part and the share; AIM 1-1-7 says `whichever is greater`.
        if self.dme_adds:
            return self.dme_least_nm + self.dme_share * slant_nm
        share_nm = self.dme_share * slant_nm
        return share_nm if share_nm > self.dme_least_nm else self.dme_least_nm

    def circle_nm(self, ground_nm: float, slant_nm: float, cut_deg: float) -> float | None:
        """How far along track a DME's error may move a point `ground_nm` from its station.

        `cut_deg` is the angle between the station's radial and the track. None where the circle lies along it.
        """
        crosses_deg = 90.0 - cut_deg
        # A circle is crossed squarely where the track leads to or from its station, so its angle is the complement.
        if crosses_deg < _SMALLEST_CUT_DEG or ground_nm <= 0.0:
            return None
        # Near the station the reading is mostly height: it changes less than the distance over the ground.
        return self.dme_nm(slant_nm) * slant_nm / ground_nm / sin(radians(crosses_deg))


# A DME counts as standing at its VOR: of 797 pairs in FAA NASR 2026-05-14 the farthest apart are 0.061 NM (JAC).
FAA = Accuracy("faa", "FAA Order 8260.3 (TERPS) and AIM 1-1-7", 4.5, 3.6, 0.5, 0.03)
"""4.5 degrees along a radial (JO 7400.2, 20-3-3), 3.6 for a crossing one (TERPS); a DME by AIM 1-1-7."""

_ICAO = Accuracy("icao", "ICAO Doc 8168, volume II, en route", 5.726, 4.532, 0.25, 0.0125, dme_adds=True)
"""The root of the squares of 3.5 (station), 1 (monitor), 2.7 (receiver) and along a radial 3.5 (flight) degrees."""


def read_accuracy(text: str) -> Accuracy:
    """`faa`, `icao`, or degrees of one's own for radials flown and crossing, with the FAA's DME.

    Raises a `bad-value` problem for anything else.
    """
    for one in (FAA, _ICAO):
        if text == one.key:
            return one
    from navlog.nav.units import read_size_deg

    try:
        size_deg = read_size_deg(text)
    except NavlogError:
        size_deg = 0.0
    if not 0.0 < size_deg <= 20.0:
        hint = "write faa, icao, or degrees above 0 and up to 20: accuracy 2.5"
        raise problem_error("bad-value", f"`{text}` is no standard of accuracy", hint=hint)
    return Accuracy("own", f"{size_deg:g} degrees as stated; DME by AIM 1-1-7", size_deg, size_deg, 0.5, 0.03)
