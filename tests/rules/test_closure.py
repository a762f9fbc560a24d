"""Stated courses and distances that lead back to a point, where no positions tell whether they are right."""

from __future__ import annotations

import pytest
from helpers.judged import found, told_of

CHART = (
    "station QHB 113.70 decl 15W",
    "station QEL 110.20 decl 15W",
    "station QSK 112.40 decl 15W",
    "-airport XHAR",
    "-airport XOLD",
    "-direct QHB",
    "-direct QEL",
    "-airway V801",
    "route QHB QEL QSK QHB",
)


def sides(first: str, second: str, third: str, second_nm: int = 30) -> tuple[str, str]:
    return f"direct QHB {first} QEL 30nm {second} QSK {second_nm}nm", f"direct QSK {third} QHB 30nm"


def test_an_equilateral_triangle_closes() -> None:
    # Sides of 30 NM on courses 120 degrees apart: 195, 075 and 315.
    assert found("loop-open", *CHART, *sides("195 - 015", "075 - 255", "315 - 135")) == []


def test_a_side_turned_by_30_degrees_does_not_close() -> None:
    # The second side turned by 30 degrees: its end is off by 2 x 30 x sin(15) = 15.5 NM, at right angles to the mean
    # of 075 and 105 magnetic: 090 + 90 = 180 magnetic, 165 true by the declination of 15 W.
    (told,) = found("loop-open", *CHART, *sides("195 - 015", "105 - 285", "315 - 135"))
    assert told == (
        "warning: the courses and distances from QHB by QEL and QSK back to QHB, 90.0 NM, end 15.5 NM 165 true of it"
    )


def test_a_side_too_long_does_not_close() -> None:
    (told,) = found("loop-open", *CHART, *sides("195 - 015", "075 - 255", "315 - 135", second_nm=45))
    assert "105.0 NM, end 15.0 NM 060 true of it" in told


@pytest.mark.parametrize("off_deg", [-3, 3])
def test_what_is_within_3_degrees_a_course_closes(off_deg: int) -> None:
    assert found("loop-open", *CHART, *sides("195 - 015", f"{75 + off_deg:03d} - {255 + off_deg}", "315 - 135")) == []


def test_without_declinations_8_degrees_are_allowed() -> None:
    # 90 NM with 8 degrees are 12.6 NM, 14.1 with half a mile a side; 30 degrees make 15.5 and 25 make 13.0.
    plain = [one.replace(" decl 15W", "") for one in CHART]
    assert found("loop-open", *plain, "variation 13W", *sides("195 - 015", "105 - 285", "315 - 135"))
    assert found("loop-open", *plain, "variation 13W", *sides("195 - 015", "100 - 280", "315 - 135")) == []


def test_a_way_with_an_unknown_course_or_no_way_back_says_nothing() -> None:
    plain = [one.replace(" decl 15W", "") for one in CHART]
    turned = sides("195 - 015", "105 - 285", "315 - 135")
    assert found("loop-open", *plain, *turned) == []
    assert found("loop-open", *(*CHART[:-1], "route QHB QEL QSK"), *turned) == []


def test_with_positions_the_radials_are_held_against_them_instead() -> None:
    assert found("loop-open", "route QHB V801 QEL XOLD over QHB", "airway V801 QHB 242 - 034 QEL 29.5nm mea 3000") == []


def test_there_and_back_on_the_same_radials_closes() -> None:
    assert found("loop-open", *(*CHART[:-1], "route QHB QEL QHB"), "direct QHB 195 - 015 QEL 30nm") == []


def test_a_loop_by_positions_alone_is_never_open() -> None:
    # Around the pole each leg is flown on 090, which no plane holds; QBB alone has no position.
    flight = (
        "-direct QHB | -direct QEL | -airway V801 | variation 0E | station QAA 110.00 N89 00.00 W000 00.00 decl true"
        " | station QBB 111.00 decl true | direct QAA 090 - 270 QBB 30nm | route QAA 8900N12000E 8900N12000W QAA QBB"
    )
    assert told_of(f"loop-open: {flight}") == []


def test_a_side_by_positions_may_be_off_by_3_degrees_and_not_by_8() -> None:
    # 30 NM on 180 between two fixes, on 300 and back on 060. The last turned by 14 degrees ends 2 x 30 x sin(7) = 7.3
    # NM off, 90 degrees from the mean of 060 and 074. Three times 30 x 2 x sin(1.5) and 0.5 are 6.2; with 8 degrees on
    # one it were 8.8.
    flight = (
        "-direct QHB | -direct QEL | -airway V801 | variation 13W | station QAA 110.00 decl 15W"
        " | fix UPPER N46 00.00 W038 00.00 | fix LAKER N45 30.00 W038 00.00"
        " | direct LAKER - 135 QAA 30nm | direct QAA {} - UPPER 30nm | route UPPER LAKER QAA UPPER"
    )
    assert told_of(f"loop-open: {flight.format('075')}") == []
    assert told_of(f"loop-open: {flight.format('089')}") == [
        "warning leg 3 13:23 the courses and distances from UPPER by LAKER and QAA back to UPPER, 90.0 NM, end 7.3 NM"
        " 157 true of it [by 7.3]"
    ]
