"""The wind triangle for any two unknowns, true or magnetic.

Six numbers make the triangle: course and groundspeed, heading and true airspeed, the wind's direction and
speed. Four of them give the other two. Most pairs have one answer; where a direction is unknown without its
own speed there may be two, and both are given.
"""

from __future__ import annotations

from msgspec import Struct

from navlog.computations import passage as passages
from navlog.computations.amounts import crosswind, headwind
from navlog.computations.answer import Solution
from navlog.computations.passage import StationPassage
from navlog.nav.angles import difference_deg, normalize_deg
from navlog.nav.figures import correction, course, whole
from navlog.nav.norths import Direction, true_deg
from navlog.nav.problems import problem_error
from navlog.nav.record import changed
from navlog.nav.units import Amount
from navlog.nav.wind import Side, Triangle, Wind, complete, solve_sides, track_from_heading, triangle, wind_from_track
from navlog.nav.workings import Working

_HANDBOOK = "FAA-H-8083-25, Pilot's Handbook of Aeronautical Knowledge, chapter 16"
_NOTHING_KT = 1e-9


class Given(Struct, frozen=True):
    """What is known; None is unknown. `wind_from` goes with `wind_speed_kt`, `heading` with `tas_kt`."""

    course: Direction | None = None
    groundspeed_kt: float | None = None
    heading: Direction | None = None
    tas_kt: float | None = None
    wind_from: Direction | None = None
    wind_speed_kt: float | None = None
    variation_deg: float | None = None


class _WindAnswer(Struct, frozen=True):
    """One whole triangle. `found` names the two numbers that were computed.

    A correction, and a crosswind from, the right are positive. Magnetic directions are None without a
    variation.
    """

    found: tuple[str, ...]
    true_course_deg: float
    magnetic_course_deg: float | None
    groundspeed_kt: float
    true_heading_deg: float
    magnetic_heading_deg: float | None
    tas_kt: float
    wind_from_true_deg: float
    wind_from_magnetic_deg: float | None
    wind_speed_kt: float
    wind_correction_deg: float
    crosswind_kt: float
    headwind_kt: float
    variation_deg: float | None


def solve(given: Given) -> tuple[_WindAnswer, ...]:
    """Every triangle that fits what is given, at most two.

    Raises `wrong-number` unless exactly two numbers are missing, `impossible-triangle` where none fits,
    `undetermined` where any would, `bad-value` for a speed of 0 and `no-variation`.
    """
    for name, speed_kt in (("groundspeed", given.groundspeed_kt), ("true airspeed", given.tas_kt)):
        if speed_kt is not None and not speed_kt > 0.0:
            raise problem_error("bad-value", f"the {name} is zero", hint="a speed is above 0 kt")
    sides = (
        Side("heading", 1.0, _true(given.heading, given), given.tas_kt),
        Side("wind", -1.0, _true(given.wind_from, given), given.wind_speed_kt),
        Side("course", -1.0, _true(given.course, given), given.groundspeed_kt),
    )
    found = _unknown(sides)
    if len(found) != 2:
        raise problem_error(
            "wrong-number",
            f"four numbers of the wind triangle give the other two; given: {6 - len(found)}",
            hint="give four of course, groundspeed, heading, airspeed, wind direction and wind speed",
        )
    solved = [found for found in _solutions(found, sides) if _flyable(found)]
    if not solved:
        raise problem_error(
            "impossible-triangle", "no wind triangle has these numbers", hint="check speeds and directions"
        )
    return tuple(_answer(found, solution, given.variation_deg) for solution in solved)


def _workings(found: _WindAnswer) -> tuple[Working, ...]:
    """How the triangle's course, wind and airspeed make its heading and groundspeed, whatever was unknown."""
    angle = f"({course(found.wind_from_true_deg)} - {course(found.true_course_deg)})"
    wind = f"{whole(found.wind_speed_kt)} x {{}}{angle}"
    steps = [
        Working(
            "crosswind",
            "wind speed x sin(wind from - true course), right positive",
            wind.format("sin"),
            f"{found.crosswind_kt:.1f} kt",
            "trigonometry",
        ),
        Working(
            "headwind",
            "wind speed x cos(wind from - true course)",
            wind.format("cos"),
            f"{found.headwind_kt:.1f} kt",
            "trigonometry",
        ),
        Working(
            "wind correction",
            "sin(correction) = crosswind / true airspeed",
            f"{found.crosswind_kt:.1f} / {whole(found.tas_kt)}",
            correction(found.wind_correction_deg),
            _HANDBOOK,
        ),
        Working(
            "true heading",
            "true course + correction",
            f"{course(found.true_course_deg)} {found.wind_correction_deg:+.1f}",
            f"{course(found.true_heading_deg)}T",
            _HANDBOOK,
        ),
        Working(
            "groundspeed",
            "true airspeed x cos(correction) - headwind",
            f"{whole(found.tas_kt)} x cos({found.wind_correction_deg:.1f}) - {found.headwind_kt:.1f}",
            f"{whole(found.groundspeed_kt)} kt",
            "trigonometry",
        ),
    ]
    if found.variation_deg is not None:
        steps.append(
            Working(
                "magnetic heading",
                "true heading - variation, east positive",
                f"{course(found.true_heading_deg)} - ({found.variation_deg:+g})",
                f"{course(found.magnetic_heading_deg)}M",
                _HANDBOOK,
            )
        )
    return tuple(steps)


def _true(direction: Direction | None, given: Given) -> float | None:
    return None if direction is None else true_deg(direction, given.variation_deg)


def _unknown(sides: tuple[Side, ...]) -> tuple[str, ...]:
    speeds = {"heading": "tas", "wind": "wind speed", "course": "groundspeed"}
    names = []
    for side in sides:
        if side.direction_deg is None:
            names.append("wind direction" if side.name == "wind" else side.name)
        if side.speed_kt is None:
            names.append(speeds[side.name])
    return tuple(names)


_Solution = tuple[Side, Side, Side]


def _solutions(found: tuple[str, ...], sides: _Solution) -> list[_Solution]:
    """What `navlog.nav.wind` solves it solves; the pairs left over are solved as vectors here."""
    air, wind, ground = sides
    open_sides = [side for side in sides if side.direction_deg is None or side.speed_kt is None]
    if len(open_sides) == 1:
        return [_one_side(air, wind, ground)]
    # The flight planner's pair goes through the log's own triangle, so that both say the same of a wind too strong.
    if found == ("heading", "groundspeed"):
        flown = _triangle(ground.direction_deg, air.speed_kt, wind)
        if flown.unflyable is not None:
            raise problem_error("impossible-triangle", flown.unflyable, hint="check wind and airspeed")
        return [
            (
                changed(air, direction_deg=flown.true_heading_deg),
                wind,
                changed(ground, speed_kt=flown.groundspeed_kt),
            )
        ]
    first, second = open_sides
    (known,) = (side for side in sides if side not in open_sides)
    pairs = solve_sides(known, first, second)
    order = {side.name: index for index, side in enumerate(sides)}
    solved = [sorted((known, *pair), key=lambda side: order[side.name]) for pair in pairs]
    return [(one[0], one[1], one[2]) for one in solved]


def _triangle(course_deg: float | None, tas_kt: float | None, wind: Side) -> Triangle:
    assert course_deg is not None
    assert tas_kt is not None
    return triangle(true_course_deg=course_deg, tas_kt=tas_kt, wind=_wind(wind))


def _one_side(air: Side, wind: Side, ground: Side) -> _Solution:
    """Direction and speed of one side, from the two others."""
    if wind.direction_deg is None:
        found = wind_from_track(
            true_heading_deg=complete(air.direction_deg),
            tas_kt=complete(air.speed_kt),
            true_track_deg=complete(ground.direction_deg),
            groundspeed_kt=complete(ground.speed_kt),
        )
        return air, changed(wind, direction_deg=found.from_true_deg, speed_kt=found.speed_kt), ground
    if ground.direction_deg is None:
        made_good = track_from_heading(
            true_heading_deg=complete(air.direction_deg), tas_kt=complete(air.speed_kt), wind=_wind(wind)
        )
        return air, wind, changed(ground, direction_deg=made_good[0], speed_kt=made_good[1])
    # The air vector is the ground vector carried back by the wind.
    reverse = Wind(complete(wind.direction_deg) + 180.0, complete(wind.speed_kt))
    needed = track_from_heading(
        true_heading_deg=complete(ground.direction_deg), tas_kt=complete(ground.speed_kt), wind=reverse
    )
    return changed(air, direction_deg=needed[0], speed_kt=needed[1]), wind, ground


def _flyable(solution: _Solution) -> bool:
    air, wind, ground = solution
    # The vectors of a solved pair may add up with a speed of nothing, or one flown backward.
    return min(complete(air.speed_kt), complete(ground.speed_kt)) > _NOTHING_KT and complete(wind.speed_kt) >= 0.0


def _answer(found: tuple[str, ...], solution: _Solution, variation_deg: float | None) -> _WindAnswer:
    air, from_side, ground = solution
    course_deg, heading_deg = complete(ground.direction_deg), complete(air.direction_deg)
    wind = _wind(from_side)
    parts = triangle(true_course_deg=course_deg, tas_kt=complete(air.speed_kt), wind=wind)

    def magnetic(angle_deg: float) -> float | None:
        return None if variation_deg is None else normalize_deg(angle_deg - variation_deg)

    return _WindAnswer(
        found=found,
        true_course_deg=course_deg,
        magnetic_course_deg=magnetic(course_deg),
        groundspeed_kt=complete(ground.speed_kt),
        true_heading_deg=heading_deg,
        magnetic_heading_deg=magnetic(heading_deg),
        tas_kt=complete(air.speed_kt),
        wind_from_true_deg=wind.from_true_deg,
        wind_from_magnetic_deg=magnetic(wind.from_true_deg),
        wind_speed_kt=wind.speed_kt,
        # From the two directions, not by arcsine: in a wind stronger than the airspeed the angle may be over 90.
        wind_correction_deg=difference_deg(heading_deg, course_deg),
        crosswind_kt=parts.crosswind_kt,
        headwind_kt=parts.headwind_kt,
        variation_deg=variation_deg,
    )


def _wind(side: Side) -> Wind:
    return Wind(complete(side.direction_deg), complete(side.speed_kt))


def answers(given: Given, *, distance_nm: float | None = None, burn: Amount | None = None) -> tuple[Solution, ...]:
    """Whatever the numbers given lead to: triangles, a headwind part, or a time alone; and the passage.

    Raises what `solve` raises, and `missing-value` for a burn without a distance.
    """
    if burn is not None and distance_nm is None:
        raise problem_error("missing-value", "a burn needs a distance", hint="give the distance to be flown")

    def leg(groundspeed_kt: float) -> StationPassage | None:
        if distance_nm is None:
            return None
        return passages.passage(distance_nm=distance_nm, groundspeed_kt=groundspeed_kt, burn=burn)

    # Two speeds in one line make a headwind part, for which no direction is needed.
    speeds_alone = given.course is None and given.heading is None and given.wind_from is None
    if speeds_alone and given.wind_speed_kt is None and given.groundspeed_kt is not None:
        flown = leg(given.groundspeed_kt)
        if given.tas_kt is not None:
            part = passages.headwind(tas_kt=given.tas_kt, groundspeed_kt=given.groundspeed_kt)
            return (passages.headwind_answer(part, flown),)
        if flown is not None:
            return (passages.answer(flown),)
    solved = solve(given)
    legs = tuple(leg(found.groundspeed_kt) for found in solved)
    return _triangles(solved, tuple(one for one in legs if one is not None))


def _triangles(solved: tuple[_WindAnswer, ...], passed: tuple[StationPassage, ...] = ()) -> tuple[Solution, ...]:
    """One answer a triangle; `passed` holds the passage at each one's groundspeed, or nothing."""
    many = len(solved) > 1
    made = []
    for index, found in enumerate(solved):
        told = [", ".join(_found(found))]
        if many:
            told[0] = f"answer {index + 1} of {len(solved)}: {told[0]}"
        told.append(_whole_triangle(found))
        told.append(f"{crosswind(found.crosswind_kt)}, {headwind(found.headwind_kt)}")
        leg = passed[index : index + 1]
        told += [passages.line(one) for one in leg]
        steps = _workings(found) + tuple(step for one in leg for step in passages.workings(one))
        made.append(Solution((found, *leg), tuple(told), steps))
    return tuple(made)


def _found(found: _WindAnswer) -> list[str]:
    if {"wind direction", "wind speed"} <= set(found.found):
        return [_wind_text(found)]
    words = {
        "course": lambda: _direction("course", found.true_course_deg, found.magnetic_course_deg),
        "groundspeed": lambda: f"groundspeed {whole(found.groundspeed_kt)} kt",
        "heading": lambda: _heading(found),
        "tas": lambda: f"TAS {whole(found.tas_kt)} kt",
        "wind direction": lambda: _direction("wind from", found.wind_from_true_deg, found.wind_from_magnetic_deg),
        "wind speed": lambda: f"wind speed {whole(found.wind_speed_kt)} kt",
    }
    return [words[name]() for name in found.found]


def _whole_triangle(found: _WindAnswer) -> str:
    return ", ".join(
        (
            _direction("course", found.true_course_deg, found.magnetic_course_deg),
            _heading(found),
            f"TAS {whole(found.tas_kt)} kt",
            f"groundspeed {whole(found.groundspeed_kt)} kt",
            _wind_text(found),
        )
    )


def _heading(found: _WindAnswer) -> str:
    heading = _direction("heading", found.true_heading_deg, found.magnetic_heading_deg)
    return f"{heading} (correction {correction(found.wind_correction_deg)})"


def _wind_text(found: _WindAnswer) -> str:
    if whole(found.wind_speed_kt) == "0":
        return "wind calm"
    return f"wind {course(found.wind_from_true_deg)}T/{whole(found.wind_speed_kt)}"


def _direction(what: str, true_deg: float, magnetic_deg: float | None) -> str:
    magnetic = "" if magnetic_deg is None else f" = {course(magnetic_deg)}M"
    return f"{what} {course(true_deg)}T{magnetic}"
