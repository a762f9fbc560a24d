"""The model's declination beside a station's."""

from __future__ import annotations

from datetime import date

import pytest

from navlog.computations.declination import _workings, solve
from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError

NODINE = Position(43.91232916, -91.46751616)


def test_the_model_and_a_station_aligned_long_ago() -> None:
    # FAA NASR 2026-05-14: ODI is aligned to 1 E of 1995; WMM2025 at 2026.37 gives -1.45 there.
    found = solve(NODINE, date(2026, 5, 16), station_declination_deg=1.0)
    assert found.declination_deg == pytest.approx(-1.45, abs=0.01)
    assert found.station_difference_deg == pytest.approx(2.45, abs=0.01)
    assert (found.model, found.zone) == ("WMM2025", None)


def test_change_and_uncertainty_as_published() -> None:
    # WMM2025 test values: 80 N 0 E, 2027.5: change +0.53 degrees a year.
    found = solve(Position(80.0, 0.0), date(2027, 7, 2))
    assert found.declination_deg == pytest.approx(2.59, abs=0.01)
    assert found.change_deg_per_year == pytest.approx(0.53, abs=0.02)
    assert found.uncertainty_deg is not None
    assert (found.station_declination_deg, found.station_difference_deg) == (None, None)


def test_a_compass_fails_near_the_pole() -> None:
    # Resolute: a horizontal field of 3,310 nT is in the caution zone (2,000 to 6,000 nT).
    assert solve(Position(74.7, -94.9), date(2026, 1, 1)).zone == "caution"
    assert solve(Position(86.0, 160.0), date(2026, 1, 1)).zone == "blackout"


def test_a_day_without_a_model_is_a_problem() -> None:
    with pytest.raises(NavlogError, match="no-magnetic-model"):
        solve(NODINE, date(1999, 1, 1))


def test_workings_compare_needle_and_compass() -> None:
    first, second = _workings(solve(NODINE, date(2026, 5, 16), station_declination_deg=1.0))
    assert first.result == "-1.45 = 1.5W"
    assert (second.values, second.result) == ("+1 - (-1.45)", "+2.5")
