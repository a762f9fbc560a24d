"""Receiver checks against the limits of 14 CFR 91.171."""

from __future__ import annotations

from datetime import date

import pytest

from navlog.computations.vor_check import _VorCheck, _workings, solve
from navlog.nav.guidance import Flag
from navlog.nav.problems import NavlogError
from navlog.nav.receiver_check import Check

DAY = date(2026, 7, 18)


def error(check: Check, degrees: float) -> _VorCheck:
    return solve(check, indicated_deg=90.0 + degrees, expected_deg=90.0, day=DAY)


@pytest.mark.parametrize(
    ("check", "limit_deg"),
    [
        (Check.REPAIR_STATION, 4.0),  # 14 CFR 91.171(b)(1)
        (Check.GROUND, 4.0),  # (b)(2)
        (Check.AIRBORNE, 6.0),  # (b)(3)
        (Check.AIRWAY, 6.0),  # (b)(4)
        (Check.DUAL, 4.0),  # (c)
    ],
)
def test_the_limit_counts_as_within(check: Check, limit_deg: float) -> None:
    for sign in (1.0, -1.0):
        assert error(check, sign * limit_deg).passed is True
        assert error(check, sign * (limit_deg + 0.1)).passed is False


@pytest.mark.parametrize(
    ("indicated_deg", "flag", "error_deg", "passed"),
    [
        (360.0, Flag.FROM, 0.0, True),  # a VOT is 360 FROM and 180 TO
        (180.0, Flag.TO, 0.0, True),
        (4.0, Flag.FROM, 4.0, True),
        (4.1, Flag.FROM, 4.1, False),
        (356.0, Flag.FROM, -4.0, True),
        (175.9, Flag.TO, -4.1, False),
        (180.0, Flag.FROM, 180.0, False),
    ],
)
def test_a_vot_reads_360_from_and_180_to(indicated_deg: float, flag: Flag, error_deg: float, passed: bool) -> None:
    found = solve(Check.VOT, indicated_deg=indicated_deg, flag=flag, day=DAY)
    assert found.error_deg == pytest.approx(error_deg)
    assert found.passed is passed


def test_a_check_counts_for_thirty_days() -> None:
    assert error(Check.GROUND, 1.0).good_through == date(2026, 8, 17)
    assert error(Check.GROUND, 5.0).good_through is None


def test_the_error_goes_the_short_way_round() -> None:
    assert solve(Check.DUAL, indicated_deg=1.0, expected_deg=358.0, day=DAY).error_deg == pytest.approx(3.0)


def test_what_is_missing_is_a_problem() -> None:
    with pytest.raises(NavlogError, match="a VOT needs the flag"):
        solve(Check.VOT, indicated_deg=1.0, day=DAY)
    with pytest.raises(NavlogError, match="a VOT needs the flag and nothing else"):
        solve(Check.VOT, indicated_deg=1.0, expected_deg=360.0, flag=Flag.FROM, day=DAY)
    with pytest.raises(NavlogError, match="no bearing to compare"):
        solve(Check.GROUND, indicated_deg=1.0, day=DAY)


def test_workings_name_the_paragraph() -> None:
    first, second = _workings(error(Check.AIRBORNE, 6.1))
    assert (first.values, first.result) == ("96.1 - 90", "+6.1")
    assert second.result == "not within"
    assert second.source == "14 CFR 91.171(b)(3)"
