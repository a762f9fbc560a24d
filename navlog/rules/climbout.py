"""The climb after take-off: where it reaches the minimum of its way, and how steep that is."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.climbout import Reached, reached
from navlog.nav.chart import Position
from navlog.nav.figures import distance, half_up, whole
from navlog.nav.mountains import mountainous
from navlog.rules.heights import climbs_from_airports
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import FLOWN_BY_FILE, sample

_GAINED_FT_PER_NM = 200.0
"""The climb on which departure procedures count unless they say more (FAA AIM 5-2-9)."""

_ASSESSED_NM = 25.0
_ASSESSED_MOUNTAINOUS_NM = 46.0
"""How far from the airport obstacles are assessed for a climb in any direction, and in mountainous areas (FAA AIM
5-2-9). The airport's place decides; where it is not known whether that is mountainous, the shorter one counts."""

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
    of obstacles for a climb in any direction ends. The signal of the stations used is judged all the same.
    """
    if case.request.rules != "ifr":
        return
    for climb in climbs_from_airports(case.legs, takes_off=case.takes_off):
        place = reached(climb, case.log.conditions)
        if place is not None:
            # As printed: 199.6 reads as 200 and must not be found short of it.
            steep = place.gradient_ft_per_nm >= _GAINED_FT_PER_NM - 0.5
            # By the airport's own place; not decided takes the shorter reach, which warns sooner.
            high = _is_mountainous(climb[0].start.position)
            near = place.distance_nm <= (_ASSESSED_MOUNTAINOUS_NM if high else _ASSESSED_NM)
            message = _reached_text(climb[0].start.name, place, steep=steep, far="" if near else _far_text(high))
            yield Found(message, place.leg, None if steep and near else Severity.WARNING, by=place.distance_nm)


def _reached_text(airport: str, place: Reached, *, steep: bool, far: str) -> str:
    """Where, how high and after how many minutes a minimum is reached, by which climb, and what is unusual in it."""
    stretch = place.leg.stretch
    where = (
        f"{distance(place.distance_nm)} NM from {airport}, on the way from {stretch.start.name} to {stretch.end.name}"
    )
    after = f"{half_up(place.time_min)} min after take-off"
    gains = f"each NM gains at least {whole(place.gradient_ft_per_nm)} ft"
    if not steep:
        gains = f"a NM of the climb gains only {whole(place.gradient_ft_per_nm)} ft, less than {_GAINED_FT_PER_NM:.0f}"
    return f"the minimum of {whole(place.minimum_ft)} ft is reached {where}, {after}{far}; {gains}"


def _is_mountainous(position: Position | None) -> bool | None:
    """Whether a place lies in a designated mountainous area; None where that is not known."""
    return None if position is None else mountainous(position)


def _far_text(high: bool | None) -> str:
    """That a minimum is reached beyond the place where the assessment of obstacles ends, and by which measure."""
    if high:
        return f"; beyond {_ASSESSED_MOUNTAINOUS_NM:.0f} NM, the airport lying in a mountainous area"
    unknown = f" ({_ASSESSED_MOUNTAINOUS_NM:.0f} in mountainous areas, and whether this is one is not known)"
    return f"; beyond {_ASSESSED_NM:.0f} NM{unknown if high is None else ''}"
