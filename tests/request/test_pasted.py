"""What pilots paste as a route: small letters, dots, speed and level in front, a whole flight plan message.

The forms are those of ICAO Doc 4444 (PANS-ATM), appendix 2, item 15, and appendix 3 (the filed flight plan message);
the flights are invented.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from navlog.request.pasted import read_pasted, wheels_off

MESSAGE = """(FPL-N123-IG
-C172/L-SDG/S
-XHAR1330
-N0110A055 DCT QHB V801 QEL/N0120A065 V803 REEFY DCT
-XOLD0130 XBAY
-DOF/260718 RMK/TRAINING)"""
NAMED = MESSAGE.replace("XHAR", "QAAR").replace("XOLD", "QAOL").replace("XBAY", "QABY")


@pytest.mark.parametrize(
    ("pasted", "words"),
    [
        ("xhar..qhb.v801.qel xold", "XHAR QHB V801 QEL XOLD"),
        ("XHAR, QHB, V801, QEL, XOLD", "XHAR QHB V801 QEL XOLD"),
        ("xhar direct qhb  v801\n qel", "XHAR DCT QHB V801 QEL"),
        ("XHAR QHB/A055 V801 QEL", "XHAR QHB/A055 V801 QEL"),
        ("xhar qhb084021 4612N03921W qel", "XHAR QHB084021 4612N03921W QEL"),
        ("xhar qhb:vor v801 qel", "XHAR QHB:VOR V801 QEL"),
        ("XHAR qel xold land 45min fuel 20gal qhb", "XHAR QEL XOLD land 45min fuel 20gal QHB"),
        ("XHAR xbay over QHB", "XHAR XBAY over QHB"),
    ],
)
def test_what_is_pasted_becomes_the_words_of_a_route_line(pasted: str, words: str) -> None:
    found = read_pasted(pasted)
    assert (found.route, found.problems) == (words, ())


@pytest.mark.parametrize(
    ("front", "statements"),
    [
        ("N0110A050", (("tas", "110kt"), ("altitude", "5000ft"))),
        ("N0090F085", (("tas", "90kt"), ("altitude", "FL085"))),
        ("K0200M0150", (("tas", "200km/h"), ("altitude", "1500m"))),
        # 1,130 tens of metres are 37,073 ft of pressure altitude.
        ("N0250S1130", (("tas", "250kt"), ("altitude", "FL371"))),
        ("N0100VFR", (("tas", "100kt"),)),
    ],
)
def test_speed_and_level_in_front_are_statements(front: str, statements: tuple[tuple[str, str], ...]) -> None:
    found = read_pasted(f"{front.lower()} XHAR QHB V801 QEL")
    assert (found.route, found.statements, found.problems) == ("XHAR QHB V801 QEL", statements, ())


def test_a_mach_number_is_no_speed_to_plan_by() -> None:
    (problem,) = read_pasted("M082F350 XHAR QHB").problems
    assert (problem.code, problem.message) == (
        "bad-speed",
        "`M082` is a Mach number, and the log is planned by true airspeed",
    )


def test_a_flight_plan_message_gives_the_ends_the_date_speed_level_rules_and_alternates() -> None:
    found = read_pasted(NAMED)
    assert found.problems == ()
    assert found.route == "QAAR DCT QHB V801 QEL/N0120A065 V803 REEFY DCT QAOL"
    assert dict(found.statements) == {
        "tas": "110kt",
        "altitude": "5500ft",
        "rules": "ifr",
        "date": "2026-07-18",
        "alternate": "QABY",
    }


@pytest.mark.parametrize(
    ("off_block", "taxi_min", "off"),
    [
        ("1330", 8.0, "13:38Z"),
        ("0959", 0.5, "10:00Z"),
        ("2355", 5.0, None),
        ("2561", 1.0, None),
        ("2350", 9.0, "23:59Z"),
    ],
)
def test_wheels_off_is_off_block_and_the_time_of_taxiing(off_block: str, taxi_min: float, off: str | None) -> None:
    assert wheels_off(off_block, taxi_min) == off


def test_off_block_is_not_wheels_off() -> None:
    assert any(note.startswith("off-block 1330Z") and "--off" in note for note in read_pasted(NAMED).notes)


@pytest.mark.parametrize("rules", ["Y", "Z"])
def test_a_change_of_rules_on_the_way_is_planned_as_ifr_and_told(rules: str) -> None:
    found = read_pasted(NAMED.replace("-IG", f"-{rules}G"))
    assert dict(found.statements)["rules"] == "ifr"
    assert any("planned as IFR throughout" in note for note in found.notes)


@pytest.mark.parametrize(
    ("message", "code"),
    [
        ("(FPL-N123-IG-C172/L-SDG/S)", "bad-message"),
        ("(FPL", "bad-message"),
        (NAMED.replace("QAOL0130", "NOWHERE"), "bad-message"),
        (NAMED.replace("QAOL", "ZZZZ"), "bad-message"),
        (NAMED.replace("QAAR1330", "QAAR2560"), "bad-time"),
        (NAMED.replace("QAAR1330", "QAAR2400"), "bad-time"),
        (NAMED.replace("QAOL0130", "QAOL0160"), "bad-time"),
    ],
)
def test_a_message_that_lacks_something_is_a_problem(message: str, code: str) -> None:
    assert [one.code for one in read_pasted(message).problems] == [code]


@pytest.mark.parametrize(
    ("pasted", "procedure", "kind", "fix"),
    [
        (
            "XHAR KODAP4.QHB V801 QEL XOLD",
            "KODAP4",
            "a departure",
            "where you leave it: `QHB`",
        ),
        ("XHAR QHB V801 QEL.BOKAN2 XOLD", "BOKAN2", "an arrival", "end the route at the fix where it begins: `QEL`"),
        ("KODAP4 QHB V801 QEL", "KODAP4", "a departure", "`QHB`"),
        ("QHB V801 QEL ALB1A", "ALB1A", "an arrival", "`QEL`"),
    ],
)
def test_a_procedure_is_a_problem_that_names_the_fix_to_use(pasted: str, procedure: str, kind: str, fix: str) -> None:
    (problem,) = read_pasted(pasted).problems
    assert problem.code == "procedure"
    assert f"`{procedure}` is spelt like {kind} procedure" in problem.message
    assert fix in (problem.hint or "")
    assert problem.span is not None
    assert problem.text is not None
    start = problem.span.column - 1
    assert problem.text[start : start + problem.span.length] == procedure


@given(st.text(max_size=200))
def test_no_text_breaks_the_reader(text: str) -> None:
    found = read_pasted(text)
    assert found.route == found.route.strip()
    assert "\n" not in found.route


@given(st.lists(st.sampled_from(["QHB", "V801", "QEL", "4612N03921W", "QHB084021", "DCT"]), min_size=1, max_size=8))
def test_dots_blanks_and_commas_part_words_alike(words: list[str]) -> None:
    ways = {read_pasted(sign.join(words)).route for sign in (" ", ".", "..", ",", " , ", "  ")}
    assert ways == {" ".join(words)}


def test_a_comment_sign_is_a_problem_and_cuts_nothing_off() -> None:
    (problem,) = read_pasted("kiow..iow.v216.lotte # v129 dbq kmsn").problems
    assert problem.message == "`#` is no part of a route"
    assert problem.span is not None
    assert problem.span.column == len("KIOW IOW V216 LOTTE ") + 1
