"""`navlog catalogue airport`, `fix`, `between`, `nearby IDENT`, whatever has a name, their JSON, and completion.

The places are those of the invented cycle in `examples/islands`.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.shell_completion import ShellComplete
from helpers.flown import EXAMPLES, navlog

from navlog.cli import commands as program

DAY = ("--date", "2026-07-18")


def asked(islands: str, *words: str) -> str:
    found = navlog("catalogue", *words, *DAY, "--catalogue", islands)
    assert found.status == 0, found.err
    return found.out


def asked_json(islands: str, *words: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in asked(islands, *words, "--format", "json").splitlines()]


def test_an_airport_is_told_with_the_vors_around_it(islands: str) -> None:
    told = asked(islands, "airport", "xhar")
    assert told.startswith("XHAR airport ")
    assert "elevation     790 ft" in told
    assert "VORs around   QHB VOR/DME 113.70 " in told


def test_a_fix_is_told_with_what_makes_it_and_its_airways(islands: str) -> None:
    told = asked(islands, "fix", "COVEY")
    assert "COVEY fix" in told
    assert "made up by" in told
    assert "MRA           4000 ft" in told
    assert "airways       V805" in told


def test_airways_between_two_points_have_the_length_and_the_highest_minimum_of_that_way(islands: str) -> None:
    assert asked(islands, "between", "QHB", "QNO").splitlines()[1].split() == [
        "V805", "32.5", "4000", "QHB-TIDAL", "TIDAL",
    ]  # fmt: skip
    # The other way the published minimum is 3,500 ft.
    assert asked(islands, "between", "QNO", "QHB").splitlines()[1].split() == [
        "V805", "32.5", "3500", "QNO-TIDAL", "TIDAL",
    ]  # fmt: skip


def test_where_no_airway_joins_two_points_the_status_says_so(islands: str) -> None:
    found = navlog("catalogue", "between", "QHB", "REEFY", *DAY, "--catalogue", islands)
    assert (found.status, found.out) == (1, "")
    assert found.err == "no airway joins QHB and REEFY on 2026-07-18\n"


def test_what_lies_around_a_name_is_found(islands: str) -> None:
    told = navlog("catalogue", "nearby", "qhb", *DAY, "--catalogue", islands)
    assert told.status == 0
    assert told.err.startswith("around ")
    assert told.out.splitlines()[1].startswith("QHB VOR/DME")


def test_the_course_to_a_place_nearby_is_that_from_here_to_it(islands: str) -> None:
    """XSKE lies south-east of XHAR: 140 true there, 320 back; an airport has no radial."""
    told = navlog("catalogue", "nearby", "XHAR", *DAY, "--catalogue", islands)
    (line,) = [one for one in told.out.splitlines() if one.startswith("XSKE airport")]
    assert line.split()[2:5] == ["-", "140T", "24.1"]


def test_a_name_that_is_no_station_is_told_for_what_it_is(islands: str) -> None:
    found = navlog("catalogue", "station", "XHAR", *DAY, "--catalogue", islands)
    assert found.status == 0
    assert found.err == "XHAR is no station but an airport\n"
    assert found.out.startswith("XHAR airport ")


@pytest.mark.parametrize(
    ("words", "hint"),
    [
        (("airport", "QHB"), "`QHB` is a station: `navlog catalogue station`"),
        (("fix", "XHAR"), "`XHAR` is an airport: `navlog catalogue airport`"),
        (("fix", "COVEZ"), "did you mean COVEY"),
        (("between", "QHB", "NOWHERE"), ""),
        (("nearby", "QZZ"), ""),
    ],
)
def test_a_name_that_is_none_of_the_kind_is_a_problem_that_says_what_it_is(
    words: tuple[str, ...], hint: str, islands: str
) -> None:
    found = navlog("catalogue", *words, *DAY, "--catalogue", islands)
    assert (found.status, found.out) == (2, "")
    assert "[unknown-ident]" in found.err
    assert hint in found.err


@pytest.mark.parametrize(
    ("words", "key", "value"),
    [
        (("station", "QHB"), ("station", "frequency_mhz"), 113.7),
        (("airport", "XHAR"), ("airport", "elevation_ft"), 790.0),
        (("fix", "COVEY"), ("fix", "mra_ft"), 4000.0),
        (("airway", "V805"), ("ident",), "V805"),
        (("between", "QHB", "QNO"), ("mea_ft",), 4000.0),
        (("nearby", "QHB"), ("place", "ident"), "QHB"),
        (("info",), ("provenance", "cycle"), "2607"),
    ],
)
def test_every_question_answers_in_json_with_the_schema_of_its_kind(
    words: tuple[str, ...], key: tuple[str, ...], value: object, islands: str
) -> None:
    first: Any = asked_json(islands, *words)[0]
    assert first["schema"] == f"navlog/catalogue-{words[0]}-1"
    assert first["date"] == "2026-07-18"
    for one in key:
        first = first[one]
    assert first == (pytest.approx(value) if isinstance(value, float) else value)


def offered(words: list[str], incomplete: str) -> list[str]:
    complete = ShellComplete(program, {}, "navlog", "_NAVLOG_COMPLETE")
    return [item.value for item in complete.get_completions(words, incomplete)]


def test_identifiers_complete_from_the_catalogue(islands: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NAVLOG_CATALOGUE", islands)
    found = offered(["catalogue", "airway"], "V80")
    assert found == ["V801", "V803", "V805"]
    assert "QHB" in offered(["catalogue", "station"], "Q")
    assert "XHAR" in offered(["catalogue", "airport"], "XH")


def test_without_a_catalogue_nothing_is_offered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NAVLOG_CATALOGUE", str(tmp_path / "none.sqlite"))
    assert offered(["catalogue", "station"], "Q") == []


def test_flights_rules_and_requirements_complete() -> None:
    club = str(EXAMPLES / "club_day.route")
    flights = offered(["log", club, "--flight"], "")
    assert len(flights) >= 2
    assert offered(["log", club, "--flight"], flights[0][:3])[0] == flights[0]
    assert offered(["log", str(EXAMPLES / "no-such.route"), "--flight"], "") == []
    assert "under-mea" in offered(["explain", "--rule"], "under-")
    assert "61.109" in offered(["check", "--requirement"], "61.1")
