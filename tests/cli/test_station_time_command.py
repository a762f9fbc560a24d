"""`navlog station-time`."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Run = Callable[..., tuple[int, str, str]]


def test_change_of_bearing(navlog: Run) -> None:
    # FAA PHAK, time and distance check: 75 s for 10 degrees at 120 kt is 7.5 min and 15 NM.
    assert navlog("station-time --change 10 --time 75s --speed 120kt --burn 8gph") == (
        0,
        "7.5 min to the station, 15.0 NM at 120 kt, 1.0 gal\n"
        "bearing changed 10 degrees in 75 s, station abeam: an estimate for nil wind and a steady heading\n",
        "",
    )


def test_two_radials(navlog: Run) -> None:
    # FAA commercial item: R-360 at 1237, R-350 at 1244, TAS 120: 42 min, 84 NM.
    _, out, _ = navlog("station-time --radials 360 350 --time 7min --speed 120")
    assert out == (
        "42 min to the station, 84.0 NM at 120 kt\n"
        "bearing changed 10 degrees in 7 min, station abeam: an estimate for nil wind and a steady heading\n"
    )


def test_a_relative_bearing_that_doubles(navlog: Run) -> None:
    # FAA commercial item: 6 min.
    _, out, _ = navlog("station-time --relative 015 030 --time 6min")
    assert out == (
        "6.0 min to the station\n"
        "relative bearing from 015 to 030 in 6 min: an estimate for nil wind and a steady heading\n"
    )


def test_a_time_without_a_unit_is_refused(navlog: Run) -> None:
    status, out, err = navlog("station-time --change 10 --time 75")
    assert (status, out) == (2, "")
    assert "hint: say the unit: 75s or 75min" in err


@pytest.mark.parametrize(("typed", "printed"), [("75min", "7 h 30 min"), ("10min", "1 h"), ("9.9min", "59 min")])
def test_hours_are_written_out(navlog: Run, typed: str, printed: str) -> None:
    assert navlog(f"station-time --change 10 --time {typed}")[1].startswith(f"{printed} to the station\n")


@pytest.mark.parametrize(
    "line",
    [
        "--time 75s",
        "--change 10",
        "--change 10 --radials 360 350 --time 7min",
        "--change 0 --time 75s",
        "--change 10 --time 0s",
        "--change 10 --time 75s --speed 0",
        "--change 10 --time 1:15",
        "--change -10 --time 75s",
        "--relative 030 015 --time 6min",
    ],
)
def test_bad_input_leaves_with_2(navlog: Run, line: str) -> None:
    status, out, err = navlog(f"station-time {line}")
    assert (status, out) == (2, "")
    assert "error" in err.lower()
