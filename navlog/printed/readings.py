"""What the instruments read at the places between two stations."""

from __future__ import annotations

from collections.abc import Sequence

from navlog.flightlog.marks import dme_sector
from navlog.nav import figures
from navlog.nav.chart import Station
from navlog.nav.guidance import distance_from
from navlog.nav.radio import slant_nm
from navlog.printed.rows import Row, point_name
from navlog.resolve.route import PointKind


def dme_reads_nm(row: Row, station: Station) -> float | None:
    """What the DME of a station reads at a leg's end, NM.

    None without a DME in the aircraft or at the station, where that is unusable, and where no position or elevation is
    known.
    """
    if not _dme_serves(row, station) or station.elevation_ft is None:
        return None
    ground_nm = distance_from(station, row.leg.end.position)
    return None if ground_nm is None else slant_nm(ground_nm, row.leg.end_altitude_ft - station.elevation_ft)


def dme_at_changeover(row: Row) -> Station | None:
    """The station whose DME tells the changeover point that ends a leg; None where none does.

    It is the one behind or, where that has none to be used there and a second receiver is set to it, the one ahead.
    """
    changeover = row.leg.changeover
    if changeover is None:
        return None
    if _dme_serves(row, changeover.behind):
        return changeover.behind
    second = row.log.route.request.equipment.vor > 1
    return changeover.ahead if second and dme_reads_nm(row, changeover.ahead) is not None else None


def _dme_serves(row: Row, station: Station) -> bool:
    """Whether aircraft and station have a DME, and the station's may be used at a leg's end."""
    return row.log.route.request.equipment.dme > 0 and station.dme and dme_sector(row.leg, station) is None


def height_above_station_ft(row: Row) -> float | None:
    """How high a leg's end lies above the station that it ends at; None where that is not known."""
    station = row.leg.end.point.station if row.leg.end.point is not None else None
    if station is None or station.elevation_ft is None:
        return None
    return row.leg.end_altitude_ft - station.elevation_ft


def minutes_since(flown_so_far: Sequence[Row]) -> str:
    """The minutes flown since the last place that can be told in flight: `0:07 after QHB`."""
    time_min: int | None = 0
    for row in reversed(flown_so_far):
        time_min = None if time_min is None or row.time_min is None else time_min + row.time_min
        if row.leg.start.point is not None or row.leg.start.kind == PointKind.CHANGEOVER:
            break
    return f"{figures.minutes(time_min)} after {point_name(row.leg.start.kind, row.leg.start.name)}"


def by_time(flown_so_far: Sequence[Row]) -> str:
    """The minutes to the changeover point that ends a leg; `by time` where no DME tells it."""
    text = minutes_since(flown_so_far)
    return text if dme_at_changeover(flown_so_far[-1]) else f"by time {text}"


def tuned_away(arriving: Row) -> bool:
    """Whether the only receiver was set to a cross radial at the leg's end."""
    alone = arriving.log.route.request.equipment.vor == 1
    return alone and any(not mark.by.flown for mark in arriving.leg.told_by)
