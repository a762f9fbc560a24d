"""Winds as stated: magnetic ones made true, and where they hold; bulletin columns near the way."""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from random import Random

import pytest
from helpers.flown import changed, flights, legs, sheet
from helpers.judged import case_of
from hypothesis import given
from hypothesis import strategies as st
from pygeomag import GeoMag

from navlog.flightlog.winds import _around, _place_of
from navlog.nav import earth
from navlog.nav.chart import Airport, Position, Station, StationKind
from navlog.nav.wind import CALM, WindColumn, WindLevel
from navlog.resolve.lookup import NoCatalogue

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


@given(st.integers(0, 2**32 - 1))
def test_no_column_is_left_out_that_is_among_the_nearest_of_a_place_on_the_way(seed: int) -> None:
    random = Random(seed)

    def anywhere() -> Position:
        return Position(random.uniform(40, 50), random.uniform(-45, -33))

    found = [WindColumn((WindLevel(3000, CALM),), anywhere()) for _ in range(12)]
    start = anywhere()
    way = [start, *(earth.direct(start, random.uniform(0, 360), random.uniform(5, 200)) for _ in range(2))]
    kept = _around(found, [way])
    for one, other in pairwise(way):
        for share in (0.0, 0.3, 0.5, 0.8, 1.0):
            place = earth.point_along(one, other, share * earth.distance_nm(one, other))[0]
            nearest = sorted(found, key=lambda column: earth.distance_nm(place, column.position or place))
            assert set(map(id, nearest[:3])) <= set(map(id, kept))


def test_a_leg_without_a_place_says_what_its_triangle_lacks() -> None:
    text = (
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 N46 00.00 W039 00.00 decl 0E\n"
        "airway V801 QAA 090 - 270 QBB 30nm mea 3000\ndate 2026-07-18\naltitude 4000\nvariation 0E\ntas 100kt\n"
        "wind at QCC 230/12\nroute QAA V801 QBB\n"
    )
    (leg, *_) = legs(text)
    said = "the winds given hold at places, and this leg has no position"
    assert {"key": "wind", "reason": said} in leg["unknown"]


class _Placed(NoCatalogue):
    """Published places: a station without a position beside an airport, and a station."""

    def stations(self, ident: str, day: date) -> tuple[Station, ...]:
        known = {"QAA": None, "QBB": Position(47.0, -38.0)}
        return (Station(ident, StationKind.VOR, known[ident]),) if ident in known else ()

    def airports(self, ident: str, day: date) -> tuple[Airport, ...]:
        return (Airport(ident, Position(46.0, -39.0)),) if ident in ("QAA", "QBB") else ()


@pytest.mark.parametrize(
    ("ident", "published", "place"),
    [
        ("QAA", True, Position(46.0, -39.0)),
        ("QBB", True, Position(47.0, -38.0)),
        ("QCC", True, None),
        ("QBB", False, None),
        # What the file has goes before what is published.
        ("QEL", True, Position(45.0 + 44.1 / 60.0, -39.55)),
    ],
)
def test_a_place_of_a_bulletin_is_the_files_else_the_published_station_or_airport(
    ident: str, published: bool, place: Position | None
) -> None:
    found = _place_of(ident, case_of().request, _Placed() if published else None)
    assert (found is None) == (place is None)
    if found is not None and place is not None:
        expected = pytest.approx((place.latitude_deg, place.longitude_deg), abs=1e-6)
        assert (found.latitude_deg, found.longitude_deg) == expected
