"""Notices of what lies ahead, judged by the clock as it runs. Flights and notices are invented.

MERIDIAN flies twice 20.0 NM north at 120 kt in no wind, so it passes QBB at 15:10 and lands at XCC at 15:20. At QBB at
15:13 it has made 92.3 kt good; at that speed XCC is 13 minutes on, at 15:26. A notice counts that is in force within 30
minutes of a use.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.flown import Json, changed, navlog
from helpers.revised import MERIDIAN, revised

from navlog.flightlog.planning import planned
from navlog.nav.units import Amount
from navlog.request.flights import read_flights
from navlog.request.records import Request
from navlog.request.references import References
from navlog.studies.revision import AsWritten, revise

LATE, ON_TIME = ("--at", "QBB", "15:13"), ("--at", "QBB", "15:10")


ALONE = MERIDIAN.partition("alternate")[0]
"""Without its alternates, whose ways QBB guides too."""


def out(first: str, last: str = "2000", station: str = "QBB") -> str:
    return f"!XAA 07/001 {station} NAV VOR U/S 260718{first}-260718{last}\n"


def with_notices(folder: Path, briefing: str, *at: str, text: str = ALONE) -> Json:
    """A flight revised that hands in notices."""
    (folder / "briefing.txt").write_text(briefing, "utf-8")
    return revised(text, "--notices", str(folder / "briefing.txt"), *at)[1]


def guides(found: Json) -> list[str | None]:
    """The station that guides each leg ahead."""
    return [leg["guidance"] and leg["guidance"]["ident"] for leg in found["legs"]]


@pytest.mark.parametrize(("first", "counts"), [("1551", True), ("1556", True), ("1557", False)])
def test_a_notice_that_begins_within_30_minutes_of_the_revised_use_counts(
    tmp_path: Path, first: str, counts: bool
) -> None:
    # In the plan QBB is left at 15:20, 31 minutes before the earliest; as it goes on, at 15:26.
    found = with_notices(tmp_path, out(first), *LATE)
    assert guides(found) == ([None] if counts else ["QBB"])
    effect = {
        "ident": "!XAA 07/001",
        "effects": ["QBB VOR out of service"],
        "counts": True,
        "legs": [2],
        "on_alternate": False,
    }
    assert found["notices_changed"] == ([effect] if counts else [])
    assert guides(with_notices(tmp_path, out(first), *ON_TIME)) == ["QBB"]


@pytest.mark.parametrize(("last", "counts"), [("1443", True), ("1442", False)])
def test_a_notice_that_was_over_30_minutes_before_the_revised_use_counts_no_longer(
    tmp_path: Path, last: str, counts: bool
) -> None:
    # In the plan QBB is used from 15:00; it is passed at 15:13.
    found = with_notices(tmp_path, out("1200", last), *LATE)
    assert guides(found) == ([None] if counts else ["QBB"])
    effect = {
        "ident": "!XAA 07/001",
        "effects": ["QBB VOR out of service"],
        "counts": False,
        "legs": [2],
        "on_alternate": False,
    }
    assert found["notices_changed"] == ([] if counts else [effect])


@pytest.mark.parametrize("briefing", [out("1550"), out("1551"), out("1200", "1440"), out("1200", "1435")])
def test_on_time_the_notices_of_the_plan_hold(tmp_path: Path, briefing: str) -> None:
    # One that was over at 14:35 counts in the plan for the way to QBB, and so on all of its use.
    (tmp_path / "briefing.txt").write_text(briefing, "utf-8")
    log = navlog("log", "-", "--notices", str(tmp_path / "briefing.txt"), typed=ALONE).out
    found = with_notices(tmp_path, briefing, *ON_TIME)
    assert found["notices_changed"] == []
    assert guides(found) == ([None] if "dead reckoning" in log else ["QBB"])


def test_early_a_notice_of_later_does_not_count(tmp_path: Path) -> None:
    # 15:20 is 30 minutes before 15:50; passed at 15:08, 150 kt made good, XCC is reached at 15:16.
    found = with_notices(tmp_path, out("1550"), "--at", "QBB", "15:08")
    assert guides(found) == ["QBB"]
    assert [one["counts"] for one in found["notices_changed"]] == [False]


def test_an_airport_that_closes_meanwhile_is_told(tmp_path: Path) -> None:
    briefing = "!XCC 07/003 XCC AD AP CLSD 2607181553-2607182000\n"
    (tmp_path / "briefing.txt").write_text(briefing, "utf-8")
    found = navlog("revise", "-", "--notices", str(tmp_path / "briefing.txt"), *LATE, typed=ALONE).out.splitlines()
    start = found.index("NOTICES by the clock as it runs")
    assert found[start + 1] == "  !XCC 07/003 counts now on leg 2: XCC closed"
    assert "   > by !XCC 07/003: XCC closed, within 30 minutes of its use" in found


def test_on_time_no_notice_is_told_of(tmp_path: Path) -> None:
    (tmp_path / "briefing.txt").write_text(out("1551"), "utf-8")
    found = navlog("revise", "-", "--notices", str(tmp_path / "briefing.txt"), *ON_TIME, typed=ALONE).out
    assert "NOTICES" not in found


@pytest.mark.parametrize(("first", "told"), [("1756", True), ("1757", False)])
def test_the_way_to_an_alternate_is_judged_by_the_revised_clock_too(tmp_path: Path, first: str, told: bool) -> None:
    # It may be flown until two hours after the landing at 15:26; by the plan that was at 15:20.
    found = with_notices(tmp_path, f"!XDD 07/004 XDD AD AP CLSD 260718{first}-2607182359\n", *LATE, text=MERIDIAN)
    change = {"ident": "!XDD 07/004", "effects": ["XDD closed"], "counts": True, "legs": [], "on_alternate": True}
    assert found["notices_changed"] == ([change] if told else [])


HOLDING = changed("hold QHB 6min")
"""Held at QHB for six minutes; a part with a hold in it tells no wind, so the forecast stays."""


def test_what_is_left_of_a_stretch_begins_where_it_was_passed(tmp_path: Path) -> None:
    """The changeover point is 11 NM from QHB on the 29.5 NM of V801: 18.5 NM are ahead, and 9.6 NM to XOLD."""
    at = ("--at", "cop", "15:45")
    plan = revised(HOLDING, *at)[1]
    assert guides(plan) == ["QEL", "QEL"]
    found = with_notices(tmp_path, out("1620", station="QEL"), *at, text=HOLDING)
    assert "QEL" not in guides(found)
    assert [one["counts"] for one in found["notices_changed"]] == [True]
    on_airway = [leg for leg in found["legs"] if leg["via"] == "V801"]
    assert sum(leg["distance_nm"] for leg in on_airway) == pytest.approx(18.5, abs=0.05)
    assert sum(leg["distance_nm"] for leg in found["legs"]) == pytest.approx(28.1, abs=0.05)
    # On time, at 15:29, it is left to XOLD by 15:46, more than 30 minutes before.
    assert guides(with_notices(tmp_path, out("1620", station="QEL"), "--at", "cop", "15:29", text=HOLDING)) == [
        "QEL",
        "QEL",
    ]


def test_at_the_measured_burn_the_same_notices_count(tmp_path: Path) -> None:
    (tmp_path / "briefing.txt").write_text(out("1551"), "utf-8")
    (request,) = read_flights(f"notices briefing.txt\n{ALONE}", str(tmp_path / "made.route")).flights
    assert isinstance(request, Request)
    written = AsWritten(request, References(), None)
    log = planned(request, written.references, None)
    found = revise(log, actuals=[("QBB", "15:13")], fuel=Amount(15.0, "gal"), written=written)
    assert found.rest is not None
    assert found.measured is not None
    assert [leg.stretch.notices for leg in found.measured.rest.legs] == [leg.stretch.notices for leg in found.rest.legs]
    assert found.rest.legs[0].stretch.notices != ()
    # Without the flight as it is written nothing can be judged again.
    assert revise(log, actuals=[("QBB", "15:13")]).noticed == ()


SHORT = MERIDIAN.replace("fuel 20gal", "fuel 6.3gal")
"""At QBB 5.0 gal are left and XCC is reached with 3.6, less than the reserve of 4; XDD, 11.0 NM off, with 4.2."""


@pytest.mark.parametrize(
    ("first", "last", "closes"),
    [
        # XDD is reached at 15:15.5, and a notice within 30 minutes of that counts.
        ("1545", "2000", True),
        ("1546", "2000", False),
        ("1200", "1446", True),
        ("1200", "1445", False),
    ],
)
def test_a_field_or_alternate_that_is_closed_when_it_is_reached_is_marked_and_told_last(
    tmp_path: Path, first: str, last: str, closes: bool
) -> None:
    briefing = f"!XDD 07/005 XDD AD AP CLSD 260718{first}-260718{last}\n"
    found = with_notices(tmp_path, briefing, *ON_TIME, text=SHORT)
    fields = {one["ident"]: one for one in found["fields"]}
    mark = "!XDD 07/005" if closes else None
    assert fields["XDD"]["closed_by"] == mark
    assert {fields[one]["closed_by"] for one in ("XAA", "XCC")} == {None}
    assert [one["closed_by"] for one in found["alternates"]] == [mark]
    assert (list(fields)[-1] == "XDD") is closes
    text = " ".join(
        navlog("revise", "-", "--notices", str(tmp_path / "briefing.txt"), *ON_TIME, typed=SHORT).out.split()
    )
    shut = "; CLOSED by notice !XDD 07/005 when it is reached"
    assert (f"the reserve holds{shut}" in text) is closes
    assert (text.count(shut) == 2) is closes


def test_a_field_is_not_told_from_a_station_that_a_notice_has_out(tmp_path: Path) -> None:
    for briefing, station in ((out("1200"), None), (out("1800"), "QBB")):
        found = with_notices(tmp_path, briefing, *ON_TIME, text=SHORT.partition("alternate")[0])
        assert {one["station"] for one in found["fields"]} == {station}
