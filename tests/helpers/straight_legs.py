"""Straight runs of published airways from one VOR to the next, measured by GeographicLib alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from geographiclib.geodesic import Geodesic

from navlog.nav.chart import Airway, Service, Station, StationKind

NAUTICAL_MILE_M = 1852.0
BROKEN = (Service.DISCONTINUED, Service.BORDER)


@dataclass(frozen=True, slots=True)
class StraightLeg:
    """What is published from one VOR to the next, and what their positions say."""

    airway: str
    start: Station
    end: Station
    start_radial_deg: float
    end_radial_deg: float
    distance_nm: float

    @property
    def name(self) -> str:
        return f"{self.airway} {self.start.ident}-{self.end.ident}"

    def errors(self) -> tuple[float, float, float]:
        """How far the published radials (degrees) and length (NM) are off, each without its sign."""
        start, end = self.start.position, self.end.position
        assert start is not None
        assert end is not None
        line = Geodesic.WGS84.Inverse(start.latitude_deg, start.longitude_deg, end.latitude_deg, end.longitude_deg)
        assert self.start.declination_deg is not None
        assert self.end.declination_deg is not None
        out = line["azi1"] - self.start.declination_deg - self.start_radial_deg
        back = line["azi2"] + 180.0 - self.end.declination_deg - self.end_radial_deg
        length = line["s12"] / NAUTICAL_MILE_M - self.distance_nm
        return abs((out + 180.0) % 360.0 - 180.0), abs((back + 180.0) % 360.0 - 180.0), abs(length)


def straight_legs(airway: Airway) -> Iterator[StraightLeg]:
    """Every run between two VORs without a turn, a break, or another kind of station inside."""
    begun: int | None = None
    for index, place in enumerate(airway.places):
        vor = isinstance(place, Station) and place.kind is StationKind.VOR
        if begun is not None and index > begun:
            segment = airway.segments[index - 1]
            if segment.service in BROKEN or segment.distance_nm is None:
                begun = None
            elif vor:
                run = airway.segments[begun:index]
                first, last = airway.places[begun], place
                assert isinstance(first, Station)
                assert isinstance(last, Station)
                out, back = run[0].start_radial_deg, run[-1].end_radial_deg
                if out is not None and back is not None:
                    length = sum(one.distance_nm or 0.0 for one in run)
                    yield StraightLeg(airway.ident, first, last, out, back, length)
            elif segment.turn or isinstance(place, Station):
                begun = None
        if vor:
            begun = index
