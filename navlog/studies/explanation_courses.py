"""Workings of radial, set course, true and magnetic course, each from its own north."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.facts import by_north
from navlog.flightlog.records import Leg, Log
from navlog.nav.angles import difference_deg
from navlog.nav.figures import course as whole_course
from navlog.nav.figures import east_west
from navlog.nav.figures import set_course as printed_set_course
from navlog.nav.guidance import Flag, Guidance, track_true_deg, true_bearing_deg
from navlog.nav.workings import Step
from navlog.studies.explanation_numbers import HANDBOOK, INSTRUMENT_HANDBOOK, PUBLISHED_COURSES, direction, signed


def needle(leg: Leg) -> Iterator[Step]:
    """The radial flown and the course to set; nothing where no radial guides."""
    guidance = leg.part.guidance
    if guidance is None or guidance.radial.flown is None:
        return
    yield from radial(guidance)
    inbound, north = guidance.flag is Flag.TO, "T" if guidance.station.true_referenced else ""
    flown = direction(guidance.radial.flown)
    yield Step(
        f"course to set for {guidance.station.ident}",
        "inbound: the reciprocal of the radial, flag TO" if inbound else "outbound: the radial itself, flag FROM",
        f"{flown} + 180" if inbound else flown,
        f"{printed_set_course(guidance.radial.flown, inbound=inbound)}{north} {guidance.flag.value}",
        INSTRUMENT_HANDBOOK,
    )


def radial(guidance: Guidance) -> Iterator[Step]:
    """The radial by the positions and as charted, the charted one flown as given."""
    station, charted, computed = guidance.station, guidance.radial.charted, guidance.radial.computed
    if computed is not None:
        azimuth_deg = true_bearing_deg(station, computed)
        assert azimuth_deg is not None
        assert station.declination_deg is not None
        yield Step(
            f"radial of {station.ident} by position",
            "true azimuth at the station - station declination, east positive",
            f"{direction(azimuth_deg)} - {signed(station.declination_deg)}",
            direction(computed),
            PUBLISHED_COURSES,
        )
    if charted is not None:
        difference = guidance.radial.difference
        apart = "" if difference is None else f", {difference + 0.0:+.1f} from the position's"
        yield Step(
            f"radial of {station.ident} as charted",
            "flown on the needle as given",
            "",
            f"{direction(charted)}{apart}",
            "chart or route file",
        )


def course(log: Log, leg: Leg) -> Iterator[Step]:
    """The true course, the variation, the magnetic course, and how far the needle is from it."""
    if leg.true_course_deg is None:
        return
    yield true_course(leg, leg.true_course_deg)
    if leg.variation_deg is None or leg.magnetic_course_deg is None:
        return
    yield variation(log, leg)
    yield Step(
        "magnetic course",
        "true course - variation, east positive",
        f"{direction(leg.true_course_deg)} - {signed(leg.variation_deg)}",
        f"{direction(leg.magnetic_course_deg)}, printed {by_north(leg, whole_course(leg.magnetic_course_deg))}",
        HANDBOOK,
    )
    set_deg = leg.part.guidance.set_course_deg if leg.part.guidance is not None else None
    if set_deg is not None and leg.variation_source != "station":
        yield Step(
            "the two norths",
            "course set on the needle - magnetic course, which is the heading in no wind",
            f"{direction(set_deg)} - {direction(leg.magnetic_course_deg)}",
            f"{difference_deg(set_deg, leg.magnetic_course_deg) + 0.0:+.1f} degrees",
            "the station's declination is of its last alignment, the variation of today",
        )


def true_course(leg: Leg, course_deg: float) -> Step:
    """Where the true course comes from: the positions, the needle by a north, or as stated."""
    stretch, guidance = leg.stretch, leg.part.guidance
    result = f"{direction(course_deg)}T, printed {whole_course(course_deg)}"
    if stretch.course_source == "geodesic":
        source = "C. F. F. Karney, Journal of Geodesy 87 (2013), on WGS84"
        return Step("true course", "course of the geodesic at the leg's middle", "", result, source)
    if guidance is None or guidance.set_course_deg is None:
        return Step("true course", "as stated", "", result, "chart or route file")
    by_station = track_true_deg(guidance) is not None
    north_deg = guidance.station.declination_deg if by_station else leg.variation_deg
    assert north_deg is not None
    return Step(
        "true course",
        f"course set + {'station declination' if by_station else 'variation'}, for want of positions",
        f"{direction(guidance.set_course_deg)} + {signed(north_deg)}",
        result,
        PUBLISHED_COURSES,
    )


def variation(log: Log, leg: Leg) -> Step:
    """The variation and who says so."""
    how, source = {
        "file": ("as stated, in headings only", "route file"),
        "model": ("at the leg's middle, of the day", f"{log.route.magnetic_model}, NOAA NCEI and BGS"),
        "station": ("the station's declination, for want of positions", "chart or route file"),
    }[leg.variation_source]
    return Step("variation", how, "", east_west(leg.variation_deg), source)
