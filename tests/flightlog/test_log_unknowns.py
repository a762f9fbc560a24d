"""Nothing is assumed: what is not given is unknown, says so, and makes what follows from it unknown too."""

from __future__ import annotations

import pytest
from helpers.flown import changed, codes, flight, legs, navlog, rules_of, sheet
from helpers.printed import printed_logs

TRIANGLE = ("wind_correction_deg", "true_heading_deg", "magnetic_heading_deg", "groundspeed_kt", "time_min", "eta")
FUEL = ("fuel_used_gal", "fuel_remaining_gal")


def reasons(leg: dict[str, object]) -> dict[str, str]:
    unknown = leg["unknown"]
    assert isinstance(unknown, list)
    return {one["key"]: one["reason"] for one in unknown}


def test_without_wind_nothing_of_the_triangle_is_known() -> None:
    text = changed(without=("wind",))
    found = flight(text)
    for leg in found["legs"]:
        assert {key: leg[key] for key in (*TRIANGLE, *FUEL, "wind")} == dict.fromkeys((*TRIANGLE, *FUEL, "wind"))
        assert reasons(leg)["groundspeed_kt"] == "no wind given"
    assert found["totals"] == {"distance_nm": pytest.approx(48.7), "time_min": None, "fuel_gal": None}
    (log,) = printed_logs(sheet(text))
    assert "NO WIND GIVEN" in log.text
    assert {leg.cells[key] for leg in log.legs for key in ("Hdg", "Time", "ETA", "Used", "Left", "GS", "WCA")} == {"?"}


def test_only_wind_calm_means_calm() -> None:
    assert flight(changed("wind calm"))["status"] == "ok"
    assert "no-wind" in rules_of(flight(changed(without=("wind",))))


def test_what_needs_no_wind_is_still_there() -> None:
    with_wind, without = legs(changed()), legs(changed(without=("wind",)))
    for one, other in zip(with_wind, without, strict=True):
        for key in ("guidance", "distance_nm", "true_course_deg", "magnetic_course_deg", "variation_deg", "turn_deg"):
            assert one[key] == other[key]


def test_without_off_there_are_elapsed_times_only() -> None:
    text = changed(without=("off",))
    found = flight(text)
    assert found["off"] is None
    assert [leg["eta"] for leg in found["legs"]] == [None] * 4
    assert found["legs"][-1]["elapsed_min"] == pytest.approx(found["totals"]["time_min"])
    assert reasons(found["legs"][0])["eta"] == "no `off` given"
    (log,) = printed_logs(sheet(text))
    assert "NO OFF TIME GIVEN" in log.text
    assert log.total["landing"] == "?"
    assert log.total["time"] == "0:29"


@pytest.mark.parametrize(("left_out", "used_known"), [("burn", False), ("fuel", True)])
def test_without_burn_or_fuel_the_fuel_left_is_unknown(left_out: str, used_known: bool) -> None:
    found = flight(changed(without=(left_out,)))
    assert "no-fuel" in rules_of(found)
    for leg in found["legs"]:
        assert leg["fuel_remaining_gal"] is None
        assert (leg["fuel_used_gal"] is not None) == used_known
        assert leg["groundspeed_kt"] is not None
    assert found["fuel"]["remaining_gal"] is None


def test_an_unknown_time_makes_everything_after_it_unknown() -> None:
    found = flight(changed("route XHAR QHB V801 QEL/N0010A030 XOLD", "wind 109/40"))
    last = found["legs"][-1]
    assert last["time_min"] is None
    assert [leg["time_min"] is None for leg in found["legs"]] == [False, False, False, True]
    assert [leg["eta"] is None for leg in found["legs"]] == [False, False, False, True]
    assert found["totals"]["time_min"] is None
    assert found["totals"]["distance_nm"] == pytest.approx(48.7)
    assert last["fuel_remaining_gal"] is None


def test_what_comes_after_an_unknown_leg_is_unknown_though_it_can_be_flown_itself() -> None:
    text = changed("route XHAR/N0010A030 QHB/N0110A030 V801 QEL XOLD", "wind 257/40")
    found = flight(text)
    assert [leg["time_min"] is None for leg in found["legs"]] == [True, False, False, False]
    assert [leg["elapsed_min"] for leg in found["legs"]] == [None] * 4
    assert reasons(found["legs"][1])["eta"] == "the time of an earlier leg is not known"
    assert "XXX" in sheet(text)


def test_a_station_without_declination_has_no_computed_radial() -> None:
    """Never the model's variation in its place."""
    text = changed("station QHB 113.70 N46 12.30 W039 20.70 class L", "route XHAR QHB", without=("airway V801",))
    found = flight(text)
    (leg,) = found["legs"]
    assert leg["guidance"]["radial_deg"] is None
    assert leg["guidance"]["set_course_deg"] is None
    assert set(reasons(leg)) == {"guidance.radial_deg", "guidance.set_course_deg"}
    assert "course-unknown" in rules_of(found)
    (log,) = printed_logs(sheet(text))
    assert log.legs[0].cells["Set"].startswith("?")
    assert leg["magnetic_heading_deg"] is not None


def test_a_charted_radial_needs_no_declination() -> None:
    text = changed(
        "station QHB 113.70 N46 12.30 W039 20.70 class L",
        "direct XHAR - 092 QHB 9.6nm min 2500",
        "route XHAR QHB",
        without=("direct QHB",),
    )
    (leg,) = legs(text)
    assert leg["guidance"]["radial_deg"] == 92.0
    assert leg["guidance"]["set_course_deg"] == 272.0
    assert leg["guidance"]["declination_deg"] is None


def test_without_positions_and_variation_headings_go_by_station_north() -> None:
    text = (
        "station QHB 113.70 decl 15W\nstation QEL 110.20 decl 17W\nairway V801 QHB 212 - 034 QEL 29.5nm\n"
        "date 2026-07-18\naltitude 3000\ntas 110kt\nwind calm\nroute QHB V801 QEL\n"
    )
    first, second = legs(text)
    assert (first["variation_deg"], second["variation_deg"]) == (-15.0, -17.0)
    assert first["true_course_deg"] == pytest.approx(197.0)
    (log,) = printed_logs(sheet(text))
    assert [leg.cells["Hdg"] for leg in log.legs] == ["~212", "~214"]
    assert "may differ by up to 8 degrees" in " ".join(log.text.split())


@pytest.mark.parametrize(
    ("statement", "code"),
    [
        ("altitude", "missing-statement"),
        ("date", "missing-statement"),
        ("tas", "missing-statement"),
        ("route", "missing-statement"),
    ],
)
def test_what_no_log_can_do_without_is_a_problem(statement: str, code: str) -> None:
    assert codes(changed(without=(statement,))) == {code}


def test_a_day_outside_every_magnetic_model_needs_a_variation() -> None:
    assert codes(changed("date 2042-07-18"))
    assert flight(changed("date 2042-07-18", "variation 12W"))["magnetic_model"] is None


def test_a_bare_airport_inside_a_route_is_a_problem() -> None:
    assert codes(changed("route XHAR XOLD QHB")) == {"bare-airport"}


def test_fuel_by_mass_is_printed_in_its_unit_and_not_turned_into_gallons() -> None:
    text = changed("fuel 190lb", "burn 50lb/h", "taxi 6lb")
    found = flight(text)
    assert found["totals"]["fuel_gal"] is None
    assert found["fuel"]["on_board_gal"] is None
    assert "density" in reasons(found["legs"][0])["fuel_used_gal"]
    (log,) = printed_logs(sheet(text))
    assert log.fuel["board"] == "184"
    assert log.total["fuel"].endswith(" lb")


def test_volume_and_mass_are_not_mixed() -> None:
    assert codes(changed("fuel 190lb")) == {"mixed-fuel-units"}


def test_what_is_impossible_is_an_error_and_what_is_not_given_a_warning() -> None:
    assert flight(changed("wind 300/200"))["status"] == "error"
    assert flight(changed(without=("wind",)))["status"] == "warning"
    assert navlog("log", "-", typed=changed("wind 300/200")).status == 1
    assert navlog("log", "-", typed=changed(without=("wind",))).status == 0
