"""Fuel figures worked by hand: endurance, what must be left after a fuelling, the account as printed.

The aeroplane flies 120 kt in calm air. At 8 gal/h it burns a gallon in 15 NM, and 30 minutes of reserve are 4 gal.
"""

from __future__ import annotations

import pytest
from helpers.flown import Json
from helpers.folder import Folder

from navlog.flightlog.counted import since_fuelling
from navlog.flightlog.records import Log
from navlog.printed.fuel import least_left
from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.resolve.lookup import NoCatalogue
from navlog.rules.answers import answers

COMMON = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "airport XDD N46 00.00 W039 00.00 elev 0ft\nairport XEE N46 30.00 W039 00.00 elev 0ft\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\naltitude 3500\ntas 120kt\nrules vfr day\n"
)
BURN = "burn 8gph\n"
THROUGH = COMMON + BURN + "direct QAA 090 - 270 QBB 60nm\ndirect QBB 090 - 270 QCC 60nm\nroute QAA QBB QCC\n"
REFUELLED = (
    COMMON
    + BURN
    + (
        "direct QAA 090 - 270 QBB 60nm\ndirect QBB 180 - XDD 60nm\n"
        "direct XDD - 180 QCC 60nm\ndirect QCC 180 - XEE 15nm\n"
        "fuel 30gal\nroute QAA QBB XDD land 30min fuel 20gal QCC XEE\n"
    )
)
DIVERTED = THROUGH + "direct QBB 180 - XDD 150nm\ndirect QCC 180 - XEE 15nm\nalternate QBB via XDD\nalternate XEE\n"


def log_of(text: str) -> Log:
    """The log of the only flight of a route file."""
    (answer,) = answers(read_flights(text, "flight.route"), NoCatalogue(), References({}))
    assert answer.report is not None, answer.problems
    return answer.report.log


def least(found: Json) -> dict[str, float]:
    """The fuel that must be left at each named point."""
    return {leg["to"]["ident"]: leg["fuel_least_gal"] for leg in found["legs"] if leg["to"]["ident"] is not None}


@pytest.mark.parametrize(
    ("board", "minutes"),
    [
        # 120 NM are 60 min and 8 gal; of 29 gal after taxi 21 are left, at 8 gal/h 157.5 min.
        ("fuel 30gal\ntaxi 1gal\n", 60 + 157.5),
        ("fuel 12gal\n", 60 + 30),
        # Just enough for the way: the tanks are dry at the landing.
        ("fuel 8gal\n", 60),
        # Not enough: where they run dry is an error of its own.
        ("fuel 7gal\n", None),
        ("", None),
    ],
)
def test_endurance_is_the_flight_and_what_it_leaves_at_the_cruise_burn(
    folder: Folder, board: str, minutes: float | None
) -> None:
    found = folder.fly(THROUGH + board)["fuel"]["endurance_min"]
    assert found == (None if minutes is None else pytest.approx(minutes))


@pytest.mark.parametrize("gone", ["wind calm\n", BURN])
def test_endurance_is_not_known_without_times_or_a_burn(folder: Folder, gone: str) -> None:
    assert folder.fly((THROUGH + "fuel 30gal\n").replace(gone, ""))["fuel"]["endurance_min"] is None


def test_after_a_fuelling_everything_counts_from_the_take_off_there(folder: Folder) -> None:
    # 60 NM and 15 NM: 37.5 min and 5 gal of 20; 15 gal are 112.5 min.
    fuel = folder.fly(REFUELLED + "contingency 10%\nextra 1gal\n")["fuel"]
    assert fuel["endurance_min"] == pytest.approx(37.5 + 112.5)
    assert (fuel["on_board_gal"], fuel["used_gal"], fuel["remaining_gal"]) == pytest.approx((20, 5, 15))
    assert (fuel["contingency_gal"], fuel["required_gal"]) == pytest.approx((0.5, 5 + 0.5 + 4 + 1))
    assert (fuel["margin_gal"], fuel["margin_min"]) == pytest.approx((20 - 10.5, 9.5 / 8 * 60))


def test_each_filling_keeps_the_contingency_of_its_own_fuel(folder: Folder) -> None:
    # First filling: 4 gal to QBB and 4 to XDD, 10 % are 0.8. Second: 4 gal to QCC and 1 to XEE, 0.5.
    found = least(folder.fly(REFUELLED + "contingency 10%\nextra 1gal\n"))
    kept, kept_then = 4 + 1 + 0.8, 4 + 1 + 0.5
    assert found == pytest.approx({"QBB": 4 + kept, "XDD": kept, "QCC": 1 + kept_then, "XEE": kept_then})


def test_the_alternate_is_kept_on_the_last_filling_alone(folder: Folder) -> None:
    # XEE to XDD 30 NM: 2 gal.
    found = least(folder.fly(REFUELLED + "direct XEE - XDD 30nm\nalternate XDD\n"))
    assert found == pytest.approx({"QBB": 4 + 4, "XDD": 4, "QCC": 1 + 4 + 2, "XEE": 4 + 2})


def test_a_diversion_on_the_last_filling_counts_what_is_used_since_the_fuelling(folder: Folder) -> None:
    # After XDD 4 gal to QCC; from there 150 NM, 10 gal; 10 % of 4 are 0.4. To XEE it would be 5 + 0.5 + 4 gal.
    more = "airport XFF N46 00.00 W039 00.00 elev 0ft\ndirect QCC 090 - XFF 150nm\nalternate QCC via XFF\n"
    found = folder.fly(REFUELLED + more + "contingency 10%\n")
    assert found["fuel"]["required_gal"] == pytest.approx(4 + 10 + 0.4 + 4)
    assert found["fuel"]["diversion"]["used_gal"] == pytest.approx(4)
    # Before the fuelling it counts for nothing: 10 % of 8 gal are 0.8.
    expected = {"QBB": 4 + 0.8 + 4, "XDD": 0.8 + 4, "QCC": 10 + 0.4 + 4, "XEE": 0.5 + 4}
    assert least(found) == pytest.approx(expected)


def test_a_diversion_that_takes_just_as_much_as_the_destination_changes_nothing(folder: Folder) -> None:
    # To QBB 4 gal and 75 NM, 5 gal; to QCC 8 gal and 15 NM, 1 gal.
    fuel = folder.fly(DIVERTED.replace("XDD 150nm", "XDD 75nm") + "fuel 30gal\n")["fuel"]
    assert fuel["diversion"] is None
    assert fuel["required_gal"] == pytest.approx(13)


def test_a_diversion_of_which_the_fuel_is_not_known_leaves_what_is_required_unknown(folder: Folder) -> None:
    # From QBB no course leads to XDD, so no time and no fuel; the 12 gal of the way to QCC may be too little.
    fuel = folder.fly(DIVERTED.replace("QBB 180 - XDD", "QBB - XDD") + "fuel 30gal\n")["fuel"]
    assert (fuel["used_gal"], fuel["required_gal"], fuel["margin_gal"]) == (pytest.approx(8), None, None)


def test_the_way_to_an_alternate_has_an_account_from_where_it_begins(folder: Folder) -> None:
    # At QBB 30 - 4 = 26 gal. 150 NM are 75 min and 10 gal, then 16 gal, 120 min. Contingency 10 % of the 4 gal.
    to_xdd, to_xee = (
        one["fuel"] for one in folder.fly(DIVERTED + "fuel 30gal\ncontingency 10%\nextra 1gal\n")["alternates"]
    )
    assert (to_xdd["on_board_gal"], to_xdd["used_gal"], to_xdd["remaining_gal"]) == pytest.approx((26, 10, 16))
    assert to_xdd["required_gal"] == pytest.approx(10 + 0.4 + 4 + 1)
    assert (to_xdd["contingency_gal"], to_xee["contingency_gal"]) == (pytest.approx(0.4), pytest.approx(0.8))
    assert (to_xdd["margin_gal"], to_xdd["margin_min"]) == pytest.approx((26 - 15.4, 10.6 / 8 * 60))
    assert to_xdd["endurance_min"] == pytest.approx(75 + 120)
    # At QCC 22 gal and 10 % of 8; 15 NM are 7.5 min and 1 gal, then 21 gal, 157.5 min.
    assert (to_xee["on_board_gal"], to_xee["alternate_gal"]) == (pytest.approx(22), 0)
    assert to_xee["required_gal"] == pytest.approx(1 + 0.8 + 4 + 1)
    assert (to_xee["margin_gal"], to_xee["margin_min"]) == pytest.approx((22 - 6.8, 15.2 / 8 * 60))
    assert to_xee["endurance_min"] == pytest.approx(7.5 + 157.5)


def test_the_way_to_an_alternate_has_no_diversion_of_its_own(folder: Folder) -> None:
    # The 150 NM from QBB to XDD bind the flight: 4 + 10 + 4, where QCC and XEE take 8 + 1 + 4.
    found = folder.fly(DIVERTED + "fuel 30gal\n")
    assert found["fuel"]["diversion"]["airport"] == "XDD"
    assert [one["fuel"]["diversion"] for one in found["alternates"]] == [None, None]


def test_the_way_to_an_alternate_without_fuel_on_board_has_what_it_takes(folder: Folder) -> None:
    for fuel in (one["fuel"] for one in folder.fly(DIVERTED)["alternates"]):
        assert [fuel[key] for key in ("on_board_gal", "margin_gal", "margin_min", "endurance_min")] == [None] * 4
        assert fuel["required_gal"] == pytest.approx(fuel["used_gal"] + 4)


@pytest.mark.parametrize(("stated", "magnetic_deg"), [("7W", 97), ("0E", 90), ("10E", 80)])
def test_a_stated_variation_is_taken_off_every_true_course(folder: Folder, stated: str, magnetic_deg: float) -> None:
    # The radials are true, the declination being 0: the track is 090 true, magnetic is true less east variation.
    for leg in folder.fly(THROUGH.replace("variation 0E", f"variation {stated}"))["legs"]:
        assert leg["true_course_deg"] == pytest.approx(90)
        assert leg["magnetic_course_deg"] == leg["magnetic_heading_deg"] == pytest.approx(magnetic_deg)
        assert leg["variation_deg"] == pytest.approx(90 - magnetic_deg)


def test_a_destination_that_is_passed_before_still_has_its_alternate(folder: Folder) -> None:
    # QBB is passed and landed at: 180 NM, 12 gal, and from there 15 NM, 1 gal.
    back = THROUGH.replace("route QAA QBB QCC", "route QAA QBB QCC QBB")
    found = folder.fly(back + "direct QBB 180 - XEE 15nm\nalternate XEE\n")["fuel"]
    assert found["alternate_gal"] == pytest.approx(1)
    assert found["required_gal"] == pytest.approx(12 + 1 + 4)


def test_a_diversion_over_other_points_is_named_by_where_it_ends(folder: Folder) -> None:
    # 4 gal to QBB, then 60 NM back to QAA and 90 NM on: 10 gal.
    ways = "direct QAA 180 - XDD 90nm\nalternate QBB via QAA XDD\n"
    found = folder.fly(THROUGH + ways)["fuel"]
    assert (found["diversion"]["from"], found["diversion"]["airport"]) == ("QBB", "XDD")
    assert found["required_gal"] == pytest.approx(4 + 10 + 4)
    assert "alternate XDD from there 10.0" in " ".join(folder.run(THROUGH + ways).out.split())


AIRCRAFT = """name = "Worked"
usable_fuel_gal = 40
[climb]
cas_kt = 90
rate_ft_per_min = 500
burn_gal_per_h = 12
[cruise]
tas_kt = 120
burn_gal_per_h = 8
[descent]
cas_kt = 120
rate_ft_per_min = 500
burn_gal_per_h = 6
"""


@pytest.mark.parametrize("length_nm", [60, 12])
def test_the_reserve_burns_what_the_cruise_does(folder: Folder, length_nm: int) -> None:
    # 14 CFR 91.151: at normal cruise, 8 gal/h, whatever the last leg burns. 12 NM are too short to reach 8,500 ft.
    folder.put("worked.toml", AIRCRAFT)
    text = COMMON.replace("tas 120kt\n", "aircraft worked.toml\n").replace("altitude 3500", "altitude 8500")
    found = folder.fly(text + f"direct XDD - 270 QBB {length_nm}nm\nroute XDD QBB\nfuel 30gal\n")
    assert found["fuel"]["reserve_gal"] == pytest.approx(4)
    assert {leg["phase"] for leg in found["legs"]} >= {"climb"}


BY_HEIGHT = """name = "Thirsty high up"
[climb]
tas_kt = 90
rate_ft_per_min = 600
burn_gal_per_h = 12
[[cruise.rows]]
pressure_altitude_ft = 0
tas_kt = 120
burn_gal_per_h = 8
[[cruise.rows]]
pressure_altitude_ft = 8000
tas_kt = 120
burn_gal_per_h = 16
[descent]
tas_kt = 120
rate_ft_per_min = 500
burn_gal_per_h = 6
"""
"""At 4,000 ft the cruise burns 12 gal/h, at 2,000 ft 10 gal/h."""


@pytest.mark.parametrize(
    ("flown", "reserve_gal"),
    [
        # The first cruise is at 4,000 ft, the last at 2,000, where it burns 10 gal/h: 45 min.
        ("direct QAA 090 - 270 QBB 60nm\ndirect QBB 090 - 270 QCC 60nm\naltitude 4000\nroute QAA QBB/A020 QCC\n", 7.5),
        # No cruise: 1,000 ft are 2.5 NM of climb and 4 of descent, so 30 NM lead as high as 30 / 6.5 thousand feet. The
        # reserve is flown as high as the flight has been, not at the field.
        ("direct XDD - XEE 30nm\naltitude 8000\nroute XDD XEE\n", 0.75 * (8 + 30 / 6.5)),
    ],
)
def test_the_reserve_burns_what_the_last_cruise_does_else_a_cruise_at_the_top(
    folder: Folder, flown: str, reserve_gal: float
) -> None:
    folder.put("high.toml", BY_HEIGHT)
    text = (
        COMMON.replace("tas 120kt\n", "aircraft high.toml\n").replace("vfr day", "ifr").replace("altitude 3500\n", "")
    )
    assert folder.fly(text + flown)["fuel"]["reserve_gal"] == pytest.approx(reserve_gal)


def test_a_diversion_from_a_point_passed_twice_binds_up_to_the_last_passage(folder: Folder) -> None:
    # 4 gal a stretch; at the second passage of QBB 12 are used, and 150 NM to XDD are 10: 26 with the reserve, where
    # the way to QAA takes 16 and 4.
    back = DIVERTED.replace("route QAA QBB QCC", "route QAA QBB QCC QBB QAA").replace("alternate XEE\n", "")
    found = folder.fly(back)
    assert found["fuel"]["required_gal"] == pytest.approx(12 + 10 + 4)
    named = [leg["fuel_least_gal"] for leg in found["legs"] if leg["to"]["ident"] is not None]
    assert named == pytest.approx([8 + 14, 4 + 14, 14, 4])


def test_without_fuel_on_board_there_is_no_margin_and_no_endurance(folder: Folder) -> None:
    sheet = " ".join(folder.run(THROUGH).out.split())
    assert "required 12.0 = trip 8.0 + contingency 0.0 + reserve 4.0 + extra 0.0" in sheet
    assert "on board ?" in sheet
    assert "endurance" not in sheet


# At 8.5 gal/h 10 NM take 5 min and 0.7083 gal, so the four legs use 0.7083, 1.4167, 2.125 and 2.8333 gal.
ROUNDED = COMMON + (
    "burn 8.5gph\ndirect QAA 090 - 270 QBB 20nm\ndirect QBB 090 - 270 QCC 20nm\nroute QAA QBB QCC\n"
    "fuel 30gal\ntaxi 1.05gal\ncontingency 10%\nextra 0.5gal\n"
)


def test_the_account_adds_as_printed_each_part_rounded_against_the_flight(folder: Folder) -> None:
    # On board 28.95, down. Trip 2.8333, contingency 0.2833, reserve 4.25, each up; 28.9 - 8.0 = 20.9, 147.5 min.
    # Endurance by the exact amounts: 20 min and (28.95 - 2.8333) / 8.5 h = 184.4 min.
    sheet = " ".join(folder.run(ROUNDED).out.split())
    assert "on board 28.9 after taxi 1.1, left at landing" in sheet
    assert "required 8.0 = trip 2.9 + contingency (10%) 0.3 + reserve 4.3 + extra 0.5" in sheet
    assert "margin 20.9 gal, 147 min" in sheet
    assert "endurance 3:24 to dry tanks" in sheet


def test_the_least_fuel_adds_as_printed() -> None:
    # Used so far in tenths, up: 8, 15, 22, 29; kept at the end 43 + 5 + 3 = 51.
    log = log_of(ROUNDED)
    assert since_fuelling(log.legs, 0.1) == ((8, 8), (7, 15), (7, 22), (7, 29))
    assert least_left(log) == (29 - 8 + 51, 29 - 15 + 51, 29 - 22 + 51, 51)


def test_the_fuel_column_begins_anew_after_a_fuelling() -> None:
    # 30 NM to each changeover point and 30 on, 60 to XDD; then 60 to QCC and 15 to XEE: 2, 2, 4 and 4, 1 gal.
    log = log_of(REFUELLED)
    assert [since for _, since in since_fuelling(log.legs, 0.1)] == [20, 40, 80, 40, 50]
    assert [used for used, _ in since_fuelling(log.legs, 0.1)] == [20, 20, 40, 40, 10]
    assert least_left(log) == (80 - 20 + 40, 80 - 40 + 40, 40, 50 - 40 + 40, 40)


def test_the_printed_account_of_a_diversion_has_the_contingency_of_its_own_way(folder: Folder) -> None:
    # 10 % of the 4 gal to QBB; of the 8 to QCC it would be 0.8.
    sheet = " ".join(folder.run(DIVERTED + "fuel 30gal\ncontingency 10%\n").out.split())
    parts = "trip to QBB 4.0 + alternate XDD from there 10.0 + contingency (10%) 0.4 + reserve 4.0 + extra 0.0"
    assert f"required 18.4 = {parts}" in sheet


def test_an_alternate_of_unknown_fuel_stands_in_the_account_as_unknown(folder: Folder) -> None:
    sheet = " ".join(folder.run(THROUGH + "direct QCC - XEE 15nm\nalternate XEE\n").out.split())
    assert "required ? = trip 8.0 + alternate ? + contingency 0.0 + reserve 4.0 + extra 0.0" in sheet


def test_each_filling_of_the_tanks_has_its_account(folder: Folder) -> None:
    # 120 NM at 15 NM a gallon are 8 gal, and 4 of reserve: 30 leave a margin of 18, at 8 gal/h 135 min.
    sheet = " ".join(folder.run(REFUELLED).out.split())
    assert "FUEL in gal: on board 20.0 at XDD after taxi, left at landing 15.0" in sheet
    before = "before that, QAA to XDD: on board 30.0 with no taxi fuel given, left at landing 22.0; required 12.0 ="
    assert f"{before} trip 8.0 + contingency 0.0 + reserve 4.0 + extra 0.0; margin 18.0 gal, 135 min" in sheet
    (earlier,) = folder.fly(REFUELLED + "contingency 10%\nextra 1gal\n")["fuel"]["earlier"]
    assert earlier == {
        "from": "QAA", "to": "XDD", "on_board_gal": 30.0, "required_gal": pytest.approx(13.8),
        "used_gal": pytest.approx(8.0), "contingency_gal": pytest.approx(0.8), "remaining_gal": pytest.approx(22.0),
        "margin_gal": pytest.approx(16.2), "margin_min": pytest.approx(121.5),
            "reserve_gal": pytest.approx(4.0), "reserve_min": 30,
            "reserve_rule": "14 CFR 91.151, day as stated by `rules vfr day`",
    }  # fmt: skip


def test_an_earlier_filling_counts_with_its_own_diversion(folder: Folder) -> None:
    # From QBB 90 NM to XFF are 6 gal: 4 + 6 + 4 are more than the 12 of the way to XDD. The 20 gal taken there do not
    # bring the flight back to QBB: 5 + 4.
    field = "airport XFF N47 00.00 W039 00.00 elev 0ft\ndirect QBB 360 - XFF 90nm\nalternate QBB via XFF\n"
    found = folder.fly(REFUELLED + field)["fuel"]
    assert found["earlier"][0]["required_gal"] == pytest.approx(14)
    assert found["required_gal"] == pytest.approx(9)


UNFLYABLE = (
    "station QAA 113.00 N46 00.00 W040 00.00 decl 0E\nstation QBB 114.00 N46 00.00 W038 30.00 decl 0E\n"
    "station QCC 115.00 N46 00.00 W037 00.00 decl 0E\nwind at QAA 180/200\nwind at QBB calm\nwind at QCC calm\n"
    "date 2026-07-18\noff 15:00Z\naltitude 3500\ntas 120kt\nrules vfr day\nburn 8gph\nfuel 30gal\nroute QAA QBB QCC\n"
)
"""The first leg cannot be flown, so that its burn is not known."""


def test_after_a_burn_that_is_not_known_the_least_is_that_of_what_is_ahead(folder: Folder) -> None:
    found = folder.fly(UNFLYABLE)
    assert found["legs"][0]["fuel_used_gal"] is None
    ahead = sum(leg["fuel_used_gal"] for leg in found["legs"][2:])
    assert least(found) == {"QBB": pytest.approx(ahead + 4), "QCC": pytest.approx(4)}
    # The legs ahead burn 2.12, 2.09 and 2.09 gal (31.4 NM at 15 NM a gallon, the wind ebbing): 6.31, 4.19 and 2.09 in
    # tenths, rounded up.
    assert least_left(log_of(UNFLYABLE)) == (64 + 40, 42 + 40, 21 + 40, 40)


def test_a_share_of_a_trip_that_is_not_known_makes_the_least_unknown(folder: Folder) -> None:
    found = folder.fly(UNFLYABLE + "contingency 5%\n")
    assert least(found) == {"QBB": None, "QCC": None}


def test_the_printed_account_after_a_fuelling(folder: Folder) -> None:
    sheet = " ".join(folder.run(REFUELLED + "direct XEE - XDD 30nm\nalternate XDD\n").out.split())
    assert "on board 20.0 at XDD after taxi" in sheet
    assert "required 11.0 = trip 5.0 + alternate 2.0 + contingency 0.0 + reserve 4.0 + extra 0.0" in sheet
    assert "margin 9.0 gal, 67 min" in sheet  # 67.5
