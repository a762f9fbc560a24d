"""Notices that count on one part of a flight and not on another, by the hours of each. The notices are invented."""

from __future__ import annotations

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
