"""Directions wrap once and in one place; positions read as written and write as read."""

from __future__ import annotations

import math
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.nav.angles import (
    difference_deg,
    icao_position_text,
    normalize_deg,
    position_text,
    position_word_count,
    read_position,
    reciprocal_deg,
    sin_cos_deg,
)
from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError

# Sums and products of doubles below 1,000: a few units in the last place.
ROUNDING_DEG = 1e-9
# Half of the hundredth of a minute that is written, plus the rounding of the sum.
WRITTEN_DEG = 0.005 / 60 + ROUNDING_DEG

HARBOUR = Position(46.205, -39.345)  # N46 12.30 W039 20.70: 12.30 / 60 = 0.205, 20.70 / 60 = 0.345
angles = st.floats(min_value=-1e4, max_value=1e4)
positions = st.builds(
    Position,
    st.floats(min_value=-90, max_value=90),
    st.floats(min_value=-180, max_value=180),
)


def exactly(position: Position) -> object:
    return pytest.approx((position.latitude_deg, position.longitude_deg), abs=ROUNDING_DEG, rel=0)


def read(text: str) -> tuple[float, float]:
    position = read_position(text)
    return position.latitude_deg, position.longitude_deg


def refusal(text: str) -> str:
    with pytest.raises(NavlogError) as caught:
        read_position(text)
    (problem,) = caught.value.problems
    assert problem.code == "bad-position"
    return f"{problem.message} | {problem.hint}"


@pytest.mark.parametrize(
    ("angle_deg", "expected"),
    [(0, 0), (360, 0), (-360, 0), (-1, 359), (725, 5), (359.5, 359.5), (-1e-20, 0), (-0.0, 0)],
)
def test_a_direction_lies_from_0_to_below_360(angle_deg: float, expected: float) -> None:
    assert normalize_deg(angle_deg) == expected
    assert math.copysign(1.0, normalize_deg(angle_deg)) == 1.0


@given(angles)
def test_normalizing_twice_changes_nothing(angle_deg: float) -> None:
    once = normalize_deg(angle_deg)
    assert 0.0 <= once < 360.0
    assert normalize_deg(once) == once


@pytest.mark.parametrize(("radial_deg", "course_deg"), [(215, 35), (35, 215), (180, 0), (0, 180), (360, 180)])
def test_the_course_inbound_is_the_reciprocal_of_the_radial(radial_deg: float, course_deg: float) -> None:
    # R-215 inbound is course 035: FAA commercial knowledge test item.
    assert reciprocal_deg(radial_deg) == course_deg


@pytest.mark.parametrize(
    ("to_deg", "from_deg", "turn_deg"),
    [(10, 350, 20), (350, 10, -20), (180, 0, 180), (0, 180, 180), (90, 90, 0), (0, 360, 0), (540, 0, 180)],
)
def test_a_turn_is_the_short_way_and_right_positive(to_deg: float, from_deg: float, turn_deg: float) -> None:
    assert difference_deg(to_deg, from_deg) == turn_deg


@given(angles, angles)
def test_turning_by_the_difference_arrives(to_deg: float, from_deg: float) -> None:
    turn_deg = difference_deg(to_deg, from_deg)
    assert -180.0 < turn_deg <= 180.0
    missed = difference_deg(from_deg + turn_deg, to_deg)
    assert missed == pytest.approx(0.0, abs=ROUNDING_DEG)


@pytest.mark.parametrize(
    ("angle_deg", "expected"),
    [
        (0, (0, 1)),
        (90, (1, 0)),
        (180, (0, -1)),
        (270, (-1, 0)),
        (-90, (-1, 0)),
        (360, (0, 1)),
        (1170, (1, 0)),
    ],
)
def test_sine_and_cosine_are_exact_at_the_cardinal_points(angle_deg: float, expected: tuple[float, float]) -> None:
    assert sin_cos_deg(angle_deg) == expected


@given(angles)
def test_sine_and_cosine_agree_with_the_library(angle_deg: float) -> None:
    radians = math.radians(angle_deg)
    # The library's own reduction of 1e4 degrees in radians is good to about 1e-14.
    assert sin_cos_deg(angle_deg) == pytest.approx((math.sin(radians), math.cos(radians)), abs=1e-13)


@pytest.mark.parametrize(
    "text",
    [
        "N46 12.30 W039 20.70",
        "  N46  12.30   W039 20.70 ",
        "N46 12.3 W39 20.7",
        "N46 12 18 W039 20 42",
        "N46 12 18.0 W039 20 42.0",
        "N46°12.30' W039°20.70'",
        "N46° 12.30' W039° 20.70'",
        "N46°12'18\" W039°20'42\"",
        "N46° 12' 18\" W039° 20' 42\"",
        "N46°12′18″W039°20′42″",  # noqa: RUF001
        "46.2050 -39.3450",
        "+46.2050 -39.3450",
    ],
)
def test_every_written_form_of_one_place_reads_the_same(text: str) -> None:
    assert read(text) == exactly(HARBOUR)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("4620N07805W", Position(46 + 20 / 60, -(78 + 5 / 60))),  # ICAO Doc 4444 item 15 example
        ("46N078W", Position(46.0, -78.0)),  # ICAO Doc 4444 item 15 example
        ("4612N03921W", Position(46.2, -39.35)),
        ("33S151E", Position(-33.0, 151.0)),
        ("S33 57.00 E151 10.60", Position(-33.95, 151 + 10.6 / 60)),
        ("-33.95 151.0", Position(-33.95, 151.0)),
        ("46.0 180.0", Position(46.0, 180.0)),
        ("46.0 -180.0", Position(46.0, -180.0)),
        ("N90 00.00 W180 00.00", Position(90.0, -180.0)),
        ("S00 00.00 E000 00.00", Position(0.0, 0.0)),
    ],
)
def test_hemispheres_and_the_icao_forms(text: str, expected: Position) -> None:
    assert read(text) == exactly(expected)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("N46 72.30 W039 20.70", "minutes of 60 or more in its latitude"),
        ("N46 12.30 W039 60.00", "minutes of 60 or more in its longitude"),
        ("N46 12 60 W039 20 42", "seconds of 60 or more in its latitude"),
        ("4672N03921W", "minutes of 60 or more in its latitude"),
        ("N91 00.00 W039 20.70", "latitude over 90 degrees"),
        ("N90 00.01 W039 20.70", "latitude over 90 degrees"),
        ("91.5 -39.3", "latitude over 90 degrees"),
        ("N46 12.30 W180 00.01", "longitude over 180 degrees"),
        ("4612N18101W", "longitude over 180 degrees"),
        ("46 12.30 039 20.70", "no N or S, E or W"),
        ("N46 12.30 039 20.70", "no E or W before its longitude"),
        ("46 12.30N 039 20.70W", "stands before its degrees"),
        ("n46 12.30 w039 20.70", "capital"),
        ("W039 20.70 N46 12.30", "longitude first"),
        ("46 -39", "decimal point"),
        ("46.2 -39", "decimal point"),
        ("N46 W039", "write the minutes too"),
        ("N46.2050 W039.3450", "carry a sign and no letter"),
        ("N46 12.30 18 W039 20 42", "only the last number may have decimals"),
        ("N46 1.2.3 W039 20.70", "latitude that cannot be read"),
        ("N46°12.30\" W039°20.70'", "latitude that cannot be read"),
        ("N046 12.30 W039 20.70", "too many digits in its latitude"),
        ("4612N3921W", "wrong number of digits"),
        ("N46 12.30 W039 20.70 5", "longitude that cannot be read"),
        ("N\uff14\uff16 12.30 W039 20.70", "digits other than 0 to 9"),
        ("N46 1\u0662.30 W039 20.70", "digits other than 0 to 9"),
        ("1e1 -39.0", "is not a position"),
        ("46.2050, -39.3450", "is not a position"),
        ("nan nan", "is not a position"),
        ("N", "no E or W"),
        ("", "is not a position"),
        ("46.2050", "no N or S, E or W"),
        ("X46 12.30 039", "is not a position"),
        ("46 12.30X", "no N or S, E or W"),
        ("46N039", "stands before its degrees"),
        ("-x6.2 -39.3", "is not a position"),
        ("E039 20.70 N46 12.30", "longitude first"),
        ("N46 12.30X W039 20.70", "latitude that cannot be read"),
        ("N46 X12.30 W039 20.70", "latitude that cannot be read"),
        ("N46 12 18.1.2 W039 20 42", "only the last number may have decimals"),
        ("N46 012.30 W039 20.70", "too many digits in its latitude"),
        ("N46 12.30 W0039 20.70", "too many digits in its longitude"),
        ("4660N03921W", "minutes of 60 or more in its latitude"),
        ("9030N03921W", "latitude over 90 degrees"),
        ("46.2 180.5", "longitude over 180 degrees"),
    ],
)
def test_a_bad_position_is_a_problem_that_says_what_to_do(text: str, said: str) -> None:
    assert said in refusal(text)


SIGNED = "latitude runs from -90 to 90, longitude from -180 to 180; south and west are negative"
FORMS = "write N46 12.30 W039 20.70, 46.2050 -39.3450 or 4612N03921W"


@pytest.mark.parametrize(
    ("text", "what", "hint"),
    [
        ("N\uff14\uff16 12.30", "has digits other than 0 to 9", "type the digits 0 to 9"),
        ("W039 20.70 N46 12.30", "has its longitude first", "latitude comes first: N46 12.30 W039 20.70"),
        ("46 12N", "is not a position", f"the capital N, S, E or W stands before its degrees; {FORMS}"),
        ("46 12.30 039 20.70", "has no N or S, E or W", FORMS),
        ("QHB", "is not a position", FORMS),
        ("N46 12.30", "has no E or W before its longitude", FORMS),
        ("N46 12x W039 20", "has a latitude that cannot be read", FORMS),
        ("N46 12 W039 20x", "has a longitude that cannot be read", FORMS),
        ("N46 W039", "has a latitude without minutes", f"write the minutes too; {FORMS}"),
        (
            "N46.2 W039.3",
            "has a latitude without minutes",
            f"decimal degrees carry a sign and no letter; {FORMS}",
        ),
        ("N46 1.2 3 W039 20", "has a latitude that cannot be read", "only the last number may have decimals"),
        ("N046 12.30 W039 20.70", "has too many digits in its latitude", FORMS),
        ("N46 60 W039 20", "has minutes of 60 or more in its latitude", "minutes run from 0 to below 60"),
        ("N46 12 W039 20 60", "has seconds of 60 or more in its longitude", "seconds run from 0 to below 60"),
        ("N91 00 W039 20", "has a latitude over 90 degrees", "latitude runs from 0 to 90 degrees"),
        ("46 -39.5", "lacks a decimal point", "decimal degrees need one in both numbers: 46.0 -39.0"),
        ("91.0 -39.5", "has a latitude over 90 degrees", SIGNED),
        # The other way round the world is a slip for most, and -200.5 for all.
        ("46.0 200.5", "has a longitude over 180 degrees", SIGNED),
        ("46.0 -200.5", "has a longitude over 180 degrees", SIGNED),
        ("46.2050 320.6550", "has a longitude over 180 degrees", SIGNED),
        (
            "461N039W",
            "has the wrong number of digits",
            "write two and three digits (46N039W) or four and five (4612N03921W)",
        ),
        ("4612N03961W", "has minutes of 60 or more in its longitude", "minutes run from 00 to 59"),
        ("46N181W", "has a longitude over 180 degrees", "longitude runs from 0 to 180 degrees"),
    ],
)
def test_each_refusal_in_full(text: str, what: str, hint: str) -> None:
    assert refusal(text) == f"position `{text}` {what} | {hint}"


@given(st.text(alphabet="NSEW0123456789.-+ °'\"x", max_size=24))
def test_any_text_reads_or_is_a_problem(text: str) -> None:
    with suppress(NavlogError):
        assert isinstance(read_position(text), Position)


@given(positions)
def test_writing_and_reading_back_keeps_a_hundredth_of_a_minute(position: Position) -> None:
    back = read_position(position_text(position))
    assert back.latitude_deg == pytest.approx(position.latitude_deg, abs=WRITTEN_DEG)
    turn = difference_deg(back.longitude_deg, position.longitude_deg)
    assert turn == pytest.approx(0.0, abs=WRITTEN_DEG)
    assert position_text(back) == position_text(position) or "180 00.00" in position_text(back)


@pytest.mark.parametrize(
    ("position", "long", "short"),
    [
        (HARBOUR, "N46 12.30 W039 20.70", "4612N03921W"),
        (Position(45 + 59.999 / 60, -(39 + 59.999 / 60)), "N46 00.00 W040 00.00", "4600N04000W"),
        (Position(-0.00001, -0.00001), "N00 00.00 E000 00.00", "0000N00000E"),
        (Position(-0.01 / 60, -0.01 / 60), "S00 00.01 W000 00.01", "0000N00000E"),
        (Position(-33.95, 151.18), "S33 57.00 E151 10.80", "3357S15111E"),
        (Position(90.0, -180.0), "N90 00.00 W180 00.00", "9000N18000W"),
    ],
)
def test_minutes_carry_into_the_next_degree(position: Position, long: str, short: str) -> None:
    assert position_text(position) == long
    assert icao_position_text(position) == short


@pytest.mark.parametrize(
    ("line", "count"),
    [
        ("N46 12.30 W039 20.70 decl 15W", 4),
        ("N46 12 18 W039 20 42 elev 790ft", 6),
        ("N46°12.30' W039°20.70' elev", 2),
        ("N46°12'18\" W039°20'42\"", 2),
        ("N46°12' 18\" W039°20' 42\" decl", 4),
        ("N46° 12' 18\" W039° 20' 42\" decl", 6),
        ("N46 12.30 W039 20.70 5500", 4),
        ("46.2050 -39.3450 decl 15W", 2),
        ("46 -39.3450", 2),
        ("4612N03921W decl", 1),
        ("4612N3921W decl", 1),
        ("46N039W", 1),
        ("N46 72.30 W039 20.70", 4),
        ("N46 12.30 039 20.70 elev", 4),
        ("N46 W039", 2),
        ("N46", 0),
        ("N46 QHB V801", 0),
        ("N46 at 4500", 0),
        ("N46 230/12 6000", 0),
        ("N46 3000 230/12", 0),
        ("N46 4min", 0),
        ("4N1W QHB", 0),
        ("S5W QHB", 0),
        ("QHB 212", 0),
        ("113.70 decl", 0),
        ("113.70", 0),
        ("180 12nm", 0),
        ("", 0),
        ("X46 12.30 W039 20.70", 0),
        ("N46 12.30 X039 20.70", 2),
        ("N46 12.30 18 W039 20.70", 3),
        ("N46.2050 12.30 W039.3450", 0),
        ("N4°12.30' W9°20.70'", 2),
        ("N46W9 decl", 1),
        ("N46W039 decl", 1),
        ("S33E151 decl", 1),
        ("N4E5", 0),  # four characters: an airport's name
        ("4N12W QHB", 1),
        ("46N039 QHB", 0),
        ("46N0X9W QHB", 0),
        ("46N03XW QHB", 0),
    ],
)
def test_the_words_of_a_position_are_counted_by_shape(line: str, count: int) -> None:
    assert position_word_count(line.split()) == count
