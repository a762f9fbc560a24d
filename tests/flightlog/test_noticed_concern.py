"""Which notices concern a flight though they change no figure of its log. The notices are invented."""

from __future__ import annotations

import pytest
from helpers.noticed import DAY, flown, found, log_of


# Q codes by FAA Order JO 7930.2, appendix B: RD is a danger area, CA activated; OE entry, WU unmanned aircraft.
@pytest.mark.parametrize(
    ("notice", "names"),
    [
        ("(A0001/26 NOTAMN\nA) ZZHA B) 2607180000 C) 2607182359\nE) QEL NOT AVBL)", "QEL"),
        ("(A0001/26 NOTAMN\nA) ZZHA B) 2607180000 C) 2607182359\nE) XOLD USE WITH CAUTION)", "XOLD"),
        (
            "(A0001/26 NOTAMN\nQ) ZZXX/QRDCA/IV/BO/W/000/100\nA) ZZHA B) 2607180000 C) 2607182359\n"
            "E) DANGER AREA D17 ACTIVE ACROSS V801)",
            "V801",
        ),
        (f"!XHA 07/001 XHA AIRSPACE PJE WI AN AREA DEFINED AS 5NM RADIUS OF QEL SFC-12500FT {DAY}", "QEL"),
    ],
)
def test_what_may_concern_a_place_of_the_flight_is_not_told_off_as_idle(notice: str, names: str) -> None:
    answer = flown(notice)
    (told,) = found(answer, "notice-not-understood")
    assert f"names {names}; what it says of {names} is not read" in told
    assert found(answer, "notice-idle") == []


@pytest.mark.parametrize(
    "notice",
    [
        # Filed under a place is not naming it; below 500 ft above the ground no flight goes its way.
        f"!QEL 07/001 QEL AIRSPACE PJE WI AN AREA DEFINED AS 5NM RADIUS OF ZZZ SFC-12500FT {DAY}",
        f"!XHA 07/001 XHA AIRSPACE UAS WI AN AREA DEFINED AS 1NM RADIUS OF QEL SFC-400FT AGL {DAY}",
        f"!XHA 07/001 XHAR RWY 09/27 CLSD {DAY}",
        # The day after the flight.
        "(A0001/26 NOTAMN\nA) ZZHA B) 2607190600 C) 2607192359\nE) QEL NOT AVBL)",
    ],
)
def test_what_is_harmless_to_the_flight_stays_a_note(notice: str) -> None:
    answer = flown(notice)
    assert found(answer, "notice-not-understood") == []
    assert len(found(answer, "notice-idle")) == 1


@pytest.mark.parametrize(("landing", "warns"), [("land 20min fuel 30gal", True), ("land 20min", False)])
def test_fuel_that_is_not_to_be_had_is_told_where_the_log_takes_it(landing: str, warns: bool) -> None:
    answer = flown(f"!XHA 07/001 XOLD SVC 100LL NOT AVBL {DAY}", f"route XHAR QHB V801 QEL XOLD {landing} QEL")
    assert bool(found(answer, "fuel-not-available")) is warns
    assert found(answer, "notice-idle") == ([] if warns else ["!XHA 07/001 is not counted: XOLD fuel not available"])


def test_fuel_that_is_to_be_had_again_before_the_landing_is_no_finding() -> None:
    notice, stop = "XOLD SVC FUEL NOT AVBL 2607180000-2607181400", "XOLD land 20min fuel 30gal QEL"
    assert found(flown(f"!XHA 07/001 {notice}", f"route XHAR QHB V801 QEL {stop}"), "fuel-not-available") == []


# Off 15:10Z on 18 July 2026, without wind: no time is known but that of take-off, and the flight is taken to end a day
# after it.
@pytest.mark.parametrize(
    ("period", "counts"),
    [
        ("2607171300-2607171400", False),
        ("2607181300-2607181400", False),
        ("2607181300-2607181510", True),
        ("2607182100-2607182200", True),
        ("2607191500-2607191700", True),
        ("2607191545-2607191700", False),
        ("2607201200-2607202200", False),
    ],
)
@pytest.mark.parametrize("what", ["QEL NAV VOR U/S", "XOLD AD AP CLSD"])
def test_without_wind_a_notice_of_another_day_does_not_count(what: str, period: str, counts: bool) -> None:
    answer = flown(f"!XHA 07/001 {what} {period}", "-wind")
    assert bool(found(answer, "station-out") + found(answer, "airport-closed")) is counts


def test_without_wind_the_time_of_a_stop_comes_on_top() -> None:
    for stop, counts in (("30min", False), ("90min", True)):
        route = f"route XHAR QHB V801 QEL XOLD land {stop} QEL"
        answer = flown("!XHA 07/001 QEL NAV VOR U/S 2607191620-2607191700", "-wind", route)
        assert bool(found(answer, "station-out")) is counts


@pytest.mark.parametrize(("airway", "counts"), [("V801", True), ("V999", False)])
def test_a_crossing_altitude_is_of_its_own_airway_alone(airway: str, counts: bool) -> None:
    answer = flown(f"!FDC 6/0001 ZZZ ROUTE ZZZ. {airway} HARBOUR (QHB) VOR/DME MCA 9500 SOUTHBOUND. {DAY}")
    (use,) = log_of(answer).route.notices
    assert use.counts is counts
    crossed = [one.altitude_ft for leg in log_of(answer).legs for one in leg.stretch.limits.crossings_start]
    assert (9500.0 in crossed) is counts


def test_what_the_way_to_an_alternate_alone_uses_is_about_no_stretch_of_the_route() -> None:
    far = "airport XBAK N45 30.00 W039 33.00 elev 300ft"
    log = log_of(flown(f"!XHA 07/001 XBAK AD AP CLSD {DAY}", far, "alternate XBAK from QEL"))
    (use,), (beside,) = log.route.notices, log.route.alternates[0].notices
    assert (use.names, use.stretches, use.planned_on) == (("XBAK",), (), ())
    # The way has one stretch, from QEL to the airport.
    assert (beside.names, beside.stretches, beside.planned_on) == ((), (1,), (1,))
    assert use.counts
    assert beside.counts


# V801 is cut in three, at 10 and 20 NM from QHB; from 15:16Z, with 50 minutes in the hold at each fix, its last
# part is begun after 17:00Z. A notice over all of it that ends at 15:30Z is in force on the first part alone.
CUT = (
    "fix MIDDY QHB 212 10nm",
    "fix MADDY QHB 212 20nm",
    "airway V801 QHB 212 - MIDDY 10nm mea 3000 - MADDY 10nm mea 3000 - 034 QEL 9.5nm mea 3000",
    "hold MIDDY 50min",
    "hold MADDY 50min",
    "route XHAR QHB V801 MIDDY V801 MADDY V801 QEL XOLD",
    "fuel 60gal",
)


def test_what_counts_on_the_first_of_the_parts_in_a_row_that_it_is_about_does_so_on_the_last() -> None:
    answer = flown(
        "!FDC 6/0001 ZZZ ROUTE ZZZ. V801 HARBOUR (QHB) VOR/DME TO ELDON (QEL) VOR/DME MEA 9000. 2607181200-2607181530",
        *CUT,
    )
    flown_at = {
        leg.stretch.number: leg.stretch.limits.mea_ft for leg in log_of(answer).legs if leg.stretch.via == "V801"
    }
    assert flown_at == {2: 9000.0, 3: 9000.0, 4: 9000.0}


# Of the stretches 2 to 4 from QHB to QEL one that only touches what is told at a fix is not part of it.
@pytest.mark.parametrize(
    ("part", "stretches"),
    [
        ("MIDDY TO MADDY", (3,)),
        ("MADDY TO MIDDY", (3,)),
        ("HARBOUR (QHB) VOR/DME TO MIDDY", (2,)),
        ("MIDDY TO ELDON (QEL) VOR/DME", (3, 4)),
    ],
)
def test_a_part_of_an_airway_is_about_the_stretches_within_it(part: str, stretches: tuple[int, ...]) -> None:
    (use,) = log_of(flown(f"!FDC 6/0001 ZZZ ROUTE ZZZ. V801 {part} MEA 9000. {DAY}", *CUT)).route.notices
    assert use.stretches == stretches


@pytest.mark.parametrize(("briefing", "empty"), [(f"!XHA 07/001 XHAR RWY 09/27 CLSD {DAY}", False), ("none", True)])
def test_a_briefing_without_a_notice_is_known_from_one_that_has_them(briefing: str, empty: bool) -> None:
    route = log_of(flown(briefing)).route
    assert [one.path for one in route.notices_empty] == (["notices.txt"] if empty else [])
    assert route.notices_read == (0 if empty else 1)


def test_all_places_of_the_flight_that_are_named_are_told_in_the_order_of_the_words() -> None:
    words = "!XHA 07/001 XHA AIRSPACE PJE WI AN AREA DEFINED AS 5NM RADIUS OF XOLD AND QEL SFC-12500FT"
    (told,) = found(flown(f"{words} {DAY}"), "notice-not-understood")
    assert "what it says of XOLD, QEL is not read" in told
