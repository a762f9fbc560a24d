"""Charted radials and lengths against positions: slips that pilots and students make, each told apart."""

from __future__ import annotations

import pytest
from helpers.judged import along, found, judged, of

from navlog.rules.registry import Thresholds

FIX = ("fix LAKER QHB {} 30nm", "route QHB LAKER", "-direct QHB", "altitude 4500")


def charted(written: int, computed: int) -> tuple[str, ...]:
    """A direct leg whose chart says `written` where the position lies on the `computed` radial."""
    return (FIX[0].format(f"{computed:03d}"), *FIX[1:-2], f"direct QHB {written:03d} - LAKER 30nm", FIX[-1])


@pytest.mark.parametrize(("course", "severity"), [(68, "warning"), (59, "warning"), (71, "error"), (67, None)])
def test_a6_courses_that_differ_are_told_by_how_much(course: int, severity: str | None) -> None:
    # IRK to LOAMY: 068 and 059 are published, 064 is a third reference; over 3 warns, over 6 is an error.
    told = found("radial-differs", *charted(course, 64))
    assert [one.split(":")[0] for one in told] == ([] if severity is None else [severity])


def test_a6_both_limits_can_be_set() -> None:
    flight = charted(68, 64)
    assert of("radial-differs", judged(*flight, thresholds=Thresholds(5.0, 9.0))) == []
    (told,) = of("radial-differs", judged(*flight, thresholds=Thresholds(1.0, 3.5)))
    assert told.startswith("error: QHB 068 is charted and 064 computed: 4.0 degrees apart")


@pytest.mark.parametrize("computed", [35, 90, 215, 360])
def test_a1_a2_the_inbound_course_is_not_the_radial(computed: int) -> None:
    # "Track the 215 radial inbound" sets 035: who writes the 035 beside the station is 180 degrees out.
    inbound = (computed + 180) % 360 or 360
    (told,) = found("radial-reversed", *charted(inbound, computed))
    assert told == (f"error: QHB {inbound:03d} is the inbound course, not the radial: the radial is {computed:03d}")
    assert found("radial-differs", *charted(inbound, computed)) == []


def test_a2_the_same_radial_twice_without_positions_is_told() -> None:
    (told,) = found("radial-reversed", *along("QHB 212 - 212 QEL 29.5nm mea 3000"))
    assert "the same radial twice" in told


@pytest.mark.parametrize(("inbound", "told"), [(52, False), (53, True), (12, False), (11, True)])
def test_radials_of_a_straight_line_are_within_20_degrees_of_reciprocal(inbound: int, told: bool) -> None:
    # Published pairs of radials of one straight leg differ by up to 8.06 degrees (V561 JMS-PIR).
    assert bool(found("radials-bent", *along(f"QHB 212 - {inbound:03d} QEL 29.5nm mea 3000"))) is told


def test_a_turn_on_the_way_bends_the_radials_rightly() -> None:
    chart = "QHB 212 - LAKER 12nm mea 3000 turn - 074 QEL 17.5nm mea 3000"
    fix = "fix LAKER N46 02.00 W039 30.00"
    assert found("radials-bent", *along(chart, fix)) == []


def test_a3_293_misread_as_283_is_an_error() -> None:
    (told,) = found("radial-differs", *charted(283, 293))
    assert told.startswith("error:")


@pytest.mark.parametrize(("written", "computed"), [(123, 132), (123, 213), (121, 211), (206, 260)])
def test_digits_changed_over_are_recognised(written: int, computed: int) -> None:
    (told,) = found("digits-transposed", *charted(written, computed))
    assert told == f"warning: QHB {written:03d} is charted: is {computed:03d} meant?"


def test_another_slip_is_not_called_a_transposition() -> None:
    assert found("digits-transposed", *charted(123, 140)) == []


def test_a_digit_changed_over_within_the_limits_is_no_finding() -> None:
    assert found("digits-transposed", *charted(112, 112)) == []


def test_v583_is_9_nm_short_in_the_published_data() -> None:
    # FAA NASR 2026-05-14: 52.16 NM where the stations are 61.16 NM apart.
    north = (
        "station QEL 110.20 N45 12.10 W039 20.70 decl 17W class L elev 0ft",
        "airway V801 QHB 195 - 017 QEL 51.2nm mea 3000",
    )
    (told,) = found("distance-differs", *north, "route QHB V801 QEL")
    assert told == "error: QHB to QEL is charted 51.2 NM and computed 60.2 NM; the longer is flown"


def test_a5_a_declination_of_its_own_is_no_slip() -> None:
    # QHB is aligned to 15W where the variation is 12.6W: the charted radial by its own north is right.
    assert found("radial-differs") == found("radial-reversed") == []


@pytest.mark.parametrize(
    ("stated", "rule", "told"),
    [
        # LAKER lies due south of UPPER; with the stated variation of 13W 193 magnetic are 180 true.
        ("180T", None, ""),
        ("193M", None, ""),
        ("188T", None, ""),
        ("172T", None, ""),
        ("189T", "needle-off-course", "course 189T is stated and the leg's true course is 180"),
        ("171T", "needle-off-course", "course 171T is stated and the leg's true course is 180"),
        ("180M", "needle-off-course", "course 180M is stated and the leg's true course is 180"),
        ("339T", "needle-off-course", "course 339T is stated and the leg's true course is 180"),
        ("021T", "needle-off-course", "course 021T is stated and the leg's true course is 180"),
        ("340T", "radial-reversed", "course 340T leads back: the leg's true course is 180"),
        ("020T", "radial-reversed", "course 020T leads back: the leg's true course is 180"),
        ("013M", "radial-reversed", "course 013M leads back: the leg's true course is 180"),
    ],
)
def test_a_stated_course_is_held_against_the_positions(stated: str, rule: str | None, told: str) -> None:
    # A course 20 degrees from the opposite is taken for it, and one 8 degrees off is no fault: as for needles.
    asked = (
        "fix UPPER N46 00.00 W039 00.00",
        "fix LAKER N45 30.00 W039 00.00",
        f"direct UPPER - LAKER 30nm course {stated}",
        "variation 13W",
        "route UPPER LAKER",
    )
    of_courses = [
        (one.rule, one.message)
        for one in judged(*asked)
        if one.rule in ("needle-off-course", "radial-reversed") and one.message.startswith("course")
    ]
    assert of_courses == ([] if rule is None else [(rule, told)])


@pytest.mark.parametrize(("computed", "told"), [(130, False), (131, True), (132, True), (133, True), (134, False)])
def test_digits_changed_over_are_recognised_a_degree_beside(computed: int, told: bool) -> None:
    assert found("digits-transposed", *charted(123, computed)) == (
        ["warning: QHB 123 is charted: is 132 meant?"] if told else []
    )


def test_within_the_limit_that_is_set_digits_are_not_looked_at() -> None:
    flight = charted(123, 132)
    assert of("digits-transposed", judged(*flight, thresholds=Thresholds(12.0, 20.0))) == []
    assert of("digits-transposed", judged(*flight, thresholds=Thresholds(8.0, 20.0))) != []


@pytest.mark.parametrize(("limit_deg", "told"), [(8.9, True), (9.0, False)])
def test_a_difference_that_is_the_limit_is_within_it(limit_deg: float, told: bool) -> None:
    # By the chart alone MARSH is defined on 132, where 123 is charted: 9 degrees, and two digits changed over.
    flight = along("QHB 123 - MARSH 9nm", "fix MARSH QHB 132 9nm", "route QHB V801 MARSH")
    found_here = judged(*flight, thresholds=Thresholds(limit_deg, 20.0))
    assert [one.rule for one in found_here if one.rule in ("radial-differs", "digits-transposed")] == (
        ["radial-differs", "digits-transposed"] if told else []
    )
