"""Fixes without a published position, placed by the radials and distances that define them."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from navlog.nav.chart import Bearing, Fix, Position, Station, StationKind
from navlog.nav.problems import NavlogError
from navlog.nav.record import changed

if TYPE_CHECKING:
    from navlog.catalogue.opened import Opened


def placed(catalogue: Opened, fix: Fix, day: date) -> Fix:
    """The fix with a computed position, by the nearest station's radial and distance, else two radials.

    Distances are over the ground, radials the station's own. Without a usable pair it stays unplaced.
    """
    radials = [
        (bearing, station)
        for bearing in fix.makeup
        if bearing.radial_deg is not None and (station := _station(catalogue, fix, bearing, day)) is not None
    ]
    # Radial and distance of one station first: two radials may meet at any angle.
    position = _by_distance(radials) or _by_crossing(radials)
    return changed(fix, position=position, computed=True) if position is not None else fix


def _station(catalogue: Opened, fix: Fix, bearing: Bearing, day: date) -> Station | None:
    """The VOR or TACAN that a bearing is from; None where the bearing is of another kind of aid or of several.

    Of several the one in the fix's own source: another source knows namesakes all over the world.
    """
    found = [
        station
        for station in catalogue.stations(bearing.station, day)
        if bearing.station_kind is not None
        and bearing.is_from(station)
        and station.kind in (StationKind.VOR, StationKind.TACAN)
        and station.declination_deg is not None
    ]
    if len(found) > 1:
        found = [station for station in found if station.provenance.source is fix.provenance.source]
    return found[0] if len(found) == 1 else None


def _by_distance(radials: list[tuple[Bearing, Station]]) -> Position | None:
    from navlog.nav import earth

    with_distance = [
        (bearing.distance_nm, bearing.radial_deg, station)
        for bearing, station in radials
        if bearing.distance_nm is not None and station.dme
    ]
    # Nearest first: a degree of a radial is a mile at 57.
    for distance_nm, radial_deg, station in sorted(with_distance, key=lambda one: one[0]):
        if station.position is not None and station.declination_deg is not None and radial_deg is not None:
            return earth.direct(station.position, radial_deg + station.declination_deg, distance_nm)
    return None


def _by_crossing(radials: list[tuple[Bearing, Station]]) -> Position | None:
    from navlog.nav import earth

    lines = [
        (station.position, bearing.radial_deg + station.declination_deg)
        for bearing, station in radials
        if station.position is not None and bearing.radial_deg is not None and station.declination_deg is not None
    ]
    if len(lines) < 2:
        return None
    try:
        return earth.crossing(*lines[0], *lines[1]).position
    except NavlogError:
        return None
