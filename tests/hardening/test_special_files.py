"""Named pipes and devices where a file is meant: told at once, never waited for, never read without end."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, changed

from navlog.nav.plainfile import read_plain
from navlog.nav.problems import Span

TRIP = str(EXAMPLES / "round_robin.route")
pytestmark = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")


def said(*command: str) -> str:
    """What a command that must end with 2 says to standard error; the test fails where it waits."""
    done = subprocess.run(
        [sys.executable, "-m", "navlog", *command], capture_output=True, text=True, check=False, timeout=20
    )
    assert done.returncode == 2, done
    return done.stderr


def special(kind: str, path: Path) -> str:
    """A file of a kind at `path`: a pipe, a link to one, or a link to a device without end."""
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "link to a pipe":
        os.mkfifo(path.with_name("pipe"))
        path.symlink_to("pipe")
    else:
        path.symlink_to("/dev/zero")
    return str(path)


KINDS = pytest.mark.parametrize("kind", ["pipe", "link to a pipe", "device"])
NOT_PLAIN = "this is no plain file but a pipe, a device or a socket"


@KINDS
@pytest.mark.parametrize(
    "command", [("check",), ("log",), ("explain",), ("mark", TRIP), ("position", "N46 00.00 W039 00.00", "--from")]
)
def test_a_route_file_that_is_no_plain_file(kind: str, command: tuple[str, ...], tmp_path: Path) -> None:
    path = special(kind, tmp_path / "trip.route")
    told = said(*command, path)
    assert f"{path}:1:1: error: cannot read this file: {NOT_PLAIN} [cannot-read]" in told
    assert "`-`" in told


@KINDS
def test_a_pipe_in_a_folder_of_route_files_keeps_nothing_from_the_others(kind: str, tmp_path: Path) -> None:
    special(kind, tmp_path / "a.route")
    (tmp_path / "b.route").write_text("flight", "utf-8")
    told = said("check", str(tmp_path))
    assert f"a.route:1:1: error: cannot read this file: {NOT_PLAIN}" in told
    assert "b.route:1:" in told


@KINDS
@pytest.mark.parametrize(
    ("statement", "instead"), [("aircraft", ("tas", "burn")), ("winds", ("wind",)), ("notices", ())]
)
def test_a_file_that_a_route_file_names(kind: str, statement: str, instead: tuple[str, ...], tmp_path: Path) -> None:
    special(kind, tmp_path / "named.txt")
    trip = tmp_path / "trip.route"
    trip.write_text(changed(f"{statement} named.txt", without=instead), "utf-8")
    assert f"cannot read `named.txt`: {NOT_PLAIN} [cannot-read]" in said("log", str(trip))


@KINDS
@pytest.mark.parametrize("name", ["NAV_BASE.csv", "data.zip"])
def test_published_data_that_is_no_plain_file(kind: str, name: str, tmp_path: Path) -> None:
    folder = tmp_path / "data"
    folder.mkdir()
    path = special(kind, folder / name)
    catalogue = ("--catalogue", str(tmp_path / "catalogue.sqlite"))
    for given in (path, str(folder)):
        assert f"{path}: {NOT_PLAIN} [unreadable-file]" in said("catalogue", "import", given, *catalogue)


@KINDS
def test_a_catalogue_that_is_no_plain_file(kind: str, tmp_path: Path) -> None:
    path = special(kind, tmp_path / "catalogue.sqlite")
    data = Path(__file__).parents[1] / "data" / "nasr"
    assert "no plain file" in said("catalogue", "import", str(data), "--catalogue", path)
    assert "[no-catalogue]" in said("check", TRIP, "--since", path)


@pytest.mark.skipif(sys.platform != "linux", reason="needs /proc")
def test_a_file_without_a_size_is_read_by_its_bytes(tmp_path: Path) -> None:
    path = tmp_path / "trip.route"
    path.symlink_to("/proc/cpuinfo")
    assert path.stat().st_size == 0
    assert len(read_plain(str(path), 20, "this file", Span(str(path), 1))) == 21


def test_what_is_no_catalogue_is_left_alone_and_not_said_to_be_deleted(tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("dear aunt, the weather here is fine and I read many books", "utf-8")
    data = Path(__file__).parents[1] / "data" / "nasr"
    for told in (
        said("catalogue", "import", str(data), "--catalogue", str(letter)),
        said("check", TRIP, "--since", str(letter)),
    ):
        assert str(letter) in told
        assert "delete" not in told
    assert [one.name for one in tmp_path.iterdir()] == ["letter.txt"]
    assert letter.read_text("utf-8").startswith("dear aunt")


@pytest.mark.parametrize("name", ["out.txt", "out.gpx"])
def test_an_output_that_is_a_pipe_which_nobody_reads_is_told_at_once(name: str, tmp_path: Path) -> None:
    path = special("pipe", tmp_path / name)
    told = said("log", TRIP, "-o", path)
    assert "this is no plain file, and nobody reads from it [cannot-write]" in told
    assert Path(path).is_fifo()


def test_no_more_is_read_than_is_asked_for_and_a_file_without_a_size_whole(tmp_path: Path) -> None:
    from navlog.nav.plainfile import open_plain, read_most

    path = tmp_path / "ten"
    path.write_bytes(b"0123456789")
    for most, read in ((20, 10), (10, 10), (9, 10), (3, 4)):
        with open_plain(path) as opened:
            assert read_most(opened, most) == path.read_bytes()[:read]
    unsized = Path("/proc/self/status")
    if unsized.exists():
        with open_plain(unsized) as opened:
            assert read_most(opened, 1_000_000).endswith(b"\n")
