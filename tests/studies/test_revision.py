"""Re-figuring in flight: groundspeeds made good, the wind found, arrivals and fuel ahead, the reserve, the fields.

Times are made here from a true wind by vectors of the test's own, and published problems are flown as they stand.
"""

from __future__ import annotations

import json
import math
import re
from datetime import datetime, timedelta

import pytest
from helpers.flown import EXAMPLES, apart_deg, changed, flight, navlog
from helpers.revised import revised

ROUND_ROBIN = (EXAMPLES / "round_robin.route").read_text("utf-8")


def at(*times: str) -> tuple[str, ...]:
    """The option for each `POINT TIME`."""
    return tuple(word for one in times for word in ("--at", *one.split()))


def chart(*statements: str) -> str:
    """A flight of two legs by the chart alone, with no declination, so that courses are true."""
    given = {
        "station QHB": "113.70 decl 0E dme",
        "station QEL": "110.20 decl 0E dme",
        "date": "2026-07-18",
        "altitude": "3000",
        "burn": "8gph",
        "fuel": "38gal",
    }
    lines = [f"{key} {value}" for key, value in given.items()]
    return "\n".join([*lines, *statements]) + "\n"


def groundspeed_kt(course_deg: float, tas_kt: float, from_deg: float, speed_kt: float) -> float:
    """By the wind triangle, worked here."""
    angle = math.radians(from_deg - course_deg)
    return math.sqrt(tas_kt**2 - (speed_kt * math.sin(angle)) ** 2) - speed_kt * math.cos(angle)


def flown_in(text: str, from_deg: float, speed_kt: float, *points: str) -> list[str]:
    """The times at the ends of the first legs of a flight in a true wind, to the second."""
    found = flight(text)
    moment = datetime.fromisoformat(found["off"])
    times = []
    for leg, point in zip(found["legs"], points, strict=False):
        speed = groundspeed_kt(leg["true_course_deg"], leg["tas_kt"], from_deg, speed_kt)
        moment += timedelta(minutes=leg["distance_nm"] / speed * 60.0)
        times.append(f"{point} {moment:%H:%M:%S}")
    return times


def test_two_checkpoints_give_groundspeed_and_arrival() -> None:
    # FAA private pilot item (practice B18): 9 NM from 1456 to 1501, 50 NM to go: 108 kt, 28 min, 1529.
    text = chart(
        "fix PINEY QHB 090 9nm",
        "airway V801 QHB 090 - PINEY 9nm mea 2000 - 270 QEL 50nm mea 2000",
        "off 14:56Z",
        "tas 120kt",
        "wind calm",
        "route QHB V801 PINEY V801 QEL",
    )
    _, found = revised(text, *at("PINEY 15:01"))
    assert found["flown"][0]["groundspeed_kt"] == pytest.approx(108.0)
    arrival = found["legs"][-1]
    assert arrival["eta"][11:16] == "15:28"
    assert arrival["elapsed_min"] == pytest.approx(27.8, abs=0.05)
    assert " 15:29Z" in navlog("revise", "-", *at("PINEY 15:01"), typed=text).out


def test_a_groundspeed_over_the_airspeed_is_a_tailwind() -> None:
    # US Navy P-802 (practice B23): 36 NM in 10:00 at TAS 210 is 216 kt, 6 kt of tailwind.
    text = chart("direct QHB 090 - 270 QEL 36nm", "off 10:00Z", "tas 210kt", "wind calm")
    _, found = revised(text + "route QHB QEL QHB\n", *at("QEL 10:10"))
    part = found["flown"][0]
    assert part["groundspeed_kt"] == pytest.approx(216.0)
    assert part["headwind_kt"] == pytest.approx(-6.0)
    assert not found["wind"]["whole"]


@pytest.mark.parametrize(("passed", "doubts"), [("10:30", []), ("10:40", []), ("10:45", ["40"]), ("11:00", ["60"])])
def test_a_wind_far_from_the_forecast_is_doubted(passed: str, doubts: list[str]) -> None:
    # 60 NM in calm air at 120 kt; in 40 min it is 90 kt, 30 from the forecast, in 45 80 kt, in 60 60 kt.
    text = chart("direct QHB 090 - 270 QEL 60nm", "off 10:00Z", "tas 120.1kt", "wind calm", "route QHB QEL QHB")
    _, found = revised(text, *at(f"QEL {passed}"))
    told = [re.findall(r"the wind is (\d+) kt from the forecast: check", one) for one in found["warnings"]]
    assert [one for some in told for one in some] == doubts


def test_what_is_turned_into_another_direction_than_the_wind_found_is_a_guess() -> None:
    # Out along 090 in 50 min for 40, 72 kt for 90: back along 270 the same part counts, along 180 nothing is known.
    text = chart("direct QHB 090 - 270 QEL 60nm", "off 10:00Z", "tas 90kt", "wind calm")
    back = "route QHB QEL QHB\n"
    _, found = revised(text + back, *at("QEL 10:50"))
    assert found["warnings"] == []
    south = text + "station QSS 111.00 decl 0E\ndirect QEL 180 - 000 QSS 60nm\n"
    _, found = revised(south + "route QHB QEL QSS\n", *at("QEL 10:50"))
    ahead = ", ".join(str(leg["number"]) for leg in found["legs"])
    assert found["warnings"] == [
        f"the wind across the course flown is not known: heading and time of legs {ahead} are a guess"
    ]
    # 42 min are 86 kt, 4 from the forecast: up to 10 it matters little.
    _, found = revised(south + "route QHB QEL QSS\n", *at("QEL 10:42"))
    assert found["warnings"] == []


def test_a_leg_ahead_without_a_known_course_is_no_guess() -> None:
    text = chart("direct QHB 090 - 270 QEL 60nm", "off 10:00Z", "tas 90kt", "wind calm", "station QSS 111.00 decl 0E")
    _, found = revised(text + "direct QEL - QSS 60nm\nroute QHB QEL QSS\n", *at("QEL 10:50"))
    assert {leg["true_course_deg"] for leg in found["legs"]} == {None}
    assert found["warnings"] == []


@pytest.mark.parametrize(("passed", "refused"), [("10:16", False), ("10:15", True)])
def test_a_groundspeed_up_to_twice_the_airspeed_may_be(passed: str, refused: bool) -> None:
    # Half a minute of the clock granted, 60 NM in 16 min are 60 / 16.5 h = 218 kt, in 15 min 232; twice 110 are 220.
    text = chart("direct QHB 090 - 270 QEL 60nm", "off 10:00Z", "tas 110kt", "wind calm", "route QHB QEL QHB")
    assert (navlog("revise", "-", *at(f"QEL {passed}"), typed=text).status == 2) is refused


def test_the_heading_held_gives_the_whole_wind() -> None:
    # CNATRA P-203, lesson 4.6, figure 4.6-2: heading 052, TAS 250, track 045, GS 220; wind 092.3/41.5 by vectors.
    text = chart("direct QHB 045 - 225 QEL 110nm", "off 10:00Z", "tas 250kt", "wind 310/14")
    _, found = revised(text + "route QHB QEL QHB\n", *at("QEL 10:30"), "--heading", "QEL", "052T")
    assert found["wind"]["whole"]
    assert found["wind"]["found"]["from_true_deg"] == pytest.approx(92.3, abs=0.1)
    assert found["wind"]["found"]["speed_kt"] == pytest.approx(41.5, abs=0.1)


@pytest.mark.parametrize(("time", "used"), [("11:00:00", True), ("10:55:00", False)])
def test_the_heading_of_an_earlier_point_counts_unless_a_later_groundspeed_contradicts_it(
    time: str, used: bool
) -> None:
    # The same wind, 092.3/41.5: on 090 its headwind part is 41.47 kt and 1.67 kt lie across, so the groundspeed is
    # sqrt(250^2 - 1.67^2) - 41.47 = 208.5 kt and 104.25 NM take 30 min. In 25 min they are flown at 250 kt.
    legs = "station QSS 115.50 decl 0E", "direct QHB 045 - 225 QEL 110nm", "direct QEL 090 - 270 QSS 104.25nm"
    text = chart(*legs, "off 10:00Z", "tas 250kt", "wind 310/14")
    _, found = revised(text + "route QHB QEL QSS QEL\n", *at("QEL 10:30", f"QSS {time}"), "--heading", "QEL", "052T")
    assert ("the heading that held the course to QEL" in found["wind"]["method"]) is used
    told = [one for one in found["warnings"] if "it is not used" in one]
    assert bool(told) is not used
    if used:
        assert found["wind"]["found"]["from_true_deg"] == pytest.approx(92.3, abs=0.1)
    else:
        assert told[0].startswith("the heading that held the course to QEL tells 092T/41, and groundspeeds after it")


def test_a_later_groundspeed_across_the_change_found_agrees_by_its_part_along_the_course() -> None:
    # The change of the forecast is 101/53, 60 degrees off a course of 161. There 092.3/41.5 is 15.1 kt ahead and 38.6
    # across: sqrt(250^2 - 38.6^2) - 15.1 = 231.9 kt, 115.97 NM in 30 min.
    legs = "station QSS 115.50 decl 0E", "direct QHB 045 - 225 QEL 110nm", "direct QEL 161 - 341 QSS 115.97nm"
    text = chart(*legs, "off 10:00Z", "tas 250kt", "wind 310/14")
    times = at("QEL 10:30", "QSS 11:00:00")
    _, found = revised(text + "route QHB QEL QSS QEL\n", *times, "--heading", "QEL", "052T")
    assert found["wind"]["method"] == "the heading that held the course to QEL"
    assert not [one for one in found["warnings"] if "it is not used" in one]


@pytest.mark.parametrize("heading", ["213.3M", "200.7T"])
def test_a_magnetic_heading_is_made_true(heading: str) -> None:
    # On leg 2 of the round robin the forecast's own heading and groundspeed give the forecast's wind.
    legs = flight(ROUND_ROBIN)["legs"]
    assert legs[1]["magnetic_heading_deg"] == pytest.approx(213.3, abs=0.05)
    _, found = revised(ROUND_ROBIN, *at("QHB 15:15:51", "cop 15:22:29"), "--heading", "cop", heading)
    assert found["wind"]["found"]["speed_kt"] == pytest.approx(12.56, abs=0.3)
    assert found["wind"]["found"]["from_true_deg"] == pytest.approx(232.1, abs=1.5)


@pytest.mark.parametrize(("from_deg", "speed_kt"), [(180.0, 30.0), (300.0, 25.0), (150.0, 40.0), (232.0, 0.0)])
def test_two_courses_give_the_whole_wind(from_deg: float, speed_kt: float) -> None:
    # XHAR to QHB is flown on 257 and QHB to the changeover point on 197: 60 degrees apart.
    times = flown_in(ROUND_ROBIN, from_deg, speed_kt, "QHB", "cop")
    status, found = revised(ROUND_ROBIN, *at(*times))
    wind = found["wind"]
    assert status == 0
    assert wind["whole"]
    assert wind["found"]["speed_kt"] == pytest.approx(speed_kt, abs=0.4)
    if speed_kt:
        assert apart_deg(wind["found"]["from_true_deg"], from_deg) < 1.0
    for leg in found["legs"]:
        speed = groundspeed_kt(leg["true_course_deg"], leg["tas_kt"], from_deg, speed_kt)
        assert leg["groundspeed_kt"] == pytest.approx(speed, abs=0.6)


def test_courses_nearer_than_30_degrees_give_the_headwind_part_alone() -> None:
    times = flown_in(ROUND_ROBIN, 180.0, 30.0, "QHB", "cop", "QEL")
    _, found = revised(ROUND_ROBIN, *at(times[1], times[2]))
    assert not found["wind"]["whole"]
    # What is added blows along the course of 197 degrees, so the crosswind stays the forecast's.
    assert apart_deg(found["wind"]["difference"]["from_true_deg"], 197.0) < 0.5


def test_a_course_and_its_reciprocal_give_the_headwind_part_alone() -> None:
    text = chart("direct QHB 090 - 270 QEL 50nm", "off 10:00Z", "tas 100kt", "wind 090/10", "route QHB QEL QHB QEL")
    _, found = revised(text, *at("QEL 10:40", "QHB 11:05"))
    assert not found["wind"]["whole"]
    assert "headwind part" in found["wind"]["method"]


def test_one_part_tells_the_headwind_with_the_crosswind_of_the_forecast() -> None:
    _, found = revised(ROUND_ROBIN, *at("QHB 15:17"))
    part, leg = found["flown"][0], flight(ROUND_ROBIN)["legs"][0]
    made_good = 9.6 / 7.0 * 60.0
    assert part["groundspeed_kt"] == pytest.approx(made_good)
    assert part["half_minute_kt"] == pytest.approx(made_good / 14.0)
    angle = math.radians(leg["wind"]["from_true_deg"] - leg["true_course_deg"])
    forecast = leg["wind"]["speed_kt"] * math.cos(angle)
    assert part["forecast_headwind_kt"] == pytest.approx(forecast)
    assert part["headwind_kt"] == pytest.approx(forecast + leg["groundspeed_kt"] - made_good)
    # On the leg itself the wind found gives the groundspeed made good.
    wind = found["wind"]["found"]
    again = groundspeed_kt(leg["true_course_deg"], leg["tas_kt"], wind["from_true_deg"], wind["speed_kt"])
    assert again == pytest.approx(made_good, abs=1e-6)


def test_flown_as_planned_the_rest_stays_as_planned() -> None:
    planned = flight(ROUND_ROBIN)["legs"]
    times = [f"{point} {leg['eta'][11:19]}" for point, leg in zip(("QHB", "cop"), planned, strict=False)]
    _, found = revised(ROUND_ROBIN, *at(*times), "--fuel", f"{planned[1]['fuel_remaining_gal']:.4f}gal")
    for leg, eta, was in zip(found["legs"], found["planned_eta"], planned[2:], strict=True):
        assert eta == was["eta"]
        assert leg["number"] == was["number"]
        moved = datetime.fromisoformat(leg["eta"]) - datetime.fromisoformat(was["eta"])
        assert abs(moved.total_seconds()) < 15.0
        assert leg["fuel_remaining_gal"] == pytest.approx(was["fuel_remaining_gal"], abs=0.03)


def test_times_that_the_clock_cannot_tell_from_the_plan_leave_the_forecast() -> None:
    # The log prints QHB 15:16Z and the changeover point 15:22Z.
    planned = flight(ROUND_ROBIN)["legs"]
    _, found = revised(ROUND_ROBIN, *at("QHB 15:16", "cop 15:22"))
    assert found["wind"]["difference"]["speed_kt"] == 0.0
    assert found["wind"]["found"] == found["wind"]["forecast"]
    for leg, was in zip(found["legs"], planned[2:], strict=True):
        assert leg["groundspeed_kt"] == was["groundspeed_kt"]
    out = " ".join(navlog("revise", "-", *at("QHB 15:16", "cop 15:22"), typed=ROUND_ROBIN).out.split())
    assert "no different from the forecast, which holds ahead unchanged" in out


@pytest.mark.parametrize("times", [("QHB 15:16:25",), ("QHB 15:16:15", "cop 15:23:15")])
def test_more_than_half_a_minute_tells_a_wind(times: tuple[str, ...]) -> None:
    # Planned 15:15:51 and 15:22:29; in the second each part is within half a minute and both together are not.
    _, found = revised(ROUND_ROBIN, *at(*times))
    assert found["wind"]["difference"]["speed_kt"] > 0.0


def test_fuel_counts_from_what_is_read() -> None:
    _, found = revised(ROUND_ROBIN, *at("QHB 15:17"), "--fuel", "20gal")
    assert found["fuel_read"]
    used = sum(leg["fuel_used_gal"] for leg in found["legs"])
    assert found["remaining"] == pytest.approx(20.0 - used)
    assert found["legs"][0]["elapsed_min"] == pytest.approx(found["legs"][0]["time_min"])


def test_without_a_reading_the_planned_burn_goes_on_through_the_time_lost() -> None:
    planned = flight(ROUND_ROBIN)["legs"][0]
    _, found = revised(ROUND_ROBIN, *at("QHB 15:20"))
    late_min = 10.0 - planned["time_min"]
    assert found["fuel_on_board"] == pytest.approx(planned["fuel_remaining_gal"] - late_min / 60.0 * 8.5)
    assert not found["fuel_read"]


def test_a_landing_takes_its_stop_and_its_fuel() -> None:
    text = (EXAMPLES / "landing.route").read_text("utf-8")
    planned = flight(text)["legs"]
    arrival = next(leg for leg in planned if leg["to"]["ident"] == "XTAR")
    _, found = revised(text, *at(f"XTAR {arrival['eta'][11:16]}"), "--fuel", "9gal")
    first = found["legs"][0]
    left = datetime.fromisoformat(arrival["eta"]).replace(second=0, microsecond=0) + timedelta(minutes=45)
    flown_min = (datetime.fromisoformat(first["eta"]) - left).total_seconds() / 60.0
    assert flown_min == pytest.approx(first["time_min"], abs=0.001)
    # 22 gal are taken at Tarn Moor whatever was left.
    assert first["fuel_remaining_gal"] == pytest.approx(22.0 - first["fuel_used_gal"])


def test_a_part_with_a_stop_or_a_hold_tells_no_groundspeed() -> None:
    landing = (EXAMPLES / "landing.route").read_text("utf-8")
    _, found = revised(landing, *at("QEL 11:20"))
    assert (found["flown"][0]["groundspeed_kt"], found["flown"][0]["reason"]) == (
        None,
        "a stop on the ground lies in it",
    )
    hold = changed("hold QHB 6min")
    _, found = revised(hold, *at("QHB 15:16", "QHB 15:24", "cop 15:31"))
    assert [part["reason"] for part in found["flown"]] == [None, "a hold lies in it", None]
    # Leaving the hold is the second pass of its point.
    assert found["flown"][1]["distance_nm"] == 0.0
    assert found["flown"][2]["distance_nm"] == pytest.approx(11.0)


def test_a_point_passed_twice_is_each_time_the_next_pass() -> None:
    text = changed(
        "direct QEL - QHB 29.5nm min 2500", "route XHAR QHB V801 QEL QHB XOLD", "direct QHB - XOLD 31.3nm min 2500"
    )
    _, found = revised(text, *at("QHB 15:16", "QEL 15:35", "QHB 15:51"))
    assert [part["distance_nm"] for part in found["flown"]] == pytest.approx([9.6, 29.5, 29.5])
    passes = [leg["number"] for leg in flight(text)["legs"] if leg["to"]["ident"] == "QHB"]
    assert found["at"]["leg"] == passes[-1]


def test_midnight_passes_between_two_points() -> None:
    text = changed("off 23:50Z")
    _, found = revised(text, *at("QHB 23:56", "cop 00:03"))
    assert [part["time"] for part in found["flown"]] == ["2026-07-18T23:56:00.000Z", "2026-07-19T00:03:00.000Z"]
    assert found["legs"][0]["eta"].startswith("2026-07-19T00:")


def test_a_climb_in_the_part_is_counted_with_it() -> None:
    aircraft = f'aircraft "{EXAMPLES / "trainer.toml"}"'
    text = changed(aircraft, "altitude 4500", without=("tas", "burn"))
    planned = flight(text)["legs"]
    assert [leg["phase"] for leg in planned[:2]] == ["climb", "cruise"]
    passed = next(leg for leg in planned if leg["to"]["ident"] == "QHB")
    _, found = revised(text, *at(f"QHB {passed['eta'][11:19]}"))
    part = found["flown"][0]
    assert part["planned_groundspeed_kt"] == pytest.approx(9.6 / passed["elapsed_min"] * 60.0)
    assert part["headwind_kt"] == pytest.approx(part["forecast_headwind_kt"], abs=0.2)
    assert [leg["phase"] for leg in found["legs"]] == [leg["phase"] for leg in planned[passed["number"] :]]


def test_no_wind_given_still_gives_the_headwind_and_the_rest() -> None:
    _, found = revised(changed(without=("wind",)), *at("QHB 15:17"), "--fuel", "36gal")
    assert found["flown"][0]["headwind_kt"] == pytest.approx(110.0 - 9.6 / 7.0 * 60.0)
    assert found["flown"][0]["planned_min"] is None
    assert found["remaining"] is not None
    assert "the crosswind is not known" in found["wind"]["method"]
    assert (found["wind"]["forecast"], found["flown"][0]["forecast_headwind_kt"]) == (None, None)


def test_a_short_part_moves_the_clock_and_tells_no_wind() -> None:
    text = (EXAMPLES / "club_day.route").read_text("utf-8")
    found = navlog("revise", "-", "--flight", "Back from Skerry", *at("QSK 12:04"), "--format", "json", typed=text)
    part = json.loads(found.out)["flown"][0]
    assert "too short" in part["reason"]
    assert json.loads(found.out)["wind"] is None
    assert (
        "the forecast holds ahead"
        in navlog("revise", "-", "--flight", "Back from Skerry", *at("QSK 12:04"), typed=text).out
    )


@pytest.mark.parametrize(
    ("fuel", "told", "warned"), [("31gal", "5.1 gal under", True), ("36gal", "0.1 gal under", False)]
)
def test_a_reading_is_told_against_the_plan_there(fuel: str, told: str, warned: bool) -> None:
    """The sheet leaves 36.1 gal at QHB: 37 gal at take-off less 5.8 min at 8.5 gal an hour, 0.82 gal, rounded up."""
    out = " ".join(
        navlog("revise", str(EXAMPLES / "round_robin.route"), "--at", "QHB", "15:17", "--fuel", fuel).out.split()
    )
    assert f"{told} the plan" in out
    assert "15:16Z planned (1 min late)" in out
    used = 37.0 - float(fuel[:-3])
    assert f"{used:.1f} gal used since take-off at XHAR (0.9 gal planned)" in out
    assert ("the burn is more than planned" in out) is warned


def test_after_half_an_hour_a_reading_tells_the_burn_an_hour() -> None:
    """Off at 15:10, 45 minutes to 15:55, 37 gal less 28 gal: 9 gal in 0.75 h, 12 gal an hour."""
    words = ("--at", "QHB", "15:55", "--fuel", "28gal")
    out = " ".join(navlog("revise", str(EXAMPLES / "round_robin.route"), *words).out.split())
    assert "9.0 gal used since take-off at XHAR, 12.0 gal/h" in out


def test_fuel_that_is_gone_is_told_as_none_and_how_much_is_missing() -> None:
    """Eight hours late at QHB and more at QEL: by the planned burn of 8.5 gal an hour the 37 gal are long used up."""
    found = navlog("revise", str(EXAMPLES / "round_robin.route"), "--at", "QHB", "23:17", "--at", "QEL", "09:00")
    told = " ".join(found.out.split())
    assert "no fuel left by the planned burn, 114.6 gal short" in told
    assert "THE FUEL HAS RUN OUT before QEL by the planned burn THE RESERVE IS LOST: none left at XHAR" in told
    assert not re.search(r"-\d+\.\d", found.out)
    assert found.status == 1


def test_a_point_passed_in_the_minute_of_take_off_tells_no_speed_and_is_no_slip() -> None:
    """0.7 NM at 95 kt are 27 seconds: the clock may show one minute at both ends; 2 NM are 76 seconds."""
    here = chart("direct QHB 090 - 270 QEL {}nm", "tas 95kt", "wind calm", "off 15:10Z", "route QHB QEL")
    status, found = revised(here.format("0.7"), *at("QEL 15:10"))
    assert status == 0
    (part,) = found["flown"]
    assert part["groundspeed_kt"] is None
    assert part["reason"] == "it is too short: both ends are passed in one minute of the clock"
    assert (
        "2.0 NM to QEL cannot be flown in 0 min" in navlog("revise", "-", *at("QEL 15:10"), typed=here.format("2")).err
    )
