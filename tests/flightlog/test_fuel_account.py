"""Fuel required against fuel on board: taxi, trip, reserve by rule, contingency, alternates, stops, units.

The aeroplane flies 120 kt and burns 8 gal/h in calm air, so 30 NM take 15 min and 2 gal.
"""

from __future__ import annotations

from datetime import UTC, date, timedelta

import pytest
from astral import Observer
from astral.sun import dusk
from helpers.flown import Json
from helpers.folder import Folder

COMMON = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "direct QAA 090 - 270 QBB 60nm\ndirect QBB 090 - 270 QCC 60nm\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\naltitude 3500\n"
)
STATED = COMMON + "tas 120kt\nburn 8gph\nfuel 30gal\ntaxi 1gal\nroute QAA QBB QCC\n"  # 120 NM, 1 h, 8 gal
POUND_PER_GALLON = 6.0
LITRES_PER_GALLON = 3.785411784


def rules(found: Json) -> set[str]:
    return {finding["rule"] for finding in found["findings"]}


@pytest.mark.parametrize(
    ("flown_by", "minutes", "gallons"),
    [
        ("rules vfr day", 30, 4.0),
        ("rules vfr night", 45, 6.0),
        ("rules ifr", 45, 6.0),
        ("reserve 60min", 60, 8.0),
        ("rules vfr day\nreserve 0min", 30, 4.0),
        ("rules ifr\nreserve 40min", 45, 6.0),
    ],
)
def test_the_reserve_at_8_gallons_an_hour(folder: Folder, flown_by: str, minutes: float, gallons: float) -> None:
    # 14 CFR 91.151: 30 min by day and 45 by night at normal cruise; 91.167: 45 min.
    found = folder.fly(STATED + flown_by + "\n")
    assert found["fuel"]["reserve_min"] == minutes
    assert found["fuel"]["reserve_gal"] == pytest.approx(gallons)


def test_taxi_fuel_is_taken_off_once(folder: Folder) -> None:
    # Practice case A60: it is gone before take-off, so it is not part of what is required in the air.
    fuel = folder.fly(STATED + "rules vfr day\n")["fuel"]
    assert (fuel["on_board_gal"], fuel["taxi_gal"]) == (29.0, 1.0)
    assert fuel["required_gal"] == pytest.approx(8 + 4)
    assert fuel["remaining_gal"] == pytest.approx(29 - 8)
    assert fuel["margin_gal"] == pytest.approx(29 - 12)
    assert fuel["margin_min"] == pytest.approx(17 / 8 * 60)


@pytest.mark.parametrize(
    ("more", "least_gal"),
    [
        # At QBB the 4 gal to QCC are ahead, at QCC none; 30 min of reserve are 4 gal.
        ("rules vfr day\n", [8, 4]),
        ("rules vfr day\ncontingency 10%\nextra 2gal\n", [4 + 4 + 0.8 + 2, 4 + 0.8 + 2]),
        (
            "rules vfr day\nairport XEE N46 00.00 W039 00.00\ndirect QCC 180 - XEE 15nm\nalternate XEE\n",
            [4 + 4 + 1, 4 + 1],
        ),
    ],
)
def test_the_least_fuel_to_go_on_is_what_is_burnt_ahead_and_kept_at_the_end(
    folder: Folder, more: str, least_gal: list[float]
) -> None:
    legs = folder.fly(STATED + more)["legs"]
    ends = [leg["fuel_least_gal"] for leg in legs if leg["to"]["kind"] == "station"]
    assert ends == pytest.approx(least_gal)


def test_the_least_fuel_is_unknown_with_its_reason(folder: Folder) -> None:
    reasons = {"burn 8gph\n": "the reserve is not known", "wind calm\n": "the fuel needed ahead is not known"}
    for gone, reason in reasons.items():
        *legs, last = folder.fly((STATED + "rules vfr day\n").replace(gone, ""))["legs"]
        # At the landing nothing is ahead, and what is kept does not hang on the wind: 30 min at 8 gal/h.
        assert last["fuel_least_gal"] == (None if gone.startswith("burn") else pytest.approx(4))
        for leg in legs if last["fuel_least_gal"] else (*legs, last):
            assert leg["fuel_least_gal"] is None
            assert {"key": "fuel_least_gal", "reason": reason} in leg["unknown"]


def test_contingency_is_a_share_of_the_trip_and_extra_stands_beside_it(folder: Folder) -> None:
    fuel = folder.fly(STATED + "rules vfr day\ncontingency 10%\nextra 2gal\n")["fuel"]
    assert (fuel["contingency_gal"], fuel["extra_gal"]) == (pytest.approx(0.8), 2.0)
    assert fuel["required_gal"] == pytest.approx(8 + 0.8 + 4 + 2)


def test_fuel_is_known_at_every_point(folder: Folder) -> None:
    legs = folder.fly(STATED)["legs"]
    assert [leg["fuel_remaining_gal"] for leg in legs] == pytest.approx([27, 25, 23, 21])


AIRPORTS = (
    "airport XAA N46 00.00 W039 00.00 elev 0ft\nairport XBB N46 00.00 W038 30.00 elev 0ft\n"
    "airport XCC N46 20.00 W038 30.00 elev 0ft\n"
)


@pytest.mark.parametrize(("after_dusk_min", "minutes"), [(-2, 30), (2, 45)], ids=["light", "dark"])
def test_the_reserve_follows_the_light_at_the_landing(folder: Folder, after_dusk_min: int, minutes: float) -> None:
    # Practice case A59: depart in daylight, land after dark. The end of civil twilight is astral's, 6 degrees.
    ends = dusk(Observer(41.0, -74.0), date(2026, 7, 18), depression=6.0, tzinfo=UTC)
    leaving = ends + timedelta(minutes=after_dusk_min - 30)
    found = folder.fly(
        "airport XAA N41 00.00 W075 19.70 elev 0ft\nairport XBB N41 00.00 W074 00.00 elev 0ft\n"
        f"date {leaving:%Y-%m-%d}\noff {leaving:%H:%M}Z\nwind calm\naltitude 3500\ntas 120.4kt\nburn 8gph\n"
        "fuel 30gal\nroute XAA XBB\n"
    )
    assert found["totals"]["time_min"] == pytest.approx(30.0, abs=0.2)
    assert found["fuel"]["reserve_min"] == minutes
    assert ("night" if minutes == 45 else "day") in found["fuel"]["reserve_rule"]


def test_without_a_clock_the_longer_reserve_holds(folder: Folder) -> None:
    fuel = folder.fly(STATED.replace("off 15:00Z\n", ""))["fuel"]
    assert fuel["reserve_min"] == 45
    assert "not known" in fuel["reserve_rule"]


@pytest.mark.parametrize(
    ("stated", "minutes", "rule"),
    [
        # No reserve that a flight states takes anything off what 14 CFR 91.151 asks by night.
        ("reserve 20min", 45, "14 CFR 91.151 night"),
        ("rules vfr day", 45, "14 CFR 91.151 night"),
        ("reserve 50min", 50, "as stated"),
    ],
)
def test_by_night_the_rules_reserve_is_the_least_one(folder: Folder, stated: str, minutes: float, rule: str) -> None:
    # On 41 N at 74 W the sun sets at 00:25 UTC in July, and twilight ends half an hour later.
    fuel = folder.fly(
        "airport XAA N41 00.00 W075 19.70 elev 0ft\nairport XBB N41 00.00 W074 00.00 elev 0ft\ndate 2026-07-18\n"
        f"off 03:00Z\nwind calm\naltitude 3500\ntas 120.4kt\nburn 8gph\nfuel 30gal\nroute XAA XBB\n{stated}\n"
    )["fuel"]
    assert (fuel["reserve_min"], fuel["reserve_rule"]) == (minutes, rule)
    assert fuel["reserve_gal"] == pytest.approx(minutes * 8.0 / 60.0)


def test_fuel_taken_at_a_stop_begins_a_new_account(folder: Folder) -> None:
    found = folder.fly(
        AIRPORTS + "direct XAA - XBB 21nm\ndirect XBB - XCC 20nm\ndate 2026-07-18\noff 15:00Z\nwind calm\n"
        "altitude 3500\ntas 120kt\nburn 8gph\nfuel 10gal\nrules vfr day\nroute XAA XBB land 30min fuel 12gal XCC\n"
    )
    first, second = (leg["fuel_used_gal"] for leg in found["legs"])
    fuel = found["fuel"]
    assert found["legs"][0]["fuel_remaining_gal"] == pytest.approx(10 - first)
    assert found["legs"][1]["fuel_remaining_gal"] == pytest.approx(12 - second)
    assert (fuel["on_board_gal"], fuel["used_gal"]) == (12.0, pytest.approx(second))
    assert fuel["required_gal"] == pytest.approx(second + 4)
    assert found["totals"]["fuel_gal"] == pytest.approx(first + second)
    # Nothing but the reserve need be left where the tanks are filled.
    assert [leg["fuel_least_gal"] for leg in found["legs"]] == pytest.approx([4, 4])


def test_a_stop_without_fuel_goes_on_with_what_is_left(folder: Folder) -> None:
    found = folder.fly(
        AIRPORTS + "direct XAA - XBB 21nm\ndirect XBB - XCC 20nm\ndate 2026-07-18\noff 15:00Z\nwind calm\n"
        "altitude 3500\ntas 120kt\nburn 8gph\nfuel 10gal\nrules vfr day\nroute XAA XBB land 30min XCC\n"
    )
    total = found["totals"]["fuel_gal"]
    assert found["fuel"]["used_gal"] == pytest.approx(total)
    assert found["fuel"]["remaining_gal"] == pytest.approx(10 - total)


ALTERNATES = (
    AIRPORTS
    + "station QBB 114.00 N46 00.00 W038 45.00 decl 0E\ndirect QBB 090 - XBB 10.4nm\ndirect QBB 270 - XAA 10.4nm\n"
    + "date 2026-07-18\noff 15:00Z\nwind calm\naltitude 3500\ntas 120kt\nburn 8gph\nrules vfr day\n"
)


def test_an_alternate_from_the_destination_is_a_block_of_its_own(folder: Folder) -> None:
    text = ALTERNATES + "fuel 30gal\nroute XAA QBB XBB\n"
    before, found = folder.fly(text), folder.fly(text + "alternate XCC\n")
    (alternate,) = found["alternates"]
    assert (alternate["from"], alternate["to"]) == ("XBB", "XCC")
    # 20 minutes of latitude at 46 N: 111,154 m a degree (WGS84) is 20.007 NM; 10.0 min, 1.33 gal.
    assert alternate["distance_nm"] == pytest.approx(20.007, abs=0.002)
    assert alternate["time_min"] == pytest.approx(10.0, abs=0.01)
    assert alternate["fuel_gal"] == pytest.approx(1.333, abs=0.002)
    assert found["totals"] == before["totals"]  # practice case A68: not added into the trip
    assert found["fuel"]["alternate_gal"] == pytest.approx(alternate["fuel_gal"])
    assert found["fuel"]["required_gal"] == pytest.approx(before["fuel"]["required_gal"] + alternate["fuel_gal"])
    # It is a flight of its own, with the clock and the fuel of the landing at XBB.
    assert (alternate["off"], alternate["legs"][-1]["elapsed_min"]) == (found["legs"][-1]["eta"], alternate["time_min"])
    left = found["fuel"]["remaining_gal"]
    assert alternate["legs"][-1]["fuel_remaining_gal"] == pytest.approx(left - alternate["fuel_gal"])


def test_of_several_alternates_the_farthest_counts(folder: Folder) -> None:
    found = folder.fly(ALTERNATES + "fuel 30gal\nroute XAA QBB XBB\nalternate XCC\nalternate XAA\n")
    fuels = [one["fuel_gal"] for one in found["alternates"]]
    assert found["fuel"]["alternate_gal"] == max(fuels)


def test_an_alternate_from_a_point_counts_with_what_is_left_there(folder: Folder) -> None:
    # To QBB 10.4 NM: 0.69 gal. From there to XCC sqrt(20.0^2 + 10.4^2) = 22.6 NM: 1.50 gal. Reserve 4 gal.
    text = ALTERNATES + "route XAA QBB XBB\nalternate QBB via XCC\n"
    enough = folder.fly(text + "fuel 6.3gal\n")
    assert "alternate-reserve" not in rules(enough)
    assert enough["fuel"]["alternate_gal"] == 0.0
    assert enough["alternates"][0]["from"] == "QBB"
    short = folder.fly(text + "fuel 6.1gal\n")
    assert "alternate-reserve" in rules(short)
    assert "reserve" not in rules(short)


AIRCRAFT = (
    'name = "By {unit}"\nusable_fuel_{unit} = {usable}\ntaxi_fuel_{unit} = {taxi}\n{density}\n[cruise]\ntas_kt = 120\n'
)
AIRCRAFT += "burn_{unit}_per_h = {burn}\n"


@pytest.mark.parametrize(
    ("unit", "per_gallon"),
    [("gal", 1.0), ("L", LITRES_PER_GALLON), ("lb", POUND_PER_GALLON), ("kg", POUND_PER_GALLON * 0.45359237)],
)
def test_one_flight_in_four_units(folder: Folder, unit: str, per_gallon: float) -> None:
    folder.put(
        "unit.toml",
        AIRCRAFT.format(
            unit=unit,
            usable=40 * per_gallon,
            taxi=1 * per_gallon,
            burn=8 * per_gallon,
            density="fuel_density_lb_per_gal = 6.0",
        ),
    )
    text = COMMON + f"rules vfr day\naircraft unit.toml\nfuel {30 * per_gallon:.6f}{unit}\nroute QAA QBB QCC\n"
    found = folder.fly(text)
    assert found["fuel"]["unit"] == unit
    assert found["fuel"]["on_board_gal"] == pytest.approx(29.0, abs=1e-5)
    assert found["fuel"]["required_gal"] == pytest.approx(12.0, abs=1e-5)
    assert f"FUEL in {unit}" in folder.run(text).out


def test_weight_in_the_file_and_volume_in_the_aircraft_need_a_density(folder: Folder) -> None:
    values = {"unit": "gal", "usable": 40, "taxi": 1, "burn": 8}
    text = COMMON + "rules vfr day\naircraft unit.toml\nfuel 180lb\nroute QAA QBB QCC\n"
    folder.put("unit.toml", AIRCRAFT.format(**values, density="fuel_density_lb_per_gal = 6.0"))
    found = folder.fly(text)
    assert found["fuel"]["unit"] == "lb"
    assert found["fuel"]["on_board_gal"] == pytest.approx(29.0)
    folder.put("unit.toml", AIRCRAFT.format(**values, density=""))
    assert {problem["code"] for problem in folder.problems(text)} == {"mixed-fuel-units"}


def test_weight_throughout_needs_no_density(folder: Folder) -> None:
    # 48 lb/h: 48 lb of trip and 24 of reserve; gallons are not known, and say so.
    folder.put("unit.toml", AIRCRAFT.format(unit="lb", usable=240, taxi=6, burn=48, density=""))
    text = COMMON + "rules vfr day\naircraft unit.toml\nfuel 180lb\nroute QAA QBB QCC\n"
    found = folder.fly(text)
    assert found["fuel"]["required_gal"] is None
    assert "no density" in next(one["reason"] for one in found["legs"][0]["unknown"] if one["key"] == "fuel_used_gal")
    assert "required 72" in folder.run(text).out


def test_litres_and_pounds_without_an_aircraft_are_a_problem(folder: Folder) -> None:
    text = COMMON + "tas 120kt\nburn 30L/h\nfuel 180lb\nroute QAA QBB QCC\n"
    (problem,) = folder.problems(text)
    assert problem["code"] == "mixed-fuel-units"
    assert problem["line"] == 1 + text[: text.index("burn")].count("\n")


def test_more_than_the_tanks_hold_is_an_error(folder: Folder) -> None:
    folder.put("unit.toml", AIRCRAFT.format(unit="gal", usable=40, taxi=1, burn=8, density=""))
    text = COMMON + "aircraft unit.toml\nfuel {}gal\nroute QAA QBB QCC\n"
    assert "fuel-over-usable" not in rules(folder.fly(text.format(40)))
    assert "fuel-over-usable" in rules(folder.fly(text.format(40.1)))


def test_a_stated_burn_stands_before_the_aircrafts(folder: Folder) -> None:
    folder.put("unit.toml", AIRCRAFT.format(unit="gal", usable=40, taxi=1, burn=8, density=""))
    found = folder.fly(COMMON + "aircraft unit.toml\nfuel 30gal\nburn 10gph\nrules vfr day\nroute QAA QBB QCC\n")
    assert found["totals"]["fuel_gal"] == pytest.approx(10.0)
    assert found["fuel"]["reserve_gal"] == pytest.approx(5.0)


DIVERTED = (
    COMMON + "airport XDD N46 00.00 W039 00.00 elev 0ft\nairport XEE N46 00.00 W039 00.00 elev 0ft\n"
    "tas 120kt\nburn 8gph\nfuel 30gal\nroute QAA QBB QCC\nrules vfr day\n"
)


def ways(to_diversion_nm: float, to_alternate_nm: float) -> str:
    """An alternate XDD so far from QBB, where 60 NM are flown, and XEE so far from the destination, 120 NM on."""
    return (
        f"direct QBB 180 - XDD {to_diversion_nm}nm\ndirect QCC 180 - XEE {to_alternate_nm}nm\n"
        "alternate QBB via XDD\nalternate XEE\n"
    )


def test_a_diversion_that_takes_more_than_the_destination_rules_what_is_required(folder: Folder) -> None:
    # To QBB 30 min and 4 gal, then 150 NM, 75 min and 10 gal; to QCC 8 gal and 15 NM, 1 gal. 10 % of 4 is 0.4.
    found = folder.fly(DIVERTED + ways(150, 15) + "contingency 10%\nextra 1gal\n")
    fuel = found["fuel"]
    assert fuel["required_gal"] == pytest.approx(4 + 10 + 0.4 + 4 + 1)
    assert fuel["margin_gal"] == pytest.approx(30 - 19.4)
    assert fuel["margin_min"] == pytest.approx(10.6 / 8 * 60)
    assert (fuel["used_gal"], fuel["alternate_gal"]) == (pytest.approx(8), pytest.approx(1))
    # At QBB the way to XDD, behind it 10 % of the 8 gal of the whole trip.
    by_end = {leg["to"]["ident"]: leg["fuel_least_gal"] for leg in found["legs"]}
    assert (by_end["QBB"], by_end["QCC"]) == (pytest.approx(10 + 0.4 + 4 + 1), pytest.approx(1 + 0.8 + 4 + 1))
    assert fuel["diversion"] == {
        "from": "QBB",
        "airport": "XDD",
        "used_gal": pytest.approx(4),
        "alternate_gal": pytest.approx(10),
        "contingency_gal": pytest.approx(0.4),
        "reserve_gal": pytest.approx(4),
        "reserve_min": 30,
        "reserve_rule": "14 CFR 91.151, day as stated by `rules vfr day`",
    }


def test_a_diversion_that_takes_less_changes_nothing(folder: Folder) -> None:
    fuel = folder.fly(DIVERTED + ways(60, 15))["fuel"]
    assert fuel["diversion"] is None
    assert fuel["required_gal"] == pytest.approx(8 + 1 + 4)


def test_the_printed_sum_is_that_of_the_diversion(folder: Folder) -> None:
    sheet = " ".join(folder.run(DIVERTED + ways(150, 15)).out.split())
    told = "trip to QBB 4.0 + alternate XDD from there 10.0 + contingency 0.0 + reserve 4.0 + extra 0.0"
    assert f"required 18.0 = {told}" in sheet


def test_what_the_diversion_wants_and_is_not_there_is_told(folder: Folder) -> None:
    found = folder.fly(DIVERTED.replace("fuel 30gal", "fuel 19gal") + ways(150, 15) + "extra 2gal\n")
    (told,) = [one["message"] for one in found["findings"] if one["rule"] == "contingency-short"]
    assert told == "1.0 gal short of what the flight wants to have at the alternate XDD"


def test_a_diversion_before_the_last_fuelling_is_not_asked_of_the_fuel_after_it(folder: Folder) -> None:
    text = DIVERTED.replace("route QAA QBB QCC", "route QAA QBB XDD land fuel 20gal QCC XEE")
    lengths = "direct QBB 180 - XDD 60nm\ndirect QCC 180 - XEE 15nm\ndirect XDD - 180 QCC 60nm\nalternate QBB via XDD\n"
    fuel = folder.fly(text + lengths)["fuel"]
    assert fuel["diversion"] is None
