"""Guidance along a section: the way from one guiding station to the next, through fixes and bends.

The changeover point lies where the chart or the file says, else at the one bend, else midway (14 CFR
95.8001; off airways that default is convention). A station's radial holds only the straight part that
adjoins the station.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import accumulate, takewhile
from typing import TypeAlias

from msgspec import Struct

from navlog.nav.angles import difference_deg
from navlog.nav.chart import ChangeoverAt, Position, Segment, Source, Station
from navlog.nav.guidance import Flag, Guidance, StatedRadial, radial_toward
from navlog.nav.lines import Geodesic, line_between
from navlog.nav.record import changed
from navlog.resolve.route import Changeover, ChangeoverKind, Facing, GuidedPart, Point

BEND_DEG = 6.0
"""A geometric bend counts from 6 degrees (US Navy P-305, a new log row at a course change of 6 degrees)."""

SNAP_PUBLISHED_NM = 0.5
"""A published changeover is a whole NM, so it may name a fix up to half a mile off."""

SNAP_STATED_NM = 0.05
"""A stated changeover this near a fix prints the same as the fix."""

_SNAP_MIDPOINT_NM = 0.5
"""A midpoint this near a fix is the fix, as a published changeover would be: it is convention to the mile."""

_CARRY_CHANGEOVERS = (Source.FILE, Source.NASR)
"""ARINC 424 has no changeover points, so that CIFP tells nothing of them."""


StationFinder: TypeAlias = Callable[[str, Position | None], Station | None]
"""Finds the VOR of a name, near a place where several have it."""

NO_RADIAL = "no station's radial leads along this part"


TOO_MANY_BENDS = "the way bends more than once and no changeover point is published"
BEFORE_BEND = "no station's radial leads along the part between the changeover point and the bend"
_ONE_SIDED = {True: "up to the published changeover point", False: "up to the stated changeover point"}
"""How the reason begins where a station guides on its own side alone, by whether the point is published."""
OUT_OF_SERVICE = "out of service"
"""How the reason ends where the station that would guide does not."""


class Section(Struct, frozen=True):
    """Neighbouring points from one guiding station, or the airway's end, to the next.

    `behind` and `ahead` are the guiding stations at its two ends, None where the end is none;
    `lengths_nm` are the distances flown between neighbours, `levels_ft` the levels they are flown at, none
    where they don't matter. `source` is what the airway is read from.
    """

    points: tuple[Point, ...]
    segments: tuple[Segment | None, ...]
    lengths_nm: tuple[float, ...]
    behind: Station | None
    ahead: Station | None
    published: bool
    find_station: StationFinder
    levels_ft: tuple[float, ...] = ()
    source: Source = Source.FILE
    line_between: Callable[[Position, Position], Geodesic] = line_between

    @property
    def one_sided(self) -> str:
        """How the reason begins where a station guides on its own side of the changeover point alone."""
        return _ONE_SIDED[self.published]

    @property
    def along_nm(self) -> tuple[float, ...]:
        """How far each point lies from the first."""
        return (0.0, *accumulate(self.lengths_nm))

    def level_ft(self, index: int) -> float:
        """The level of a hop; sea level, where every remark holds, if none is given."""
        return self.levels_ft[index] if self.levels_ft else 0.0


def whole(section: Section) -> tuple[GuidedPart, ...]:
    """The parts of the whole section between its two stations."""
    along_nm = section.along_nm
    bends = bend_indexes(section)
    # Without a bend both radials lead along the whole section, so each may run as far as the other station.
    first_bend = bends[0] if bends else len(section.points) - 1
    last_bend = bends[-1] if bends else 0
    outbound = outbound_guidance(section, first_bend)
    inbound = inbound_guidance(section, last_bend)
    changeover = section_changeover(section, bends)
    one_sided = _one_sided_changeover(section)
    if one_sided is not None:
        return _one_sided_parts(section, outbound or inbound, one_sided, along_nm[first_bend], along_nm[last_bend])
    parts = _section_parts(outbound, inbound, changeover, along_nm[first_bend], along_nm[last_bend], along_nm[-1])
    # Only two radials of one line can be held against each other at its middle.
    if outbound is None or inbound is None:
        return parts
    facing = Facing(outbound, inbound, len(bends))
    return tuple(changed(part, facing=facing) for part in parts)


def _one_sided_changeover(section: Section) -> tuple[float, str] | None:
    """A published changeover point of which only one of the two stations guides, and the other's name.

    The other is a beacon, or out of service. How far along it lies, NM; None where there is no such point.
    """
    guiding = section.ahead or section.behind
    if not section.published or guiding is None or None not in (section.behind, section.ahead):
        return None
    along_nm, names = section.along_nm, [point.ident for point in section.points]
    for segment in section.segments:
        for one in segment.changeovers if segment is not None else ():
            other = one.ahead if one.station == guiding.ident else one.station
            if other is None or other == guiding.ident or other not in names:
                continue
            if guiding.ident not in (one.station, one.ahead):
                continue
            apart_nm = abs(along_nm[names.index(other)] - along_nm[names.index(guiding.ident)])
            reach_nm = one.distance_nm if one.station == guiding.ident else apart_nm - one.distance_nm
            at_nm = along_nm[-1] - reach_nm if section.behind is None else reach_nm
            return min(max(snapped(at_nm, section, SNAP_PUBLISHED_NM), 0.0), along_nm[-1]), other
    return None


def _one_sided_parts(
    section: Section,
    guidance: Guidance | None,
    changeover: tuple[float, str],
    first_bend_nm: float,
    last_bend_nm: float,
) -> tuple[GuidedPart, ...]:
    """The parts of a section of which the one guiding station holds its own side of the changeover point."""
    total_nm = section.along_nm[-1]
    at_nm, other = changeover
    reason = f"{section.one_sided} {other} would guide, which does not"
    if section.behind is None:
        start_nm = max(at_nm, last_bend_nm)
        parts = (GuidedPart(0.0, start_nm, None, reason), GuidedPart(start_nm, total_nm, guidance))
    else:
        end_nm = min(at_nm, first_bend_nm)
        parts = (GuidedPart(0.0, end_nm, guidance), GuidedPart(end_nm, total_nm, None, reason))
    return tuple(part for part in parts if part.end_nm > part.start_nm)


def bend_indexes(section: Section) -> tuple[int, ...]:
    """The inner points where the way bends: where chart or file say so, or by 6 degrees and more."""
    return tuple(
        index
        for index in range(1, len(section.points) - 1)
        if _says_turn(section.segments[index - 1]) or abs(_geometric_turn_deg(section, index)) >= BEND_DEG
    )


def _says_turn(segment: Segment | None) -> bool:
    """Whether a segment's end is marked as a turn."""
    return segment is not None and segment.turn


def _geometric_turn_deg(section: Section, index: int) -> float:
    """The change of true course at an inner point, right positive; 0 where a position is unknown."""
    before, here, after = (section.points[index + step].position for step in (-1, 0, 1))
    if before is None or here is None or after is None:
        return 0.0
    # The course on arrival, not at departure: a long geodesic turns by degrees of its own.
    arriving_deg = section.line_between(before, here).true_course.end_deg
    return difference_deg(section.line_between(here, after).true_course.start_deg, arriving_deg)


def outbound_guidance(section: Section, first_bend: int) -> Guidance | None:
    """FROM the station behind, on the radial that leads to the first bend."""
    if section.behind is None:
        return None
    segment = section.segments[0]
    charted = segment.start_radial_deg if segment is not None else None
    # To the farthest point of the straight part: a position's error turns the radial least there.
    computed = radial_toward(section.behind, _farthest_known(section.points[1 : first_bend + 1]))
    return Guidance(section.behind, StatedRadial(charted, computed), Flag.FROM)


def _farthest_known(points: tuple[Point, ...]) -> Position | None:
    """Of points on one straight part, from a station on: the last one before the first without a position."""
    known = tuple(takewhile(lambda position: position is not None, (point.position for point in points)))
    return known[-1] if known else None


def inbound_guidance(section: Section, last_bend: int) -> Guidance | None:
    """TO the station ahead, on the radial that leads back to the last bend."""
    if section.ahead is None:
        return None
    segment = section.segments[-1]
    charted = segment.end_radial_deg if segment is not None else None
    # From the far end of its straight part, for the same reason as outbound.
    computed = radial_toward(section.ahead, _farthest_known(section.points[last_bend:-1][::-1]))
    return Guidance(section.ahead, StatedRadial(charted, computed), Flag.TO)


def section_changeover(section: Section, bends: tuple[int, ...]) -> Changeover | None:
    """The changeover point between the two stations; None where there are not two."""
    behind, ahead = section.behind, section.ahead
    if behind is None or ahead is None:
        return None
    total_nm = section.along_nm[-1]
    stated = _stated_changeovers(section)
    if stated:
        kind = ChangeoverKind.PUBLISHED if section.published else ChangeoverKind.STATED
        reach_nm = SNAP_PUBLISHED_NM if section.published else SNAP_STATED_NM
        distance_nm = snapped(_stated_from_behind(stated, behind, total_nm), section, reach_nm)
    # At the bend neither radial leads on along the other's part: the chart needs no changeover mark there (AIM 5-3-6).
    elif len(bends) == 1:
        kind, distance_nm = ChangeoverKind.TURN, section.along_nm[bends[0]]
    elif not bends:
        kind, distance_nm = ChangeoverKind.MIDPOINT, snapped(total_nm / 2.0, section, _SNAP_MIDPOINT_NM)
    else:
        kind, distance_nm = ChangeoverKind.UNKNOWN, total_nm / 2.0
    pairs = tuple(one.measured or (one.distance_nm, one.station) for one in stated)
    # A source that carries no changeover points is silent, which is not the chart's silence: that one means the middle.
    silent = section.source not in _CARRY_CHANGEOVERS and kind in (ChangeoverKind.MIDPOINT, ChangeoverKind.TURN)
    return Changeover(kind, behind, ahead, distance_nm, total_nm - distance_nm, pairs, not_in_source=silent)


def _stated_changeovers(section: Section) -> tuple[ChangeoverAt, ...]:
    """What chart or file say of the changeover between the section's two stations."""
    assert section.behind is not None
    assert section.ahead is not None
    ends = (section.behind.ident, section.ahead.ident)
    found = [cop for segment in section.segments if segment is not None for cop in segment.changeovers]
    return tuple(
        dict.fromkeys(cop for cop in found if cop.station in ends and (cop.ahead is None or cop.ahead in ends))
    )


def _stated_from_behind(stated: tuple[ChangeoverAt, ...], behind: Station, total_nm: float) -> float:
    """The changeover's distance from the station behind; the figure beside that station wins."""
    for one in stated:
        if one.station == behind.ident:
            return min(one.distance_nm, total_nm)
    # The other station's figure, measured back; one longer than the way is a slip and must not go below nothing.
    return max(0.0, total_nm - stated[0].distance_nm)


def snapped(distance_nm: float, section: Section, reach_nm: float) -> float:
    """The distance, moved onto a point of the section within `reach_nm` of it."""
    nearest_nm = min(section.along_nm, key=lambda along: abs(along - distance_nm))
    return nearest_nm if abs(nearest_nm - distance_nm) <= reach_nm else distance_nm


def _section_parts(
    outbound: Guidance | None,
    inbound: Guidance | None,
    changeover: Changeover | None,
    first_bend_nm: float,
    last_bend_nm: float,
    total_nm: float,
) -> tuple[GuidedPart, ...]:
    """The parts of a whole section: FROM the station behind, a part without guidance, TO the one ahead."""
    if changeover is None or changeover.kind is ChangeoverKind.UNKNOWN:
        end_out_nm = first_bend_nm if outbound else 0.0
        start_in_nm = last_bend_nm if inbound else total_nm
        reason = TOO_MANY_BENDS
        if changeover is None:
            reason = NO_RADIAL
        # With one bend and one station the two would overlap: who guides first goes on to the bend.
        start_in_nm = max(start_in_nm, end_out_nm)
    else:
        end_out_nm = min(changeover.distance_nm, first_bend_nm)
        start_in_nm = max(changeover.distance_nm, last_bend_nm)
        reason = BEFORE_BEND
    parts = [
        GuidedPart(0.0, end_out_nm, outbound),
        GuidedPart(end_out_nm, start_in_nm, None, reason),
        GuidedPart(start_in_nm, total_nm, inbound),
    ]
    if changeover is not None:
        at_nm = changeover.distance_nm if changeover.kind is not ChangeoverKind.UNKNOWN else end_out_nm
        parts = _with_changeover(parts, changeover, at_nm)
    return tuple(part for part in parts if part.end_nm > part.start_nm)


def _with_changeover(parts: list[GuidedPart], changeover: Changeover, at_nm: float) -> list[GuidedPart]:
    """The parts, one of them ending at the changeover point and carrying it."""
    done: list[GuidedPart] = []
    for part in parts:
        if part.start_nm < at_nm < part.end_nm:
            done.append(changed(part, end_nm=at_nm, changeover=changeover))
            done.append(changed(part, start_nm=at_nm))
        elif part.end_nm == at_nm and part.end_nm > part.start_nm:
            done.append(changed(part, changeover=changeover))
        else:
            done.append(part)
    return done


def cut(parts: tuple[GuidedPart, ...], start_nm: float, end_nm: float, length_nm: float) -> tuple[GuidedPart, ...]:
    """The parts between two distances, counted from the first of them; the last ends at `length_nm` exactly."""
    inside = []
    for part in parts:
        low, high = max(part.start_nm, start_nm), min(part.end_nm, end_nm)
        if high > low:
            # The very length, not a difference of sums: a leg ends its stretch by comparing with it.
            to_nm = length_nm if high == end_nm else high - start_nm
            changeover = part.changeover if high == part.end_nm else None
            # Most begin where the hop does: one nought for all of them.
            from_nm = 0.0 if low == start_nm else low - start_nm
            inside.append(changed(part, start_nm=from_nm, end_nm=to_nm, changeover=changeover))
    return tuple(inside)
