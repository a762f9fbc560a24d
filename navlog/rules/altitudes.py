"""Altitude limits: the height flown at both ends of each leg, never only the planned level."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.figures import distance, whole
from navlog.flightlog.records import Leg, Log, Phase
from navlog.route import PointKind
from navlog.rules.registry import Found, Rule, Severity, rule
from navlog.rules.samples import BASE, sample

MOCA_REACH_NM = 22.0
"""A MOCA assures the signal within 22 NM of the VOR in use (14 CFR 91.177, 95.1)."""


BETWEEN_PARTS = (PointKind.CHANGEOVER, PointKind.POSITION)
"""What cuts a stretch where the climb or descent goes on."""


def lowest_ft(log: Log, leg: Leg) -> float | None:
    """The lower of the heights at the leg's two ends at which its minimum must be kept; None where at neither.

    In the stretch that begins at a take-off the climb need not have reached the minimum, and in the one that
    ends at a landing the descent goes below it: 14 CFR 91.177(a), "except when necessary for takeoff or
    landing".
    """
    stretch = leg.stretch
    if leg.phase is Phase.CLIMB and (stretch.number == 1 or stretch.start.landing is not None):
        return leg.end_altitude_ft if leg.ends_stretch or leg.end.kind not in BETWEEN_PARTS else None
    if leg.phase is Phase.DESCENT and (stretch is log.route.stretches[-1] or stretch.end.landing is not None):
        return leg.start_altitude_ft if leg.start_nm == 0.0 or leg.start.kind not in BETWEEN_PARTS else None
    return min(leg.start_altitude_ft, leg.end_altitude_ft)


def station_distances_nm(leg: Leg) -> tuple[float, float] | None:
    """How far the leg's two ends are from the VOR in use, along the path; None without guidance."""
    from navlog.guidance import distance_from

    guidance = leg.part.guidance
    if guidance is None:
        return None
    near, far = (distance_from(guidance.station, end.position) for end in (leg.start, leg.end))
    if near is not None and far is not None:
        return near, far
    if guidance.station == leg.stretch.start.station:
        return leg.start_nm, leg.end_nm
    if guidance.station == leg.stretch.end.station:
        length_nm = leg.stretch.length_nm
        return length_nm - leg.start_nm, length_nm - leg.end_nm
    return None


@rule(
    "under-mea",
    Severity.WARNING,
    source="14 CFR 91.177(a), 95.1",
    remedy="plan at or above the MEA in the direction of flight",
    passing=BASE,
    failing=sample("altitude 2300"),
)
def under_mea(log: Log) -> Iterator[Found]:
    """A leg is flown below its MEA.

    Below the MEA but not below a MOCA is left to `moca-range`. An error under IFR.
    """
    for leg in log.legs:
        limits, height_ft = leg.stretch.limits, lowest_ft(log, leg)
        if height_ft is None or limits.mea_ft is None or height_ft >= limits.mea_ft:
            continue
        if limits.moca_ft is not None and height_ft >= limits.moca_ft:
            continue
        message = f"{whole(height_ft)} ft is below the MEA of {whole(limits.mea_ft)} ft on {leg.stretch.via}"
        yield Found(message, leg, by_rules(log))


@rule(
    "moca-range",
    Severity.WARNING,
    source="14 CFR 91.177(a)(1), 95.1",
    remedy="fly at the MEA, or at the MOCA only within 22 NM of the VOR in use",
    passing=sample("altitude 2500"),
    failing=sample("altitude 2500", "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 5 QHB"),
)
def moca_range(log: Log) -> Iterator[Found]:
    """A leg is flown between MOCA and MEA beyond 22 NM of the VOR in use."""
    for leg in log.legs:
        limits, height_ft = leg.stretch.limits, lowest_ft(log, leg)
        if height_ft is None or limits.mea_ft is None or limits.moca_ft is None:
            continue
        if not limits.moca_ft <= height_ft < limits.mea_ft:
            continue
        reach = station_distances_nm(leg)
        height = f"{whole(height_ft)} ft is below the MEA of {whole(limits.mea_ft)} ft"
        if reach is None:
            yield Found(f"{height} and no VOR is in use", leg, by_rules(log))
        elif max(reach) > MOCA_REACH_NM:
            beyond_nm = min(abs(reach[1] - reach[0]), max(reach) - MOCA_REACH_NM)
            message = f"{height}, {distance(beyond_nm)} NM of it farther than 22 NM from the VOR"
            yield Found(message, leg, by_rules(log))


@rule(
    "over-maa",
    Severity.WARNING,
    source="14 CFR 95.1, MAA",
    remedy="plan at or below the MAA: above it two stations on one frequency may both be heard",
    passing=BASE,
    failing=sample("airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 maa 4000 cop 11 QHB"),
)
def over_maa(log: Log) -> Iterator[Found]:
    """A leg is flown above its MAA."""
    for leg in log.legs:
        maa_ft = leg.stretch.limits.maa_ft
        highest_ft = max(leg.start_altitude_ft, leg.end_altitude_ft)
        if maa_ft is not None and highest_ft > maa_ft:
            yield Found(f"{whole(highest_ft)} ft is above the MAA of {whole(maa_ft)} ft", leg, by_rules(log))


@rule(
    "under-mca",
    Severity.WARNING,
    source="14 CFR 91.177(b), 95.1",
    remedy="start the climb early enough to cross the point at the MCA",
    passing=BASE,
    failing=sample("airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 2400 maa 17500 mca 5000 QHB to QEL cop 11 QHB"),
)
def under_mca(log: Log) -> Iterator[Found]:
    """A point is crossed below its minimum crossing or turning altitude."""
    for before, leg in zip((None, *log.legs), log.legs, strict=False):
        if leg.start_nm > 0.0:
            continue
        crossed_ft = before.end_altitude_ft if before is not None and not before.lands else leg.start_altitude_ft
        for crossing in leg.stretch.limits.crossings_start:
            if crossing.altitude_ft > crossed_ft:
                kind = "MTA" if crossing.turning else "MCA"
                message = (
                    f"{leg.start.name} is crossed at {whole(crossed_ft)} ft, below the {kind} of"
                    f" {whole(crossing.altitude_ft)} ft toward {leg.stretch.end.name}"
                )
                yield Found(message, leg, by_rules(log))


@rule(
    "under-minimum",
    Severity.WARNING,
    source="the minimum that the route file states",
    remedy="plan at or above the minimum that you stated for this leg",
    passing=BASE,
    failing=sample("direct QHB - XHAR 9.6nm min 5500"),
)
def under_minimum(log: Log) -> Iterator[Found]:
    """A direct leg is flown below its stated minimum."""
    for leg in log.legs:
        minimum_ft, height_ft = leg.stretch.limits.minimum_ft, lowest_ft(log, leg)
        if minimum_ft is not None and height_ft is not None and height_ft < minimum_ft:
            message = f"{whole(height_ft)} ft is below the stated minimum of {whole(minimum_ft)} ft"
            yield Found(message, leg, by_rules(log))


@rule(
    "minimum-unknown",
    Severity.NOTE,
    source="14 CFR 91.177(a)(2), 91.119",
    remedy="take the minimum off the chart and state it: `direct QHB - XHAR 9.6nm min 2500`",
    passing=BASE,
    failing=sample("-direct QHB", "-direct QEL"),
)
def minimum_unknown(log: Log) -> Iterator[Found]:
    """No minimum altitude is known for a leg."""
    for leg in log.first_legs():
        limits = leg.stretch.limits
        if limits.mea_ft is None and limits.minimum_ft is None:
            between = f"{leg.stretch.start.name} to {leg.stretch.end.name}"
            yield Found(f"no minimum altitude is known from {between}", leg)


@rule(
    "level-without-altimeter",
    Severity.WARNING,
    source="14 CFR 91.121; about 27 ft a hPa in the standard atmosphere",
    remedy="give an `altimeter` setting, or plan an altitude",
    passing=sample("altitude FL085", "altimeter 1020hPa"),
    failing=sample("altitude FL085"),
)
def level_without_altimeter(log: Log) -> Iterator[Found]:
    """A flight level is compared with an MEA and no altimeter setting is given."""
    if log.route.request.altimeter_hpa is not None:
        return
    for leg in log.legs:
        if leg.stretch.level.flight_level and leg.stretch.limits.mea_ft is not None:
            yield Found("a flight level is a pressure altitude; the height above the MEA is not known", leg)
            return


def by_rules(log: Log) -> Severity:
    """An error where the flight is under instrument flight rules, a warning under visual ones."""
    return Severity.ERROR if log.route.request.rules == "ifr" else Severity.WARNING


RULES: tuple[Rule, ...] = (
    under_mea,
    moca_range,
    over_maa,
    under_mca,
    under_minimum,
    minimum_unknown,
    level_without_altimeter,
)
