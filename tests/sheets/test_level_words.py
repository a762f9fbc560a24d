"""Where the route line's levels begin, and how high a hold is flown, told on every sheet."""

from __future__ import annotations

from helpers.drawn import reports
from helpers.judged import reported

from navlog.printed.head import facts
from navlog.printed.level_words import levels_on_the_way
from navlog.printed.needles import needles
from navlog.printed.remarks import remarks
from navlog.printed.rows import rows
from navlog.rules.report import Report
from navlog.rules.samples import FLOWN_BY_FILE
from navlog.sheets.steps import steps

STATIONS = (
    "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\nstation QCC 115.00 decl 0E\n"
    "direct QAA 360 - 180 QBB 30nm min 3000\ndirect QBB 360 - 180 QCC 30nm min 3000\n"
    "date 2026-07-18\nvariation 0E\nburn 12gph\nfuel 30gal\nwind calm\noff 15:00Z\ntas 120kt\n"
)


def flown(*lines: str) -> Report:
    (report,) = reports(STATIONS + "\n".join(lines) + "\n")
    return report


def told(report: Report) -> str:
    """Every remark under the legs of the text log."""
    printed = rows(report.log)
    return "\n".join(one for index in range(len(printed)) for one in remarks(printed, index))


def test_a_level_and_speed_written_at_a_point_are_told_there_and_in_the_head() -> None:
    report = flown("altitude 4500", "route QAA QBB/N0100A055 QCC")
    assert next(iter(facts(report.log))).endswith("cruise 4500 ft; from QBB 5500 ft, TAS 100 kt")
    assert told(report).count("from QBB on 5500 ft, TAS 100 kt") == 1
    (at_qbb,) = [lines for place, lines in steps(report.log) if place.startswith("QBB,")]
    assert "From here the plan is 5500 ft, TAS 100 kt." in at_qbb
    assert [one.ticks for one in needles(report.log) if one.place == "QBB"] == [("5500 ft, TAS 100 kt",)]


def test_the_knee_page_has_a_level_in_its_column_alone_and_tells_a_speed() -> None:
    report = flown("altitude 4500", "route QAA QBB/A055 QCC")
    assert [(one.altitude, one.ticks) for one in needles(report.log) if one.place == "QBB"] == [("5500", ())]
    report = flown(
        "altitude 4500",
        "fix FIXA QAA 360 10nm",
        "airway V1 QAA 360 - FIXA 10nm mea 3000 - 180 QBB 20nm mea 3000 cop 20 QAA",
        "route QAA V1 FIXA/N0100A045 V1 QBB",
    )
    # 10 NM at 120 kt are 5 minutes.
    (ticks,) = [one.ticks for one in needles(report.log) if one.place == "QAA"]
    assert ticks == ("FIXA 10.0 +5 TAS 100 kt",)


def test_a_speed_alone_is_told_as_well() -> None:
    report = flown("altitude 4500", "route QAA QBB/N0100A045 QCC")
    assert list(levels_on_the_way(report.log)) == ["from QBB TAS 100 kt"]


def test_what_is_as_before_is_not_told() -> None:
    assert list(levels_on_the_way(flown("altitude 4500", "route QAA QBB QCC").log)) == []
    assert list(levels_on_the_way(flown("altitude 4500", "route QAA QBB/A045 QCC").log)) == []


def test_a_first_level_that_is_not_the_cruising_level_is_told_from_the_start() -> None:
    report = flown("altitude 4500", "route QAA/A035 QBB/A045 QCC")
    assert list(levels_on_the_way(report.log)) == ["from QAA 3500 ft", "from QBB 4500 ft"]


def test_a_flight_level_is_told_as_one() -> None:
    report = flown("altitude 4500", "levels icao", "route QAA QBB/F085 QCC")
    assert list(levels_on_the_way(report.log)) == ["from QBB FL085"]


def test_a_level_at_a_hold_begins_after_it() -> None:
    report = flown("altitude 4500", "hold QBB 6min", "route QAA QBB/A055 QCC")
    hold, after = [lines for place, lines in steps(report.log) if place.startswith("QBB,")]
    assert hold == ("Hold for 0:06 at 4500 ft.",)
    assert "From here the plan is 5500 ft." in after


def test_a_hold_within_a_climb_is_told_with_its_height_and_the_level_planned() -> None:
    report = reported(*FLOWN_BY_FILE, "altitude 8500", "hold QHB 6min", "route XHAR QHB QEL XOLD")
    (leg,) = [leg for leg in report.log.legs if leg.stays]
    # Above the field at 790 ft and below the 8,500 ft planned: 9.6 NM are not enough for the climb.
    assert 790.0 < leg.end_altitude_ft < 8500.0
    height = round(leg.end_altitude_ft, -1)
    words = f"{height:.0f} ft, below the planned 8500 ft"
    assert f"hold at QHB for 0:06 at {words}" in told(report)
    # The knee page has the height beside.
    assert [one.altitude for one in needles(report.log) if one.set_course == "HOLD"] == [f"{height:.0f}"]


def test_a_hold_within_the_last_descent_is_told_with_its_height() -> None:
    report = reported(*FLOWN_BY_FILE, "altitude 8500", "hold QEL 6min", "route XHAR QHB QEL XOLD")
    (leg,) = [leg for leg in report.log.legs if leg.stays]
    assert leg.end_altitude_ft < 8500.0
    assert f"hold at QEL for 0:06 at {round(leg.end_altitude_ft, -1):.0f} ft, below the planned 8500 ft" in told(report)


def test_a_level_that_the_descent_has_passed_is_said_not_to_be_held_and_is_no_order() -> None:
    """At 5,500 ft over QEL the descent to XOLD, 9.6 NM on at 500 ft a minute, has begun: 7,500 ft are never flown."""
    report = reported(*FLOWN_BY_FILE, "altitude 5500", "route XHAR QHB QEL/A075 XOLD")
    assert list(levels_on_the_way(report.log)) == ["from QEL 7500 ft (not held in the descent to land)"]
    assert "from QEL on 7500 ft (not held in the descent to land)" in told(report)
    assert not any("7500" in line for _, lines in steps(report.log) for line in lines)
    assert not any("7500" in tick for one in needles(report.log) for tick in one.ticks)


def test_a_level_that_the_last_descent_goes_through_without_a_stop_is_not_held_either() -> None:
    report = reported(*FLOWN_BY_FILE, "altitude 5500", "route XHAR QHB QEL/A020 XOLD")
    assert list(levels_on_the_way(report.log)) == ["from QEL 2000 ft (not held in the descent to land)"]


def test_a_level_that_the_climb_does_not_reach_is_said_so() -> None:
    # 9.6 NM from the field at 790 ft the climb of the sample aircraft is below 10,000 ft, and 4,500 ft follow.
    report = reported(*FLOWN_BY_FILE, "altitude 4500", "route XHAR/A100 QHB/A045 QEL XOLD")
    first, *_ = levels_on_the_way(report.log)
    assert first == "from XHAR 10000 ft (not reached)"
