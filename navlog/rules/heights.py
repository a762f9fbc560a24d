"""Altitudes and distances of a leg that several rules compare."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from navlog.flightlog.altitudes import SAME_FT, altitudes_ft, below
from navlog.flightlog.records import Leg, Phase
from navlog.flightlog.sure import station_distances_nm
from navlog.nav import figures
from navlog.nav.chart import Airport, Position, Service
from navlog.nav.figures import whole
from navlog.nav.mountains import mountainous
from navlog.nav.units import setting_text
from navlog.request.levels import level_altitude_ft
from navlog.resolve.route import PointKind

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_CLIMB, _CRUISE, _HOLD, _NORMAL = Phase.CLIMB, Phase.CRUISE, Phase.HOLD, Service.NORMAL
_AIRPORT = PointKind.AIRPORT
_DOWN = (Phase.DESCENT, Phase.LOSING)

MOCA_REACH_NM = 22.0
"""A MOCA assures the signal within 22 NM of the VOR in use (14 CFR 91.177, 95.1)."""

GAINED_FT_PER_NM = 200.0
"""The climb on which departure procedures count unless they say more (FAA AIM 5-2-9)."""

CLEARED_FT_PER_NM = 48.0
"""What a climb of 200 ft a mile gains on the 40:1 surface of 152 (FAA AIM 5-2-9); descents are held to it as well."""

BY_FIELD_FT = 500.0
"""Lower ones near a field are for its pattern, which is 1,000 ft above it (common practice, no source)."""

VFR_CLEARANCE_FT = 1_000.0
"""14 CFR 91.119(b) asks so much over congested areas; elsewhere a pilot who keeps it passes any mast by far."""

_ASSESSED_NM = 25.0
ASSESSED_MOUNTAINOUS_NM = 46.0
"""How far from the airport obstacles are assessed for a climb in any direction, and in mountainous areas (FAA AIM
5-2-9)."""

_IN_BETWEEN = (PointKind.CHANGEOVER, PointKind.POSITION)
"""What cuts a stretch where a climb or descent goes on."""


def lowest_ft(leg: Leg) -> float:
    """The lower of the altitudes at the leg's two ends."""
    start_ft, end_ft = leg.start_altitude_ft, leg.end_altitude_ft
    return start_ft if start_ft < end_ft else end_ft


def highest_ft(leg: Leg) -> float:
    """The higher of the altitudes at the leg's two ends."""
    start_ft, end_ft = leg.start_altitude_ft, leg.end_altitude_ft
    return start_ft if start_ft > end_ft else end_ft


def flown_text(leg: Leg, flown_ft: float) -> str:
    """An altitude flown on a leg, with the level and setting it comes from: `4080 ft (FL050 at 980 hPa)`."""
    level = leg.stretch.level
    if not level.flight_level or leg.altimeter_hpa is None:
        return f"{whole(flown_ft)} ft"
    if abs(level_altitude_ft(level, leg.altimeter_hpa) - flown_ft) >= SAME_FT:
        return f"{whole(flown_ft)} ft"
    setting = setting_text(leg.altimeter_hpa, leg.altimeter_unit)
    return f"{whole(flown_ft)} ft ({figures.level(level.altitude_ft, flight_level=True)} at {setting})"


def binding(legs: tuple[Leg, ...], *, takes_off: bool, vfr: bool) -> tuple[tuple[Leg, float], ...]:
    """The legs on which minimum altitudes bind, each with the lowest altitude at which they do.

    14 CFR 91.177 leaves out what take-off and landing need, here the climb from an airport as long as it is
    unbroken and the descent on the stretch that ends in a landing, and lets a climb to a higher minimum start at
    the point beyond which it holds; not out of a level that was too low before it. Under IFR the climb from an
    airport may stop being for the take-off before it is broken (`_departs_no_more`): from there it is late, as it is
    after a hold that breaks it off (`_broken_off`). Under VFR no descent is bound: it goes down in time for the
    pattern. Where such a climb or descent ends, at its level or at a point, minimums bind. `takes_off` tells whether
    the first leg begins on the ground, where it begins at an airport.
    """
    bound: list[tuple[Leg, float]] = []
    before: Leg | None = None
    climbing_out: list[Leg] = []
    by_right = broken_off = False
    for leg, following in zip_longest(legs, legs[1:]):
        if leg.phase is _CRUISE:
            # Level flight is bound all along.
            bound.append((leg, lowest_ft(leg)))
            climbing_out, broken_off, before = [], False, leg
            continue
        start_ft, end_ft = altitudes_ft(leg)
        low_ft: float | None = min(start_ft, end_ft)
        climbed_out = bool(climbing_out)
        climbing_out = [*climbing_out, leg] if _climbs_out(leg, before, climbed_out, takes_off=takes_off) else []
        if climbing_out:
            # The climb goes on into the next leg: its end is no place at which anything must have been reached.
            low_ft = end_ft if following is not None and not _gains(following) else None
            if following is not None and not vfr and _departs_no_more(climbing_out, following):
                low_ft, climbing_out = end_ft, []
        elif leg.phase is _CLIMB:
            if before is None or before.phase is not _CLIMB:
                by_right = before is None or not (broken_off or too_low(before))
            # At the next point the minimum up to there must be reached; to a higher one beyond it the climb goes on.
            elif leg.stretch is not before.stretch:
                by_right = not too_low(before)
            if by_right:
                low_ft = end_ft if leg.ends_stretch or leg.end.kind not in _IN_BETWEEN else None
        elif leg.phase is Phase.LOSING or (vfr and leg.phase is Phase.DESCENT):
            low_ft = None
        elif descends_to_land(leg, legs[-1]):
            # The last descent begins at its level or at a point; there it is still bound, and nowhere below.
            low_ft = start_ft if leg.start_nm == 0.0 or leg.start.kind not in _IN_BETWEEN else None
        if low_ft is not None:
            bound.append((leg, low_ft))
        broken_off, before = climbed_out and not vfr and _broken_off(leg), leg
    return tuple(bound)


def descends_to_land(leg: Leg, last: Leg) -> bool:
    """Whether a leg is a descent, or height to lose, on a stretch that ends in a landing at an airport."""
    stretch = leg.stretch
    lands = stretch is last.stretch or stretch.end.landing is not None
    return leg.phase in _DOWN and stretch.end.kind is _AIRPORT and lands


def _gains(leg: Leg) -> bool:
    """Whether a leg climbs, on its way or in a hold."""
    return leg.phase is _CLIMB or (leg.phase is _HOLD and leg.end_altitude_ft > leg.start_altitude_ft)


def _broken_off(leg: Leg) -> bool:
    """Whether a leg after the climb from an airport is a hold below the planned level, over a way of unknown minimum.

    Level flight there is not for the take-off, and no minimum is met out of which 91.177(b) lets a climb begin. Where
    one is known, the hold is held against that.
    """
    limits = leg.stretch.limits
    if leg.phase is not _HOLD or _gains(leg) or limits.least_ft is not None or limits.moca_ft is not None:
        return False
    return below(leg.end_altitude_ft, level_altitude_ft(leg.stretch.level, leg.altimeter_hpa))


def _departs_no_more(climb: Sequence[Leg], following: Leg) -> bool:
    """Whether a climb from an airport comes too low to a point beyond which a higher minimum holds (91.177(b)).

    The first point counts for the take-off, and so does what the assessment of departures covers, AIM 5-2-9: the
    distance within which obstacles are assessed, under a climb of 200 ft a mile.
    """
    last, first = climb[-1], climb[0]
    if last.stretch in (first.stretch, following.stretch) or last.lands or not too_low(last):
        return False
    here_ft, beyond_ft = last.stretch.limits.least_ft, following.stretch.limits.least_ft
    if here_ft is None or beyond_ft is None or not below(here_ft, beyond_ft):
        return False
    flown_nm, gained_ft = sum(leg.distance_nm for leg in climb), altitudes_ft(last)[1] - altitudes_ft(first)[0]
    return flown_nm > assessed_nm(first.start.position) or below(gained_ft, GAINED_FT_PER_NM * flown_nm)


def assessed_nm(airport: Position | None) -> float:
    """How far from an airport obstacles are assessed for its departures, by its own place.

    Not decided takes the shorter reach, which warns sooner.
    """
    is_high = airport is not None and mountainous(airport)
    return ASSESSED_MOUNTAINOUS_NM if is_high else _ASSESSED_NM


def too_low(leg: Leg) -> bool:
    """Whether a leg ends below its own minimum: from there a climb is late, and its beginning counts too."""
    limits, end_ft, least_ft = leg.stretch.limits, altitudes_ft(leg)[1], leg.stretch.limits.least_ft
    reach = station_distances_nm(leg) if limits.moca_ft is not None else None
    if limits.moca_ft is not None and reach is not None and reach[1] <= MOCA_REACH_NM:
        # Within 22 NM the MOCA is enough (91.177(a)(1)), so a climb out of it is not late.
        least_ft = limits.moca_ft
    return least_ft is not None and below(end_ft, least_ft)


def _climbs_out(leg: Leg, before: Leg | None, climbing_out: bool, *, takes_off: bool) -> bool:
    """Whether a leg is part of the unbroken climb from an airport; `climbing_out` is whether the one before it is.

    A hold is part of it that climbs, and one that keeps its height ends it. A flight that starts in the air takes off
    nowhere, and an airport flown over is none; one that lands on the way takes off again.
    """
    if not _gains(leg):
        return False
    if before is None:
        return takes_off and leg.stretch.start.kind is _AIRPORT
    if before.lands:
        return leg.stretch.start.kind is _AIRPORT
    return climbing_out


def climbs_from_airports(legs: tuple[Leg, ...], *, takes_off: bool) -> Iterator[tuple[Leg, ...]]:
    """The legs of each unbroken climb from an airport."""
    climb: list[Leg] = []
    before: Leg | None = None
    for leg in legs:
        if climb and (climb[-1].lands or not _gains(leg)):
            yield tuple(climb)
            climb = []
        if _climbs_out(leg, before, bool(climb), takes_off=takes_off):
            climb.append(leg)
        before = leg
    if climb:
        yield tuple(climb)


def descents_to_airports(legs: tuple[Leg, ...]) -> Iterator[tuple[Leg, ...]]:
    """The legs of each unbroken descent to a landing at an airport, those before the last point among them."""
    descent: list[Leg] = []
    for leg in legs:
        if leg.phase not in _DOWN:
            descent = []
            continue
        descent.append(leg)
        if leg.stretch.end.kind is _AIRPORT and (leg.lands or leg is legs[-1]):
            yield tuple(descent)
            descent = []


def from_field_nm(legs: tuple[Leg, ...], *, takes_off: bool) -> dict[int, tuple[float, float]]:
    """The miles from the airport at both ends of each leg that climbs from one or descends to one, by its number."""
    found: dict[int, tuple[float, float]] = {}
    for climb in climbs_from_airports(legs, takes_off=takes_off):
        flown_nm = 0.0
        for leg in climb:
            found[leg.number] = flown_nm, flown_nm + leg.distance_nm
            flown_nm += leg.distance_nm
    for descent in descents_to_airports(legs):
        left_nm = 0.0
        for leg in reversed(descent):
            found[leg.number] = left_nm + leg.distance_nm, left_nm
            left_nm += leg.distance_nm
    return found


def least_by_field_ft(leg: Leg) -> float:
    """The height by a field below which a climb or descent counts no lower; no limit anywhere else."""
    end = leg.stretch.start if leg.phase is Phase.CLIMB else leg.stretch.end
    field = end.place if leg.phase in (Phase.CLIMB, Phase.DESCENT) else None
    known = field.elevation_ft if isinstance(field, Airport) else None
    return known + BY_FIELD_FT if known is not None else -float("inf")


def lowest_beyond_ft(ends_ft: tuple[float, float], reach: tuple[float, float], beyond_nm: float) -> float | None:
    """The lowest altitude of a leg where it is farther than `beyond_nm` from the station; None where nowhere.

    `ends_ft` are the altitudes of its ends, `reach` how far these are; height changes evenly in between.
    """
    start_ft, end_ft = ends_ft
    start_nm, end_nm = reach
    starts_beyond, ends_beyond = start_nm > beyond_nm, end_nm > beyond_nm
    if not starts_beyond and not ends_beyond:
        return None
    if (starts_beyond and ends_beyond) or start_ft == end_ft:
        return min(start_ft, end_ft)
    # The leg crosses the reach: its height there counts as well, the lowest beyond may be just that.
    share = (beyond_nm - start_nm) / (end_nm - start_nm)
    return min(start_ft if starts_beyond else end_ft, start_ft + share * (end_ft - start_ft))


def signal_assured(leg: Leg) -> bool:
    """Whether an airway's MEA, or its MOCA within 22 NM of the VOR in use, assures the signal on a leg.

    Not past the changeover point of a station with one that is out of service.
    """
    stretch = leg.stretch
    if stretch.airway is None or stretch.service is not _NORMAL or leg.part.past_changeover:
        return False
    lowest, limits = lowest_ft(leg), stretch.limits
    if limits.mea_ft is not None and not below(lowest, limits.mea_ft):
        return True
    if limits.moca_ft is None or below(lowest, limits.moca_ft):
        return False
    reach = station_distances_nm(leg)
    # Along a radial the distance is greatest at an end, so both ends within are the whole leg within.
    return reach is not None and max(reach) <= MOCA_REACH_NM
