"""Fuel that is gone beyond any burn, up to a stop and after it."""

from __future__ import annotations

import pytest
from helpers.flown import navlog
from helpers.revised import MERIDIAN, revised


def test_where_the_plan_takes_nothing_yet_a_step_of_the_sheet_stands_for_it() -> None:
    # 0.4 NM in the minute of take-off: 12 gal gone are 120 times 0.1.
    text = MERIDIAN.partition("alternate")[0].replace("date", "fix QNEA N46 00.40 W039 00.00\ndate")
    status, found = revised(text.replace("XAA QBB", "XAA QNEA QBB"), "--at", "QNEA", "15:00", "--fuel", "8gal")
    assert (status, found["measured"]["times_planned"]) == (1, pytest.approx(120.0))


STOP = MERIDIAN.partition("route")[0] + "route XAA QBB XDD land 30min QBB XCC\n"
"""QBB back to XDD are 11.004 NM, 5.50 min and 0.734 gal: 17.93 gal are left at XDD, 17.20 at QBB again."""


def test_a_leak_after_a_stop_is_counted_whenever_it_was_left() -> None:
    # QBB is planned at 15:51: 20 minutes late may be a longer stop, in which nothing burns, and no burn of 2.7 gal.
    status, found = revised(STOP, "--at", "XDD", "15:16", "--at", "QBB", "16:11", "--fuel", "14.6gal")
    assert found["measured"]["times_planned"] == pytest.approx(5.4 / 2.801, abs=0.005)
    assert (status, found["measured"]["burn_per_h"]) == (0, None)
    assert revised(STOP, "--at", "XDD", "15:16", "--at", "QBB", "16:11", "--fuel", "9gal")[0] == 1


def test_a_leak_up_to_a_stop_is_not_hidden_by_the_fuel_taken_there() -> None:
    # 11.9 gal gone where 2.067 are planned, half a minute being the clock's, 5.76 times that: the 31.012 NM on to XCC
    # take 2.068 times as much of the 20 gal taken, and the reserve is 23.
    text = STOP.replace("land 30min", "land 30min fuel 20gal")
    status, found = revised(text, "--at", "XDD", "15:16", "--fuel", "8.1gal")
    assert found["measured"]["times_planned"] == pytest.approx(11.9 / 2.067, abs=0.005)
    assert found["measured"]["remaining"] == pytest.approx(20.0 - 2.068 * 5.757, abs=0.02)
    assert status == 1
    # What is read may be what was taken.
    assert revised(text, "--at", "XDD", "15:16", "--fuel", "20gal")[1]["measured"] is None


def test_each_alternate_stands_under_the_heading_of_its_burn() -> None:
    # At QBB 1.334 gal are planned and 5.34 gone, 4.0 times that: XDD takes 0.734, and 2.94 of the 14.66 left. As
    # printed 14.6 are left, and what is used rounds up.
    text = MERIDIAN.replace("alternate XDD from XAA\n", "")
    _, found = revised(text, "--at", "QBB", "15:10", "--fuel", "14.66gal")
    (planned,), (measured,) = found["alternates"], found["measured"]["alternates"]
    assert planned["fuel_remaining"] == pytest.approx(14.66 - 0.734, abs=0.002)
    assert measured["fuel_remaining"] == pytest.approx(14.66 - 2.938, abs=0.01)
    out = " ".join(navlog("revise", "-", "--at", "QBB", "15:10", "--fuel", "14.66gal", typed=text).out.split())
    first, _, second = out.partition("at the planned burn from now on:")
    assert "alternate XDD from QBB 15:10Z: at 15:16Z, left 11.6 gal" in first
    assert "alternate XDD from QBB 15:10Z: at 15:16Z, left 13.8 gal" in second
