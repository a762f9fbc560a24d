"""The air a flight meets and the book figures it is flown by, each at a value worked by hand."""

from __future__ import annotations

from datetime import date

import pytest
from helpers.folder import Folder
from helpers.judged import reported

from navlog.flightlog.performance import Air, air_at, cruise, placed_at_level, vertical, wind_height_ft
from navlog.flightlog.records import Conditions, FuelUnit
from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError, Problem, Span, problem_error
from navlog.nav.record import changed
from navlog.nav.wind import Wind, WindColumn, WindLevel
from navlog.request.aircraft import Aircraft, Figures, PhaseTable
from navlog.rules.samples import sample

PLAIN = Conditions(date(2026, 7, 18), None, None, None, (), FuelUnit(), None, None, 0.0, 0.0, 0.0)
STILL = Air(None, 15.0, 3_000.0, 0.0)
BOOK = Aircraft(
    "Book", "book.toml", PhaseTable("cruise", ((Figures(110.0, 8.0),), (Figures(120.0, 8.0),)), (0.0, 8_000.0))
)
LITRES_A_GALLON = 3.785411784  # 231 cubic inches of 2.54 cm (NIST Handbook 44, appendix C)
CHART = PhaseTable(
    "climb",
    ((Figures(90.0, 12.0, 1_000.0),), (Figures(90.0, 12.0, 2_000 / 3),)),
    (0.0, 2_000.0, 4_000.0),
    cumulative=True,
)
"""2 minutes to 2,000 ft, 5 minutes to 4,000 ft."""


def blowing(from_deg: float, speed_kt: float, place: Position | None = None) -> WindColumn:
    return WindColumn((WindLevel(3_000.0, Wind(from_deg, speed_kt)),), place, None)


def test_low_winds_hold_at_altitudes_and_high_ones_at_pressure_altitudes() -> None:
    # ICAO Doc 7488: 1003.25 hPa stand at 44,330.77 m x (1 - (1003.25 / 1013.25) ** 0.190263) = 83.58 m, 274.2 ft.
    low = changed(PLAIN, altimeter_hpa=1003.25)
    assert wind_height_ft(low, 6_000.0) == 6_000.0
    assert wind_height_ft(low, 17_700.0) == 17_700.0
    assert wind_height_ft(low, 17_800.0) == pytest.approx(18_074.2, abs=0.1)
    assert wind_height_ft(low, 20_000.0) == pytest.approx(20_274.2, abs=0.1)


def test_a_wind_that_holds_everywhere_holds_where_no_place_is_known() -> None:
    placed = blowing(90.0, 30.0, Position(46.0, -39.0))
    everywhere = blowing(270.0, 20.0)
    assert air_at(changed(PLAIN, winds=(placed,)), None, 3_000.0).wind is None
    assert air_at(changed(PLAIN, winds=(placed, everywhere)), None, 3_000.0).wind is not None
    assert air_at(PLAIN, None, 3_000.0) == Air(None, 15.0, 3_000.0, 0.0)


@pytest.mark.parametrize(("warmer_c", "temperature_c"), [(None, -4.812), (0.0, -4.812), (10.0, 5.188)])
def test_the_air_of_a_flight_with_book_figures_is_standard_or_as_much_warmer_as_stated(
    warmer_c: float | None, temperature_c: float
) -> None:
    # Doc 7488: 15 C less 6.5 C a kilometre; 10,000 ft are 3.048 km.
    air = air_at(changed(PLAIN, aircraft=BOOK, isa_deviation_c=warmer_c), None, 10_000.0)
    assert air.temperature_c == pytest.approx(temperature_c)


def test_a_stated_speed_and_burn_stand_before_the_book() -> None:
    given = changed(PLAIN, aircraft=BOOK)
    figures = [
        cruise(changed(given, burn_per_h=burn), changed(STILL, pressure_altitude_ft=4_000.0), tas_kt)
        for burn in (None, 9.0)
        for tas_kt in (None, 100.0)
    ]
    # Half-way between the rows at sea level and 8,000 ft the book says 115 kt, 8 gal/h.
    assert [(one.tas_kt, one.burn_per_h) for one in figures if one] == [(115, 8), (100, 8), (115, 9), (100, 9)]
    with pytest.raises(NavlogError):
        cruise(given, changed(STILL, pressure_altitude_ft=9_000.0), 100.0)
    stated = cruise(changed(given, burn_per_h=9.0), changed(STILL, pressure_altitude_ft=9_000.0), 100.0)
    assert stated is not None
    assert cruise(changed(PLAIN, burn_per_h=9.0), STILL, None) is None


def test_the_burn_of_the_book_is_turned_into_the_unit_of_the_flight() -> None:
    litres = changed(PLAIN, aircraft=BOOK, aircraft_unit=LITRES_A_GALLON)
    level = cruise(litres, STILL, None)
    assert level is not None
    assert level.burn_per_h == pytest.approx(30.2833, abs=1e-4)  # 8 gal/h
    assert vertical(litres, CHART, STILL, 200.0).burn_per_h == pytest.approx(45.4249, abs=1e-4)  # 12 gal/h


@pytest.mark.parametrize("rise_ft", [200.0, -200.0])
def test_a_step_over_a_row_of_a_chart_takes_the_time_of_both_its_parts(rise_ft: float) -> None:
    # From 1,950 to 2,150 ft: 50 ft at 1,000 ft/min and 150 ft in 150 / 2,000 x 3 min, together 0.275 min.
    going = vertical(PLAIN, CHART, changed(STILL, pressure_altitude_ft=2_050.0), rise_ft)
    assert going.rate_ft_per_min == pytest.approx(200 / 0.275)


@pytest.mark.parametrize("rate", [None, 0.0, -50.0])
def test_an_aeroplane_that_no_longer_climbs_is_a_problem(rate: float | None) -> None:
    with pytest.raises(NavlogError, match="no rate of climb at a pressure altitude of 3,000 ft") as caught:
        vertical(PLAIN, PhaseTable("climb", ((Figures(90.0, 12.0, rate),),)), STILL, 200.0)
    assert [one.code for one in caught.value.problems] == ["no-climb"]


def test_a_slow_climb_is_a_climb() -> None:
    assert vertical(PLAIN, PhaseTable("climb", ((Figures(90.0, 12.0, 0.5),),)), STILL, 200.0).rate_ft_per_min == 0.5


def test_a_height_beyond_the_book_is_told_at_the_level_that_is_written() -> None:
    error = problem_error("outside-table", "the climb table ends")
    request = reported().log.route.request
    told = placed_at_level(error, changed(PLAIN, level_span=Span("x.route", 3, 10)), request)
    assert [one.span for one in told.problems] == [Span("x.route", 3, 10)]
    assert placed_at_level(error, PLAIN, request) is error


def test_a_temperature_beyond_the_book_is_told_by_its_mark_and_not_by_its_words() -> None:
    request = changed(reported().log.route.request, winds=(), spans={"temperature": Span("x.route", 5, 13)})
    conditions = changed(PLAIN, level_span=Span("x.route", 3, 10))
    for marked, line in ((True, 5), (False, 3)):
        error = NavlogError(Problem("outside-table", "the table of section C", of_temperature=marked))
        (told,) = placed_at_level(error, conditions, request).problems
        assert told.span is not None
        assert told.span.line == line


def level_written(*changed: str) -> str:
    """The word of the route file that the highest level comes of."""
    span = reported(*changed).log.conditions.level_span
    assert span is not None
    return sample(*changed).splitlines()[span.line - 1][span.column - 1 :].split()[0]


def test_the_highest_level_of_a_flight_is_found_where_it_is_written() -> None:
    # The stretch flown at 5,500 ft is the one that leads from QEL to XOLD.
    assert level_written("altitude 4500", "route XHAR QHB V801 QEL/A055 XOLD") == "XOLD"
    assert level_written("altitude 7500", "route XHAR QHB V801 QEL/A055 XOLD") in ("altitude", "7500")


def test_only_what_is_burnt_before_take_off_is_taken_from_the_ramp_fuel() -> None:
    assert reported("fuel 38gal", "-taxi").log.conditions.on_board == 38
    assert reported("fuel 38gal", "taxi 1gal").log.conditions.on_board == 37
    assert reported("-fuel", "taxi 1gal").log.conditions.on_board is None
    assert [reported(*rules).log.conditions.vfr for rules in ((), ("rules vfr",), ("rules ifr",))] == [
        True,
        True,
        False,
    ]


def test_what_is_not_stated_takes_no_fuel() -> None:
    bare = reported("-taxi").log.conditions
    assert (bare.taxi, bare.extra, bare.contingency_percent, bare.fuel_at_stops) == (0, 0, 0, ())
    stated = reported("taxi 1.5gal", "extra 2gal", "contingency 5%").log.conditions
    assert (stated.taxi, stated.extra, stated.contingency_percent) == (1.5, 2, 5)


def test_fuel_taken_at_a_stop_is_counted_from_its_stretch() -> None:
    stop = ("route XHAR QHB V801 QEL XOLD land 20min fuel 12gal QEL", "direct QEL - XOLD 9.6nm min 2500")
    assert reported(*stop).log.conditions.fuel_at_stops == ((3, 12.0),)
    assert reported(stop[0].replace(" fuel 12gal", ""), stop[1]).log.conditions.fuel_at_stops == ()
    # 40 L are 10.567 gal, in which the flight is counted.
    ((_, gallons),) = reported(stop[0].replace("12gal", "40L"), stop[1]).log.conditions.fuel_at_stops
    assert gallons == pytest.approx(40 / LITRES_A_GALLON)


@pytest.mark.parametrize(
    ("setting", "warmer_c"),
    [
        # XHAR lies at 790 ft, 240.8 m, where 15 - 6.5 x 0.2408 = 13.435 C are standard.
        ((), 21 - 13.435),
        # At 1003.25 hPa its pressure altitude is 274.2 ft more, 324.4 m: 12.892 C.
        (("altimeter 1003.25hPa",), 21 - 12.892),
    ],
)
def test_how_much_warmer_than_standard_the_field_is(setting: tuple[str, ...], warmer_c: float) -> None:
    flown = reported("aircraft climber.toml", "-tas", "-burn", "temperature 21C", *setting)
    assert flown.log.conditions.isa_deviation_c == pytest.approx(warmer_c, abs=0.002)


AEROPLANE = 'name = "In litres"\n[cruise]\ntas_kt = 100\nburn_L_per_h = 30\n'
FLIGHT = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\ndirect QAA 090 - 270 QBB 50nm\nvariation 0E\nwind calm\n"
    "date 2026-07-18\nrules ifr\naltitude 3000\naircraft litres.toml\nroute QAA QBB\n"
)


@pytest.mark.parametrize(
    ("fuel", "unit", "told"),
    [("", "L", "fuel 15 L"), ("fuel 80L\n", "L", "fuel 15 L"), ("fuel 20gal\n", "gal", "fuel 4.0 gal")],
)
def test_fuel_is_counted_in_the_unit_of_the_pilot_else_of_the_book(
    folder: Folder, fuel: str, unit: str, told: str
) -> None:
    # 50 NM at 100 kt in calm air are half an hour, 15 L.
    folder.put("litres.toml", AEROPLANE)
    found = folder.fly(FLIGHT + fuel)["fuel"]
    assert (found["unit"], found["used_gal"]) == (unit, pytest.approx(15.0 / LITRES_A_GALLON, abs=1e-6))
    assert told in folder.run(FLIGHT + fuel).out


@pytest.mark.parametrize(("taxi", "left_gal"), [("", 20 - 2), ("taxi 1gal\n", 20 - 1), ("taxi 0gal\n", 20)])
def test_a_stated_taxi_fuel_stands_before_the_books(folder: Folder, taxi: str, left_gal: float) -> None:
    folder.put("litres.toml", AEROPLANE.replace("[cruise]", "taxi_fuel_gal = 2\n[cruise]").replace("_L_", "_gal_"))
    assert folder.fly(FLIGHT + "fuel 20gal\n" + taxi)["fuel"]["on_board_gal"] == pytest.approx(left_gal)
