"""The whole account of a flight and of the way to its alternate, and what its fuel statements come to.

At 120 kt in no wind and 12 gal an hour 20 NM take 10 minutes and 2 gal. The flight is XAA 20 NM QAA 30 NM QBB 10 NM
XCC, 20 minutes on the ground with the tanks filled to 20 gal, and back over QBB to QAA.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from helpers.drawn import reports

from navlog.flightlog.conditions import conditions
from navlog.flightlog.records import Conditions, Fuel, FuelUnit, Log
from navlog.nav.problems import NavlogError
from navlog.request.flights import read_flights
from navlog.request.records import Request
from navlog.request.references import References
from navlog.resolve.flight import resolve_flight

TEXT = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\n"
    "airport XAA N46 00.00 W039 00.00 elev 500ft\nairport XCC N46 00.00 W038 00.00 elev 500ft\n"
    "direct QAA 270 - XAA 20nm min 2000\ndirect QAA 360 - 180 QBB 30nm min 3000\ndirect QBB 360 - XCC 10nm min 2500\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\ntas 120kt\nburn 12gph\nfuel 30gal\ntaxi 1gal\nextra 1gal\n"
    "contingency 10%\nrules ifr\naltitude 4500\nroute XAA QAA QBB XCC land 20min fuel 20gal QBB QAA\n"
    "alternate QBB via XCC\n"
)


def log_of(text: str = TEXT) -> Log:
    (report,) = reports(text)
    return report.log


def at(hour: int, minute: int) -> datetime:
    return datetime(2026, 7, 18, hour, minute, tzinfo=UTC)


def figures(fuel: Fuel) -> dict[str, float | None]:
    names = (
        "on_board", "used", "alternate", "contingency", "extra", "burn_per_h", "reserve", "reserve_min", "required",
        "remaining", "margin", "margin_min", "endurance_min",
    )  # fmt: skip
    return {name: getattr(fuel, name) for name in names}


def test_the_account_from_the_last_fuelling() -> None:
    fuel = log_of().fuel
    # 40 NM are 4 gal, a tenth of them 0.4; 45 minutes (14 CFR 91.167) are 9 gal; 20 gal last 100 minutes.
    assert figures(fuel) == pytest.approx(
        {
            "on_board": 20.0, "used": 4.0, "alternate": 0.0, "contingency": 0.4, "extra": 1.0, "burn_per_h": 12.0,
            "reserve": 9.0, "reserve_min": 45.0, "required": 14.4, "remaining": 16.0, "margin": 5.6, "margin_min": 28.0,
            "endurance_min": 100.0,
        }
    )  # fmt: skip
    assert fuel.reserve_rule == "14 CFR 91.167"
    assert fuel.diversion is None


def test_the_account_of_the_way_to_the_alternate() -> None:
    (way,) = log_of().alternates
    # From QBB the second time with 19 gal: 10 NM are a gal. The contingency is that of the trip to there, as without an
    # alternate: a tenth of the gallon from XCC to QBB.
    assert figures(way.fuel) == pytest.approx(
        {
            "on_board": 19.0, "used": 1.0, "alternate": 0.0, "contingency": 0.1, "extra": 1.0, "burn_per_h": 12.0,
            "reserve": 9.0, "reserve_min": 45.0, "required": 11.1, "remaining": 18.0, "margin": 7.9, "margin_min": 39.5,
            "endurance_min": 95.0,
        }
    )  # fmt: skip
    assert [leg.fuel_least for leg in way.legs] == [pytest.approx(9.0 + 1.0 + 0.1)]


def test_each_passage_of_the_point_where_the_alternate_is_left_for() -> None:
    log = log_of()
    (way,) = log.alternates
    assert way.flight is not None
    found: list[tuple[object, ...]] = [
        (one.leg and one.leg.number, one.height_ft, one.fuelled, one.at, one.filling, one.used, one.left)
        for one in way.begun
    ]
    # 29 gal at take-off: 50 NM are 25 minutes and 5 gal; after the stop 10 NM are 5 minutes and a gal.
    assert found == [
        (3, 4500.0, False, at(15, 25), 0, pytest.approx(5.0), pytest.approx(24.0)),
        (5, 4500.0, False, at(15, 55), 1, pytest.approx(1.0), pytest.approx(19.0)),
    ]
    assert all(one.leg is None or one.leg.fuel_least is not None for one in way.begun)


def test_at_a_stop_with_fuel_a_point_is_passed_on_landing_and_on_take_off() -> None:
    log = log_of(TEXT.replace("alternate QBB via XCC", "direct XCC - XAA 40nm\nalternate XCC via XAA"))
    found: list[tuple[object, ...]] = [
        (one.leg and one.leg.number, one.height_ft, one.fuelled, one.at, one.filling, one.used, one.left)
        for one in log.alternates[0].begun
    ]
    assert found == [
        (4, None, False, at(15, 30), 0, pytest.approx(6.0), pytest.approx(23.0)),
        (4, None, True, at(15, 50), 1, 0.0, 20.0),
    ]


def test_a_flight_that_begins_where_an_alternate_does() -> None:
    log = log_of(TEXT.replace("alternate QBB via XCC", "direct XCC - XAA 40nm\nalternate XAA via XCC"))
    (first,) = log.alternates[0].begun
    assert (first.leg, first.height_ft, first.fuelled, first.at, first.filling, first.used, first.left) == (
        None, None, False, at(15, 0), 0, 0.0, 29.0,
    )  # fmt: skip
    begins_in_the_air = log_of(
        TEXT.replace("route XAA QAA", "route QAA").replace("alternate QBB via XCC", "alternate QAA via XAA")
    )
    first, last = begins_in_the_air.alternates[0].begun
    assert (first.leg, first.height_ft, first.at, first.left) == (None, 4500.0, at(15, 0), 29.0)
    assert (last.height_ft, last.left) == pytest.approx((4500.0, 16.0))


def test_the_conditions_of_the_way_to_the_alternate() -> None:
    log = log_of(TEXT + "pattern 1200\n")
    there = log.alternates[0].conditions
    assert (there.off, there.taxi, there.fuel_at_stops) == (at(15, 55), 0.0, ())
    assert there.on_board == pytest.approx(19.0)
    assert (there.pattern_ft, there.entry_ft) == (None, 4500.0)
    assert (log.conditions.pattern_ft, log.conditions.entry_ft) == (1200.0, None)
    # Its level is written where the alternate is.
    assert there.level_span is not None
    assert TEXT.splitlines()[there.level_span.line - 1].startswith("alternate")


BOOK = (
    'name = "Book"\nfuel_density_lb_per_gal = 6.0\ntaxi_fuel_gal = 1.5\n[cruise]\ntas_kt = 120\nburn_gal_per_h = 12\n'
)


def conditions_of(*statements: str, book: str = BOOK) -> Conditions:
    """The conditions of the flight with statements in the place of those of the same keyword, by an aircraft file."""
    given = {one.split()[0] for one in statements}
    kept = [line for line in TEXT.splitlines() if line.split()[0] not in {*given, "tas", "burn", "route", "alternate"}]
    text = "\n".join((*kept, "aircraft book.toml", "route XAA QAA QBB", *(one for one in statements if " " in one)))
    (request,) = read_flights(text + "\n", "f.route").flights
    assert isinstance(request, Request), request
    return conditions(resolve_flight(request), References({"book.toml": book}))


def test_amounts_in_the_unit_of_the_fuel_on_board() -> None:
    # At 6 lb a gallon: 180 lb are 30 gal, and a taxi of 1.5 gal is 9 lb.
    found = conditions_of("fuel 180lb", "taxi", "extra 2gal")
    assert found.fuel_unit.name == "lb"
    assert found.fuel_unit.gal == pytest.approx(1 / 6)
    assert (found.on_board, found.taxi, found.extra) == pytest.approx((171.0, 9.0, 12.0))
    assert found.aircraft_unit == pytest.approx(6.0)
    assert found.contingency_percent == 10.0


def test_the_taxi_that_the_pilot_states_goes_before_the_books() -> None:
    found = conditions_of("taxi 2gal")
    assert (found.on_board, found.taxi, found.aircraft_unit) == (28.0, 2.0, 1.0)
    assert found.fuel_unit == FuelUnit("gal", 1.0)


def test_nothing_stated_counts_in_the_books_unit() -> None:
    pounds = BOOK.replace("taxi_fuel_gal = 1.5", "taxi_fuel_lb = 9").replace(
        "burn_gal_per_h = 12", "burn_lb_per_h = 72"
    )
    found = conditions_of("fuel", "taxi", "extra", "contingency", book=pounds)
    assert (found.fuel_unit.name, found.aircraft_unit, found.taxi, found.extra) == ("lb", 1.0, 9.0, 0.0)
    assert (found.on_board, found.contingency_percent) == (None, 0.0)


def test_without_a_density_weight_and_volume_are_not_counted_together() -> None:
    with pytest.raises(NavlogError) as raised:
        conditions_of("fuel 180lb", "taxi", "extra", book=BOOK.replace("fuel_density_lb_per_gal = 6.0\n", ""))
    (problem,) = raised.value.problems
    assert (problem.code, problem.message, problem.hint) == (
        "mixed-fuel-units",
        "`gal` and `lb` cannot be counted together without a density",
        "write every amount of fuel in lb, or give the aircraft file a fuel density",
    )


def test_fuel_that_cannot_be_counted_is_told_where_it_stands() -> None:
    # The tanks are in pounds and the burn of the book in gallons: its statement, after 14 others.
    book = BOOK.replace("fuel_density_lb_per_gal = 6.0\ntaxi_fuel_gal = 1.5\n", "")
    with pytest.raises(NavlogError) as raised:
        conditions_of("fuel 180lb", "taxi", "extra", book=book)
    assert [(one.span.line, one.span.column) for one in raised.value.problems if one.span is not None] == [(15, 1)]
    # What is taken at a stop stands in the route, after 19 statements.
    with pytest.raises(NavlogError) as raised:
        log_of(TEXT.replace("fuel 20gal QBB", "fuel 120lb QBB"))
    assert [(one.code, one.span and one.span.line) for one in raised.value.problems] == [("mixed-fuel-units", 20)]
