"""Every command with arguments made up from its own parameters: an answer or a problem, and no half-written file."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from pathlib import Path
from random import Random
from shutil import copytree

import click
import pytest
from helpers.damaged import ODD_WORDS, damaged
from helpers.flown import EXAMPLES, navlog
from helpers.fuzzed import ANSWERS
from helpers.nasr_excerpt import DATA
from helpers.watched import within_seconds
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from navlog.catalogue import import_data
from navlog.cli import COMMANDS, commands

OPENED = {"file", "paths", "path", "answers", "route_file", "catalogue", "since"}
READ = (
    "trip.route",
    "folder",
    "answers.csv",
    "trainer.toml",
    "catalogue.sqlite",
    "none.route",
    ".",
    "-",
    "",
    "a" * 300,
)
WRITTEN = ("out.csv", "out.html", "out.txt", "none/out.kml", "-", "", ".")


VALUES = (
    *("QHB", "QEL", "XHAR", "GLL", "230/15", "calm", "045", "230M", "110kt", "20nm", "5500ft", "FL085", "2026-07-18"),
    *("15:10Z", "15:25", "0:06", "75s", "8.5gph", "34.5gal", "29.92inHg", "-10C", "15W", "2", "0.5"),
    "N46 05.00 W039 02.00",
)
TRIP = (EXAMPLES / "round_robin.route").read_text("utf-8")


def every_command() -> Iterator[tuple[tuple[str, ...], click.Command]]:
    context = click.Context(commands)
    for name in COMMANDS:
        command = commands.get_command(context, name)
        assert command is not None
        if isinstance(command, click.Group):
            yield from (((name, below), one) for below, one in command.commands.items())
        else:
            yield (name,), command


ALL = dict(every_command())


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a file of every kind that a command may be given."""
    folder = tmp_path_factory.mktemp("made")
    (folder / "folder").mkdir()
    for name in ("trip.route", "folder/a.route"):
        (folder / name).write_text(TRIP, "utf-8")
    (folder / "answers.csv").write_bytes(ANSWERS)
    (folder / "trainer.toml").write_bytes((EXAMPLES / "trainer.toml").read_bytes())
    (folder / "briefing.txt").write_bytes((EXAMPLES / "briefing.txt").read_bytes())
    import_data(EXAMPLES / "islands", folder / "catalogue.sqlite")
    copytree(DATA / "ourairports", folder / "published")
    return folder


STAND_INS = {
    "examples/round_robin.route": "trip.route",
    "examples/terrain": str(EXAMPLES / "terrain"),
    "examples/briefing.txt": "briefing.txt",
    "routes": "folder",
    "14_May_2026_CSV.zip": "published",
    "4": "1",
    "ACY": "GLL",
    "V12": "V101",
    "V583": "V101",
}
"""For words of the examples that name what is not there, and for the many processes of one."""


def example_of(command: click.Command) -> list[str]:
    """The arguments of the example in the command's help, of files that are there and of the excerpt's names."""
    words = shlex.split((command.epilog or "").partition("navlog ")[2])
    words = words[2:] if words[0] == "catalogue" else words[1:]
    return [STAND_INS.get(word, word) for word in words]


def value_of(parameter: click.Parameter, chance: Random) -> str:
    """A value that a parameter may be given, good or bad."""
    if parameter.name in OPENED and parameter.type.name in ("path", "text"):
        writes = isinstance(parameter, click.Option) and "--output" in parameter.opts
        return chance.choice(WRITTEN if writes else READ)
    if isinstance(parameter.type, click.Choice) and chance.random() < 0.9:
        return chance.choice([str(choice) for choice in parameter.type.choices if choice != "pdf"])
    if parameter.name == "jobs":
        return chance.choice(("1", "0", "-1", "x", "257"))
    return chance.choice(VALUES if chance.random() < 0.8 else ODD_WORDS)


def arguments(command: click.Command, chance: Random) -> list[str]:
    """The command's example with an option or two added, and now and then a word changed or missing."""
    found = example_of(command)
    if chance.random() < 0.5:
        place = chance.randrange(len(found) or 1)
        there = found[place : place + 1]
        other = [chance.choice(READ) if word in READ else damaged(word, VALUES, chance, most=1) for word in there]
        found[place : place + 1] = other if chance.random() < 0.8 else []
    options = [one for one in command.params if isinstance(one, click.Option)]
    for option in chance.sample(options, min(len(options), chance.choice((0, 1, 1, 2)))):
        found += [
            max(option.opts, key=len),
            *(value_of(option, chance) for _ in range(option.nargs * (not option.is_flag))),
        ]
    found = [word for word in found if word not in ("/", "..")]  # to look through the whole disk takes its time
    if "catalogue" in {option.name for option in options} and "--catalogue" not in found:
        found += ["--catalogue", "catalogue.sqlite"]  # never the user's own
    return found


@pytest.mark.parametrize("name", ALL, ids=" ".join)
@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(seed=st.integers(0, 2**32))
def test_any_arguments_get_an_answer_or_a_problem(
    name: tuple[str, ...], made: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    monkeypatch.chdir(made)
    with within_seconds(2.0):
        run = navlog(*name, *arguments(ALL[name], Random(seed)), typed=TRIP)
    assert run.status in (0, 1, 2), run.err
    assert run.status == 0 or run.out or run.err
    assert not list(made.glob("**/.navlog-*"))
    assert not re.search("Traceback|navlog: bug", run.err)
    for path in made.glob("out.*"):
        assert path.stat().st_size
        path.unlink()


def test_the_examples_in_the_help_get_an_answer(made: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """So what is changed in them is good."""
    monkeypatch.chdir(made)
    for name, command in ALL.items():
        options = ["--catalogue", "catalogue.sqlite"] if name[0] in ("catalogue", "propose", "without") else []
        run = navlog(*name, *example_of(command), *options)
        assert run.status in (0, 1), run


CLOCK = ("QHB 15:17", "QEL 15:35", "cop 15:25", "QEL 25:00", "QHB 1517Z", "XOLD 15:10", "QHB 00:00", "QQQ 15:00")


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(
    passed=st.lists(st.sampled_from(CLOCK), max_size=4),
    headings=st.lists(st.sampled_from(("QHB 267M", "QEL 213", "QHB 0T", "cop 360C", "QEL x")), max_size=2),
    fuel=st.sampled_from(("", "30gal", "0gal", "999gal", "100L", "-1gal")),
    form=st.sampled_from(("text", "json")),
)
def test_any_passages_are_revised_or_refused(passed: list[str], headings: list[str], fuel: str, form: str) -> None:
    options = [word for one in passed for word in ("--at", *one.split())]
    options += [word for one in headings for word in ("--heading", *one.split())]
    options += ["--fuel", fuel] if fuel else []
    with within_seconds(2.0):
        run = navlog("revise", "-", *options, "--format", form, typed=TRIP)
    assert run.status in (0, 1, 2), run.err
    assert bool(run.out) == (run.status != 2)


@pytest.mark.parametrize("words", [("catalogue", "import", "a\0b"), ("log", "trip.route", "--output", "a\0b")], ids=str)
def test_a_null_character_in_an_argument_is_a_problem(words: tuple[str, ...]) -> None:
    run = navlog(*words)
    assert (run.status, run.out) == (2, "")
    assert run.err.endswith("Error: An argument holds a null character.\n")
