"""What tells each fix of the published airways, held against the published files by a checker of its own.

See `helpers/outside.py`. The excerpt runs everywhere, the whole system where NAVLOG_SHARED_DATA names its folder.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.flown import Json
from helpers.outside import Tally, check, read, unbroken, untold
from helpers.published_flights import Flown, leg_to, messages

RECEIVERS = ["vor 1", "vor 2", "vor 1 dme 1", "vor 2 dme 1"]


def surveyed(flown: Flown, folder: Path, equipment: str) -> tuple[Tally, list[str], int]:
    """Every flight of a folder's Victor airways that can be computed: the tally, findings missing, flights."""
    tally, published, silent, flights = Tally(), read(folder), [], 0
    for found in flown.all_of(list(unbroken(folder)), f"equipment {equipment}"):
        if not found["problems"]:
            flights += 1
            check(found, published, tally)
            silent += untold(found)
    return tally, silent, flights


@pytest.mark.parametrize("equipment", RECEIVERS)
def test_every_mark_of_the_excerpt_is_that_of_the_files(fly: Flown, nasr: Path, equipment: str) -> None:
    tally, silent, flights = surveyed(fly, nasr, equipment)
    assert (tally.told, silent) == ([], [])
    assert flights > 60
    assert tally.kinds["dme" if "dme" in equipment else "radial"] > 100


@pytest.mark.parametrize("equipment", ["vor 1", "vor 2 dme 1"])
def test_every_mark_of_the_victor_system_is_that_of_the_files(
    full_file: Path, full_folder: Path, equipment: str
) -> None:
    tally, silent, flights = surveyed(Flown(full_file), full_folder, equipment)
    assert (tally.told, silent) == ([], [])
    assert flights > 1200
    assert sum(tally.kinds.values()) > 12_000


def marks(found: Json, ident: str) -> list[tuple[str, str]]:
    """The marks of a fix by station and kind."""
    return [(one["ident"], one["kind"]) for one in leg_to(found, ident)["marks"]]


def test_a_radial_along_the_leg_marks_nothing(fly: Flown) -> None:
    """FIX_NAV: INLET is CHS R-054.8 and CRE R-233.52, both along V1, and PLANN is on CRE R-233.52 alone."""
    found = fly("KIMMY V1 PLANN", altitude="6000")
    for ident in ("INLET", "PLANN"):
        assert leg_to(found, ident)["identified_by"] is None
        assert marks(found, ident) == []
    told = " ".join(fly.sheet("KIMMY V1 PLANN", altitude="6000").split())
    assert "INLET by time alone, 0:06 after KIMMY" in told
    assert "233" not in told
    assert "needle centres" not in told


def test_a_dme_tells_a_fix_that_no_radial_crosses(fly: Flown) -> None:
    """PLANN is 23.97 NM from CRE, whose NAV_BASE elevation is 26.6 ft; 6,000 ft is 0.98 NM above it."""
    found = fly("KIMMY V1 PLANN", "equipment vor 1 dme 1", altitude="6000")
    (one,) = leg_to(found, "PLANN")["marks"]
    assert (one["ident"], one["kind"], one["radial_deg"], one["published_radial_deg"]) == ("CRE", "dme", None, None)
    assert one["dme_nm"] == pytest.approx((23.97**2 + 0.983**2) ** 0.5, abs=0.01)
    assert one["cut_deg"] < 1.0
    # V1 leads from CHS to INLET: the DME of the station flown.
    assert marks(found, "INLET") == [("CHS", "dme")]


def test_a_radial_of_before_the_last_alignment_is_told_beside_what_the_needle_reads(fly: Flown) -> None:
    """FIX_NAV: STAMY is BRK R-273.42, 20.89 NM. BRK was aligned to 8E in 2020 (NAV_BASE).

    geographiclib: BRK to STAMY is 286.419 true over 20.892 NM, so the needle reads 278.419.
    """
    found = fly("FQF V95 GORJE", altitude="17000")
    (one,) = leg_to(found, "STAMY")["marks"]
    assert (one["ident"], one["kind"], one["published_radial_deg"]) == ("BRK", "radial", 273.42)
    assert one["radial_deg"] == pytest.approx(278.419, abs=0.001)
    assert leg_to(found, "STAMY")["identified_by"]["radial_deg"] == one["radial_deg"]
    (told,) = messages(found, "makeup-differs")
    assert told == "STAMY is published on BRK R-273 and lies on R-278 by its position: 5.0 degrees apart"
    sheet = " ".join(fly.sheet("FQF V95 GORJE", altitude="17000").split())
    assert "R-278 crosses (published R-273), set 278 FROM" in sheet


def test_a_make_up_that_agrees_is_told_without_a_finding(fly: Flown) -> None:
    """FIX_NAV: HOWIE is ACY R-345, which crosses V1."""
    found = fly("CRESI V1 HOWIE", altitude="12000")
    one = leg_to(found, "HOWIE")["marks"][0]
    assert (one["ident"], one["published_radial_deg"]) == ("ACY", 345.0)
    assert one["radial_deg"] == pytest.approx(345.0, abs=0.02)
    assert messages(found, "makeup-differs") == []


def test_a_localizer_of_a_stations_identifier_marks_nothing(fly: Flown) -> None:
    """FIX_NAV: STODA is 10.26 NM from the localizer SYR and 15.54 from the VORTAC; RKA R-336.28 runs along V483."""
    found = fly("SYR V483 TEBOR", "equipment vor 1 dme 1", altitude="9000")
    (one,) = leg_to(found, "STODA")["marks"]
    assert (one["ident"], one["kind"]) == ("SYR", "dme")
    assert one["dme_nm"] == pytest.approx((15.54**2 + 1.4066**2) ** 0.5, abs=0.01)
    assert marks(fly("SYR V483 TEBOR", altitude="9000"), "TEBOR") == []
