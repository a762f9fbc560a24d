"""What lies below a leg, and how sure its guidance is, as JSON."""

from __future__ import annotations

from navlog.flightlog.records import Leg, Log
from navlog.flightlog.sure import along_track_nm, band
from navlog.nav.terrain import Spot
from navlog.resolve.ground import Ground
from navlog.sheets.json_values import Json, number, source_object


def terrain_object(ground: Ground) -> Json:
    """What lies below a leg's stretch, where a terrain folder is named."""
    return {
        "minimum_ft": number(ground.minimum_ft),
        "clearance_ft": number(ground.clearance_ft),
        "mountainous": ground.mountainous,
        "half_width_nm": number(max((max(one.half_widths_nm) for one in ground.parts), default=None)),
        "highest": _spot_object(ground.highest),
        "obstacle": _spot_object(ground.obstacle),
        "obstacles_known": ground.obstacles_known,
        "obstacle_editions": [source_object(one) for one in ground.editions],
        "tiles": list(ground.tiles),
        "unknown": list(ground.unknown),
    }


def _spot_object(spot: Spot | None) -> Json | None:
    """A high place, by miles along the stretch and right of it."""
    if spot is None:
        return None
    return {
        "height_ft": number(spot.height_ft),
        "tolerance_ft": number(spot.tolerance_ft),
        "latitude_deg": number(spot.position.latitude_deg),
        "longitude_deg": number(spot.position.longitude_deg),
        "along_nm": number(spot.along_nm),
        "aside_nm": number(spot.aside_nm),
        "source": spot.source,
    }


def sure_object(log: Log, leg: Leg) -> Json:
    """How far aside and along track the leg's guidance and marks are counted on, where the flight states a standard."""
    request = log.route.request
    if "accuracy" not in request.spans:
        return {}
    wide = band(leg, request.accuracy)
    return {
        "band_nm": number(wide.half_width_nm if wide is not None else None),
        "along_track_nm": number(along_track_nm(leg) if leg.ends_stretch else None),
    }
