"""Answers remembered by what was asked, with a bound."""

from __future__ import annotations

import pytest

from navlog.nav.remembered import Remembered


def test_a_question_asked_again_is_answered_from_memory() -> None:
    asked: list[tuple[int, int]] = []

    def added(one: int, other: int) -> int:
        asked.append((one, other))
        return one + other

    sums: Remembered[tuple[int, int], int] = Remembered(added, 8)
    assert [sums[2, 3], sums[3, 2], sums[2, 3], sums[3, 2]] == [5, 5, 5, 5]
    assert asked == [(2, 3), (3, 2)]


def test_the_oldest_answers_go_where_there_is_no_room() -> None:
    asked: list[int] = []

    def squared(number: int) -> int:
        asked.append(number)
        return number * number

    squares: Remembered[tuple[int], int] = Remembered(squared, 16)
    for number in range(100):
        assert squares[(number,)] == number * number
        assert len(squares) <= 16
    asked.clear()
    assert [squares[(number,)] for number in (99, 90, 0)] == [9801, 8100, 0]
    assert asked == [0]


def test_what_the_function_raises_is_raised_each_time() -> None:
    quotients: Remembered[tuple[float, float], float] = Remembered(lambda one, other: one / other, 1)
    for _ in range(2):
        with pytest.raises(ZeroDivisionError):
            quotients[1.0, 0.0]
    assert quotients[1.0, 2.0] == 0.5
