"""Published changeover points against the way they lie on, and against each other.

Several airways may publish the same changeover point, each from the end where it begins: FAA NASR of
2026-05-14 has 33 NM from CNX on V68 and 48 NM from CME on V83, and the two stations are 81.18 NM apart.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.catalogue.changeover_sides import vor_near
from navlog.catalogue.comparisons import BROKEN, Checked, FigureComparison, measured
from navlog.nav.chart import Airway, ChangeoverAt
from navlog.nav.guidance import StatedDistance, distance_from

if TYPE_CHECKING:
    from collections.abc import Sequence

    from navlog.catalogue.opened import Opened

_SAME_WAY_NM = 1.0
"""Two airways between the same stations go the same way where they are this near of one length."""


class _Published(Struct, frozen=True):
    """A changeover point with the length of the way on which it lies, to the station ahead."""

    airway: Airway
    changeover: ChangeoverAt
    length_nm: float

    @property
    def pair(self) -> frozenset[str]:
        """The two stations."""
        return frozenset((self.changeover.station, self.changeover.ahead or ""))

    def from_other_end_nm(self) -> float:
        """How far it is from the station ahead."""
        return self.length_nm - self.changeover.distance_nm


def changeovers_of(catalogue: Opened, airway: Airway, day: date) -> Iterator[_Published]:
    """The changeover points of an airway; those whose way ahead is not known are left out."""
    for index, segment in enumerate(airway.segments):
        for one in segment.changeovers:
            length_nm = _length_along(airway, index, one)
            if length_nm is None:
                length_nm = _length_across(catalogue, airway, index, one, day)
            if length_nm is not None:
                yield _Published(airway, one, length_nm)


def _length_along(airway: Airway, index: int, one: ChangeoverAt) -> float | None:
    """The length along the airway from the point at `index` to the station ahead; None where it is not on it."""
    if one.station != airway.points[index] or one.ahead not in airway.points[index:]:
        return None
    end = airway.points.index(one.ahead, index)
    lengths = [
        None if segment.service in BROKEN else measured(segment, start, place).flown
        for segment, start, place in zip(
            airway.segments[index:end], airway.places[index:end], airway.places[index + 1 : end + 1], strict=True
        )
    ]
    known = [length for length in lengths if length is not None]
    return sum(known) if len(known) == len(lengths) else None


def _length_across(catalogue: Opened, airway: Airway, index: int, one: ChangeoverAt, day: date) -> float | None:
    """How far a station off the airway is from the one behind; None where one of the two is not known."""
    place = airway.places[index]
    if place is None or place.position is None or one.ahead is None:
        return None
    behind = vor_near(catalogue, one.station, place.position, day)
    ahead = vor_near(catalogue, one.ahead, place.position, day)
    return distance_from(behind, ahead.position) if behind is not None and ahead is not None else None


def compare_changeovers(published: Sequence[_Published]) -> list[FigureComparison]:
    """Each changeover point's distance beside the length of its way, beyond which it cannot lie."""
    return [
        _comparison(
            Checked.CHANGEOVER,
            one,
            one.length_nm,
            "the station ahead is the same" if one.changeover.ahead == one.changeover.station else None,
        )
        for one in published
    ]


def compare_pairs(published: Sequence[_Published]) -> list[FigureComparison]:
    """Each changeover point beside the first that another row publishes between the same two stations.

    Low and high airways are kept apart: their changeover points may differ.
    """
    found = []
    firsts: dict[tuple[str, frozenset[str]], list[_Published]] = {}
    for one in published:
        same = firsts.setdefault((one.airway.ident[:1], one.pair), [])
        for first in same:
            # Two stations may be joined by two airways round different sides of a hill, with changeovers of their own.
            if abs(first.length_nm - one.length_nm) <= _SAME_WAY_NM:
                mirrored = first.changeover.station != one.changeover.station
                other_nm = first.from_other_end_nm() if mirrored else first.changeover.distance_nm
                told = f"{first.airway.ident} gives {first.changeover.distance_nm:g} NM from {first.changeover.station}"
                found.append(_comparison(Checked.PAIR, one, other_nm, told))
                break
        else:
            same.append(one)
    return found


def _comparison(checked: Checked, one: _Published, computed_nm: float, note: str | None = None) -> FigureComparison:
    """A changeover point's published distance beside another figure."""
    distance = StatedDistance(one.changeover.distance_nm, computed_nm)
    return FigureComparison(
        checked,
        one.airway.ident,
        one.airway.location,
        one.changeover.station,
        one.changeover.ahead or "",
        one.changeover.station,
        one.changeover.distance_nm,
        computed_nm,
        distance.difference,
        note,
    )
