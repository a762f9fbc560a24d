"""Damaged files of every kind: a result or a problem, never anything else, and never long."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest
from helpers.flown import navlog
from helpers.fuzzed import FORMS, NASR_FILES, TARGETS, Target, tidied
from helpers.nasr_excerpt import DATA
from helpers.watched import within_seconds
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from navlog.catalogue import import_data
from navlog.nav.problems import NavlogError

SEEDS = st.integers(0, 2**32)
PUBLISHED = sorted(path.parent for path in (DATA / "invalid" / "published").glob("*/expected.txt"))


def a_damaged_file(target: Target, seed: int) -> bytes:
    chance = Random(seed)
    return target.damaged(chance.choice(target.seeds), target.words(), chance)


def came_through(reader: Callable[[bytes], None], data: bytes) -> bool:
    """Whether a file was accepted; it is refused with problems or not at all."""
    try:
        reader(data)
    except NavlogError as error:
        return not error.problems
    return True


@pytest.mark.parametrize(("name", "examples"), [("bulletin", 150), ("answers", 150), ("aircraft", 40), ("route", 20)])
def test_a_damaged_text_is_read_or_refused(name: str, examples: int) -> None:
    """An aircraft is flown, a route's flights are computed, explained, compared and revised."""

    @settings(max_examples=examples)
    @given(seed=SEEDS)
    def read(seed: int) -> None:
        with within_seconds(2.0):
            came_through(TARGETS[name].run, a_damaged_file(TARGETS[name], seed))

    read()


@pytest.mark.parametrize("name", ["cifp", "ourairports", "zip", *(f"nasr-{name}" for name in NASR_FILES)])
@settings(max_examples=25)
@given(seed=SEEDS)
def test_a_damaged_publication_is_imported_in_part_or_refused(name: str, seed: int) -> None:
    with within_seconds(2.0):
        came_through(TARGETS[name].run, a_damaged_file(TARGETS[name], seed))


@settings(max_examples=300)
@given(seed=SEEDS, form=st.sampled_from(FORMS))
def test_a_damaged_route_file_gives_sheets_or_problems(seed: int, form: str) -> None:
    data = a_damaged_file(TARGETS["route"], seed)
    with within_seconds(2.0):
        run = navlog("log", "-", "--format", form, typed=data)
    assert run.status in (0, 1, 2), run.err
    assert (run.status == 2) == ("error: " in run.err)
    assert run.status == 2 or run.out


@settings(max_examples=100)
@given(seed=SEEDS)
def test_a_damaged_route_file_is_tidied_once_for_all(seed: int) -> None:
    with within_seconds(2.0):
        came_through(tidied, a_damaged_file(TARGETS["route"], seed))


@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.binary(max_size=200) | st.text(max_size=200).map(lambda text: text.encode("utf-8", "surrogatepass")))
def test_any_bytes_are_refused_by_every_reader(data: bytes) -> None:
    for name in ("aircraft", "bulletin", "answers", "route"):
        with pytest.raises(NavlogError):
            TARGETS[name].run(data)


@pytest.mark.parametrize("case", PUBLISHED, ids=lambda path: path.name)
def test_publications_that_once_fell_get_their_message(
    case: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(case.parent)
    run = navlog("catalogue", "import", case.name, "--catalogue", str(tmp_path / "catalogue.sqlite"))
    assert run.status == 2
    assert run.err.startswith((case / "expected.txt").read_text("utf-8").rstrip("\n"))
    assert not (tmp_path / "catalogue.sqlite").exists()


def test_good_files_are_good() -> None:
    """What damage is done to is accepted."""
    readers = [(tidied if name == "route" else target.run, target.seeds) for name, target in TARGETS.items()]
    assert all(came_through(reader, seed) for reader, seeds in readers for seed in seeds)


def test_the_excerpts_are_whole(tmp_path: Path) -> None:
    assert import_data(DATA / "nasr", tmp_path / "catalogue.sqlite").rejected == 0
