"""Verdicts as lines of text and as rows of comma-separated values."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator

from navlog.batch.checking import Verdict
from navlog.problems import Span, printable
from navlog.rules.registry import Finding

COLUMNS = ("file", "line", "flight", "leg", "severity", "rule", "message", "source", "accepted")
"""The columns of the comma-separated form; a problem has severity `problem` and its code as the rule."""

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
"""What makes a spreadsheet run a cell's text as a formula."""


def text_lines(verdict: Verdict) -> Iterator[str]:
    """`FILE:LINE: severity: flight, leg N: message [rule]` for each finding that is not accepted."""
    for finding in verdict.findings:
        if finding.accepted is None:
            yield printable(text_line(verdict.flight, finding))


def text_line(flight: str | None, finding: Finding) -> str:
    """One finding in the manner of a compiler's message, for editors that find the place."""
    where = f"{flight}, leg {finding.leg}" if finding.leg is not None else flight
    place = f"{finding.span.file}:{finding.span.line}"
    return f"{place}: {finding.severity.value}: {where}: {finding.message} [{finding.rule}]"


def csv_text(rows: Iterable[tuple[str | int | None, ...]]) -> str:
    """Rows as RFC 4180 has them: CRLF ends, every text in quotes, numbers bare, nothing for None."""
    written = io.StringIO(newline="")
    csv.writer(written, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n").writerows(
        [safe(cell) for cell in row] for row in rows
    )
    return written.getvalue()


def safe(cell: str | int | None) -> str | int:
    """The cell, with `'` before text that a spreadsheet would run."""
    if cell is None:
        return ""
    if isinstance(cell, str):
        return "'" + cell if cell.startswith(FORMULA_STARTS) else cell
    return cell


def csv_rows(verdict: Verdict) -> Iterator[tuple[str | int | None, ...]]:
    """A row for each finding, accepted ones too, and each problem."""
    for one in verdict.findings:
        place = (one.span.file, one.span.line, verdict.flight, one.leg)
        yield (*place, one.severity.value, one.rule, one.message, one.source, one.accepted)
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
