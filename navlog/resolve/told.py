"""What the chart tells of one hop of a section: another station's radial, remarks, and make-ups that lead along it.

A remark takes away no more than it says: the station it is about, beyond its reach, below its height. What is
then left without guidance is led by the radial of a VOR off the airway where the make-ups of the fixes name it.
"""

from __future__ import annotations

from collections.abc import Iterator

from navlog.nav.angles import difference_deg
from navlog.nav.chart import Segment, Service, Station, UnusableRadial
from navlog.nav.figures import level, stated_distance
from navlog.nav.guidance import Flag, Guidance, StatedRadial, distance_from, radial_toward
from navlog.nav.record import changed
from navlog.nav.sectors import Sector
from navlog.resolve.makeup import bearings_from
from navlog.resolve.route import ChangeoverKind, GuidedPart, Point
from navlog.resolve.sections import (
    BEFORE_BEND,
    NO_RADIAL,
    OUT_OF_SERVICE,
    SNAP_PUBLISHED_NM,
    TOO_MANY_BENDS,
    Section,
    cut,
    whole,
)

_SILENT = "a published remark says that the radial of {} is unusable {}"
_NOT_GUIDING = "the radial of {} leads along this part, and it does not guide"
_NOT_UNDERSTOOD = "a published remark on the guidance here is not understood"

_STEADY_DEG = 1.0
"""One radial leads along a hop where it prints the same, or nearly, at both ends."""

_SAME_COURSE_DEG = 1.0
"""A published course is a radial's where they print the same, or nearly: it may be of an older alignment."""

_AROUND_DEG = 1.0
"""A remark names a whole degree."""


def guide(section: Section) -> tuple[tuple[GuidedPart, ...], ...]:
    """The parts of each hop of the section, each with its guidance or the reason why it has none."""
    return by_hop(section, whole(section))


def by_hop(section: Section, parts: tuple[GuidedPart, ...]) -> tuple[tuple[GuidedPart, ...], ...]:
    """The parts of a whole section cut at its points; what the chart says of one segment alone comes last."""
    along_nm = section.along_nm
    hops = tuple(
        _told(cut(parts, along_nm[k], along_nm[k + 1], length_nm), section, k)
        for k, length_nm in enumerate(section.lengths_nm)
    )
    # The unknown changeover explains the part that has no guidance, and must stay beside it.
    if any(part.guidance is None for hop in hops for part in hop):
        return hops
    return tuple(tuple(_without_unknown(part) for part in hop) for hop in hops)


def _without_unknown(part: GuidedPart) -> GuidedPart:
    """The part without a changeover point that nobody knows: every part of its section has its own guidance."""
    unknown = part.changeover is not None and part.changeover.kind is ChangeoverKind.UNKNOWN
    return changed(part, changeover=None) if unknown else part


def _told(parts: tuple[GuidedPart, ...], section: Section, index: int) -> tuple[GuidedPart, ...]:
    """The parts of one hop as remarks and make-ups change them.

    None guides where a remark on the guidance could not be read.
    """
    segment = section.segments[index]
    if segment is None:
        return parts
    # An unread remark may take away any radial here, so none is offered.
    if segment.doubtful:
        return (GuidedPart(0.0, section.lengths_nm[index], None, _NOT_UNDERSTOOD),)
    # First who guides by the chart, then what remarks silence, then who is left: a remark may silence that other one.
    parts = _overridden(parts, section, index, segment)
    for one in segment.unusable:
        parts = tuple(left for part in parts for left in _silenced(part, one, section, index))
    return tuple(_led(part, section, index, segment) for part in parts) if section.published else parts


def _overridden(
    parts: tuple[GuidedPart, ...], section: Section, index: int, segment: Segment
) -> tuple[GuidedPart, ...]:
    """The parts, guided by another station where the chart says so (`on STN RADIAL`) at the level flown."""
    if segment.along is None or segment.along.radial_deg is None:
        return parts
    if segment.along_below_ft is not None and section.level_ft(index) >= segment.along_below_ft:
        return parts
    station = section.find_station(segment.along.station, section.points[index].position)
    if station is None:
        # Another station's radial would lead along here only where the chart said so.
        return (GuidedPart(0.0, section.lengths_nm[index], None, _NOT_GUIDING.format(segment.along.station)),)
    start, end = section.points[index], section.points[index + 1]
    flag = _flag_along(station, start, end)
    if flag is None:
        reason = f"no position tells whether {station.ident} lies ahead or behind"
        return (GuidedPart(0.0, section.lengths_nm[index], None, reason),)
    far = end if flag is Flag.FROM else start
    radial = StatedRadial(segment.along.radial_deg, radial_toward(station, far.position))
    return (GuidedPart(0.0, section.lengths_nm[index], Guidance(station, radial, flag)),)


def _silenced(part: GuidedPart, one: UnusableRadial, section: Section, index: int) -> Iterator[GuidedPart]:
    """The part without the guidance that a remark takes away, cut where the remark's reach begins.

    Above a remark's height the guidance stays, and the station carries the remark for climbs and descents.
    """
    guidance = part.guidance
    if guidance is None or guidance.station.ident != one.station:
        yield part
        return
    high = one.below_ft is not None and section.level_ft(index) >= one.below_ft
    if high:
        yield changed(part, guidance=changed(guidance, station=_cautioned(guidance, one)))
        return
    reason = _SILENT.format(one.station, _limits_text(one))
    good = _good_reach(part, one, guidance, section, index)
    if good is None:
        yield changed(part, guidance=None, reason=reason)
        return
    start_nm, end_nm = good
    pieces = (
        changed(part, end_nm=start_nm, guidance=None, reason=reason, changeover=None),
        changed(part, start_nm=start_nm, end_nm=end_nm, changeover=part.changeover if end_nm == part.end_nm else None),
        changed(part, start_nm=end_nm, guidance=None, reason=reason),
    )
    yield from (piece for piece in pieces if piece.end_nm > piece.start_nm)


def _cautioned(guidance: Guidance, one: UnusableRadial) -> Station:
    """The station with the remark as an unusable sector, for the parts of the way that are flown lower."""
    radial_deg = one.radial_deg if one.radial_deg is not None else guidance.radial.flown or 0.0
    sector = Sector(
        (radial_deg - _AROUND_DEG) % 360.0,
        (radial_deg + _AROUND_DEG) % 360.0,
        one.beyond_nm,
        one.below_ft,
        "vor",
        one.remark,
    )
    return changed(guidance.station, unusable=(*guidance.station.unusable, sector))


def _limits_text(one: UnusableRadial) -> str:
    """How far and how high a radial is unusable: `beyond 26 NM`."""
    beyond = f"beyond {stated_distance(one.beyond_nm)} NM" if one.beyond_nm is not None else ""
    below = f"below {level(one.below_ft)} ft" if one.below_ft is not None else ""
    return " ".join(filter(None, (beyond, below))) or "here"


def _good_reach(
    part: GuidedPart, one: UnusableRadial, guidance: Guidance, section: Section, index: int
) -> tuple[float, float] | None:
    """From where to where along its hop a part lies within the reach that a remark leaves; None for nowhere.

    A reach is published in whole miles: less than half a mile beyond it counts as within.
    """
    near, far = (distance_from(guidance.station, point.position) for point in section.points[index : index + 2])
    # Equal distances from the station: its reach cuts the hop nowhere or twice, so all of it is taken away.
    if one.beyond_nm is None or near is None or far is None or near == far:
        return None
    length_nm = section.lengths_nm[index]
    # Along a radial the distance from the station grows evenly, which makes this exact.
    at_nm = length_nm * (one.beyond_nm - near) / (far - near)
    for edge_nm in (part.start_nm, part.end_nm):
        # A published whole mile must not leave a sliver beside a fix that the same mile meant.
        at_nm = edge_nm if abs(at_nm - edge_nm) <= SNAP_PUBLISHED_NM else at_nm
    start_nm, end_nm = (
        (part.start_nm, min(at_nm, part.end_nm)) if far > near else (max(at_nm, part.start_nm), part.end_nm)
    )
    return (start_nm, end_nm) if end_nm > start_nm else None


def _led(part: GuidedPart, section: Section, index: int, segment: Segment) -> GuidedPart:
    """The part on the radial of a VOR that leads along its hop, if it has no guidance and there is such a VOR."""
    if part.guidance is not None:
        return part
    own = _own_side(part, section)
    silent = tuple(one for one in segment.unusable if _counts(one, section, index))
    leading = _leading(section, index, segment)
    if part.reason is not None and part.reason.endswith(OUT_OF_SERVICE):
        # What the MEA assures of a station that stays ended at its changeover point with the one that is out.
        stays = [one.ident for one in (section.behind, section.ahead) if one is not None]
        leading = (one for one in leading if one[2] or one[1].station.ident not in stays)
    found = sorted(leading, key=lambda one: one[0])
    for _, guidance, _ in found:
        if guidance.station.ident not in own and all(one.station != guidance.station.ident for one in silent):
            return changed(part, guidance=guidance, reason=None, facing=None)
    best = found[0][1].station.ident if found else None
    for one in silent:
        if one.station == best and part.reason in (NO_RADIAL, TOO_MANY_BENDS, BEFORE_BEND):
            return changed(part, reason=_SILENT.format(one.station, _limits_text(one)))
    return part


def _own_side(part: GuidedPart, section: Section) -> tuple[str, ...]:
    """The section's stations where a published changeover point keeps them to their own side of it."""
    if part.reason is None or not part.reason.startswith(section.one_sided):
        return ()
    return tuple(station.ident for station in (section.behind, section.ahead) if station is not None)


def _counts(one: UnusableRadial, section: Section, index: int) -> bool:
    """Whether a remark takes something away at the level flown."""
    return one.below_ft is None or section.level_ft(index) < one.below_ft


def _leading(section: Section, index: int, segment: Segment) -> Iterator[tuple[tuple[bool, float], Guidance, bool]]:
    """The VORs whose radial leads along a hop, as the make-ups of its fixes name them, with their order of merit.

    Each also with whether the end farther from it names it.

    A make-up is checked in flight at its fix, so that a radial named at the end farther from its station is
    good for the whole hop (AIM 1-1-8 leaves it to no service volume). One named at the nearer end alone is
    good where the published course of the segment is that radial, since the MEA assures its signal (14 CFR
    95.1); not where a remark takes another station's radial away. Where both make-ups and the published course
    name one radial, it leads though a position of another cycle puts a fix off it.
    """
    start, end = section.points[index : index + 2]
    names = dict.fromkeys(
        bearing.station
        for point in (start, end)
        for bearing in (point.fix.makeup if point.fix is not None else ())
        if bearing.radial_deg is not None
    )
    for ident in names:
        station = section.find_station(ident, start.position)
        flag = _flag_along(station, start, end) if station is not None else None
        if station is None or flag is None:
            continue
        near, far = (start, end) if flag is Flag.FROM else (end, start)
        radial_deg = radial_toward(station, far.position)
        if radial_deg is None:
            continue
        near_deg, far_deg = _named_radial_deg(near, station), _named_radial_deg(far, station)
        on_course = _is_its_radial(segment, radial_deg, flag)
        straight = near.station is station or _close(radial_toward(station, near.position), radial_deg)
        if not straight and not (on_course and _close(near_deg, far_deg)):
            continue
        if far_deg is None and not (on_course and near_deg is not None):
            continue
        # Named at both ends first, then the nearer station, whose radial spreads less.
        merit = (near_deg is None or far_deg is None, distance_from(station, far.position) or 0.0)
        yield merit, Guidance(station, StatedRadial(None, radial_deg), flag), far_deg is not None


def _close(one_deg: float | None, other_deg: float | None) -> bool:
    """Whether two radials are known and one, nearly."""
    return one_deg is not None and other_deg is not None and abs(difference_deg(one_deg, other_deg)) <= _STEADY_DEG


def _named_radial_deg(point: Point, station: Station) -> float | None:
    """The radial of that very station which the make-up of a fix names; None where it names none."""
    named = (bearing.radial_deg for bearing in bearings_from(point.fix, station))
    return next((radial_deg for radial_deg in named if radial_deg is not None), None)


def _is_its_radial(segment: Segment, radial_deg: float, flag: Flag) -> bool:
    """Whether the published course of a segment with an MEA is a station's radial, or leads back along it."""
    there_deg, back_deg = segment.published_courses_deg
    course_deg = there_deg if flag is Flag.FROM else back_deg
    if course_deg is None or segment.mea.forward_ft is None or segment.unusable:
        return False
    if segment.service not in (Service.NORMAL, Service.SIGNAL_GAP):
        return False
    return abs(difference_deg(course_deg, radial_deg)) <= _SAME_COURSE_DEG


def _flag_along(station: Station, start: Point, end: Point) -> Flag | None:
    """FROM where the flight goes away from the station, TO where it nears it; None without positions."""
    start_nm, end_nm = distance_from(station, start.position), distance_from(station, end.position)
    if start_nm is None or end_nm is None:
        return None
    return Flag.FROM if end_nm > start_nm else Flag.TO
