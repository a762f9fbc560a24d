"""Descents to the pattern, height to lose, climbs in the hold, and short level flight.

The aeroplane climbs 600 ft/min at 90 kt and 12 gal/h, descends 500 ft/min at 120 kt and 6 gal/h and cruises at 120 kt
and 9 gal/h, in no wind: 400 ft a mile up and 250 ft a mile down.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from helpers.flown import Json
from helpers.folder import Folder, profile

AIRCRAFT = (
    'name = "By hand"\n[climb]\ntas_kt = 90\nrate_ft_per_min = 600\nburn_gal_per_h = 12\n'
    "[cruise]\ntas_kt = 120\nburn_gal_per_h = 9\n[descent]\ntas_kt = 120\nrate_ft_per_min = 500\nburn_gal_per_h = 6\n"
)
COMMON = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\n"
    "airport XLO N46 00.00 W039 00.00 elev 500ft\nairport XHI N46 00.00 W038 00.00 elev 1000ft\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\nfuel 40gal\naircraft hand.toml\n"
)
HELD_UP = "altitude 8500\ndirect QAA 270 - XLO 60nm min 5000\ndirect QAA 090 - XHI 10nm\nroute XLO QAA XHI\n"
"""QAA, 10 NM before the field, has a minimum of 5,000 ft up to it; a free descent passes it at 3,500 ft."""


@pytest.fixture
def hand(folder: Folder) -> Folder:
    folder.put("hand.toml", AIRCRAFT)
    return folder


def messages(found: Json, rule: str) -> list[tuple[str, str]]:
    return [(one["severity"], one["message"]) for one in found["findings"] if one["rule"] == rule]


def test_vfr_descends_to_1000_ft_above_the_field_in_time_whatever_the_minimum(hand: Folder) -> None:
    # AIM 4-3-3: the pattern is 1,000 ft above the field, here 2,000 ft; 6,500 ft down are 26 NM, 16 NM before QAA.
    found = hand.fly(COMMON + HELD_UP)
    assert profile(found)[-2:] == [("descent", 16.0, 8500, 4500), ("descent", 10.0, 4500, 2000)]
    assert not {"arrival-height", "under-minimum"} & {one["rule"] for one in found["findings"]}
    sheet = hand.run(COMMON + HELD_UP).out
    assert "Descent to the pattern: XHI 2000 ft (1,000 ft above the field by AIM 4-3-3)" in sheet


def test_vfr_descends_to_a_stated_pattern(hand: Folder) -> None:
    found = hand.fly(COMMON + HELD_UP + "pattern 1800ft\n")
    assert profile(found)[-1] == ("descent", 10.0, 4300, 1800)


def test_a_stated_pattern_is_that_of_the_last_landing_alone(hand: Folder) -> None:
    # The stop is at XHI, 1,000 ft; 3,500 ft down to 2,000 are 6 NM, and to the 1,300 ft stated for XLO 8.8 NM.
    found = hand.fly(COMMON + "altitude 3500\npattern 1300ft\nroute XLO XHI land 30min XLO\n")
    down = [one for one in profile(found) if one[0] == "descent"]
    assert down == [("descent", 6.0, 3500, 2000), ("descent", 8.8, 3500, 1300)]
    assert messages(found, "arrival-height") == []


def test_vfr_stays_at_a_level_below_the_pattern(hand: Folder) -> None:
    found = hand.fly(COMMON + HELD_UP.replace("altitude 8500", "altitude 1500"))
    assert profile(found)[-1] == ("cruise", 10.0, 1500, 1500)


def test_ifr_height_to_lose_is_in_clock_totals_and_fuel_required(hand: Folder) -> None:
    # From 5,000 ft at QAA it is 2,500 ft at the field of 1,000 ft: 1,500 ft at 500 ft/min and 6 gal/h.
    found = hand.fly(COMMON + HELD_UP + "rules ifr\n")
    *_, before, to_lose = found["legs"]
    assert (to_lose["phase"], to_lose["distance_nm"], to_lose["from"], to_lose["to"]) == (
        "height to lose",
        0.0,
        before["to"],
        before["to"],
    )
    assert to_lose["time_min"] == pytest.approx(3)
    assert to_lose["fuel_used_gal"] == pytest.approx(0.3)
    assert to_lose["elapsed_min"] == pytest.approx(before["elapsed_min"] + 3)
    assert to_lose["unknown"] == []
    assert found["totals"]["time_min"] == pytest.approx(sum(leg["time_min"] for leg in found["legs"]))
    fuel = found["fuel"]
    assert fuel["required_gal"] == pytest.approx(fuel["used_gal"] + fuel["reserve_gal"])
    assert fuel["used_gal"] == pytest.approx(sum(leg["fuel_used_gal"] for leg in found["legs"]))
    told = "XHI is reached 1500 ft (3 min and 0.3 gal planned to lose it) above the field at 1000 ft"
    assert messages(found, "arrival-height") == [("note", told)]
    sheet = hand.run(COMMON + HELD_UP + "rules ifr\n").out
    assert "1500 ft to lose at XHI before the landing, 0:03" in sheet
    assert "hold" not in sheet.replace("threshold", "").split("FINDINGS")[0]


def test_height_to_lose_at_a_stop_comes_before_the_landing(hand: Folder) -> None:
    text = COMMON + HELD_UP.replace("QAA XHI", "QAA XHI land 20min fuel 30gal XLO") + "rules ifr\n"
    found = hand.fly(text)
    index = next(i for i, leg in enumerate(found["legs"]) if leg["phase"] == "height to lose")
    arriving, to_lose, off = found["legs"][index - 1 : index + 2]
    assert "stop_min" not in arriving
    assert (to_lose["stop_min"], to_lose["fuel_taken_gal"]) == (20, 30)
    assert off["phase"] == "climb"
    assert off["elapsed_min"] == pytest.approx(to_lose["elapsed_min"] + 20 + off["time_min"])
    assert off["fuel_remaining_gal"] == pytest.approx(30 - off["fuel_used_gal"])


def test_height_to_lose_of_an_alternate_is_in_its_fuel(hand: Folder) -> None:
    # From over QAA at 8,500 ft 7,500 ft down to the field of 1,000 ft are 15 min at 6 gal/h; the 10 NM are 5 of them.
    text = (
        COMMON + "altitude 8500\nrules ifr\ndirect QAA 270 - XLO 60nm\ndirect QAA 090 - XHI 10nm\n"
        "direct QAA 000 - 180 QBB 40nm\nroute XLO QAA QBB\nalternate QAA via XHI\n"
    )
    sheet = hand.run(text).out
    block = sheet.partition("ALTERNATE XHI from QAA\n")[2].partition("\n\n")[0]
    assert "TOTAL  10.0 NM   0:15 in the air   fuel 1.5 gal   landing" in block


def test_the_climb_after_a_stop_aims_at_the_level_of_the_part_that_follows(hand: Folder) -> None:
    way = (
        "altitude 3000\ndirect QAA 270 - XLO 40nm\ndirect QAA 090 - XHI 40nm\ndirect QBB 270 - XHI 40nm\nroute XLO QAA "
    )
    once = hand.fly(COMMON + way + "XHI/A055 land 20min QBB\n")
    twice = hand.fly(COMMON + way + "XHI land 20min XHI/A055 QBB\n")
    assert profile(once) == profile(twice)
    assert [leg[2:] for leg in profile(once) if leg[0] == "climb"] == [(500, 3000), (1000, 5500)]
    assert profile(hand.fly(COMMON + way + "XHI land 20min XHI QBB\n")) == profile(
        hand.fly(COMMON + way + "XHI land 20min QBB\n")
    )


IN_HOLD = (
    "airway V1 QAA 090 - 270 QBB 40nm mea 3000\nstation QCC 115.00 decl 0E\n"
    "airway V2 QBB 090 - 270 QCC 40nm mea 8000 mca 8000 QBB to QCC\nrules ifr\naltitude 4000\n"
    "route QAA V1 QBB/A080 V2 QCC\n"
)


def test_a_climb_in_the_hold_takes_time_and_fuel_by_the_table_and_is_to_be_asked_for(hand: Folder) -> None:
    # 4,000 ft at 600 ft/min are 6 min 40 s, at 12 gal/h 1.333 gal.
    found = hand.fly(COMMON + IN_HOLD + "hold QBB until 8000ft\n")
    assert profile(found)[2:4] == [("hold", 0.0, 4000, 8000), ("cruise", 20.0, 8000, 8000)]
    hold = next(leg for leg in found["legs"] if leg["phase"] == "hold")
    assert hold["time_min"] == pytest.approx(4000 / 600)
    assert hold["fuel_used_gal"] == pytest.approx(4000 / 600 / 60 * 12)
    assert messages(found, "under-mca") == []
    told = "the climb in the hold at QBB has protected airspace only where one is published: ask ATC for it"
    assert messages(found, "climb-in-hold") == [("warning", told)]
    assert (
        "climb in the hold at QBB to 8000 for 0:07: ask ATC"
        in hand.run(COMMON + IN_HOLD + "hold QBB until 8000ft\n").out
    )


def test_a_climb_in_the_hold_takes_its_time_where_no_wind_is_given(hand: Folder) -> None:
    found = hand.fly(COMMON.replace("wind calm\n", "") + IN_HOLD + "hold QBB until 8000ft\n")
    (hold,) = (leg for leg in found["legs"] if leg["phase"] == "hold")
    assert hold["time_min"] == pytest.approx(4000 / 600)
    assert (hold["wind"], hold["elapsed_min"]) == (None, None)


def test_a_hold_may_climb_to_a_flight_level(hand: Folder) -> None:
    found = hand.fly(COMMON + IN_HOLD.replace("/A080", "/F080") + "hold QBB until FL080\n")
    assert profile(found)[2:4] == [("hold", 0.0, 4000, 8000), ("cruise", 20.0, 8000, 8000)]


def test_a_hold_in_which_nothing_is_left_to_climb_is_said(hand: Folder) -> None:
    found = hand.fly(COMMON + IN_HOLD + "hold QBB until 3500ft\n")
    assert all(leg["phase"] != "hold" for leg in found["legs"])
    ((severity, told),) = messages(found, "climb-in-hold")
    assert severity == "note"
    assert told.startswith("no climb in the hold at QBB to 3500 is flown: the flight is that high already")


def test_a_climb_in_the_hold_that_the_descent_cuts_short_has_no_gap(hand: Folder) -> None:
    # 5 NM before the field of 1,000 ft the descent passes 2,250 ft.
    text = (
        COMMON + "altitude 2000\nrules ifr\ndirect QAA 270 - XLO 40nm\ndirect QAA 090 - XHI 5nm\nroute XLO QAA XHI\n"
        "hold QAA until 6000ft\n"
    )
    legs = hand.fly(text)["legs"]
    hold = next(leg for leg in legs if leg["phase"] == "hold")
    assert hold["end_altitude_ft"] == pytest.approx(2250)
    for before, after in pairwise(legs):
        assert after["start_altitude_ft"] == pytest.approx(before["end_altitude_ft"])


def test_a_climb_in_the_hold_needs_figures_of_climb(hand: Folder) -> None:
    (problem,) = hand.problems(
        (COMMON + IN_HOLD + "hold QBB until 8000ft\n").replace("aircraft hand.toml", "tas 120kt\nburn 9gph")
    )
    assert problem["code"] == "no-climb-figures"


@pytest.mark.parametrize("point", ["XLO", "XHI", "QZZ"])
def test_a_climb_in_a_hold_that_the_flight_does_not_pass_in_the_air_is_refused(hand: Folder, point: str) -> None:
    text = COMMON + "altitude 4500\ndirect QAA 270 - XLO 30nm\ndirect QAA 090 - XHI 40nm\nroute XLO QAA XHI\n"
    assert hand.problems(text + f"hold {point} until 6000ft\n")


def test_a_missed_crossing_altitude_says_how_many_minutes_of_climbing_are_missing(hand: Folder) -> None:
    # 10 NM at 400 ft a mile from 4,000 ft reach 8,000 ft; 12,000 ft asked are 4,000 ft more, 6.7 min at 600 ft/min.
    text = (
        "airway V1 QAA 090 - 270 QBB 10nm mea 3000\nstation QCC 115.00 decl 0E\n"
        "airway V2 QBB 090 - 270 QCC 40nm mea 8000 mca 12000 QBB to QCC\nrules ifr\naltitude 4000\n"
        "route QAA V1 QBB/A120 V2 QCC\n"
    )
    ((severity, told),) = messages(hand.fly(COMMON + text), "under-mca")
    assert severity == "error"
    assert told == ("QBB is crossed at 8000 ft, below the MCA of 12000 ft toward QCC: 7 min of climbing are missing")


SHORT_LEVEL = "direct QAA 270 - XLO {}nm\ndirect QAA 090 - XHI 60nm\naltitude 4500\nroute XLO QAA XHI\n"


@pytest.mark.parametrize(("to_station_nm", "legs"), [(10.9, 1), (11.9, 1), (12.1, 2)])
def test_level_flight_too_short_for_a_leg_goes_with_the_climb(hand: Folder, to_station_nm: float, legs: int) -> None:
    # The climb of 4,000 ft ends 10 NM out; at 120 kt 1 minute is 2 NM.
    text = COMMON + SHORT_LEVEL.format(to_station_nm)
    found = hand.fly(text)
    before = [leg for leg in found["legs"] if leg["via"] == "DCT"][:legs]
    assert before[-1]["to"]["ident"] == "QAA"
    assert before[0]["phase"] == "climb"
    assert sum(leg["time_min"] for leg in before) == pytest.approx(4000 / 600 + (to_station_nm - 10) / 2)
    assert sum(leg["fuel_used_gal"] for leg in before) == pytest.approx(
        4000 / 600 / 60 * 12 + (to_station_nm - 10) / 120 * 9
    )
    if legs == 1:
        assert before[0]["level_changes"] == [{"kind": "top of climb", "distance_nm": pytest.approx(10.0)}]
        assert before[0]["groundspeed_kt"] == pytest.approx(to_station_nm / before[0]["time_min"] * 60)
    told = f"10.0 NM from XLO, {to_station_nm - 10:.1f} NM to QAA"
    assert told in hand.run(text).out
    if legs == 1:
        assert told in " ".join(hand.run(text, "--format", "steps").out.split())
        assert "TOC 10.0" in " ".join(hand.run(text, "--format", "strip").out.split())


def test_level_flight_too_short_between_a_point_and_the_top_of_descent_goes_with_the_descent(hand: Folder) -> None:
    # 3,500 ft down to the field are 14 NM: the top of descent is 0.5 NM behind QAA.
    text = COMMON + SHORT_LEVEL.format(40).replace("60nm", "14.5nm") + "rules ifr\n"
    last = hand.fly(text)["legs"][-1]
    assert (last["phase"], last["from"]["ident"], last["to"]["ident"]) == ("descent", "QAA", "XHI")
    assert last["level_changes"] == [{"kind": "top of descent", "distance_nm": pytest.approx(0.5)}]
    assert last["time_min"] == pytest.approx(0.25 + 7)
    assert "top of descent 0.5 NM from QAA, 14.0 NM to XHI" in hand.run(text).out


def test_level_flight_too_short_between_climb_and_descent_goes_with_the_climb(hand: Folder) -> None:
    # XLO and XHI are 41.8 NM apart (60 x cos 46 degrees on the sphere, 41.7): 16.5 NM up, 24.4 NM down, the rest level.
    up, down = hand.fly(COMMON + "altitude 7100\nrules ifr\nroute XLO XHI\n")["legs"]
    assert (up["phase"], down["phase"], up["to"]["kind"]) == ("climb", "descent", "top of descent")
    assert up["level_changes"] == [{"kind": "top of climb", "distance_nm": pytest.approx(16.5)}]
    assert 0.5 < up["distance_nm"] - 16.5 < 1.5
    assert (up["end_altitude_ft"], down["start_altitude_ft"]) == (7100, 7100)


def test_level_flight_between_two_points_stays_a_leg_however_short(hand: Folder) -> None:
    text = (
        COMMON + "altitude 4500\ndirect QAA 270 - XLO 40nm\nfix LAKER QAA 090 0.5nm\ndirect QAA 090 - LAKER 0.5nm\n"
        "fix MARSH QAA 090 40nm\ndirect LAKER - MARSH 39.5nm\nroute XLO QAA LAKER MARSH\n"
    )
    assert ("cruise", 0.5, 4500, 4500) in profile(hand.fly(text))


def test_a_hold_has_the_wind_of_its_own_height_not_the_mean_of_the_climb_before_it(hand: Folder) -> None:
    # From calm at sea level to 40 kt at 8,000 ft: 5 kt for each 1,000 ft.
    winds = COMMON.replace("wind calm", "wind 0 090/0 8000 090/40")
    way = "altitude 6500\ndirect QAA 270 - XLO 5nm\ndirect QAA 090 - XHI 60nm\nroute XLO QAA XHI\n"
    climb, hold = hand.fly(winds + way + "hold QAA 10min\n")["legs"][:2]
    assert (climb["phase"], hold["phase"]) == ("climb", "hold")
    assert hold["wind"]["from_true_deg"] == pytest.approx(90.0)
    assert hold["wind"]["speed_kt"] == pytest.approx(hold["end_altitude_ft"] / 200.0)


def test_back_at_the_first_level_after_another_the_way_is_flown_there_again(hand: Folder) -> None:
    # 1,000 ft up take 2.5 NM and 1,000 ft down 4 NM; QAA to QBB is half of each station.
    way = (
        "altitude 4000\ndirect QAA 090 - 270 QBB 40nm\ndirect QBB 090 - 270 QCC 40nm\ndirect QCC 090 - 270 QDD 40nm\n"
        "station QCC 115.00 decl 0E\nstation QDD 116.00 decl 0E\nroute QAA QBB/A060 QCC/A040 QDD\n"
    )
    assert profile(hand.fly(COMMON + way)) == [
        ("cruise", 20.0, 4000, 4000),
        ("cruise", 20.0, 4000, 4000),
        ("climb", 5.0, 4000, 6000),
        ("cruise", 15.0, 6000, 6000),
        ("cruise", 20.0, 6000, 6000),
        ("descent", 8.0, 6000, 4000),
        ("cruise", 12.0, 4000, 4000),
        ("cruise", 20.0, 4000, 4000),
    ]


def test_a_climb_in_the_hold_without_figures_of_climb_is_refused(hand: Folder) -> None:
    text = COMMON.replace("aircraft hand.toml", "tas 120kt\nburn 9gph") + IN_HOLD + "hold QBB until 8000ft\n"
    (problem,) = hand.problems(text)
    assert problem["message"] == "a climb in the hold needs an aircraft file with [climb]"
    assert text.split("\n")[problem["line"] - 1] == "hold QBB until 8000ft"


def test_after_a_descent_a_crossing_altitude_is_climbed_to_before_its_point(hand: Folder) -> None:
    """14 CFR 91.177(b). 3,000 ft down take 12 NM, and 2,000 ft up are begun 5 NM before QCC."""
    part = "090 - 270 {} 40nm mea 2000"
    way = (
        "station QCC 115.00 decl 0E\nstation QDD 116.00 decl 0E\naltitude 6000\n"
        f"airway V1 QAA {part.format('QBB')} {part.format('QCC')} {part.format('QDD')} mca 5000 QCC to QDD\n"
        "route QAA V1 QBB/A030 V1 QCC/A050 V1 QDD\n"
    )
    assert profile(hand.fly(COMMON + way)) == [
        ("cruise", 20.0, 6000, 6000),
        ("cruise", 20.0, 6000, 6000),
        ("descent", 12.0, 6000, 3000),
        ("cruise", 8.0, 3000, 3000),
        ("cruise", 15.0, 3000, 3000),
        ("climb", 5.0, 3000, 5000),
        ("cruise", 20.0, 5000, 5000),
        ("cruise", 20.0, 5000, 5000),
    ]
