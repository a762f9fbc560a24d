"""`navlog descent`."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Run = Callable[..., tuple[int, str, str]]


def test_descent_by_rate(navlog: Run) -> None:
    # FAA commercial item: 10 min, 18 NM, 1.4 gal (exact 1.417, and fuel used rounds up).
    line = "--start 6500ft --end 1500ft --rate 500 --gs 107.7kt --burn 8.5gph --level 2nm"
    assert navlog(f"descent {line}") == (
        0,
        "descend 5000 ft: begin 20.0 NM before the point, to be level 2.0 NM before it\n"
        "18.0 NM in 10 min at 108 kt, 1.5 gal\n"
        "500 ft/min, 2.6 degrees, 279 ft/NM\n",
        "",
    )


def test_climb_to_a_crossing_altitude(navlog: Run) -> None:
    # 6,000 to 8,400 at 500 ft/min and 110 kt: 4.8 min, begin 8.8 NM before.
    assert navlog("descent --start 6000 --end 8400 --rate 500ft/min --gs 110")[1] == (
        "climb 2400 ft: begin 8.8 NM before the point\n"
        "8.8 NM in 4.8 min at 110 kt\n"
        "500 ft/min, 2.6 degrees, 273 ft/NM\n"
    )


def test_a_gradient_alone_gives_the_rate(navlog: Run) -> None:
    # 350 ft/NM at 120 kt is 700 ft/min.
    assert navlog("descent --gradient 350ft/nm --gs 120")[1] == ("700 ft/min, 3.3 degrees, 350 ft/NM\n")


def test_flight_levels_without_a_groundspeed(navlog: Run) -> None:
    # 25,000 ft by 3 degrees at 3.14 NM per 1,000 ft is 78.5 NM.
    assert navlog("descent --start FL310 --end 6000ft --angle 3")[1] == (
        "descend 25000 ft: begin 78.5 NM before the point\n78.5 NM\n3.0 degrees, 318 ft/NM\n"
    )


@pytest.mark.parametrize(
    "line",
    [
        "",
        "--rate 500",
        "--rate 0 --gs 90",
        "--rate 500 --gs 0",
        "--rate 500 --angle 3 --gs 90",
        "--angle 3 --start 5000",
        "--angle 3 --start 5000 --end 5000",
        "--angle 50",
        "--rate -500 --gs 90",
        "--distance 5nm --gs 90",
    ],
)
def test_bad_input_leaves_with_2(navlog: Run, line: str) -> None:
    status, out, err = navlog(f"descent {line}")
    assert (status, out) == (2, "")
    assert "error" in err.lower()
