"""How high each part of the route is flown, how fast, in which wind: the runs that become legs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from navlog import earth
from navlog.angles import normalize_deg
from navlog.chart import Position
from navlog.flightlog.records import Conditions, Phase
from navlog.guidance import track_true_deg
from navlog.route import Along, Part, Route, Stretch
from navlog.wind import Triangle, Wind, at_place, triangle


@dataclass(frozen=True, slots=True)
class Run:
    """A part of a stretch flown in one phase: from `start_nm` to `end_nm` along the stretch.

    Course and variation hold at the middle. `triangle` is None where wind or course is unknown, `time_min`
    and `fuel` (in the log's unit) where they cannot be told. `wind_beyond_ft` is how far outside the heights
    of the wind given the run lies.
    """

    stretch: Stretch
    part: Part
    start_nm: float
    end_nm: float
    phase: Phase
    start_altitude_ft: float
    end_altitude_ft: float
    true_course_deg: float | None
    variation_deg: float | None
    variation_source: str
    tas_kt: float | None
    wind: Wind | None
    wind_beyond_ft: float
    triangle: Triangle | None
    time_min: float | None
    fuel: float | None


def level_runs(route: Route, conditions: Conditions) -> Iterator[Run]:
    """Every part of every stretch at its planned level and speed, one run each."""
    for stretch in route.stretches:
        for part in stretch.parts:
            yield level_run(stretch, part, conditions)


def level_run(stretch: Stretch, part: Part, conditions: Conditions) -> Run:
    """A whole part at the stretch's level: wind, triangle, time and fuel at its middle."""
    middle_nm = (part.start_nm + part.end_nm) / 2.0
    course_deg, where = course_at(stretch, part, middle_nm)
    variation_deg, variation_source = variation_at(stretch, part, middle_nm)
    altitude_ft = stretch.level.altitude_ft
    wind, beyond_ft = wind_at(conditions, where, altitude_ft)
    solved = None
    if wind is not None and course_deg is not None and stretch.tas_kt is not None:
        solved = triangle(true_course_deg=course_deg, tas_kt=stretch.tas_kt, wind=wind)
    time_min = None
    if solved is not None and solved.groundspeed_kt is not None:
        time_min = (part.end_nm - part.start_nm) / solved.groundspeed_kt * 60.0
    fuel = None
    if time_min is not None and conditions.burn_per_h is not None:
        fuel = time_min / 60.0 * conditions.burn_per_h
    return Run(
        stretch=stretch,
        part=part,
        start_nm=part.start_nm,
        end_nm=part.end_nm,
        phase=Phase.CRUISE,
        start_altitude_ft=altitude_ft,
        end_altitude_ft=altitude_ft,
        true_course_deg=course_deg,
        variation_deg=variation_deg,
        variation_source=variation_source,
        tas_kt=stretch.tas_kt,
        wind=wind,
        wind_beyond_ft=beyond_ft,
        triangle=solved,
        time_min=time_min,
        fuel=fuel,
    )


def position_at(stretch: Stretch, along_nm: float) -> Position | None:
    """The place at a distance along a stretch; a charted length is laid out evenly on the geodesic."""
    found = _on_geodesic(stretch, along_nm)
    return None if found is None else found[0]


def course_at(stretch: Stretch, part: Part, along_nm: float) -> tuple[float | None, Position | None]:
    """The true course at a distance along a stretch, degrees, and the place where positions are known.

    Without positions the course is what the set course means by the station's north, or by the variation
    where the station's declination is not known; else the stated course.
    """
    found = _on_geodesic(stretch, along_nm)
    if found is not None:
        return found[1], found[0]
    if part.guidance is not None and part.guidance.set_course_deg is not None:
        true_deg = track_true_deg(part.guidance)
        if true_deg is None and stretch.variation is not None:
            true_deg = normalize_deg(part.guidance.set_course_deg + stretch.variation.middle_deg)
        return true_deg, None
    return (stretch.true_course.middle_deg if stretch.true_course is not None else None), None


def variation_at(stretch: Stretch, part: Part, along_nm: float) -> tuple[float | None, str]:
    """The variation at a distance along a stretch, degrees, and its source.

    Linear between the model's values at start, middle and end. Without positions the declination of the
    guiding station stands in for it, with source "station".
    """
    if stretch.variation is not None:
        return between(stretch.variation, along_nm / stretch.length_nm), stretch.variation_source
    if part.guidance is not None and part.guidance.station.declination_deg is not None:
        return part.guidance.station.declination_deg, "station"
    return None, "unknown"


def between(along: Along, fraction: float) -> float:
    """The value at a fraction of a stretch, linear from start to middle and from middle to end."""
    if fraction <= 0.5:
        return along.start_deg + (along.middle_deg - along.start_deg) * fraction * 2.0
    return along.middle_deg + (along.end_deg - along.middle_deg) * (fraction * 2.0 - 1.0)


def wind_at(conditions: Conditions, where: Position | None, altitude_ft: float) -> tuple[Wind | None, float]:
    """The wind at a place and height, and how many feet outside the given heights it is taken from."""
    if conditions.winds is None:
        return None, 0.0
    placed = any(column.position is not None for column in conditions.winds)
    if placed and where is None:
        return None, 0.0
    wind, _, beyond_ft = at_place(conditions.winds, where, altitude_ft)
    return wind, beyond_ft


def _on_geodesic(stretch: Stretch, along_nm: float) -> tuple[Position, float] | None:
    start, end, computed_nm = stretch.start.position, stretch.end.position, stretch.distance.computed
    if start is None or end is None or computed_nm is None:
        return None
    return earth.point_along(start, end, along_nm / stretch.length_nm * computed_nm)
