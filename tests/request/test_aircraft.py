"""Aircraft files: figures by hand, the compass card by published items, mistakes word for word."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.nav.atmosphere import standard_temperature_c, tas_from_cas_kt
from navlog.nav.problems import NavlogError
from navlog.nav.units import Amount, fuel_in
from navlog.request.aircraft import Aircraft, CompassCard, PhaseTable, _Performance, compass_card, deviation_deg
from navlog.request.aircraftfile import read_aircraft

FILES = Path(__file__).parents[1] / "data" / "aircraft"
INVALID = sorted((FILES / "invalid").glob("*.toml"))
TRAINER = (Path(__file__).parents[2] / "examples" / "trainer.toml").read_text()


def aircraft(name: str) -> Aircraft:
    return read_aircraft((FILES / "valid" / f"{name}.toml").read_text(), f"{name}.toml")


def trainer() -> Aircraft:
    return read_aircraft(TRAINER, "trainer.toml")


def climb_of_trainer() -> PhaseTable:
    climb = trainer().climb
    assert climb is not None
    return climb


@pytest.mark.parametrize("path", INVALID, ids=lambda path: path.stem)
def test_every_mistake_of_an_invalid_file_is_printed_as_expected(path: Path) -> None:
    with pytest.raises(NavlogError) as caught:
        read_aircraft(path.read_text(), path.name)
    assert str(caught.value) + "\n" == path.with_suffix(".txt").read_text()


def test_the_example_says_what_its_file_says() -> None:
    example = trainer()
    assert (example.name, example.fuel_unit) == ("Trainer", "gal")
    assert (example.usable_fuel, example.taxi_fuel) == (Amount(38, "gal"), Amount(1, "gal"))
    assert example.cruise.power == "65%"
    assert example.cruise.at(4000, standard_temperature_c(4000) - 20).tas_kt == pytest.approx(104)
    assert example.descent is not None
    assert example.descent.calibrated


def test_single_figures_hold_at_every_altitude() -> None:
    single = aircraft("single")
    assert single.cruise.at(500, 30) == single.cruise.at(17_500, -30) == _Performance(110, 8.5)
    assert (single.climb, single.usable_fuel, single.compass) == (None, None, None)


def test_figures_are_linear_between_rows() -> None:
    # Half way from 4,000 to 8,000 ft: (540 + 350) / 2 ft/min, (10.4 + 9.2) / 2 gal/h, (74 + 72) / 2 kt CAS.
    found = climb_of_trainer().at(6000, 3)
    assert found.rate_ft_per_min == pytest.approx(445)
    assert found.burn_per_h == pytest.approx(9.8)
    assert found.tas_kt == tas_from_cas_kt(cas_kt=73, pressure_altitude_ft=6000, temperature_c=3)


def test_figures_are_linear_in_temperature_too() -> None:
    # 5,000 ft is half way up; 10 C is three quarters of the way from -20 to 20.
    # Cold side: (200 + 220) / 2 = 210 kt; warm side: (208 + 228) / 2 = 218 kt; 210 + 0.75 x 8 = 216 kt.
    # Burn: (300 + 260) / 2 = 280, (320 + 280) / 2 = 300; 295 lb/h.
    found = aircraft("weighed").cruise.at(5000, 10)
    assert found.tas_kt == pytest.approx(216)
    assert found.burn_per_h == pytest.approx(295)
    assert found.rate_ft_per_min is None


def test_deviation_from_standard_is_counted_at_the_altitude() -> None:
    # 8,000 ft is half way from 4,000 to 12,000 ft; at ISA + 10, three quarters of the way from -20 to 20.
    found = trainer().cruise.at(8000, standard_temperature_c(8000) + 10)
    assert found.tas_kt == pytest.approx((104 + 110) / 2 + 0.75 * 4)
    assert found.burn_per_h == pytest.approx(8.45)


def test_rows_may_stand_in_any_order_and_form() -> None:
    metric = aircraft("metric")
    assert metric.cruise.altitudes_ft == (2000.0, 8000.0)
    assert metric.cruise.at(5000, 5).burn_per_h == pytest.approx(31.5)
    assert metric.fuel_unit == "L"


@pytest.mark.parametrize(
    ("pressure_altitude_ft", "temperature_c", "words"),
    [(-1001, 15, "-1,001 ft"), (12_001, 15, "12,001 ft")],
)
def test_outside_its_altitudes_a_table_is_refused(
    pressure_altitude_ft: float, temperature_c: float, words: str
) -> None:
    with pytest.raises(NavlogError, match=f"{words} .outside-table") as caught:
        climb_of_trainer().at(pressure_altitude_ft, temperature_c)
    assert caught.value.problems[0].hint == "it reaches from 0 to 12,000 ft"


@pytest.mark.parametrize("deviation_c", [-20.5, 20.5])
def test_outside_its_temperatures_a_table_is_refused(deviation_c: float) -> None:
    with pytest.raises(NavlogError, match="outside-table"):
        trainer().cruise.at(4000, standard_temperature_c(4000) + deviation_c)


def test_the_row_at_sea_level_serves_a_little_below_it() -> None:
    climb = climb_of_trainer()
    assert climb.at(-400, 15).rate_ft_per_min == climb.at(0, 15).rate_ft_per_min
    with pytest.raises(NavlogError, match="outside-table"):
        aircraft("metric").cruise.at(1999, 10)


@given(altitude_ft=st.floats(0, 12_000), deviation_c=st.floats(-20, 20))
def test_figures_stay_between_those_of_the_table(altitude_ft: float, deviation_c: float) -> None:
    found = trainer().cruise.at(altitude_ft, standard_temperature_c(altitude_ft) + deviation_c)
    assert 101 - 1e-6 <= found.tas_kt <= 114 + 1e-6
    assert found.burn_per_h is not None
    assert 8.4 - 1e-9 <= found.burn_per_h <= 8.6 + 1e-9


CARD_BY_30 = compass_card(((30, 33), (60, 61)))  # a published question: FOR 030 STEER 033, FOR 060 STEER 061
CARD_FROM_NORTH = compass_card(((0, 0), (30, 27)))  # another: 000 steer 000, 030 steer 027


@pytest.mark.parametrize(
    ("card", "heading_deg", "expected_deg"),
    [
        # EASA question: FOR 120 STEER 114 is a deviation of 6 E.
        pytest.param(compass_card(((90, 90), (120, 114))), 120, 6, id="EASA"),
        # The deviation, not the steer heading: -3 at 030 and -1 at 060 give -2 1/3 at 040.
        pytest.param(CARD_BY_30, 40, -7 / 3, id="between"),
        # Instructors' answers: 018 steers 016, 025 steers 022 or 023.
        pytest.param(CARD_FROM_NORTH, 18, 1.8, id="018"),
        pytest.param(CARD_FROM_NORTH, 25, 2.5, id="025"),
        pytest.param(compass_card(((330, 328), (30, 34))), 0, -1, id="over north"),
        pytest.param(compass_card(((330, 328), (30, 34))), 345, 0.5, id="west of north"),
        pytest.param(compass_card(((0, 358), (90, 92), (180, 180), (270, 268))), 360, 2, id="360 is 0"),
        pytest.param(compass_card(((0, 358), (90, 92), (180, 180), (270, 268))), 315, 2, id="90 degrees apart"),
        pytest.param(CARD_BY_30, 60, -1, id="the end of a partial card"),
        pytest.param(CARD_BY_30, 61, None, id="past its end"),
        pytest.param(CARD_BY_30, 29, None, id="before its start"),
        pytest.param(compass_card(((0, 1), (91, 90))), 45, None, id="91 degrees apart"),
        pytest.param(compass_card(((0, 1), (91, 90))), 91, 1, id="but known at its own headings"),
    ],
)
def test_deviation(card: CompassCard, heading_deg: float, expected_deg: float | None) -> None:
    found_deg = deviation_deg(card, heading_deg)
    assert found_deg == (None if expected_deg is None else pytest.approx(expected_deg, abs=1e-9))


@given(heading_deg=st.floats(0, 360))
def test_deviation_on_a_whole_card_is_continuous_and_within_its_figures(heading_deg: float) -> None:
    card = trainer().compass
    assert card is not None
    here, there = deviation_deg(card, heading_deg), deviation_deg(card, heading_deg + 0.001)
    assert here is not None
    assert there is not None
    assert abs(there - here) < 0.001
    assert -2 <= here <= 2


@pytest.mark.parametrize(
    ("amount", "unit", "expected"),
    [
        (Amount(38, "gal"), "lb", 228),  # 38 x 6
        (Amount(228, "lb"), "gal", 38),
        (Amount(8.5, "gal/h"), "lb/h", 51),
        (Amount(102, "lb/h"), "L/h", 17 * 3.785411784),
        (Amount(38, "gal"), "L", 38 * 3.785411784),
    ],
)
def test_fuel_in_other_units_by_the_density(amount: Amount, unit: str, expected: float) -> None:
    found = fuel_in(amount, unit, density_kg_per_l=trainer().fuel_density_kg_per_l)
    assert found is not None
    assert found.unit == unit
    assert found.value == pytest.approx(expected, rel=1e-12)


def test_without_a_density_volume_and_mass_stay_apart() -> None:
    assert fuel_in(Amount(38, "gal"), "lb", density_kg_per_l=None) is None
    assert fuel_in(Amount(38, "gal"), "gal/h", density_kg_per_l=0.72) is None


@pytest.mark.parametrize(
    "text",
    [
        "[" * 2000,
        "a = " + "[" * 2000,
        "a = " + "9" * 5000,
        ".".join("a" * 2000) + " = 1",
        "cruise = [1]\n\x00",
    ],
    ids=["brackets", "nesting", "digits", "dots", "control"],
)
def test_a_hostile_file_is_a_problem(text: str) -> None:
    with pytest.raises(NavlogError):
        read_aircraft(text, "hostile.toml")


@given(
    start=st.integers(0, len(TRAINER)),
    length=st.integers(0, 40),
    new=st.text("0123456789abcdefgh_={}[],.\"'#\n -", max_size=12),
)
def test_any_damage_gives_an_aircraft_or_problems(start: int, length: int, new: str) -> None:
    text = TRAINER[:start] + new + TRAINER[start + length :]
    try:
        read_aircraft(text, "damaged.toml")
    except NavlogError as error:
        lines = text.split("\n")
        spans = [problem.span for problem in error.problems]
        assert all(span is not None and 1 <= span.line <= len(lines) for span in spans)


def test_an_engine_that_burns_nothing_is_refused() -> None:
    with pytest.raises(NavlogError) as raised:
        read_aircraft('name = "A"\n[cruise]\ntas_kt = 110\nburn_gal_per_h = 0\n', "a.toml")
    (problem,) = raised.value.problems
    assert "burn_gal_per_h" in problem.message
    assert problem.span is not None
    assert problem.span.line == 4


def test_a_table_held_beyond_its_ends_has_their_figures_there_and_is_the_same_within() -> None:
    # The trainer's rows by height and by difference from standard: 101 kt at 20 C colder at sea level, 114 at 20 C
    # warmer at 12,000 ft.
    table = trainer().cruise
    wide = table.held_beyond(2_000.0, 10.0)
    at = standard_temperature_c
    assert wide.at(-1_900.0, at(-1_900.0) - 29.0).tas_kt == pytest.approx(101.0)
    assert wide.at(13_900.0, at(13_900.0) + 29.0).tas_kt == pytest.approx(114.0)
    for height_ft in (500.0, 7_000.0):
        assert wide.at(height_ft, at(height_ft) + 5.0) == table.at(height_ft, at(height_ft) + 5.0)
    for height_ft, warmer_c in ((14_100.0, 0.0), (-2_100.0, 0.0), (4_000.0, 31.0)):
        with pytest.raises(NavlogError):
            wide.at(height_ft, at(height_ft) + warmer_c)
    # Only heights are held beyond where no temperature is asked for.
    with pytest.raises(NavlogError):
        table.held_beyond(2_000.0).at(4_000.0, at(4_000.0) + 21.0)
