"""Fields within reach where a headwind part alone is known of the wind."""

from __future__ import annotations

import pytest
from helpers.flown import navlog

CHART = """\
station QHB 113.70 N45 00.00 W040 00.00 decl 0E
airport XAA N45 00.00 W040 20.00
airport XBB N45 00.00 W039 00.00
date 2026-07-18
altitude 3000
tas 120kt
burn 12gph
off 10:00Z
fuel 12gal
route XAA QHB XBB
"""
# From 20 to 0 minutes of longitude at 45 north are 20 x 0.7071 = 14.2 NM, flown in 7 min: 121 kt.


@pytest.mark.parametrize("wind", ["", "wind calm\n"])
def test_without_a_forecast_a_field_within_reach_has_a_course_and_no_heading(wind: str) -> None:
    told = " ".join(navlog("revise", "-", "--at", "QHB", "10:07", "--fuel", "8gal", typed=CHART + wind).out.split())
    fields = told.split("FIELDS WITHIN REACH")[1]
    assert ("XAA: magnetic course " in fields, "XAA: heading " in fields) == (not wind, bool(wind))
    assert "NO RESERVE" in fields
