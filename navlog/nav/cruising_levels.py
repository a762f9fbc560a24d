"""Cruising levels by the direction of flight, as tables of several rule makers.

The half of the compass counts from the table's first degree clockwise: there odd thousands of feet, in the
other half even ones, 500 ft more under VFR. Courses are whole degrees as printed, where 360 is 0.
"""

from __future__ import annotations

from msgspec import Struct

_FEET_BY_LEVEL = 2_000
NO_REDUCED_FROM_FT = 41_000.0
"""Above FL410 levels of one direction are 4,000 ft apart; 14 CFR 91.179(b)(4), ICAO Annex 2, appendix 3."""


class LevelTable(Struct, frozen=True):
    """A table of cruising levels.

    Odd levels hold for the courses from `odd_from_deg` through the next 180 degrees. VFR levels hold above
    the higher of `vfr_above_sea_ft` and `vfr_above_surface_ft` over the surface, and up to `vfr_below_ft`,
    that height left out. No level of the table lies in `nothing_ft`.
    """

    name: str
    odd_from_deg: int
    vfr_source: str
    ifr_source: str
    vfr_above_sea_ft: float
    vfr_above_surface_ft: float
    vfr_below_ft: float
    nothing_ft: tuple[float, float] | None = None

    def is_odd(self, course: int) -> bool:
        """Whether odd levels hold on a printed whole-degree course."""
        return (course - self.odd_from_deg) % 360 < 180

    def boundary_deg(self, course: int) -> int:
        """How many degrees a course is from the nearer end of its half of the compass."""
        past = (course - self.odd_from_deg) % 180
        return min(past, 180 - past)

    def in_layer(self, altitude_ft: float) -> bool:
        """Whether an altitude lies in the transition layer, which has no cruising levels; its ends still are some."""
        return self.nothing_ft is not None and self.nothing_ft[0] < altitude_ft < self.nothing_ft[1]

    def binds(self, rules: str, altitude_ft: float, surface_ft: float) -> bool:
        """Whether the table says anything of an altitude over a surface under `rules` "vfr" or "ifr"."""
        if self.in_layer(altitude_ft):
            return False
        if rules == "ifr":
            return True
        lowest_ft = max(self.vfr_above_sea_ft, surface_ft + self.vfr_above_surface_ft)
        return lowest_ft < altitude_ft < self.vfr_below_ft

    def source(self, rules: str) -> str:
        """Where the table's levels for these rules are written."""
        return self.ifr_source if rules == "ifr" else self.vfr_source


US = LevelTable("us", 0, "14 CFR 91.159", "14 CFR 91.179", 0.0, 3_000.0, 18_000.0)
ICAO = LevelTable("icao", 0, "ICAO Annex 2, appendix 3", "ICAO Annex 2, appendix 3", 0.0, 3_000.0, 29_000.0)
NZ = LevelTable("nz", 270, "NZ CAR 91.313", "NZ CAR 91.425", 3_000.0, 1_000.0, 28_000.0, (13_000.0, 15_000.0))
TABLES = {table.name: table for table in (US, ICAO, NZ)}
"""The tables that `levels` may name; the ICAO one is that in feet with reduced vertical separation."""


def fits(altitude_ft: float, *, odd: bool, rules: str) -> bool:
    """Whether an altitude is a level of its half of the compass."""
    altitude = round(altitude_ft)
    if rules == "ifr" and altitude_ft > NO_REDUCED_FROM_FT:
        # There neither half of the compass is odd or even: eastbound FL450, 490, westbound FL430, 470.
        return (altitude - (45_000 if odd else 43_000)) % (2 * _FEET_BY_LEVEL) == 0
    first = (1_000 if odd else 0) + (500 if rules == "vfr" else 0)
    return altitude % _FEET_BY_LEVEL == first


def levels_around_ft(altitude_ft: float, *, odd: bool, rules: str) -> tuple[int, int]:
    """The next levels of that half of the compass below and above an altitude that is none."""
    # Every level of every table is a multiple of 500 ft, and each half has one within 4,000 ft: both searches end.
    below = above = round(altitude_ft / 500.0) * 500
    while not (below < altitude_ft and fits(below, odd=odd, rules=rules)):
        below -= 500
    while not (above > altitude_ft and fits(above, odd=odd, rules=rules)):
        above += 500
    return below, above
