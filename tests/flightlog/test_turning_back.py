"""Time and fuel home, the course to set, and the critical point between two fields.

USAF AFM 51-40, Air Navigation: the distance to the equal time point is the whole distance x GS home / (GS home + GS
on). A published example (aerofile.blogspot.com, "Equal Time Point, Critical Point"): 920 NM, 240 kt out and 210 kt home
give 429 NM. Speeds here: 225 kt in a wind of 15 kt along the way.
"""

from __future__ import annotations

import pytest
from geographiclib.geodesic import Geodesic
from helpers.flown import Json, navlog
from helpers.flown import flight as fly
from helpers.judged import reported

from navlog.flightlog.turning_back import critical_points
from navlog.rules.samples import FLOWN_BY_FILE

STRAIGHT = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\n"
    "airport XLO N46 00.00 W039 00.00 elev 0ft\nairport XHI N46 00.00 W020 00.00 elev 0ft\n"
    "direct QAA 270 - XLO 300nm\ndirect QAA 090 - 270 QBB 320nm\ndirect QBB 090 - XHI 300nm\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\naltitude 5000\ntas 225kt\nburn 10gph\nfuel 90gal\n"
    "route XLO QAA QBB XHI\n"
)
TAIL, HEAD, CALM = "wind 270/15\n", "wind 090/15\n", "wind calm\n"


def critical(found: Json) -> Json:
    (point,) = found["critical_points"]
    return dict(point)


@pytest.mark.parametrize(("wind", "nm"), [(TAIL, 920 * 210 / 450), (HEAD, 920 * 240 / 450), (CALM, 460.0)])
def test_the_critical_point_is_that_of_the_formula(wind: str, nm: float) -> None:
    found = fly(STRAIGHT + wind)
    point = critical(found)
    assert (point["home"], point["ahead"]) == ("XLO", "XHI")
    assert point["distance_from_home_nm"] == pytest.approx(nm, abs=0.05)
    assert point["distance_from_home_nm"] + point["distance_to_go_nm"] == pytest.approx(920)
    home_kt = {TAIL: 210, HEAD: 240, CALM: 225}[wind]
    assert point["time_min"] == pytest.approx(nm / home_kt * 60, abs=0.02)


def test_time_fuel_and_needle_home_at_each_point() -> None:
    # With a tailwind out home is flown at 210 kt: 300 NM in 85.71 min, 620 NM in 177.14 min, at 10 gal an hour.
    ways = fly(STRAIGHT + TAIL)["turning_back"]
    told = [(way["from"], way["home"], way["guidance"]["ident"], way["guidance"]["flag"]) for way in ways]
    assert told == [("QAA", "XLO", "QAA", "FROM"), ("QBB", "XLO", "QBB", "FROM")]
    assert [way["guidance"]["set_course_deg"] for way in ways] == [270, 270]
    assert [way["magnetic_heading_deg"] for way in ways] == pytest.approx([270, 270], abs=0.1)
    assert [way["time_min"] for way in ways] == pytest.approx([300 / 210 * 60, 620 / 210 * 60], abs=0.01)
    assert [way["fuel_gal"] for way in ways] == pytest.approx([300 / 21, 620 / 21], abs=0.01)
    assert ways[0]["fuel_left_gal"] == pytest.approx(90 - 300 / 24 - 300 / 21, abs=0.01)


def test_a_point_past_the_station_is_left_to_it() -> None:
    text = STRAIGHT.replace("QAA 090 - 270 QBB 320nm", "QAA 090 - MID 100nm\ndirect MID - 270 QBB 220nm")
    text = text.replace("route XLO QAA", "fix MID QAA 090 100nm\nroute XLO QAA MID")
    way = fly(text + TAIL)["turning_back"][1]
    assert (way["from"], way["guidance"]["ident"], way["guidance"]["set_course_deg"]) == ("MID", "QAA", 270)
    assert way["guidance"]["flag"] == "TO"


def test_no_field_behind_no_wind_and_a_round_trip() -> None:
    assert fly(STRAIGHT.replace("route XLO QAA", "route QAA") + TAIL)["turning_back"] == []
    without = fly(STRAIGHT)
    assert without["critical_points"] == []
    assert [way["time_min"] for way in without["turning_back"]] == [None, None]
    back = STRAIGHT.replace("QBB XHI\n", "QBB QAA XLO\n")
    assert fly(back + TAIL)["critical_points"] == []
    assert len(fly(back + TAIL)["turning_back"]) == 3


def test_home_is_the_last_field_taken_off_from() -> None:
    stop = fly(STRAIGHT.replace("QBB XHI\n", "XLO land 20min QAA QBB XHI\n") + CALM)
    assert [(way["from"], way["home"]) for way in stop["turning_back"]] == [
        ("QAA", "XLO"),
        ("QAA", "XLO"),
        ("QBB", "XLO"),
    ]
    assert stop["turning_back"][1]["distance_nm"] == pytest.approx(300)


def test_the_planning_sheet_tells_it_and_that_fuel_does_not_reach() -> None:
    printed = " ".join(navlog("log", "-", "--format", "planning", typed=STRAIGHT + TAIL).out.split())
    assert "from QAA to XLO 300.0 NM, 1:26, 14.3 gal, set 270 FROM QAA, heading 270" in printed
    assert "critical point between XLO and XHI: 429.3 NM from XLO (129.3 NM after QAA), 490.7 NM to XHI" in printed
    dry = navlog("log", "-", "--format", "planning", typed=STRAIGHT.replace("90gal", "50gal") + TAIL).out
    assert "from QBB to XLO 620.0 NM, 2:58, 29.6 gal, set 270 FROM QBB, heading 270: NOT ENOUGH FUEL" in dry
    assert dry.count("NOT ENOUGH FUEL") == 1


@pytest.mark.parametrize(
    ("hold", "nm"),
    [
        ("", 460),
        ("hold QAA 30min\n", 460),
        ("hold QBB 30min\n", 460),  # AFM 51-40 has no time at a place: who must land does not hold on the way
    ],
)
def test_a_hold_counts_neither_on_nor_home(hold: str, nm: float) -> None:
    point = critical(fly(STRAIGHT + CALM + hold))
    assert point["distance_from_home_nm"] == pytest.approx(nm)
    assert point["distance_to_go_nm"] == pytest.approx(920 - nm)
    assert point["time_min"] == pytest.approx(nm / 225 * 60)


def test_a_hold_takes_nothing_off_the_way_home() -> None:
    ways = fly(STRAIGHT + CALM + "hold QAA 30min\n")["turning_back"]
    assert [(way["from"], way["distance_nm"], way["time_min"]) for way in ways] == [
        ("QAA", 300, pytest.approx(80)),
        ("QBB", 620, pytest.approx(620 / 225 * 60)),
    ]
    # 10 gal an hour: turned round on reaching QAA 80 minutes out and back; beyond it the 30 minutes held are gone.
    left = [90 - 2 * 80 / 6, 90 - 30 / 6 - 2 * 620 / 225 * 10]
    assert [way["fuel_left_gal"] for way in ways] == pytest.approx(left)


def test_in_still_air_the_critical_point_lies_in_the_middle_whatever_is_climbed_and_descended() -> None:
    # On and home in cruise at one speed: half the way (AFM 51-40 with GS home = GS on). The climb from XHAR is slower
    # than cruise, the descent to XOLD another speed, and 8 minutes are held at QEL.
    still = (*FLOWN_BY_FILE, "-winds", "wind calm", "hold QEL 8min", "altitude 9500", "rules ifr")
    log = reported(*still, "route XHAR QHB V801 QEL XOLD").log
    (point,) = critical_points(log)
    assert point.from_home_nm == pytest.approx(sum(leg.distance_nm for leg in log.legs) / 2.0)
    assert point.time_min == pytest.approx(point.to_go_nm / 110.0 * 60.0)


def test_a_wind_that_blows_faster_than_the_flight_leaves_no_way_home() -> None:
    # 230 kt from due west, where 225 are flown: on is possible, home is not.
    found = fly(STRAIGHT + "wind 270/230\n")
    told = ("magnetic_heading_deg", "time_min", "fuel_gal", "fuel_left_gal")
    assert [[way[key] for key in told] for way in found["turning_back"]] == [[None] * 4] * 2
    assert found["critical_points"] == []


def test_home_is_flown_by_the_course_at_the_middle_of_each_leg() -> None:
    # Along N60 a great circle turns by sin 60, 3.5 of 4 degrees of longitude. In calm air the way back has
    # the reciprocal of the leg's own heading; by geographiclib the course there is 90.00 true.
    far = (
        "station QAA 113.00 N60 00.00 W035 00.00 decl 0E\nairport XLO N60 00.00 W039 00.00 elev 0ft\n"
        "airport XHI N60 00.00 W033 00.00 elev 0ft\ndate 2026-07-18\noff 15:00Z\nvariation 0E\naltitude 5000\n"
        "tas 225kt\nburn 10gph\nfuel 90gal\nwind calm\nroute XLO QAA XHI\n"
    )
    ends = Geodesic.WGS84.InverseLine(60.0, -39.0, 60.0, -35.0)
    assert ends.Position(ends.s13 / 2.0)["azi2"] == pytest.approx(90.0)
    (way,) = fly(far)["turning_back"]
    assert way["magnetic_heading_deg"] == pytest.approx(270.0, abs=0.01)
