"""Rules accepted with a reason: which, which never, and what a finding says of its rule and its place."""

from __future__ import annotations

import pytest
from helpers.flown import changed, flight, flights
from helpers.judged import judged

from navlog.rules.acceptance import _nearest
from navlog.rules.domains import every_rule, rule_named

IDENTS = tuple(one.ident for one in every_rule())

LOW = ("altitude 2000", 'accept under-mea "ferry flight by day"')


def test_only_the_accepted_rule_has_the_reason() -> None:
    findings = judged(*LOW)
    reasons = {one.rule: one.accepted for one in findings}
    assert reasons["under-mea"] == "ferry flight by day"
    others = {reason for rule, reason in reasons.items() if rule != "under-mea"}
    assert others == {None}


def test_a_finding_has_the_source_of_its_rule_and_the_line_of_its_leg() -> None:
    text = changed("altitude 2000", without=("fuel",))
    lines = text.splitlines()
    found = flight(text)["findings"]
    sources = {one.ident: one.source for one in every_rule()}
    assert {one["rule"] for one in found} >= {"under-mea", "no-fuel"}
    for one in found:
        assert one["source"] == sources[one["rule"]]
        if one["rule"] == "under-mea":
            assert lines[one["line"] - 1].startswith("route ")
        if one["rule"] == "no-fuel":
            assert one["line"] == 1


@pytest.mark.parametrize(
    ("rule", "code", "message", "hint"),
    [
        ("under-meaa", "unknown-rule", "no rule is called `under-meaa`", "did you mean `under-mea`?"),
        ("qqqqqqqq", "unknown-rule", "no rule is called `qqqqqqqq`", None),
        (
            "course-unknown",
            "not-acceptable",
            "`course-unknown` can never be accepted: a station guides a leg and the course to set is not known",
            "give the station its `decl`, or write the charted radial beside it",
        ),
    ],
)
def test_what_cannot_be_accepted_is_a_problem_at_its_line(rule: str, code: str, message: str, hint: str | None) -> None:
    text = changed(f'accept {rule} "by day"')
    (found,) = flights(text)
    (problem,) = found["problems"]
    assert (problem["code"], problem["message"], problem["hint"]) == (code, message, hint)
    assert text.splitlines()[problem["line"] - 1].startswith("accept ")


def test_a_rule_of_an_earlier_version_does_not_hide_one_that_is_unknown() -> None:
    (found,) = flights(changed('accept alternate-minimum "low ground"\naccept under-meaa "by day"'))
    assert [one["message"] for one in found["problems"]] == ["no rule is called `under-meaa`"]


def test_rules_are_found_by_name() -> None:
    for one in every_rule():
        assert rule_named(one.ident) is one
        assert _nearest(one.ident, IDENTS) == f"did you mean `{one.ident}`?"
    assert rule_named("under-mae") is None
    assert _nearest("", IDENTS) is None
