"""Radials that do not fit together, at and one degree beyond each limit; every figure is a difference of whole degrees.

The limits are those that `rules/needle.py` gives with their sources: 10 degrees between true courses of one line, 20
between magnetic ones, 8 between needle and leg, 90 and 150 of a turn, 20 about the opposite direction.
"""

from __future__ import annotations

import pytest
from helpers.judged import along, found

NORTHS = ("station QHB 113.70 decl 15W", "station QEL 110.20 decl {}")


def by(rule: str, *flight: str) -> list[str]:
    return [one.partition(": ")[2] for one in found(rule, *flight)]


@pytest.mark.parametrize(
    ("north", "inbound", "told"),
    [
        # 212 out at 15W is 197 true; the inbound radial points back: 032 at 5W is 212 - 5 = 207 true, 10 apart.
        ("5W", 32, None),
        ("4W", 32, "outbound QHB 212 (15W) is 197 true and inbound QEL 032 (4W) is 208 true"),
        ("25W", 32, None),
        ("26W", 32, "outbound QHB 212 (15W) is 197 true and inbound QEL 032 (26W) is 186 true"),
        ("true", 27, None),
        ("true", 28, "outbound QHB 212 (15W) is 197 true and inbound QEL 028 (true) is 208 true"),
        # 20 degrees between the radials as printed are still put down to the norths, 21 not.
        ("15W", 52, "outbound QHB 212 (15W) is 197 true and inbound QEL 052 (15W) is 217 true"),
        ("15W", 53, "outbound 212 and inbound 053 do not lie on one line"),
    ],
)
def test_with_both_norths_known_true_courses_are_compared(north: str, inbound: int, told: str | None) -> None:
    first, second = NORTHS
    said = by("radials-bent", *along(f"QHB 212 - {inbound:03d} QEL 29.5nm mea 3000", first, second.format(north)))
    assert [one.removesuffix(": they do not lie on one line") for one in said] == ([] if told is None else [told])


@pytest.mark.parametrize(
    ("stations", "inbound", "told"),
    [
        # The other station's 15W, or the stated 13W, stands in for the north that is not known: 2 degrees apart.
        (("station QHB 113.70 decl 15W", "-variation"), 52, False),
        (("station QHB 113.70 decl 15W", "-variation"), 53, True),
        (("station QHB 113.70 decl 15W",), 50, False),
        (("station QHB 113.70 decl 15W",), 51, True),
        # True north on the one side and no north on the other cannot be compared.
        (("station QHB 113.70 decl true", "-variation"), 100, False),
        (("station QHB 113.70 decl true",), 100, True),
    ],
)
def test_a_north_that_is_not_known_is_stood_in_for(stations: tuple[str, ...], inbound: int, told: bool) -> None:
    assert bool(by("radials-bent", *along(f"QHB 212 - {inbound:03d} QEL 29.5nm mea 3000", *stations))) is told


@pytest.mark.parametrize(
    ("inbound", "rule"),
    [(192, "radials-bent"), (193, "radial-reversed"), (231, "radial-reversed"), (232, "radials-bent")],
)
def test_a_pair_within_20_degrees_of_one_radial_is_that_radial_twice(inbound: int, rule: str) -> None:
    flight = along(f"QHB 212 - {inbound:03d} QEL 29.5nm mea 3000")
    assert [bool(by(one, *flight)) for one in ("radials-bent", "radial-reversed")] == [
        rule == "radials-bent",
        rule == "radial-reversed",
    ]
    if rule == "radial-reversed":
        assert by(rule, *flight) == [
            f"outbound 212 and inbound {inbound:03d} are the same radial twice: one of them is the inbound course, not"
            " the radial"
        ]


@pytest.mark.parametrize(
    ("inbound", "rule", "told"),
    [
        # Out on 212; the reciprocal of the inbound radial is the course after the bend.
        (122, None, ""),
        (123, "radials-bent", "a turn of 91 degrees"),
        (301, "radials-bent", "a turn of 91 degrees"),
        (182, "radials-bent", "a turn of 150 degrees"),
        (183, "radial-reversed", "the same radial twice"),
    ],
)
def test_a_way_that_bends_once_turns_by_no_more_than_airways_do(inbound: int, rule: str | None, told: str) -> None:
    chart = f"QHB 212 - LAKER 12nm mea 3000 turn - {inbound:03d} QEL 17.5nm mea 3000"
    flight = along(chart, "fix LAKER QHB 212 12nm")
    said = {one: by(one, *flight) for one in ("radials-bent", "radial-reversed")}
    assert {one for one, messages in said.items() if messages} == ({rule} if rule else set())
    if rule:
        (message,) = said[rule]
        assert told in message


@pytest.mark.parametrize(
    ("outbound", "rule", "turn_deg"),
    [
        # Arriving at QMM on 212, the reciprocal of its 032, and leaving on the outbound radial.
        (122, None, 90),
        (121, "radials-bent", 91),
        (303, "radials-bent", 91),
        (62, "radials-bent", 150),
        (61, "radial-reversed", 151),
        (32, "radial-reversed", 180),
    ],
)
def test_an_airway_turns_over_a_station_by_no_more_than_airways_do(
    outbound: int, rule: str | None, turn_deg: int
) -> None:
    back = (outbound + 180) % 360
    chart = f"QHB 212 - 032 QMM 20nm mea 3000 {outbound:03d} - {back:03d} QEL 20nm mea 3000"
    flight = along(chart, "station QMM 115.00", "route QHB V801 QMM V801 QEL")
    said = {one: by(one, *flight) for one in ("radials-bent", "radial-reversed")}
    assert {one for one, messages in said.items() if messages} == ({rule} if rule else set())
    if rule:
        (message,) = said[rule]
        assert message.startswith(f"V801 turns by {turn_deg} degrees at QMM (QMM 032 inbound, QMM {outbound:03d} outb")


@pytest.mark.parametrize(
    ("declination", "radial", "told"),
    [
        # From UPPER due south to LAKER; QSK lies 40 NM from LAKER on 008 true, so that the chart's 188 fits its place,
        # and 11 NM from UPPER, which lies on another radial of it.
        ("decl 0E", 188, ""),
        ("decl 0E", 189, "leads 189 true and the leg 180 true: 9 degrees apart"),
        ("decl 15W", 203, ""),
        ("decl 15W", 204, "leads 189 true and the leg 180 true: 9 degrees apart"),
    ],
)
def test_a_needle_leads_within_8_degrees_of_its_leg(declination: str, radial: int, told: str) -> None:
    flight = (
        "fix UPPER N46 00.00 W039 00.00",
        "fix LAKER N45 30.00 W039 00.00",
        f"station QSK 112.40 N46 09.61 W038 51.99 {declination}",
        f"airway V801 UPPER - LAKER 30nm mea 3000 on QSK {radial:03d}",
        "variation 13W",
        "route UPPER V801 LAKER",
    )
    said = by("needle-off-course", *flight)
    assert len(said) == bool(told)
    assert all(told in one for one in said)


def test_how_far_a_charted_radial_is_off_is_told_without_its_sign() -> None:
    flight = ("fix LAKER QHB 064 30nm", "route QHB LAKER", "altitude 4500", "direct QHB {:03d} - LAKER 30nm")
    for charted in (60, 68):
        assert by("radial-differs", *flight[:-1], flight[-1].format(charted)) == [
            f"QHB {charted:03d} is charted and 064 computed: 4.0 degrees apart"
        ]
