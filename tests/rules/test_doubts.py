"""Values that can be and hardly ever are: asked about, each from its edge on."""

from __future__ import annotations

import pytest
from helpers.judged import found, judged_text, of

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
