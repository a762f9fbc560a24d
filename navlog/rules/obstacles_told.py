"""Obstacles that notices tell of, beside the heights flown: they stand in no published data."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby

from msgspec import Struct

from navlog.flightlog.altitudes import altitudes_ft, below
from navlog.flightlog.records import Leg, Phase
from navlog.nav import earth
from navlog.nav.chart import Airport
from navlog.nav.clearance import ON_COURSE_NM
from navlog.nav.corridor import placed
from navlog.nav.figures import distance, whole
from navlog.nav.mountains import clearance_ft, mountainous
from navlog.nav.notices import ObstacleTold
from navlog.resolve.ground import corridors
from navlog.resolve.route import PointKind
from navlog.rules.heights import (
    BY_FIELD_FT,
    CLEARED_FT_PER_NM,
    VFR_CLEARANCE_FT,
    assessed_nm,
    from_field_nm,
    least_by_field_ft,
)
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import BASE, sample

_BESIDE_NM = 4.0
"""14 CFR 91.177(a)(2): `within a horizontal distance of 4 nautical miles from the course to be flown`."""


class _Passage(Struct, frozen=True):
    """A leg that passes an obstacle: how far over its top and beside it, and how far over is asked there.

    `over_ft` counts no lower than 500 ft above a field, `flown_over_ft` as it is flown. `by_field` is one in a climb
    from an airport or a descent to one, `way_told` False about a field where no way is told; `field` lies in the area.
    `at_end` tells that it is passed where the leg begins or ends.
    """

    leg: Leg
    over_ft: float
    flown_over_ft: float
    needed_ft: float
    away_nm: float
    by_field: bool
    way_told: bool = True
    field: Airport | None = None
    at_end: bool = False

    @property
    def low(self) -> bool:
        """Whether it passes lower than it should."""
        return below(self.over_ft, self.needed_ft)


@rule(
    "obstacle-by-notice",
    Severity.WARNING,
    apart=(Severity.ERROR, Severity.WARNING),
    group=Group.HEIGHT,
    at_times=(Severity.ERROR, Severity.NOTE),
    source="the notices handed in; 14 CFR 91.177(a)(2), 91.119(b); FAA AIM 5-2-9: 200 ft a NM, 152 of them obstacles",
    remedy="fly higher or another way, and look for it",
    passing=BASE,
    failing=sample("notices mast.txt"),
)
def obstacle_by_notice(case: Case) -> Iterator[Found]:
    """An obstacle of a notice stands near the way, less below the flight than its clearance, or above it.

    Near is within 4 NM of the course, or the error of its guidance. The clearance is 1,000 ft, under IFR in mountainous
    areas 2,000; in a climb from an airport and a descent to one 48 ft for each mile from it, up to that. Under IFR one
    above the flight is an error, and where no minimum is published or stated one with less clearance. One farther below
    is a note. By a field, unless within 0.1 NM of the course, tops up to 500 ft above it are too.
    """
    field_nm = from_field_nm(case.legs, takes_off=case.takes_off)
    for use in case.log.route.notices:
        for effect in use.notice.effects:
            # One whose height is not read is not understood, which its own rule tells.
            if not isinstance(effect, ObstacleTold) or effect.top_ft is None:
                continue
            near = [one for one in case.legs if one.stretch.number in use.stretches_counting]
            stretches = (tuple(legs) for _, legs in groupby(near, key=lambda one: one.stretch.number))
            worst = [one for legs in stretches if (one := _worst(case, legs, effect, field_nm)) is not None]
            # Every stretch that passes it too low is told; where none does, the one that passes it by the least.
            told = [one for one in worst if one.low] or ([min(worst, key=_gravest_first)] if worst else [])
            before: tuple[str, bool] = "", False
            for one in told:
                message = f"{_words(one, effect.top_ft)}{_unplanned(case, one, effect)}: {use.notice.text}"
                by = one.needed_ft - one.over_ft if one.low else 0.0
                severity = case.by_rules if _grave(one) else None if one.low else Severity.NOTE
                # Where one leg ends and the next begins both pass it alike, and it is one passage.
                if before != (message, one.at_end) or not one.at_end:
                    yield Found(
                        message, one.leg, severity, span=use.notice.span, about=_about(case, one, message), by=by
                    )
                before = message, one.at_end


def _worst(
    case: Case, legs: tuple[Leg, ...], obstacle: ObstacleTold, field_nm: Mapping[int, tuple[float, float]]
) -> _Passage | None:
    """How the legs of a stretch pass an obstacle where it is the worst; None where they do not."""
    passed = [
        one for leg in legs for one in (*_passed(case, leg, obstacle, field_nm), *_about_field(case, leg, obstacle))
    ]
    return min(passed, key=_gravest_first, default=None)


def _gravest_first(one: _Passage) -> tuple[bool, bool, float, float]:
    """The order of passages, the worst first."""
    # Of two that fall short by as much it is the nearer, to the tenth that is told.
    return not _grave(one), not one.low, one.over_ft - one.needed_ft, round(one.away_nm, 1)


def _about(case: Case, one: _Passage, message: str) -> str:
    """What of a passage is told once: that of the point where the way to an alternate begins, on the route alone."""
    shared = case.legs[-1] if case.log.flight is None else case.legs[0]
    return message if one.leg is shared else f"{one.leg.number} {message}"


def _words(one: _Passage, top_ft: float) -> str:
    """A passage in words."""
    side = f"{whole(abs(one.flown_over_ft))} ft {'above' if one.flown_over_ft >= 0.0 else 'BELOW'}"
    if one.field is not None:
        return f"{one.field.ident} lies {side} the top of an area of obstacles of {whole(top_ft)} ft around it"
    # What is passed below without fault is what the pattern of every field passes below.
    low = "" if one.flown_over_ft >= 0.0 or one.low else f", no more than {whole(BY_FIELD_FT)} ft above the field"
    return f"{side} an obstacle of {whole(top_ft)} ft, {distance(one.away_nm)} NM off{low}"


def _unplanned(case: Case, one: _Passage, obstacle: ObstacleTold) -> str:
    """That the height at which an obstacle by a field is passed is not the one flown, where no climb is planned."""
    leg, stretch = one.leg, one.leg.stretch
    if case.log.conditions.aircraft is not None or one.field is not None or leg.phase is not Phase.CRUISE:
        return ""
    takes_off = stretch.start.landing is not None or (case.takes_off and stretch is case.legs[0].stretch)
    lands = stretch.end.landing is not None or stretch is case.legs[-1].stretch
    told = [
        f"{way} {end.name}"
        for way, end, there in (("climb from", stretch.start, takes_off), ("descent to", stretch.end, lands))
        if there
        and end.kind is PointKind.AIRPORT
        and end.position is not None
        # As far as the assessment of obstacles for a climb goes, the climb may be below its level.
        and earth.distance_nm(end.position, obstacle.position) <= assessed_nm(end.position)
    ]
    return f", level: no {' or '.join(told)} is planned" if told else ""


def _grave(passage: _Passage) -> bool:
    """Whether under IFR a passage is an error, as it is with terrain: below the top, or lower than the law lets it be.

    14 CFR 91.177(a) begins "Except when necessary for takeoff or landing", and asks on an airway for its own minimum.
    """
    if not passage.way_told:
        return False
    limits = passage.leg.stretch.limits
    stated = limits.mea_ft is not None or (limits.minimum_ft is not None and limits.minimum_kind == "stated")
    return below(passage.over_ft, 0.0) or (passage.low and not stated and not passage.by_field)


def _passed(
    case: Case, leg: Leg, obstacle: ObstacleTold, field_nm: Mapping[int, tuple[float, float]]
) -> Iterator[_Passage]:
    """How a leg passes an obstacle; nothing where it does not.

    Of an area it is where the leg is lowest, within its radius of the place abeam of its middle.
    """
    radius_nm, top_ft = obstacle.radius_nm, obstacle.top_ft or 0.0
    needed_ft = clearance_ft(mountainous(obstacle.position)) if case.request.rules == "ifr" else VFR_CLEARANCE_FT
    for part, corridor in corridors(leg.stretch, case.request.accuracy):
        place = placed(corridor.wider(radius_nm), obstacle.position)
        if place is None or leg.distance_nm <= 0.0 or leg.stays:
            continue
        along_nm = part.start_nm + place.along_nm * (part.end_nm - part.start_nm) / corridor.length_nm
        first_nm, last_nm = max(leg.start_nm, along_nm - radius_nm), min(leg.end_nm, along_nm + radius_nm)
        if first_nm <= last_nm:
            start_ft, end_ft = altitudes_ft(leg)
            lowest_nm = first_nm if start_ft < end_ft else last_nm
            share = (lowest_nm - leg.start_nm) / leg.distance_nm
            flown_ft = start_ft + (end_ft - start_ft) * share
            by_field = leg.number in field_nm
            if by_field:
                start_nm, end_nm = field_nm[leg.number]
                needed_ft = min(needed_ft, CLEARED_FT_PER_NM * (start_nm + (end_nm - start_nm) * share))
            # One on the course itself is met, however low it stands by the field.
            met = max(place.away_nm, radius_nm) <= ON_COURSE_NM and flown_ft < top_ft
            over_ft = (flown_ft if met else max(flown_ft, least_by_field_ft(leg))) - top_ft
            away_nm = max(place.away_nm - radius_nm, 0.0)
            at_end = not leg.start_nm < along_nm < leg.end_nm
            yield _Passage(leg, over_ft, flown_ft - top_ft, needed_ft, away_nm, by_field, at_end=at_end)


def _about_field(case: Case, leg: Leg, obstacle: ObstacleTold) -> Iterator[_Passage]:
    """A take-off or landing inside an area of obstacles, and height that is lost over a field beside an obstacle.

    Neither is a way along a leg. No farther from the field is looked at than beside a course.
    """
    radius_nm, top_ft = obstacle.radius_nm, obstacle.top_ft or 0.0
    first, last = leg is case.legs[0] and case.log.flight is None, leg is case.legs[-1]
    ends = (leg.stretch.start if first else None, leg.stretch.end if last or leg.lands else None)
    for field in (end.place for end in ends if end is not None):
        if not isinstance(field, Airport) or field.elevation_ft is None:
            continue
        away_nm = earth.distance_nm(field.position, obstacle.position) - radius_nm
        over_ft = field.elevation_ft - top_ft
        if away_nm <= 0.0:
            yield _Passage(leg, over_ft + BY_FIELD_FT, over_ft, 0.0, 0.0, by_field=True, way_told=False, field=field)
        elif leg.phase is Phase.LOSING and away_nm <= _BESIDE_NM:
            end_ft = altitudes_ft(leg)[1]
            judged_ft = max(end_ft, field.elevation_ft + BY_FIELD_FT) - top_ft
            yield _Passage(leg, judged_ft, end_ft - top_ft, 0.0, away_nm, by_field=True, way_told=False)
