"""Climb charts as books print them, against published test items worked from such charts; specific range; gallons."""

from __future__ import annotations

from itertools import pairwise

import pytest
from helpers.folder import Folder

from navlog.flightlog.performance import Air, vertical
from navlog.nav.atmosphere import standard_temperature_c
from navlog.nav.problems import NavlogError
from navlog.nav.units import converted, read_burn, read_fuel
from navlog.request.aircraft import PhaseTable
from navlog.request.aircraftfile import read_aircraft


def chart(rows: str, more: str = "") -> PhaseTable:
    text = f'name = "Book"\n[cruise]\ntas_kt = 120\n[climb]\ncumulative = true\n{more}rows = [\n{rows}]\n'
    table = read_aircraft(text, "book.toml").climb
    assert table is not None
    return table


def climbed(table: PhaseTable, low_ft: float, high_ft: float, warmer_c: float = 0.0) -> tuple[float, float, float]:
    """Minutes, fuel and NM between two heights, in layers of 200 ft as flights are planned."""
    edges = [low_ft + 200.0 * step for step in range(int((high_ft - low_ft) / 200.0) + 1)]
    time_min = fuel = distance_nm = 0.0
    for bottom_ft, top_ft in pairwise(edges):
        warmth_c = standard_temperature_c((bottom_ft + top_ft) / 2.0) + warmer_c
        found = table.over(bottom_ft, top_ft, warmth_c)
        assert found.rate_ft_per_min is not None
        assert found.burn_per_h is not None
        minutes = 200.0 / found.rate_ft_per_min
        time_min += minutes
        fuel += minutes / 60.0 * found.burn_per_h
        distance_nm += minutes / 60.0 * found.tas_kt
    return time_min, fuel, distance_nm


NORMAL_CLIMB = f"""
  {{ pressure_altitude_ft = 0, time_min = 0, fuel_lb = 0, distance_nm = 0 }},
  {{ pressure_altitude_ft = 4000, time_min = {6}, fuel_lb = 12, distance_nm = {11} }},
  {{ pressure_altitude_ft = 12000, time_min = {18.5}, fuel_lb = 37, distance_nm = {35} }},
"""
"""The fuels are those of the item below; it names no times and distances, so these are invented (120 lb/h)."""


def test_fuel_to_climb_of_a_commercial_test_item() -> None:
    # FAA commercial item (code PLT012, figure 14, normal climb 110 KIAS) as worked by flymall.org, 2019-06: 3,700 lb,
    # from a pressure altitude of 4,000 ft at 21 C to 12,000 ft: (37 - 12) lb, 10 % for each 7 C above standard, at
    # 14 C above it 30 lb; with 16 lb to start, taxi and take off 46 lb.
    table = chart(NORMAL_CLIMB, "warmer_percent = 10\nwarmer_c = 7\n")
    _, fuel, _ = climbed(table, 4000, 12000, warmer_c=14)
    assert fuel == pytest.approx(30)
    assert fuel + 16 == pytest.approx(46)
    assert climbed(table, 4000, 12000)[1] == pytest.approx(25)


def test_time_fuel_and_distance_are_the_differences_of_the_rows() -> None:
    # The rows of the FAA's normal-climb chart for 4,000 lb as on rodslearningcenter.com, page 15-28 (figure 36):
    # 7 min, 14 lb, 13 NM to 4,000 ft; 14 min, 28 lb, 27 NM to 8,000 ft.
    table = chart(
        "{ pressure_altitude_ft = 0, time_min = 0, fuel_lb = 0, distance_nm = 0 },\n"
        "{ pressure_altitude_ft = 4000, time_min = 7, fuel_lb = 14, distance_nm = 13 },\n"
        "{ pressure_altitude_ft = 8000, time_min = 14, fuel_lb = 28, distance_nm = 27 },\n"
    )
    assert climbed(table, 4000, 8000) == pytest.approx((7, 14, 14))
    assert climbed(table, 0, 8000) == pytest.approx((14, 28, 27))
    # Half of the second row, linear: 2,000 ft to 6,000 ft.
    assert climbed(table, 2000, 6000) == pytest.approx((7, 14, 13.5))


def test_a_layer_over_a_row_of_the_chart_is_exact() -> None:
    table = chart(NORMAL_CLIMB)
    assert climbed(table, 300, 11_900)[0] == pytest.approx(18.5 - 0.3 * 1.5 - 0.1 * 12.5 / 8.0)


def test_colder_air_takes_nothing_off() -> None:
    table = chart(NORMAL_CLIMB, "warmer_percent = 10\nwarmer_c = 7\n")
    assert climbed(table, 4000, 12000, warmer_c=-20) == pytest.approx(climbed(table, 4000, 12000))


def test_a_chart_ends_at_its_last_row_and_holds_a_little_below_sea_level() -> None:
    table = chart(NORMAL_CLIMB)
    assert table.over(-800, -600, 15.0).rate_ft_per_min == pytest.approx(4000 / 6)
    with pytest.raises(NavlogError, match="ends before 12,100 ft"):
        table.over(11_900, 12_100, 0.0)


@pytest.mark.parametrize(
    ("rows", "code"),
    [
        ("{ pressure_altitude_ft = 0, time_min = 0, distance_nm = 0 },", "bad-value"),
        (
            "{ pressure_altitude_ft = 0, time_min = 0, distance_nm = 0 },\n"
            "{ pressure_altitude_ft = 4000, time_min = 7 },",
            "missing-key",
        ),
        (
            "{ pressure_altitude_ft = 4000, time_min = 7, distance_nm = 13 },\n"
            "{ pressure_altitude_ft = 0, time_min = 0, distance_nm = 0 },",
            "table-hole",
        ),
        (
            "{ pressure_altitude_ft = 0, time_min = 0, distance_nm = 0 },\n"
            "{ pressure_altitude_ft = 4000, time_min = 7, distance_nm = 130 },",
            "bad-value",
        ),
        (
            "{ pressure_altitude_ft = 0, time_min = 0, distance_nm = 0, fuel_lb = 1 },\n"
            "{ pressure_altitude_ft = 4000, time_min = 7, distance_nm = 13 },",
            "table-hole",
        ),
        (
            "{ pressure_altitude_ft = 0, time_min = 0, distance_nm = 0, fuel_lb = 2 },\n"
            "{ pressure_altitude_ft = 4000, time_min = 7, distance_nm = 13, fuel_lb = 1 },",
            "table-hole",
        ),
    ],
)
def test_a_chart_that_cannot_be_is_refused(rows: str, code: str) -> None:
    with pytest.raises(NavlogError) as caught:
        chart(rows + "\n")
    assert [problem.code for problem in caught.value.problems] == [code]


def test_a_note_on_warm_air_needs_both_of_its_numbers() -> None:
    with pytest.raises(NavlogError, match=r"`climb\.warmer_c` is missing"):
        chart(NORMAL_CLIMB, "warmer_percent = 10\n")


def test_cumulative_is_true_or_false() -> None:
    with pytest.raises(NavlogError, match="neither true nor false"):
        read_aircraft(
            'name = "B"\n[cruise]\ntas_kt = 100\n[climb]\ncumulative = 1\ntas_kt = 80\nrate_ft_per_min = 500\n', "b"
        )


def test_a_flight_climbs_by_the_chart(folder: Folder) -> None:
    # The chart's rows for 4,000 lb: from a field at sea level 14 min, 28 lb and 27 NM to 8,000 ft in calm air.
    folder.put(
        "book.toml",
        'name = "Book"\ntaxi_fuel_lb = 16\n[cruise]\ntas_kt = 160\nspecific_range_nm_per_lb = 2\n[climb]\n'
        "cumulative = true\nrows = [\n"
        "{ pressure_altitude_ft = 0, time_min = 0, fuel_lb = 0, distance_nm = 0 },\n"
        "{ pressure_altitude_ft = 4000, time_min = 7, fuel_lb = 14, distance_nm = 13 },\n"
        "{ pressure_altitude_ft = 8000, time_min = 14, fuel_lb = 28, distance_nm = 27 },\n]\n",
    )
    found = folder.fly(
        "station QAA 113.00 decl 0E\nairport XLO N46 00.00 W039 00.00 elev 0ft\ndirect QAA 270 - XLO 107nm\n"
        "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\nfuel 400lb\naircraft book.toml\naltitude 8000\n"
        "route XLO QAA\n"
    )
    up, level = found["legs"]
    assert (up["distance_nm"], up["time_min"]) == (pytest.approx(27), pytest.approx(14))
    assert level["time_min"] == pytest.approx(30)
    sheet = folder.run((folder.path / "flight.route").read_text(encoding="utf-8")).out
    # 28 lb up; 80 NM at 2 NM/lb are 40 lb.
    assert "fuel 68 lb" in sheet
    # 400 lb less 16 and 68 leave 316 lb, at 160 kt / 2 NM/lb = 80 lb/h 237 min; with the 44 min flown 4:41.
    assert "endurance 4:41 to dry tanks" in sheet


def test_burn_by_specific_range_follows_the_speed() -> None:
    cruise = read_aircraft('name = "R"\n[cruise]\ntas_kt = 150\nspecific_range_nm_per_gal = 12.5\n', "r.toml").cruise
    assert cruise.at(5000, 5.0).burn_per_h == pytest.approx(12)
    with pytest.raises(NavlogError, match="gives a burn and a specific range"):
        read_aircraft(
            'name = "R"\n[cruise]\ntas_kt = 150\nburn_gal_per_h = 9\nspecific_range_nm_per_gal = 12\n', "r.toml"
        )


def test_an_imperial_gallon_is_4_54609_litres() -> None:
    # Weights and Measures Act 1985, schedule 1: exactly.
    for read, unit, litres in ((read_fuel, "impgal", "L"), (read_burn, "impgal/h", "L/h")):
        amount = converted(read(f"10{unit}"), litres)
        assert amount is not None
        assert amount.value == pytest.approx(45.4609, abs=1e-12)


def test_a_flight_in_imperial_gallons(folder: Folder) -> None:
    text = (
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\ndirect QAA 090 - 270 QBB 100nm\ndate 2026-07-18\n"
        "variation 0E\nwind calm\nfuel 30impgal\ntas 100kt\nburn 7impgal/h\naltitude 5000\nroute QAA QBB\n"
    )
    found = folder.fly(text)
    assert found["legs"][0]["fuel_used_gal"] is not None
    assert found["fuel"]["used_gal"] == pytest.approx(7 * 4.54609 / 3.785411784)
    assert found["fuel"]["endurance_min"] == pytest.approx(30 / 7 * 60)
    assert "FUEL in impgal: on board 30.0" in folder.run(text).out


def test_vertical_flight_takes_the_chart_over_its_whole_layer() -> None:
    table = chart(NORMAL_CLIMB)
    from datetime import date

    from navlog.flightlog.records import Conditions, FuelUnit

    given = Conditions(date(2026, 7, 18), None, None, None, (), FuelUnit("lb", None), None, None, 0.0, 0.0, 0.0)
    going = vertical(given, table, Air(None, 7.0, 4000.0, 0.0), 200.0)
    # 100 ft at 4,000 ft in 6 min, 100 ft at 8,000 ft in 12.5 min.
    assert going.rate_ft_per_min == pytest.approx(200 / (0.15 + 0.15625))
