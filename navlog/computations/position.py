"""The radial, course and distance of each station from a position, and the radial that a centred needle shows."""

from __future__ import annotations

from msgspec import Struct

from navlog.computations.answer import Solution
from navlog.computations.fixing import height_above_ft
from navlog.nav import radio
from navlog.nav.accuracy import Accuracy
from navlog.nav.angles import difference_deg
from navlog.nav.chart import Position, Station, StationKind
from navlog.nav.figures import course, distance, frequency
from navlog.nav.guidance import Flag, distance_from, radial_toward, set_course_deg, true_bearing_deg
from navlog.nav.problems import problem_error
from navlog.nav.workings import Working


class _StationBearing(Struct, frozen=True):
    """A station seen from a position. The radial is None right over it and where its declination is unknown.

    `course_to_deg` is the course to set with TO. `in_cone` says that the height puts the position where the
    needle is not to be trusted; `service_nm` is the radius of the standard service volume at that height.
    Both are None where class, elevation or height are unknown. `across_nm` is how far aside a radial's error may put
    the position, and `dme_error_nm` how far off a DME's reading may be, by a standard of accuracy where one is named.
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
    across_nm: float | None = None
    dme_error_nm: float | None = None
    radial_error_deg: float | None = None
    accuracy: str | None = None


class _RadialFound(Struct, frozen=True):
    """The radial that a centred needle shows, and how far off it may be where a standard of accuracy is named."""

    set_course_deg: float
    flag: Flag
    radial_deg: float
    error_deg: float | None = None


def solve(
    position: Position,
    stations: tuple[Station, ...],
    *,
    altitude_ft: float | None = None,
    accuracy: Accuracy | None = None,
) -> tuple[_StationBearing, ...]:
    """Every placed station from a position, the nearest first."""
    seen = [_seen(position, station, altitude_ft, accuracy) for station in stations if station.position is not None]
    if not seen:
        raise problem_error("no-stations", "no station here has a position", hint="give one its position")
    return tuple(sorted(seen, key=lambda bearing: (bearing.distance_nm, bearing.ident)))


def radial_on_needle(set_course: float, flag: Flag, accuracy: Accuracy | None = None) -> _RadialFound:
    """The radial that a centred needle shows: the course itself with FROM, its reciprocal with TO."""
    # The rule is its own inverse.
    radial_deg = set_course_deg(set_course, flag)
    assert radial_deg is not None
    return _RadialFound(set_course, flag, radial_deg, None if accuracy is None else accuracy.crossing_deg)


def workings(seen: _StationBearing) -> tuple[Working, ...]:
    """The radial of a station, and what its DME reads."""
    steps = []
    if seen.radial_deg is not None and seen.true_bearing_deg is not None:
        declination_deg = difference_deg(seen.true_bearing_deg, seen.radial_deg)
        steps.append(
            Working(
                f"radial of {seen.ident}",
                "true azimuth at the station (WGS84 geodesic) - station declination",
                f"{seen.true_bearing_deg:.1f} - ({declination_deg:+g})",
                f"{seen.radial_deg:.1f}",
                "FAA NASR: published courses are azimuth less the station's declination",
            )
        )
    if seen.dme_nm is not None:
        steps.append(
            Working(
                f"DME of {seen.ident}",
                "sqrt(ground distance^2 + height above the station^2)",
                f"ground distance {seen.distance_nm:.2f} NM",
                f"{seen.dme_nm:.1f} NM",
                "ICAO Doc 8168, Volume II, I-4-3, appendix C",
            )
        )
    if seen.across_nm is not None:
        steps.append(
            Working(
                f"how far aside the radial of {seen.ident} may be",
                "distance x sin(error)",
                f"{seen.distance_nm:.2f} x sin({seen.radial_error_deg:g})",
                f"{seen.across_nm:.2f} NM",
                seen.accuracy or "",
            )
        )
    return tuple(steps)


def needle_workings(found: _RadialFound) -> tuple[Working, ...]:
    """The radial from the course set."""
    inbound = found.flag is Flag.TO
    return (
        Working(
            "radial",
            "course + 180 with TO" if inbound else "the course with FROM",
            f"{course(found.set_course_deg)} + 180" if inbound else course(found.set_course_deg),
            course(found.radial_deg),
            "FAA-H-8083-15, chapter 7",
        ),
    )


def _seen(
    position: Position, station: Station, altitude_ft: float | None, accuracy: Accuracy | None
) -> _StationBearing:
    distance_nm = distance_from(station, position)
    assert distance_nm is not None
    height_ft = height_above_ft(station, altitude_ft)
    is_vor = station.kind is StationKind.VOR
    radial_deg = radial_toward(station, position) if is_vor else None
    service_nm = in_cone = dme_nm = None
    if height_ft is not None:
        in_cone = is_vor and distance_nm <= radio.cone_radius_nm(height_ft)
        dme_nm = radio.slant_nm(distance_nm, height_ft) if station.dme else None
        if station.service is not None:
            service_nm = radio.service_radius_nm(station.service, height_ft)
    across_nm = dme_error_nm = None
    if accuracy is not None:
        across_nm = None if radial_deg is None else accuracy.radial_nm(distance_nm, 90.0)
        dme_error_nm = None if dme_nm is None else accuracy.dme_nm(dme_nm)
    return _StationBearing(
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
        across_nm=across_nm,
        dme_error_nm=dme_error_nm,
        radial_error_deg=None if accuracy is None else accuracy.crossing_deg,
        accuracy=None if accuracy is None else accuracy.name,
    )


def _lines(seen: _StationBearing) -> tuple[str]:
    """One line a station, as many as there are in a list of them."""
    parts = [f"{seen.ident} {frequency(seen.frequency_mhz)} {seen.morse}"]
    if seen.radial_deg is not None:
        north = "T" if seen.north == "true" else ""
        parts.append(f"radial {course(seen.radial_deg)}{north}, course {course(seen.course_to_deg)}{north} TO")
    else:
        undeclared = seen.kind is StationKind.VOR and seen.declination_deg is None
        parts.append("no declination, so no radial" if undeclared else "no radial")
    away = f"{distance(seen.distance_nm)} NM"
    parts.append(away if seen.dme_nm is None else f"{away}, DME {distance(seen.dme_nm)}")
    if seen.across_nm is not None:
        parts.append(f"radial within {distance(seen.across_nm)} NM")
    if seen.dme_error_nm is not None:
        parts.append(f"DME within {seen.dme_error_nm:.2f} NM")
    if seen.in_cone:
        parts.append("over the station: the needle is not to be trusted")
    if seen.service_nm is not None and seen.distance_nm > seen.service_nm:
        parts.append(f"outside its service volume of {seen.service_nm:.0f} NM")
    return ("  ".join(parts),)


def answers(bearings: tuple[_StationBearing, ...]) -> tuple[Solution, ...]:
    """What is printed of each station, with its workings."""
    return tuple(Solution((seen,), _lines(seen), workings(seen)) for seen in bearings)


def needle_answer(found: _RadialFound) -> Solution:
    """The radial that a centred needle shows, with its workings."""
    line = f"radial {course(found.radial_deg)}: needle centred on {course(found.set_course_deg)} {found.flag}"
    if found.error_deg is not None:
        line += f", within {found.error_deg:g} degrees"
    return Solution((found,), (line,), needle_workings(found))
