"""What the instruments read at the places between two stations."""

from __future__ import annotations

from navlog.guidance import distance_from
from navlog.radio import slant_nm
from navlog.sheets.rows import Row


def changeover_dme_nm(row: Row) -> float | None:
    """What the DME of the station behind reads at the changeover point that ends a leg, NM.

    None without a DME in the aircraft or at the station, and where no position or elevation is known.
    """
    changeover = row.leg.changeover
    if changeover is None or not row.log.route.request.equipment.dme:
        return None
    behind = changeover.behind
    ground_nm = distance_from(behind, row.leg.end.position)
    if not behind.dme or ground_nm is None or behind.elevation_ft is None:
        return None
    return slant_nm(ground_nm, row.leg.end_altitude_ft - behind.elevation_ft)


def height_above_station_ft(row: Row) -> float | None:
    """How high a leg's end lies above the station that it ends at; None where that is not known."""
    station = row.leg.end.point.station if row.leg.end.point is not None else None
    if station is None or station.elevation_ft is None:
        return None
    return row.leg.end_altitude_ft - station.elevation_ft
