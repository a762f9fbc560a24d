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


@pytest.mark.parametrize(
    ("altitudes_ft", "values", "wrong"),
    [
        # The line through 2000 and 3000 ft leads to 400 at 0 ft, of which 599 is less than one and a half times.
        ((0.0, 2000.0, 3000.0), [599.0, 200.0, 100.0], []),
        ((0.0, 2000.0, 3000.0), [601.0, 200.0, 100.0], [0]),
        # Of two slips the one that is missed by more: 1000 is 6.7 times 1.5 times 100, and 50 three quarters of 66.7.
        ((0.0, 2000.0, 4000.0, 6000.0, 8000.0, 9000.0), [100.0, 100.0, 1000.0, 100.0, 100.0, 50.0], [2]),
        ((0.0, 2000.0, 4000.0, 6000.0, 8000.0, 9000.0), [100.0, 100.0, 1.0, 100.0, 100.0, 160.0], [2]),
        # A speed does not fade with height as a rate does.
        ((0.0, 4000.0, 8000.0), [100.0, 100.0, 66.0], [2]),
        ((0.0, 4000.0, 8000.0), [100.0, 100.0, 67.0], []),
    ],
)
def test_what_the_two_nearest_rows_lead_to_expect_goes_by_their_altitudes(
    altitudes_ft: tuple[float, ...], values: list[float], wrong: list[int]
) -> None:
    assert list(_out_of_line(altitudes_ft, values, 1.5)) == wrong
