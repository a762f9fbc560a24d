"""Changeover points to a station that is not the next one on the airway, as the chart publishes some.

Examples in FAA NASR AWY_SEG_ALT of 2026-05-14: V66 at DUG changes to DMN as far as ANIMA, V393 at OLS to HMO
across the border.
"""

from __future__ import annotations

from navlog.nav.angles import difference_deg
from navlog.nav.chart import ChangeoverAt, Station
from navlog.nav.guidance import Flag, Guidance, StatedRadial, distance_from, radial_toward
from navlog.nav.record import changed
from navlog.resolve.out_of_service import whole_without
from navlog.resolve.route import Changeover, ChangeoverKind, GuidedPart, Point
from navlog.resolve.sections import (
    NO_RADIAL,
    SNAP_PUBLISHED_NM,
    SNAP_STATED_NM,
    Section,
    bend_indexes,
    inbound_guidance,
    outbound_guidance,
    snapped,
)
from navlog.resolve.told import by_hop

_ALIGNED_DEG = 2.0
"""The station's radial leads along the way where it is this steady over the part that it guides."""


def guide_airway(section: Section) -> tuple[tuple[GuidedPart, ...], ...]:
    """The parts of each hop of a section of an airway."""
    # The chart writes such a point from the side of its station alone, so both ways must be looked at.
    found = _off_airway(section)
    if found is not None:
        return by_hop(section, _guide_beyond(section, *found))
    other_way = _backwards(section)
    found = _off_airway(other_way)
    if found is not None:
        return by_hop(section, _mirrored(_guide_beyond(other_way, *found), section.along_nm))
    return by_hop(section, whole_without(section, other_way))


def _off_airway(section: Section) -> tuple[ChangeoverAt, Station] | None:
    """The changeover from the station behind to one that is not ahead on the airway, with that station."""
    if section.behind is None:
        return None
    ahead = section.ahead.ident if section.ahead is not None else None
    for segment in section.segments:
        for one in segment.changeovers if segment is not None else ():
            if one.station != section.behind.ident or one.ahead in (None, ahead):
                continue
            station = section.find_station(one.ahead or "", section.points[0].position)
            if station is not None:
                return one, station
    return None


def _guide_beyond(section: Section, one: ChangeoverAt, station: Station) -> tuple[GuidedPart, ...]:
    """The parts of the whole section: FROM the station behind, then TO the other one as far as it guides."""
    assert section.behind is not None
    along_nm = section.along_nm
    bends = bend_indexes(section)
    last = len(section.points) - 1
    reach_nm = SNAP_PUBLISHED_NM if section.published else SNAP_STATED_NM
    # Not beyond the first bend: from there the radial of the station behind leads elsewhere.
    at_nm = min(snapped(one.distance_nm, section, reach_nm), along_nm[bends[0] if bends else last])
    names = [point.ident for point in section.points]
    end = names.index(one.until) if one.until in names else next((b for b in bends if along_nm[b] > at_nm), last)
    start = max(bend for bend in (0, *bends) if along_nm[bend] <= at_nm)
    whole_nm = distance_from(station, section.points[start].position)
    changeover = Changeover(
        ChangeoverKind.PUBLISHED if section.published else ChangeoverKind.STATED,
        section.behind,
        station,
        at_nm,
        max(0.0, (whole_nm or 0.0) - (at_nm - along_nm[start])),
        (one.measured or (one.distance_nm, one.station),),
    )
    outbound = outbound_guidance(section, bends[0] if bends else last)
    guidance = _toward(station, section.points[start], section.points[end])
    inbound = inbound_guidance(section, bends[-1] if bends else 0) if end < last else None
    reason = None if guidance is not None else f"no radial of {station.ident} leads along the way here"
    arriving_nm = max(along_nm[end], along_nm[bends[-1] if bends else 0])
    parts = (
        GuidedPart(0.0, at_nm, outbound, changeover=changeover),
        GuidedPart(at_nm, along_nm[end], guidance, reason),
        GuidedPart(along_nm[end], arriving_nm, None, NO_RADIAL),
        GuidedPart(arriving_nm, along_nm[last], inbound, NO_RADIAL if inbound is None else None),
    )
    return tuple(part for part in parts if part.end_nm > part.start_nm)


def _toward(station: Station, start: Point, end: Point) -> Guidance | None:
    """TO a station along a straight part of the way; None where its radial is not steady along it."""
    first, last = radial_toward(station, start.position), radial_toward(station, end.position)
    # A position at one end is enough to name the radial; where both are known they must name the same.
    if first is None or (last is not None and abs(difference_deg(first, last)) > _ALIGNED_DEG):
        return None
    return Guidance(station, StatedRadial(None, first), Flag.TO)


def _backwards(section: Section) -> Section:
    """The same section flown the other way, with bends at the same points."""
    bends = {one.end for one in section.segments if one is not None and one.turn}
    return changed(
        section,
        points=section.points[::-1],
        segments=tuple(
            None if one is None else changed(one.reversed(), turn=one.start in bends)
            for one in reversed(section.segments)
        ),
        lengths_nm=section.lengths_nm[::-1],
        behind=section.ahead,
        ahead=section.behind,
    )


def _mirrored(parts: tuple[GuidedPart, ...], along_nm: tuple[float, ...]) -> tuple[GuidedPart, ...]:
    """The parts of a section flown the other way: ends exchanged, flags turned, the changeover from its other side."""
    turned = []

    def from_other_end(distance_nm: float) -> float:
        there_nm = along_nm[-1] - distance_nm
        nearest_nm = min(along_nm, key=lambda point_nm: abs(point_nm - there_nm))
        # Subtracted from the other end, a part would else miss its point by a rounding and leave a sliver.
        return nearest_nm if abs(nearest_nm - there_nm) < 1e-6 else there_nm

    for part in reversed(parts):
        start_nm, end_nm = from_other_end(part.end_nm), from_other_end(part.start_nm)
        guidance = part.guidance
        if guidance is not None:
            guidance = changed(guidance, flag=Flag.TO if guidance.flag is Flag.FROM else Flag.FROM)
        turned.append(changed(part, start_nm=start_nm, end_nm=end_nm, guidance=guidance, changeover=None))
    changeover = next((part.changeover for part in parts if part.changeover is not None), None)
    if changeover is not None:
        at_nm = from_other_end(changeover.distance_nm)
        other = changed(
            changeover,
            behind=changeover.ahead,
            ahead=changeover.behind,
            distance_nm=changeover.distance_ahead_nm,
            distance_ahead_nm=changeover.distance_nm,
        )
        turned = [changed(part, changeover=other) if part.end_nm == at_nm else part for part in turned]
    return tuple(turned)
