"""Notices that count on one part of a flight and not on another, by the hours of each. The notices are invented."""

from __future__ import annotations

from itertools import groupby

import pytest
from helpers.noticed import PAIR, flown, log_of

from navlog.rules.answers import Answer

# XOLD is reached at about 15:41Z, left at about 17:41Z, and QHB is reached again before 18:20Z.
BACK = ("route XHAR QHB V801 QEL XOLD land 2h QEL V801 QHB XHAR", "direct QEL - XOLD 12nm")
EVENING = "2607181815-2607182300"


def legs_guided_by(answer: Answer, ident: str) -> list[int]:
    guiding = [leg for leg in log_of(answer).legs if leg.part.guidance is not None]
    return [leg.number for leg in guiding if leg.part.guidance and leg.part.guidance.station.ident == ident]


def landing_leg(answer: Answer) -> int:
    return next(leg.number for leg in log_of(answer).legs if leg.lands)


def test_a_station_that_is_out_on_the_way_back_guides_the_way_out() -> None:
    plain, out = flown("", *BACK), flown(f"!XHA 07/001 QHB NAV VOR U/S {EVENING}", *BACK)
    stop = landing_leg(plain)
    assert stop == landing_leg(out)
    behind = [number for number in legs_guided_by(plain, "QHB") if number <= stop]
    assert behind
    assert legs_guided_by(out, "QHB") == behind
    told = [one.leg for one in out.findings if one.rule == "station-out" and "QHB" in one.message]
    assert told
    assert all(leg is not None and leg > stop for leg in told)
    (counts,) = [one for one in out.findings if one.rule == "notice-counts"]
    assert counts.leg is not None
    assert counts.leg > stop


def test_a_minimum_of_the_evening_binds_on_the_way_back_alone() -> None:
    answer = flown(f"!FDC 6/0001 ZZZ ROUTE ZZZ. {PAIR} MEA 9000. {EVENING}", *BACK)
    stop = landing_leg(answer)
    minimums = {
        (leg.number > stop, leg.stretch.limits.mea_ft) for leg in log_of(answer).legs if leg.stretch.via == "V801"
    }
    assert minimums == {(False, 3000.0), (True, 9000.0)}


def test_an_airport_closed_at_the_return_is_told_at_the_last_leg() -> None:
    answer = flown(f"!XHA 07/001 XHAR AD AP CLSD {EVENING}", *BACK)
    (closed,) = [one for one in answer.findings if one.rule == "airport-closed"]
    assert closed.leg == len(log_of(answer).legs)


def test_where_the_flight_turns_back_without_landing_the_hours_of_the_way_back_are_its_own() -> None:
    """QEL is passed at about 15:34Z; with an hour in the hold there QHB is reached again after 16:50Z."""
    turned = ("route XHAR QHB V801 QEL V801 QHB XHAR", "hold QEL 60min")
    answer = flown("!XHA 07/001 XHAR AD AP CLSD 2607181715-2607182300", *turned)
    (closed,) = [one for one in answer.findings if one.rule == "airport-closed"]
    assert closed.leg == len(log_of(answer).legs)


def test_what_may_be_flown_to_an_alternate_alone_leaves_the_route_as_it_is() -> None:
    """The route leaves QHB by 15:23Z; a diversion back to it may be flown until two hours after the landing."""
    way = ("alternate XHAR from QEL via V801 QHB",)
    plain = flown("", *way)
    answer = flown("!XHA 07/001 QHB NAV VOR U/S 2607181700-2607182300", *way)
    assert legs_guided_by(answer, "QHB") == legs_guided_by(plain, "QHB")
    out = [one for one in answer.findings if one.rule == "station-out" and "QHB" in one.message]
    assert out
    assert all(one.alternate is not None for one in out)


def test_what_the_file_itself_calls_out_is_out_on_every_leg() -> None:
    answer = flown(f"!XHA 07/001 QHB NAV VOR U/S {EVENING}", *BACK, "unavailable QHB")
    assert legs_guided_by(answer, "QHB") == []
    told = [one.message for one in answer.findings if one.rule == "station-out" and "QHB" in one.message]
    assert any("by !XHA" not in one for one in told)


def test_an_airport_closed_by_the_icao_form_is_closed_for_the_flight() -> None:
    """ICAO Doc 8126, NOTAM code: FA is an aerodrome, LC closed."""
    text = "(A0118/26 NOTAMN\nQ) ZZZZ/QFALC/IV/NBO/A/000/999\nA) XOLD B) 2607180600 C) 2607181800\nE) AD CLSD DUE WIP)"
    (closed,) = [one for one in flown(text).findings if one.rule == "airport-closed"]
    assert "XOLD is closed by A0118/26" in closed.message


# QHB guides from 15:10Z to 15:22Z and tells ROSKO at 17:03Z; between them QEL alone serves, and there is no landing.
EARLY_AND_LATE = (
    "fix MARSH QEL 180 12nm",
    "fix ROSKO QHB 150 x QEL 120",
    "route XHAR QHB V801 QEL MARSH ROSKO",
    "hold MARSH 60min",
    "equipment vor 2 dme 1",
    "-direct QEL",
)


def marks_of_rosko(answer: Answer) -> list[str]:
    return [mark.station.ident for mark in log_of(answer).legs[-1].told_by]


def stretches_told(answer: Answer, rule: str) -> set[str]:
    legs = log_of(answer).legs
    return {legs[one.leg - 1].stretch.end.name for one in answer.findings if one.rule == rule and one.leg is not None}


def test_a_station_that_is_out_at_its_late_use_alone_guides_at_the_early_one_of_the_same_hop() -> None:
    plain = flown("", *EARLY_AND_LATE)
    out = flown("!XHA 07/001 QHB NAV VOR U/S 2607181600-2607181800", *EARLY_AND_LATE)
    assert marks_of_rosko(plain) == ["QHB"]
    assert marks_of_rosko(out) == []
    assert legs_guided_by(out, "QHB") == legs_guided_by(plain, "QHB")
    assert legs_guided_by(out, "QHB")
    assert stretches_told(out, "station-out") == {"ROSKO"}
    # The second receiver is set to nothing that is out when it is needed.
    settings = [leg.other_setting for leg in log_of(out).legs]
    assert {one.guidance.station.ident for one in settings if one is not None} == {"QEL"}


def test_a_station_that_is_out_at_its_early_use_alone_tells_a_fix_at_the_late_one_of_the_same_hop() -> None:
    out = flown("!XHA 07/001 QHB NAV VOR U/S 2607181400-2607181515", *EARLY_AND_LATE)
    assert marks_of_rosko(out) == ["QHB"]
    assert legs_guided_by(out, "QHB") == []
    # It is used on both stretches in a row, so it is out on both.
    assert stretches_told(out, "station-out") == {"QHB", "QEL"}


def test_a_changeover_point_by_notice_in_force_on_one_stretch_of_a_section_cuts_all_of_it() -> None:
    """12 NM from QEL of the 29.5 to QHB are 17.5 from there, beyond MIDLE; the airway's own is 11 from QHB, before it.

    MIDLE is passed at about 15:25Z: with the two read one by one QEL would be tuned at 11 NM, QHB at MIDLE, QEL again.
    """
    chain = (
        "fix MIDLE QHB 212 15nm",
        "airway V801 QHB 212 - MIDLE 15nm mea 3000 - 034 QEL 14.5nm mea 3000 cop 11 QHB",
    )
    answer = flown(f"!FDC 6/0001 ZZZ ROUTE ZZZ. {PAIR} CHANGE OVER POINT QEL 12 NM. 2607181530-2607182300", *chain)
    (change,) = [leg for leg in log_of(answer).legs if leg.changeover is not None]
    assert change.changeover is not None
    assert change.changeover.distance_nm == pytest.approx(17.5, abs=0.05)
    flown_by = [leg.part.guidance.station.ident for leg in log_of(answer).legs if leg.part.guidance is not None]
    assert [station for station, _ in groupby(flown_by)] == ["QHB", "QEL"]


def test_a_station_used_on_two_stretches_in_a_row_is_out_on_both_where_it_is_at_the_end_of_one() -> None:
    """QEL is used from 15:22Z to 15:39Z; QEL to XOLD is flown from 15:34Z."""
    answer = flown("!XHA 07/001 QEL NAV VOR U/S 2607181536-2607182300")
    assert legs_guided_by(answer, "QEL") == []


@pytest.mark.parametrize("filed", ["!QEL 07/001 QEL AD AP CLSD {}", "!QEL 07/001 KQEL AD AP CLSD {}"])
def test_a_closed_airport_is_told_where_the_flight_lands_and_not_where_its_vor_is_tuned(filed: str) -> None:
    # QEL, the VOR, is tuned from its changeover point on; KQEL, the airport of the domestic form's QEL, is the end.
    field = "airport KQEL N45 41.00 W039 20.00 elev 350ft"
    for route, closed in (("route XHAR QHB V801 QEL KQEL", ["KQEL"]), ("route XHAR QHB V801 QEL XOLD", [])):
        answer = flown(filed.format("2607181400-2607182000"), field, route)
        legs = log_of(answer).legs
        assert [leg.end.name for leg in legs if leg.stretch.notices] == closed
        told = [one for one in answer.findings if one.rule == "airport-closed"]
        assert [one.where for one in told] == ([f"leg {len(legs)}"] if closed else [])


# A hop ends at a landing, or where the next stretch comes to a point again; a notice that counts does so on all of it.
@pytest.mark.parametrize(
    ("route", "notice", "planned_on"),
    [
        # On from XOLD to a new place: QHB is of the first hop, before the landing.
        ("route XHAR QHB V801 QEL XOLD land 2h QSK", "QHB NAV VOR U/S 2607181200-2607181600", (1, 2, 3)),
        # Back at QEL, with an hour in the hold there: XHAR is closed when the flight comes back, on its second hop.
        ("route XHAR QHB V801 QEL V801 QHB XHAR", "XHAR AD AP CLSD 2607181715-2607182300", (3, 4)),
    ],
)
def test_a_notice_is_of_the_hop_of_its_use_alone(route: str, notice: str, planned_on: tuple[int, ...]) -> None:
    skerry = "station QSK 112.40 N45 52.00 W038 38.00 decl 14W class L dme elev 150ft"
    (use,) = log_of(flown(f"!XHA 07/001 {notice}", route, skerry, "hold QEL 60min", "fuel 60gal")).route.notices
    assert use.planned_on == planned_on
