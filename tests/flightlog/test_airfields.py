"""The airports of a flight: heights of field and pattern, and the sun at each landing."""

from __future__ import annotations

import re
from datetime import datetime

import pytest
from helpers.flown import Json, changed, flight, sheet

HALF_MINUTE = 0.51
"""The Observatory prints whole minutes."""
OSLO, QUITO, NORTH = "59.9139 10.7522", "-0.1807 -78.4678", "70.0 0.0"


def airports(*statements: str, without: tuple[str, ...] = ()) -> list[Json]:
    found: list[Json] = flight(changed(*statements, without=without))["airports"]
    return found


def landing(position: str, date: str, off: str | None) -> Json:
    """The landing of a flight of 20 NM in 10 minutes to a field at a place."""
    latitude, longitude = (float(word) for word in position.split())
    start = f"{latitude - 20.0 / 60.0:.4f} {longitude:.4f}"
    clock = f"off {off}\n" if off is not None else ""
    found = flight(
        f"airport XLAN {position} elev 100ft\nfix START {start}\ndate {date}\n{clock}"
        "altitude 3000\ntas 120kt\nburn 8gph\nwind calm\nfuel 30gal\nroute START XLAN\n"
    )
    (only,) = found["airports"]
    assert isinstance(only, dict)
    return only


def minutes_apart(told: str | None, published: str) -> float:
    assert told is not None
    return abs((datetime.fromisoformat(told) - datetime.fromisoformat(published)).total_seconds()) / 60.0


def reasons(airport: Json) -> dict[str, str]:
    return {one["key"]: one["reason"] for one in airport["unknown"]}


def test_each_airport_has_its_elevation_and_the_pattern_of_the_manual() -> None:
    # FAA AIM 4-3-3: 1,000 ft above the ground unless established otherwise.
    told = [
        (one["ident"], one["role"], one["elevation_ft"], one["pattern_ft"], one["pattern_by"]) for one in airports()
    ]
    assert told == [
        ("XHAR", "departure", 790, 1790, "AIM 4-3-3"),
        ("XOLD", "destination", 350, 1350, "AIM 4-3-3"),
    ]


def test_a_stated_pattern_is_that_of_the_last_landing_alone() -> None:
    told = [(one["role"], one["pattern_ft"], one["pattern_by"]) for one in airports("pattern 1200ft", "alternate XHAR")]
    assert told == [
        ("departure", 1790, "AIM 4-3-3"),
        ("destination", 1200, "stated"),
        ("alternate", 1790, "AIM 4-3-3"),
    ]


def test_without_an_elevation_the_pattern_is_unknown_and_never_guessed() -> None:
    there = airports("airport XOLD N45 41.00 W039 20.00")[-1]
    assert (there["elevation_ft"], there["pattern_ft"], there["pattern_by"]) == (None, None, None)
    assert reasons(there) == dict.fromkeys(("elevation_ft", "pattern_ft"), "the elevation is not known")


def test_a_landing_on_the_way_and_alternates_are_told_in_flying_order() -> None:
    found = airports("route XHAR QHB XHAR land 30min QHB V801 QEL XOLD", "alternate XHAR", "alternate QHB via XHAR")
    told = [(one["ident"], one["role"], one["leg"]) for one in found]
    assert told == [
        ("XHAR", "departure", None),
        ("XHAR", "landing", 2),
        ("XOLD", "destination", 6),
        ("XHAR", "alternate", None),
        ("XHAR", "alternate", None),
    ]


@pytest.mark.parametrize(
    ("position", "date", "sunset", "dusk"),
    [
        # U.S. Naval Observatory, as in tests/authorities/usno_sun.txt.
        pytest.param(QUITO, "2025-03-20", "2025-03-20T23:24Z", "2025-03-20T23:45Z", id="Quito"),
        pytest.param(OSLO, "2025-06-21", "2025-06-21T20:44Z", "2025-06-21T22:28Z", id="Oslo in June"),
        pytest.param(OSLO, "2025-12-21", "2025-12-21T14:12Z", "2025-12-21T15:10Z", id="Oslo in December"),
    ],
)
@pytest.mark.parametrize("off", ["12:00Z", None])
def test_sunset_and_the_end_of_civil_twilight_are_the_observatorys(
    position: str, date: str, sunset: str, dusk: str, off: str | None
) -> None:
    there = landing(position, date, off)
    assert minutes_apart(there["sunset"], sunset) < HALF_MINUTE
    assert minutes_apart(there["civil_twilight_ends"], dusk) < HALF_MINUTE


def test_the_margins_count_from_the_landing() -> None:
    # Lands at 14:40Z by 20 NM in 10 minutes; the Observatory's dusk of that day is 15:10Z, its sunset 14:12Z.
    there = landing(OSLO, "2025-12-21", "14:30Z")
    assert minutes_apart(there["eta"], "2025-12-21T14:40Z") < 0.1
    assert there["civil_twilight_margin_min"] == pytest.approx(30, abs=0.6)
    assert there["sunset_margin_min"] == pytest.approx(-28, abs=0.6)
    assert there["night"] is False
    assert there["night_ends"] is None


@pytest.mark.parametrize(("off", "eta"), [("20:00Z", "2025-12-21T20:10Z"), ("02:00Z", "2025-12-22T02:10Z")])
def test_by_night_the_twilight_behind_counts_before_and_after_midnight(off: str, eta: str) -> None:
    day = eta[:10]
    there = landing(OSLO, day, off)
    assert there["night"] is True
    assert minutes_apart(there["eta"], eta) < 0.1
    assert minutes_apart(there["civil_twilight_ends"], "2025-12-21T15:10Z") < HALF_MINUTE
    # Naval Observatory: morning twilight of the 21st begins at 07:21Z, and moves by seconds in a day there.
    assert minutes_apart(there["night_ends"], "2025-12-22T07:21Z") < 1.5
    since_min = (datetime.fromisoformat(eta) - datetime.fromisoformat("2025-12-21T15:10Z")).total_seconds() / 60.0
    assert there["civil_twilight_margin_min"] == pytest.approx(-since_min, abs=0.7)


def test_at_midsummer_in_the_far_north_neither_sunset_nor_night_happens() -> None:
    there = landing(NORTH, "2025-06-21", "23:30Z")  # USNO: none of its events
    keys = ("sunset", "civil_twilight_ends", "sunset_margin_min", "civil_twilight_margin_min", "night_ends")
    assert {there[key] for key in keys} == {None}
    assert there["night"] is False
    assert there["unknown"] == []


def test_in_the_polar_night_twilight_alone_ends() -> None:
    there = landing(NORTH, "2025-12-21", "12:00Z")  # USNO: no sunset, the end of twilight at 14:02Z
    assert there["sunset"] is None
    assert minutes_apart(there["civil_twilight_ends"], "2025-12-21T14:02Z") < HALF_MINUTE
    assert there["night"] is False


def test_where_no_twilight_comes_the_landing_is_by_night_without_an_end() -> None:
    there = landing("80.0 15.0", "2025-12-21", "12:00Z")
    assert there["night"] is True
    assert there["civil_twilight_ends"] is there["night_ends"] is None


def test_without_a_time_the_sun_of_the_day_stands_and_the_rest_is_unknown() -> None:
    there = airports(without=("off",))[-1]
    assert there["sunset"] is not None
    by_the_clock = ("eta", "night", "sunset_margin_min", "civil_twilight_margin_min")
    assert reasons(there) == dict.fromkeys(by_the_clock, "no `off` given")
    assert {there[key] for key in reasons(there)} == {None}


def test_without_wind_the_landing_has_no_time() -> None:
    there = airports(without=("wind",))[-1]
    assert there["eta"] is None
    assert "time" in reasons(there)["eta"]


def test_an_alternate_is_reached_after_the_landing_and_its_way() -> None:
    destination, alternate = airports("alternate XHAR")[-2:]
    assert alternate["role"] == "alternate"
    assert minutes_apart(alternate["eta"], destination["eta"]) > 15


def test_a_flight_between_fixes_has_no_airports() -> None:
    text = changed("route QHB V801 QEL", without=("alternate",))
    assert flight(text)["airports"] == []
    assert "AIRPORTS" not in sheet(text)


def test_the_sheet_prints_margins_that_are_the_differences_of_its_times() -> None:
    printed = " ".join(sheet(changed("off 21:55Z")).split())
    found = re.search(
        r"XOLD destination (\S+)Z: elevation 350 ft, pattern 1350 ft by AIM 4-3-3;"
        r" sunset (\S+)Z, (\S+) BEFORE landing; end of civil twilight (\S+)Z, (\S+) after landing",
        printed,
    )
    assert found is not None
    landing_min, sunset_min, before_min, dusk_min, after_min = (
        int(text[:-3]) * 60 + int(text[-2:]) for text in found.groups()
    )
    assert f"landing {found[1]}Z" in printed
    assert landing_min - sunset_min == before_min
    assert dusk_min - landing_min == after_min


def test_a_landing_by_night_is_said_in_capitals() -> None:
    text = " ".join(sheet(changed("off 22:55Z")).split())
    assert "LANDING BY NIGHT, until " in text.partition("XOLD destination ")[2]


@pytest.mark.parametrize("wind_kt", range(3, 33, 3))
def test_an_alternate_is_landed_at_when_its_table_says(wind_kt: int) -> None:
    """The table goes on from the printed clock of the route, so the exact time may round to another minute."""
    text = sheet(changed(f"wind 230/{wind_kt}", "alternate XHAR from QEL"))
    told = re.search(r"XHAR alternate (\d\d:\d\d)Z", text)
    table = text.partition("ALTERNATE XHAR")[2].partition("AIRPORTS")[0]
    assert told is not None
    assert re.findall(r"(\d\d:\d\d)Z", table)[-1] == told[1]


def test_an_altimeter_setting_is_told_in_its_own_unit_whatever_the_levels() -> None:
    for written, told in (("29.80inHg", "29.80 inHg"), ("1009hPa", "1009 hPa"), ("1009.5hPa", "1009.5 hPa")):
        assert f"Altimeter {told}\n" in sheet(changed(f"altimeter {written}"))
    assert "Altimeter 29.80 inHg: FL085 is 83" in sheet(changed("altimeter 29.80inHg", "altitude FL085"))
