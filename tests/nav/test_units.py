"""Values read in the trade's units; every slip in writing one is a problem with a way out."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.nav import units
from navlog.nav.problems import NavlogError
from navlog.nav.units import Amount

# One multiplication of doubles.
ROUNDING = 1e-12

NUMBER_READERS: list[Callable[[str], object]] = [
    units.read_distance_nm,
    units.read_altitude_ft,
    units.read_elevation_ft,
    units.read_level,
    units.read_speed_kt,
    units.read_duration_min,
    units.read_temperature_c,
    units.read_pressure_hpa,
    units.read_frequency,
    units.read_frequency_khz,
    units.read_percent,
    units.read_fuel,
    units.read_burn,
]


def refusal(read: Callable[[str], object], text: str) -> str:
    """Code, message and hint of the one problem that `text` is."""
    with pytest.raises(NavlogError) as caught:
        read(text)
    (problem,) = caught.value.problems
    assert problem.hint
    return f"[{problem.code}] {problem.message} | {problem.hint}"


@pytest.mark.parametrize(
    ("read", "text", "expected"),
    [
        (units.read_distance_nm, "29.5", 29.5),
        (units.read_distance_nm, "31nm", 31.0),
        (units.read_distance_nm, "1852m", 1.0),
        (units.read_distance_nm, "1.852km", 1.0),
        (units.read_distance_nm, "1sm", 5280 / 6076.1154855643),  # PHAK 1.2: 5,280 and 6,076.1 ft
        (units.read_altitude_ft, "4500", 4500.0),
        (units.read_altitude_ft, "5500ft", 5500.0),
        (units.read_altitude_ft, "1200m", 1200 / 0.3048),
        (units.read_elevation_ft, "820ft", 820.0),
        (units.read_elevation_ft, "-12", -12.0),
        (units.read_elevation_ft, "+12ft", 12.0),
        (units.read_elevation_ft, "-3.048m", -10.0),
        (units.read_speed_kt, "110", 110.0),
        (units.read_speed_kt, "110kt", 110.0),
        (units.read_speed_kt, "115mph", 115 * 1609.344 / 1852),
        (units.read_speed_kt, "185.2km/h", 100.0),
        (units.read_speed_kt, "463m/s", 900.0),  # 463 x 3600 / 1852
        (units.read_elapsed_min, "75s", 1.25),
        (units.read_elapsed_min, "2min30s", 2.5),
        (units.read_elapsed_min, "1h30min", 90.0),
        (units.read_size_deg, "10deg", 10.0),
        (units.read_rate_ft_min, "500ft/min", 500.0),
        (units.read_rate_ft_min, "2.54m/s", 500.0),
        (units.read_gradient_ft_per_nm, "350ft/nm", 350.0),
        (units.read_mach, "0.42", 0.42),
        (units.read_duration_min, "45", 45.0),
        (units.read_duration_min, "45min", 45.0),
        (units.read_duration_min, "1h", 60.0),
        (units.read_duration_min, "0.75h", 45.0),  # PHAK basic calculations: 0.75 h is 45 min
        (units.read_duration_min, "1h30min", 90.0),
        (units.read_duration_min, "1h00min", 60.0),
        (units.read_temperature_c, "+4C", 4.0),
        (units.read_temperature_c, "-5C", -5.0),
        (units.read_temperature_c, "59F", 15.0),
        (units.read_temperature_c, "-40F", -40.0),
        (units.read_pressure_hpa, "1013.25hPa", 1013.25),
        (units.read_pressure_hpa, "1013", 1013.0),
        (units.read_frequency, "113.70", 113.7),
        (units.read_frequency, "118.305MHz", 118.305),
        (units.read_frequency_khz, "385", 385.0),
        (units.read_frequency_khz, "385kHz", 385.0),
        (units.read_percent, "5%", 5.0),
        (units.read_percent, "2.5%", 2.5),
    ],
)
def test_a_value_reads_in_its_unit(read: Callable[[str], float], text: str, expected: float) -> None:
    assert read(text) == pytest.approx(expected, rel=ROUNDING)


@pytest.mark.parametrize(
    ("read", "text", "same"),
    [
        (units.read_distance_nm, "31NM", "31nm"),
        (units.read_distance_nm, "12nmi", "12nm"),
        (units.read_altitude_ft, "4500FT", "4500ft"),
        (units.read_altitude_ft, "1500M", "1500m"),
        (units.read_level, "fl085", "FL085"),
        (units.read_speed_kt, "110KT", "110kt"),
        (units.read_speed_kt, "110kts", "110kt"),
        (units.read_speed_kt, "200KMH", "200km/h"),
        (units.read_duration_min, "45MIN", "45min"),
        (units.read_duration_min, "45mins", "45min"),
        (units.read_duration_min, "1hr", "1h"),
        (units.read_duration_min, "1H30MIN", "1h30min"),
        (units.read_elapsed_min, "2MIN30S", "2min30s"),
        (units.read_temperature_c, "15c", "15C"),
        (units.read_temperature_c, "15\N{DEGREE SIGN}C", "15C"),
        (units.read_pressure_hpa, "1013HPA", "1013hPa"),
        (units.read_pressure_hpa, "1013mb", "1013hPa"),
        (units.read_pressure_hpa, "29.92in", "29.92inHg"),
        (units.read_pressure_hpa, "29.92INHG", "29.92inHg"),
        (units.read_fuel, "38GAL", "38gal"),
        (units.read_fuel, "140l", "140L"),
        (units.read_fuel, "230LBS", "230lb"),
        (units.read_burn, "8.5GPH", "8.5gal/h"),
        (units.read_burn, "32l/h", "32L/h"),
        (units.read_burn, "32lph", "32L/h"),
        (units.read_burn, "50LB/HR", "50lb/h"),
    ],
)
def test_units_are_read_in_capitals_and_as_pilots_spell_them(
    read: Callable[[str], object], text: str, same: str
) -> None:
    assert read(text) == read(same)


def test_no_unit_is_guessed_from_its_last_letter() -> None:
    assert not refusal(units.read_fuel, "38g").endswith("38kg")


def test_an_inch_of_mercury_is_that_of_the_standard() -> None:
    # NIST SP 811, appendix B.8: 1 inHg (conventional) = 3.386 389 E+03 Pa.
    assert units.read_pressure_hpa("30.00inHg") == pytest.approx(30 * 33.86389, abs=30 * 0.000005)
    # The standard atmosphere: 29.921 inHg is 1013.25 hPa, to half of the last digit of the inches.
    assert units.read_pressure_hpa("29.921inHg") == pytest.approx(1013.25, abs=0.0005 * 33.86389)


def test_miles_in_feet_are_those_of_the_handbook() -> None:
    # FAA PHAK, "Basic calculations": 6,076.1 ft and 5,280 ft, printed to a tenth.
    assert pytest.approx(6076.1, abs=0.05) == units.FEET_PER_NM
    assert pytest.approx(5280.0, rel=ROUNDING) == units.STATUTE_MILE_M / units.FOOT_M
    # 20 kt by the handbook's factor 1.15 are 23 mph, printed whole.
    assert units.read_speed_kt("23mph") == pytest.approx(20.0, abs=0.5)


@pytest.mark.parametrize(
    ("text", "altitude_ft", "flight_level"),
    [
        ("4500", 4500.0, False),
        ("5500ft", 5500.0, False),
        ("1200m", 1200 / 0.3048, False),
        ("FL085", 8500.0, True),
        # ICAO Doc 4444, Appendix 2, item 15: F085 is flight level 085, A055 is 5,500 ft.
        ("F085", 8500.0, True),
        ("F330", 33000.0, True),
        ("A055", 5500.0, False),
    ],
)
def test_a_level_says_whether_it_is_a_flight_level(text: str, altitude_ft: float, flight_level: bool) -> None:
    feet, is_flight_level = units.read_level(text)
    assert feet == pytest.approx(altitude_ft, rel=ROUNDING)
    assert is_flight_level is flight_level


@pytest.mark.parametrize("text", ["FL85", "F0850", "FL", "A5500", "AB55", "FL08.5"])
def test_a_level_by_letter_takes_three_digits(text: str) -> None:
    assert "three digits" in refusal(units.read_level, text)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("4000", ("4000", "4000")),
        ("4000/3000", ("4000", "3000")),
        ("4000/5000ft", ("4000ft", "5000ft")),
        ("1200m/1500m", ("1200m", "1500m")),
        ("1200m/5000ft", ("1200m", "5000ft")),
    ],
)
def test_a_lone_unit_at_the_end_serves_both_sides(text: str, expected: tuple[str, str]) -> None:
    assert units.both_sides(text) == expected


def test_a_unit_on_the_first_side_only_is_a_problem() -> None:
    assert "1200m/1500m" in refusal(units.both_sides, "1200m/1500")


@pytest.mark.parametrize(
    ("read", "text", "expected"),
    [
        (units.read_fuel, "38", Amount(38.0, "gal")),
        (units.read_fuel, "38gal", Amount(38.0, "gal")),
        (units.read_fuel, "140L", Amount(140.0, "L")),
        (units.read_fuel, "230lb", Amount(230.0, "lb")),
        (units.read_fuel, "100.5kg", Amount(100.5, "kg")),
        (units.read_burn, "8.5", Amount(8.5, "gal/h")),
        (units.read_burn, "8.5gph", Amount(8.5, "gal/h")),
        (units.read_burn, "8.5gal/h", Amount(8.5, "gal/h")),
        (units.read_burn, "32L/h", Amount(32.0, "L/h")),
        (units.read_burn, "105lb/h", Amount(105.0, "lb/h")),
        (units.read_burn, "23kg/h", Amount(23.0, "kg/h")),
    ],
)
def test_fuel_keeps_the_unit_it_is_written_in(read: Callable[[str], Amount], text: str, expected: Amount) -> None:
    assert read(text) == expected


def test_fuel_converts_within_volume_and_within_mass_only() -> None:
    # NIST Handbook 44, appendix C: 1 US gallon is 3.785 411 784 L; 1 lb is 0.453 592 37 kg.
    litres = units.converted(Amount(10.0, "gal"), "L")
    assert litres is not None
    assert litres.unit == "L"
    assert litres.value == pytest.approx(37.85411784, rel=ROUNDING)
    pounds = units.converted(Amount(45.359237, "kg/h"), "lb/h")
    assert pounds is not None
    assert pounds.value == pytest.approx(100.0, rel=ROUNDING)
    assert units.converted(Amount(10.0, "gal"), "lb") is None
    assert units.converted(Amount(10.0, "gal/h"), "gal") is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [("047", 47.0), ("000", 360.0), ("360", 360.0), ("000.5", 0.5), ("212.25", 212.25), ("000.0", 360.0)],
)
def test_an_angle_has_three_digits_and_north_is_360(text: str, expected: float) -> None:
    assert units.read_angle_deg(text) == expected


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("47", "write three digits: 047"),
        ("0270", "three digits"),  # a printed 0270 for 027.0 was flown as 270 by Varig 254
        ("361", "over 360"),
        ("360.1", "over 360"),
        ("047.", "three digits"),
        ("-47", "three digits"),
        ("04x", "three digits"),
        ("\uff10\uff14\uff17", "three digits"),
        ("", "three digits"),
    ],
)
def test_any_other_angle_is_a_problem(text: str, said: str) -> None:
    assert said in refusal(units.read_angle_deg, text)


@pytest.mark.parametrize(
    ("text", "expected"), [("15W", -15.0), ("7E", 7.0), ("0E", 0.0), ("7.5W", -7.5), ("007E", 7.0)]
)
def test_a_declination_is_east_positive(text: str, expected: float) -> None:
    assert units.read_declination_deg(text) == expected


def test_west_of_nothing_is_a_plain_zero() -> None:
    assert str(units.read_declination_deg("0W")) == "0.0"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("-15", "write 15W"),
        ("+7", "write 7E"),
        ("15", "15E or 15W"),
        ("W15", "15W or 7E"),
        ("-15W", "15W or 7E"),
        ("15w", "write 15W"),
        ("181E", "0 to 180"),
        ("1e1E", "15W or 7E"),
        ("E", "15W or 7E"),
        ("", "15W or 7E"),
    ],
)
def test_a_declination_needs_its_letter(text: str, said: str) -> None:
    assert said in refusal(units.read_declination_deg, text)


@pytest.mark.parametrize(
    ("read", "text", "said"),
    [
        (units.read_altitude_ft, "1e3", "without an exponent"),
        (units.read_altitude_ft, "1_0", "without `_`"),
        (units.read_altitude_ft, "5,500", "write 5500"),
        (units.read_altitude_ft, "5,500ft", "write 5500ft"),
        (units.read_altitude_ft, "5,5", "without `,`"),
        (units.read_fuel, "1,200L", "without `,`"),
        # Much of Europe groups thousands by points; no chart gives a part of a foot (common practice, no source).
        (units.read_altitude_ft, "3.000", "write 3000:"),
        (units.read_level, "4.500ft", "write 4500ft:"),
        (units.read_elevation_ft, "-1.240ft", "write -1240ft:"),
        (units.read_elevation_ft, "7.90ft", "write whole feet"),
        (units.read_level, "3000.5ft", "write whole feet"),
        (units.read_level, "3000.125", "write whole feet"),
        (units.read_altitude_ft, "-500ft", "no sign can stand here"),
        (units.read_altitude_ft, "FL085", "write feet or metres"),
        (units.read_altitude_ft, "A055", "write feet or metres"),
        (units.read_altitude_ft, "5500feet", "`ft`, `m`"),
        (units.read_altitude_ft, "\uff15500", "digits 0 to 9"),
        (units.read_altitude_ft, "55\u0660\u0660ft", "digits 0 to 9"),
        (units.read_altitude_ft, "5500.", "write 5500ft"),
        (units.read_altitude_ft, ".5", "write 5500ft"),
        (units.read_altitude_ft, "1.2.3", "write 5500ft"),
        (units.read_altitude_ft, "", "write 5500ft"),
        (units.read_altitude_ft, "ft", "write 5500ft"),
        (units.read_altitude_ft, "nan", "write 5500ft"),
        (units.read_altitude_ft, "9" * 400, "0 to 60000 ft"),
        (units.read_elevation_ft, "--5", "write 820ft"),
        (units.read_distance_nm, "12min", "metres are `m`: 12m"),
        (units.read_distance_nm, "29nmiles", "`nm`, `km`, `sm`, `m`"),
        # Miles and metres are both written so.
        (units.read_distance_nm, "12M", "12nm, 12m for metres or 12sm"),
        (units.read_distance_nm, "12mi", "12nm, 12m for metres or 12sm"),
        (units.read_altitude_ft, "3.000FT", "write 3000FT:"),
        (units.read_altitude_ft, "5,500FT", "write 5500FT"),
        (units.read_duration_min, "45M", "minutes are `min`: 45min"),
        (units.read_fuel, "38gla", "right after the number: 38gal"),
        (units.read_pressure_hpa, "A2992", "write 29.92inHg"),
        (units.read_pressure_hpa, "Q0998", "write 998hPa"),
        (units.read_speed_kt, "110knots", "`kt`"),
        (units.read_duration_min, "45m", "minutes are `min`: 45min"),
        (units.read_duration_min, "1:30", "1h30min"),
        (units.read_duration_min, "1h30", "1h30min"),
        (units.read_duration_min, "1h60min", "0 to 59"),
        (units.read_duration_min, "1.5h30min", "1h30min"),
        (units.read_temperature_c, "15", "`C`, `F`"),
        (units.read_temperature_c, "999F", "-100 to 60 C"),
        (units.read_pressure_hpa, "29.92", "29.92inHg"),
        (units.read_pressure_hpa, "2992inHg", "800 to 1100 hPa"),
        (units.read_percent, "5", "`%`"),
        (units.read_fuel, "8gph", "`gal`"),
        (units.read_burn, "8gal", "`gal/h`"),
    ],
)
def test_a_slip_in_a_value_is_a_problem_with_a_way_out(read: Callable[[str], object], text: str, said: str) -> None:
    refused = refusal(read, text)
    assert refused.startswith(("[bad-value]", "[bad-unit]"))
    assert said in refused


@given(st.sampled_from(NUMBER_READERS), st.text(alphabet="0123456789.-+eE_,/mhinftkFLAC%ga \u0663", max_size=10))
def test_any_text_reads_or_is_a_problem(read: Callable[[str], object], text: str) -> None:
    with suppress(NavlogError):
        assert read(text) is not None


@pytest.mark.parametrize("digits", ["1" * 20, "9" * 400])
@pytest.mark.parametrize("read", NUMBER_READERS)
def test_no_reader_takes_a_number_without_end(read: Callable[[str], object], digits: str) -> None:
    for unit in ("", "%", "C"):
        with pytest.raises(NavlogError):
            read(digits + unit)


@pytest.mark.parametrize(
    ("read", "text", "same"),
    [
        # By the definitions: 0.3048 m a foot, 1852 m a NM, 1609.344 m a statute mile, 3,600 s an hour.
        (units.read_altitude_ft, "914.4m", 3000.0),
        (units.read_altitude_ft, "1371.6m", 4500.0),
        (units.read_elevation_ft, "-30.48m", -100.0),
        (units.read_distance_nm, "55.56km", 30.0),
        (units.read_distance_nm, "20.372km", 11.0),
        (units.read_distance_nm, "14816m", 8.0),
        (units.read_distance_nm, "57.875sm", 57.875 * 1609.344 / 1852),
        (units.read_speed_kt, "203.72km/h", 110.0),
        (units.read_speed_kt, "46.3m/s", 90.0),
        (units.read_rate_ft_min, "2.54m/s", 500.0),
        (units.read_duration_min, "1.1h", 66.0),
        (units.read_elapsed_min, "66s", 1.1),
        (units.read_temperature_c, "-4F", -20.0),
        (units.read_temperature_c, "39.2F", 4.0),
        # The conventional inch of mercury, 3386.388640341 Pa (NIST SP 811, appendix B: 25.4 x 13.5951 x 9.80665).
        (units.read_pressure_hpa, "30inHg", 1015.9165921023),
    ],
)
def test_a_value_in_another_unit_is_the_same_to_the_last_digit(
    read: Callable[[str], float], text: str, same: float
) -> None:
    assert read(text) == same


@given(st.integers(0, 60_000))
def test_any_whole_number_of_feet_is_the_same_written_in_metres(feet: int) -> None:
    metres = f"{feet * 3048 // 10_000}.{feet * 3048 % 10_000:04d}m"
    assert units.read_level(metres) == units.read_level(f"{feet}ft")


@pytest.mark.parametrize("text", ["1" + "0" * 6_000 + "m", "1" * 300 + "m"])
def test_a_number_of_thousands_of_digits_is_out_of_range(text: str) -> None:
    assert refusal(units.read_altitude_ft, text).startswith("[bad-value]")


def test_a_number_of_thousands_of_decimals_is_read() -> None:
    assert units.read_altitude_ft("914.4" + "0" * 6_000 + "m") == 3000.0
