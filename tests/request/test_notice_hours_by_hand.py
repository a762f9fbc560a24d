"""Hours of notices told as by day and night, read by hand; the notices are invented."""

from __future__ import annotations

import pytest

from navlog.nav.notices import Notice, read_moment
from navlog.request.notices import read_notices


def only(text: str) -> Notice:
    (notice,) = read_notices(text, "briefing.txt")
    return notice


# H24: continuous day and night service (ICAO Doc 8400). 29 November 2026 is a Sunday, 2 December a Wednesday.
@pytest.mark.parametrize(
    ("hours", "sunday", "wednesday"),
    [
        ("SUN H24", True, False),
        ("SAT SUN H24", True, False),
        ("MON-FRI 0800-1600, SAT SUN H24", True, False),
        ("MON-FRI H24", False, True),
        ("DLY H24", True, True),
        ("H24", True, True),
    ],
)
@pytest.mark.parametrize("said", ["NAV VOR OUT OF SERVICE", "AD AP CLSD"])
def test_day_and_night_are_hours_of_the_domestic_form_too(
    said: str, hours: str, *, sunday: bool, wednesday: bool
) -> None:
    notice = only(f"!XHA 11/001 XHA {said} {hours} 2611280000-2612312359")
    assert (notice.schedule, notice.hours_read, notice.unread) == (hours, True, None)
    moments = [read_moment("2026-11-29 20:00Z"), read_moment("2026-12-02 20:00Z")]
    assert [notice.in_force(one, one) for one in moments] == [sunday, wednesday]


def test_hours_by_day_and_night_that_are_excepted_end_no_notice() -> None:
    notice = only("!XHA 11/001 XHA NAV VOR OUT OF SERVICE EXC SUN H24 2611280000-2612312359")
    assert (notice.schedule, notice.hours_read) == ("EXC SUN H24", False)
    assert notice.in_force(read_moment("2026-11-29 20:00Z"), read_moment("2026-11-29 20:00Z"))
