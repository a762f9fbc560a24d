"""What the other VOR receiver is best set to: the next cross radial or station that the flight needs.

The first of what lies ahead before a landing: the radial of another station that tells a leg's end, or the station
that guides next (common practice, no source). With one receiver nothing is told.
"""

from __future__ import annotations

from navlog.flightlog.records import Leg, OtherSetting, SettingKind
from navlog.nav.guidance import Flag, Guidance, StatedRadial
from navlog.nav.record import changed
from navlog.resolve.route import MarkKind, Route


def with_other_receiver(route: Route, legs: tuple[Leg, ...]) -> tuple[Leg, ...]:
    """The legs with what the other receiver is best set to on each; as they are with fewer than two receivers."""
    if route.request.equipment.vor < 2:
        return legs
    return tuple(changed(leg, other_setting=_best_setting(legs, index)) for index, leg in enumerate(legs))


def _best_setting(legs: tuple[Leg, ...], index: int) -> OtherSetting | None:
    """What is needed first beside the station of a leg; None where nothing is before the next landing."""
    guidance = legs[index].part.guidance
    in_use = None if guidance is None else guidance.station.ident
    for leg, following in zip(legs[index:], (*legs[index + 1 :], None), strict=True):
        for mark in leg.told_by:
            if mark.kind is MarkKind.RADIAL and mark.station.ident != in_use:
                crossing = Guidance(mark.station, StatedRadial(computed=mark.by.radial_deg), Flag.FROM)
                return OtherSetting(SettingKind.CROSS_RADIAL, crossing, leg.number, leg.end.name)
        if following is None or leg.lands:
            return None
        onward = following.part.guidance
        if onward is not None and onward.station.ident != in_use:
            return OtherSetting(SettingKind.NEXT_STATION, onward, following.number, following.start.name)
    return None
