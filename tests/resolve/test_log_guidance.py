"""What holds each part of a route: stations, flags, changeovers, dead reckoning, turns; through JSON and sheet."""

from __future__ import annotations

import pytest
from helpers.flown import Json, apart_deg, changed, flight, legs, rules_of, sheet
from helpers.printed import PrintedLog, printed_logs

FULMA = "fix FULMA N46 02.00 W039 25.10"
BY_FULMA = "airway V801 QHB 212 - FULMA 10.7nm mea 3000 - 034 QEL 18.8nm mea 2500"


def printed(text: str) -> PrintedLog:
    (log,) = printed_logs(sheet(text))
    return log


def held(found: list[Json]) -> list[str]:
    """The stations and flags in order, `-` for none."""
    return [f"{leg['guidance']['ident']} {leg['guidance']['flag']}" if leg["guidance"] else "-" for leg in found]


def test_a_route_may_leave_an_airway_at_a_fix() -> None:
    """The fix keeps the guidance of its side of the changeover; beyond it no station's radial leads on."""
    found = flight(changed(FULMA, BY_FULMA, "route XHAR QHB V801 FULMA XOLD"))
    assert held(found["legs"]) == ["QHB TO", "QHB FROM", "-"]
    assert found["legs"][1]["guidance"]["radial_deg"] == 212.0
    assert found["legs"][1]["minimum_altitude_ft"] == 3000
    assert "no-guidance" in rules_of(found)


def test_a_route_may_join_an_airway_at_a_fix() -> None:
    """A flight that joins in the middle gets the guidance of one that flies the airway whole."""
    joined = legs(changed(FULMA, BY_FULMA, "route XHAR FULMA V801 QEL"))[1:]
    whole = legs(changed(FULMA, BY_FULMA, "route QHB V801 QEL"))[1:]
    assert held(joined) == held(whole) == ["QHB FROM", "QEL TO"]
    assert [leg["distance_nm"] for leg in joined] == pytest.approx([leg["distance_nm"] for leg in whole])
    assert [leg["changeover"] for leg in joined] == [leg["changeover"] for leg in whole]


@pytest.mark.parametrize("lengths", [(12.2, 9.1, 14.7), (0.1, 0.2, 0.3), (10.7, 18.8, 7.3)])
def test_every_stretch_ends_at_its_point_whatever_its_lengths_add_to(lengths: tuple[float, float, float]) -> None:
    """12.2 + 9.1 less 12.2 is not 9.1 in binary; a leg must end at the fix all the same."""
    text = changed(
        "fix FULMA 46.1 -39.0",
        "fix KITWA 46.0 -39.0",
        f"airway V899 QHB 139 - FULMA {lengths[0]}nm - KITWA {lengths[1]}nm - 319 QSK {lengths[2]}nm",
        "station QHB 113.70 decl 15W",
        "station QSK 112.40 decl 14W",
        "variation 12W",
        "route QHB V899 QSK",
    )
    idents = [leg["to"]["ident"] for leg in legs(text)]
    assert [ident for ident in idents if ident] == ["FULMA", "KITWA", "QSK"]
    assert {leg["to"]["kind"] for leg in legs(text)} <= {"fix", "station", "changeover"}


def test_a_true_referenced_station_counts_from_true_north_and_prints_t() -> None:
    text = changed(
        "station QHB 113.70 N74 12.30 W095 20.70 decl true class H elev 820ft",
        "station QEL 110.20 N74 44.10 W092 33.00 decl true class H elev 410ft",
        "route QHB QEL",
        without=("airway V801", "direct QHB", "direct QEL"),
    )
    found = flight(text)
    for leg in found["legs"]:
        assert (leg["guidance"]["north"], leg["guidance"]["declination_deg"]) == ("true", 0.0)
        assert apart_deg(leg["guidance"]["set_course_deg"], leg["true_course_deg"]) < 2.0
        assert apart_deg(leg["magnetic_course_deg"], leg["true_course_deg"]) > 10.0
    log = printed(text)
    assert [leg.cells["Set"] for leg in log.legs] == ["053T FROM", "056T TO"]
    assert any("set 056T TO" in remark for remark in log.legs[0].remarks)
    assert " true " in log.stations["QHB"]


def test_true_referenced_is_not_a_declination_of_zero() -> None:
    text = changed("station QHB 113.70 N46 12.30 W039 20.70 decl 0E class L dme elev 820ft", without=("airway V801",))
    assert legs(text + "airway V801 QHB - QEL 29.5nm mea 3000\n")[0]["guidance"]["north"] == "magnetic"
    assert "T TO" not in sheet(text + "airway V801 QHB - QEL 29.5nm mea 3000\n")


def test_an_airport_beside_its_station_has_no_course_to_set() -> None:
    text = changed("airport XHAR N46 12.60 W039 20.00 elev 790ft", without=("direct QHB",))
    first = legs(text)[0]
    assert first["distance_nm"] < 1.0
    assert first["guidance"]["ident"] == "QHB"
    assert [first["guidance"][key] for key in ("radial_deg", "set_course_deg", "flag")] == [None] * 3
    assert first["unknown"] == []
    leg = printed(text).legs[0]
    assert leg.cells["Set"] == "-"
    assert "beside QHB: no course to set" in leg.remarks


def test_where_no_station_serves_the_sheet_says_dead_reckoning_with_heading_and_time() -> None:
    text = changed("route XHAR XOLD")
    (leg,) = legs(text)
    assert leg["guidance"] is None
    assert leg["magnetic_heading_deg"] is not None
    printed_leg = printed(text).legs[0]
    assert (printed_leg.cells["Tune"], printed_leg.cells["Set"]) == ("-", "-")
    heading, time = printed_leg.cells["Hdg"], printed_leg.cells["Time"]
    assert any(f"dead reckoning, hold {heading} for {time}" in remark for remark in printed_leg.remarks)


@pytest.mark.parametrize("kind", ["ndb", "dme", "tacan"])
def test_only_a_vor_guides(kind: str) -> None:
    tuned = {"ndb": "365", "dme": "113.70", "tacan": "84X"}[kind]
    text = changed(f"station QHB {tuned} N46 12.30 W039 20.70 kind {kind}", "route XHAR QHB", without=("airway V801",))
    assert held(legs(text)) == ["-"]


def test_turns_go_left_and_right_by_the_shorter_way() -> None:
    right = legs(changed("route XHAR QHB QSK", without=("airway V801",)))
    left = legs(changed("route XOLD QHB QSK", without=("airway V801",)))
    # From XHAR (257 true) to QSK (124 true) is left 133, from XOLD (359 true) right 125, by the geodesics' own courses.
    assert right[0]["turn_deg"] == pytest.approx(124.06 - 256.71, abs=0.02)
    assert left[0]["turn_deg"] == pytest.approx(124.06 + 360.0 - 359.09, abs=0.02)
    assert "at QHB the course turns left 133" in sheet(changed("route XHAR QHB QSK", without=("airway V801",)))
    assert "at QHB the course turns right 125" in sheet(changed("route XOLD QHB QSK", without=("airway V801",)))


def test_an_unavailable_station_guides_nothing_and_stays_a_point() -> None:
    found = flight(changed("unavailable QHB"))
    assert held(found["legs"]) == ["-", "-", "QEL TO", "QEL FROM"]
    assert [leg["to"]["ident"] for leg in found["legs"] if leg["to"]["ident"]] == ["QHB", "QEL", "XOLD"]
    # V801 states its changeover point 11 NM from QHB: up to there QEL is not published to guide.
    assert found["legs"][1]["distance_nm"] == pytest.approx(11.0)
    assert found["status"] == "error"
    assert flight(changed(), "--unavailable", "QHB")["legs"] == found["legs"]


def test_a_fix_of_an_unavailable_station_keeps_its_place_with_an_error() -> None:
    text = changed("fix FULMA QSK 300 20nm", "route XHAR QHB FULMA")
    here, out = flight(text), flight(text + "unavailable QSK\n")
    assert out["legs"][-1]["to"] == here["legs"][-1]["to"]
    assert here["status"] != "error"
    assert out["status"] == "error"
    assert "station-out" in rules_of(out) - rules_of(here)


def test_two_receivers_need_not_be_set_back() -> None:
    text = changed(FULMA, BY_FULMA, "route QHB V801 QEL")
    one, two = sheet(text + "equipment vor 1\n"), sheet(text + "equipment vor 2\n")
    assert "then tune QHB 113.70 --.- .... -..., set 212 FROM" in " ".join(one.split())
    assert "then tune" not in two
    assert "FULMA: QSK 112.40" in one
    assert "FULMA: QSK 112.40" in two


def test_a_dme_tells_a_fix_by_its_slant_distance() -> None:
    """10.7 NM over the ground at 3,000 ft, 2,180 ft above QHB: the square root of 10.7 squared and 0.359 squared."""
    text = changed(FULMA, BY_FULMA, "route QHB V801 QEL", "equipment vor 1 dme 1", "altitude 9000")
    by = legs(text)[0]["identified_by"]
    height_nm = (9000 - 820) * 0.3048 / 1852
    ground_nm = 10.7
    assert by["ident"] == "QHB"
    assert by["radial_deg"] is None
    assert by["dme_nm"] == pytest.approx((ground_nm**2 + height_nm**2) ** 0.5, abs=0.05)


def test_a_radial_distance_fix_does_not_move_with_height() -> None:
    text = changed("fix FULMA QHB 160 12nm", "route QHB FULMA")
    low, high = legs(text)[-1]["to"], legs(text, "--altitude", "9000")[-1]["to"]
    assert low == high


def test_near_the_pole_courses_and_distances_hold() -> None:
    """From 89.5N over the pole to 89.5N on the other side: 60.3 NM, true course 360, then 180."""
    text = (
        "station QAA 113.70 N89 30.00 W039 00.00 decl true\nstation QAB 110.20 N89 30.00 E141 00.00 decl true\n"
        "variation 30W\ndate 2026-07-18\naltitude 3000\ntas 110kt\nwind calm\nroute QAA QAB\n"
    )
    found = flight(text)
    # The meridian's radius of curvature at the pole is a squared over b, 6,399,593.6 m: one degree is 60.3 NM.
    assert found["totals"]["distance_nm"] == pytest.approx(60.31, abs=0.01)
    assert apart_deg(found["legs"][0]["guidance"]["set_course_deg"], 0.0) < 1e-6
    assert apart_deg(found["legs"][1]["guidance"]["set_course_deg"], 180.0) < 1e-6


def test_at_the_pole_itself_there_are_numbers_and_a_warning_of_the_compass() -> None:
    text = "fix NORTH N90 00.00 W000 00.00\nfix FULMA N89 00.00 W039 00.00\ndate 2026-07-18\naltitude 3000\ntas 110kt\n"
    found = flight(text + "wind calm\nroute FULMA NORTH\n")
    assert found["totals"]["distance_nm"] == pytest.approx(60.31, abs=0.01)
    assert found["status"] == "error"
    assert "compass-zone" in rules_of(found)
