"""Winds as stated: magnetic ones made true, temperatures, places; fuel, reserve and holds that hang on a leg."""

from __future__ import annotations

import pytest
from flown import Json, changed, flight, flights, legs, sheet
from folder import Folder
from pygeomag import GeoMag

MODEL = GeoMag(base_year=2025)


def winds(text: str) -> list[tuple[float, float]]:
    return [(leg["wind"]["from_true_deg"], leg["wind"]["speed_kt"]) for leg in legs(text)]


def test_a_magnetic_wind_goes_by_the_stated_variation() -> None:
    # East is added and west subtracted going from magnetic to true: 230 M with 15 W is 215 T.
    text = changed("wind 230M/12", "variation 15W")
    assert set(winds(text)) == {(215.0, 12.0)}
    assert "magnetic wind made true with the stated variation" in sheet(text)


def test_without_one_it_goes_by_the_model_at_its_place() -> None:
    # 18 July 2026 is day 198 of 365: WMM2025 by its own library, at the first point and at QSK.
    year = 2026 + 198 / 365
    departure = MODEL.calculate(46 + 14.5 / 60, -(39 + 7.2 / 60), 0, year).d
    everywhere = changed("wind 230M/12")
    for from_deg, speed_kt in winds(everywhere):
        assert from_deg == pytest.approx(230 + departure, abs=0.001)
        assert speed_kt == 12.0
    assert "magnetic wind made true with the variation at XHAR" in sheet(everywhere)
    place = MODEL.calculate(45 + 52 / 60, -(38 + 38 / 60), 0, year).d
    there = changed("wind at QSK 230M/12", without=("wind",))
    for from_deg, _ in winds(there):
        assert from_deg == pytest.approx(230 + place, abs=0.001)
    assert "magnetic wind made true with the variation at QSK" in sheet(there)


def test_a_true_wind_is_not_turned() -> None:
    assert set(winds(changed("variation 15W"))) == {(230.0, 12.0)}


def test_of_two_heights_only_the_magnetic_one_is_turned() -> None:
    low = changed("wind 3000 230M/12 6000 240/18", "variation 15W")
    high = changed("wind 3000 230M/12 6000 240/18", "variation 15W", "altitude 6000")
    assert (set(winds(low)), set(winds(high))) == ({(215.0, 12.0)}, {(240.0, 18.0)})


def test_a_magnetic_wind_where_nothing_has_a_place_is_a_problem() -> None:
    text = (
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nairway V801 QAA 090 - 270 QBB 30nm mea 3000\n"
        "date 2026-07-18\naltitude 4000\ntas 100kt\nwind 230M/12\nroute QAA V801 QBB\n"
    )
    (found,) = flights(text)
    (problem,) = found["problems"]
    assert problem["code"] == "no-variation"
    assert problem["message"] == "a magnetic wind needs a variation, and nothing here has a position"
    assert problem["hint"] == "write the wind true, or give a `variation`"
    assert problem["line"] == 7


AIRCRAFT = (
    'name = "By hand"\n[climb]\ntas_kt = 90\nrate_ft_per_min = 600\nburn_gal_per_h = 12\n'
    "[cruise]\ntas_kt = 120\nburn_gal_per_h = 9\n[descent]\ntas_kt = 120\nrate_ft_per_min = 500\nburn_gal_per_h = 6\n"
)
BY_HAND = (
    "station QAA 113.00 decl 0E\nairport XLO N46 00.00 W039 00.00 elev 500ft\n"
    "airport XHI N46 00.00 W038 00.00 elev 1000ft\ndirect QAA 270 - XLO 8nm\ndirect QAA 090 - XHI 40nm\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\nfuel 40gal\naircraft hand.toml\naltitude 4500\n"
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
        ("rules vfr day", 30.0, "14 CFR 91.151 day, as stated"),
        ("rules vfr night", 45.0, "14 CFR 91.151 night, as stated"),
        ("reserve 50min", 50.0, "as stated"),
    ],
)
def test_the_reserve_names_its_rule(statement: str, minutes: float, rule: str) -> None:
    fuel: Json = flight(changed(statement))["fuel"]
    assert (fuel["reserve_min"], fuel["reserve_rule"]) == (minutes, rule)


def test_a_leg_without_a_place_says_what_its_triangle_lacks() -> None:
    text = (
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 N46 00.00 W039 00.00 decl 0E\n"
        "airway V801 QAA 090 - 270 QBB 30nm mea 3000\ndate 2026-07-18\naltitude 4000\nvariation 0E\ntas 100kt\n"
        "wind at QCC 230/12\nroute QAA V801 QBB\n"
    )
    (leg, *_) = legs(text)
    said = "the winds given hold at places, and this leg has no position"
    assert {"key": "wind", "reason": said} in leg["unknown"]
