"""A catalogue is written whole or not at all: killed, out of room, interrupted, or two at once."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from helpers.nasr_excerpt import DAY, Row

from navlog.catalogue import import_data, open_catalogue
from navlog.nav.problems import NavlogError

CYCLE_BEFORE = date(2026, 4, 20)
"""A day on which the old catalogue's cycle speaks, whatever was imported after it."""

posix_only = pytest.mark.skipif(os.name != "posix", reason="needs POSIX signals and limits")

OLD: Row = {
    "NAV_ID": "QHB",
    "NAV_TYPE": "VOR",
    "LAT_DECIMAL": "46.205",
    "LONG_DECIMAL": "-39.345",
    "MAG_VARN": "15",
    "MAG_VARN_HEMIS": "W",
    "FREQ": "113.7",
}
IMPORT = "import sys; from pathlib import Path; from navlog.catalogue import import_data; "
IMPORT += "import_data(Path(sys.argv[1]), Path(sys.argv[2]))"
LIMITED = "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000)); " + IMPORT


@pytest.fixture
def old(tmp_path: Path, nasr_like: Callable[..., Path]) -> Path:
    """A catalogue that must survive whatever happens."""
    path = tmp_path / "catalogue.sqlite"
    import_data(nasr_like("NAV_BASE.csv", OLD, effective="2026/04/16"), path)
    return path


def assert_old(path: Path) -> None:
    with open_catalogue(path) as catalogue:
        assert [station.ident for station in catalogue.stations("QHB", DAY)] == ["QHB"]
        assert catalogue.airways("V101", DAY) == ()


def run(code: str, source: Path, path: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", code, str(source), str(path)], capture_output=True, text=True, check=False, timeout=60
    )


@posix_only
@pytest.mark.parametrize("seed", range(4))
def test_a_kill_at_any_moment_leaves_the_old_or_the_new_catalogue(old: Path, nasr: Path, seed: int) -> None:
    process = subprocess.Popen([sys.executable, "-c", IMPORT, str(nasr), str(old)])
    waiting = old.with_name("catalogue.sqlite.new")
    while process.poll() is None and not waiting.exists():
        time.sleep(0.0005)
    time.sleep(random.Random(seed).uniform(0.0, 0.05))
    process.send_signal(signal.SIGKILL)
    process.wait()
    with open_catalogue(old) as catalogue:
        assert catalogue.stations("QHB", CYCLE_BEFORE)
        whole = catalogue.airways("V101", DAY) != ()
        assert bool(catalogue.stations("GLL", DAY)) == whole
    # The next import finds no lock and clears what the dead one left.
    import_data(nasr, old)
    assert not waiting.exists()
    with open_catalogue(old) as catalogue:
        assert catalogue.airways("V101", DAY)


@posix_only
def test_a_full_disk_leaves_the_old_catalogue(old: Path, nasr: Path) -> None:
    done = run(LIMITED, nasr, old)
    assert "not-written" in done.stderr
    assert sorted(file.name for file in old.parent.glob("catalogue*")) == [
        "catalogue.sqlite",
        "catalogue.sqlite.lock",
    ]
    assert_old(old)


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failing_disk_leaves_the_old_catalogue(
    old: Path, nasr: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    def fail(*args: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, step, fail)
    with pytest.raises(NavlogError, match="not-written"):
        import_data(nasr, old)
    monkeypatch.undo()
    assert not old.with_name("catalogue.sqlite.new").exists()
    assert_old(old)


@pytest.mark.parametrize("moment", [1, 5, 10])
def test_ctrl_c_leaves_the_old_catalogue(old: Path, nasr: Path, moment: int) -> None:
    calls = 0

    def progress(name: str, done: int, total: int) -> None:
        nonlocal calls
        calls += 1
        if calls == moment:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        import_data(nasr, old, progress=progress)
    assert not old.with_name("catalogue.sqlite.new").exists()
    assert_old(old)


def test_two_imports_at_once_are_refused_and_the_first_goes_on(old: Path, nasr: Path) -> None:
    refusals: list[str] = []

    def progress(name: str, done: int, total: int) -> None:
        if not refusals:
            with pytest.raises(NavlogError) as caught:
                import_data(nasr, old)
            refusals.append(caught.value.problems[0].code)

    import_data(nasr, old, progress=progress)
    assert refusals == ["catalogue-busy"]
    with open_catalogue(old) as catalogue:
        assert catalogue.airways("V101", DAY)


def test_readers_keep_the_catalogue_they_opened(old: Path, nasr: Path) -> None:
    with open_catalogue(old) as before:
        import_data(nasr, old)
        assert before.stations("GLL", DAY) == ()
        assert before.stations("QHB", DAY)
    with open_catalogue(old) as after:
        assert after.stations("GLL", DAY)


@posix_only
@pytest.mark.skipif(os.name == "posix" and os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_cannot_be_written_is_a_problem(old: Path, nasr: Path) -> None:
    old.parent.chmod(0o555)
    try:
        with pytest.raises(NavlogError, match="not-written"):
            import_data(nasr, old)
        assert_old(old)
    finally:
        old.parent.chmod(0o755)


def test_a_catalogue_in_a_new_folder(tmp_path: Path, nasr: Path) -> None:
    path = tmp_path / "a" / "b" / "100% #1?.sqlite"
    import_data(nasr, path)
    with open_catalogue(path) as catalogue:
        assert catalogue.stations("GLL", DAY)


def change(path: Path, sql: str) -> None:
    connection = sqlite3.connect(path)
    connection.executescript(sql)
    connection.close()


@pytest.mark.parametrize(
    ("sql", "code"),
    [
        ("PRAGMA user_version = 99", "newer-catalogue"),
        ("PRAGMA application_id = 7", "not-a-catalogue"),
        ("DROP TABLE station", "damaged-catalogue"),
    ],
)
def test_a_file_that_is_none_of_ours_is_neither_read_nor_overwritten(
    old: Path, nasr: Path, sql: str, code: str
) -> None:
    change(old, sql)
    before = old.read_bytes()
    with pytest.raises(NavlogError, match=code):
        open_catalogue(old)
    with pytest.raises(NavlogError, match=code):
        import_data(nasr, old)
    assert old.read_bytes() == before


@pytest.mark.parametrize("content", [b"", b"not a database at all, just some text" * 100])
def test_a_file_that_is_no_database(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "catalogue.sqlite"
    path.write_bytes(content)
    with pytest.raises(NavlogError, match=r"not-a-catalogue|damaged-catalogue"):
        open_catalogue(path)


def ask_much(path: Path) -> None:
    with open_catalogue(path) as catalogue:
        for ident in ("GLL", "V101", "LIBEL"):
            catalogue.stations(ident, DAY)
            catalogue.fixes(ident, DAY)
            catalogue.airways(ident, DAY)


def test_damage_in_the_middle_of_the_file_is_a_problem(catalogue_file: Path, tmp_path: Path) -> None:
    path = tmp_path / "catalogue.sqlite"
    raw = bytearray(catalogue_file.read_bytes())
    raw[8192:-4096] = b"\x5a" * (len(raw) - 12288)
    path.write_bytes(raw)
    with pytest.raises(NavlogError, match="damaged-catalogue"):
        ask_much(path)


def test_no_catalogue_says_how_to_make_one(tmp_path: Path) -> None:
    with pytest.raises(NavlogError) as caught:
        open_catalogue(tmp_path / "none.sqlite")
    (problem,) = caught.value.problems
    assert problem.code == "no-catalogue"
    assert "navlog catalogue import" in (problem.hint or "")
