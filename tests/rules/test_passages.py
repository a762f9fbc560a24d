"""The next course at a station, as in the incident reports, and the distances to a changeover point."""

from __future__ import annotations

import pytest
from helpers.judged import along, found


def passing(inbound_course: int, outbound_course: int, *more: str) -> list[str]:
    """What is found where a station is passed TO on one course and left FROM on the other."""
    return found(
        "course-easily-missed",
        "station QHB 113.70",
        "station QEL 110.20",
        "station QSK 112.40",
        "variation 13W",
        f"airway V801 QHB {inbound_course:03d} - {(inbound_course + 180) % 360 or 360:03d} QEL 29.5nm mea 3000",
        f"airway V802 QEL {outbound_course:03d} - {(outbound_course + 180) % 360 or 360:03d} QSK 30nm mea 3000",
        "route QHB V801 QEL V802 QSK",
        "-direct QHB",
        "-direct QEL",
        *more,
    )


@pytest.mark.parametrize("distance_nm", ["29.9", "30"])
def test_a_changeover_point_may_be_at_the_next_station(distance_nm: str) -> None:
    assert found("changeover-sum", *along(f"QHB 212 - 032 QEL 30nm mea 3000 cop {distance_nm} QHB")) == []


@pytest.mark.parametrize(("at_field", "told"), [("over", 1), ("land 20min", 0)])
def test_on_the_ground_there_is_time_to_set_a_course(at_field: str, told: int) -> None:
    # Out of QHB on 090, and in to QEL on its radial 274, so on 094.
    chart = ("station QHB 113.70", "station QEL 110.20", "variation 13W", "-airway V801")
    ways = ("direct QHB 090 - XHAR 9.6nm", "direct QEL 274 - XHAR 30nm")
    assert len(found("course-easily-missed", *chart, *ways, f"route QHB XHAR {at_field} QEL")) == told


@pytest.mark.parametrize(
    ("inbound", "outbound", "told"),
    [
        (37, 30, True),  # ASRS 506540: 037 for 030, 7 NM off
        (30, 37, True),  # ASRS 504001: the mirror image
        (320, 340, False),  # ASRS 94202: 20 degrees are seen
        (100, 116, False),  # ASRS 344910: 16 degrees
        (100, 101, False),
        (100, 102, True),
        (100, 109, True),
        (100, 110, False),
        (359, 4, True),
        (100, 100, False),
    ],
)
def test_a70_a_next_course_2_to_9_degrees_off_is_easily_missed(inbound: int, outbound: int, told: bool) -> None:
    some = passing(inbound, outbound)
    assert bool(some) is told
    if told:
        assert some == [f"note: at QEL set {outbound:03d} FROM QEL, {some[0].split(', ')[1]}"]


@pytest.mark.parametrize(("inbound", "outbound"), [(123, 132), (214, 124), (206, 260)])
def test_a70_a_next_course_with_digits_changed_over_looks_alike(inbound: int, outbound: int) -> None:
    some = passing(inbound, outbound)
    if abs(inbound - outbound) < 10:
        assert "9 degrees" in some[0]
    else:
        assert some == [f"note: at QEL set {outbound:03d} FROM QEL, which is easily read as {inbound:03d}"]


def test_at_a_changeover_point_nothing_is_missed() -> None:
    # Out on 212 and in on 038 (218 TO) differ by 6 at the changeover point, where the station changes too.
    assert found("course-easily-missed", *along("QHB 212 - 038 QEL 29.5nm mea 3000")) == []


def test_after_a_landing_nothing_is_missed() -> None:
    flight = (
        "airport XFLD N45 44.10 W039 33.00 elev 400ft",
        "route XHAR QHB XFLD land 30min QHB XHAR",
        "-direct QEL",
    )
    assert all("XFLD" not in one for one in found("course-easily-missed", *flight))


def pair(behind: float, ahead: float, total: float) -> tuple[str, ...]:
    """A charted way whose changeover point has a distance from each station."""
    half = total / 2
    return along(
        f"QHB 212 - MARSH {half:g}nm mea 3000 cop {behind:g} QHB - 032 QEL {half:g}nm mea 3000 cop {ahead:g} QEL",
        "fix MARSH N46 00.00 W039 30.00",
    )


@pytest.mark.parametrize(
    ("behind", "ahead", "total", "told"),
    [
        (48, 33, 81.18, False),  # row 15: V68 and V83, CME-CNX, FAA NASR 2026-05-14
        (50, 60, 110.30, False),  # V2 and V97, GEP-ODI
        (21, 32, 53, False),  # A31: 21 behind, 32 ahead
        (21, 32, 55, True),  # A31: on a leg of 55 NM a data error
        (21, 32, 53.9, False),
        (21, 32, 54, True),
    ],
)
def test_a31_row_15_a_pair_of_changeover_distances_adds_to_the_leg(
    behind: float, ahead: float, total: float, told: bool
) -> None:
    assert bool(found("changeover-sum", *pair(behind, ahead, total))) is told
