"""True and magnetic directions."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.nav.angles import difference_deg
from navlog.nav.norths import Direction, magnetic_deg, read_direction, true_deg
from navlog.nav.problems import NavlogError


def test_east_is_subtracted_and_west_added_going_to_magnetic() -> None:
    # Nautical exercise page: true course 020, variation 3 W is 023 magnetic.
    assert magnetic_deg(Direction(20.0, magnetic=False), -3.0) == 23.0
    assert magnetic_deg(Direction(20.0, magnetic=False), 7.0) == 13.0


@given(st.floats(0, 360), st.floats(-180, 180))
def test_true_and_magnetic_are_inverse(angle_deg: float, variation_deg: float) -> None:
    there = magnetic_deg(Direction(angle_deg, magnetic=False), variation_deg)
    back = true_deg(Direction(there, magnetic=True), variation_deg)
    assert abs(difference_deg(back, angle_deg)) < 1e-9


def test_a_direction_says_its_north() -> None:
    assert read_direction("045T") == Direction(45.0, magnetic=False)
    assert read_direction("045.5M") == Direction(45.5, magnetic=True)
    with pytest.raises(NavlogError, match="write 045T for true or 045M for magnetic"):
        read_direction("045")
    with pytest.raises(NavlogError, match="bad-angle"):
        read_direction("45T")


def test_norths_meet_only_with_a_variation() -> None:
    with pytest.raises(NavlogError, match="a magnetic direction is given without the variation"):
        true_deg(Direction(45.0, magnetic=True), None)
    with pytest.raises(NavlogError, match="a true direction is given without the variation"):
        magnetic_deg(Direction(45.0, magnetic=False), None)
    assert true_deg(Direction(45.0, magnetic=False), None) == 45.0
