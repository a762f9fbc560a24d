"""What a check counts: chosen rules, severities, a baseline; and the forms for other tools."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from helpers.flown import EXAMPLES, changed, navlog

from navlog.studies import gate

LOW = changed("altitude 2300", "rules ifr")
"""Below the minimum of its airway: an error, with warnings and notes besides."""


HEAD = '{"schema": "navlog/baseline-1"'
ANNOTATION = re.compile(r"::(error|warning|notice) file=[^,]+,line=\d+,col=\d+,title=[a-z-]+::.+")


@pytest.fixture
def library(tmp_path: Path) -> Path:
    (tmp_path / "good.route").write_text(changed())
    (tmp_path / "low.route").write_text(LOW)
    return tmp_path


def rules_of(text: str) -> set[str]:
    return set(re.findall(r"\[([a-z-]+)\]$", text, re.MULTILINE))


def test_a_rule_is_chosen_and_left_out(library: Path) -> None:
    everything = rules_of(navlog("check", str(library)).out)
    assert "under-mea" in everything
    assert len(everything) > 1
    assert rules_of(navlog("check", str(library), "--select", "under-mea").out) == {"under-mea"}
    left = navlog("check", str(library), "--ignore", "under-mea")
    assert rules_of(left.out) == everything - {"under-mea"}


def test_what_does_not_count_does_not_fail_the_gate(library: Path) -> None:
    low = str(library / "low.route")
    assert navlog("check", low).status == 1
    errors = {line["rule"] for line in findings(low) if line["severity"] == "error"}
    ignored = [word for rule in errors for word in ("--ignore", rule)]
    found = navlog("check", low, *ignored)
    assert found.status == 0
    assert " 0 errors" in found.err


def findings(path: str, *options: str) -> list[dict[str, Any]]:
    found = navlog("check", path, "--format", "json", *options)
    return [one for line in found.out.splitlines() for one in json.loads(line)["findings"]]


def test_findings_count_from_a_severity_on(library: Path) -> None:
    low = str(library / "low.route")
    for least, kept in (
        ("error", {"error"}),
        ("warning", {"error", "warning"}),
        ("note", {"error", "warning", "note"}),
    ):
        assert {one["severity"] for one in findings(low, "--min-severity", least)} <= kept
    assert len(findings(low, "--min-severity", "error")) < len(findings(low))


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("--select", "under-mae"), "no rule is called `under-mae` [unknown-rule]"),
        (("--ignore", "unflyable-wind"), "`unflyable-wind` can never be ignored"),
        (("--select", "under-mea", "--ignore", "under-mea"), "`under-mea` is selected and ignored [given-twice]"),
        (("--baseline", "none.json"), "none.json:1:1: error: cannot read"),
    ],
)
def test_a_wrong_gate_is_a_problem(arguments: tuple[str, ...], told: str, library: Path) -> None:
    found = navlog("check", str(library), *arguments)
    assert (found.status, found.out) == (2, "")
    assert told in found.err


def test_a_baseline_lets_old_findings_pass_and_holds_new_ones(library: Path) -> None:
    baseline = str(library / "known.json")
    assert navlog("check", str(library), "--write-baseline", baseline).status == 1
    known = navlog("check", str(library), "--baseline", baseline, "--strict")
    assert (known.status, known.out) == (0, "")
    (library / "new.route").write_text(LOW)
    held = navlog("check", str(library), "--baseline", baseline)
    assert held.status == 1
    assert {line.split(":")[0] for line in held.out.splitlines()} == {str(library / "new.route")}


# `unflyable-wind` is an error and `no-wind` a warning that the `accept` statement refuses.
@pytest.mark.parametrize(("rule", "line", "status"), [("unflyable-wind", "wind 300/150", 1), ("no-wind", "", 0)])
def test_a_baseline_never_silences_what_can_not_be_accepted(
    rule: str, line: str, status: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    flight, baseline = tmp_path / "a.route", str(tmp_path / "known.json")
    flight.write_text(changed("altitude 2300", "rules ifr", *filter(None, [line]), without=("wind",)))
    told = rules_of(navlog("check", str(flight)).out)
    assert {rule} < told
    navlog("check", str(flight), "--write-baseline", baseline)
    kept = json.loads(Path(baseline).read_text("utf-8"))["findings"]
    assert {one["rule"] for one in kept} == told - {rule}
    # One that was written when everything was kept.
    with monkeypatch.context() as before:
        before.setattr(gate, "_never_accepted", frozenset)
        navlog("check", str(flight), "--write-baseline", baseline)
        assert navlog("check", str(flight), "--baseline", baseline).out == ""
    found = navlog("check", str(flight), "--baseline", baseline)
    assert (found.status, rules_of(found.out)) == (status, {rule})
    assert navlog("check", str(flight), "--baseline", baseline, "--strict").status == 1


def test_numbers_that_move_do_not_make_an_old_finding_new(library: Path) -> None:
    baseline = str(library / "known.json")
    navlog("check", str(library), "--write-baseline", baseline)
    low = str(library / "low.route")
    found = navlog("check", low, "--baseline", baseline, "--select", "under-mea", "--altitude", "2200")
    assert (found.status, found.out) == (0, "")


@pytest.mark.parametrize("name", ["good.route", "trainer.toml", "c.sqlite"])
def test_a_baseline_never_takes_the_place_of_another_file(name: str, library: Path) -> None:
    if not (library / name).exists():
        (library / name).write_bytes(b"SQLite format 3\0" + bytes(range(256)))
    before = (library / name).read_bytes()
    found = navlog("check", str(library), "--write-baseline", str(library / name))
    assert (found.status, found.out) == (2, "")
    assert "[not-a-baseline]" in found.err
    assert (library / name).read_bytes() == before


def test_a_baseline_is_written_anew_over_itself(library: Path) -> None:
    for _ in range(2):
        navlog("check", str(library), "--write-baseline", str(library / "known.json"))
    assert json.loads((library / "known.json").read_text())["findings"]


def test_a_baseline_is_not_written_while_a_file_has_a_problem(library: Path) -> None:
    baseline = library / "known.json"
    navlog("check", str(library), "--write-baseline", str(baseline))
    before = baseline.read_bytes()
    (library / "low.route").write_text(LOW.replace("route ", "route NOWHERE "))
    found = navlog("check", str(library), "--write-baseline", str(baseline))
    assert found.status == 2
    assert "known.json: a baseline needs every flight without a problem" in found.err
    assert baseline.read_bytes() == before


def test_a_baseline_holds_from_any_folder(library: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    baseline = library / "known.json"
    navlog("check", str(library), "--write-baseline", str(baseline))
    assert {row["file"] for row in json.loads(baseline.read_text())["findings"]} <= {"good.route", "low.route"}
    monkeypatch.chdir(library)
    assert navlog("check", ".", "--baseline", "known.json").status == 0


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "{}",
        '{"schema": "navlog/baseline-1"}',
        '{"schema": "navlog/baseline-1", "findings": [{}]}',
        "[" * 9999,
    ],
)
def test_what_is_no_baseline_is_a_problem(text: str, library: Path) -> None:
    (library / "known.json").write_text(text)
    found = navlog("check", str(library), "--baseline", str(library / "known.json"))
    assert (found.status, found.out) == (2, "")
    assert "[bad-baseline]" in found.err


def test_the_same_in_several_processes(library: Path) -> None:
    for options in (("--select", "under-mea"), ("--by-rule",), ("--format", "sarif"), ("--format", "junit")):
        one, two = (navlog("check", str(library), *options, "--jobs", jobs) for jobs in ("1", "2"))
        assert (one.status, one.out, one.err) == (two.status, two.out, two.err)


def test_rules_are_counted(library: Path) -> None:
    lines = navlog("check", str(library), "--by-rule").err.splitlines()
    assert lines[0].split() == ["severity", "rule", "findings", "flights"]
    row = next(line.split() for line in lines if " under-mea " in line)
    assert row[0] == "error"
    assert int(row[2]) == sum(one["rule"] == "under-mea" for one in findings(str(library)))
    assert row[3] == "1"


def test_workflow_annotations_have_a_place_a_title_and_one_line(library: Path) -> None:
    (library / "broken,100%.route").write_text("date 2026-07-18\nroute XHAR NOWHERE\naltitude 4500\ntas 110kt\n")
    lines = navlog("check", str(library), "--format", "github").out.splitlines()
    assert all(
        re.fullmatch(r"::(error|warning|notice) file=[^,]+,line=\d+,col=\d+,title=[a-z-]+::.+", one) for one in lines
    )
    broken = [one for one in lines if "broken" in one]
    assert broken
    assert all(f"file={library}/broken%2C100%25.route,".replace(":", "%3A") in one for one in broken)
    assert sum("title=under-mea" in one for one in lines) == 1, "a line a rule and flight"


def test_sarif_has_a_result_for_every_finding_and_problem(library: Path) -> None:
    (library / "broken é.route").write_text("date 2026-07-18\nroute XHAR NOWHERE\naltitude 4500\ntas 110kt\n")
    (library / "accepted.route").write_text(LOW + 'accept under-mea "surveyed by us"\n')
    log = json.loads(navlog("check", str(library), "--format", "sarif").out)
    assert log["version"] == "2.1.0"
    (run,) = log["runs"]
    rules = run["tool"]["driver"]["rules"]
    told = [one for one in run["results"] if "ruleIndex" in one]
    assert len(told) == len(findings(str(library)))
    assert all(rules[one["ruleIndex"]]["id"] == one["ruleId"] for one in told)
    suppressed = [one for one in told if "suppressions" in one]
    assert suppressed
    assert all(one["suppressions"][0]["justification"] == "surveyed by us" for one in suppressed)
    problems = [one for one in run["results"] if "ruleIndex" not in one]
    places = {one["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] for one in problems}
    assert places == {f"{library}/broken%20%C3%A9.route"}
    assert all(one["level"] == "error" for one in problems)


def test_junit_has_a_suite_a_file_and_a_case_a_flight(library: Path) -> None:
    (library / "club.route").write_bytes((EXAMPLES / "club_day.route").read_bytes())
    (library / "trainer.toml").write_bytes((EXAMPLES / "trainer.toml").read_bytes())
    (library / "broken<&.route").write_text("date 2026-07-18\nroute XHAR NOWHERE\naltitude 4500\ntas 110kt\n")
    root = ET.fromstring(navlog("check", str(library), "--format", "junit").out)
    suites = {Path(one.attrib["name"]).name: one for one in root}
    assert set(suites) == {"good.route", "low.route", "club.route", "broken<&.route"}
    assert len(suites["club.route"]) == int(suites["club.route"].attrib["tests"]) == 3
    assert suites["low.route"].attrib["failures"] == "1"
    assert [one.attrib["type"] for one in suites["low.route"].iter("failure")] != []
    assert suites["broken<&.route"].attrib["errors"] == "1"
    assert [one.attrib["type"] for one in suites["broken<&.route"].iter("error")] != []
    assert list(suites["good.route"].iter("failure")) == []


def test_files_that_look_like_routes_and_are_not_read_are_named(library: Path) -> None:
    for name in ("B.ROUTE", "c.route.txt", "d.route~", "notes.txt"):
        (library / name).write_text(changed())
    told = navlog("check", str(library)).err
    for name in ("B.ROUTE", "c.route.txt", "d.route~"):
        assert f"not read: {library / name}: the name of a route file ends in .route\n" in told
    assert "notes.txt" not in told


@pytest.mark.parametrize("asked", [("--since", "old.sqlite"), ("--requirement", "61.109")])
@pytest.mark.parametrize(
    "option", [("--strict",), ("--select", "reserve"), ("--by-rule",), ("--all",), ("--format", "sarif")]
)
def test_an_option_that_another_question_has_no_use_for_is_refused(
    asked: tuple[str, ...], option: tuple[str, ...], library: Path
) -> None:
    found = navlog("check", str(library), *asked, *option)
    assert (found.status, found.out) == (2, "")
    assert f"does not go with {asked[0]}" in found.err


def test_a_worker_that_is_killed_is_a_problem_and_no_bug(library: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from concurrent.futures import Future
    from concurrent.futures.process import BrokenProcessPool

    from navlog.studies.batch import Engine

    class Killed:
        def submit(self, *_: object) -> Future[int]:
            future: Future[int] = Future()
            future.set_exception(BrokenProcessPool("killed"))
            return future

    from navlog.nav.problems import NavlogError

    with pytest.raises(NavlogError) as error:
        list(Engine(window=2).in_order(Killed(), int, ["1"]))  # type: ignore[arg-type]
    assert error.value.problems[0].code == "worker-lost"
