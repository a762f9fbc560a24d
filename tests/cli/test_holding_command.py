"""`navlog holding`."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Run = Callable[..., tuple[int, str, str]]


def test_direct_entry_with_wind(navlog: Run) -> None:
    # FAA AIM 5-3-8: 8 left inbound is 24 right outbound; 200 KIAS to 6,000 ft; inbound leg of 1 min.
    line = "--inbound 360 --heading 070 --altitude 5000ft --tas 110kt --wind 270M/15.31kt"
    assert navlog(f"holding {line}") == (
        0,
        "direct entry: over the fix turn right to 180\n"
        "inbound 360, outbound 180, right turns\n"
        "inbound leg 1 min, speed at most 200 KIAS at 5000 ft by US rules\n"
        "inbound heading 352 (correction 8L), outbound heading 204 (correction 24R)\n"
        "first outbound leg about 1.1 min; adjust it on the next\n",
        "",
    )


def test_parallel_entry_by_icao_rules(navlog: Run) -> None:
    line = "--inbound 360 --heading 220 --altitude 15000ft --rules icao"
    assert navlog(f"holding {line}")[1] == (
        "parallel entry: over the fix fly 180 for 1 min, then turn left to meet 360 inbound\n"
        "inbound 360, outbound 180, right turns\n"
        "outbound leg 1 min 30 s, speed at most 240 KIAS at 15000 ft by ICAO rules\n"
    )


def test_teardrop_entry_near_a_line_with_left_turns(navlog: Run) -> None:
    # Outbound 180 is 68 left of 248: with left turns a teardrop, and 2 degrees from direct.
    line = "--inbound 360 --heading 248 --altitude 9000ft --turns left"
    assert navlog(f"holding {line}")[1] == (
        "teardrop entry (or direct: within 5 degrees of the line): over the fix fly 210 for 1 min,"
        " then turn left to meet 360 inbound\n"
        "inbound 360, outbound 180, left turns\n"
        "inbound leg 1 min, speed at most 230 KIAS at 9000 ft by US rules (210 where the chart says so)\n"
    )


@pytest.mark.parametrize("calm", ["calm", "240/0"])
def test_a_calm_needs_no_variation(navlog: Run, calm: str) -> None:
    line = "holding --inbound 360 --heading 070 --altitude 5000ft --tas 110kt --wind"
    assert navlog(f"{line} {calm}") == navlog(f"{line} 240M/0")
    assert navlog(f"{line} {calm}")[0] == 0


def test_a_mach_limit(navlog: Run) -> None:
    line = "--inbound 360 --heading 360 --altitude 35000ft --rules icao"
    assert "speed at most Mach 0.83 at 35000 ft" in navlog(f"holding {line}")[1]


@pytest.mark.parametrize(
    "line",
    [
        "--inbound 360 --heading 070",
        "--inbound 360 --heading 70 --altitude 5000",
        "--inbound 360 --heading 070 --altitude 5000 --tas 110",
        "--inbound 360 --heading 070 --altitude 5000 --tas 110 --wind 240/20",
        "--inbound 360 --heading 070 --altitude 5000 --tas 10 --wind 270M/20",
        "--inbound 360 --heading 070 --altitude 5000 --tas 0 --wind 270M/20",
        "--inbound 360 --heading 070 --altitude 5000 --turns up",
    ],
)
def test_bad_input_leaves_with_2(navlog: Run, line: str) -> None:
    status, out, err = navlog(f"holding {line}")
    assert (status, out) == (2, "")
    assert "error" in err.lower()
