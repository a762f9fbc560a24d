"""`navlog check` as a command: what goes where, in which form, and with which status."""

from __future__ import annotations

import csv
import io
import json
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, navlog
from helpers.library import islands

from navlog.catalogue import import_data

GOOD, WARNED, WRONG = (
    "altitude 4500",
    "airway V801 QHB 212 - 034 QEL 29.5nm mea 5000 moca 4800",
    "airway V801 QHB 212 - 034 QEL 25nm mea 2500",
)
"""A flight without findings, one below its MEA, and one whose chart makes a part too short."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Three files, one of them in a folder below, and things that are no route files."""
    (tmp_path / "below").mkdir()
    (tmp_path / ".hidden").mkdir()
    islands(tmp_path, b=GOOD, c=WRONG)
    islands(tmp_path / "below", a=WARNED)
    islands(tmp_path / ".hidden", d=WRONG)
    (tmp_path / "notes.txt").write_text("no route file")
    return tmp_path


def lines(text: str) -> list[str]:
    return text.splitlines()


def test_a_folder_is_checked_with_all_below_it_sorted(folder: Path) -> None:
    found = navlog("check", str(folder), "--format", "json")
    assert [json.loads(line)["source"]["file"] for line in lines(found.out)] == [
        str(folder / name) for name in ("b.route", "below/a.route", "c.route")
    ]


def test_a_finding_is_one_line_as_a_compiler_writes_it(folder: Path) -> None:
    found = navlog("check", str(folder / "c.route"))
    assert lines(found.out) == [
        f"{folder}/c.route:16: error: c, leg 2: QHB to QEL is charted 25.0 NM and computed 29.5 NM;"
        " the longer is flown [distance-differs]"
    ]


def test_the_summary_is_the_last_line_on_standard_error(folder: Path) -> None:
    found = navlog("check", str(folder))
    assert lines(found.err) == ["3 flights: 1 ok, 1 warning, 1 error"]
    (folder / "e.route").write_text("altitude\n")
    assert lines(navlog("check", str(folder)).err)[-1] == "4 flights: 1 ok, 1 warning, 1 error, 1 problem"


@pytest.mark.parametrize(
    ("flight", "options", "status"),
    [
        (GOOD, (), 0),
        (WARNED, (), 0),
        (WARNED, ("--strict",), 1),
        (GOOD, ("--strict",), 0),
        (WRONG, (), 1),
        ("altitude", (), 2),
    ],
)
def test_the_exit_status(tmp_path: Path, flight: str, options: tuple[str, ...], status: int) -> None:
    assert navlog("check", *islands(tmp_path, one=flight), *options).status == status


def test_a_problem_wins_over_an_error_and_stops_nothing(folder: Path) -> None:
    (folder / "aa.route").write_bytes(b"\xff\xfeq\x00")
    found = navlog("check", str(folder))
    assert found.status == 2
    assert "[bad-encoding]" in found.err
    assert "[distance-differs]" in found.out


def test_a_file_that_is_not_there_stops_nothing(folder: Path) -> None:
    found = navlog("check", str(folder / "gone.route"), str(folder))
    assert found.status == 2
    assert lines(found.err)[0].endswith("cannot read this file: no such file or directory [cannot-read]")
    assert lines(found.err)[-1] == "4 flights: 1 ok, 1 warning, 1 error, 1 problem"


def test_a_folder_without_route_files_is_a_problem(tmp_path: Path) -> None:
    found = navlog("check", str(tmp_path))
    assert (found.status, found.out) == (2, "")
    assert "[no-route-files]" in found.err


def test_standard_input_is_a_file(folder: Path) -> None:
    text = (folder / "c.route").read_text()
    found = navlog("check", "-", str(folder / "b.route"), typed=text)
    assert found.out.startswith("-:16: error: -, leg 2: QHB to QEL is charted 25.0 NM")
    assert lines(found.err)[-1] == "2 flights: 1 ok, 0 warnings, 1 error"


def test_a_file_named_twice_is_checked_once(folder: Path) -> None:
    name = str(folder / "b.route")
    assert lines(navlog("check", name, name).err) == ["1 flight: 1 ok, 0 warnings, 0 errors"]


def test_json_is_a_flight_a_line_without_legs(folder: Path) -> None:
    (one,) = lines(navlog("check", str(folder / "below"), "--format", "json").out)
    found = json.loads(one)
    assert found["schema"] == "navlog/1"
    assert (found["flight"], found["status"]) == ("a", "warning")
    assert "legs" not in found
    assert {finding["rule"] for finding in found["findings"]} >= {"under-mea"}


def test_csv_is_rfc_4180_and_safe_to_open(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    islands(tmp_path, **{"=1+1": WRONG})
    monkeypatch.chdir(tmp_path)
    raw = navlog("check", "=1+1.route", "--format", "csv").out
    assert raw.count("\r\n") == raw.count("\n") == 2
    (row,) = csv.DictReader(io.StringIO(raw, newline=""))
    assert row["file"] == "'=1+1.route"
    assert row["flight"] == "'=1+1"
    assert (row["line"], row["leg"], row["severity"], row["rule"]) == ("16", "2", "error", "distance-differs")
    assert row["accepted"] == ""


def test_an_accepted_finding_is_silent_in_text_and_told_in_the_other_forms(tmp_path: Path) -> None:
    (name,) = islands(tmp_path, one=WARNED + '\naccept under-mea "in sight of the sea"')
    assert navlog("check", name, "--strict").status == 0
    assert navlog("check", name).out == ""
    (row, *_) = csv.DictReader(io.StringIO(navlog("check", name, "--format", "csv").out))
    assert row["accepted"] == "in sight of the sea"


def test_a_station_is_out_over_the_whole_library(folder: Path) -> None:
    found = navlog("check", str(folder), "--unavailable", "QEL")
    assert found.status == 1
    assert {line.split(":")[0] for line in lines(found.out) if "[station-out]" in line} == {
        str(folder / name) for name in ("b.route", "below/a.route", "c.route")
    }


def test_wind_altitude_and_date_stand_in_every_flight(folder: Path) -> None:
    assert navlog("check", str(folder / "b.route"), "--altitude", "2300", "--all").out.count("[under-mea]") == 2
    assert "[unflyable-wind]" in navlog("check", str(folder / "b.route"), "--wind", "300/150").out
    assert "[no-magnetic-model]" in navlog("check", str(folder / "b.route"), "--date", "1990-07-18").err


def test_what_is_wrong_in_an_option_is_said_once(folder: Path) -> None:
    found = navlog("check", str(folder), "--date", "2026-13-45")
    assert (found.status, found.out) == (2, "")
    assert found.err.count("[bad-date]") == 1
    assert found.err.startswith("--date:1:1: error:")


def test_the_limits_of_radials_can_be_set(tmp_path: Path) -> None:
    (name,) = islands(tmp_path, one="airway V801 QHB 216 - 034 QEL 29.5nm mea 3000")
    assert "warning: one, leg 2: QHB 216 is charted" in navlog("check", name).out
    assert navlog("check", name, "--radial-limits", "5", "9").out == ""
    assert "error: one, leg 2: QHB 216 is charted" in navlog("check", name, "--radial-limits", "1", "2").out


def test_a_limit_for_warnings_above_that_for_errors_is_refused(tmp_path: Path) -> None:
    (name,) = islands(tmp_path, one="airway V801 QHB 216 - 034 QEL 29.5nm mea 3000")
    refused = navlog("check", name, "--radial-limits", "6", "3")
    assert (refused.status, refused.out) == (2, "")
    assert "--radial-limits: WARN is above ERROR." in refused.err
    assert navlog("check", name, "--radial-limits", "4.5", "4.5").status == 0


def test_more_jobs_print_the_same_bytes(folder: Path) -> None:
    alone, shared = (navlog("check", str(folder), "--format", "json", "--jobs", jobs) for jobs in ("1", "2"))
    assert (shared.status, shared.out, shared.err) == (alone.status, alone.out, alone.err)


def test_every_shipped_example_passes(tmp_path: Path) -> None:
    catalogue = tmp_path / "islands.sqlite"
    import_data(EXAMPLES / "islands", catalogue)
    found = navlog("check", str(EXAMPLES), "--catalogue", str(catalogue))
    assert found.status == 0
    assert "0 errors" in lines(found.err)[-1]


def test_a_missing_catalogue_that_is_named_is_a_problem(folder: Path) -> None:
    found = navlog("check", str(folder), "--catalogue", str(folder / "gone.sqlite"))
    assert (found.status, found.out) == (2, "")
    assert "[no-catalogue]" in found.err


def command(*arguments: str) -> subprocess.Popen[bytes]:
    """The command in a process of its own."""
    return subprocess.Popen(
        [sys.executable, "-m", "navlog", "check", *arguments], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )


@pytest.mark.skipif(sys.platform == "win32", reason="a console's interrupt is another thing there")
@pytest.mark.parametrize("jobs", ["1", "2"])
def test_an_interrupt_stops_cleanly(tmp_path: Path, jobs: str) -> None:
    islands(tmp_path, **{f"f{number}": WARNED for number in range(300)})
    # A pipe that nobody empties holds the run up until the interrupt.
    running = command(str(tmp_path), "--jobs", jobs, "--format", "json")
    assert running.stdout is not None
    running.stdout.read(1)
    time.sleep(0.3)
    running.send_signal(signal.SIGINT)
    _, err = running.communicate(timeout=20)
    assert (running.returncode, err.decode().strip()) == (130, "interrupted")


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_a_reader_that_has_had_enough_is_no_fault(tmp_path: Path, jobs: str) -> None:
    islands(tmp_path, **{f"f{number}": WARNED for number in range(300)})
    running = command(str(tmp_path), "--jobs", jobs, "--format", "json")
    assert running.stdout is not None
    assert running.stderr is not None
    running.stdout.read(1)
    running.stdout.close()
    err = running.stderr.read()
    assert running.wait(timeout=20) == 0
    assert b"Traceback" not in err
    running.stderr.close()
