"""What speaks against a wind found in flight, or against using it ahead."""

from __future__ import annotations

import pytest

from navlog.nav.wind import Wind
from navlog.studies.revision_wind import WindFound


@pytest.mark.parametrize(
    ("more", "course_deg", "guess"),
    [
        # A change along 180 tells nothing across courses from 30 degrees off it to 30 off the other way.
        (Wind(180.0, 20.0), 180.0, False),
        (Wind(180.0, 20.0), 209.0, False),
        (Wind(180.0, 20.0), 210.0, True),
        (Wind(180.0, 20.0), 330.0, True),
        (Wind(180.0, 20.0), 331.0, False),
        (Wind(180.0, 20.0), 0.0, False),
        (Wind(180.0, 10.0), 270.0, False),
        (Wind(180.0, 10.1), 270.0, True),
    ],
)
def test_a_course_across_the_one_change_that_is_known_is_a_guess(more: Wind, course_deg: float, guess: bool) -> None:
    found = WindFound(Wind(180.0, 30.0), Wind(180.0, 10.0), more, False, "the groundspeed")
    assert found.is_guess_on(course_deg) is guess
    assert not WindFound(Wind(180.0, 30.0), Wind(180.0, 10.0), more, True, "the heading").is_guess_on(course_deg)


def test_more_than_40_kt_of_change_are_doubted() -> None:
    doubted = [WindFound(Wind(0, 50), Wind(0, 10), Wind(0, kt), True, "").doubtful for kt in (40.0, 40.1)]
    assert doubted == [False, True]
