"""Where a station is unusable: sectors of its radials, beyond a distance and below a height."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct


class Sector(Struct, frozen=True):
    """Radials between which a station is unusable, clockwise from `start_deg` to `end_deg`.

    `of` says which part is meant: "vor", "dme" or "both". Without `beyond_nm` and `below_ft` the
    sector is unusable at any distance and height. `remark` is the published text, where there is one. A whole
    degree stands for every radial that is printed as it.
    """

    start_deg: float
    end_deg: float
    beyond_nm: float | None = None
    below_ft: float | None = None
    of: str = "vor"
    remark: str | None = None

    def holds(self, radial_deg: float | None) -> bool:
        """Whether a radial lies in the sector, its limits included; without a radial, whether any would."""
        width_deg = self.end_deg - self.start_deg
        if width_deg >= 360.0 or radial_deg is None:
            return width_deg >= 360.0
        # Sectors are published as 163-236 and 237-247 (FAA NASR, ABI): what lies between prints as one of the two.
        return (radial_deg - self.start_deg + 0.5) % 360.0 < width_deg % 360.0 + 1.0

    def reaches(self, *, distance_nm: float | None, altitude_ft: float) -> bool:
        """Whether it is unusable so far out and so high, feet MSL; a distance not told is taken to be beyond."""
        if self.beyond_nm is not None and distance_nm is not None and distance_nm <= self.beyond_nm:
            return False
        return self.below_ft is None or altitude_ft < self.below_ft

    def concerns(self, part: str) -> bool:
        """Whether it is of the part "vor" or "dme"."""
        return self.of in (part, "both")


def first_reaching(sectors: Iterable[Sector], *, distance_nm: float | None, altitude_ft: float) -> Sector | None:
    """The first of sectors on one radial that is unusable so far out and so high; None where none is."""
    for sector in sectors:
        if sector.reaches(distance_nm=distance_nm, altitude_ft=altitude_ft):
            return sector
    return None
