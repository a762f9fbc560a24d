"""What no chart says of a leg's altitudes: a digit lost, or one too many."""

from __future__ import annotations

import pytest
from helpers.judged import found

V801 = "airway V801 QHB 212 - 034 QEL 29.5nm"


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        # QHB lies at 820 ft, QEL at 410: an MEA or MOCA is 1,000 ft above the terrain (FAA Order 8260.3, ROC).
        (f"{V801} mea 300", "error: the MEA of 300 ft on V801, QHB to QEL, is below QHB, elevation 820 ft"),
        (f"{V801} mea 819", "error: the MEA of 819 ft on V801, QHB to QEL, is below QHB, elevation 820 ft"),
        (f"{V801} mea 820", None),
        (f"{V801} mea 3000 moca 240", "error: the MOCA of 240 ft on V801, QHB to QEL, is below QHB, elevation 820 ft"),
        (f"{V801} mea 3000/300", None),
        # Of 20,280 MAAs of FAA NASR 2026-05-14 none is below its MEA.
        (f"{V801} mea 3000 maa 2500", "warning: the MAA of 2500 ft on V801, QHB to QEL, is below the MEA of 3000 ft"),
        (f"{V801} mea 3000 maa 3000", None),
        # AIM 5-3-4: airways by VOR lead "up to but not including 18,000 feet MSL".
        (f"{V801} mea 30000", "warning: the MEA of 30000 ft on V801, QHB to QEL: V airways end below 18000 ft"),
        (f"{V801} mea 18000", "warning: the MEA of 18000 ft on V801, QHB to QEL: V airways end below 18000 ft"),
        (f"{V801} mea 17900", None),
        # A crossing altitude lies under the MEA ahead in 375 of 947 of FAA NASR 2026-05-14.
        (f"{V801} mea 3000 mca 2000 QHB to QEL", None),
        (
            f"{V801} mea 3000 mca 300 QHB to QEL",
            "error: the MCA of 300 ft on V801, QHB to QEL, is below QHB, elevation 820 ft",
        ),
        (f"{V801} mea 3000 mca 820 QHB to QEL", None),
        (
            "direct QHB - XHAR 9.6nm min 800",
            "error: the stated minimum of 800 ft on DCT, XHAR to QHB, is below QHB, elevation 820 ft",
        ),
    ],
)
def test_what_a_file_states_of_a_leg_is_held_against_its_own_ground(statement: str, told: str | None) -> None:
    assert found("limit-doubtful", statement) == ([] if told is None else [told])


def test_other_countries_have_v_airways_that_end_elsewhere() -> None:
    assert found("limit-doubtful", f"{V801} mea 19000", "levels icao") == []
