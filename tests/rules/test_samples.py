"""Every rule's own samples: the failing one is found, the passing one is not."""

from __future__ import annotations

import ast
import inspect
import json
import re
from pathlib import Path

import pytest

from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.rules.answers import answers
from navlog.rules.domains import every_rule
from navlog.rules.registry import Rule, Severity
from navlog.rules.report import judge
from navlog.rules.samples import BASE, FILES, SampleCatalogue
from navlog.studies.rule_text import rule_json, rule_text

FILE = str(Path(__file__).parents[2] / "examples" / "sample.route")
"""Samples that name an aircraft find it among the examples."""


def found(text: str) -> list[str]:
    """The rules that find something in a sample, judged with the samples' published data."""
    catalogue = SampleCatalogue()
    (answer,) = answers(read_flights(text, FILE), catalogue, References(FILES))
    assert answer.report is not None, answer.problems
    return [finding.rule for finding in judge(answer.report.log, neighbours=catalogue).findings]


@pytest.mark.parametrize("rule", every_rule(), ids=lambda rule: rule.ident)
def test_the_failing_sample_is_found(rule: Rule) -> None:
    assert rule.ident in found(rule.failing)


@pytest.mark.parametrize("rule", every_rule(), ids=lambda rule: rule.ident)
def test_the_passing_sample_is_not(rule: Rule) -> None:
    assert rule.ident not in found(rule.passing)


def test_nothing_is_found_in_the_base_flight() -> None:
    assert found(BASE) == []


def test_every_rule_that_is_written_is_run() -> None:
    """A module of rules that is not among the domains of the report would be read by nobody."""
    package = Path(__file__).parents[2] / "navlog"
    written = [
        (module.relative_to(package).as_posix(), ast.literal_eval(decorator.args[0]))
        for module in sorted(package.rglob("*.py"))
        for node in ast.walk(ast.parse(module.read_text("utf-8")))
        if isinstance(node, ast.FunctionDef)
        for decorator in node.decorator_list
        if isinstance(decorator, ast.Call) and ast.unparse(decorator.func).rpartition(".")[2] == "rule"
    ]
    assert len(written) >= 74
    run = {rule.ident for rule in every_rule()}
    assert [f"{ident} is made in {module} and never run" for module, ident in written if ident not in run] == []
    assert sorted(ident for _, ident in written) == sorted(rule.ident for rule in every_rule())


def test_ids_are_kebab_case_and_told_apart() -> None:
    idents = [rule.ident for rule in every_rule()]
    assert len(set(idents)) == len(idents)
    assert all(ident.replace("-", "").isalpha() and ident.islower() for ident in idents)


@pytest.mark.parametrize("rule", every_rule(), ids=lambda rule: rule.ident)
def test_title_source_and_remedy_are_said(rule: Rule) -> None:
    assert rule.title[0].isupper()
    assert not rule.title.endswith(".")
    assert rule.source
    assert rule.remedy


VARYING = re.compile(r"Severity\.(ERROR|WARNING|NOTE)|(by_rules)|(found\.severity)")
"""How a rule's function says another severity than the rule's own."""


@pytest.mark.parametrize("rule", every_rule(), ids=lambda rule: rule.ident)
def test_severities_that_vary_are_said(rule: Rule) -> None:
    said = inspect.getsource(rule.check).partition("\ndef ")[2]
    named = {Severity[name].value if name else "error" for name, _, _ in VARYING.findall(said)}
    assert named - {rule.severity.value} == {one.value for one in rule.at_times}
    if rule.at_times:
        assert any(word in f"{rule.title} {rule.more}".lower() for word in ("error", "note", "warning"))


@pytest.mark.parametrize("rule", every_rule(), ids=lambda rule: rule.ident)
def test_the_files_and_published_data_of_a_sample_are_printed_beside_it(rule: Rule) -> None:
    printed, words = rule_text(rule), f"{rule.failing} {rule.passing}".split()
    for name in {word for word in words if word.endswith((".toml", ".txt"))}:
        assert f"Beside it stands {name}:" in printed
        assert all(f"    {line}".rstrip() in printed for line in FILES[name].strip().splitlines())
        assert json.loads(rule_json(rule))["files"][name] == FILES[name].strip()
    for ident in {"QPB", "QUV", "MAKER"}.intersection(words):
        assert re.search(f"A catalogue holds, of [A-Z]+, [^:]+: (station|fix) {ident} ", printed)
