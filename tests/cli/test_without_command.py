"""`navlog without` over the invented islands: what is printed, in each form, and what is refused."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest
from helpers.flown import Run, navlog

DATED = ("--date", "2026-07-18")


def without(islands: str, *words: str) -> Run:
    return navlog("without", *words, *DATED, "--catalogue", islands)


def told(islands: str, *words: str) -> Any:
    run = without(islands, *words, "--format", "json")
    assert run.status == 0, run.err
    return json.loads(run.out)


def test_a_run_goes_from_one_neighbouring_station_to_the_other(islands: str) -> None:
    """V805 is QHB TIDAL QNO COVEY QSK: 15.0 + 17.48 + 21.13 + 28.04 NM (examples/islands/AWY_SEG_ALT.csv)."""
    found = told(islands, "QNO")
    (run,) = found["runs"]
    assert (run["airway"], run["from"], run["to"]) == ("V805", "QHB", "QSK")
    assert run["distance_nm"] == pytest.approx(81.65)
    assert found["ident"] == "QNO"
    assert found["idents"] == ["QNO"]


def test_the_way_round_is_told_with_what_it_costs(islands: str) -> None:
    """Without QNO: QHB V801 QEL V803 QSK, 29.48 + 39.28 NM, V801 at 3000 ft and V803 at 2500 ft."""
    (run,) = told(islands, "QNO")["runs"]
    way = run["way_round"]
    assert [(hop["airway"], hop["to"]) for hop in way["hops"]] == [("V801", "QEL"), ("V803", "QSK")]
    assert way["more_nm"] == pytest.approx(29.48 + 39.28 - 81.65)
    assert (way["altitude_ft"], way["more_ft"]) == (5000.0, 0.0)
    assert "round: QHB V801 QEL V803 QSK, 68.8 NM (-12.9 NM), 5000 ft (+0 ft)" in without(islands, "QNO").out


def test_several_stations_go_at_once(islands: str) -> None:
    found = told(islands, "qhb", "QNO", "QHB")
    assert (found["ident"], found["idents"]) == (None, ["QHB", "QNO"])
    assert [(run["airway"], run["from"], run["to"]) for run in found["runs"]] == [
        ("V801", "QHB", "QEL"),
        ("V805", "QHB", "QSK"),
    ]
    # TIDAL is on a radial of QHB alone (examples/islands/FIX_NAV.csv).
    assert found["fixes"] == [{"ident": "TIDAL", "region": "XX"}]
    assert told(islands, "QNO")["fixes"] == []


def test_a_run_that_begins_at_the_station_has_no_way_round(islands: str) -> None:
    run = without(islands, "QEL")
    assert "V803 QEL to QSK, 39.3 NM, flown from 2500 ft" in run.out
    assert "no way round: it begins at the station" in run.out


def test_every_kind_has_its_rows(islands: str) -> None:
    run = without(islands, "QHB", "QNO", "--format", "csv")
    rows = list(csv.DictReader(io.StringIO(run.out)))
    assert [row["kind"] for row in rows] == ["run"] * 2 + ["fix", "changeover"] + ["direct"] * 4 + ["airport"]
    assert {len(row) for row in rows} == {13}
    assert (rows[-1]["name"], rows[-1]["heights_ft"]) == ("XNOR", "1000 5000")
    assert (rows[0]["distance_nm"], rows[0]["unguided_nm"]) == ("29.5", "11.0")


def test_all_ranks_the_stations_by_the_miles_that_hang_on_them(islands: str) -> None:
    listed = without(islands, "--all", "--format", "json")
    objects = [json.loads(line) for line in listed.out.splitlines()]
    assert [one["ident"] for one in objects] == ["QSK", "QNO", "QEL", "QHB"]
    assert [one["rank"] for one in objects] == [1, 2, 3, 4]
    for one in objects:
        alone = told(islands, one["ident"])
        kept = [run | {"unguided_nm": None, "way_round": None} for run in alone["runs"]]
        assert (one["runs"], one["fixes"], one["airports"]) == (kept, alone["fixes"], alone["airports"])
    table = without(islands, "--all").out.splitlines()
    assert [line.split()[:2] for line in table[-4:]] == [["1", "QSK"], ["2", "QNO"], ["3", "QEL"], ["4", "QHB"]]
    rows = list(csv.DictReader(io.StringIO(without(islands, "--all", "--format", "csv").out)))
    assert [row["ident"] for row in rows] == ["QSK", "QNO", "QEL", "QHB"]


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("QHX",), "no VOR is called `QHX` [unknown-ident]"),
        (("XHAR",), "no VOR is called `XHAR`"),
        (("QHB", "Ö"), "no VOR is called `Ö`"),
        ((), "Give the identifiers of VORs, or --all"),
        (("QHB", "--all"), "Give the identifiers of VORs, or --all"),
    ],
)
def test_what_is_no_vor_is_refused(islands: str, words: tuple[str, ...], message: str) -> None:
    run = without(islands, *words)
    assert (run.status, run.out) == (2, "")
    assert message in run.err


def lists(tmp_path: Path, **texts: str) -> list[str]:
    """The options that name a list each, written here."""
    words: list[str] = []
    for name, text in texts.items():
        (tmp_path / f"{name}.txt").write_text(text, "utf-8")
        words += [f"--{name}", str(tmp_path / f"{name}.txt")]
    return words


def test_what_the_stations_that_stay_do_not_reach_is_told(islands: str, tmp_path: Path) -> None:
    """QEL is of class L: 40 NM (AIM 1-1-8). By their positions QNO is 61.0, TIDAL 43.8, COVEY 53.5 NM from it."""
    rows = csv.DictReader(
        io.StringIO(without(islands, *lists(tmp_path, staying="QEL # the south\n"), "--format", "csv").out)
    )
    assert {row["place"]: row["lacks"] for row in rows} == {"COVEY": "station", "QNO": "station", "TIDAL": "station"}
    run = without(islands, *lists(tmp_path, staying="QEL # the south\n"))
    assert run.status == 0
    assert "Stations that stay: 1 of 4 VORs in service" in run.out
    assert "No station received: 3\n  COVEY QNO TIDAL\n" in run.out


def test_stations_named_beside_the_list_go_from_it(islands: str, tmp_path: Path) -> None:
    both = lists(tmp_path, staying="QEL, QNO")
    assert "No station received: none" in without(islands, *both).out
    assert "No station received: 3" in without(islands, "QNO", *both).out


def test_an_airport_of_the_network_lies_within_100_nm_of_every_island(islands: str, tmp_path: Path) -> None:
    run = without(islands, *lists(tmp_path, mon="XHAR"))
    assert "Airports of the network: 1" in run.out
    assert "No airport of the network within 100 NM: none" in run.out
    assert "Stations that stay: 4 of 4 VORs in service" in run.out


@pytest.mark.parametrize(
    ("texts", "place"),
    [
        ({"staying": "# none yet\n"}, ":1:1: error: no identifier stands in this list [empty-list]"),
        ({"staying": "QEL\nQEL, QHX"}, ":2:6: error: no VOR is called `QHX` [unknown-ident]"),
        ({"mon": "XHAR\n\n  XXXX"}, ":3:3: error: no airport is called `XXXX` [unknown-ident]"),
    ],
)
def test_a_list_that_names_what_is_not_there_is_refused_at_its_place(
    islands: str, tmp_path: Path, texts: dict[str, str], place: str
) -> None:
    run = without(islands, *lists(tmp_path, **texts))
    assert (run.status, run.out) == (2, "")
    assert place in run.err


def test_all_does_not_go_with_a_list(islands: str, tmp_path: Path) -> None:
    run = without(islands, "--all", *lists(tmp_path, mon="XHAR"))
    assert run.status == 2
    assert "--all does not go with --staying and --mon." in run.err
