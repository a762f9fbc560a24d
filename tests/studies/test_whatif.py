"""Other levels and other winds, at figures that can be worked by hand."""

from __future__ import annotations

from itertools import pairwise
from math import sqrt
from pathlib import Path

import pytest
from helpers.flown import Json, changed, codes, flight, navlog
from helpers.folder import Folder

from navlog.sheets.text import SHEET_BREAK

STRAIGHT = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\ndirect QAA 045 - 225 QBB {length}nm min 3100\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\naltitude 5500\ntas 120kt\nburn 8gph\nfuel 30gal\nrules vfr day\n"
    "wind {wind}\nceiling {ceiling}\nroute QAA QBB\n"
)


def straight(length: int = 120, wind: str = "calm", ceiling: str = "10000") -> str:
    """A flight on course 045: odd thousands plus 500."""
    return STRAIGHT.format(length=length, wind=wind, ceiling=ceiling)


def compared(text: str, *options: str) -> list[Json]:
    found: list[Json] = flight(text, "--compare-altitudes", *options)["altitudes"]
    return found


def spread(text: str, knots: str = "10kt") -> Json:
    found: Json = flight(text, "--wind-spread", knots)["wind_spread"]
    return found


def test_each_level_for_the_course_from_the_minimum_to_the_ceiling() -> None:
    # 14 CFR 91.159: course 045, odd thousands plus 500.
    assert [one["altitude_ft"] for one in compared(straight())] == [3500, 5500, 7500, 9500]
    assert [one["planned"] for one in compared(straight())] == [False, True, False, False]


@pytest.mark.parametrize(
    ("setting", "levels"),
    [
        # The standard atmosphere has 980 hPa at 920 ft and 1040 hPa at -723 ft (ICAO Doc 7488/3): the stated minimum
        # of 3,100 ft is a pressure altitude of 4,020 or 2,377 ft, the ceiling of 10,000 ft one of 10,920 or 9,277 ft.
        ("980hPa", [5500, 7500, 9500]),
        ("1040hPa", [2500, 3500, 5500, 7500]),
    ],
)
def test_flight_levels_are_held_against_the_minimum_by_the_setting(setting: str, levels: list[int]) -> None:
    text = straight().replace("altitude 5500", "altitude FL055") + f"altimeter {setting}\n"
    assert [one["altitude_ft"] for one in compared(text)] == levels


@pytest.mark.parametrize(
    ("statement", "levels"),
    [
        ("direct QAA 225 - 045 QBB 120nm min 3100", [4500, 6500, 8500]),
        ("direct QAA 045 - 225 QBB 120nm min 5600", [7500, 9500]),
        ("airway V801 QAA 045 - 225 QBB 120nm mea 2000 mca 6000 QAA to QBB", [7500, 9500]),
        ("airway V801 QAA 045 - 225 QBB 120nm mea 3100 maa 8000", [3500, 5500, 7500]),
        ("rules ifr", [5000, 7000, 9000]),
        ("direct QAA 135 - 315 QBB 120nm min 3100", [3500, 5500, 7500, 9500]),
        ("levels nz\ndirect QAA 135 - 315 QBB 120nm min 3100", [4500, 6500, 8500]),
    ],
    ids=["other way", "minimum", "MCA", "MAA", "IFR", "south-east", "south-east in New Zealand"],
)
def test_the_levels_follow_course_minimums_and_rules(statement: str, levels: list[int]) -> None:
    text = straight()
    if statement == "rules ifr":
        text = text.replace("rules vfr day", statement).replace("altitude 5500", "altitude 5000")
    else:
        text = text.replace("direct QAA 045 - 225 QBB 120nm min 3100", statement)
    if "airway" in statement:
        text = text.replace("QAA QBB\n", "QAA V801 QBB\n")
    assert [one["altitude_ft"] for one in compared(text)] == levels


def test_where_the_table_says_nothing_the_same_levels_are_taken_either_way() -> None:
    # 14 CFR 91.159 binds above 3,000 ft over the surface.
    assert [one["altitude_ft"] for one in compared(straight(ceiling="5000").replace("3100", "1000"))] == [
        1500,
        2500,
        3500,
    ]


def test_where_no_level_is_by_rule_on_every_stretch_each_says_on_how_many() -> None:
    text = straight().replace("route QAA QBB", "route QAA QBB QAA")
    found = compared(text)
    assert [one["altitude_ft"] for one in found] == [3500, 4500, 5500, 6500, 7500, 8500, 9500]
    assert {one["stretches_by_rule"] for one in found} == {1}
    assert "by rule on 1 of 2 stretches" in navlog("log", "-", "--compare-altitudes", typed=text).out


def test_a_flight_of_a_level_is_the_flight_planned_there() -> None:
    text = straight(wind="3000 045/10 9000 045/40")
    for one in compared(text):
        alone = flight(text, "--altitude", f"{one['altitude_ft']:.0f}")
        assert one["time_min"] == alone["totals"]["time_min"]
        assert one["fuel_gal"] == alone["totals"]["fuel_gal"]
        assert one["margin_gal"] == alone["fuel"]["margin_gal"]
        assert one["groundspeed_kt"] == pytest.approx(120 / one["time_min"] * 60)


def as_planned_there(text: str, *options: str) -> None:
    """Each level compared has the figures of the flight planned at it alone."""
    levels = compared(text, *options)
    assert len(levels) > 2
    for one in levels:
        alone = flight(text, *options, "--altitude", f"{one['altitude_ft']:.0f}")
        figures = (alone["totals"]["time_min"], alone["totals"]["fuel_gal"], alone["fuel"]["margin_gal"])
        assert (one["time_min"], one["fuel_gal"], one["margin_gal"]) == figures


def test_the_way_to_an_alternate_is_flown_at_the_level_compared_too() -> None:
    # The wind blows harder higher up, on the way to the alternate too: XHAR lies north-east of XOLD.
    text = changed("alternate XHAR", "ceiling 9000", "altitude 4500", "wind 3000 030/10 9000 030/50")
    as_planned_there(text)
    needed = [flight(text, "--altitude", level)["fuel"]["alternate_gal"] for level in ("4500", "8500")]
    assert needed[1] > needed[0] + 0.5


def test_a_level_states_its_own_level_of_the_alternate_where_that_is_stated() -> None:
    as_planned_there(changed("alternate XHAR from QEL via QHB at 3500", "ceiling 9000", "altitude 4500"))


def test_what_is_received_at_a_level_guides_there() -> None:
    # A class L station serves 40 NM up to 18,000 ft, a class T one 25 NM and nothing above 12,000 ft (AIM 1-1-8):
    # off airways the changeover point moves into both volumes, or there is a gap, and the wind is another there.
    text = changed(
        "station QSK 112.40 N45 52.00 W038 38.00 decl 14W class T dme elev 150ft",
        "airport XSKE N45 56.00 W038 45.00 elev 120ft",
        "route XHAR QHB QSK XSKE",
        "altitude 4500",
        "ceiling 14500",
        "wind 3000 030/10 9000 030/50",
    )
    as_planned_there(text)


def test_the_levels_keep_the_alternate_in_the_margin() -> None:
    text = changed("alternate XHAR", "ceiling 9000")
    (planned,) = [one for one in compared(text, "--altitude", "4500") if one["planned"]]
    assert planned["margin_gal"] == flight(text, "--altitude", "4500")["fuel"]["margin_gal"]


def test_least_time_and_least_fuel_are_named() -> None:
    # A headwind that grows with height: lowest is best. The aeroplane burns the same everywhere.
    out = navlog("log", "-", "--compare-altitudes", typed=straight(wind="3000 045/10 9000 045/40")).out
    assert "Least time at 3500: " in out
    assert "Least fuel at 3500: " in out
    out = navlog("log", "-", "--compare-altitudes", typed=straight(wind="3000 225/10 9000 225/40")).out
    assert "Least time at 9500: 0:45 h:min." in out  # 120 NM at 160 kt
    assert "Least fuel at 9500: 6.0 gal." in out


def test_a_level_that_the_aircraft_does_not_reach_says_why(tmp_path: Path) -> None:
    folder = Folder(tmp_path)
    folder.put(
        "low.toml",
        'name = "Low"\n[cruise]\nrows = [\n{ pressure_altitude_ft = 0, tas_kt = 120, burn_gal_per_h = 8 },\n'
        "{ pressure_altitude_ft = 8000, tas_kt = 130, burn_gal_per_h = 8 },\n]\n",
    )
    text = straight().replace("tas 120kt\nburn 8gph", "aircraft low.toml")
    found = folder.fly(text, "--compare-altitudes")["altitudes"]
    assert [one["altitude_ft"] for one in found] == [3500, 5500, 7500, 9500]
    assert "table ends before 9,500 ft" in found[-1]["reason"]
    assert found[-1]["time_min"] is None
    times = [one["time_min"] for one in found[:-1]]
    assert all(later < sooner for sooner, later in pairwise(times))


def test_without_a_ceiling_or_a_level_under_it_there_is_a_problem() -> None:
    assert codes(straight().replace("ceiling 10000\n", ""), "--compare-altitudes") == {"no-ceiling"}
    assert codes(straight(ceiling="3400"), "--compare-altitudes") == {"no-level"}
    assert codes(straight().replace("route QAA", "route QAA/A075"), "--compare-altitudes") == {"no-level"}
    assert navlog("log", "-", "--compare-altitudes", typed=straight(ceiling="3400")).status == 2


def test_one_flights_problem_leaves_the_others() -> None:
    text = straight().replace("ceiling 10000\n", "") + 'flight "a"\nflight "b"\nceiling 10000\n'
    run = navlog("log", "-", "--compare-altitudes", typed=text)
    assert run.status == 2
    assert run.out.count("ALTITUDES") == 1
    assert "VOR NAVIGATION LOG - b" in run.out


def test_the_spread_is_that_of_the_wind_along_the_course() -> None:
    # The part of a round normal error along the course has a root mean square of 10 / sqrt 2 kt; nine in ten lie
    # within 1.645 of it: 120 NM at 120 -+ 11.6 kt. A sample of 200 may miss that by a fifth.
    found = spread(straight())["time_min"]
    low_min, high_min = (120 / (120 + sign * 1.645 * 10 / sqrt(2)) * 60 for sign in (1, -1))
    assert found["low"] == pytest.approx(low_min, abs=0.2 * (60 - low_min))
    assert found["high"] == pytest.approx(high_min, abs=0.2 * (high_min - 60))
    assert found["least"] <= found["low"] < 60 < found["high"] <= found["most"]


def test_fuel_follows_time_at_one_burn() -> None:
    found = spread(straight())
    for name, minutes in found["time_min"].items():
        assert found["fuel_gal"][name] == pytest.approx(minutes / 60 * 8, abs=1e-6)


def test_the_same_flight_has_the_same_spread() -> None:
    assert spread(straight(wind="230/20")) == spread(straight(wind="230/20"))


def test_a_larger_error_spreads_wider() -> None:
    narrow, wide = spread(straight(), "5kt")["time_min"], spread(straight(), "15kt")["time_min"]
    assert wide["most"] - wide["least"] > 2 * (narrow["most"] - narrow["least"])


def test_an_alternate_does_not_spread_the_trip() -> None:
    assert spread(changed("alternate XHAR"))["time_min"] == spread(changed())["time_min"]


def test_winds_that_cannot_be_flown_are_counted() -> None:
    found = spread(straight(wind="045/110"))
    assert 0 < found["unflyable"] < found["samples"]


@pytest.mark.parametrize("knots", ["0kt", "-5kt", "fast", "1e3"])
def test_an_error_that_is_none_is_refused(knots: str) -> None:
    run = navlog("log", "-", "--wind-spread", knots, typed=straight())
    assert run.status == 2
    assert "Traceback" not in run.err


def test_a_spread_needs_a_wind() -> None:
    assert codes(straight().replace("wind calm\n", ""), "--wind-spread", "10kt") == {"no-wind"}


@pytest.mark.parametrize("length", [120, 240, 300])
def test_the_headwind_that_takes_the_reserve(length: int) -> None:
    # In calm air at one speed: 30 gal less 4 of reserve are 3.25 h, so the groundspeed may fall to length / 3.25.
    found = spread(straight(length))["headwind_to_reserve_kt"]
    assert found == pytest.approx(120 - length / 3.25, abs=1e-6)
    # Flown in that wind the margin is gone, and the rule of the reserve says so a knot later.
    flown = flight(straight(length, wind=f"045/{found:.6f}"))
    assert flown["fuel"]["margin_gal"] == pytest.approx(0.0, abs=1e-4)
    assert "reserve" in {one["rule"] for one in flight(straight(length, wind=f"045/{found + 1:.6f}"))["findings"]}


def test_where_the_reserve_is_not_whole_already_no_headwind_is_left() -> None:
    assert spread(straight(420))["headwind_to_reserve_kt"] == 0.0


def test_the_reserve_counts_from_the_last_fuelling() -> None:
    # 21 NM to the stop and 60 beyond it with 20 gal taken there: (20 - 4) / 8 = 2 h.
    text = (
        "airport XAA N46 00.00 W039 00.00 elev 0ft\nairport XBB N46 00.00 W038 30.00 elev 0ft\n"
        "airport XCC N47 00.00 W038 30.00 elev 0ft\ndate 2026-07-18\noff 12:00Z\nwind calm\naltitude 3500\n"
        "tas 120kt\nburn 8gph\nfuel 30gal\nrules vfr day\nroute XAA XBB land 30min fuel 20gal XCC\n"
    )
    second = flight(text)["legs"][1]
    assert spread(text)["headwind_to_reserve_kt"] == pytest.approx(120 - second["distance_nm"] / 2.0, abs=1e-6)


def test_the_blocks_stand_after_the_log_and_keep_its_width() -> None:
    text = straight(wind="3000 045/10 9000 045/40")
    plain = navlog("log", "-", typed=text).out
    both = navlog("log", "-", "--compare-altitudes", "--wind-spread", "10kt", typed=text).out
    assert both.startswith(plain)
    assert [line for line in both.splitlines() if len(line) > 80] == []
    assert both.index("ALTITUDES") < both.index("WIND SPREAD")


def test_a_level_far_from_the_winds_given_is_marked() -> None:
    # The flight itself is told from 2,000 ft beyond on (`wind-beyond-heights`): 7,500 ft lies that far above 5,500.
    text = straight(wind="3000 045/10 5500 045/40", ceiling="12000")
    assert [one["wind_beyond_ft"] for one in compared(text)] == [None, None, None, 4000, 6000]
    out = navlog("log", "-", "--compare-altitudes", typed=text).out
    rows = {line.split()[0]: "!" in line for line in out.partition("ALTITUDES")[2].splitlines() if line[:2] == "  "}
    assert rows == {"Alt": False, "3500": False, "5500": False, "7500": False, "9500": True, "11500": True}
    assert "\n! the nearest wind is more than 2,000 ft away in height\n" in out


def test_the_best_level_is_marked_where_its_wind_is_far() -> None:
    out = navlog("log", "-", "--compare-altitudes", typed=straight(wind="0 045/40 1000 045/10")).out
    assert "Least time at 3500: 1:05! h:min." in out


def test_without_a_far_level_nothing_is_marked() -> None:
    out = navlog("log", "-", "--compare-altitudes", typed=straight(wind="3000 045/10 9000 045/40")).out
    assert "!" not in out.partition("ALTITUDES")[2]


def test_without_the_options_the_json_has_none_of_it() -> None:
    found = flight(straight())
    assert "altitudes" not in found
    assert "wind_spread" not in found


def test_into_a_folder_each_flight_has_what_other_winds_do_to_it(tmp_path: Path) -> None:
    names = ("thither", "back")
    text = "".join(f'flight "{name}"\n{straight(length)}' for name, length in zip(names, (120, 60), strict=True))
    both = navlog("log", "-", "--wind-spread", "10kt", typed=text).out
    assert navlog("log", "-", "--wind-spread", "10kt", "--output", f"{tmp_path}/", typed=text).status == 0
    files = [next(tmp_path.glob(f"*{name}.txt")).read_text("utf-8") for name in names]
    assert [one.count("WIND SPREAD") for one in files] == [1, 1]
    assert SHEET_BREAK.join(files) == both
