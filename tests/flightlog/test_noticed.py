"""Notices over a flight: which count at its own hours, and what they change. The notices are invented."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from helpers.noticed import DAY, PAIR, flown, found, log_of

from navlog.rules.answers import Answer
from navlog.rules.samples import FILES, sample
from navlog.sheets.json_lines import json_line
from navlog.sheets.text import text_log


def test_a_station_that_is_out_guides_nothing_and_the_finding_names_the_notice() -> None:
    answer = flown(f"!XHA 07/001 QEL NAV VOR U/S {DAY}")
    guiding = {leg.part.guidance.station.ident for leg in log_of(answer).legs if leg.part.guidance is not None}
    assert guiding == {"QHB"}
    assert any(
        "relies on QEL, which is out of service by !XHA 07/001 (from 2026-07-18 00:00Z to 2026-07-18 23:59Z)" in one
        for one in found(answer, "station-out")
    )
    assert answer.status == "error"


MARSH = ("fix MARSH QEL 180 12nm", "route XHAR QHB V801 QEL MARSH", "equipment vor 2 dme 1", "-direct QEL")


def marks_of(answer: Answer, fix: str) -> list[str]:
    (leg,) = [leg for leg in log_of(answer).legs if leg.end.name == fix]
    return [f"{one.station.ident} {one.kind.value}" for one in leg.told_by]


@pytest.mark.parametrize("part", ["VOR", "VOR/DME VOR", "VORTAC VOR"])
def test_of_a_station_whose_vor_alone_is_out_the_dme_tells_a_fix(part: str) -> None:
    """FAA Order JO 7930.2, 5-3: `NAV VOR/DME VOR U/S` puts out the one component of the two."""
    answer = flown(f"!XHA 07/001 QEL NAV {part} U/S {DAY}", *MARSH)
    assert marks_of(answer, "MARSH") == ["QEL dme"]
    assert not any(leg.part.guidance and leg.part.guidance.station.ident == "QEL" for leg in log_of(answer).legs)
    out = [one for one in found(answer, "station-out") if "QEL" in one]
    assert out
    assert answer.report is not None
    printed = text_log(answer.report)
    assert "MARSH: QEL DME reads 12.0 (12.0 NM over the ground)" in printed
    assert "by time alone" not in printed


@pytest.mark.parametrize("notice", ["QEL NAV VOR/DME U/S", "QEL NAV VOR U/S", "QEL NAV VORTAC U/S"])
def test_of_a_station_that_is_out_whole_nothing_tells_a_fix(notice: str) -> None:
    also = ("unavailable QEL",) if notice.endswith("VOR U/S") else ()
    answer = flown(f"!XHA 07/001 {notice} {DAY}", *MARSH, *also)
    assert marks_of(answer, "MARSH") == []
    assert answer.report is not None
    assert "MARSH by time alone" in text_log(answer.report)


TURN = (
    "station QSK 112.40 N45 52.00 W038 38.00 decl 14W class L dme elev 150ft",
    "airway V803 QEL - QSK 39nm mea 2500",
)


@pytest.mark.parametrize(
    ("part", "dme", "told"),
    [
        # Over it the DME reads the height: (4,500 - 410) ft / 6,076 ft are 0.7 NM.
        ("VOR", "1", "QEL: QEL DME reads 0.7 (0.0 NM over the ground)"),
        # From QSK to QEL it is 258.7 true (pyproj, WGS84), 272.7 by a declination of 14W.
        ("VOR", "0", "R-273 crosses, set 273 FROM"),
        ("VOR/DME", "1", "R-273 crosses, set 273 FROM"),
    ],
)
def test_a_station_that_is_out_and_turned_at_is_told_by_what_stays(part: str, dme: str, told: str) -> None:
    way = ("route XHAR QHB V801 QEL V803 QSK", f"equipment vor 1 dme {dme}", *TURN)
    answer = flown(f"!XHA 07/001 QEL NAV {part} U/S {DAY}", *way)
    assert answer.report is not None
    printed = " ".join(text_log(answer.report).split())
    assert told in printed
    leg = next(leg for leg in log_of(answer).legs if leg.end.name == "QEL")
    assert len(leg.told_by) == 1
    in_service = flown(f"!XHA 07/001 XHAR RWY 09/27 CLSD {DAY}", *way)
    assert not any(leg.marks for leg in log_of(in_service).legs)


def test_a_station_that_is_out_and_that_nothing_tells_is_found_by_time() -> None:
    answer = flown(f"!XHA 07/001 QEL NAV VORTAC U/S {DAY}", "route XHAR QHB V801 QEL XOLD")
    assert answer.report is not None
    assert "QEL by time alone, 0:18 after QHB" in " ".join(text_log(answer.report).split())


def test_two_notices_on_the_parts_of_a_station_put_it_out_whole() -> None:
    answer = flown(f"!XHA 07/001 QEL NAV VOR U/S {DAY}\n!XHA 07/002 QEL NAV DME U/S {DAY}", *MARSH)
    assert marks_of(answer, "MARSH") == []


def test_without_a_dme_on_board_the_dme_that_stays_tells_nothing() -> None:
    answer = flown(f"!XHA 07/001 QEL NAV VOR U/S {DAY}", *MARSH, "equipment vor 2 dme 0")
    assert marks_of(answer, "MARSH") == []


def test_that_the_dme_of_a_vor_that_is_out_serves_is_told() -> None:
    notice = f"!XHA 07/001 QEL NAV VOR U/S {DAY}"
    told = [one for one in found(flown(notice), "station-out") if "QEL" in one]
    assert told
    assert any("; its DME serves for distances" in one for one in told)
    out = [one for one in found(flown(notice, "unavailable QEL"), "station-out") if "QEL" in one]
    assert any("; its DME is not counted on either" in one for one in out)


def test_a_notice_outside_the_flights_hours_changes_nothing_and_is_listed() -> None:
    plain, late = flown(""), flown("!XHA 07/001 QEL NAV VOR U/S 2607190000-2607192359")
    assert [leg.part.guidance for leg in log_of(plain).legs] == [leg.part.guidance for leg in log_of(late).legs]
    assert found(late, "notice-idle") == [
        "!XHA 07/001 is not counted: QEL VOR out of service (from 2026-07-19 00:00Z to 2026-07-19 23:59Z)"
    ]


# Off at 15:10Z; V801 is flown from 15:16 to 15:34Z, the leg to XOLD ends at about 15:41Z.
@pytest.mark.parametrize(
    ("hours", "counts"),
    [("1200-{}1430", False), ("1200-{}1447", True), ("1600-{}2000", True), ("1610-{}2000", False)],
)
def test_the_hours_at_the_place_decide_within_half_an_hour(hours: str, counts: bool) -> None:
    period = f"260718{hours.format('260718')}"
    answer = flown(f"!FDC 6/0001 ZZZ ROUTE ZZZ. {PAIR} MEA 9000. {period}")
    assert bool(found(answer, "notice-counts")) is counts
    assert {leg.stretch.limits.mea_ft for leg in log_of(answer).legs if leg.stretch.via == "V801"} == {
        9000.0 if counts else 3000.0
    }


# QHB is used from 15:10Z to the changeover point at 15:22:26Z, QEL from there to 15:38:32Z.
@pytest.mark.parametrize(
    ("station", "hours", "counts", "by_the_half_hour"),
    [
        ("QEL", "1200-{}1450", False, False),
        ("QEL", "1200-{}1455", True, True),
        ("QEL", "1200-{}1523", True, False),
        ("QHB", "1522-{}2000", True, False),
        ("QHB", "1550-{}2000", True, True),
        ("QHB", "1555-{}2000", False, False),
    ],
)
def test_a_station_counts_within_half_an_hour_of_its_own_use_and_says_where_by_that_alone(
    station: str, hours: str, counts: bool, by_the_half_hour: bool
) -> None:
    plain = flown("")
    answer = flown(f"!XHA 07/001 {station} NAV VOR U/S 260718{hours.format('260718')}")
    assert bool(found(answer, "notice-counts")) is counts
    assert bool(found(answer, "station-out")) is counts
    guided, as_without = ([leg.part.guidance for leg in log_of(one).legs] for one in (answer, plain))
    assert (guided != as_without) is counts
    end = f"to 2026-07-18 {hours[-4:-2]}:{hours[-2:]}Z"
    said = f"{end}, within 30 minutes of its use)" if by_the_half_hour else f"{end})"
    told = (*found(answer, "notice-counts"), *found(answer, "station-out"))
    assert all(said in one for one in told)
    assert answer.report is not None
    remark = f"by !XHA 07/001: {station} VOR out of service, within 30 minutes of its use"
    assert (remark in " ".join(text_log(answer.report).split())) is by_the_half_hour


@pytest.mark.parametrize(("hours", "said"), [("1500", "20:00Z"), ("1600", "20:00Z, within 30 minutes of its use")])
def test_an_airport_that_closes_within_half_an_hour_of_the_landing_is_closed(hours: str, said: str) -> None:
    """XOLD is reached at 15:38:32Z."""
    answer = flown(f"!XHA 07/001 XOLD AD AP CLSD 260718{hours}-2607182000")
    (told,) = found(answer, "airport-closed")
    assert told.endswith(f"to 2026-07-18 {said}")


def test_an_airport_that_closes_later_than_half_an_hour_after_the_landing_is_open() -> None:
    assert found(flown("!XHA 07/001 XOLD AD AP CLSD 2607181615-2607182000"), "airport-closed") == []


# XOLD is reached at about 15:41Z and left two hours later; 17:11Z is half an hour before that.
@pytest.mark.parametrize(("hours", "counts"), [("1600-{}1705", False), ("1600-{}1715", True)])
def test_the_hours_of_a_stop_are_no_hours_of_the_stations(hours: str, counts: bool) -> None:
    stop = ("route XHAR QHB V801 QEL XOLD land 2h QHB", "direct XOLD - QHB 32nm")
    answer = flown(f"!XHA 07/001 QHB NAV VOR U/S 260718{hours.format('260718')}", *stop)
    assert bool(found(answer, "notice-counts")) is counts


def test_a_closed_alternate_is_told_at_its_leg_with_the_hours() -> None:
    answer = flown("!XHA 07/001 XHAR AD AP CLSD 2607181600-2607182000", "alternate XHAR", "route QHB V801 QEL XOLD")
    (closed,) = [one for one in answer.findings if one.rule == "airport-closed"]
    assert closed.message == "XHAR is closed by !XHA 07/001 from 2026-07-18 16:00Z to 2026-07-18 20:00Z"
    assert closed.alternate is not None
    assert closed.alternate.leg == len(log_of(answer).alternates[0].legs)
    assert answer.report is not None
    assert text_log(answer.report).count("> by !XHA 07/001: XHAR closed") == 1


def test_what_is_closed_for_route_and_alternate_is_told_of_both_in_one_line() -> None:
    answer = flown(f"!XHA 07/001 XHAR AD AP CLSD {DAY}", "alternate XHAR")
    taking_off, landing = [one for one in answer.findings if one.rule == "airport-closed"]
    assert (taking_off.leg, taking_off.alternate, landing.alternate is None) == (1, None, False)
    assert answer.report is not None
    assert text_log(answer.report).count("[airport-closed]") == 1


def test_a_notice_that_counts_says_from_when_to_when() -> None:
    assert found(flown("!XHA 07/001 QEL NAV VOR U/S 2607181400-2607182000"), "notice-counts") == [
        "by !XHA 07/001: QEL VOR out of service (from 2026-07-18 14:00Z to 2026-07-18 20:00Z)"
    ]


# 2026-07-18 is a Saturday.
@pytest.mark.parametrize(
    ("hours", "counts"),
    [
        ("DLY 1500-1600", True),
        ("DLY 1000-1430", False),
        ("DLY 1610-2000", False),
        ("SAT SUN 1500-1600", True),
        ("MON-FRI 1500-1600", False),
        ("DLY SR-SS", True),
    ],
)
def test_hours_within_the_period_decide_where_they_are_read(hours: str, counts: bool) -> None:
    answer = flown(f"!XHA 07/001 QEL NAV VOR U/S {hours} 2607010000-2607312359")
    assert bool(found(answer, "station-out")) is counts
    if not counts:
        assert found(answer, "notice-idle") == [
            "!XHA 07/001 is not counted: QEL VOR out of service"
            f" (from 2026-07-01 00:00Z to 2026-07-31 23:59Z, hours {hours})"
        ]


def test_without_a_time_off_every_notice_counts() -> None:
    answer = flown("!XHA 07/001 QEL NAV VOR U/S 2601010000-2601020000", "-off")
    assert found(answer, "station-out")


def test_an_mea_for_one_way_binds_that_way_alone() -> None:
    # V801 leads south-southwest from QHB to QEL.
    north = flown(f"!FDC 6/0001 ZZZ ROUTE ZZZ. {PAIR} MEA 9000 NORTHBOUND. {DAY}")
    south = flown(f"!FDC 6/0001 ZZZ ROUTE ZZZ. {PAIR} MEA 9000 SOUTHBOUND. {DAY}")
    minimums = [
        {leg.stretch.limits.mea_ft for leg in log_of(one).legs if leg.stretch.via == "V801"} for one in (north, south)
    ]
    assert minimums == [{3000.0}, {9000.0}]


@pytest.mark.parametrize(
    ("kind", "feet", "keeps"),
    [
        ("MEA", 2600, 3000.0),
        ("MEA", 9000, 9000.0),
        ("MOCA", 2000, 2400.0),
        ("MAA", 19000, 17500.0),
        ("MAA", 8000, 8000.0),
    ],
)
def test_where_it_cannot_be_told_which_way_is_meant_the_safer_altitude_holds(
    kind: str, feet: int, keeps: float
) -> None:
    # Without the positions of its ends an airway leads nobody knows where.
    unplaced = (
        "station QHB 113.70 decl 15W class L dme elev 820ft",
        "station QEL 110.20 decl 17W class L dme elev 410ft",
    )
    log = log_of(flown(f"!FDC 6/0001 ZZZ ROUTE ZZZ. {PAIR} {kind} {feet} NORTHBOUND. {DAY}", *unplaced))
    (limits,) = {leg.stretch.limits for leg in log.legs if leg.stretch.via == "V801"}
    assert {"MEA": limits.mea_ft, "MOCA": limits.moca_ft, "MAA": limits.maa_ft}[kind] == keeps


def test_a_changeover_point_takes_the_place_of_the_stated_one() -> None:
    answer = flown(f"!FDC 6/0001 ZZZ ROUTE ZZZ. {PAIR} CHANGE OVER POINT QEL 12 NM. {DAY}")
    (change,) = [leg for leg in log_of(answer).legs if leg.changeover is not None]
    assert change.end_nm == pytest.approx(29.5 - 12.0, abs=0.05)


def test_a_crossing_altitude_stands_at_the_point() -> None:
    answer = flown(f"!FDC 6/0001 ZZZ ROUTE ZZZ. V801 HARBOUR (QHB) VOR/DME MCA 9500 SOUTHBOUND. {DAY}")
    (stretch,) = {leg.stretch.number: leg.stretch for leg in log_of(answer).legs if leg.stretch.via == "V801"}.values()
    assert [one.altitude_ft for one in stretch.limits.crossings_start] == [9500.0]


def test_an_unusable_sector_is_found_like_a_published_one() -> None:
    answer = flown(f"!XHA 07/001 QHB NAV VOR 205-220 UNUSABLE {DAY}")
    assert any("QHB" in one and "205-220" in one for one in found(answer, "unusable-sector"))


def test_a_part_of_an_airway_that_is_not_available_is_found() -> None:
    answer = flown(f"!FDC 6/0001 ZZZ ROUTE ZZZ. {PAIR} NA. {DAY}")
    assert {str(leg.stretch.service) for leg in log_of(answer).legs if leg.stretch.via == "V801"} == {"unusable"}


def test_tacan_azimuth_takes_nothing_from_a_vor() -> None:
    answer = flown(f"!XHA 07/001 QEL NAV VORTAC TACAN AZM U/S {DAY}")
    assert not found(answer, "station-out")
    assert found(answer, "notice-counts") == []


def test_what_is_not_understood_is_printed_whole_and_each_by_itself() -> None:
    answer = flown(f"!XHA 07/001 QEL NAV VOR BAFFLED {DAY}\n!XHA 07/002 QHB NAV VOR PUZZLED {DAY}")
    assert answer.report is not None
    printed = " ".join(text_log(answer.report).split())
    assert f"!XHA 07/001 QEL NAV VOR BAFFLED {DAY}" in printed
    assert f"!XHA 07/002 QHB NAV VOR PUZZLED {DAY}" in printed
    assert "by !XHA" not in printed


def test_the_sheet_names_the_notice_at_the_leg_and_in_its_head() -> None:
    answer = flown(f"!XHA 07/001 QHB NAV VOR 205-220 BEYOND 90NM UNUSABLE {DAY}")
    assert answer.report is not None
    printed = text_log(answer.report)
    assert "> by !XHA 07/001: QHB VOR unusable on R-205 to R-220 beyond 90 NM" in printed
    assert "Notices of notices.txt: 1 read, 1 about this flight, counting: !XHA 07/001" in printed


def test_a_flight_after_an_estimated_end_is_told_to_ask() -> None:
    answer = flown("!XHA 07/001 QEL NAV VOR U/S 2607181000-2607181400EST")
    assert not found(answer, "station-out")
    assert found(answer, "notice-estimated") == [
        "QEL VOR out of service by !XHA 07/001: estimated back 2026-07-18 1400Z: ask"
    ]


def test_a_cancelled_notice_counts_no_more() -> None:
    answer = flown(f"!XHA 07/001 QEL NAV VOR U/S {DAY}\n!XHA C07/001 QEL NAV VOR U/S {DAY}")
    assert not found(answer, "station-out")
    assert found(answer, "notice-idle") == [
        "!XHA 07/001 is not counted: QEL VOR out of service (cancelled by !XHA C07/001)"
    ]


def test_json_lists_the_notices_of_the_flight() -> None:
    told = json.loads(json_line(flown(f"!XHA 07/001 QEL NAV DME U/S {DAY}")))["notices"]
    assert [(one["ident"], one["counts"], one["means"]) for one in told] == [
        ("!XHA 07/001", True, ["QEL DME out of service"])
    ]


def test_the_option_hands_notices_in_for_every_flight(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from navlog.cli import run

    monkeypatch.chdir(tmp_path)
    Path("trip.route").write_text(sample(), "utf-8")
    Path("my briefing.txt").write_text(f"!XHA 07/001 QEL NAV VOR U/S {DAY}\n", "utf-8")
    commands: list[Callable[[], int]] = [
        lambda: run(["check", "trip.route", "--notices", "my briefing.txt"]),
        lambda: run(["log", "trip.route", "--notices", "my briefing.txt"]),
    ]
    for command in commands:
        assert command() == 1
        assert "!XHA 07/001" in capsys.readouterr().out


# Two notices in force of which neither replaces the other: the safer one binds (common practice, no source).
@pytest.mark.parametrize(("kind", "safer", "other"), [("MEA", 5000, 3500), ("MOCA", 5000, 3500), ("MAA", 8000, 9000)])
@pytest.mark.parametrize("turned", [False, True])
def test_of_two_notices_that_contradict_each_other_the_safer_holds_in_either_order(
    kind: str, safer: int, other: int, turned: bool
) -> None:
    feet = (other, safer) if turned else (safer, other)
    told = "\n".join(f"!FDC 6/000{n} ZZZ ROUTE ZZZ. {PAIR} {kind} {one}. {DAY}" for n, one in enumerate(feet, 1))
    log = log_of(flown(told))
    (limits,) = {leg.stretch.limits for leg in log.legs if leg.stretch.via == "V801"}
    assert {"MEA": limits.mea_ft, "MOCA": limits.moca_ft, "MAA": limits.maa_ft}[kind] == safer


def test_of_two_changeover_points_by_notice_the_later_holds_and_both_are_told() -> None:
    """15 NM from QEL of the 29.5 to QHB are 14.5 from there; the first notice has 12, the airway 11."""
    answer = flown(FILES["points.txt"])
    (changeover,) = [leg.changeover for leg in log_of(answer).legs if leg.changeover is not None]
    assert changeover.distance_nm == pytest.approx(14.5)
    (told,) = found(answer, "notices-contradict")
    assert "!FDC 6/0001 and !FDC 6/0002 differ, and the later in the briefing holds" in told
