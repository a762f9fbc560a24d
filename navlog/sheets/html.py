"""The knee page as one HTML file that needs nothing else and runs no script; what is for the pen may be typed into."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.nav.layout import loosened
from navlog.printed.back import Block
from navlog.printed.boxes import before_flight, on_arrival
from navlog.printed.needles import Needle
from navlog.printed.page import Printed
from navlog.printed.radios import Radios
from navlog.rules.report import Report
from navlog.sheets.extras import extras
from navlog.sheets.html_style import flight_page, style
from navlog.sheets.pages import PAGES, SIDE_MARGIN_MM, Page
from navlog.sheets.plan_drawing import plan_drawing
from navlog.sheets.profile_drawing import profile_drawing
from navlog.sheets.svg import svg
from navlog.sheets.xml_text import element, escaped

_POLICY = "default-src 'none'; style-src 'unsafe-inline'"
_LONGEST_WHOLE = 40
"""A tick of more characters is broken between words where the row is narrow."""
_FRONT_LINES, _LINE_MM = 33, 3.8
"""Lines of text on the lowest front: three a row of ten, the frequencies before a landing, one of an alternate."""
_LETTER_MM, _TOLD = 1.7, 50
"""The mean width of a letter of the text, and how many of them stand in a line beside the way."""
_HEADS = (
    '<div class="row heads"><div class="place">AT</div><div class="eta">ETA Z</div><div class="ata">ATA</div>'
    '<div class="fuel">fuel</div><div class="turn">turn</div><div class="tune">TUNE</div><div class="set">SET</div>'
    '<div class="hdg">HDG<br><small>{by}</small></div>'
    '<div class="alt">ALT</div><div class="min">minimum</div><div class="way">'
    '<span>via</span><span>NM</span><span>min</span><span class="legs">legs</span><span>left</span><span>GS</span>'
    '</div><div class="told">identified; +7: minutes after it</div></div>'
)


def document(reports: Sequence[Report], page: Page, names: Sequence[str] = ()) -> str:
    """The pages of several flights, each from a new page on."""
    return "\n".join(_lines(reports, page, names)) + "\n"


def _lines(reports: Sequence[Report], page: Page, names: Sequence[str]) -> Iterator[str]:
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
        printed = Printed.of(report)
        yield f'<main id="flight{number}">'
        notes = _notes_on_front(printed, page)
        yield from _front(printed, printed.notes[:notes])
        yield '<section class="back">'
        yield from _back(report, printed, page, report.log.route.request.notes[notes:])
        yield "</section>"
        yield from _behind(report, names)
        yield "</main>"
    yield "</body></html>"


def _notes_on_front(printed: Printed, page: Page) -> int:
    """How many of the pilot's notes have room on a front, by the lines that all else on it takes; a browser tells late.

    The others are on the back, so that none takes a page of its own.
    """
    lower_mm = page.height_mm - min(one.height_mm for one in PAGES.values())
    room = _FRONT_LINES + int(lower_mm / _LINE_MM)
    room -= sum(max(3, 1 + _lines_of("  ".join(one.told), _TOLD)) for one in printed.route.needles)
    room -= 2 * sum(one.radios is not None for one in printed.route.needles)
    wide = int((page.width_mm - 2 * SIDE_MARGIN_MM) / _LETTER_MM)
    room -= sum(_lines_of(text, wide) for text in (*printed.not_as_planned, *printed.alternate_lines))
    for number, note in enumerate(printed.notes):
        room -= _lines_of(note, wide)
        if room < 0:
            return number
    return len(printed.notes)


def _lines_of(text: str, wide: int) -> int:
    """How many lines of so many letters a text takes."""
    return -(-len(text) // wide)


def _front(printed: Printed, notes: Sequence[str]) -> Iterator[str]:
    """The front in flying order."""
    head = printed.head
    yield f"<h1>{escaped(head.name)} <span>{escaped(head.route)}</span></h1>"
    yield _paragraph("   ".join((head.day, head.rules, head.level, head.data, head.aircraft)))
    yield _paragraph("   ".join((f"OFF {head.off}", f"ON {head.on}", head.cruise)), "strong")
    yield from (_paragraph(f"NOT AS PLANNED: {one}", "strong") for one in printed.not_as_planned)
    yield _fields(("limit", "route"))
    yield _fields(("altitude", "frequency", "squawk"))
    yield _radios(printed.leaving)
    yield _HEADS.format(by=printed.headings)
    yield from (_row(one) for one in printed.route.needles)
    yield _fields(("code", "wind", "visibility", "cloud", "temp/dew", "altimeter", "runway"))
    yield from map(_paragraph, (*notes, *printed.alternate_lines))
    yield from (_paragraph(line, "strong") for line in printed.totals[:-1])
    block = _radios(Radios("", (("block out", ""), ("in", ""))))
    yield f'<div class="closing">{_paragraph(printed.totals[-1], "strong")}{block}</div>'


def _back(report: Report, printed: Printed, page: Page, notes: tuple[str, ...]) -> Iterator[str]:
    """The back: findings, notes that the front had no room for, alternates' rows, every block whole, the drawings."""
    yield from _block(printed.findings)
    if notes:
        yield from _block(Block("NOTES", notes))
    for way in printed.alternates:
        yield element("h2", way.title)
        yield _HEADS.format(by=printed.headings)
        yield from (_row(one) for one in way.needles)
    blocks = [part.lengths[-1] for part in printed.back]
    for block in blocks:
        if block.title:
            yield from _block(block)
    small = "".join(_paragraph(line) for block in blocks if not block.title for line in block.lines)
    yield f'<div class="small">{small}</div>'
    width, height = page.drawing_width_pt, page.drawing_height_pt
    yield '<div class="drawings">'
    for drawing in (
        plan_drawing(report.log, width, height * 0.6, report.surroundings),
        profile_drawing(report, width, height * 0.4),
    ):
        if drawing is not None:
            yield f"<figure>{svg(drawing)}{element('figcaption', drawing.caption)}</figure>"
    yield "</div>"


def _block(block: Block) -> Iterator[str]:
    """A block of the back."""
    yield element("h2", block.title)
    yield from (_paragraph(line) for line in block.lines)
    if block.table:
        yield element("pre", "\n".join(block.table))
    if block.fields:
        yield _fields(block.fields)


def _behind(report: Report, names: Sequence[str]) -> Iterator[str]:
    """What is asked for by name."""
    if "forms" in names:
        for box in (*before_flight(report.log), *on_arrival(report.log)):
            yield element("h2", box.title)
            yield from (_fields(labels) for labels in box.lines)
    for extra in extras(report, names):
        yield element("h2", extra.title)
        yield from (_paragraph(line) for line in extra.lines)
        if extra.table:
            yield element("pre", "\n".join(extra.table))


def _paragraph(text: str, name: str = "") -> str:
    """A paragraph in which parts that three spaces part stand apart."""
    parts = " &ensp;".join(_unbroken(part) for part in text.split("   "))
    return f'<p class="{name}">{parts}</p>' if name else f"<p>{parts}</p>"


def _unbroken(text: str) -> str:
    """A text in which words with a hyphen or a stroke, as figures and Morse have, and what is held stay whole."""
    return " ".join(map(_word, text.split(" ")))


def _word(word: str) -> str:
    """A word, or several that are held together."""
    shown = escaped(loosened(word))
    if len(word) < _LONGEST_WHOLE and (shown != escaped(word) or {"-", "/"} & set(word)):
        return f'<span class="n">{shown}</span>'
    return shown


def _fields(labels: Sequence[str]) -> str:
    """Boxes side by side, each under its label."""
    boxes = "".join(f"<label>{escaped(label)}<input></label>" for label in labels)
    return f'<div class="fields">{boxes}</div>'


def _radios(radios: Radios) -> str:
    """Frequencies side by side, each with room for the one assigned; the place before blanks."""
    place = f"<label>{escaped(radios.place)}</label>" if radios.place else ""
    boxes = "".join(
        f"<label>{_unbroken(f'{name} {frequency}'.rstrip())}<input></label>" for name, frequency in radios.lines
    )
    off = f'<label class="off">{escaped(radios.off)}<input></label>' if radios.off else ""
    return f'<div class="fields radios">{place}{boxes}{off}</div>'


def _row(one: Needle) -> str:
    """A row of the page: what is flown, the way from it, and what comes on it."""
    digits, after = _parted(one.set_course)
    clock, day = (one.clock[:4], one.clock[4:]) if one.clock[:1] != "+" else (one.clock, "")
    steered, beside = _parted(one.heading)
    morse = f'<code>{escaped(one.morse)}</code><input type="checkbox" aria-label="identified"> ' if one.morse else ""
    ticks = " ".join(
        f'<span class="whole">{escaped(phrase)}</span>'
        if len(phrase) <= _LONGEST_WHOLE
        else f"<span>{_unbroken(phrase)}</span>"
        for phrase in one.told
    )
    way = "".join(f"<span>{escaped(text)}</span>" for text in (one.via, one.distance, one.minutes))
    legs = f'<span class="legs">{escaped(one.legs)}</span><span>{escaped(one.left)}</span>'
    place = escaped(one.place)
    cells = {
        "place": place,
        "eta": f"<b>{escaped(clock)}</b>{escaped(day)}",
        "ata": f'<input aria-label="ATA {place}">',
        "fuel": f'<b>{escaped(one.fuel)}</b><input aria-label="fuel {place}">',
        "turn": escaped(one.turn),
        "tune": escaped(one.tune),
        "set": f"<b>{escaped(digits)}</b>{escaped(after)} <i>{escaped(one.flag)}</i>",
        "hdg": f"<b>{escaped(steered)}</b>{escaped(beside)}",
        "alt": escaped(one.altitude),
        "min": escaped(one.minimum),
        "way": f"{way}{legs}<span>{escaped(one.groundspeed)}</span>" if one.legs else "",
        "told": f"{morse}{ticks}",
    }
    shown = "".join(f'<div class="{name}">{text}</div>' for name, text in cells.items())
    radios = "" if one.radios is None else _radios(one.radios)
    return f'{radios}<div class="row{" anew" if one.morse else ""}">{shown}</div>'


def _parted(text: str) -> tuple[str, str]:
    """A flown number with what stands before it, and what stands behind it in smaller type."""
    digits = text.rstrip("M!T")
    return digits, text[len(digits) :]
