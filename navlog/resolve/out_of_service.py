"""How far the stations that stay guide along an airway where the next one is out of service.

What an MEA assures of a station ends at its changeover point (14 CFR 95.1, 95.8001). Beyond a published one it is not
to be used on the airway; beyond a middle or a bend, where no limit of its signal stands, as far as it is received by
its standard service volume (AIM 1-1-8), over the horizon and its unusable sectors at the level flown. What is left
between has no guidance, but for what the make-ups of the fixes name.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from msgspec import Struct

from navlog.nav.chart import StationKind
from navlog.nav.guidance import Flag, Guidance
from navlog.nav.radio import radio_horizon_nm, service_radius_nm
from navlog.nav.record import changed
from navlog.resolve.route import Changeover, ChangeoverKind, GuidedPart, Point
from navlog.resolve.sections import (
    OUT_OF_SERVICE,
    SNAP_STATED_NM,
    Section,
    bend_indexes,
    inbound_guidance,
    outbound_guidance,
    section_changeover,
    snapped,
    whole,
)

_ROUNDING_NM = 0.05
"""Nearer than a printed tenth, two places along the way are one."""


class _Reach(Struct, frozen=True):
    """How far along the section from its start the station there guides, NM, and up to where the MEA assures that.

    `out` is the next station, which is out; `published` says that a published or stated changeover point ends it.
    """

    nm: float
    assured_nm: float
    out: str | None = None
    published: bool = False


def whole_without(section: Section, backwards: Section) -> tuple[GuidedPart, ...]:
    """The parts of a whole section of an airway, `backwards` being it flown the other way."""
    parts = whole(section)
    one_sided = any(part.reason is not None and part.reason.startswith(section.one_sided) for part in parts)
    if one_sided or not any(_is_out(section, index) for index in range(len(section.points))):
        return parts
    total_nm = section.along_nm[-1]
    out, back = _reach(section), _reach(backwards)
    end_nm, start_nm = (snapped(one, section, SNAP_STATED_NM) for one in (out.nm, total_nm - back.nm))
    changeover = next((part.changeover for part in parts if part.changeover is not None), None)
    outbound = outbound_guidance(section, next(iter(bend_indexes(section)), len(section.points) - 1))
    inbound = inbound_guidance(section, next(iter(bend_indexes(section)[::-1]), 0))
    if end_nm >= start_nm and outbound is not None and inbound is not None:
        found = _meeting(outbound, inbound, changeover, (start_nm, end_nm, total_nm))
        return tuple(_assured(found, section, out.assured_nm, total_nm - back.assured_nm))
    silent = tuple(dict.fromkeys(one for one in (out.out, back.out) if one is not None))
    reason = f"{' and '.join(silent)} {'is' if len(silent) == 1 else 'are'} {OUT_OF_SERVICE}"
    if out.published or back.published:
        reason = f"{section.one_sided} {(out.out if out.published else back.out)} would guide, which is out of service"
    found = (
        GuidedPart(0.0, min(end_nm, total_nm), outbound),
        GuidedPart(end_nm, max(end_nm, start_nm), None, reason),
        GuidedPart(max(end_nm, start_nm), total_nm, inbound),
    )
    return tuple(_assured(found, section, out.assured_nm, total_nm - back.assured_nm))


def _assured(parts: tuple[GuidedPart, ...], section: Section, end_nm: float, start_nm: float) -> Iterator[GuidedPart]:
    """The parts that have a length, cut where a hop begins of which no MEA assures all.

    Up to `end_nm` the station behind is assured, from `start_nm` on the one ahead.
    """
    behind_nm = max(along_nm for along_nm in section.along_nm if along_nm <= end_nm + _ROUNDING_NM)
    ahead_nm = min(along_nm for along_nm in section.along_nm if along_nm >= start_nm - _ROUNDING_NM)
    for part in (one for one in parts if one.end_nm > one.start_nm):
        guidance = part.guidance
        out = guidance is not None and guidance.flag is Flag.FROM and part.end_nm > end_nm + _ROUNDING_NM
        back = guidance is not None and guidance.flag is Flag.TO and part.start_nm < start_nm - _ROUNDING_NM
        if out and behind_nm > part.start_nm:
            yield changed(part, end_nm=behind_nm, changeover=None)
            yield changed(part, start_nm=behind_nm, past_changeover=True)
        elif back and ahead_nm < part.end_nm:
            yield changed(part, end_nm=ahead_nm, past_changeover=True, changeover=None)
            yield changed(part, start_nm=ahead_nm)
        else:
            yield changed(part, past_changeover=True) if out or back else part


def _meeting(
    outbound: Guidance, inbound: Guidance, known: Changeover | None, along_nm: tuple[float, float, float]
) -> tuple[GuidedPart, ...]:
    """The parts where both are received past each other: they change over where they would, or nearest to it."""
    start_nm, end_nm, total_nm = along_nm
    wanted_nm = known.distance_nm if known is not None else (start_nm + end_nm) / 2.0
    at_nm = min(max(wanted_nm, start_nm), end_nm)
    kind = known.kind if known is not None and at_nm == wanted_nm else ChangeoverKind.RECEPTION
    changeover = Changeover(
        ChangeoverKind.RECEPTION if kind is ChangeoverKind.UNKNOWN else kind,
        outbound.station,
        inbound.station,
        at_nm,
        total_nm - at_nm,
        known.stated if known is not None else (),
        not_in_source=known is not None and known.not_in_source,
    )
    return (GuidedPart(0.0, at_nm, outbound, changeover=changeover), GuidedPart(at_nm, total_nm, inbound))


def _is_out(section: Section, index: int) -> bool:
    """Whether a point is a VOR that does not guide; of a section only its ends do."""
    station = section.points[index].station
    if station is None or station.kind is not StationKind.VOR:
        return False
    return not (index == 0 and section.behind is not None) and not (
        index == len(section.points) - 1 and section.ahead is not None
    )


def _reach(section: Section) -> _Reach:
    """How far the station behind guides: to its changeover point with the next one, or as far as it is received."""
    total_nm, station = section.along_nm[-1], section.behind
    if station is None:
        return _Reach(
            0.0,
            0.0,
            next((_name(point) for index, point in enumerate(section.points) if _is_out(section, index)), None),
        )
    bends = bend_indexes(section)
    bend_nm = section.along_nm[bends[0]] if bends else total_nm
    next_out = next((index for index in range(1, len(section.points)) if _is_out(section, index)), None)
    if next_out is None:
        return _Reach(bend_nm, bend_nm)
    part = changed(
        section,
        points=section.points[: next_out + 1],
        segments=section.segments[:next_out],
        lengths_nm=section.lengths_nm[:next_out],
        levels_ft=section.levels_ft[:next_out],
        ahead=section.points[next_out].station,
    )
    name = _name(section.points[next_out])
    changeover = section_changeover(part, bend_indexes(part))
    assert changeover is not None
    at_nm = min(changeover.distance_nm, bend_nm)
    if changeover.kind in (ChangeoverKind.PUBLISHED, ChangeoverKind.STATED):
        return _Reach(at_nm, at_nm, name, published=True)
    return _Reach(min(max(at_nm, _received_nm(section)), bend_nm), at_nm, name)


def _name(point: Point) -> str:
    return point.ident or point.name


def _received_nm(section: Section) -> float:
    """How far along the section the station behind is received at the levels flown; 0 where its class is not known."""
    station = section.behind
    if station is None or station.service is None or station.elevation_ft is None or not section.levels_ft:
        return 0.0
    bends = bend_indexes(section)
    guidance = outbound_guidance(section, bends[0] if bends else len(section.points) - 1)
    radial_deg = guidance.radial.flown if guidance is not None else None
    found_nm = 0.0
    for index, (from_nm, to_nm) in enumerate(pairwise(section.along_nm)):
        level_ft = section.level_ft(index)
        above_ft = level_ft - station.elevation_ft
        reach_nm = min(service_radius_nm(station.service, above_ft) or 0.0, radio_horizon_nm(above_ft))
        for sector in station.unusable:
            high = sector.below_ft is not None and level_ft >= sector.below_ft
            if sector.concerns("vor") and sector.holds(radial_deg) and not high:
                reach_nm = min(reach_nm, sector.beyond_nm or 0.0)
        if reach_nm < to_nm:
            return reach_nm if reach_nm > from_nm else found_nm
        found_nm = to_nm
    return found_nm
