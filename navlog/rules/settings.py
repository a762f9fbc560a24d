"""The number on the course selector as it is printed, whole degrees."""

from __future__ import annotations

from navlog.flightlog.facts import setting_text
from navlog.flightlog.records import Leg
from navlog.nav.figures import whole_course
from navlog.nav.guidance import Flag


def printed_setting(leg: Leg) -> int | None:
    """The course to set on a leg as printed, 1 to 360; None where there is none.

    A TO course is the reciprocal of the printed radial.
    """
    guidance = leg.part.guidance
    if guidance is None:
        return None
    radial_deg = guidance.radial.flown
    if radial_deg is None:
        return None
    printed = whole_course(radial_deg)
    if guidance.flag is Flag.TO:
        return (printed + 180) % 360 or 360
    return printed


def setting_of(leg: Leg) -> str:
    """The course to set on a leg that a station guides, with flag and station: `214 TO QEL`."""
    assert leg.part.guidance is not None
    return setting_text(leg.part.guidance)


def swaps_digits(one: int, other: int) -> bool:
    """Whether two whole-degree directions are the same three digits with two of them changed over."""
    first, second = f"{one:03d}", f"{other:03d}"
    return first != second and sorted(first) == sorted(second) and sum(map(str.__ne__, first, second)) == 2
