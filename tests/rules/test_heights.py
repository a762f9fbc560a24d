"""Heights and limits that several rules compare, at and beside their edges."""

from __future__ import annotations

import pytest
from helpers.judged import along, found, judged, reported

from navlog.nav.chart import Position, Station, StationKind
from navlog.rules.heights import flown_text, lowest_beyond_ft
from navlog.rules.reception import spacing_nm


@pytest.mark.parametrize(
    ("heights_ft", "reach_nm", "lowest_ft"),
    [
        # A straight line from 1,000 ft at 0 NM to 5,000 ft at 40 NM is at 3,200 ft 22 NM out.
        ((1000.0, 5000.0), (0.0, 40.0), 3200.0),
        ((5000.0, 1000.0), (40.0, 0.0), 3200.0),
        # Down on the way out: the far end is the lowest; on the way in the place 22 NM out.
        ((5000.0, 1000.0), (0.0, 40.0), 1000.0),
        ((1000.0, 5000.0), (40.0, 0.0), 1000.0),
        # From 10 NM to 40 NM, 12 of 30 NM flown.
        ((1000.0, 4000.0), (10.0, 40.0), 2200.0),
        ((3000.0, 3000.0), (0.0, 40.0), 3000.0),
        ((2000.0, 4000.0), (30.0, 40.0), 2000.0),
        ((2000.0, 4000.0), (0.0, 22.0), None),
    ],
)
def test_the_lowest_height_beyond_22_nm(
    heights_ft: tuple[float, float], reach_nm: tuple[float, float], lowest_ft: float | None
) -> None:
    assert lowest_beyond_ft(heights_ft, reach_nm, 22.0) == (None if lowest_ft is None else pytest.approx(lowest_ft))


def of_class(service: str) -> Station:
    return Station("QAA", StationKind.VOR, Position(46.0, -39.0), service=service)


@pytest.mark.parametrize(
    ("altitude_ft", "classes", "apart_nm"),
    [
        # FAA Instrument Procedures Handbook, chapter 3, and AIM 5-1-8.
        (14_499, "H H", 80),
        (14_500, "H H", 200),
        (14_500, "VH H", 200),
        (14_500, "H VH", 200),
        (14_500, "VH VH", 200),
        (14_500, "H L", 80),
        (14_500, "L H", 80),
        (14_500, "VL VL", 80),
        (17_999, "H H", 200),
        (17_999, "L L", 80),
        (18_000, "H H", 260),
        (44_999, "VH VH", 260),
        (45_001, "VH VH", 200),
    ],
)
def test_how_far_apart_stations_may_be_off_airways(altitude_ft: float, classes: str, apart_nm: float) -> None:
    one, other = map(of_class, classes.split())
    assert spacing_nm(altitude_ft, one, other) == apart_nm


def test_cold_air_as_stated_at_the_departure() -> None:
    # Standard at 790 ft is 15 - 1.98 x 0.79 = 13.4 C; -20 C is 33.4 under it, 13.4 % of 3,100 ft.
    (told, *_) = found("cold-air", "temperature -20C", "altitude 3100")
    assert "33 degrees C colder" in told
    assert "about 2685 ft" in told
    assert found("cold-air", "temperature 46C", "altitude 3100") == []
    # The same where no wind is given at all.
    (told, *_) = found("cold-air", "temperature -20C", "altitude 3100", "-wind")
    assert "33 degrees C colder" in told


def test_cold_air_aloft_without_positions() -> None:
    # 34.1 C under standard at 3,100 ft with -25 C at 3,000 ft (test_altitudes), along a charted airway.
    flight = along("QHB 212 - 032 QEL 29.5nm mea 3000", "altitude 3100", "wind 3000 230/12 -25C")
    assert any("34 degrees C colder" in told for told in found("cold-air", *flight))


@pytest.mark.parametrize(
    ("altitude", "mea", "celsius", "true_ft"),
    [
        # Standard at 3,000 ft is 15 - 6.5 x 0.9144 = 9.06 C: -5 C are 14.06 under it, which is let pass.
        (3000, 2900, -5, None),
        (3000, 2900, -6, 2819),  # 15.06 under, 6.02 % of 3,000 ft
        (3200, 3000, -10, 2956),  # 19.06 under, 7.62 % of 3,200 ft
        (3300, 3000, -10, None),  # 3,048 ft are left
    ],
)
def test_from_15_degrees_under_standard_four_percent_for_each_ten(
    altitude: int, mea: int, celsius: int, true_ft: int | None
) -> None:
    flight = along(f"QHB 212 - 032 QEL 29.5nm mea {mea}", f"altitude {altitude}", f"wind 3000 230/12 {celsius}C")
    told = [one for one in judged(*flight) if one.rule == "cold-air"]
    assert bool(told) is (true_ft is not None)
    for one in told:
        assert f"{altitude} ft by the altimeter is about {true_ft} ft, below the minimum of {mea} ft" in one.message
        assert one.by == pytest.approx(mea - (true_ft or 0), abs=0.5)


def test_the_right_levels_are_named_by_rule() -> None:
    course = "QHB {} - {} QEL 29.5nm mea 3000"
    (east,) = found("cruising-level", *along(course.format("090", "270"), "altitude 6500"))
    assert "odd thousands plus 500 hold" in east
    (west,) = found("cruising-level", *along(course.format("270", "090"), "altitude 5500"))
    assert "even thousands plus 500 hold" in west
    assert "14 CFR 91.159" in west
    (ifr,) = found("cruising-level", *along(course.format("270", "090"), "altitude 5000", "rules ifr"))
    assert "even thousands hold in uncontrolled airspace" in ifr
    assert "14 CFR 91.179" in ifr


@pytest.mark.parametrize(
    ("level", "flown_ft", "words"),
    [
        # 145442 x (1 - (980 / 1013.25) ^ 0.190263) = 920.4: FL050 is 4,079.6 ft high, 4,998.8 at 29.92 inHg.
        (("altitude FL050", "altimeter 980hPa"), 4079.6, "4080 ft (FL050 at 980 hPa)"),
        (("altitude FL050", "altimeter 980hPa"), 4080.0, "4080 ft (FL050 at 980 hPa)"),
        (("altitude FL050", "altimeter 980hPa"), 4080.2, "4080 ft"),
        (("altitude FL050", "altimeter 980hPa"), 2999.6, "3000 ft"),
        (("altitude FL050", "altimeter 29.92inHg"), 4998.8, "4999 ft (FL050 at 29.92 inHg)"),
        (("altitude FL050",), 5000.0, "5000 ft"),
        (("altitude 5000", "altimeter 29.92inHg"), 5000.0, "5000 ft"),
    ],
)
def test_an_altitude_that_comes_of_a_level_is_told_with_it(level: tuple[str, ...], flown_ft: float, words: str) -> None:
    leg = reported(*level).log.legs[0]
    assert flown_text(leg, flown_ft) == words
