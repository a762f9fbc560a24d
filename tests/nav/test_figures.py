"""Numbers as a pilot reads them: levels to the nearest hundred feet, and days by the calendar."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from navlog.nav import figures


@pytest.mark.parametrize(
    ("height_ft", "text"),
    [(18_449, "FL184"), (18_450, "FL185"), (18_460, "FL185"), (18_500, "FL185"), (9_000, "FL090")],
)
def test_a_pressure_altitude_is_told_as_the_nearest_level(height_ft: float, text: str) -> None:
    assert figures.level(height_ft, flight_level=True) == text


@pytest.mark.parametrize(
    ("moment", "day", "mark"),
    [
        (datetime(2026, 7, 18, 23, 59, tzinfo=UTC), date(2026, 7, 18), ""),
        (datetime(2026, 7, 19, 0, 1, tzinfo=UTC), date(2026, 7, 18), "+1"),
        # The last of a month, a year and a February.
        (datetime(2026, 8, 1, 0, 8, tzinfo=UTC), date(2026, 7, 31), "+1"),
        (datetime(2027, 1, 1, 0, 8, tzinfo=UTC), date(2026, 12, 31), "+1"),
        (datetime(2028, 3, 1, 0, 8, tzinfo=UTC), date(2028, 2, 28), "+2"),
        # By the clock of a zone to the west it may still be the day before.
        (datetime(2026, 7, 31, 23, 8, tzinfo=UTC), date(2026, 8, 1), "-1"),
        (datetime(2026, 7, 28, 0, 8, tzinfo=UTC), date(2026, 7, 18), ">9"),
    ],
)
def test_another_day_is_told_by_how_many_days_it_is_off(moment: datetime, day: date, mark: str) -> None:
    assert figures.day_mark(moment, day) == mark
    assert figures.zulu(moment, day) == f"{moment:%H:%M}Z{mark}"
