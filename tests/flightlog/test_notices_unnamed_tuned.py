"""A notice that tells a station by its name is held against every station that the flight tunes, points or not."""

from __future__ import annotations

import pytest
from helpers.noticed import flown, found

Q_LINE = "(A0300/26 NOTAMN\nQ) ZZZZ/QNVAS/IV/BO/E/000/999/{0}\nA) ZZZZ B) 2607180000 C) 2607182359\nE) {1} VOR U/S.)"

HARBOUR = 'station QHB 113.70 N46 12.30 W039 20.70 decl 15W class L dme elev 820ft name "Harbour"'
CROSS = 'station QCR 112.40 N45 57.00 W039 00.00 decl 15W class L elev 500ft name "Crossing"'
"""15 NM from QHB the airway is at N45 57.9 W039 27.0, which is 18.8 NM west of QCR: on its radial 287 by 15W."""

MIDDY = "airway V801 QHB 212 - MIDDY 15nm mea 3000 - 034 QEL 14.5nm mea 3000 cop 20 QHB"


@pytest.mark.parametrize(
    ("statements", "circle", "name"),
    [
        # QHB guides from MIDDY to the changeover point, and the flight leads to it nowhere.
        (
            (
                HARBOUR,
                "fix MIDDY N45 57.95 W039 27.00",
                MIDDY,
                "-direct QHB",
                "-airport XHAR",
                "route MIDDY V801 QEL XOLD",
            ),
            "4612N03921W025",
            "HARBOUR",
        ),
        # QCR only tells where MIDDY is.
        (
            (CROSS, "fix MIDDY QHB 212 x QCR 287", MIDDY, "route XHAR QHB V801 MIDDY V801 QEL XOLD"),
            "4557N03900W025",
            "CROSSING",
        ),
    ],
)
def test_a_station_that_guides_or_marks_alone_is_known_by_its_name(
    statements: tuple[str, ...], circle: str, name: str
) -> None:
    answer = flown(Q_LINE.format(circle, name), *statements)
    assert found(answer, "notice-not-understood") == []
    assert any("VOR out of service" in one for one in found(answer, "notice-counts"))
    # The same words of another place are of another station.
    far = flown(Q_LINE.format("3612N03921W025", name), *statements)
    assert found(far, "notice-counts") == []


@pytest.mark.parametrize(
    ("start", "counts"),
    [
        # Off at 15:10Z and landed at 15:39Z; a way to an alternate may be flown up to two hours later, and half an hour
        # is the margin: 18:09Z.
        ("1805", True),
        ("1815", False),
    ],
)
def test_the_way_to_an_alternate_is_flown_up_to_two_hours_after_the_landing(start: str, *, counts: bool) -> None:
    alternate = "alternate QEL via V801 QHB XHAR"
    answer = flown(f"!XHA 07/001 QHB NAV VOR U/S 260718{start}-2607182359", alternate)
    told = [one for one in answer.findings if one.rule == "station-out"]
    assert bool(told) is counts
    assert all(one.alternate is not None for one in told)


def test_an_obstacle_by_a_way_with_one_end_of_unknown_position_is_no_fault() -> None:
    mast = "!XHA 07/001 XHA OBST TOWER (ASR 1234567) 461320N0391400W 4600FT (900FT AGL) U/S 2607180000-2607182359"
    answer = flown(mast, "station QHB 113.70", "-direct QHB", "direct XHAR - QHB 9.6nm", "variation 13W")
    assert found(answer, "obstacle-by-notice") == []
