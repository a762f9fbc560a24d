"""What the make-up of a fix says of one station: identifier, kind and place must agree.

Of the 26,601 make-up rows of FAA NASR FIX_NAV, 2026-05-14, 989 belong to a localizer whose identifier is also
a VOR's some miles away, and 41 to an outer marker.
"""

from __future__ import annotations

from navlog.nav import earth
from navlog.nav.chart import Bearing, Fix, Position, Source, Station

_MEANT_WITHIN_NM = 300.0
"""No VOR is received farther away; the largest service volume has 130 NM (AIM 1-1-8)."""

_SAME_SITE_NM = 1.0
"""A published distance off by more from a file's station is measured from another place."""


def taken_from(station: Station, radial_deg: float | None, distance_nm: float | None = None) -> Bearing:
    """A bearing from a station, which its kind tells from another aid of the same identifier."""
    return Bearing(station.ident, radial_deg, distance_nm, station.published_kind or station.kind.upper())


def may_be_meant(station: Station, near: Position | None) -> bool:
    """Whether a station is near enough to a place to be received there; True where a position is unknown."""
    if near is None or station.position is None:
        return True
    # A degree of either is at most 60.4 NM: mostly no geodesic is needed.
    there = station.position
    apart_deg = abs(near.latitude_deg - there.latitude_deg) + abs(near.longitude_deg - there.longitude_deg)
    return apart_deg < _MEANT_WITHIN_NM / 60.4 or earth.distance_nm(near, there) <= _MEANT_WITHIN_NM


def bearings_from(fix: Fix | None, station: Station) -> tuple[Bearing, ...]:
    """The bearings of a fix's make-up that are taken from that very station."""
    if fix is None:
        return ()
    return tuple(
        bearing
        for bearing in fix.makeup
        if bearing.is_from(station) and (not fix.published or _fits(fix, bearing, station))
    )


def _fits(fix: Fix, bearing: Bearing, station: Station) -> bool:
    """Whether a published bearing may be from a station where it stands: a file may put it elsewhere."""
    if not may_be_meant(station, fix.position):
        return False
    # Published stations and fixes are of one survey; only a file's may bear a known name at another place.
    if station.provenance.source is not Source.FILE or bearing.distance_nm is None:
        return True
    if fix.position is None or station.position is None:
        return True
    return abs(earth.distance_nm(fix.position, station.position) - bearing.distance_nm) <= _SAME_SITE_NM


def made_up_distance_nm(fix: Fix | None, station: Station) -> float | None:
    """The distance over the ground at which a fix is made up from a station; a published one needs DME there."""
    for bearing in bearings_from(fix, station):
        if fix is not None and bearing.distance_nm is not None and (station.dme or not fix.published):
            return bearing.distance_nm
    return None
