"""Which flights change between two cycles of published data, and how: rows of the excerpt edited one by one."""

from __future__ import annotations

import csv
import io
import json
import shutil
from pathlib import Path

import pytest
from helpers.flown import Run, navlog
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


def test_nothing_changed_is_status_0_and_silent(tmp_path: Path, old: str) -> None:
    import_data(next_cycle(tmp_path / "nasr"), tmp_path / "new.sqlite")
    found = compared(tmp_path, old, str(tmp_path / "new.sqlite"), "CHS V1 CRE")
    assert (found.status, found.out) == (0, "")
    assert found.err.splitlines() == [*EDITIONS, "1 flight: 1 unchanged, 0 changed"]


SAME = "both catalogues answer for 2026-05-20 from FAA NASR, cycle 2605, 2026-05-14 to 2026-06-10"


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
    # A flight of the old cycle's days meets the old cycle in both catalogues, though the new one is there too.
    found = compared(tmp_path, old, both, "CHS V1 CRE")
    assert found.status == 2
    assert f"trip.route:1:1: error: {SAME}, so two cycles are not compared [same-cycle]" in found.err
    assert "hint: give a --date of the new cycle" in found.err
    assert found.err.splitlines()[-3:] == [
        EDITIONS[0],
        EDITIONS[0].replace("1 flight: old", "          new"),
        "1 flight: 0 unchanged, 0 changed, 1 problem",
    ]


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


def test_a_flight_that_only_the_old_cycle_refuses_has_changed(tmp_path: Path, old: str) -> None:
    new = edited(tmp_path, "NAV_BASE.csv", CRE, NAV_ID="ZZZ")
    found = compared(tmp_path, new, old, "CRE DCT CHS")
    assert found.status == 1
    assert "[problem]" in found.out


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
