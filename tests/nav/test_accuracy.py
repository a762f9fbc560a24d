"""Standards of accuracy against their published figures, and crossing radials against drawn errors."""

from __future__ import annotations

from math import cos, radians, sin, sqrt, tan
from random import Random

import pytest

from navlog.nav.accuracy import FAA, Accuracy, read_accuracy
from navlog.nav.problems import NavlogError

ICAO = read_accuracy("icao")


@pytest.mark.parametrize(
    ("accuracy", "away_nm", "aside_nm", "within_nm"),
    [
        pytest.param(ICAO, 49.8, 5.0, 0.01, id="Doc 8168: 5 NM at 49.8 NM"),
        pytest.param(FAA, 50.8, 4.0, 0.005, id="JO 7400.2, 20-3-3: 4 NM at 50.8"),
        pytest.param(FAA, 51.0, 4.014, 0.001, id="51 tan 4.5, from where the lines diverge"),
        pytest.param(FAA, 60.0, 4.72, 0.005, id="60 tan 4.5"),
        pytest.param(read_accuracy("2.5"), 23.0, 1.0, 0.005, id="1 NM at 23 NM with 2.5 degrees"),
        pytest.param(FAA, 30.6, 2.4, 0.05, id="4.5 degrees: 2.4 NM at 30.6"),
    ],
)
def test_how_far_aside_a_radial_may_lead(accuracy: Accuracy, away_nm: float, aside_nm: float, within_nm: float) -> None:
    assert accuracy.aside_nm(away_nm) == pytest.approx(aside_nm, abs=within_nm)


def test_the_icao_figures_are_the_roots_of_their_components() -> None:
    """Doc 8168: station 3.5, monitor 1, receiver 2.7, and along a radial 3.5 degrees of flight."""
    assert ICAO.crossing_deg == pytest.approx(sqrt(3.5**2 + 1.0**2 + 2.7**2), abs=0.001)
    assert ICAO.along_deg == pytest.approx(sqrt(3.5**2 + 1.0**2 + 2.7**2 + 3.5**2), abs=0.001)


def test_a_dme_is_off_by_the_standards_own_rule() -> None:
    """AIM 1-1-7: half a mile or 3 %, the greater; Doc 8168, I-2-2-2: 0.25 NM and 1.25 % of the distance."""
    assert (FAA.dme_nm(10.0), FAA.dme_nm(40.0)) == pytest.approx((0.5, 1.2))
    assert (ICAO.dme_nm(10.0), ICAO.dme_nm(40.0)) == pytest.approx((0.375, 0.75))


@pytest.mark.parametrize("cut_deg", [90.0, 60.0, 45.0, 30.0])
@pytest.mark.parametrize("away_nm", [12.0, 30.0])
def test_crossing_radials_drawn_at_random_spread_as_far_as_is_told(cut_deg: float, away_nm: float) -> None:
    """A track along the x axis, a station abeam of it; what the error's edges cut off the track, within 2 %.

    Errors are drawn evenly within the standard's own; what one degree moves on average, times its degrees, is compared.
    """
    chance = Random(8168)
    told = FAA.radial_nm(away_nm, cut_deg)
    assert told is not None
    # The station lies below the track, its radial crosses it at the cut.
    station = -away_nm * cos(radians(cut_deg)), -away_nm * sin(radians(cut_deg))
    errors = [chance.uniform(-1.0, 1.0) * FAA.crossing_deg for _ in range(20_000)]
    found = [(station[0] - station[1] / tan(radians(cut_deg + error_deg)), error_deg) for error_deg in errors]
    # What one degree moves, of all draws, times the standard's degrees: the first order of what is told.
    moved = sum(abs(x / error_deg) for x, error_deg in found if abs(error_deg) > 0.05)
    mean = moved / sum(abs(error_deg) > 0.05 for _, error_deg in found) * FAA.crossing_deg
    assert mean == pytest.approx(told, rel=0.02)


@pytest.mark.parametrize("text", ["", "fea", "0", "-3", "21", "nan", "4.5nm"])
def test_what_is_no_standard_is_a_problem(text: str) -> None:
    with pytest.raises(NavlogError, match="no standard of accuracy"):
        read_accuracy(text)
