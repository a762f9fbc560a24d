"""Every slip that marking recognises, on a figure made wrong by it, and never on one that does not fit.

Wrong figures are made here, by arithmetic of the test's own from the log's JSON, as a pilot would make them.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, ROOT, Json, changed, flight, navlog
from helpers.marked import marked, one_mark

AIRCRAFT = f'aircraft "{ROOT / "tests" / "data" / "marking" / "crooked_compass.toml"}"'
WINDY = changed("wind 300/30")
MAGNETIC = changed("wind 312M/30")
CARD = changed(AIRCRAFT, "wind 300/30", without=("tas", "burn"))
ALONG = changed("wind 240/30")
ALONG_MAGNETIC = changed("wind 252M/30")
CHICAGO = changed("off 10:10 America/Chicago")
FACTOR = 1852.0 / 1609.344
"""Statute miles in a nautical mile, by definition."""


def round_angle(angle_deg: float) -> str:
    return f"{angle_deg % 360.0:.1f}"


def fly(leg: Json, *, course_deg: float | None = None, from_deg: float | None = None) -> tuple[float, float, float]:
    """Correction, true heading and groundspeed of a leg with another course or wind, by vectors."""
    course = leg["true_course_deg"] if course_deg is None else course_deg
    blows = leg["wind"]["from_true_deg"] if from_deg is None else from_deg
    speed, tas = leg["wind"]["speed_kt"], leg["tas_kt"]
    angle = math.radians(blows - course)
    turned = math.degrees(math.asin(speed * math.sin(angle) / tas))
    return turned, course + turned, tas * math.cos(math.radians(turned)) - speed * math.cos(angle)


def wind_correction(value: float) -> str:
    return f"{abs(value):.1f}{'R' if value > 0 else 'L'}"


def with_variation(leg: Json, sign: float) -> float:
    """The wind's direction with the variation added or taken off once more than it should be."""
    return float(leg["wind"]["from_true_deg"] + sign * leg["variation_deg"])


Wrong = Callable[[Json], str]

CROSSED = changed("fix ROSKO QHB 160 x QEL 090", "route XHAR QHB ROSKO QEL XOLD")
"""QEL's radial 090 crosses the leg from QHB to ROSKO, which is flown on QHB's 160."""
HIGH = changed("fix NEAR QEL 180 2nm", "route XHAR QHB V801 QEL NEAR XOLD", "altitude 11500", "equipment vor 1 dme 1")
"""2 NM from QEL (410 ft) at 11,500 ft: 11,090 ft are 1.825 NM, so the DME reads 2.71."""

SLIPS: tuple[tuple[str, str, int, str, Wrong], ...] = (
    (
        "variation-wrong-way",
        WINDY,
        2,
        "magnetic_course",
        lambda leg: round_angle(leg["true_course_deg"] + leg["variation_deg"]),
    ),
    (
        "variation-wrong-way",
        WINDY,
        2,
        "magnetic_heading",
        lambda leg: round_angle(leg["true_heading_deg"] + leg["variation_deg"]),
    ),
    (
        "variation-wrong-way",
        WINDY,
        2,
        "heading",
        lambda leg: round_angle(leg["true_heading_deg"] + leg["variation_deg"]),
    ),
    ("variation-left-out", WINDY, 2, "heading", lambda leg: round_angle(leg["true_heading_deg"])),
    ("variation-left-out", WINDY, 2, "magnetic_course", lambda leg: round_angle(leg["true_course_deg"])),
    ("magnetic-as-true", WINDY, 2, "true_course", lambda leg: round_angle(leg["magnetic_course_deg"])),
    ("declination-in-heading", WINDY, 2, "heading", lambda leg: round_angle(leg["true_heading_deg"] + 15.0)),
    ("declination-in-heading", WINDY, 2, "magnetic_course", lambda leg: round_angle(leg["true_course_deg"] + 15.0)),
    ("correction-wrong-way", WINDY, 2, "wca", lambda leg: wind_correction(-leg["wind_correction_deg"])),
    (
        "correction-wrong-way",
        WINDY,
        2,
        "heading",
        lambda leg: round_angle(leg["magnetic_course_deg"] - leg["wind_correction_deg"]),
    ),
    (
        "correction-wrong-way",
        WINDY,
        2,
        "true_heading",
        lambda leg: round_angle(leg["true_course_deg"] - leg["wind_correction_deg"]),
    ),
    ("correction-left-out", WINDY, 2, "heading", lambda leg: round_angle(leg["magnetic_course_deg"])),
    ("reciprocal", WINDY, 1, "set_course", lambda leg: round_angle(leg["guidance"]["radial_deg"])),
    ("reciprocal", WINDY, 2, "set_course", lambda leg: round_angle(leg["guidance"]["set_course_deg"] + 180.0)),
    ("reciprocal", WINDY, 2, "true_course", lambda leg: round_angle(leg["true_course_deg"] + 180.0)),
    ("reciprocal", WINDY, 2, "magnetic_course", lambda leg: round_angle(leg["magnetic_course_deg"] - 180.0)),
    (
        "reciprocal",
        WINDY,
        2,
        "heading",
        lambda leg: round_angle(fly(leg, course_deg=leg["true_course_deg"] + 180.0)[1] - leg["variation_deg"]),
    ),
    ("bearing-to-station", CROSSED, 2, "told_by", lambda _: "QEL 270"),
    ("ground-for-slant", HIGH, 4, "told_by", lambda _: "QEL DME 2.0"),
    ("flag-wrong-way", WINDY, 2, "flag", lambda _: "TO"),
    ("flag-wrong-way", WINDY, 3, "flag", lambda _: "from"),
    ("declination-left-out", WINDY, 2, "set_course", lambda leg: round_angle(leg["guidance"]["set_course_deg"] - 15.0)),
    (
        "declination-wrong-way",
        WINDY,
        2,
        "set_course",
        lambda leg: round_angle(leg["guidance"]["set_course_deg"] - 30.0),
    ),
    (
        "variation-for-radial",
        WINDY,
        2,
        "set_course",
        lambda leg: round_angle(leg["guidance"]["set_course_deg"] - 15.0 - leg["variation_deg"]),
    ),
    (
        "magnetic-wind-as-true",
        ALONG_MAGNETIC,
        2,
        "wca",
        lambda leg: wind_correction(fly(leg, from_deg=with_variation(leg, -1.0))[0]),
    ),
    (
        "magnetic-wind-as-true",
        MAGNETIC,
        3,
        "groundspeed",
        lambda leg: f"{fly(leg, from_deg=with_variation(leg, -1.0))[2]:.1f}",
    ),
    (
        "magnetic-wind-as-true",
        MAGNETIC,
        2,
        "heading",
        lambda leg: round_angle(fly(leg, from_deg=with_variation(leg, -1.0))[1] - leg["variation_deg"]),
    ),
    (
        "true-wind-as-magnetic",
        ALONG,
        2,
        "wca",
        lambda leg: wind_correction(fly(leg, from_deg=with_variation(leg, 1.0))[0]),
    ),
    (
        "true-wind-as-magnetic",
        WINDY,
        2,
        "groundspeed",
        lambda leg: f"{fly(leg, from_deg=with_variation(leg, 1.0))[2]:.1f}",
    ),
    (
        "headwind-as-tailwind",
        WINDY,
        1,
        "groundspeed",
        lambda leg: f"{fly(leg, from_deg=leg['wind']['from_true_deg'] + 180.0)[2]:.1f}",
    ),
    ("tas-for-groundspeed", WINDY, 1, "groundspeed", lambda _: "110"),
    ("tas-for-groundspeed", changed("wind 250/50"), 3, "time", lambda leg: f"{60.0 * leg['distance_nm'] / 110.0:.1f}"),
    ("mph", WINDY, 2, "groundspeed", lambda leg: f"{leg['groundspeed_kt'] * FACTOR:.1f}"),
    ("statute-miles", WINDY, 3, "distance", lambda leg: f"{leg['distance_nm'] * FACTOR:.1f}"),
    ("statute-miles", WINDY, 3, "time", lambda leg: f"{leg['time_min'] * FACTOR:.1f}"),
    ("whole-stretch", WINDY, 2, "distance", lambda _: "29.5"),
    ("changeover-from-ahead", WINDY, 2, "changeover", lambda _: "18.5"),
    ("decimal-hours", WINDY, 3, "time", lambda leg: f"{leg['time_min'] / 60.0 * 100.0:.0f}"),
    ("decimal-hours", changed("burn 20gph"), 3, "fuel_used", lambda leg: f"{20.0 * leg['time_min'] / 100.0:.1f}"),
    (
        "deviation-wrong-way",
        CARD,
        2,
        "compass_heading",
        lambda leg: round_angle(leg["magnetic_heading_deg"] + leg["deviation_deg"]),
    ),
    ("deviation-left-out", CARD, 2, "heading", lambda leg: round_angle(leg["magnetic_heading_deg"])),
    (
        "variation-wrong-way",
        CARD,
        2,
        "compass_heading",
        lambda leg: round_angle(leg["true_heading_deg"] + leg["variation_deg"] - leg["deviation_deg"]),
    ),
    # A gallon is stated for taxi; local time at 90 degrees west is five hours behind in summer.
    ("taxi-left-out", WINDY, 1, "fuel_left", lambda leg: f"{leg['fuel_remaining_gal'] + 1.0:.1f}"),
    ("taxi-left-out", WINDY, 3, "fuel_left", lambda leg: f"{leg['fuel_remaining_gal'] + 1.0:.1f}"),
    ("local-time", CHICAGO, 1, "eta", lambda leg: f"{int(leg['eta'][11:13]) - 5}{leg['eta'][13:16]}"),
)


NAMES = [f"{one[0]}-{one[3]}-leg{one[2]}" for one in SLIPS]
NUMBERS = [one for one in SLIPS if one[3] not in ("flag", "eta")]


@pytest.mark.parametrize(("code", "text", "number", "column", "wrong"), SLIPS, ids=NAMES)
def test_a_slip_is_recognised(tmp_path: Path, code: str, text: str, number: int, column: str, wrong: Wrong) -> None:
    leg = flight(text)["legs"][number - 1]
    mark = one_mark(tmp_path, text, str(number), column, wrong(leg))
    assert mark["verdict"] == "off"
    assert code in [slip["code"] for slip in mark["slips"]]


@pytest.mark.parametrize(
    ("code", "text", "number", "column", "wrong"), NUMBERS, ids=[f"{one[0]}-{one[3]}-leg{one[2]}" for one in NUMBERS]
)
def test_a_slip_is_not_claimed_for_a_figure_beyond_the_tolerance_of_it(
    tmp_path: Path, code: str, text: str, number: int, column: str, wrong: Wrong
) -> None:
    value = wrong(flight(text)["legs"][number - 1])
    before, digits, side = re.fullmatch(r"(\D*)([\d.]+)(\D*)", value).groups()  # type: ignore[union-attr]
    number_given, width = float(digits), 5 if column == "told_by" and "DME" not in value else 3
    for moved in (number_given + 1.6, number_given - 1.6):
        if moved <= 0.0:
            continue
        mark = one_mark(tmp_path, text, str(number), column, f"{before}{moved % 360.0:0{width}.1f}{side}")
        assert code not in [slip["code"] for slip in mark["slips"]]


def test_every_slip_of_the_code_has_its_test() -> None:
    from navlog.studies import slips

    source = Path(slips.__file__).read_text("utf-8")
    codes = set(re.findall(r'"([a-z]+(?:-[a-z]+)+|reciprocal|mph)"', source)) - {"set-course"}
    assert codes - {"groundspeeds-averaged"} == {slip[0] for slip in SLIPS}


def test_a_slip_too_small_to_matter_is_never_claimed(tmp_path: Path) -> None:
    # Within a degree of the right figure, the two ways of applying a correction of 0.4 degrees cannot be told apart.
    text = changed("wind 200/8")
    assert abs(flight(text)["legs"][1]["wind_correction_deg"]) < 0.5
    mark = one_mark(tmp_path, text, "2", "wca", "1.4L")
    assert "correction-wrong-way" not in [slip["code"] for slip in mark["slips"]]


def test_the_slip_that_explains_most_of_a_leg_comes_first(tmp_path: Path) -> None:
    # The wrong heading alone might be two things; the groundspeed beside it decides.
    leg = flight(ALONG)["legs"][1]
    _, heading_deg, groundspeed_kt = fly(leg, from_deg=with_variation(leg, 1.0))
    magnetic = round_angle(heading_deg - leg["variation_deg"])
    _, found = marked(tmp_path, ALONG, f"leg,heading,groundspeed\n2,{magnetic},{groundspeed_kt:.1f}\n")
    assert [mark["slips"][0]["code"] for mark in found["marks"]] == ["true-wind-as-magnetic"] * 2


@pytest.mark.parametrize("hours", ["0.09", "0.10"])
def test_hundredths_of_an_hour_as_they_are_tell_their_slip(hours: str) -> None:
    """The first leg takes 5.8 minutes (5.8 / 60 = 0.097 h)."""
    out = navlog("mark", str(EXAMPLES / "round_robin.route"), "-", typed=f"leg,time\n1,{hours}\n").out
    assert f"time {hours} min, computed 0:06" in out
    assert "hundredths of an hour written for minutes" in out


@pytest.mark.parametrize("minutes", ["0.5", "0.3", "0"])
def test_another_time_under_a_minute_is_not_taken_for_hours(minutes: str) -> None:
    out = navlog("mark", str(EXAMPLES / "round_robin.route"), "-", typed=f"leg,time\n1,{minutes}\n").out
    assert "1 off" in out
    assert "hundredths" not in out


def test_a_total_of_hundredths_of_an_hour_tells_its_slip() -> None:
    (flight,) = [
        json.loads(line)
        for line in navlog("log", str(EXAMPLES / "round_robin.route"), "--format", "json").out.splitlines()
    ]
    hours = f"{flight['totals']['time_min'] / 60.0:.2f}"
    out = navlog("mark", str(EXAMPLES / "round_robin.route"), "-", typed=f"leg,time\ntotal,{hours}\n").out
    assert "hundredths of an hour written for minutes" in out


def test_a_time_of_arrival_in_the_row_of_totals_is_a_problem() -> None:
    found = navlog("mark", str(EXAMPLES / "round_robin.route"), "-", typed="leg,heading,eta\n1,267,\ntotal,,15:59\n")
    assert (found.status, found.out) == (2, "")
    assert "eta has no total [no-total]" in found.err
