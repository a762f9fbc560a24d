"""Points passed and the times between them, by hand: what is impossibly fast, what names are meant, what hints say."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from helpers.drawn import reports
from helpers.flown import navlog
from helpers.revised import MERIDIAN, revised

from navlog.nav.problems import NavlogError
from navlog.nav.record import changed
from navlog.studies.revision_timing import Passed, _made_good_kt, _next_moment

(PLANNED,) = reports(MERIDIAN)
LEG = PLANNED.log.legs[0]
PASSED = Passed(LEG, datetime(2026, 7, 18, 15, 10, tzinfo=UTC))


@pytest.mark.parametrize(
    ("tas_kt", "distance_nm", "minutes", "made_good_kt"),
    [
        # Up to twice the airspeed of 120 kt, 4 NM a minute; half a minute of the clock is on top.
        ((120.0,), 40.0, 9.5, 40.0 / 9.5 * 60.0),
        ((120.0,), 40.1, 9.5, None),
        # The fastest of the legs counts, of those whose airspeed is known; without any 1,000 kt, 25 NM in 1.5 min.
        ((100.0, 120.0, None), 40.0, 9.5, 40.0 / 9.5 * 60.0),
        ((100.0,), 40.0, 9.5, None),
        ((None,), 24.99, 1.0, 1_499.4),
        ((None, None), 25.01, 1.0, None),
    ],
)
def test_no_more_than_twice_the_airspeed_is_made_good(
    tas_kt: tuple[float | None, ...], distance_nm: float, minutes: float, made_good_kt: float | None
) -> None:
    legs = tuple(changed(LEG, tas_kt=one) for one in tas_kt)
    if made_good_kt is not None:
        assert _made_good_kt(PASSED, legs, distance_nm, minutes) == pytest.approx(made_good_kt)
        return
    with pytest.raises(NavlogError, match=f"error: {distance_nm:.1f} NM to QBB cannot be flown in"):
        _made_good_kt(PASSED, legs, distance_nm, minutes)


def test_two_points_in_one_minute_tell_no_speed_and_one_before_the_other_is_a_slip() -> None:
    assert _made_good_kt(PASSED, (LEG,), 1.0, 0.0) is None
    with pytest.raises(NavlogError, match="cannot be flown in"):
        _made_good_kt(PASSED, (LEG,), 0.0, -1.0)


@pytest.mark.parametrize(
    ("before", "clock", "later_min"),
    [
        ("15:00", "15:00", 0),
        ("15:00", "15:01", 1),
        ("23:50", "00:10", 20),
        ("23:50", "11:50", 720),  # twelve hours are the most
        ("23:50", "11:51", None),
        ("15:00", "14:59", None),
    ],
)
def test_a_clock_goes_on_over_midnight_and_never_back(before: str, clock: str, later_min: int | None) -> None:
    moment = datetime.fromisoformat(f"2026-07-18T{before}+00:00")
    if later_min is not None:
        assert _next_moment(moment, "QAA", clock) == moment + timedelta(minutes=later_min)
        return
    with pytest.raises(NavlogError) as caught:
        _next_moment(moment, "QAA", clock)
    (told,) = caught.value.problems
    assert (told.code, told.message) == ("time-out-of-order", f"{clock} is before QAA at {before}Z")
    assert told.hint == "give the points in the order flown, with times in UTC"


@pytest.mark.parametrize(
    ("arguments", "message", "hint"),
    [
        (("--at", "QZZZZ", "15:10"), "the flight does not pass `QZZZZ`", "points ahead are QBB, XCC, or cop"),
        (("--at", "QBC", "15:10"), "the flight does not pass `QBC`", "did you mean `QBB`?"),
        (
            ("--at", "QBB", "15:10", "--heading", "QBB", "181T"),
            "no wind that can be flown in holds the course to `QBB` with the nose behind it",
            "is it the reciprocal?",
        ),
        (("--at", "QBB", "15:10", "--heading", "XCC", "001T"), "`XCC` has a heading and no time", "time it with --at"),
    ],
)
def test_what_a_point_may_be_instead(arguments: tuple[str, ...], message: str, hint: str) -> None:
    run = navlog("revise", "-", *arguments, typed=MERIDIAN)
    assert run.status == 2
    first, *_, last = run.err.splitlines()
    assert first.split(": error: ")[1].rpartition(" [")[0] == message
    assert last == f"  hint: {hint}"


def test_an_alternate_ahead_is_told_in_a_sentence() -> None:
    # 11.0 NM back to XDD are 5.5 min and 0.73 gal: of 5 gal 4.26 are left, and 4 are kept.
    out = navlog("revise", "-", "--at", "QBB", "15:10", "--fuel", "5gal", typed=MERIDIAN).out
    told = " ".join(out.split())
    assert " alternate XDD from QBB 15:10Z: at 15:16Z, left 4.2 gal, the reserve holds " in told
    (one,) = revised(MERIDIAN, "--at", "QBB", "15:10", "--fuel", "5gal")[1]["alternates"]
    assert one["fuel_remaining"] == pytest.approx(5.0 - 11.004 / 15.0, abs=0.001)


def test_a_leg_between_places_of_long_names_has_a_line_for_them() -> None:
    # N46 40 and N46 50 are 20 and 30 NM on; 2.67 and 3.34 gal of 20 are used there, up 2.7 and 3.4.
    way = MERIDIAN.replace("route XAA QBB XCC", "route XAA QBB 4640N03900W 4650N03900W").replace(
        "wind calm", "wind calm\nvariation 0E"
    )
    out = navlog("revise", "-", "--at", "QBB", "15:10", typed=way).out.splitlines()
    first = out.index(" 2 QBB to 4640N03900W")
    assert out[first + 1] == f"{'':24} QBB 114.00 360 FROM   360  0:10 15:20Z    17.3 15:20Z"
    assert out[first + 2] == " 3 4640N03900W to 4650N03900W"
    assert out[first + 3] == f"{'':24} -          -          360  0:05 15:25Z    16.6 15:25Z"
    short = navlog("revise", "-", "--at", "QBB", "15:10", typed=MERIDIAN).out.splitlines()
    assert [line.split()[:3] for line in short if line.startswith(" 2")] == [["2", "QBB", "XCC"]]
