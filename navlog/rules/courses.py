"""Charted figures against computed ones, and radials that are set the wrong way round."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.angles import difference_deg, normalize_deg, reciprocal_deg
from navlog.figures import course, distance, east_west, whole_course
from navlog.guidance import Flag
from navlog.route import Stretch
from navlog.rules.registry import Case, Found, Rule, Severity, rule
from navlog.rules.samples import BASE, sample
from navlog.rules.settings import swaps_digits

REVERSED_DEG = 20.0
"""A value this near 180 degrees out is the other end's course."""

BENT_TRUE_DEG = 10.0
"""True courses at the ends of a straight line differ by its convergence alone, under 3 degrees in 100 NM at 60 N."""


@rule(
    "radial-reversed",
    Severity.ERROR,
    source="a radial is a bearing FROM the station (AIM 1-1-3, FAA-H-8083-15)",
    remedy="write beside a station the radial of that station, not the course to it",
    passing=BASE,
    failing=sample("airway V801 QHB 212 - 214 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB"),
    acceptable=False,
)
def radial_reversed(case: Case) -> Iterator[Found]:
    """A charted radial is about 180 degrees out: the inbound course, not the radial.

    Also two radials of a straight line without positions that are the same one twice.
    """
    for leg, guidance in case.guided:
        charted, off_deg = guidance.radial.charted, guidance.radial.difference
        if charted is not None and off_deg is not None and abs(off_deg) >= 180.0 - REVERSED_DEG:
            yield Found(
                f"{guidance.station.ident} {course(charted)} is the inbound course, not the radial:"
                f" the radial is {course(guidance.radial.computed)}",
                leg,
            )
    for leg in case.first_legs:
        ends = straight_ends(leg.stretch)
        if ends is None:
            continue
        out_deg, in_deg = ends
        if abs(difference_deg(out_deg, reciprocal_deg(in_deg))) > 180.0 - REVERSED_DEG:
            yield Found(
                f"outbound {course(out_deg)} and inbound {course(in_deg)} are the same radial twice:"
                f" one of them is the inbound course, not the radial",
                leg,
            )


@rule(
    "radials-bent",
    Severity.ERROR,
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
    """Without positions, outbound and inbound radials of a straight line are not within 20 degrees.

    Where both stations' declinations are known, also the true courses that they mean, within 10 degrees.
    """
    for leg in case.first_legs:
        ends = straight_ends(leg.stretch)
        if ends is None:
            continue
        out_deg, in_deg = ends
        off_deg = abs(difference_deg(out_deg, reciprocal_deg(in_deg)))
        if REVERSED_DEG < off_deg <= 180.0 - REVERSED_DEG:
            message = f"outbound {course(out_deg)} and inbound {course(in_deg)} do not lie on one line"
            yield Found(message, leg)
            continue
        true = true_ends(leg.stretch)
        if off_deg <= REVERSED_DEG and true is not None and abs(difference_deg(*true)) > BENT_TRUE_DEG:
            stations = (leg.stretch.start.station, leg.stretch.end.station)
            one, other = (
                f"{at.ident} {course(radial_deg)} ({east_west(at.declination_deg)}) is {course(meant_deg)} true"
                for radial_deg, at, meant_deg in zip(ends, stations, true, strict=True)
                if at is not None
            )
            yield Found(f"outbound {one} and inbound {other}: they do not lie on one line", leg)


def true_ends(stretch: Stretch) -> tuple[float, float] | None:
    """The true courses that the radials at both ends of a straight stretch mean; None without both declinations."""
    out, into = stretch.start.station, stretch.end.station
    ends = straight_ends(stretch)
    if ends is None or out is None or into is None or out.declination_deg is None or into.declination_deg is None:
        return None
    return normalize_deg(ends[0] + out.declination_deg), normalize_deg(reciprocal_deg(ends[1]) + into.declination_deg)


def straight_ends(stretch: Stretch) -> tuple[float, float] | None:
    """The charted radials at both ends of a straight stretch that has no positions; None elsewhere."""
    if stretch.distance.computed is not None:
        return None
    out = next((p.guidance for p in stretch.parts if p.guidance and p.guidance.flag is Flag.FROM), None)
    into = next((p.guidance for p in stretch.parts if p.guidance and p.guidance.flag is Flag.TO), None)
    if out is None or into is None or out.radial.charted is None or into.radial.charted is None:
        return None
    if out.station is not stretch.start.station or into.station is not stretch.end.station:
        return None
    return out.radial.charted, into.radial.charted


@rule(
    "radial-differs",
    Severity.WARNING,
    at_times=(Severity.ERROR,),
    source="FAA NASR courses: azimuth less station declination; limits common practice, no source",
    remedy="check the station's declination and position, and the charted radial",
    passing=BASE,
    failing=sample("airway V801 QHB 217 - 034 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB"),
)
def radial_differs(case: Case) -> Iterator[Found]:
    """A charted radial disagrees with the positions: over 3 degrees, an error over 6.

    Both limits can be set. About 180 degrees are left to `radial-reversed`.
    """
    warning_deg, error_deg = case.thresholds.radial_warning_deg, case.thresholds.radial_error_deg
    for leg, guidance in case.guided:
        charted, off_deg = guidance.radial.charted, guidance.radial.difference
        if charted is None or off_deg is None or not warning_deg < abs(off_deg) < 180.0 - REVERSED_DEG:
            continue
        figures = f"{course(charted)} is charted and {course(guidance.radial.computed)} computed"
        yield Found(
            f"{guidance.station.ident} {figures}: {abs(off_deg):.1f} degrees apart",
            leg,
            Severity.ERROR if abs(off_deg) > error_deg else Severity.WARNING,
        )


@rule(
    "digits-transposed",
    Severity.WARNING,
    source="practice: a radial read or typed with two digits changed over",
    remedy="read the radial off the chart again",
    passing=BASE,
    failing=sample("airway V801 QHB 122 - 034 QEL 29.5nm mea 3000 moca 2400 maa 17500 cop 11 QHB"),
)
def digits_transposed(case: Case) -> Iterator[Found]:
    """A charted radial fits the positions once two of its digits are changed over."""
    for leg, guidance in case.guided:
        charted, computed, off_deg = guidance.radial.charted, guidance.radial.computed, guidance.radial.difference
        if charted is None or computed is None or off_deg is None or abs(off_deg) <= case.thresholds.radial_warning_deg:
            continue
        written = whole_course(charted)
        meant = [near for near in nearby_courses(computed) if swaps_digits(written, near)]
        if meant:
            yield Found(f"{guidance.station.ident} {written:03d} is charted: is {meant[0]:03d} meant?", leg)


def nearby_courses(computed_deg: float) -> tuple[int, ...]:
    """The printed degree of a computed course, then the two beside it."""
    return tuple(whole_course(computed_deg + off_deg) for off_deg in (0.0, -1.0, 1.0))


@rule(
    "distance-differs",
    Severity.ERROR,
    source="WGS84 geodesic; FAA NASR lengths agree within 0.04 NM but for a known slip of 9 NM (V583)",
    remedy="check both positions and the charted distance; the longer one is flown",
    passing=BASE,
    failing=sample("airway V801 QHB 212 - 034 QEL 25nm mea 3000 moca 2400 maa 17500 cop 11 QHB"),
)
def distance_differs(case: Case) -> Iterator[Found]:
    """A charted distance is more than 0.5 NM and 1 % from the computed one."""
    for leg in case.first_legs:
        stretch = leg.stretch
        if not stretch.distance.agrees:
            charted, computed = distance(stretch.distance.charted), distance(stretch.distance.computed)
            yield Found(
                f"{stretch.start.name} to {stretch.end.name} is charted {charted} NM and computed"
                f" {computed} NM; the longer is flown",
                leg,
            )


RULES: tuple[Rule, ...] = (radial_reversed, radials_bent, radial_differs, digits_transposed, distance_differs)
