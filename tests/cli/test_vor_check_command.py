"""`navlog vor-check`."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Run = Callable[..., tuple[int, str, str]]


def test_within_limits(navlog: Run) -> None:
    assert navlog("vor-check ground --expected 095 --indicated 098 --date 2026-07-18 --place", "XHAR run-up area") == (
        0,
        "within limits: error +3 degrees, at most 4 (ground checkpoint, 14 CFR 91.171(b)(2))\n"
        "indicated 098, expected 095\n"
        "good for IFR through 2026-08-17\n"
        "record: 2026-07-18  place XHAR run-up area  VOR check, ground checkpoint  bearing error +3"
        "  signed ________________________\n",
        "",
    )


def test_not_within_limits_leaves_with_1(navlog: Run) -> None:
    assert navlog("vor-check vot --indicated 004.1 --flag FROM --date 2026-07-18") == (
        1,
        "NOT WITHIN limits: error +4.1 degrees, at most 4 (test signal (VOT), 14 CFR 91.171(b)(1))\n"
        "indicated 004.1, expected 360\n"
        "do not use this receiver under IFR\n"
        "record: 2026-07-18  place ________________________  VOR check, test signal (VOT)"
        "  bearing error +4.1  signed ________________________\n",
        "",
    )


@pytest.mark.parametrize(
    ("line", "hinted"),
    [
        ("ground --expected 095 --indicated 276", True),
        ("ground --expected 095 --indicated 270", False),
        ("vot --indicated 181 --flag FROM", True),
        ("ground --expected 095 --indicated 098", False),
    ],
)
def test_an_error_near_180_may_be_to_for_from(navlog: Run, line: str, *, hinted: bool) -> None:
    assert ("TO and FROM may be exchanged" in navlog(f"vor-check {line}")[1]) == hinted


@pytest.mark.parametrize(
    ("line", "status"),
    [
        ("vot --indicated 004 --flag FROM", 0),
        ("vot --indicated 184.1 --flag TO", 1),
        ("airborne --expected 090 --indicated 096", 0),
        ("airborne --expected 090 --indicated 096.1", 1),
        ("airway --expected 090 --indicated 084", 0),
        ("dual --expected 358 --indicated 002", 0),
        ("dual --expected 358 --indicated 002.1", 1),
        ("repair-station --expected 090 --indicated 094.1", 1),
    ],
)
def test_each_kind_has_its_limit(navlog: Run, line: str, status: int) -> None:
    assert navlog(f"vor-check {line}")[0] == status


def test_the_repair_station_signs_too(navlog: Run) -> None:
    _, out, _ = navlog("vor-check repair-station --expected 090 --indicated 090")
    assert out.splitlines()[0] == (
        "within limits: error 0 degrees, at most 4 (repair station's test signal, 14 CFR 91.171(b)(1))"
    )
    assert "the repair station certifies the bearing it sent" in out


@pytest.mark.parametrize(
    "line",
    [
        "ground --indicated 098",
        "vot --indicated 002",
        "vot --indicated 002 --flag FROM --expected 360",
        "radar --indicated 002",
        "ground --expected 095 --indicated 98",
        "ground --expected 095 --indicated 098 --date 18-07-2026",
        "ground --expected 095",
    ],
)
def test_bad_input_leaves_with_2(navlog: Run, line: str) -> None:
    status, out, err = navlog(f"vor-check {line}")
    assert (status, out) == (2, "")
    assert "error" in err.lower()
