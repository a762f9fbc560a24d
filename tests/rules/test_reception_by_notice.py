"""A DME that a notice takes away where it would tell a changeover point, and stations that a notice names in words."""

from __future__ import annotations

import pytest
from helpers.judged import along
from helpers.noticed import DAY, flown, found

from navlog.rules.registry import Severity

DME = "equipment vor 1 dme 1"
CHART = along("QHB 212 - 034 QEL 29.5nm mea 3000 cop 11 QHB", "station QHB 113.70 dme", "station QEL 110.20 dme")


@pytest.mark.parametrize(
    ("limits", "told"),
    [
        # The changeover point is 11 NM from QHB on its radial 212, passed at 4,500 ft.
        ("205-220", True),
        ("205-220 BEYOND 10NM", True),
        ("205-220 BEYOND 12NM", False),
        ("213-220", False),
        ("205-220 BELOW 5000FT", True),
        ("205-220 BELOW 4500FT", False),
        ("205-220 BEYOND 10NM BELOW 5000FT", True),
    ],
)
@pytest.mark.parametrize("flight", [(), CHART])
def test_a_dme_that_is_unusable_at_the_changeover_point_is_told(
    flight: tuple[str, ...], limits: str, *, told: bool
) -> None:
    answer = flown(f"!XHA 07/001 QHB NAV DME {limits} UNUSABLE {DAY}", DME, *flight)
    notes = [one for one in answer.findings if one.rule == "unusable-sector" and "changeover" in one.message]
    assert [one.severity for one in notes] == [Severity.NOTE] * told
    assert all(one.message.endswith(": it does not tell the changeover point") for one in notes)
    assert all(one.message.startswith("QHB DME") for one in notes)


def test_the_dme_of_another_sector_or_of_no_dme_says_nothing_of_the_changeover_point() -> None:
    for text, more in (("VOR 205-220 UNUSABLE", (DME,)), ("DME 205-220 UNUSABLE", ())):
        answer = flown(f"!XHA 07/001 QHB NAV {text} {DAY}", *more)
        assert not [one for one in found(answer, "unusable-sector") if "changeover" in one]
