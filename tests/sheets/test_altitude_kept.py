"""The altitude on the knee page and in the steps of a last descent: never the field's elevation under IFR.

14 CFR 91.177(a): no lower than the minimum of the leg, "except when necessary for takeoff or landing"; the approach,
which is, is not planned. The climber of the samples goes down 500 ft a minute at 100 kt, to XOLD at 350 ft.
"""

from __future__ import annotations

from helpers.judged import reported

from navlog.printed.page import Printed
from navlog.rules.samples import FLOWN_BY_FILE
from navlog.sheets.steps import steps

FLIGHT = (*FLOWN_BY_FILE, "rules ifr", "direct QEL - XOLD 9.6nm min 2500", "route XHAR QHB V801 QEL XOLD")


def altitudes(*more: str) -> dict[str, str]:
    """The altitude in each row of the route by the name of its place, without its mark."""
    return {one.place: one.altitude.removesuffix("!") for one in Printed.of(reported(*FLIGHT, *more)).route.needles}


def descent(*more: str) -> str:
    """The step that leads to XOLD, as far as the heading."""
    told = (step for _, lines in steps(reported(*FLIGHT, *more).log) for step in lines)
    return next(step for step in told if "for XOLD" in step).partition(" on heading")[0]


def test_the_minimum_is_kept_up_to_the_landing() -> None:
    assert altitudes()["QEL"] == "2500"
    assert descent() == "Descend to 2500 ft for XOLD"


def test_without_a_minimum_the_height_is_that_from_which_the_plan_goes_down() -> None:
    # 9.6 NM at 100 kt and some wind behind are 5.3 min, 2,660 ft: from 3,010 ft over QEL.
    assert altitudes("-direct QEL")["QEL"] == "3010"
    assert descent("-direct QEL") == "Descend from 3010 ft for XOLD"


def test_a_minimum_above_the_planned_level_is_no_altitude_to_climb_to() -> None:
    assert altitudes("direct QEL - XOLD 9.6nm min 6000")["QEL"] == "4500"


def test_where_height_is_left_over_the_field_the_one_that_is_reached_there_is_told() -> None:
    # 100 kt calibrated are 113.5 kt at 8,400 ft (density ratio 0.776), with some 13 kt of wind behind: 9.6 NM are
    # 4.6 min, 2,280 ft of the 9,500 ft at QEL.
    high = altitudes("altitude 9500", "airway V801 QHB 212 - 034 QEL 29.5nm mea 9500 cop 11 QHB")["QEL"]
    assert abs(int(high) - 7220) < 100


def test_under_vfr_it_is_the_pattern() -> None:
    # 1,000 ft above the field (FAA AIM 4-3-3).
    assert altitudes("rules vfr")["QEL"] == "1350"
    assert descent("rules vfr") == "Descend to 1350 ft for XOLD"


def test_an_alternate_is_told_with_the_level_flown_to_it() -> None:
    # The way from XOLD climbs to 4,500 ft again; of one that only goes down the height kept is told.
    report = reported(*FLIGHT, "alternate XHAR")
    assert ", 4500 ft, " in Printed.of(report).alternate_lines[0]
    down = reported(*FLIGHT, "alternate XOLD from QEL")
    assert ", 2500 ft, " in Printed.of(down).alternate_lines[0]
