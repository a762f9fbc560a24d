"""A figure of a finding or remark that a row prints too is the row's, however the columns are rounded to add."""

from __future__ import annotations

import re

import pytest
from helpers.judged import reported

from navlog.nav import figures
from navlog.printed.places import places
from navlog.printed.remarks import remarks
from navlog.printed.rows import Row, heading, rows
from navlog.rules.report import Report

BY_FILE = ("aircraft climber.toml", "-tas", "-burn", "route XHAR QHB V801 QEL XOLD")
HELD_UP = (*BY_FILE, "rules ifr", "airway V801 QHB 212 - 034 QEL 29.5nm mea 5500")
LONG = ("-direct QHB", "-direct QEL", "route XHAR 4600N03900W 4545N03855W 4530N03910W XOLD")


def by_leg(report: Report, rule: str) -> list[tuple[Row, str]]:
    """What a rule tells of legs of the route, each with the printed row."""
    printed = rows(report.log)
    return [(printed[one.leg - 1], one.message) for one in report.findings if one.rule == rule and one.leg]


@pytest.mark.parametrize("speed", range(90, 130, 5))
def test_dead_reckoning_tells_the_miles_and_minutes_of_its_row(speed: int) -> None:
    told = by_leg(reported(*LONG, f"tas {speed}kt"), "no-guidance")
    assert len(told) > 3
    for row, message in told:
        assert message.startswith(f"dead reckoning for {figures.tenths(row.distance_tenths)} NM of ")
        assert f" for {row.time_min} min: " in message


@pytest.mark.parametrize("level", range(5500, 9000, 500))
def test_height_to_lose_tells_the_minutes_and_fuel_of_its_row(level: int) -> None:
    ((row, message),) = by_leg(reported(*HELD_UP, f"altitude {level}"), "arrival-height")
    losing = rows(row.log)[-1]
    assert losing.leg.stays
    assert f"({losing.time_min} min and {losing.fuel(losing.fuel_steps)} gal planned to lose it)" in message


@pytest.mark.parametrize("fuel", ["6.04gal", "6.05gal", "6.17gal", "6.28gal", "6.39gal"])
def test_fuel_that_breaks_the_reserve_is_the_rows(fuel: str) -> None:
    ((row, message),) = by_leg(reported(f"fuel {fuel}", "taxi 0gal"), "reserve")
    assert message.startswith(f"{row.fuel(row.left_steps)} gal left at {row.leg.end.name}, ")


@pytest.mark.parametrize("charted", ["9.4nm", "9.6nm"])
def test_what_is_told_along_a_leg_ends_with_the_legs_length(charted: str) -> None:
    """The airport is 9.55 NM from QHB by the positions; the first row prints what is flown, as charted."""
    report = reported(f"direct QHB - XHAR {charted} min 2500", "altitude 3000")
    printed = rows(report.log)
    (told,) = [one for one in remarks(printed, 0) if "VOR error" in one]
    assert f"NM either side at {figures.tenths(printed[0].distance_tenths)} NM from" in told


@pytest.mark.parametrize("speed", range(60, 90, 3))
def test_the_two_distances_of_a_top_of_climb_add_to_the_rows(speed: int) -> None:
    report = reported(*BY_FILE, f"wind 230/{speed - 50}", "altitude 4500")
    printed = rows(report.log)
    for index, row in enumerate(printed):
        stretch = [one for one in printed if one.leg.stretch is row.leg.stretch and not one.leg.stays]
        for text in remarks(printed, index):
            if (found := re.match(r"top of climb ([\d.]+) NM from \w+, ([\d.]+) NM to", text)) is not None:
                tenths = [round(float(one) * 10) for one in found.groups()]
                assert sum(tenths) == sum(one.distance_tenths for one in stretch)


def test_a_heading_to_hold_is_by_the_compass_card_where_the_rows_are() -> None:
    """The card of climber.toml is off by up to 4 degrees; one of the two headings would be flown wrong."""
    gap = "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 gap 6nm cop 11 QHB"
    for rule, changes in (("signal", (*BY_FILE, gap)), ("no-guidance", (*BY_FILE[:3], *LONG))):
        told = by_leg(reported(*changes), rule)
        assert told
        for row, message in told:
            assert f"heading {heading(row)} compass for " in message


@pytest.mark.parametrize("charted", ["9.54nm", "9.56nm", "9.58nm"])
def test_a_changeover_point_that_is_computed_lies_as_far_off_as_the_legs_from_the_station(charted: str) -> None:
    report = reported(
        f"direct QHB - XHAR {charted} min 2500", "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000", "altitude 3000"
    )
    printed = rows(report.log)
    (index,) = [number for number, row in enumerate(printed) if row.leg.changeover is not None]
    behind = figures.tenths(printed[index].distance_tenths)
    assert any(text.startswith(f"COP {behind} NM from QHB (midpoint)") for text in remarks(printed, index))
    assert f"COP {behind} NM QHB" in {place.label for place in places(report.log)}
