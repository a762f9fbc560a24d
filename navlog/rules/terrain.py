"""Height over the ground and obstacles below direct legs, where a terrain folder is named."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import inf
from typing import TYPE_CHECKING, TypeAlias

from msgspec import Struct

from navlog.flightlog.altitudes import altitudes_ft, below
from navlog.flightlog.counted import Count
from navlog.flightlog.records import Leg, Phase
from navlog.nav.figures import distance, whole
from navlog.rules.heights import flown_text
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, FLOWN_BY_FILE, sample

if TYPE_CHECKING:
    from navlog.nav.clearance import Abeam
    from navlog.nav.terrain import Spot
    from navlog.resolve.ground import Ground, InBand

_TERRAIN = "terrain terrain"
_BY_LAW = "14 CFR 91.177(a)(2) and part 95, subpart B"
_GRAVE = (Severity.ERROR, Severity.WARNING)


@rule(
    "under-terrain",
    Severity.WARNING,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR, Severity.NOTE),
    source=_BY_LAW,
    remedy="plan at or above the minimum by terrain, or state the minimum of the chart",
    passing=sample(_TERRAIN, "-direct QHB", "-direct QEL"),
    failing=sample(_TERRAIN, "-direct QHB", "-direct QEL", "altitude 2500", "rules ifr"),
)
def under_terrain(case: Case) -> Iterator[Found]:
    """A direct leg without a stated minimum is flown below its minimum by terrain.

    An error under IFR. Under VFR no such minimum binds: a note, and a warning below the top of what stands within
    4 NM or within the guidance's error. Where terrain is missing, so that no minimum is known, the one over the
    highest known counts: the true one is no lower.
    """
    for leg, low_ft in case.bound:
        limits, ground = leg.stretch.limits, leg.stretch.ground
        stated = limits.minimum_kind != "terrain" and (limits.minimum_ft is not None or limits.mea_ft is not None)
        if ground is None or ground.top is None or ground.least_ft is None or stated:
            continue
        if below(low_ft, ground.least_ft):
            severity = case.by_rules
            if case.request.rules != "ifr" and not below(low_ft, ground.top.top_ft):
                severity = Severity.NOTE
            message = f"{flown_text(leg, low_ft)} is below the {_minimum_text(ground, case.count(leg))}"
            yield Found(message, leg, severity, by=ground.least_ft - low_ft)


def _minimum_text(ground: Ground, count: Count) -> str:
    """The minimum by terrain of a stretch and what it is made of; where terrain is missing that over what is known."""
    over = "" if ground.minimum_ft is not None else " over the highest known"
    assert ground.top is not None
    return (
        f"minimum by terrain of {whole(ground.least_ft)} ft{over}: {_spot_text(count, ground.top)}, and"
        f" {whole(ground.clearance_ft)} ft above it"
    )


@rule(
    "climb-under-terrain",
    Severity.WARNING,
    apart=_GRAVE,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR,),
    source=_BY_LAW,
    remedy="climb over the field or on another way until the high ground is cleared",
    passing=sample(_TERRAIN, *FLOWN_BY_FILE, "-direct QHB", "-direct QEL"),
    failing=sample(_TERRAIN, *FLOWN_BY_FILE, "airport XHAR N45 50.00 W039 06.00 elev 350ft", "-direct QHB"),
)
def climb_under_terrain(case: Case) -> Iterator[Found]:
    """A climb from an airport, or a descent to one, passes a high place near its way lower than its top.

    Beside that place the planned height is below the ground or obstacle there, its source's tolerance added: who is
    off course by as much as is counted on meets it. No minimum binds there, so no other rule tells. An error on any
    leg, climbing or level, where the ground under the course itself is higher than the flight. Of each leg the worst
    place is told near the field, within 3 NM, and the worst on the way.
    """
    bound = {leg.number: low_ft for leg, low_ft in case.bound}
    for leg in case.legs:
        into = [
            (spot.height_ft - at_ft, at_ft, spot) for at_ft, spot in _passed(leg, _under(leg)) if at_ft < spot.height_ft
        ]
        beside = [
            (spot.top_ft - at_ft, at_ft, spot)
            for at_ft, spot in _passed(leg, _spots(leg))
            # From where a minimum binds another rule tells.
            if below(at_ft, min(spot.top_ft, bound.get(leg.number, spot.top_ft)))
        ]
        if not into and not beside:
            continue
        count = case.count(leg)
        for by_field in (False, True):
            met, passed = (_worst(leg, each, by_field=by_field) for each in (into, beside))
            if met is not None:
                short_ft, at_ft, spot = met
                message = f"{whole(at_ft)} ft is planned INTO THE GROUND under the course itself: "
                yield Found(message + _spot_text(count, spot), leg, Severity.ERROR, by=short_ft)
            elif passed is not None:
                short_ft, at_ft, spot = passed
                yield Found(f"{whole(at_ft)} ft is planned beside {_spot_text(count, spot)}", leg, by=short_ft)


_Short: TypeAlias = tuple[float, float, "Spot"]
"""By how many feet a height is too low for a high place, the height, and the place."""


def _worst(leg: Leg, short: list[_Short], *, by_field: bool) -> _Short | None:
    """The place near the field, or of those on the way, for which a leg is the most too low."""
    return max((one for one in short if _near_field(leg, one[2]) is by_field), key=lambda one: one[0], default=None)


_NEAR_FIELD_NM = 3.0
"""How far from the field the pattern and the beginning of a climb, or the end of a descent, reach: from memory."""


def _near_field(leg: Leg, spot: Spot) -> bool:
    """Whether a spot is passed in the first miles of a climb or the last of a descent.

    A hillside beside the runway must not hide a mountain on the way.
    """
    if leg.phase is Phase.CLIMB:
        return spot.along_nm < _NEAR_FIELD_NM
    return leg.phase is Phase.DESCENT and leg.stretch.length_nm - spot.along_nm < _NEAR_FIELD_NM


def _passed(leg: Leg, spots: Iterable[Spot]) -> Iterator[tuple[float, Spot]]:
    """The height at which a leg passes each of several places, of those it passes; none of the airport's own ground."""
    for spot in spots:
        if not leg.stays and leg.start_nm <= spot.along_nm <= leg.end_nm and not _at_end(leg, spot):
            yield _height_beside_ft(leg, spot.along_nm), spot


def _under(leg: Leg) -> list[Spot]:
    """The highest ground under the course itself, of each piece of the way."""
    return [one.on_course for one in leg.stretch.abeam if one.on_course is not None]


def _spots(leg: Leg) -> list[Spot]:
    """The high places near the way: the highest of its stretch, and the highest abeam of each piece."""
    ground = leg.stretch.ground
    whole_way = (ground.highest, ground.obstacle) if ground is not None else ()
    return [spot for spot in (*whole_way, *(one.top for one in leg.stretch.abeam)) if spot is not None]


class _Low(Struct, frozen=True):
    """A piece of the way where a leg is planned below the minimum by terrain, with the highest place beside it.

    `over_ft` is how high above that place the leg passes it, None where that is the airport's own ground.
    """

    leg: Leg
    piece: Abeam
    top: Spot
    over_ft: float | None


@rule(
    "climb-low",
    Severity.NOTE,
    apart=_GRAVE,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR, Severity.WARNING),
    source="14 CFR 91.177(a): except when necessary for takeoff or landing; (2) and part 95, subpart B",
    remedy="fly the published departure or arrival, or climb and descend over the field, where the ground is not seen",
    passing=sample(_TERRAIN, "-direct QHB", "-direct QEL"),
    failing=sample(_TERRAIN, *FLOWN_BY_FILE, "-direct QHB", "-direct QEL"),
)
def climb_low(case: Case) -> Iterator[Found]:
    """How far a climb from an airport, or a descent to one, is planned below the minimum by terrain of each mile.

    The minimum of each 2 NM or less of the way is that over what stands abeam, within 4 NM or the guidance's
    error, on an airway too. The law lets take-off and landing be lower, so no other rule tells. A warning where the
    height planned is below a place beside it, an error where it is below the ground under the course itself.
    """
    bound = {leg.number: low_ft for leg, low_ft in case.bound}
    runs: list[list[_Low]] = []
    before: Leg | None = None
    for leg in case.legs:
        if before is None or before.lands or before.phase is not leg.phase:
            runs.append([])
        if leg.phase in (Phase.CLIMB, Phase.DESCENT):
            runs[-1] += _low_places(leg, bound.get(leg.number))
        before = leg
    for run in runs:
        if run:
            least = min(run, key=lambda one: inf if one.over_ft is None else one.over_ft)
            over_ft = 0.0 if least.over_ft is None else least.over_ft
            meets = any(
                at_ft < spot.height_ft
                for leg in {one.leg.number: one.leg for one in run}.values()
                for at_ft, spot in _passed(leg, _under(leg))
            )
            severity = Severity.ERROR if meets else Severity.WARNING if over_ft < 0.0 else None
            yield Found(_low_text(case, run, least), least.leg, severity, by=-over_ft)


def _low_places(leg: Leg, bound_ft: float | None) -> Iterator[_Low]:
    """Where a leg is below the minimum by terrain, at the lower end of each piece; not where a minimum binds."""
    limits = leg.stretch.limits
    published = [one for one in (limits.mea_ft, limits.moca_ft) if one is not None and leg.stretch.airway is not None]
    for one in leg.stretch.abeam:
        first_nm, last_nm = max(one.start_nm, leg.start_nm), min(one.end_nm, leg.end_nm)
        if one.minimum_ft is None or one.top is None or first_nm >= last_nm:
            continue
        height_ft = min(_height_beside_ft(leg, nm) for nm in (first_nm, last_nm))
        # A published minimum may be lower than ours, as surveyors know more: at or above either all is well.
        if below(height_ft, min((one.minimum_ft, *published))) and (bound_ft is None or below(height_ft, bound_ft)):
            beside_ft = _height_beside_ft(leg, min(max(one.top.along_nm, first_nm), last_nm))
            yield _Low(leg, one, one.top, None if _at_end(leg, one.top) else beside_ft - one.top.top_ft)


def _low_text(case: Case, run: list[_Low], least: _Low) -> str:
    """Where a climb or descent is below the minimum by terrain, and where it passes a high place by the least."""
    climbs = least.leg.phase is Phase.CLIMB
    last = run[-1] if climbs else run[0]
    along = case.count(last.leg).along(last.piece.end_nm if climbs else last.piece.start_nm)
    where = f"{along} NM along {_way_text(last.leg)}"
    told = f"the {least.leg.phase.value} is below the minimum by terrain {'as far as' if climbs else 'from'} {where}"
    if least.over_ft is None:
        return told
    side = f"{whole(abs(least.over_ft))} ft {'above' if least.over_ft >= 0.0 else 'BELOW'}"
    return f"{told}; at the least {side} {_spot_text(case.count(least.leg), least.top)}"


def _way_text(leg: Leg) -> str:
    """The two ends of the stretch that a leg is of."""
    return f"{leg.stretch.start.name} to {leg.stretch.end.name}"


_OVER_FIELD_NM = 1.0
"""What is so near the airport is the field itself, as far as tiles can tell."""


def _at_end(leg: Leg, spot: Spot) -> bool:
    """Whether a spot lies at the airport from which a leg climbs, or to which it descends."""
    ends = 0.0, leg.stretch.length_nm
    # Tiles see the field itself as ground, and every take-off begins on it.
    return spot.away_nm < _OVER_FIELD_NM and min(abs(spot.along_nm - end) for end in ends) < _OVER_FIELD_NM


def _height_beside_ft(leg: Leg, along_nm: float) -> float:
    """The height planned so far along a leg's stretch; it changes evenly along a leg."""
    start_ft, end_ft = altitudes_ft(leg)
    share = (along_nm - leg.start_nm) / leg.distance_nm
    return start_ft + share * (end_ft - start_ft)


_LEAST_FT = {True: 1500.0, False: 1000.0, None: 1000.0}
"""What the minimum of an airway is above obstacles at the least, in mountains or not (FAA Order 8260.3)."""


@rule(
    "stated-under-terrain",
    Severity.WARNING,
    group=Group.HEIGHT,
    source=f"{_BY_LAW}; FAA Order 8260.3 lets airways have 1,500 ft in mountains",
    remedy="look the minimum up again: the data have higher ground near this leg",
    passing=sample(_TERRAIN, "direct QHB - XHAR 9.6nm min 3000"),
    failing=sample(_TERRAIN),
)
def stated_under_terrain(case: Case) -> Iterator[Found]:
    """The minimum stated for a direct leg is lower than the one by terrain, or an airway's lies too near the ground.

    An airway was surveyed, and may have less above obstacles than 14 CFR 91.177 asks elsewhere: its MOCA, else its MEA,
    is told where it lies less than 1,000 ft, in mountains 1,500 ft, above the highest place that is known.
    """
    for leg in case.first_legs:
        if leg.stretch.airway is not None:
            yield from _airway_under_terrain(case.count(leg))
            continue
        limits, ground = leg.stretch.limits, leg.stretch.ground
        if ground is None or ground.least_ft is None or limits.minimum_ft is None:
            continue
        # Where none is stated the minimum is the one by terrain.
        if below(limits.minimum_ft, ground.least_ft):
            computed = _minimum_text(ground, case.count(leg))
            message = f"the stated minimum of {whole(limits.minimum_ft)} ft is lower than the {computed}"
            yield Found(message, leg, by=ground.least_ft - limits.minimum_ft)


def _airway_under_terrain(count: Count) -> Iterator[Found]:
    """The lowest minimum of an airway in the direction flown, where higher ground stands abeam than it allows for."""
    leg, limits = count.leg, count.leg.stretch.limits
    name, stated_ft = ("MEA", limits.mea_ft) if limits.moca_ft is None else ("MOCA", limits.moca_ft)
    tops = [(one.top, _LEAST_FT[one.mountainous]) for one in leg.stretch.abeam if one.top is not None]
    if stated_ft is None or not tops:
        return
    top, least_ft = max(tops, key=lambda one: one[0].height_ft + one[1])
    if below(stated_ft, top.height_ft + least_ft):
        message = (
            f"the {name} of {whole(stated_ft)} ft on {leg.stretch.via} is less than {whole(least_ft)} ft above"
            f" {_spot_text(count, top)}"
        )
        yield Found(message, leg, by=top.height_ft + least_ft - stated_ft)


@rule(
    "terrain-unknown",
    Severity.WARNING,
    group=Group.HEIGHT,
    source="nothing unknown is taken for low: common practice, no source",
    remedy="put the missing tiles into the terrain folder, and whole ones in place of those that cannot be read",
    passing=sample(_TERRAIN),
    failing=sample(_TERRAIN, "airport XOLD N44 58.00 W039 20.00 elev 350ft", "-direct QEL"),
)
def terrain_unknown(case: Case) -> Iterator[Found]:
    """The minimum by terrain of a direct leg is not known, as terrain is missing there.

    A file that is there and cannot be read is told by itself: it is damaged, not missing.
    """
    files = dict.fromkeys(
        file for leg in case.first_legs if leg.stretch.ground is not None for file in leg.stretch.ground.unread
    )
    for name, why in files:
        yield Found(f"the terrain file {name} cannot be read: {why}", about=name, apart=True)
    for leg in case.first_legs:
        ground = leg.stretch.ground
        if ground is not None and ground.unknown:
            ends = f"{leg.stretch.start.name} to {leg.stretch.end.name}"
            yield Found(f"the ground from {ends} is not known: {', '.join(ground.unknown)}", leg)


@once_a_flight
@rule(
    "obstacles-unknown",
    Severity.NOTE,
    group=Group.HEIGHT,
    source=_BY_LAW,
    remedy="import the FAA's Digital Obstacle File into the catalogue, or add the towers of the chart",
    passing=BASE,
    failing=sample(_TERRAIN),
)
def obstacles_unknown(case: Case) -> Iterator[Found]:
    """Minimums by terrain are without towers and masts, as no obstacle is known."""
    grounds = [leg.stretch.ground for leg in case.first_legs if leg.stretch.ground is not None]
    if any(not ground.obstacles_known for ground in grounds):
        yield Found("no obstacles are known: towers and masts are not in the minimums by terrain")


_ROUNDED_FT = 100.0
"""To what a minimum is rounded up: higher ground by less hardly changes one."""


@rule(
    "band-over-higher-ground",
    Severity.NOTE,
    group=Group.HEIGHT,
    source="ICAO Doc 8168 and FAA JO 7400.2, 20-3-3: a course is as wide as the errors of its guidance",
    remedy="hold the needle centred there, fly higher, or choose a nearer station",
    passing=sample(_TERRAIN),
    failing=sample(_TERRAIN, "airport XHAR N45 50.00 W039 06.00 elev 350ft", "-direct QHB"),
)
def band_over_higher_ground(case: Case) -> Iterator[Found]:
    """Within the error of a direct leg's guidance stands higher ground than under its course.

    By more than 100 ft, to which minimums are rounded, and what the tiles themselves may be off by.
    """
    angle_deg = case.request.accuracy.along_deg
    for leg in case.first_legs:
        ground = leg.stretch.ground
        bands = [one.band for one in ground.parts if one.band is not None] if ground is not None else []
        higher = [one for one in bands if _higher_ft(one) > _ROUNDED_FT and not _at_end(leg, one.highest)]
        if higher:
            most = max(higher, key=_higher_ft)
            top = _spot_text(case.count(leg), most.highest)
            message = (
                f"within {angle_deg:g} degrees of the course, {distance(most.half_width_nm)} NM there, stand {top};"
                f" on the course no more than {whole(most.on_course_ft)} ft"
            )
            yield Found(message, leg, by=_higher_ft(most))


def _higher_ft(band: InBand) -> float:
    """How much higher than under the course it is within the band, less what the tiles may be off by."""
    return band.highest.height_ft - band.on_course_ft - (band.highest.tolerance_ft or 0.0)


def _spot_text(count: Count, spot: Spot) -> str:
    """A high place in words: `4147 ft (+53), 24.2 NM along, 1.2 left, N44W072.hgt`.

    Miles count from the start of the stretch, which is named where the leg is only a piece of it.
    """
    tolerance = f" (+{whole(spot.tolerance_ft)})" if spot.tolerance_ft else ""
    side = "right" if spot.aside_nm > 0.0 else "left"
    leg = count.leg
    way = "" if leg.start_nm == 0.0 and leg.ends_stretch else f" {_way_text(leg)}"
    return (
        f"{whole(spot.height_ft)} ft{tolerance}, {count.along(spot.along_nm)} NM along{way},"
        f" {distance(abs(spot.aside_nm))} {side}, {spot.source}"
    )
