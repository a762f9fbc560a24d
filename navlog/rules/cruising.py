"""Cruising levels by the printed course that is set when leaving a point."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.records import Leg, Phase
from navlog.nav import figures
from navlog.nav.angles import difference_deg
from navlog.nav.cruising_levels import TABLES, LevelTable, fits, levels_around_ft
from navlog.nav.figures import whole_course
from navlog.request.records import Level
from navlog.rules.heights import lowest_elevation_ft
from navlog.rules.needle import doubted
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, sample
from navlog.rules.settings import printed_setting

_NEAR_BOUNDARY_DEG = 3
"""So near the end of a half of the compass another reference may say the other half (practice case A42)."""

_LEADS_BACK_DEG = 90.0
"""A setting farther off the leg's true course leads back."""

_CLASS_A_FT = 18_000.0
"""14 CFR 71.33; above it flight levels are flown, under IFR alone."""


@rule(
    "cruising-level",
    Severity.WARNING,
    group=Group.REST,
    at_times=(Severity.NOTE,),
    source="14 CFR 91.159, 91.179; ICAO Annex 2, appendix 3; NZ CAR 91.313, 91.425",
    remedy="plan a level of the other half, or name the table that holds there: `levels us`, `icao` or `nz`",
    passing=BASE,
    failing=sample("altitude 5500"),
)
def cruising_level(case: Case) -> Iterator[Found]:
    """A cruising level is not one for the direction of flight, or only by one way to count the course.

    The course counts, not the heading, as printed: the one set on leaving the point. Where stations are
    true-referenced it is the true track, as in Canada's Northern Domestic Airspace. A note under IFR, since
    14 CFR 91.179 holds in uncontrolled airspace only; also a note where another setting of the same stretch
    or the model's course is of the other half, or the course is within 3 degrees of where the levels change.
    A setting that leads more than 90 degrees off the leg is no course to go by: the model's stands in. Where one of
    two radials is the wrong way round and none tells which, nothing is told. Told once for each level and half of the
    compass.
    """
    request = case.request
    table = TABLES.get(request.levels)
    if table is None:
        return
    told: set[tuple[str, float, bool]] = set()
    surface_ft = lowest_elevation_ft(case) or 0.0
    cruising = {leg.stretch.number for leg in case.legs if leg.phase is Phase.CRUISE}
    wrong_way = doubted(case)
    for leg in case.first_legs:
        stretch = leg.stretch
        level = stretch.level
        # Climbing and descending through a level is flying at none (91.159: `in level cruising flight`).
        if stretch.number not in cruising or stretch.number in wrong_way:
            continue
        if not table.binds(request.rules, level.altitude_ft, surface_ft):
            continue
        # As printed and set, whole degrees: what the pilot reads is what he chooses the level by.
        course = course_leaving(leg)
        if course is None:
            continue
        odd = table.is_odd(course)
        wrong = not fits(level.altitude_ft, odd=odd, rules=request.rules)
        if wrong and _first_of(told, "wrong", level, odd):
            message = _wrong_level(table, request.rules, level, course, _course_words(leg, course))
            yield Found(message, leg, Severity.NOTE if request.rules == "ifr" else None)
        # One level serves a whole stretch; where its settings lie in two halves no level fits both.
        across = _other_half(case, leg, table, odd)
        if across is not None and _first_of(told, "across", level, odd):
            message = f"{_course_words(leg, course)} counts for the level; {across:03d} is of the other half"
            yield Found(message, leg, Severity.NOTE)
        elif (
            across is None and table.boundary_deg(course) <= _NEAR_BOUNDARY_DEG and _first_of(told, "near", level, odd)
        ):
            near = f"within {_NEAR_BOUNDARY_DEG} degrees of where the levels change"
            message = f"{_course_words(leg, course)} is {near}"
            yield Found(message, leg, Severity.NOTE)


def _first_of(told: set[tuple[str, float, bool]], what: str, level: Level, odd: bool) -> bool:
    """Whether something was not yet told of a level in this half of the compass; from now on it is."""
    key = what, level.altitude_ft, odd
    if key in told:
        return False
    told.add(key)
    return True


def _by_true_track(leg: Leg) -> bool:
    """Whether the true track counts: where the station is true-referenced."""
    return leg.part.guidance is not None and leg.part.guidance.station.true_referenced


def _model_course(leg: Leg) -> int | None:
    """The whole-degree course of a leg by position and model."""
    course_deg = leg.true_course_deg if _by_true_track(leg) else leg.magnetic_course_deg
    return None if course_deg is None else whole_course(course_deg)


def course_leaving(leg: Leg) -> int | None:
    """The course by which the level is chosen: the one set on the leg that begins a stretch, else the model's."""
    return _sound_setting(leg) or _model_course(leg)


def _sound_setting(leg: Leg) -> int | None:
    """The course set on a leg; None without one, and where it leads back: the rules on radials tell that."""
    setting, true_deg, guidance = printed_setting(leg), leg.true_course_deg, leg.part.guidance
    if setting is None or true_deg is None or guidance is None or guidance.station.declination_deg is None:
        return setting
    leads_back = abs(difference_deg(setting + guidance.station.declination_deg, true_deg)) > _LEADS_BACK_DEG
    return None if leads_back else setting


def _course_words(leg: Leg, course: int) -> str:
    """Which course it is that counts: the one set on the selector on leaving, else the model's."""
    north = "true" if _by_true_track(leg) else "magnetic"
    return f"set course {course:03d} {north}" if _sound_setting(leg) else f"the model's course {course:03d} {north}"


def _wrong_level(table: LevelTable, rules: str, level: Level, course: int, words: str) -> str:
    """What is wrong with a level on a course, which ones would be right, and when the rule holds."""
    odd = table.is_odd(course)
    levels_ft = levels_around_ft(level.altitude_ft, odd=odd, rules=rules)
    # A table of VFR levels ends where no more are to be had.
    some = " or ".join(str(one) for one in levels_ft if rules != "vfr" or one < table.vfr_below_ft)
    planned = figures.level(level.altitude_ft, flight_level=level.flight_level)
    thousands = f"{'odd' if odd else 'even'} thousands{' plus 500' if rules == 'vfr' else ''}"
    when = "in uncontrolled airspace"
    if rules == "vfr":
        when = f"if more than {table.vfr_above_surface_ft:.0f} ft above the surface"
    return f"{planned} on {words}: {thousands} hold {when}, {some} ft ({table.source(rules)})"


def _other_half(case: Case, first: Leg, table: LevelTable, odd: bool) -> int | None:
    """Another setting of the stretch that `first` begins, or the model's course there, of the other half."""
    model = _model_course(first)
    if model is not None and table.is_odd(model) is not odd:
        return model
    for leg in case.legs[first.number :]:
        if leg.stretch is not first.stretch:
            return None
        setting = _sound_setting(leg)
        if setting is not None and table.is_odd(setting) is not odd:
            return setting
    return None


@rule(
    "vfr-too-high",
    Severity.ERROR,
    group=Group.REST,
    source="14 CFR 91.135, 91.159, 71.33: from 18,000 ft the airspace is of class A, which VFR may not enter",
    remedy="plan 17,500 ft at most, fly under IFR, or name the table of levels that holds there",
    passing=sample("altitude 17500", "wind 18000 230/12"),
    failing=sample("altitude FL185", "wind 18000 230/12"),
)
def vfr_too_high(case: Case) -> Iterator[Found]:
    """A VFR flight is planned at or above 18,000 ft where the levels of the United States hold."""
    if case.request.rules != "vfr" or case.request.levels != "us":
        return
    for leg in case.first_legs:
        level = leg.stretch.level
        if level.altitude_ft >= _CLASS_A_FT:
            planned = figures.level(level.altitude_ft, flight_level=level.flight_level)
            yield Found(f"{planned} is no level for VFR: class A begins at 18000 ft", leg)
            return


@once_a_flight
@rule(
    "levels-unknown",
    Severity.WARNING,
    group=Group.REST,
    source="the tables of `levels`: us, icao, nz",
    remedy="write `levels us`, `levels icao` or `levels nz`, and check other tables by hand",
    passing=BASE,
    failing=sample("levels mars"),
)
def levels_unknown(case: Case) -> Iterator[Found]:
    """The table of cruising levels that the flight names is not known, so none is checked."""
    if case.request.levels not in TABLES:
        known = ", ".join(TABLES)
        message = (
            f"no table of cruising levels is called `{case.request.levels}`, there are {known}; levels are not checked"
        )
        yield Found(message, span=case.request.spans.get("levels"))
