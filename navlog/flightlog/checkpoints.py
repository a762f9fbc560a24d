"""Where the VOR receivers may be checked before take-off, of what is published."""

from __future__ import annotations

from msgspec import Struct

from navlog.flightlog.records import Log
from navlog.nav.receiver_check import Checkpoint

_AT_AIRPORT_NM = 1.0
"""A file may state an airport less exactly than it is published."""


class NearCheckpoint(Struct, frozen=True):
    """A published checkpoint, and how far its airport or station is from where the flight takes off."""

    point: Checkpoint
    away_nm: float

    @property
    def at_departure(self) -> bool:
        """Whether it is at the airport of departure, as 14 CFR 91.171(b)(2) asks."""
        return self.away_nm <= _AT_AIRPORT_NM


def checkpoints(log: Log) -> tuple[NearCheckpoint, ...]:
    """The published checkpoints nearest to the departure."""
    from navlog.nav import earth

    # The check is due before take-off, so only the field of departure counts.
    start = log.route.points[0].position
    if start is None:
        return ()
    return tuple(NearCheckpoint(one, earth.distance_nm(start, one.position)) for one in log.route.checkpoints)
