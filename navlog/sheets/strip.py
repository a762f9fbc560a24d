"""The cockpit strip: what is flown, in flying order, narrow enough for 12 point type on a knee board.

The left part is planned, the three columns on the right are for the pen. Pages break between places, never
inside one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from navlog.nav.layout import packed, plain, wrapped
from navlog.printed.boxes import Box, in_order
from navlog.printed.closing import sections
from navlog.printed.events import Event
from navlog.printed.findings import findings_summary
from navlog.printed.head import route_text
from navlog.printed.meant import meant
from navlog.rules.report import Report
from navlog.sheets.pages import Page

_PAGE_BREAK = "\f"
_PEN = ("ATA", "GS", "FUEL")
_NARROWEST_PEN = 5
"""Characters of 2.54 mm: room for four figures written in turbulence."""
_WIDEST_PEN = 10
_INDENT = "  "


class _Block(Struct, frozen=True):
    """Lines that stay together on a page; those of a place stand under the heads of the columns."""

    lines: list[str]
    place: bool = False


def document(reports: Sequence[Report], page: Page) -> str:
    """The strips of several flights, each on pages of its own; ASCII throughout."""
    return _PAGE_BREAK.join(strip(report, page) for report in reports)


def strip(report: Report, page: Page) -> str:
    """The strip of one flight in pages, each under the flight's name, day and page number."""
    request = report.log.route.request
    sheets = list(_paginated(_blocks(report, page), page))
    texts = []
    for number, lines in enumerate(sheets, 1):
        right = f"{request.day:%Y-%m-%d}  page {number}/{len(sheets)}"
        room = page.columns - len(right) - 2
        texts.append("\n".join([f"{plain(request.name)[:room]:<{room}}  {right}", *lines]) + "\n")
    return _PAGE_BREAK.join(texts)


def _paginated(found: Iterable[_Block], page: Page) -> Iterator[list[str]]:
    """Blocks onto pages under a title line; a block longer than a page is broken."""
    room = page.lines - 1
    lines: list[str] = []
    headed = False
    for block in found:
        heads = _column_heads(page) if block.place and not headed else []
        if lines and len(lines) + len(heads) + len(block.lines) > room:
            yield lines
            lines, heads = [], _column_heads(page) if block.place else []
        headed = block.place
        for line in (*heads, *block.lines):
            if len(lines) == room:
                yield lines
                lines = []
            lines.append(line)
    yield lines


def _blocks(report: Report, page: Page) -> Iterator[_Block]:
    """Everything on the strip, in flying order."""
    log, width = report.log, page.columns
    yield _Block([*wrapped(plain(route_text(log)), width, "  "), f"FINDINGS: {findings_summary(report.findings)}"])
    for one in in_order(log, meant(report)):
        yield _box_block(one, width) if isinstance(one, Box) else _event_block(one, page)
    for section in sections(report):
        texts = [line for text in section.lines for line in wrapped(plain(text), width, "  ")]
        yield _Block(["", plain(section.title)[:width], *texts])


def _pen_width(page: Page) -> int:
    """The width of a pen column: what the page leaves beside the planned part, up to an inch."""
    return min(_NARROWEST_PEN + max(0, page.columns - 51) // 3, _WIDEST_PEN)


def _planned_width(page: Page) -> int:
    """The width of the planned part."""
    return page.columns - len(_PEN) * (_pen_width(page) + 1)


def _column_heads(page: Page) -> list[str]:
    """The heads of the flown numbers and of the pen columns."""
    return [_with_pen(_flown_line("", "SET", "HDG", "TIME"), page, _PEN)]


def _event_block(one: Event, page: Page) -> _Block:
    """One place: what to do at the margin - where, tune, set - and what to know indented under it."""
    width = _planned_width(page)
    lines = packed([one.place, *filter(None, (one.clock, one.local, one.turn))], width)
    lines += _indented(one.marks, width)
    if one.tune or one.station:
        lines += packed([f"tune {one.tune}" if one.tune else one.station], width)
    if one.inbound:
        lines.append(_flown_line("IN", one.inbound, "", ""))
    if one.flown is not None:
        tag = "OUT" if one.inbound else "SET"
        # Nothing stands under the flown numbers, so that the eye finds them.
        lines += [_flown_line(tag, one.flown.set_course, one.flown.heading, one.flown.time), ""]
    for phrases in (one.height, one.way, one.fuel):
        lines += _indented(phrases, width)
    for note in one.notes:
        lines += _indented([note], width)
    rule = "-" * width + ("+" + "-" * _pen_width(page)) * len(_PEN)
    return _Block([rule, *(_with_pen(plain(line), page) for line in lines)], place=True)


def _indented(phrases: Iterable[str], width: int) -> list[str]:
    """Phrases packed into lines that stand in from the margin."""
    return [_INDENT + line for line in packed(phrases, width - len(_INDENT))]


def _flown_line(tag: str, set_course: str, heading: str, time: str) -> str:
    """The flown numbers, each always in the same place."""
    return f"{tag:<4}{set_course:<11}{heading:>5}{time:>9}"


def _with_pen(line: str, page: Page, texts: Sequence[str] = ("", "", "")) -> str:
    """A line of the planned part with the pen columns beside it."""
    pen = _pen_width(page)
    return f"{line:<{_planned_width(page)}}" + "".join(f"|{text:<{pen}}" for text in texts)


def _box_block(box: Box, width: int) -> _Block:
    """A box to fill in, two lines of type high so that a pen has room; a long label stands above its own room."""
    lines = ["", *wrapped(plain(box.title), width)]
    for labels in box.lines:
        share = (width - (len(labels) - 1)) // len(labels)
        shown = [plain(label) for label in labels]
        if len(shown) == 1 and len(shown[0]) > width // 2:
            lines += ["", *wrapped(shown[0], width), f"[{' ' * (width - 2)}]"]
        else:
            lines += ["", " ".join(f"{label} [{' ' * (share - len(label) - 3)}]" for label in shown)]
    return _Block(lines)
