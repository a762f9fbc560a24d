"""Courses, variation and guidance of stretches by hand, from stations and fixes most of which have no position."""

from __future__ import annotations

from typing import Any

import pytest
from helpers.drawn import reports
from helpers.flown import Json, flight
from pygeomag import GeoMag, GeoMagResult

from navlog.nav import magnetism
from navlog.resolve.route import Stretch

STATIONS = (
    "station QHB 113.70 decl 15W\nstation QEL 110.20 decl 17W\n"
    "station QSK 112.40 decl 14W\nstation QZZ 115.00 decl 14W\n"
)
PLAN = "date 2026-07-18\nwind calm\ntas 120kt\nrules ifr\naltitude 4500\n"


def stretches(text: str) -> tuple[Stretch, ...]:
    (asked,) = reports(text)
    return asked.log.route.stretches


@pytest.mark.parametrize(
    ("stated", "more", "true_deg", "source"),
    [
        ("course 193M", "variation 13W\n", 180, "stated"),
        ("course 167M", "variation 13E\n", 180, "stated"),
        ("course 005M", "variation 13W\n", 352, "stated"),
        ("course 193T", "variation 13W\n", 193, "stated"),
        ("course 193T", "", 193, "stated"),
        ("course 193M", "", None, "station north"),
        ("", "variation 13W\n", None, "station north"),
    ],
)
def test_a_stated_course_is_made_true_by_the_stated_variation(
    stated: str, more: str, true_deg: float | None, source: str
) -> None:
    (one,) = stretches(
        STATIONS + "fix LAKER QHB 180 20nm\nfix UPPER QHB 180 40nm\n" + PLAN + more + "route LAKER UPPER\n"
        f"direct LAKER - UPPER 20nm {stated}\n"
    )
    assert one.course_source == source
    if true_deg is None:
        assert one.true_course is None
    else:
        assert one.true_course is not None
        told = one.true_course.start_deg, one.true_course.middle_deg, one.true_course.end_deg
        assert told == pytest.approx((true_deg,) * 3)


SOUTH = "fix UPPER N46 00.00 W039 00.00\nfix LAKER N44 00.00 W039 00.00\n"


def test_the_variation_is_the_models_at_start_middle_and_end() -> None:
    # 18 July 2026 is day 198 of 365; WMM2025 by its own library. The middle of a meridian's arc is its middle latitude,
    # to a thousandth of a degree.
    (one,) = stretches(SOUTH + PLAN + "route UPPER LAKER\n")
    model = GeoMag(base_year=2025)
    expected = [model.calculate(latitude, -39.0, 0, 2026 + 198 / 365).d for latitude in (46.0, 45.0, 44.0)]
    assert one.variation is not None
    found = [one.variation.start_deg, one.variation.middle_deg, one.variation.end_deg]
    assert found == pytest.approx(expected, abs=0.002)
    assert one.variation_source == "model"


def test_a_leg_flown_there_and_back_asks_the_model_once_for_each_place(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[float, float]] = []
    calculate = GeoMag.calculate

    def counted(self: GeoMag, glat: float, glon: float, **more: Any) -> GeoMagResult:
        asked.append((glat, glon))
        return calculate(self, glat=glat, glon=glon, **more)

    monkeypatch.setattr(GeoMag, "calculate", counted)
    magnetism.declination_and_zone.cache_clear()
    there, back = (
        stretches(f"fix UPPER N46 07.00 W039 01.00\nfix LAKER N44 03.00 W038 09.00\n{PLAN}route {way}\n")[0]
        for way in ("UPPER LAKER", "LAKER UPPER")
    )
    # Both ends and the middle, which is one place to the last bit.
    assert len(asked) == 3
    assert there.true_course is not None
    assert back.true_course is not None
    assert there.true_course.middle_deg == pytest.approx(back.true_course.middle_deg - 180.0, abs=1e-9)
    assert there.true_course.start_deg == pytest.approx(back.true_course.end_deg - 180.0, abs=1e-9)


def test_a_stated_variation_holds_all_along_and_without_positions_the_station_stands_in() -> None:
    (stated,) = stretches(SOUTH + PLAN + "variation 12.5W\nroute UPPER LAKER\n")
    assert stated.variation is not None
    assert (stated.variation.start_deg, stated.variation.end_deg, stated.variation_source) == (-12.5, -12.5, "file")
    one_place = STATIONS + "fix UPPER N46 00.00 W039 00.00\ndirect QHB 180 - UPPER 20nm\n" + PLAN
    for route in ("route QHB UPPER\n", "route UPPER QHB\n"):
        (alone,) = stretches(one_place + route)
        assert (alone.variation, alone.variation_source) == (None, "station")


AIRWAY = "fix FULMA QHB 212 10nm\nfix KITWA QEL 220 8nm\n"
WHOLE = "airway V801 QSK 040 - 222 QHB 20nm 212 - FULMA 10nm - 034 QEL 12nm 220 - KITWA 8nm - 038 QZZ 12nm\n"


def guided(found: Json) -> list[tuple[str | None, float | None, float]]:
    """Station, radial and NM of each leg."""
    return [
        (leg["guidance"] and leg["guidance"]["ident"], leg["guidance"] and leg["guidance"]["radial_deg"],
         round(leg["distance_nm"], 6))
        for leg in found["legs"]
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("route", "expected"),
    [
        # QHB to QEL are 22 NM, changed midway, 1 NM past FULMA; QEL to QZZ 20 NM, changed 2 NM past KITWA.
        ("FULMA V801 KITWA", [("QHB", 212, 1), ("QEL", 34, 11), ("QEL", 220, 8)]),
        ("FULMA V801 QEL", [("QHB", 212, 1), ("QEL", 34, 11)]),
        ("KITWA V801 QZZ", [("QEL", 220, 2), ("QZZ", 38, 10)]),
        ("KITWA V801 FULMA", [("QEL", 220, 8), ("QEL", 34, 11), ("QHB", 212, 1)]),
        ("QHB V801 FULMA", [("QHB", 212, 10)]),
        ("QSK V801 FULMA", [("QSK", 40, 10), ("QHB", 222, 10), ("QHB", 212, 10)]),
    ],
)
def test_a_part_of_an_airway_is_guided_as_the_whole_is(
    route: str, expected: list[tuple[str | None, float | None, float]]
) -> None:
    found = flight(STATIONS + AIRWAY + WHOLE + PLAN + f"variation 13W\nroute {route}\n")
    assert guided(found) == expected


@pytest.mark.parametrize(
    ("out", "told"),
    [(("QHB",), None), (("QEL",), None), (("QHB", "QEL"), "QHB and QEL are out of service")],
)
def test_a_direct_leg_whose_stations_are_out_says_so(out: tuple[str, ...], told: str | None) -> None:
    text = STATIONS + "direct QHB 212 - 034 QEL 22nm\n" + PLAN + "variation 13W\nroute QHB QEL\n"
    (one,) = stretches(text + "".join(f"unavailable {ident}\n" for ident in out))
    assert [part.reason for part in one.parts if part.guidance is None] == ([] if told is None else [told])


def test_of_a_direct_leg_from_a_fix_one_station_alone_is_out() -> None:
    text = STATIONS + "fix FULMA N46 00.00 W039 00.00\ndirect FULMA - 034 QEL 22nm\n" + PLAN
    (one,) = stretches(text + "variation 13W\nunavailable QEL\nroute FULMA QEL\n")
    assert [part.reason for part in one.parts] == ["QEL is out of service"]


@pytest.mark.parametrize("route", ["FULMA KITWA", "KITWA FULMA"])
def test_between_two_fixes_of_one_radial_that_of_the_farther_is_flown(route: str) -> None:
    # They are defined half a degree apart at the most, as radials in tenths may be; the farther place turns it least.
    fixes = "fix FULMA QEL 180 10nm\nfix KITWA QEL 180.4 20nm\n"
    (leg,) = flight(STATIONS + fixes + PLAN + f"direct FULMA - KITWA 10nm\nroute {route}\n")["legs"]
    assert leg["guidance"]["radial_deg"] == 180.4


def test_a_dme_reading_is_reduced_to_the_ground_by_the_height_above_its_station() -> None:
    # 5 NM by DME 6,076 ft, a mile, above the station: sqrt(5^2 - 1^2) = 4.899 NM over the ground.
    (leg,) = flight(
        "station QAA 113.00 N46 00.00 W039 00.00 decl 0E dme elev 6000ft\nfix FULMA QAA 090 dme 5 at 12076\n"
        + PLAN.replace("4500", "12000") + "route QAA FULMA\n"
    )["legs"]  # fmt: skip
    assert leg["distance_nm"] == pytest.approx(4.899, abs=0.001)


def test_a_speed_and_a_level_hold_until_the_next_are_written() -> None:
    ways = "direct QHB 090 - 270 QEL 30nm\ndirect QEL 090 - 270 QSK 30nm\ndirect QSK 090 - 270 QZZ 30nm\n"
    found = flight(STATIONS + ways + PLAN + "route QHB QEL/N0150A065 QSK/A045 QZZ\n")["legs"]
    flown = [(leg["tas_kt"], leg["altitude_ft"]) for leg in found]
    assert flown == [(120, 4500)] * 2 + [(150, 6500)] * 2 + [(150, 4500)] * 2
