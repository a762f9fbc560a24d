"""What a check says in the forms that other tools read: annotations of GitHub's workflows, SARIF 2.1.0, JUnit.

Each takes the verdicts as they come and gives pieces of text as they can be written.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator
from itertools import groupby
from typing import Any, TypeAlias
from urllib.parse import quote

from navlog.nav.problems import Problem, Span, printable
from navlog.printed.findings import by_line, places, told_together, worst
from navlog.rules.registry import Finding, Rule, Severity
from navlog.studies.batch import csv_text
from navlog.studies.checking import COLUMNS, Verdict, csv_rows, text_lines
from navlog.version import VERSION

_Writer: TypeAlias = Callable[..., Iterator[str]]
"""Takes the verdicts, and `every` for a line a finding where a form groups them; gives pieces of text."""

_GITHUB = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "notice"}
_SARIF_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"


def _github(verdicts: Iterable[Verdict], *, every: bool = False) -> Iterator[str]:
    """Workflow commands, a line a rule and flight (with `every` a line a finding), a line a problem of a file.

    GitHub's documentation, "Workflow commands for GitHub Actions": `::error file=...,line=...,title=...::message`,
    with `%`, carriage return and line feed as %25, %0D, %0A, in properties `:` and `,` as %3A, %2C too.
    """
    told_of, file = set[Problem](), ""
    for verdict in verdicts:
        if verdict.file != file:
            told_of, file = set(), verdict.file
        findings = [one for one in verdict.findings if one.accepted is None]
        for group in by_line(findings, every=every):
            one = worst(group)
            told = told_together(group)
            text = f"{verdict.flight}, {told}" if places(group) else f"{verdict.flight}: {told}"
            yield _command(_GITHUB[one.severity], one.span, one.rule, text)
        for problem in verdict.problems:
            if problem in told_of:
                continue
            told_of.add(problem)
            hint = f" ({problem.hint})" if problem.hint else ""
            place = problem.span or Span(verdict.file, verdict.line)
            yield _command("error", place, problem.code, f"{problem.message}{hint}")


def _command(kind: str, span: Span, title: str, text: str) -> str:
    properties = f"file={_property(span.file)},line={span.line},col={span.column},title={_property(title)}"
    return f"::{kind} {properties}::{_data(printable(text))}\n"


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")


def _sarif(verdicts: Iterable[Verdict], *, every: bool = False) -> Iterator[str]:
    """One run of SARIF 2.1.0 (OASIS standard): a result for every finding and problem, accepted ones as suppressed."""
    from navlog.rules.domains import every_rule

    del every  # Every finding is a result whatever is asked for reading.
    numbers = {one.ident: number for number, one in enumerate(every_rule())}
    driver = {"name": "navlog", "version": VERSION, "rules": [_sarif_rule(one) for one in every_rule()]}
    head = {"version": "2.1.0", "$schema": _SARIF_SCHEMA}
    tool = json.dumps({"driver": driver}, ensure_ascii=False)
    yield json.dumps(head)[:-1] + f', "runs": [{{"tool": {tool}, "columnKind": "unicodeCodePoints", "results": ['
    separator = "\n"
    for verdict in verdicts:
        broken = (_problem_result(problem, verdict) for problem in verdict.problems)
        for result in (*_results(verdict, numbers), *broken):
            yield separator + json.dumps(result, ensure_ascii=False)
            separator = ",\n"
    yield "\n]}]}\n"


def _sarif_rule(one: Rule) -> dict[str, Any]:
    level = _SARIF_LEVEL[one.severity]
    return {
        "id": one.ident,
        "shortDescription": {"text": one.title},
        "fullDescription": {"text": one.more or one.title},
        "help": {"text": f"{one.remedy}. Source: {one.source}"},
        "defaultConfiguration": {"level": level},
    }


_SARIF_LEVEL = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "note"}


def _results(verdict: Verdict, numbers: dict[str, int]) -> Iterator[dict[str, Any]]:
    for one in verdict.findings:
        result = {
            "ruleId": one.rule,
            "ruleIndex": numbers[one.rule],
            "level": _SARIF_LEVEL[one.severity],
            "message": {"text": _told(verdict, one)},
            "locations": [_location(one.span)],
        }
        if one.accepted is not None:
            result["suppressions"] = [{"kind": "inSource", "justification": one.accepted}]
        yield result


def _told(verdict: Verdict, one: Finding) -> str:
    where = f", leg {one.leg}" if one.leg is not None else ""
    return f"{verdict.flight}{where}: {one.told}"


def _problem_result(problem: Problem, verdict: Verdict) -> dict[str, Any]:
    hint = f" ({problem.hint})" if problem.hint else ""
    return {
        "ruleId": problem.code,
        "level": "error",
        "message": {"text": f"{problem.message}{hint}"},
        "locations": [_location(problem.span or Span(verdict.file, verdict.line))],
    }


def _location(span: Span) -> dict[str, Any]:
    region = {"startLine": max(1, span.line), "startColumn": max(1, span.column)}
    return {"physicalLocation": {"artifactLocation": {"uri": _uri(span.file)}, "region": region}}


def _uri(file: str) -> str:
    """A relative reference (RFC 3986) for a path: slashes, and every other sign that has a meaning there escaped."""
    return quote(file.replace("\\", "/"), safe="/-._~", errors="surrogateescape")


def _junit(verdicts: Iterable[Verdict], *, every: bool = False) -> Iterator[str]:
    """JUnit's XML as common readers take it: a suite a file, a case a flight; errors fail it, problems break it.

    Warnings and notes are the case's output. There is no published standard of the format; common practice, no source.
    """
    yield '<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="navlog">\n'
    for file, group in groupby(verdicts, key=lambda one: one.file):
        told = list(group)
        failures = sum(one.status == "error" for one in told)
        broken = sum(bool(one.problems) for one in told)
        yield f'<testsuite name={_attribute(file)} tests="{len(told)}" failures="{failures}" errors="{broken}">\n'
        for one in told:
            yield from _case(one, file, every=every)
        yield "</testsuite>\n"
    yield "</testsuites>\n"


def _case(verdict: Verdict, file: str, *, every: bool) -> Iterator[str]:
    name = _attribute(verdict.flight or file)
    yield f'<testcase name={name} classname={_attribute(file)} file={_attribute(file)} line="{verdict.line}">\n'
    findings = [one for one in verdict.findings if one.accepted is None]
    texts = [(worst(group), told_together(group)) for group in by_line(findings, every=every)]
    for one, told in texts:
        if one.severity is Severity.ERROR:
            yield f"<failure type={_attribute(one.rule)} message={_attribute(told)}>{_text(told)}</failure>\n"
    for problem in verdict.problems:
        message = _attribute(problem.message)
        yield f"<error type={_attribute(problem.code)} message={message}>{_text(problem.hint or '')}</error>\n"
    rest = [f"{one.severity.value}: {told} [{one.rule}]" for one, told in texts if one.severity is not Severity.ERROR]
    if rest:
        yield f"<system-out>{_text(chr(10).join(rest))}</system-out>\n"
    yield "</testcase>\n"


def _text(text: str) -> str:
    # The module brings the network's along, which other forms need not wait for.
    from xml.sax.saxutils import escape

    return escape("\n".join(printable(line) for line in text.split("\n")))


def _attribute(text: str) -> str:
    from xml.sax.saxutils import quoteattr

    return quoteattr(printable(text))


def _plain(verdicts: Iterable[Verdict], *, every: bool = False) -> Iterator[str]:
    for verdict in verdicts:
        yield "".join(f"{line}\n" for line in text_lines(verdict, every=every))


def _json(verdicts: Iterable[Verdict], *, every: bool = False) -> Iterator[str]:
    del every
    return (f"{verdict.json}\n" for verdict in verdicts)


def _csv(verdicts: Iterable[Verdict], *, every: bool = False) -> Iterator[str]:
    del every
    yield csv_text([COLUMNS])
    for verdict in verdicts:
        yield csv_text(csv_rows(verdict))


WRITERS: dict[str, _Writer] = {
    "text": _plain,
    "json": _json,
    "csv": _csv,
    "github": _github,
    "sarif": _sarif,
    "junit": _junit,
}
"""Every form of a check."""
