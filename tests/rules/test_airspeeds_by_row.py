"""A row of an aircraft's table with a digit lost, or one too many."""

from __future__ import annotations

import pytest
from helpers.judged import found

from navlog.rules.airspeeds import _out_of_line
from navlog.rules.samples import FLOWN_BY_FILE


@pytest.mark.parametrize(
    ("values", "times", "wrong"),
    [
        # Invented figures of plausible size: a climb dies away with height, a cruise grows a little.
        ([730.0, 540.0, 350.0, 160.0], 2.0, []),
        ([730.0, 540.0, 350.0, 50.0], 2.0, []),
        ([7200.0, 540.0, 350.0, 160.0], 2.0, [0]),
        ([730.0, 54.0, 350.0, 160.0], 2.0, [1]),
        ([730.0, 540.0, 350.0, 1600.0], 2.0, [3]),
        ([11.5, 10.4, 9.2, 8.1], 1.5, []),
        ([1.15, 10.4, 9.2, 8.1], 1.5, [0]),
        ([11.5, 10.4, 92.0, 8.1], 1.5, [2]),
        ([101.0, 204.0, 106.0, 110.0], 1.5, [1]),
        ([8.6, 8.5, 0.85, 8.4], 1.5, [2]),
    ],
)
def test_the_row_that_slipped_is_the_one_told(values: list[float], times: float, wrong: list[int]) -> None:
    assert list(_out_of_line((0.0, 4000.0, 8000.0, 12000.0), values, times)) == wrong


def test_a_row_out_of_line_is_told_with_the_one_beside_it() -> None:
    assert found("aircraft-row-doubtful", *FLOWN_BY_FILE, "aircraft slipped.toml") == [
        "warning: [climb] has a rate of 7200 at 0 ft, and 540 in the row beside"
    ]
