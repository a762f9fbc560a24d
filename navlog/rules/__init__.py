"""Rules over a computed log: what is unwise about a flight, or worth a look."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from navlog.flightlog.records import Log
from navlog.problems import NavlogError, Problem, Span
from navlog.request import Acceptance
from navlog.rules import (
    alternates,
    altitudes,
    courses,
    cruising,
    data,
    fixes,
    passages,
    performance,
    published,
    reception,
    stations,
    unknowns,
    windfuel,
)
from navlog.rules.cases import case_of
from navlog.rules.registry import (
    DEFAULT_THRESHOLDS,
    Case,
    Finding,
    Found,
    Neighbours,
    Rule,
    Severity,
    Thresholds,
    rule,
)

__all__ = [
    "RULES",
    "Case",
    "Finding",
    "Found",
    "Neighbours",
    "Report",
    "Rule",
    "Severity",
    "Thresholds",
    "judge",
    "rule",
    "rule_named",
]

RULES: tuple[Rule, ...] = (
    *altitudes.RULES,
    *cruising.RULES,
    *reception.RULES,
    *courses.RULES,
    *passages.RULES,
    *stations.RULES,
    *fixes.RULES,
    *windfuel.RULES,
    *performance.RULES,
    *alternates.RULES,
    *data.RULES,
    *published.RULES,
    *unknowns.RULES,
)
"""Every rule, in the order in which its findings are told."""


@dataclass(frozen=True, slots=True)
class Report:
    """A log and what the rules found in it."""

    log: Log
    findings: tuple[Finding, ...]

    @property
    def status(self) -> str:
        """`error`, `warning` or `ok`; accepted findings and notes do not count."""
        open_severities = {finding.severity for finding in self.findings if finding.accepted is None}
        return next((s.value for s in (Severity.ERROR, Severity.WARNING) if s in open_severities), "ok")


def judge(log: Log, *, thresholds: Thresholds | None = None, neighbours: Neighbours | None = None) -> Report:
    """Every rule's findings, by leg and rule, with those that the flight accepts marked.

    `neighbours` is published data in which to look for stations that could be mistaken for those in use; a
    catalogue is one. Raises NavlogError where the flight accepts a rule that is unknown or may never be
    silenced.
    """
    case = case_of(log, thresholds or DEFAULT_THRESHOLDS, neighbours)
    reasons = accepted_reasons(case.request.accepted)
    found = [finding for one in RULES for finding in findings_of(one, case, reasons.get(one.ident))]
    found.sort(key=lambda finding: finding.leg or 0)
    return Report(log, tuple(found))


def findings_of(one: Rule, case: Case, reason: str | None) -> Iterator[Finding]:
    """The findings of one rule."""
    for found in one.check(case):
        leg_span = found.leg.stretch.span if found.leg is not None else None
        yield Finding(
            one.ident,
            found.severity or one.severity,
            found.message,
            found.leg.number if found.leg is not None else None,
            found.span or leg_span or Span(case.request.file, case.request.line),
            one.source,
            reason,
        )


def accepted_reasons(acceptances: tuple[Acceptance, ...]) -> dict[str, str]:
    """The reasons for which a flight silences rules, by rule."""
    problems = []
    for acceptance in acceptances:
        one = rule_named(acceptance.rule)
        if one is None:
            message = f"no rule is called `{acceptance.rule}`"
            problems.append(Problem("unknown-rule", message, acceptance.span, nearest_rule(acceptance.rule)))
        elif not one.acceptable:
            message = f"`{acceptance.rule}` can never be accepted: {one.title[0].lower()}{one.title[1:]}"
            problems.append(Problem("not-acceptable", message, acceptance.span, one.remedy))
    if problems:
        raise NavlogError(*problems)
    return {acceptance.rule: acceptance.reason for acceptance in acceptances}


def rule_named(ident: str) -> Rule | None:
    """The rule of that id."""
    return next((one for one in RULES if one.ident == ident), None)


def nearest_rule(ident: str) -> str | None:
    """A hint with the rule whose id is spelt most like `ident`."""
    from difflib import get_close_matches

    close = get_close_matches(ident, [known.ident for known in RULES], n=1)
    return f"did you mean `{close[0]}`?" if close else None
