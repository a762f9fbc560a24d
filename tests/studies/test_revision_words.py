"""A revision whole, in its own words: what was flown, the wind found, warnings, fuel, and where a slip is marked.

By the chart alone: QHB to QEL and back, 60 NM on 090 and 270 true, at 120 kt and 12 gal/h, so that a way takes 30 min
and 6 gal; the tanks hold 38.
"""

from __future__ import annotations

import json
from datetime import UTC, datetime

import pytest
from helpers.drawn import reports
from helpers.flown import navlog
from helpers.revised import revised

from navlog.nav.record import changed
from navlog.studies.revision_timing import PartFlown, Passed

THERE = "direct QHB 090 - 270 QEL 60nm"
BACK = "route QHB QEL QHB"
TIMES = "the times, each within half a minute of the plan"
KEPT = f"calm, no different from the forecast, which holds ahead unchanged, by {TIMES}"
NIGHT = "(45 min, 14 CFR 91.151 night, since day or night at landing is not known)"
RESERVE = f"9.0 gal {NIGHT}"  # 45 min at 12 gal/h
SOUTH = ("station QSS 111.00 decl 0E", "direct QEL 180 - 000 QSS 60nm")


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
        ("--at", ("QHB", "10:99"), (1, len("QHB ") + 1, len("10:99"))),
    ],
)
def test_a_slip_is_marked_as_long_as_it_is(option: str, words: tuple[str, str], place: tuple[int, int, int]) -> None:
    run = navlog("revise", "-", *at("QEL 10:30"), option, *words, typed=chart())
    line, column, length = place
    assert run.status == 2
    shown = run.err.splitlines()
    assert shown[0].startswith(f"{option}:{line}:{column}: error: ")
    assert shown[1] == f"   1 | {' '.join(words)}"
    assert shown[2] == f"     | {' ' * (column - 1)}{'^' * length}"


def test_a_revision_as_json() -> None:
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
    expected = {
        "schema": "navlog/revise-1",
        "computation": "revise",
        "flight": "-",
        "fuel_unit": "gal",
        "fuel_on_board": 32.0,
        "fuel_read": True,
        "after_refuelling": None,
        "with_reading_alone": None,
        "notices_changed": [],
        "reserve": 9.0,
        "reserve_min": 45.0,
        "remaining": 24.0,
        "reserve_holds": True,
        "alternates": [],
        "fields": [],
    }
    assert {key: found[key] for key in expected} == expected


@pytest.mark.parametrize(
    ("passed", "head", "back"),
    [
        # 60 NM in 30 min at 120 kt: nothing along the course, and the way back takes 30 min as well.
        ("10:30", "headwind 0 kt", "11:00"),
        # In 40 min at 90 kt: 30 kt against, 150 kt made good on the way back, 24 min.
        ("10:40", "headwind 30 kt", "11:04"),
    ],
)
def test_a_headwind_part_without_any_forecast_is_no_wind_and_no_heading_comes_of_it(
    passed: str, head: str, back: str
) -> None:
    text = chart().replace("wind calm\n", "")
    found = told(text, *at(f"QEL {passed}"), "--fuel", "32gal")
    assert found[""][0].startswith(f"QEL at {passed}Z, ? planned; 32.0 gal on board as read")
    assert found["FLOWN"][0].endswith(f"for half a minute; {head}")
    wind, table = " ".join(found["WIND"]).split(" No From")
    assert wind == (
        f"{head} on 090T, by the headwind part to QEL; the crosswind is not known, and no forecast is given. Ahead"
        " times are with that headwind alone, and headings are not known."
    )
    assert table.split("TO ")[1].split()[:1] == ["?"]
    assert found["FUEL"][0].startswith(f"at QHB, {back}Z: left ")


def test_a_time_across_the_only_headwind_known_is_a_guess() -> None:
    # With a forecast the crosswind would be that of the forecast, and 5 kt no matter.
    text = chart(*SOUTH, route="route QHB QEL QSS QEL")
    without = told(text.replace("wind calm\n", ""), *at("QEL 10:31"))
    guess = "WARNING: the wind across the course flown is not known: the time of legs 3-6 is a guess"
    assert guess in without[""]
    assert len(told(text, *at("QEL 10:31"))[""]) == 1


def test_headings_that_a_headwind_alone_leaves_unknown_are_so_in_json_with_the_reason() -> None:
    # The way back has its changeover point in the middle: 30 NM at 150 kt are 12 min.
    text = chart().replace("wind calm\n", "")
    found = json.loads(navlog("revise", "-", *at("QEL 10:40"), "--format", "json", typed=text).out)
    leg = found["legs"][0]
    assert (leg["wind"], leg["true_heading_deg"], leg["magnetic_heading_deg"]) == (None, None, None)
    assert (leg["groundspeed_kt"], leg["time_min"]) == (pytest.approx(150.0), pytest.approx(12.0))
    reasons = {one["key"]: one["reason"] for one in leg["unknown"]}
    assert reasons["magnetic_heading_deg"] == "a headwind part alone is known of the wind"


def test_without_a_forecast_a_whole_wind_found_holds_everywhere_ahead() -> None:
    text = chart(*SOUTH, route="route QHB QEL QSS QEL").replace("wind calm\n", "")
    ahead = "; no forecast is given, and ahead it holds everywhere"
    # The sums of the two winds stand under `test_how_a_wind_was_found_in_words`.
    two = " ".join(told(text, *at("QEL 10:36", "QSS 11:06"))["WIND"])
    assert two.startswith(f"085T/20, by the groundspeeds to QEL and QSS, 90 degrees apart{ahead}")
    held = " ".join(told(text, *at("QEL 10:32"), "--heading", "QEL", "095T")["WIND"])
    assert held.startswith(f"146T/13, by the heading that held the course to QEL{ahead}")


def test_how_a_wind_was_found_in_words() -> None:
    # 100 kt made good on 090 and 120 on 180: 19.9 kt ahead and then 1.7 behind, with 1.7 and 19.9 across, make
    # sqrt(120^2 - 1.7^2) - 19.9 and sqrt(120^2 - 19.9^2) + 1.7; that is 20 kt from 085.
    two = told(chart(*SOUTH, route="route QHB QEL QSS QEL"), *at("QEL 10:36", "QSS 11:06"))
    assert " ".join(two["WIND"]).startswith(
        "085T/20 (forecast calm), by the groundspeeds to QEL and QSS, 90 degrees apart. Ahead every forecast wind is"
        " changed by the difference, 085T/20, as a vector."
    )
    # 112.5 kt made good on 090 with the nose on 095: 119.5 and 10.5 kt through the air, so 7.0 and 10.5 are the wind's.
    held = told(chart(), *at("QEL 10:32"), "--heading", "QEL", "095T")
    assert " ".join(held["WIND"]).startswith(
        "146T/13 (forecast calm), by the heading that held the course to QEL. Ahead every forecast wind is changed by"
        " the difference, 146T/13, as a vector."
    )


@pytest.mark.parametrize(
    ("arguments", "lines"),
    [
        (
            at("QEL 10:01"),
            ["--at:1:1: error: 60.0 NM to QEL cannot be flown in 1 min [no-time]", "  hint: check the times"],
        ),
        (
            (*at("QEL 10:30"), "--fuel", "39gal"),
            [
                "--fuel:1:1: error: 39 gal at QEL is more than the 38.0 gal on board at take-off [too-much-fuel]",
                "  hint: check the reading, or the flight's own `fuel`",
            ],
        ),
        (
            (*at("QEL 10:30"), "--fuel", "20kg"),
            [
                "--fuel:1:1: error: `kg` and `gal` cannot be counted together without a density [mixed-fuel-units]",
                "  hint: give the fuel in gal",
            ],
        ),
    ],
    ids=["no time", "too much", "no density"],
)
def test_what_cannot_be_says_why_and_what_to_do(arguments: tuple[str, ...], lines: list[str]) -> None:
    run = navlog("revise", "-", *arguments, typed=chart())
    assert (run.status, run.out) == (2, "")
    assert run.err.splitlines() == lines


def test_a_hold_among_other_legs_is_as_long_as_one_likes_and_makes_no_speed_doubtful() -> None:
    (planned,) = reports(chart("hold QEL 6min"))
    out, hold, *back = [leg for leg in planned.log.legs if leg.end.name in ("QEL", "QHB")]
    assert hold.stays
    passed = Passed(back[-1], datetime(2026, 7, 18, 12, tzinfo=UTC))
    part = PartFlown(out.start, passed, (out, hold, *back), 120.0, 150.0, 66.0)
    # 120 NM in 150 min are 48 kt, where 109 are planned; without the hold that is no wind's doing: more than 40 less
    # than the 120 planned then.
    assert part.doubtful_kt is None
    without = changed(part, legs=(out, *back), planned_min=60.0)
    assert without.doubtful_kt == pytest.approx(120.0 / 149.5 * 60.0)


FIELDS = (
    "station QAA 113.00 N46 00.00 W039 00.00 decl 10W\nstation QBB 114.00 N46 20.00 W039 00.00 decl 10W\n"
    'airport XAA N45 50.00 W039 00.00 elev 100ft name "Île"\nairport XCC N46 40.00 W039 00.00 elev 100ft\n'
    "airport XQB N46 20.00 W039 00.00 elev 100ft\nairport XFA N45 50.00 W037 30.00 elev 100ft\ndate 2026-07-18\n"
    "off 15:00Z\nwind calm\nvariation 0E\naltitude 3500\ntas 120kt\nburn 8gph\nfuel 6gal\nrules vfr day\n"
    "route QAA QBB XCC\n"
)
LOW = (*at("QBB 15:10"), "--fuel", "4.66gal")


def test_each_field_within_reach_is_told_with_its_heading_time_fuel_and_station() -> None:
    # 15 NM a gallon: of 4.66 gal 20.0, 30.0 and 69.5 NM (WGS84) leave 3.32, 2.66 and 0.03; kept are 4 gal by day. QBB
    # is nearer to XCC, QAA to XAA, radials are 10 degrees off by the declination; XFA is 64 NM from QAA, beyond 60.
    found = told(FIELDS, *LOW)
    assert found["FIELDS WITHIN REACH, direct, in that wind"] == [
        "XCC: heading 360, 20.0 NM, 0:10, 15:20Z, 3.3 gal left, NO RESERVE; QBB 114.00 radial 010 20.0 NM",
        "XAA Île: heading 180, 30.0 NM, 0:15, 15:25Z, 2.6 gal left, NO RESERVE; QAA 113.00 radial 190 10.0 NM",
        "XFA: heading 116, 69.5 NM, 0:35, 15:45Z, 0.0 gal left, NO RESERVE",
    ]


def test_json_is_of_plain_letters_whatever_a_field_is_called() -> None:
    run = navlog("revise", "-", *LOW, "--format", "json", typed=FIELDS)
    assert run.out.isascii()
    assert [one["name"] for one in json.loads(run.out)["fields"]] == [None, "Île", None]


def test_without_a_wind_no_forecast_holds_ahead() -> None:
    text = chart().replace("wind calm\n", "")
    assert "wind" not in text
    assert told(text, *at("QHB 11:00"))["WIND"] == [
        "no part flown tells a wind: none is given, and none is known ahead"
    ]
