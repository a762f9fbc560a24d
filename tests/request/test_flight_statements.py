from __future__ import annotations

from datetime import date

import pytest

from navlog.nav.units import Amount
from navlog.request.parser import parse
from navlog.request.records import (
    AlternateRequest,
    Equipment,
    FileReference,
    HoldRequest,
    Level,
    Name,
    RadioFrequency,
    StatedWind,
    WindStatement,
)
from navlog.request.tree import AltimeterSetting, ClockTime, FlightRules, Taxiing, Value


def value(text: str) -> Value | None:
    tree = parse(text, "t.route")
    assert tree.problems == ()
    return tree.common[0].value


def codes(text: str) -> list[tuple[int, str]]:
    return [(p.span.column, p.code) for p in parse(text, "t.route").problems if p.span is not None]


def wind(text: str) -> WindStatement:
    statement = value(f"wind {text}")
    assert isinstance(statement, WindStatement)
    return statement


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("date 2026-07-18", date(2026, 7, 18)),
        ("tas 110kt", 110.0),
        ("tas 110", 110.0),
        ("burn 8.5gph", Amount(8.5, "gal/h")),
        ("burn 32L/h", Amount(32.0, "L/h")),
        ("altitude 4500", Level(4500.0)),
        ("altitude FL085", Level(8500.0, flight_level=True)),
        ("rules vfr", FlightRules("vfr")),
        ("rules vfr night", FlightRules("vfr", "night")),
        ("rules ifr", FlightRules("ifr")),
        ("levels icao", "icao"),
        ("equipment vor 2 dme 1", Equipment(vor=2, dme=1)),
        ("equipment dme 1", Equipment(vor=1, dme=1)),
        ("equipment vor 2", Equipment(vor=2, dme=0)),
        ("fuel 38gal", Amount(38.0, "gal")),
        ("fuel 38", Amount(38.0, "gal")),
        ("taxi 5L", Taxiing(Amount(5.0, "L"))),
        ("taxi 8min", Taxiing(None, 8.0)),
        ("taxi 1gal 8min", Taxiing(Amount(1.0, "gal"), 8.0)),
        ("extra 10lb", Amount(10.0, "lb")),
        ("reserve 45min", 45.0),
        ("contingency 5%", 5.0),
        ("variation 7E", 7.0),
        ("variation 12.5W", -12.5),
        ("altimeter 1013hPa", AltimeterSetting(1013.0, "hPa")),
        ("temperature -5C", -5.0),
        ("ceiling FL125", Level(12500.0, flight_level=True)),
        ("pattern 1800ft", 1800.0),
        ('note "close the plan by radio"', "close the plan by radio"),
    ],
)
def test_statements_of_a_single_value(text: str, expected: Value) -> None:
    assert value(text) == expected


def test_units_other_than_the_trades_are_converted() -> None:
    # 1200 m / 0.3048 = 3937.008 ft; 29.92 inHg = 1013.21 hPa; 200 km/h = 107.991 kt.
    level = value("altitude 1200m")
    assert isinstance(level, Level)
    assert level.altitude_ft == pytest.approx(3937.008, abs=1e-3)
    setting = value("altimeter 29.92inHg")
    assert isinstance(setting, AltimeterSetting)
    assert setting.altimeter_hpa == pytest.approx(1013.21, abs=5e-3)
    assert setting.altimeter_unit == "inHg"
    assert value("tas 200km/h") == pytest.approx(107.991, abs=1e-3)


@pytest.mark.parametrize(
    ("text", "column", "code"),
    [
        ("tas 110 kt", 9, "unexpected-word"),
        ("tas 0kt", 5, "bad-value"),
        ("tas -110", 5, "bad-value"),
        ("tas 1e2", 5, "bad-value"),
        ("fuel 1_0", 6, "bad-value"),
        ("fuel 5,500", 6, "bad-value"),
        ("fuel \uff13gal", 6, "bad-value"),
        ("reserve 45m", 9, "bad-unit"),
        ("contingency 5", 13, "bad-unit"),
        ("variation 7", 11, "bad-value"),
        ("variation -7", 11, "bad-value"),
        ("altimeter 29.92", 11, "bad-unit"),
        ("temperature 15", 13, "bad-unit"),
        ("altitude FL85", 10, "bad-value"),
        ('altitude "4500"', 10, "quoted-value"),
        ("date 18/07/2026", 6, "bad-date"),
        ("date 2026-7-18", 6, "bad-date"),
        ("date 2026-02-30", 6, "bad-date"),
        ("date 1526-07-18", 6, "bad-date"),
        ("date \uff12026-07-18", 6, "bad-date"),
        ("off 15:10", 5, "missing-zone"),
        ("off 1510", 5, "missing-zone"),
        ("vor-check 2026-07-04 ground +2", 22, "missing-word"),
        ("vor-check 2026-07-04 XHAR dual +2 +1 +3", 38, "unexpected-word"),
        ("off 510Z", 5, "bad-time"),
        ("off 1510Zz", 5, "bad-time"),
        ('off "15:10Z"', 5, "quoted-value"),
        ("off 15:10 Z", 11, "unknown-zone"),
        ("off 3:10pm", 5, "bad-time"),
        ("off 15:10+02:00", 5, "bad-time"),
        ("off 3.10 America/Chicago", 5, "bad-time"),
        ("off 24:00Z", 5, "bad-time"),
        ("off 5:10Z", 5, "bad-time"),
        ("off 15:10Z UTC", 12, "unexpected-word"),
        ("rules svfr", 7, "bad-word"),
        ("rules ifr night", 11, "unexpected-word"),
        ("levels US", 8, "bad-word"),
        ("equipment", 10, "missing-word"),
        ("equipment vor two", 15, "bad-value"),
        ("equipment vor 1 vor 2", 17, "given-twice"),
        ("equipment adf 1", 11, "unexpected-word"),
        ("note close the plan", 6, "not-quoted"),
        ('note ""', 6, "empty-text"),
        ("accept out-of-range", 20, "missing-word"),
        ('accept "out-of-range" "seen"', 8, "quoted-value"),
        ('accept Out_Of_Range "seen"', 8, "bad-word"),
        ("accept out-of-range seen", 21, "not-quoted"),
        ('radio XHAR "Tower"', 19, "missing-word"),
        ('radio XHAR "Tower" 188.700', 20, "bad-frequency"),
        ('radio XHAR "Tower" 118.712', 20, "bad-frequency"),
        ('radio XHAR "Tower" 118.720', 20, "bad-frequency"),
        ('radio XHAR "Tower" 118', 20, "bad-frequency"),
        ('radio XHAR "Tower" 518.700', 20, "bad-frequency"),
        ("radio XHAR Tower 118.700", 12, "not-quoted"),
        ('aircraft ""', 10, "empty-text"),
        ("hold QHB", 9, "missing-word"),
        ("hold QHB 4m", 10, "bad-unit"),
        ("hold DCT 4min", 6, "bad-point"),
        ("hold QHB/A055 4min", 6, "bad-point"),
        ("unavailable QHB QEL", 17, "unexpected-word"),
    ],
)
def test_wrong_values(text: str, column: int, code: str) -> None:
    assert codes(text) == [(column, code)]


def test_a_z_that_stands_apart_is_no_new_zealand() -> None:
    (problem,) = parse("off 15:10 Z", "t.route").problems
    assert problem.hint == "write 15:10Z"


def test_off_names_its_zone() -> None:
    # Sheets print a time of day without its colon: OFF 1510Z.
    for text in ("15:10Z", "15:10z", "1510Z", "1510z"):
        assert value(f"off {text}") == ClockTime(15, 10)
    named = value("off 10:10 America/Chicago")
    assert isinstance(named, ClockTime)
    assert named.zone is not None
    assert (named.hour, named.minute, named.zone.ident, named.zone.span.column) == (
        10,
        10,
        "America/Chicago",
        11,
    )


def test_one_wind_holds_at_every_height() -> None:
    assert wind("230/12").levels == (StatedWind(230.0, 12.0),)
    assert wind("230T/12").levels == (StatedWind(230.0, 12.0),)
    assert wind("230M/15").levels == (StatedWind(230.0, 15.0, magnetic=True),)
    assert wind("000/05kt").levels == (StatedWind(360.0, 5.0),)


def test_winds_by_height_may_have_temperatures() -> None:
    assert wind("3000 230/12 6000ft 240/18 +4C 9000 250/25 -2C").levels == (
        StatedWind(230.0, 12.0, height_ft=3000.0),
        StatedWind(240.0, 18.0, height_ft=6000.0, temperature_c=4.0),
        StatedWind(250.0, 25.0, height_ft=9000.0, temperature_c=-2.0),
    )
    assert wind("3000 230/12 50F 6000 240/18").levels[0].temperature_c == pytest.approx(10.0)


def test_a_speed_may_carry_a_unit_with_a_stroke() -> None:
    # 10 m/s is 36 km/h, 19.438 kt.
    assert wind("230/10m/s").levels[0].speed_kt == pytest.approx(19.438, abs=1e-3)
    assert wind("230/36km/h").levels[0].speed_kt == pytest.approx(19.438, abs=1e-3)


@pytest.mark.parametrize(
    ("typed", "plain"),
    [
        ("taxi 1GAL 8MIN", "taxi 1gal 8min"),
        ("taxi 1hr", "taxi 1h"),
        ("altimeter 29.92INHG", "altimeter 29.92inHg"),
        ("altimeter 29.92in", "altimeter 29.92inHg"),
        ("altitude fl085", "altitude FL085"),
        ("wind 3000FT 240/18KT 15c", "wind 3000 240/18 15C"),
        ("route XHAR XTAR land 45MIN fuel 22GAL XHAR", "route XHAR XTAR land 45min fuel 22gal XHAR"),
    ],
)
def test_a_statement_says_the_same_in_capitals(typed: str, plain: str) -> None:
    assert value(typed) == value(plain)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("fuel 38 USG", "glue the unit to its number: 38USG"),
        ("tas 110 KT", "glue the unit to its number: 110KT"),
        ("wind 24018KT", "write 240/18KT"),
        ("wind 240/18G25KT", "write the mean wind: 240/18"),
        ("off 1510UTC", "write 1510Z"),
    ],
)
def test_a_slip_is_told_with_what_to_write(text: str, hint: str) -> None:
    (problem,) = parse(text, "t.route").problems
    assert problem.hint == hint


def test_calm_is_said() -> None:
    calm = wind("calm")
    assert [level.speed_kt for level in calm.levels] == [0.0]


def test_wind_may_be_at_a_point() -> None:
    for point, ident in (("QHB", "QHB"), ("QHB:vor", "QHB"), ("QHB084021", "QHB"), ("46N039W", None)):
        place = wind(f"at {point} 230/12").place
        assert place is not None
        assert (place.text, place.ident) == (point, ident)
    at_point = wind("at QHB calm")
    assert [level.speed_kt for level in at_point.levels] == [0.0]
    assert at_point.place is not None


@pytest.mark.parametrize(
    ("text", "column", "code"),
    [
        ("", 5, "missing-word"),
        ("at", 8, "missing-word"),
        ("230-12", 6, "bad-wind"),
        ("VRB05", 6, "bad-wind"),
        ("3000", 6, "bad-wind"),
        ("23/12", 6, "bad-angle"),
        ("370/12", 6, "bad-angle"),
        ("230/-12", 6, "bad-value"),
        ("230/12 +4C", 13, "unexpected-word"),
        ("3000 230/12 3000 240/12", 18, "given-twice"),
        ("3000 230/12 4", 18, "bad-wind"),
        ("FL090 230/12", 6, "bad-value"),
        ("calm 230/12", 11, "unexpected-word"),
        ("at QHB/A055 calm", 9, "bad-point"),
    ],
)
def test_wrong_winds(text: str, column: int, code: str) -> None:
    assert codes(f"wind {text}") == [(column, code)]


def test_files_may_stand_in_quotes() -> None:
    for text in ("trainer.toml", '"my trainer.toml"'):
        reference = value(f"aircraft {text}")
        assert isinstance(reference, FileReference)
        assert reference.path == text.strip('"')


def test_an_alternate_is_an_airport_or_a_way_to_one() -> None:
    plain, way = value("alternate XOLD at 3500"), value("alternate QEL:vor via V801 QHB XOLD at FL085")
    assert isinstance(plain, AlternateRequest)
    assert ([w.ident for w in plain.words], plain.start, plain.level) == (["XOLD"], None, Level(3500.0))
    assert isinstance(way, AlternateRequest)
    assert [w.ident for w in way.words] == ["V801", "QHB", "XOLD"]
    assert way.start is not None
    assert (way.start.ident, way.start.qualifier) == ("QEL", "vor")
    assert way.level == Level(8500.0, flight_level=True)


@pytest.mark.parametrize(
    ("text", "between"),
    [
        ("XOLD from QEL:vor at FL085", []),
        ("XOLD from QEL:vor via V801 QHB at FL085", ["V801", "QHB"]),
        ("XOLD from QEL:vor via V801 QHB XOLD at FL085", ["V801", "QHB"]),
        ("XOLD from QEL:vor via V801 QHB DCT at FL085", ["V801", "QHB", "DCT"]),
    ],
)
def test_an_alternate_says_where_the_route_is_left(text: str, between: list[str]) -> None:
    way = value(f"alternate {text}")
    assert isinstance(way, AlternateRequest)
    assert [word.ident for word in way.words] == [*between, "XOLD"]
    assert way.start is not None
    assert (way.start.ident, way.start.qualifier, way.level) == ("QEL", "vor", Level(8500.0, flight_level=True))


@pytest.mark.parametrize(
    ("text", "column", "code"),
    [
        ("", 10, "missing-word"),
        ("XOLD from", 20, "missing-word"),
        ("XOLD from QEL via", 28, "missing-word"),
        ("XOLD from QEL via at 3500", 29, "missing-word"),
        ("XOLD from DCT", 21, "bad-point"),
        ("XOLD from QEL V801 QHB", 25, "unexpected-word"),
        ("QEL via XOLD from QHB", 24, "bad-identifier"),
        ("QEL via", 18, "missing-word"),
        ("QEL via at 3500", 19, "missing-word"),
        ("QEL XOLD", 15, "unexpected-word"),
        ("XOLD at", 18, "missing-word"),
        ("XOLD at low", 19, "bad-value"),
        ("DCT", 11, "bad-point"),
        ("QEL via XOLD DCT", 24, "bad-route"),
    ],
)
def test_wrong_alternates(text: str, column: int, code: str) -> None:
    assert codes(f"alternate {text}") == [(column, code)]


def test_holding_takes_time_at_a_point() -> None:
    hold = value("hold PINEY 4min")
    assert isinstance(hold, HoldRequest)
    assert (hold.point.ident, hold.time_min) == ("PINEY", 4.0)


def test_com_frequencies_stay_as_written() -> None:
    for text in ("118.700", "121.5", "122.75", "243.0"):
        radio = value(f'radio XHAR "Tower" {text}')
        assert isinstance(radio, RadioFrequency)
        assert (radio.place, radio.name, radio.frequency_mhz) == ("XHAR", "Tower", text)


def test_an_unavailable_station_keeps_its_place() -> None:
    name = value("unavailable QHB")
    assert isinstance(name, Name)
    assert (name.ident, name.span.column) == ("QHB", 13)
