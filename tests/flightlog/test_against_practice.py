"""Questions that pilots get wrong, each with its published answer, flown as route files.

The letters and numbers are those of the cases as collected from handbooks, written tests and accident reports;
each case names its source.
"""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from helpers.flown import apart_deg, changed, codes, flight, legs, sheet
from helpers.printed import hours_and_minutes, printed_logs

FLOWN = "date 2026-07-18\naltitude 6000\ntas 110kt\nwind calm\n"


def test_a_radial_inbound_sets_its_reciprocal() -> None:
    """US commercial test item: track the 215 radial inbound: 035 with TO."""
    text = f"station QAA 113.70 decl 0E\nfix FULMA N46 00.00 W039 00.00\ndirect FULMA - 215 QAA 20nm\n{FLOWN}"
    (leg,) = legs(text + "route FULMA QAA\n")
    assert (leg["guidance"]["radial_deg"], leg["guidance"]["set_course_deg"]) == (215.0, 35.0)
    (log,) = printed_logs(sheet(text + "route FULMA QAA\n"))
    assert log.legs[0].cells["Set"] == "035 TO"


def test_needle_and_compass_may_disagree_and_both_be_right() -> None:
    """Declination 10E, variation 8.5E: R-360 is 010.0 true; set 360, nil-wind heading 001.5, so 002 printed.

    The question of askacfi.com 3857; computed 360 + 10 - 8.5.
    """
    text = (
        "station QAA 113.70 decl 10E\nstation QAB 110.20 decl 10E\nvariation 8.5E\n"
        f"airway V899 QAA 360 - 180 QAB 30nm cop 30 QAA\n{FLOWN}route QAA V899 QAB\n"
    )
    (leg,) = legs(text)
    assert leg["true_course_deg"] == pytest.approx(10.0)
    assert leg["guidance"]["set_course_deg"] % 360.0 == pytest.approx(0.0)
    assert leg["magnetic_heading_deg"] == pytest.approx(1.5)
    (log,) = printed_logs(sheet(text))
    assert (log.legs[0].cells["Set"], log.legs[0].cells["Hdg"]) == ("360 FROM", "002")


def test_two_settings_and_a_changeover_on_one_leg() -> None:
    """ASRS 130956: R-109 out of the first VOR, 113 (R-293) into the next; the crew dialled 103."""
    text = f"station QAA 113.70\nstation QAB 110.20\nvariation 0E\nairway V899 QAA 109 - 293 QAB 60nm\n{FLOWN}"
    (log,) = printed_logs(sheet(text + "route QAA V899 QAB\n"))
    assert [leg.cells["Set"] for leg in log.legs] == ["109 FROM", "113 TO"]
    assert any("COP 30.0 NM from QAA" in remark and "set 113 TO" in remark for remark in log.legs[0].remarks)


@pytest.mark.parametrize(
    ("course_deg", "printed"), [(359.6, "360"), (0.4, "360"), (360, "360"), (0.5, "001"), (9, "009")]
)
def test_north_is_360_and_a_course_has_three_digits(course_deg: float, printed: str) -> None:
    """Trade practice; and Varig 254, 1989: 0270 for 027.0 was flown as 270."""
    radial = f"{course_deg:05.1f}" if course_deg % 1 else f"{course_deg:03.0f}"
    text = f"station QAA 113.70 decl 0E\nstation QAB 110.20 decl 0E\n{FLOWN}"
    text += f"airway V899 QAA {radial} - QAB 30nm cop 30 QAA\n"
    (log,) = printed_logs(sheet(text + "route QAA V899 QAB\n"))
    cells = log.legs[0].cells
    assert (cells["Set"], cells["TC"], cells["Hdg"]) == (f"{printed} FROM", printed, f"~{printed}")


def test_a_log_flies_true_airspeed_not_what_the_dial_shows() -> None:
    """The dial's 120 kt are 130 kt of TAS at FL55 (EASA question bank): 50 NM in calm are 23:05, not 25:00."""
    legs_nm = "station QAA 113.70 decl 0E\nstation QAB 110.20 decl 0E\nairway V899 QAA 090 - 270 QAB 50nm\n"
    base = f"{legs_nm}date 2026-07-18\naltitude FL055\naltimeter 1013.25hPa\nwind calm\nroute QAA V899 QAB\n"
    assert flight(base + "tas 130kt\n")["totals"]["time_min"] == pytest.approx(23.077, abs=0.0005)
    assert flight(base + "tas 120kt\n")["totals"]["time_min"] == pytest.approx(25.0)
    assert "TAS 130 kt" in sheet(base + "tas 130kt\n")


def test_seven_legs_of_four_minutes_and_a_half_add_to_thirty_one() -> None:
    """Seven legs of 4.4 min are 30.8: printed each as 4 they would add to 28; the columns add to 31."""
    names = [f"QA{letter}" for letter in "ABCDEFGH"]
    text = "".join(f"station {name} 113.{index}0 decl 0E\n" for index, name in enumerate(names))
    text += "".join(f"direct {a} 090 - 270 {b} 4.4nm cop 4.4 {a}\n" for a, b in pairwise(names))
    text += f"date 2026-07-18\noff 12:00Z\naltitude 3500\ntas 60kt\nwind calm\nroute {' '.join(names)}\n"
    assert [leg["time_min"] for leg in legs(text)] == [pytest.approx(4.4)] * 7
    (log,) = printed_logs(sheet(text))
    shown = [hours_and_minutes(leg.cells["Time"]) for leg in log.legs]
    assert sum(shown) == 31
    assert set(shown) == {4, 5}
    assert (log.total["time"], log.total["landing"]) == ("0:31", "12:31Z")


def test_two_hours_from_central_to_mountain_time() -> None:
    """FAA private: off at 0930 CST, two hours: 1030 MST. The sheet counts in UTC and says so."""
    text = (
        "station QAA 113.70 decl 0E\nstation QAB 110.20 decl 0E\nairway V899 QAA 270 - 090 QAB 240nm\n"
        "date 2026-01-15\noff 09:30 America/Chicago\naltitude 4500\ntas 120kt\nwind calm\nroute QAA V899 QAB\n"
    )
    arrival = datetime.fromisoformat(legs(text)[-1]["eta"].replace("Z", "+00:00"))
    assert f"{arrival:%H:%M}" == "17:30"
    assert f"{arrival.astimezone(ZoneInfo('America/Denver')):%H:%M %Z}" == "10:30 MST"
    (log,) = printed_logs(sheet(text))
    assert log.total["landing"] == "17:30Z"
    assert "off 15:30Z" in log.text


def test_a_loop_over_one_station_is_kept_by_sequence() -> None:
    """Home, station, field, station, home: the same idents twice, and no course from start to destination."""
    found = flight(changed("route XHAR QHB XOLD land QHB XHAR"))
    assert [leg["to"]["ident"] for leg in found["legs"]] == ["QHB", "XOLD", "QHB", "XHAR"]
    assert [leg["number"] for leg in found["legs"]] == [1, 2, 3, 4]
    assert [leg["guidance"]["flag"] for leg in found["legs"]] == ["TO", "FROM", "TO", "FROM"]


@pytest.mark.parametrize(
    "route",
    ["XHAR QHB QHB XOLD", "XHAR XHAR", "XHAR QHB DCT QHB XOLD", "4612N03921W 4612N03921W", "XHAR QHB QHB000000 XOLD"],
)
def test_two_equal_points_in_a_row_are_a_problem(route: str) -> None:
    """A geodesic library answers 180 degrees and 0 NM for them, with no error."""
    assert codes(changed(f"route {route}"))


def test_a_very_short_leg_has_its_seconds() -> None:
    """1.0 NM at 110 kt is 33 s."""
    text = f"station QAA 113.70 decl 0E\nstation QAB 110.20 decl 0E\ndirect QAA 090 - 270 QAB 1nm cop 1 QAA\n{FLOWN}"
    (leg,) = legs(text + "route QAA QAB\n")
    assert leg["time_min"] * 60.0 == pytest.approx(33, abs=0.5)


def test_across_180_degrees_is_no_way_round_the_world() -> None:
    """52N 179.5E to 179.5W: 37.1 NM on 089.6, not 359 degrees of longitude."""
    text = "station QAA 113.70 52.0000 179.5000 decl 0E\nstation QAB 110.20 52.0000 -179.5000 decl 0E\n" + FLOWN
    there, back = flight(text + "route QAA QAB\n"), flight(text + "route QAB QAA\n")
    for found, leaves_deg, middle_deg in ((there, 89.6, 90.0), (back, 270.4, 270.0)):
        assert found["totals"]["distance_nm"] == pytest.approx(37.1, abs=0.05)
        assert found["legs"][0]["guidance"]["radial_deg"] == pytest.approx(leaves_deg, abs=0.05)
        assert apart_deg(found["legs"][0]["true_course_deg"], middle_deg) < 0.2
        for leg in found["legs"]:
            assert -180.0 <= leg["to"]["longitude_deg"] < 180.0
