"""Files in, sheets out, exit statuses: what `navlog log` does with every kind of file, good or not."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from helpers.flown import EXAMPLES, changed, codes, flight, flights, navlog

COMMON = changed(without=("route",))
THREE = COMMON + 'flight "out"\nroute XHAR QHB\nflight "lost"\nroute XHAR QQQ\nflight "home"\nroute QHB XHAR\n'


def test_of_many_flights_with_one_broken_the_others_are_printed() -> None:
    printed = navlog("log", "-", typed=THREE)
    assert printed.status == 2
    assert printed.out.count("VOR NAVIGATION LOG") == 2
    assert "lost" not in printed.out
    assert "no station, airport or fix is called `QQQ` [unknown-name]" in printed.err
    statuses = [(found["flight"], found["status"]) for found in flights(THREE)]
    assert statuses == [("out", "ok"), ("lost", "problem"), ("home", "ok")]


def test_a_problem_in_the_common_part_stops_the_file() -> None:
    (found,) = flights(THREE.replace("tas 110kt", "tas fast"))
    assert (found["flight"], found["status"], found["legs"]) == (None, "problem", [])


def test_one_flight_may_be_chosen_by_name() -> None:
    printed = navlog("log", "-", "--flight", "home", typed=THREE)
    assert printed.status == 0
    assert printed.out.startswith("VOR NAVIGATION LOG - home")
    unknown = navlog("log", "-", "--flight", "nowhere", typed=THREE)
    assert unknown.status == 2
    assert "`out`, `lost`, `home`" in unknown.err


def test_names_are_looked_up_only_when_the_text_is_right_and_all_problems_come_in_one_run() -> None:
    wrong = COMMON + 'flight "a"\nroute XHAR QQQ QQZ\nflight "b"\naltitude high\nroute XHAR QQQ\n'
    found = {one["flight"]: [problem["code"] for problem in one["problems"]] for one in flights(wrong)}
    assert found["a"] == ["unknown-name", "unknown-name"]
    assert "unknown-name" not in found["b"]
    assert len(found["b"]) == 1


def test_standard_input_is_called_by_its_name() -> None:
    assert navlog("log", "-", typed=changed("tas fast")).err.startswith("-:")
    assert flight(changed())["source"] == {"file": "-", "line": 1}


def test_a_file_and_standard_input_say_the_same(tmp_path: Path) -> None:
    path = tmp_path / "-.route"
    path.write_text(changed(), encoding="utf-8")
    from_file = json.loads(navlog("log", str(path), "--format", "json").out)
    assert from_file["legs"] == flight(changed())["legs"]


@pytest.mark.parametrize("kind", ["missing", "folder", "empty", "binary", "blank"])
def test_a_file_that_is_none_is_a_message_and_no_traceback(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "trip.route"
    if kind == "folder":
        path.mkdir()
    elif kind == "empty":
        path.write_bytes(b"")
    elif kind == "binary":
        path.write_bytes(bytes(range(256)))
    elif kind == "blank":
        path.write_bytes(b"\n  # nothing\n\n")
    for form in ("text", "json"):
        printed = navlog("log", str(path), "--format", form)
        assert printed.status == 2
        assert printed.err.startswith(f"{path}:")
        assert "Traceback" not in printed.err
        assert "error: " in printed.err


@pytest.mark.parametrize(
    ("statements", "status"),
    [
        ((), 0),
        (("altitude 2300",), 0),
        (("altitude 2300", "rules ifr"), 1),
        (("wind 300/200",), 1),
        (("fuel 3gal",), 1),
        (("route XHAR QQQ",), 2),
        (("tas fast",), 2),
    ],
)
def test_exit_statuses(statements: tuple[str, ...], status: int) -> None:
    """0 fine, warnings allowed; 1 a finding of severity error; 2 a problem."""
    assert navlog("log", "-", typed=changed(*statements)).status == status


def test_a_problem_wins_over_an_error() -> None:
    text = changed("wind 300/200", without=("route",))
    both = text + 'flight "a"\nroute XHAR QHB\nflight "b"\nroute XHAR QQQ\n'
    assert navlog("log", "-", typed=both).status == 2


@pytest.mark.parametrize("arguments", [("log",), ("log", "-", "--format", "papyrus"), ("lgo", "-"), ("log", "-", "-z")])
def test_wrong_usage_is_status_2(arguments: tuple[str, ...]) -> None:
    printed = navlog(*arguments)
    assert printed.status == 2
    assert printed.out == ""
    assert printed.err


def test_output_goes_to_a_file_whole_or_not_at_all(tmp_path: Path) -> None:
    path = tmp_path / "sheet.txt"
    printed = navlog("log", "-", "--output", str(path), typed=changed())
    assert (printed.status, printed.out) == (0, "")
    assert path.read_text("utf-8") == navlog("log", "-", typed=changed()).out
    assert [one.name for one in tmp_path.iterdir()] == ["sheet.txt"]
    nowhere = navlog("log", "-", "--output", str(tmp_path / "no" / "sheet.txt"), typed=changed())
    assert nowhere.status == 2
    assert "Traceback" not in nowhere.err


def test_results_go_to_stdout_and_problems_to_stderr() -> None:
    good, bad = navlog("log", "-", typed=changed()), navlog("log", "-", typed=changed("tas fast"))
    assert (good.err, bad.out) == ("", "")


def test_overrides_replace_what_every_flight_says() -> None:
    path = str(EXAMPLES / "club_day.route")
    lines = navlog("log", path, "--format", "json", "--wind", "calm", "--altitude", "2600").out.splitlines()
    for found in map(json.loads, lines):
        for leg in found["legs"]:
            assert leg["wind"]["speed_kt"] == 0.0
            assert leg["altitude_ft"] == 2600


@pytest.mark.parametrize(
    ("statement", "code"),
    [
        ('accept under-meaa "typed in a hurry"', "unknown-rule"),
        ('accept no-wind "never mind"', "not-acceptable"),
        ('accept radial-reversed "never mind"', "not-acceptable"),
        ('accept unflyable-wind "never mind"', "not-acceptable"),
    ],
)
def test_some_rules_are_never_accepted_and_unknown_ones_are_a_problem(statement: str, code: str) -> None:
    assert codes(changed(statement)) == {code}


def test_an_accepted_finding_is_printed_with_its_reason_and_does_not_count() -> None:
    text = changed("altitude 2300", "rules ifr", 'accept under-mea "own survey of the strait"')
    without = changed("altitude 2300", "rules ifr")
    assert "own survey of the strait" in " ".join(navlog("log", "-", typed=text).out.split())
    found = next(one for one in flight(text)["findings"] if one["rule"] == "under-mea")
    assert found["accepted"] == "own survey of the strait"
    assert found["severity"] == "error"
    open_before = {one["rule"] for one in flight(without)["findings"] if one["severity"] == "error"}
    open_after = {one["rule"] for one in flight(text)["findings"] if one["severity"] == "error" and not one["accepted"]}
    assert open_before - open_after == {"under-mea"}
