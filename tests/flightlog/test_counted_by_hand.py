"""Printed counts, each worked by hand: tenths that add, distances to stations, changeovers as printed, the clock.

QAA to QBB are 30.25 NM on 090 and QBB to QCC 20.45, at 120 kt, 2 NM a minute, and 12 gal/h, 0.2 gal a minute.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from helpers.drawn import reports

from navlog.flightlog.counted import count_of, counts, elapsed_min, leaving, running_fuel, since_fuelling
from navlog.flightlog.records import Log
from navlog.nav.chart import Station, StationKind
from navlog.nav.record import changed
from navlog.resolve.route import Changeover, ChangeoverKind

AT = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "direct QAA 090 - 270 QBB 30.25nm\ndirect QBB 090 - 270 QCC 20.45nm\ndate 2026-07-18\nvariation 0E\nwind calm\n"
    "tas 120kt\nburn 12gph\naltitude 3000\noff 23:40Z\nfuel 20gal\n"
)


def flown(*more: str, route: str = "route QAA QBB QCC") -> Log:
    (report,) = reports(AT + "\n".join((*more, route)) + "\n")
    return report.log


LOG = flown()


def test_tenths_run_on_from_the_way_before_and_end_with_its_legs() -> None:
    # Ends at 15.125, 30.25, 40.475, 50.70 NM: printed 15.1, 30.3, 40.5, 50.7.
    found = counts(LOG)
    assert [one.distance_tenths for one in found] == [151, 152, 102, 102]
    assert [one.remaining_tenths for one in found] == [356, 204, 102, 0]
    assert [one.begun_nm for one in found] == pytest.approx([0.0, 0.0, 30.25, 30.25])
    # On the second stretch 10.0 NM end at 40.25, printed 40.3, which is 10.0 after 30.3.
    assert (found[2].along(10.0), found[2].along(20.45), found[2].tenths(5.0, 10.0)) == ("10.0", "20.4", 50)


def test_how_far_the_station_in_use_is_counts_by_the_printed_legs_where_the_stretch_ends_there() -> None:
    from_qbb, to_qcc = counts(LOG)[2:]
    # From QBB, where the stretch begins; to QCC, 50.7 by the way: 10.2 NM before it are at 40.5.
    assert (from_qbb.away(10.2), to_qcc.away(10.2), to_qcc.away(20.45)) == ("10.2", "10.2", "20.4")
    # 40.41 and 40.54 are printed 40.4 and 40.5, so a place 10.16 NM out is 10.1 away, and one as far in 10.2.
    assert (from_qbb.away(10.16), to_qcc.away(10.16)) == ("10.1", "10.2")
    # Of a station beside the way no leg is printed: 20.45 is rounded as it is.
    beside = Station("QXX", StationKind.VOR)
    guidance = from_qbb.leg.part.guidance
    assert guidance is not None
    part = changed(from_qbb.leg.part, guidance=changed(guidance, station=beside))
    assert changed(from_qbb, leg=changed(from_qbb.leg, part=part)).away(20.45) == "20.5"
    unguided = changed(from_qbb, leg=changed(from_qbb.leg, part=changed(part, guidance=None)))
    assert unguided.away(7.04) == "7.0"


@pytest.mark.parametrize(
    ("kind", "distance_nm", "printed_nm"),
    [
        # A computed one lies as far from the station as the legs print: 40.475 is 40.5, 30.25 is 30.3.
        (ChangeoverKind.MIDPOINT, 10.225, 10.2),
        (ChangeoverKind.TURN, 10.225, 10.2),
        (ChangeoverKind.RECEPTION, 10.225, 10.2),
        # From 15.445, printed 15.4, to 40.5: farther than the stretch is long, within what is flown.
        (ChangeoverKind.MIDPOINT, 25.03, 25.1),
        # What chart or file say stays.
        (ChangeoverKind.PUBLISHED, 10.225, 10.225),
        (ChangeoverKind.STATED, 10.225, 10.225),
        (ChangeoverKind.UNKNOWN, 10.225, 10.225),
        # From a station that the flight does not pass no leg is printed.
        (ChangeoverKind.MIDPOINT, 40.476, 40.476),
    ],
)
def test_a_computed_changeover_point_is_as_far_as_the_legs_print(
    kind: ChangeoverKind, distance_nm: float, printed_nm: float
) -> None:
    leg = LOG.legs[2]
    assert leg.changeover is not None
    found = Changeover(kind, leg.changeover.behind, leg.changeover.ahead, distance_nm, 10.225)
    count = changed(count_of(LOG, leg), leg=changed(leg, part=changed(leg.part, changeover=found)))
    assert count.changeover is not None
    assert count.changeover.distance_nm == pytest.approx(printed_nm)
    assert count_of(LOG, LOG.legs[1]).changeover is None


def test_the_clock_runs_over_midnight_on_printed_minutes() -> None:
    # 7.56, 15.13, 20.24, 25.35 min: 8, 15, 20, 25.
    found = counts(LOG)
    assert [one.elapsed_min for one in found] == [8, 15, 20, 25]
    assert [one.time_min for one in found] == [8, 7, 5, 5]
    assert [one.clock for one in found] == [
        datetime(2026, 7, day, hour, minute, tzinfo=UTC)
        for day, hour, minute in ((18, 23, 48), (18, 23, 55), (19, 0, 0), (19, 0, 5))
    ]
    assert elapsed_min(LOG) == (8, 15, 20, 25)
    timeless = changed(LOG, conditions=changed(LOG.conditions, off=None))
    assert [one.clock for one in counts(timeless)] == [None] * 4
    assert [one.elapsed_min for one in counts(timeless)] == [8, 15, 20, 25]


def test_a_stop_stands_in_the_clock_of_the_legs_behind_it_and_in_no_ones_minutes() -> None:
    log = flown(
        "airport XBB N46 00.00 W039 00.00 elev 0ft",
        "direct QBB 090 - XBB 10nm",
        route="route QAA QBB XBB land 30min fuel 9gal QBB",
    )
    found = counts(log)
    # 30.25 NM to QBB, 40.25 to XBB, 50.25 back: 15.13, 20.13, 25.13 min, the last 30 later.
    assert [one.leg.end.name for one in found][1:] == ["QBB", "XBB", "QBB"]
    assert [one.elapsed_min for one in found] == [8, 15, 20, 55]
    assert [one.time_min for one in found] == [8, 7, 5, 5]
    # 20 gal less 3.03 and 4.03, each rounded up; of the 9 taken 1.0 are used.
    assert [one.left_steps for one in found] == [184, 169, 159, 80]
    assert [one.fuel_steps for one in found] == [16, 15, 10, 10]


def test_behind_a_leg_of_unknown_time_a_leg_shows_its_own_minutes() -> None:
    first, *others = LOG.legs
    lost = changed(LOG, legs=(changed(first, time_min=None), *others))
    found = counts(lost)
    # 7.56, 5.11 and 5.11 min by themselves.
    assert [(one.time_min, one.elapsed_min, one.clock) for one in found] == [
        (None, None, None),
        (8, None, None),
        (5, None, None),
        (5, None, None),
    ]


@pytest.mark.parametrize(
    ("used_before", "on_board", "steps"), [(0.0, 20.0, 200), (1.26, 18.74, 200), (0.0, 19.99, 199)]
)
def test_a_log_begins_with_what_was_filled(used_before: float, on_board: float, steps: int) -> None:
    conditions = changed(LOG.conditions, on_board=on_board, used_before=used_before)
    assert leaving(changed(LOG, conditions=conditions)) == (LOG.conditions.off, steps)
    assert leaving(changed(LOG, conditions=changed(conditions, on_board=None)))[1] is None


def test_fuel_used_rounds_up_from_what_was_used_before() -> None:
    # 1.513 gal a leg, then 1.0225: 1.513, 3.025, 4.048, 5.07 are 16, 31, 41, 51 tenths.
    assert running_fuel(LOG.legs, 0.1) == (16, 31, 41, 51)
    assert since_fuelling(LOG.legs, 0.1) == ((16, 16), (15, 31), (10, 41), (10, 51))
    # 0.26 before are 3 tenths: 1.773, 3.285, 4.308, 5.33 are 18, 33, 44, 54.
    assert since_fuelling(LOG.legs, 0.1, 0.26) == ((15, 18), (15, 33), (11, 44), (10, 54))
