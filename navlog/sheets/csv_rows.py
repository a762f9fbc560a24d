"""The log as comma-separated values (RFC 4180): one row a leg, what a spreadsheet opens without harm.

The legs of the ways to alternates follow those of the route, and the last column tells which way a row is of.

A course carries the letter of its north (`022M`), so that its zeros survive; text that a spreadsheet would
take for a formula begins with an apostrophe. `?` is unknown, `XXX` impossible, empty does not apply.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from navlog.flightlog.records import Log
from navlog.nav import figures
from navlog.nav.problems import inert
from navlog.printed.cautions import CAUTIONS
from navlog.printed.findings import finding_line
from navlog.printed.head import data_text, variation_text, wind_text
from navlog.printed.rows import BY_KEY, Row, rows
from navlog.rules.report import Report
from navlog.sheets.pages import Page
from navlog.version import VERSION

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "|", "%")

_NAMES: tuple[tuple[str, str, str], ...] = (
    ("number", "leg", ""), ("from", "from", ""), ("to", "to", ""), ("via", "via", ""), ("phase", "phase", ""),
    ("station", "tune_mhz", ""), ("radial", "radial", ""), ("set_course", "set_course", ""),
    ("true_course", "true_course", "T"), ("wind", "wind_true_kt", ""), ("tas", "tas_kt", ""),
    ("correction", "wind_correction_deg", ""), ("true_heading", "true_heading", "T"), ("variation", "variation", ""),
    ("magnetic_course", "magnetic_course", "M"), ("magnetic_heading", "magnetic_heading", "M"),
    ("deviation", "deviation", ""), ("compass_heading", "compass_heading", "C"),
    ("groundspeed", "groundspeed_kt", ""), ("distance", "distance_nm", ""), ("remaining", "distance_remaining_nm", ""),
    ("time", "time_h_min", ""), ("elapsed", "elapsed_h_min", ""), ("altitude", "altitude_ft", ""),
    ("minimum", "minimum_ft", ""), ("fuel_used", "fuel_used", ""), ("fuel_left", "fuel_left", ""),
    ("fuel_least", "fuel_least", ""),
)  # fmt: skip
"""Columns of the log: key in the table of columns, name here, letter behind a course."""

_OF_FLIGHT: tuple[tuple[str, Callable[[Report], str]], ...] = (
    ("fuel_unit", lambda report: report.log.fuel_unit.name),
    ("status", lambda report: report.status),
    ("file", lambda report: report.log.route.request.file),
    ("sha256", lambda report: report.log.route.request.digest),
    ("navlog", lambda report: VERSION),
    ("date", lambda report: report.log.conditions.day.isoformat()),
    ("data", lambda report: data_text(report.log)),
    ("variation_by", lambda report: variation_text(report.log)),
    ("wind_given_true", lambda report: wind_text(report.log)),
    ("caution", lambda report: CAUTIONS),
)
"""What is the same in every row of a flight."""


def document(reports: Sequence[Report], page: Page) -> bytes:
    """The legs of several flights under one line of names; UTF-8 with CR LF."""
    del page
    import csv
    import io

    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    names = [name for _, name, _ in _NAMES]
    writer.writerow(["flight", *names, "eta_utc", "findings", *(name for name, _ in _OF_FLIGHT), "alternate"])
    for report in reports:
        for number, way in enumerate((report.log, *report.log.alternates)):
            for row in rows(way):
                writer.writerow([safe(cell) for cell in (*_cells(report, row, number), _way_name(way, number))])
    return inert(text.getvalue()).encode("utf-8", "replace")


def _way_name(way: Log, number: int) -> str:
    """Where the way to an alternate, by its number, leads and begins: `XOLD from QEL`; empty for the route."""
    return f"{way.route.points[-1].name} from {way.route.points[0].name}" if number else ""


def _cells(report: Report, row: Row, alternate: int) -> Iterator[str]:
    """The cells of one leg of the route (0) or of an alternate; findings of a whole way stand in its first leg."""
    yield report.log.route.request.name
    for key, _, north in _NAMES:
        text = BY_KEY[key].figure(row)
        yield "" if text == figures.NOT_APPLICABLE else text + north if text[-1:].isdigit() else text
    yield f"{row.clock:%Y-%m-%dT%H:%MZ}" if row.clock is not None else figures.UNKNOWN
    number = row.leg.number
    here = (one for one in report.findings if (one.alternate.number if one.alternate else 0) == alternate)
    yield "; ".join(finding_line(one) for one in here if (one.number or 1) == number)
    for _, figure in _OF_FLIGHT:
        yield figure(report)


def safe(cell: str) -> str:
    """A cell that no spreadsheet computes with: an apostrophe before what looks like a formula."""
    return f"'{cell}" if cell.startswith(FORMULA_STARTS) and not _is_number(cell) else cell


def _is_number(text: str) -> bool:
    """Whether a text is a plain decimal number."""
    return text.lstrip("-").replace(".", "", 1).isdigit() and text.count("-") <= 1
