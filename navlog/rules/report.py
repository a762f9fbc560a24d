"""Rules over a computed log: what is unwise about a flight, or worth a look."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from navlog.flightlog.records import Log
from navlog.nav.problems import Span
from navlog.nav.record import changed
from navlog.rules import (
    altitudes,
    climbout,
    cold,
    courses,
    cruising,
    data,
    fixes,
    passages,
    performance,
    published,
    reception,
    reserves,
    retired,
    stated,
    stations,
    unknowns,
    windfuel,
)
from navlog.rules.acceptance import Reasons, nearest, refuse_unknown
from navlog.rules.cases import case_of
from navlog.rules.registry import (
    DEFAULT_THRESHOLDS,
    Case,
    Finding,
    Found,
    Neighbours,
    OnAlternate,
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
    "OnAlternate",
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
    *climbout.RULES,
    *cold.RULES,
    *cruising.RULES,
    *reception.RULES,
    *courses.RULES,
    *passages.RULES,
    *stations.RULES,
    *fixes.RULES,
    *windfuel.RULES,
    *performance.RULES,
    *reserves.RULES,
    *data.RULES,
    *published.RULES,
    *unknowns.RULES,
    *stated.RULES,
    *retired.RULES,
)
"""Every rule, in the order in which its findings are told."""


class Report(Struct, frozen=True):
    """A log and what the rules found in it."""

    log: Log
    findings: tuple[Finding, ...]

    @property
    def status(self) -> str:
        """`error`, `warning` or `ok`; accepted findings and notes do not count."""
        open_severities = {finding.severity for finding in self.findings if finding.accepted is None}
        return next((s.value for s in (Severity.ERROR, Severity.WARNING) if s in open_severities), "ok")


def judge(log: Log, *, thresholds: Thresholds | None = None, neighbours: Neighbours | None = None) -> Report:
    """Every rule's findings, by leg and rule, those on the ways to alternates last, the accepted ones marked.

    Every rule runs over the route and over the way to each alternate, but those of the whole flight.
    `neighbours` is published data in which to look for stations that could be mistaken for those in use; a
    catalogue is one. Raises NavlogError where the flight accepts a rule that is unknown or may never be
    silenced.
    """
    limits = thresholds or DEFAULT_THRESHOLDS
    acceptances = log.route.request.accepted
    refuse_unknown(acceptances, rule_named, tuple(one.ident for one in RULES))
    reasons = Reasons(acceptances, log.route.request.rules, frozenset(one.ident for one in RULES if one.acceptable))
    told: set[tuple[str, str]] = set()
    found: list[Finding] = []
    for number, way in enumerate((log, *log.alternates)):
        place = OnAlternate(number, alternate_name(log.alternates, way), None) if number else None
        case = case_of(way, limits, neighbours)
        there = [
            finding
            for one in RULES
            if place is None or not one.whole_flight
            for finding in findings_of(one, case, reasons, place, told)
        ]
        found += sorted(there, key=lambda finding: finding.number or 0)
    return Report(log, tuple(found))


def alternate_name(alternates: tuple[Log, ...], way: Log) -> str:
    """The airport to which a way leads, with the point where it begins where several lead there."""
    start, end = way.route.points[0].name, way.route.points[-1].name
    alone = sum(one.route.points[-1].name == end for one in alternates) == 1
    return end if alone else f"{end} from {start}"


def findings_of(
    one: Rule,
    case: Case,
    reasons: Reasons,
    place: OnAlternate | None,
    told: set[tuple[str, str]],
) -> Iterator[Finding]:
    """The findings of one rule on the route, or on the way to an alternate at `place`.

    What is told once a flight is left out where it is among `told`, and added to it where it is not.
    """
    for found in one.check(case):
        if found.about is not None:
            if (one.ident, found.about) in told:
                continue
            told.add((one.ident, found.about))
        number = found.leg.number if found.leg is not None else None
        leg_span = found.leg.stretch.span if found.leg is not None else None
        severity = found.severity or one.severity
        yield Finding(
            one.ident,
            severity,
            found.message,
            number if place is None else None,
            found.span or leg_span or Span(case.request.file, case.request.line),
            one.source,
            reasons.of(one.ident, severity, case.log.route, found.leg, on_alternate=place is not None),
            None if place is None else changed(place, leg=number),
        )


def rule_named(ident: str) -> Rule | None:
    """The rule of that id."""
    return next((one for one in RULES if one.ident == ident), None)


def nearest_rule(ident: str) -> str | None:
    """A hint with the rule whose id is spelt most like `ident`."""
    return nearest(ident, [known.ident for known in RULES])
