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
        # A MOCA is 1,000 ft above obstacles (FAA Order 8260.3); the least of NASR is 967 above its station: HGO, V263.
        (
            f"{V801} mea 820",
            "warning: the MEA of 820 ft on V801, QHB to QEL, is only 0 ft above QHB, elevation 820 ft",
        ),
        (
            f"{V801} mea 1769",
            "warning: the MEA of 1769 ft on V801, QHB to QEL, is only 949 ft above QHB, elevation 820 ft",
        ),
        (f"{V801} mea 1770", None),
        (
            f"{V801} mea 3000 moca 870",
            "warning: the MOCA of 870 ft on V801, QHB to QEL, is only 50 ft above QHB, elevation 820 ft",
        ),
        (f"{V801} mea 3000 moca 1800", None),
        (f"{V801} maa 750", "error: the MAA of 750 ft on V801, QHB to QEL, is below QHB, elevation 820 ft"),
        (
            f"{V801} maa 1750",
            "warning: the MAA of 1750 ft on V801, QHB to QEL, is only 930 ft above QHB, elevation 820 ft",
        ),
        (f"{V801} mea 3000 mca 1770 QHB to QEL", None),
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
        (
            f"{V801} mea 3000 mca 820 QHB to QEL",
            "warning: the MCA of 820 ft on V801, QHB to QEL, is only 0 ft above QHB, elevation 820 ft",
        ),
        ("direct QHB - XHAR 9.6nm min 900", None),
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


@pytest.mark.parametrize(
    ("mra_ft", "told"), [(300, "is below QHB"), (870, "is only 50 ft above QHB"), (1770, None), (6000, None)]
)
def test_a_reception_altitude_lies_above_the_station_of_its_leg(mra_ft: int, told: str | None) -> None:
    """Of 181 MRAs beside a station of FAA NASR 2026-05-14 the least is 1,914 ft above it (OHGEE on V175)."""
    lines = found(
        "limit-doubtful",
        f"fix MARSH N46 04.00 W039 24.23 mra {mra_ft}",
        "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000",
    )
    expected = f"warning: the MRA of {mra_ft} ft on V801, QHB to MARSH, {told}, elevation 820 ft"
    assert lines == ([] if told is None else [expected])
