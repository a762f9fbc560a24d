"""Where a fix is, how well its radials mark it, and which radials and distances of stations a position has.

Radials count from each station's own declination; distances are over the ground unless they are a DME's.
"""

from __future__ import annotations

from math import sqrt

from msgspec import Struct

from navlog.nav import earth, radio
from navlog.nav.accuracy import COUNTED_ON
from navlog.nav.angles import difference_deg, sin_cos_deg
from navlog.nav.chart import Position, Station, StationKind
from navlog.nav.figures import course
from navlog.nav.guidance import Flag, distance_from, radial_toward, set_course_deg, true_bearing_deg
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.workings import Step
from navlog.request.records import FixDefinition
from navlog.request.stationlist import named


class RadialLine(Struct, frozen=True):
    """One radial that makes a fix: the station's distance over the ground, and the fix's shift by an error.

    `shift_nm` is how far the bearing error moves the fix: along the other radial, or across this one where
    the fix is a radial and a distance. `dme_nm` is what the DME reads at the height given.
    """

    ident: str
    radial_deg: float
    true_bearing_deg: float
    distance_nm: float
    dme_nm: float | None
    height_above_station_ft: float | None
    shift_nm: float


class FixAnswer(Struct, frozen=True):
    """A fix by two radials (`cut_deg` is set) or by a radial and a distance.

    `error_nm` is the farthest that the fix lies off when every radial is off by `bearing_error_deg`, and the
    DME, where it makes the fix, by `dme_error_nm`.
    """

    position: Position
    lines: tuple[RadialLine, ...]
    cut_deg: float | None
    bearing_error_deg: float
    dme_error_nm: float | None
    error_nm: float
    altitude_ft: float | None


class StationBearing(Struct, frozen=True):
    """A station seen from a position. The radial is None right over it and where its declination is unknown.

    `course_to_deg` is the course to set with TO. `in_cone` says that the height puts the position where the
    needle is not to be trusted; `service_nm` is the radius of the standard service volume at that height.
    Both are None where class, elevation or height are unknown.
    """

    ident: str
    name: str | None
    kind: StationKind
    frequency_mhz: float | None
    morse: str
    true_bearing_deg: float | None
    radial_deg: float | None
    north: str
    course_to_deg: float | None
    distance_nm: float
    dme_nm: float | None
    in_cone: bool | None
    service_nm: float | None
    declination_deg: float | None


class RadialFound(Struct, frozen=True):
    """The radial that a centred needle shows."""

    set_course_deg: float
    flag: Flag
    radial_deg: float


def fix(
    definition: FixDefinition,
    stations: tuple[Station, ...],
    *,
    bearing_error_deg: float = 1.0,
    altitude_ft: float | None = None,
) -> FixAnswer:
    """The place that two radials, or a radial and a distance, define.

    A DME reading is reduced to the ground by the station's elevation (ICAO Doc 8168). Raises `no-crossing`
    where the radials never meet, `impossible-dme`, and a problem for what a station lacks.
    """
    if not 0.0 <= bearing_error_deg < 45.0:
        raise problem_error("bad-value", f"a bearing error of {bearing_error_deg:g} degrees is out of range")
    if definition.dme_altitude_ft is not None:
        altitude_ft = definition.dme_altitude_ft
    if len(definition.radials) == 2:
        return _crossed(definition, stations, bearing_error_deg, altitude_ft)
    ((name, radial_deg),) = definition.radials
    station = named(name, stations)
    place, bearing_deg = _placed(station), _bearing(station, radial_deg)
    distance_nm = _ground_nm(definition, station)
    position = earth.direct(place, bearing_deg, distance_nm)
    shift_nm = distance_nm * sin_cos_deg(bearing_error_deg)[0]
    by_dme = definition.dme_altitude_ft is not None
    dme_error_nm = COUNTED_ON.dme_nm(definition.distance_nm or 0.0) if by_dme else None
    line = _line(station, radial_deg, bearing_deg, distance_nm, altitude_ft, shift_nm)
    error_nm = sqrt(shift_nm**2 + (dme_error_nm or 0.0) ** 2)
    return FixAnswer(position, (line,), None, bearing_error_deg, dme_error_nm, error_nm, altitude_ft)


def position_bearings(
    position: Position, stations: tuple[Station, ...], *, altitude_ft: float | None = None
) -> tuple[StationBearing, ...]:
    """Every placed station from a position, the nearest first."""
    seen = [_seen(position, station, altitude_ft) for station in stations if station.position is not None]
    if not seen:
        raise problem_error("no-stations", "no station here has a position", hint="give one its position")
    return tuple(sorted(seen, key=lambda bearing: (bearing.distance_nm, bearing.ident)))


def radial_on_needle(set_course: float, flag: Flag) -> RadialFound:
    """The radial that a centred needle shows: the course itself with FROM, its reciprocal with TO."""
    # The rule is its own inverse.
    radial_deg = set_course_deg(set_course, flag)
    assert radial_deg is not None
    return RadialFound(set_course, flag, radial_deg)


def workings(answer: FixAnswer) -> tuple[Step, ...]:
    """True bearings, DME to ground, cut angle and error."""
    steps = [
        Step(
            f"true bearing from {line.ident}",
            "radial + station declination",
            f"{line.radial_deg:g} + ({difference_deg(line.true_bearing_deg, line.radial_deg):+g})",
            f"{line.true_bearing_deg:.1f}T",
            "FAA NASR: published courses are azimuth less the station's declination",
        )
        for line in answer.lines
    ]
    if answer.cut_deg is None:
        steps += _radial_and_distance_steps(answer, answer.lines[0])
        return tuple(steps)
    first, second = answer.lines
    for line, other in ((first, second), (second, first)):
        steps.append(
            Step(
                f"shift by an error at {line.ident}, along {other.ident}'s radial",
                "distance x sin(error) / sin(cut)",
                f"{line.distance_nm:.1f} x sin({answer.bearing_error_deg:g}) / sin({answer.cut_deg:.0f})",
                f"{line.shift_nm:.2f} NM",
                "geometry",
            )
        )
    steps.append(
        Step(
            "both errors at their worst",
            "sqrt(a^2 + b^2 + 2 a b cos(cut))",
            f"a = {first.shift_nm:.2f}, b = {second.shift_nm:.2f}, cut = {answer.cut_deg:.0f}",
            f"{answer.error_nm:.2f} NM",
            "geometry",
        )
    )
    return tuple(steps)


def bearing_workings(bearings: tuple[StationBearing, ...]) -> tuple[Step, ...]:
    """The radial of each station, and what its DME reads."""
    steps = []
    for seen in bearings:
        if seen.radial_deg is not None and seen.true_bearing_deg is not None:
            declination_deg = difference_deg(seen.true_bearing_deg, seen.radial_deg)
            steps.append(
                Step(
                    f"radial of {seen.ident}",
                    "true azimuth at the station (WGS84 geodesic) - station declination",
                    f"{seen.true_bearing_deg:.1f} - ({declination_deg:+g})",
                    f"{seen.radial_deg:.1f}",
                    "FAA NASR: published courses are azimuth less the station's declination",
                )
            )
        if seen.dme_nm is not None:
            steps.append(
                Step(
                    f"DME of {seen.ident}",
                    "sqrt(ground distance^2 + height above the station^2)",
                    f"ground distance {seen.distance_nm:.2f} NM",
                    f"{seen.dme_nm:.1f} NM",
                    "ICAO Doc 8168, Volume II, I-4-3, appendix C",
                )
            )
    return tuple(steps)


def needle_workings(found: RadialFound) -> tuple[Step, ...]:
    """The radial from the course set."""
    inbound = found.flag is Flag.TO
    return (
        Step(
            "radial",
            "course + 180 with TO" if inbound else "the course with FROM",
            f"{course(found.set_course_deg)} + 180" if inbound else course(found.set_course_deg),
            course(found.radial_deg),
            "FAA-H-8083-15, chapter 7",
        ),
    )


def _radial_and_distance_steps(answer: FixAnswer, line: RadialLine) -> list[Step]:
    steps = []
    if line.dme_nm is not None and line.height_above_station_ft is not None:
        height = f"{line.height_above_station_ft:.0f} ft / 6,076"
        steps.append(
            Step(
                "DME reading and ground distance",
                "reading^2 = ground distance^2 + height above the station^2",
                f"{line.dme_nm:.2f}^2 = {line.distance_nm:.2f}^2 + ({height})^2",
                f"{line.distance_nm:.1f} NM over the ground",
                "ICAO Doc 8168, Volume II, I-4-3, appendix C",
            )
        )
    steps.append(
        Step(
            "shift across the radial",
            "distance x sin(error)",
            f"{line.distance_nm:.1f} x sin({answer.bearing_error_deg:g})",
            f"{line.shift_nm:.2f} NM",
            "geometry",
        )
    )
    return steps


def _crossed(
    definition: FixDefinition, stations: tuple[Station, ...], error_deg: float, altitude_ft: float | None
) -> FixAnswer:
    (first_name, first_deg), (second_name, second_deg) = definition.radials
    first, second = named(first_name, stations), named(second_name, stations)
    first_true, second_true = _bearing(first, first_deg), _bearing(second, second_deg)
    met = earth.crossing(_placed(first), first_true, _placed(second), second_true)
    sine, cosine = sin_cos_deg(met.cut_deg)
    first_shift, second_shift = (
        distance_nm * sin_cos_deg(error_deg)[0] / sine
        for distance_nm in (met.first_distance_nm, met.second_distance_nm)
    )
    lines = (
        _line(first, first_deg, first_true, met.first_distance_nm, altitude_ft, first_shift),
        _line(second, second_deg, second_true, met.second_distance_nm, altitude_ft, second_shift),
    )
    error_nm = sqrt(first_shift**2 + second_shift**2 + 2.0 * first_shift * second_shift * cosine)
    return FixAnswer(met.position, lines, met.cut_deg, error_deg, None, error_nm, altitude_ft)


def _line(
    station: Station,
    radial_deg: float,
    bearing_deg: float,
    distance_nm: float,
    altitude_ft: float | None,
    shift_nm: float,
) -> RadialLine:
    height_ft = _height_ft(station, altitude_ft)
    dme_nm = radio.slant_nm(distance_nm, height_ft) if station.dme and height_ft is not None else None
    return RadialLine(station.ident, radial_deg, bearing_deg, distance_nm, dme_nm, height_ft, shift_nm)


def _seen(position: Position, station: Station, altitude_ft: float | None) -> StationBearing:
    distance_nm = distance_from(station, position)
    assert distance_nm is not None
    height_ft = _height_ft(station, altitude_ft)
    is_vor = station.kind is StationKind.VOR
    radial_deg = radial_toward(station, position) if is_vor else None
    service_nm = in_cone = dme_nm = None
    if height_ft is not None:
        in_cone = is_vor and distance_nm <= radio.cone_radius_nm(height_ft)
        dme_nm = radio.slant_nm(distance_nm, height_ft) if station.dme else None
        if station.service is not None:
            service_nm = radio.service_radius_nm(station.service, height_ft)
    return StationBearing(
        ident=station.ident,
        name=station.name,
        kind=station.kind,
        frequency_mhz=station.frequency_mhz,
        morse=radio.morse(station.ident),
        true_bearing_deg=None if radial_deg is None else true_bearing_deg(station, radial_deg),
        radial_deg=radial_deg,
        north="true" if station.true_referenced else "magnetic",
        course_to_deg=set_course_deg(radial_deg, Flag.TO),
        distance_nm=distance_nm,
        dme_nm=dme_nm,
        in_cone=in_cone,
        service_nm=service_nm,
        declination_deg=station.declination_deg,
    )


def _height_ft(station: Station, altitude_ft: float | None) -> float | None:
    if altitude_ft is None or station.elevation_ft is None:
        return None
    return altitude_ft - station.elevation_ft


def _ground_nm(definition: FixDefinition, station: Station) -> float:
    distance_nm = definition.distance_nm
    assert distance_nm is not None
    if definition.dme_altitude_ft is None:
        return distance_nm
    height_ft = _height_ft(station, definition.dme_altitude_ft)
    if height_ft is None:
        raise _lacks(station, "elevation", "give its elev, or the distance over the ground without `dme`")
    return radio.ground_nm(distance_nm, height_ft)


def _placed(station: Station) -> Position:
    if station.position is None:
        raise _lacks(station, "position", "give its position after the frequency")
    return station.position


def _bearing(station: Station, radial_deg: float) -> float:
    if station.kind is not StationKind.VOR:
        raise problem_error("no-radial", f"`{station.ident}` is no VOR and has no radials")
    bearing_deg = true_bearing_deg(station, radial_deg)
    if bearing_deg is None:
        raise _lacks(station, "declination", "give its decl, such as decl 15W")
    return bearing_deg


def _lacks(station: Station, what: str, hint: str) -> NavlogError:
    return problem_error(f"no-{what}", f"`{station.ident}` has no known {what}", hint=hint)
