"""What the rules find in an invented flight that a test changes, with or without published data beside it."""

from __future__ import annotations

from navlog.request.flights import read_flights
from navlog.request.references import References
from navlog.resolve.lookup import ChartLookup
from navlog.rules import report
from navlog.rules.answers import answers
from navlog.rules.registry import Case, Finding, Thresholds
from navlog.rules.samples import FILES, SampleCatalogue, sample


def judged(
    *changed: str, catalogue: ChartLookup | None = None, thresholds: Thresholds | None = None
) -> tuple[Finding, ...]:
    """Every finding in the base flight of the rules' samples with statements changed."""
    return judged_text(sample(*changed), catalogue or SampleCatalogue(), thresholds)


def reported(*changed: str) -> report.Report:
    """The log of the base flight with statements changed, and what is found in it."""
    return reported_text(sample(*changed), SampleCatalogue())


def case_of(*changed: str) -> Case:
    """The base flight with statements changed, as a rule looks at it."""
    return report.case_of(reported(*changed).log)


def judged_text(
    text: str, catalogue: ChartLookup, thresholds: Thresholds | None = None, files: dict[str, str] = FILES
) -> tuple[Finding, ...]:
    """Every finding in the only flight of a route file, which must be computed; `files` are those that it names."""
    return reported_text(text, catalogue, thresholds, files).findings


def reported_text(
    text: str, catalogue: ChartLookup, thresholds: Thresholds | None = None, files: dict[str, str] = FILES
) -> report.Report:
    """The log of the only flight of a route file, which must be computed, and what is found in it."""
    plans = read_flights(text, "flight.route")
    (answer,) = answers(plans, catalogue, References(files), thresholds=thresholds)
    assert answer.report is not None, answer.problems
    return answer.report


def of(rule: str, findings: tuple[Finding, ...]) -> list[str]:
    """What one rule found, as `severity: message`."""
    return [f"{one.severity.value}: {one.message}" for one in findings if one.rule == rule]


def found(rule: str, *changed: str) -> list[str]:
    """What one rule finds in the base flight with statements changed."""
    return of(rule, judged(*changed))


CHART_ONLY = (
    "station QHB 113.70",
    "station QEL 110.20",
    "variation 13W",
    "-direct QHB",
    "-direct QEL",
    "route QHB V801 QEL",
)
"""Changes the base flight into one along an airway between two stations without positions."""


def along(airway: str, *more: str) -> tuple[str, ...]:
    """The flight along V801 between the two stations, of which the chart says `airway`."""
    return (*CHART_ONLY, f"airway V801 {airway}", *more)


def lines(rule: str, findings: tuple[Finding, ...]) -> list[str]:
    """All of what one rule found: `severity leg line:column message`, and by how much a limit is missed."""
    return [_line(one) for one in findings if one.rule == rule]


def told_of(flight: str, files: dict[str, str] = FILES) -> list[str]:
    """All that one rule finds in the base flight with statements changed: `rule: statement | statement`."""
    rule, _, changed = flight.partition(":")
    text = sample(*(one.strip() for one in changed.split(" | ") if one.strip()))
    return lines(rule, judged_text(text, SampleCatalogue(), files=files))


def _line(one: Finding) -> str:
    """One finding whole; what it has not is left out."""
    beyond = f" [by {one.by:.1f}]" if one.by else ""
    station = f" [of {one.station}]" if one.station else ""
    apart = " [apart]" if one.apart else ""
    place = f"{one.span.line}:{one.span.column}"
    return f"{one.severity.value} {one.where or 'flight'} {place} {one.message}{beyond}{station}{apart}"


def table(text: str) -> dict[str, list[str]]:
    """The indented lines under each heading of a table; a line that begins with # is a comment."""
    told: dict[str, list[str]] = {}
    for line in text.splitlines():
        if line.startswith("    "):
            told[list(told)[-1]].append(line.strip())
        elif not line.startswith("#"):
            assert line not in told, f"the table has {line} twice"
            told[line] = []
    return told
