"""Totals, the account of fuel and the head of a sheet, worked by hand: 120 kt in no wind, 12 gal an hour."""

from __future__ import annotations

import pytest
from helpers.drawn import reports

from navlog.printed.closing import sections, totals_text
from navlog.printed.head import facts
from navlog.rules.report import Report

STATIONS = "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\n"
PLAN = "date 2026-07-18\nvariation 0E\n"
THREE = (
    "fix FIXA QAA 090 10.04nm\nfix FIXB QAA 090 20.08nm\nfix FIXC QAA 090 30.12nm\ndirect QAA - FIXA 10.04nm\n"
    "direct FIXA - FIXB 10.04nm\ndirect FIXB - FIXC 10.04nm\nroute QAA FIXA FIXB FIXC\n"
)
"""30.12 NM, 15.06 minutes, 3.012 gal."""


def flown(**stated: str) -> Report:
    """The flight over three fixes with statements replaced or added."""
    words = {
        "off": "15:00Z", "wind": "calm", "tas": "120kt", "burn": "12gph", "fuel": "30gal", "altitude": "4500",
        "rules": "vfr day",
    } | stated  # fmt: skip
    lines = "".join(f"{keyword} {rest}\n" for keyword, rest in words.items() if rest)
    (report,) = reports(STATIONS + PLAN + THREE + lines)
    return report


def fuel_lines(**stated: str) -> list[str]:
    (found,) = [one.lines for one in sections(flown(**stated)) if one.title.startswith("FUEL")]
    return list(found)


def head(**stated: str) -> list[str]:
    return list(facts(flown(**stated).log))


def test_the_totals_are_the_sums_of_the_columns() -> None:
    assert totals_text(flown().log) == "30.1 NM   0:15 in the air   fuel 3.1 gal   landing 15:15Z"
    assert totals_text(flown(off="").log).endswith("landing ?")
    assert totals_text(flown(wind="").log) == "30.1 NM   ? in the air   fuel ? gal   landing ?"


def test_the_account_of_fuel() -> None:
    # Kept are 30 minutes (14 CFR 91.151), 6 gal; 30 gal last 2.5 hours, and 20.9 gal 104.5 minutes.
    assert fuel_lines()[:5] == [
        "on board 30.0 with no taxi fuel given",
        "required 9.1 = trip 3.1 + contingency 0.0 + reserve 6.0 + extra 0.0",
        "margin 20.9 = 104 min",
        "endurance 2:30 to dry tanks: the flight as planned, then cruise",
        "left at landing 26.9",
    ]


def test_what_is_needed_rounds_up_and_what_is_there_down() -> None:
    # 30 - 1.05 gal are 28.95; 5 % of 3.012 gal are 0.1506; 28.95 gal last 144.75 minutes.
    assert fuel_lines(taxi="1.05gal", contingency="5%", extra="0.41gal")[:5] == [
        "on board 28.9 after taxi 1.1",
        "required 9.8 = trip 3.1 + contingency (5%) 0.2 + reserve 6.0 + extra 0.5",
        "margin 19.1 = 95 min",
        "endurance 2:24 to dry tanks: the flight as planned, then cruise",
        "left at landing 25.8",
    ]


def test_fuel_in_litres_is_told_in_whole_litres() -> None:
    # 45 L/h for 15.06 minutes are 11.295 L, half an hour 22.5 L.
    assert fuel_lines(burn="45L/h", fuel="110L")[:2] == [
        "on board 110 with no taxi fuel given",
        "required 35 = trip 12 + contingency 0 + reserve 23 + extra 0",
    ]


def test_a_margin_that_is_missing_is_told_with_its_sign() -> None:
    assert fuel_lines(fuel="9gal")[2].startswith("margin -0.1 = -")


@pytest.mark.parametrize(
    ("stated", "line"),
    [
        ({}, "2026-07-18   off 15:00Z   VFR day   cruise 4500 ft"),
        ({"off": ""}, "2026-07-18   NO OFF TIME GIVEN   VFR day   cruise 4500 ft"),
        ({"rules": "ifr"}, "2026-07-18   off 15:00Z   IFR   cruise 4500 ft"),
        ({"altitude": "FL095", "levels": "icao"}, "2026-07-18   off 15:00Z   VFR day   cruise FL095   levels icao"),
        # 9.5 minutes of taxi are 10 of the clock.
        ({"taxi": "1gal 9.5min"}, "2026-07-18   off 15:00Z, off-block 14:50Z   VFR day   cruise 4500 ft"),
        ({"taxi": "1gal 9.2min"}, "2026-07-18   off 15:00Z, off-block 14:50Z   VFR day   cruise 4500 ft"),
        ({"taxi": "1gal 10min"}, "2026-07-18   off 15:00Z, off-block 14:50Z   VFR day   cruise 4500 ft"),
        ({"taxi": "1gal 10min", "off": ""}, "2026-07-18   NO OFF TIME GIVEN, taxi 10 min   VFR day   cruise 4500 ft"),
    ],
)
def test_the_line_of_the_flight(stated: dict[str, str], line: str) -> None:
    assert head(**stated)[0] == line


def test_a_flight_level_is_told_with_its_altitude_at_the_setting() -> None:
    # ICAO Doc 7488: 980 hPa stand at 44,330.77 m x (1 - (980 / 1013.25) ** 0.190263) = 280.5 m, 920 ft.
    assert "Altimeter 980 hPa: FL090 is 8080 ft" in head(altitude="FL090", altimeter="980hPa", levels="icao")
    assert "Altimeter 980 hPa" in head(altimeter="980hPa")


@pytest.mark.parametrize(
    ("altitude", "told"),
    [
        ("4500", "3000 ft 230/12 +4C, 6000 ft 240/18 -2C (as stated)"),
        ("6000", "3000 ft 230/12 +4C, 6000 ft 240/18 -2C (as stated)"),
        ("6500", "3000 ft 230/12 +4C, 6000 ft 240/18 -2C, 9000 ft 250/25 (as stated)"),
    ],
)
def test_winds_are_told_up_to_the_first_level_above_the_flight(altitude: str, told: str) -> None:
    winds = "3000 230/12 4C 6000 240/18 -2C 9000 250/25"
    assert f"Wind, true: {told}" in head(altitude=altitude, wind=winds)


def test_winds_are_told_as_high_as_an_alternate_is_flown() -> None:
    # The route is flown at 4,500 ft, the way from FIXC to the alternate at 8,500.
    (report,) = reports(
        STATIONS + PLAN + THREE.replace("route QAA", "route QAA/A045")
        + "airport XCC N46 00.00 W038 00.00 elev 500ft\ndirect FIXC - XCC 10nm\nalternate XCC\noff 15:00Z\ntas 120kt\n"
        "rules vfr day\naltitude 8500\nwind 3000 230/12 6000 240/18 9000 250/25\n"
    )  # fmt: skip
    assert {leg.end_altitude_ft for leg in report.log.legs} == {4500}
    assert "Wind, true: 3000 ft 230/12, 6000 ft 240/18, 9000 ft 250/25 (as stated)" in facts(report.log)


@pytest.mark.parametrize(
    ("wind", "told"),
    [("230/12", "230/12 (as stated)"), ("calm", "calm (as stated)"), ("", "NO WIND GIVEN")],
)
def test_a_wind_that_holds_everywhere_is_told_without_a_height(wind: str, told: str) -> None:
    assert f"Wind, true: {told}" in head(wind=wind)


def test_speed_burn_receivers_and_variation_as_stated() -> None:
    told = head(equipment="vor 1 dme 1")
    assert "TAS 120 kt, burn 12 gal/h, receivers 1 VOR, 1 DME" in told
    assert any(one.startswith("Variation 0") and one.endswith("as stated, in headings only") for one in told)
    assert "TAS 120 kt, burn ?, receivers 2 VOR, no DME" in head(burn="", equipment="vor 2 dme 0")
    # A US gallon is 3.785411784 L (NIST Handbook 44, appendix C): 45 L/h are 11.89 gal/h.
    burns = [one for one in head(burn="45L/h") if one.startswith("TAS")]
    assert burns[0].startswith("TAS 120 kt, burn 45 L/h (about 11.9 gal/h), ")
    assert head(burn="45L/h", fuel="110L")[:1] == head()[:1]
    assert any(one.startswith("TAS 120 kt, burn 45 L/h, ") for one in head(burn="45L/h", fuel="110L"))


def test_the_stations_in_order_of_use_with_morse_channel_and_north() -> None:
    # ICAO Annex 10, volume I: 113.00 MHz pairs with channel 77X; Q --.-, A .-, B -..., C -.-.
    (report,) = reports(
        "station QAA 113.00 decl 7W dme\nstation QBB 114.00 decl true\nstation QCC 115.00\ndate 2026-07-18\n"
        "variation 0E\ntas 120kt\naltitude 4500\nrules ifr\ndirect QAA 090 - 270 QBB 30nm\n"
        "direct QBB 090 - 270 QCC 30nm\nroute QAA QBB QCC\n"
    )
    (found,) = [one.lines for one in sections(report) if one.title == "STATIONS"]
    assert found == (
        "QAA 113.00 --.- .- .- DME 77X decl 7W",
        "QBB 114.00 --.- -... -... true north",
        "QCC 115.00 --.- -.-. -.-. decl ?",
    )


def test_the_reserve_is_told_with_what_it_goes_by() -> None:
    assert fuel_lines()[-1] == "reserve 30 min by 14 CFR 91.151, day as stated by `rules vfr day`"
    assert fuel_lines(rules="ifr")[-1].startswith("reserve 45 min by 14 CFR 91.167")
    assert fuel_lines(reserve="50min")[-1] == "reserve 50 min as stated"
    # A shorter one that is stated is none: 14 CFR 91.167 asks for 45 minutes.
    assert fuel_lines(rules="ifr", reserve="20min")[-1] == "reserve 45 min by 14 CFR 91.167, not the 20 min stated"


@pytest.mark.parametrize(
    ("rules", "told"),
    [("ifr", ["no approach to XCC that is missed is counted before it: `extra` keeps fuel for one"]), ("vfr day", [])],
)
def test_under_ifr_what_a_missed_approach_takes_is_not_counted_on_the_way_to_an_alternate(
    rules: str, told: list[str]
) -> None:
    places = (
        "airport XCC N46 00.00 W038 00.00 elev 500ft\nairport XDD N46 10.00 W038 00.00 elev 500ft\n"
        "direct FIXC - XCC 10nm\ndirect XCC - XDD 10nm\nwind calm\noff 15:00Z\ntas 120kt\nburn 12gph\nfuel 30gal\n"
        f"altitude 4500\nrules {rules}\nalternate XDD\n"
    )
    (report,) = reports(STATIONS + PLAN + THREE.replace("FIXB FIXC\n", "FIXB FIXC XCC\n") + places)
    (found,) = [one.lines for one in sections(report) if one.title.startswith("ALTERNATE")]
    assert [one for one in found if "missed" in one] == told
