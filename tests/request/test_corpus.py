"""Whole files: wrong ones in `data/invalid` with the messages they deserve beside them, right ones in `data/valid`."""

from __future__ import annotations

from pathlib import Path

import pytest

from navlog.nav.problems import NavlogError, Problem, format_problem, in_order
from navlog.request.flights import read_flights
from navlog.request.lexer import decode
from navlog.request.parser import parse
from navlog.request.records import BrokenFlight
from navlog.request.writer import to_text

DATA = Path(__file__).parents[1] / "data"
INVALID = sorted((DATA / "invalid").glob("*.route"))
VALID = sorted((DATA / "valid").glob("*.route"))


def problems_of(path: Path) -> tuple[Problem, ...]:
    try:
        text = decode(path.read_bytes(), path.name)
    except NavlogError as error:
        return error.problems
    plans = read_flights(text, path.name)
    broken = (flight.problems for flight in plans.flights if isinstance(flight, BrokenFlight))
    return in_order([*plans.problems, *(problem for problems in broken for problem in problems)])


@pytest.mark.parametrize("path", INVALID, ids=lambda path: path.stem)
def test_invalid_files_get_their_expected_messages(path: Path) -> None:
    printed = "".join(f"{format_problem(problem)}\n" for problem in problems_of(path))
    assert printed == path.with_suffix(".expected").read_text(encoding="utf-8")


def test_no_expected_message_is_left_behind() -> None:
    assert {path.stem for path in INVALID} == {path.stem for path in (DATA / "invalid").glob("*.expected")}


@pytest.mark.parametrize("path", INVALID, ids=lambda path: path.stem)
def test_every_caret_lies_on_its_line(path: Path) -> None:
    for problem in problems_of(path):
        if problem.text is not None and problem.span is not None:
            assert 1 <= problem.span.column <= len(problem.text) + 1
            assert problem.span.column - 1 + problem.span.length <= len(problem.text) + 1


@pytest.mark.parametrize("path", VALID, ids=lambda path: path.stem)
def test_valid_files_are_read_without_problem(path: Path) -> None:
    assert problems_of(path) == ()


@pytest.mark.parametrize("path", VALID, ids=lambda path: path.stem)
def test_tidy_text_of_a_valid_file_is_tidy(path: Path) -> None:
    tidy = to_text(parse(decode(path.read_bytes(), path.name), path.name))
    assert to_text(parse(tidy, path.name)) == tidy


def test_tidy_text_gives_each_further_segment_a_line() -> None:
    text = "airway V801 1B1 - 034 QEL 29 180 - PINEY 12nm - 2C2 9 gap - QIL 5"
    assert to_text(parse(text, "t.route")).splitlines() == [
        "airway    V801 1B1 - 034 QEL 29",
        "          180 - PINEY 12nm",
        "          - 2C2 9  gap",
        "          - QIL 5",
    ]


def test_text_with_problems_is_not_rewritten() -> None:
    with pytest.raises(NavlogError) as caught:
        to_text(parse('tas 110kt\nflight "One"\nfuel much', "t.route"))
    assert [problem.code for problem in caught.value.problems] == ["bad-value"]
