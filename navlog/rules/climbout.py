"""The climb after take-off: where it reaches the minimum of its way, and how steep that is."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from navlog.flightlog.climbout import Reached, reached
from navlog.flightlog.records import Leg
from navlog.nav.chart import Position
from navlog.nav.figures import distance, half_up, whole
from navlog.nav.mountains import mountainous
from navlog.rules.heights import ASSESSED_MOUNTAINOUS_NM, GAINED_FT_PER_NM, assessed_nm, climbs_from_airports, too_low
from navlog.rules.registry import Case, Found, Group, Severity, once_a_case, rule
from navlog.rules.samples import FLOWN_BY_FILE, sample

_HIGH_AIRWAY = "airway V801 QHB 212 - 034 QEL 29.5nm mea 4500 moca 2400 maa 17500 cop 11 QHB"


@rule(
    "climb-out",
    Severity.NOTE,
    group=Group.HEIGHT,
    at_times=(Severity.WARNING,),
    source="14 CFR 91.177(a): except when necessary for takeoff or landing; FAA AIM 5-2-9: 200 ft a NM, within 25 NM",
    remedy="fly the published departure procedure, climb over the field, or ask for a way round",
    passing=sample(*FLOWN_BY_FILE, _HIGH_AIRWAY, "route XHAR QHB V801 QEL XOLD"),
    failing=sample(*FLOWN_BY_FILE, _HIGH_AIRWAY, "route XHAR QHB V801 QEL XOLD", "rules ifr"),
)
def climb_out(case: Case) -> Iterator[Found]:
    """Where the climb after take-off reaches the minimum altitude of its way, under IFR.

    14 CFR 91.177(a) begins "Except when necessary for takeoff or landing": between take-off and there no minimum is
    violated. A warning where a mile of the climb gains less than 200 ft, or the minimum is reached farther than 25 NM
    along the way, 46 NM from an airport in a designated mountainous area (14 CFR 95, subpart B), where the assessment
    of obstacles for a climb in any direction ends; and where the minimum of a stretch before it, past the first point,
    was not reached by its end. Where a higher one begins there (91.177(b)), and the climb is by height or distance no
    longer one that the assessment covers, the rules of each minimum have an error. The signal of the stations used is
    judged all the same. Where terrain is read, how near the climb passes it is told with it.
    """
    for climb, place in climbs_told(case):
        # As printed: 199.6 reads as 200 and must not be found short of it.
        steep = place.gradient_ft_per_nm >= GAINED_FT_PER_NM - 0.5
        airport = climb[0].start
        near = place.distance_nm <= assessed_nm(airport.position)
        message = _reached_text(airport.name, place, steep=steep, far="" if near else _far_text(airport.position))
        missed = _missed_text(climb, place)
        routine = steep and near and not missed
        told = f"{message}{missed}{_terrain_text(case, climb)}"
        yield Found(told, place.leg, None if routine else Severity.WARNING, by=place.distance_nm)


@once_a_case
def climbs_told(case: Case) -> Iterator[tuple[tuple[Leg, ...], Reached]]:
    """Each climb from an airport that is below the minimum of its way at first, and where it reaches it, under IFR."""
    for climb in climbs_from_airports(case.legs, takes_off=case.takes_off) if case.request.rules == "ifr" else ():
        place = reached(climb, case.log.conditions)
        if place is not None:
            yield climb, place


def _terrain_text(case: Case, climb: tuple[Leg, ...]) -> str:
    """How near a climb passes the high places beside it, where `climb-low` leaves that to `climb-out`."""
    if not any(leg.stretch.abeam for leg in climb):
        return ""
    # Where no terrain is named its rules are not loaded.
    from navlog.rules.low_climbs import low_climbs

    return "".join(f"; {low.words}" for low in low_climbs(case) if low.leg in climb and low.clears)


def _missed_text(climb: tuple[Leg, ...], place: Reached) -> str:
    """The other minimums that a climb had not reached at the ends of their stretches, past the first point."""
    passed = [
        f"{whole(least_ft)} ft at {leg.end.name}"
        for leg, following in pairwise(climb)
        if leg.stretch not in (climb[0].stretch, following.stretch) and too_low(leg)
        if (least_ft := leg.stretch.limits.least_ft) is not None
        and least_ft != place.minimum_ft
        and leg.number < place.leg.number
    ]
    return f"; not reached before: {', '.join(passed)}" if passed else ""


def _reached_text(airport: str, place: Reached, *, steep: bool, far: str) -> str:
    """Where, how high and after how many minutes a minimum is reached, by which climb, and what is unusual in it."""
    stretch = place.leg.stretch
    on = f"in the hold at {stretch.end.name}"
    if not place.leg.stays:
        on = f"on the way from {stretch.start.name} to {stretch.end.name}"
    where = f"{distance(place.distance_nm)} NM from {airport}, {on}"
    after = f"{half_up(place.time_min)} min after take-off"
    gains = f"each NM gains at least {whole(place.gradient_ft_per_nm)} ft"
    if not steep:
        gains = f"a NM of the climb gains only {whole(place.gradient_ft_per_nm)} ft, less than {GAINED_FT_PER_NM:.0f}"
    return f"the minimum of {whole(place.minimum_ft)} ft is reached {where}, {after}{far}; {gains}"


def _far_text(airport: Position | None) -> str:
    """That a minimum is reached beyond the place where the assessment of obstacles ends, and by which measure."""
    high, reach = None if airport is None else mountainous(airport), f"; beyond {assessed_nm(airport):.0f} NM"
    if high is None:
        unknown = f"{ASSESSED_MOUNTAINOUS_NM:.0f} in mountainous areas, and whether this is one is not known"
        return f"{reach} ({unknown})"
    return f"{reach}, the airport lying in a mountainous area" if high else reach
