"""Published places at which a VOR receiver may be checked, nearest to a place.

FAA NASR NAV_CKPT: A is in the air, G and G1 are on the ground. The description begins with the distance from the
station in most, which is read there and nowhere else.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from navlog.catalogue.nearness import apart_nm
from navlog.catalogue.opened import Opened, numbers
from navlog.catalogue.records import number, text
from navlog.nav.chart import Position
from navlog.nav.receiver_check import Checkpoint

if TYPE_CHECKING:
    from sqlite3 import Row

_FARTHEST_NM = 100.0
"""Farther away a checkpoint is of no use before a flight (common practice, no source)."""
_TOGETHER_NM = 1.0
"""So near to each other they are at one airport."""
_DISTANCE = re.compile(r"(\d*\.?\d+) ?(?:NM|DME)\b")


def nearest_checkpoints(catalogue: Opened, near: Position, day: date) -> tuple[Checkpoint, ...]:
    """The published checkpoints at the place nearest to `near` that has any, within 100 NM; in the file's order."""
    editions = catalogue.in_force("checkpoint", day)
    if not editions:
        return ()
    rows = catalogue.query(
        "SELECT checkpoint.*, airport.latitude, airport.longitude FROM checkpoint LEFT JOIN airport"
        " ON airport.ident = checkpoint.airport AND airport.edition = checkpoint.edition AND checkpoint.airport <> ''"
        f" WHERE checkpoint.edition IN ({numbers(editions)}) ORDER BY checkpoint.rowid"
    )
    found = [one for row in rows for one in _checkpoint(catalogue, row, near, day)]
    least_nm = min((apart_nm(near, one.position) for one in found), default=0.0)
    return tuple(one for one in found if apart_nm(near, one.position) <= least_nm + _TOGETHER_NM)


def _checkpoint(catalogue: Opened, row: Row, near: Position, day: date) -> Iterator[Checkpoint]:
    """The checkpoint of a row; none where it is too far, or its station is not known."""
    airport = Position(row["latitude"], row["longitude"]) if row["latitude"] is not None else None
    if airport is not None and apart_nm(near, airport) > _FARTHEST_NM:
        return
    radial_deg, provenance = number(row["radial"]), catalogue.provenance(row["edition"], "checkpoint")
    for station in catalogue.stations(row["station"], day):
        position = airport if airport is not None else station.position
        if station.published_kind != row["type"] or radial_deg is None or position is None:
            continue
        if station.position is None or apart_nm(station.position, position) > _FARTHEST_NM:
            continue
        if apart_nm(near, position) <= _FARTHEST_NM:
            told = text(row["text"]) or ""
            distance = _DISTANCE.match(told)
            yield Checkpoint(
                station,
                radial_deg or 360.0,
                row["way"] == "A",
                told,
                position,
                text(row["airport"]),
                float(distance[1]) if distance is not None else None,
                number(row["altitude"]),
                provenance,
            )
            return
