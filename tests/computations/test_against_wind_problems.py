"""Published flight-computer problems, flown as route files: what the JSON and the printed sheet say.

The course of a problem is a stated or charted one, so the stations have no positions. Published answers are
whole degrees, knots and minutes; where one was worked to decimals outside the project, that is told.
"""

from __future__ import annotations

import pytest
from helpers.flown import Json, flight, flights, legs, navlog, rules_of, sheet
from helpers.printed import printed_logs

WHOLE = 0.5
TENTH = 0.05

NORTH = "station QAA 113.70 decl 0E\nstation QAB 110.20 decl 0E\n"


def straight(course_deg: float, distance_nm: float, *statements: str, stations: str = NORTH) -> str:
    """A flight along one radial of QAA to QAB, with no bend and the first station in use all the way."""
    back_deg = (course_deg + 180.0) % 360.0 or 360.0
    return (
        f"{stations}airway V899 QAA {course_deg:03g} - {back_deg:03g} QAB {distance_nm}nm cop {distance_nm} QAA\n"
        "date 2026-07-18\naltitude 3500\nroute QAA V899 QAB\n" + "\n".join(statements) + "\n"
    )


def one_leg(text: str) -> Json:
    (leg,) = legs(text)
    return leg


def test_phak_dead_reckoning() -> None:
    """PHAK chapter 15: TC 090, wind 045 at 40, TAS 120 gives GS 88; 220 NM take 2.5 h and 20 gal at 8 gal/h.

    The heading 076, the time and the fuel are from memory of the same page, consistent with the arithmetic.
    """
    leg = one_leg(straight(90, 220, "tas 120kt", "wind 045/40", "burn 8gph"))
    assert leg["groundspeed_kt"] == pytest.approx(88, abs=WHOLE)
    assert leg["groundspeed_kt"] == pytest.approx(88.33, abs=0.005)
    assert leg["true_heading_deg"] == pytest.approx(76, abs=WHOLE)
    assert leg["time_min"] == pytest.approx(150, abs=1)
    assert leg["fuel_used_gal"] == pytest.approx(20, abs=0.1)


def test_phak_chickasha_to_guthrie() -> None:
    """B1: TC 031, wind 360/10, TAS 115, variation 7E, 8 gal/h, legs of 11, 10, 10.5, 13 and 8.5 NM.

    Inputs published, answers from memory of the page: WCA 3L, TH 028, MH 021, GS 106, 30 min, 4 gal.
    """
    parts = (11, 10, 10.5, 13, 8.5)
    names = [f"Q{letter}A" for letter in "ABCDEF"]
    chain = "".join(f"station {name} 113.{index}0 decl 0E\n" for index, name in enumerate(names))
    for start, end, length in zip(names, names[1:], parts, strict=False):
        chain += f"direct {start} 031 - 211 {end} {length}nm cop {length} {start}\n"
    found = flight(
        f"{chain}date 2026-07-18\naltitude 3500\nroute {' '.join(names)}\n"
        "tas 115kt\nburn 8gph\nwind 360/10\nvariation 7E\nfuel 38gal\n"
    )
    assert len(found["legs"]) == 5
    for leg in found["legs"]:
        assert leg["wind_correction_deg"] == pytest.approx(-2.57, abs=0.005)
        assert leg["true_heading_deg"] == pytest.approx(28, abs=WHOLE)
        assert leg["magnetic_heading_deg"] == pytest.approx(21, abs=WHOLE)
        assert leg["groundspeed_kt"] == pytest.approx(106.3, abs=TENTH)
    assert found["totals"]["distance_nm"] == 53
    assert found["totals"]["time_min"] == pytest.approx(29.9, abs=TENTH)
    assert found["totals"]["fuel_gal"] == pytest.approx(4.0, abs=TENTH)


def test_fuel_by_the_pound() -> None:
    """B2, FAA commercial: wind 175/20, 135 NM, TC 075, TAS 80, 105 lb/h gives 1:40 and 175 lb."""
    text = straight(75, 135, "tas 80kt", "wind 175/20", "burn 105lb/h", "fuel 400lb", "off 12:00Z")
    leg = one_leg(text)
    assert leg["groundspeed_kt"] == pytest.approx(81.0, abs=TENTH)
    assert leg["time_min"] == pytest.approx(99.99, abs=0.005)
    assert leg["fuel_used_gal"] is None
    (printed,) = printed_logs(sheet(text))
    assert (printed.total["time"], printed.total["fuel"], printed.total["landing"]) == ("1:40", "175 lb", "13:40Z")


def test_a_descents_wind_leg() -> None:
    """B3, FAA commercial: TC 335, wind 060/15, TAS 110, variation 3W; 10 min are 18 NM and 1.4 gal at 8.5 gal/h.

    Published compass heading 348 with a deviation of +2, so 345.8 magnetic; exact 17.95 NM and 1.417 gal.
    """
    leg = one_leg(straight(335, 17.95, "tas 110kt", "wind 060/15", "burn 8.5gph", "variation 3W"))
    assert leg["time_min"] == pytest.approx(10.0, abs=0.005)
    assert leg["magnetic_heading_deg"] == pytest.approx(347.8 - 2.0, abs=TENTH)
    assert leg["fuel_used_gal"] == pytest.approx(1.417, abs=0.0005)


def test_a_course_off_the_vor_is_magnetic_and_the_wind_true() -> None:
    """B8, FAA instrument: radial 151, variation 14E, wind 230T/08, TAS 175, 75 NM, 17.5 gal/h.

    Published: 20 gal with 24:00 before and 18:30 after; exact TC 165, WCA 2.4R, GS 171.5, 26.2 min, 20.05 gal.
    """
    stations = "station QAA 113.70 decl 14E\nstation QAB 110.20 decl 14E\n"
    leg = one_leg(straight(151, 75, "tas 175kt", "wind 230/8", "burn 17.5gph", stations=stations))
    assert leg["true_course_deg"] == pytest.approx(165)
    assert leg["wind_correction_deg"] == pytest.approx(2.4, abs=TENTH)
    assert leg["groundspeed_kt"] == pytest.approx(171.5, abs=TENTH)
    assert leg["time_min"] == pytest.approx(26.2, abs=TENTH)
    assert (24.0 + leg["time_min"] + 18.5) / 60.0 * 17.5 == pytest.approx(20.05, abs=0.005)


def test_magnetic_course_with_a_true_wind() -> None:
    """EASA question bank, as reproduced: course 045 M, variation 15E, W/V 190/30, TAS 130: HDG 055 M, GS 147."""
    stations = "station QAA 113.70 decl 15E\nstation QAB 110.20 decl 15E\n"
    leg = one_leg(straight(45, 50, "tas 130kt", "wind 190/30", stations=stations))
    assert leg["magnetic_heading_deg"] == pytest.approx(55, abs=WHOLE)
    assert leg["groundspeed_kt"] == pytest.approx(147, abs=WHOLE)


def test_winds_between_heights_are_mixed_as_vectors() -> None:
    """A46: 350/20 at 3,000 and 010/30 at 6,000 make 002/25 half way, never 180/25.

    East (20 sin 350 + 30 sin 010)/2 = 0.8682, north (20 cos 350 + 30 cos 010)/2 = 24.6202: 002.02/24.64.
    """
    leg = one_leg(
        straight(90, 30, "tas 100kt", "wind 3000 350/20 6000 010/30", "altitude 4500").replace("altitude 3500\n", "")
    )
    assert leg["wind"]["from_true_deg"] == pytest.approx(2.02, abs=0.005)
    assert leg["wind"]["speed_kt"] == pytest.approx(24.64, abs=0.005)


@pytest.mark.parametrize(
    ("course_deg", "wind"),
    [
        pytest.param(360, "090/90", id="A47 crosswind above the airspeed"),
        pytest.param(360, "360/100", id="A48 headwind above the airspeed"),
        pytest.param(360, "045/100", id="A48 a heading exists and leads backwards"),
        pytest.param(360, "090/80.001", id="just no heading"),
        pytest.param(360, "360/80", id="standing still"),
        pytest.param(90, "001/80", id="standing still but for rounding"),
    ],
)
def test_what_cannot_be_flown_has_no_numbers(course_deg: int, wind: str) -> None:
    text = straight(course_deg, 30, "tas 80kt", f"wind {wind}", "burn 8gph", "fuel 30gal", "off 12:00Z")
    (found,) = flights(text)
    (leg,) = found["legs"]
    for key in ("wind_correction_deg", "true_heading_deg", "magnetic_heading_deg", "groundspeed_kt", "time_min", "eta"):
        assert leg[key] is None
        assert key in {one["key"] for one in leg["unknown"]}
    assert found["totals"]["time_min"] is None
    assert found["totals"]["fuel_gal"] is None
    assert found["status"] == "error"
    assert "unflyable-wind" in rules_of(found)
    printed = navlog("log", "-", typed=text)
    assert printed.status == 1
    (log,) = printed_logs(printed.out)
    assert [log.legs[0].cells[key] for key in ("Hdg", "Time", "WCA", "GS")] == ["XXX"] * 4


def test_a_wind_above_the_airspeed_may_be_flown() -> None:
    """A49: TAS 80, wind 135/100, course 360: WCA +62 and GS 108."""
    leg = one_leg(straight(360, 30, "tas 80kt", "wind 135/100"))
    assert leg["wind_correction_deg"] == pytest.approx(62, abs=WHOLE)
    assert leg["groundspeed_kt"] == pytest.approx(108, abs=WHOLE)


def test_a_groundspeed_of_one_knot_keeps_its_columns() -> None:
    """A50: TAS 80, headwind 79: GS 1.0, so 30 NM take 30 h; and 1000 NM no column holds."""
    text = straight(360, 30, "tas 80kt", "wind 360/79", "off 12:00Z")
    assert one_leg(text)["groundspeed_kt"] == pytest.approx(1.0)
    assert one_leg(text)["eta"] == "2026-07-19T18:00:00.000Z"
    (log,) = printed_logs(sheet(text))
    assert log.legs[0].cells["Time"] == "30:00"
    (longer,) = printed_logs(sheet(straight(360, 1000, "tas 80kt", "wind 360/79", "off 12:00Z")))
    assert longer.legs[0].cells["Time"] == ">99h"


@pytest.mark.parametrize("wind", ["calm", "000/0", "360/0", "123/0"])
def test_no_wind_at_all_is_calm(wind: str) -> None:
    """A51: no correction, groundspeed the airspeed itself, whatever the direction."""
    leg = one_leg(straight(77, 30, "tas 100kt", f"wind {wind}"))
    assert (leg["wind_correction_deg"], leg["groundspeed_kt"], leg["true_heading_deg"]) == (0.0, 100.0, 77.0)


def test_out_and_back_costs_more_than_still_air() -> None:
    """A52: 100 NM each way at TAS 100 with 30 kt along track: 85.7 + 46.2 = 131.9 min, not 120."""
    text = straight(360, 100, "tas 100kt", "wind 360/30").replace("route QAA V899 QAB", "route QAA V899 QAB V899 QAA")
    assert flight(text)["totals"]["time_min"] == pytest.approx(131.9, abs=TENTH)
