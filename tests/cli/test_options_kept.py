"""No option is passed over in silence: not the first of two values, nor one that what is asked for has no use of."""

from __future__ import annotations

from pathlib import Path

import click
import pytest
from helpers.flown import EXAMPLES, changed, navlog

from navlog.cli import COMMANDS, commands


def single_options() -> list[tuple[str, str, int]]:
    """Every option of one value, with the words of its command and how many words it takes."""
    found = []
    root = click.Context(commands)
    for name in COMMANDS:
        top = commands.get_command(root, name)
        inner = [(name, top)]
        if isinstance(top, click.Group):
            inner = [(f"{name} {word}", one) for word, one in top.commands.items()]
        for words, command in inner:
            assert command is not None
            for one in command.params:
                if isinstance(one, click.Option) and not (one.multiple or one.is_flag):
                    found.append((words, one.opts[0], one.nargs))
    return found


def test_no_option_takes_the_last_of_two_values() -> None:
    asked = {(words, option) for words, option, _ in single_options()}
    assert {("log", "--page"), ("check", "--fuel"), ("catalogue info", "--catalogue"), ("wind", "--format")} <= asked
    wrong = [
        (words, option)
        for words, option, nargs in single_options()
        for run in [navlog(*words.split(), *([option, *["1"] * nargs] * 2))]
        if run.status != 2 or run.out or f"{option} stands twice; it takes one value." not in run.err
    ]
    assert wrong == []


@pytest.mark.parametrize("form", ["text", "csv", "gpx"])
def test_a_page_is_for_what_has_pages(form: str) -> None:
    run = navlog("log", str(EXAMPLES / "dogleg.route"), "--format", form, "--page", "a5")
    assert (run.status, run.out) == (2, "")
    assert "--page goes with the formats strip, pdf, html" in run.err
    assert navlog("log", str(EXAMPLES / "dogleg.route"), "--format", "strip", "--page", "a5").status == 0


@pytest.mark.parametrize("part", [("--select", "under-mea"), ("--ignore", "under-mea"), ("--min-severity", "error")])
def test_a_baseline_is_never_one_of_a_part(part: tuple[str, str], tmp_path: Path) -> None:
    baseline = tmp_path / "known.json"
    run = navlog("check", str(EXAMPLES / "dogleg.route"), *part, "--write-baseline", str(baseline))
    assert run.status == 2
    assert "A baseline keeps every finding" in run.err
    assert not baseline.exists()


@pytest.mark.parametrize("command", ["check", "log"])
def test_a_problem_of_the_whole_file_is_told_once(command: str, tmp_path: Path) -> None:
    common, _, route = changed("aircraft gone.toml", without=("tas", "burn", "fuel", "taxi")).rpartition("route ")
    flights = "".join(f'flight "{number}"\n  route {route}' for number in range(3))
    (tmp_path / "three.route").write_text(f"{common}{flights}", "utf-8")
    run = navlog(command, str(tmp_path / "three.route"))
    assert run.status == 2
    assert run.err.count("cannot read `gone.toml`") == 1
    annotated = navlog("check", str(tmp_path / "three.route"), "--format", "github")
    assert annotated.out.count("cannot read `gone.toml`") == 1
