"""Altitude limits: the height flown at both ends of each leg, never only the planned level."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.altitudes import altitude_ft, altitudes_ft, below
from navlog.flightlog.climbing import climb_min
from navlog.flightlog.records import Leg
from navlog.nav.chart import Airport, Source, Station
from navlog.nav.figures import distance, up, whole
from navlog.resolve.route import Limits
from navlog.rules.heights import MOCA_REACH_NM, flown_text, lowest_beyond_ft, station_distances_nm
from navlog.rules.registry import Case, Found, Rule, Severity, rule
from navlog.rules.samples import BASE, sample

COLD_C = 15.0
"""From so much colder than standard a correction is due (ICAO Doc 8168, as IFALPA cites it)."""

LOWER_PER_DEGREE = 0.004
"""An altimeter reads 4 % too high for every 10 degrees colder than standard (ICAO Doc 8168, volume I)."""

COLDEST_C = 60.0
"""No air over an airway is colder than this under standard: a bound for a quick test (from memory)."""


@rule(
    "under-mea",
    Severity.WARNING,
    at_times=(Severity.ERROR,),
    source="14 CFR 91.177(a), 95.1",
    remedy="plan at or above the MEA in the direction of flight",
    passing=BASE,
    failing=sample("altitude 2300"),
)
def under_mea(case: Case) -> Iterator[Found]:
    """A leg is flown below its MEA.

    Below the MEA but not below a MOCA is left to `moca-range`. An error under IFR.
    """
    for leg, low_ft in case.bound:
        limits = leg.stretch.limits
        if limits.mea_ft is None or not below(low_ft, limits.mea_ft):
            continue
        if limits.moca_ft is not None and not below(low_ft, limits.moca_ft):
            continue
        message = f"{flown_text(leg, low_ft)} is below the MEA of {whole(limits.mea_ft)} ft on {leg.stretch.via}"
        yield Found(message, leg, case.by_rules)


@rule(
    "moca-range",
    Severity.WARNING,
    at_times=(Severity.ERROR,),
    source="14 CFR 91.177(a)(1), 95.1",
    remedy="fly at the MEA, or at the MOCA only within 22 NM of the VOR in use",
    passing=sample("altitude 2500"),
    failing=sample("altitude 2500", "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 5 QHB"),
)
def moca_range(case: Case) -> Iterator[Found]:
    """A leg is flown between MOCA and MEA beyond 22 NM of the VOR in use.

    An error under IFR.
    """
    for leg, low_ft in case.bound:
        limits = leg.stretch.limits
        if limits.mea_ft is None or limits.moca_ft is None:
            continue
        if below(low_ft, limits.moca_ft) or not below(low_ft, limits.mea_ft):
            continue
        reach = station_distances_nm(leg)
        under = f"below the MEA of {whole(limits.mea_ft)} ft"
        if reach is None:
            yield Found(f"{flown_text(leg, low_ft)} is {under} and no VOR is in use", leg, case.by_rules)
            continue
        beyond_ft = lowest_beyond_ft(altitudes_ft(leg), reach, MOCA_REACH_NM)
        if beyond_ft is not None and below(max(beyond_ft, low_ft), limits.mea_ft):
            beyond_nm = min(abs(reach[1] - reach[0]), max(reach) - MOCA_REACH_NM)
            far = f"{distance(beyond_nm)} NM of it farther than 22 NM from the VOR"
            yield Found(f"{flown_text(leg, max(beyond_ft, low_ft))} is {under}, {far}", leg, case.by_rules)


@rule(
    "over-maa",
    Severity.WARNING,
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
        highest_ft = max(altitudes_ft(leg, highest=True))
        if maa_ft is not None and below(maa_ft, highest_ft):
            yield Found(f"{flown_text(leg, highest_ft)} is above the MAA of {whole(maa_ft)} ft", leg, case.by_rules)


@rule(
    "under-mca",
    Severity.WARNING,
    at_times=(Severity.ERROR,),
    source="14 CFR 91.177(b), 95.1",
    remedy="start the climb early enough to cross the point at the MCA",
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
        at, crossed_ft = crossed_at_ft(case, leg)
        for crossing in leg.stretch.limits.crossings_start:
            if below(crossed_ft, crossing.altitude_ft):
                kind = "MTA" if crossing.turning else "MCA"
                message = (
                    f"{leg.start.name} is crossed at {flown_text(at, crossed_ft)}, below the {kind} of"
                    f" {whole(crossing.altitude_ft)} ft toward {leg.stretch.end.name}"
                )
                yield Found(message + still_to_climb(case, at, crossed_ft, crossing.altitude_ft), leg, case.by_rules)


def still_to_climb(case: Case, at: Leg, crossed_ft: float, asked_ft: float) -> str:
    """How many minutes of climbing are missing at the end of a leg; empty without figures of climb."""
    missing_min = climb_min(case.log.conditions, at.stretch, crossed_ft, asked_ft)
    return "" if missing_min is None else f": {up(missing_min, 1.0)} min of climbing are missing"


def crossed_at_ft(case: Case, leg: Leg) -> tuple[Leg, float]:
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

    Where DME marks the fix the MRA does not count. An error under IFR.
    """
    for leg in case.legs:
        mra_ft = leg.stretch.limits.mra_end_ft
        if mra_ft is None or not leg.ends_stretch:
            continue
        reached_ft = altitudes_ft(leg)[1]
        if not below(reached_ft, mra_ft):
            continue
        marks = leg.stretch.identified_by
        if marks and all(one.ground_nm is None for one in marks):
            names = " and ".join(one.station.ident for one in marks)
            message = (
                f"{leg.end.name} is reached at {flown_text(leg, reached_ft)}, below its MRA of"
                f" {whole(mra_ft)} ft: {names} may not be received"
            )
            yield Found(message, leg, case.by_rules)


@rule(
    "under-minimum",
    Severity.WARNING,
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
        minimum_ft = leg.stretch.limits.minimum_ft
        if minimum_ft is not None and below(low_ft, minimum_ft):
            message = f"{flown_text(leg, low_ft)} is below the stated minimum of {whole(minimum_ft)} ft"
            yield Found(message, leg, case.by_rules)


@rule(
    "under-ground",
    Severity.ERROR,
    source="the elevations of stations and airports",
    remedy="plan higher, or correct the elevation",
    passing=BASE,
    failing=sample("altitude 700"),
)
def under_ground(case: Case) -> Iterator[Found]:
    """The planned altitude is below the elevation of a station or airport on the leg."""
    told: set[str] = set()
    for leg in case.first_legs:
        level = leg.stretch.level
        planned_ft = altitude_ft(level.altitude_ft, level, leg.altimeter_hpa)
        for point in (leg.stretch.start, leg.stretch.end):
            place = point.place
            if not isinstance(place, Station | Airport) or place.elevation_ft is None or place.ident in told:
                continue
            if below(planned_ft, place.elevation_ft):
                told.add(place.ident)
                flown = flown_text(leg, planned_ft)
                yield Found(f"{flown} is below {place.ident}, elevation {whole(place.elevation_ft)} ft", leg)


@rule(
    "moca-over-mea",
    Severity.WARNING,
    at_times=(Severity.NOTE,),
    source="14 CFR 95.1: a MOCA is no higher than its MEA",
    remedy="read both off the chart again: they may have changed places",
    passing=BASE,
    failing=sample("airway V801 QHB 212 - 034 QEL 29.5nm mea 2400 moca 3000 maa 17500 cop 11 QHB"),
)
def moca_over_mea(case: Case) -> Iterator[Found]:
    """The MOCA of a leg is higher than its MEA.

    A note where both are published.
    """
    for leg in case.first_legs:
        limits, airway = leg.stretch.limits, leg.stretch.airway
        if limits.mea_ft is None or limits.moca_ft is None or not below(limits.mea_ft, limits.moca_ft):
            continue
        published = airway is not None and airway.provenance.source is not Source.FILE
        message = f"MOCA {whole(limits.moca_ft)} is over MEA {whole(limits.mea_ft)} on {leg.stretch.via}"
        yield Found(message, leg, Severity.NOTE if published else None)


@rule(
    "minimum-unknown",
    Severity.NOTE,
    source="14 CFR 91.177(a)(2), 91.119",
    remedy="take the minimum off the chart and state it: `direct QHB - XHAR 9.6nm min 2500`",
    passing=BASE,
    failing=sample("-direct QHB", "-direct QEL"),
)
def minimum_unknown(case: Case) -> Iterator[Found]:
    """No minimum altitude is known for a leg."""
    for leg in case.first_legs:
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
def level_without_altimeter(case: Case) -> Iterator[Found]:
    """A flight level is compared with an altitude of the chart and no altimeter setting is given.

    With a setting the altitude of the level is compared.
    """
    if case.request.altimeter_hpa is not None:
        return
    for leg in case.first_legs:
        if not leg.stretch.level.flight_level:
            continue
        against = compared(leg.stretch.limits)
        if against:
            message = f"a flight level is a pressure altitude; the height above the {against} is not known"
            yield Found(message, leg, about="altimeter")
            return


def compared(limits: Limits) -> str:
    """The first altitude of a stretch with which a level is compared, by its name; empty where there is none."""
    stated = (
        ("MEA", limits.mea_ft),
        ("stated minimum", limits.minimum_ft),
        ("MOCA", limits.moca_ft),
        ("MAA", limits.maa_ft),
        ("crossing altitude", limits.crossings_start or None),
        ("MRA", limits.mra_end_ft),
    )
    return next((name for name, value in stated if value is not None), "")


@rule(
    "cold-air",
    Severity.WARNING,
    source="ICAO Doc 8168, volume I: 4 % of the height for every 10 degrees C under standard, from 15 under",
    remedy="plan higher by the difference; ask air traffic control where a level is assigned",
    passing=sample("wind 3000 230/12 -5C 6000 240/18 -11C", "altitude 3100"),
    failing=sample("wind 3000 230/12 -25C 6000 240/18 -31C", "altitude 3100"),
)
def cold_air(case: Case) -> Iterator[Found]:
    """In air much colder than standard the aeroplane is lower than the altimeter says, below a minimum.

    The height is counted from sea level, which is the most that can be wrong.
    """
    if coldest_c(case) < COLD_C:
        return
    for leg, indicated_ft in case.bound:
        limits = leg.stretch.limits
        minimum_ft = limits.mea_ft if limits.mea_ft is not None else limits.minimum_ft
        # Most legs are high enough for any cold; they need no temperature.
        if minimum_ft is None or below(indicated_ft, minimum_ft):
            continue
        if indicated_ft >= minimum_ft / (1.0 - LOWER_PER_DEGREE * COLDEST_C):
            continue
        under_c = colder_than_standard_c(case, leg, indicated_ft)
        true_ft = indicated_ft * (1.0 - LOWER_PER_DEGREE * under_c)
        if under_c >= COLD_C and below(true_ft, minimum_ft):
            yield Found(
                f"in air {whole(under_c)} degrees C colder than standard {whole(indicated_ft)} ft by the altimeter"
                f" is about {whole(true_ft)} ft, below the minimum of {whole(minimum_ft)} ft",
                leg,
            )


def coldest_c(case: Case) -> float:
    """How much colder than standard the coldest air is of which a temperature is given."""
    from navlog.nav.atmosphere import standard_temperature_c

    conditions = case.log.conditions
    aloft = [
        standard_temperature_c(level.height_ft) - level.temperature_c
        for column in conditions.winds or ()
        for level in column.levels
        if level.temperature_c is not None
    ]
    return max((*aloft, -(conditions.isa_deviation_c or 0.0)))


def colder_than_standard_c(case: Case, leg: Leg, altitude_ft: float) -> float:
    """How much colder than standard the air is on a leg, in degrees C: by the winds aloft, else as stated."""
    from navlog.nav.atmosphere import standard_temperature_c
    from navlog.nav.wind import at_place

    conditions, where = case.log.conditions, leg.start.position
    columns = [column for column in conditions.winds or () if column.position is None or where is not None]
    temperature_c = at_place(columns, where, altitude_ft).temperature_c if columns else None
    if temperature_c is not None:
        return standard_temperature_c(altitude_ft) - temperature_c
    return -(conditions.isa_deviation_c or 0.0)


RULES: tuple[Rule, ...] = (
    under_mea,
    moca_range,
    over_maa,
    under_mca,
    under_mra,
    under_minimum,
    under_ground,
    moca_over_mea,
    minimum_unknown,
    level_without_altimeter,
    cold_air,
)
