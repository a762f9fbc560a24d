"""Problems that stand where the file says what is wrong: stations of `on`, days no model covers, unknown airways."""

from __future__ import annotations

import pytest
from helpers.flown import Json, changed, flights, legs


def problem(*statements: str) -> Json:
    """The only problem of the invented flight with statements changed."""
    (flown,) = flights(changed(*statements))
    (one,) = flown["problems"]
    return dict(one)


def test_an_unknown_station_of_on_is_a_problem_at_its_column() -> None:
    chart = "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 on QXX 090"
    one = problem(chart)
    assert (one["code"], one["column"]) == ("unknown-name", chart.index("QXX") + 1)
    assert one["message"] == "no station is called `QXX`"


def test_so_is_one_on_a_direct_leg() -> None:
    direct = "direct QEL - XOLD 9.6nm min 2500 on QXX 090"
    one = problem(direct)
    assert (one["code"], one["column"]) == ("unknown-name", direct.index("QXX") + 1)


def test_a_station_of_on_without_radials_is_one_too() -> None:
    chart = "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 on QDM 090"
    one = problem(chart, "station QDM 45X N45 52.00 W038 30.00 kind tacan")
    assert (one["code"], one["column"]) == ("bad-guide", chart.index("QDM") + 1)


def test_a_station_of_on_that_is_out_of_service_leaves_nothing_to_guide() -> None:
    chart = "airway V801 QHB - QEL 29.5nm mea 3000 on QSK 273"
    flown = legs(changed(chart, "route QHB V801 QEL", "unavailable QSK"))
    assert [leg["guidance"] for leg in flown] == [None]


@pytest.mark.parametrize("day", ["1995-05-20", "2031-01-01"])
def test_a_day_that_no_model_covers_is_a_problem_at_the_date(day: str) -> None:
    text = changed(f"date {day}")
    (flown,) = flights(text)
    (one,) = flown["problems"]
    lines = text.splitlines()
    assert (one["code"], one["column"]) == ("no-magnetic-model", 1)
    assert lines[one["line"] - 1] == f"date {day}"


def test_a_word_like_an_airway_is_an_airway_that_is_not_there() -> None:
    one = problem("route XHAR QHB V27 QEL XOLD")
    assert (one["code"], one["message"]) == ("unknown-name", "no airway is called `V27` in this file")
    assert one["hint"] == "`V801` joins QHB and QEL"


def test_with_none_that_joins_the_points_the_hint_says_so() -> None:
    one = problem("route XHAR QHB J60 QSK XOLD")
    assert one["hint"] == "no airway joins QHB and QSK; write `DCT` where direct is meant"


def test_one_spelt_nearly_like_an_airway_of_the_file_names_it() -> None:
    one = problem("route XHAR QHB V81 QSK XOLD")
    assert one["hint"] == "did you mean `V801`?"


@pytest.mark.parametrize(
    ("route", "told"),
    [
        ("route XHAR QHB/A055 V999 QEL XOLD", "`V801` joins QHB and QEL"),
        ("route XHAR QHB V801 PINEY/A055 XOLD", "`PINEY` is not on V801"),
        ("route XHAR QHB/A055 QHB XOLD", "`QHB` follows itself"),
        ("route XHAR QHB XOLD/A055 QEL XOLD", "airport `XOLD` inside the route says neither"),
        ("route XHAR QHB/A055 V27 4545N03920W XOLD", "no airway joins QHB and 4545N03920W"),
    ],
)
def test_a_point_is_named_without_its_level(route: str, told: str) -> None:
    (flown,) = flights(changed(route))
    assert any(told in f"{one['message']} {one['hint']}" for one in flown["problems"]), flown["problems"]


def test_a_name_that_the_file_gives_twice_stands_where_it_is_given_again() -> None:
    fix = "fix QEL N45 00.00 W039 00.00"
    one = problem(fix)
    assert (one["code"], one["column"]) == ("ambiguous-name", fix.index("QEL") + 1)
    assert one["hint"] == "give one of them another name"
