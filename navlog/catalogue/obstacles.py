"""The obstacles that published data know near a course."""

from __future__ import annotations

from datetime import date
from math import cos, radians
from typing import TYPE_CHECKING

from navlog.catalogue.opened import Opened, numbers
from navlog.catalogue.schema import OBSTACLE
from navlog.nav.chart import Position
from navlog.nav.corridor import Corridor, capsules
from navlog.nav.obstacles import WIDEST_NM, Obstacle, Obstacles, place_tolerance_nm, top_tolerance_ft

if TYPE_CHECKING:
    from sqlite3 import Row

_MARGIN_DEG = (WIDEST_NM + 0.1) / 59.0


def obstacles_near(catalogue: Opened, corridor: Corridor, day: date) -> Obstacles | None:
    """Every obstacle that may stand in a corridor, and some beside it; None where none of any place is known."""
    editions = catalogue.in_force(OBSTACLE, day)
    if not editions:
        return None
    limits, longitudes = zip(*((piece.limits_deg(), piece.longitudes_deg) for piece in capsules(corridor)), strict=True)
    widest = max(piece.radius_nm for piece in capsules(corridor))
    south, north = min(one for one, _ in limits) - _MARGIN_DEG, max(one for _, one in limits) + _MARGIN_DEG
    west, east = min(map(min, longitudes)), max(map(max, longitudes))
    reach = (widest / 59.0 + _MARGIN_DEG) / max(0.05, cos(radians(min(89.0, max(abs(south), abs(north))))))
    middle, half = (west + east) / 2.0, (east - west) / 2.0 + reach
    rows = catalogue.query(
        f"SELECT * FROM obstacle WHERE latitude BETWEEN ? AND ? AND edition IN ({numbers(editions)}) ORDER BY rowid",
        (south, north),
    )
    rows = [row for row in rows if abs((row["longitude"] - middle + 180.0) % 360.0 - 180.0) <= half]
    return Obstacles(tuple(map(_obstacle, rows)), tuple(catalogue.provenance(one.number, OBSTACLE) for one in editions))


def _obstacle(row: Row) -> Obstacle:
    accuracy = row["accuracy"] or ""
    return Obstacle(
        ident=row["ident"],
        kind=row["type"].lower() or "obstacle",
        position=Position(row["latitude"], row["longitude"]),
        top_ft=row["amsl"],
        place_tolerance_nm=place_tolerance_nm(accuracy[:1]),
        top_tolerance_ft=top_tolerance_ft(accuracy[1:2]),
    )
