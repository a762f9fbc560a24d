"""The planning sheet: every column from true course to compass heading, as wide as it needs."""

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


def document(reports: Sequence[Report], page: Page) -> str:
    """The planning sheets of several flights; a page's width does not limit them."""
    del page
    return "\n\n".join("\n".join(_sheet(report)) + "\n" for report in reports)


def _sheet(report: Report) -> Iterator[str]:
    """The planning sheet of one flight."""
    log = report.log
    table = _table_lines(log, meant(report))
    width = max(map(len, table))
    yield from wrapped(f"PLANNING - {log.route.request.name}", width)
    yield from wrapped(f"Route {route_text(log)}", width, "  ")
    yield f"FINDINGS: {findings_summary(report.findings)}"
    yield ""
    yield from table
    closing = [(one.title, one.lines) for one in sections(report, remaining="remaining" in _KEYS)]
    before = [("TURNING BACK", tuple(turning_back(log))), ("NO RADIO", tuple(lost_communications(log)))]
    for title, lines in (*before, *closing):
        if lines:
            yield ""
        for line in lines:
            yield from wrapped(f"{title}: {line}", width, "  ")


def _table_lines(log: Log, means: Meant = NOTHING) -> list[str]:
    """The table: headings, units, a rule and a line for each leg."""
    keys = [key for key in _KEYS if key != "local" or log.conditions.zone is not None]
    columns = [BY_KEY[key] for key in keys]
    units = [log.fuel_unit.name if column.unit == "fuel" else column.unit for column in columns]
    legs = [[column.figure(row) for column in columns] for row in rows(log, means)]
    sides = "".join("l" if key in _LEFT else "r" for key in keys)
    return layout.columns([[column.heading for column in columns], units, *legs], sides, heads=2, rule="-")
