"""Which findings a check counts: chosen rules and severities, and a baseline of what was known before.

A finding of the baseline is known by file, flight, rule and the points of its leg, not by its numbers, which move with
every cycle of data; where a flight has more findings of a rule on a leg than the baseline, the last of them are new.
What may never be accepted is told whatever a baseline knows.
"""

from __future__ import annotations

import json
import os
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from functools import cache

from msgspec import Struct

from navlog.flightlog.records import Log
from navlog.nav.problems import NavlogError, Problem, Span, problem_error
from navlog.nav.record import changed
from navlog.nav.spelling import alike
from navlog.rules.answers import Answer
from navlog.rules.registry import Finding, Severity

_BASELINE_SCHEMA = "navlog/baseline-1"


class Known(Struct, frozen=True, order=True):
    """A finding without its numbers. `leg` is the two points of its leg, empty for the whole flight.

    `file` is relative to the folder of the baseline, with slashes.
    """

    file: str
    flight: str
    rule: str
    leg: str


class Gate(Struct, frozen=True):
    """What counts: with `select` these rules alone, without those of `ignore`, from `least` on, but not `known` ones.

    `folder` is the baseline's. With the defaults everything counts.
    """

    select: frozenset[str] = frozenset()
    ignore: frozenset[str] = frozenset()
    least: Severity = Severity.NOTE
    known: tuple[tuple[Known, int], ...] = ()
    folder: str = ""


OPEN = Gate()


def gated(answer: Answer, gate: Gate) -> Answer:
    """The answer with the findings that count, accepted ones too; nothing is made of a problem."""
    if answer.report is None or gate == OPEN:
        return answer
    log = answer.report.log
    left = Counter(dict(gate.known))
    kept: list[Finding] = []
    order = tuple(Severity)
    for one in answer.report.findings:
        if (gate.select and one.rule not in gate.select) or one.rule in gate.ignore:
            continue
        if order.index(one.severity) > order.index(gate.least):
            continue
        # In the order of the report, so that of several alike on a leg the last is the new one.
        if left and _may_be_known(one):
            known = _known(one, answer, log, gate.folder)
            # Each known finding silences one: a second on the same leg is new, and must not hide behind the first.
            if left[known]:
                left[known] -= 1
                continue
        kept.append(one)
    return changed(answer, report=changed(answer.report, findings=tuple(kept)))


def _known(one: Finding, answer: Answer, log: Log, folder: str) -> Known:
    way = log if one.alternate is None else log.alternates[one.alternate.number - 1]
    # By points and not by number, which moves when a point is added to the route.
    leg = next((f"{leg.start.name}-{leg.end.name}" for leg in way.legs if leg.number == one.number), "")
    if one.alternate is not None:
        leg = f"alternate {one.alternate.name} {leg}".strip()
    # With slashes, so that a baseline made on one system holds on another.
    file = os.path.relpath(answer.file, folder or ".").replace(os.sep, "/") if answer.file != "-" else "-"
    return Known(file, answer.flight or "", one.rule, leg)


def _may_be_known(one: Finding) -> bool:
    """Whether a baseline may keep a finding: one not accepted already, of a rule that may be."""
    return one.accepted is None and one.rule not in _never_accepted()


@cache
def _never_accepted() -> frozenset[str]:
    from navlog.rules.domains import every_rule

    return frozenset(one.ident for one in every_rule() if not one.acceptable)


def known_of(answer: Answer, folder: str) -> tuple[Known, ...]:
    """What a baseline in that folder would keep of the answer's findings; accepted ones need none."""
    if answer.report is None:
        return ()
    return tuple(_known(one, answer, answer.report.log, folder) for one in answer.report.findings if _may_be_known(one))


def baseline_text(found: Iterable[Known]) -> str:
    """A baseline file: JSON, sorted, a finding a line, so that a difference of two versions can be read."""
    counts = sorted(Counter(found).items())
    rows = (
        json.dumps({"file": one.file, "flight": one.flight, "rule": one.rule, "leg": one.leg, "count": count},
                   ensure_ascii=False)
        for one, count in counts
    )  # fmt: skip
    body = ",\n".join(f"  {row}" for row in rows)
    return f'{{"schema": "{_BASELINE_SCHEMA}", "findings": [\n{body}\n]}}\n' if body else _EMPTY


_EMPTY = f'{{"schema": "{_BASELINE_SCHEMA}", "findings": []}}\n'


def read_baseline(text: str, file: str) -> tuple[tuple[Known, int], ...]:
    """The findings that a baseline keeps, each with how often; raises `bad-baseline` for what is none."""
    try:
        held = json.loads(text)
    # A file of nested brackets exhausts the parser's stack instead of failing as JSON.
    except (ValueError, RecursionError) as error:
        line = getattr(error, "lineno", 1)
        raise problem_error("bad-baseline", "this is no JSON", span=Span(file, line), hint=_MAKE) from None
    if (
        not isinstance(held, dict)
        or held.get("schema") != _BASELINE_SCHEMA
        or not isinstance(held.get("findings"), list)
    ):
        raise problem_error("bad-baseline", f"this is no {_BASELINE_SCHEMA}", span=Span(file, 1), hint=_MAKE)
    return tuple(_read_known(row, number, file) for number, row in enumerate(held["findings"], 1))


def _read_known(row: object, number: int, file: str) -> tuple[Known, int]:
    if isinstance(row, dict):
        texts = [row.get(name) for name in ("file", "flight", "rule", "leg")]
        count = row.get("count")
        if all(isinstance(one, str) for one in texts) and type(count) is int and count > 0:
            return Known(*(str(one) for one in texts)), count
    message = f"finding {number} of the baseline has not `file`, `flight`, `rule`, `leg` and `count`"
    raise problem_error("bad-baseline", message, span=Span(file, 1), hint=_MAKE)


_MAKE = "write it with --write-baseline"


def gate_of(
    select: Sequence[str], ignore: Sequence[str], least: str, known: tuple[tuple[Known, int], ...], folder: str
) -> Gate:
    """The gate that options ask for. Raises `unknown-rule`, and `not-acceptable` for one that is never silenced."""
    problems = [*_unknown(select, "--select"), *_unknown(ignore, "--ignore")]
    for name in ignore:
        from navlog.rules.domains import rule_named

        one = rule_named(name)
        # What may not be accepted in a file must not be silenced beside it either.
        if one is not None and not one.acceptable:
            message = f"`{name}` can never be ignored: {one.title[0].lower()}{one.title[1:]}"
            problems.append(Problem("not-acceptable", message, Span("--ignore", 1), one.remedy))
    for name in sorted({*select} & {*ignore}):
        problems.append(Problem("given-twice", f"`{name}` is selected and ignored", Span("--ignore", 1)))
    if problems:
        raise NavlogError(*problems)
    return Gate(frozenset(select), frozenset(ignore), Severity(least), known, folder)


def _unknown(names: Sequence[str], option: str) -> Iterator[Problem]:
    for name in names:
        from navlog.rules.domains import every_rule, rule_named
        from navlog.rules.retired import RETIRED

        if rule_named(name) is None and name not in RETIRED:
            close = alike(name, (one.ident for one in every_rule()), most=1)
            hint = f"did you mean `{close[0]}`?" if close else "`navlog explain --rule` tells of each"
            yield Problem("unknown-rule", f"no rule is called `{name}`", Span(option, 1), hint, name)


class RuleCount(Struct):
    """How often a rule was found, open ones alone, in how many flights; `severity` is the gravest."""

    severity: Severity
    findings: int = 0
    flights: int = 0


def count_rules(counts: dict[str, RuleCount], findings: Iterable[Finding]) -> None:
    """Add one flight's findings to the counts by rule."""
    order = tuple(Severity)
    of_flight: set[str] = set()
    for one in findings:
        if one.accepted is not None:
            continue
        count = counts.setdefault(one.rule, RuleCount(one.severity))
        count.findings += 1
        count.severity = min(count.severity, one.severity, key=order.index)
        count.flights += one.rule not in of_flight
        of_flight.add(one.rule)


def summary_lines(counts: dict[str, RuleCount]) -> list[str]:
    """A line a rule, the gravest and then the commonest first."""
    from navlog.nav.layout import columns

    order = tuple(Severity)
    rows = sorted(counts.items(), key=lambda one: (order.index(one[1].severity), -one[1].findings, one[0]))
    cells = [(one.severity.value, name, str(one.findings), str(one.flights)) for name, one in rows]
    return columns([("severity", "rule", "findings", "flights"), *cells], "llrr") if cells else []
