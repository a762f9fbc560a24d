"""The number on the course selector as it is printed, whole degrees."""

from __future__ import annotations

from navlog.flightlog.facts import setting_text
from navlog.flightlog.records import Leg


def printed_setting(leg: Leg) -> int | None:
    """The course to set on a leg as printed, 1 to 360; None where there is none."""
    guidance = leg.part.guidance
    return None if guidance is None else guidance.printed_setting


def setting_of(leg: Leg) -> str:
    """The course to set on a leg that a station guides, with flag and station: `214 TO QEL`."""
    assert leg.part.guidance is not None
    return setting_text(leg.part.guidance)


def swaps_digits(one: int, other: int) -> bool:
    """Whether two whole-degree directions are the same three digits with two of them changed over."""
    # Two digits that change places change a number by a multiple of nine.
    if (one - other) % 9:
        return False
    first, second = f"{one:03d}", f"{other:03d}"
    return first != second and sorted(first) == sorted(second) and sum(map(str.__ne__, first, second)) == 2
