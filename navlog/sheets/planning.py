"""The planning sheet: every column from true course to compass heading, in tables of a page that lies on its side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.flightlog.records import Log
from navlog.nav import layout
from navlog.nav.layout import wrapped
from navlog.printed.closing import sections
from navlog.printed.contingencies import lost_communications, turning_back
from navlog.printed.findings import findings_summary
from navlog.printed.head import route_text
from navlog.printed.meant import NOTHING, Meant, meant
from navlog.printed.rows import BY_KEY, rows
from navlog.rules.report import Report
from navlog.sheets.pages import Page

_KEYS = (
    "number", "from", "to", "via", "phase", "station", "radial", "set_course", "true_course", "wind", "tas",
    "correction", "true_heading", "variation", "magnetic_heading", "deviation", "compass_heading", "magnetic_course",
    "groundspeed", "distance", "remaining", "time", "elapsed", "eta", "altitude", "minimum", "fuel_used", "fuel_left",
    "fuel_least",
)  # fmt: skip
"""The columns in the order of the working: course, wind, headings, speed, distance, time, height, fuel."""

_LEFT = ("from", "to", "via", "phase", "station", "set_course", "minimum")


_NAMES = ("number", "to")
_GROUPS = (
    ("via", "station", "radial", "set_course", "true_course", "wind", "tas", "correction", "true_heading", "variation",
     "magnetic_heading", "deviation", "compass_heading", "magnetic_course", "groundspeed"),
    ("phase", "distance", "remaining", "time", "elapsed", "eta", "altitude", "minimum", "fuel_used", "fuel_left",
     "fuel_least"),
)  # fmt: skip
"""The columns with which every narrow table begins, and the others: the working, and what follows from it.

Where a leg is from stands in the line above.
"""
_WIDTH = 130
"""The characters of a line of paper that lies on its side (letter at 10 points, with 6 mm on both sides)."""


def document(reports: Sequence[Report], page: Page, *, wide: bool = False) -> str:
    """The planning sheets of several flights, within 130 columns; `wide` ones have one table, as wide as it needs."""
    del page
    return "\n\n".join("\n".join(_sheet(report, wide)) + "\n" for report in reports)


def _sheet(report: Report, wide: bool) -> Iterator[str]:
    """The planning sheet of one flight."""
    log = report.log
    tables = [_table_lines(log, meant(report))]
    if not wide:
        tables = list(_tables(log, meant(report)))
    width = max(len(line) for table in tables for line in table) if wide else _WIDTH
    yield from wrapped(f"PLANNING - {log.route.request.name}", width)
    yield from wrapped(f"Route {route_text(log)}", width, "  ")
    yield f"FINDINGS: {findings_summary(report.findings, every=report.every)}"
    for table in tables:
        yield ""
        yield from table
    closing = [(one.title, one.lines) for one in sections(report, remaining="remaining" in _KEYS)]
    before = [("TURNING BACK", tuple(turning_back(log))), ("NO RADIO", tuple(lost_communications(log)))]
    for title, lines in (*before, *closing):
        if lines:
            yield ""
        for line in lines:
            yield from wrapped(f"{title}: {line}", width, "  ")


def _tables(log: Log, means: Meant) -> Iterator[list[str]]:
    """Each group of columns in as few tables as it fits into."""
    for group in _GROUPS:
        rest = list(group)
        while rest:
            shown = [rest.pop(0)]
            table = _table_lines(log, means, (*_NAMES, *shown))
            while rest and max(map(len, longer := _table_lines(log, means, (*_NAMES, *shown, rest[0])))) <= _WIDTH:
                shown.append(rest.pop(0))
                table = longer
            yield table


def _table_lines(log: Log, means: Meant = NOTHING, keys: Sequence[str] = _KEYS) -> list[str]:
    """The table: headings, units, a rule and a line for each leg."""
    columns = [BY_KEY[key] for key in keys]
    units = [log.fuel_unit.name if column.unit == "fuel" else column.unit for column in columns]
    legs = [[column.figure(row) for column in columns] for row in rows(log, means)]
    sides = "".join("l" if key in _LEFT else "r" for key in keys)
    return layout.columns([[column.heading for column in columns], units, *legs], sides, heads=2, rule="-")
