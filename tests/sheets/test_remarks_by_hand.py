"""The remarks under each leg and what the knee page tells at its places, every word of a flight at once.

The courses are those on the stations' charts and the compass is 13W of the model; QHB to QEL is 29.5 NM.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from helpers.judged import along, reported

from navlog.nav.record import changed
from navlog.printed.level_words import new_level
from navlog.printed.needles import needles
from navlog.printed.page import Printed
from navlog.printed.places import places
from navlog.printed.remarks import remarks
from navlog.printed.rows import rows
from navlog.resolve.route import ChangeoverKind

TO_QHB = (
    "needle 272, compass 269 in no wind", "VOR error 4.5 degrees = 0.8 NM either side at 9.6 NM from QHB",
    "at QHB the course turns left 60",
)  # fmt: skip
# tan 4.5 degrees are 0.0787: 0.8 NM at 9.6, 0.9 at 11.0 and 1.5 at 18.5.
FROM_QHB = "VOR error 4.5 degrees = 0.9 NM either side at 11.0 NM from QHB"
TO_QEL = "VOR error 4.5 degrees = 1.5 NM either side at 18.5 NM from QEL"
COP = "COP 11.0 NM from QHB (stated)"
SET_QEL = "QEL 110.20 --.- . .-.., set 214 TO"
OUT, IN, AWAY = (
    f"needle {needle}, compass {compass} in no wind"
    for needle, compass in (("212", "210"), ("214", "209"), ("126", "121"))
)
# The sample's route line writes QEL/A055.
UP = "from QEL on 5500 ft"
AT_QEL = "at QEL the course turns left 88"
TO_XOLD = (AWAY, "VOR error 4.5 degrees = 0.8 NM either side at 9.6 NM from QEL")
LIMITS = "MOCA 2400, MAA 17500"


def told(*changes: str) -> list[tuple[str, ...]]:
    printed = rows(reported(*changes).log)
    return [tuple(one.replace("\xa0", " ") for one in remarks(printed, index)) for index in range(len(printed))]


def knee(*changes: str) -> list[tuple[str, tuple[str, ...], tuple[str, ...]]]:
    """Place, how it is told and what comes on the way, of each row of the knee page."""
    return [
        (one.place, (*one.landed, *one.at), tuple(tick.replace("\xa0", " ") for tick in one.ticks))
        for one in needles(reported(*changes).log)
    ]


@pytest.mark.parametrize(
    ("stop", "words"),
    [
        # Without a time a stop counts as none, as a touch and go does.
        ("land", "0:00 stop (no time on the ground is counted), no fuel taken, taxi fuel there not counted"),
        ("land 0min fuel 30gal", "0:00 stop (no time on the ground is counted), 30.0 gal at take-off, after taxi"),
        ("land 1min", "0:01 stop, no fuel taken, taxi fuel there not counted"),
    ],
)
def test_a_stop_without_a_time_says_that_none_is_counted(stop: str, words: str) -> None:
    assert f"land at XOLD, {words}" in told(f"route XHAR QHB V801 QEL XOLD {stop} QEL")[3]


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        # 11 NM at some 104 kt over the ground are 6 minutes.
        ((), [TO_QHB, (OUT, LIMITS, FROM_QHB, f"{COP}, by time 0:06 after QHB: {SET_QEL}"),
              (IN, TO_QEL, UP, AT_QEL), TO_XOLD]),
        # With a DME in the aircraft and at the station the place is read there.
        (
            ("equipment vor 1 dme 1",),
            [TO_QHB, (OUT, LIMITS, FROM_QHB, f"{COP}: {SET_QEL}"), (IN, TO_QEL, UP, AT_QEL), TO_XOLD],
        ),
        # After a hold the turn is told behind it.
        (
            ("hold QEL 6min",),
            [TO_QHB, (OUT, LIMITS, FROM_QHB, f"{COP}, by time 0:06 after QHB: {SET_QEL}"), (IN, TO_QEL),
             ("hold at QEL for 0:06 at 4500 ft", UP, AT_QEL), TO_XOLD],
        ),
        (
            ("route XHAR QHB V801 QEL/A055 XOLD land 20min fuel 30gal QEL",),
            [TO_QHB, (OUT, LIMITS, FROM_QHB, f"{COP}, by time 0:06 after QHB: {SET_QEL}"),
             (IN, TO_QEL, UP, AT_QEL),
             (*TO_XOLD, "land at XOLD, 0:20 stop, 30.0 gal at take-off, after taxi"),
             ("needle 306, compass 301 in no wind", TO_XOLD[1])],
        ),
        # Against a wind that cannot be flown no time is known, and the turn and the courses still are.
        (
            ("wind 230/150",),
            [TO_QHB, (OUT, LIMITS, FROM_QHB, f"{COP}, by time ? after QHB: {SET_QEL}"),
             (IN, TO_QEL, UP, AT_QEL), TO_XOLD],
        ),
        # The card of half the rose says nothing of these courses.
        (
            ("aircraft half_card.toml", "-tas", "-burn"),
            [(TO_QHB[0].replace("269", "?"), *TO_QHB[1:]),
             (OUT.replace("210", "?"), LIMITS, FROM_QHB, f"{COP}, by time 0:06 after QHB: {SET_QEL}"),
             (IN.replace("209", "?"), TO_QEL, UP, AT_QEL), (AWAY.replace("121", "?"), TO_XOLD[1])],
        ),
        (
            along("QHB 212 - 032 QEL 29.5nm mea 3000 gap 6nm"),
            [("signal gap of 6 NM: without a signal hold 215",
              "COP 14.8 NM from QHB (midpoint), by time 0:09 after QHB: QEL 110.20 --.- . .-.., set 212 TO"), ()],
        ),
        (
            along("QHB - QEL 29.5nm mea 3000"),
            [("COP 14.8 NM from QHB (midpoint), by time ? after QHB: QEL 110.20 --.- . .-.., set ? TO",), ()],
        ),
        (
            ("direct QEL - XOLD 0.8nm", "airport XOLD N45 44.50 W039 32.50 elev 350ft"),
            [TO_QHB, (OUT, LIMITS, FROM_QHB, f"{COP}, by time 0:06 after QHB: {SET_QEL}"),
             (IN, TO_QEL, UP, "at QEL the course turns left 156"), ("beside QEL: no course to set",)],
        ),
    ],
    ids=["base", "DME", "hold", "landing", "unflyable", "card", "gap", "no courses", "beside"],
)  # fmt: skip
def test_every_remark_of_a_flight(changes: tuple[str, ...], expected: list[tuple[str, ...]]) -> None:
    assert told(*changes) == expected


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ((), [("QHB", (), ()), ("COP", ("at: 11.0 NM from QHB, by time 0:06 after QHB",), ())]),
        (("equipment vor 1 dme 1",), [("QHB", (), ()), ("COP", ("at: QHB 11.0 DME",), ())]),
        (("hold QEL 6min",), [("QEL", (), ("HOLD 0:06",)), ("QEL", (), ())]),
        (
            ("route XHAR QHB V801 QEL/A055 XOLD land 20min fuel 30gal QEL", "off 15:20Z"),
            [("XOLD", ("LAND, stop 0:20, off 1609 with 30.0 gal, after taxi",), ())],
        ),
        # 6 NM at 99 kt are 3.6 minutes; where up to QEL the gap lies is not stated, and on both rows it would be two.
        (
            along("QHB 212 - 032 QEL 29.5nm mea 3000 gap 6nm"),
            [
                ("QHB", (), ("GAP 6 NM up to QEL HDG 215 3.6 min",)),
                ("COP", ("at: 14.8 NM from QHB, by time 0:09 after QHB",), ()),
            ],
        ),
        (along("QHB 212 - 032 QEL 29.5nm mea 3000 gap"), [("QHB", (), ("GAP up to QEL HDG 215",))]),
    ],
    ids=["base", "DME", "hold", "landing", "gap", "gap of unknown length"],
)
def test_what_the_knee_page_tells(
    changes: tuple[str, ...], expected: list[tuple[str, tuple[str, ...], tuple[str, ...]]]
) -> None:
    found = knee(*changes)
    for one in expected:
        assert one in found


def test_the_minimum_of_reception_at_a_fix_is_told_there() -> None:
    """AIM 5-3-4: below the MRA the signals that define a fix by cross radial may not be received."""
    log = reported().log
    limits = [changed(leg.stretch.limits, mra_end_ft=6_000.0) for leg in log.legs]
    legs = [changed(leg, stretch=changed(leg.stretch, limits=one)) for leg, one in zip(log.legs, limits, strict=True)]
    printed = rows(changed(log, legs=tuple(legs)))
    found = [[one for one in remarks(printed, index) if one.startswith("MRA")] for index in range(len(printed))]
    # The first leg of V801 ends at the changeover point, on the stretch.
    at = [[f"MRA 6000 at {row.leg.end.name} by cross radial"] if row.leg.ends_stretch else [] for row in printed]
    assert found == at
    assert at[1] == []


def test_a_changeover_point_that_nobody_knows_is_said_to_be_unknown_and_has_no_distance_on_a_map() -> None:
    log = reported().log
    unknown = [
        leg
        if (one := leg.part.changeover) is None
        else changed(leg, part=changed(leg.part, changeover=changed(one, kind=ChangeoverKind.UNKNOWN)))
        for leg in log.legs
    ]
    log = changed(log, legs=tuple(unknown))
    printed = rows(log)
    (index,) = [number for number, row in enumerate(printed) if row.leg.changeover is not None]
    assert f"changeover point not known: {SET_QEL}" in [one.replace("\xa0", " ") for one in remarks(printed, index)]
    (place,) = [one for one in places(log) if one.kind == "changeover"]
    assert (place.label, place.about) == ("COP", "")


@pytest.mark.parametrize(
    ("written", "told_there"),
    [
        ("QEL/N0095A055", "5500 ft, TAS 95 kt"),
        ("QEL/A055", "5500 ft"),
        ("QEL/N0095A045", "TAS 95 kt"),
        ("QEL/N0110A045", None),
    ],
)
def test_the_level_and_airspeed_of_the_route_line_are_told_where_they_change(
    written: str, told_there: str | None
) -> None:
    log = reported(f"route XHAR QHB V801 {written} XOLD").log
    assert [new_level(log, before, leg) for before, leg in pairwise(log.legs)] == [None, None, told_there]


def test_the_cruise_in_the_head_of_the_knee_page_is_that_of_its_first_leg_and_of_its_last() -> None:
    report = reported("route XHAR QHB V801 QEL/N0095A055 XOLD")
    assert "wind 230/12T TAS 110 to 95" in repr(Printed.of(report).head)
    assert "wind 230/12T TAS 110'" in repr(Printed.of(reported()).head)
