"""On a terminal: severities in colour and how far a check has come; elsewhere neither."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, changed

pty = pytest.importorskip("pty", reason="pseudo-terminals are those of POSIX")

RED, YELLOW, CYAN, END = "\x1b[31m\x1b[1m", "\x1b[33m\x1b[1m", "\x1b[36m\x1b[1m", "\x1b[0m"
BAR = "\r\x1b[K"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Three files: a finding of each kind, a problem, and one that is well."""
    (tmp_path / "a.route").write_text(changed("fuel 3gal", "altitude 2000"), "utf-8")
    (tmp_path / "b.route").write_text(changed("route XHAR NOWHERE"), "utf-8")
    (tmp_path / "c.route").write_text(changed(), "utf-8")
    return tmp_path


def shown(*words: str, out: bool = True, err: bool = True, more: dict[str, str] | None = None) -> tuple[str, str]:
    """What a command writes: to terminals of their own, or to pipes; `more` is put into the environment."""
    environment = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "TERM")}
    streams = [pty.openpty() if terminal else os.pipe() for terminal in (out, err)]
    done = subprocess.Popen(
        [sys.executable, "-m", "navlog", *words],
        stdout=streams[0][1],
        stderr=streams[1][1],
        env=environment | {"TERM": "xterm", "COLUMNS": "80"} | (more or {}),
    )
    for _, end in streams:
        os.close(end)
    texts = []
    for end, _ in streams:
        data = b""
        try:
            while piece := os.read(end, 65_536):
                data += piece
        except OSError:
            pass  # Linux tells so that the other end of a terminal is closed.
        os.close(end)
        texts.append(data.decode().replace("\r\n", "\n"))
    done.wait()
    return texts[0], texts[1]


def test_severities_are_in_colour_on_a_terminal(folder: Path) -> None:
    out, err = shown("check", str(folder))
    assert f": {RED}error{END}: a" in out
    assert f": {YELLOW}warning{END}: " in out
    assert f"{folder / 'b.route'}:17:12: {RED}error{END}: no station, airport or fix is called `NOWHERE`" in err
    plain, _ = shown("check", str(folder), out=False)
    assert "\x1b" not in plain
    for code in (RED, YELLOW, CYAN, END):
        out = out.replace(code, "")
    assert out == plain


@pytest.mark.parametrize("setting", [{"NO_COLOR": "1"}, {"TERM": "dumb"}], ids=lambda one: next(iter(one)))
def test_whoever_wants_no_colour_gets_none(folder: Path, setting: dict[str, str]) -> None:
    out, err = shown("check", str(folder), more=setting)
    assert "\x1b[3" not in out + err
    assert "error: " in out


def test_an_empty_wish_for_no_colour_is_none(folder: Path) -> None:
    assert RED in shown("check", str(folder), more={"NO_COLOR": ""})[0]


@pytest.mark.parametrize("form", ["json", "csv", "sarif", "junit", "github"])
def test_forms_for_programs_have_no_colour(folder: Path, form: str) -> None:
    assert "\x1b" not in shown("check", str(folder), "--format", form)[0]


def test_problems_of_other_commands_are_in_colour_too(folder: Path) -> None:
    out, err = shown("log", str(folder / "b.route"))
    assert out == ""
    assert f": {RED}error{END}: " in err


def test_progress_is_shown_on_standard_error_and_taken_away(folder: Path) -> None:
    _, err = shown("check", str(folder), out=False)
    assert "files  [" in err
    assert "1/3" in err
    assert "3/3" in err
    assert err.rstrip().endswith("3 flights: 1 ok, 0 warnings, 1 error, 1 problem")
    assert f"{BAR}3 flights: " in err


@pytest.mark.parametrize("asked", [("--requirement", "61.109"), ("--jobs", "2")])
def test_other_questions_show_it_too(folder: Path, asked: tuple[str, ...]) -> None:
    assert "3/3" in shown("check", str(folder), *asked, out=False)[1]


def test_a_log_of_a_folder_shows_it_too(folder: Path) -> None:
    assert "3/3" in shown("log", str(folder), out=False)[1]


def test_no_progress_without_a_terminal_and_for_one_file(folder: Path) -> None:
    _, err = shown("check", str(folder), out=False, err=False)
    assert "\x1b" not in err
    assert "1/3" not in err
    _, err = shown("check", str(folder / "c.route"), out=False)
    assert "[#" not in err
    _, err = shown("check", str(folder), out=False, more={"TERM": "dumb"})
    assert "1/3" not in err


def test_an_import_shows_how_far_it_is(tmp_path: Path) -> None:
    words = ("catalogue", "import", str(EXAMPLES / "islands"), "--catalogue", str(tmp_path / "c.sqlite"))
    assert "importing  [" in shown(*words, out=False)[1]
    assert "importing" not in shown(*words, out=False, err=False)[1]


def test_what_stands_in_a_file_cannot_colour_the_terminal(folder: Path) -> None:
    (folder / "a.route").write_text(changed("note \x1b[31mred", "fuel 3gal"), "utf-8")
    out, err = shown("check", str(folder / "a.route"))
    assert "\x1b[31mred" not in out + err
