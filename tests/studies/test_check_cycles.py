"""Which flights change between two cycles of published data, and how: rows of the excerpt edited one by one."""

from __future__ import annotations

import csv
import io
import json
import shlex
import shutil
from pathlib import Path
from zipfile import ZipFile

import pytest
from helpers.flown import EXAMPLES, Run, navlog
from helpers.nasr_excerpt import DATA

from navlog.catalogue import import_data

PUBLISHED, NEXT = "2026/05/14", "2026/06/11"
"""The day of the excerpt, and the AIRAC date 28 days later (ICAO Doc 8126)."""

EDITIONS = [
    "1 flight: old FAA NASR, cycle 2605, 2026-05-14 to 2026-06-10",
    "          new FAA NASR, cycle 2606, 2026-06-11 to 2026-07-08",
]
HEAD = "date 2026-05-20\ntas 120kt\nwind calm\naltitude 6500\n"


@pytest.fixture(scope="module")
def old(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A catalogue of the excerpt as published."""
    path = tmp_path_factory.mktemp("old") / "old.sqlite"
    import_data(DATA / "nasr", path)
    return str(path)


def edited(folder: Path, file: str, where: dict[str, str], **values: str) -> str:
    """A catalogue of the next cycle: the excerpt with the rows of one file changed that have the values of `where`."""
    next_cycle(folder / "nasr")
    path = folder / "nasr" / file
    with path.open(newline="") as opened:
        rows = list(csv.DictReader(opened))
    hit = [row for row in rows if all(row[column] == value for column, value in where.items())]
    assert hit, "no such row in the excerpt"
    for row in hit:
        row.update(values)
    with path.open("w", newline="") as opened:
        writer = csv.DictWriter(opened, list(rows[0]), lineterminator="\r\n")
        writer.writeheader()
        writer.writerows(rows)
    import_data(folder / "nasr", folder / "new.sqlite")
    return str(folder / "new.sqlite")


def next_cycle(folder: Path) -> Path:
    """The files of the excerpt under the date of the next cycle."""
    shutil.copytree(DATA / "nasr", folder)
    for path in folder.glob("*.csv"):
        path.write_bytes(path.read_bytes().replace(PUBLISHED.encode(), NEXT.encode()))
    return folder


def compared(folder: Path, old: str, new: str, route: str, *options: str) -> Run:
    """The comparison of one flight."""
    (folder / "trip.route").write_text(f"{HEAD}route {route}\n")
    return navlog("check", str(folder / "trip.route"), "--catalogue", new, "--since", old, *options)


CRE = {"NAV_ID": "CRE", "NAV_TYPE": "VORTAC"}
CHS_CRE = {"AWY_ID": "V1", "AWY_LOCATION": "C", "FROM_POINT": "CHS"}

CASES = [
    # The published 46 NM names INLET, 46.4 NM along the airway.
    ("NAV_BASE.csv", CRE, {"FREQ": "115.4", "CHAN": "101X"}, "CRE: frequency was 114.40, now 115.40", "frequency"),
    ("NAV_BASE.csv", CRE, {"MAG_VARN": "4"}, "CRE: declination was 3W, now 4W", "station"),
    ("NAV_BASE.csv", CRE, {"ALT_CODE": "L"}, "CRE: class was VL, now L", "station"),
    ("AWY_SEG_ALT.csv", CHS_CRE, {"MAG_COURSE": "56.80"}, "guidance 1 was 055 FROM CHS, now 057 FROM CHS", "radial"),
    ("AWY_SEG_ALT.csv", CHS_CRE, {"MIN_ENROUTE_ALT": "4100"}, "MEA was 5000, now 4100", "altitude"),
    (
        "AWY_SEG_ALT.csv",
        CHS_CRE,
        {"CHGOVR_PT_DIST": "40"},
        "changeover point was 46 NM from CHS, now 40",
        "changeover",
    ),
    ("AWY_SEG_ALT.csv", CHS_CRE, {"MAG_COURSE_DIST": "10.7"}, "length in NM was 10.0, now 10.7", "length"),
]


@pytest.mark.parametrize(("file", "where", "values", "told", "kind"), CASES, ids=[case[3] for case in CASES])
def test_each_kind_of_change_is_told(
    tmp_path: Path, old: str, file: str, where: dict[str, str], values: dict[str, str], told: str, kind: str
) -> None:
    found = compared(tmp_path, old, edited(tmp_path, file, where, **values), "CHS V1 CRE")
    assert found.status == 1
    lines = [line for line in found.out.splitlines() if told in line]
    assert lines
    assert lines[0].startswith(f"{tmp_path}/trip.route:1: change: trip: ")
    assert lines[0].endswith(f"[{kind}]")
    assert found.err.splitlines() == [*EDITIONS, "1 flight: 0 unchanged, 1 changed"]


def test_an_airway_of_the_file_that_the_new_cycle_raises_is_a_change(tmp_path: Path, old: str) -> None:
    # The file's own figures are flown on both cycles: that only the new one has another MEA must not be `unchanged`.
    new = edited(tmp_path, "AWY_SEG_ALT.csv", CHS_CRE, MIN_ENROUTE_ALT="6100")
    route = "CHS V1 CRE\nairway V1 CHS - CRE 92nm mea 5000 maa 17500"
    found = compared(tmp_path, old, new, route)
    assert found.status == 1
    (line,) = found.out.splitlines()
    told = "now V1 CHS to CRE has MEA 5000 in the file and 6100 as published [file]"
    assert line.endswith(f"V1: the file beside published data was not there, {told}")
    import_data(next_cycle(tmp_path / "same"), tmp_path / "same.sqlite")
    same = compared(tmp_path, old, str(tmp_path / "same.sqlite"), route)
    assert (same.status, same.out) == (0, "")


def test_nothing_changed_is_status_0_and_silent(tmp_path: Path, old: str) -> None:
    import_data(next_cycle(tmp_path / "nasr"), tmp_path / "new.sqlite")
    found = compared(tmp_path, old, str(tmp_path / "new.sqlite"), "CHS V1 CRE")
    assert (found.status, found.out) == (0, "")
    assert found.err.splitlines() == [*EDITIONS, "1 flight: 1 unchanged, 0 changed"]


SAME = "both sides answer for 2026-05-20 from FAA NASR, cycle 2605, 2026-05-14 to 2026-06-10"


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A catalogue of two cycles; in the second the airway V1 is gone."""
    folder = tmp_path_factory.mktemp("both")
    import_data(DATA / "nasr", folder / "both.sqlite")
    files = next_cycle(folder / "nasr")
    for name in ("AWY_BASE.csv", "AWY_SEG_ALT.csv"):
        lines = (files / name).read_bytes().splitlines(keepends=True)
        kept = [line for line in lines if b'"V1"' not in line]
        assert len(kept) < len(lines)
        (files / name).write_bytes(b"".join(kept))
    import_data(files, folder / "both.sqlite")
    return str(folder / "both.sqlite")


def test_the_same_cycle_on_both_sides_is_a_problem_and_never_unchanged(tmp_path: Path, old: str, both: str) -> None:
    # A date of the old cycle's days meets the old cycle in both catalogues, though the new one is there too.
    found = compared(tmp_path, old, both, "CHS V1 CRE", "--date", "2026-05-20")
    assert found.status == 2
    assert f"{SAME}, so two cycles are not compared [same-cycle]" in found.err
    assert "hint: give with --since the older cycle" in found.err
    assert found.err.splitlines()[-3:] == [
        EDITIONS[0],
        EDITIONS[0].replace("1 flight: old", "          new"),
        "1 flight: 0 unchanged, 0 changed, 1 problem",
    ]


def test_a_flight_is_moved_into_the_new_cycle_by_whole_cycles(tmp_path: Path, old: str, both: str) -> None:
    """2026-05-20, a Wednesday, is day 6 of cycle 2605; day 6 of 2606 is Wednesday 2026-06-17."""
    found = compared(tmp_path, old, both, "GLL V101 LIBEL", "--format", "json")
    one = json.loads(found.out.splitlines()[0])
    assert (one["old_day"], one["new_day"], one["status"]) == ("2026-06-17", "2026-06-17", "unchanged")
    assert found.err.splitlines()[:2] == EDITIONS


def test_four_digits_name_a_cycle_of_the_same_catalogue(tmp_path: Path, both: str) -> None:
    found = compared(tmp_path, "2605", both, "GLL V101 LIBEL", "--format", "json")
    one = json.loads(found.out.splitlines()[0])
    assert (one["old_day"], one["new_day"], one["status"]) == ("2026-05-20", "2026-06-17", "unchanged")
    assert found.err.splitlines()[:2] == EDITIONS
    same = compared(tmp_path, "2606", both, "GLL V101 LIBEL")
    assert same.status == 2
    assert "[same-cycle]" in same.err


def test_a_cycle_that_is_not_there_is_told_with_those_that_are(tmp_path: Path, both: str) -> None:
    found = compared(tmp_path, "2604", both, "GLL V101 LIBEL")
    assert found.status == 2
    assert "the catalogue holds no cycle 2604: it holds 2605, 2606 [unknown-cycle]" in found.err
    assert "`./2604`" in found.err
    assert "[bad-cycle]" in compared(tmp_path, "2699", both, "GLL V101 LIBEL").err


def test_a_file_whose_name_is_four_digits_is_named_with_its_folder(
    tmp_path: Path, old: str, both: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copy(old, tmp_path / "2604")
    monkeypatch.chdir(tmp_path)
    found = compared(tmp_path, "./2604", both, "GLL V101 LIBEL")
    assert (found.status, found.err.splitlines()[:2]) == (0, EDITIONS)


def test_runs_that_vanished_are_named_with_the_flights_that_used_them(tmp_path: Path, both: str) -> None:
    """V1 runs CRG CHS CRE ... by the excerpt's rows, 86.0 NM from CHS to CRE; cycle 2606 has no V1."""
    found = compared(tmp_path, "2605", both, "CHS V1 CRE")
    assert found.status == 2
    lines = [line for line in found.out.splitlines() if line.startswith("gone: ")]
    assert f"gone: V1 CHS to CRE, 86.0 NM: used by {tmp_path}/trip.route:1 trip" in lines
    assert "gone: V1 CRG to CHS, 171.7 NM: used by none of these flights" in lines
    assert all(line.startswith("gone: V1 ") for line in lines)
    objects = [
        json.loads(one)
        for one in compared(tmp_path, "2605", both, "CHS V1 CRE", "--format", "json").out.split("\n")[:-1]
    ]
    used = {(one["from"], one["to"]): one["flights"] for one in objects if one["schema"] == "navlog/gone-1"}
    assert used["CHS", "CRE"] == [{"flight": "trip", "file": f"{tmp_path}/trip.route", "line": 1}]
    assert used["CRG", "CHS"] == []
    rows = list(csv.DictReader(io.StringIO(compared(tmp_path, "2605", both, "CHS V1 CRE", "--format", "csv").out)))
    assert ("trip", "V1 CHS to CRE", "86.0") in {(row["flight"], row["where"], row["old"]) for row in rows}


def test_a_run_that_only_loses_a_fix_has_not_vanished(tmp_path: Path, old: str) -> None:
    new = edited(tmp_path, "AWY_SEG_ALT.csv", CHS_CRE, MIN_ENROUTE_ALT="4100")
    assert "gone:" not in compared(tmp_path, old, new, "CHS V1 CRE").out


def test_a_run_that_has_no_vor_altitude_any_more_is_gone(tmp_path: Path, old: str) -> None:
    new = edited(tmp_path, "AWY_SEG_ALT.csv", CHS_CRE, MIN_ENROUTE_ALT="", GPS_MIN_ENROUTE_ALT="4000")
    assert "gone: V1 CHS to CRE, 86.0 NM (GNSS only): used by " in compared(tmp_path, old, new, "CHS V1 CRE").out


def test_a_date_in_the_new_cycle_compares_the_two(tmp_path: Path, old: str, both: str) -> None:
    found = compared(tmp_path, old, both, "CHS V1 CRE", "--date", "2026-06-15")
    assert found.status == 2
    assert "same-cycle" not in found.err
    assert "V1" in found.err.splitlines()[0]
    assert found.err.splitlines()[-3:-1] == EDITIONS


def test_a_catalogue_held_against_itself_is_a_problem_on_any_day(tmp_path: Path, both: str) -> None:
    for day in ("2026-05-20", "2026-06-15"):
        found = compared(tmp_path, both, both, "GLL V101 LIBEL", "--date", day)
        assert found.status == 2
        assert "[same-cycle]" in found.err


def test_another_source_does_not_hide_that_the_cycle_flown_is_the_same(tmp_path: Path, old: str) -> None:
    new = tmp_path / "new.sqlite"
    shutil.copy(old, new)
    import_data(DATA / "ourairports", new)
    found = compared(tmp_path, old, str(new), "CHS V1 CRE")
    assert found.status == 2
    assert f"{SAME}, so" in found.err
    assert "new FAA NASR, cycle 2605, 2026-05-14 to 2026-06-10; OurAirports, unverified" in found.err


def test_what_differs_within_one_cycle_is_told_beside_the_problem(tmp_path: Path, old: str) -> None:
    folder = tmp_path / "nasr"
    shutil.copytree(DATA / "nasr", folder)
    path = folder / "NAV_BASE.csv"
    path.write_bytes(path.read_bytes().replace(b"114.4", b"115.4"))
    import_data(folder, tmp_path / "new.sqlite")
    found = compared(tmp_path, old, str(tmp_path / "new.sqlite"), "CHS V1 CRE")
    assert found.status == 2
    assert "CRE: frequency was 114.40, now 115.40" in found.out
    assert "[same-cycle]" in found.err


def test_a_change_that_the_flight_does_not_meet_is_none(tmp_path: Path, old: str) -> None:
    new = edited(tmp_path, "NAV_BASE.csv", CRE, FREQ="115.4", CHAN="101X")
    assert compared(tmp_path, old, new, "GLL V101 LIBEL").status == 0


def test_a_point_that_leaves_the_airway_changes_the_way(tmp_path: Path, old: str) -> None:
    folder = next_cycle(tmp_path / "nasr")
    path = folder / "AWY_SEG_ALT.csv"
    with path.open(newline="") as opened:
        rows = list(csv.DictReader(opened))
    first = next(row for row in rows if all(row[column] == value for column, value in CHS_CRE.items()))
    gone = first["TO_POINT"]
    second = next(row for row in rows if row["AWY_ID"] == "V1" and row["FROM_POINT"] == gone)
    first["TO_POINT"] = second["TO_POINT"]
    first["MAG_COURSE_DIST"] = str(float(first["MAG_COURSE_DIST"]) + float(second["MAG_COURSE_DIST"]))
    with path.open("w", newline="") as opened:
        writer = csv.DictWriter(opened, list(rows[0]), lineterminator="\r\n")
        writer.writeheader()
        writer.writerows(row for row in rows if row is not second)
    import_data(folder, tmp_path / "new.sqlite")
    found = compared(tmp_path, old, str(tmp_path / "new.sqlite"), "CHS V1 CRE")
    assert f"from CHS: the way was CHS V1 {gone} V1 {second['TO_POINT']}, now CHS V1" in found.out
    assert "[way]" in found.out


def test_a_flight_that_the_new_cycle_refuses_is_a_problem(tmp_path: Path, old: str) -> None:
    new = edited(tmp_path, "NAV_BASE.csv", CRE, NAV_ID="ZZZ")
    shutil.copytree(tmp_path / "nasr", tmp_path / "gone")
    found = compared(tmp_path, old, new, "CRE DCT CHS")
    assert found.status == 2
    assert "no station, airport or fix is called `CRE`" in found.err
    assert found.err.splitlines()[-1] == "1 flight: 0 unchanged, 0 changed, 1 problem"


def test_a_flight_that_only_the_old_cycle_refuses_has_changed(tmp_path: Path) -> None:
    edited(tmp_path, "NAV_BASE.csv", CRE, NAV_ID="ZZZ")
    for path in (tmp_path / "nasr").glob("*.csv"):
        path.write_bytes(path.read_bytes().replace(NEXT.encode(), PUBLISHED.encode()))
    import_data(tmp_path / "nasr", tmp_path / "without.sqlite")
    import_data(next_cycle(tmp_path / "later"), tmp_path / "later.sqlite")
    found = compared(tmp_path, str(tmp_path / "without.sqlite"), str(tmp_path / "later.sqlite"), "CRE DCT CHS")
    assert found.status == 1
    assert "change: trip: the flight: the problem was " in found.out
    assert ", now none [problem]" in found.out


def test_json_and_csv_carry_the_old_and_the_new_figure(tmp_path: Path, old: str) -> None:
    new = edited(tmp_path, "NAV_BASE.csv", CRE, FREQ="115.4", CHAN="101X")
    one = json.loads(compared(tmp_path, old, new, "CHS V1 CRE", "--format", "json").out)
    assert one["status"] == "changed"
    assert [edition["cycle"] for edition in one["old_catalogue"] + one["new_catalogue"]] == ["2605", "2606"]
    change = {"kind": "frequency", "where": "CRE", "what": "frequency", "old": "114.40", "new": "115.40"}
    assert change in one["changes"]
    rows = list(csv.DictReader(io.StringIO(compared(tmp_path, old, new, "CHS V1 CRE", "--format", "csv").out)))
    assert ("CRE", "114.40", "115.40") in {(row["where"], row["old"], row["new"]) for row in rows}


def test_two_jobs_compare_alike(tmp_path: Path, old: str) -> None:
    new = edited(tmp_path, "NAV_BASE.csv", CRE, FREQ="115.4", CHAN="101X")
    for number in range(6):
        (tmp_path / f"{number}.route").write_text(f"{HEAD}route CHS V1 CRE\n")
    options = ("--catalogue", new, "--since", old, "--jobs")
    alone, shared = (navlog("check", str(tmp_path), *options, jobs) for jobs in ("1", "2"))
    assert (shared.status, shared.out, shared.err) == (alone.status, alone.out, alone.err)
    assert alone.out.count("[frequency]") == 12


def test_since_and_requirement_do_not_go_together(tmp_path: Path, old: str) -> None:
    assert compared(tmp_path, old, old, "CHS V1 CRE", "--requirement", "61.1").status == 2


def test_the_readmes_recipe_for_every_28_days_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Over the islands' cycle 2607, and one of 28 days later in which QHB has another frequency and V805 is gone."""
    text = (EXAMPLES.parent / "README.md").read_text("utf-8")
    recipe = text.partition("## Every 28 days")[2].partition("```sh\n")[2].partition("```")[0]
    lines = [shlex.split(line) for line in recipe.splitlines()]
    assert [line[:2] for line in lines] == [["navlog", "catalogue"], ["navlog", "check"], ["navlog", "check"]]
    catalogue = ("--catalogue", str(tmp_path / "held.sqlite"))
    import_data(EXAMPLES / "islands", tmp_path / "held.sqlite")
    monkeypatch.chdir(tmp_path)
    with ZipFile("next.zip", "w") as packed:
        for path in (EXAMPLES / "islands").glob("*.csv"):
            rows = path.read_text("utf-8").replace("2026/07/09", "2026/08/06").replace("113.7", "113.9")
            kept = [row for row in rows.splitlines(keepends=True) if '"V805"' not in row]
            packed.writestr(path.name, "".join(kept))
    head = "date 2026-07-18\ntas 110kt\nwind calm\naltitude 5500\nroute "
    (tmp_path / "routes").mkdir()
    for name, route in (("north", "QHB V805 QNO"), ("south", "QHB V801 QEL"), ("east", "QEL V803 QSK")):
        (tmp_path / "routes" / f"{name}.route").write_text(f"{head}{route}\n", "utf-8")
    imported, since, gate = (navlog(*line[1:], *catalogue) for line in lines)
    assert imported.status == 0
    assert since.status == 2
    assert "QHB: frequency was 113.70, now 113.90 [frequency]" in since.out
    assert "gone: V805 QHB to QNO, 32.5 NM: used by routes/north.route:1 north\n" in since.out
    assert "gone: V805 QNO to QSK, 49.2 NM: used by none of these flights\n" in since.out
    assert "old FAA NASR, cycle 2607" in since.err
    assert "new FAA NASR, cycle 2608" in since.err
    # REEFY, on the way east, has QHB in its make-up.
    assert since.err.splitlines()[-1] == "3 flights: 0 unchanged, 2 changed, 1 problem"
    assert gate.status == 2
    assert "no airway is called `V805`" in gate.err


def test_notices_count_on_both_sides_of_a_comparison(tmp_path: Path, old: str) -> None:
    """A new declination of CRE turns its radials; with CRE out by notice nothing is flown by them on either side."""
    new = edited(tmp_path, "NAV_BASE.csv", CRE, MAG_VARN="9")
    (tmp_path / "out.txt").write_text("!CRE 06/001 CRE NAV VOR U/S 2606010000-2607010000\n", "utf-8")
    plain = compared(tmp_path, old, new, "CHS V1 CRE")
    assert "CRE: declination was 3W, now 9W" in plain.out
    noticed = compared(tmp_path, old, new, "CHS V1 CRE", "--notices", str(tmp_path / "out.txt"))
    assert "CRE" not in [line.split(": ")[3] for line in noticed.out.splitlines()]
    late = (tmp_path / "out.txt").read_text("utf-8").replace("2606010000-2607010000", "2505010000-2505020000")
    (tmp_path / "late.txt").write_text(late, "utf-8")
    timed = ("--off", "15:00Z", "--notices", str(tmp_path / "late.txt"))
    assert "CRE: declination was 3W, now 9W" in compared(tmp_path, old, new, "CHS V1 CRE", *timed).out


def test_an_older_catalogue_is_not_compared_with_a_newer_one_as_the_old(old: str, tmp_path: Path) -> None:
    next_cycle(tmp_path / "nasr")
    new = str(tmp_path / "new.sqlite")
    import_data(tmp_path / "nasr", tmp_path / "new.sqlite")
    path = tmp_path / "one.route"
    path.write_text(f"{HEAD}route FFU V134 PUC\n", "utf-8")
    run = navlog("check", str(path), "--since", new, "--catalogue", old)
    assert (run.status, run.out) == (2, "")
    assert "begins on 2026-06-11, after the newest cycle of the catalogue, 2026-05-14" in run.err
