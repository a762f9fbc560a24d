"""Fuel in flight: a reading held against the burn of the time flown, stops cut short, tanks filled, sums as printed.

By the WGS84 meridian 20 minutes of latitude here are 20.008 NM, 11 are 11.004 and 9 are 9.003; at 120 kt in calm air
and 8 gal/h 10.004, 5.502 and 4.502 min, 1.334, 0.734 and 0.600 gal.
"""

from __future__ import annotations

import json
import re

import pytest
from helpers.drawn import reports
from helpers.flown import Json, navlog

from navlog.nav.record import changed
from navlog.studies.revision_fuel import _far

MERIDIAN = (
    "airport XAA N46 00.00 W039 00.00 elev 100ft\nstation QBB 114.00 N46 20.00 W039 00.00 decl 0E class L\n"
    "airport XCC N46 40.00 W039 00.00 elev 100ft\nairport XDD N46 09.00 W039 00.00 elev 100ft\ndate 2026-07-18\n"
    "off 15:00Z\nwind calm\naltitude 3500\ntas 120kt\nburn 8gph\nfuel 20gal\nrules vfr day\n"
)
THERE_AND_BACK = MERIDIAN + "route XAA QBB XDD over QBB XCC\n"
STOP = MERIDIAN + "route XAA QBB XDD land 30min QBB XCC\n"
FILLED = MERIDIAN + "route XAA QBB XDD land 30min fuel 20gal QBB XCC\n"
SLOW = MERIDIAN.replace("tas 120kt", "tas 30kt").replace("off 15:00Z", "off 14:00Z") + "route XAA QBB XCC\n"
"""At 30 kt QBB is 40.0 min and 5.34 gal away, planned at 14:40."""


def passed(*times: str) -> tuple[str, ...]:
    return tuple(word for one in times for word in ("--at", *one.split()))


def revised(text: str, *arguments: str) -> Json:
    found = navlog("revise", "-", "--format", "json", *arguments, typed=text)
    assert found.err == "", found.err
    answer: Json = json.loads(found.out)
    return answer


def told(text: str, *arguments: str) -> str:
    return " ".join(navlog("revise", "-", *arguments, typed=text).out.split())


@pytest.mark.parametrize("clock", ["15:22", "15:35", "15:46", "15:51"])
def test_a_stop_cut_short_saves_no_fuel(clock: str) -> None:
    # Planned 15:45:30 off and 15:51 at QBB again: 0.734 of the 20 gal taken at XDD are used by then, however long it
    # stood, and 2.801 of the 20 gal of XAA where none is taken.
    assert revised(FILLED, *passed("XDD 15:16", f"QBB {clock}"))["fuel_on_board"] == pytest.approx(19.266, abs=0.002)
    assert revised(STOP, *passed("XDD 15:16", f"QBB {clock}"))["fuel_on_board"] == pytest.approx(17.199, abs=0.002)
    # Not timed at the stop, it may have been cut short as well.
    if clock != "15:51":
        untimed = navlog(
            "revise",
            "-",
            "--set",
            "route XAA XDD land 30min fuel 20gal QBB",
            "--format",
            "json",
            *passed(f"QBB {clock}"),
            typed=FILLED,
        )
        assert json.loads(untimed.out)["fuel_on_board"] <= 19.267


def test_time_lost_about_a_stop_counts_as_flown() -> None:
    # 9.5 min more than planned from XDD to QBB are 1.27 gal, lest they were flown.
    found = revised(FILLED, *passed("XDD 15:16", "QBB 16:01"))
    assert found["fuel_on_board"] == pytest.approx(19.266 - 9.5 / 60.0 * 8.0, abs=0.01)


def test_time_lost_before_a_stop_is_not_made_good_on_the_ground() -> None:
    # 9.5 min lost in the air to XDD are 1.27 gal more, though the stop is as much shorter.
    found = revised(STOP, *passed("XDD 15:25", "QBB 15:51"))
    assert found["fuel_on_board"] == pytest.approx(17.199 - 9.5 / 60.0 * 8.0, abs=0.01)


@pytest.mark.parametrize("minute", range(8, 16))
def test_time_gained_leaves_no_more_than_was_loaded(minute: int) -> None:
    found = revised(THERE_AND_BACK, *passed(f"XDD 15:{minute:02d}"))
    # 15.506 min are planned.
    assert found["fuel_on_board"] == pytest.approx(20.0 - minute / 60.0 * 8.0, abs=0.005)


def test_a_landing_too_soon_for_any_stop_is_told() -> None:
    # QBB 11.004 NM from XDD in 4 min, 4.5 at the most: 147 kt where 120 are planned, and no time to stand.
    doubts = revised(FILLED, *passed("XDD 15:16", "QBB 15:20"))["warnings"]
    assert doubts == [
        "at least 147 kt were made good to QBB, where 120 are planned: check the clock, the take-off time and the"
        " points passed"
    ]
    assert revised(FILLED, *passed("XDD 15:16", "QBB 15:22"))["warnings"] == []
    # In 1.5 min they would be 440 kt.
    refused = navlog("revise", "-", *passed("XDD 15:16", "QBB 15:17"), typed=FILLED)
    assert (refused.status, refused.out) == (2, "")
    assert "11.0 NM to QBB cannot be flown in 1 min [no-time]" in refused.err


@pytest.mark.parametrize(
    ("route", "time", "speed"),
    [
        # 9.003 NM in 2 min, 2.5 at the most, are 216 kt; in 3.5 min 154, within 40 kt of the plan's 120.
        ("XAA XDD over QBB", "XDD 15:02", "at least 216"),
        ("XAA XDD over QBB", "XDD 15:03", None),
        # 31.012 NM with a turn back in them in 9.5 min are 196 kt; in 39.5 min 47, in 20 min 93.
        ("XAA QBB XDD over XCC", "XDD 15:09", "at least 196"),
        ("XAA QBB XDD over XCC", "XDD 15:40", "at most 47"),
        ("XAA QBB XDD over XCC", "XDD 15:20", None),
    ],
)
def test_a_time_that_no_wind_makes_is_told_where_no_wind_is_found(route: str, time: str, speed: str | None) -> None:
    doubts = revised(f"{MERIDIAN}route {route}\n", *passed(time))["warnings"]
    assert [one.partition(" kt were made good to XDD, where 120 are planned: check")[0] for one in doubts] == (
        [] if speed is None else [speed]
    )


@pytest.mark.parametrize(
    ("read", "warned"),
    [
        # 40 min late: 80 min at 8 gal/h are 10.67 of the 20 gal, so 9.33 are left.
        ("9.3gal", None),
        ("8.4gal", None),
        ("8.2gal", "the burn is more than planned"),
        # As planned for the planned time: 5.3 gal in 80 min.
        ("14.6gal", "check the reading"),
    ],
)
def test_a_reading_is_judged_by_the_time_flown(read: str, warned: str | None) -> None:
    found = revised(SLOW, *passed("QBB 15:20"), "--fuel", read)
    doubts = [one for one in found["warnings"] if " gal read at " in one]
    assert (found["measured"] is not None) == (warned == "the burn is more than planned")
    if warned is None:
        assert doubts == []
        return
    (one,) = doubts
    assert one.startswith(f"{read[:-3]} gal read at QBB, where the planned burn leaves 9.3 gal by then: {warned}")


def test_fuel_ahead_adds_as_on_the_sheet_of_the_whole_flight() -> None:
    # 1.334, 2.068, 2.801 and 4.135 gal used by each point round up to 1.4, 2.1, 2.9 and 4.2.
    lefts = ["18.6", "17.9", "17.1", "15.8"]
    sheet = navlog("log", "-", typed=THERE_AND_BACK).out
    assert re.findall(r"^ \d .* (\d+\.\d)$", sheet, re.MULTILINE) == lefts
    for times in (("QBB 15:10",), ("QBB 15:10", "XDD 15:16"), ("QBB 15:10", "XDD 15:16", "QBB 15:21")):
        out = navlog("revise", "-", *passed(*times), typed=THERE_AND_BACK).out
        ahead = re.findall(r"^ \d .* (\d+\.\d) \d\d:\d\dZ$", out, re.MULTILINE)
        assert ahead == lefts[len(times) :]
        assert f"{lefts[len(times) - 1]} gal on board by the planned burn" in " ".join(out.split())


def test_a_reading_on_landing_is_held_against_what_is_left_before_refuelling() -> None:
    # 17.93 gal are left at XDD, 17.9 as printed; 15.0 are 2.9 less, 5.0 used where 2.1 are planned.
    out = told(FILLED, *passed("XDD 15:16"), "--fuel", "15gal")
    assert (
        "15.0 gal on board as read on landing, 2.9 gal under the plan; 5.0 gal used since take-off at XAA (2.1 gal"
        " planned)"
    ) in out
    assert "15.0 gal read at XDD, where the planned burn leaves 17.9 gal by then: the burn is more" in out


def test_a_reading_after_refuelling_is_held_against_what_is_taken_and_counted_ahead() -> None:
    # 12 gal less 2.067 are 9.93; 17 of the 20 gal to be taken are 3 short, and 2.068 are used to XCC.
    text = FILLED.replace("\nfuel 20gal", "\nfuel 12gal")
    out = told(text, *passed("XDD 15:16"), "--fuel", "17gal")
    assert "17.0 gal on board as read after refuelling, 3.0 gal under the plan FLOWN" not in out
    assert "17.0 gal on board as read after refuelling, 3.0 gal under the plan WARNING" in out
    assert "where 20.0 gal are planned after refuelling: less was taken on, or the reading is wrong" in out
    found = revised(text, *passed("XDD 15:16"), "--fuel", "17gal")
    assert (found["measured"], found["remaining"]) == (None, pytest.approx(17.0 - 2.068, abs=0.002))


@pytest.mark.parametrize(
    ("text", "at", "fuel", "after", "words"),
    [
        # 17.93 gal are left on landing at XDD, where 20 are taken: 18 is nearer to the one, 19.5 to the other.
        (FILLED, "XDD 15:16", "18gal", False, "18.0 gal on board as read on landing"),
        (FILLED, "XDD 15:16", "19.5gal", True, "19.5 gal on board as read after refuelling"),
        (FILLED, "XDD 15:16", None, False, "17.9 gal on board by the planned burn on landing"),
        # No tanks are filled at QBB, nor where the flight only stands at XDD.
        (FILLED, "QBB 15:10", "18gal", None, "18.0 gal on board as read,"),
        (STOP, "XDD 15:16", "18gal", None, "18.0 gal on board as read,"),
        (STOP, "XDD 15:16", None, None, "17.9 gal on board by the planned burn FLOWN"),
    ],
)
def test_which_side_of_a_filling_the_fuel_on_board_counts_for_is_told(
    text: str, at: str, fuel: str | None, after: bool | None, words: str
) -> None:
    reading = () if fuel is None else ("--fuel", fuel)
    assert revised(text, *passed(at), *reading)["after_refuelling"] is after
    assert words in told(text, *passed(at), *reading)


@pytest.mark.parametrize(
    ("fuel", "after", "remaining", "alone"),
    [
        # 12 gal less 2.067 are 9.933 on landing at XDD, 20 are taken, 2.068 are used to XCC; by day 4 gal are kept.
        # 11.0 are 1.07 more than can be left, so little was taken on; of 10.9 and less both are told.
        ("11gal", True, 11.0 - 2.068, None),
        ("10.9gal", False, 20.0 - 2.068, (10.9 - 2.068, True)),
        ("9.9gal", False, 20.0 - 2.068, (9.9 - 2.068, True)),
        ("6.1gal", False, 20.0 - 2.068, (6.1 - 2.068, True)),
        ("6gal", False, 20.0 - 2.068, (6.0 - 2.068, False)),
    ],
)
def test_a_small_uplift_is_no_landing_reading_and_what_may_be_either_is_told_by_both(
    fuel: str, after: bool, remaining: float, alone: tuple[float, bool] | None
) -> None:
    text = FILLED.replace("\nfuel 20gal", "\nfuel 12gal")
    found = revised(text, *passed("XDD 15:16"), "--fuel", fuel)
    assert found["after_refuelling"] is after
    assert found["remaining"] == pytest.approx(remaining, abs=0.002)
    other = found["with_reading_alone"]
    assert (other is None) is (alone is None)
    if alone is not None:
        assert (other["remaining"], other["reserve_holds"]) == (pytest.approx(alone[0], abs=0.002), alone[1])
    words = "should the 6.0 gal read be all that is on board after refuelling: at XCC, 16:02Z: left 3.9 gal"
    assert (words in told(text, *passed("XDD 15:16"), "--fuel", fuel)) is (fuel == "6gal")


def test_fields_after_a_landing_are_reached_from_the_next_take_off() -> None:
    # 11.9 gal gone where 2.067 are planned, 5.757 times it: the 0.600 gal to XAA are 3.46 of the 20 taken. Off again at
    # 15:46, 4.5 min more are 15:51.
    out = told(FILLED, *passed("XDD 15:16"), "--fuel", "8.1gal")
    _, _, fields = out.partition("FIELDS WITHIN REACH, ")
    assert fields.startswith("direct from the take-off at XDD, 15:46Z, with 20.0 gal, in that wind and at the measured")
    assert re.search(r"XAA: heading \d+, 9\.0 NM, 0:05, 15:51Z, 16\.5 gal left", fields)


@pytest.mark.parametrize(
    ("unit", "over", "far"),
    [
        # More than a US gallon from the plan: 3.785 L; of gasoline, 0.72 kg a litre, 2.725 kg and 6.01 lb.
        ("gal", 1.0, False), ("gal", 1.01, True), ("gal", -1.0, False), ("gal", -1.01, True),
        ("L", 3.78, False), ("L", 3.79, True), ("kg", 2.72, False), ("kg", 2.73, True), ("lb", -6.0, False),
        ("lb", -6.02, True), ("gal", 0.0, False),
    ],
)  # fmt: skip
def test_a_reading_is_far_from_the_plan_by_more_than_a_gallon_in_any_unit(unit: str, over: float, far: bool) -> None:
    (planned,) = reports(SLOW)
    conditions = changed(planned.log.conditions, fuel_unit=changed(planned.log.fuel_unit, name=unit))
    assert _far(changed(planned.log, conditions=conditions), over) == (over if far else None)


def test_too_much_fuel_at_a_point_passed_again_may_be_read_at_the_later_passage() -> None:
    # QBB is passed on the way to XDD, with 12 gal in the tanks at the most, and again with 20 taken on there.
    text = FILLED.replace("\nfuel 20gal", "\nfuel 12gal")
    found = navlog("revise", "-", *passed("QBB 15:57"), "--fuel", "17gal", typed=text)
    assert found.status == 2
    assert "hint: QBB is passed again: give --at QBB once for each passage, in the order flown" in found.err


@pytest.mark.parametrize(
    ("text", "time", "hint"),
    [
        (FILLED, "XDD 15:16", "check the reading, or the `fuel` behind the `land` of the route"),
        (FILLED, "QBB 15:10", "QBB is passed again: give --at QBB once for each passage, in the order flown"),
        (STOP, "XDD 15:16", "check the reading, or the flight's own `fuel`"),
    ],
)
def test_too_much_fuel_points_to_the_word_that_states_it(text: str, time: str, hint: str) -> None:
    found = navlog("revise", "-", *passed(time), "--fuel", "30gal", typed=text)
    assert (found.status, found.err.rpartition("hint: ")[2].strip()) == (2, hint)


@pytest.mark.parametrize(("clock", "doubted"), [("15:01", False), ("15:03", True)])
def test_two_times_in_whole_minutes_allow_any_speed_on_a_leg_of_a_minute(clock: str, doubted: bool) -> None:
    # 0.2 NM of a take-off late in its minute; in 2.5 min they are 5 kt, which no wind makes of 120.
    text = MERIDIAN + "airport XEE N46 00.20 W039 00.00\nroute XAA XEE over QBB\n"
    doubts = revised(text, *passed(f"XEE {clock}"))["warnings"]
    assert [one[:24] for one in doubts] == (["at most 5 kt were made g"] if doubted else [])


HELD = MERIDIAN + "hold QBB 10min\nroute XAA QBB XCC\n"
ARRIVED = "is taken for the arrival there, before the hold: give --at QBB twice to time both"
ENDED = "is taken for the end of the hold there: give --at QBB twice to time both"


@pytest.mark.parametrize(
    ("clock", "taken", "eta"),
    [
        # 20.0 NM at 120 kt are 10 min, the hold 10 and the way to XCC 10 more: 15:10, 15:20 and 15:30.
        ("15:10", None, "15:30"),
        ("15:20", f"15:20 at QBB {ENDED}", "15:30"),
        ("15:21", f"15:21 at QBB {ENDED}", "15:31"),
        # In its midst and after it QBB is reached late, against 40 kt: 20 NM at 80 kt are 15 min.
        ("15:15", f"15:15 at QBB {ARRIVED}", "15:40"),
        ("15:23", f"15:23 at QBB {ARRIVED}", None),
    ],
)
def test_a_single_time_at_a_hold_says_which_end_it_was_taken_for(
    clock: str, taken: str | None, eta: str | None
) -> None:
    found = revised(HELD, *passed(f"QBB {clock}"))
    assert found["warnings"][:1] == ([] if taken is None else [taken])
    if eta is not None:
        assert found["legs"][-1]["eta"][11:16] == eta


def test_a_hold_timed_at_both_ends_needs_no_word() -> None:
    found = revised(HELD, *passed("QBB 15:11", "QBB 15:20"))
    assert (found["warnings"], found["at"]["time"][11:16], len(found["flown"])) == ([], "15:20", 2)


@pytest.mark.parametrize(
    ("clock", "later"),
    [
        # QBB is planned at 15:10 and, from XDD at 15:15:30 after 30 min on the ground, again at 15:51.
        ("15:51", True),
        ("15:53", False),
        ("15:40", False),
    ],
)
def test_a_single_time_that_the_second_passage_alone_fits_is_taken_for_it(clock: str, later: bool) -> None:
    found = revised(FILLED, *passed(f"QBB {clock}"))
    told = f"{clock} at QBB is taken for a later passage, planned about then: give --at QBB once for each passage"
    assert (told in found["warnings"], found["legs"][-1]["to"]["ident"]) == (later, "XCC")
    assert any(leg["to"]["ident"] == "XDD" for leg in found["legs"]) is not later
