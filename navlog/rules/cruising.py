"""Cruising levels by the printed course that is set when leaving a point."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from navlog.cruising_levels import TABLES, LevelTable, fits, levels_around_ft
from navlog.figures import level, whole_course
from navlog.flightlog.records import Leg, Phase
from navlog.rules.heights import lowest_elevation_ft
from navlog.rules.registry import Case, Found, Rule, Severity, rule
from navlog.rules.samples import BASE, sample
from navlog.rules.settings import printed_setting

NEAR_BOUNDARY_DEG = 3
"""So near the end of a half of the compass another reference may say the other half (practice case A42)."""


@dataclass(frozen=True, slots=True)
class Cruise:
    """A stretch flown level: the course that counts, and the others that a stricter reader may use."""

    leg: Leg
    course: int
    others: frozenset[int]
    north: str
    table: LevelTable
    rules: str

    @property
    def altitude_ft(self) -> float:
        """The level planned."""
        return self.leg.stretch.level.altitude_ft

    def fits(self, course: int) -> bool:
        """Whether the planned level is one for a course."""
        return fits(self.altitude_ft, odd=self.table.is_odd(course), rules=self.rules)


def cruises(case: Case) -> Iterator[Cruise]:
    """The stretches that are flown level where the flight's table of levels says something."""
    request = case.request
    table = TABLES.get(request.levels)
    if table is None:
        return
    surface_ft = lowest_elevation_ft(case) or 0.0
    if not any(table.binds(request.rules, one.stretch.level.altitude_ft, surface_ft) for one in case.first_legs):
        return
    level_numbers = {
        leg.stretch.number
        for leg in case.legs
        if leg.phase is Phase.CRUISE and leg.start_altitude_ft == leg.end_altitude_ft
    }
    for leg in case.first_legs:
        stretch = leg.stretch
        if stretch.number not in level_numbers or not table.binds(request.rules, stretch.level.altitude_ft, surface_ft):
            continue
        true = by_true_track(leg)
        model, leaving = model_course(leg), course_leaving(leg)
        if leaving is None:
            continue
        settings = {printed_setting(one) for one in legs_of(case, leg)}
        others = frozenset(one for one in (*settings, model) if one is not None) - {leaving}
        yield Cruise(leg, leaving, others, "true" if true else "magnetic", table, request.rules)


def by_true_track(leg: Leg) -> bool:
    """Whether the true track counts: where the station is true-referenced."""
    return leg.part.guidance is not None and leg.part.guidance.station.true_referenced


def model_course(leg: Leg) -> int | None:
    """The whole-degree course of a leg by position and model."""
    course_deg = leg.true_course_deg if by_true_track(leg) else leg.magnetic_course_deg
    return None if course_deg is None else whole_course(course_deg)


def course_leaving(leg: Leg) -> int | None:
    """The course by which the level is chosen: the one set on the leg that begins a stretch, else the model's."""
    return printed_setting(leg) or model_course(leg)


def legs_of(case: Case, first: Leg) -> Iterator[Leg]:
    """The legs of the stretch that `first` begins."""
    for leg in case.legs[first.number - 1 :]:
        if leg.stretch is not first.stretch:
            return
        yield leg


@rule(
    "cruising-level",
    Severity.WARNING,
    source="14 CFR 91.159, 91.179; ICAO Annex 2, appendix 3; NZ CAR 91.313, 91.425",
    remedy="plan a level of the other half, or name the table that holds there: `levels us`, `icao` or `nz`",
    passing=BASE,
    failing=sample("altitude 5500"),
)
def cruising_level(case: Case) -> Iterator[Found]:
    """A cruising level is not one for the direction of flight.

    The course counts, not the heading, as printed: the one set on leaving the point. Where stations are
    true-referenced it is the true track, as in Canada's Northern Domestic Airspace. A note under IFR, since
    14 CFR 91.179 holds in uncontrolled airspace only.
    """
    for cruise in cruises(case):
        if cruise.fits(cruise.course):
            continue
        odd = cruise.table.is_odd(cruise.course)
        below_ft, above_ft = levels_around_ft(cruise.altitude_ft, odd=odd, rules=cruise.rules)
        planned = level(cruise.altitude_ft, flight_level=cruise.leg.stretch.level.flight_level)
        when = (
            "in uncontrolled airspace"
            if cruise.rules == "ifr"
            else f"if more than {cruise.table.vfr_above_surface_ft:.0f} ft above the surface"
        )
        thousands = f"{'odd' if odd else 'even'} thousands{' plus 500' if cruise.rules == 'vfr' else ''}"
        message = (
            f"{planned} on course {cruise.course:03d} {cruise.north}: {thousands} hold {when},"
            f" {below_ft} or {above_ft} ft ({cruise.table.source(cruise.rules)})"
        )
        yield Found(message, cruise.leg, Severity.NOTE if cruise.rules == "ifr" else None)


@rule(
    "cruising-level-boundary",
    Severity.NOTE,
    source="14 CFR 91.159; practice case of 179 charted and 181 computed",
    remedy="say by which course you chose the level; the charted one counts here",
    passing=BASE,
    failing=sample(
        "station QEL 110.20 N45 44.10 W039 33.00 decl 17E class L dme elev 410ft",
        "station QHB 113.70 N46 12.30 W039 20.70 decl 15E class L dme elev 820ft",
        "airway V801 QHB 182 - 000 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB",
        "airport XHAR N46 14.50 W039 07.20 elev 790ft",
    ),
)
def cruising_level_boundary(case: Case) -> Iterator[Found]:
    """The settings of a leg, or the model's course, lie in different halves of the level table.

    Also where the course set is within 3 degrees of the boundary.
    """
    for cruise in cruises(case):
        odd = cruise.table.is_odd(cruise.course)
        across = sorted(one for one in cruise.others if cruise.table.is_odd(one) is not odd)
        if across:
            listed = " and ".join(f"{one:03d}" for one in across)
            yield Found(f"course {cruise.course:03d} set on leaving counts; {listed} is of the other half", cruise.leg)
        elif cruise.table.boundary_deg(cruise.course) <= NEAR_BOUNDARY_DEG:
            message = f"course {cruise.course:03d} is within {NEAR_BOUNDARY_DEG} degrees of where the levels change"
            yield Found(message, cruise.leg)


@rule(
    "levels-unknown",
    Severity.WARNING,
    source="the tables of `levels`: us, icao, nz",
    remedy="write `levels us`, `levels icao` or `levels nz`, and check other tables by hand",
    passing=BASE,
    failing=sample("levels mars"),
)
def levels_unknown(case: Case) -> Iterator[Found]:
    """The table of cruising levels that the flight names is not known, so none is checked."""
    if case.request.levels not in TABLES:
        message = f"no table of cruising levels is called `{case.request.levels}`; levels are not checked"
        yield Found(message, span=case.request.spans.get("levels"))


RULES: tuple[Rule, ...] = (cruising_level, cruising_level_boundary, levels_unknown)
