"""The altitude without radio under IFR.

The third example of AIM 6-4-1: "The MEA between a and b: 5,000 feet. The MEA between b and c: 5,000 feet. The MEA
between c and d: 11,000 feet. The MEA between d and e: 7,000 feet", 6,000 ft assigned and 8,000 ft to be expected at b:
6,000 ft to b, 8,000 ft to c, 11,000 ft from c to d, and from d on 8,000 ft.
"""

from __future__ import annotations

from helpers.flown import flight, navlog

AIM = (
    "".join(f"station {ident} 11{n}.00 decl 0E\n" for n, ident in enumerate(("QAA", "QBB", "QCC", "QDD", "QEE"), 1))
    + "airway V1 QAA 090 - 270 QBB 30nm mea 5000 090 - 270 QCC 30nm mea 5000 090 - 270 QDD 30nm mea 11000\n"
    "   090 - 270 QEE 30nm mea 7000\n"
    "date 2026-07-18\nvariation 0E\nwind calm\ntas 120kt\naltitude 6000\nroute QAA V1 QBB/A080 V1 QEE\n"
)
KEYS = ("from", "to", "planned_ft", "minimum_ft", "altitude_ft")


def test_the_example_of_the_aim() -> None:
    told = [tuple(one[key] for key in KEYS) for one in flight(AIM + "rules ifr\n")["lost_communications"]]
    assert told == [
        ("QAA", "QBB", 6000, 5000, 6000),
        ("QBB", "QCC", 8000, 5000, 8000),
        ("QCC", "QDD", 8000, 11000, 11000),
        ("QDD", "QEE", 8000, 7000, 8000),
    ]


def test_the_planning_sheet_tells_it_part_by_part() -> None:
    printed = " ".join(navlog("log", "-", "--format", "planning", typed=AIM + "rules ifr\n").out.split())
    for told in (
        "NO RADIO: QAA to QBB 6000 ft (as planned)",
        "NO RADIO: QBB to QCC 8000 ft (as planned)",
        "NO RADIO: QCC to QDD 11000 ft (MEA)",
        "NO RADIO: QDD to QEE 8000 ft (as planned)",
    ):
        assert told in printed


def test_neighbours_of_one_altitude_stand_together_and_an_unknown_minimum_is_said() -> None:
    text = AIM.replace("mea 11000", "mea 5000").replace(" mea 7000", "").replace("QBB/A080 V1 QEE", "QEE")
    printed = " ".join(navlog("log", "-", "--format", "planning", typed=text + "rules ifr\n").out.split())
    assert "NO RADIO: QAA to QDD 6000 ft (as planned)" in printed
    assert "NO RADIO: QDD to QEE 6000 ft (as planned); no minimum is known here" in printed


def test_a_level_is_compared_as_the_altitude_that_it_is() -> None:
    # FL080 at 980 hPa is 7,080 ft, below an MEA of 7,500 ft; at 1040 hPa it is above.
    text = AIM.replace("mea 7000", "mea 7500").replace("A080", "F080") + "rules ifr\n"
    assert flight(text + "altimeter 980hPa\n")["lost_communications"][-1]["altitude_ft"] == 7500
    assert flight(text + "altimeter 1040hPa\n")["lost_communications"][-1]["altitude_ft"] > 8700
    sheet = navlog("log", "-", "--format", "planning", typed=text + "altimeter 1040hPa\n").out
    assert "QDD to QEE FL080 (as planned)" in sheet


def test_vfr_lands_as_soon_as_practicable() -> None:
    # 14 CFR 91.185(b).
    assert flight(AIM)["lost_communications"] == []
    assert "NO RADIO" not in navlog("log", "-", "--format", "planning", typed=AIM).out
