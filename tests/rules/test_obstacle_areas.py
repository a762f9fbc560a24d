"""Areas of obstacles that a notice tells of, and where several stand."""

from __future__ import annotations

import pytest
from helpers.noticed import DAY, flown, found, mast

from navlog.rules.registry import Severity

# A degree of longitude has 41.8 NM at 46 N: W039 07 lies 13.9 NM east of the way's W039 27, and 13.3 NM abeam of 197.
TURBINES = "455757N0390700W 4600FT (500FT AGL) NOT LGTD"
CORNERS = "455300N0390500W {east} 460300N0392500W 455300N0392500W 4600FT (500FT AGL)"


@pytest.mark.parametrize(
    ("text", "off_nm"),
    [
        (f"OBST WIND TURBINE FARM WI AN AREA DEFINED AS 10NM RADIUS OF {TURBINES}", 3.3),
        (f"OBST WIND TURBINE FARM WI AN AREA DEFINED AS 9NM RADIUS OF {TURBINES}", None),
        (f"OBST WIND TURBINES WITHIN RADIUS OF 10.5 NM {TURBINES}", 2.8),
        # Half the diagonal of 10 minutes by 20 is 8.6 NM, and its middle, W039 15, lies 8.0 NM from the way.
        (f"OBST MET TOWERS AREA BOUNDED BY {CORNERS.format(east='460300N0390500W')}", 0.0),
        # Its middle lies 4.0 NM from the way, its ends 2.1 NM from that.
        ("OBST POWER LINE FROM 455757N0392400W TO 455757N0391800W 4600FT (200FT AGL)", 1.9),
    ],
)
def test_an_area_of_obstacles_reaches_as_far_as_its_notice_says(text: str, off_nm: float | None) -> None:
    told = [one for one in flown(f"!XHA 07/001 XHA {text} {DAY}").findings if one.rule == "obstacle-by-notice"]
    assert [one.message.partition(" NM off")[0] for one in told] == (
        [] if off_nm is None else [f"100 ft BELOW an obstacle of 4600 ft, {off_nm:.1f}"]
    )


def test_the_highest_of_several_obstacles_counts() -> None:
    (told,) = found(flown(mast("455757N0392700W 4400FT (300FT AGL) AND", 4600)), "obstacle-by-notice")
    assert told.startswith("100 ft BELOW an obstacle of 4600 ft")


@pytest.mark.parametrize(
    "text",
    [
        "OBST WIND TURBINES 5NM RADIUS OF XHAR 4600FT (500FT AGL)",
        "OBST CRANES 455757N0392700W AND 455657N0392700W UNKNOWN (200FT AGL)",
        "OBST CRANES 455757N0392700W AND 495757N0392700W 4600FT (200FT AGL)",
    ],
)
def test_an_area_that_cannot_be_placed_is_printed_whole_with_a_warning(text: str) -> None:
    (told,) = [one for one in flown(f"!XHA 07/001 XHAR {text} {DAY}").findings if one.rule == "notice-not-understood"]
    assert told.severity is Severity.WARNING
    assert text in told.message


@pytest.mark.parametrize(
    "text",
    [
        # No corner of the area is within 4 NM of the way, which leads through its middle: 40 minutes of latitude apart.
        "OBST WIND TURBINES WI AREA 463800N0392700W TO 451800N0392700W TO 455800N0381500W 4600FT (400FT AGL)",
        # 13.9 NM east of N45 57.95 W039 47 the crane is on the course, and both sides of a line 4.9 NM off reach it.
        "OBST CRANE 14NM EAST OF 455757N0394700W 4600FT (400FT AGL)",
        "OBST TURBINES 5NM EITHER SIDE OF A LINE FM 455757N0391800W TO 455857N0391800W 4600FT (400FT AGL)",
    ],
)
def test_an_obstacle_not_placed_exactly_is_told_wherever_it_may_stand(text: str) -> None:
    answer = flown(f"!XHA 07/001 XHA {text} {DAY}")
    (told,) = found(answer, "notice-not-understood")
    assert text in told
    assert found(answer, "obstacle-by-notice") == []


def test_each_effect_of_a_notice_is_held_against_every_stretch() -> None:
    """The first of two cranes is far away, the second on the way."""
    words = "OBST CRANES 485757N0392700W 4000FT (300FT AGL) 455757N0392700W 4600FT (300FT AGL)"
    (told,) = found(flown(f"!XHA 07/001 XHA {words} {DAY}"), "obstacle-by-notice")
    assert told.startswith("100 ft BELOW an obstacle of 4600 ft, 0.0 NM off")


def test_an_area_of_the_air_is_none_of_obstacles_though_it_names_the_tower() -> None:
    text = "AIRSPACE PJE WI AN AREA DEFINED AS 3NM RADIUS OF 455757N0392700W SFC-13000FT MSL CTC XHAR TOWER"
    assert found(flown(f"!XHA 07/001 XHAR {text} {DAY}"), "obstacle-by-notice") == []


def test_an_obstacle_on_the_other_side_of_the_earth_is_not_on_the_way() -> None:
    answer = flown(mast("455757S1392700E", 4600))
    assert (answer.problems, answer.findings) == ((), ())
