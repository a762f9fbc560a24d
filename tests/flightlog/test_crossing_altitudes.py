"""Climbs laid back from a crossing altitude, whether the level changes at its point or not.

The aeroplane climbs 400 ft a mile and 600 ft a minute, as in `test_heights_flown`. 14 CFR 91.177(b): a climb to a
higher minimum "shall begin immediately after passing the point beyond which that minimum altitude applies", and where
an MCA is prescribed "the point beyond which that minimum altitude applies shall be crossed at or above the applicable
MCA".
"""

from __future__ import annotations

import pytest
from helpers.flown import Json
from helpers.folder import Folder, profile

AIRCRAFT = (
    'name = "By hand"\n[climb]\ntas_kt = 90\nrate_ft_per_min = 600\nburn_gal_per_h = 12\n'
    "[cruise]\ntas_kt = 120\nburn_gal_per_h = 9\n[descent]\ntas_kt = 120\nrate_ft_per_min = 500\nburn_gal_per_h = 6\n"
)
COMMON = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "airport XLO N46 00.00 W039 00.00 elev 1000ft\nairport XHI N46 00.00 W037 00.00 elev 1000ft\n"
    "direct QAA 270 - XLO 40nm\ndirect QCC 090 - XHI 40nm\nairway V1 QAA 090 - 270 QBB 3nm mea 3000\n"
    "airway V2 QBB 090 - 270 QCC 40nm mea 8000 mca 7000 QBB to QCC\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\nfuel 40gal\naircraft hand.toml\nrules ifr\n"
)


@pytest.fixture
def hand(folder: Folder) -> Folder:
    folder.put("hand.toml", AIRCRAFT)
    return folder


def told(found: Json, rule: str) -> list[str]:
    return [one["message"] for one in found["findings"] if one["rule"] == rule]


def test_a_climb_begun_before_a_point_at_which_the_level_does_not_change(hand: Folder) -> None:
    # 8,000 ft from QAA on; QBB, 3 NM on, at 7,000 ft: 3,000 ft up are 7.5 NM, begun 4.5 NM before QAA.
    found = hand.fly(COMMON + "altitude 4000\nroute XLO QAA/A080 V1 QBB V2 QCC XHI\n")
    assert profile(found)[:6] == [
        ("climb", 7.5, 1000, 4000),
        ("cruise", 28.0, 4000, 4000),
        ("climb", 4.5, 4000, 5800),
        ("climb", 1.5, 5800, 6400),
        ("climb", 1.5, 6400, 7000),
        ("climb", 2.5, 7000, 8000),
    ]
    assert told(found, "under-mca") == []
    assert sum(leg["time_min"] for leg in found["legs"][2:5]) == pytest.approx(5.0, abs=0.01)


def test_a_climb_that_is_in_time_is_left_as_it_is(hand: Folder) -> None:
    way = COMMON.replace("QBB 3nm", "QBB 30nm") + "altitude 4000\nroute XLO QAA/A080 V1 QBB V2 QCC XHI\n"
    assert profile(hand.fly(way))[:4] == profile(hand.fly(way.replace(" mca 7000 QBB to QCC", "")))[:4]


def test_a_climb_from_take_off_begins_no_earlier_and_says_what_is_missing(hand: Folder) -> None:
    # From 1,000 ft QBB, 13 NM after take-off, is crossed at 6,200 ft: 800 ft are missing, 1 min 20 s.
    near = COMMON.replace("XLO 40nm", "XLO 10nm") + "altitude 8000\nroute XLO QAA V1 QBB V2 QCC XHI\n"
    found = hand.fly(near)
    assert [one[3] for one in profile(found)[:3]] == [5000, 5600, 6200]
    (message,) = told(found, "under-mca")
    assert message == ("QBB is crossed at 6200 ft, below the MCA of 7000 ft toward QCC: 2 min of climbing are missing")


def test_a_level_below_the_crossing_altitude_is_not_climbed_above(hand: Folder) -> None:
    # From 4,000 to 7,000 ft at 600 ft a minute: 5 minutes.
    found = hand.fly(COMMON + "altitude 4000\nroute XLO QAA V1 QBB V2 QCC XHI\n")
    assert max(one[3] for one in profile(found)) == 4000
    (message,) = told(found, "under-mca")
    assert message == (
        "QBB is crossed at 4000 ft, below the MCA of 7000 ft toward QCC: 5 min of climbing are missing, and none above"
        " the planned 4000 is laid out"
    )


def test_a_flight_level_that_is_an_altitude_below_the_crossing_altitude_is_said_to_be_too_low(hand: Folder) -> None:
    # ICAO Doc 7488: 980 hPa stand at 920.4 ft, so FL060 is at 5,080 ft; 420 ft at 600 ft a minute are 42 seconds.
    way = COMMON.replace("mca 7000", "mca 5500") + "altitude FL060\naltimeter 980hPa\nroute XLO QAA V1 QBB V2 QCC XHI\n"
    (message,) = told(hand.fly(way), "under-mca")
    assert message == (
        "QBB is crossed at 5080 ft (FL060 at 980 hPa), below the MCA of 5500 ft toward QCC: 1 min of climbing are"
        " missing, and none above the planned FL060 is laid out"
    )


def test_a_descent_keeps_a_crossing_altitude(hand: Folder) -> None:
    # QCC must be crossed at 6,000 ft toward XHI, 10 NM on: 5,000 ft down to the field are 20 NM.
    flown = COMMON.replace("direct QCC 090 - XHI 40nm\n", "airway V3 QCC 090 - XHI 10nm mea 2000 mca 6000 QCC to XHI\n")
    flown = flown.replace("airport XHI N46 00.00 W037 00.00 elev 1000ft", "fix FIXIT N46 00.00 W037 00.00")
    flown = flown.replace("XHI", "FIXIT") + "airport XEND N46 00.00 W036 50.00 elev 1000ft\ndirect FIXIT - XEND 2nm\n"
    flown = flown.replace("mea 8000", "mea 2000")
    found = hand.fly(flown + "altitude 8000\nroute XLO QAA V1 QBB V2 QCC V3 FIXIT XEND\n")
    by_ident = {leg["to"]["ident"]: round(leg["end_altitude_ft"]) for leg in found["legs"]}
    assert by_ident["QCC"] == 6000
    assert told(found, "under-mca") == []


@pytest.mark.parametrize("mca_ft", [7000, 8000])
def test_a_level_reached_long_before_is_left_as_it_is(hand: Folder, mca_ft: int) -> None:
    # From 1,000 to 8,000 ft are 17.5 NM of the 40 to QAA.
    way = COMMON.replace("mca 7000", f"mca {mca_ft}") + "altitude 8000\nroute XLO QAA V1 QBB V2 QCC XHI\n"
    found = hand.fly(way)
    assert profile(found)[:3] == [
        ("climb", 17.5, 1000, 8000),
        ("cruise", 22.5, 8000, 8000),
        ("cruise", 1.5, 8000, 8000),
    ]
    assert profile(found) == profile(hand.fly(way.replace(f" mca {mca_ft} QBB to QCC", "")))
    assert told(found, "under-mca") == []
