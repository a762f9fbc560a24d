"""`navlog mark`: its arguments, exit status and bad input."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, changed, navlog

ROUND_ROBIN = str(EXAMPLES / "round_robin.route")


def test_its_help_has_an_example_and_the_columns() -> None:
    shown = " ".join(navlog("mark", "--help").out.split())
    assert "Example: navlog mark examples/round_robin.route answers.csv --degrees 2" in shown
    assert "true_course, magnetic_course, set_course, flag, wca" in shown


def test_the_exit_status_says_whether_anything_is_off(tmp_path: Path) -> None:
    path = tmp_path / "answers.csv"
    path.write_text("leg,heading\n1,267\n")
    found = navlog("mark", ROUND_ROBIN, str(path))
    assert (found.status, found.err) == (0, "")
    assert found.out == f"MARKING - round_robin, answers {path}\n\n1 figure: 1 right, 0 off\n"
    path.write_text("leg,heading\n1,277\n")
    assert navlog("mark", ROUND_ROBIN, str(path)).status == 1
    assert navlog("mark", ROUND_ROBIN, str(path), "--degrees", "10").status == 0


def test_answers_may_come_from_standard_input() -> None:
    assert navlog("mark", ROUND_ROBIN, "-", typed="leg,heading\n1,267\n").status == 0


def test_overrides_hold_for_the_computed_figures() -> None:
    assert navlog("mark", ROUND_ROBIN, "-", "--wind", "calm", typed="leg,wca\n1,0\n").status == 0


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((ROUND_ROBIN,), "Give the ANSWERS to mark, or --template"),
        ((ROUND_ROBIN, "a.csv", "--template"), "Give the ANSWERS to mark, or --template"),
        (("-", "-"), "cannot both be standard input"),
        ((ROUND_ROBIN, "nowhere.csv"), "nowhere.csv:1:1: error: cannot read this file"),
        (("nowhere.route", "-"), "nowhere.route:1:1: error: cannot read this file"),
        ((str(EXAMPLES / "club_day.route"), "-"), "[which-flight]"),
        ((str(EXAMPLES / "club_day.route"), "-", "--flight", "Elsewhere"), "[unknown-flight]"),
        ((ROUND_ROBIN, "-", "--degrees", "many"), "--degrees:1:1: error: "),
        ((ROUND_ROBIN, "-", "--minutes", "-1"), "--minutes:1:1: error: "),
        ((ROUND_ROBIN, "-", "--knots", "nan"), "--knots:1:1: error: "),
        ((ROUND_ROBIN, "-", "--fuel", "3lb"), "--fuel:1:1: error: `3lb` is not in gal"),
        ((ROUND_ROBIN, "-", "--wind", "nonsense"), "--wind:1:1: error: "),
    ],
)
def test_bad_input_is_one_clear_line(arguments: tuple[str, ...], message: str) -> None:
    found = navlog("mark", *arguments, typed="leg,heading\n1,267\n")
    assert found.status == 2
    assert found.out == ""
    assert message in found.err


def test_a_problem_in_the_flight_comes_first() -> None:
    text = changed("route XHAR NOWHERE")
    found = navlog("mark", "-", "--template", typed=text)
    assert found.status == 2
    assert "NOWHERE" in found.err


def test_figures_are_taken_as_the_sheet_prints_them(tmp_path: Path) -> None:
    """A true-referenced station's course is printed `272T`, a figure that a finding means with `!`."""
    text = changed("station QHB 113.70 N46 12.30 W039 20.70 decl true class L dme elev 820ft")
    printed = navlog("log", "-", "--format", "planning", typed=text).out
    assert "272T TO" in printed or "T TO" in printed
    course = next(word for word in printed.split() if word.endswith("T") and word[:3].isdigit())
    answers = tmp_path / "a.csv"
    answers.write_text(f"leg,set_course,true_course\n1,{course}!,257T\n", "utf-8")
    done = navlog("mark", "-", str(answers), typed=text)
    assert done.status == 0, done.err + done.out
    for leg, key in ((4, "set_course"), (1, "magnetic_course"), (1, "heading")):
        answers.write_text(f"leg,{key}\n{leg},034T\n", "utf-8")
        refused = navlog("mark", "-", str(answers), typed=text)
        assert refused.status == 2
        assert "`034T` is not a direction" in refused.err
