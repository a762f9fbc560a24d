"""The log as Markdown: tables that a page of notes or a repository shows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.flightlog.records import Log
from navlog.nav.layout import columns, loosened
from navlog.printed.closing import sections
from navlog.printed.head import route_text
from navlog.printed.meant import meant
from navlog.printed.remarks import remarks
from navlog.printed.rows import BY_KEY, Row, rows
from navlog.rules.report import Report
from navlog.sheets.pages import Page

_KEYS = (
    "number", "from", "to", "via", "station", "morse", "set_course", "heading", "time", "eta", "distance",
    "remaining", "altitude", "minimum", "groundspeed", "fuel_used", "fuel_left", "fuel_least",
)  # fmt: skip
_LEFT = ("from", "to", "via", "station", "morse")
_SPECIAL = "\\`*_[]<>|~&"
"""Punctuation that Markdown reads anywhere in a line (CommonMark 0.31)."""
_AT_START = "#+-=)."
"""What makes a heading, a list or a rule at the start of a line, behind digits too."""


def document(reports: Sequence[Report], page: Page) -> str:
    """The logs of several flights under a heading each."""
    del page
    return "\n".join("\n".join(_sheet(report)) + "\n" for report in reports)


def _sheet(report: Report) -> Iterator[str]:
    """The log of one flight."""
    log = report.log
    yield f"# VOR navigation log: {escaped(log.route.request.name)}"
    yield ""
    yield f"Route {escaped(route_text(log))}"
    yield ""
    printed = rows(log, meant(report))
    yield from _table(log, printed)
    told = [
        f"- Leg {row.leg.number}: {escaped(loosened(remark))}"
        for index, row in enumerate(printed)
        for remark in remarks(printed, index)
    ]
    yield from ("", "## Remarks", "", *told) if told else ()
    for section in sections(report, remaining="remaining" in _KEYS):
        yield ""
        yield f"## {escaped(section.title)}"
        yield ""
        yield from (f"- {escaped(line)}" for line in section.lines)


def _table(log: Log, printed: Sequence[Row]) -> list[str]:
    """One line a leg."""
    keys = (*_KEYS[:10], "local", *_KEYS[10:]) if log.conditions.zone is not None else _KEYS
    shown = [BY_KEY[key] for key in keys]
    legs = [[escaped(column.figure(row)) for column in shown] for row in printed]
    sides = "".join("l" if key in _LEFT else "r" for key in keys)
    return columns([[column.heading for column in shown], *legs], sides, heads=1, rule="|")


def escaped(text: str) -> str:
    """Text that Markdown shows as it is, dots and dashes of Morse included (CommonMark 0.31, section 2.4)."""
    shown = "".join(f"\\{character}" if character in _SPECIAL else character for character in text)
    for pair in ("--", ".."):
        shown = shown.replace(pair, f"\\{pair[0]}\\{pair[0]}")
    digits = len(shown) - len(shown.lstrip("0123456789"))
    if shown[digits : digits + 1] in tuple(_AT_START) and not (digits and shown[digits + 1 : digits + 2].isdigit()):
        shown = f"{shown[:digits]}\\{shown[digits:]}"
    return shown
