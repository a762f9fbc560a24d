"""Charted figures against computed ones, and radials that are set the wrong way round."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.records import Leg
from navlog.nav.angles import difference_deg, reciprocal_deg
from navlog.nav.figures import course, distance, east_west, whole_course
from navlog.nav.guidance import Guidance
from navlog.rules.needle import (
    BENT_MAGNETIC_DEG,
    NEEDLE_OFF_DEG,
    REVERSED_DEG,
    Meeting,
    Turning,
    charted_against,
    meetings,
    printed_radial,
    strays,
    turnings,
)
from navlog.rules.registry import Case, Found, Group, Severity, once_a_case, rule
from navlog.rules.samples import BASE, sample
from navlog.rules.settings import setting_of, swaps_digits


@rule(
    "radial-reversed",
    Severity.ERROR,
    group=Group.GUIDANCE,
    source="a radial is a bearing FROM the station (AIM 1-1-3, FAA-H-8083-15)",
    remedy="write beside a station the radial of that station, not the course to it",
    passing=BASE,
    failing=sample("airway V801 QHB 212 - 214 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB"),
    acceptable=False,
)
def radial_reversed(case: Case) -> Iterator[Found]:
    """A charted radial is about 180 degrees out: the inbound course, not the radial.

    Told by positions, by the definition of a fix on it, by the radial at the other end of the way, by the true
    course of the leg, and by an airway that would turn back on itself. Also a stated course that leads back.
    """
    told: set[int] = set()
    for leg, guidance, charted, known, off_deg in charted_against(case):
        if abs(off_deg) >= 180.0 - REVERSED_DEG:
            told.add(leg.stretch.number)
            how = known.how if guidance.radial.computed is None else f"the radial is {course(known.radial_deg)}"
            yield Found(f"{guidance.station.ident} {course(charted)} is the inbound course, not the radial: {how}", leg)
    for one in meetings(case):
        if one.reversed:
            told.add(one.leg.stretch.number)
            yield Found(_reversed_text(one), one.leg)
    for stray in strays(case):
        if stray.off_deg >= 180.0 - REVERSED_DEG:
            told.add(stray.leg.stretch.number)
            flown = course(stray.guidance.radial.flown)
            yield Found(
                f"{stray.guidance.station.ident} {flown} is the inbound course, not the radial: the needle leads"
                f" {course(stray.needle_true_deg)} true and the leg {course(stray.course_true_deg)} true",
                stray.leg,
            )
    for turning in turnings(case):
        number = turning.leg.stretch.number
        between = turning.leg.part.facing
        # One slip, one finding: the pair of radials has told it where the turn only shows it.
        already = between is not None and any(one.reversed and one.facing is between for one in meetings(case))
        if turning.back and not already and told.isdisjoint((number, number - 1)):
            text = f"{_turning_text(turning)}: one of the radials is the inbound course, not the radial"
            yield Found(text, turning.leg)
    for leg, stated, off_deg, computed_deg in _stated_courses(case):
        if abs(off_deg) >= 180.0 - REVERSED_DEG:
            yield Found(f"course {stated} leads back: the leg's true course is {course(computed_deg)}", leg)


def _turning_text(one: Turning) -> str:
    """Where an airway turns sharply, and between what."""
    via = one.leg.stretch.via
    return f"{via} turns by {abs(one.turn_deg):.0f} degrees at {one.point} ({one.arriving}, {one.leaving})"


def _both_ends(one: Meeting) -> str:
    """The radials at both ends of a way in words."""
    return f"outbound {printed_radial(one.facing.outbound)} and inbound {printed_radial(one.facing.inbound)}"


def _reversed_text(one: Meeting) -> str:
    """Which of two radials is the wrong way round, as far as that is known."""
    outbound, inbound = one.facing.outbound, one.facing.inbound
    wrong = "one of them"
    if outbound.radial.computed is not None:
        wrong = f"{inbound.station.ident} {printed_radial(one.facing.inbound)}"
    elif inbound.radial.computed is not None:
        wrong = f"{outbound.station.ident} {printed_radial(one.facing.outbound)}"
    return f"{_both_ends(one)} are the same radial twice: {wrong} is the inbound course, not the radial"


@once_a_case
def _stated_courses(case: Case) -> Iterator[tuple[Leg, str, float, float]]:
    """Each stated course that positions can check: as written, how far from the one by positions, and that, true."""
    for leg in case.first_legs:
        stretch = leg.stretch
        if stretch.stated_course is None or stretch.true_course is None or stretch.course_source != "geodesic":
            continue
        degrees, north = stretch.stated_course
        shift_deg = 0.0 if north == "T" else stretch.variation.middle_deg if stretch.variation is not None else None
        if shift_deg is not None:
            computed_deg = stretch.true_course.middle_deg
            off_deg = difference_deg(degrees + shift_deg, computed_deg)
            yield leg, f"{course(degrees)}{north}", off_deg, computed_deg


@rule(
    "radials-bent",
    Severity.ERROR,
    group=Group.GUIDANCE,
    at_times=(Severity.WARNING,),
    source="outbound and inbound radials of a straight line are about reciprocal",
    remedy="read both radials off the chart again, or mark the bend with `turn`",
    passing=sample(
        "station QHB 113.70",
        "station QEL 110.20",
        "airport XHAR N46 14.50 W039 07.20",
        "variation 13W",
        "direct QHB 074 - XHAR 9.6nm",
        "direct QEL 145 - XOLD 9.6nm",
    ),
    failing=sample(
        "station QHB 113.70",
        "station QEL 110.20",
        "variation 13W",
        "airway V801 QHB 212 - 074 QEL 29.5nm",
        "direct QHB 074 - XHAR 9.6nm",
        "direct QEL 145 - XOLD 9.6nm",
    ),
)
def radials_bent(case: Case) -> Iterator[Found]:
    """Without positions, the radials at both ends of a straight way do not lie on one line.

    True courses are compared, within 10 degrees, where both stations' declinations are known; else within 20.
    A warning where a way that bends, or an airway at a point, turns by more than 90 degrees.
    """
    for turning in turnings(case):
        if not turning.back:
            text = f"{_turning_text(turning)}: is one of the radials the inbound course?"
            yield Found(text, turning.leg, Severity.WARNING)
    for one in meetings(case):
        if one.sharp and all(turning.leg.part.facing is not one.facing for turning in turnings(case)):
            text = f"{_both_ends(one)} are a turn of {one.off_deg:.0f} degrees: is one of them the inbound course?"
            yield Found(text, one.leg, Severity.WARNING)
        if not one.bent:
            continue
        magnetic_deg = abs(difference_deg(one.outbound_deg, reciprocal_deg(one.inbound_deg)))
        # So far apart that no two norths explain it: as read off the chart it says most.
        if magnetic_deg > BENT_MAGNETIC_DEG or not one.norths_known:
            yield Found(f"{_both_ends(one)} do not lie on one line", one.leg)
            continue
        out = _radial_true(one.facing.outbound, one.outbound_true_deg)
        into = _radial_true(one.facing.inbound, one.inbound_true_deg)
        yield Found(f"outbound {out} and inbound {into}: they do not lie on one line", one.leg)


def _radial_true(guidance: Guidance, true_deg: float) -> str:
    """A radial with its station's north, and the true course that it makes, in words."""
    station = guidance.station
    north = "true" if station.true_referenced else east_west(station.declination_deg)
    return f"{station.ident} {printed_radial(guidance)} ({north}) is {course(true_deg)} true"


@rule(
    "needle-off-course",
    Severity.ERROR,
    group=Group.GUIDANCE,
    at_times=(Severity.NOTE,),
    source="FAA NASR: a station's north lies within 8 degrees of magnetic north; a radial is a line from the station",
    remedy="check the radial, and whose radial holds the leg",
    passing=BASE,
    failing=sample(
        "station QSK 112.40 N45 52.00 W038 38.00 decl 14W class L dme elev 150ft",
        "airway V801 QHB - QEL 29.5nm mea 3000 moca 2400 maa 17500 on QSK 273",
    ),
)
def needle_off_course(case: Case) -> Iterator[Found]:
    """What is set on the needle leads more than 8 degrees from the leg's true course.

    More than 20 where the station's declination is not known and the variation stands in for it. A note where
    only the great circle turns so far along the leg. What `radial-differs` tells is not told again.
    """
    for stray in strays(case):
        if stray.off_deg >= 180.0 - REVERSED_DEG:
            continue
        text = (
            f"{setting_of(stray.leg)} leads {course(stray.needle_true_deg)} true and the leg"
            f" {course(stray.course_true_deg)} true"
        )
        if stray.along:
            yield Found(f"{text}: the great circle turns along the leg", stray.leg, Severity.NOTE)
        else:
            yield Found(f"{text}: {stray.off_deg:.0f} degrees apart", stray.leg)
    for leg, stated, off_deg, computed_deg in _stated_courses(case):
        if NEEDLE_OFF_DEG < abs(off_deg) < 180.0 - REVERSED_DEG:
            yield Found(f"course {stated} is stated and the leg's true course is {course(computed_deg)}", leg)


@rule(
    "radial-differs",
    Severity.WARNING,
    group=Group.GUIDANCE,
    at_times=(Severity.ERROR,),
    source="FAA NASR courses: azimuth less station declination; limits common practice, no source",
    remedy="check the station's declination and position, and the charted radial",
    passing=BASE,
    failing=sample("airway V801 QHB 217 - 034 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB"),
)
def radial_differs(case: Case) -> Iterator[Found]:
    """A charted radial disagrees with the positions, or with a fix defined on it: over 3 degrees, an error over 6.

    Both limits can be set. About 180 degrees are left to `radial-reversed`.
    """
    warning_deg, error_deg = case.thresholds.radial_warning_deg, case.thresholds.radial_error_deg
    for leg, guidance, charted, known, off_deg in charted_against(case):
        if warning_deg < abs(off_deg) < 180.0 - REVERSED_DEG:
            figures = f"{course(charted)} is charted and {known.how}"
            yield Found(
                f"{guidance.station.ident} {figures}: {abs(off_deg):.1f} degrees apart",
                leg,
                Severity.ERROR if abs(off_deg) > error_deg else Severity.WARNING,
            )


@rule(
    "digits-transposed",
    Severity.WARNING,
    group=Group.GUIDANCE,
    source="practice: a radial read or typed with two digits changed over",
    remedy="read the radial off the chart again",
    passing=BASE,
    failing=sample("airway V801 QHB 122 - 034 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB"),
)
def digits_transposed(case: Case) -> Iterator[Found]:
    """A charted radial fits the positions, or a fix defined on it, once two of its digits are changed over."""
    for leg, guidance, charted, known, off_deg in charted_against(case):
        if abs(off_deg) <= case.thresholds.radial_warning_deg:
            continue
        written = whole_course(charted)
        meant = [near for near in _nearby_courses(known.radial_deg) if swaps_digits(written, near)]
        if meant:
            yield Found(f"{guidance.station.ident} {written:03d} is charted: is {meant[0]:03d} meant?", leg)


def _nearby_courses(computed_deg: float) -> tuple[int, ...]:
    """The printed degree of a computed course, then the two beside it."""
    return tuple(whole_course(computed_deg + off_deg) for off_deg in (0.0, -1.0, 1.0))


@rule(
    "distance-differs",
    Severity.ERROR,
    group=Group.GUIDANCE,
    source="WGS84 geodesic; FAA NASR lengths agree within 0.04 NM but for a known slip of 9 NM (V583)",
    remedy="check both positions and the charted distance; the longer one is flown",
    passing=BASE,
    failing=sample("airway V801 QHB 212 - 034 QEL 25nm mea 3000 moca 2400 maa 17500 cop 11 QHB"),
)
def distance_differs(case: Case) -> Iterator[Found]:
    """A charted distance is more than 0.5 NM and 1 % from the computed one, or from what defines the points."""
    for leg in case.first_legs:
        stretch = leg.stretch
        if not stretch.distance.agrees:
            charted, other = distance(stretch.distance.charted), distance(stretch.distance.reference)
            how = "computed" if stretch.distance.computed is not None else "by the points' definitions"
            yield Found(
                f"{stretch.start.name} to {stretch.end.name} is charted {charted} NM and {how} {other} NM;"
                f" the longer is flown",
                leg,
            )
