"""Altitude limits of published airways in the direction of flight, as the log gives them.

Rows quoted are FAA NASR AWY_SEG_ALT, effective 2026-05-14.
"""

from __future__ import annotations

import csv
from pathlib import Path
from shutil import copytree

import pytest
from helpers.published_flights import Flown, leg_to, messages

from navlog.catalogue import import_data


@pytest.mark.parametrize(
    ("route", "mea_ft"),
    [
        # PLANN's row: 2100 NE BND, 5000 SW BND, on a course of 053; CRE's row: 5000 NE BND, 2000 SW BND.
        ("PLANN V1 CRE", 2100),
        ("CRE V1 PLANN", 5000),
        ("CRE V1 ASHES", 5000),
        ("ASHES V1 CRE", 2000),
        # ECHOA's row, course 258: 13200 E BND, 11500 W BND.
        ("ECHOA V101 ZOMBU", 11500),
        ("ZOMBU V101 ECHOA", 13200),
    ],
)
def test_the_mea_is_that_of_the_direction_flown(fly: Flown, route: str, mea_ft: float) -> None:
    found = fly(route, altitude="4000")
    (leg,) = found["legs"]
    assert (leg["minimum_altitude_ft"], leg["minimum_kind"]) == (mea_ft, "MEA")
    assert (messages(found, "under-mea") != []) is (mea_ft > 4000)


def test_an_mca_counts_for_crossing_its_point_in_its_direction(fly: Flown) -> None:
    """GLL's row on V101: MIN_CROSS_ALT 13500, W BND, at LIBEL."""
    west, east = fly("GLL V101 RIDJE", altitude="12000"), fly("RIDJE V101 GLL", altitude="17000")
    assert leg_to(west, "RIDJE")["mca_ft"] == 13500.0
    (message,) = messages(west, "under-mca")
    assert message == "LIBEL is crossed at 12000 ft, below the MCA of 13500 ft toward RIDJE"
    assert leg_to(east, "GLL")["mca_ft"] is None
    assert messages(fly("GLL V101 RIDJE", altitude="14000"), "under-mca") == []


def test_an_mca_in_words_counts(fly: Flown) -> None:
    """PSB's row on V184: 4800 MCA PHILIPSBURG, PA VORTAC, SE BND."""
    assert fly("PSB V184 RASHE", altitude="5000")["legs"][0]["mca_ft"] == 4800.0
    assert leg_to(fly("RASHE V184 PSB", altitude="5000"), "PSB")["mca_ft"] is None


def test_an_maa_limits_from_above(fly: Flown) -> None:
    """RMG's row on V154: MAX_AUTH_ALT 7000."""
    found = fly("RMG V154 TIROE", altitude="8000")
    assert found["legs"][0]["maa_ft"] == 7000.0
    assert messages(found, "over-maa") == ["8000 ft is above the MAA of 7000 ft"]
    assert messages(fly("TIROE V154 RMG", altitude="7000"), "over-maa") == []


def test_a_moca_serves_within_22_miles_of_the_station(fly: Flown) -> None:
    """GLL's row on V101: MEA 10000, MOCA 8900; LIBEL is 25.17 NM from GLL (14 CFR 91.177)."""
    found = fly("GLL V101 LIBEL", "rules ifr", altitude="9000")
    assert found["legs"][0]["moca_ft"] == 8900.0
    (message,) = messages(found, "moca-range")
    assert "3.2 NM of it farther than 22 NM" in message


def test_an_mra_counts_where_a_cross_radial_marks_the_fix(fly: Flown) -> None:
    """RENAE's row on V101: MIN_RECEP_ALT 13000."""
    found = fly("STRIM V101 RENAE", altitude="12000")
    (message,) = messages(found, "under-mra")
    assert message.startswith("RENAE is reached at 12000 ft, below its MRA of 13000 ft")
    assert messages(fly("STRIM V101 RENAE", altitude="14000"), "under-mra") == []
    assert messages(fly("STRIM V101 RENAE", "equipment vor 1 dme 1", altitude="12000"), "under-mra") == []


def test_a_turning_altitude_counts_for_the_turn_that_it_names(fly: Flown) -> None:
    """At SLOLM on V134: MTA V134 NE TO V220 NW 12900."""
    turning = "JNC V134 SLOLM V220 RIL"
    (message,) = messages(fly(turning, altitude="12500"), "under-mca")
    assert message == "SLOLM is crossed at 12500 ft, below the MTA of 12900 ft toward RIL"
    assert messages(fly(turning, altitude="13000"), "under-mca") == []
    for other in ("JNC V134 GLENO", "RIL V220 SLOLM V134 RIYNO", "GLENO V134 SLOLM V220 RIL"):
        assert not any("MTA" in message for message in messages(fly(other, altitude="12500"), "under-mca"))
    # The remark stands on SLOLM's row, so it is printed with the segment that leaves SLOLM on V134.
    assert "MTA V134 NE TO V220 NW 12900" in fly.sheet("RIYNO V134 GLENO", altitude="14000")


def test_turning_altitudes_toward_two_airways(fly: Flown) -> None:
    """The last row of V520, at JAC: MTA V520 E TO V330 W 14200."""
    (message,) = messages(fly("DBS V520 JAC V330 PIINE", altitude="14000"), "under-mca")
    assert message == "JAC is crossed at 14000 ft, below the MTA of 14200 ft toward PIINE"


def test_a_gnss_minimum_alone_is_no_minimum_for_a_vor_flight(fly: Flown) -> None:
    """RELEE's row on V469: no MEA, GPS_MIN_ENROUTE_ALT 5200; KIMMY's on V1: MEA 5000, GNSS 2100."""
    found = fly("RELEE V469 BOOME", altitude="4500")
    assert (found["legs"][0]["minimum_altitude_ft"], found["status"]) == (None, "error")
    assert fly("KIMMY V1 INLET", altitude="4000")["legs"][0]["minimum_altitude_ft"] == 5000.0
    assert messages(fly("KIMMY V1 INLET", "rules ifr", altitude="4000"), "under-mea") == [
        "4000 ft is below the MEA of 5000 ft on V1"
    ]


def test_a_published_mea_below_its_station_is_doubted(nasr: Path, tmp_path: Path) -> None:
    """CAM's row of NAV_BASE says ELEV 1490; no MEA of the file lies below its station."""
    folder = copytree(nasr, tmp_path / "nasr")
    path = folder / "AWY_SEG_ALT.csv"
    with path.open(newline="", encoding="ascii") as file:
        header, *rows = csv.reader(file)
    airway, mea = header.index("AWY_ID"), header.index("MIN_ENROUTE_ALT")
    with path.open("w", newline="", encoding="ascii") as file:
        changed = ([*row[:mea], "1400", *row[mea + 1 :]] if row[airway] == "V123" and row[mea] else row for row in rows)
        csv.writer(file).writerows((header, *changed))
    import_data(folder, tmp_path / "c.sqlite")
    told = messages(Flown(tmp_path / "c.sqlite")("CAM V123 ALB", altitude="5000"), "limit-doubtful")
    assert any("the MEA of 1400 ft" in one and "is below CAM, elevation 1490 ft" in one for one in told)
