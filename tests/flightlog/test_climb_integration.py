"""Climb and descent against an integration in steps of one foot, written here from the published formulas.

Standard atmosphere: ICAO Doc 7488/3. Calibrated to true airspeed: the isentropic pitot equation (NACA Report
837). Wind triangle: plane trigonometry. Winds between two heights: linear in their east and north parts.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sin, sqrt

import pytest
from helpers.flown import Json
from helpers.folder import Folder

DISTANCE_NM = 0.01
TIME_MIN = 0.01
FUEL_GAL = 0.001
"""What steps of 200 ft may differ: far under a printed tenth or minute."""

ROWS = ((0, 76, 720, 11.5), (4000, 74, 540, 10.4), (8000, 72, 350, 9.2), (12000, 70, 160, 8.1))
"""Pressure altitude ft, CAS kt, rate ft/min, burn gal/h of an invented aeroplane."""

Winds = tuple[tuple[float, float, float], ...]


def aircraft() -> str:
    rows = "".join(
        f"  {{ pressure_altitude_ft = {ft}, cas_kt = {cas}, rate_ft_per_min = {rate}, burn_gal_per_h = {burn} }},\n"
        for ft, cas, rate, burn in ROWS
    )
    return (
        f'name = "Integrated"\n[climb]\nrows = [\n{rows}]\n[cruise]\ntas_kt = 105\nburn_gal_per_h = 8\n'
        "[descent]\ncas_kt = 100\nrate_ft_per_min = 500\nburn_gal_per_h = 6.5\n"
    )


@dataclass(frozen=True)
class Sum:
    distance_nm: float
    time_min: float
    fuel_gal: float


def standard_k(ft: float) -> float:
    return 288.15 - 0.0065 * ft * 0.3048


def tas_kt(cas_kt: float, ft: float, warmer_k: float) -> float:
    sound_kt = sqrt(1.4 * 287.05287 * 288.15) * 3600 / 1852
    pressure_ratio = float((standard_k(ft) / 288.15) ** (9.80665 / (287.05287 * 0.0065)))
    impact = (1 + 0.2 * (cas_kt / sound_kt) ** 2) ** 3.5 - 1
    number = sqrt(5 * ((impact / pressure_ratio + 1) ** (2 / 7) - 1))
    return number * sound_kt * sqrt((standard_k(ft) + warmer_k) / 288.15)


def in_rows(ft: float, column: int) -> float:
    for low, high in pairwise(ROWS):
        if ft <= high[0]:
            return low[column] + (high[column] - low[column]) * (ft - low[0]) / (high[0] - low[0])
    raise AssertionError(ft)


def wind_parts(winds: Winds, ft: float) -> tuple[float, float]:
    parts = [(height, speed * sin(radians(d)), speed * cos(radians(d))) for height, d, speed in winds]
    if ft <= parts[0][0]:
        return parts[0][1], parts[0][2]
    for low, high in pairwise(parts):
        if ft <= high[0]:
            share = (ft - low[0]) / (high[0] - low[0])
            return low[1] + share * (high[1] - low[1]), low[2] + share * (high[2] - low[2])
    return parts[-1][1], parts[-1][2]


def by_the_foot(
    low_ft: int, high_ft: int, course_deg: float, winds: Winds, figures: Callable[[float], tuple[float, float, float]]
) -> Sum:
    """`figures` gives TAS, rate and burn at a height."""
    distance = time = fuel = 0.0
    for foot in range(low_ft, high_ft):
        speed, rate, burn = figures(foot + 0.5)
        east, north = wind_parts(winds, foot + 0.5)
        head = east * sin(radians(course_deg)) + north * cos(radians(course_deg))
        cross = east * cos(radians(course_deg)) - north * sin(radians(course_deg))
        minutes = 1 / rate
        time += minutes
        fuel += burn * minutes / 60
        distance += (sqrt(speed**2 - cross**2) - head) * minutes / 60
    return Sum(distance, time, fuel)


def phase(found: Json, name: str) -> Sum:
    legs = [leg for leg in found["legs"] if leg["phase"] == name]
    return Sum(
        sum(leg["distance_nm"] for leg in legs),
        sum(leg["time_min"] for leg in legs),
        sum(leg["fuel_used_gal"] for leg in legs),
    )


def assert_near(one: Sum, other: Sum) -> None:
    assert one.distance_nm == pytest.approx(other.distance_nm, abs=DISTANCE_NM)
    assert one.time_min == pytest.approx(other.time_min, abs=TIME_MIN)
    assert one.fuel_gal == pytest.approx(other.fuel_gal, abs=FUEL_GAL)


GENTLE: Winds = ((3000, 230, 12), (6000, 240, 18))
SHEAR: Winds = ((1000, 180, 5), (3000, 230, 25), (6000, 290, 40), (9000, 310, 60), (12000, 330, 70))
WRITTEN = {
    GENTLE: "3000 230/12 6000 240/18",
    SHEAR: "1000 180/5 3000 230/25 6000 290/40 9000 310/60 12000 330/70",
}


@pytest.mark.parametrize("winds", [GENTLE, SHEAR], ids=["gentle", "shear"])
@pytest.mark.parametrize("course_deg", [10, 100, 190, 280])
@pytest.mark.parametrize(
    ("field_ft", "level_ft", "temperature"),
    [(790, 4500, ""), (0, 11500, ""), (2350, 8750, "temperature 25C\n")],
    ids=["to 4,500 ft", "to 11,500 ft", "warm"],
)
def test_climb_and_descent_by_the_foot(
    folder: Folder, winds: Winds, course_deg: int, field_ft: int, level_ft: int, temperature: str
) -> None:
    folder.put("integrated.toml", aircraft())
    found = folder.fly(
        f"airport XAA N46 00.00 W039 00.00 elev {field_ft}ft\nairport XBB N46 00.00 W038 00.00 elev {field_ft}ft\n"
        "station QAA 113.00 decl 0E\n"
        f"direct QAA {(course_deg + 180) % 360:03d} - XAA 150nm\ndirect QAA {course_deg:03d} - XBB 150nm\n"
        f"date 2026-07-18\nrules ifr\n"
        f"altitude {level_ft}\nvariation 0E\nwind {WRITTEN[winds]}\nfuel 90gal\n{temperature}"
        "aircraft integrated.toml\nroute XAA QAA XBB\n"
    )
    warmer_k = 25.0 + 273.15 - standard_k(field_ft) if temperature else 0.0
    climb = by_the_foot(
        field_ft,
        level_ft,
        course_deg,
        winds,
        lambda ft: (tas_kt(in_rows(ft, 1), ft, warmer_k), in_rows(ft, 2), in_rows(ft, 3)),
    )
    descent = by_the_foot(field_ft, level_ft, course_deg, winds, lambda ft: (tas_kt(100, ft, warmer_k), 500.0, 6.5))
    assert_near(phase(found, "climb"), climb)
    assert_near(phase(found, "descent"), descent)
