"""Values that can be and hardly ever are: asked about, each from its edge on."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.judged import found, judged_text, of
from helpers.tiles import write_srtm

from navlog.rules.answers import check_text
from navlog.rules.samples import FILES, FLOWN_BY_FILE, SampleCatalogue, sample

XOLD = "airport XOLD N45 41.00 W039 20.00 elev"


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        # AIM 7-2-2: below 28.00 and above 31.00 inHg; an inch is 33.86389 hPa (NIST SP 811), so 948.2 and 1049.8 hPa.
        ("altimeter 948hPa", True),
        ("altimeter 949hPa", False),
        ("altimeter 27.99inHg", True),
        ("altimeter 28.00inHg", False),
        ("altimeter 31.00inHg", False),
        ("altimeter 31.01inHg", True),
        ("altimeter 1050hPa", True),
        ("taxi 1gal 90min", False),
        ("taxi 1gal 900min", True),
        # The flight burns 8.5 gallons an hour.
        ("taxi 8.5gal", False),
        ("taxi 10gal", True),
    ],
)
def test_a_value_beyond_what_is_met_is_asked_about(statement: str, told: bool) -> None:
    assert bool(found("value-doubtful", statement)) is told


def test_a_setting_is_told_in_its_own_unit() -> None:
    (told,) = found("value-doubtful", "altimeter 27.50inHg")
    assert told.startswith("warning: altimeter setting 27.50 inHg: ")


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        # CN70 lies at -223 ft, L06 at -210 ft, TRM at -114 ft (FAA NASR 2026-05-14).
        (f"{XOLD} -223ft", []),
        (f"{XOLD} -350ft", ["warning: XOLD at -350 ft is lower than any airport but by the Dead Sea"]),
        ("station QEL 110.20 N45 44.10 W039 33.00 decl 17W elev -410ft", ["warning: QEL at -410 ft is"]),
    ],
)
def test_an_elevation_lower_than_any_is_asked_about_once(statement: str, told: list[str]) -> None:
    findings = found("elevation-doubtful", statement)
    assert len(findings) == len(told)
    assert all(one.startswith(start) for one, start in zip(findings, told, strict=True))


@pytest.mark.parametrize(
    ("elevation", "told"),
    [
        # Daocheng Yading, the highest civil airport, lies at 14,472 ft.
        ("14472ft", []),
        ("14480ft", ["warning: XOLD at 14480 ft is higher than any airport"]),
    ],
)
def test_an_elevation_higher_than_any_is_asked_about_once(elevation: str, told: list[str]) -> None:
    assert found("elevation-doubtful", f"{XOLD} {elevation}", "altitude FL200") == told


def test_a_station_higher_than_any_airport_is_asked_about() -> None:
    station = "station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme elev 21000ft"
    assert found("elevation-doubtful", station) == ["warning: QEL at 21000 ft is higher than any airport"]


@pytest.mark.parametrize(
    ("elevation", "told"),
    [
        # A tile of SRTM at sea level, its heights within 16 m, 52 ft: 1234 typed as 12340 is 12,288 above them.
        ("12340ft", ["warning: XBB at 12340 ft is 12288 ft above all that stands near it by the terrain"]),
        ("553ft", ["warning: XBB at 553 ft is 501 ft above all that stands near it by the terrain"]),
        ("552ft", []),
    ],
)
@pytest.mark.parametrize("way", ["XAA XBB", "XBB XAA"])
def test_an_elevation_far_above_the_terrain_around_it_is_asked_about(
    tmp_path: Path, way: str, elevation: str, told: list[str]
) -> None:
    write_srtm(tmp_path, "N46W039", {})
    (tmp_path / "f.route").write_text(
        "airport XAA N46 20.00 W038 40.00 elev 10ft\nairport XBB N46 40.00 W038 20.00 elev "
        f"{elevation}\nterrain .\ndate 2026-07-18\noff 15:10Z\naltitude 13500\ntas 110kt\nwind calm\nroute {way}\n",
        "utf-8",
    )
    (answer,) = check_text((tmp_path / "f.route").read_text("utf-8"), str(tmp_path / "f.route"))
    assert answer.report is not None
    assert [f"{one.severity}: {one.message}" for one in answer.findings if one.rule == "elevation-doubtful"] == told


def test_by_the_dead_sea_there_are_lower_airfields() -> None:
    # N31 19.92 E035 23.41, -1,240 ft (AOPA, "The lowest airfield on Earth", 2009).
    flight = ("airport XOLD N31 19.92 E035 23.41 elev -1240ft", "-airport XHAR", "-direct QHB", "-direct QEL")
    way = ("-airway V801", "route XOLD 3140N03523E", "-station QHB", "-station QEL")
    assert found("elevation-doubtful", *flight, *way) == []


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        # 37 gal are 140.06 L (NIST Handbook 44: 3.785411784 L), 16.48 h at 8.5 L/h.
        (("burn 8.5L/h",), "warning: 38 gal of fuel, less taxi, last 16:28 at 8.5 L/h: the units differ"),
        (("burn 32L/h",), "note: 38 gal of fuel, less taxi, last 4:22 at 32 L/h: the units differ"),
        (("fuel 380gal",), "warning: 380 gal of fuel, less taxi, last 44:35 at 8.5 gal/h"),
        (("fuel 103gal",), None),
        (
            ("route XHAR QHB XOLD land 20min fuel 220gal QEL", "-direct QEL", "airway V801 QHB - QEL 29.5nm"),
            "warning: 220.0 gal of fuel at take-off from XOLD last 25:52 at 8.5 gal/h",
        ),
        (("burn 8.5gph",), None),
        (("-burn",), None),
        (("-fuel",), None),
    ],
)
def test_fuel_that_lasts_too_long_or_is_in_another_unit_is_told(changed: tuple[str, ...], told: str | None) -> None:
    assert found("endurance-doubtful", *changed) == ([] if told is None else [told])


@pytest.mark.parametrize(
    ("taxi_gal", "more", "told"),
    [
        # 1.4 gallons with the point lost; the file's cruise burns under 10 gallons an hour.
        (14, (), ["warning: 14 gal for taxiing by the aircraft file is more than an hour of cruise takes"]),
        (1.4, (), []),
        # What the route states stands before the file's.
        (14, ("taxi 1gal",), []),
    ],
)
def test_fuel_to_taxi_of_the_aircraft_file_is_asked_about(
    taxi_gal: float, more: tuple[str, ...], told: list[str]
) -> None:
    files = FILES | {"climber.toml": f"taxi_fuel_gal = {taxi_gal}\n" + FILES["climber.toml"]}
    text = sample(*FLOWN_BY_FILE, *(more or ("-taxi",)))
    assert of("value-doubtful", judged_text(text, SampleCatalogue(), files=files)) == told


# At sea level the standard atmosphere has 15 C, at 3,000 ft 15 - 1.9812 x 3 = 9.1 C, from 36,089 ft on -56.5 (ICAO Doc
# 7488). More than 40 C above it or 65 below: common practice, no source. The highest air temperature known is 56.7 C,
# the lowest -89.2 C (WMO, World Weather and Climate Extremes Archive).
SEA = "airport XHAR N46 14.50 W039 07.20 elev 0ft"
SEA_LEVEL = (SEA, "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 10ft")


@pytest.mark.parametrize(
    ("temperature", "told"),
    [
        # 59 F with its letter slipped; 59 F are 15 C.
        ("+59C", "a temperature of +59 C at XHAR is 44 C above standard"),
        ("59F", None),
        ("+55C", None),
        ("+56C", "a temperature of +56 C at XHAR is 41 C above standard"),
        # A hot desert and an arctic winter.
        ("+45C", None),
        ("-45C", None),
        ("-50C", None),
        ("-51C", "a temperature of -51 C at XHAR is 66 C below standard"),
    ],
)
def test_a_temperature_at_the_field_that_no_place_has_is_asked_about(temperature: str, told: str | None) -> None:
    asked = found("value-doubtful", *SEA_LEVEL, f"temperature {temperature}")
    assert asked == ([] if told is None else [f"warning: {told}"])


@pytest.mark.parametrize(
    ("wind", "told"),
    [
        ("wind 3000 230/12 +58C", ["a temperature of +58 C at 3000 ft is 49 C above standard"]),
        ("wind 3000 230/12 -58C", ["a temperature of -58 C at 3000 ft is 67 C below standard"]),
        ("wind 3000 230/12 +49C", []),
        ("wind 3000 230/12 -55C", []),
        # A sign lost at 24,000 ft, where standard is 15 - 1.9812 x 24 = -32.5 C; warm and cold air of the tropopause.
        ("wind 3000 230/12 +4C 24000 240/30 +28C", ["a temperature of +28 C at 24000 ft is 61 C above standard"]),
        ("wind 39000 230/12 -75C", []),
        ("wind 39000 230/12 -40C", []),
        ("wind 3000 230/12", []),
    ],
)
def test_a_temperature_of_a_wind_that_no_air_at_its_height_has_is_asked_about(wind: str, told: list[str]) -> None:
    assert found("wind-doubtful", wind) == [f"warning: {one}" for one in told]


def test_in_high_pressure_the_temperature_goes_by_the_standard_of_that_pressure() -> None:
    # 1050 hPa are some 990 ft below sea level (27.3 ft each): 15 + 2.0 = 17.0 C is standard, and 57 C are 40 above it.
    assert found("value-doubtful", *SEA_LEVEL, "temperature +56.5C", "altimeter 1049hPa") == []


def test_a_temperature_that_counts_nowhere_is_not_asked_about() -> None:
    field = ("airport XHAR N46 14.50 W039 07.20", "-direct QHB", "direct QHB - XHAR 9.6nm")
    assert found("value-doubtful", *field, "temperature +59C") == []
