"""Heights at which oxygen must be used or at hand."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.oxygen import CREW_AFTER_30_MIN_FT, CREW_FT, EVERYONE_FT, HighTime, high_time, highest_ft
from navlog.flightlog.records import Leg
from navlog.nav.figures import half_up, whole
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import sample

_ALLOWED_MIN = 30.0


@rule(
    "oxygen",
    Severity.WARNING,
    group=Group.HEIGHT,
    source="14 CFR 91.211(a)",
    remedy='plan lower, or have oxygen on board and say so: accept oxygen "bottle and four masks"',
    passing=sample("altitude 12500", "wind 12500 230/12", "route XHAR QHB V801 QEL XOLD"),
    failing=sample("altitude 15500", "wind 15500 230/12", "route XHAR QHB V801 QEL XOLD"),
)
def oxygen(case: Case) -> Iterator[Found]:
    """The flight is so high, or so long so high, that oxygen must be used.

    14 CFR 91.211(a): "(1) At cabin pressure altitudes above 12,500 feet (MSL) up to and including 14,000 feet (MSL)
    unless the required minimum flight crew is provided with and uses supplemental oxygen for that part of the flight at
    those altitudes that is of more than 30 minutes duration; (2) At cabin pressure altitudes above 14,000 feet (MSL)
    unless the required minimum flight crew is provided with and uses supplemental oxygen during the entire flight time
    at those altitudes; and (3) At cabin pressure altitudes above 15,000 feet (MSL) unless each occupant of the aircraft
    is provided with supplemental oxygen." The cabin is taken to be as high as the aircraft, not pressurised; the 30
    minutes count together from each take-off to the next landing.
    """
    for legs in _flown_between_landings(case.legs):
        # Most flights that are looked at here stay below: these need no times.
        if highest_ft(legs) <= CREW_AFTER_30_MIN_FT:
            continue
        found = high_time(legs)
        words = _asked_for(found)
        if words:
            top = max(legs, key=lambda leg: max(leg.start_altitude_ft, leg.end_altitude_ft))
            message = f"{words}; the cabin counted as not pressurised"
            yield Found(message, top, by=found.highest_ft - CREW_AFTER_30_MIN_FT)


def _flown_between_landings(legs: tuple[Leg, ...]) -> Iterator[tuple[Leg, ...]]:
    """The legs from each take-off to the next landing."""
    some: list[Leg] = []
    for leg in legs:
        some.append(leg)
        if leg.lands or leg is legs[-1]:
            yield tuple(some)
            some = []


def _asked_for(found: HighTime) -> str:
    """Who must have oxygen, and for how long; empty where nobody must."""
    told = []
    between_min = found.between_min
    if between_min is None or between_min > _ALLOWED_MIN:
        time = "a time that is not known" if between_min is None else f"{half_up(between_min)} min"
        told.append(
            f"{time} above {whole(CREW_AFTER_30_MIN_FT)} ft up to {whole(CREW_FT)}: oxygen for the crew after 30 min"
        )
    for height_ft, minutes, who in (
        (CREW_FT, found.above_14000_min, "the crew all that time"),
        (EVERYONE_FT, found.above_15000_min, "everyone aboard"),
    ):
        if minutes is None or minutes > 0.0:
            time = "a time that is not known" if minutes is None else f"{half_up(minutes)} min"
            told.append(f"{time} above {whole(height_ft)} ft: oxygen for {who}")
    return ", ".join(told)
