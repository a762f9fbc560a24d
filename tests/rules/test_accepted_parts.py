"""A rule accepted on a part of a flight: an airway, the way between two points, beside a point."""

from __future__ import annotations

import pytest
from helpers.flown import changed, flights
from helpers.judged import judged

LOW = ("altitude 2000", "route XHAR QHB V801 QEL XOLD", "direct QEL - XOLD 9.6nm min 3000")


def reasons(rule: str, *accepted: str) -> dict[int | None, str | None]:
    """By leg, the reason with which a low flight accepts what a rule finds."""
    return {one.leg: one.accepted for one in judged(*LOW, *accepted) if one.rule == rule}


def test_on_an_airway() -> None:
    assert reasons("under-mea", 'accept under-mea on V801 "by day"') == {2: "by day", 3: "by day"}
    assert reasons("under-minimum", 'accept under-minimum on V801 "by day"') == {1: None, 4: None}


@pytest.mark.parametrize("points", ["XHAR QHB", "QHB XHAR"])
def test_on_the_way_between_two_points_in_either_order(points: str) -> None:
    assert reasons("under-minimum", f'accept under-minimum on {points} "own survey"') == {1: "own survey", 4: None}
    assert reasons("under-minimum", f'accept under-minimum on {points[:4].strip()} XOLD "far"')[4] == "far"


def test_of_a_point_passed_twice_the_way_round_is_between_it_and_itself_alone() -> None:
    # QHB to QEL and back lies between two passages of QHB, and not between XHAR and QHB.
    around = "route XHAR QHB V801 QEL V801 QHB XHAR"
    assert set(reasons("under-mea", around, 'accept under-mea on XHAR QHB "field in sight"').values()) == {None}
    assert set(reasons("under-mea", around, 'accept under-mea on QHB QHB "round"').values()) == {"round"}


def test_beside_a_point() -> None:
    assert reasons("under-minimum", 'accept under-minimum at QEL "seen"') == {1: None, 4: "seen"}
    assert reasons("under-mea", 'accept under-mea at QEL "seen"') == {2: None, 3: "seen"}


def test_without_a_part_the_whole_flight_and_the_reason_of_the_part_first() -> None:
    both = ('accept under-minimum "all"', 'accept under-minimum at QEL "here"')
    text = "\n".join(both)
    assert reasons("under-minimum", text) == {1: "all", 4: "here"}


def test_a_place_that_no_flight_passes_is_a_problem_at_its_word() -> None:
    text = changed('accept under-mea on V810 "by day"')
    (found,) = flights(text)
    (problem,) = found["problems"]
    assert (problem["code"], problem["message"]) == ("unknown-place", "no flight of this file passes `V810`")
    assert problem["hint"] == "did you mean `V801`?"
    assert text.splitlines()[problem["line"] - 1][problem["column"] - 1 :].startswith("V810")


def test_a_place_of_another_flight_is_silent() -> None:
    common = changed('accept under-mea on V801 "by day"', without=("route",))
    text = common + 'flight "one"\n  route XHAR QHB V801 QEL XOLD\nflight "two"\n  route XHAR QHB XHAR\n'
    assert [one["problems"] for one in flights(text)] == [[], []]


def test_a_point_inside_an_airway_is_passed_though_no_route_line_writes_it() -> None:
    marsh = "airway V801 QHB 212 - MARSH 8.9nm mea 3000 - 034 QEL 20.9nm mea 3000"
    text = changed(marsh, "fix MARSH N46 04.00 W039 24.23", 'accept under-mea at MARSH "by day"')
    assert [one["problems"] for one in flights(text)] == [[]]


def test_moca_range_accepted_under_vfr_silences_the_note_that_stands_for_it() -> None:
    airway = "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 moca 2400 cop 5 QHB"
    told = judged("altitude 2500", airway, 'accept moca-range "by day"')
    assert [(one.severity.value, one.accepted) for one in told if one.rule == "under-mea"] == [("note", "by day")]
    (retired,) = [one.message for one in told if one.rule == "rule-retired"]
    assert retired == "what `moca-range` told is under VFR a note of `under-mea` now"
