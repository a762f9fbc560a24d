"""What is timed in flight: points of the route with the clock at each, and the parts flown between them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from msgspec import Struct

from navlog.flightlog.records import Leg, LegPoint, Log, Phase
from navlog.nav.angles import difference_deg
from navlog.nav.norths import Direction, read_direction, true_deg
from navlog.nav.problems import NavlogError, Span, at, problem_error
from navlog.nav.record import changed
from navlog.nav.spelling import suggestion
from navlog.nav.units import DAY_MIN, read_clock_min
from navlog.nav.wind import CALM, Wind, mix, triangle
from navlog.resolve.route import PointKind
from navlog.resolve.sections import BEND_DEG

_LONGEST = timedelta(hours=12)
"""A clock time farther ahead than this is one before: no stretch takes that long."""

_FITS_MIN = 1.0
"""A time this near to the plan's is that of the passage planned then."""

_OTHER_PASSAGE_MIN = 30.0
"""A time farther than this from the plan's is not that of the next passage, if a later one fits it."""

_FASTEST = 2.0
"""More than this many times the true airspeed over the ground is a slip of the pen."""

CLOCK_MIN = 0.5
"""A clock read to the whole minute is off by up to this much."""

DOUBTFUL_KT = 40.0
"""A wind or groundspeed farther from the plan is more often a slip of clock or point (common practice, no source)."""

_SHORTEST_MIN = 5.0
"""In less than this half a minute of the clock is more than a tenth of the groundspeed (common practice, no source)."""


class Passed(Struct, frozen=True):
    """A point passed: the leg that ends there, the moment, and the true heading that held the course to it.

    `taken` says in words which of several passages the time was taken for, None where there was no doubt.
    """

    leg: Leg
    moment: datetime
    true_heading_deg: float | None = None
    taken: str | None = None

    @property
    def name(self) -> str:
        """The point in words."""
        return in_words(self.leg)


class Mean(Struct, frozen=True):
    """Course, speed and forecast wind of a part flown, as means over the planned time of its legs."""

    true_course_deg: float
    tas_kt: float
    wind: Wind


class PartFlown(Struct, frozen=True):
    """What was flown between two timed points, the first of which may be take-off.

    `groundspeed_kt` is made good, `error_kt` what half a minute of the clock is worth in it; both are None
    where `reason` says why. `headwind_kt` is the headwind part that it means with the forecast's crosswind,
    `forecast_kt` that of the forecast; None where no wind can be told, and `reason` says why. `stop_min` is planned
    on the ground in it, None where it has no stop.
    """

    start: LegPoint
    passed: Passed
    legs: tuple[Leg, ...]
    distance_nm: float
    time_min: float
    planned_min: float | None
    groundspeed_kt: float | None = None
    error_kt: float | None = None
    mean: Mean | None = None
    headwind_kt: float | None = None
    forecast_kt: float | None = None
    reason: str | None = None
    stop_min: float | None = None

    @property
    def forecast_given(self) -> bool:
        """Whether its wind is forecast; where none is, `forecast_kt` is that of calm."""
        return self.legs[0].wind is not None

    @property
    def planned_kt(self) -> float | None:
        """The groundspeed that the forecast gave."""
        return self.distance_nm / self.planned_min * 60.0 if self.planned_min and self.distance_nm else None

    @property
    def doubtful_kt(self) -> float | None:
        """The groundspeed nearest to the planned one that the clock allows, where that is still far from it.

        Within a minute between two times in whole minutes any slower speed may have been flown.
        With a stop in it what is flown faster than planned left no time to stand; a hold is as long as one likes.
        """
        planned_kt = self.planned_kt
        if planned_kt is None or any(leg.stays for leg in self.legs):
            return None
        least_kt = self.distance_nm / (self.time_min + CLOCK_MIN) * 60.0
        if least_kt > planned_kt + (DOUBTFUL_KT if self.stop_min is None else 0.0):
            return least_kt
        if self.stop_min is not None or self.time_min <= 2.0 * CLOCK_MIN:
            return None
        most_kt = self.distance_nm / (self.time_min - CLOCK_MIN) * 60.0
        return most_kt if most_kt < planned_kt - DOUBTFUL_KT else None


def passed_points(
    log: Log, actuals: Iterable[tuple[str, str]], headings: Iterable[tuple[str, str]] = ()
) -> tuple[Passed, ...]:
    """The points passed, as typed: names of points (`cop` the next changeover point) with times in UTC.

    A point passed twice is each time the next pass not yet timed; a single time may be of a later one, or of the end of
    a hold, that alone fits it. `headings` are points with the heading that held the course to them. Raises a problem
    for a point that is not ahead, a time before take-off or out of order, and a flight without `off`.
    """
    if log.conditions.off is None:
        raise problem_error("no-off", "the flight has no take-off time", hint="give --off 15:10Z")
    found: list[Passed] = []
    names: list[str] = []
    before, before_name, index = log.conditions.off, "take-off", 0
    typed = tuple(actuals)
    for number, (name, clock) in enumerate(typed):
        place = Span("--at", 1, 1, len(name) + 1 + len(clock))
        try:
            last, index = index, _next_pass(log, name, index)
            place = Span("--at", 1, len(name) + 2, max(len(clock), 1))
            moment = _next_moment(before, before_name, clock)
        except NavlogError as error:
            raise at(error, place, f"{name} {clock}") from None
        taken = None
        if not any(other.upper() == name.upper() for other, _ in typed[number + 1 :]):
            index, taken = _pass_meant(log, (last, index), name, (moment - before).total_seconds() / 60.0, clock)
        found.append(Passed(log.legs[index - 1], moment, taken=taken))
        names.append(name.upper())
        before, before_name = moment, found[-1].name
    if not found:
        raise problem_error("no-times", "no point is timed", hint="give one with --at QHB 15:42")
    return _with_headings(found, names, headings)


def _next_pass(log: Log, name: str, index: int) -> int:
    """How many legs are flown when a point is passed next, after `index` of them."""
    for number in range(index, len(log.legs)):
        if _is_called(log.legs[number], name):
            return number + 1
    if any(_is_called(leg, name) for leg in log.legs[:index]):
        raise problem_error("point-passed", f"`{name}` is not passed again after {in_words(log.legs[index - 1])}")
    known = dict.fromkeys(leg.end.name for leg in log.legs if leg.end.point is not None)
    near = suggestion(name, known)
    hint = f"did you mean `{near}`?" if near else f"points ahead are {', '.join(known)}, or cop"
    raise problem_error("unknown-point", f"the flight does not pass `{name}`", hint=hint)


def _pass_meant(log: Log, legs: tuple[int, int], name: str, minutes: float, clock: str) -> tuple[int, str | None]:
    """The passage that a single time of a point is of, as how many legs are flown, and in words where others may be.

    `legs` are those flown at the point timed before and at the next passage, `minutes` the time from the one on.
    """
    last, first = legs
    flown = log.legs[last - 1].elapsed_min if last else 0.0
    after = {number: _off_plan_min(log.legs[number - 1], flown, minutes) for number in range(first, len(log.legs) + 1)}
    off_min, held = after[first], first
    while held < len(log.legs) and log.legs[held].phase is Phase.HOLD and _is_called(log.legs[held], name):
        held += 1
    end_min, twice = after[held], f"give --at {name.upper()} twice to time both"
    if held > first:
        if end_min is not None and off_min is not None and abs(end_min) <= min(_FITS_MIN, abs(off_min)):
            return held, f"{clock} at {name.upper()} is taken for the end of the hold there: {twice}"
        if off_min is None or off_min > _FITS_MIN:
            return first, f"{clock} at {name.upper()} is taken for the arrival there, before the hold: {twice}"
        return first, None
    if off_min is None or abs(off_min) <= _OTHER_PASSAGE_MIN or name.lower() == "cop":
        return first, None
    for number in range(held + 1, len(log.legs) + 1):
        there_min = after[number]
        if there_min is not None and abs(there_min) <= _FITS_MIN and _is_called(log.legs[number - 1], name):
            each = f"give --at {name.upper()} once for each passage"
            return number, f"{clock} at {name.upper()} is taken for a later passage, planned about then: {each}"
    return first, None


def _off_plan_min(leg: Leg, flown_min: float | None, minutes: float) -> float | None:
    """How much later than planned a leg ends, counted from the point timed before; None where no time is planned."""
    return None if leg.elapsed_min is None or flown_min is None else minutes - (leg.elapsed_min - flown_min)


def _is_called(leg: Leg, name: str) -> bool:
    """Whether a leg ends at the point of that name, or at a changeover point for `cop`."""
    if leg.end.point is not None and leg.end.name.upper() == name.upper():
        return True
    return name.lower() == "cop" and leg.changeover is not None


def in_words(leg: Leg) -> str:
    """The end of a leg in words."""
    return "the changeover point" if leg.end.kind == PointKind.CHANGEOVER else leg.end.name


def _next_moment(before: datetime, before_name: str, clock: str) -> datetime:
    """The moment of a time of day at or after another moment, over midnight too."""
    minutes = read_clock_min(clock)
    midnight = before.replace(hour=0, minute=0, second=0, microsecond=0)
    moment = midnight + timedelta(minutes=minutes)
    if moment < before:
        moment += timedelta(minutes=DAY_MIN)
    # A time that seems to be nearly a day ahead is one before, typed out of order.
    if moment - before > _LONGEST:
        raise problem_error(
            "time-out-of-order",
            f"{clock} is before {before_name} at {before:%H:%M}Z",
            hint="give the points in the order flown, with times in UTC",
        )
    return moment


def _with_headings(found: list[Passed], names: list[str], headings: Iterable[tuple[str, str]]) -> tuple[Passed, ...]:
    """The points with the headings that held the course to them, made true; the latest pass of a name is meant."""
    held: dict[int, float] = {}
    for name, text in headings:
        place = Span("--heading", 1, 1, len(name) + 1 + len(text))
        try:
            if name.upper() not in names:
                raise problem_error("unknown-point", f"`{name}` has a heading and no time", hint="time it with --at")
            index = len(names) - 1 - names[::-1].index(name.upper())
            direction: Direction = read_direction(text)
            if index in held:
                raise problem_error("given-twice", f"the heading to `{name}` is given twice")
            leg = found[index].leg
            held[index] = true_deg(direction, leg.variation_deg)
            # No wind below the airspeed turns the nose by a right angle.
            if leg.true_course_deg is not None and abs(difference_deg(held[index], leg.true_course_deg)) > 90.0:
                message = f"no wind that can be flown in holds the course to `{name}` with the nose behind it"
                raise problem_error("unlikely-heading", message, hint="is it the reciprocal?")
        except NavlogError as error:
            raise at(error, place, f"{name} {text}") from None
    return tuple(changed(one, true_heading_deg=held.get(index)) for index, one in enumerate(found))


def parts_flown(log: Log, points: tuple[Passed, ...]) -> tuple[PartFlown, ...]:
    """The parts between take-off and the points passed.

    Raises a `no-time` problem for a part flown in no time or impossibly fast.
    """
    found: list[PartFlown] = []
    start, moment, flown = log.legs[0].start, log.conditions.off, 0
    assert moment is not None
    for point in points:
        legs = log.legs[flown : point.leg.number]
        minutes = (point.moment - moment).total_seconds() / 60.0
        stood = [leg.stop_min for leg in log.legs[max(flown - 1, 0) : point.leg.number - 1] if leg.lands]
        found.append(_part_flown(start, point, legs, minutes, sum(stood) if stood else None))
        start, moment, flown = point.leg.end, point.moment, point.leg.number
    return tuple(found)


def _part_flown(
    start: LegPoint, point: Passed, legs: tuple[Leg, ...], minutes: float, stop_min: float | None
) -> PartFlown:
    """One part: groundspeed made good and, where it tells, the headwind part."""
    distance_nm = sum(leg.distance_nm for leg in legs)
    times = [leg.time_min for leg in legs]
    planned_min = None if None in times else sum(time for time in times if time is not None)
    part = (start, point, legs, distance_nm, minutes, planned_min)
    groundspeed_kt = _made_good_kt(point, legs, distance_nm, minutes)
    # How long it stood nobody timed, so no speed can be made of it.
    if stop_min is not None:
        return PartFlown(*part, reason="a stop on the ground lies in it", stop_min=stop_min)
    if any(leg.stays for leg in legs):
        return PartFlown(*part, reason="a hold lies in it")
    if groundspeed_kt is None:
        return PartFlown(*part, reason="it is too short: both ends are passed in one minute of the clock")
    # Speed is distance over time: half a minute of the time is the same share of the speed.
    speeds = (groundspeed_kt, groundspeed_kt * 0.5 / minutes)
    if minutes < _SHORTEST_MIN:
        return PartFlown(*part, *speeds, reason="it is too short: half a minute is more than a tenth of it")
    mean = _mean_of(legs)
    if isinstance(mean, str):
        return PartFlown(*part, *speeds, reason=mean)
    forecast = triangle(true_course_deg=mean.true_course_deg, tas_kt=mean.tas_kt, wind=mean.wind)
    if forecast.groundspeed_kt is None:
        return PartFlown(*part, *speeds, reason="it could not be flown in the forecast wind")
    planned_kt = distance_nm / planned_min * 60.0 if planned_min else forecast.groundspeed_kt
    return PartFlown(
        *part,
        *speeds,
        mean,
        # The shortfall against the plan's own speed, which has climbs and layers in it, not against the triangle's.
        headwind_kt=forecast.headwind_kt + planned_kt - groundspeed_kt,
        forecast_kt=forecast.headwind_kt,
    )


def _made_good_kt(point: Passed, legs: tuple[Leg, ...], distance_nm: float, minutes: float) -> float | None:
    """The groundspeed made good; None for what may have been flown between two readings of one minute."""
    tas_kt = max((leg.tas_kt for leg in legs if leg.tas_kt is not None), default=None)
    fastest_kt = _FASTEST * tas_kt if tas_kt is not None else 1_000.0
    if minutes < 0.0 or distance_nm / (minutes + CLOCK_MIN) * 60.0 > fastest_kt:
        raise problem_error(
            "no-time",
            f"{distance_nm:.1f} NM to {point.name} cannot be flown in {minutes:.0f} min",
            span=Span("--at", 1),
            hint="check the times",
        )
    return distance_nm / minutes * 60.0 if minutes else None


def _mean_of(legs: tuple[Leg, ...]) -> Mean | str:
    """The mean course, speed and forecast wind of a part, or why it has none."""
    known = [(leg, leg.true_course_deg, leg.tas_kt) for leg in legs]
    weights = [leg.time_min if leg.time_min is not None else leg.distance_nm for leg in legs]
    total = sum(weights)
    if not total or any(course is None or tas is None for _, course, tas in known):
        return "its course or true airspeed is not known"
    courses = [(course or 0.0, weight) for (_, course, _), weight in zip(known, weights, strict=True)]
    # As unit vectors, so that 359 and 001 have a mean of north.
    course_deg = mix((Wind(course, 1.0), weight) for course, weight in courses).from_true_deg
    if any(abs(difference_deg(course, course_deg)) > BEND_DEG for course, _ in courses):
        return f"the course turns by more than {BEND_DEG:g} degrees in it"
    tas_kt = sum((tas or 0.0) * weight for (_, _, tas), weight in zip(known, weights, strict=True)) / total
    wind = mix((leg.wind or CALM, weight) for leg, weight in zip(legs, weights, strict=True))
    return Mean(course_deg, tas_kt, wind)
