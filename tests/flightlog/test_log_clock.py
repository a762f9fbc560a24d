"""Clock, stops and fuel along the way: midnight, zones, landings with and without fuel, reserves."""

from __future__ import annotations

import pytest
from helpers.flown import changed, codes, flight, legs, rules_of, sheet
from helpers.printed import printed_logs

THERE_AND_BACK = "route XHAR QHB XOLD land {} QHB XHAR"


def test_midnight_rolls_over() -> None:
    text = changed("off 23:50Z")
    assert [leg["eta"][:10] for leg in legs(text)] == ["2026-07-18", "2026-07-19", "2026-07-19", "2026-07-19"]
    (log,) = printed_logs(sheet(text))
    running = [23 * 60 + 50 + int(leg["elapsed_min"] + 0.5) for leg in legs(text)]
    assert [leg.cells["ETA"] for leg in log.legs] == [
        f"{at // 60 % 24:02d}:{at % 60:02d}Z{'+1' if at >= 24 * 60 else ''}" for at in running
    ]
    assert [leg.cells["ETA"][:2] for leg in log.legs] == ["23", "00", "00", "00"]
    assert log.total["landing"] == log.legs[-1].cells["ETA"]


def test_the_end_of_february_rolls_over_as_the_calendar_says() -> None:
    assert legs(changed("date 2028-02-28", "off 23:50Z"))[-1]["eta"].startswith("2028-02-29T00:")
    assert legs(changed("date 2027-02-28", "off 23:50Z"))[-1]["eta"].startswith("2027-03-01T00:")


@pytest.mark.parametrize(
    ("day", "off", "utc"),
    [
        # IANA time zone database: CDT is UTC-5, CST UTC-6; Kathmandu UTC+5:45; Auckland in July UTC+12.
        ("2026-07-18", "10:10 America/Chicago", "2026-07-18T15:10:00.000Z"),
        ("2026-01-18", "10:10 America/Chicago", "2026-01-18T16:10:00.000Z"),
        ("2026-07-18", "05:00 Asia/Kathmandu", "2026-07-17T23:15:00.000Z"),
        ("2026-07-18", "08:00 Pacific/Auckland", "2026-07-17T20:00:00.000Z"),
        ("2026-07-18", "23:30 America/Chicago", "2026-07-19T04:30:00.000Z"),
    ],
)
def test_the_date_is_that_of_the_zone(day: str, off: str, utc: str) -> None:
    found = flight(changed(f"date {day}", f"off {off}"))
    assert (found["date"], found["off"]) == (day, utc)


@pytest.mark.parametrize(
    "off",
    [
        # Clocks go from 02:00 to 03:00 on 8 March 2026 and from 02:00 back to 01:00 on 1 November 2026.
        ("2026-03-08", "02:30 America/Chicago"),
        ("2026-11-01", "01:30 America/Chicago"),
    ],
)
def test_a_clock_time_that_does_not_exist_or_comes_twice_is_a_problem(off: tuple[str, str]) -> None:
    assert codes(changed(f"date {off[0]}", f"off {off[1]}"))


def test_a_landing_takes_its_time_and_no_time_in_the_air() -> None:
    nonstop, stopped = flight(changed("route XHAR QHB XOLD")), flight(changed(THERE_AND_BACK.format("30min")))
    before, after = stopped["legs"][1], stopped["legs"][2]
    assert before["turn_deg"] is None
    assert before["elapsed_min"] == pytest.approx(nonstop["totals"]["time_min"])
    assert after["elapsed_min"] == pytest.approx(before["elapsed_min"] + 30.0 + after["time_min"])
    flown = sum(leg["time_min"] for leg in stopped["legs"])
    assert stopped["totals"]["time_min"] == pytest.approx(flown)
    assert stopped["legs"][-1]["elapsed_min"] == pytest.approx(flown + 30.0)


def test_without_a_time_a_landing_takes_none() -> None:
    assert flight(changed(THERE_AND_BACK.format(""))) | {"source": 0} == flight(
        changed(THERE_AND_BACK.format("0min"))
    ) | {"source": 0}


def test_without_fuel_a_landing_adds_none() -> None:
    found = legs(changed(THERE_AND_BACK.format("30min")))
    assert found[2]["fuel_remaining_gal"] == pytest.approx(found[1]["fuel_remaining_gal"] - found[2]["fuel_used_gal"])


def test_fuel_at_a_landing_is_what_is_on_board_at_the_next_take_off() -> None:
    found = legs(changed(THERE_AND_BACK.format("30min fuel 25gal")))
    assert found[2]["fuel_remaining_gal"] == pytest.approx(25.0 - found[2]["fuel_used_gal"])


def test_printed_fuel_left_after_fuelling_is_never_more_than_there_is() -> None:
    text = changed(THERE_AND_BACK.format("30min fuel 25gal"))
    (log,) = printed_logs(sheet(text))
    for leg, row in zip(legs(text), log.legs, strict=True):
        assert float(row.cells["Left"]) <= leg["fuel_remaining_gal"] + 1e-6
        assert float(row.cells["Left"]) > leg["fuel_remaining_gal"] - 0.2


def test_taxi_fuel_is_taken_off_once_at_the_start() -> None:
    """Ramp is taxi and trip and reserve; at take-off taxi is gone already, and it is not needed again."""
    found = flight(changed("fuel 38gal", "taxi 2gal"))
    assert found["fuel"]["on_board_gal"] == 36.0
    assert found["fuel"]["required_gal"] == pytest.approx(found["totals"]["fuel_gal"] + 30 / 60 * 8.5)
    assert found["legs"][0]["fuel_remaining_gal"] == pytest.approx(36.0 - found["legs"][0]["fuel_used_gal"])


@pytest.mark.parametrize(
    ("statements", "minutes"),
    [
        # 14 CFR 91.151: 30 min by day, 45 by night; 91.167: 45 min.
        (("rules vfr day",), 30),
        (("rules vfr night",), 45),
        (("rules ifr",), 45),
        (("reserve 60min",), 60),
        # At N46 W039 the sun stands highest at about 14:42Z in July; 03:00Z is the middle of the night.
        (("off 15:10Z",), 30),
        (("off 03:00Z",), 45),
    ],
)
def test_the_reserve_follows_the_rule(statements: tuple[str, ...], minutes: int) -> None:
    assert flight(changed(*statements))["fuel"]["reserve_gal"] == pytest.approx(minutes / 60.0 * 8.5)


def test_the_reserve_is_tested_at_each_landing() -> None:
    short = changed("fuel 9gal", "taxi 0gal", THERE_AND_BACK.format("30min fuel 25gal"))
    found = flight(short)
    assert [finding["leg"] for finding in found["findings"] if finding["rule"] == "reserve"] == []
    thirsty = flight(changed("fuel 6gal", "taxi 0gal", THERE_AND_BACK.format("30min fuel 25gal")))
    assert [finding["leg"] for finding in thirsty["findings"] if finding["rule"] == "reserve"] == [2]
    assert thirsty["status"] == "error"


def test_fuel_that_runs_out_is_an_error_that_no_reason_silences() -> None:
    found = flight(changed("fuel 3gal"))
    assert "fuel-below-zero" in rules_of(found)
    assert found["legs"][-1]["fuel_remaining_gal"] < 0.0
    assert codes(changed("fuel 3gal", 'accept fuel-below-zero "it will do"')) == {"not-acceptable"}
