"""Limits missed in a climb or descent on the way, at heights worked by hand.

The aeroplane climbs 400 ft a mile, 600 ft a minute at 90 kt, and descends 250 ft a mile, 500 ft a minute at 120 kt, in
calm air.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.flown import Json
from helpers.folder import Folder

AIRCRAFT = (
    'name = "By hand"\n[climb]\ntas_kt = 90\nrate_ft_per_min = 600\nburn_gal_per_h = 12\n'
    "[cruise]\ntas_kt = 120\nburn_gal_per_h = 9\n[descent]\ntas_kt = 120\nrate_ft_per_min = 500\nburn_gal_per_h = 6\n"
)
COMMON = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "date 2026-07-18\noff 15:00Z\nvariation 0E\nwind calm\nfuel 40gal\naircraft hand.toml\nrules ifr\n"
)


@pytest.fixture
def hand(tmp_path: Path) -> Folder:
    """A folder with the aeroplane."""
    folder = Folder(tmp_path)
    folder.put("hand.toml", AIRCRAFT)
    return folder


def told(found: Json, rule: str) -> list[tuple[int, str]]:
    return [(one["leg"], one["message"]) for one in found["findings"] if one["rule"] == rule]


def test_a_climb_that_ends_below_a_moca_without_an_mea_is_told(hand: Folder) -> None:
    # From 3,000 ft at QBB 10 NM to QCC are 4,000 ft: 7,000 ft there, under the MOCA of 8,000.
    found = hand.fly(
        COMMON + "altitude 3000\nairway V1 QAA 090 - 270 QBB 20nm mea 3000\n"
        "airway V2 QBB 090 - 270 QCC 10nm moca 8000\nroute QAA V1 QBB/A090 V2 QCC\n"
    )
    last = found["legs"][-1]
    assert (last["phase"], last["end_altitude_ft"]) == ("climb", pytest.approx(7000))
    lost = "clearance of the terrain is not assured"
    assert told(found, "under-mea") == [
        (last["number"], f"7000 ft is below the MOCA of 8000 ft on V2, no MEA given: {lost}")
    ]


def test_of_a_descent_toward_the_vor_the_height_beyond_22_nm_is_told(hand: Folder) -> None:
    # FOSSE is 26 NM from QBB: the descent from 7,000 ft passes 22 NM 4 NM on, 1,000 ft lower, and ends at 4,000 ft.
    found = hand.fly(
        COMMON + "altitude 7000\nfix FOSSE QBB 270 26nm\n"
        "airway V1 QAA 090 - FOSSE 34nm mea 6500 moca 3000 - 270 QBB 26nm mea 6500 moca 3000 cop 30 QAA\n"
        "route QAA V1 FOSSE/A040 V1 QBB\n"
    )
    (down,) = (leg for leg in found["legs"] if leg["phase"] == "descent")
    assert (down["start_altitude_ft"], down["end_altitude_ft"]) == pytest.approx((7000, 4000))
    assert told(found, "moca-range") == [
        (down["number"], "6000 ft is below the MEA of 6500 ft, 4.0 NM of it farther than 22 NM from the VOR")
    ]


def test_a_radial_that_is_unusable_at_the_height_of_its_fix_is_told_of_a_descent_to_it(hand: Folder) -> None:
    # From 7,000 ft at QAA 10 NM to FOSSE are 2,500 ft down: 4,500 ft, where the 350 of QCC is unusable below 5,000.
    found = hand.fly(
        COMMON.replace("115.00 decl 0E", "115.00 decl 0E unusable 340-360 below 5000ft")
        + "altitude 7000\nfix FOSSE QBB 270 x QCC 350\nairway V1 QCC 045 - 225 QAA 20nm mea 3000\n"
        "airway V2 QAA 090 - FOSSE 10nm mea 3000 - 270 QBB 20nm mea 3000 cop 15 QAA\n"
        "route QCC V1 QAA/A040 V2 FOSSE V2 QBB\n"
    )
    (down,) = (leg for leg in found["legs"] if leg["phase"] == "descent" and leg["to"]["ident"] == "FOSSE")
    assert down["end_altitude_ft"] == pytest.approx(4500)
    said = "QCC is unusable on radials 340-360 below 5000 ft; radial 350 is used"
    assert told(found, "unusable-sector") == [(down["number"], said)]


def test_a_descent_that_begins_above_an_maa_is_above_it(hand: Folder) -> None:
    # The change of level begins at QBB, beyond which the MAA holds.
    found = hand.fly(
        COMMON + "altitude 7000\nairway V1 QAA 090 - 270 QBB 20nm mea 3000\n"
        "airway V2 QBB 090 - 270 QCC 30nm mea 3000 maa 5000\nroute QAA V1 QBB/A040 V2 QCC\n"
    )
    (down,) = (leg["number"] for leg in found["legs"] if leg["phase"] == "descent")
    assert told(found, "over-maa") == [(down, "7000 ft is above the MAA of 5000 ft")]
