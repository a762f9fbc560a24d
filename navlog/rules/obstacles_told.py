"""Obstacles that notices tell of, beside the heights flown: they stand in no published data."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.altitudes import altitudes_ft
from navlog.flightlog.records import Leg, Phase
from navlog.nav.chart import Airport
from navlog.nav.corridor import placed
from navlog.nav.figures import distance, whole
from navlog.nav.mountains import clearance_ft, mountainous
from navlog.nav.notices import ObstacleTold
from navlog.resolve.ground import corridors
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import BASE, sample

_VFR_CLEARANCE_FT = 1_000.0
"""14 CFR 91.119(b) asks so much over congested areas; elsewhere a pilot who keeps it passes any mast by far."""

_BY_FIELD_FT = 500.0
"""Lower ones near a field are for its pattern, which is 1,000 ft above it (common practice, no source)."""


@rule(
    "obstacle-by-notice",
    Severity.WARNING,
    apart=(Severity.WARNING,),
    group=Group.HEIGHT,
    at_times=(Severity.NOTE,),
    source="the notices handed in; 14 CFR 91.177(a)(2), 91.119(b)",
    remedy="fly higher or another way, and look for it",
    passing=BASE,
    failing=sample("notices mast.txt"),
)
def obstacle_by_notice(case: Case) -> Iterator[Found]:
    """An obstacle of a notice stands near the way, less below the flight than its clearance, or above it.

    Near is within 4 NM of the course, or the error of its guidance. The clearance is 1,000 ft, under IFR in mountainous
    areas 2,000; a climb from an airport and a descent to one must pass above its top. One farther below is a note.
    """
    for use in case.log.route.notices:
        for effect in use.notice.effects:
            # One whose height is not read is not understood, which its own rule tells.
            if not isinstance(effect, ObstacleTold) or effect.top_ft is None:
                continue
            top_ft = effect.top_ft
            near = [one for one in case.legs if one.stretch.number in use.stretches_counting]
            passed = [(at_ft - top_ft, leg, away_nm) for leg in near for at_ft, away_nm in _passed(case, leg, effect)]
            if passed:
                # Of two legs that fall short by as much it is the nearer, to the tenth that is told.
                worst = min(passed, key=lambda one: (one[0] - _needed_ft(case, one[1], effect), round(one[2], 1)))
                over_ft, leg, away_nm = worst
                low = over_ft < _needed_ft(case, leg, effect)
                side = f"{whole(abs(over_ft))} ft {'above' if over_ft >= 0.0 else 'BELOW'}"
                what = f"an obstacle of {whole(top_ft)} ft, {distance(away_nm)} NM off"
                message = f"{side} {what}: {use.notice.text}"
                by = _needed_ft(case, leg, effect) - over_ft if low else 0.0
                yield Found(message, leg, None if low else Severity.NOTE, span=use.notice.span, about=message, by=by)


def _passed(case: Case, leg: Leg, obstacle: ObstacleTold) -> Iterator[tuple[float, float]]:
    """How high a leg passes an obstacle, and how far beside; nothing where it does not.

    Of an area it is where the leg is lowest, within its radius of the place abeam of its middle.
    """
    radius_nm = obstacle.radius_nm
    for part, corridor in corridors(leg.stretch, case.request.accuracy):
        place = placed(corridor.wider(radius_nm), obstacle.position)
        if place is None or leg.distance_nm <= 0.0 or leg.stays:
            continue
        along_nm = part.start_nm + place.along_nm * (part.end_nm - part.start_nm) / corridor.length_nm
        first_nm, last_nm = max(leg.start_nm, along_nm - radius_nm), min(leg.end_nm, along_nm + radius_nm)
        if first_nm <= last_nm:
            start_ft, end_ft = altitudes_ft(leg)
            lowest_nm = first_nm if start_ft < end_ft else last_nm
            height_ft = start_ft + (end_ft - start_ft) * (lowest_nm - leg.start_nm) / leg.distance_nm
            yield max(height_ft, _least_ft(leg)), max(place.away_nm - radius_nm, 0.0)


def _needed_ft(case: Case, leg: Leg, obstacle: ObstacleTold) -> float:
    """How far above an obstacle a leg is to pass it."""
    if leg.phase in (Phase.CLIMB, Phase.DESCENT):
        return 0.0
    return clearance_ft(mountainous(obstacle.position)) if case.request.rules == "ifr" else _VFR_CLEARANCE_FT


def _least_ft(leg: Leg) -> float:
    """The height by a field below which a climb or descent counts no lower; no limit anywhere else."""
    end = leg.stretch.start if leg.phase is Phase.CLIMB else leg.stretch.end
    field = end.place if leg.phase in (Phase.CLIMB, Phase.DESCENT) else None
    known = field.elevation_ft if isinstance(field, Airport) else None
    return known + _BY_FIELD_FT if known is not None else -float("inf")
