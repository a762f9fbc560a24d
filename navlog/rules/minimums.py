"""Levels under or near the ground, and what the minimums say of themselves: one over another, or none known."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.altitudes import below
from navlog.flightlog.records import Leg
from navlog.nav.chart import Source
from navlog.nav.figures import whole
from navlog.nav.problems import Span
from navlog.request.levels import level_altitude_ft
from navlog.resolve.route import Limits, PointKind, Stretch
from navlog.rules.heights import flown_text
from navlog.rules.registry import Case, Found, Group, Severity, once_a_case, rule
from navlog.rules.samples import BASE, sample

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_FILE, _AIRPORT = Source.FILE, PointKind.AIRPORT

_TERMINAL_NM = 25.0
"""As far as the climb of a departure is judged, AIM 5-2-9."""

_OVER_GROUND_FT = 500.0
"""14 CFR 91.119(c)."""

_LIMIT_OVER_GROUND_FT = 950.0
"""A MOCA is 1,000 ft above obstacles (FAA Order 8260.3); no limit of FAA NASR 2026-05-14 is less than 967 above a
station of its leg."""

_VICTOR_BELOW_FT = 18_000.0
"""AIM 5-3-4: VOR airways lead from 1,200 ft above the surface "up to but not including 18,000 feet MSL"."""


@rule(
    "under-ground",
    Severity.ERROR,
    group=Group.HEIGHT,
    source="the elevations of stations and airports",
    remedy="plan higher, or correct the elevation",
    passing=BASE,
    failing=sample("altitude 700"),
    acceptable=False,
)
def under_ground(case: Case) -> Iterator[Found]:
    """The planned altitude is below the elevation of a station or airport on the leg."""
    told: set[str] = set()
    for leg, ident, ground_ft, planned_ft in _low_over_places(case):
        if below(planned_ft, ground_ft) and ident not in told:
            told.add(ident)
            yield Found(f"{flown_text(leg, planned_ft)} is below {ident}, elevation {whole(ground_ft)} ft", leg)


@once_a_case
def _low_over_places(case: Case) -> Iterator[tuple[Leg, str, float, float]]:
    """The stations and airports that a stretch is planned less than 500 ft above, or below.

    Its first leg, their name and elevation, and the planned altitude.
    """
    for leg in case.first_legs:
        planned_ft = level_altitude_ft(leg.stretch.level, leg.altimeter_hpa)
        for place in (leg.stretch.start.place, leg.stretch.end.place):
            if place is None or place.elevation_ft is None:
                continue
            if below(planned_ft, place.elevation_ft + _OVER_GROUND_FT):
                yield leg, place.ident, place.elevation_ft, planned_ft


@rule(
    "level-near-ground",
    Severity.WARNING,
    group=Group.HEIGHT,
    source="14 CFR 91.119(c): 500 ft above the surface; the elevations of stations and airports",
    remedy="plan higher, or correct the elevation",
    passing=BASE,
    failing=sample("altitude 1200"),
)
def level_near_ground(case: Case) -> Iterator[Found]:
    """The planned altitude is less than 500 ft above a station or airport on the leg.

    Below it `under-ground` is told.
    """
    for leg, ident, ground_ft, planned_ft in _low_over_places(case):
        if not below(planned_ft, ground_ft):
            above = f"only {whole(planned_ft - ground_ft)} ft above {ident}, elevation {whole(ground_ft)} ft"
            yield Found(f"{flown_text(leg, planned_ft)} is {above}", leg, about=ident)


@rule(
    "moca-over-mea",
    Severity.WARNING,
    group=Group.HEIGHT,
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
        published = airway is not None and airway.provenance.source is not _FILE
        message = f"MOCA {whole(limits.moca_ft)} is over MEA {whole(limits.mea_ft)} on {leg.stretch.via}"
        yield Found(message, leg, Severity.NOTE if published else None)


@rule(
    "limit-doubtful",
    Severity.WARNING,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR,),
    source="elevations beside; AIM 5-3-4 for V airways; of 20,280 MAAs in FAA NASR 2026-05-14 none is below its MEA",
    remedy="read it off the chart again: a digit may be lost, or one too many",
    passing=BASE,
    failing=sample("direct QHB - XHAR 9.6nm min 250"),
)
def limit_doubtful(case: Case) -> Iterator[Found]:
    """An altitude of a leg cannot be: under its ground or, stated in the file, over its airway or an MAA below the MEA.

    An error where an MEA, a MOCA, an MAA or a stated minimum, of the file or published, is below the elevation of a
    station or airport of the leg, or an MCA below that of its own; a warning for an MRA so low, and for all but the
    stated minimum less than 950 ft above, where a MOCA is 1,000 ft above obstacles. Of what the file states a warning
    for an MAA below its MEA, and for an MEA of 18,000 ft or more on a V airway of the United States, which end below
    that (AIM 5-3-4).
    """
    for leg in case.first_legs:
        stretch = leg.stretch
        limits, airway = stretch.limits, stretch.airway
        published = airway is not None and airway.provenance.source is not _FILE
        stated_ft = limits.minimum_ft if limits.minimum_kind == "stated" else None
        ground_ft, highest = _highest_end(stretch)
        told = [
            ("MEA", limits.mea_ft, ground_ft, highest),
            ("MOCA", limits.moca_ft, ground_ft, highest),
            ("MAA", limits.maa_ft, ground_ft, highest),
            ("MRA", limits.mra_end_ft, ground_ft, highest),
            ("stated minimum", stated_ft, ground_ft, highest),
        ]
        start = stretch.start.place
        # A crossing altitude lies over its own point, and may be lower than the ground ahead.
        if limits.crossings_start and start is not None and start.elevation_ft is not None:
            crossed_ft = min(one.altitude_ft for one in limits.crossings_start)
            told.append(("MCA", crossed_ft, start.elevation_ft, start.ident))
        for name, value_ft, place_ft, place in told:
            # Hardly any limit is so near the ground that there is something to say of it.
            if value_ft is None or value_ft >= place_ft + _LIMIT_OVER_GROUND_FT:
                continue
            low = _low_text(value_ft, place_ft, place, near=name != "stated minimum")
            if low:
                # Signals may reach down beside a station that stands on a mountain.
                severity = Severity.ERROR if name != "MRA" and below(value_ft, place_ft) else None
                message = f"the {name} of {whole(value_ft)} ft {_on(leg)}, {low}"
                yield Found(message, leg, severity, _where_stated(case, leg))
        # Published limits are held against the ground alone: no MEA or MOCA of NASR 2026-05-14 is below its station.
        if published or limits.mea_ft is None:
            continue
        if limits.maa_ft is not None and below(limits.maa_ft, limits.mea_ft):
            message = f"the MAA of {whole(limits.maa_ft)} ft {_on(leg)}, is below the MEA of {whole(limits.mea_ft)} ft"
            yield Found(message, leg, span=_where_stated(case, leg))
        victor = stretch.via[:1] == "V" and stretch.via[1:].isdigit() and case.request.levels == "us"
        if victor and not below(limits.mea_ft, _VICTOR_BELOW_FT):
            ends = f"V airways end below {whole(_VICTOR_BELOW_FT)} ft"
            yield Found(f"the MEA of {whole(limits.mea_ft)} ft {_on(leg)}: {ends}", leg, span=_where_stated(case, leg))


def _low_text(value_ft: float, ground_ft: float, place: str, *, near: bool) -> str:
    """That an altitude is below the elevation of a place, or `near` above it; empty where it is neither."""
    if not place or not below(value_ft, ground_ft + (_LIMIT_OVER_GROUND_FT if near else 0.0)):
        return ""
    how = "below" if below(value_ft, ground_ft) else f"only {whole(value_ft - ground_ft)} ft above"
    return f"is {how} {place}, elevation {whole(ground_ft)} ft"


def _highest_end(stretch: Stretch) -> tuple[float, str]:
    """The elevation of the higher station or airport of a stretch, and its name; at least the sea's."""
    found = 0.0, ""
    for place in (stretch.start.place, stretch.end.place):
        if place is not None and place.elevation_ft is not None and place.elevation_ft > found[0]:
            found = place.elevation_ft, place.ident
    return found


def _on(leg: Leg) -> str:
    """The way of a leg and its two points."""
    return f"on {leg.stretch.via}, {_between(leg)}"


def _where_stated(case: Case, leg: Leg) -> Span | None:
    """Where the file states what holds between the two points of a leg's stretch."""
    stretch, given = leg.stretch, case.request.definitions
    ends = frozenset(end.ident for end in (stretch.start, stretch.end) if end.ident is not None)
    if stretch.airway is None:
        direct = given.directs.get(ends)
        return None if direct is None else direct.segment.span
    return next((one.span for one in stretch.airway.segments if {one.start, one.end} == ends), None)


@rule(
    "minimum-unknown",
    Severity.NOTE,
    group=Group.HEIGHT,
    at_times=(Severity.WARNING,),
    source="14 CFR 91.177(a)(2), 91.119; AIM 5-2-9 for the 25 NM of a departure",
    remedy="take the minimum off the chart and state it: `direct QHB - XHAR 9.6nm min 2500`",
    passing=BASE,
    failing=sample("-direct QHB", "-direct QEL"),
)
def minimum_unknown(case: Case) -> Iterator[Found]:
    """No minimum altitude is known for a leg.

    Legs to and from airports seldom have a published one: they have one note together. Under IFR one of more than
    25 NM is no departure or arrival alone: nobody has said how low it may be flown, which is a warning.
    """
    beside: list[Leg] = []
    for leg in case.first_legs:
        limits = leg.stretch.limits
        if limits.mea_ft is not None or limits.minimum_ft is not None:
            continue
        if case.request.rules == "ifr" and leg.stretch.length_nm > _TERMINAL_NM:
            length = case.count(leg).along(leg.stretch.length_nm)
            message = (
                f"no minimum altitude is known for the {length} NM from {_between(leg)}, {_terrain_text(case, leg)}"
            )
            yield Found(message, leg, Severity.WARNING)
        elif _AIRPORT in (leg.stretch.start.kind, leg.stretch.end.kind):
            beside.append(leg)
        else:
            yield Found(f"no minimum altitude is known from {_between(leg)}", leg)
    if beside:
        ways = tuple(dict.fromkeys(_between(leg) for leg in beside))
        named = f"{', '.join(ways[:-1])} and {ways[-1]}" if len(ways) > 1 else ways[0]
        yield Found(f"no minimum altitude is known from {named}", beside[0], also=tuple(beside[1:]), joint=True)


def _terrain_text(case: Case, leg: Leg) -> str:
    """Why terrain makes no minimum either."""
    if case.request.terrain is None:
        return "and terrain is not looked at"
    if leg.stretch.ground is None:
        return "and terrain makes one for direct legs alone"
    return f"nor one by terrain: {', '.join(leg.stretch.ground.unknown)}"


def _between(leg: Leg) -> str:
    """The two points of a leg's stretch: `XHAR to QHB`."""
    return f"{leg.stretch.start.name} to {leg.stretch.end.name}"


@rule(
    "level-without-altimeter",
    Severity.WARNING,
    group=Group.HEIGHT,
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
        against = _compared(leg.stretch.limits)
        if against:
            message = f"a flight level is a pressure altitude; the height above the {against} is not known"
            yield Found(message, leg, about="altimeter")
            return


def _compared(limits: Limits) -> str:
    """The first altitude of a stretch with which a level is compared, by its name; empty where there is none."""
    stated = (
        ("MEA", limits.mea_ft),
        ("minimum by terrain" if limits.minimum_kind == "terrain" else "stated minimum", limits.minimum_ft),
        ("MOCA", limits.moca_ft),
        ("MAA", limits.maa_ft),
        ("crossing altitude", limits.crossings_start or None),
        ("MRA", limits.mra_end_ft),
    )
    return next((name for name, value in stated if value is not None), "")
