"""What the command line does where its streams are closed, full or cut off, and when it is interrupted."""

from __future__ import annotations

import io
import os
import signal
import subprocess
import sys
from errno import ENOSPC
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from navlog.cli import run

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer as Buffer

EXAMPLE = str(Path(__file__).parent.parent.parent / "examples" / "round_robin.route")
NAVLOG = (sys.executable, "-m", "navlog")
FULL = Path("/dev/full")


def started_without(stream: int, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run navlog with one of its three standard streams closed."""
    program = f"import os, sys; os.close({stream}); os.execv(sys.executable, sys.argv[1:])"
    words = (sys.executable, "-c", program, *NAVLOG, *arguments)
    return subprocess.run(words, capture_output=True, text=True, check=False)


def test_closed_output_is_a_problem() -> None:
    done = started_without(1, "log", EXAMPLE)
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert done.stderr.startswith("error: cannot write the result: ")
    assert done.stderr.endswith(" [cannot-write]\n")


def test_closed_input_is_a_problem_only_where_it_is_read() -> None:
    done = started_without(0, "log", "-")
    assert done.returncode == 2
    assert done.stderr.startswith("-:1:1: error: cannot read this file: ")
    assert started_without(0, "log", EXAMPLE).returncode == 0


def test_closed_messages_are_lost_and_nothing_else() -> None:
    assert started_without(2, "check", EXAMPLE).returncode == 0
    assert started_without(2, "log", "no-such.route").returncode == 2


@pytest.mark.skipif(not FULL.exists(), reason="this system has no /dev/full")
@pytest.mark.parametrize(
    "line",
    [f"log {EXAMPLE}", f"check {EXAMPLE} --format json", "morse QHB", "log --help", f"log {EXAMPLE} -o /dev/full"],
)
def test_a_full_disk_is_a_problem(line: str) -> None:
    with FULL.open("wb") as full:
        done = subprocess.run([*NAVLOG, *line.split()], stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert done.returncode == 2
    assert "no space left on device [cannot-write]" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("line", [f"log {EXAMPLE}", f"check {EXAMPLE}", "log --help", "wind --help"])
def test_a_reader_who_reads_nothing_ends_the_run_quietly(line: str) -> None:
    read, write = os.pipe()
    os.close(read)
    with os.fdopen(write, "wb") as nobody:
        done = subprocess.run([*NAVLOG, *line.split()], stdout=nobody, stderr=subprocess.PIPE, text=True, check=False)
    assert done.returncode == 0
    assert "error:" not in done.stderr


def test_an_interruption_while_modules_load_leaves_with_a_word() -> None:
    # A module that takes for ever stands in the way of the imports.
    program = (
        "import sys, os, signal\n"
        "class Stuck:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name == 'navlog.cli':\n"
        "            os.kill(os.getpid(), signal.SIGINT)\n"
        "sys.meta_path.insert(0, Stuck())\n"
        "from navlog.__main__ import main\n"
        "main()\n"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (130, "", "interrupted\n")
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


class Trickling(io.RawIOBase):
    """A stream without a buffer, as of PYTHONUNBUFFERED: takes some bytes of each write, in all `room` of them."""

    def __init__(self, at_once: int, room: int | None = None) -> None:
        self.at_once, self.room = at_once, room
        self.taken = b""

    @property
    def name(self) -> str:
        return "trickling"

    def writable(self) -> bool:
        return True

    def write(self, data: Buffer, /) -> int | None:
        part = bytes(data)[: self.at_once]
        if self.room is not None:
            part = part[: self.room - len(self.taken)]
            if not part:
                raise OSError(ENOSPC, os.strerror(ENOSPC))
        self.taken += part
        return len(part)


class Waiting(Trickling):
    """A stream that would have to be waited for once it is full."""

    def write(self, data: Buffer, /) -> int | None:
        try:
            return super().write(data)
        except OSError:
            return None


LINES = (
    f"log {EXAMPLE}",
    f"log {EXAMPLE} --format html",
    f"log {EXAMPLE} -o -",
    f"check {EXAMPLE} --format json",
    f"check {EXAMPLE} --altitude 2000",
    f"explain {EXAMPLE}",
    "log --help",
    "--version",
)


def unbuffered(raw: Trickling) -> io.TextIOWrapper:
    """Text on a stream as Python makes its own without a buffer."""
    return io.TextIOWrapper(raw, encoding="utf-8", write_through=True)


@pytest.mark.parametrize("line", LINES)
def test_what_is_not_taken_at_once_is_written_again(line: str, monkeypatch: pytest.MonkeyPatch) -> None:
    whole, trickling = Trickling(1_000_000), Trickling(7)
    statuses = []
    for raw in (whole, trickling):
        monkeypatch.setattr("sys.stdout", unbuffered(raw))
        statuses.append(run(line.split()))
    assert len(whole.taken) > 10
    assert trickling.taken == whole.taken
    assert statuses[0] == statuses[1]


@pytest.mark.parametrize("kind", [Trickling, Waiting], ids=["full", "would wait"])
@pytest.mark.parametrize("line", LINES)
def test_output_cut_short_is_a_problem(
    line: str, kind: type[Trickling], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    raw = kind(1_000, room=9)
    monkeypatch.setattr("sys.stdout", unbuffered(raw))
    # What a failed stream still holds goes nowhere; the number of this one is no file's.
    monkeypatch.setattr("navlog.cli.silence", lambda stream: None)
    assert run(line.split()) == 2
    assert len(raw.taken) == 9
    assert "error: cannot write the result: " in capsys.readouterr().err


def test_messages_cut_short_are_written_again(monkeypatch: pytest.MonkeyPatch) -> None:
    raw = Trickling(5)
    monkeypatch.setattr("sys.stderr", unbuffered(raw))
    assert run(["log", "no-such.route"]) == 2
    assert raw.taken.endswith(b" [cannot-read]\n")


@pytest.mark.parametrize("unbuffered", ["1", ""])
@pytest.mark.parametrize("line", [f"log {EXAMPLE} --format html", "log --help"])
def test_a_disk_that_fills_up_is_a_problem(line: str, unbuffered: str, tmp_path: Path) -> None:
    resource = pytest.importorskip("resource", reason="this system has no limits on the size of files")

    def nearly_full() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (1_000, 1_000))

    environment = os.environ | {"PYTHONUNBUFFERED": unbuffered, "PYTHONDONTWRITEBYTECODE": "1"}
    with (tmp_path / "sheet").open("wb") as sheet:
        done = subprocess.run(
            [*NAVLOG, *line.split()],
            stdout=sheet,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
            env=environment,
            preexec_fn=nearly_full,
        )
    assert (tmp_path / "sheet").stat().st_size == 1_000
    assert done.returncode == 2
    assert done.stderr == "error: cannot write the result: file too large [cannot-write]\n"
