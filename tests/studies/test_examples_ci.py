"""The gate of the examples works as its comments say, and the index of the examples names them all."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, changed, navlog

from navlog.catalogue import import_data


@pytest.fixture
def school(tmp_path: Path) -> Path:
    """A folder with a program `navlog`, and routes of which one has an error that is known."""
    shim = tmp_path / "bin" / "navlog"
    shim.parent.mkdir()
    shim.write_text(f'#!/bin/sh\nexec {shlex.quote(sys.executable)} -m navlog "$@"\n')
    shim.chmod(0o755)
    (tmp_path / "routes").mkdir()
    (tmp_path / "routes" / "old.route").write_text(changed("fuel 9gal"), "utf-8")
    return tmp_path


def gate(school: Path) -> subprocess.CompletedProcess[str]:
    environment = {name: value for name, value in os.environ.items() if not name.startswith("NAVLOG_")}
    environment["PATH"] = f"{school / 'bin'}{os.pathsep}{os.environ['PATH']}"
    environment["XDG_CONFIG_HOME"] = str(school / "config")
    command = ["sh", str(EXAMPLES / "ci" / "gate.sh"), "routes"]
    return subprocess.run(command, cwd=school, env=environment, capture_output=True, text=True, check=False)


@pytest.mark.skipif(os.name != "posix", reason="the gate is a script of a POSIX shell")
def test_the_gate_lets_old_findings_be_and_stops_new_ones(school: Path) -> None:
    assert navlog("check", str(school / "routes")).status == 1
    first = gate(school)
    assert first.returncode == 0, first.stderr
    assert (school / "routes" / "known.json").exists()
    assert gate(school).returncode == 0
    (school / "routes" / "new.route").write_text(changed("fuel 8.8gal"), "utf-8")
    new = gate(school)
    assert new.returncode == 1
    assert "new.route" in new.stdout
    assert "old.route" not in new.stdout
    (school / "routes" / "new.route").write_text(changed("route XHAR NOWHERE"), "utf-8")
    assert gate(school).returncode == 2


def test_every_command_of_the_workflow_runs(school: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = (EXAMPLES / "ci" / "workflow.yml").read_text("utf-8")
    commands = re.findall(r"run: navlog (.*?)(?: > \S+ \|\| true)?$", text, re.MULTILINE)
    assert len(commands) == 3
    monkeypatch.chdir(school)
    shutil.copytree(EXAMPLES / "islands", school / "data")
    import_data(EXAMPLES / "islands", school / "us.sqlite")
    words = ("routes", "--catalogue", "us.sqlite", "--write-baseline", "routes/known.json")
    assert navlog("check", *words).status == 1
    outcome = [navlog(*shlex.split(command)) for command in commands]
    assert [one.status for one in outcome] == [0, 0, 1]
    assert outcome[2].out.startswith('{"version": "2.1.0"')


def test_the_index_names_every_example() -> None:
    index = (EXAMPLES / "README.md").read_text("utf-8")
    there = {one.name + ("/" if one.is_dir() else "") for one in EXAMPLES.iterdir() if one.name != "__pycache__"}
    assert set(re.findall(r"^\| `(\S+?)` \|", index, re.MULTILINE)) == there - {"README.md"}


@pytest.mark.parametrize(
    "command", re.findall(r"`navlog ([^`]+)`", (EXAMPLES / "README.md").read_text("utf-8")), ids=lambda one: one[:20]
)
def test_a_command_of_the_index_runs(command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(EXAMPLES.parent)
    more = ("--catalogue", str(tmp_path / "c.sqlite")) if command.startswith("catalogue") else ()
    assert navlog(*shlex.split(command), *more).status == 0
