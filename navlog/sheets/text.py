"""The log as plain text within 80 columns: stations, two lines a leg with remarks, totals, fuel, findings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog import figures
from navlog.flightlog.records import Log
from navlog.rules import Finding, Report
from navlog.sheets.cautions import CAUTIONS, LEGEND
from navlog.sheets.closing import alternates, finding_line, findings_summary, totals_text
from navlog.sheets.fuel import account
from navlog.sheets.header import header
from navlog.sheets.pages import Page
from navlog.sheets.remarks import dme_channel, remarks, stations_in_order
from navlog.sheets.rows import BY_KEY, Row, rows

WIDTH = 80
SHEET_BREAK = "\n" + "=" * WIDTH + "\n\n"
FIRST_LINE = (
    ("number", 2),
    ("from", 11),
    ("to", 11),
    ("station", 10),
    ("set_course", 9),
    ("heading", 4),
    ("time", 5),
    ("eta", 6),
    ("fuel_used", 5),
    ("fuel_left", 6),
)
"""Columns of a leg's first line with their widths: what is flown."""

RIGHT = ("number", "heading", "time", "eta", "fuel_used", "fuel_left")


def document(reports: Sequence[Report], page: Page) -> str:
    """The logs of several flights; the width is that of a terminal, whatever the page."""
    del page
    return SHEET_BREAK.join(text_log(report) for report in reports)


def text_log(report: Report) -> str:
    """The whole sheet, ending in a newline; ASCII unless names in the file are not."""
    return "\n".join(lines(report)) + "\n"


def lines(report: Report) -> Iterator[str]:
    """The lines of the sheet."""
    log = report.log
    yield from header(log)
    yield ""
    yield from station_table(log)
    yield ""
    yield from leg_table(log)
    yield ""
    yield f"TOTAL  {totals_text(log)}"
    yield ""
    yield from fuel_block(log)
    yield from alternate_block(log)
    yield from notes(log)
    yield ""
    yield from findings_block(report.findings)
    yield ""
    yield from wrapped(LEGEND, "")
    yield ""
    yield from wrapped(CAUTIONS, "")


def wrapped(text: str, indent: str, following: str | None = None) -> list[str]:
    """A paragraph within the width; what cannot be broken between words is broken inside one."""
    from textwrap import wrap

    after = indent if following is None else following
    return wrap(text, WIDTH, initial_indent=indent, subsequent_indent=after) or [""]


def station_table(log: Log) -> Iterator[str]:
    """The stations in order of use: how to tune and identify each, and the two norths."""
    from navlog.radio import morse

    yield f"{'STATIONS':<9}{'MHz':>6}  {'DME':<5}{'Morse':<18}{'decl':>6} {'var':>6}  {'elev':>5}  name"
    for station in stations_in_order(log):
        declination = "true" if station.true_referenced else figures.east_west(station.declination_deg)
        variation = figures.UNKNOWN
        if station.position is not None and log.route.magnetic_model is not None:
            from navlog.magnetism import variation_deg

            variation = figures.east_west(variation_deg(station.position, log.conditions.day))
        channel = dme_channel(station) or figures.NOT_APPLICABLE
        elevation = figures.whole(station.elevation_ft)
        line = (
            f"{station.ident:<9}{figures.frequency(station.frequency_mhz):>6}  {channel:<5}"
            f"{morse(station.ident):<18}{declination:>6} {variation:>6}  {elevation:>5}  {station.name or ''}"
        )
        yield from wrapped(line.rstrip(), "", " " * 9) if len(line.rstrip()) > WIDTH else [line.rstrip()]
    if not stations_in_order(log):
        yield "none: dead reckoning throughout"


def leg_table(log: Log) -> Iterator[str]:
    """Two lines a leg, and its remarks."""
    yield " ".join(cell(BY_KEY[key].heading, key, width) for key, width in FIRST_LINE).rstrip()
    yield "-" * WIDTH
    printed = rows(log)
    for row, following in zip(printed, (*printed[1:], None), strict=True):
        yield from flown_line(row)
        yield from wrapped(planned_line(row), "   ", "     ")
        local = BY_KEY["local"].figure(row)
        here = () if local == figures.NOT_APPLICABLE else (f"{BY_KEY['to'].figure(row)} at {local}",)
        for remark in (*here, *remarks(row, following)):
            yield from wrapped(remark, "   > ", "     ")


def flown_line(row: Row) -> Iterator[str]:
    """The first line of a leg; names too long for their column go on a line of their own."""
    cells = {key: BY_KEY[key].figure(row) for key, _ in FIRST_LINE}
    if any(len(cells[key]) > width for key, width in FIRST_LINE):
        yield from wrapped(f"{cells['number']:>2} {cells['from']} to {cells['to']}", "", "   ")
        cells.update({"number": "", "from": "", "to": ""})
    yield " ".join(cell(cells[key], key, width) for key, width in FIRST_LINE).rstrip()


def cell(text: str, key: str, width: int) -> str:
    """A cell of the first line."""
    return text.rjust(width) if key in RIGHT else text.ljust(width)


def planned_line(row: Row) -> str:
    """The second line of a leg: airway, distance, height, both courses, wind correction, groundspeed."""
    value = {column.key: column.figure(row) for column in BY_KEY.values()}
    return (
        f"{value['via']:<6} {value['distance']:>5} NM {value['remaining']:>5} to go  alt {value['altitude']}"
        f" {value['minimum']}  TC {value['true_course']} MC {value['magnetic_course']} WCA {value['correction']}"
        f" GS {value['groundspeed']}"
    )


def fuel_block(log: Log) -> Iterator[str]:
    """Fuel required against fuel on board."""
    fuel = account(log)
    left = rows(log)[-1]
    yield f"FUEL in {fuel.unit}: on board {fuel.on_board} {fuel.when}, left at landing {left.fuel(left.left_steps)}"
    told = " + ".join(f"{name} {amount}" for name, amount in fuel.parts)
    yield from wrapped(f"required {fuel.required} = {told}", "  ", "    ")
    yield from wrapped(fuel.reserve_by, "  ", "    ")
    if fuel.margin is not None:
        minutes = f", {fuel.margin_min} min" if fuel.margin_min is not None else ""
        yield f"  margin {fuel.margin} {fuel.unit}{minutes}"


def notes(log: Log) -> Iterator[str]:
    """Radio frequencies and notes of the flight."""
    request = log.route.request
    if request.radios:
        yield ""
        yield "RADIO"
        for radio in request.radios:
            yield from wrapped(f"{radio.frequency_mhz:<8} {radio.place} {radio.name}", "  ", "    ")
    if request.notes:
        yield ""
        yield "NOTES"
        for note in request.notes:
            yield from wrapped(note, "  ", "    ")


def alternate_block(log: Log) -> Iterator[str]:
    """The alternates, each a way of its own."""
    for section in alternates(log):
        yield ""
        yield section.title
        for line in section.lines:
            yield from wrapped(line, "  ", "    ")


def findings_block(findings: tuple[Finding, ...]) -> Iterator[str]:
    """The findings behind their count, accepted ones with the reason."""
    yield f"FINDINGS  {findings_summary(findings)}"
    for finding in findings:
        yield from wrapped(finding_line(finding), "  ", "    ")
