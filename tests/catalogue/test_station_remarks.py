"""Unusable sectors out of remarks; the wording is that of FAA NASR NAV_RMK effective 2026-05-14."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.catalogue.queries import Catalogue
from navlog.catalogue.station_remarks import read_unusable
from navlog.nav.sectors import Sector

Told = tuple[float, float, float | None, float | None, str]


def told(remark: str) -> list[Told]:
    return [sector[:5] for sector in read_unusable(remark)[0]]


@pytest.mark.parametrize(
    ("remark", "sectors"),
    [
        ("VOR UNUSBL 150-160; 302-346.", [(150, 160, None, None, "vor"), (302, 346, None, None, "vor")]),
        (
            "DME UNUSBL 270-290 BYD 10 NM; 305-340 BYD 20 NM BLW 1900 FT.",
            [(270, 290, 10, None, "dme"), (305, 340, 20, 1900, "dme")],
        ),
        ("VOR UNUSBL 346-012 BYD 40 NM.", [(346, 12, 40, None, "vor")]),
        ("DME UNUSBL BYD 10 NM.", [(0, 360, 10, None, "dme")]),
        ("DME UNUSBL BYD 27 NM BLO 3,500 FT.", [(0, 360, 27, 3500, "dme")]),
        ("VOR AZIMUTH & DME UNUSBL 040-070 BYD 18 NM BLO 2000 FT.", [(40, 70, 18, 2000, "both")]),
        ("VOR/DME UNUSABLE 090-110 BYD 30 NM BELOW 5000 FT", [(90, 110, 30, 5000, "both")]),
        ("VOR PORTION UNUSBL 325-025 ALL ALTS.", [(325, 25, None, None, "vor")]),
        ("VOR UNUSBL 257-262 NM BYD 63 NM", [(257, 262, 63, None, "vor")]),
        ("VOR UNUSBL180-225 BYD 40 NM", [(180, 225, 40, None, "vor")]),
        ("VOR UNUSABL 172 - 192 BYD 25 NM BLO 2400'", [(172, 192, 25, 2400, "vor")]),
        ("VOR UNUSBL 056-095 BLW 2000 FT; 174", [(56, 95, None, 2000, "vor"), (174, 174, None, None, "vor")]),
        ("DME UNUSBL 105-115, 115-155 BYD 27 NM", [(105, 115, None, None, "dme"), (115, 155, 27, None, "dme")]),
    ],
)
def test_a_remark_that_is_told_whole(remark: str, sectors: list[Told]) -> None:
    assert told(remark) == sectors
    assert read_unusable(remark)[1]


@pytest.mark.parametrize(
    ("remark", "sectors"),
    [
        # Within, instead of beyond: no sector of ours says that.
        ("VOR UNUSBL 109-121; 121-131 WI 30 NM BLW 9900 FT", [(109, 121, None, None, "vor")]),
        # The second clause goes on with the radials of the first; it must not become all round.
        ("VOR UNUSBL 341-029 WI 10 NM BLW 4000 FT; BYD 10 NM.", []),
        # True bearings, of a station that has no radials.
        ("DME UNUSBL 040T-130T BYD 30 NM BLW 17800 FT", []),
        ("VOR UNUSBL 131-141 BYD 40 NM BLD 8000 FT; 131-141 BYD 46 NM", [(131, 141, 46, None, "vor")]),
        ("TACAN AZM UNUSBL 270-290 BYD 10NM", []),
        ("NDB UNUSBL BYD 15 NM.", []),
        ("VOT UNUSABLE NORTH OF RWY 08/26.", []),
        ("DME UNUSBL UFN.", []),
        ("VOR UNUSBL 045-400", []),
        ("HIWAS", []),
    ],
)
def test_what_is_not_read_leaves_the_remark_to_be_shown(remark: str, sectors: list[Told]) -> None:
    assert told(remark) == sectors
    assert not read_unusable(remark)[1]


@given(st.text(alphabet="VORDME UNUSBL0123456789-;,.BYDNTFT", max_size=60))
def test_no_text_breaks_the_reading(remark: str) -> None:
    for start, end, *_ in read_unusable(f"VOR UNUSBL {remark}")[0]:
        assert 0.0 <= start <= 360.0
        assert 0.0 <= end <= 360.0


def test_a_station_has_its_sectors_and_the_remarks_that_say_more(catalogue: Catalogue, day: date) -> None:
    (acy,) = catalogue.stations("ACY", day)
    assert Sector(270.0, 290.0, 10.0, None, "dme", "270-290 BYD 10 NM") in acy.unusable
    assert Sector(305.0, 340.0, None, None, "vor", "305-340") in acy.unusable
    assert len(acy.unusable) == 10
    assert acy.remarks == ("TACAN AZM UNUSBL 270-290 BYD 10NM; 305-340 BYD 20 NM BLW 1900 FT.",)
