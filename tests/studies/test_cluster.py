"""A check shared out to a Dask cluster of real processes: the bytes of one process, and nothing lost or different."""

from __future__ import annotations

import os
import shutil
import signal
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from helpers.flown import EXAMPLES, ROOT, Run, changed, navlog
from helpers.grammar import flight, written
from helpers.grammar_files import several
from helpers.library import islands, real_library
from helpers.made import folder_of_files

from navlog.catalogue import import_data
from navlog.request.records import FlightPlans
from navlog.rules.answers import Answer, answers
from navlog.studies import cluster
from navlog.studies.cluster import _Answer, _files_a_task

pytest.importorskip("distributed", reason="distributed is not installed (the extra `cluster` has it)")

NAMED = changed(
    "aircraft trainer.toml", "notices briefing.txt", "terrain tiles", without=("tas", "burn", "fuel", "taxi")
)


class Machines:
    """A scheduler and workers, each a process that was started in a folder of its own."""

    def __init__(self) -> None:
        with socket.socket() as taken:
            taken.bind(("127.0.0.1", 0))
            port = taken.getsockname()[1]
        self.address = f"tcp://127.0.0.1:{port}"
        self.running = [self._started("dask_scheduler", ROOT, "--host", "127.0.0.1", "--port", str(port))]

    def worker(self, folder: Path) -> subprocess.Popen[bytes]:
        self.running.append(self._started("dask_worker", folder, self.address, "--nthreads", "1", "--no-nanny"))
        return self.running[-1]

    def _started(self, module: str, folder: Path, *words: str) -> subprocess.Popen[bytes]:
        return subprocess.Popen(
            [sys.executable, "-m", f"distributed.cli.{module}", *words, "--dashboard-address", "127.0.0.1:0"],
            cwd=folder,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )

    def stop(self) -> None:
        for one in reversed(self.running):
            one.kill()
            one.wait()


@pytest.fixture
def machines() -> Iterator[Machines]:
    found = Machines()
    yield found
    found.stop()


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with flights that name files, that are broken, and that are well, and a catalogue of two cycles."""
    root = tmp_path_factory.mktemp("library")
    routes = root / "routes"
    routes.mkdir()
    (routes / "named.route").write_text(NAMED, "utf-8")
    (routes / "broken.route").write_text(changed("route XHAR NOWHERE"), "utf-8")
    (routes / "no text.route").write_bytes(b"\xff\x00")
    (routes / "gone.route").symlink_to(root / "nowhere")
    islands(routes, **{f"low{number}": f"altitude {2000 + 100 * number}" for number in range(12)})
    shutil.copy(EXAMPLES / "trainer.toml", routes)
    (routes / "briefing.txt").write_text("!XHA 07/012 QEL NAV VOR/DME OUT OF SERVICE 2607171200-2607201200\n", "utf-8")
    shutil.copytree(EXAMPLES / "terrain", routes / "tiles")
    import_data(EXAMPLES / "islands", root / "islands.sqlite")
    shutil.copy(root / "islands.sqlite", root / "before.sqlite")
    return root


@pytest.fixture(scope="module")
def both(library: Path) -> Iterator[str]:
    """The address of a cluster of two workers in the library's folder."""
    found = Machines()
    for _ in range(2):
        found.worker(library)
    yield found.address
    found.stop()


@pytest.fixture(scope="module")
def elsewhere(library: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Path]]:
    """The address of a cluster whose one worker is in another folder, and that."""
    there = tmp_path_factory.mktemp("there")
    found = Machines()
    found.worker(there)
    yield found.address, there
    found.stop()


def check(*words: str) -> Run:
    return navlog("check", "routes", "--catalogue", "islands.sqlite", *words)


@pytest.mark.parametrize(
    "asked",
    [
        (),
        ("--format", "json"),
        ("--format", "csv", "--altitude", "2300"),
        ("--format", "sarif", "--min-severity", "warning"),
        ("--format", "junit", "--all"),
        ("--since", "before.sqlite", "--quote-outside"),
        ("--requirement", "61.109", "--format", "json"),
        ("--aircraft", "routes/trainer.toml", "--by-rule"),
        ("--write-baseline", "-"),
    ],
    ids=" ".join,
)
def test_a_cluster_prints_the_bytes_of_one_process(
    both: str, library: Path, monkeypatch: pytest.MonkeyPatch, asked: tuple[str, ...]
) -> None:
    monkeypatch.chdir(library)
    alone = check(*asked)
    assert alone.out or alone.err
    assert check(*asked, "--cluster", both) == alone


def test_flights_of_the_grammar_come_to_the_bytes_of_one_process(both: str, tmp_path: Path) -> None:
    """Of positions, by the chart alone, and several in a file; `NAVLOG_FLIGHTS` draws more."""
    folder = folder_of_files(tmp_path)
    for number in range(int(os.environ.get("NAVLOG_FLIGHTS", "15"))):
        lines = several(number).lines if number % 3 == 2 else flight(number, charted=number % 3 / 2)
        (folder / f"{number}.route").write_text(written(lines), "utf-8")
    words = ("check", str(folder), "--format", "json")
    alone = navlog(*words)
    assert alone.out
    assert navlog(*words, "--cluster", both) == alone


def test_a_route_typed_in_goes_to_a_cluster_too(both: str, library: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(library)
    for words, typed in ((["-"], changed()), (["--route", "xhar..qhb.v801.qel", "--set", "tas 110kt"], "")):
        alone = navlog("check", *words, "--catalogue", "islands.sqlite", typed=typed)
        shared = navlog("check", *words, "--catalogue", "islands.sqlite", "--cluster", both, typed=typed)
        assert shared == alone


def test_a_worker_killed_in_the_middle_loses_nothing(machines: Machines, tmp_path: Path) -> None:
    names = real_library(tmp_path, 300)
    import_data(ROOT / "tests" / "data" / "nasr", tmp_path / "nasr.sqlite")
    words = ("check", str(tmp_path), "--catalogue", str(tmp_path / "nasr.sqlite"), "--format", "json")
    alone = navlog(*words)
    lost = machines.worker(tmp_path)
    with subprocess.Popen(
        [sys.executable, "-m", "navlog", *words, "--cluster", machines.address],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        bufsize=0,
    ) as running:
        assert running.stdout is not None
        first = running.stdout.readline()
        # With what it has of a window of tasks begun and not yet handed on.
        lost.send_signal(signal.SIGKILL)
        machines.worker(tmp_path)
        out, err = running.communicate()
    assert lost.wait() == -signal.SIGKILL
    assert (first + out).decode() == alone.out
    assert err.decode() == alone.err
    assert len(alone.out.splitlines()) == 2 * len(names)


def copied(library: Path, there: Path) -> None:
    """The library's files that are not route files, anew."""
    (there / "routes" / "tiles" / "islands.tif").unlink(missing_ok=True)
    shutil.copytree(library, there, dirs_exist_ok=True, ignore=shutil.ignore_patterns("*.route"))


def other_catalogue(folder: Path) -> str:
    with open(folder / "islands.sqlite", "ab") as opened:
        opened.write(b"\0")
    return "has another catalogue islands.sqlite: "


def no_catalogue(folder: Path) -> str:
    (folder / "islands.sqlite").unlink()
    return "has another catalogue islands.sqlite: no such file or directory, and this machine "


def other_aircraft(folder: Path) -> str:
    with open(folder / "routes" / "trainer.toml", "a", encoding="utf-8") as opened:
        opened.write("\n# another\n")
    return "a worker of the cluster reads another `routes/trainer.toml` than this machine"


def other_tile(folder: Path) -> str:
    path = folder / "routes" / "tiles" / "islands.tif"
    whole = path.read_bytes()
    path.unlink()  # The worker may have it mapped.
    path.write_bytes(whole + b"\0")
    return "a worker of the cluster reads another `routes/tiles` than this machine"


@pytest.mark.parametrize("change", [other_catalogue, no_catalogue, other_aircraft, other_tile])
def test_a_worker_that_sees_other_data_is_a_problem(
    elsewhere: tuple[str, Path],
    library: Path,
    monkeypatch: pytest.MonkeyPatch,
    change: Callable[[Path], str],
) -> None:
    address, there = elsewhere
    copied(library, there)
    told = change(there)
    monkeypatch.chdir(library)
    found = navlog("check", "routes/named.route", "--catalogue", "islands.sqlite", "--cluster", address)
    assert (found.status, found.out) == (2, "")
    assert told in found.err
    assert "[worker-differs]" in found.err


def test_a_copy_of_the_folder_on_another_machine_is_the_same(
    elsewhere: tuple[str, Path], library: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    address, there = elsewhere
    copied(library, there)
    os.utime(there / "routes" / "tiles" / "islands.tif", (1, 1))
    monkeypatch.chdir(library)
    assert check("--cluster", address) == check()


def test_what_a_cluster_said_is_remembered_here_until_a_file_changes(
    both: str, library: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(library)
    alone, kept = check("--format", "json"), ("--format", "json", "--cache", str(tmp_path / "kept"))
    assert check(*kept, "--cluster", both) == alone

    def again(plans: FlightPlans, *rest: Any, **named: Any) -> Iterator[Answer]:
        assert plans.file == "routes/gone.route"
        return answers(plans, *rest, **named)

    monkeypatch.setattr("navlog.studies.checking.answers", again)
    assert check(*kept) == check(*kept, "--cluster", both) == alone
    monkeypatch.undo()
    monkeypatch.chdir(library)
    briefing = library / "routes" / "briefing.txt"
    before = briefing.read_bytes()
    briefing.write_bytes(before.replace(b"QEL", b"QHB"))
    try:
        changed_now = check("--format", "json")
        assert check(*kept, "--cluster", both) == changed_now != alone
    finally:
        briefing.write_bytes(before)


def test_what_is_remembered_here_is_not_asked_of_a_worker(
    elsewhere: tuple[str, Path], library: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    address, there = elsewhere
    copied(library, there)
    other_aircraft(there)
    monkeypatch.chdir(library)
    words = ("--cache", str(tmp_path / "kept"), "--cluster", address)
    assert check(*words).status == 2
    alone = check(*words[:2])
    assert check(*words) == alone


@pytest.mark.parametrize("part", ["navlog", "Python", "pyproj", "time zones"])
def test_a_worker_with_another_program_is_a_problem(
    both: str, library: Path, monkeypatch: pytest.MonkeyPatch, part: str
) -> None:
    monkeypatch.chdir(library)
    here = cluster._made_of() | {part: "0.0.9"}
    monkeypatch.setattr(cluster, "_made_of", lambda: here)
    found = check("--cluster", both)
    assert (found.status, found.out) == (2, "")
    assert f"has another {part}: " in found.err
    assert "and this machine 0.0.9 [worker-differs]" in found.err


def test_a_cluster_without_a_worker_or_a_scheduler_is_a_problem(
    machines: Machines, library: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(library)
    monkeypatch.setattr(cluster, "_CONNECT_S", 4.0)
    assert "the scheduler has no worker [no-cluster]" in check("--cluster", machines.address).err
    machines.stop()
    monkeypatch.setattr(cluster, "_CONNECT_S", 0.2)
    found = check("--cluster", machines.address)
    assert (found.status, found.out) == (2, "")
    assert "no scheduler answers there: " in found.err


def test_workers_that_stay_away_are_a_problem(
    machines: Machines, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real_library(tmp_path, 100)
    import_data(ROOT / "tests" / "data" / "nasr", tmp_path / "nasr.sqlite")
    worker = machines.worker(tmp_path)
    monkeypatch.setattr(cluster, "_LOOK_S", 0.3)
    tasks = cluster._Cluster._taken

    def stopped(self: cluster._Cluster, found: bytes | str, task: list[cluster._Asked]) -> Iterator[object]:
        worker.kill()
        return tasks(self, found, task)

    monkeypatch.setattr(cluster._Cluster, "_taken", stopped)
    words = ("check", str(tmp_path), "--catalogue", str(tmp_path / "nasr.sqlite"), "--cluster", machines.address)
    found = navlog(*words)
    assert found.status == 2
    assert "the cluster has no worker left; what is told up to here stands [cluster-lost]" in found.err


def test_the_example_checks_a_folder_on_a_cluster() -> None:
    command = [sys.executable, str(EXAMPLES / "cluster.py"), "examples/forecast", "1", "--format", "json"]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=ROOT)
    alone = [sys.executable, "-m", "navlog", "check", "examples/forecast", "--format", "json"]
    assert done.stdout == subprocess.run(alone, capture_output=True, text=True, check=False, cwd=ROOT).stdout != ""
    assert done.returncode == 0


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--jobs", "2"), "--jobs does not go with --cluster."),
        (("--propose-around", "QEL"), "--cluster does not go with --propose-around."),
    ],
)
def test_what_does_not_go_with_a_cluster_is_refused(words: tuple[str, ...], told: str) -> None:
    found = navlog("check", str(EXAMPLES), *words, "--cluster", "tcp://127.0.0.1:1")
    assert (found.status, found.out) == (2, "")
    assert told in found.err


@pytest.mark.parametrize("address", ["127.0.0.1:8786", "http://127.0.0.1:8786", "tcp://127.0.0.1", "tcp://a b:1", ""])
def test_what_is_no_address_is_refused(address: str) -> None:
    assert "is no address [bad-value]" in navlog("check", str(EXAMPLES), "--cluster", address).err


def test_without_the_package_it_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    found = navlog("check", str(EXAMPLES), "--cluster", "tcp://127.0.0.1:8786")
    assert found.status == 2
    assert "pip install 'navlog[cluster]'" in found.err


@pytest.mark.parametrize(("files", "seconds", "most", "next_files"), [
    (4, 0.01, 50, 50), (50, 2.0, 50, 25), (10, 40.0, 50, 1), (4, 0.01, 6, 6), (1, 0.0, 50, 50),
])  # fmt: skip
def test_a_task_is_of_about_a_second_or_fifty_files(files: int, seconds: float, most: int, next_files: int) -> None:
    assert _files_a_task(_Answer((None,) * files, seconds, {}), most) == next_files
