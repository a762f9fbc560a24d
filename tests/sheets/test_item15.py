"""The route as item 15 of a flight plan: strings written by hand after ICAO Doc 4444, Appendix 2."""

from __future__ import annotations

import pytest
from helpers.drawn import reports
from helpers.flown import changed

from navlog.sheets.item15 import _item15


def route(*statements: str, without: tuple[str, ...] = ()) -> list[str]:
    return list(_item15(reports(changed(*statements, without=without))[0].log))


def test_aerodromes_are_left_out_and_direct_ways_say_so() -> None:
    assert route() == ["N0110A030 DCT QHB V801 QEL DCT"]


def test_a_change_of_level_gives_speed_and_level_both() -> None:
    assert route("route XHAR QHB V801 QEL/A055 DCT XOLD") == ["N0110A030 DCT QHB V801 QEL/N0110A055 DCT"]


def test_a_change_of_speed_gives_speed_and_level_both() -> None:
    assert route("route XHAR QHB/N0130A030 V801 QEL XOLD") == ["N0110A030 DCT QHB/N0130A030 V801 QEL DCT"]


def test_a_flight_level_is_a_flight_level() -> None:
    assert route("altitude FL085") == ["N0110F085 DCT QHB V801 QEL DCT"]


def test_a_flight_from_station_to_station_names_both() -> None:
    assert route("route QHB V801 QEL", without=("direct", "airport")) == ["N0110A030 QHB V801 QEL"]


def test_an_airway_is_named_once_for_all_its_points() -> None:
    airway = "airway V801 QHB 212 - LANDA 14.7nm mea 3000 - 034 QEL 14.8nm mea 3000"
    assert route("fix LANDA N45 58.20 W039 26.90", airway) == ["N0110A030 DCT QHB V801 QEL DCT"]


def test_a_landing_on_the_way_ends_one_plan_and_begins_the_next() -> None:
    assert route("route QHB XHAR land 30min QHB V801 QEL") == ["N0110A030 QHB DCT", "N0110A030 DCT QHB V801 QEL"]


@pytest.mark.parametrize("points", [("4600N03930W", "4530N03930W"), ("QHB200015", "QHB200030")])
def test_between_two_points_placed_by_themselves_no_dct_stands(points: tuple[str, str]) -> None:
    first, second = points
    assert route(f"route QHB {first} {second} QEL", without=("direct", "airport")) == [
        f"N0110A030 QHB DCT {first} {second} DCT QEL"
    ]
