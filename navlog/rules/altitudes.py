"""Altitude limits: the height flown at both ends of each leg, never only the planned level."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.altitudes import altitudes_ft, below
from navlog.flightlog.climbing import climb_min
from navlog.flightlog.records import Leg, Phase, Trouble
from navlog.flightlog.sure import station_distances_nm
from navlog.nav import figures
from navlog.nav.figures import distance, up, whole
from navlog.nav.record import changed
from navlog.request.levels import level_altitude_ft
from navlog.resolve.route import Limits
from navlog.rules.heights import MOCA_REACH_NM, flown_text, highest_ft, lowest_beyond_ft
from navlog.rules.reception import out_of_volume, under_horizon
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import BASE, sample

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_UP_OR_DOWN = (Phase.CLIMB, Phase.DESCENT)

_CLEARS_FT = 1_000.0
"""The least height above obstacles of a route outside mountains, 14 CFR 91.177(a)(2), on which MEAs are built too."""


@rule(
    "under-mea",
    Severity.WARNING,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR, Severity.NOTE),
    source="14 CFR 91.177(a) under IFR; 95.1(d), (e) for what MEA and MOCA assure",
    remedy="plan at or above the MEA in the direction of flight; under VFR see the ground, and identify each station",
    passing=BASE,
    failing=sample("altitude 2300"),
)
def under_mea(case: Case) -> Iterator[Found]:
    """A leg is flown below its MEA.

    An error under IFR, where the published MEA and MOCA bind if the file's own airway states less; so is one below a
    MOCA that is over its MEA, as a slip, a notice or the MEA of the direction flown makes it. Not below a MOCA, and
    within 22 NM of the VOR in use, it is a note that the MOCA is relied on: 14 CFR 91.177(a)(1): "a person may
    operate an aircraft below the MEA down to, but not below, the MOCA, provided the applicable navigation signals are
    available. For aircraft using VOR for navigation, this applies only when the aircraft is within 22 nautical miles of
    that VOR"; farther out `moca-range` is told. Under VFR no MEA binds, and only level flight is told: a note that
    below the MEA reception is not assured, nor below the MOCA, or where none is given, clearance of the terrain (14 CFR
    95.1(e): "The MOCA assures obstruction clearance ... and adequate reception of VOR navigation signals within 22
    nautical miles of a VOR station used to define the route"). A warning below the MOCA, also of one that has no MEA
    beside it, and where volume or horizon say that the station is not received; and more than 1,000 ft below an MEA
    that is all that is known of the height of the ground. Nothing forbids such a flight, and an MEA may be that high
    for reception alone; but a MOCA is published where it is lower (2,323 of the 2,329 on V airways of FAA NASR
    2026-05-14), so that an MEA alone most often clears obstacles, and up to 1,000 ft below it they are no higher than
    the flight. That the station is received there (AIM 1-1-8) takes nothing off it: then the ground asks for the MEA.
    """
    yield from _under_moca(case)
    if case.request.rules != "ifr":
        yield from _visually_under_mea(case, if_received=Severity.NOTE)
        return
    for leg, low_ft in _bound_as_published(case):
        limits = leg.stretch.limits
        if limits.mea_ft is None or not below(low_ft, limits.mea_ft) or _moca_binds(limits, low_ft):
            continue
        # Within 22 NM lawful, and worth a note; beyond it `moca-range` has the error.
        if limits.moca_ft is not None and not below(low_ft, limits.moca_ft):
            if _farther_ft(leg, low_ft) is None:
                relied = f"the MOCA of {whole(limits.moca_ft)} ft is relied on, which holds within 22 NM of the VOR"
                under = f"below the {_mea_text(limits.mea_ft, limits)} on {leg.stretch.via}"
                message = f"{flown_text(leg, low_ft)} is {under}: {relied} while its signal is there"
                yield Found(message, leg, Severity.NOTE, by=limits.mea_ft - low_ft)
            continue
        message = f"{flown_text(leg, low_ft)} is below the {_mea_text(limits.mea_ft, limits)} on {leg.stretch.via}"
        yield Found(message, leg, Severity.ERROR, by=limits.mea_ft - low_ft)


def _bound_as_published(case: Case) -> Iterator[tuple[Leg, float]]:
    """The legs on which minimums bind, under the published MEA and MOCA where the file's own airway states less.

    Those of part 95 bind whatever a file states.
    """
    for leg, low_ft in case.bound:
        limits = leg.stretch.limits
        mea_ft, moca_ft = limits.published_mea_ft or limits.mea_ft, limits.published_moca_ft or limits.moca_ft
        if (mea_ft, moca_ft) == (limits.mea_ft, limits.moca_ft):
            yield leg, low_ft
        else:
            stretch = changed(leg.stretch, limits=changed(limits, mea_ft=mea_ft, moca_ft=moca_ft))
            yield changed(leg, stretch=stretch), low_ft


def _mea_text(mea_ft: float, limits: Limits) -> str:
    """The MEA, and that it is the published one where the file states less: `MEA of 10000 ft as published`."""
    return f"MEA of {whole(mea_ft)} ft{' as published' if limits.published_mea_ft is not None else ''}"


def _moca_binds(limits: Limits, low_ft: float) -> bool:
    """Whether a flight at `low_ft` is below a MOCA without an MEA beside it, or with a lower one."""
    if limits.moca_ft is None or not below(low_ft, limits.moca_ft):
        return False
    return limits.mea_ft is None or below(limits.mea_ft, limits.moca_ft)


def _under_moca(case: Case) -> Iterator[Found]:
    """The legs that are flown below a MOCA that no MEA covers; under VFR in level flight only."""
    ifr = case.request.rules == "ifr"
    for leg, low_ft in _bound_as_published(case) if ifr else case.bound:
        limits, on = leg.stretch.limits, f"on {leg.stretch.via}"
        if limits.moca_ft is None or not _moca_binds(limits, low_ft):
            continue
        if not ifr and leg.phase in _UP_OR_DOWN:
            continue
        lost = "clearance of the terrain is not assured"
        if limits.mea_ft is None:
            beside = "no MEA given"
        else:
            beside = f"which is over its {_mea_text(limits.mea_ft, limits)}"
            if below(low_ft, limits.mea_ft):
                lost = "neither clearance of the terrain nor reception is assured"
        published = " as published" if limits.published_moca_ft is not None else ""
        limit = f"below the MOCA of {whole(limits.moca_ft)} ft{published} {on}, {beside}"
        message = f"{flown_text(leg, low_ft)} is {limit}: {lost}"
        yield Found(message, leg, case.by_rules, by=limits.moca_ft - low_ft)


def _visually_under_mea(case: Case, if_received: Severity) -> Iterator[Found]:
    """The legs of a flight under VFR that are flown level below an MEA, and what is then not assured.

    `if_received` is how grave it is where no MOCA is missed and nothing says that the station is not received.
    """
    deaf: set[int] | None = None
    for leg, low_ft in case.bound:
        limits = leg.stretch.limits
        if leg.phase in _UP_OR_DOWN or _moca_binds(limits, low_ft):
            continue
        if limits.mea_ft is None or not below(low_ft, limits.mea_ft):
            continue
        flown, on = flown_text(leg, low_ft), f"on {leg.stretch.via}"
        if limits.moca_ft is not None and below(low_ft, limits.moca_ft):
            limit = f"below the MOCA of {whole(limits.moca_ft)} ft (MEA {whole(limits.mea_ft)}) {on}"
            message = f"{flown} is {limit}: neither clearance of the terrain nor reception is assured"
            yield Found(message, leg, by=limits.mea_ft - low_ft)
            continue
        # Volume and horizon once, and only for a flight that is below an MEA at all.
        if deaf is None:
            deaf = {one.leg.number for one in (*out_of_volume(case), *under_horizon(case)) if one.leg is not None}
        unheard, blind = leg.number in deaf, False
        if limits.moca_ft is None:
            blind = not leg.stretch.abeam and below(low_ft, limits.mea_ft - _CLEARS_FT)
            lost = "neither reception nor, with no MOCA given, clearance of the terrain is assured"
        elif _beyond_moca_reach(leg):
            lost = "farther than 22 NM from the VOR reception is not assured"
        else:
            continue
        heard = ", and the station used is out of range or below the horizon" if unheard else ""
        if blind:
            lost += f"; it is more than {whole(_CLEARS_FT)} ft below, and nothing else tells how high the ground is"
        message = f"{flown} is below the MEA of {whole(limits.mea_ft)} ft {on}: {lost}{heard}"
        yield Found(message, leg, None if unheard or blind else if_received, by=limits.mea_ft - low_ft)


def _beyond_moca_reach(leg: Leg) -> bool:
    """Whether a leg leads farther than 22 NM from the VOR in use, or uses none."""
    reach = station_distances_nm(leg)
    return reach is None or max(reach) > MOCA_REACH_NM


@rule(
    "moca-range",
    Severity.ERROR,
    group=Group.HEIGHT,
    subject="ifr",
    source="14 CFR 91.177(a)(1), 95.1(e)",
    remedy="fly at the MEA, or at the MOCA only within 22 NM of the VOR in use",
    passing=sample("altitude 2500", "rules ifr"),
    failing=sample(
        "altitude 2500", "rules ifr", "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 5 QHB"
    ),
)
def moca_range(case: Case) -> Iterator[Found]:
    """A leg is flown between MOCA and MEA beyond 22 NM of the VOR in use, under IFR.

    14 CFR 91.177(a)(1): "if both a MEA and a MOCA are prescribed for a particular route or route segment, a person may
    operate an aircraft below the MEA down to, but not below, the MOCA, provided the applicable navigation signals are
    available. For aircraft using VOR for navigation, this applies only when the aircraft is within 22 nautical miles of
    that VOR". Under VFR `under-mea` says what is not assured.
    """
    if case.request.rules != "ifr":
        return
    for leg, low_ft in _bound_as_published(case):
        limits = leg.stretch.limits
        if limits.mea_ft is None or limits.moca_ft is None:
            continue
        if below(low_ft, limits.moca_ft) or not below(low_ft, limits.mea_ft):
            continue
        reach, farther_ft = station_distances_nm(leg), _farther_ft(leg, low_ft)
        under = f"below the {_mea_text(limits.mea_ft, limits)}"
        if reach is None:
            guidance = leg.part.guidance
            far = "no VOR is in use"
            if guidance is not None:
                far = f"how far {guidance.station.ident} is from the leg is not known"
            yield Found(f"{flown_text(leg, low_ft)} is {under} and {far}", leg, by=limits.mea_ft - low_ft)
        elif farther_ft is not None:
            # Of a leg that crosses the 22 NM only the part beyond; of one wholly beyond all its way along the radial.
            beyond_nm = min(abs(reach[1] - reach[0]), max(reach) - MOCA_REACH_NM)
            far = f"{distance(beyond_nm)} NM of it farther than 22 NM from the VOR"
            yield Found(f"{flown_text(leg, farther_ft)} is {under}, {far}", leg, by=beyond_nm)


def _farther_ft(leg: Leg, low_ft: float) -> float | None:
    """The lowest height below its MEA at which a leg is farther than 22 NM from the VOR in use; None where nowhere.

    Without a VOR in use the whole leg counts.
    """
    reach, mea_ft = station_distances_nm(leg), leg.stretch.limits.mea_ft
    beyond_ft = low_ft if reach is None else lowest_beyond_ft(altitudes_ft(leg), reach, MOCA_REACH_NM)
    if beyond_ft is None or mea_ft is None or not below(max(beyond_ft, low_ft), mea_ft):
        return None
    return max(beyond_ft, low_ft)


@rule(
    "over-maa",
    Severity.WARNING,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR,),
    source="14 CFR 95.1, MAA",
    remedy="plan at or below the MAA: above it two stations on one frequency may both be heard",
    passing=BASE,
    failing=sample("airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 maa 4000 cop 11 QHB"),
)
def over_maa(case: Case) -> Iterator[Found]:
    """A leg is flown above its MAA.

    An error under IFR.
    """
    for leg in case.legs:
        maa_ft = leg.stretch.limits.maa_ft
        if maa_ft is not None and below(maa_ft, high_ft := highest_ft(leg)):
            message = f"{flown_text(leg, high_ft)} is above the MAA of {whole(maa_ft)} ft"
            yield Found(message, leg, case.by_rules, by=high_ft - maa_ft)


@rule(
    "under-mca",
    Severity.WARNING,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR,),
    source="14 CFR 91.177(b), 95.1",
    remedy="start the climb early enough to cross the point at the MCA; plan the level that it asks from there on",
    passing=BASE,
    failing=sample("airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 2400 maa 17500 mca 5000 QHB to QEL cop 11 QHB"),
)
def under_mca(case: Case) -> Iterator[Found]:
    """A point is crossed below its minimum crossing or turning altitude.

    An error under IFR.
    """
    for leg in case.first_legs:
        if not leg.stretch.limits.crossings_start:
            continue
        at, crossed_ft = _crossed_at_ft(case, leg)
        for crossing in leg.stretch.limits.crossings_start:
            if below(crossed_ft, crossing.altitude_ft):
                kind = "MTA" if crossing.turning else "MCA"
                message = (
                    f"{leg.start.name} is crossed at {flown_text(at, crossed_ft)}, below the {kind} of"
                    f" {whole(crossing.altitude_ft)} ft toward {leg.stretch.end.name}"
                )
                missing = _still_to_climb(case, leg, at, crossed_ft, crossing.altitude_ft)
                yield Found(message + missing, leg, case.by_rules, by=crossing.altitude_ft - crossed_ft)


def _still_to_climb(case: Case, leg: Leg, at: Leg, crossed_ft: float, asked_ft: float) -> str:
    """How many minutes of climbing are missing at the end of a leg, and whether the planned level ends too low.

    Empty without figures of climb.
    """
    missing_min = climb_min(case.log.conditions, at.stretch, crossed_ft, asked_ft)
    if missing_min is None:
        return ""
    level = leg.stretch.level
    planned = figures.level(level.altitude_ft, flight_level=level.flight_level)
    too_low = below(level_altitude_ft(level, leg.altimeter_hpa), asked_ft)
    why = f", and none above the planned {planned} is laid out" if too_low else ""
    return f": {up(missing_min, 1.0)} min of climbing are missing{why}"


def _crossed_at_ft(case: Case, leg: Leg) -> tuple[Leg, float]:
    """The altitude at which a leg's start is crossed: that of the leg before, where there is one; with the leg.

    At the beginning of the way to an alternate it is the lowest at which the route passes there.
    """
    if leg is case.legs[0] and case.arriving:
        return min(((before, altitudes_ft(before)[1]) for before in case.arriving), key=lambda one: one[1])
    before = case.legs[leg.number - 2] if leg is not case.legs[0] else None
    return (leg, altitudes_ft(leg)[0]) if before is None or before.lands else (before, altitudes_ft(before)[1])


@rule(
    "under-mra",
    Severity.WARNING,
    group=Group.GUIDANCE,
    at_times=(Severity.ERROR,),
    source="14 CFR 95.1, MRA; AIM glossary",
    remedy="fly at the MRA to the fix, or mark it by DME",
    passing=sample(
        "station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L dme elev 150ft",
        "fix MARSH N46 04.00 W039 24.23 mra 6000",
        "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000",
        "equipment vor 2 dme 1",
    ),
    failing=sample(
        "station QSK 112.40 N45 58.00 W038 50.00 decl 14W class L dme elev 150ft",
        "fix MARSH N46 04.00 W039 24.23 mra 6000",
        "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000",
    ),
)
def under_mra(case: Case) -> Iterator[Found]:
    """A fix that a crossing radial marks is reached below its minimum reception altitude.

    Where DME marks the fix the MRA does not count, nor where nothing but the clock does, which `fix-by-time` tells. An
    error under IFR.
    """
    for leg in case.marked:
        mra_ft = leg.stretch.limits.mra_end_ft
        troubled = [mark for mark in leg.marks if Trouble.MRA in mark.troubles] if mra_ft is not None else []
        if troubled and mra_ft is not None:
            reached_ft = altitudes_ft(leg)[1]
            names = " and ".join(dict.fromkeys(mark.station.ident for mark in troubled))
            message = (
                f"{leg.end.name} is reached at {flown_text(leg, reached_ft)}, below its MRA of"
                f" {whole(mra_ft)} ft: {names} may not be received"
            )
            yield Found(message, leg, case.by_rules, by=mra_ft - reached_ft)


@rule(
    "under-minimum",
    Severity.WARNING,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR,),
    source="the minimum that the route file states",
    remedy="plan at or above the minimum that you stated for this leg",
    passing=BASE,
    failing=sample("direct QHB - XHAR 9.6nm min 5500"),
)
def under_minimum(case: Case) -> Iterator[Found]:
    """A direct leg is flown below its stated minimum.

    An error under IFR.
    """
    for leg, low_ft in case.bound:
        limits = leg.stretch.limits
        # The minimum by terrain has a rule of its own.
        minimum_ft = limits.minimum_ft if limits.minimum_kind == "stated" else None
        if minimum_ft is not None and below(low_ft, minimum_ft):
            message = f"{flown_text(leg, low_ft)} is below the stated minimum of {whole(minimum_ft)} ft"
            yield Found(message, leg, case.by_rules, by=minimum_ft - low_ft)
