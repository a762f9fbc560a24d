"""`navlog propose` over the invented islands: what is printed, in each form, and what is refused."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, Run, navlog

DATED = ("--date", "2026-07-18")


def propose(islands: str, *words: str) -> Run:
    return navlog("propose", *words, *DATED, "--catalogue", islands)


def objects(run: Run) -> list[dict[str, object]]:
    assert run.status == 0, run.err
    return [json.loads(line) for line in run.out.splitlines()]


def test_the_lowest_altitude_and_what_forces_it_come_first(islands: str) -> None:
    """V805 has an MEA of 5000 ft from QNO to QSK, V803 one of 3500 ft (examples/islands/AWY_SEG_ALT.csv)."""
    run = propose(islands, "QHB:vor", "QEL:vor", "--tas", "110")
    assert run.status == 0
    assert "Lowest altitude at which the airways connect: 3000 ft: V801 QHB to MARSH, MEA 3000" in run.out
    assert "calm, as none is given" in run.out
    assert "QHB:vor V801 QEL:vor" in run.out


def test_each_line_of_json_is_a_proposal(islands: str) -> None:
    found = objects(propose(islands, "XHAR", "XOLD", "--tas", "110", "--format", "json"))
    assert {one["schema"] for one in found} == {"navlog/proposal-1"}
    assert [(one["kind"], one["rank"]) for one in found][:2] == [("published", 1), ("airways", 1)]
    first = found[0]
    assert (first["route"], first["altitude_ft"]) == ("XHAR QHB V801 QEL XOLD", 4000.0)
    assert set(first) == {
        "schema", "rank", "kind", "route", "distance_nm", "direct_nm", "time_min", "fuel_gal", "altitude_ft",
        "lowest_altitude_ft", "forced_by", "off_airway_nm", "airway_changes", "status", "findings",
    }  # fmt: skip


def test_the_route_form_is_a_file_that_log_takes(islands: str, tmp_path: Path) -> None:
    path = tmp_path / "trip.route"
    trainer = str(EXAMPLES / "trainer.toml")
    run = propose(islands, "XHAR", "XOLD", "--aircraft", trainer, "--wind", "230/12", "-o", str(path))
    assert (run.status, run.out) == (0, "")
    logged = navlog("log", str(path), "--catalogue", islands, "--format", "json")
    flights = [json.loads(line) for line in logged.out.splitlines()]
    assert [one["flight"] for one in flights][:2] == ["published 1", "airways 1"]
    assert all(one["status"] != "problem" for one in flights)
    proposed = objects(propose(islands, "XHAR", "XOLD", "--aircraft", trainer, "--wind", "230/12", "--format", "json"))
    assert [one["totals"]["distance_nm"] for one in flights] == [one["distance_nm"] for one in proposed]
    assert [one["totals"]["time_min"] for one in flights] == [one["time_min"] for one in proposed]


def test_where_the_fuel_is_not_enough_for_any_way_that_stands_first_and_the_exit_is_1(islands: str) -> None:
    # Some 40 NM at 110 kt are 22 min, 3.1 gal at 8.5 gal/h: nothing of 5 gal keeps the 4.3 of half an hour besides.
    asked = ("XHAR", "XOLD", "--tas", "110", "--burn", "8.5gph", "--off", "15:00Z", "--rules", "vfr")
    short = propose(islands, *asked, "--fuel", "5gal")
    assert short.status == 1
    head, _, offered = short.out.partition("THE FUEL IS NOT ENOUGH for any way found")
    assert "Not offered" not in head
    assert "ERROR" in offered
    enough = propose(islands, *asked, "--fuel", "20gal")
    assert enough.status == 0
    assert "FUEL IS NOT ENOUGH" not in enough.out


def test_without_a_speed_nothing_is_told_of_time(islands: str) -> None:
    found = objects(propose(islands, "XHAR", "XOLD", "--format", "json"))
    assert {one["time_min"] for one in found} == {None}
    refused = propose(islands, "XHAR", "XOLD", "--format", "route")
    assert refused.status == 2
    assert "a route file needs a speed" in refused.err


def test_a_published_route_for_other_classes_or_hours_is_left_out_and_said(islands: str) -> None:
    run = propose(islands, "XNOR", "XOLD", "--tas", "110", "--off", "05:00Z")
    assert "Published preferred route" not in run.out
    told = " ".join(run.out.split())
    assert "L 60-100 INCL `QNO V805 QHB V801 QEL`: holds 1100-0300Z alone" in told
    assert "TEC J110 `QNO V805 QHB`: is for jets" in told
    assert "Published preferred route 1" in propose(islands, "XNOR", "XOLD", "--tas", "110", "--off", "12:00Z").out


@pytest.mark.parametrize(
    ("wish", "told"),
    [
        (("--avoid", "V805"), "flies V805, to be avoided"),
        (("--avoid", "MARSH"), "flies MARSH, to be avoided"),
        (("--via", "QSK"), "does not pass QSK"),
        (("--ceiling", "5500"), "above the ceiling of 5500 ft"),
        (("--unavailable", "QHB"), "QHB, which is out of service"),
    ],
)
def test_a_published_route_against_what_is_asked_is_left_out_and_said(
    islands: str, wish: tuple[str, ...], told: str
) -> None:
    run = propose(islands, "XNOR", "XOLD", "--tas", "110", *wish)
    assert "Published preferred route" not in run.out
    assert told in " ".join(run.out.split()), run.out + run.err


def test_where_nothing_connects_the_reason_is_on_stderr_and_no_line_on_stdout(islands: str) -> None:
    run = propose(islands, "QNO:vor", "QSK:vor", "--altitude", "2000")
    assert (run.status, run.out) == (1, "")
    assert "at 2000 ft no airways connect QNO and QSK: the lowest altitude that does is" in run.err
    out = propose(islands, "QHB:vor", "QEL:vor", "--avoid", "QSK", "--unavailable", "QEL")
    assert (out.status, out.out) == (1, "")
    assert "without the stations out of service there is a way from 3000 ft: QHB:vor V801 QEL:vor" in out.err


def test_a_station_to_be_avoided_is_not_flown_direct_either(islands: str) -> None:
    """Only QHB and QNO are received at XNOR: a way direct by one of them flies over it."""
    by_other = objects(propose(islands, "XNOR", "XOLD", "--avoid", "QHB", "--format", "json"))
    assert all(" QHB " not in str(one["route"]) for one in by_other)
    run = propose(islands, "XNOR", "XOLD", "--avoid", "QHB", "--avoid", "QNO")
    assert (run.status, run.out) == (1, "")
    assert "without what is to be avoided there is a way from 3000 ft: XNOR QHB V801 QEL XOLD" in run.err


def test_a_way_by_one_station_is_not_called_one_by_the_airways(islands: str) -> None:
    run = propose(islands, "XHAR", "XSKE")
    assert "By one station alone 1, 3000 ft\n  XHAR QSK XSKE\n" in run.out
    assert "By the airways" not in run.out


def test_with_a_station_out_or_a_point_avoided_another_way_is_found(islands: str) -> None:
    avoiding = objects(propose(islands, "QHB:vor", "QEL:vor", "--avoid", "MARSH", "--format", "json"))
    assert all("V801" not in str(one["route"]) for one in avoiding)
    assert avoiding[0]["lowest_altitude_ft"] == 5000.0
    by_the_north = objects(propose(islands, "QHB:vor", "QEL:vor", "--via", "COVEY", "--format", "json"))
    assert "V805" in str(by_the_north[0]["route"])


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("XQQQ", "XOLD"), "unknown-name"),
        (("XHAR", "XHAR"), "error"),
        (("XHAR", "XOLD", "--via", "NOWHR"), "is on no airway"),
        (("XHAR", "XOLD", "--wind", "gale"), "--wind:1:1"),
        (("XHAR", "XOLD", "--altitude", "high"), "--altitude:1:1"),
        (("XHAR", "XOLD", "--rules", "ils"), "--rules:1:1"),
        (("XHAR", "XOLD", "--tas", "110", "--aircraft", "none.toml"), "--aircraft:1:1"),
        (("XHAR", "XOLD", "--wind", "230/15", "--wind", "6000 240/18"), "--wind:1:"),
        (
            ("XHAR", "XOLD", "--altitude", "5000", "--ceiling", "4000"),
            "--ceiling:1:1: error: a ceiling of 4000",
        ),
        (("XHAR", "XOLD", "--limit-off-airway", "81nm"), "--limit-off-airway:1:1: error: 81.0 NM off the airways"),
    ],
)
def test_what_cannot_be_understood_is_a_problem_at_its_option(islands: str, words: tuple[str, ...], told: str) -> None:
    run = propose(islands, *words)
    assert (run.status, run.out) == (2, "")
    assert told in run.err


def test_under_vfr_no_way_several_times_the_direct_distance_is_proposed(islands: str) -> None:
    """QHB to QEL are 29.5 NM; without V801 the airways lead round by the north, over 100 NM."""
    round_about = ("QHB:vor", "QEL:vor", "--avoid", "MARSH")
    under_ifr = objects(propose(islands, *round_about, "--format", "json"))[0]
    assert under_ifr["distance_nm"] > 2.0 * 29.5 + 40.0  # type: ignore[operator]
    refused = propose(islands, *round_about, "--rules", "vfr", "--altitude", "5500")
    assert (refused.status, refused.out) == (1, "")
    assert "times the direct 29.5 NM: too far round under VFR, which may fly direct" in refused.err
    near = propose(islands, "QHB:vor", "QEL:vor", "--rules", "vfr", "--altitude", "5500", "--avoid", "QNO")
    assert near.status == 0


def test_a_limit_of_80_nm_is_the_last_that_is_taken(islands: str) -> None:
    assert propose(islands, "XHAR", "XOLD", "--limit-off-airway", "80nm").status == 0


def test_without_a_catalogue_there_is_nothing_to_search(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.delenv("NAVLOG_CATALOGUE", raising=False)
    run = navlog("propose", "XHAR", "XOLD", *DATED)
    assert run.status == 2
    assert re.search("no catalogue", run.err)


def test_a_catalogue_of_the_version_before_is_read_without_network_and_preferred_routes(
    islands: str, tmp_path: Path
) -> None:
    import shutil
    import sqlite3
    from contextlib import closing

    old = tmp_path / "old.sqlite"
    shutil.copyfile(islands, old)
    with closing(sqlite3.connect(old)) as connection:
        connection.executescript(
            "DROP TABLE network; DROP TABLE preferred_route; DELETE FROM holding WHERE kind = 'preferred_route';"
            "ALTER TABLE airport DROP COLUMN use; PRAGMA user_version = 1;"
        )
    found = objects(propose(str(old), "QHB:vor", "QEL:vor", "--format", "json"))
    assert found == objects(propose(islands, "QHB:vor", "QEL:vor", "--format", "json"))
    assert "published" not in propose(str(old), "XHAR", "XOLD", "--format", "json").out


def test_a_station_out_by_notice_is_flown_round_at_its_hours_alone(islands: str, tmp_path: Path) -> None:
    notices = tmp_path / "briefing.txt"
    notices.write_text("!XHA 07/012 QEL NAV VOR U/S 2607181400-2607182000\n", "utf-8")
    asked = ("QHB:vor", "QSK:vor", "--tas", "110", "--format", "json", "--notices", str(notices))
    assert objects(propose(islands, *asked))[0]["route"] == "QHB:vor V805 QSK:vor"
    assert objects(propose(islands, *asked, "--off", "15:10Z"))[0]["route"] == "QHB:vor V805 QSK:vor"
    assert objects(propose(islands, *asked, "--off", "23:10Z"))[0]["route"] == "QHB:vor V801 QEL V803 QSK:vor"


def test_a_file_of_notices_that_is_not_there_is_a_problem(islands: str) -> None:
    run = propose(islands, "QHB:vor", "QSK:vor", "--tas", "110", "--notices", "nosuch.txt")
    assert run.status == 2
    assert "nosuch.txt" in run.err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("XHAR", "XNONE"), "TO:1:1: error: no station, airport or fix is called `XNONE` [unknown-name]"),
        (("XNONE", "XOLD"), "FROM:1:1: error: no station, airport or fix is called `XNONE` [unknown-name]"),
        (("XHAR", "XO.LD"), "TO:1:1: error: `XO.LD` is no identifier [bad-identifier]"),
        (("N46 72.30 W039 20.70", "XOLD"), "FROM:1:1: error: position `N46 72.30 W039 20.70`"),
    ],
)
def test_a_fault_of_a_place_is_told_at_the_argument_that_has_it(
    islands: str, words: tuple[str, ...], told: str
) -> None:
    run = propose(islands, *words)
    assert (run.status, run.out) == (2, "")
    assert run.err.startswith(told)


@pytest.mark.parametrize("written", ["N46 15.30 W039 20.70", "N46 15 18 W039 20 42", "46.2550 -39.3450"])
def test_a_position_is_taken_in_each_form_in_which_other_commands_take_it(islands: str, written: str) -> None:
    """The three are one place by routefile.md, 3 NM north of QHB (examples/islands/NAV_BASE.csv)."""
    run = propose(islands, written, "XOLD", "--tas", "110", "--format", "json")
    assert objects(run)[0]["route"] == "N46°15.30'W039°20.70' QHB V801 QEL XOLD"


@pytest.mark.parametrize(
    ("start", "goal", "route"),
    [
        # QHB and MARSH as examples/islands has them (NAV_BASE.csv, FIX_BASE.csv), to a hundredth of a minute.
        ("N46 12.30 W039 20.70", "QEL:vor", "QHB:vor V801 QEL:vor"),
        ("N45 58.91 W039 26.57", "XOLD", "MARSH:fix V801 QEL XOLD"),
        ("XOLD", "N45 58.91 W039 26.57", "XOLD QEL V801 MARSH:fix"),
        # A mile off it is a place of its own.
        ("N46 13.30 W039 20.70", "QEL:vor", "N46°13.30'W039°20.70' QHB V801 QEL:vor"),
    ],
)
def test_a_position_over_a_point_of_an_airway_begins_or_ends_on_its_airways(
    islands: str, start: str, goal: str, route: str
) -> None:
    run = propose(islands, start, goal, "--tas", "110", "--format", "json")
    assert objects(run)[0]["route"] == route


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("-o", "p.pdf"), "p.pdf: proposals are no .pdf file"),
        (("-o", "p.json", "--format", "text"), "--format text does not fit p.json, whose suffix says json"),
        (("-o", "p.route", "--format", "json"), "--format json does not fit p.route, whose suffix says route"),
    ],
)
def test_a_file_is_written_in_the_format_of_its_suffix_or_not_at_all(
    islands: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...], told: str
) -> None:
    monkeypatch.chdir(tmp_path)
    run = propose(islands, "XHAR", "XOLD", "--tas", "110", *words)
    assert run.status == 2
    assert told in run.err
    assert list(tmp_path.iterdir()) == []
    assert propose(islands, "XHAR", "XOLD", "-o", "p.json").status == 0
    assert {json.loads(line)["schema"] for line in (tmp_path / "p.json").read_text("utf-8").splitlines()} == {
        "navlog/proposal-1"
    }


def test_that_a_route_file_with_another_text_is_replaced_is_said(islands: str, tmp_path: Path) -> None:
    path = str(tmp_path / "mine.route")
    written = [propose(islands, "XHAR", "XOLD", "--tas", tas, "-o", path) for tas in ("110", "110", "120")]
    assert [run.err for run in written] == ["", "", f"{path}: another text stood there and is replaced\n"]


def test_an_empty_name_of_a_catalogue_is_refused_at_its_option(islands: str) -> None:
    run = navlog("propose", "XHAR", "XOLD", "--catalogue", "")
    assert run.status == 2
    assert "'--catalogue': names no file" in run.err
