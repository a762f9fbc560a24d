"""What a file's airway says otherwise than the published one of its name, worked from the altitudes of both.

The published V801 leads from QAA over MIDDL to QBB; a file states one piece of 30 NM between the two stations. Of its
minimums the highest counts there and of its maximums the lowest, each in its direction.
"""

from __future__ import annotations

from typing import Any

import pytest

from navlog.nav.chart import Airway, BothWays, ChangeoverAt, CrossingAltitude, Segment
from navlog.nav.record import changed
from navlog.resolve.published import _airway_differences

FIRST = Segment(
    "QAA",
    "MIDDL",
    mea=BothWays(3000.0, 4000.0),
    moca=BothWays(2000.0, 2000.0),
    maa=BothWays(17500.0, 17500.0),
    crossings=(
        CrossingAltitude(5500.0, "QAA", None),
        CrossingAltitude(6000.0, "QAA", "MIDDL"),
        CrossingAltitude(7000.0, "MIDDL", "QAA"),
        CrossingAltitude(9000.0, "QAA", "MIDDL", turning=True),
    ),
    changeovers=(ChangeoverAt(11.0, "QAA", "QBB"),),
)
SECOND = Segment(
    "MIDDL", "QBB", mea=BothWays(5000.0, 4500.0), moca=BothWays(2500.0, 2500.0), maa=BothWays(15000.0, 15000.0)
)
PUBLISHED = Airway("V801", ("QAA", "MIDDL", "QBB"), (FIRST, SECOND))
MCA = CrossingAltitude(6000.0, "QAA", "QBB")
OWN = Segment(
    "QAA",
    "QBB",
    distance_nm=30.0,
    mea=BothWays(5000.0, 4500.0),
    crossings=(MCA,),
    changeovers=(ChangeoverAt(11.0, "QAA"),),
)
"""As published: MOCA and MAA that the file leaves out are not missed."""
_COP = "V801 QAA to QBB: the changeover point is"


def told(own: Segment, *published: Airway) -> list[str]:
    return list(_airway_differences(Airway("V801", ("QAA", "QBB"), (own,)), published or (PUBLISHED,)))


@pytest.mark.parametrize(
    ("stated", "differences"),
    [
        ({}, []),
        ({"mea": BothWays(4500.0, 4500.0)}, ["QAA to QBB has MEA 4500 in the file and 5000 as published"]),
        ({"mea": BothWays(5000.0, 4000.0)}, ["QBB to QAA has MEA 4000 in the file and 4500 as published"]),
        (
            {"mea": BothWays()},
            [
                "QAA to QBB has no MEA in the file and 5000 as published",
                "QBB to QAA has no MEA in the file and 4500 as published",
            ],
        ),
        ({"moca": BothWays(2500.0, 2500.0)}, []),
        # Told once where it is the same both ways.
        ({"moca": BothWays(2400.0, 2400.0)}, ["QAA to QBB has MOCA 2400 in the file and 2500 as published"]),
        ({"maa": BothWays(15000.0, 15000.0)}, []),
        ({"maa": BothWays(17500.0, 17500.0)}, ["QAA to QBB has MAA 17500 in the file and 15000 as published"]),
        ({"crossings": ()}, ["QAA to QBB has no MCA in the file and 6000 as published"]),
        (
            {"crossings": (changed(MCA, altitude_ft=5000.0),)},
            ["QAA to QBB has MCA 5000 in the file and 6000 as published"],
        ),
        # At the other end the file's own is none that is published, and at MIDDL nothing is asked.
        ({"crossings": (MCA, CrossingAltitude(8000.0, "QBB", "QAA"))}, []),
    ],
)
def test_altitudes_are_held_against_the_binding_one_of_each_direction(
    stated: dict[str, Any], differences: list[str]
) -> None:
    assert told(changed(OWN, **stated)) == [f"V801 {one}" for one in differences]


@pytest.mark.parametrize(
    ("changeovers", "length_nm", "ours"),
    [
        # 11 NM from QAA are 19 from QBB; whole miles are published, so a mile is no difference.
        ((ChangeoverAt(12.0, "QAA"),), 30.0, None),
        ((ChangeoverAt(12.1, "QAA"),), 30.0, "12.1 NM from QAA"),
        ((ChangeoverAt(19.0, "QBB"),), 30.0, None),
        ((ChangeoverAt(18.0, "QBB"),), 30.0, None),
        ((ChangeoverAt(17.0, "QBB"),), 30.0, "17.0 NM from QBB"),
        ((ChangeoverAt(11.0, "QBB"),), 30.0, "11.0 NM from QBB"),
        # Without a length the two ends cannot be compared.
        ((ChangeoverAt(11.0, "QBB"),), None, None),
        ((), 30.0, "not stated"),
    ],
)
def test_a_changeover_point_is_the_same_from_whichever_end_it_is_measured(
    changeovers: tuple[ChangeoverAt, ...], length_nm: float | None, ours: str | None
) -> None:
    expected = [] if ours is None else [f"{_COP} {ours} in the file and 11.0 NM from QAA as published"]
    assert told(changed(OWN, changeovers=changeovers, distance_nm=length_nm)) == expected


def test_one_between_other_stations_and_an_airway_elsewhere_say_nothing() -> None:
    other = changed(FIRST, changeovers=(ChangeoverAt(11.0, "QAA", "QCC"),))
    assert told(changed(OWN, changeovers=()), changed(PUBLISHED, segments=(other, SECOND))) == []
    away = Airway("V801", ("QCC", "QBB"), (Segment("QCC", "QBB", mea=BothWays(9000.0, 9000.0)),))
    low = changed(OWN, mea=BothWays(4500.0, 4500.0))
    assert told(low, away) == []
    lower = ["V801 QAA to QBB has MEA 4500 in the file and 5000 as published"]
    assert told(low, away, PUBLISHED) == lower
    # Of two locations that both hold the points the first is meant.
    assert told(low, PUBLISHED, changed(PUBLISHED, location="A")) == lower


def test_a_file_that_writes_the_airway_the_other_way_is_compared_alike() -> None:
    own = changed(OWN.reversed(), crossings=(MCA,), mea=BothWays(4000.0, 5000.0))
    found = list(_airway_differences(Airway("V801", ("QBB", "QAA"), (own,)), (PUBLISHED,)))
    assert found == ["V801 QBB to QAA has MEA 4000 in the file and 4500 as published"]
