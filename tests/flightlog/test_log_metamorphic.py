"""How the answer changes, or stays, when the question changes in a way whose effect is known."""

from __future__ import annotations

import dataclasses
import re

import pytest
from helpers.flown import Json, apart_deg, changed, flight, legs, navlog
from helpers.generated import Generated, generated_flights
from hypothesis import given, settings
from hypothesis import strategies as st

FLIGHTS = settings(max_examples=40, deadline=None)
CALM = "wind calm"

SHORE = (
    "station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft\n"
    "station QEL 110.20 N45 44.10 W039 33.00 decl 17W class L dme elev 410ft\n"
)
FLOWN = "date 2026-07-18\noff 15:10Z\naltitude 3000\ntas 110kt\nburn 8.5gph\nwind 2000 225/10 5000 240/18\nfuel 38gal\n"


def json_of(text: str) -> str:
    printed = navlog("log", "-", "--format", "json", typed=text)
    assert printed.status == 0
    return printed.out


def sheet_of(text: str) -> str:
    """The sheet without the digest of the file's own bytes."""
    return re.sub(r"\b[0-9a-f]{12}\b", "", navlog("log", "-", typed=text).out)


@FLIGHTS
@given(generated_flights())
def test_the_reversed_route_swaps_flags_and_the_side_of_the_changeover(flight_: Generated) -> None:
    calm = dataclasses.replace(
        flight_, statements=tuple(CALM if s.startswith("wind") else s for s in flight_.statements)
    )
    there, back = legs(calm.text), legs(dataclasses.replace(calm, order=tuple(reversed(calm.order))).text)
    assert len(there) == len(back)
    swapped = {"FROM": "TO", "TO": "FROM", None: None}
    for one, other in zip(there, reversed(back), strict=True):
        assert one["distance_nm"] == pytest.approx(other["distance_nm"], abs=1e-6)
        assert apart_deg(one["true_course_deg"], other["true_course_deg"] + 180.0) < 1e-3
        assert (one["guidance"] is None) == (other["guidance"] is None)
        if one["guidance"] is None:
            continue
        assert one["guidance"]["ident"] == other["guidance"]["ident"]
        assert one["guidance"]["radial_deg"] == pytest.approx(other["guidance"]["radial_deg"], abs=1e-6)
        assert one["guidance"]["flag"] == swapped[other["guidance"]["flag"]]
        assert apart_deg(one["guidance"]["set_course_deg"], other["guidance"]["set_course_deg"] + 180.0) < 1e-6


@FLIGHTS
@given(st.floats(1.0, 28.5), st.booleans())
def test_a_stated_changeover_counts_from_the_other_end_on_the_way_back(cop_nm: float, far: bool) -> None:
    cop = f"cop {29.5 - round(cop_nm, 3):.3f} QEL" if far else f"cop {cop_nm:.3f} QHB"
    text = f"{SHORE}airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 {cop}\n{FLOWN}"
    there, back = legs(text + "route QHB V801 QEL\n"), legs(text + "route QEL V801 QHB\n")
    assert there[0]["changeover"]["distance_nm"] == pytest.approx(round(cop_nm, 3), abs=1e-6)
    assert there[0]["changeover"]["distance_nm"] + back[0]["changeover"]["distance_nm"] == pytest.approx(29.5)
    assert [leg["guidance"]["flag"] for leg in there] == [leg["guidance"]["flag"] for leg in back] == ["FROM", "TO"]
    assert there[0]["guidance"]["ident"] == back[1]["guidance"]["ident"] == "QHB"


@FLIGHTS
@given(st.floats(0.05, 0.95))
def test_adding_a_point_on_the_line_keeps_the_totals(share: float) -> None:
    from geographiclib.geodesic import Geodesic

    line = Geodesic.WGS84.InverseLine(46.205, -39.345, 45.735, -39.55)
    at = line.Position(line.s13 * share)
    point = f"fix FULMA {at['lat2']:.7f} {at['lon2']:.7f}\n"
    without = flight(SHORE + FLOWN + "route QHB QEL\n")
    with_point = flight(SHORE + point + FLOWN + "route QHB FULMA QEL\n")
    assert len(with_point["legs"]) >= 2
    for key, allowed in (("distance_nm", 1e-4), ("time_min", 2e-3), ("fuel_gal", 1e-3)):
        assert with_point["totals"][key] == pytest.approx(without["totals"][key], abs=allowed)


@FLIGHTS
@given(st.integers(1, 10), generated_flights())
def test_a_declination_moves_the_set_course_and_not_the_heading(shift_deg: int, flight_: Generated) -> None:
    def turned(place: str) -> str:
        words = place.split()
        index = next((i for i, word in enumerate(words) if word == "decl"), None)
        if index is not None:
            words[index + 1] = f"{int(words[index + 1].removesuffix('W')) + shift_deg}W"
        return " ".join(words)

    before, after = (
        legs(flight_.text),
        legs(dataclasses.replace(flight_, places=tuple(map(turned, flight_.places))).text),
    )
    for one, other in zip(before, after, strict=True):
        if one["guidance"] is not None and one["guidance"]["set_course_deg"] is not None:
            moved_deg = other["guidance"]["set_course_deg"] - one["guidance"]["set_course_deg"]
            assert apart_deg(moved_deg, float(shift_deg)) < 1e-6
        for key in ("true_course_deg", "magnetic_heading_deg", "time_min", "distance_nm", "variation_deg", "to"):
            assert one[key] == other[key]


def test_the_files_variation_moves_the_heading_and_not_the_set_course() -> None:
    before, after = legs(changed()), legs(changed("variation 10W"))
    for one, other in zip(before, after, strict=True):
        assert one["guidance"] == other["guidance"]
        assert (one["true_course_deg"], one["to"]) == (other["true_course_deg"], other["to"])
        moved_deg = other["magnetic_heading_deg"] - one["magnetic_heading_deg"]
        assert moved_deg == pytest.approx(one["variation_deg"] + 10.0, abs=1e-8)


@FLIGHTS
@given(generated_flights())
def test_line_ends_and_a_byte_order_mark_give_the_same_bytes(flight_: Generated) -> None:
    plain = navlog("log", "-", "--format", "json", typed=flight_.text)
    assert navlog("log", "-", "--format", "json", typed=flight_.text.replace("\n", "\r\n")) == plain
    assert navlog("log", "-", "--format", "json", typed="\ufeff" + flight_.text) == plain
    assert sheet_of(flight_.text.replace("\n", "\r\n")) == sheet_of(flight_.text)


@pytest.mark.parametrize(
    ("written", "otherwise"),
    [
        ("altitude 3000", "altitude 914.4m"),
        ("tas 110kt", "tas 203.72km/h"),
        ("burn 8.5gph", "burn 8.50gph"),
        ("wind 230/12", "wind 230/22.224km/h"),
        ("wind 2000 225/10 5000 240/18", "wind 609.6m 225/10kt 1524m 240/18kt"),
        (
            "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 cop 11 QHB",
            "airway V801 QHB 212 - 034 QEL 54.634km mea 914.4m cop 20.372km QHB",
        ),
        ("direct QHB - XHAR 9.6nm min 2500", "direct QHB - XHAR 17.7792km min 762m"),
        ("airport XHAR N46 14.50 W039 07.20 elev 790ft", "airport XHAR N46 14.50 W039 07.20 elev 240.792m"),
        ("altimeter 1013.25hPa", "altimeter 1013.250hPa"),
        ("reserve 45min", "reserve 0.75h"),
    ],
    ids=lambda text: text.split()[0],
)
def test_another_unit_gives_the_same_bytes(written: str, otherwise: str) -> None:
    assert json_of(changed(written)) == json_of(changed(otherwise))
    assert sheet_of(changed(written)) == sheet_of(changed(otherwise))


def test_a_zone_of_its_own_gives_the_same_moments() -> None:
    """The sheet shows the zone's clock as well; everything computed is the same."""
    assert json_of(changed("off 15:10Z")) == json_of(changed("off 11:10 America/New_York"))


def test_miles_an_hour_are_statute() -> None:
    """115 mph is 99.9 kt: 115 x 1609.344 / 1852."""
    assert legs(changed("tas 115mph"))[0]["tas_kt"] == pytest.approx(115 * 1609.344 / 1852, abs=1e-9)


@pytest.mark.parametrize(
    "written",
    [
        "46.2050 -39.3450",
        "N46 12.30 W039 20.70",
        "N46 12 18 W039 20 42",
        "N46\u00b012.30' W039\u00b020.70'",
    ],
)
def test_the_same_place_gives_the_same_bytes(written: str) -> None:
    text = changed(f"station QHB 113.70 {written} decl 15W class L dme elev 820ft")
    assert json_of(text) == json_of(changed())
    assert sheet_of(text) == sheet_of(changed())


def test_where_statements_stand_does_not_matter() -> None:
    lines = changed().splitlines()
    assert without_lines(flight("\n".join(reversed(lines)) + "\n")) == without_lines(flight(changed()))


def without_lines(found: Json) -> Json:
    return found | {"findings": [finding | {"line": 0} for finding in found["findings"]]}
