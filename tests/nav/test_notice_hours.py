"""Hours within a notice's period, by FAA Order JO 7930.2P, 3-3-1 (days) and 3-3-2 (a day is 0000 to 2359, UTC)."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.nav.notice_hours import hours_among, open_between, read_hours


def at(text: str) -> datetime:
    return datetime.strptime(text, "%Y-%m-%d %H%M").replace(tzinfo=UTC)


# 2026-07-18 is a Saturday.
CASES = [
    ("DLY 1200-2200", "2026-07-18 1200", True),
    ("DLY 1200-2200", "2026-07-18 1159", False),
    ("DAILY 1200-2200", "2026-07-18 2200", True),
    ("DLY 1200-2200", "2026-07-18 2201", False),
    ("DLY 2200-0500", "2026-07-18 0459", True),
    ("DLY 2200-0500", "2026-07-18 2330", True),
    ("DLY 2200-0500", "2026-07-18 0501", False),
    ("MON-FRI 0700-1500", "2026-07-17 0800", True),
    ("MON-FRI 0700-1500", "2026-07-18 0800", False),
    ("FRI-MON 0700-1500", "2026-07-19 0800", True),
    ("FRI-MON 0700-1500", "2026-07-21 0800", False),
    ("MON WED FRI 0700-1500", "2026-07-17 0800", True),
    ("MON WED FRI 0700-1500", "2026-07-16 0800", False),
    # Friday's hours run on into Saturday.
    ("FRI 2200-0500", "2026-07-18 0300", True),
    ("FRI 2200-0500", "2026-07-17 0300", False),
    ("SAT SUN 0600-1200 1800-2000", "2026-07-18 1900", True),
    ("SAT SUN 0600-1200 1800-2000", "2026-07-18 1300", False),
    ("MON-FRI 0700-1500, SAT 0900-1000", "2026-07-18 0930", True),
    ("DLY 0000-2359", "2026-07-18 2359", True),
    # Of two stretches joined by a word each counts.
    ("FRI 2200-SAT 0600 AND SUN 2200-MON 0600", "2026-07-18 0300", True),
    ("FRI 2200-SAT 0600 AND SUN 2200-MON 0600", "2026-07-19 2300", True),
    ("FRI 2200-SAT 0600 AND SUN 2200-MON 0600", "2026-07-19 2100", False),
    # From an hour of a day to an earlier one of the same day is all but a week, to itself all of one.
    ("FRI 0600-FRI 0600", "2026-07-16 1200", True),
    ("FRI 0600-FRI 0600", "2026-07-18 1200", True),
    ("SUN 2200-SUN 0600", "2026-07-18 1200", True),
    ("SUN 2200-SUN 0600", "2026-07-19 0559", True),
    ("SUN 2200-SUN 0600", "2026-07-19 1200", False),
    ("FRI 2200-SAT 0600", "2026-07-17 2159", False),
    ("FRI 2200-SAT 0600", "2026-07-18 0600", True),
    ("FRI 2200-SAT 0600", "2026-07-18 0601", False),
    ("FRI 2200-MON 0600", "2026-07-19 1200", True),
    ("FRI 2200-MON 0600", "2026-07-21 0000", False),
    ("SAT 1200-SAT 1100", "2026-07-17 0000", True),
    ("SAT 1200-SAT 1100", "2026-07-18 1130", False),
    ("MON 0700-MON 1500, SAT 0900-SUN 1000", "2026-07-18 0930", True),
]


@pytest.mark.parametrize(("hours", "moment", "counts"), CASES)
def test_hours_are_open_on_their_days_alone(hours: str, moment: str, counts: bool) -> None:
    windows = read_hours(hours)
    assert windows is not None
    assert open_between(windows, at(moment), at(moment)) is counts


@pytest.mark.parametrize(
    "hours",
    [
        "DLY SR-SS",
        "19-21 H24",
        "18 19 JUL 0700-1500",
        "DLY 2500-2600",
        "DLY 1260-1300",
        "DLY",
        "",
        "FRI 2260-SAT 0600",
        "FRI 2200-SAT 0660",
    ],
)
def test_what_is_said_in_another_way_is_not_read(hours: str) -> None:
    assert read_hours(hours) is None


def test_a_stretch_of_time_counts_where_it_meets_a_window() -> None:
    windows = read_hours("DLY 1200-1300")
    assert windows is not None
    assert open_between(windows, at("2026-07-18 1100"), at("2026-07-18 1400"))
    assert not open_between(windows, at("2026-07-18 1301"), at("2026-07-19 1159"))
    assert open_between(windows, at("2026-07-18 1301"), at("2026-07-19 1200"))


@given(st.integers(0, 1439), st.integers(0, 1439), st.integers(0, 20_000))
def test_a_daily_window_holds_its_minutes_and_no_others(start: int, end: int, minute: int) -> None:
    """By counting minutes of the day alone."""
    windows = read_hours(f"DLY {start // 60:02d}{start % 60:02d}-{end // 60:02d}{end % 60:02d}")
    assert windows is not None
    of_day = minute % 1_440
    inside = start <= of_day <= end if end > start else of_day >= start or of_day <= end
    moment = at("2026-07-06 0000") + timedelta(minutes=minute)
    assert open_between(windows, moment, moment) is inside


def test_day_and_night_are_every_hour_of_every_day_or_of_the_days_told() -> None:
    """H24: continuous day and night (ICAO Doc 8400, abbreviations)."""
    saturday = datetime(2026, 7, 18, tzinfo=UTC)
    for hour in range(0, 24, 6):
        moment = saturday + timedelta(hours=hour)
        for hours, counts in (("H24", True), ("DAILY H24", True), ("SAT H24", True), ("MON-THU H24", False)):
            windows = read_hours(hours)
            assert windows is not None
            assert open_between(windows, moment, moment) is counts


@pytest.mark.parametrize(
    ("words", "hours", "rest"),
    [
        ("VOR QHB U/S 1200-1500 DAILY", "1200-1500 DAILY", "VOR QHB U/S"),
        ("VOR QHB U/S BTN 1200 AND 1500", "BTN 1200 AND 1500", "VOR QHB U/S"),
        ("AD CLSD FROM 1200Z TO 1500Z", "FROM 1200Z TO 1500Z", "AD CLSD"),
        ("DME QHB U/S MON-FRI 0800-1600 LT", "MON-FRI 0800-1600 LT", "DME QHB U/S"),
        ("AD CLSD 0600-0800, 1000-1200", "0600-0800 1000-1200", "AD CLSD"),
    ],
)
def test_hours_among_words_are_found_and_taken_out(words: str, hours: str, rest: str) -> None:
    assert hours_among(words) == (hours, rest)


@pytest.mark.parametrize(
    "words",
    [
        "CRANE 461200N0392100W 300FT AGL",
        "UNUSABLE BELOW 2000-2300FT",
        "VOR QHB 113.70MHZ U/S",
        "RWY 09-27 CLSD",
        "OBST BTN 1200 AND 1500 FT",
        "DUE TO 2575-2680",
    ],
)
def test_what_is_no_clock_is_no_hours(words: str) -> None:
    assert hours_among(words) is None
