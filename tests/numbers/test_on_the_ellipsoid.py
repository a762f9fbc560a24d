"""Geodesics beside a walk over the ellipsoid in small steps; crossings and fixes beside plain halving."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from math import atan2, ceil, cos, degrees, hypot, pi, radians, sin, sqrt
from random import Random

from helpers.compared import M_PER_NM, Difference, between, check, line, random_position, there

from navlog.computations import fixing, position
from navlog.computations.position import radial_on_needle
from navlog.nav import earth, guidance
from navlog.nav.chart import Position, Station, StationKind
from navlog.nav.guidance import Flag, Guidance, StatedRadial
from navlog.nav.problems import Span
from navlog.nav.units import FEET_PER_NM
from navlog.request.records import FixDefinition, Name

# The defining constants of WGS84.
AXIS_M = 6_378_137.0
FLATTENING = 1 / 298.257223563
SQUARED = (1 / AXIS_M**2, 1 / AXIS_M**2, 1 / (AXIS_M * (1 - FLATTENING)) ** 2)
ECCENTRICITY_2 = FLATTENING * (2 - FLATTENING)
STEP_M = 2_500.0

# Steps of 2.5 km leave less than a millionth of a metre after 500 NM.
WALKED_M = 1e-6
# The promise of `crossing`, in NM.
FIX_NM = 1e-6
Vector = tuple[float, float, float]


def surface(position: Position) -> tuple[Vector, Vector, Vector]:
    """Place on the ellipsoid in metres from its centre, and the directions east and north there."""
    lat, lon = radians(position.latitude_deg), radians(position.longitude_deg)
    normal = AXIS_M / sqrt(1 - ECCENTRICITY_2 * sin(lat) ** 2)
    place = (normal * cos(lat) * cos(lon), normal * cos(lat) * sin(lon), normal * (1 - ECCENTRICITY_2) * sin(lat))
    return place, (-sin(lon), cos(lon), 0.0), (-sin(lat) * cos(lon), -sin(lat) * sin(lon), cos(lat))


def apart_m(one: Position, other: Position) -> float:
    """The straight line between two places, which is the way over the ground for small distances."""
    return hypot(*(a - b for a, b in zip(surface(one)[0], surface(other)[0], strict=True)))


def bent(place: Vector, moving: Vector) -> Vector:
    """The acceleration that keeps a straight way on the ellipsoid: along the normal, enough to stay on it."""
    normal = tuple(squared * part for squared, part in zip(SQUARED, place, strict=True))
    pull = sum(squared * part**2 for squared, part in zip(SQUARED, moving, strict=True))
    pull /= sum(part**2 for part in normal)
    return -pull * normal[0], -pull * normal[1], -pull * normal[2]


def ahead(start: Vector, change: Vector, step: float) -> Vector:
    return start[0] + step * change[0], start[1] + step * change[1], start[2] + step * change[2]


def walked(start: Position, course_deg: float, distance_nm: float) -> tuple[Position, float]:
    """The end of a geodesic and the course there, by the fourth-order method of Runge and Kutta."""
    place, east, north = surface(start)
    course = radians(course_deg)
    moving = ahead(ahead((0.0, 0.0, 0.0), east, sin(course)), north, cos(course))
    steps = ceil(abs(distance_nm) * M_PER_NM / STEP_M)
    step = distance_nm * M_PER_NM / steps
    for _ in range(steps):
        first = bent(place, moving)
        moving_2 = ahead(moving, first, step / 2)
        second = bent(ahead(place, moving, step / 2), moving_2)
        moving_3 = ahead(moving, second, step / 2)
        third = bent(ahead(place, moving_2, step / 2), moving_3)
        moving_4 = ahead(moving, third, step)
        fourth = bent(ahead(place, moving_3, step), moving_4)
        for now, change in ((moving, 1), (moving_2, 2), (moving_3, 2), (moving_4, 1)):
            place = ahead(place, now, change * step / 6)
        for now, change in ((first, 1), (second, 2), (third, 2), (fourth, 1)):
            moving = ahead(moving, now, change * step / 6)
    latitude = atan2(place[2], (1 - ECCENTRICITY_2) * hypot(place[0], place[1]))
    end = Position(degrees(latitude), degrees(atan2(place[1], place[0])))
    _, east, north = surface(end)
    return end, degrees(
        atan2(
            sum(a * b for a, b in zip(moving, east, strict=True)),
            sum(a * b for a, b in zip(moving, north, strict=True)),
        )
    )


def root(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a function that rises from below zero crosses it, by halving."""
    for _ in range(60):
        middle = (low + high) / 2
        if function(middle) < 0.0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def of_geodesics(random: Random) -> Iterator[Difference]:
    start, course_deg, distance_nm = random_position(random), random.uniform(0, 360), random.uniform(0.5, 500)
    end, end_deg = walked(start, course_deg, distance_nm)
    yield "direct, m", apart_m(earth.direct(start, course_deg, distance_nm), end)
    found = earth.inverse(start, end)
    yield "inverse, length, m", (found.distance_nm - distance_nm) * M_PER_NM
    aside_m = distance_nm * M_PER_NM * pi / 180
    yield "inverse, course, m aside", between(found.course_deg, course_deg) * aside_m
    yield "inverse, course at the end, m aside", between(found.end_course_deg, end_deg) * aside_m
    yield "distance_nm, m", (earth.distance_nm(start, end) - distance_nm) * M_PER_NM
    along_nm = random.uniform(-0.5, 1.5) * distance_nm
    place, place_deg = earth.point_along(start, end, along_nm)
    walked_to, walked_deg = walked(start, course_deg, along_nm)
    yield "point_along, m", apart_m(place, walked_to)
    yield "point_along, course, m aside", between(place_deg, walked_deg) * aside_m


def test_geodesics_are_where_small_steps_lead() -> None:
    named = ("direct, m", "inverse, length, m", "inverse, course, m aside", "inverse, course at the end, m aside")
    more = ("distance_nm, m", "point_along, m", "point_along, course, m aside")
    check(of_geodesics, dict.fromkeys((*named, *more), WALKED_M))


def met(first: Position, first_deg: float, second: Position, second_deg: float) -> tuple[Position, float]:
    """Where the first line is seen from the second station on the second course, and how far along that is."""
    toward = 1.0 if between(second_deg, line(second, first)[1]) > 0.0 else -1.0

    def ahead_of_second(along_nm: float) -> float:
        return toward * between(line(second, there(first, first_deg, along_nm))[1], second_deg)

    along_nm = root(ahead_of_second, 0.0, 600.0)
    return there(first, first_deg, along_nm), along_nm


def pair(random: Random, *, least_deg: float = 10.0) -> tuple[Position, float, Position, float]:
    """Two places and courses from them that meet within some 300 NM, at 30 degrees or more."""
    first = random_position(random)
    second = there(first, random.uniform(0, 360), random.uniform(10, 150))
    side = random.choice((-1, 1))
    at_first = random.uniform(least_deg, 150 - least_deg)
    at_second = random.uniform(least_deg, 150 - at_first)
    out = line(first, second)
    return first, out[1] + side * at_first, second, out[2] + 180.0 - side * at_second


def of_crossings(random: Random) -> Iterator[Difference]:
    first, first_deg, second, second_deg = pair(random)
    place, along_nm = met(first, first_deg, second, second_deg)
    found = earth.crossing(first, first_deg, second, second_deg)
    yield "crossing, NM", line(found.position, place)[0]
    yield "first distance, NM", found.first_distance_nm - along_nm
    yield "second distance, NM", found.second_distance_nm - line(second, place)[0]
    angle = abs(between(line(first, place)[2], line(second, place)[2]))
    yield "cut, degrees", found.cut_deg - min(angle, 180.0 - angle)


def test_radials_cross_where_halving_finds_it() -> None:
    distances = dict.fromkeys(("crossing, NM", "first distance, NM", "second distance, NM"), FIX_NM)
    check(of_crossings, distances | {"cut, degrees": 1e-7})


def station(ident: str, place: Position, random: Random) -> Station:
    return Station(
        ident,
        StationKind.VOR,
        place,
        declination_deg=round(random.uniform(-40, 40)),
        dme=True,
        elevation_ft=random.uniform(0, 3000),
        service="H",
    )


def of_guidance(random: Random) -> Iterator[Difference]:
    vor = station("QHB", random_position(random), random)
    assert vor.position is not None
    declination = Fraction(vor.declination_deg or 0)
    place = there(vor.position, random.uniform(0, 360), random.uniform(1, 130))
    distance_nm, bearing_deg, _ = line(vor.position, place)
    radial_deg = guidance.radial_toward(vor, place)
    assert radial_deg is not None
    yield "radial_toward", between(radial_deg, bearing_deg - float(declination))
    yield "distance_from, m", ((guidance.distance_from(vor, place) or 0.0) - distance_nm) * M_PER_NM
    angle = random.uniform(0, 360)
    yield "radial_deg", between(Fraction(guidance.radial_deg(vor, angle) or 0), Fraction(angle) - declination)
    yield (
        "true_bearing_deg",
        between(Fraction(guidance.true_bearing_deg(vor, angle) or 0), Fraction(angle) + declination),
    )
    for flag, reverse in ((Flag.FROM, 0), (Flag.TO, 180)):
        set_course = guidance.set_course_deg(angle, flag)
        yield "set_course_deg", between(Fraction(set_course or 0), Fraction(angle) + reverse)
        held = Guidance(vor, StatedRadial(charted=angle), flag)
        true = Fraction(guidance.track_true_deg(held) or 0)
        yield "track_true_deg", between(true, Fraction(angle) + reverse + declination)
        on_needle = radial_on_needle(angle, flag).radial_deg
        yield "radial_on_needle", between(Fraction(on_needle), Fraction(angle) + reverse)


def test_radials_and_set_courses() -> None:
    exact = ("radial_deg", "true_bearing_deg", "set_course_deg", "track_true_deg", "radial_on_needle")
    check(of_guidance, {"radial_toward": 1e-9, "distance_from, m": 1e-7} | dict.fromkeys(exact, 2e-13))


NOWHERE = Span("", 1)
QAA, QBB = Name("QAA", NOWHERE), Name("QBB", NOWHERE)


def of_fixes(random: Random) -> Iterator[Difference]:
    first_at, first_deg, second_at, second_deg = pair(random, least_deg=35.0)
    first, second = station("QAA", first_at, random), station("QBB", second_at, random)
    radials = (
        first_deg - (first.declination_deg or 0.0),
        second_deg - (second.declination_deg or 0.0),
    )
    crossed = FixDefinition("QFX", NOWHERE, radials=((QAA, radials[0] % 360), (QBB, radials[1] % 360)))
    found = fixing.solve(crossed, (first, second), bearing_error_deg=1.0)
    place, _ = met(first_at, first_deg, second_at, second_deg)
    yield "crossed, NM", line(found.position, place)[0]
    worst_nm = max(
        line(place, met(first_at, first_deg + one, second_at, second_deg + other)[0])[0]
        for one in (-1, 1)
        for other in (-1, 1)
    )
    assert found.error_nm is not None
    yield "error by 1 degree, share", found.error_nm / worst_nm - 1.0
    reading_nm, altitude_ft = random.uniform(10, 100), random.uniform(3000, 20_000)
    by_dme = FixDefinition(
        "QFX", NOWHERE, radials=((QAA, radials[0] % 360),), distance_nm=reading_nm, dme_altitude_ft=altitude_ft
    )
    found = fixing.solve(by_dme, (first,), bearing_error_deg=1.0)
    ground_nm, bearing_deg, _ = line(first_at, found.position)
    height_nm = (altitude_ft - (first.elevation_ft or 0.0)) / FEET_PER_NM
    yield "DME, NM", hypot(ground_nm, height_nm) - reading_nm
    yield "radial of the DME fix", between(bearing_deg, first_deg)
    (seen,) = position.solve(place, (first,), altitude_ft=altitude_ft)
    distance_nm, bearing_deg, _ = line(first_at, place)
    yield "bearing", between(seen.radial_deg, bearing_deg - (first.declination_deg or 0.0))
    yield "course to", between(seen.course_to_deg, bearing_deg - (first.declination_deg or 0.0) + 180.0)
    yield "DME seen, NM", (seen.dme_nm or 0.0) - hypot(distance_nm, height_nm)


def test_fixes_and_how_well_they_are_marked() -> None:
    check(
        of_fixes,
        {
            "crossed, NM": FIX_NM,
            # The error is worked out for straight lines and small angles: good to a tenth of itself.
            "error by 1 degree, share": 0.005,
            "DME, NM": 1e-9,
            "radial of the DME fix": 1e-9,
            "bearing": 1e-9,
            "course to": 1e-9,
            "DME seen, NM": 1e-9,
        },
    )
