"""Published Victor-airway courses, lengths and changeover points, flown as route files and read from the JSON.

The rows are FAA NASR's, effective 2026-05-14 (`tests/authorities/nasr_*.csv`, each with its source). NASR gives
courses and lengths to two decimals and changeover points in whole NM.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from helpers.flown import Json, apart_deg, flight, legs

AUTHORITIES = Path(__file__).parents[1] / "authorities"
COURSE_DEG = 0.02
LENGTH_NM = 0.05
WHOLE_NM = 0.5

FLOWN = "date 2026-07-18\naltitude 6000\ntas 120kt\nwind calm\n"


def published(name: str) -> list[dict[str, str]]:
    """The rows of a published table."""
    with (AUTHORITIES / name).open(encoding="utf-8") as opened:
        return list(csv.DictReader(line for line in opened if not line.startswith("#")))


SEGMENTS = published("nasr_vor_segments.csv")
CHANGEOVERS = published("nasr_changeovers.csv")
EVERY = [pytest.param(row, id=f"{row['airway']} {row['from']}-{row['to']}") for row in (*SEGMENTS, *CHANGEOVERS)]
WITH_CHANGEOVER = [pytest.param(row, id=f"{row['airway']} {row['from']}-{row['to']}") for row in CHANGEOVERS]


def station(row: dict[str, str], end: str) -> str:
    """A station with its real position and declination; where the row has no frequency, any VOR's."""
    declination = int(row[f"{end}_declination"])
    letter = "E" if declination >= 0 else "W"
    mhz = row.get(f"{end}_mhz") or "112.00"
    return f"station {row[end]} {mhz} {row[f'{end}_lat']} {row[f'{end}_lon']} decl {abs(declination)}{letter}\n"


def stations(row: dict[str, str]) -> str:
    return station(row, "from") + station(row, "to")


def outbound(found: list[Json]) -> Json:
    """The guidance with which the flight leaves."""
    guidance: Json = found[0]["guidance"]
    assert guidance["flag"] == "FROM"
    return guidance


def inbound(found: list[Json]) -> Json:
    """The guidance with which the flight arrives."""
    guidance: Json = found[-1]["guidance"]
    assert guidance["flag"] == "TO"
    return guidance


@pytest.mark.parametrize("row", EVERY)
def test_courses_and_length_are_the_published_ones(row: dict[str, str]) -> None:
    found = flight(stations(row) + FLOWN + f"route {row['from']} DCT {row['to']}\n")
    leaving, arriving = outbound(found["legs"]), inbound(found["legs"])
    assert (leaving["ident"], arriving["ident"]) == (row["from"], row["to"])
    assert leaving["radial_source"] == arriving["radial_source"] == "computed"
    assert apart_deg(leaving["radial_deg"], float(row["mag_course"])) <= COURSE_DEG
    assert apart_deg(leaving["set_course_deg"], float(row["mag_course"])) <= COURSE_DEG
    assert apart_deg(arriving["radial_deg"], float(row["opp_mag_course"])) <= COURSE_DEG
    assert apart_deg(arriving["set_course_deg"], float(row["opp_mag_course"]) + 180.0) <= COURSE_DEG
    assert found["totals"]["distance_nm"] == pytest.approx(float(row["distance_nm"]), abs=LENGTH_NM)


@pytest.mark.parametrize("row", EVERY)
def test_the_same_radials_hold_the_way_back(row: dict[str, str]) -> None:
    found = legs(stations(row) + FLOWN + f"route {row['to']} DCT {row['from']}\n")
    assert apart_deg(outbound(found)["radial_deg"], float(row["opp_mag_course"])) <= COURSE_DEG
    assert apart_deg(inbound(found)["radial_deg"], float(row["mag_course"])) <= COURSE_DEG


def airway(row: dict[str, str], changeover: str) -> str:
    return f"airway {row['airway']} {row['from']} - {row['to']} {row['distance_nm']}nm {changeover}\n"


@pytest.mark.parametrize("row", WITH_CHANGEOVER)
def test_a_changeover_point_lies_at_its_mileage_from_both_ends(row: dict[str, str]) -> None:
    text = stations(row) + airway(row, f"cop {row['changeover_nm']} {row['from']}") + FLOWN
    there = legs(text + f"route {row['from']} {row['airway']} {row['to']}\n")
    back = legs(text + f"route {row['to']} {row['airway']} {row['from']}\n")
    changeover_nm, length_nm = float(row["changeover_nm"]), float(row["distance_nm"])
    assert there[0]["changeover"]["kind"] == back[0]["changeover"]["kind"] == "stated"
    assert there[0]["distance_nm"] == pytest.approx(changeover_nm, abs=1e-9)
    assert back[0]["distance_nm"] == pytest.approx(length_nm - changeover_nm, abs=1e-9)
    for latitude in ("latitude_deg", "longitude_deg"):
        assert there[0]["to"][latitude] == pytest.approx(back[0]["to"][latitude], abs=1e-8)


def test_two_published_distances_of_one_changeover_agree() -> None:
    """V68 gives Corona to Chisum 33, V83 the other way 48, and the leg is 81.18 NM."""
    forth = next(row for row in CHANGEOVERS if (row["from"], row["to"]) == ("CNX", "CME"))
    back = next(row for row in CHANGEOVERS if (row["from"], row["to"]) == ("CME", "CNX"))
    assert (forth["changeover_nm"], back["changeover_nm"], forth["distance_nm"]) == ("33", "48", "81.18")
    text = stations(forth) + airway(forth, "cop 33 CNX") + FLOWN
    assert legs(text + "route CNX V68 CME\n")[0]["changeover"]["distance_nm"] == pytest.approx(33.0)
    other_way = legs(text + "route CME V68 CNX\n")[0]["changeover"]["distance_nm"]
    assert other_way == pytest.approx(48.18)
    assert other_way == pytest.approx(float(back["changeover_nm"]), abs=WHOLE_NM)


def test_without_a_published_changeover_point_it_is_midway() -> None:
    """14 CFR 95.8001: V333 Rome to Hinch Mountain is 97.20 NM and has none, so 48.60 from each."""
    row = next(row for row in SEGMENTS if (row["from"], row["to"]) == ("RMG", "HCH"))
    assert row["distance_nm"] == "97.20"
    for route in ("RMG V333 HCH", "HCH V333 RMG"):
        first = legs(stations(row) + airway(row, "") + FLOWN + f"route {route}\n")[0]
        assert first["changeover"] == {"kind": "midpoint", "distance_nm": pytest.approx(48.60, abs=0.01)}


def test_todays_variation_would_be_wrong() -> None:
    """Corona R-126.13 is 139.13 true by its assigned 13E; 7.3E, the variation of today, is 5.7 degrees off."""
    row = next(row for row in CHANGEOVERS if (row["from"], row["to"]) == ("CNX", "CME"))
    leg = legs(
        f"station CNX 115.50 decl {row['from_declination']}E\nstation CME 116.10 decl 12E\nvariation 7.3E\n"
        "airway V68 CNX 126.13 - 307.72 CME 81.18nm cop 33 CNX\n" + FLOWN + "route CNX V68 CME\n"
    )[0]
    assert leg["true_course_deg"] == pytest.approx(139.13, abs=COURSE_DEG)
    assert leg["guidance"]["set_course_deg"] == pytest.approx(126.13)
    assert leg["magnetic_course_deg"] - leg["guidance"]["set_course_deg"] == pytest.approx(5.7, abs=COURSE_DEG)


def test_the_two_ends_of_an_airway_leg_need_not_be_reciprocal() -> None:
    """V561 Jamestown to Pierre: 198.82 out and 10.76 back, 8.06 degrees from reciprocal; a log has both."""
    row = next(row for row in SEGMENTS if (row["from"], row["to"]) == ("JMS", "PIR"))
    found = legs(stations(row) + FLOWN + "route JMS PIR\n")
    turned = outbound(found)["set_course_deg"] - inbound(found)["set_course_deg"]
    assert turned == pytest.approx(8.06, abs=2 * COURSE_DEG)
    assert apart_deg(found[0]["true_course_deg"], found[-1]["true_course_deg"]) < 1.5
