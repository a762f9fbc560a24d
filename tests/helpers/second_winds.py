"""A second reading of winds, climbs and descents, by the route file's winds and the aircraft file's figures alone.

A wind between two heights is mixed of both as vectors, beyond them the nearest holds; of several places the three
nearest count by the inverse square of their distance. The difference of a temperature from the standard goes the same
way. A climb or descent at the aircraft's calibrated speed and rate goes each few feet as far as the wind of that height
lets it: ICAO Doc 7488 for the density, the triangle for the groundspeed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians, sin, sqrt

from geographiclib.geodesic import Geodesic
from helpers import independent
from helpers.flown import Json
from helpers.made import Made
from helpers.named_files import FILES
from helpers.second_air import at_the_field, shown_by_standard_ft
from helpers.second_book import TABLED, book
from helpers.second_way import Way, ways

STEP_FT, SAME_KT, SAME_GAL = 20.0, 0.01, 0.002
SOUND_KT = 661.4788
"""At sea level."""

NEAREST = 3
DRAWN_OUT_NM = 0.07
"""Level flight of less than 0.05 NM beside a point is no leg: the climb or descent takes it in."""

Place = tuple[float, float]
Vector = tuple[float, float]
"""Knots toward the east and the north."""


@dataclass(frozen=True)
class Level:
    """A wind at a height, and how much warmer than standard it is there."""

    feet: float
    blows: Vector
    warmer_c: float | None = None


@dataclass(frozen=True)
class Column:
    """The winds over a place, the lowest first; over any where it has none."""

    levels: list[Level]
    place: Place | None = None

    def at(self, feet: float) -> tuple[Vector, float | None]:
        """Wind and difference of temperature at a height."""
        warm = [(one.feet, one.warmer_c) for one in self.levels if one.warmer_c is not None]
        east, north = (between([(one.feet, one.blows[axis]) for one in self.levels], feet) for axis in (0, 1))
        return (east, north), between(warm, feet) if warm else None


def between(values: list[tuple[float, float]], feet: float) -> float:
    """A value at a height: even between two, beyond them the nearest one's."""
    for (low_ft, low), (high_ft, high) in pairwise(values):
        if low_ft <= feet <= high_ft:
            return low + (feet - low_ft) / (high_ft - low_ft) * (high - low)
    return values[0][1] if feet < values[0][0] else values[-1][1]


def standard_c(feet: float) -> float:
    """The standard temperature of a height."""
    return 15.0 - 1.9812 * feet / 1000.0


def level(feet: float, from_deg: float, speed_kt: float, temperature_c: str = "") -> Level:
    """A level of winds as it is written."""
    toward = radians(from_deg + 180.0)
    warmer_c = float(temperature_c) - standard_c(feet) if temperature_c else None
    return Level(feet, (speed_kt * sin(toward), speed_kt * cos(toward)), warmer_c)


def columns(way: Way) -> list[Column] | None:
    """The winds that the file gives; None where a magnetic one has no place to be turned by."""
    found = []
    for line in way.statements["wind"]:
        place = way.places.get(line.split()[1]) if line.startswith("at ") else None
        turn_deg = 0.0
        if re.search(r"\d{3}M/", line):
            first = place or independent.place(way.flight["legs"][0]["from"])
            said = re.match(r"(\d+)([EW])", " ".join(way.statements["variation"]))
            if said is None and first is None:
                return None
            turn_deg = (
                int(said[1]) * (1 if said[2] == "E" else -1)
                if said is not None
                else independent.variation(*(first or (0.0, 0.0)), way.flight["date"])
            )
        levels = [
            level(float(feet or 0.0), float(from_deg) + (turn_deg if magnetic else 0.0), float(speed), warm)
            for feet, from_deg, magnetic, speed, warm in re.findall(
                r"(?:\b(\d{4,5}) )?\b(\d{3})(M?)/(\d+)(?: ([+-]\d+)C)?", line
            )
        ]
        found.append(Column(levels or [level(0.0, 0.0, 0.0)], place))
    for name in way.statements["winds"]:
        found += bulletin(way, FILES[name])
    return found


def bulletin(way: Way, text: str) -> Iterator[Column]:
    """The columns of a bulletin whose stations have a place, by the heights above their groups."""
    *_, heads, first, second = text.strip().splitlines()
    heights = [float(one) for one in heads.split()[1:]]
    for line in (first, second):
        ident, *groups = line.split()
        stated = next((one.split() for one in way.statements["station"] if one.split()[0] == ident), [])
        where = [float(word) for word in stated[2:4] if re.fullmatch(r"-?\d+\.\d+", word)]
        if len(where) == 2:
            levels = [
                level(feet, 10.0 * float(one[:2]), float(one[2:4]), one[4:])
                for feet, one in zip(heights, groups, strict=True)
            ]
            yield Column(levels, (where[0], where[1]))


def air(winds: list[Column], place: Place | None, feet: float) -> tuple[Vector, float | None] | None:
    """Wind and difference of temperature at a place; None where no wind is for it."""
    placed = [(independent.inverse(one.place, place)[0], one) for one in winds if one.place and place]
    if not placed:
        return next((one.at(feet) for one in winds if one.place is None), None)
    placed.sort(key=lambda one: one[0])
    if placed[0][0] < 0.01:
        return placed[0][1].at(feet)
    seen = [(1.0 / away_nm**2, *one.at(feet)) for away_nm, one in placed[:NEAREST]]
    whole = sum(weight for weight, _, _ in seen)
    east, north = (sum(weight * blows[axis] for weight, blows, _ in seen) / whole for axis in (0, 1))
    warm = [(weight, warmer_c) for weight, _, warmer_c in seen if warmer_c is not None]
    known = sum(weight for weight, _ in warm)
    return (east, north), sum(weight * one for weight, one in warm) / known if warm else None


def groundspeed_kt(course_deg: float, tas_kt: float, blows: Vector) -> float:
    """How fast a course is made good: the wind along it, and what of the airspeed the wind across it leaves."""
    course = radians(course_deg)
    along = blows[0] * sin(course) + blows[1] * cos(course)
    across = blows[0] * cos(course) - blows[1] * sin(course)
    return along + sqrt(tas_kt**2 - across**2)


def true_kt(calibrated_kt: float, pressure_ft: float, temperature_c: float) -> float:
    """True airspeed below the speed of sound: the pressure ahead is the same at sea level and up there."""
    pressure = (1.0 - 0.3048 * pressure_ft / 44_330.77) ** 5.25588
    ahead = (1.0 + 0.2 * (calibrated_kt / SOUND_KT) ** 2) ** 3.5 - 1.0
    sound_kt = SOUND_KT * sqrt((temperature_c + 273.15) / 288.15)
    return sound_kt * sqrt(5.0 * ((ahead / pressure + 1.0) ** (2.0 / 7.0) - 1.0))


def winds_agree(made: Made) -> Iterator[str]:
    """The wind of every leg of level flight, and how long and far climbs and descents take."""
    for way in ways(made):
        winds = columns(way)
        for leg in way.legs if winds else ():
            if leg["wind"] is not None and "level_changes" not in leg and leg["distance_nm"] > 0.0:
                fault = (
                    of_cruise(way, winds or [], leg) if leg["phase"] == "cruise" else of_change(way, winds or [], leg)
                )
                if fault is not None:
                    yield f"leg {leg['number']} {leg['phase']}: {fault}"


def figures_by_height_agree(made: Made) -> Iterator[str]:
    """The same by an aircraft file whose figures change with height and temperature."""
    kept = [line for line in made.lines[:-1] if not line.startswith(("aircraft ", "tas ", "burn "))]
    tabled = made.other([*kept, f"aircraft {TABLED}", made.lines[-1]])
    if tabled.found[0].report is not None:  # else its table ends before a height or temperature
        yield from winds_agree(tabled)


@dataclass(frozen=True)
class Air:
    """The air at a height: its wind, pressure altitude and temperature."""

    blows: Vector
    pressure_ft: float
    warm_c: float

    @property
    def warmer_c(self) -> float:
        """How much warmer than standard it is."""
        return self.warm_c - standard_c(self.pressure_ft)


def air_of(way: Way, winds: list[Column], place: Place | None, feet: float) -> Air | None:
    """The air at a place; None where no wind is for it."""
    known = air(winds, place, feet)
    if known is None:
        return None
    pressure_ft = feet + shown_by_standard_ft(way)
    stated_c = standard_c(pressure_ft) - at_the_field(way)
    return Air(known[0], pressure_ft, stated_c if known[1] is None else standard_c(feet) + known[1])


def on_the_way(leg: Json, share: float) -> tuple[Place | None, float]:
    """The place so far along a leg, and the course there."""
    start, end = independent.place(leg["from"]), independent.place(leg["to"])
    if start is None or end is None:
        return None, leg["true_course_deg"]
    line = Geodesic.WGS84.InverseLine(*start, *end)
    at = line.Position(share * line.s13)
    return (at["lat2"], at["lon2"]), at["azi2"]


def written(blows: Vector) -> tuple[float, float]:
    """Where a wind comes from, and its speed."""
    return degrees(atan2(-blows[0], -blows[1])) % 360.0, hypot(*blows)


def of_cruise(way: Way, winds: list[Column], leg: Json) -> str | None:
    """The wind of the middle of a leg at its altitude, the airspeed, and what the aircraft burns."""
    known = air_of(way, winds, on_the_way(leg, 0.5)[0], leg["start_altitude_ft"])
    if known is None:
        return f"a wind of {leg['wind']} where none is given"
    said = level(0.0, leg["wind"]["from_true_deg"], leg["wind"]["speed_kt"]).blows
    if hypot(said[0] - known.blows[0], said[1] - known.blows[1]) > 0.02:
        return f"the wind is {leg['wind']}, by the file {written(known.blows)}"
    speeds = {float(one) for one in re.findall(r"/N0*(\d+)", way.statements["route"][0])}
    speeds |= {float(one.removesuffix("kt")) for one in way.statements["tas"]}
    if way.statements["aircraft"]:
        figures = book(way.statements["aircraft"][0])
        if not way.statements["tas"]:
            speeds.add(figures.at("cruise", "tas_kt", known.pressure_ft, known.warmer_c))
        burn = figures.at("cruise", "burn_gal_per_h", known.pressure_ft, known.warmer_c)
        used, time_min = leg["fuel_used_gal"], leg["time_min"]
        stated = way.statements["burn"] or None in (used, time_min)
        if not stated and abs(used - burn * time_min / 60.0) > SAME_GAL:
            return f"{used} gal in {time_min} min, by the file {burn} an hour"
    if all(abs(leg["tas_kt"] - one) > SAME_KT for one in speeds):
        return f"at {leg['tas_kt']} kt, by the file {speeds}"
    return None


@dataclass(frozen=True)
class Step:
    """A few feet of a climb or descent: how high it ends, and what it takes."""

    end_ft: float
    time_min: float
    distance_nm: float
    fuel_gal: float
    air_nm: float


def flown(way: Way, winds: list[Column], leg: Json) -> Iterator[Step]:
    """A climb or descent a few feet at a time, up to where no wind is for it."""
    phase, figures = leg["phase"], book(way.statements["aircraft"][0])
    start_ft, end_ft = leg["start_altitude_ft"], leg["end_altitude_ft"]
    steps = max(1, round(abs(end_ft - start_ft) / STEP_FT))
    along_nm = 0.0
    for number in range(steps):
        feet = start_ft + (number + 0.5) / steps * (end_ft - start_ft)
        place, course_deg = on_the_way(leg, min(1.0, along_nm / leg["distance_nm"]))
        known = air_of(way, winds, place, feet)
        if known is None:
            return
        calibrated_kt, rate, burn = (
            figures.at(phase, key, known.pressure_ft, known.warmer_c)
            for key in ("cas_kt", "rate_ft_per_min", "burn_gal_per_h")
        )
        step_h = abs(end_ft - start_ft) / steps / rate / 60.0
        tas_kt = true_kt(calibrated_kt, known.pressure_ft, known.warm_c)
        distance_nm = groundspeed_kt(course_deg, tas_kt, known.blows) * step_h
        along_nm += distance_nm
        above_ft = start_ft + (number + 1) / steps * (end_ft - start_ft)
        yield Step(above_ft, 60.0 * step_h, distance_nm, burn * step_h, tas_kt * step_h)


def of_change(way: Way, winds: list[Column], leg: Json) -> str | None:
    """Time, distance, fuel and mean airspeed of a climb or descent."""
    if leg["phase"] not in ("climb", "descent") or not way.statements["aircraft"]:
        return None
    steps = list(flown(way, winds, leg))
    time_min, air_nm = sum(one.time_min for one in steps), sum(one.air_nm for one in steps)
    for key, amount, allowed in (
        ("time_min", time_min, 0.05),
        ("distance_nm", sum(one.distance_nm for one in steps), DRAWN_OUT_NM),
        ("fuel_used_gal", sum(one.fuel_gal for one in steps), 0.01),
        ("tas_kt", air_nm / time_min * 60.0 if time_min else 0.0, 0.2),
    ):
        if abs(leg[key] - amount) > allowed:
            return f"{key} is {leg[key]} up or down to {leg['end_altitude_ft']} ft, by the file {amount}"
    return None
