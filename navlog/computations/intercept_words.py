"""Intercepts, and what a needle shows."""

from __future__ import annotations

from navlog.computations import intercept
from navlog.computations.amounts import time
from navlog.computations.answer import Answer
from navlog.computations.intercept import FULL_SCALE_DEG, Intercept, Needle, Way
from navlog.nav.figures import course, distance, half_up, tenths, turn
from navlog.nav.radio import DOT_DEG


def answer(found: Intercept) -> Answer:
    """Turn and heading, where the radial is met, what to set and what shows."""
    lines = [_heading(found)]
    if found.to_radial_nm is not None and found.angle_deg:
        after = "" if found.time_min is None else f" after {time(found.time_min)}"
        lines.append(
            f"the radial is met in {distance(found.to_radial_nm)} NM{after},"
            f" {distance(found.meeting_nm)} NM from the station (nil wind)"
        )
    lines.append(f"radial {course(found.radial_deg)} {found.way}: set {_set(found)}")
    lines.append(_needle_line(found))
    if found.selector_deg is not None:
        lines += _selector(found, found.selector_deg)
    return Answer((found,), tuple(lines), intercept.workings(found))


def needle(found: Needle) -> Answer:
    """A deflection beside the distance off."""
    stop = ", the needle at its stop" if found.full_scale else ""
    lines = (
        f"{tenths(half_up(found.dots, 0.1))} dots = {tenths(half_up(found.deflection_deg, 0.1))} degrees{stop}",
        f"{distance(found.off_nm)} NM off the radial, {distance(found.distance_nm)} NM from the station",
    )
    return Answer((found,), lines, intercept.needle_workings(found))


def _heading(found: Intercept) -> str:
    heading = f"heading {course(found.heading_deg)}"
    if found.turn_deg is None:
        lead = f"fly {heading}"
    elif turn(found.turn_deg) == "straight on":
        lead = f"keep {heading}"
    else:
        side, degrees = turn(found.turn_deg).split()
        lead = f"turn {side} {degrees} degrees to {heading}"
    if not found.angle_deg:
        return f"on the radial: {lead}"
    off = tenths(half_up(abs(found.between_deg), 0.1)).removesuffix(".0")
    return f"{lead}: {found.angle_deg:g} degree intercept, radial {off} degrees away"


def _needle_line(found: Intercept) -> str:
    if found.flag_now is None:
        return "flag off now: abeam the station"
    if found.needle == "centred":
        return f"needle centred, {found.flag_now}"
    stopped = found.needle_dots * DOT_DEG >= FULL_SCALE_DEG
    dots = "at its stop" if stopped else f"{tenths(half_up(found.needle_dots, 0.1))} dots"
    now = "" if found.flag_now is found.flag else f"; flag {found.flag_now} until abeam the station"
    return f"needle {found.needle}, {dots}{now}"


def _set(found: Intercept) -> str:
    return f"{course(found.set_course_deg)} {found.flag}"


def _selector(found: Intercept, selector_deg: float) -> list[str]:
    if course(selector_deg) == course(found.set_course_deg):
        return []
    if not found.reverse_sensing:
        return [f"selector is at {course(selector_deg)}: set {course(found.set_course_deg)}"]
    shows = "FROM" if found.way is Way.INBOUND else "TO"
    return [
        f"REVERSE SENSING: with {course(selector_deg)} set the flag shows {shows} and the needle points"
        f" away from the radial; set {course(found.set_course_deg)}"
    ]
