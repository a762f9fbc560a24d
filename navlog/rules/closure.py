"""Whether stated courses and distances that lead back to a point do end there, where positions tell nothing."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, cos, degrees, hypot, radians, sin

from navlog.flightlog.records import Leg
from navlog.nav.figures import course, distance
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import sample

_BY_DECLINATION_DEG = 3.0
"""How far each course may be off where it is true by its station's declination, as `radial-differs` has it."""

_BY_VARIATION_DEG = 8.0
"""And by the variation: a station's north lies within 8 degrees of magnetic north (FAA NASR)."""

_EACH_NM = 0.5
"""How far each distance may be off, as `distance-differs` has it."""

_TRIANGLE = (
    "station QHB 113.70 decl 15W",
    "station QEL 110.20 decl 15W",
    "station QSK 112.40 decl 15W",
    "-airway V801",
    "direct QSK 315 - 135 QHB 30nm - XOLD 9nm",
    "route QHB QEL QSK QHB",
)
"""Chart-only; the sides of the samples are each of 30 NM."""


@rule(
    "loop-open",
    Severity.WARNING,
    group=Group.GUIDANCE,
    source="plane vectors; 3 degrees a course, 8 where the variation stands in for a declination, 0.5 NM a distance:"
    " common practice, no source",
    remedy="read the radials and distances of these legs off the chart again, or give the stations' positions",
    passing=sample(*_TRIANGLE, "direct QHB 195 - 015 QEL 30nm 075 - 255 QSK 30nm"),
    failing=sample(*_TRIANGLE, "direct QHB 195 - 015 QEL 30nm 105 - 285 QSK 30nm"),
)
def loop_open(case: Case) -> Iterator[Found]:
    """Courses and distances that lead back to a point do not end there, where not all of it is known by position.

    Each way from a point back to it is added up on the plane. Which leg is wrong is not told by that, and where errors
    make up for each other, or every course is off by as much, nothing is.
    """
    flown = tuple(leg for leg in case.legs if not leg.stays)
    for end, leg in enumerate(flown):
        begin = next((at for at in range(end, -1, -1) if _begins_at(flown[at], leg)), None)
        if leg.ends_stretch and begin is not None:
            yield from _open(flown[begin : end + 1])


def _begins_at(one: Leg, last: Leg) -> bool:
    """Whether a leg begins a stretch at the point where another ends."""
    return one.start_nm == 0.0 and (one.stretch.start.kind, one.stretch.start.name) == (
        last.stretch.end.kind,
        last.stretch.end.name,
    )


def _open(loop: tuple[Leg, ...]) -> Iterator[Found]:
    """What is wrong with a way that leads back to where it begins."""
    if all(leg.stretch.course_source == "geodesic" for leg in loop):
        return
    north_nm = east_nm = allowed_nm = 0.0
    for leg in loop:
        if leg.true_course_deg is None:
            return
        angle = radians(leg.true_course_deg)
        north_nm += leg.distance_nm * cos(angle)
        east_nm += leg.distance_nm * sin(angle)
        allowed_nm += leg.distance_nm * 2.0 * sin(radians(_off_deg(leg)) / 2.0)
    stretches = {leg.stretch.number: leg.stretch for leg in loop}
    allowed_nm += _EACH_NM * len(stretches)
    off_nm = hypot(north_nm, east_nm)
    if off_nm > allowed_nm:
        start, *between = (one.start.name for one in stretches.values())
        total_nm = sum(leg.distance_nm for leg in loop)
        there_deg = degrees(atan2(east_nm, north_nm))
        message = (
            f"the courses and distances from {start} by {' and '.join(between)} back to {start},"
            f" {distance(total_nm)} NM, end {distance(off_nm)} NM {course(there_deg)} true of it"
        )
        yield Found(message, loop[-1], by=off_nm)


def _off_deg(leg: Leg) -> float:
    """How far the course of a leg may be off."""
    guidance = leg.part.guidance
    known = leg.stretch.course_source == "geodesic" or (
        guidance is not None and (guidance.station.declination_deg is not None or guidance.station.true_referenced)
    )
    return _BY_DECLINATION_DEG if known else _BY_VARIATION_DEG
