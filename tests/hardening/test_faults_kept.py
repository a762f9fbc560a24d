"""Kills and full disks while obstacles, folders of sheets and caches are written: the old or the new, never a part."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from datetime import date
from errno import ENOSPC, EROFS
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, ROOT, Run, changed, navlog
from helpers.nasr_excerpt import DATA

from navlog.catalogue import import_data, open_catalogue
from navlog.catalogue.obstacles import obstacles_near
from navlog.nav.chart import Position
from navlog.nav.corridor import Corridor

DAY = date(2026, 7, 18)
CLUB = str(EXAMPLES / "club_day.route")
IMPORT = "import sys; from pathlib import Path; from navlog.catalogue import import_data; "
IMPORT += "import_data(Path(sys.argv[1]), Path(sys.argv[2]))"
OBSTACLES = 4_000
posix_only = pytest.mark.skipif(os.name != "posix", reason="needs POSIX signals")


def killed_at(step: str, time_called: int, *command: str, by: signal.Signals = signal.SIGKILL) -> int:
    """The status of a command line that a signal meets when it calls `os.step` for the given time."""
    code = (
        f"import os, signal, itertools; calls = itertools.count(1); own = os.{step}\n"
        f"def fall(*given, **named):\n"
        f"    if next(calls) == {time_called}: os.kill(os.getpid(), {int(by)})\n"
        f"    return own(*given, **named)\n"
        f"os.{step} = fall\nfrom navlog.cli import main; main()"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *command], capture_output=True, check=False, cwd=ROOT, timeout=300
    )
    return done.returncode


def obstacle_file(folder: Path) -> Path:
    """Obstacles of 500 ft on one mile, as the FAA's comma-separated file has them."""
    head = (
        "OAS,VERIFIED STATUS,COUNTRY,STATE,CITY,LATDEC,LONDEC,DMSLAT,DMSLON,TYPE,QUANTITY,AGL,AMSL,LIGHTING,ACCURACY,"
    )
    rows = (
        f"09-{number:06d},O,US,CT,NOWHERE,41.00{number % 10}065,-73.648312,41 00 18.23N,073 38 53.92W,TOWER,1,00400,"
        "00500,N, 2C,N,2011ANE01884OE,A,2012268"
        for number in range(OBSTACLES)
    )
    path = folder / "DOF.CSV"
    path.write_text("\n".join([f"{head}MARKING,FAA STUDY,ACTION,JDATE", *rows]) + "\n", "ascii")
    return path


@posix_only
@pytest.mark.parametrize("seed", range(3))
def test_a_kill_while_obstacles_are_imported_leaves_all_or_none_of_them(seed: int, tmp_path: Path) -> None:
    path, source = tmp_path / "catalogue.sqlite", obstacle_file(tmp_path)
    import_data(DATA / "nasr", path)
    process = subprocess.Popen([sys.executable, "-c", IMPORT, str(source), str(path)])
    while process.poll() is None and not path.with_name(f"{path.name}.new").exists():
        time.sleep(0.0005)
    time.sleep(random.Random(seed).uniform(0.0, 0.05))
    process.send_signal(signal.SIGKILL)
    process.wait()
    place = Position(41.005, -73.648)
    for tried in range(2):
        with open_catalogue(path) as catalogue:
            assert catalogue.stations("GLL", DAY)
            found = obstacles_near(catalogue, Corridor(place, place, 5.0), DAY)
            assert found is None or len(found.found) == OBSTACLES
        if not tried:
            import_data(source, path)
    assert found is not None


def sheets_of(folder: Path) -> dict[str, str]:
    """The files of a folder but those that a killed process had begun under another name."""
    return {one.name: one.read_text("utf-8") for one in folder.iterdir() if not one.name.startswith(".")}


def club_day(folder: Path) -> tuple[str, ...]:
    """The command line that writes a sheet a flight into a folder."""
    return ("log", CLUB, "--format", "csv", "--output", f"{folder}{os.sep}")


@posix_only
@pytest.mark.parametrize("time_called", [1, 2, 3])
def test_a_kill_while_a_folder_is_written_leaves_whole_sheets(time_called: int, tmp_path: Path) -> None:
    navlog(*club_day(tmp_path / "whole"))
    whole = sheets_of(tmp_path / "whole")
    assert len(whole) >= 3
    (tmp_path / "killed").mkdir()
    old = dict.fromkeys(whole, "as it was")
    for name, text in old.items():
        (tmp_path / "killed" / name).write_text(text, "utf-8")
    assert killed_at("replace", time_called, *club_day(tmp_path / "killed")) == -signal.SIGKILL
    left = sheets_of(tmp_path / "killed")
    assert left.keys() == whole.keys()
    assert all(left[name] in (old[name], whole[name]) for name in whole)


@posix_only
@pytest.mark.parametrize("by", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
@pytest.mark.parametrize(("step", "time_called"), [("mkdir", 1), ("fsync", 1), ("fsync", 3), ("replace", 2)])
def test_a_signal_while_a_folder_is_written_leaves_all_or_nothing(
    step: str, time_called: int, by: signal.Signals, tmp_path: Path
) -> None:
    navlog(*club_day(tmp_path / "whole"))
    # A shell's status of a process that a signal ended: 128 and its number (POSIX, 2.8.2).
    assert killed_at(step, time_called, *club_day(tmp_path / "made"), by=by) == 128 + by
    made = tmp_path / "made"
    if step == "replace":
        assert {one.name: one.read_text("utf-8") for one in made.iterdir()} == sheets_of(tmp_path / "whole")
    else:
        assert not made.exists()


@posix_only
@pytest.mark.parametrize("seed", range(3))
def test_a_process_ended_while_many_sheets_are_written_leaves_whole_sheets_alone(seed: int, tmp_path: Path) -> None:
    text = Path(CLUB).read_text("utf-8")
    flights = "".join(f'flight "number {number}"\nroute XHAR QSK XSKE\noff 09:00Z\n' for number in range(300))
    (tmp_path / "many.route").write_text(text + flights, "utf-8")
    made = tmp_path / "made"
    made.mkdir()
    command = [sys.executable, "-m", "navlog", "log", "many.route", "--format", "csv", "-o", "made/"]
    with subprocess.Popen(command, cwd=tmp_path, stderr=subprocess.PIPE) as process:
        while process.poll() is None and not list(made.iterdir()):
            time.sleep(0.0005)
        time.sleep(random.Random(seed).uniform(0.0, 0.02))
        process.send_signal(signal.SIGTERM)
        told = process.communicate()[1]
    assert (process.returncode, told) in ((128 + signal.SIGTERM, b"ended by a signal\n"), (0, b""))
    assert len(list(made.iterdir())) == (0 if process.returncode else 303)


@posix_only
def test_a_signal_that_is_ignored_stays_ignored(tmp_path: Path) -> None:
    """As under `nohup`, whose flights go on when the terminal closes."""
    code = "import signal; signal.signal(signal.SIGHUP, signal.SIG_IGN); from navlog.cli import main; "
    code += "import os; own = os.fsync; os.fsync = lambda handle: (os.kill(os.getpid(), signal.SIGHUP), own(handle)); "
    done = subprocess.run([sys.executable, "-c", f"{code}main()", *club_day(tmp_path / "made")], check=False, cwd=ROOT)
    assert done.returncode == 0
    assert len(sheets_of(tmp_path / "made")) >= 3


@posix_only
def test_an_import_that_is_ended_leaves_the_catalogue_and_nothing_beside_it(tmp_path: Path) -> None:
    path, source = tmp_path / "catalogue.sqlite", obstacle_file(tmp_path)
    import_data(DATA / "nasr", path)
    before, beside = path.read_bytes(), sorted(one.name for one in tmp_path.iterdir())
    command = ("catalogue", "import", str(source), "--catalogue", str(path))
    assert killed_at("fsync", 1, *command, by=signal.SIGTERM) == 128 + signal.SIGTERM
    assert path.read_bytes() == before
    assert sorted(one.name for one in tmp_path.iterdir()) == beside


@pytest.mark.parametrize("step", ["fsync", "replace"])
@pytest.mark.parametrize("error", [ENOSPC, EROFS])
def test_a_full_disk_while_a_folder_is_written_is_a_problem(
    step: str, error: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*given: object) -> None:
        raise OSError(error, os.strerror(error))

    monkeypatch.setattr(os, step, fail)
    done = navlog(*club_day(tmp_path / "full"))
    monkeypatch.undo()
    assert done.status == 2
    assert "[cannot-write]" in done.err
    assert not (tmp_path / "full").exists() or list((tmp_path / "full").iterdir()) == []


def library(folder: Path) -> Path:
    """A folder of three flights."""
    (folder / "routes").mkdir()
    for number in range(3):
        (folder / "routes" / f"{number}.route").write_text(changed(f"altitude {3 + number}000"), "utf-8")
    return folder / "routes"


def checked(routes: Path, *options: str) -> Run:
    return navlog("check", str(routes), "--format", "json", *options)


@posix_only
@pytest.mark.parametrize(("step", "time_called"), [("replace", 1), ("replace", 3), ("fdopen", 2)])
def test_a_kill_while_something_is_remembered_is_forgotten(step: str, time_called: int, tmp_path: Path) -> None:
    routes, cache = library(tmp_path), str(tmp_path / "cache")
    command = ("check", str(routes), "--format", "json", "--cache", cache)
    assert killed_at(step, time_called, *command) == -signal.SIGKILL
    plain = checked(routes)
    assert checked(routes, "--cache", cache) == checked(routes, "--cache", cache) == plain


@posix_only
def test_a_process_that_is_ended_while_something_is_remembered_leaves_no_file_begun(tmp_path: Path) -> None:
    command = ("check", str(library(tmp_path)), "--format", "json", "--cache", str(tmp_path / "cache"))
    assert killed_at("fdopen", 2, *command, by=signal.SIGTERM) == -signal.SIGTERM
    assert [one.name for one in (tmp_path / "cache").iterdir() if one.name.startswith(".")] == []


def children(process: int) -> list[int]:
    """The processes that a process has begun (Linux, proc_pid_task(5))."""
    try:
        return [int(one) for one in Path(f"/proc/{process}/task/{process}/children").read_text("ascii").split()]
    except FileNotFoundError:
        return []


def runs(process: int) -> bool:
    """Whether a process is there and has not ended; one that nobody asked for its status has (proc_pid_stat(5))."""
    try:
        return Path(f"/proc/{process}/stat").read_text("utf-8").rpartition(")")[2].split()[0] not in ("Z", "X")
    except (FileNotFoundError, ProcessLookupError):
        return False


@pytest.mark.skipif(sys.platform != "linux", reason="reads /proc")
@pytest.mark.parametrize("by", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT, signal.SIGKILL])
def test_processes_at_work_end_with_the_first_and_leave_no_file_begun(by: signal.Signals, tmp_path: Path) -> None:
    for number in range(2_000):
        (tmp_path / f"{number}.route").write_text(changed(f"altitude {3 + number % 3}000"), "utf-8")
    command = [sys.executable, "-m", "navlog", "check", str(tmp_path), "--jobs", "2", "--cache", str(tmp_path / "kept")]
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, cwd=ROOT) as first:
        while first.poll() is None and len(list((tmp_path / "kept").glob("*.check"))) < 20:
            time.sleep(0.01)
        workers = children(first.pid)
        assert len(workers) == 2
        first.send_signal(by)
        # A shell says 128 and the number of a signal that ended a process; 130 is that of Ctrl-C (`navlog help ci`).
        assert first.wait(60) == (130 if by == signal.SIGINT else -by)
    until = time.monotonic() + 30
    while any(map(runs, workers)) and time.monotonic() < until:
        time.sleep(0.02)
    assert not any(map(runs, workers))
    left = [one.name for one in (tmp_path / "kept").iterdir()]
    assert 20 <= len(left) < 2_000
    assert [name for name in left if not name.endswith(".check")] == []


@pytest.mark.parametrize("damage", [b"", b"navlog", b"\x00" * 400, None])
def test_what_is_remembered_and_damaged_is_worked_out_again(damage: bytes | None, tmp_path: Path) -> None:
    routes, cache = library(tmp_path), tmp_path / "cache"
    plain = checked(routes, "--cache", str(cache))
    for one in (path for path in cache.rglob("*") if path.is_file()):
        data = one.read_bytes()
        one.write_bytes(data[: len(data) // 2] if damage is None else damage)
    assert checked(routes, "--cache", str(cache)) == plain == checked(routes)


@pytest.mark.parametrize("step", ["os.replace", "os.unlink", "tempfile.mkstemp"])
def test_a_disk_that_fills_up_under_a_cache_costs_time_only(
    step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    routes, cache = library(tmp_path), str(tmp_path / "cache")
    plain = checked(routes)

    def fail(*given: object, **named: object) -> None:
        raise OSError(ENOSPC, os.strerror(ENOSPC))

    checked(routes.parent, "--cache", cache)
    monkeypatch.setattr(step, fail)
    found = checked(routes, "--cache", cache)
    monkeypatch.undo()
    assert found == plain
