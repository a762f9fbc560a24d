"""Flight levels are flown as the altitudes that they are at the altimeter setting, between fields at true altitudes.

The US weather service's formula for the pressure altitude of a setting, (1 - (hPa / 1013.25)^0.190284) x 145366.45
(weather.gov/media/epz/wxcalc/pressureAltitude.pdf), gives 920 ft for 980 hPa and -722 ft for 1040 hPa: FL090 is flown
at 8,080 and at 9,722 ft. The aeroplane climbs 400 ft a mile and 600 ft a minute, and descends 250 ft a mile and 500 ft
a minute, as in `test_heights_flown`.
"""

from __future__ import annotations

import pytest
from helpers.flown import Json, navlog
from helpers.folder import Folder

AIRCRAFT = (
    'name = "By hand"\n[climb]\ntas_kt = 90\nrate_ft_per_min = 600\nburn_gal_per_h = 12\n'
    "[cruise]\ntas_kt = 120\nburn_gal_per_h = 9\n[descent]\ntas_kt = 120\nrate_ft_per_min = 500\nburn_gal_per_h = 6\n"
)
COMMON = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "airport XLO N46 00.00 W039 00.00 elev 3000ft\nairport XHI N46 00.00 W038 00.00 elev 3000ft\n"
    "direct QAA 270 - XLO 40nm\ndirect QBB 090 - XHI 40nm\nairway V1 QAA 090 - 270 QBB 40nm mea 5000\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\nfuel 40gal\naircraft hand.toml\nrules ifr\n"
)
WAY = "route XLO QAA V1 QBB XHI\n"
LOW, HIGH = "altimeter 980hPa\n", "altimeter 1040hPa\n"
LEVEL = {LOW: 8080, HIGH: 9722, "": 9000}


@pytest.fixture
def hand(folder: Folder) -> Folder:
    folder.put("hand.toml", AIRCRAFT)
    return folder


def heights(found: Json) -> list[tuple[str, int, int]]:
    """Phase and heights of every leg."""
    return [(leg["phase"], round(leg["start_altitude_ft"]), round(leg["end_altitude_ft"])) for leg in found["legs"]]


def rules(found: Json) -> set[str]:
    return {one["rule"] for one in found["findings"]}


@pytest.mark.parametrize("setting", [LOW, HIGH, ""])
def test_a_flight_level_is_climbed_to_and_left_as_the_altitude_that_it_is(hand: Folder, setting: str) -> None:
    found = hand.fly(COMMON + "altitude FL090\n" + setting + WAY)
    top_ft = LEVEL[setting]
    assert found["legs"][0]["end_altitude_ft"] == pytest.approx(top_ft, abs=1)
    assert (heights(found)[0][1], heights(found)[-1][2]) == (3000, 3000)
    assert {one[1] - one[2] for one in heights(found)[1:-1]} == {0}
    climb, descent = found["legs"][0], found["legs"][-1]
    assert climb["distance_nm"] == pytest.approx((top_ft - 3000) / 400, abs=0.01)
    assert climb["time_min"] == pytest.approx((top_ft - 3000) / 600, abs=0.01)
    assert climb["fuel_used_gal"] == pytest.approx((top_ft - 3000) / 600 / 60 * 12, abs=0.002)
    assert descent["distance_nm"] == pytest.approx((top_ft - 3000) / 250, abs=0.01)
    assert descent["time_min"] == pytest.approx((top_ft - 3000) / 500, abs=0.01)
    assert (climb["altitude_ft"], climb["flight_level"]) == (9000, True)
    assert "flight_level" not in hand.fly(COMMON + "altitude 9000\n" + setting + WAY)["legs"][0]
    assert "arrival-height" not in rules(found)


@pytest.mark.parametrize("setting", [LOW, HIGH, ""])
def test_levels_print_as_levels_and_fields_as_altitudes(hand: Folder, setting: str) -> None:
    text = COMMON + "altitude FL090\n" + setting + WAY
    sheet = hand.run(text).out
    assert "3000-FL090" in sheet
    assert ("\nAltimeter " in sheet) is bool(setting)
    if setting == LOW:
        assert "\nAltimeter 980 hPa: FL090 is 8080 ft\n" in sheet
    assert "FL090-3000" in sheet
    assert "FL030" not in sheet
    steps = hand.run(text, "--format", "steps").out
    assert "Climb to FL090 (" in steps.replace("!", ""), "the way has no minimum, which marks the height"
    assert "Descend from FL090 for XHI" in steps.replace("!", ""), "no minimum is known to go down to"


def test_a_height_on_the_way_to_a_level_is_an_altitude_below_18000_ft(hand: Folder) -> None:
    # QAA after 5 NM of the climb: 3,000 + 5 x 400 ft = 5,000 ft, whatever the setting.
    near = COMMON.replace("XLO 40nm", "XLO 5nm")
    found = hand.fly(near + "altitude FL090\n" + LOW + WAY)
    assert heights(found)[:2] == [("climb", 3000, 5000), ("climb", 5000, 8080)]
    assert "5000-FL090" in hand.run(near + "altitude FL090\n" + LOW + WAY).out


def test_a_height_from_18000_ft_on_is_a_flight_level(hand: Folder) -> None:
    # 14 CFR 91.121(a)(2): at and above 18,000 ft by 29.92. QAA after 39 NM of climb is crossed at 18,600 ft; with
    # 1040 hPa that is a pressure altitude of 17,878 ft, and with 980 hPa of 19,520 ft: FL195.
    near = COMMON.replace("XLO 40nm", "XLO 39nm").replace("mea 5000", "mea 5000 maa 45000")
    found = hand.fly(near + "altitude FL230\n" + LOW + WAY)
    assert heights(found)[0] == ("climb", 3000, 18600)
    assert "alt 3000-FL195! " in hand.run(near + "altitude FL230\n" + LOW + WAY).out


def test_an_altitude_then_a_flight_level(hand: Folder) -> None:
    # From 5,500 ft up to FL090 at 980 hPa it is 2,580 ft: 6.45 NM and 4.3 minutes, not 3,500 ft.
    found = hand.fly(COMMON + "altitude 5500\n" + LOW + "route XLO QAA/F090 V1 QBB XHI\n")
    assert heights(found)[:4] == [
        ("climb", 3000, 5500),
        ("cruise", 5500, 5500),
        ("climb", 5500, 8080),
        ("cruise", 8080, 8080),
    ]
    climb = found["legs"][2]
    assert climb["distance_nm"] == pytest.approx(6.45, abs=0.01)
    assert climb["time_min"] == pytest.approx(4.3, abs=0.01)


def test_a_flight_level_then_an_altitude_goes_up_where_the_altitude_is_higher(hand: Folder) -> None:
    # FL090 at 980 hPa is 8,080 ft: from there up to 8,500 ft, though 9,000 is more than 8,500.
    found = hand.fly(COMMON + "altitude FL090\n" + LOW + "route XLO QAA/A085 V1 QBB XHI\n")
    assert ("climb", 8080, 8500) in heights(found)
    sheet = hand.run(COMMON + "altitude FL090\n" + LOW + "route XLO QAA/A085 V1 QBB XHI\n").out
    assert "FL090-8500" in sheet


def test_an_altitude_and_the_flight_level_of_its_number_are_two_heights(hand: Folder) -> None:
    found = hand.fly(COMMON + "altitude 9000\n" + LOW + "route XLO QAA/F090 V1 QBB XHI\n")
    assert ("descent", 9000, 8080) in heights(found)


@pytest.mark.parametrize(("setting", "below"), [(LOW, True), (HIGH, False)])
def test_the_minimum_is_compared_with_the_altitude_flown(hand: Folder, setting: str, below: bool) -> None:
    # An MEA of 8,500 ft: FL090 is 420 ft below it at 980 hPa and above it at 1040 hPa.
    text = COMMON.replace("mea 5000", "mea 8500") + "altitude FL090\n" + setting + WAY
    found = hand.fly(text)
    told = [one["message"] for one in found["findings"] if one["rule"] == "under-mea"]
    assert any("8080 ft (FL090 at 980 hPa) is below the MEA of 8500 ft" in one for one in told) is below


def test_the_descent_keeps_a_minimum_as_an_altitude(hand: Folder) -> None:
    # 10 NM before the field QBB has an MEA of 6,000 ft up to it; a free descent would pass it at 5,500 ft.
    text = COMMON.replace("XHI 40nm", "XHI 10nm").replace("mea 5000", "mea 6000") + "altitude FL090\n" + LOW + WAY
    found = hand.fly(text)
    assert heights(found)[-3:] == [("descent", 8080, 6000), ("descent", 6000, 3500), ("height to lose", 3500, 3000)]
    assert "500 ft to lose at XHI" in hand.run(text).out
    assert "under-mea" not in rules(found)


def test_a_descent_to_the_pattern_from_a_flight_level(hand: Folder) -> None:
    # VFR, 1,000 ft above the field (AIM 4-3-3): 4,080 ft down from 8,080 ft are 16.32 NM.
    found = hand.fly(COMMON.replace("rules ifr", "rules vfr") + "altitude FL090\n" + LOW + WAY)
    assert heights(found)[-1] == ("descent", 8080, 4000)
    assert found["legs"][-1]["distance_nm"] == pytest.approx(16.32, abs=0.01)


def test_a_crossing_altitude_is_reached_as_an_altitude_by_a_climb_to_a_level(hand: Folder) -> None:
    # 7,000 ft at QAA on the way from 5,500 ft to FL090: begun (7000 - 5500) / 400 = 3.75 NM before QAA.
    text = COMMON.replace("mea 5000", "mea 5000 mca 7000 QAA to QBB") + "altitude 5500\n" + LOW
    found = hand.fly(text + "route XLO QAA/F090 V1 QBB XHI\n")
    assert ("climb", 5500, 7000) in heights(found)
    assert "under-mca" not in rules(found)
    early = next(leg for leg in found["legs"] if round(leg["end_altitude_ft"]) == 7000)
    assert early["distance_nm"] == pytest.approx(3.75, abs=0.01)


def test_a_climb_in_the_hold_to_a_level(hand: Folder) -> None:
    # 5,500 ft to FL090 at 980 hPa: 2,580 ft at 600 ft/min.
    text = COMMON + "altitude 5500\n" + LOW + "hold QAA until FL090\nroute XLO QAA/F090 V1 QBB XHI\n"
    found = hand.fly(text)
    hold = next(leg for leg in found["legs"] if leg["phase"] == "hold")
    assert (round(hold["start_altitude_ft"]), round(hold["end_altitude_ft"])) == (5500, 8080)
    assert hold["time_min"] == pytest.approx(4.3, abs=0.01)
    assert "to FL090 for 0:0" in hand.run(text).out


def test_speeds_go_by_the_pressure_altitude_flown(folder: Folder) -> None:
    # Level at FL090 the table's row of 9,000 ft holds at any setting; at 9,000 ft and 980 hPa that of 9,920 ft.
    folder.put(
        "hand.toml",
        'name = "By height"\n[cruise]\nrows = [{pressure_altitude_ft = 8000, tas_kt = 100},'
        " {pressure_altitude_ft = 9000, tas_kt = 110}, {pressure_altitude_ft = 10000, tas_kt = 120}]\n",
    )
    for level, kt in (("FL090", 110.0), ("9000", 119.2)):
        found = folder.fly(COMMON + f"altitude {level}\n" + LOW + WAY)
        assert {round(leg["tas_kt"], 1) for leg in found["legs"]} == {kt}


def test_winds_are_taken_at_altitudes_below_18000_ft_and_at_pressure_altitudes_from_there(hand: Folder) -> None:
    # Winds aloft up to 12,000 ft are forecast for true altitudes, from 18,000 ft on for pressure altitudes (US Aviation
    # Weather Center, About Forecast Winds and Temperatures Aloft). From the west, 1 kt for every 1,000 ft.
    winds = "wind 3000 270/03 12000 270/12 18000 270/18 24000 270/24\n"
    for level, setting, kt in (("FL090", LOW, 8.08), ("FL090", HIGH, 9.72), ("FL090", "", 9.0), ("FL200", LOW, 20.0)):
        text = COMMON.replace("wind calm\n", winds).replace("mea 5000", "mea 5000 maa 45000")
        found = hand.fly(text.replace(" 40nm", " 80nm") + f"altitude {level}\n" + setting + WAY)
        cruising = [leg for leg in found["legs"] if leg["phase"] == "cruise"]
        assert {round(leg["wind"]["speed_kt"], 2) for leg in cruising} == {kt}


def test_the_level_that_is_not_reached_is_told_as_the_altitude_that_it_is(hand: Folder) -> None:
    short = COMMON.replace(" 40nm", " 5nm") + "altitude FL090\n" + LOW + WAY
    (told,) = (one for one in hand.fly(short)["findings"] if one["rule"] == "cruise-not-reached")
    assert told["message"].endswith("of 8080 ft (FL090 at 980 hPa)")


def test_workings_show_the_altitude_of_a_level(hand: Folder) -> None:
    text = COMMON + "altitude FL090\n" + LOW + WAY
    hand.put("flight.route", text)
    told = navlog("explain", str(hand.path / "flight.route"), "--leg", "2").out
    assert "9000 - 920" in told
    assert "8080 ft" in told


def test_the_page_for_the_knee_has_levels_and_altitudes_too(hand: Folder) -> None:
    near = COMMON.replace("XLO 40nm", "XLO 5nm") + "altitude FL090\n" + LOW + WAY
    page = hand.run(near, "--format", "strip").out
    assert "FL090" in page
    assert "FL080" not in page
    assert "FL030" not in page


@pytest.mark.parametrize("hpa", [955, 980, 1000, 1013, 1031, 1049])
@pytest.mark.parametrize("level", [65, 90, 115])
def test_a_flight_level_is_flown_as_its_altitude_would_be(hand: Folder, hpa: int, level: int) -> None:
    """By the weather service's formula: the same climb, way, clock and fuel, in winds that turn with height."""
    shift_ft = (1.0 - (hpa / 1013.25) ** 0.190284) * 145366.45
    winds = "wind 3000 230/12 +8C 6000 260/20 +2C 9000 290/30 -4C 12000 300/40 -10C\n"
    text = COMMON.replace("wind calm\n", winds) + f"altimeter {hpa}hPa\n" + WAY
    by_level = hand.fly(text + f"altitude FL{level:03d}\n")
    by_altitude = hand.fly(text + f"altitude {level * 100 - shift_ft:.0f}\n")
    for one, other in zip(by_level["legs"], by_altitude["legs"], strict=True):
        for key in ("start_altitude_ft", "end_altitude_ft"):
            assert one[key] == pytest.approx(other[key], abs=2)
        for key in ("distance_nm", "time_min", "fuel_used_gal", "magnetic_heading_deg"):
            assert one[key] == pytest.approx(other[key], abs=0.02)


@pytest.mark.parametrize(
    ("setting", "gap"), [("altimeter 960hPa\n", True), ("altimeter 1013hPa\n", False), ("", False)]
)
def test_service_volumes_are_looked_up_at_the_altitude_flown(hand: Folder, setting: str, gap: bool) -> None:
    # AIM 1-1-8, class H: 40 NM up to 14,500 ft above the station, 100 NM above that. FL155 at 960 hPa is 14,031 ft.
    text = COMMON.replace("decl 0E\n", "decl 0E class H elev 0ft\n") + "direct QBB 090 - 270 QCC 150nm\n"
    found = hand.fly(text + "altitude FL155\n" + setting + "route QBB QCC\n")
    assert any(leg["guidance"] is None for leg in found["legs"]) is gap
