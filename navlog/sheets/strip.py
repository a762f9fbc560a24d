"""The knee page as text in type of one width: a row a needle change, three lines a row.

The first line of a row is what is flown, the second the station and the way, the third fuel and what comes on the
way. Brackets are for the pen. Pages break between rows, never inside one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from navlog.nav.layout import packed, plain, wrapped
from navlog.printed.back import Block, Room, laid_out
from navlog.printed.boxes import before_flight, on_arrival
from navlog.printed.needles import Needle
from navlog.printed.page import Printed
from navlog.printed.radios import Radios
from navlog.rules.report import Report
from navlog.sheets.extras import extras
from navlog.sheets.pages import Page

_PAGE_BREAK = "\f"
_COLUMN_HEADS = (
    "AT      ETA [ATA ] turn SET  {by:>4} HDG    ALT   min",
    "  TUNE, ident []               via     NM  min   GS",
    "  fuel[    ]   left  legs: ticks on the way",
)
_AT, _TUNE, _FUEL = 11, 31, 22
"""The characters of place and clock, of station and Morse, of fuel and distance left."""


class _Lines(Struct, frozen=True):
    """Lines that stay together on a page; `row` stands under the heads of the columns, `new` begins a page."""

    lines: list[str]
    row: bool = False
    new: bool = False


def document(reports: Sequence[Report], page: Page, names: Sequence[str] = ()) -> str:
    """The strips of several flights, each on pages of its own; ASCII throughout."""
    return _PAGE_BREAK.join(strip(report, page, names) for report in reports)


def strip(report: Report, page: Page, names: Sequence[str] = ()) -> str:
    """The strip of one flight in pages, each under the flight's name and page number."""
    printed = Printed.of(report)

    def laid(blocks: Sequence[Block]) -> list[list[str]]:
        return list(_paginated(_blocks(report, printed, blocks, page, names), page, _column_heads(printed)))

    sheets = laid(laid_out(printed.back, (), lambda blocks: Room(len(laid(blocks)), drawings=False)))
    texts = []
    for number, lines in enumerate(sheets, 1):
        right = f"{printed.head.day}  page {number}/{len(sheets)}"
        room = page.columns - len(right) - 2
        texts.append("\n".join([f"{plain(printed.head.name)[:room]:<{room}}  {right}", *lines]) + "\n")
    return _PAGE_BREAK.join(texts)


def _paginated(found: Iterable[_Lines], page: Page, column_heads: Sequence[str]) -> Iterator[list[str]]:
    """Blocks onto pages under a title line; a block longer than a page is broken."""
    room = page.lines - 1
    lines: list[str] = []
    headed = False
    for block in found:
        heads = column_heads if block.row and not headed else []
        if lines and (block.new or len(lines) + len(heads) + len(block.lines) > room):
            yield lines
            lines, heads = [], column_heads if block.row else []
        headed = block.row
        for line in (*heads, *block.lines):
            if len(lines) == room:
                yield lines
                lines = []
            lines.append(line)
    yield lines


def _column_heads(printed: Printed) -> list[str]:
    """The heads of the columns over a rule."""
    first, *rest = _COLUMN_HEADS
    return [first.format(by={"compass": "comp", "magnetic": "mag"}[printed.headings]), *rest, "-" * 51]


def _blocks(
    report: Report, printed: Printed, back: Sequence[Block], page: Page, names: Sequence[str]
) -> Iterator[_Lines]:
    """Everything on the strip: the front, the back, what is asked for behind them."""
    width = page.columns
    yield _Lines(list(_head(printed, width)))
    found = [_row(one, width) for one in printed.route.needles]
    yield from found[:-2]
    # A last page of totals alone would have to be turned to for nothing that is flown.
    last = [line for row in found[-2:] for line in row.lines]
    yield _Lines([*last, *_foot(printed, width)], row=True)
    yield _Lines([], new=True)
    yield _block(printed.findings, width)
    for way in printed.alternates:
        yield _Lines(["", *_wrapped(way.title, width)])
        yield from (_row(one, width) for one in way.needles)
    yield from (_block(one, width) for one in back if one.title)
    small = [line for one in back if not one.title for text in one.lines for line in _wrapped(text, width)]
    yield _Lines(["", *small])
    if "forms" in names:
        yield _Lines([], new=True)
        for box in (*before_flight(report.log), *on_arrival(report.log)):
            yield _Lines(["", *_wrapped(box.title, width), *(_fields(labels, width) for labels in box.lines)])
    for extra in extras(report, names):
        lines = [line for one in extra.lines for line in _told(one, width)]
        table = [line for one in extra.table for line in _in_columns(one, width)]
        yield _Lines(["", *_wrapped(extra.title, width), *lines, *table])


def _head(printed: Printed, width: int) -> Iterator[str]:
    """The head, errors, the clearance to write down and the radio before take-off."""
    head = printed.head
    yield from _wrapped(head.route, width)
    yield from packed(
        [plain(one) for one in (f"{head.rules} {head.level}", head.aircraft, head.cruise, head.data)], width
    )
    for one in printed.not_as_planned:
        yield from _wrapped(f"NOT AS PLANNED: {one}", width)
    yield from ("", _fields(("limit", "route"), width), "", _fields(("alt", "freq", "squawk"), width))
    yield from _radios(printed.leaving, width)
    yield from packed([f"OFF {head.off}", f"ON {head.on}"], width)


def _foot(printed: Printed, width: int) -> Iterator[str]:
    """What stands under the rows: weather of the destination, alternates, totals and fuel."""
    yield from ("", _fields(("ATIS", "wind", "vis"), width), _fields(("cloud", "altimeter", "rwy"), width))
    for text in (*printed.notes, *printed.alternate_lines):
        yield from _wrapped(text, width)
    for line in printed.totals:
        yield from packed([plain(part) for part in line.split("   ")], width)
    yield _fields(("block out", "block in"), width)


def _radios(radios: Radios, width: int) -> Iterator[str]:
    """Frequencies side by side, each with room for the one assigned instead."""
    shown = [f"{plain(name)} {frequency}[       ]".replace(" [", "[") for name, frequency in radios.lines]
    off = [f"{radios.off}[       ]"] if radios.off else []
    yield from packed([plain(radios.place), *shown, *off], width, gap=1)


def _row(one: Needle, width: int) -> _Lines:
    """A row: what is flown, the station and the way, fuel and what comes on the way."""
    above = () if one.radios is None else _radios(one.radios, width)
    # Before the course and heading of the way on: first comes the landing.
    landed = [line for text in one.landed for line in _told(text, width)]
    return _Lines([*above, *landed, *(plain(line) for line in _row_lines(one, width))], row=True)


def _row_lines(one: Needle, width: int) -> Iterator[str]:
    place = one.place
    if len(place) + len(one.clock) >= _AT:
        yield from wrapped(place, width)
        place = ""
    setting = f"{one.set_course} {one.flag}".rstrip()
    clock = f"{one.clock:>{_AT - len(place)}}"
    flown = f"{one.turn:<5}{setting:<9}{one.heading:>5}{one.altitude:>7}{one.minimum:>6}"
    yield f"{place}{clock} [    ] {flown}".rstrip()
    way = f"{one.via:<5}{one.distance:>5}{one.minutes:>5}{one.groundspeed:>5}"
    tune = " ".join(filter(None, (one.tune, one.morse, "[]" if one.morse else "")))
    if tune and len(tune) + 2 < _TUNE:
        yield f"{'  ' + tune:<{_TUNE}}{way}".rstrip()
    elif tune:
        yield from wrapped(f"  {tune}", width, "  ")
        yield f"{'':<{_TUNE}}{way}".rstrip()
    fuel = f"  {one.fuel}[    ]"
    legs = f"{one.legs}: " if one.legs else ""
    told = (*one.at, *one.ticks)
    yield from _ticks(f"{fuel}{one.left:>{max(7, _FUEL - 3 - len(fuel))}} {legs}", told, width)


def _ticks(begun: str, told: Sequence[str], width: int) -> Iterator[str]:
    """The ticks behind what begins the line; those that find no room there stand on lines of their own."""
    phrases = [plain(one) for one in told]
    room = width - len(begun)
    line = ""
    while phrases and len(line) + len(phrases[0]) + (2 if line else 0) <= room:
        line += ("  " if line else "") + phrases.pop(0)
    yield f"{begun}{line}".rstrip().removesuffix(":")
    for more in packed(phrases, width - 4):
        yield f"    {more}"


def _block(block: Block, width: int) -> _Lines:
    """A titled block of the back."""
    lines = [line for one in block.lines for line in _told(one, width)]
    fields = ["", _fields(block.fields, width)] if block.fields else []
    table = [line for one in block.table for line in _in_columns(one, width)]
    return _Lines(["", *_wrapped(block.title, width), *lines, *table, *fields])


def _in_columns(line: str, width: int) -> list[str]:
    """A line in columns as it is; one that is wider than the page goes on below."""
    shown = plain(line)
    return [shown] if len(shown) <= width else wrapped(shown, width, "    ")


def _told(text: str, width: int) -> list[str]:
    return [plain(line) for line in wrapped(text, width, "    ", first="  ")]


def _wrapped(text: str, width: int) -> list[str]:
    return [plain(line) for line in wrapped(text, width, "  ")]


def _fields(labels: Sequence[str], width: int) -> str:
    """Labels side by side, each with room for the pen; a long one leaves little."""
    share = (width - (len(labels) - 1)) // len(labels)
    return " ".join(f"{plain(label)[: share - 6]} [{' ' * max(3, share - len(label) - 3)}]" for label in labels)
