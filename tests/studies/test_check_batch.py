"""A library checked on any executor: the same answers in the same order, and little of it held at once."""

from __future__ import annotations

import gc
import sys
import threading
from collections.abc import Iterator
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path

import pytest
from helpers.library import REAL_ROUTES, excerpt_catalogue, islands, real_library
from hypothesis import given
from hypothesis import strategies as st

from navlog.nav import magnetism
from navlog.studies import batch
from navlog.studies.batch import Engine, RouteSource, process_pool
from navlog.studies.checking import Settings, Verdict, check_sources
from navlog.studies.route_files import route_files


@pytest.fixture(scope="module")
def settings(tmp_path_factory: pytest.TempPathFactory) -> Settings:
    return Settings(catalogue=excerpt_catalogue(tmp_path_factory.mktemp("catalogue")), json=True)


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    return real_library(tmp_path_factory.mktemp("routes"), 40)


@pytest.fixture(scope="module")
def alone(files: list[str], settings: Settings) -> list[tuple[Verdict, ...]]:
    """The verdicts of one thread."""
    return list(check_sources(sources(files), settings))


def sources(files: list[str]) -> Iterator[RouteSource]:
    return (RouteSource(file) for file in files)


def test_the_library_is_worth_checking(alone: list[tuple[Verdict, ...]]) -> None:
    verdicts = [one for group in alone for one in group]
    assert len(verdicts) == 80
    assert {"ok", "warning", "error"} & {one.status for one in verdicts}
    assert len({finding.rule for one in verdicts for finding in one.findings}) > 5


def test_two_processes_give_the_same_in_the_same_order(
    files: list[str], settings: Settings, alone: list[tuple[Verdict, ...]]
) -> None:
    with process_pool(2) as executor:
        assert list(check_sources(sources(files), settings, Engine(executor, 4, 3))) == alone


def test_threads_that_switch_all_the_time_give_the_same(
    files: list[str], settings: Settings, alone: list[tuple[Verdict, ...]]
) -> None:
    # The magnetic model keeps its work in itself and SQLite its thread: each thread has its own of both.
    before = sys.getswitchinterval()
    sys.setswitchinterval(1e-6)
    try:
        for _ in range(3):
            magnetism.declination_and_zone.cache_clear()
            with ThreadPoolExecutor(8) as executor:
                found = list(check_sources(sources(files), settings, Engine(executor, 16, 1)))
            assert found == alone
    finally:
        sys.setswitchinterval(before)


LARGE = [
    f'flight "{number}"\n  altitude {2_500 + 500 * number}\n  route {REAL_ROUTES[number % 7]}\n' for number in range(9)
]
COMMON = "date 2026-05-14\ntas 120kt\nwind 250/20\n"


@pytest.mark.parametrize(
    "text",
    [
        COMMON + "".join(LARGE),
        COMMON + "".join([*LARGE, 'flight "4"\n  altitude 4500\n  route CHS V1 CRE\n']),
        COMMON + "".join([*LARGE, 'flight "broken"\n  altitude high\n  route CHS V1 CRE\n']),
        COMMON + "tas fast\n" + "".join(LARGE),
        # A place that one flight accepts and another writes; one that no route line writes, but an airway passes.
        COMMON + "".join([*LARGE, 'flight "taken"\n  accept under-mea at LIBEL "seen"\n', *LARGE[1][11:]]),
        COMMON + 'accept under-mea at LIBEL "seen"\n' + "".join(LARGE),
        COMMON + 'accept under-mea at CRESO "seen"\n' + "".join(LARGE),
    ],
    ids=["plain", "named twice", "broken", "common", "accepted", "accepted by all", "accepted nowhere"],
)
def test_a_large_file_is_told_as_one_whatever_its_parts(
    text: str, settings: Settings, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "large.route"
    file.write_text(text, "utf-8")
    (whole,) = check_sources([RouteSource(str(file))], settings)
    for least in (50, 130, 250):
        monkeypatch.setattr(batch, "_BYTES_A_TASK", least)
        executor = Recording()
        assert (
            list(check_sources([RouteSource(str(file))] * 2, settings, Engine(executor, bytes_a_task=1))) == [whole] * 2
        )
        assert executor.submitted >= 4
    assert len(whole) in (1, len(LARGE), len(LARGE) + 1)


class Recording(Executor):
    """Works at once, and counts what is submitted and not yet taken."""

    def __init__(self) -> None:
        self.submitted = 0

    def submit(self, function, /, *args, **kwargs):  # type: ignore[no-untyped-def]
        self.submitted += 1
        future: Future[object] = Future()
        future.set_result(function(*args, **kwargs))
        return future


def test_only_a_window_of_tasks_is_under_way() -> None:
    executor, taken = Recording(), 0
    for answer in Engine(window=5).in_order(executor, abs, range(-100, 0)):
        taken += 1
        assert answer == 101 - taken
        assert executor.submitted - taken < 5
    assert taken == 100


def test_tasks_that_have_not_begun_are_dropped_when_the_caller_stops() -> None:
    gate = threading.Event()
    with ThreadPoolExecutor(1) as executor:

        def wait(number: int) -> int:
            return number if number == 0 else gate.wait(5) and number

        answers = Engine(window=10).in_order(executor, wait, range(50))
        assert next(answers) == 0
        answers.close()  # type: ignore[attr-defined]
        gate.set()
    assert executor._work_queue.qsize() <= 1


def test_the_results_are_never_all_held(tmp_path: Path) -> None:
    (name,) = islands(tmp_path, base="altitude 2300")
    held = []
    for number, _ in enumerate(
        check_sources((RouteSource(name) for _ in range(200)), Settings(), Engine(files_a_task=4))
    ):
        if number in (20, 100, 190):
            held.append(sum(isinstance(one, Verdict) for one in gc.get_objects()))
    assert max(held) - min(held) <= 4


NAMES = st.text("ab-.", min_size=1, max_size=2).filter(lambda name: name not in (".", ".."))


@given(st.lists(st.tuples(st.lists(NAMES, max_size=2), NAMES), max_size=8), st.data())
def test_route_files_come_by_name_and_each_once(
    tmp_path_factory: pytest.TempPathFactory, made: list[tuple[list[str], str]], data: st.DataObject
) -> None:
    root = tmp_path_factory.mktemp("walk")
    for folders, name in made:
        inner = root.joinpath(*folders)
        with suppress(FileExistsError, NotADirectoryError):
            inner.mkdir(parents=True, exist_ok=True)
            (inner / f"{name}.route").touch(exist_ok=True)
    (root / "z.route").touch()
    # Another way to the same: all names first, hidden ones taken out, then sorted as whole paths.
    every = sorted(
        str(path)
        for path in root.rglob("*.route")
        if path.is_file() and not any(part.startswith(".") for part in path.relative_to(root).parts)
    )
    assert list(route_files([str(root)])) == every
    assert len(route_files([str(root)])) == len(every)
    some = data.draw(st.sampled_from(every))
    assert list(route_files([str(root), some])) == every
    assert list(route_files([some, str(root)])) == [some, *(one for one in every if one != some)]


def test_a_file_by_a_link_that_a_folder_does_not_follow_is_read(tmp_path: Path) -> None:
    for folder in ("far", "near"):
        (tmp_path / folder).mkdir()
    (name,) = islands(tmp_path / "far", one="altitude 4500")
    (tmp_path / "near" / "link").symlink_to(tmp_path / "far")
    linked = tmp_path / "near" / "link" / Path(name).name
    (plain,) = islands(tmp_path / "near", two="altitude 4500")
    assert list(route_files([str(tmp_path / "near"), str(linked)])) == [plain, str(linked)]


def test_a_file_that_cannot_be_read_is_a_verdict_and_the_next_is_checked(tmp_path: Path) -> None:
    (good,) = islands(tmp_path, good="altitude 4500")
    found = list(check_sources([RouteSource(str(tmp_path / "gone.route")), RouteSource(good)], Settings()))
    assert [[one.status for one in group] for group in found] == [["problem"], ["ok"]]
    assert found[0][0].problems[0].code == "cannot-read"


def test_a_catalogue_made_anew_is_opened_anew(tmp_path: Path) -> None:
    from navlog.studies.batch import catalogue_here

    path = excerpt_catalogue(tmp_path)
    first = catalogue_here(path)
    assert catalogue_here(path) is first
    excerpt_catalogue(tmp_path)
    assert catalogue_here(path) is not first


def test_the_memory_of_tuples_that_are_gone_is_given_back() -> None:
    held = [(number,) * 18 for number in range(1_500)]
    before = sys.getallocatedblocks()
    # Python keeps their blocks for later tuples of that length.
    del held
    kept = sys.getallocatedblocks()
    batch._give_back()
    assert before - sys.getallocatedblocks() > 1_400 > before - kept


def test_giving_back_memory_leaves_what_the_calling_program_has_put_out_of_the_collectors_sight() -> None:
    gc.freeze()
    try:
        batch._give_back()
        assert gc.get_freeze_count() > 0
    finally:
        gc.unfreeze()
    batch._give_back()
    assert gc.get_freeze_count() == 0
