"""Damaged files of every kind: a result or a problem, never anything else, and never long."""

from __future__ import annotations

from itertools import count
from pathlib import Path
from random import Random

import pytest
from helpers.flown import navlog
from helpers.fuzzed import FORMS, NASR_FILES, TARGETS
from helpers.fuzzed_parts import PARTS
from helpers.nasr_excerpt import DATA
from helpers.target import Target
from helpers.watched import within_seconds
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from navlog.catalogue import import_data
from navlog.nav.problems import NavlogError, Problem, Span

SEEDS = st.integers(0, 2**32)
PUBLISHED = sorted(path.parent for path in (DATA / "invalid" / "published").glob("*/expected.txt"))


def a_damaged_file(target: Target, seed: int) -> bytes:
    chance = Random(seed)
    return target.damaged(chance.choice(target.seeds), chance)


WHOLE = {"bulletin": 100, "answers": 100, "passages": 50, "command-line": 50, "aircraft": 40, "route": 40}
"""How often what is read and flown to the end is tried; what is read alone 100 times."""


@pytest.mark.parametrize("name", [*PARTS, *WHOLE])
def test_a_damaged_text_is_read_or_refused(name: str) -> None:
    """An aircraft is flown, a route's flights are computed, explained, compared and revised."""

    @settings(max_examples=WHOLE.get(name, 100))
    @given(seed=SEEDS)
    def read(seed: int) -> None:
        with within_seconds(2.0):
            TARGETS[name].accepts(a_damaged_file(TARGETS[name], seed))

    read()


@pytest.mark.parametrize("name", ["cifp", "ourairports", "obstacles", "zip", *(f"nasr-{name}" for name in NASR_FILES)])
@settings(max_examples=25)
@given(seed=SEEDS)
def test_a_damaged_publication_is_imported_in_part_or_refused(name: str, seed: int) -> None:
    with within_seconds(2.0):
        TARGETS[name].accepts(a_damaged_file(TARGETS[name], seed))


def test_most_damage_to_an_archive_is_in_what_it_holds() -> None:
    read = [TARGETS["zip"].accepts(a_damaged_file(TARGETS["zip"], seed)) for seed in range(60)]
    assert sum(read) >= 40


@settings(max_examples=300)
@given(seed=SEEDS, form=st.sampled_from(FORMS))
def test_a_damaged_route_file_gives_sheets_or_problems(seed: int, form: str) -> None:
    data = a_damaged_file(TARGETS["route"], seed)
    with within_seconds(2.0):
        run = navlog("log", "-", "--format", form, typed=data)
    assert run.status in (0, 1, 2), run.err
    assert (run.status == 2) == ("error: " in run.err)
    assert run.status == 2 or run.out


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


@pytest.mark.parametrize("name", TARGETS)
def test_good_files_are_good(name: str) -> None:
    """Most of what damage is done to is accepted."""
    accepted = [TARGETS[name].accepts(seed) for seed in TARGETS[name].seeds]
    assert sum(accepted) >= 0.8 * len(accepted)


def test_a_problem_outside_its_file_and_a_second_answer_are_faults() -> None:
    def refused(data: bytes) -> object:
        raise NavlogError(Problem("bad-word", "no such word", Span("a.route", 2, 7)))

    Target(refused, [], "a.route").accepts(b"one\nfourth")
    with pytest.raises(AssertionError, match="of 1 lines"):
        Target(refused, [], "a.route").accepts(b"one")
    with pytest.raises(AssertionError, match="fifth"):
        Target(refused, [], "a.route").accepts(b"one\nfifth")
    answers = count()
    unsteady = Target(lambda data: next(answers), [])
    with pytest.raises(AssertionError, match="another answer"):
        all(map(unsteady.accepts, (b"%d" % number for number in range(100))))


def test_the_excerpts_are_whole(tmp_path: Path) -> None:
    assert import_data(DATA / "nasr", tmp_path / "catalogue.sqlite").rejected == 0
