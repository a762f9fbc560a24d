"""`navlog explain`: a file or a rule, never both, and bad input in one clear line."""

from __future__ import annotations

import json

import pytest
from helpers.flown import EXAMPLES, navlog

ROUND_ROBIN = str(EXAMPLES / "round_robin.route")


def test_the_example_of_its_help_runs() -> None:
    shown = navlog("explain", "--help").out
    assert "Example: navlog explain examples/round_robin.route --leg 2" in " ".join(shown.split())
    found = navlog("explain", ROUND_ROBIN, "--leg", "2")
    assert (found.status, found.err) == (0, "")
    assert found.out.startswith("WORKINGS - round_robin\n")


@pytest.mark.parametrize("arguments", [(), (ROUND_ROBIN, "--rule", "reserve")])
def test_a_file_or_a_rule_is_wanted(arguments: tuple[str, ...]) -> None:
    found = navlog("explain", *arguments)
    assert found.status == 2
    assert "Give a route file, a --route, or --rule" in found.err


def test_a_rule_is_told_with_its_source() -> None:
    found = navlog("explain", "--rule", "reserve")
    assert found.status == 0
    assert "Source: 14 CFR 91.151, 91.167" in found.out
    assert json.loads(navlog("explain", "--rule", "reserve", "--format", "json").out)["rule"] == "reserve"


def test_a_misspelt_rule_names_the_nearest() -> None:
    found = navlog("explain", "--rule", "resreve")
    assert found.status == 2
    assert found.err.splitlines() == [
        "error: no rule is called `resreve` [unknown-rule]",
        "  hint: did you mean `reserve`?",
    ]


def test_a_retired_rule_names_those_that_tell_the_same() -> None:
    found = navlog("explain", "--rule", "alternate-minimum")
    assert found.status == 2
    assert found.err.splitlines() == [
        "error: `alternate-minimum` is no rule any more [unknown-rule]",
        "  hint: now told by `minimum-unknown`",
    ]


@pytest.mark.parametrize("option", ["--wind", "--off", "--altitude", "--date"])
def test_overrides_hold_and_nonsense_in_them_is_a_problem(option: str) -> None:
    found = navlog("explain", ROUND_ROBIN, option, "nonsense")
    assert found.status == 2
    assert found.out == ""
    assert found.err.startswith(f"{option}:1:1: error: ")


def test_an_override_shows_in_the_workings() -> None:
    assert "wind: 300.0/30.0T" in navlog("explain", ROUND_ROBIN, "--wind", "300/30", "--leg", "1").out


def test_a_flight_that_is_not_there_is_named() -> None:
    found = navlog("explain", ROUND_ROBIN, "--flight", "Elsewhere")
    assert found.status == 2
    assert "[unknown-flight]" in found.err
