"""The altitude to fly without radio under IFR: for each part the highest of assigned, expected and minimum.

14 CFR 91.185(c)(2). What will be assigned or is to be expected is not known before the flight: the planned level
stands for both.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from navlog.flightlog.altitudes import below, level_altitude_ft
from navlog.flightlog.facts import lowest
from navlog.flightlog.records import Leg, Log


class WithoutRadio(Struct, frozen=True):
    """The altitude without radio from the start of a leg to the end of its stretch.

    `planned_ft` is the altitude of the planned level; `minimum_ft` is None where no minimum is known, and `kind` what
    it is: `MEA`, or `min` as stated. `altitude_ft` is the highest of both.
    """

    leg: Leg
    planned_ft: float
    kind: str
    minimum_ft: float | None
    altitude_ft: float

    @property
    def by_minimum(self) -> bool:
        """Whether the minimum is higher than what is planned."""
        return below(self.planned_ft, self.altitude_ft)


def without_radio(log: Log) -> Iterator[WithoutRadio]:
    """The altitude of each stretch of a flight under IFR; nothing under VFR, which lands as soon as practicable."""
    if log.route.request.rules != "ifr":
        return
    for leg in log.first_legs():
        if leg.stays:
            continue
        kind, minimum_ft = lowest(leg.stretch.limits)
        planned_ft = level_altitude_ft(leg.stretch.level, leg.altimeter_hpa)
        yield WithoutRadio(leg, planned_ft, kind, minimum_ft, max(planned_ft, minimum_ft or 0.0))
