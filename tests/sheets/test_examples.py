"""The shipped examples: each is computed without complaint and says in its comments what it shows."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, navlog

ROUTES = sorted(EXAMPLES.glob("*.route"))


def test_there_are_at_least_six() -> None:
    assert len(ROUTES) >= 6


@pytest.mark.parametrize("path", ROUTES, ids=lambda path: path.stem)
def test_an_example_is_computed(path: Path) -> None:
    printed = navlog("log", str(path))
    assert (printed.status, printed.err) == (0, "")
    assert "VOR NAVIGATION LOG" in printed.out


@pytest.mark.parametrize("path", ROUTES, ids=lambda path: path.stem)
def test_an_example_is_a_flight_that_one_would_fly(path: Path) -> None:
    for line in navlog("log", str(path), "--format", "json").out.splitlines():
        assert json.loads(line)["status"] == "ok", json.loads(line)["findings"]


@pytest.mark.parametrize("path", ROUTES, ids=lambda path: path.stem)
def test_an_example_says_what_it_shows(path: Path) -> None:
    assert path.read_text(encoding="utf-8").startswith("# Shows: ")


@pytest.mark.parametrize("path", ROUTES, ids=lambda path: path.stem)
def test_an_example_is_invented(path: Path) -> None:
    """Stations begin with Q, airports with X, airways are numbered over 800: none of them is published."""
    for line in path.read_text(encoding="utf-8").splitlines():
        words = line.split()
        if words[:1] == ["station"]:
            assert words[1][0] == "Q"
            assert len(words[1]) == 3
        elif words[:1] == ["airport"]:
            assert words[1].startswith("X")
        elif words[:1] == ["airway"]:
            assert int(words[1][1:]) > 800
