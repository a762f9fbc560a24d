"""`navlog check --propose-around`: for each flight that loses its station, the best way round."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers.flown import Run, navlog

FLIGHTS = """\
date 2026-07-18
altitude 5000
rules ifr
tas 110kt
wind calm
flight "north"
route XNOR QNO V805 QHB V801 QEL XOLD
flight "east"
route XSKE QSK V803 QEL XOLD
"""


@pytest.fixture
def file(tmp_path: Path) -> str:
    path = tmp_path / "two.route"
    path.write_text(FLIGHTS, "utf-8")
    return str(path)


def around(islands: str, file: str, station: str, *more: str) -> Run:
    return navlog("check", file, "--propose-around", station, "--catalogue", islands, *more)


def test_a_flight_that_loses_its_station_gets_another_way_and_the_others_are_let_be(islands: str, file: str) -> None:
    """V805 leads on from QNO to QSK, 49.2 NM (examples/islands/AWY_SEG_ALT.csv), and QSK is received at XOLD."""
    run = around(islands, file, "QHB")
    north, east = run.out.splitlines()
    assert run.status == 0
    assert "two.route:6: north: without QHB it loses QNO to TIDAL, TIDAL to QHB, QHB to MARSH, MARSH to QEL" in north
    assert "way round: XNOR QNO V805 QSK XOLD: 86.8 NM, +9.0 NM, 5000 ft" in north
    assert east.endswith("east: does not rely on QHB")


def test_the_way_round_is_the_one_that_the_log_flies(islands: str, file: str) -> None:
    first, second = (json.loads(line) for line in around(islands, file, "QNO", "--format", "json").out.splitlines())
    assert (first["result"], second["result"]) == ("around", "ok")
    logged = navlog(
        *("log", "--route", first["route"], "--date", "2026-07-18", "--altitude", "5000", "--wind", "calm"),
        *("--set", "tas 110kt", "--set", "rules ifr", "--unavailable", "QNO", "--format", "json"),
        *("--catalogue", islands),
    )
    flown = json.loads(logged.out)
    assert flown["totals"]["distance_nm"] == first["distance_nm"]
    assert not [one for one in flown["findings"] if one["rule"] == "station-out"]


def test_where_the_station_is_the_end_of_the_flight_there_is_no_way_round(islands: str, tmp_path: Path) -> None:
    path = tmp_path / "end.route"
    path.write_text(f'{FLIGHTS}flight "end"\nroute XHAR QHB V801 QEL:vor\n', "utf-8")
    run = around(islands, str(path), "QEL")
    assert run.status == 1
    assert "end: without QEL it loses QHB to MARSH, MARSH to QEL; no way round: the station is where" in run.out


def test_the_points_that_a_round_robin_turns_at_stay_in_it(islands: str, tmp_path: Path) -> None:
    """Home again is no way round: what is left of the trip is flown, and where nothing is, that is said."""
    path = tmp_path / "round.route"
    head = FLIGHTS.partition("flight")[0]
    path.write_text(
        f'{head}flight "three"\nroute XHAR QHB V801 QEL V803 QSK XHAR\n'
        'flight "there and back"\nroute XHAR QHB V801 QEL V801 QHB XHAR\n',
        "utf-8",
    )
    run = around(islands, str(path), "QEL", "--format", "json")
    three, back = (json.loads(line) for line in run.out.splitlines())
    assert three["route"] == "XHAR QHB V805 QSK XHAR"
    assert (back["result"], back["route"]) == ("none", None)
    assert back["reason"] == "from QHB back to QHB it passes nothing else"


def test_a_flight_with_a_problem_has_it_told(islands: str, tmp_path: Path) -> None:
    path = tmp_path / "bad.route"
    path.write_text(FLIGHTS.replace("QSK V803", "QQQQ V803"), "utf-8")
    run = around(islands, str(path), "QHB")
    assert run.status == 2
    assert "QQQQ" in run.err
    assert "north: without QHB" in run.out


def test_it_is_a_question_of_its_own(islands: str, file: str) -> None:
    both = around(islands, file, "QHB", "--since", "old.sqlite")
    strict = around(islands, file, "QHB", "--strict")
    comma = around(islands, file, "QHB", "--format", "csv")
    assert [run.status for run in (both, strict, comma)] == [2, 2, 2]
    assert "--since and --propose-around ask different things" in both.err
    assert "--strict does not go with --propose-around" in strict.err
    assert "--format csv does not go with --propose-around; text and json do." in comma.err


@pytest.mark.parametrize(("station", "told"), [("QZZ", "[unknown-name]"), ("qhb", "[bad-identifier]")])
def test_a_station_that_is_none_is_a_problem_at_its_option(islands: str, file: str, station: str, told: str) -> None:
    run = around(islands, file, station)
    assert (run.status, run.out) == (2, "")
    assert run.err.startswith("--propose-around:1:1: error: ")
    assert told in run.err


def test_a_station_of_the_file_is_lost_as_a_published_one(islands: str, tmp_path: Path) -> None:
    """QHB as in examples/islands/NAV_BASE.csv."""
    path = tmp_path / "own.route"
    own = "station QHB 113.70 N46 12.30 W039 20.70 decl 15W dme elev 820ft\n"
    path.write_text(own + FLIGHTS, "utf-8")
    assert "way round: XNOR QNO V805 QSK XOLD: 86.8 NM" in around(islands, str(path), "QHB").out
