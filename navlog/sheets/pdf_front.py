"""The front of the knee page on paper: head, clearance, rows, and what stands under them, in pieces never split."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import count

from msgspec import Struct

from navlog.printed.needles import Needle
from navlog.printed.page import Head, Printed
from navlog.printed.radios import Radios
from navlog.printed.ticks import stays_on_front
from navlog.sheets.pages import POINT_MM
from navlog.sheets.pdf_paper import BOLD, MONO, SANS, Paper

SMALL, TICK, LABEL, TUNED, CLOCK, FLOWN, NAME = 8.0, 8.5, 9.0, 10.0, 14.0, 16.0, 11.0
"""Type sizes in points: legs and labels, ticks, the way, frequency and altitudes, the clock, course and heading."""
_PEN_HEIGHT = 8.0 / POINT_MM
"""A line for the pen is 8 mm high (common practice, no source)."""
_RADIO_HEIGHT = 15.0
_FIRST, _NEXT, _UNDER = 15.0, 9.5, 2.0
"""The height of the first line of a row, of each that follows, and what the last has under it, for its descenders."""
FEW_LINES, MANY_LINES = 2, 4
"""Lines of ticks in a row, so that ten rows are a page, and where there is room for more of them.

A row has further lines only for what may not leave the front.
"""
_ON_BACK = "on the back:"
"""What a row says that has more ticks."""
_MOST_TOGETHER = 0.75
"""The last rows and what stands under them stay together up to this much of a side."""
_BOX = 29.5
_CLOCK, _ATA, _TURN, _TUNE = 43.0, 83.0, 146.0, 172.0
"""Where the clock, the pen's two boxes, the turn and the station begin, from the left in points."""
_SET, _HEADING, _MINIMUM = 136.0, 67.0, 34.0
"""Where course and heading begin, and where the ticks beside the minimum end, from the right in points."""


class Panel(Struct, frozen=True):
    """A height in points and how it is drawn below a place; a `row` stands under the heads of the columns."""

    height: float
    draw: Callable[[float], None]
    row: bool = False


FRONT_HEAD, BACK_HEAD = 36.0, 14.0
"""The heights of the head of a front, and of its first line, which every other side has."""


def draw_head(paper: Paper, head: Head, top: float, folio: str, *, front: bool) -> None:
    """The lines at the head of a side: name and page, on a front rules and aircraft, clock, wind and data."""
    left, right = paper.left, paper.right
    width, room = right - left, right - left - paper.text_width(folio, LABEL, BOLD) - 8.0
    paper.text(right - paper.text_width(folio, LABEL, BOLD), top + 9.0, folio, LABEL, BOLD)
    paper.text(left, top + 9.0, _cut(paper, f"{head.name}  {head.route}", NAME, room, BOLD), NAME, BOLD)
    if not front:
        return
    first = "   ".join((head.day, head.rules, head.level, head.data, head.aircraft))
    paper.text(left, top + 20.5, _cut(paper, first, LABEL, width, SANS), LABEL)
    second = "   ".join((f"OFF {head.off}", f"ON {head.on}", head.cruise))
    paper.text(left, top + 31.0, _cut(paper, second, LABEL, width, BOLD), LABEL, BOLD)


def _cut(paper: Paper, text: str, size: float, width: float, font: str) -> str:
    """As much of a text as a line holds, three points behind what is cut off."""
    if paper.text_width(text, size, font) <= width:
        return text
    return f"{text[: paper.letters_within(text, size, width - paper.text_width('...', size, font), font)]}..."


def front_pieces(paper: Paper, printed: Printed, lines: int, *, notes: bool) -> Iterator[Panel]:
    """The front in flying order, behind its head: its rows with ticks in up to so many lines, with or without notes."""
    for one in printed.not_as_planned:
        yield text_piece(paper, f"NOT AS PLANNED: {one}", LABEL, BOLD)
    yield _boxes(paper, (("limit", 1.0), ("route", 2.0)), _PEN_HEIGHT)
    yield _boxes(paper, (("altitude", 1.0), ("frequency", 1.0), ("squawk", 1.0)), _PEN_HEIGHT)
    yield _radio_piece(paper, printed.leaving)
    found = [row_piece(paper, one, lines) for one in printed.route.needles]
    yield from found[:-2]
    weather = ("code", "wind", "visibility", "cloud", "temp/dew", "altimeter", "runway")
    said = printed.notes if notes else ()
    last = [
        *found[-2:],
        _boxes(paper, tuple((label, 1.0) for label in weather), _PEN_HEIGHT),
        *(text_piece(paper, text, LABEL) for text in (*said, *printed.alternate_lines)),
        _totals_piece(paper, printed.totals),
    ]
    # A last front of totals alone would have to be turned to for nothing that is flown.
    whole = stacked(last)
    yield from (whole,) if whole.height <= _MOST_TOGETHER * paper.height else last


def stacked(pieces: Sequence[Panel]) -> Panel:
    """Pieces under each other as one; it stands under the heads where one of them does."""

    def draw(top: float) -> None:
        for piece in pieces:
            piece.draw(top)
            top += piece.height

    return Panel(sum(piece.height for piece in pieces), draw, any(piece.row for piece in pieces))


def text_piece(paper: Paper, text: str, size: float, font: str = SANS, *, above: float = 0.0) -> Panel:
    """A paragraph."""
    lines = paper.wrapped(text, size, paper.right - paper.left, font)

    def draw(top: float) -> None:
        for number, line in enumerate(lines):
            paper.text(paper.left, top + above + size * (0.95 + 1.15 * number), line, size, font)

    return Panel(above + 1.15 * size * len(lines), draw)


def _boxes(paper: Paper, labels: Sequence[tuple[str, float]], height: float) -> Panel:
    """Boxes side by side, each with its label in the corner."""
    shares = sum(share for _, share in labels)

    def draw(top: float) -> None:
        x = paper.left
        for label, share in labels:
            width = (paper.right - paper.left) * share / shares
            paper.box(x, top + 1.0, width, height - 1.0)
            paper.text(x + 2.0, top + 8.5, label, SMALL)
            x += width

    return Panel(height, draw)


def _radio_piece(paper: Paper, radios: Radios) -> Panel:
    """Frequencies side by side, each with room for the pen; the place before blanks."""
    lines: list[list[str]] = [[]]
    room = paper.right - paper.left
    blank = 44.0
    used = 0.0
    called = (f"{name} {frequency}".rstrip() for name, frequency in radios.lines)

    def width_of(text: str) -> float:
        return paper.text_width(text, _radio_size(radios, text), BOLD)

    for text in (radios.place, *called, *((radios.off,) if radios.off else ())):
        width = width_of(text) + 4.0 + (0.0 if text == radios.place else blank)
        if lines[-1] and used + width > room:
            lines.append([])
            used = 0.0
        lines[-1].append(text)
        used += width + 6.0

    def draw(top: float) -> None:
        for line in lines:
            x = paper.left
            for text in line:
                paper.text(x, top + 11.0, text, _radio_size(radios, text), BOLD)
                x += width_of(text) + 3.0
                if text != radios.place:
                    paper.box(x, top + 1.5, blank, _RADIO_HEIGHT - 3.0)
                    x += blank + 1.0
                x += 6.0
            top += _RADIO_HEIGHT

    return Panel(_RADIO_HEIGHT * len(lines), draw)


def _radio_size(radios: Radios, text: str) -> float:
    """The size of a label: the planned take-off is as large as what is flown."""
    return NAME if text == radios.off else LABEL


def _totals_piece(paper: Paper, lines: Sequence[str]) -> Panel:
    """The totals and the fuel, the block times beside the last line where they find room."""
    width = paper.right - paper.left
    shown = [part for line in lines for part in paper.wrapped(line, TICK, width, BOLD)]
    labels, box = ("block out", "in"), 30.0
    needed = sum(paper.text_width(label, SMALL) + box + 6.0 for label in labels)
    if paper.text_width(shown[-1], TICK, BOLD) + needed > width:
        shown.append("")

    def draw(top: float) -> None:
        for number, line in enumerate(shown):
            paper.text(paper.left, top + 9.0 + 11.0 * number, line, TICK, BOLD)
        x, y = paper.right - needed, top + 11.0 * (len(shown) - 1)
        for label in labels:
            paper.text(x + 3.0, y + 10.0, label, SMALL)
            x += paper.text_width(label, SMALL) + 5.0
            paper.box(x, y + 1.0, box, 13.0)
            x += box + 1.0

    return Panel(11.0 * len(shown) + 4.0, draw)


def heads_piece(paper: Paper, headings: str, *, whole: bool) -> Panel:
    """The heads of the columns over a rule, the whole of three lines or the first alone; how headings are given."""
    right, below = paper.right, 26.0 if whole else 10.0

    def draw(top: float) -> None:
        first, second, third = top + 7.5, top + 15.5, top + 23.5
        left = paper.left
        for x, text in (
            (left, "AT"), (left + _CLOCK, "ETA Z"), (left + _ATA + 2.0, "ATA"), (left + _ATA + _BOX + 2.0, "fuel"),
            (left + _TURN, "turn"), (left + _TUNE, "TUNE"), (right - _SET, "SET"), (right - _HEADING, "HDG"),
        ):  # fmt: skip
            paper.text(x, first, text, SMALL, BOLD)
        _right(paper, right - _HEADING - 2.0, first, headings, SMALL)
        _right(paper, right, first, "ALT", SMALL, BOLD)
        paper.line((left, top + below), (right, top + below), 0.8)
        if not whole:
            return
        for y, texts in ((second, ("via", "NM", "min")), (third, ("legs", "left", "GS"))):
            paper.text(left, y, texts[0], SMALL)
            _right(paper, left + 54.0, y, texts[1], SMALL)
            _right(paper, left + 77.0, y, texts[2], SMALL)
        paper.text(left + _TURN, third, "on the way: +minutes after the time above", SMALL)
        paper.text(left + _TUNE, second, "identified", SMALL)
        _right(paper, right, second, "minimum", SMALL)

    return Panel(below + 0.5, draw)


def _right(paper: Paper, x: float, y: float, text: str, size: float, font: str = SANS) -> None:
    """Text that ends at a place."""
    paper.text(x - paper.text_width(text, size, font), y, text, size, font)


def row_piece(paper: Paper, one: Needle, lines: int = FEW_LINES) -> Panel:
    """A row, under the frequencies that are written down before it; its ticks in up to so many lines."""
    row = _row_piece(paper, one, lines)
    return row if one.radios is None else stacked((_radio_piece(paper, one.radios), row))


def _row_piece(paper: Paper, one: Needle, most: int) -> Panel:
    """What is flown in the first line, the way and what comes on it in those below."""
    ticks = _ticks(paper, one, most)
    lines, size = ticks.lines, ticks.size
    height = _FIRST + _NEXT * max(len(lines), 2 if one.legs else 1) + _UNDER

    def draw(top: float) -> None:
        left, right = paper.left, paper.right
        base = top + 13.5
        _flown(paper, one, base)
        boxes = _FIRST + _NEXT - 2.5 if ticks.under else min(height - 4.0, _FIRST + 2.0 * _NEXT - 2.0)
        paper.box(left + _ATA, top + 1.6, _BOX, boxes)
        paper.box(left + _ATA + _BOX, top + 1.6, _BOX, boxes)
        paper.text(left + _ATA + _BOX + 2.0, top + 9.5, one.fuel, LABEL)
        second, third = top + _FIRST + 8.0, top + _FIRST + 8.0 + _NEXT
        paper.text(left, second, one.via, LABEL, BOLD)
        _right(paper, left + 54.0, second, one.distance, LABEL)
        _right(paper, left + 77.0, second, one.minutes, LABEL)
        if one.legs:
            paper.text(left, third, one.legs, SMALL)
            _right(paper, left + 54.0, third, one.left, SMALL)
            _right(paper, left + 77.0, third, one.groundspeed, SMALL)
        x = left + _TUNE
        if one.morse:
            paper.text(x, second, one.morse, size, MONO)
            paper.box(x + paper.text_width(one.morse, size, MONO) + 3.0, second - 7.0, 8.0, 8.0)
        _right(paper, right, second + 1.0, one.minimum, TUNED)
        for number, line in enumerate(lines):
            x = _second_left(paper, ticks) if number else _tick_left(paper, one, size)
            paper.text(x, second + number * _NEXT, line, size)
        paper.line((left, top + height - 0.5), (right, top + height - 0.5), 0.5)

    return Panel(height, draw, row=True)


def _flown(paper: Paper, one: Needle, base: float) -> None:
    """The first line of a row."""
    left, right = paper.left, paper.right
    size = NAME
    while size > SMALL and paper.text_width(one.place, size, BOLD) > _CLOCK - 2.0:
        size -= 0.5
    paper.text(left, base, one.place, size, BOLD)
    clock, mark, day = one.clock.partition("+") if one.clock[:1] != "+" else (one.clock, "", "")
    paper.text(left + _CLOCK, base, clock, CLOCK, BOLD)
    if mark:
        paper.text(left + _CLOCK + paper.text_width(clock, CLOCK, BOLD), base - 3.0, f"+{day}", SMALL, BOLD)
    paper.text(left + _TURN, base, one.turn, TUNED if len(one.turn) < 4 else LABEL, BOLD)
    paper.text(left + _TUNE, base, one.tune, TUNED, BOLD if one.morse else SANS)
    _figure(paper, right - _SET, base, one.set_course, one.flag)
    _figure(paper, right - _HEADING, base, one.heading, "")
    _right(paper, right, base, one.altitude, TUNED, BOLD)


def _figure(paper: Paper, x: float, base: float, text: str, flag: str) -> None:
    """A flown number large at its place, what stands around it smaller beside it."""
    digits = text.strip("~M!T")
    before, _, after = text.partition(digits) if digits else ("", "", text)
    _right(paper, x, base, before, SMALL, BOLD)
    paper.text(x, base, digits, FLOWN, BOLD)
    x += paper.text_width(digits, FLOWN, BOLD)
    paper.text(x, base, after, SMALL, BOLD)
    paper.text(x + paper.text_width(after, SMALL, BOLD) + 2.0, base, flag, TICK, BOLD)


def _tick_left(paper: Paper, one: Needle, size: float) -> float:
    """Where the first line of ticks begins: behind the Morse, or under the turn."""
    if not one.morse:
        return paper.left + _TURN
    return paper.left + _TUNE + paper.text_width(one.morse, size, MONO) + 16.0


class _Ticks(Struct, frozen=True):
    """The ticks of a row in lines, the first of them beside the Morse and the minimum, and those without room.

    With `under` the second begins under the pen's boxes, which are then lower.
    """

    lines: list[str]
    size: float
    under: bool
    rest: tuple[str, ...]


def ticks_without_room(paper: Paper, rows: Sequence[Needle], lines: int = FEW_LINES) -> Iterator[str]:
    """What of each row finds no room in its lines, behind the numbers of its legs; the row says that it goes on."""
    for one in rows:
        rest = _ticks(paper, one, lines).rest
        if rest:
            several = "," in one.legs or "-" in one.legs
            where = f"leg{'s' if several else ''} {one.legs}" if one.legs else one.place
            yield f"{where}: {'; '.join(rest)}"


def _ticks(paper: Paper, one: Needle, most: int = FEW_LINES) -> _Ticks:
    """The ticks in two lines, with a longer second one, in smaller type and up to `most` lines, then the first of them.

    There are more lines for those that must stay.
    """
    for under in (False, True):
        way = _Ticks([], TICK, under, ())
        for told in (one.told, _first_that_fits(paper, one, one.told, TICK)):
            lines = _tick_lines(paper, one, told, way, 3)
            if len(lines) <= FEW_LINES:
                return _Ticks(lines, TICK, under, ())
    # Of the others the first stay longest; what must stand in the row has a third line before it leaves.
    leaving = [index for index in reversed(range(len(one.told))) if not _is_needed(one, index)]
    return next(found for lines in count(most) if (found := _with_back(paper, one, leaving, lines)))


def _with_back(paper: Paper, one: Needle, leaving: Sequence[int], most: int) -> _Ticks | None:
    """The ticks in so many lines of small type, with as few on the back as that allows; None where it does not."""
    for number in range(len(leaving) + 1):
        gone = set(leaving[:number])
        kept = [phrase for index, phrase in enumerate(one.told) if index not in gone]
        told = (*_first_that_fits(paper, one, kept, SMALL), *((f"{_ON_BACK} {number}",) if number else ()))
        lines = _tick_lines(paper, one, told, _Ticks([], SMALL, True, ()), 2)
        if len(lines) <= most:
            return _Ticks(lines, SMALL, True, tuple(one.told[index] for index in sorted(gone)))
    return None


def _is_needed(one: Needle, index: int) -> bool:
    """Whether a tick stays on the front: how the row's place is told, an altitude to cross at, another minimum."""
    return index < len(one.landed) + len(one.at) or stays_on_front(one.told[index])


def _first_that_fits(paper: Paper, one: Needle, told: Sequence[str], size: float) -> tuple[str, ...]:
    """The ticks with one at their head that has room in the first line, which else stays empty."""
    room = _first_room(paper, one, size)
    fits = (index for index, phrase in enumerate(told) if paper.text_width(phrase, size) <= room)
    first = next(fits, 0)
    return (*told[first : first + 1], *told[:first], *told[first + 1 :])


def _tick_lines(paper: Paper, one: Needle, told: Sequence[str], way: _Ticks, gap: int) -> list[str]:
    """Phrases in lines: the first beside the Morse and the minimum, those below as wide as the row."""
    wide = paper.right - _second_left(paper, way)
    lines, room = [""], _first_room(paper, one, way.size)
    for phrase in told:
        joined = f"{lines[-1]}{' ' * gap}{phrase}" if lines[-1] else phrase
        if paper.text_width(joined, way.size) <= room:
            lines[-1] = joined
            continue
        lines.extend(paper.wrapped(phrase, way.size, wide))
        room = wide
    return lines


def _first_room(paper: Paper, one: Needle, size: float) -> float:
    """The room of the first line of ticks."""
    return paper.right - (_MINIMUM if one.minimum else 0.0) - _tick_left(paper, one, size)


def _second_left(paper: Paper, ticks: _Ticks) -> float:
    """Where the second line of ticks begins."""
    return paper.left + (_ATA if ticks.under else _TURN)
