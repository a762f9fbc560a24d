"""Intercepting a radial: which way to turn, the heading, where the radial is met, and what the needle shows.

Directions are magnetic, as on the needle; the plane triangle of station, aeroplane and meeting point. With D
degrees between the radials, intercept angle A and distance d the radial is met, from the station, at
d sin(A - D) / sin A inbound and d sin(A + D) / sin A outbound (law of sines), after flying d sin D / sin A.
"""

from __future__ import annotations

from enum import StrEnum
from math import atan2, ceil, degrees, floor

from msgspec import Struct

from navlog.computations.amounts import time
from navlog.computations.answer import Solution
from navlog.computations.needle import FULL_SCALE_DEG
from navlog.nav import radio
from navlog.nav.angles import difference_deg, normalize_deg, reciprocal_deg, sin_cos_deg
from navlog.nav.figures import course, distance, half_up, tenths, turn
from navlog.nav.guidance import Flag, set_course_deg
from navlog.nav.problems import problem_error
from navlog.nav.radio import DOT_DEG
from navlog.nav.workings import COMMON_PRACTICE, Working

_SMALLEST_ANGLE_DEG = 20.0
LARGEST_ANGLE_DEG = 45.0
"""The angle taken where none is asked for: twice the degrees off, from 20 to 45 (common practice, no source)."""
_STEEPEST_ANGLE_DEG = 90.0
_NEAREST_MEETING_NM = 1.0
_ROUNDING = 1e-9
"""What sines may be off by; a meeting so near 1 NM, or an angle so near a whole degree, is that."""

_SINES = "law of sines"


class Way(StrEnum):
    """How the radial is flown once it is met."""

    INBOUND = "inbound"
    OUTBOUND = "outbound"


class _Intercept(Struct, frozen=True):
    """The way from one radial to another. Turns and `between_deg` are positive clockwise, to the right.

    `flag` is what shows on the radial with `set_course_deg` set, `flag_now` what shows at present (None
    abeam). `needle` is the side of the needle with that course set. `reverse_sensing` says that `selector_deg`
    is 180 degrees out, so that needle and flag mislead. Distances are None without a distance from the
    station, the turn is None without a present heading.
    """

    present_radial_deg: float
    radial_deg: float
    way: Way
    set_course_deg: float
    flag: Flag
    flag_now: Flag | None
    between_deg: float
    needle: str
    needle_dots: float
    angle_deg: float
    heading_deg: float
    turn_deg: float | None = None
    selector_deg: float | None = None
    reverse_sensing: bool = False
    distance_nm: float | None = None
    meeting_nm: float | None = None
    to_radial_nm: float | None = None
    groundspeed_kt: float | None = None
    time_min: float | None = None


def solve(
    *,
    present_radial_deg: float,
    radial_deg: float,
    way: Way,
    angle_deg: float | None = None,
    heading_deg: float | None = None,
    distance_nm: float | None = None,
    groundspeed_kt: float | None = None,
    selector_deg: float | None = None,
) -> _Intercept:
    """The heading that meets `radial_deg`, and how far and how long it is flown in nil wind.

    Without `angle_deg` the angle is twice the degrees between the radials, at least 20 and at most 45. Raises
    `no-intercept` where the radial is not met, or inbound within 1 NM of the station, with the least angle
    that works or the course direct to the station; `bad-value` for a speed or distance of 0.
    """
    for what, value in (("groundspeed", groundspeed_kt), ("distance", distance_nm)):
        if value is not None and not value > 0.0:
            raise problem_error("bad-value", f"the {what} is zero", hint=f"give a {what} above 0")
    if angle_deg is not None and not 0.0 < angle_deg <= _STEEPEST_ANGLE_DEG:
        raise problem_error(
            "bad-angle",
            f"an intercept angle of {angle_deg:g} degrees cannot be flown",
            hint="angles lie above 0, up to 90 degrees",
        )
    between_deg = difference_deg(radial_deg, present_radial_deg)
    off_deg = abs(between_deg)
    inbound = way is Way.INBOUND
    flag = Flag.TO if inbound else Flag.FROM
    course_deg = _number(set_course_deg(radial_deg, flag))
    if angle_deg is None:
        angle_deg = max(_SMALLEST_ANGLE_DEG, min(LARGEST_ANGLE_DEG, 2.0 * off_deg))
    # On the radial already: there is no angle to cut it at, and the law of sines would divide by nothing.
    if off_deg == 0.0:
        angle_deg = 0.0
    elif inbound:
        _check_inbound(angle_deg, off_deg, distance_nm, present_radial_deg)
    else:
        _check_outbound(angle_deg, off_deg, present_radial_deg)
    # Outbound the turn is toward the radial; inbound the same side lies the other way round.
    clockwise = (between_deg > 0.0) != inbound
    intercept_deg = normalize_deg(course_deg + (angle_deg if clockwise else -angle_deg))
    meeting_nm = to_radial_nm = time_min = None
    if distance_nm is not None:
        meeting_nm, to_radial_nm = _meeting(distance_nm, off_deg, angle_deg, inbound=inbound)
        time_min = None if groundspeed_kt is None else 60.0 * to_radial_nm / groundspeed_kt
    return _Intercept(
        present_radial_deg=present_radial_deg,
        radial_deg=radial_deg,
        way=way,
        set_course_deg=course_deg,
        flag=flag,
        flag_now=_flag_now(flag, off_deg),
        between_deg=between_deg,
        needle=_needle_side(between_deg, clockwise=clockwise),
        # Beyond abeam the angle to the radial's line grows small again, and so does the needle's deflection.
        needle_dots=radio.dots(min(off_deg, 180.0 - off_deg)),
        angle_deg=angle_deg,
        heading_deg=intercept_deg,
        turn_deg=None if heading_deg is None else difference_deg(intercept_deg, heading_deg),
        selector_deg=selector_deg,
        reverse_sensing=selector_deg is not None and abs(difference_deg(selector_deg, course_deg)) > 90.0,
        distance_nm=distance_nm,
        meeting_nm=meeting_nm,
        to_radial_nm=to_radial_nm,
        groundspeed_kt=groundspeed_kt,
        time_min=time_min,
    )


def radial_of_course(course_deg: float, way: Way) -> float:
    """The radial that a set course tracks: itself outbound, its reciprocal inbound."""
    # The rule is its own inverse.
    return _number(set_course_deg(course_deg, Flag.TO if way is Way.INBOUND else Flag.FROM))


def _workings(found: _Intercept) -> tuple[Working, ...]:
    """Degrees between the radials, heading, and where and when the radial is met."""
    inbound = found.way is Way.INBOUND
    off, angle = f"{abs(found.between_deg):g}", f"{found.angle_deg:g}"
    turned = difference_deg(found.heading_deg, found.set_course_deg)
    steps = [
        Working(
            "degrees between the radials (D)",
            "radial wanted - present radial",
            f"{course(found.radial_deg)} - {course(found.present_radial_deg)}",
            off,
            "a radial is a magnetic bearing from the station (FAA AIM, glossary)",
        ),
        Working(
            "course to set",
            "radial + 180 inbound" if inbound else "the radial outbound",
            f"{course(found.radial_deg)} + 180" if inbound else course(found.radial_deg),
            f"{course(found.set_course_deg)} {found.flag}",
            "FAA-H-8083-15, chapter 7",
        ),
        Working(
            "intercept heading",
            "course + or - intercept angle (A), toward the radial",
            f"{course(found.set_course_deg)} {'+' if turned >= 0 else '-'} {angle}",
            course(found.heading_deg),
            f"angle 45 at most unless asked for: {COMMON_PRACTICE}",
        ),
    ]
    if found.distance_nm is not None:
        sign = "-" if inbound else "+"
        steps += [
            Working(
                "met at, from the station",
                f"d x sin(A {sign} D) / sin(A)",
                f"{found.distance_nm:g} x sin({angle} {sign} {off}) / sin({angle})",
                f"{found.meeting_nm:.1f} NM",
                _SINES,
            ),
            Working(
                "distance to the radial",
                "d x sin(D) / sin(A)",
                f"{found.distance_nm:g} x sin({off}) / sin({angle})",
                f"{found.to_radial_nm:.1f} NM",
                _SINES,
            ),
        ]
    if found.time_min is not None:
        steps.append(
            Working(
                "time to the radial",
                "distance / groundspeed",
                f"{found.to_radial_nm:.1f} NM / {found.groundspeed_kt:g} kt",
                f"{found.time_min:.1f} min",
                "FAA-H-8083-25, chapter 16",
            )
        )
    return tuple(steps)


def _check_inbound(angle_deg: float, off_deg: float, distance_nm: float | None, present_radial_deg: float) -> None:
    """Refuses an angle that misses the radial ahead of the station, or meets it within 1 NM of it."""
    direct = f"direct to the station: course {course(reciprocal_deg(present_radial_deg))} TO"
    if angle_deg > off_deg:
        if distance_nm is None:
            return
        meeting_nm, _ = _meeting(distance_nm, off_deg, angle_deg, inbound=True)
        if meeting_nm >= _NEAREST_MEETING_NM - _ROUNDING:
            return
        why = f"the radial is met {meeting_nm:.1f} NM from the station, nearer than 1 NM"
    else:
        why = f"at {angle_deg:g} degrees the radial, {off_deg:g} degrees away, is not met before the station"
    least_deg = _least_angle_deg(off_deg, distance_nm)
    hint = f"go {direct}"
    if least_deg is not None:
        more = " or more" if least_deg < _STEEPEST_ANGLE_DEG else ""
        hint = f"an angle of {least_deg} degrees{more} works; or go {direct}"
    raise problem_error("no-intercept", why, hint=hint)


def _least_angle_deg(off_deg: float, distance_nm: float | None) -> int | None:
    """The least whole angle, up to 90, that meets the radial inbound, 1 NM or more from the station.

    d sin(A - D) / sin A = 1 NM solved for A: cot A = (cos D - 1 / d) / sin D.
    """
    least_deg = floor(off_deg) + 1
    if distance_nm is not None:
        sine, cosine = sin_cos_deg(off_deg)
        # As an angle of two parts, since cot A has no value where they are square to each other.
        exact_deg = degrees(atan2(sine, cosine - _NEAREST_MEETING_NM / distance_nm))
        least_deg = max(least_deg, ceil(exact_deg - _ROUNDING))
    return least_deg if least_deg <= _STEEPEST_ANGLE_DEG else None


def _check_outbound(angle_deg: float, off_deg: float, present_radial_deg: float) -> None:
    """Refuses an angle at which the radial is never met: A + D must stay under 180."""
    if angle_deg + off_deg < 180.0:
        return
    direct = f"course {course(reciprocal_deg(present_radial_deg))} TO"
    hint = f"fly to the station first: {direct}"
    if 180.0 - off_deg >= _SMALLEST_ANGLE_DEG:
        hint = f"an angle under {180.0 - off_deg:g} degrees works; or {hint}"
    raise problem_error(
        "no-intercept", f"at {angle_deg:g} degrees the radial, {off_deg:g} degrees away, is never met", hint=hint
    )


def _meeting(distance_nm: float, off_deg: float, angle_deg: float, *, inbound: bool) -> tuple[float, float]:
    """How far from the station the radial is met, and how far it is to there."""
    if off_deg == 0.0:
        return distance_nm, 0.0
    sine = sin_cos_deg(angle_deg)[0]
    at_aeroplane_deg = angle_deg - off_deg if inbound else angle_deg + off_deg
    return (
        distance_nm * sin_cos_deg(at_aeroplane_deg)[0] / sine,
        distance_nm * sin_cos_deg(off_deg)[0] / sine,
    )


def _flag_now(flag: Flag, off_deg: float) -> Flag | None:
    if off_deg == 90.0:
        return None
    if off_deg < 90.0:
        return flag
    return Flag.FROM if flag is Flag.TO else Flag.TO


def _needle_side(between_deg: float, *, clockwise: bool) -> str:
    """The radial lies to the right, seen along the set course, where the turn to it is clockwise."""
    if between_deg in (0.0, 180.0):
        return "centred"
    return "right" if clockwise else "left"


def _number(value: float | None) -> float:
    assert value is not None
    return value


def _lines(found: _Intercept) -> tuple[str, ...]:
    """Turn and heading, where the radial is met, what to set and what shows."""
    told = [_heading(found)]
    if found.to_radial_nm is not None and found.angle_deg:
        after = "" if found.time_min is None else f" after {time(found.time_min)}"
        told.append(
            f"the radial is met in {distance(found.to_radial_nm)} NM{after},"
            f" {distance(found.meeting_nm)} NM from the station (nil wind)"
        )
    told.append(f"radial {course(found.radial_deg)} {found.way}: set {_set(found)}")
    told.append(_needle_line(found))
    if found.selector_deg is not None:
        told += _selector(found, found.selector_deg)
    return tuple(told)


def answer(found: _Intercept) -> Solution:
    """What is printed, with its workings."""
    return Solution((found,), _lines(found), _workings(found))


def _heading(found: _Intercept) -> str:
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


def _needle_line(found: _Intercept) -> str:
    if found.flag_now is None:
        return "flag off now: abeam the station"
    if found.needle == "centred":
        return f"needle centred, {found.flag_now}"
    stopped = found.needle_dots * DOT_DEG >= FULL_SCALE_DEG
    dots = "at its stop" if stopped else f"{tenths(half_up(found.needle_dots, 0.1))} dots"
    now = "" if found.flag_now is found.flag else f"; flag {found.flag_now} until abeam the station"
    return f"needle {found.needle}, {dots}{now}"


def _set(found: _Intercept) -> str:
    return f"{course(found.set_course_deg)} {found.flag}"


def _selector(found: _Intercept, selector_deg: float) -> list[str]:
    if course(selector_deg) == course(found.set_course_deg):
        return []
    if not found.reverse_sensing:
        return [f"selector is at {course(selector_deg)}: set {course(found.set_course_deg)}"]
    shows = "FROM" if found.way is Way.INBOUND else "TO"
    return [
        f"REVERSE SENSING: with {course(selector_deg)} set the flag shows {shows} and the needle points"
        f" away from the radial; set {course(found.set_course_deg)}"
    ]
