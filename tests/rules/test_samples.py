"""Every rule's own samples: the failing one is found, the passing one is not."""

from __future__ import annotations

from pathlib import Path

import pytest

from navlog.answers import answers
from navlog.flights import read_flights
from navlog.references import References
from navlog.rules import RULES, Rule, judge
from navlog.rules.samples import BASE, FILES, SampleCatalogue

FILE = str(Path(__file__).parents[2] / "examples" / "sample.route")
"""Samples that name an aircraft find it among the examples."""


def found(text: str) -> list[str]:
    """The rules that find something in a sample, judged with the samples' published data."""
    catalogue = SampleCatalogue()
    (answer,) = answers(read_flights(text, FILE), catalogue, References(FILES))
    assert answer.report is not None, answer.problems
    return [finding.rule for finding in judge(answer.report.log, neighbours=catalogue).findings]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.ident)
def test_the_failing_sample_is_found(rule: Rule) -> None:
    assert rule.ident in found(rule.failing)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.ident)
def test_the_passing_sample_is_not(rule: Rule) -> None:
    assert rule.ident not in found(rule.passing)


def test_nothing_is_found_in_the_base_flight() -> None:
    assert found(BASE) == []


def test_ids_are_kebab_case_and_told_apart() -> None:
    idents = [rule.ident for rule in RULES]
    assert len(set(idents)) == len(idents)
    assert all(ident.replace("-", "").isalpha() and ident.islower() for ident in idents)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.ident)
def test_title_source_and_remedy_are_said(rule: Rule) -> None:
    assert rule.title[0].isupper()
    assert not rule.title.endswith(".")
    assert rule.source
    assert rule.remedy
