"""A revision whole, in its own words: what was flown, the wind found, warnings, fuel, and where a slip is marked.

By the chart alone: QHB to QEL and back, 60 NM on 090 and 270 true, at 120 kt and 12 gal/h, so that a way takes 30 min
and 6 gal; the tanks hold 38.
"""

from __future__ import annotations

import pytest
from helpers.flown import navlog
from helpers.revised import revised

THERE = "direct QHB 090 - 270 QEL 60nm"
BACK = "route QHB QEL QHB"
TIMES = "the times, each within half a minute of the plan"
KEPT = f"calm, no different from the forecast, which holds ahead unchanged, by {TIMES}"
NIGHT = "(45 min, 14 CFR 91.151 night, since day or night at landing is not known)"
RESERVE = f"9.0 gal {NIGHT}"  # 45 min at 12 gal/h


def chart(*more: str, fuel: str = "fuel 38gal", route: str = BACK) -> str:
    given = ("station QHB 113.70 decl 0E dme", "station QEL 110.20 decl 0E dme", THERE, "date 2026-07-18")
    flown = ("altitude 3000", "tas 120kt", "burn 12gph", "wind calm", "off 10:00Z", route)
    return "\n".join((*given, *flown, *more, fuel)) + "\n"


def told(text: str, *arguments: str) -> dict[str, list[str]]:
    """The sentences under each heading, what is wrapped put together; under nothing what stands first."""
    out = navlog("revise", "-", *arguments, typed=text).out
    found: dict[str, list[str]] = {"": []}
    under = ""
    for line in out.split("\n\nFor planning only.")[0].splitlines()[1:]:
        if line and not line.startswith(" ") and line.split(",")[0].isupper() and not line.startswith("-"):
            under = line
            found[under] = []
        elif line.startswith("    ") or (line.startswith("  ") and under == ""):
            found[under][-1] += f" {line.strip()}"
        elif line:
            found[under].append(line.strip())
    return found


def at(*times: str) -> tuple[str, ...]:
    return tuple(word for one in times for word in ("--at", *one.split()))


def test_a_flight_that_keeps_its_plan() -> None:
    found = told(chart(), *at("QEL 10:30"))
    assert found[""][0] == "QEL at 10:30Z, 10:30Z planned; 32.0 gal on board by the planned burn"
    # Half a minute of 30 is a sixtieth: 2 kt of 120.
    assert found["FLOWN"] == [
        "QHB to QEL: 60.0 NM in 30 min (30 planned), groundspeed 120 kt (120 planned), 2 kt for half a minute;"
        " headwind 0 kt (forecast headwind 0 kt)"
    ]
    assert found["WIND"][0] == KEPT
    assert found["FUEL"] == ["at QHB, 11:00Z: left 26.0 gal", f"the reserve of {RESERVE} holds"]


def test_a_reading_and_a_groundspeed_far_from_the_plan() -> None:
    # 60 NM in 24 min are 150 kt; back into the 30 kt found 90 kt are made good, 40 min and 8 gal. Of 6 gal used, 4.8
    # are the plan's for 24 min: 1.25 times as much, and so 15 gal/h, of which 45 min take 11.25.
    found = told(chart(), *at("QEL 10:24"), "--fuel", "32gal")
    assert found[""] == [
        "QEL at 10:24Z, 10:30Z planned (6 min early); 32.0 gal on board as read, as planned; 6.0 gal used since"
        " take-off at QHB (6.0 gal planned)",
        "WARNING: 32.0 gal read at QEL, where the planned burn leaves 33.2 gal by then: the burn is more than planned,"
        " the mixture is rich, fuel is leaking, or the reading is wrong; the table ahead counts the planned burn",
    ]
    assert found["FLOWN"] == [
        "QHB to QEL: 60.0 NM in 24 min (30 planned), groundspeed 150 kt (120 planned), 3 kt for half a minute;"
        " tailwind 30 kt (forecast headwind 0 kt)"
    ]
    assert " ".join(found["WIND"]).startswith(
        "270T/30 (forecast calm, headwind part alone), by the headwind part to QEL; the crosswind is the forecast's."
        " Ahead every forecast wind is changed by the difference, 270T/30, as a vector."
    )
    assert found["FUEL"] == [
        "by the readings 1.3 times the planned burn; should that go on:",
        "at QHB, 11:04Z: left 22.0 gal",
        f"the reserve of 11.3 gal {NIGHT} holds",
        "at the planned burn from now on:",
        "at QHB, 11:04Z: left 24.0 gal",
        f"the reserve of {RESERVE} holds",
    ]


def test_a_doubtful_wind_is_told_once() -> None:
    # 60 NM in 17 min are 212 kt, 92 more than planned.
    found = told(chart(), *at("QEL 10:17"))
    assert found[""][1:] == [
        "WARNING: the wind is 92 kt from the forecast: check the clock, the take-off time and the points passed"
    ]


def test_where_no_fuel_is_known_none_is_told() -> None:
    found = told(chart(fuel=""), *at("QEL 10:30"))
    assert found[""] == ["QEL at 10:30Z, 10:30Z planned; fuel on board not known", *found[""][1:]]
    assert found["FUEL"] == ["at QHB, 11:00Z: left not known", "whether the reserve holds is not known"]


def test_tanks_that_are_just_dry_at_the_end_have_nothing_left_and_are_not_below_it() -> None:
    # 12.05 gal are 6.05 after 30 min and 0.05 after 60: less than prints, and no less than nothing.
    found = told(chart(fuel="fuel 12.05gal"), *at("QEL 10:30"), "--fuel", "6.05gal")
    used = "6.0 gal used since take-off at QHB, 12.0 gal/h (6.0 gal planned)"
    assert found[""][0] == f"QEL at 10:30Z, 10:30Z planned; 6.0 gal on board as read, as planned; {used}"
    assert found["FUEL"] == [
        "at QHB, 11:00Z: left 0.0 gal",
        f"THE RESERVE IS LOST: 0.0 gal left at QHB, and the reserve is {RESERVE}",
    ]
    assert found["FIELDS WITHIN REACH, direct, in that wind"] == ["none is known"]
    out = navlog("revise", "-", *at("QEL 10:30"), "--fuel", "6.05gal", typed=chart(fuel="fuel 12.05gal")).out
    assert [line.split()[-3:] for line in out.splitlines() if line.startswith(" 4 ")] == [["11:00Z", "0.0", "11:00Z"]]
    short = navlog("revise", "-", *at("QEL 10:30"), "--fuel", "5.95gal", typed=chart(fuel="fuel 12.05gal")).out
    assert [line.split()[-3:] for line in short.splitlines() if line.startswith(" 4 ")] == [
        ["11:00Z", "none", "11:00Z"]
    ]


@pytest.mark.parametrize(
    ("hold", "times", "flown"),
    [
        (
            "hold QEL 6min",
            ("QHB 11:06",),
            "QHB to QHB: 120.0 NM in 66 min (66 planned); no wind from it, a hold lies in it",
        ),
        (
            "hold QEL 6min",
            ("QEL 10:30", "QHB 11:06"),
            "QEL to QHB: 60.0 NM in 36 min (36 planned); no wind from it, a hold lies in it",
        ),
    ],
)
def test_a_part_with_a_hold_beside_legs_tells_no_speed(hold: str, times: tuple[str, ...], flown: str) -> None:
    found = told(chart(hold), *at(*times))
    assert found["FLOWN"][-1] == flown


def test_a_part_that_turns_tells_no_wind() -> None:
    south = ("station QSS 111.00 decl 0E", "direct QEL 180 - 000 QSS 60nm")
    found = told(chart(*south, route="route QHB QEL QSS QEL"), *at("QSS 11:00"))
    assert found["FLOWN"] == [
        "QHB to QSS: 120.0 NM in 60 min (60 planned), groundspeed 120 kt (120 planned), 1 kt for half a minute; no wind"
        " from it, the course turns by more than 6 degrees in it"
    ]
    assert found["WIND"][0] == "no part flown tells a wind: the forecast holds ahead"


@pytest.mark.parametrize(
    ("option", "words", "place"),
    [
        ("--heading", ("QEL", "275"), (1, 1, len("QEL 275"))),
        ("--heading", ("QELX", "090T"), (1, 1, len("QELX 090T"))),
        ("--heading", ("QEL", "275T"), (1, 1, len("QEL 275T"))),
        ("--at", ("QXX", "10:40"), (1, 1, len("QXX 10:40"))),
        ("--at", ("QHB", "10:99"), (1, 1, len("QHB 10:99"))),
    ],
)
def test_a_slip_is_marked_as_long_as_it_is(option: str, words: tuple[str, str], place: tuple[int, int, int]) -> None:
    run = navlog("revise", "-", *at("QEL 10:30"), option, *words, typed=chart())
    line, column, length = place
    assert run.status == 2
    shown = run.err.splitlines()
    assert shown[0].startswith(f"{option}:{line}:{column}: error: ")
    assert shown[1] == f"   1 | {' '.join(words)}"
    assert shown[2] == f"     | {'^' * length}"


def test_a_revision_as_json_by_every_key() -> None:
    # 60 NM in 24 min for 30: 150 kt, of which half a minute is a 48th; 1.25 times the burn as above.
    status, found = revised(chart(), *at("QEL 10:24"), "--fuel", "32gal")
    (part,), (first, last) = found.pop("flown"), found.pop("legs")
    assert (status, found.pop("at").pop("time"), part.pop("time")) == (0, *["2026-07-18T10:24:00.000Z"] * 2)
    assert [(part.pop(end)["ident"]) for end in ("from", "to")] == ["QHB", "QEL"]
    assert part == {
        "distance_nm": 60.0,
        "time_min": 24.0,
        "planned_min": 30.0,
        "groundspeed_kt": 150.0,
        "planned_groundspeed_kt": 120.0,
        "half_minute_kt": 3.125,
        "headwind_kt": -30.0,
        "forecast_headwind_kt": 0.0,
        "reason": None,
    }
    assert (first["number"], last["number"], last["eta"]) == (3, 4, "2026-07-18T11:04:00.000Z")
    assert found.pop("planned_eta") == ["2026-07-18T10:45:00.000Z", "2026-07-18T11:00:00.000Z"]
    wind = found.pop("wind")
    assert (wind["found"], wind["difference"]) == ({"from_true_deg": 270.0, "speed_kt": 30.0},) * 2
    assert (wind["forecast"]["speed_kt"], wind["whole"]) == (0.0, False)
    assert found.pop("measured") == {
        "times_planned": 1.25,
        "burn_per_h": None,
        "remaining": 22.0,
        "reserve": 11.25,
        "reserve_holds": True,
        "alternates": [],
    }
    assert found.pop("reserve_rule").startswith("14 CFR 91.151 night")
    assert len(found.pop("warnings")) == 1
    assert found == {
        "schema": "navlog/revise-1",
        "computation": "revise",
        "flight": "-",
        "fuel_unit": "gal",
        "fuel_on_board": 32.0,
        "fuel_read": True,
        "after_refuelling": None,
        "notices_changed": [],
        "reserve": 9.0,
        "reserve_min": 45.0,
        "remaining": 24.0,
        "reserve_holds": True,
        "alternates": [],
        "fields": [],
    }
