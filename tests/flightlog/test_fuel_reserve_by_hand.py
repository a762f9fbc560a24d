"""The reserve at a landing, asked by itself: 14 CFR 91.151(a), 30 minutes by day and 45 at night; 91.167, 45."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from helpers.judged import case_of

from navlog.flightlog.fuel import reserve_at
from navlog.nav.chart import Position
from navlog.nav.record import changed
from navlog.request.records import Request

HERE = Position(45.7, -39.3)
NOON, MIDNIGHT = datetime(2026, 7, 18, 15, tzinfo=UTC), datetime(2026, 7, 19, 3, tzinfo=UTC)
"""Near 39 degrees west the sun is highest at 14:37Z in the middle of the year and lowest at 02:37Z."""


def request(rules: str, daytime: str | None, stated_min: float | None) -> Request:
    return changed(case_of().request, rules=rules, daytime=daytime, reserve_min=stated_min)


@pytest.mark.parametrize(
    ("rules", "daytime", "stated_min", "landing", "minutes", "by"),
    [
        ("vfr", None, None, NOON, 30.0, "14 CFR 91.151 day"),
        ("vfr", None, None, MIDNIGHT, 45.0, "14 CFR 91.151 night"),
        ("vfr", "night", None, NOON, 45.0, "14 CFR 91.151, night as stated by `rules vfr night`"),
        ("ifr", None, None, NOON, 45.0, "14 CFR 91.167"),
        # What is stated stands where it is as much as the rule's, and not where it is less.
        ("vfr", None, 30.0, NOON, 30.0, "as stated"),
        ("vfr", None, 29.0, NOON, 30.0, "14 CFR 91.151 day"),
        ("vfr", None, 30.0, MIDNIGHT, 45.0, "14 CFR 91.151 night"),
        ("vfr", None, 45.0, MIDNIGHT, 45.0, "as stated"),
        ("ifr", None, 45.0, NOON, 45.0, "as stated"),
        ("ifr", None, 44.0, NOON, 45.0, "14 CFR 91.167"),
        ("vfr", "night", 44.0, NOON, 45.0, "14 CFR 91.151, night as stated by `rules vfr night`"),
        ("vfr", None, 60.0, MIDNIGHT, 60.0, "as stated"),
    ],
)
def test_the_reserve_is_what_is_stated_or_the_rules_where_that_is_more(
    rules: str, daytime: str | None, stated_min: float | None, landing: datetime, minutes: float, by: str
) -> None:
    assert reserve_at(request(rules, daytime, stated_min), HERE, landing) == (minutes, by)
