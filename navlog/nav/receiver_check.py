"""The VOR receiver check of 14 CFR 91.171: what a receiver is checked against, and how far off it may be."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from enum import StrEnum

from msgspec import Struct

from navlog.nav.chart import Position, Provenance, Station

_VALID_DAYS = 30
"""14 CFR 91.171(a)(2): "operationally checked within the preceding 30 days"."""


class Check(StrEnum):
    """What the receiver is checked against."""

    VOT = "vot"
    REPAIR_STATION = "repair-station"
    GROUND = "ground"
    AIRBORNE = "airborne"
    AIRWAY = "airway"
    DUAL = "dual"


class _Limit(Struct, frozen=True):
    """The greatest error either way, the paragraph that says so, and the check in words."""

    degrees: float
    paragraph: str
    words: str

    def holds(self, error_deg: float) -> bool:
        """Whether an error is within the limit."""
        return abs(error_deg) <= self.degrees + 1e-9


_LIMITS = {
    Check.VOT: _Limit(4.0, "14 CFR 91.171(b)(1)", "test signal (VOT)"),
    Check.REPAIR_STATION: _Limit(4.0, "14 CFR 91.171(b)(1)", "repair station's test signal"),
    Check.GROUND: _Limit(4.0, "14 CFR 91.171(b)(2)", "ground checkpoint"),
    Check.AIRBORNE: _Limit(6.0, "14 CFR 91.171(b)(3)", "airborne checkpoint"),
    Check.AIRWAY: _Limit(6.0, "14 CFR 91.171(b)(4)", "point on an airway's radial"),
    Check.DUAL: _Limit(4.0, "14 CFR 91.171(c)", "one receiver against the other"),
}
_NOT_SAID = _Limit(4.0, "14 CFR 91.171(b), (c)", "against what is not said")
"""Of a check that does not say what it was against, the strictest limit counts."""


class Checkpoint(Struct, frozen=True):
    """A published place at which a VOR receiver may be checked: on a radial of `station`, on the ground or in the air.

    `distance_nm` is from the station where the description begins with it. `airport` is the landing place that it
    belongs to, `position` that one's, else the station's. `altitude_ft` is of one in the air, as published.
    """

    station: Station
    radial_deg: float
    airborne: bool
    description: str
    position: Position
    airport: str | None
    distance_nm: float | None
    altitude_ft: float | None
    provenance: Provenance


def limit_of(check: Check | None) -> _Limit:
    """The limit of a kind of check; the strictest where the kind is not known."""
    return _NOT_SAID if check is None else _LIMITS[check]


def good_through(day: date) -> date:
    """The last day on which a check made on `day` counts."""
    return day + timedelta(days=_VALID_DAYS)


def last_good(day: date, kind: Check | None, errors_deg: Iterable[float]) -> date | None:
    """The last day on which a check counts; None where a receiver was farther off than its limit."""
    limit = limit_of(kind)
    return good_through(day) if all(limit.holds(one) for one in errors_deg) else None


def error_text(error_deg: float) -> str:
    """A bearing error as stated, clockwise positive: `+2`, `-1.5`, `0`."""
    return f"{error_deg:+g}" if error_deg else "0"
