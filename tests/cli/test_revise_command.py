"""`navlog revise`: its words, exit status, and bad input in one clear line."""

from __future__ import annotations

import json

import pytest
from helpers.flown import EXAMPLES, changed, navlog
from hypothesis import given, settings
from hypothesis import strategies as st

ROUND_ROBIN = str(EXAMPLES / "round_robin.route")


def test_the_example_of_its_help_runs() -> None:
    shown = " ".join(navlog("revise", "--help").out.split())
    assert "Example: navlog revise examples/round_robin.route --at QHB 15:17 --at cop 15:25 --fuel 34.5gal" in shown
    found = navlog("revise", ROUND_ROBIN, "--at", "QHB", "15:17", "--at", "cop", "15:25", "--fuel", "34.5gal")
    assert (found.status, found.err) == (0, "")


def test_the_words_of_a_revision() -> None:
    found = navlog("revise", ROUND_ROBIN, "--at", "QHB", "15:17", "--fuel", "9gal")
    lines = found.out.splitlines()
    # 9.6 NM in 7 min are 82.3 kt; forecast 98.5 kt in a headwind of 11.4 kt, so 27.6 kt (see test_revision).
    assert lines[0] == "REVISED - round_robin"
    # The sheet leaves 36.1 gal there (see test_revision), so 27.1 gal are missing.
    situation = "QHB at 15:17Z, 15:16Z planned (1 min late); 9.0 gal on board as read, 27.1 gal under the plan"
    assert situation in " ".join(found.out.split())
    start = lines.index("FLOWN")
    assert lines[start : start + 2] == [
        "FLOWN",
        "  XHAR to QHB: 9.6 NM in 7 min (6 planned), groundspeed 82 kt (98 planned), 6 kt",
    ]
    assert "headwind 28 kt (forecast headwind 11 kt)" in found.out
    assert "by the headwind part to QHB; the crosswind is the forecast's." in " ".join(found.out.split())
    assert "THE RESERVE IS LOST" in found.out
    assert max(map(len, lines)) <= 80
    assert found.status == 1


def test_times_may_be_written_as_pilots_do() -> None:
    told = {
        navlog("revise", ROUND_ROBIN, "--at", "qhb", clock).out for clock in ("15:17", "15:17Z", "1517", "15:17:00")
    }
    assert len(told) == 1


def test_the_actual_take_off_is_an_override() -> None:
    found = navlog("revise", ROUND_ROBIN, "--off", "15:20Z", "--at", "QHB", "15:26", "--format", "json")
    assert json.loads(found.out)["flown"][0]["time_min"] == 6.0


def test_planned_minutes_are_those_of_the_log() -> None:
    # The log prints 0:06 for leg 2, whose 6.65 min end at 12.48 min of running time.
    found = navlog("revise", ROUND_ROBIN, "--at", "QHB", "15:17", "--at", "cop", "15:25")
    assert "QHB to COP: 11.0 NM in 8 min (6 planned)" in found.out


@pytest.mark.parametrize("tenths", range(50, 100))
def test_the_fuel_at_the_destination_is_one_figure(tenths: int) -> None:
    times = ("--at", "QHB", "15:17", "--at", "cop", "15:25", "--fuel", f"{tenths / 10:.1f}gal")
    # So much is gone that another account stands before, of the burn as measured.
    out = " ".join(navlog("revise", ROUND_ROBIN, *times).out.split()).partition("at the planned burn")[2]
    left = out.partition("Z: left ")[2].split(" ")[0]
    # 48 min and a little at 8.5 gal/h: more than 6.8 gal are burnt from there.
    assert ("THE FUEL RUNS OUT" in out) == (tenths < 69) == (not left)
    assert f"THE RESERVE IS LOST: {left + ' gal' if left else 'none'} left at XHAR" in out


@pytest.mark.parametrize(
    ("headings", "told"),
    [
        # The course to QHB is 269 magnetic.
        (("273M", "270M"), "--heading:1:1: error: the heading to `QHB` is given twice [given-twice]"),
        (("090M",), "is it the reciprocal?"),
    ],
)
def test_a_heading_that_cannot_be_meant_is_refused(headings: tuple[str, ...], told: str) -> None:
    words = [word for one in headings for word in ("--heading", "QHB", one)]
    found = navlog("revise", ROUND_ROBIN, "--at", "QHB", "15:17", *words)
    assert (found.status, found.out) == (2, "")
    assert told in found.err


def test_more_fuel_than_planned_is_warned_of() -> None:
    # 15 min at 8.5 gal/h are 2.13 of the 37 gal: 34.87 are left, and 36.9 is over 1 gal more.
    times = ("--at", "QHB", "15:17", "--at", "cop", "15:25")
    found = navlog("revise", ROUND_ROBIN, *times, "--fuel", "36.9gal")
    assert found.status == 0
    assert "WARNING: 36.9 gal read at the changeover point, where the planned burn leaves 34.8" in " ".join(
        found.out.split()
    )
    (told,) = json.loads(navlog("revise", ROUND_ROBIN, *times, "--fuel", "36.9gal", "--format", "json").out)["warnings"]
    assert told.endswith("the planned burn leaves 34.8 gal by then: check the reading")
    for usual in ("35.8gal", "34.5gal"):
        assert "WARNING" not in navlog("revise", ROUND_ROBIN, *times, "--fuel", usual).out


def test_all_the_fuel_at_take_off_can_be_read_and_no_more() -> None:
    # 38 gal less 1 gal for the taxi.
    assert navlog("revise", ROUND_ROBIN, "--at", "QHB", "15:17", "--fuel", "37gal").status == 0
    found = navlog("revise", ROUND_ROBIN, "--at", "QHB", "15:17", "--fuel", "37.1gal")
    assert (found.status, found.out) == (2, "")
    assert "37.1 gal at QHB is more than the 37.0 gal on board at take-off [too-much-fuel]\n  hint: " in found.err


def test_fuel_taken_on_the_way_can_be_read() -> None:
    landing = str(EXAMPLES / "landing.route")
    times = ("--at", "XTAR", "10:20", "--at", "QEL", "11:20")
    assert navlog("revise", landing, *times, "--fuel", "22gal").status == 0
    assert "more than the 22.0 gal" in navlog("revise", landing, *times, "--fuel", "23gal").err


BAD = [
    (("--at", "QHB", "15:17", "--fuel", "99gal"), "--fuel:1:1: error: 99 gal at QHB is more than"),
    ((), "error: no point is timed [no-times]"),
    (("--at", "QHB"), "requires 2 arguments"),
    (("--at", "QHB", "15:05"), "--at:1:5: error: 15:05 is before take-off at 15:10Z [time-out-of-order]"),
    (("--at", "QHB", "15:10"), "error: 9.6 NM to QHB cannot be flown in 0 min [no-time]"),
    (("--at", "QHB", "15:12"), "error: 9.6 NM to QHB cannot be flown in 2 min [no-time]"),
    (("--at", "QHB", "15:17", "--at", "cop", "15:16"), "error: 15:16 is before QHB at 15:17Z [time-out-of-order]"),
    (("--at", "QHB", "15:17", "--at", "cop", "15:17"), "to the changeover point cannot be flown in 0 min [no-time]"),
    (("--at", "QHB", "3:17pm"), "--at:1:5: error: `3:17pm` is not a time of day [bad-time]"),
    (("--at", "QHB", "24:00"), "--at:1:5: error: there is no time `24:00` [bad-time]"),
    (("--at", "QHB", ""), "--at:1:5: error: `` is not a time of day [bad-time]"),
    (("--at", "QXX", "15:17"), "--at:1:1: error: the flight does not pass `QXX` [unknown-point]"),
    (("--at", "QHBB", "15:17"), "did you mean `QHB`?"),
    (("--at", "QHB", "15:17", "--at", "QHB", "15:30"), "`QHB` is not passed again after QHB [point-passed]"),
    (("--at", "cop", "15:25", "--at", "QHB", "15:30"), "`QHB` is not passed again after the changeover point"),
    (("--at", "QHB", "15:17", "--fuel", "20lb"), "error: `lb` and `gal` cannot be counted together"),
    (("--at", "QHB", "15:17", "--fuel", "-3"), "--fuel:1:1: error: `-3` is not a fuel quantity"),
    (("--at", "QHB", "15:17", "--fuel", "much"), "--fuel:1:1: error: `much` is not a fuel quantity"),
    (("--at", "QHB", "15:17", "--heading", "QEL", "213M"), "`QEL` has a heading and no time [unknown-point]"),
    (("--at", "QHB", "15:17", "--heading", "QHB", "213"), "--heading:1:1: error: `213` does not say its north"),
    (("--at", "QHB", "15:17", "--heading", "QHB", "400M"), "--heading:1:1: error: `400` is over 360 degrees"),
    (("--at", "QHB", "15:17", "--wind", "nonsense"), "--wind:1:1: error: "),
    (("--at", "QHB", "15:17", "--flight", "Elsewhere"), "[unknown-flight]"),
]


@pytest.mark.parametrize(("arguments", "message"), BAD, ids=[" ".join(one[0]) or "nothing" for one in BAD])
def test_bad_input_is_one_clear_line(arguments: tuple[str, ...], message: str) -> None:
    found = navlog("revise", ROUND_ROBIN, *arguments)
    assert found.status == 2
    assert found.out == ""
    assert message in found.err
    assert found.err.lower().count("error:") == 1


def test_a_flight_without_off_asks_for_it() -> None:
    found = navlog("revise", "-", "--at", "QHB", "15:17", typed=changed(without=("off",)))
    assert found.status == 2
    assert found.err == "error: the flight has no take-off time [no-off]\n  hint: give --off 15:10Z\n"


def test_several_flights_ask_for_one() -> None:
    found = navlog("revise", str(EXAMPLES / "club_day.route"), "--at", "QSK", "10:40")
    assert found.status == 2
    assert "[which-flight]" in found.err
    assert "`Out to Skerry`" in found.err


@settings(max_examples=100, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["QHB", "cop", "QEL", "QSK", "XHAR", "?"]), st.times().map(lambda one: f"{one:%H:%M}")
        ),
        min_size=1,
        max_size=4,
    ),
    st.floats(0.0, 40.0),
)
def test_no_times_end_in_a_traceback(times: list[tuple[str, str]], fuel: float) -> None:
    words = [word for name, clock in times for word in ("--at", name, clock)]
    found = navlog("revise", ROUND_ROBIN, *words, "--fuel", f"{fuel:.1f}", "--format", "json")
    assert found.status in (0, 1, 2), found.err
    assert "bug" not in found.err
    assert (found.out == "") == (found.status == 2)
