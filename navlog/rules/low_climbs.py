"""How near climbs from airports and descents to them pass the ground and what stands on it, where no minimum binds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import inf
from typing import TYPE_CHECKING, TypeAlias

from msgspec import Struct

from navlog.flightlog.altitudes import altitudes_ft, below
from navlog.flightlog.records import Leg, Phase
from navlog.nav.clearance import Abeam, closer
from navlog.nav.figures import whole
from navlog.rules.climbout import climbs_told
from navlog.rules.registry import Case, Found, Group, Severity, once_a_case, rule
from navlog.rules.samples import FLOWN_BY_FILE, sample
from navlog.rules.terrain import BY_LAW, TERRAIN, at_end, spot_text, way_text

if TYPE_CHECKING:
    from navlog.nav.terrain import Spot

_GRAVE = (Severity.ERROR, Severity.WARNING)


@rule(
    "climb-under-terrain",
    Severity.WARNING,
    apart=_GRAVE,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR,),
    source=BY_LAW,
    remedy="climb over the field or on another way until the high ground is cleared",
    passing=sample(TERRAIN, *FLOWN_BY_FILE, "-direct QHB", "-direct QEL"),
    failing=sample(TERRAIN, *FLOWN_BY_FILE, "airport XHAR N45 50.00 W039 06.00 elev 350ft", "-direct QHB"),
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
                yield Found(message + spot_text(count, spot), leg, Severity.ERROR, by=short_ft)
            elif passed is not None:
                short_ft, at_ft, spot = passed
                yield Found(f"{whole(at_ft)} ft is planned beside {spot_text(count, spot)}", leg, by=short_ft)


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
        if not leg.stays and leg.start_nm <= spot.along_nm <= leg.end_nm and not at_end(leg, spot):
            yield _height_beside_ft(leg, spot.along_nm), spot


_CHANGING = (Phase.CLIMB, Phase.DESCENT)


def _closer(leg: Leg, piece: Abeam) -> tuple[Abeam, ...]:
    """A piece of the way, in short ones where a climb or descent is anywhere lower than its highest place.

    That may be passed above, and a lower one, where the flight is lower yet, not.
    """
    if leg.phase not in _CHANGING or (miles := _flown_nm(leg, piece)) is None:
        return (piece,)
    low = piece.top is None or _lowest_ft(leg, *miles) < piece.top.top_ft
    return closer(piece) if low else (piece,)


def _flown_nm(leg: Leg, piece: Abeam) -> tuple[float, float] | None:
    """The miles of a piece that a leg flies; None where it flies none of it."""
    first_nm, last_nm = max(piece.start_nm, leg.start_nm), min(piece.end_nm, leg.end_nm)
    return (first_nm, last_nm) if first_nm < last_nm else None


def _under(leg: Leg) -> list[Spot]:
    """The highest ground under the course itself, of each piece of the way."""
    return [one.on_course for piece in leg.stretch.abeam for one in _closer(leg, piece) if one.on_course is not None]


def _spots(leg: Leg) -> list[Spot]:
    """The high places near the way: the highest of its stretch, and the highest abeam of each piece."""
    ground = leg.stretch.ground
    whole_way = (ground.highest, ground.obstacle) if ground is not None else ()
    tops = (one.top for piece in leg.stretch.abeam for one in _closer(leg, piece))
    return [spot for spot in (*whole_way, *tops) if spot is not None]


class _Low(Struct, frozen=True):
    """A piece of the way where a leg is planned below the minimum by terrain, with the place passed by the least.

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
    passing=sample(TERRAIN, "-direct QHB", "-direct QEL"),
    failing=sample(TERRAIN, *FLOWN_BY_FILE, "-direct QHB", "-direct QEL"),
)
def climb_low(case: Case) -> Iterator[Found]:
    """How far a climb from an airport, or a descent to one, is planned below the minimum by terrain of each mile.

    The minimum of each 2 NM or less of the way is that over what stands abeam, within 4 NM or the guidance's
    error, on an airway too. The law lets take-off and landing be lower, so no other rule tells. A warning where the
    height planned is below a place beside it, an error where it is below the ground under the course itself. The note
    of a climb of which `climb-out` tells, under IFR, stands there.
    """
    told = [climb for climb, _ in climbs_told(case)]
    for low in low_climbs(case):
        # `climb-out` tells it with where the minimum of the way is reached: one line for one climb.
        if not low.clears or not any(low.leg in climb for climb in told):
            severity = None if low.clears else Severity.ERROR if low.meets else Severity.WARNING
            yield Found(f"the {low.leg.phase.value} is {low.words}", low.leg, severity, by=-low.over_ft)


class _LowClimb(Struct, frozen=True):
    """A climb or descent below the minimum by terrain: the leg that passes a high place by the least, and in words.

    `over_ft` is how high above that place, 0 where that is the airport's own ground; `meets` the ground on the course.
    """

    leg: Leg
    words: str
    over_ft: float
    meets: bool

    @property
    def clears(self) -> bool:
        """Whether it is above every high place, though by less than the minimum asks for."""
        return not self.meets and self.over_ft >= 0.0


@once_a_case
def low_climbs(case: Case) -> Iterator[_LowClimb]:
    """Each climb or descent at an airport that is below the minimum by terrain, where no other minimum binds."""
    bound = {leg.number: low_ft for leg, low_ft in case.bound}
    runs: list[list[_Low]] = []
    before: Leg | None = None
    for leg in case.legs:
        if before is None or before.lands or before.phase is not leg.phase:
            runs.append([])
        if leg.phase in _CHANGING:
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
            yield _LowClimb(least.leg, _low_text(case, run, least), over_ft, meets)


def _low_places(leg: Leg, bound_ft: float | None) -> Iterator[_Low]:
    """Where a leg is below the minimum by terrain, at the lower end of each piece; not where a minimum binds."""
    limits = leg.stretch.limits
    published = [one for one in (limits.mea_ft, limits.moca_ft) if one is not None and leg.stretch.airway is not None]
    for one in leg.stretch.abeam:
        miles = _flown_nm(leg, one)
        if one.minimum_ft is None or one.top is None or miles is None:
            continue
        height_ft = _lowest_ft(leg, *miles)
        # A published minimum may be lower than ours, as surveyors know more: at or above either all is well.
        if below(height_ft, min((one.minimum_ft, *published))) and (bound_ft is None or below(height_ft, bound_ft)):
            yield _least(leg, one, one.top, miles)


def _least(leg: Leg, piece: Abeam, top: Spot, miles: tuple[float, float]) -> _Low:
    """A piece with the place that a leg passes by the most below its top, else with the highest place."""
    tops = [one.top for one in _closer(leg, piece) if one.top is not None]
    passed = [(at_ft - spot.top_ft, spot) for at_ft, spot in _passed(leg, tops) if at_ft < spot.top_ft]
    if passed:
        over_ft, lowest = min(passed, key=lambda one: one[0])
        return _Low(leg, piece, lowest, over_ft)
    first_nm, last_nm = miles
    beside_ft = _height_beside_ft(leg, min(max(top.along_nm, first_nm), last_nm))
    return _Low(leg, piece, top, None if at_end(leg, top) else beside_ft - top.top_ft)


def _low_text(case: Case, run: list[_Low], least: _Low) -> str:
    """Where a climb or descent is below the minimum by terrain, and where it passes a high place by the least."""
    climbs = least.leg.phase is Phase.CLIMB
    last = run[-1] if climbs else run[0]
    along = case.count(last.leg).along(last.piece.end_nm if climbs else last.piece.start_nm)
    where = f"{along} NM along {way_text(last.leg)}"
    told = f"below the minimum by terrain {'as far as' if climbs else 'from'} {where}"
    if least.over_ft is None:
        return told
    side = f"{whole(abs(least.over_ft))} ft {'above' if least.over_ft >= 0.0 else 'BELOW'}"
    return f"{told}; at the least {side} {spot_text(case.count(least.leg), least.top)}"


def _lowest_ft(leg: Leg, first_nm: float, last_nm: float) -> float:
    """The lowest height planned between two places along a leg's stretch."""
    return min(_height_beside_ft(leg, nm) for nm in (first_nm, last_nm))


def _height_beside_ft(leg: Leg, along_nm: float) -> float:
    """The height planned so far along a leg's stretch; it changes evenly along a leg."""
    start_ft, end_ft = altitudes_ft(leg)
    share = (along_nm - leg.start_nm) / leg.distance_nm
    return start_ft + share * (end_ft - start_ft)
