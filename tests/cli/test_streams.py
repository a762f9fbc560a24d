"""What the command line does where its streams are closed, full or cut off, and when it is interrupted."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

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
