"""The sheet as one HTML file that needs nothing else: prints on the page chosen, runs no script."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.printed.boxes import Box, in_order
from navlog.printed.closing import joined, sections
from navlog.printed.events import Event
from navlog.printed.findings import findings_summary
from navlog.printed.head import route_text
from navlog.printed.meant import meant
from navlog.rules.report import Report
from navlog.sheets.html_style import flight_page, style
from navlog.sheets.pages import Page
from navlog.sheets.plan_drawing import plan_drawing
from navlog.sheets.profile_drawing import profile_drawing
from navlog.sheets.svg import svg
from navlog.sheets.xml_text import element, escaped

_POLICY = "default-src 'none'; style-src 'unsafe-inline'"
_PEN = ("ATA", "GS", "FUEL")


def document(reports: Sequence[Report], page: Page) -> str:
    """The sheets of several flights, each from a new page on."""
    return "\n".join(_lines(reports, page)) + "\n"


def _lines(reports: Sequence[Report], page: Page) -> Iterator[str]:
    """The lines of the file."""
    title = ", ".join(report.log.route.request.name for report in reports)
    yield "<!DOCTYPE html>"
    yield '<html lang="en"><head><meta charset="utf-8">'
    yield f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
    yield '<meta name="viewport" content="width=device-width">'
    yield element("title", f"VOR navigation log: {title}")
    yield f"<style>{style(page)}"
    yield from (flight_page(number, report) for number, report in enumerate(reports, 1))
    yield "</style></head><body>"
    for number, report in enumerate(reports, 1):
        yield f'<main id="flight{number}">'
        yield from _flight(report, page)
        yield "</main>"
    yield "</body></html>"


def _flight(report: Report, page: Page) -> Iterator[str]:
    """One flight in flying order, then what closes it."""
    log = report.log
    yield element("h1", log.route.request.name)
    yield f'<p class="route">{escaped(route_text(log))}</p>'
    yield f'<p class="summary">FINDINGS: {escaped(findings_summary(report.findings))}</p>'
    places: list[Event] = []
    for one in in_order(log, meant(report)):
        if isinstance(one, Event):
            places.append(one)
            continue
        if places:
            yield from _table(places)
            places = []
        yield _box(one)
    closing = sections(report)
    yield f'<p class="total">TOTAL {escaped(joined(closing[0].lines[0]))}</p>'
    for section in closing[1:]:
        name = section.title.partition(" ")[0].lower()
        yield f'<section class="{name}">{element("h2", section.title)}'
        yield from (element("p", line) for line in section.lines)
        yield "</section>"
    width, height = page.drawing_width_pt, page.drawing_height_pt
    yield '<div class="drawings">'
    for drawing in (
        plan_drawing(log, width, height * 0.6, report.surroundings),
        profile_drawing(report, width, height * 0.4),
    ):
        if drawing is not None:
            yield f"<figure>{svg(drawing)}{element('figcaption', drawing.caption)}</figure>"
    yield "</div>"


def _box(one: Box) -> str:
    """A box to fill in."""
    rows = "".join(
        f'<div class="fields">{"".join(element("span", label) for label in labels)}</div>' for labels in one.lines
    )
    return f'<div class="box">{element("h2", one.title)}{rows}</div>'


def _table(found: Sequence[Event]) -> Iterator[str]:
    """The places with what is flown from each; the heads come again on every page."""
    yield '<table><thead><tr><th></th><th class="flown">SET</th><th class="flown">HDG</th><th class="flown">TIME</th>'
    yield "".join(f'<th class="pen">{head}</th>' for head in _PEN) + "</tr></thead>"
    for one in found:
        yield from _place(one)
    yield "</table>"


def _place(one: Event) -> Iterator[str]:
    """One place, never split: where, tune, IN and OUT, and what to know below; the pen's cells beside it."""
    rows = [_wide("where", [f"<b>{escaped(one.place)}</b>", *_phrases((one.clock, one.local, one.turn, one.name))])]
    if one.marks:
        rows.append(_wide("marks", _phrases(one.marks)))
    if one.tune or one.station:
        rows.append(_wide("tune", [escaped(f"tune {one.tune}" if one.tune else one.station)]))
    if one.inbound:
        rows.append(f'<th>IN</th><td class="in">{_course(one.inbound)}</td><td></td><td></td>')
    if one.flown is not None:
        texts = (_course(one.flown.set_course), escaped(one.flown.heading), escaped(one.flown.time))
        cells = "".join(f'<td class="flown">{text}</td>' for text in texts)
        rows.append(f"<th>{'OUT' if one.inbound else 'SET'}</th>{cells}")
    for told in (one.height, one.way, one.fuel):
        if told:
            rows.append(_wide("told", _phrases(told)))
    rows += [_wide("told", [escaped(note)]) for note in one.notes]
    pens = f'<td class="pen" rowspan="{len(rows)}"></td>' * len(_PEN)
    yield f'<tbody class="place"><tr>{rows[0]}{pens}</tr>'
    yield from (f"<tr>{row}</tr>" for row in rows[1:])
    yield "</tbody>"


def _course(text: str) -> str:
    """A set course with its flag in smaller type."""
    number, space, flag = text.partition(" ")
    return f"{escaped(number)}{space}<i>{escaped(flag)}</i>" if number[:1].isdigit() else f"<i>{escaped(text)}</i>"


def _wide(name: str, parts: Sequence[str]) -> str:
    """A cell across the planned columns."""
    return f'<td class="{name}" colspan="4">{" &ensp;".join(parts)}</td>'


def _phrases(texts: Sequence[str]) -> list[str]:
    """Phrases that are not broken between lines."""
    return [f'<span class="phrase">{escaped(text)}</span>' for text in texts if text]
