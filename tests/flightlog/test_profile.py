"""How high each part of the way is flown, at figures simple enough to work by hand.

The aeroplane climbs 600 ft/min at 90 kt, cruises at 120 kt and descends 500 ft/min at 120 kt, in calm air:
1,000 ft of climb take 2.5 NM, 1,000 ft of descent 4 NM. No station has a position.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from helpers.drawn import reports
from helpers.flown import Json
from helpers.folder import Folder
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from navlog.flightlog.profile import _crossed_at_least_ft
from navlog.nav.chart import CrossingAltitude
from navlog.nav.record import changed

AIRCRAFT = """
name = "By hand"
[climb]
tas_kt = 90
rate_ft_per_min = 600
burn_gal_per_h = 12
[cruise]
tas_kt = 120
burn_gal_per_h = 9
[descent]
tas_kt = 120
rate_ft_per_min = 500
burn_gal_per_h = 6
"""
COMMON = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "airport XLO N46 00.00 W039 00.00 elev 500ft\nairport XHI N46 00.00 W038 00.00 elev 1000ft\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\nfuel 40gal\nrules ifr\naircraft hand.toml\n"
)


@pytest.fixture
def hand(folder: Folder) -> Folder:
    folder.put("hand.toml", AIRCRAFT)
    return folder


def shape(found: Json) -> list[tuple[str, float, float, float]]:
    """Phase, NM and the heights at both ends of the legs of each phase, neighbours taken together."""
    legs: list[tuple[str, float, float, float]] = []
    for leg in found["legs"]:
        start_ft, end_ft = round(leg["start_altitude_ft"], 3), round(leg["end_altitude_ft"], 3)
        if legs and legs[-1][0] == leg["phase"] and legs[-1][3] == start_ft:
            phase, length_nm, first_ft, _ = legs.pop()
            legs.append((phase, round(length_nm + leg["distance_nm"], 3), first_ft, end_ft))
        else:
            legs.append((leg["phase"], round(leg["distance_nm"], 3), start_ft, end_ft))
    return legs


def rules(found: Json) -> set[str]:
    return {finding["rule"] for finding in found["findings"]}


def test_climb_cruise_and_descent(hand: Folder) -> None:
    text = COMMON + "altitude 4500\ndirect QAA 270 - XLO 30nm\ndirect QAA 090 - XHI 40nm\nroute XLO QAA XHI\n"
    found = hand.fly(text)
    assert shape(found) == [
        ("climb", 10.0, 500, 4500),  # 4,000 ft
        ("cruise", 46.0, 4500, 4500),
        ("descent", 14.0, 4500, 1000),  # 3,500 ft
    ]
    kinds = [leg["to"]["kind"] for leg in found["legs"]]
    assert kinds == ["top of climb", "station", "top of descent", "airport"]
    sheet = hand.run(text).out
    assert "top of climb 10.0 NM from XLO, 20.0 NM to QAA" in sheet
    assert "top of descent 26.0 NM from QAA, 14.0 NM to XHI" in sheet
    # 4,000 ft at 600 ft/min, 46 NM at 120 kt, 3,500 ft at 500 ft/min; 12, 9 and 6 gal/h.
    assert found["totals"]["time_min"] == pytest.approx(4000 / 600 + 23 + 7)
    assert found["totals"]["fuel_gal"] == pytest.approx((4000 / 600 * 12 + 23 * 9 + 7 * 6) / 60)
    assert not rules(found) & {"cruise-not-reached", "arrival-height", "climb-left-out", "under-minimum"}


def test_a_pattern_altitude_ends_the_descent(hand: Folder) -> None:
    text = COMMON + "altitude 4500\ndirect QAA 270 - XLO 30nm\ndirect QAA 090 - XHI 40nm\nroute XLO QAA XHI\n"
    assert shape(hand.fly(text + "pattern 2000\n"))[-1] == ("descent", 10.0, 4500, 2000)


def test_level_changes_begin_at_their_points(hand: Folder) -> None:
    found = hand.fly(
        COMMON + "altitude 4500\ndirect QAA 090 - 270 QBB 30nm\ndirect QBB 090 - 270 QCC 30nm\n"
        "direct QAA 270 - XLO 30nm\nroute XLO QAA/A065 QBB/A035 QCC\n"
    )
    assert shape(found) == [
        ("climb", 10.0, 500, 4500),
        ("cruise", 20.0, 4500, 4500),
        ("climb", 5.0, 4500, 6500),
        ("cruise", 25.0, 6500, 6500),
        ("descent", 12.0, 6500, 3500),
        ("cruise", 18.0, 3500, 3500),
    ]
    starts = {leg["phase"]: leg["from"]["ident"] for leg in found["legs"][2:] if leg["phase"] != "cruise"}
    assert starts == {"climb": "QAA", "descent": "QBB"}


LAKER = (
    "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft\n"
    "station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme elev 410ft\nfix LAKER QHB 212 20nm\n"
    "airway V801 QHB 212 - LAKER 20nm mea 3000 - 034 QEL 9.5nm mea 3000 mca 7000 LAKER to QEL\n"
    "aircraft trainer.toml\nwind 230/12\ndate 2026-07-18\nrules ifr\nfuel 38gal\naltitude 4000\n"
    "route QHB V801 LAKER/A070 V801 QEL\n"
)


def test_a_climb_to_a_crossing_altitude_ends_at_its_point_at_that_altitude(folder: Folder) -> None:
    # 14 CFR 91.177(b): the point is crossed at or above the MCA. The rates of climb change with height, so the climb
    # flown forward in steps does not end where the one laid back from LAKER does.
    folder.put("trainer.toml", (Path(__file__).parents[2] / "examples" / "trainer.toml").read_text(encoding="utf-8"))
    found = folder.fly(LAKER)
    (before,) = [leg for leg in found["legs"] if leg["to"]["ident"] == "LAKER"]
    assert (before["phase"], before["end_altitude_ft"]) == ("climb", 7000)
    assert "under-mca" not in rules(found)
    assert all(leg["distance_nm"] > 0.05 for leg in found["legs"])
    assert found["legs"][-1]["phase"] == "cruise"


def test_a_climb_to_a_crossing_altitude_goes_on_from_the_climb_before_it(hand: Folder) -> None:
    # 3,000 ft to QBB's MCA of 7,000 ft take 10 NM: the climb to 5,000 ft, due at QAA only 4 NM before QBB, begins
    # 6 NM before QAA.
    text = (
        "airway V1 QCC 090 - 270 QAA 30nm mea 2000 090 - 270 QBB 4nm mea 2000 090 - 270 QDD 30nm mea 2000"
        " mca 7000 QBB to QDD\n"
        "station QDD 116.00 decl 0E\naltitude 3000\nroute QCC V1 QAA/A050 V1 QBB/A070 V1 QDD\n"
    )
    found = hand.fly(COMMON + text)
    assert shape(found) == [
        ("cruise", 24.0, 3000, 3000),
        ("climb", 10.0, 3000, 7000),
        ("cruise", 30.0, 7000, 7000),
    ]
    assert "under-mca" not in rules(found)


@pytest.mark.parametrize("altitude", [4484, 4516])
def test_a_climb_that_ends_as_good_as_at_a_point_ends_there(hand: Folder, altitude: int) -> None:
    # 16 ft are 0.04 NM, which print as 0.0: level so short a way before QAA is no leg; beyond it the climb goes on.
    text = "altitude {}\ndirect QAA 270 - XLO 10nm\ndirect QAA 090 - 270 QBB 40nm\nroute XLO QAA QBB\n"
    flown = shape(hand.fly(COMMON + text.format(altitude)))
    if altitude < 4500:
        assert flown == [("climb", 10.0, 500, 4484), ("cruise", 40.0, 4484, 4484)]
    else:
        assert flown == [("climb", 10.04, 500, 4516), ("cruise", 39.96, 4516, 4516)]


def test_a_short_hop_does_not_reach_its_level(hand: Folder) -> None:
    # Up and down in 16 NM over a rise of 500 ft: 2.5 (h - 0.5) + 4 (h - 1) = 16, so h = 3,269.2 ft.
    found = hand.fly(COMMON + "altitude 8500\ndirect QAA 270 - XLO 8nm\ndirect QAA 090 - XHI 8nm\nroute XLO QAA XHI\n")
    top_ft = (16 + 1.25 + 4) / 6.5 * 1000
    assert [phase for phase, *_ in shape(found)] == ["climb", "descent"]
    assert shape(found)[0][3] == pytest.approx(top_ft, abs=0.01)
    assert shape(found)[1][3] == 1000
    (finding,) = [one for one in found["findings"] if one["rule"] == "cruise-not-reached"]
    assert "3269 ft of 8500 ft" in finding["message"]


def test_a_climb_that_no_hop_is_long_enough_for(hand: Folder) -> None:
    # A station at the end: nothing to descend to. 12 NM of climb are 4,800 ft.
    found = hand.fly(COMMON + "altitude 9500\ndirect QAA 270 - XLO 12nm\nroute XLO QAA\n")
    assert shape(found) == [("climb", 12.0, 500, 5300)]
    assert "cruise-not-reached" in rules(found)


def test_no_descent_below_a_minimum_before_its_end(hand: Folder) -> None:
    # 40 NM from QAA to the field; without a minimum the descent from 8,500 ft would begin 30 NM out. The leg
    # to QAA ends 10 NM out with a minimum of 5,000 ft: there the aeroplane is at 5,000 ft and not 3,500.
    text = COMMON + "altitude 8500\ndirect QAA 270 - XLO 60nm min 5000\ndirect QAA 090 - XHI 10nm\nroute XLO QAA XHI\n"
    found = hand.fly(text)
    assert shape(found)[-2] == ("descent", 24.0, 8500, 2500)  # 14 NM down to 5,000 ft at QAA, 10 NM more
    assert shape(found)[-1] == ("height to lose", 0.0, 2500, 1000)
    at_station = next(leg for leg in found["legs"] if leg["to"]["ident"] == "QAA")
    assert at_station["end_altitude_ft"] == pytest.approx(5000)
    (finding,) = [one for one in found["findings"] if one["rule"] == "arrival-height"]
    assert (
        finding["message"] == "XHI is reached 1500 ft (3 min and 0.3 gal planned to lose it) above the field at 1000 ft"
    )
    assert "under-minimum" not in rules(found)
    freely = hand.fly(text.replace(" min 5000", ""))
    assert shape(freely)[-1] == ("descent", 30.0, 8500, 1000)
    assert "arrival-height" not in rules(freely)


def test_a_minimum_lower_than_the_descent_does_not_hold_it_up(hand: Folder) -> None:
    found = hand.fly(
        COMMON + "altitude 8500\ndirect QAA 270 - XLO 60nm min 3000\ndirect QAA 090 - XHI 10nm\nroute XLO QAA XHI\n"
    )
    assert shape(found)[-1] == ("descent", 30.0, 8500, 1000)


def test_the_leg_to_the_landing_begins_at_its_own_minimum(hand: Folder) -> None:
    # 10 NM at 120 kt and 500 ft/min are 2,500 ft: the descent to 1,000 ft would pass QAA at 3,500 ft.
    found = hand.fly(
        COMMON + "altitude 8500\ndirect QAA 270 - XLO 60nm min 2000\ndirect QAA 090 - XHI 10nm min 4500\n"
        "route XLO QAA XHI\n"
    )
    at_station = next(leg for leg in found["legs"] if leg["to"]["ident"] == "QAA")
    assert at_station["end_altitude_ft"] == pytest.approx(4500)
    assert shape(found)[-1] == ("height to lose", 0.0, 2000, 1000)
    assert "under-minimum" not in rules(found)


def test_the_first_of_two_minimums_may_be_the_one_that_holds(hand: Folder) -> None:
    # 8,000 ft until QAA and 2,000 ft until QBB, 20 NM apart: from 8,000 ft at QAA it is 3,000 ft at QBB.
    found = hand.fly(
        COMMON + "altitude 9500\ndirect QAA 270 - XLO 60nm min 8000\ndirect QAA 090 - 270 QBB 20nm min 2000\n"
        "direct QBB 090 - XHI 4nm\nroute XLO QAA QBB XHI\n"
    )
    heights = {leg["to"]["ident"]: leg["end_altitude_ft"] for leg in found["legs"] if leg["to"]["ident"]}
    assert heights["QAA"] == pytest.approx(8000)
    assert heights["QBB"] == pytest.approx(3000)
    assert [leg["start_altitude_ft"] for leg in found["legs"]][-1] == pytest.approx(2000)
    assert heights["XHI"] == 1000


def test_minimums_do_not_bind_on_the_ground(hand: Folder) -> None:
    found = hand.fly(
        COMMON + "altitude 4500\ndirect QAA 270 - XLO 30nm min 3000\ndirect QAA 090 - XHI 40nm min 3000\n"
        "route XLO QAA XHI\n"
    )
    assert found["legs"][0]["start_altitude_ft"] == 500
    assert found["legs"][-1]["end_altitude_ft"] == 1000
    assert "under-minimum" not in rules(found)


def test_a_climb_out_still_under_the_minimum_at_the_first_point_is_necessary_for_take_off(hand: Folder) -> None:
    # 14 CFR 91.177(a): "Except when necessary for takeoff or landing".
    found = hand.fly(
        COMMON + "altitude 4500\ndirect QAA 270 - XLO 5nm min 3000\ndirect QAA 090 - XHI 60nm\nroute XLO QAA XHI\n"
    )
    assert "under-minimum" not in rules(found)


def test_a_stop_is_a_landing_and_a_climb_of_its_own(hand: Folder) -> None:
    found = hand.fly(
        COMMON + "altitude 3000\ndirect QAA 270 - XLO 40nm\ndirect QAA 090 - XHI 40nm\ndirect QBB 270 - XHI 40nm\n"
        "route XLO QAA XHI land 20min QBB\n"
    )
    assert shape(found) == [
        ("climb", 6.25, 500, 3000),
        ("cruise", 65.75, 3000, 3000),
        ("descent", 8.0, 3000, 1000),
        ("climb", 5.0, 1000, 3000),
        ("cruise", 35.0, 3000, 3000),
    ]


def test_a_field_above_the_cruising_level_is_an_error(hand: Folder) -> None:
    found = hand.fly(
        COMMON.replace("elev 1000ft", "elev 6000ft")
        + "altitude 4500\ndirect QAA 270 - XLO 40nm\ndirect QAA 090 - XHI 40nm\nroute XLO QAA XHI\n"
    )
    assert shape(found)[-1] == ("cruise", 70.0, 4500, 4500)
    assert ("arrival-height", "error") in {(one["rule"], one["severity"]) for one in found["findings"]}


def test_a_field_of_departure_above_the_level_begins_with_a_descent(hand: Folder) -> None:
    found = hand.fly(
        COMMON.replace("elev 500ft", "elev 5500ft") + "altitude 4500\ndirect QAA 270 - XLO 40nm\nroute XLO QAA\n"
    )
    assert shape(found) == [("descent", 4.0, 5500, 4500), ("cruise", 36.0, 4500, 4500)]


def test_without_an_elevation_the_climb_is_left_out_and_said(hand: Folder) -> None:
    text = COMMON.replace(" elev 500ft", "") + "altitude 4500\ndirect QAA 270 - XLO 40nm\nroute XLO QAA\n"
    found = hand.fly(text)
    assert shape(found) == [("cruise", 40.0, 4500, 4500)]
    assert "climb-left-out" in rules(found)


def test_a_hold_has_time_and_fuel_at_cruise_and_no_distance(hand: Folder) -> None:
    text = COMMON + "altitude 4500\ndirect QAA 270 - XLO 30nm\ndirect QAA 090 - XHI 40nm\nroute XLO QAA XHI\n"
    before, found = hand.fly(text), hand.fly(text + "hold QAA 10min\n")
    (hold,) = [leg for leg in found["legs"] if leg["phase"] == "hold"]
    assert (hold["distance_nm"], hold["time_min"], hold["fuel_used_gal"]) == (0.0, 10.0, pytest.approx(1.5))
    assert (hold["from"]["ident"], hold["to"]["ident"]) == ("QAA", "QAA")
    assert found["totals"]["time_min"] == pytest.approx(before["totals"]["time_min"] + 10.0)
    assert found["totals"]["distance_nm"] == pytest.approx(before["totals"]["distance_nm"])


@pytest.mark.parametrize("point", ["XLO", "XHI"])
def test_a_hold_where_the_flight_takes_off_or_lands_is_refused(hand: Folder, point: str) -> None:
    text = COMMON + "altitude 4500\ndirect QAA 270 - XLO 30nm\ndirect QAA 090 - XHI 40nm\nroute XLO QAA XHI\n"
    (problem,) = hand.problems(text + f"hold {point} 10min\n")
    assert problem["code"] == "hold-off-route"


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    lengths=st.tuples(*[st.integers(2, 60)] * 4),
    levels=st.tuples(*[st.integers(10, 110)] * 3),
    minimums=st.tuples(*[st.integers(5, 90)] * 4),
    crossing=st.integers(5, 110),
)
def test_the_profile_has_no_gaps(
    hand: Folder,
    lengths: tuple[int, ...],
    levels: tuple[int, ...],
    minimums: tuple[int, ...],
    crossing: int,
) -> None:
    first, second, third = levels
    found = hand.fly(
        COMMON + f"altitude {first * 100}\n"
        f"direct QAA 270 - XLO {lengths[0]}nm min {minimums[0] * 100}\n"
        f"airway V801 QAA 090 - 270 QBB {lengths[1]}nm mea {minimums[1] * 100} mca {crossing * 100} QAA to QBB\n"
        f"direct QBB 090 - 270 QCC {lengths[2]}nm min {minimums[2] * 100}\n"
        f"direct QCC 090 - XHI {lengths[3]}nm min {minimums[3] * 100}\n"
        f"route XLO QAA/A{second:03d} V801 QBB/A{third:03d} QCC XHI\n"
    )
    legs = found["legs"]
    assert all(leg["distance_nm"] >= 0.0 for leg in legs)
    assert sum(leg["distance_nm"] for leg in legs) == pytest.approx(sum(lengths))
    for before, after in pairwise(legs):
        assert after["start_altitude_ft"] == pytest.approx(before["end_altitude_ft"], abs=1e-3)
        assert after["from"] == before["to"]
    for leg in legs:
        if "level_changes" in leg:
            continue
        rise_ft = leg["end_altitude_ft"] - leg["start_altitude_ft"]
        rate = {"climb": 600, "descent": -500, "height to lose": -500, "cruise": 0}[leg["phase"]]
        assert rise_ft == pytest.approx(rate * leg["time_min"], abs=0.1)
    assert legs[0]["start_altitude_ft"] == 500
    assert [leg["to"]["ident"] for leg in legs if leg["to"]["ident"] and leg["distance_nm"]] == [
        "QAA",
        "QBB",
        "QCC",
        "XHI",
    ]


OVER_QAA = "direct QAA 270 - XLO 5nm\ndirect QAA 090 - 270 QBB 30nm\n"


def test_a_climb_in_a_hold_goes_on_from_the_height_at_which_its_point_is_reached(hand: Folder) -> None:
    # 5 NM of climb are 2,000 ft; 2,000 ft more in the hold take 200 seconds.
    found = hand.fly(COMMON + OVER_QAA + "altitude 4500\nhold QAA until 4500ft\nroute XLO QAA QBB\n")
    assert shape(found) == [("climb", 5.0, 500, 2500), ("hold", 0.0, 2500, 4500), ("cruise", 30.0, 4500, 4500)]
    (hold,) = [leg for leg in found["legs"] if leg["phase"] == "hold"]
    assert hold["time_min"] == pytest.approx(2000 / 600)


def test_a_climb_in_a_hold_is_flown_once_though_its_point_is_passed_again(hand: Folder) -> None:
    found = hand.fly(COMMON + OVER_QAA + "altitude 2500\nhold QAA until 4500ft\nroute XLO QAA QBB/A025 QAA QBB\n")
    assert [leg["to"]["ident"] for leg in found["legs"] if leg["phase"] == "hold"] == ["QAA"]


def test_a_hold_climbs_no_higher_than_the_way_down_from_it_begins(hand: Folder) -> None:
    # 15 NM down to 1,000 ft begin at 4,750 ft, though 6,500 ft are asked for: 1,250 ft at 600 ft/min.
    text = COMMON + "direct QAA 270 - XLO 40nm\ndirect QAA 090 - XHI 15nm\naltitude 3500\nroute XLO QAA XHI\n"
    found = hand.fly(text + "hold QAA until 6500ft\n")
    assert shape(found)[-2:] == [("hold", 0.0, 3500, 4750), ("descent", 15.0, 4750, 1000)]
    (hold,) = [leg for leg in found["legs"] if leg["phase"] == "hold"]
    assert hold["time_min"] == pytest.approx(1250 / 600)
    # What is asked for is flown where the way down begins as high or higher.
    assert shape(hand.fly(text + "hold QAA until 4700ft\n"))[2] == ("hold", 0.0, 3500, 4700)


def test_a_point_crossed_higher_than_asked_in_a_climb_is_crossed_where_the_climb_leads(hand: Folder) -> None:
    text = COMMON + "direct QAA 270 - XLO 5nm\naltitude 4500\nroute XLO QAA V1 QBB\n"
    for crossing_ft in (2400, 2500):
        found = hand.fly(text + f"airway V1 QAA 090 - 270 QBB 30nm mea 2000 mca {crossing_ft} QAA to QBB\n")
        assert shape(found) == [("climb", 10.0, 500, 4500), ("cruise", 25.0, 4500, 4500)]


def test_of_two_crossing_altitudes_the_higher_counts_as_far_as_the_level_goes() -> None:
    (planned,) = reports(
        COMMON.replace("aircraft hand.toml", "tas 100kt") + OVER_QAA + "altitude 4500\nroute QAA QBB\n"
    )
    (stretch,) = planned.log.route.stretches
    asked = tuple(CrossingAltitude(altitude_ft, "QAA", "QBB") for altitude_ft in (3000.0, 4000.0))
    crossed = changed(stretch, limits=changed(stretch.limits, crossings_start=asked))
    assert [_crossed_at_least_ft(crossed, level_ft) for level_ft in (4500, 3500)] == [4000, 3500]
    assert _crossed_at_least_ft(stretch, 4500) is None


def test_where_no_heading_holds_the_wind_in_the_climb_every_part_is_flown_at_its_level(hand: Folder) -> None:
    # From the side 100 kt are more than the 90 kt of the climb and less than the 120 kt of the cruise.
    text = COMMON.replace("wind calm", "wind 360/100") + "altitude 4500\ndirect QAA 270 - XLO 30nm\nroute XLO QAA\n"
    found = hand.fly(text)
    assert shape(found) == [("cruise", 30.0, 4500, 4500)]
    # sqrt(120 x 120 - 100 x 100) kt are 66.33 kt.
    assert found["totals"]["time_min"] == pytest.approx(30 / 66.3325 * 60, abs=1e-4)


def test_the_way_to_an_alternate_begins_at_the_height_of_its_point(hand: Folder) -> None:
    # QAA is passed at 2,500 ft: 5 NM more up to 4,500 ft, and 14 NM down to the field at 1,000 ft, of 30 NM.
    text = COMMON + OVER_QAA + "direct QAA 180 - XHI 30nm\naltitude 4500\nroute XLO QAA QBB\nalternate XHI from QAA\n"
    (way,) = hand.fly(text)["alternates"]
    assert shape(way) == [("climb", 5.0, 2500, 4500), ("cruise", 11.0, 4500, 4500), ("descent", 14.0, 4500, 1000)]
