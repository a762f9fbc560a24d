"""How near climbs from airports and descents to them pass the ground and what stands on it, where no minimum binds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import inf
from typing import TYPE_CHECKING, TypeAlias

from msgspec import Struct

from navlog.flightlog.altitudes import below
from navlog.flightlog.records import Leg, Phase
from navlog.nav.clearance import Abeam
from navlog.nav.figures import whole
from navlog.nav.mountains import clearance_ft
from navlog.rules.climbout import climbs_told
from navlog.rules.heights import CLEARED_FT_PER_NM, VFR_CLEARANCE_FT, from_field_nm, least_by_field_ft
from navlog.rules.high_places import (
    CHANGING,
    CLOSE_IN_NM,
    abreast_nm,
    beside_spots,
    by_end,
    closer_pieces,
    flown_nm,
    height_beside_ft,
    low_close_in,
    lowest_ft,
    on_course_spots,
    passed,
    too_low_ft,
)
from navlog.rules.registry import Case, Found, Group, Severity, once_a_case, rule
from navlog.rules.samples import FLOWN_BY_FILE, sample
from navlog.rules.terrain import BY_LAW, TERRAIN, spot_text, way_text

if TYPE_CHECKING:
    from navlog.nav.terrain import Spot

_GRAVE = (Severity.ERROR, Severity.WARNING)


@rule(
    "climb-under-terrain",
    Severity.WARNING,
    apart=_GRAVE,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR, Severity.NOTE),
    source=f"{BY_LAW}; FAA AIM 5-2-9 for low ones close in",
    remedy="climb over the field or on another way until the high ground is cleared",
    passing=sample(TERRAIN, *FLOWN_BY_FILE, "-direct QHB", "-direct QEL"),
    failing=sample(TERRAIN, *FLOWN_BY_FILE, "airport XHAR N45 50.00 W039 06.00 elev 350ft", "-direct QHB"),
)
def climb_under_terrain(case: Case) -> Iterator[Found]:
    """A climb from an airport, or a descent to one, passes a high place near its way lower than its top.

    Beside that place the planned height is below the ground or obstacle there, its source's tolerance added: who is off
    course by as much as is counted on meets it; beside the first and the last mile the height is that planned as far
    from the field as the place lies. No minimum binds there, so no other rule tells. An error on any leg, climbing or
    level, where the ground under the course itself, or an obstacle within 0.1 NM of it, is higher than the flight. Of
    each leg the worst place is told near the field, within 3 NM, and the worst on the way. Left out is the field
    itself: what lies within 0.5 NM of it and is not above the planned height, ground not by more than its tolerance.
    Within 1 NM the tolerance is not added, and what rises no more than 200 ft above the field beside the course is a
    note (low and close in, AIM 5-2-9).
    """
    bound = {leg.number: low_ft for leg, low_ft in case.bound}
    for leg in case.legs:
        into = [
            (spot.height_ft - at_ft, at_ft, spot)
            for at_ft, spot in passed(leg, on_course_spots(leg))
            if at_ft < spot.height_ft
        ]
        beside = [
            (short_ft, at_ft, spot)
            for at_ft, spot in passed(leg, beside_spots(leg))
            # From where a minimum binds another rule tells.
            if (short_ft := too_low_ft(leg, spot, at_ft)) > 0.0
            and below(at_ft, min(at_ft + short_ft, bound.get(leg.number, at_ft + short_ft)))
        ]
        if not into and not beside:
            continue
        count = case.count(leg)
        for by_field in (False, True):
            met, near = (_worst(leg, each, by_field=by_field) for each in (into, beside))
            if met is not None:
                short_ft, at_ft, spot = met
                what = "AN OBSTACLE on" if spot.built else "THE GROUND under"
                message = f"{whole(at_ft)} ft is planned INTO {what} the course itself: "
                yield Found(message + spot_text(count, spot), leg, Severity.ERROR, by=short_ft)
            elif near is not None:
                short_ft, at_ft, spot = near
                severity = Severity.NOTE if low_close_in(leg, spot) else None
                yield Found(f"{whole(at_ft)} ft is planned beside {spot_text(count, spot)}", leg, severity, by=short_ft)


_Short: TypeAlias = tuple[float, float, "Spot"]
"""By how many feet a height is too low for a high place, the height, and the place."""


def _worst(leg: Leg, short: list[_Short], *, by_field: bool) -> _Short | None:
    """The place near the field, or of those on the way, for which a leg is the most too low."""
    return max(
        (one for one in short if _near_field(leg, one[2]) is by_field),
        # A low one close in is no more than a note, and must hide no other.
        key=lambda one: (not low_close_in(leg, one[2]), one[0]),
        default=None,
    )


_NEAR_FIELD_NM = 3.0
"""How far from the field the pattern and the beginning of a climb, or the end of a descent, reach: from memory."""


def _near_field(leg: Leg, spot: Spot) -> bool:
    """Whether a spot is passed in the first miles of a climb or the last of a descent.

    A hillside beside the runway must not hide a mountain on the way.
    """
    if leg.phase is Phase.CLIMB:
        return spot.along_nm < _NEAR_FIELD_NM
    return leg.phase is Phase.DESCENT and leg.stretch.length_nm - spot.along_nm < _NEAR_FIELD_NM


class _Low(Struct, frozen=True):
    """A piece of the way where a leg is planned below the minimum by terrain."""

    leg: Leg
    piece: Abeam
    top: Spot


class _Passing(Struct, frozen=True):
    """A leg passes a high place so far above its top, so far from the field.

    `gone_nm` is None in what is no climb from one or descent to one; `asked_ft` are the feet that are asked where it
    passes with less, else 0.
    """

    leg: Leg
    spot: Spot
    over_ft: float
    gone_nm: float | None
    asked_ft: float

    @property
    def too_near(self) -> bool:
        """Whether the place is passed below its top, or nearer above it than is asked."""
        return self.over_ft < max(self.asked_ft, 0.0)

    @property
    def nearness(self) -> float:
        """What a climb clears for each mile from the field, or how far above it is where there is none."""
        return self.over_ft if self.gone_nm is None or self.over_ft < 0.0 else self.over_ft / max(self.gone_nm, 0.01)


@rule(
    "climb-low",
    Severity.NOTE,
    apart=_GRAVE,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR, Severity.WARNING),
    source="14 CFR 91.177(a): except when necessary for takeoff or landing; (2) and part 95, subpart B; FAA AIM 5-2-9",
    remedy="fly the published departure or arrival, or climb and descend over the field, where the ground is not seen",
    passing=sample(TERRAIN, "-direct QHB", "-direct QEL"),
    failing=sample(TERRAIN, *FLOWN_BY_FILE, "-direct QHB", "-direct QEL"),
)
def climb_low(case: Case) -> Iterator[Found]:
    """How far a climb from an airport, or a descent to one, is planned below the minimum by terrain of each mile.

    The minimum of each 2 NM or less of the way is that over what stands abeam, within 4 NM or the guidance's error, on
    an airway too. The law lets take-off and landing be lower, so no other rule tells. A warning where the height
    planned is below a place beside it (of the first and last mile as far from the field), or less above it than 48 ft
    for each mile from the field (AIM 5-2-9), heights lower than 500 ft above the field counted as that; an error where
    it is below the ground under the course itself or an obstacle on it. The first or last 0.5 NM count only where a
    place is higher than planned. The note of a climb of which `climb-out` tells, under IFR, stands there.
    """
    told = [climb for climb, _ in climbs_told(case)]
    for low in low_climbs(case):
        # `climb-out` tells it with where the minimum of the way is reached: one line for one climb.
        if not low.clears or not any(low.leg in climb for climb in told):
            severity = None if low.clears else Severity.ERROR if low.meets else Severity.WARNING
            yield Found(f"the {low.leg.phase.value} is {low.words}", low.leg, severity, by=-low.over_ft)


class _LowClimb(Struct, frozen=True):
    """A climb or descent below the minimum by terrain: the leg that passes a high place by the least, and in words.

    `over_ft` is how high above that place, 0 where none is passed; `meets` what is on the course; `short` tells that it
    is lower than a climb clears what it passes.
    """

    leg: Leg
    words: str
    over_ft: float
    meets: bool
    short: bool

    @property
    def clears(self) -> bool:
        """Whether it is above every high place by what a climb gains on it, though by less than the minimum."""
        return not self.meets and not self.short


@once_a_case
def low_climbs(case: Case) -> Iterator[_LowClimb]:
    """Each climb or descent at an airport that is below the minimum by terrain, where no other minimum binds."""
    bound = {leg.number: low_ft for leg, low_ft in case.bound}
    runs: list[list[_Low]] = []
    before: Leg | None = None
    for leg in case.legs:
        if before is None or before.lands or before.phase is not leg.phase:
            runs.append([])
        if leg.phase in CHANGING:
            runs[-1] += _low_places(leg, bound.get(leg.number))
        before = leg
    field_nm = from_field_nm(case.legs, takes_off=case.takes_off)
    for run in runs:
        if run:
            # One that is passed too low is told before one that is passed by less, and may be.
            least = min(_passings(case, run, field_nm), key=lambda one: (not one.too_near, one.nearness), default=None)
            meets = any(
                at_ft < spot.height_ft
                for leg in {one.leg.number: one.leg for one in run}.values()
                for at_ft, spot in passed(leg, on_course_spots(leg))
            )
            words = _low_text(case, run, least)
            if least is None:
                yield _LowClimb(run[0].leg, words, 0.0, meets, short=False)
            else:
                yield _LowClimb(least.leg, words, least.over_ft, meets, least.too_near)


def _low_places(leg: Leg, bound_ft: float | None) -> Iterator[_Low]:
    """Where a leg is below the minimum by terrain, at the lower end of each piece; not where a minimum binds."""
    limits = leg.stretch.limits
    published = [one for one in (limits.mea_ft, limits.moca_ft) if one is not None and leg.stretch.airway is not None]
    for one in leg.stretch.abeam:
        miles = flown_nm(leg, one)
        least_ft = one.least_ft
        if least_ft is None or one.top is None or miles is None:
            continue
        height_ft = lowest_ft(leg, *miles)
        # A published minimum may be lower than ours, as surveyors know more: at or above either all is well.
        if below(height_ft, min((least_ft, *published))) and (bound_ft is None or below(height_ft, bound_ft)):
            yield _Low(leg, one, one.top)


def _passings(case: Case, run: list[_Low], field_nm: Mapping[int, tuple[float, float]]) -> Iterator[_Passing]:
    """How a climb or descent passes the high places of its pieces, in short ones where that may tell one nearer."""
    nearest = inf
    # No place of a piece can be nearer than its highest would be at its lowest height and farthest from the field.
    for at_most, low in sorted(((_at_most(one, field_nm), one) for one in run), key=lambda one: one[0].nearness):
        # Beside the field a place counts from farther on, where a climb clears less for each mile.
        by_field = any(by_end(low.leg, nm, CLOSE_IN_NM) for nm in flown_nm(low.leg, low.piece) or ())
        near = by_field or at_most.nearness < nearest or at_most.over_ft < _asked_ft(case, low.piece, at_most.gone_nm)
        for piece in closer_pieces(low.leg, low.piece, inf if near else 0.0):
            if piece.top is None or flown_nm(low.leg, piece) is None:
                continue
            along_nm = abreast_nm(low.leg, piece.top)
            at_ft = height_beside_ft(low.leg, along_nm)
            over_ft = -too_low_ft(low.leg, piece.top, at_ft)
            beside = by_end(low.leg, along_nm) if over_ft >= 0.0 else low_close_in(low.leg, piece.top)
            if not beside:
                gone_nm = _gone_nm(low.leg, along_nm, field_nm)
                asked_ft = _asked_ft(case, piece, gone_nm)
                judged_ft = max(at_ft, least_by_field_ft(low.leg)) - at_ft + over_ft
                one = _Passing(low.leg, piece.top, over_ft, gone_nm, asked_ft if below(judged_ft, asked_ft) else 0.0)
                nearest = min(nearest, one.nearness)
                yield one


def _at_most(low: _Low, field_nm: Mapping[int, tuple[float, float]]) -> _Passing:
    """The highest place of a piece, passed at the lowest height over it and as far from the field as it is anywhere."""
    first_nm, last_nm = flown_nm(low.leg, low.piece) or (low.piece.start_nm, low.piece.end_nm)
    gone = [one for nm in (first_nm, last_nm) if (one := _gone_nm(low.leg, nm, field_nm)) is not None]
    over_ft = lowest_ft(low.leg, first_nm, last_nm) - low.top.top_ft
    return _Passing(low.leg, low.top, over_ft, max(gone, default=None), 0.0)


def _gone_nm(leg: Leg, along_nm: float, field_nm: Mapping[int, tuple[float, float]]) -> float | None:
    """How far from the field a place along a leg is, in a climb from an airport or a descent to one; else None."""
    if leg.number not in field_nm:
        return None
    start_nm, end_nm = field_nm[leg.number]
    return start_nm + (end_nm - start_nm) * (along_nm - leg.start_nm) / leg.distance_nm


def _asked_ft(case: Case, piece: Abeam, gone_nm: float | None) -> float:
    """How far above a high place a climb from an airport or a descent to one must be, so far from it."""
    most_ft = clearance_ft(piece.mountainous) if case.request.rules == "ifr" else VFR_CLEARANCE_FT
    return min(most_ft, CLEARED_FT_PER_NM * (gone_nm or 0.0))


def _low_text(case: Case, run: list[_Low], least: _Passing | None) -> str:
    """Where a climb or descent is below the minimum by terrain, and where it passes a high place by the least."""
    climbs = run[0].leg.phase is Phase.CLIMB
    last = run[-1] if climbs else run[0]
    along = case.count(last.leg).along(last.piece.end_nm if climbs else last.piece.start_nm)
    where = f"{along} NM along {way_text(last.leg)}"
    told = f"below the minimum by terrain {'as far as' if climbs else 'from'} {where}"
    if least is None:
        return told
    side = f"{whole(abs(least.over_ft))} ft {'above' if least.over_ft >= 0.0 else 'BELOW'}"
    place = spot_text(case.count(least.leg), least.spot)
    if least.over_ft < 0.0 or least.gone_nm is None:
        return f"{told}; at the least {side} {place}"
    if least.too_near:
        return f"{told}; only {side} {place}, where {CLEARED_FT_PER_NM:.0f} ft a NM make {whole(least.asked_ft)}"
    return f"{told}; at the least {whole(least.nearness)} ft for each NM from the field: {side} {place}"
