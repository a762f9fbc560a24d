"""Workings of the way: radial and courses, changeover point, distance, time, what marks its end, altitude limits."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.altitudes import altitudes_ft, level_flown
from navlog.flightlog.facts import by_north
from navlog.flightlog.records import Leg, Log, Mark, Phase
from navlog.flightlog.runs import Step as Flown
from navlog.nav.accuracy import Accuracy
from navlog.nav.angles import difference_deg, reciprocal_deg
from navlog.nav.figures import course as whole_course
from navlog.nav.figures import distance as printed_distance
from navlog.nav.figures import east_west, half_up, level, whole
from navlog.nav.figures import set_course as printed_set_course
from navlog.nav.guidance import Flag, Guidance, StatedDistance, track_true_deg, true_bearing_deg
from navlog.nav.units import FEET_PER_NM, setting_text
from navlog.nav.workings import (
    HANDBOOK,
    INSTRUMENT_HANDBOOK,
    PUBLISHED_COURSES,
    Working,
    added_up,
    direction,
    hundredths,
    signed,
    speed,
)
from navlog.request.levels import level_altitude_ft
from navlog.resolve.route import ChangeoverKind, MarkKind


def bearings(leg: Leg) -> Iterator[Working]:
    """Where the ends of the leg's stretch lie that are given by a magnetic bearing from a place without radials."""
    for point in (leg.stretch.start, leg.stretch.end):
        one = point.bearing
        if one is None:
            continue
        yield Working(
            f"bearing of {point.name}",
            f"magnetic bearing from {one.place} + variation there, by {one.model} for the day",
            f"{direction(one.magnetic_deg)} + {signed(one.variation_deg)}",
            f"{direction(one.true_deg)} true, {hundredths(one.distance_nm)} NM",
            "ICAO Doc 4444, Appendix 2, item 15; NOAA NCEI and BGS",
        )


def needle(leg: Leg) -> Iterator[Working]:
    """The radial flown and the course to set; nothing where no radial guides."""
    guidance = leg.part.guidance
    if guidance is None or guidance.radial.flown is None:
        return
    yield from _radial(guidance)
    inbound, north = guidance.flag is Flag.TO, "T" if guidance.station.true_referenced else ""
    flown = direction(guidance.radial.flown)
    yield Working(
        f"course to set for {guidance.station.ident}",
        "inbound: the reciprocal of the radial, flag TO" if inbound else "outbound: the radial itself, flag FROM",
        f"{flown} + 180" if inbound else flown,
        f"{printed_set_course(guidance.radial.flown, inbound=inbound)}{north} {guidance.flag.value}",
        INSTRUMENT_HANDBOOK,
    )


def _radial(guidance: Guidance) -> Iterator[Working]:
    """The radial by the positions and as charted, the charted one flown as given."""
    station, charted, computed = guidance.station, guidance.radial.charted, guidance.radial.computed
    if computed is not None:
        azimuth_deg = true_bearing_deg(station, computed)
        assert azimuth_deg is not None
        assert station.declination_deg is not None
        yield Working(
            f"radial of {station.ident} by position",
            "true azimuth at the station - station declination, east positive",
            f"{direction(azimuth_deg)} - {signed(station.declination_deg)}",
            direction(computed),
            PUBLISHED_COURSES,
        )
    if charted is not None:
        difference = guidance.radial.difference
        apart = "" if difference is None else f", {difference + 0.0:+.1f} from the position's"
        yield Working(
            f"radial of {station.ident} as charted",
            "flown on the needle as given",
            "",
            f"{direction(charted)}{apart}",
            "chart or route file",
        )


def course(log: Log, leg: Leg) -> Iterator[Working]:
    """The true course, the variation, the magnetic course, and how far the needle is from it."""
    if leg.true_course_deg is None:
        return
    yield _true_course(leg, leg.true_course_deg)
    if leg.variation_deg is None or leg.magnetic_course_deg is None:
        return
    yield _variation(log, leg)
    yield Working(
        "magnetic course",
        "true course - variation, east positive",
        f"{direction(leg.true_course_deg)} - {signed(leg.variation_deg)}",
        f"{direction(leg.magnetic_course_deg)}, printed {by_north(leg, whole_course(leg.magnetic_course_deg))}",
        HANDBOOK,
    )
    set_deg = leg.part.guidance.set_course_deg if leg.part.guidance is not None else None
    if set_deg is not None and leg.variation_source != "station":
        yield Working(
            "the two norths",
            "course set on the needle - magnetic course, which is the heading in no wind",
            f"{direction(set_deg)} - {direction(leg.magnetic_course_deg)}",
            f"{difference_deg(set_deg, leg.magnetic_course_deg) + 0.0:+.1f} degrees",
            "the station's declination is of its last alignment, the variation of today",
        )


def _true_course(leg: Leg, course_deg: float) -> Working:
    """Where the true course comes from: the positions, the needle by a north, or as stated."""
    stretch, guidance = leg.stretch, leg.part.guidance
    result = f"{direction(course_deg)}T, printed {whole_course(course_deg)}"
    if stretch.course_source == "geodesic":
        source = "C. F. F. Karney, Journal of Geodesy 87 (2013), on WGS84"
        return Working("true course", "course of the geodesic at the leg's middle", "", result, source)
    if guidance is None or guidance.set_course_deg is None:
        return Working("true course", "as stated", "", result, "chart or route file")
    by_station = track_true_deg(guidance) is not None
    north_deg = guidance.station.declination_deg if by_station else leg.variation_deg
    assert north_deg is not None
    return Working(
        "true course",
        f"course set + {'station declination' if by_station else 'variation'}, for want of positions",
        f"{direction(guidance.set_course_deg)} + {signed(north_deg)}",
        result,
        PUBLISHED_COURSES,
    )


def _variation(log: Log, leg: Leg) -> Working:
    """The variation and who says so."""
    how, source = {
        "file": ("as stated, in headings only", "route file"),
        "model": ("at the leg's middle, of the day", f"{log.route.magnetic_model}, NOAA NCEI and BGS"),
        "station": ("the station's declination, for want of positions", "chart or route file"),
    }[leg.variation_source]
    return Working("variation", how, "", east_west(leg.variation_deg), source)


_CHANGEOVERS = {
    ChangeoverKind.PUBLISHED: "as published",
    ChangeoverKind.STATED: "as stated",
    ChangeoverKind.TURN: "at the one bend of the way, where the two radials cross",
    ChangeoverKind.RECEPTION: "nearest the middle, where both stations are in range",
}


def changeover(leg: Leg) -> Iterator[Working]:
    """Where the guidance changes at the leg's end."""
    point = leg.changeover
    if point is None or point.kind is ChangeoverKind.UNKNOWN:
        return
    behind, ahead = hundredths(point.distance_nm), hundredths(point.distance_ahead_nm)
    result = f"{behind} NM from {point.behind.ident}, {ahead} NM to {point.ahead.ident}"
    if point.kind is ChangeoverKind.MIDPOINT:
        why = "the source carries no changeover points" if point.not_in_source else "nothing is published"
        formula = f"the way is straight and {why}: half of it"
        if behind != ahead:
            formula += ", or the fix within half a mile of that"
        yield Working("changeover point", formula, f"({behind} + {ahead}) / 2", result, "14 CFR 95.8001")
        return
    yield Working("changeover point", _CHANGEOVERS[point.kind], "", result, "14 CFR 95.8001")


def distance(leg: Leg, flown: tuple[Flown, ...]) -> Iterator[Working]:
    """The stretch's length, and how much of it this leg is."""
    yield _whole_stretch(leg.stretch.distance)
    if leg.phase is not Phase.CRUISE:
        terms = tuple(
            f"{hundredths(step.time_min or 0.0)} x {speed(_groundspeed_kt(step))}" for step in flown if step.time_min
        )
        yield Working(
            f"distance of the {leg.phase.value}",
            "sum of (time x groundspeed) of the layers / 60",
            f"{added_up(terms)} / 60",
            f"{hundredths(leg.distance_nm)} NM",
            HANDBOOK,
        )
    elif leg.start_nm > 0.0 or not leg.ends_stretch:
        yield Working(
            "distance of this leg",
            "end - start along the way between the two points",
            f"{hundredths(leg.end_nm)} - {hundredths(leg.start_nm)}",
            f"{hundredths(leg.distance_nm)} NM",
            "geometry",
        )


def _groundspeed_kt(step: Flown) -> float:
    """How fast a layer was flown over the ground."""
    return (step.end_nm - step.start_nm) / (step.time_min or 0.0) * 60.0


def _whole_stretch(stated: StatedDistance) -> Working:
    """The distance between the two points as charted and by position, and which is flown."""
    result = f"{hundredths(stated.flown or 0.0)} NM"
    if stated.charted is None:
        return Working("distance between the points", "length of the geodesic", "", result, "WGS84")
    if stated.reference is None:
        return Working("distance between the points", "as charted", "", result, "chart or route file")
    by = "position" if stated.computed is not None else "the definitions of the points"
    by_position = f"charted {printed_distance(stated.charted)}, by {by} {hundredths(stated.reference)}"
    rule = "the charted one, within 0.5 NM or 1 % of the other" if stated.agrees else "they differ: the longer one"
    return Working("distance between the points", f"{by_position}; flown is {rule}", "", result, "chart or route file")


def time(leg: Leg, flown: tuple[Flown, ...]) -> Iterator[Working]:
    """The time of the leg; in climb and descent the groundspeed that follows from it."""
    if leg.time_min is None or leg.groundspeed_kt is None:
        return
    length, minutes, over_ground = hundredths(leg.distance_nm), hundredths(leg.time_min), speed(leg.groundspeed_kt)
    if leg.phase is Phase.CRUISE:
        yield Working(
            "time", "60 x distance / groundspeed", f"60 x {length} / {over_ground}", f"{minutes} min", HANDBOOK
        )
        return
    yield _layers(f"time of the {leg.phase.value}", leg, flown)
    yield Working("groundspeed", "60 x distance / time", f"60 x {length} / {minutes}", f"{over_ground} kt", HANDBOOK)


def at_a_place(leg: Leg, flown: tuple[Flown, ...]) -> Iterator[Working]:
    """The time of a hold, or of a climb in one, or of height to lose."""
    if leg.time_min is None:
        return
    if flown:
        yield _layers(f"time of the {'climb in the hold' if leg.phase is Phase.HOLD else leg.phase.value}", leg, flown)
    else:
        yield Working("time of the hold", "as stated", "", f"{hundredths(leg.time_min)} min", "route file")


def _layers(name: str, leg: Leg, flown: tuple[Flown, ...]) -> Working:
    """The time of a climb or descent out of its layers."""
    terms = tuple(
        f"{abs(step.end_ft - step.start_ft):.1f} / {abs(step.end_ft - step.start_ft) / step.time_min:.1f}"
        for step in flown
        if step.time_min and step.phase is not Phase.CRUISE
    )
    level = tuple(hundredths(step.time_min) for step in flown if step.time_min and step.phase is Phase.CRUISE)
    formula = "sum of height / rate of the layers" + (", and the time level" if level else "")
    return Working(
        name, formula, " + ".join((*terms, *level)), f"{hundredths(leg.time_min or 0.0)} min", "aircraft file"
    )


def identification(leg: Leg, accuracy: Accuracy) -> Iterator[Working]:
    """What the DME reads at the leg's end, how the radial cuts the way, and how sure each tells the place."""
    for mark in () if leg.stays else leg.told_by:
        if mark.kind is MarkKind.DME:
            yield from _dme_reading(leg, mark)
        else:
            yield from _cross_radial(leg, mark, accuracy)


def _dme_reading(leg: Leg, mark: Mark) -> Iterator[Working]:
    """What the DME reads at the leg's end."""
    elevation_ft, away_nm = mark.station.elevation_ft, mark.by.away_nm
    if mark.dme_nm is not None and elevation_ft is not None and away_nm is not None:
        height = f"({whole(leg.end_altitude_ft)} - {whole(elevation_ft)}) / {FEET_PER_NM:.1f}"
        yield Working(
            f"DME of {mark.station.ident} at {leg.end.name}",
            "sqrt(ground distance^2 + height above the station^2)",
            f"sqrt({hundredths(away_nm)}^2 + ({height})^2)",
            f"{hundredths(mark.dme_nm)} NM",
            "ICAO Doc 8168, Volume II, I-4-3, appendix C",
        )


def _cross_radial(leg: Leg, mark: Mark, accuracy: Accuracy) -> Iterator[Working]:
    """How a radial cuts the way at the leg's end, and how far along it the radial's error moves the place."""
    name = f"{mark.station.ident} R-{whole_course(mark.by.radial_deg)} at {leg.end.name}"
    bearing_deg, away_nm = mark.by.bearing_deg, mark.by.away_nm
    if mark.cut_deg is None or bearing_deg is None or leg.true_course_deg is None:
        return
    yield Working(
        f"cut of {name}",
        "angle between the radial there, true, and the true course, 0 to 90",
        _between(bearing_deg, leg.true_course_deg),
        f"{hundredths(mark.cut_deg)} degrees",
        "geodesic",
    )
    if mark.error_nm is not None and away_nm is not None:
        error_deg = accuracy.crossing_deg
        yield Working(
            f"error along track of {name}",
            "distance x sin(radial's error) / sin(cut)",
            f"{hundredths(away_nm)} x sin({error_deg}) / sin({mark.cut_deg:.2f})",
            f"{hundredths(mark.error_nm)} NM",
            accuracy.name,
        )


def _between(bearing_deg: float, course_deg: float) -> str:
    """The subtraction that gives the angle between two lines, either end of the first, as it prints."""
    turned_deg = difference_deg(course_deg, bearing_deg)
    if abs(turned_deg) > 90.0:
        bearing_deg = reciprocal_deg(bearing_deg)
        turned_deg = difference_deg(course_deg, bearing_deg)
    more, less = (course_deg, bearing_deg) if turned_deg >= 0.0 else (bearing_deg, course_deg)
    around = " + 360" if more < less else ""
    return f"{hundredths(more)}{around} - {hundredths(less)}"


def limits(leg: Leg) -> Iterator[Working]:
    """The altitude limits beside the heights flown."""
    stated = leg.stretch.limits
    yield from _level_as_altitude(leg)
    start, end = (_flown_at(leg, ft) for ft in altitudes_ft(leg))
    flown = f"flown {start}" if start == end else f"flown {start} to {end}"
    crossings = [one.altitude_ft for one in stated.crossings_start if not one.turning and leg.start_nm == 0.0]
    for name, what, altitude_ft, source in (
        ("MEA", "minimum en-route altitude", stated.mea_ft, "14 CFR 91.177(a), 95.1"),
        ("MOCA", "within 22 NM of the VOR in use", stated.moca_ft, "14 CFR 91.177(a)(1), 95.1"),
        ("minimum", *_minimum_by(leg)),
        ("MAA", "maximum authorised altitude", stated.maa_ft, "14 CFR 95.1"),
        ("MCA", f"to cross {leg.start.name}", max(crossings, default=None), "14 CFR 91.177(b), 95.1"),
        ("MRA", f"to receive the cross radial at {leg.end.name}", stated.mra_end_ft, "14 CFR 95.1"),
    ):
        if altitude_ft is not None:
            yield Working(name, what, "", f"{whole(altitude_ft)} ft, {flown}", source)


def _level_as_altitude(leg: Leg) -> Iterator[Working]:
    """The altitude of the planned flight level at the altimeter setting."""
    planned, hpa = leg.stretch.level, leg.altimeter_hpa
    if not planned.flight_level or hpa is None:
        return
    flown_ft = level_altitude_ft(planned, hpa)
    shift_ft = half_up(planned.altitude_ft - flown_ft)
    yield Working(
        f"altitude of {level(planned.altitude_ft, flight_level=True)} at {setting_text(hpa, leg.altimeter_unit)}",
        "pressure altitude - pressure altitude of the setting in the standard atmosphere",
        f"{whole(planned.altitude_ft)} {'-' if shift_ft >= 0 else '+'} {abs(shift_ft)}",
        f"{whole(flown_ft)} ft",
        "ICAO Doc 7488/3",
    )


def _flown_at(leg: Leg, height_ft: float) -> str:
    """A height flown on a leg, a flight level with the altitude that it is at the setting: `FL090 (8080 ft)`."""
    flown = level_flown(height_ft, leg, ())
    if flown is None:
        return level(height_ft)
    text = level(flown.altitude_ft, flight_level=flown.flight_level)
    return f"{text} ({whole(height_ft)} ft)" if flown.flight_level and leg.altimeter_hpa is not None else text


def _minimum_by(leg: Leg) -> tuple[str, float | None, str]:
    """A direct leg's minimum: how it came about, its height and its source."""
    stated, ground = leg.stretch.limits, leg.stretch.ground
    if stated.minimum_kind != "terrain" or ground is None or ground.top is None:
        return "stated for this direct leg", stated.minimum_ft, stated.minimum_source or "route file"
    tolerance = f" + {whole(ground.top.tolerance_ft)}" if ground.top.tolerance_ft else ground.top.unsure_words
    how = f"by terrain: {whole(ground.top.height_ft)}{tolerance} + {whole(ground.clearance_ft)}, rounded up to 100 ft"
    return how, stated.minimum_ft, "14 CFR 91.177(a)(2) and part 95, subpart B"
