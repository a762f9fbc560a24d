"""Cruising levels by the printed course that is set when leaving a point."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cache

from navlog.flightlog.records import Leg, Phase
from navlog.nav import figures
from navlog.nav.angles import difference_deg
from navlog.nav.chart import Source
from navlog.nav.cruising_levels import NO_REDUCED_FROM_FT, NZ, TABLES, US, LevelTable, fits, levels_around_ft
from navlog.nav.figures import whole_course
from navlog.nav.units import in_inches_of_mercury, setting_text
from navlog.request.records import Level
from navlog.resolve.route import Stretch
from navlog.rules.needle import doubted
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import BASE, sample

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_CRUISE = Phase.CRUISE

_NEAR_BOUNDARY_DEG = 3
"""So near the end of a half of the compass another reference may say the other half (practice case A42)."""

_LEADS_BACK_DEG = 90.0
"""A setting farther off the leg's true course leads back."""

_MOMENT_MIN = 2.0
"""Level flight no longer than this is a moment: 14 CFR 91.159 and 91.179(b) leave out holds of 2 minutes."""

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
    14 CFR 91.179 holds in uncontrolled airspace only, and nothing there on a published V airway, which is controlled
    (14 CFR 71.75, from memory); also a note where another setting of the same stretch
    or the model's course is of the other half, or the course is within 3 degrees of where the levels change.
    A setting that leads more than 90 degrees off the leg is no course to go by: the model's stands in. Where one of
    two radials is the wrong way round and none tells which, nothing is told. Told once for each level and half of the
    compass, by the longest leg in level flight there, with every such leg, but of each stretch where one is accepted;
    level flight that is over in two minutes is no cruising (the sections leave out turns and "a holding pattern of 2
    minutes or less").

    14 CFR 91.179(b), under IFR in uncontrolled airspace: below 18,000 ft "any odd thousand foot MSL altitude" on 000
    to 179, even on 180 to 359; from there to FL290 "any odd flight level (such as 190, 210, or 230)" or even; from
    FL290 in RVSM airspace, FL410 its top, "at 2,000-foot intervals beginning at and including flight level 290" or
    300; above, at 4,000-foot intervals. 91.179(a): in controlled airspace the level is the one assigned, and 91.159:
    VFR levels are those of odd or even thousands plus 500 ft, below 18,000 ft and more than 3,000 ft above the surface,
    here the lower end of each stretch, or the lowest elevation of the flight where an end's is not known.
    """
    table = TABLES[case.request.levels]
    # What is accepted on a part of the route must not silence the rest: each stretch is then told by itself.
    apart = any(one.rule == "cruising-level" and one.part is not None for one in case.request.accepted)
    told: dict[tuple[str, float, bool, int], tuple[Leg, Callable[[], str], bool]] = {}
    flown: dict[tuple[str, float, bool, int], list[Leg]] = {}
    for number, legs in by_stretch(case.legs).items():
        first = leaving(legs)
        level = first.stretch.level
        # As printed and set, whole degrees: what the pilot reads is what he chooses the level by.
        model = _model_course(first)
        course = _sound_setting(first) or model
        if course is None or (len(legs) == 1 and _is_sound(table.name, case.request.rules, level, course, model)):
            continue
        level_legs = _flown_level(case, table, legs)
        if not level_legs or number in doubted(case) or _is_controlled(case, first.stretch):
            continue
        odd = table.is_odd(course)
        for what, words, is_note in _said(case.request.rules, first, legs, table, course, model):
            longest = max(level_legs, key=lambda leg: leg.distance_nm)
            key = what, level.altitude_ft, odd, first.stretch.number if apart else 0
            flown.setdefault(key, []).extend(level_legs)
            if key not in told or told[key][0].distance_nm < longest.distance_nm:
                told[key] = longest, words, is_note
    for key, (longest, words, is_note) in told.items():
        severity = Severity.NOTE if is_note else None
        yield Found(words(), longest, severity, also=tuple(leg for leg in flown[key] if leg is not longest))


def _flown_level(case: Case, table: LevelTable, legs: list[Leg]) -> list[Leg]:
    """Of the legs of a stretch those flown level; none where the table does not bind or they are over in a moment."""
    stretch = legs[0].stretch
    if not table.binds(case.request.rules, stretch.level.altitude_ft, _surface_ft(stretch, case.ground_ft)):
        return []
    level = [leg for leg in legs if leg.phase is _CRUISE]
    return [] if _over_in_a_moment(level) else level


def _is_controlled(case: Case, stretch: Stretch) -> bool:
    """Whether an IFR flight is in controlled airspace for certain: on a published V airway below 18,000 ft.

    14 CFR 71.75, from memory: such airways are controlled from 1,200 ft above the surface up to, but not including,
    18,000 ft; 91.179(a) has the assigned level fly there.
    """
    airway = stretch.airway
    if case.request.rules != "ifr" or case.request.levels != "us" or airway is None:
        return False
    published = airway.provenance.source is not Source.FILE and stretch.via[:1] == "V" and stretch.via[1:].isdigit()
    return published and not stretch.level.flight_level and stretch.level.altitude_ft < _CLASS_A_FT


def _surface_ft(stretch: Stretch, lowest_ft: float) -> float:
    """The lower of the elevations of a stretch's ends; the lowest along the flight where one of them is not known.

    14 CFR 91.159 means the surface below: a field elsewhere on the flight says nothing of it.
    """
    start, end = stretch.start.place, stretch.end.place
    if start is None or end is None or start.elevation_ft is None or end.elevation_ft is None:
        return lowest_ft
    return min(start.elevation_ft, end.elevation_ft)


def by_stretch(legs: Iterable[Leg]) -> dict[int, list[Leg]]:
    """The legs of each stretch by its number."""
    found: dict[int, list[Leg]] = {}
    for leg in legs:
        found.setdefault(leg.stretch.number, []).append(leg)
    return found


def leaving(legs: list[Leg]) -> Leg:
    """Of the legs of one stretch that whose course counts for its level: the first one with a course.

    Where no station guides the way out of the point and nothing is known by position, that is a later leg.
    """
    first = legs[0]
    return first if len(legs) == 1 else next((leg for leg in legs if course_leaving(leg) is not None), first)


def _over_in_a_moment(legs: list[Leg]) -> bool:
    """Whether legs in level flight take two minutes at most; not where the time of one is not known."""
    total_min = 0.0
    for leg in legs:
        if leg.time_min is None:
            return False
        total_min += leg.time_min
    return total_min <= _MOMENT_MIN


def _is_sound(levels: str, rules: str, level: Level, course: int, model: int | None) -> bool:
    """Whether nothing is to be said of a level on a course, with that by position and model beside it."""
    odd, near = _half(levels, course)
    if near or (model is not None and _half(levels, model)[0] is not odd):
        return False
    return fits(level.altitude_ft, odd=odd, rules=rules)


@cache
def _half(levels: str, course: int) -> tuple[bool, bool]:
    """Whether a table has odd levels on a course, and whether that is near where the levels change."""
    table = TABLES[levels]
    return table.is_odd(course), table.boundary_deg(course) <= _NEAR_BOUNDARY_DEG


def _said(
    rules: str, first: Leg, legs: list[Leg], table: LevelTable, course: int, model: int | None
) -> Iterator[tuple[str, Callable[[], str], bool]]:
    """What is to be said of a stretch's level: which kind of matter, what makes the words, and whether it is a note.

    `course` is the one that counts there, and `model` that by position and model.
    """
    level, odd = first.stretch.level, table.is_odd(course)
    if not fits(level.altitude_ft, odd=odd, rules=rules):
        yield "wrong", lambda: _wrong_level(table, rules, level, course, _course_words(first, course)), rules == "ifr"
    # One level serves a whole stretch; where its settings lie in two halves no level fits both.
    across = model if model is not None and table.is_odd(model) is not odd else _other_half(legs, table, odd)
    if across is not None:
        half = f"counts for the level; {across:03d} is of the other half"
        yield "across", lambda: f"{_course_words(first, course)} {half}", True
    elif table.boundary_deg(course) <= _NEAR_BOUNDARY_DEG:
        near = f"is within {_NEAR_BOUNDARY_DEG} degrees of where the levels change"
        yield "near", lambda: f"{_course_words(first, course)} {near}", True


def _by_true_track(leg: Leg) -> bool:
    """Whether the true track counts: where the station is true-referenced."""
    return leg.part.guidance is not None and leg.part.guidance.station.true_referenced


def _model_course(leg: Leg) -> int | None:
    """The whole-degree course of a leg by position and model."""
    course_deg = leg.true_course_deg if _by_true_track(leg) else leg.magnetic_course_deg
    return None if course_deg is None else whole_course(course_deg)


def course_leaving(leg: Leg) -> int | None:
    """The course by which the level is chosen: the one set on the leg that leaves a point, else the model's."""
    return _sound_setting(leg) or _model_course(leg)


def _sound_setting(leg: Leg) -> int | None:
    """The course set on a leg; None without one, and where it leads back: the rules on radials tell that."""
    guidance, true_deg = leg.part.guidance, leg.true_course_deg
    if guidance is None:
        return None
    setting, north_deg = guidance.printed_setting, guidance.station.declination_deg
    if setting is None or true_deg is None or north_deg is None:
        return setting
    leads_back = abs(difference_deg(setting + north_deg, true_deg)) > _LEADS_BACK_DEG
    return None if leads_back else setting


def _course_words(leg: Leg, course: int) -> str:
    """Which course it is that counts: the one set on the selector on leaving, else the model's."""
    north = "true" if _by_true_track(leg) else "magnetic"
    return f"set course {course:03d} {north}" if _sound_setting(leg) else f"the model's course {course:03d} {north}"


def _wrong_level(table: LevelTable, rules: str, level: Level, course: int, words: str) -> str:
    """What is wrong with a level on a course, which ones would be right, and when the rule holds."""
    odd = table.is_odd(course)
    by_pressure = level.flight_level or (table is US and level.altitude_ft >= _CLASS_A_FT)
    # A table of VFR levels ends where no more are to be had.
    right_ft = [
        one
        for one in levels_around_ft(level.altitude_ft, odd=odd, rules=rules)
        if rules != "vfr" or one < table.vfr_below_ft
    ]
    planned = figures.level(level.altitude_ft, flight_level=level.flight_level)
    thousands = _steps_words(level, rules, odd=odd, by_pressure=by_pressure)
    when = "in uncontrolled airspace"
    if rules == "vfr":
        when = f"if more than {table.vfr_above_surface_ft:.0f} ft above the surface"
    elif table is US and level.altitude_ft >= _CLASS_A_FT:
        when = "where none is assigned; class A begins at 18000 ft"
    levels = _levels_words(table, level, right_ft)
    return f"{planned} on {words}: {thousands} hold {when}, {levels} ({table.source(rules)})"


def _levels_words(table: LevelTable, planned: Level, levels_ft: list[int]) -> str:
    """Levels in words: in the United States flight levels from 18,000 ft on, elsewhere as the planned one is."""
    in_feet = [one for one in levels_ft if (one < _CLASS_A_FT if table is US else not planned.flight_level)]
    feet = [f"{' or '.join(map(str, in_feet))} ft"] if in_feet else []
    return " or ".join((*feet, *(figures.level(one, flight_level=True) for one in levels_ft if one not in in_feet)))


def _steps_words(level: Level, rules: str, *, odd: bool, by_pressure: bool) -> str:
    """What the levels of a half of the compass are called."""
    if by_pressure and rules == "ifr" and level.altitude_ft > NO_REDUCED_FROM_FT:
        # There neither half of the compass is odd or even.
        return f"levels every 4000 ft from FL{450 if odd else 430}"
    kind = "thousands plus 500" if rules == "vfr" else "flight levels" if by_pressure else "thousands"
    return f"{'odd' if odd else 'even'} {kind}"


def _other_half(legs: list[Leg], table: LevelTable, odd: bool) -> int | None:
    """Another setting on a stretch than that on leaving its start, of the other half of the compass."""
    for leg in legs[1:]:
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
    too_high = [leg for leg in case.legs if leg.stretch.level.altitude_ft >= _CLASS_A_FT]
    if too_high:
        level = too_high[0].stretch.level
        planned = figures.level(level.altitude_ft, flight_level=level.flight_level)
        message = f"{planned} is no level for VFR: class A begins at 18000 ft"
        yield Found(message, too_high[0], also=_in_cruise(too_high[1:]))


def _in_cruise(legs: Iterable[Leg]) -> tuple[Leg, ...]:
    """Those of the legs that are flown level."""
    return tuple(leg for leg in legs if leg.phase is _CRUISE)


_LOWEST_USABLE = (
    (29.92, 18_000),
    (29.42, 18_500),
    (28.92, 19_000),
    (28.42, 19_500),
    (27.92, 20_000),
    (27.42, 20_500),
    (26.92, 21_000),
)
"""14 CFR 91.121(b): the lowest usable flight level in feet from an altimeter setting in inHg on, highest first."""


@rule(
    "level-unusable",
    Severity.ERROR,
    group=Group.HEIGHT,
    at_times=(Severity.WARNING,),
    source="14 CFR 91.121(a)(2), (b); NZ AIP, ENR 1.7",
    remedy="plan the lowest usable flight level or a higher one; below 18,000 ft plan an altitude",
    passing=sample("altitude FL190", "rules ifr", "altimeter 29.00inHg", "wind 18000 230/12"),
    failing=sample("altitude FL180", "rules ifr", "altimeter 28.50inHg", "wind 18000 230/12"),
)
def level_unusable(case: Case) -> Iterator[Found]:
    """A level is one that the country does not have: below its lowest flight level, or in its transition layer.

    14 CFR 91.121(b): "The lowest usable flight level is determined by the atmospheric pressure in the area of operation
    as shown in the following table": 29.92 inHg or higher 180, 29.91 through 29.42 185, 29.41 through 28.92 190, 28.91
    through 28.42 195, 28.41 through 27.92 200, 27.91 through 27.42 205, 27.41 through 26.92 210. Altitudes below
    18,000 ft are flown by the setting of a station (91.121(a)(1)), so that a flight level below 180 is none of the
    United States, nor is an altitude from there up (91.121(a)(2)): warnings, as the flight may be elsewhere:
    `levels icao`. Without a setting those alone are told. NZ AIP, ENR 1.7: the transition layer between 13,000 ft and
    FL150 can be used for climbs and descents only.
    """
    planned: dict[Level, list[Leg]] = {}
    for leg in case.legs:
        planned.setdefault(leg.stretch.level, []).append(leg)
    for leg, *rest in planned.values():
        told = _unusable(case, leg)
        if told is not None:
            message, by_ft = told
            yield Found(message, leg, None if by_ft else Severity.WARNING, by=by_ft, also=_in_cruise(rest))


def _unusable(case: Case, leg: Leg) -> tuple[str, float] | None:
    """What is wrong with the level of a leg in the United States or New Zealand, and by how many feet if too low."""
    level, levels = leg.stretch.level, case.request.levels
    # An altitude of the United States below class A, as most are.
    if levels == "us" and not level.flight_level and level.altitude_ft < _CLASS_A_FT:
        return None
    planned = figures.level(level.altitude_ft, flight_level=level.flight_level)
    if levels == "nz" and NZ.in_layer(level.altitude_ft):
        return f"{planned} lies in the transition layer, 13000 ft to FL150: it is for climbs and descents only", 0.0
    if levels != "us":
        return None
    if not level.flight_level:
        # Under VFR no level at all is to be had there, as another rule tells.
        if case.request.rules == "vfr":
            return None
        meant = figures.level(level.altitude_ft, flight_level=True)
        return f"{planned} ft is an altitude: from 18000 ft flight levels are flown, by 29.92 inHg: {meant}", 0.0
    if level.altitude_ft < _CLASS_A_FT:
        return f"{planned} is no level of the United States: below 18000 ft altitudes are flown by the setting", 0.0
    lowest_ft = _lowest_usable_ft(leg.altimeter_hpa)
    if leg.altimeter_hpa is None or level.altitude_ft >= lowest_ft:
        return None
    setting, lowest = setting_text(leg.altimeter_hpa, leg.altimeter_unit), figures.level(lowest_ft, flight_level=True)
    message = f"{planned} may not be used at {setting}: {lowest} is the lowest usable flight level"
    return message, lowest_ft - level.altitude_ft


def _lowest_usable_ft(altimeter_hpa: float | None) -> float:
    """The lowest usable flight level in feet at an altimeter setting, without one the lowest there ever is.

    Below the end of the table, 26.92 inHg, its last level stands.
    """
    if altimeter_hpa is None:
        return _CLASS_A_FT
    set_to = in_inches_of_mercury(altimeter_hpa)
    return next((ft for at_least, ft in _LOWEST_USABLE if set_to >= at_least), _LOWEST_USABLE[-1][1])
