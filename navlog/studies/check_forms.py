"""Verdicts, comparisons and requirements as lines of text, rows of comma-separated values and JSON."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TypeAlias

from navlog.nav.problems import Span, printable
from navlog.printed.findings import by_rule, places, told_together, worst
from navlog.rules.registry import Finding
from navlog.studies.checking import Verdict
from navlog.studies.comparing import Comparison
from navlog.studies.requirements import Assessment

Row: TypeAlias = tuple[str | int | None, ...]

COLUMNS = ("file", "line", "flight", "leg", "severity", "rule", "message", "source", "accepted")
"""The columns of the comma-separated form; a problem has severity `problem` and its code as the rule."""


def text_lines(verdict: Verdict, *, every: bool = False) -> Iterator[str]:
    """`FILE:LINE: severity: flight, leg N: message [rule]` for each rule with a finding that is not accepted.

    With `every` for each finding; else the line is that of the worst one, and all legs are listed.
    """
    open_findings = [finding for finding in verdict.findings if finding.accepted is None]
    groups = [(finding,) for finding in open_findings] if every else by_rule(open_findings)
    for group in groups:
        yield printable(text_line(verdict.flight, group))


def text_line(flight: str | None, group: Sequence[Finding]) -> str:
    """Findings of one rule in the manner of a compiler's message, for editors that find the place."""
    one = worst(group)
    where = places(group)
    told = told_together(group)
    text = f"{flight}, {told}" if where else f"{flight}: {told}"
    return f"{one.span.file}:{one.span.line}: {one.severity.value}: {text} [{one.rule}]"


def csv_text(rows: Iterable[Row]) -> str:
    """Rows as RFC 4180 has them: CRLF ends, every text in quotes, numbers bare, nothing for None.

    A text that a spreadsheet would run as a formula begins with an apostrophe.
    """
    import csv
    import io

    from navlog.sheets.csv_rows import safe

    written = io.StringIO(newline="")
    writer = csv.writer(written, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    for row in rows:
        writer.writerow(["" if cell is None else safe(cell) if isinstance(cell, str) else cell for cell in row])
    return written.getvalue()


def csv_rows(verdict: Verdict) -> Iterator[Row]:
    """A row for each finding, accepted ones too, and each problem."""
    for one in verdict.findings:
        place = (one.span.file, one.span.line, verdict.flight, one.leg)
        yield (*place, one.severity.value, one.rule, one.told, one.source, one.accepted)
    for problem in verdict.problems:
        span = problem.span or Span(verdict.file, verdict.line)
        yield (span.file, span.line, verdict.flight, None, "problem", problem.code, problem.message, None, None)


def summary(statuses: dict[str, int]) -> str:
    """`214 flights: 198 ok, 11 warnings, 5 errors`, and the problems where there are any."""
    words = [
        f"{statuses.get('ok', 0)} ok",
        counted(statuses.get("warning", 0), "warning"),
        counted(statuses.get("error", 0), "error"),
    ]
    if statuses.get("problem"):
        words.append(counted(statuses["problem"], "problem"))
    return f"{counted(sum(statuses.values()), 'flight')}: {', '.join(words)}"


def counted(number: int, word: str) -> str:
    """A number of things."""
    return f"{number} {word}{'' if number == 1 else 's'}"


CHANGE_COLUMNS = ("file", "line", "flight", "kind", "where", "what", "old", "new")
"""The columns of the comma-separated form of a comparison of cycles."""


def change_lines(comparison: Comparison) -> Iterator[str]:
    """`FILE:LINE: change: flight: what was, what is [kind]` for each change."""
    place = f"{comparison.file}:{comparison.line}"
    for one in comparison.changes:
        yield printable(f"{place}: change: {comparison.flight}: {one.message} [{one.kind}]")


def change_rows(comparison: Comparison) -> Iterator[Row]:
    """A row for each change and each problem."""
    place = (comparison.file, comparison.line, comparison.flight)
    for one in comparison.changes:
        yield (*place, one.kind, one.where, one.what, one.old, one.new)
    for problem in comparison.problems:
        yield (*place, "problem", None, problem.code, None, problem.message)


def change_json(comparison: Comparison) -> str:
    """The changes of one flight as one line of JSON, without a line end."""
    import json

    from navlog.sheets.json_lines import SCHEMA, problem_object, source_object

    found = {
        "schema": SCHEMA,
        "flight": comparison.flight,
        "source": {"file": comparison.file, "line": comparison.line},
        "status": comparison.status,
        "old_catalogue": [source_object(one) for one in comparison.old],
        "new_catalogue": [source_object(one) for one in comparison.new],
        "changes": [
            {"kind": one.kind, "where": one.where, "what": one.what, "old": one.old, "new": one.new}
            for one in comparison.changes
        ],
        "problems": [problem_object(problem) for problem in comparison.problems],
    }
    return json.dumps(found, ensure_ascii=True, allow_nan=False)


def edition_lines(editions: dict[tuple[str, str], int]) -> Iterator[str]:
    """Which editions were compared, a line a pair of them: `2 flights: old FAA NASR, ...; new FAA NASR, ...`."""
    for (old, new), flights in editions.items():
        yield f"{counted(flights, 'flight')}: old {old}"
        yield f"{' ' * len(counted(flights, 'flight'))}  new {new}"


def change_summary(statuses: dict[str, int]) -> str:
    """`214 flights: 209 unchanged, 5 changed`, and the problems where there are any."""
    words = [f"{statuses.get('unchanged', 0)} unchanged", f"{statuses.get('changed', 0)} changed"]
    if statuses.get("problem"):
        words.append(counted(statuses["problem"], "problem"))
    return f"{counted(sum(statuses.values()), 'flight')}: {', '.join(words)}"


REQUIREMENT_COLUMNS = ("file", "requirement", "source", "result", "measure", "asked", "straight_nm", "flown_nm", "of")
"""The columns of the comma-separated form of requirements; points of landing stand as a straight figure."""


def requirement_rows(file: str, assessment: Assessment) -> Iterator[Row]:
    """A row for each condition."""
    requirement = assessment.requirement
    for one in assessment.judged:
        asked = f"{'more than' if one.condition.more else 'at least'} {one.condition.least:g}"
        figures = (tenths(one.straight), tenths(one.flown), one.named)
        yield (file, requirement.name, requirement.source, one.result, one.condition.measure.value, asked, *figures)


def tenths(value: float | None) -> str | None:
    """A figure with one decimal."""
    return None if value is None else f"{value:.1f}"


def requirement_json(file: str, assessment: Assessment) -> str:
    """One requirement over one file as one line of JSON, without a line end."""
    import json

    from navlog.sheets.json_lines import SCHEMA, number

    requirement = assessment.requirement
    found = {
        "schema": SCHEMA,
        "source": {"file": file},
        "requirement": requirement.name,
        "title": requirement.title,
        "rule": requirement.source,
        "distance_part_only": True,
        "result": assessment.result,
        "hops": [
            {
                "from": hop.start,
                "to": hop.end,
                "straight_nm": number(hop.straight_nm),
                "flown_nm": number(hop.flown_nm),
                "on_airways_nm": number(hop.airways_nm),
            }
            for hop in assessment.hops
        ],
        "conditions": [
            {
                "measure": one.condition.measure.value,
                "least": one.condition.least,
                "more_than": one.condition.more,
                "straight": number(one.straight),
                "flown": number(one.flown),
                "of": one.named,
                "result": one.result,
            }
            for one in assessment.judged
        ],
        "breaks": list(assessment.breaks),
    }
    return json.dumps(found, ensure_ascii=True, allow_nan=False)
