"""Faults around navlog: disks, streams, clocks, homes and locales; the answer is the same, or a problem."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from collections.abc import Callable
from datetime import UTC, datetime, tzinfo
from errno import ENOSPC, EROFS
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, ROOT, navlog
from helpers.nasr_excerpt import DATA

from navlog.catalogue import import_data
from navlog.cli import catalogue_command, radio_commands

TRIP = str(EXAMPLES / "round_robin.route")
posix_only = pytest.mark.skipif(os.name != "posix", reason="needs POSIX signals and descriptors")
full_disk = pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")


def started(
    *arguments: str, env: dict[str, str] | None = None, code: str = "from navlog.cli import main; main()"
) -> subprocess.CompletedProcess[bytes]:
    """A command line in a process of its own; `env` adds to the environment, or takes out what is empty."""
    changed = {name: value for name, value in (os.environ | (env or {})).items() if value}
    return subprocess.run(
        [sys.executable, "-c", code, *arguments], capture_output=True, check=False, env=changed, cwd=ROOT, timeout=60
    )


SETTINGS = (
    {"TZ": "Pacific/Kiritimati", "PYTHONHASHSEED": "1", "HOME": "/nonexistent"},
    {"LANG": "C", "LC_ALL": "C", "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0", "HOME": ""},
    {"TZ": "America/St_Johns", "PYTHONHASHSEED": "77", "TERM": "dumb", "COLUMNS": "20", "NO_COLOR": "1"},
    {"TZ": "Asia/Kathmandu", "LANG": "tr_TR.UTF-8", "LC_ALL": "tr_TR.UTF-8", "PYTHONWARNINGS": "error"},
    {"TZ": "Etc/GMT+12", "PYTHONOPTIMIZE": "1", "PYTHONWARNINGS": "error"},
)


@pytest.mark.parametrize(
    "command",
    [
        ("log", "examples/round_robin.route", "--format", "json"),
        ("check", "examples", "--format", "csv", "--jobs", "2"),
        ("explain", "--rule", "radial-reversed"),
        ("revise", "examples/round_robin.route", "--at", "QHB", "15:17", "--format", "json"),
    ],
    ids=lambda command: command[0],
)
def test_the_same_bytes_come_out_whatever_the_surroundings(
    command: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    outs = {started(*command, env=env).stdout for env in SETTINGS}
    assert outs == {navlog(*command).out.encode()}


def test_an_ascii_terminal_gets_question_marks(tmp_path: Path) -> None:
    path = tmp_path / "Übung.route"
    path.write_text(Path(TRIP).read_text("utf-8").replace('"Harbour"', '"Größe 東京"'), "utf-8")
    done = started("log", str(path), env={"PYTHONIOENCODING": "ascii", "LC_ALL": "C"})
    assert done.returncode == 0
    assert b"Gr??e ??" in done.stdout
    refused = started("log", str(tmp_path / "none é.route"), env={"PYTHONIOENCODING": "ascii", "LC_ALL": "C"})
    assert refused.returncode == 2
    assert b"none ?.route:1:1: error: cannot read this file" in refused.stderr


@full_disk
@pytest.mark.parametrize(
    "command",
    [("log", TRIP), ("log", TRIP, "--format", "csv"), ("--help",), ("check", "tests/data/invalid", "--format", "csv")],
)
def test_a_full_disk_behind_standard_output_is_a_problem(command: tuple[str, ...]) -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "navlog", *command], stdout=full, stderr=subprocess.PIPE, check=False, cwd=ROOT
        )
    assert done.returncode == 2
    assert b"cannot write the result: no space left on device [cannot-write]" in done.stderr
    assert b"Traceback" not in done.stderr
    assert b"Exception ignored" not in done.stderr


@full_disk
@pytest.mark.parametrize(("word", "status"), [("none.route", 2), ("--none", 2), (TRIP, 0)])
def test_a_full_disk_behind_standard_error_changes_no_status(word: str, status: int) -> None:
    with open("/dev/full", "wb") as full:
        program = [sys.executable, "-m", "navlog", "log", word]
        done = subprocess.run(program, stdout=subprocess.PIPE, stderr=full, check=False)
    assert done.returncode == status


@posix_only
@pytest.mark.parametrize("closed", ["1", "0 1 2"])
def test_closed_streams_hinder_only_who_needs_them(closed: str, tmp_path: Path) -> None:
    closing = f"import os; [os.close(int(one)) for one in {closed!r}.split()]; "
    code = f"{closing}os.execv({sys.executable!r}, [{sys.executable!r}, '-m', 'navlog', *__import__('sys').argv[1:]])"
    done = started("log", TRIP, "-o", str(tmp_path / "trip.csv"), code=code)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
    assert (tmp_path / "trip.csv").read_bytes().startswith(b"flight,leg,")
    assert started("log", TRIP, code=code).returncode == (2 if "1" in closed else 0)


@pytest.mark.parametrize("step", ["fsync", "chmod", "replace"])
@pytest.mark.parametrize("error", [ENOSPC, EROFS, KeyboardInterrupt])
def test_an_output_that_fails_on_the_way_leaves_the_file_as_it_was(
    step: str, error: int | type[BaseException], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*given: object) -> None:
        if isinstance(error, int):
            raise OSError(error, os.strerror(error))
        raise error

    (tmp_path / "trip.csv").write_text("as it was")
    monkeypatch.setattr(os, step, fail)
    done = navlog("log", TRIP, "-o", str(tmp_path / "trip.csv"))
    monkeypatch.undo()
    assert done.status == (2 if isinstance(error, int) else 130)
    assert [(path.name, path.read_text()) for path in tmp_path.iterdir()] == [("trip.csv", "as it was")]


@posix_only
@pytest.mark.parametrize("step", ["fsync", "replace", "unlink"])
def test_an_output_killed_on_the_way_is_the_old_or_the_new_file(step: str, tmp_path: Path) -> None:
    """`unlink` is never reached, so that the process lives."""
    (tmp_path / "trip.csv").write_text("as it was")
    code = (
        f"import os, signal; os.{step} = lambda *given: os.kill(os.getpid(), signal.SIGKILL); "
        "from navlog.cli import main; main()"
    )
    done = started("log", TRIP, "-o", str(tmp_path / "trip.csv"), code=code)
    written = (tmp_path / "trip.csv").read_text()
    if step == "unlink":
        assert done.returncode == 0
        assert written.startswith("flight,leg,")
    else:
        assert done.returncode == -signal.SIGKILL
        assert written == "as it was"


class Clock(datetime):
    """A clock that stands at `year`."""

    year_shown = 1970

    @classmethod
    def now(cls, tz: tzinfo | None = None) -> datetime:  # type: ignore[override]
        return datetime(cls.year_shown, 1, 1, tzinfo=tz or UTC)


@pytest.mark.parametrize("year", [1, 1970, 2200, 9999])
@pytest.mark.parametrize(
    "command",
    [
        ("catalogue", "info"),
        ("catalogue", "station", "GLL"),
        ("catalogue", "airway", "V101"),
        ("catalogue", "nearby", "N39 30.00 W104 40.00"),
        ("catalogue", "audit", "V101"),
        ("declination", "N46 12.30 W039 20.70"),
    ],
    ids=" ".join,
)
def test_a_clock_far_off_is_no_bug(
    command: tuple[str, ...], year: int, catalogue: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Clock, "year_shown", year)
    for module in (catalogue_command, radio_commands):
        monkeypatch.setattr(module, "datetime", Clock, raising=False)
    options = ["--catalogue", catalogue] if command[0] == "catalogue" else []
    done = navlog(*command, *options)
    assert done.status in (0, 2), done
    assert done.status == 0 or re.search(r"error: .* \[[a-z-]+\]", done.err)


@pytest.mark.parametrize("day", ["0001-01-01", "1582-10-10", "1970-01-01", "2200-01-01", "9999-12-31"])
def test_a_flight_of_any_day_is_computed_or_refused(day: str, catalogue: str) -> None:
    text = Path(TRIP).read_text("utf-8")
    for zone in ("15:10Z", "10:10 America/Chicago", "23:59Z", "00:00 Pacific/Kiritimati"):
        done = navlog("log", "-", "--date", day, "--off", zone, "--catalogue", catalogue, typed=text)
        assert done.status in (0, 1, 2), done.err


@pytest.fixture(scope="module")
def catalogue(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = tmp_path_factory.mktemp("catalogue") / "catalogue.sqlite"
    import_data(DATA / "nasr", path)
    return str(path)


CODINGS: dict[str, Callable[[str], bytes]] = {
    "byte-order mark": lambda text: text.encode("utf-8-sig"),
    "CRLF": lambda text: text.replace("\n", "\r\n").encode(),
    "CR": lambda text: text.replace("\n", "\r").encode(),
    "no last end": lambda text: text.rstrip("\n").encode(),
    "mark and CRLF": lambda text: text.replace("\n", "\r\n").encode("utf-8-sig"),
}
OTHER_CODINGS: dict[str, Callable[[str], bytes]] = {
    "UTF-16": lambda text: text.encode("utf-16"),
    "UTF-16 without mark": lambda text: text.encode("utf-16-le"),
    "UTF-32": lambda text: text.encode("utf-32"),
    "Latin-1": lambda text: f"{text}# Größe\n".encode("latin-1"),
    "NUL": lambda text: text.encode() + b'note "a\0b"\n',
    "an archive": lambda text: b"PK\x03\x04\xff\xfe" + bytes(range(256)),
}


def body(printed: str) -> str:
    """A sheet without its hash of the file."""
    return re.sub("SHA-256 [0-9a-f]+", "", printed)


@pytest.mark.parametrize("coding", CODINGS)
def test_marks_and_ends_of_lines_make_no_difference(coding: str) -> None:
    text = Path(TRIP).read_text("utf-8")
    found, plain = (navlog("log", "-", typed=typed) for typed in (CODINGS[coding](text), text))
    assert (found.status, body(found.out), found.err) == (0, body(plain.out), plain.err)


@pytest.mark.parametrize("coding", OTHER_CODINGS)
def test_another_encoding_is_refused_by_name(coding: str, tmp_path: Path) -> None:
    route, answers = tmp_path / "trip.route", tmp_path / "answers.csv"
    route.write_bytes(OTHER_CODINGS[coding](Path(TRIP).read_text("utf-8")))
    answers.write_bytes(OTHER_CODINGS[coding]("leg,time\n1,0:06\n"))
    for command in (("log", str(route)), ("check", str(route)), ("mark", TRIP, str(answers))):
        done = navlog(*command)
        assert done.status == 2
        assert re.search(r"\[(bad-encoding|bad-character|bad-value|unknown-leg)\]", done.err), done.err
