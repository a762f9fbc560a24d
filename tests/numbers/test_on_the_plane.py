"""Descents, intercepts, bearings abeam and the radio's triangles beside plane geometry of forty digits."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, degrees
from random import Random
from typing import Any

from helpers.compared import Difference, between, check, direction_deg, mp, vector

from navlog.computations import descent, intercept, needle, station_time
from navlog.computations.descent import Slope
from navlog.computations.intercept import Way
from navlog.nav import radio
from navlog.nav.problems import NavlogError
from navlog.nav.units import Amount

RELATIVE = 1e-14
FEET_PER_NM = mp.mpf(1852) / mp.mpf("0.3048")
DEGREE = mp.pi / 180


def share(found: float | None, exact: Any) -> float:
    assert found is not None
    return float(found / exact - 1)


def of_descents(random: Random) -> Iterator[Difference]:
    from_ft, to_ft, speed = random.uniform(0, 12_000), random.uniform(0, 12_000), random.uniform(50, 200)
    down_nm = abs(mp.mpf(from_ft) - mp.mpf(to_ft)) / FEET_PER_NM
    angle = mp.mpf(random.uniform(0.5, 10))
    distance = down_nm / mp.tan(angle * DEGREE)
    minutes = 60 * distance / mp.mpf(speed)
    gradient = down_nm * FEET_PER_NM / distance
    rate = down_nm * FEET_PER_NM / minutes
    slopes = (
        Slope(angle_deg=float(angle)),
        Slope(gradient_ft_per_nm=float(gradient)),
        Slope(rate_ft_min=float(rate)),
        Slope(distance_nm=float(distance)),
        Slope(time_min=float(minutes)),
    )
    level_nm, burn = random.uniform(0, 10), random.uniform(4, 40)
    for slope in slopes:
        found = descent.solve(
            slope, from_ft=from_ft, to_ft=to_ft, groundspeed_kt=speed, level_nm=level_nm, burn=Amount(burn, "gal/h")
        )
        assert found.fuel is not None
        yield "angle", share(found.angle_deg, angle)
        yield "gradient", share(found.gradient_ft_per_nm, gradient)
        yield "rate", share(found.rate_ft_min, rate)
        yield "distance", share(found.distance_nm, distance)
        yield "start", share(found.start_nm, distance + mp.mpf(level_nm))
        yield "time", share(found.time_min, minutes)
        yield "fuel", share(found.fuel.value, mp.mpf(burn) * minutes / 60)
        yield "climbing", float(found.climbing != (to_ft > from_ft))


def test_any_figure_of_a_slope_gives_the_others() -> None:
    shares = dict.fromkeys(("angle", "gradient", "rate", "distance", "start", "time", "fuel"), RELATIVE)
    check(of_descents, shares | {"climbing": 0.0}, times=5)


def crossed(place: Any, along: Any, radial: Any) -> tuple[Any, Any]:
    """How far along a course from a place, and from the station in its middle, two straight lines cross."""
    area = along.real * radial.imag - along.imag * radial.real
    flown = (radial.real * place.imag - radial.imag * place.real) / area
    out = (along.real * place.imag - along.imag * place.real) / area
    return flown, out


def of_intercepts(random: Random) -> Iterator[Difference]:
    present, radial = random.uniform(0, 360), random.uniform(0, 360)
    angle, distance, speed = random.uniform(15, 90), random.uniform(3, 60), random.uniform(60, 200)
    question = {"present_radial_deg": present, "radial_deg": radial, "angle_deg": angle, "distance_nm": distance}
    for way in Way:
        try:
            found = intercept.solve(**question, way=way, groundspeed_kt=speed)
        except NavlogError:
            yield "refused though it is met", float(is_met(present, radial, angle, distance, way))
            continue
        yield "refused though it is met", 0.0
        inbound = way is Way.INBOUND
        yield "course", between(found.set_course_deg, mp.mpf(radial) + 180 * inbound)
        flown, out = crossed(vector(present, distance), vector(found.heading_deg, 1.0), vector(radial, 1.0))
        yield "met from the station, share", share(found.meeting_nm, out)
        # Degrees between the radials lose digits where the two are near each other.
        yield "to the radial, NM", float((found.to_radial_nm or 0.0) - flown)
        yield "time, min", float((found.time_min or 0.0) - 60 * flown / mp.mpf(speed))
        yield "angle", abs(between(mp.mpf(found.heading_deg), found.set_course_deg)) - angle
        side = vector(radial, 1.0) - vector(present, 1.0)
        ahead = vector(found.set_course_deg, 1.0)
        right = side.real * ahead.imag - side.imag * ahead.real > 0
        yield "needle", float(found.needle != ("right" if right else "left"))
        off = abs(between(mp.mpf(present), radial))
        yield "needle, dots", float(found.needle_dots - min(off, 180 - off) / 2)


def is_met(present: float, radial: float, angle: float, distance: float, way: Way) -> bool:
    """Whether either turn of the intercept angle meets the radial ahead, inbound a mile out or more."""
    course = radial + (180.0 if way is Way.INBOUND else 0.0)
    met = []
    for heading in (course - angle, course + angle):
        flown, out = crossed(vector(present, distance), vector(heading, 1.0), vector(radial, 1.0))
        met.append(flown > 0 and out > (1.000001 if way is Way.INBOUND else 0.0))
    return any(met)


def test_a_radial_is_met_where_two_lines_cross() -> None:
    named = ("met from the station, share", "to the radial, NM", "time, min", "angle", "needle, dots", "course")
    sides = ("needle", "refused though it is met")
    check(of_intercepts, dict.fromkeys(named, 1e-11) | dict.fromkeys(sides, 0.0), times=20)


def of_stations_abeam(random: Random) -> Iterator[Difference]:
    # Straight past a station: where it stands from the nose now and before, and how far it is now.
    elapsed, speed, burn = random.uniform(1, 10), random.uniform(60, 200), random.uniform(4, 40)
    flown = mp.mpf(speed) * mp.mpf(elapsed) / 60
    ahead, aside = mp.mpf(random.uniform(-2, 10)) * flown, mp.mpf(random.uniform(0.3, 8)) * flown
    before, now = (mp.atan2(aside, along) / DEGREE for along in (ahead + flown, ahead))
    side = random.choice((1, -1))
    known = {"elapsed_min": elapsed, "speed_kt": speed, "burn": Amount(burn, "gal/h")}
    found = station_time.by_relative_bearings(
        first_deg=float(side * before % 360),
        second_deg=float(side * now % 360),
        **known,  # type: ignore[arg-type]
    )
    distance = mp.hypot(ahead, aside)
    assert found.fuel is not None
    yield "relative bearings: time", share(found.time_min, 60 * distance / mp.mpf(speed))
    yield "relative bearings: distance", share(found.distance_nm, distance)
    yield "relative bearings: fuel", share(found.fuel.value, mp.mpf(burn) * distance / mp.mpf(speed))
    change = mp.mpf(random.uniform(2, 20))
    first = random.uniform(0, 360)
    turned = station_time.by_radials(first_deg=first, second_deg=float((first + change) % 360), **known)  # type: ignore[arg-type]
    yield "radials: time", share(turned.time_min, 60 * mp.mpf(elapsed) / change)
    yield "radials: distance", share(turned.distance_nm, mp.mpf(speed) * mp.mpf(elapsed) / change)
    # The rule counts 60 for the 57.3 degrees of a radian; by geometry, abeam in the middle of the change:
    exact = flown / 2 / mp.sin(change / 2 * DEGREE)
    yield "radials: the rule beside geometry", share(turned.distance_nm, exact)


def test_time_and_distance_to_a_station() -> None:
    # Bearings are subtracted: a change of 1 degree keeps 13 digits of the 16 of 360.
    by_bearings = dict.fromkeys((f"relative bearings: {what}" for what in ("time", "distance", "fuel")), 1e-10)
    by_radials = dict.fromkeys(("radials: time", "radials: distance"), 1e-13)
    check(of_stations_abeam, by_bearings | by_radials | {"radials: the rule beside geometry": 0.05}, times=20)


def of_radio(random: Random) -> Iterator[Difference]:
    ground, height = random.uniform(1, 130), random.uniform(-1000, 40_000)
    height_nm = mp.mpf(height) / FEET_PER_NM
    slant = mp.sqrt(mp.mpf(ground) ** 2 + height_nm**2)
    yield "slant_nm", share(radio.slant_nm(ground, height), slant)
    # Right over the station the reading says little of the ground distance.
    yield (
        "ground_nm, NM x share on the ground",
        float((radio.ground_nm(float(slant), height) - mp.mpf(ground)) * ground / slant),
    )
    above = random.uniform(500, 40_000)
    yield "cone_radius_nm", share(radio.cone_radius_nm(above), mp.mpf(above) / FEET_PER_NM * mp.tan(50 * DEGREE))
    off, angle = random.uniform(-20, 20), random.uniform(-60, 60)
    yield "deflection_deg", share(radio.deflection_deg(off, ground), mp.atan(mp.mpf(off) / mp.mpf(ground)) / DEGREE)
    exact_off = mp.mpf(ground) * mp.tan(mp.mpf(angle) * DEGREE)
    yield "off_course_nm", share(radio.off_course_nm(angle, ground), exact_off)
    yield "dots", share(radio.dots(angle), mp.mpf(angle) / 2)
    by_degrees = needle.from_deflection(abs(angle), ground)
    yield "needle_from_deflection", share(by_degrees.off_nm, abs(exact_off))
    beside = min(abs(off), ground)
    by_miles = needle.from_offset(beside, ground)
    yield "needle_from_offset", by_miles.deflection_deg - degrees(atan2(beside, ground))
    station = random.uniform(0, 8000)
    exact = mp.mpf("1.23") * (mp.sqrt(mp.mpf(above)) + mp.sqrt(mp.mpf(station)))
    yield "radio_horizon_nm", share(radio.radio_horizon_nm(above, station), exact)
    # Tangents to a sphere of four thirds of the earth's mean radius of 6,371 km.
    radius = mp.mpf(6371) / mp.mpf("1.852") * 4 / 3
    arcs = sum(radius * mp.acos(radius / (radius + mp.mpf(feet) / FEET_PER_NM)) for feet in (above, station))
    yield "radio_horizon_nm beside tangents", share(radio.radio_horizon_nm(above, station), arcs)


def test_the_radio_triangles() -> None:
    exact = ("slant_nm", "cone_radius_nm", "off_course_nm", "dots", "deflection_deg", "needle_from_deflection")
    more = ("needle_from_offset", "radio_horizon_nm", "ground_nm, NM x share on the ground")
    # 1.23 is 1.2289 rounded to a thousandth of itself, and the square roots of the rule are as near.
    check(of_radio, dict.fromkeys((*exact, *more), 1e-13) | {"radio_horizon_nm beside tangents": 0.002}, times=20)


def of_directions(random: Random) -> Iterator[Difference]:
    course = random.uniform(0, 360)
    for way, reverse in ((Way.INBOUND, 180), (Way.OUTBOUND, 0)):
        yield "radial_of_course", between(mp.mpf(intercept.radial_of_course(course, way)), mp.mpf(course) + reverse)
    yield "vector", between(direction_deg(vector(course, 1.0)), mp.mpf(course))


def test_a_course_names_its_radial() -> None:
    check(of_directions, {"radial_of_course": 6e-14, "vector": 1e-14})
