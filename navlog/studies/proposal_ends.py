"""On and off the airways: the points where a place joins the network, by itself or by a direct leg to a station."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from math import sqrt
from typing import TYPE_CHECKING

from navlog.catalogue.network import Network
from navlog.nav import earth
from navlog.nav.chart import Airport, Position, Station, StationKind
from navlog.nav.figures import up, whole
from navlog.nav.guidance import radial_deg
from navlog.nav.radio import radio_horizon_nm, service_radius_nm
from navlog.resolve.route import Point
from navlog.studies.ways import WayEnd

if TYPE_CHECKING:
    from datetime import date

    from navlog.catalogue.queries import Catalogue

REACH_NM = 80.0
"""Farther off no station is looked for: AIM 5-1-8 has stations 80 NM apart at most below 18,000 ft."""

_VOLUME_FLOOR_FT = 1_000.0
_HEIGHTS_FT = (_VOLUME_FLOOR_FT, 5_000.0, 14_500.0, 18_000.0)
"""Above a station, where its service volume may grow wider (FAA AIM 1-1-8)."""

_AT_STATION_NM = 1.0


def ends_at(
    network: Network, catalogue: Catalogue, place: Point, day: date, out: Iterable[str], most_off_nm: float
) -> tuple[WayEnd, ...]:
    """Where the network is joined from a place, or left for it, `most_off_nm` at most off the airways.

    A station or fix of an airway is a point of the network itself. From any other place it is a direct leg on the
    radial of a VOR on an airway, which must be in service and not `out`, and received along the whole leg from some
    altitude: horizon, service volume, unusable sectors.
    """
    if place.ident is not None and place.position is not None and not isinstance(place.place, Airport):
        own = network.named(place.ident, place.position)
        if own:
            return tuple(WayEnd(point) for point in own)
    if place.position is None:
        return ()
    around = catalogue.nearby(place.position, most_off_nm, day, (StationKind.VOR,))
    gone = frozenset(out)
    ground_ft = place.place.elevation_ft if isinstance(place.place, Airport) else None
    found: list[WayEnd] = []
    for station in around:
        if not isinstance(station, Station) or station.position is None or station.ident in gone:
            continue
        points = network.named(station.ident, station.position)
        away_nm = earth.distance_nm(station.position, place.position)
        if not points or not station.in_service or away_nm > most_off_nm:
            continue
        lowest_ft = received_from_ft(station, place.position, away_nm, ground_ft)
        if lowest_ft is not None:
            said = f"{station.ident} is received at {place.name} from {whole(lowest_ft)}"
            found += [WayEnd(point, away_nm, lowest_ft, said) for point in points]
    return tuple(found)


@cache
def _volume(service: str) -> tuple[tuple[float, float], ...]:
    """How far a class serves at each height above its station, NM and feet."""
    return tuple((service_radius_nm(service, height_ft) or 0.0, height_ft) for height_ft in _HEIGHTS_FT)


def received_from_ft(station: Station, place: Position, away_nm: float, ground_ft: float | None) -> float | None:
    """The altitude, whole feet, from which a station is received all the way to a place; None where at no altitude.

    `ground_ft` is the elevation of an airport; what a climb from there receives, log and rules tell. A station without
    class, elevation or declination is not known to serve.
    """
    if station.elevation_ft is None or station.declination_deg is None or station.service is None:
        return None
    if away_nm <= _AT_STATION_NM:
        return 0.0
    above_ft = next((height_ft for radius_nm, height_ft in _volume(station.service) if radius_nm >= away_nm), None)
    low_ft = min(station.elevation_ft, ground_ft if ground_ft is not None else station.elevation_ft)
    mast_ft = station.elevation_ft - low_ft
    if above_ft is None:
        return None
    seen_ft = low_ft + max(0.0, away_nm / radio_horizon_nm(1.0) - sqrt(mast_ft)) ** 2
    asked = [station.elevation_ft + above_ft, seen_ft]
    radial = radial_deg(station, earth.inverse(station.position or place, place).course_deg)
    for sector in station.unusable:
        if sector.concerns("vor") and sector.holds(radial) and away_nm > (sector.beyond_nm or 0.0):
            if sector.below_ft is None:
                return None
            asked.append(sector.below_ft)
    return float(up(max(asked), 1.0))
