"""What a leg over a point has of a climb, a descent and a hold, and the rule behind the reserve."""

from __future__ import annotations

import re

import pytest
from helpers.flown import Json, changed, flight, legs
from helpers.folder import Folder

AIRCRAFT = (
    'name = "By hand"\n[climb]\ntas_kt = 90\nrate_ft_per_min = 600\nburn_gal_per_h = 12\n'
    "[cruise]\ntas_kt = 120\nburn_gal_per_h = 9\n[descent]\ntas_kt = 120\nrate_ft_per_min = 500\nburn_gal_per_h = 6\n"
)
BY_HAND = (
    "station QAA 113.00 decl 0E\nairport XLO N46 00.00 W039 00.00 elev 500ft\n"
    "airport XHI N46 00.00 W038 00.00 elev 1000ft\ndirect QAA 270 - XLO 8nm\ndirect QAA 090 - XHI 40nm\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\nfuel 40gal\naircraft hand.toml\naltitude 4500\nrules ifr\n"
    "route XLO QAA XHI\n"
)


@pytest.fixture
def by_hand(folder: Folder) -> Folder:
    folder.put("hand.toml", AIRCRAFT)
    return folder


def test_a_climb_over_a_point_shares_its_time_and_fuel(by_hand: Folder) -> None:
    # 4,000 ft at 600 ft/min take 6.67 min, 10 NM at 90 kt and 1.333 gal; 8 NM of them before QAA.
    found = by_hand.fly(BY_HAND)
    first, second, *_ = found["legs"]
    for leg, share in ((first, 0.8), (second, 0.2)):
        assert leg["phase"] == "climb"
        assert leg["distance_nm"] == pytest.approx(10 * share)
        assert leg["time_min"] == pytest.approx(4000 / 600 * share)
        assert leg["fuel_used_gal"] == pytest.approx(12 * 4000 / 600 / 60 * share)


def test_a_descent_over_a_point_shares_its_time_and_fuel(by_hand: Folder) -> None:
    text = BY_HAND.replace("route XLO QAA XHI", "route XHI QAA XLO")
    # 4,000 ft at 500 ft/min down to XLO's 500: 8 min, 16 NM at 120 kt and 0.8 gal, half of them after QAA.
    for leg in by_hand.fly(text)["legs"][-2:]:
        assert leg["phase"] == "descent"
        assert leg["distance_nm"] == pytest.approx(8)
        assert leg["time_min"] == pytest.approx(4)
        assert leg["fuel_used_gal"] == pytest.approx(0.4)


def test_a_climb_cut_short_by_the_descent_keeps_its_share(by_hand: Folder) -> None:
    # Too short to reach 4,500 ft: up 600 ft/min and down 500 ft/min meet on the way, the fuel by the minute.
    text = BY_HAND.replace("XLO 8nm", "XLO 6nm").replace("XHI 40nm", "XHI 6nm")
    found = by_hand.fly(text)
    up = [leg for leg in found["legs"] if leg["phase"] == "climb"]
    down = [leg for leg in found["legs"] if leg["phase"] == "descent"]
    assert up
    assert down
    assert sum(leg["distance_nm"] for leg in (*up, *down)) == pytest.approx(12)
    # 500 + 400 x NM up is 1,000 + 250 x NM down, of 12 NM together: 5.385 NM up.
    assert sum(leg["distance_nm"] for leg in up) == pytest.approx(3500 / 650)
    assert sum(leg["fuel_used_gal"] for leg in up) == pytest.approx(3500 / 650 / 90 * 12)
    assert sum(leg["fuel_used_gal"] for leg in down) == pytest.approx((12 - 3500 / 650) / 120 * 6)


def test_a_field_too_high_for_the_way_is_left_in_a_descent_all_along(by_hand: Folder) -> None:
    # From 6,000 ft down 250 ft a mile over 12 NM is 3,000 ft, above the field of 500 ft.
    text = BY_HAND.replace("XLO 8nm", "XLO 6nm").replace("XHI 40nm", "XHI 6nm").replace("elev 1000ft", "elev 6000ft")
    text = text.replace("route XLO QAA XHI", "route XHI QAA XLO").replace("altitude 4500", "altitude 6500")
    *flown, to_lose = by_hand.fly(text)["legs"]
    assert {leg["phase"] for leg in flown} == {"descent"}
    # The 2,500 ft left at 500 ft/min and 6 gal/h.
    assert (to_lose["phase"], to_lose["distance_nm"], to_lose["time_min"]) == ("height to lose", 0, pytest.approx(5))
    assert to_lose["fuel_used_gal"] == pytest.approx(0.5)
    assert [leg["distance_nm"] for leg in flown] == [pytest.approx(6), pytest.approx(6)]
    assert (flown[0]["start_altitude_ft"], flown[-1]["end_altitude_ft"]) == (6000, pytest.approx(3000))


def test_without_a_burn_a_cut_climb_has_its_time_and_no_fuel(folder: Folder) -> None:
    folder.put("hand.toml", re.sub(r"burn_gal_per_h = \d+\n", "", AIRCRAFT))
    text = BY_HAND.replace("XLO 8nm", "XLO 6nm").replace("XHI 40nm", "XHI 6nm")
    flown = folder.fly(text)["legs"]
    assert all(leg["time_min"] > 0 and leg["fuel_used_gal"] is None for leg in flown)


def test_a_hold_at_a_position_is_at_that_one() -> None:
    first, second = "4605N03924W", "4555N03929W"
    text = changed(f"route XHAR QHB {first} {second} QEL XOLD", f"hold {second} 4min")
    flown = legs(text)
    (hold,) = [leg for leg in flown if leg["phase"] == "hold"]
    assert hold["to"]["latitude_deg"] == pytest.approx(45 + 55 / 60)
    assert hold["to"]["longitude_deg"] == pytest.approx(-(39 + 29 / 60))


def test_a_hold_keeps_the_airspeed_and_the_place(by_hand: Folder) -> None:
    (hold,) = [leg for leg in by_hand.fly(BY_HAND + "hold QAA 10min\n")["legs"] if leg["phase"] == "hold"]
    assert hold["tas_kt"] == 120.0


def test_a_hold_may_stand_at_a_radial_and_distance() -> None:
    route = "route XHAR QHB QHB212015 QEL XOLD"
    text = changed(route, "direct QHB - QEL 29.5nm")
    (hold,) = [leg for leg in legs(text + "hold QHB212015 4min\n") if leg["phase"] == "hold"]
    assert (hold["from"]["ident"], hold["time_min"]) == ("QHB212015", 4.0)
    (hold,) = [leg for leg in legs(text + "hold QHB 4min\n") if leg["phase"] == "hold"]
    assert hold["from"]["ident"] == "QHB"


@pytest.mark.parametrize(
    ("statement", "minutes", "rule"),
    [
        ("rules ifr", 45.0, "14 CFR 91.167"),
        ("rules vfr day", 30.0, "14 CFR 91.151, day as stated by `rules vfr day`"),
        ("rules vfr night", 45.0, "14 CFR 91.151, night as stated by `rules vfr night`"),
        ("reserve 50min", 50.0, "as stated"),
    ],
)
def test_the_reserve_names_its_rule(statement: str, minutes: float, rule: str) -> None:
    fuel: Json = flight(changed(statement))["fuel"]
    assert fuel["required_gal"] == pytest.approx(fuel["used_gal"] + fuel["reserve_gal"])
    assert (fuel["reserve_min"], fuel["reserve_rule"]) == (minutes, rule)


def test_the_reserve_by_the_sun_names_its_rule() -> None:
    # 15:10Z at 39 W on a July day is about noon; 02:00Z is the evening before, dark.
    assert flight(changed())["fuel"]["reserve_rule"] == "14 CFR 91.151 day"
    assert flight(changed("off 02:00Z"))["fuel"]["reserve_rule"] == "14 CFR 91.151 night"


def test_the_reserve_burns_as_the_cruise_does(by_hand: Folder) -> None:
    # 9 gal/h in cruise, not the climb's 12 or the descent's 6: 30 min are 4.5 gal.
    fuel: Json = by_hand.fly(BY_HAND.replace("rules ifr", "rules vfr"))["fuel"]
    assert (fuel["reserve_min"], fuel["reserve_gal"]) == (30.0, pytest.approx(4.5))
