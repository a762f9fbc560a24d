"""The wind triangle, the headwind part, and the time and fuel for a distance."""

from __future__ import annotations

from navlog.computations import passage as passages
from navlog.computations import windproblem
from navlog.computations.amounts import crosswind, fuel_amount, headwind, time
from navlog.computations.answer import Answer
from navlog.computations.passage import HeadwindAnswer, Passage
from navlog.computations.windproblem import Given, WindAnswer
from navlog.nav.figures import correction, course, distance, whole
from navlog.nav.problems import problem_error
from navlog.nav.units import Amount


def report(given: Given, *, distance_nm: float | None = None, burn: Amount | None = None) -> tuple[Answer, ...]:
    """Whatever the numbers given lead to: triangles, a headwind part, or a time alone; and the passage.

    Raises what `windproblem.solve` raises, and `missing-value` for a burn without a distance.
    """
    if burn is not None and distance_nm is None:
        raise problem_error("missing-value", "a burn needs a distance", hint="give the distance to be flown")

    def leg(groundspeed_kt: float) -> Passage | None:
        if distance_nm is None:
            return None
        return passages.passage(distance_nm=distance_nm, groundspeed_kt=groundspeed_kt, burn=burn)

    speeds_alone = given.course is None and given.heading is None and given.wind_from is None
    if speeds_alone and given.wind_speed_kt is None and given.groundspeed_kt is not None:
        flown = leg(given.groundspeed_kt)
        if given.tas_kt is not None:
            return (head_part(passages.headwind(tas_kt=given.tas_kt, groundspeed_kt=given.groundspeed_kt), flown),)
        if flown is not None:
            return (groundspeed_only(flown),)
    solved = windproblem.solve(given)
    legs = tuple(leg(answer.groundspeed_kt) for answer in solved)
    return triangles(solved, tuple(one for one in legs if one is not None))


def triangles(answers: tuple[WindAnswer, ...], passed: tuple[Passage, ...] = ()) -> tuple[Answer, ...]:
    """One answer a triangle; `passed` holds the passage at each one's groundspeed, or nothing."""
    many = len(answers) > 1
    made = []
    for index, answer in enumerate(answers):
        lines = [", ".join(_found(answer))]
        if many:
            lines[0] = f"answer {index + 1} of {len(answers)}: {lines[0]}"
        lines.append(_whole_triangle(answer))
        lines.append(f"{crosswind(answer.crosswind_kt)}, {headwind(answer.headwind_kt)}")
        leg = passed[index : index + 1]
        lines += [_passage_line(one) for one in leg]
        steps = windproblem.workings(answer) + tuple(step for one in leg for step in passages.workings(one))
        made.append(Answer((answer, *leg), tuple(lines), steps))
    return tuple(made)


def head_part(answer: HeadwindAnswer, passed: Passage | None = None) -> Answer:
    """A groundspeed beside an airspeed."""
    lines = [
        f"groundspeed {whole(answer.groundspeed_kt)} kt at TAS {whole(answer.tas_kt)} kt:"
        f" {headwind(answer.headwind_kt)}"
    ]
    steps = passages.headwind_workings(answer)
    if passed is None:
        return Answer((answer,), tuple(lines), steps)
    lines.append(_passage_line(passed))
    return Answer((answer, passed), tuple(lines), steps + passages.workings(passed))


def groundspeed_only(passed: Passage) -> Answer:
    """A distance at a groundspeed."""
    lines = (f"groundspeed {whole(passed.groundspeed_kt)} kt", _passage_line(passed))
    return Answer((passed,), lines, passages.workings(passed))


def _passage_line(passed: Passage) -> str:
    used = "" if passed.fuel is None else f", {fuel_amount(passed.fuel)}"
    return f"{distance(passed.distance_nm)} NM in {time(passed.time_min)}{used}"


def _found(answer: WindAnswer) -> list[str]:
    if {"wind direction", "wind speed"} <= set(answer.found):
        return [_wind(answer)]
    words = {
        "course": lambda: _direction("course", answer.true_course_deg, answer.magnetic_course_deg),
        "groundspeed": lambda: f"groundspeed {whole(answer.groundspeed_kt)} kt",
        "heading": lambda: _heading(answer),
        "tas": lambda: f"TAS {whole(answer.tas_kt)} kt",
        "wind direction": lambda: _direction("wind from", answer.wind_from_true_deg, answer.wind_from_magnetic_deg),
        "wind speed": lambda: f"wind speed {whole(answer.wind_speed_kt)} kt",
    }
    return [words[name]() for name in answer.found]


def _whole_triangle(answer: WindAnswer) -> str:
    return ", ".join(
        (
            _direction("course", answer.true_course_deg, answer.magnetic_course_deg),
            _heading(answer),
            f"TAS {whole(answer.tas_kt)} kt",
            f"groundspeed {whole(answer.groundspeed_kt)} kt",
            _wind(answer),
        )
    )


def _heading(answer: WindAnswer) -> str:
    heading = _direction("heading", answer.true_heading_deg, answer.magnetic_heading_deg)
    return f"{heading} (correction {correction(answer.wind_correction_deg)})"


def _wind(answer: WindAnswer) -> str:
    if whole(answer.wind_speed_kt) == "0":
        return "wind calm"
    return f"wind {course(answer.wind_from_true_deg)}T/{whole(answer.wind_speed_kt)}"


def _direction(what: str, true_deg: float, magnetic_deg: float | None) -> str:
    magnetic = "" if magnetic_deg is None else f" = {course(magnetic_deg)}M"
    return f"{what} {course(true_deg)}T{magnetic}"
