"""Climb, descent and compass card: where the figures end or do not suffice."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.altitudes import below
from navlog.flightlog.facts import by_north
from navlog.flightlog.profile import PATTERN_FT, landing_height_ft
from navlog.flightlog.records import Leg, Phase
from navlog.flightlog.runs import names
from navlog.nav.chart import Airport
from navlog.nav.figures import course, level, whole
from navlog.request.levels import level_altitude_ft
from navlog.request.records import RouteWord
from navlog.rules.heights import flown_text
from navlog.rules.registry import Case, Found, Group, Severity, once_a_case, once_a_flight, rule
from navlog.rules.samples import FLOWN_BY_FILE, sample
from navlog.rules.windfuel import in_steps

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_DOWN, _LOSING = (Phase.DESCENT, Phase.LOSING), Phase.LOSING

_AS_FLOWN_FT = 200.0
"""How closely a level is held on the way (FAA-S-ACS-6, private pilot, area VI: from memory)."""

_APPROACH_FT = 5_000.0
"""What an instrument approach loses from where it begins, at most (common practice, no source)."""

_BY_FILE = sample(*FLOWN_BY_FILE)


@rule(
    "climb-left-out",
    Severity.WARNING,
    group=Group.HEIGHT,
    subject="aircraft",
    at_times=(Severity.NOTE, Severity.ERROR),
    source="a climb or descent needs its figures, the field's elevation, a course and a wind",
    remedy="give what is missing; without it the flight is computed at its cruising level",
    passing=_BY_FILE,
    failing=sample(*FLOWN_BY_FILE, "airport XOLD N45 41.00 W039 20.00"),
)
def climb_left_out(case: Case) -> Iterator[Found]:
    """The aircraft has figures of climb or descent, and one at an airport is left out all the same.

    A note where the aircraft file has figures for the other of the two alone; an error where the wind is one
    that the climb or descent cannot be flown in.
    """
    aircraft = case.log.conditions.aircraft
    if aircraft is None or case.log.conditions.winds is None or aircraft.climb is aircraft.descent is None:
        return
    for sector in _sectors(case):
        for phase, leg, place, height_ft, table in (
            (Phase.CLIMB, sector[0], sector[0].stretch.start.place, sector[0].start_altitude_ft, aircraft.climb),
            (Phase.DESCENT, sector[-1], sector[-1].stretch.end.place, sector[-1].end_altitude_ft, aircraft.descent),
        ):
            if not isinstance(place, Airport) or any(one.phase is phase for one in sector):
                continue
            if phase is Phase.CLIMB and sector[0] is case.legs[0] and case.arriving:
                continue
            goal_ft = place.elevation_ft
            if phase is Phase.DESCENT:
                goal_ft = landing_height_ft(leg.stretch.end, case.log.conditions, last=leg is case.legs[-1])
            severity, why = Severity.WARNING, "a leg has no wind or no course"
            if table is None:
                severity, why = Severity.NOTE, f"the aircraft file has no [{phase}]"
            elif goal_ft is None:
                why = f"the elevation of {place.ident} is not known"
            elif not below(goal_ft, height_ft):
                continue
            elif all(one.triangle is not None for one in sector if not one.stays):
                severity, why = Severity.ERROR, "its speed is too low for the wind"
            # That the file has no figures is one thing, however many airports there are.
            about = None if table is not None else phase.value
            yield Found(f"the {phase} at {place.ident} is left out: {why}", leg, severity, about=about)


@rule(
    "cruise-not-reached",
    Severity.WARNING,
    group=Group.HEIGHT,
    subject="aircraft",
    at_times=(Severity.NOTE,),
    source="the aircraft file's climb",
    remedy="plan a lower level",
    passing=sample(*FLOWN_BY_FILE, "route XHAR QHB V801 QEL XOLD"),
    failing=sample(*FLOWN_BY_FILE),
)
def cruise_not_reached(case: Case) -> Iterator[Found]:
    """The climb does not reach the planned level before the descent or the landing.

    A note up to 200 ft, the level as flown, and on the way to an alternate at the flight's level, which nobody
    chose for it: minimums are held against the height that is reached.
    """
    request = case.log.route.request
    for sector in _sectors(case):
        if all(leg.phase is not Phase.CLIMB for leg in sector):
            continue
        highest = max(sector, key=lambda leg: leg.end_altitude_ft)
        # A level before the highest place that a lower one follows: the climb went on to that one, and was long enough.
        planned = max((leg for leg in sector if leg.stretch.number >= highest.stretch.number), key=_planned_ft)
        planned_ft = _planned_ft(planned)
        if below(highest.end_altitude_ft, planned_ft):
            reached, short_ft = whole(highest.end_altitude_ft), planned_ft - highest.end_altitude_ft
            message = f"cruise altitude not reached: {reached} ft of {flown_text(planned, planned_ft)}"
            taken_over = request.cruise_taken_over and planned.stretch.level == request.cruise
            if taken_over:
                message += ", the flight's level; `at LEVEL` behind the alternate plans another"
            mild = taken_over or short_ft <= _AS_FLOWN_FT
            yield Found(message, highest, Severity.NOTE if mild else None, by=short_ft)


def _planned_ft(leg: Leg) -> float:
    """The altitude of a leg's planned level."""
    return level_altitude_ft(leg.stretch.level, leg.altimeter_hpa)


@rule(
    "arrival-height",
    Severity.WARNING,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR, Severity.NOTE),
    source="no descent below a leg's minimum before its end; the aircraft file's descent",
    remedy="plan a longer last leg or a lower level; what is left is lost at the airport, as ATC or the chart lets you",
    passing=_BY_FILE,
    failing=sample(*FLOWN_BY_FILE, "airway V801 QHB 212 - 034 QEL 29.5nm mea 9000", "altitude 9000", "rules ifr"),
)
def arrival_height(case: Case) -> Iterator[Found]:
    """The flight arrives higher than its pattern or field, or below it: an error below the field.

    The time and fuel that the height to lose takes are in the log; where it is lost is not told. A note under IFR up
    to 5,000 ft, which an approach loses.
    """
    for sector in _sectors(case):
        leg = sector[-1]
        place = leg.stretch.end.place
        if not isinstance(place, Airport) or place.elevation_ft is None:
            continue
        pattern_ft = case.request.pattern_ft if leg is case.legs[-1] else None
        if case.request.rules == "vfr" and pattern_ft is None and leg.phase in _DOWN:
            pattern_ft = place.elevation_ft + PATTERN_FT
        goal_ft, end_ft = place.elevation_ft if pattern_ft is None else pattern_ft, leg.end_altitude_ft
        if leg.phase is not _LOSING and not below(end_ft, max(goal_ft, place.elevation_ft)):
            continue
        goal = f"the {'field' if pattern_ft is None else 'pattern'} at {whole(goal_ft)} ft"
        if leg.phase is _LOSING:
            message = f"{place.ident} is reached {_to_lose(case, leg)} above {goal}"
            to_lose_ft = leg.start_altitude_ft - end_ft
            routine = case.request.rules == "ifr" and to_lose_ft <= _APPROACH_FT
            yield Found(message, leg, Severity.NOTE if routine else None, by=to_lose_ft)
            continue
        if below(end_ft, place.elevation_ft):
            field = f"the field at {whole(place.elevation_ft)} ft"
            yield Found(f"{place.ident} is reached at {whole(end_ft)} ft, below {field}", leg, Severity.ERROR)
        elif below(end_ft, goal_ft):
            yield Found(f"{place.ident} is reached at {whole(end_ft)} ft, below {goal}", leg)


def _climbs_at(leg: Leg, point: RouteWord) -> bool:
    """Whether a leg is a climb in the hold at a point."""
    climbs = leg.phase is Phase.HOLD and leg.end_altitude_ft > leg.start_altitude_ft
    return climbs and leg.end.point is not None and names(point, leg.end.point)


def _to_lose(case: Case, leg: Leg) -> str:
    """The height to lose at an airport, with the time and fuel planned for it."""
    height = f"{whole(leg.start_altitude_ft - leg.end_altitude_ft)} ft"
    count = case.count(leg)
    taken = [] if count.time_min is None else [f"{count.time_min} min"]
    if count.fuel_steps is not None:
        taken.append(in_steps(case.log, count.fuel_steps))
    return f"{height} ({' and '.join(taken)} planned to lose it)" if taken else height


@once_a_flight
@rule(
    "climb-in-hold",
    Severity.WARNING,
    group=Group.HEIGHT,
    subject="hold",
    at_times=(Severity.NOTE,),
    source="AIM 5-3-8: only a published climb in the hold is protected for it",
    remedy="ask ATC for the climb in the hold, or plan the climb before the point",
    passing=_BY_FILE,
    failing=sample(*FLOWN_BY_FILE, "hold QHB until 5500ft"),
)
def climb_in_hold(case: Case) -> Iterator[Found]:
    """A climb in the hold is planned: it has protected airspace only where one is published, and is asked of ATC.

    A note where the flight is at the height already or cannot climb there.
    """
    for asked in case.request.holds:
        if asked.until is None:
            continue
        climbs = [leg for leg in case.legs if _climbs_at(leg, asked.point)]
        top = level(asked.until.altitude_ft, flight_level=asked.until.flight_level)
        for leg in climbs:
            message = f"the climb in the hold at {leg.end.name} has protected airspace only where one is published"
            yield Found(f"{message}: ask ATC for it{_above_plan(case, leg, top)}", leg, span=asked.span)
        if not climbs:
            why = "the flight is that high already, or on its last descent"
            if any(leg.triangle is None for leg in case.legs if not leg.stays):
                why = "a leg has no wind or no course"
            message = f"no climb in the hold at {asked.point.name} to {top} is flown: {why}"
            yield Found(message, None, Severity.NOTE, asked.span)


def _above_plan(case: Case, hold: Leg, top: str) -> str:
    """That a climb in the hold ends above the level planned from there on; empty where it does not."""
    planned = next((leg.stretch.level for leg in case.legs[hold.number :]), hold.stretch.level)
    if not below(level_altitude_ft(planned, hold.altimeter_hpa), hold.end_altitude_ft):
        return ""
    onward = level(planned.altitude_ft, flight_level=planned.flight_level)
    return f"; it ends at {top}, above the {onward} planned from there; is one of them a slip?"


@rule(
    "compass-card-silent",
    Severity.WARNING,
    group=Group.REST,
    subject="aircraft",
    source="the aircraft file's compass card",
    remedy="add the heading to the card, or steer the magnetic heading with care",
    passing=_BY_FILE,
    failing=sample("aircraft half_card.toml"),
)
def compass_card_silent(case: Case) -> Iterator[Found]:
    """The compass card says nothing near a heading that is flown."""
    aircraft = case.log.conditions.aircraft
    if aircraft is None or aircraft.compass is None:
        return
    for leg in case.legs:
        if leg.magnetic_heading_deg is not None and leg.deviation_deg is None:
            yield Found(f"the compass card says nothing near {by_north(leg, course(leg.magnetic_heading_deg))}", leg)


@once_a_case
def _sectors(case: Case) -> Iterator[tuple[Leg, ...]]:
    """The legs between take-offs and landings."""
    sector: list[Leg] = []
    for leg in case.legs:
        sector.append(leg)
        if leg.lands or leg is case.legs[-1]:
            yield tuple(sector)
            sector = []
