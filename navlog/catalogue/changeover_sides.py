"""On which side of its station a changeover point lies, where the station ahead is not on the airway.

NASR gives it on the row of the station. V13 of 2026-05-14 has `BRO 47` at CRP: toward BRO, from which V13 is
flown to CRP, and not on to the next point of the row.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from navlog.catalogue.nearness import angle_between_deg, bearing_deg, nearest_first
from navlog.nav.chart import ChangeoverAt, Position, Segment, Service, Station, StationKind
from navlog.nav.record import changed

if TYPE_CHECKING:
    from navlog.catalogue.airways import Chain
    from navlog.catalogue.opened import Opened


def vor_near(catalogue: Opened, ident: str, near: Position, day: date) -> Station | None:
    """The VOR of that identifier that is nearest to a place."""
    found = [station for station in catalogue.stations(ident, day) if station.kind is StationKind.VOR]
    return nearest_first(found, near)[0] if found else None


def on_their_sides(catalogue: Opened, chain: Chain, made: Sequence[Segment], day: date) -> list[Segment]:
    """The segments with each changeover point on the side of its station on which it lies."""
    placed = list(made)
    for index, segment in enumerate(made):
        for one in segment.changeovers:
            if one.ahead not in chain.points[index + 1 :] and _lies_behind(catalogue, chain, index, one, day):
                if index == 0 or made[index - 1].service is Service.DISCONTINUED:
                    continue
                before = placed[index - 1]
                placed[index - 1] = changed(before, changeovers=(*before.changeovers, one))
                placed[index] = changed(placed[index], changeovers=())
    return placed


def _lies_behind(catalogue: Opened, chain: Chain, index: int, one: ChangeoverAt, day: date) -> bool:
    """Whether the station ahead lies rather back along the airway than on along it."""
    place = chain.places[index]
    if one.ahead in chain.points[:index]:
        return True
    if index == 0 or place is None or place.position is None or one.ahead is None:
        return False
    ahead = vor_near(catalogue, one.ahead, place.position, day)
    onward, back = chain.course_deg(index), chain.opposite_course_deg(index - 1)
    if ahead is None or ahead.position is None or onward is None or back is None:
        return False
    declination_deg = (place.declination_deg or 0.0) if isinstance(place, Station) else 0.0
    toward_deg = bearing_deg(place.position, ahead.position) - declination_deg
    # Nearer to the way back than to the way on is enough: the station is seldom on either.
    return angle_between_deg(toward_deg, back) < angle_between_deg(toward_deg, onward)
