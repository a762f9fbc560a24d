"""How far off its course a leg's guidance lets an aircraft be, and along which length a fix may be found."""

from __future__ import annotations

from msgspec import Struct

from navlog.flightlog.records import Leg
from navlog.nav.accuracy import Accuracy
from navlog.nav.chart import Station
from navlog.nav.guidance import distance_from


class _Band(Struct, frozen=True):
    """The widest cross-track error of a leg on one radial: so far either side, so far from the station.

    The error is that of the positions; how far off it is goes by the path, so that it ends with the leg.
    """

    half_width_nm: float
    away_nm: float


def station_distances_nm(leg: Leg) -> tuple[float, float] | None:
    """How far the leg's two ends are from the VOR in use, over the ground or along the path.

    None without guidance, and where neither positions nor the path tell.
    """
    guidance = leg.part.guidance
    if guidance is None:
        return None
    station, stretch = guidance.station, leg.stretch
    # By the path where the station is on it: a charted length may differ from the positions'.
    if station is stretch.start.place:
        return leg.start_nm, leg.end_nm
    if station is stretch.end.place:
        return stretch.length_nm - leg.start_nm, stretch.length_nm - leg.end_nm
    return _ends_away_nm(leg, station)


def _ends_away_nm(leg: Leg, station: Station) -> tuple[float, float] | None:
    """How far a station is from a leg's two ends by their positions."""
    near, far = distance_from(station, leg.start.position), distance_from(station, leg.end.position)
    return None if near is None or far is None else (near, far)


def band(leg: Leg, accuracy: Accuracy) -> _Band | None:
    """The band of a leg where it is widest; None without guidance, without positions and beside the station."""
    guidance = leg.part.guidance
    if guidance is None or guidance.radial.flown is None or leg.stays:
        return None
    # Along a straight radial the distance is greatest at one of the two ends.
    away_nm = _ends_away_nm(leg, guidance.station)
    if away_nm is None:
        return None
    return _Band(accuracy.aside_nm(max(away_nm)), max(station_distances_nm(leg) or away_nm))


def along_track_nm(leg: Leg) -> float | None:
    """How far before or beyond its place the best mark may tell a leg's end; None where nothing tells how far."""
    return leg.marks[0].error_nm if leg.marks else None
