"""What stands on a PDF sheet, in pieces that are never split: places, boxes, paragraphs, drawings."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from msgspec import Struct

from navlog.printed.boxes import Box
from navlog.printed.closing import ClosingBlock
from navlog.printed.events import Event
from navlog.sheets.drawing import Drawing
from navlog.sheets.pages import POINT_MM
from navlog.sheets.pdf_paper import BOLD, MONO, SANS, Paper

LABEL, TUNED, CLOCK, NAME, FLAG, TOTAL, FLOWN = 9.0, 10.5, 11.0, 13.0, 12.0, 14.0, 17.0
"""Type sizes in points; labels are the smallest, the flown numbers the largest."""
_LEADING = 1.25
_FIELD_HEIGHT = 9.0 / POINT_MM
_PEN = ("ATA", "GS", "FUEL")
TAG, SET, HEADING, PEN_SHARE = 0.09, 0.28, 0.12, 0.13
"""Shares of the width: tag, set course, heading (as wide as the time), each pen column."""
_PLANNED = 1.0 - len(_PEN) * PEN_SHARE


class Block(Struct, frozen=True):
    """A height in points and how it is drawn below a place; `place` stands under the heads of the columns."""

    height: float
    draw: Callable[[float], None]
    place: bool = False


class _Run(Struct, frozen=True):
    """Text of one type, from a distance in points inside the left edge on."""

    x: float
    text: str
    size: float = LABEL
    font: str = SANS


_Row = tuple[_Run, ...]
"""Runs on one baseline."""


def _row_height(row: _Row) -> float:
    """The height of a line: that of its largest type with leading."""
    return _LEADING * max((run.size for run in row), default=LABEL)


def _write(paper: Paper, rows: Sequence[_Row], top: float) -> None:
    """Lines under each other."""
    for row in rows:
        height = _row_height(row)
        for run in row:
            paper.text(paper.left + run.x, top + 0.78 * height, run.text, run.size, run.font)
        top += height


def _text_piece(paper: Paper, rows: Sequence[_Row], *, above: float = 0.0) -> Block:
    """Lines that stay together, with room above."""
    return Block(above + sum(map(_row_height, rows)), lambda top: _write(paper, rows, top + above))


def head_pieces(paper: Paper, name: str, route: str, findings: str) -> Iterator[Block]:
    """The head of a flight's first page."""
    width = paper.right - paper.left
    rows: list[_Row] = [(_Run(0.0, line, NAME, BOLD),) for line in paper.wrapped(name, NAME, width, BOLD)]
    for text in (route, findings):
        rows += [(_Run(0.0, line, 10.0, BOLD),) for line in paper.wrapped(text, 10.0, width, BOLD)]
    yield _text_piece(paper, rows)


def section_pieces(paper: Paper, section: ClosingBlock) -> Iterator[Block]:
    """A section's paragraphs; its title stays with the first."""
    width = paper.right - paper.left
    font = MONO if section.title == "STATIONS" else SANS
    title: list[_Row] = [(_Run(0.0, line, LABEL, BOLD),) for line in paper.wrapped(section.title, LABEL, width, BOLD)]
    for number, text in enumerate(section.lines):
        rows: list[_Row] = [(_Run(0.0, line, LABEL, font),) for line in paper.wrapped(text, LABEL, width, font)]
        yield _text_piece(paper, rows if number else [*title, *rows], above=0.0 if number else 6.0)


def total_piece(paper: Paper, text: str) -> Block:
    """The totals, once and large."""
    lines = paper.wrapped(f"TOTAL {text}", TOTAL, paper.right - paper.left, BOLD)
    return _text_piece(paper, [(_Run(0.0, line, TOTAL, BOLD),) for line in lines], above=8.0)


def box_piece(paper: Paper, box: Box) -> Block:
    """A box to fill in: each field has its label in the corner and room for a pen."""
    width = paper.right - paper.left
    title: list[_Row] = [(_Run(0.0, line, LABEL, BOLD),) for line in paper.wrapped(box.title, LABEL, width, BOLD)]
    above = 6.0 + sum(map(_row_height, title))

    def draw(top: float) -> None:
        _write(paper, title, top + 6.0)
        y = top + above + 2.0
        for labels in box.lines:
            share = width / len(labels)
            for number, label in enumerate(labels):
                left = paper.left + number * share
                corners = ((left, y), (left + share, y), (left + share, y + _FIELD_HEIGHT), (left, y + _FIELD_HEIGHT))
                for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
                    paper.line(start, end, 0.4)
                shown = paper.wrapped(label, LABEL, share - 6.0)[:2]
                _write(paper, [(_Run(number * share + 3.0, line),) for line in shown], y + 1.0)
            y += _FIELD_HEIGHT

    return Block(above + 2.0 + _FIELD_HEIGHT * len(box.lines), draw)


def heads_piece(paper: Paper) -> Block:
    """The heads of the columns."""
    width = paper.right - paper.left
    starts = (TAG, TAG + SET, TAG + SET + HEADING, *(_PLANNED + PEN_SHARE * (n + 0.3) for n in range(len(_PEN))))
    runs = [_Run(width * x, text) for x, text in zip(starts, ("SET", "HDG", "TIME", *_PEN), strict=True)]

    def draw(top: float) -> None:
        _write(paper, [tuple(runs)], top + 4.0)
        paper.line((paper.left, top + 16.0), (paper.right, top + 16.0), 0.8)

    return Block(16.0, draw)


def place_piece(paper: Paper, event: Event) -> Block:
    """One place, never split: where, tune, IN and OUT, and what to know below; the pen's cells beside it."""
    rows = list(_place_rows(paper, event))
    height = 8.0 + sum(map(_row_height, rows))
    width = paper.right - paper.left

    def draw(top: float) -> None:
        _write(paper, rows, top + 3.0)
        for number in range(len(_PEN)):
            x = paper.left + width * (_PLANNED + PEN_SHARE * number)
            paper.line((x, top), (x, top + height), 0.4)
        paper.line((paper.left, top + height), (paper.right, top + height), 0.8)

    return Block(height, draw, place=True)


def _place_rows(paper: Paper, event: Event) -> Iterator[_Row]:
    """The lines of a place."""
    width = paper.right - paper.left
    room, indent = width * _PLANNED - 4.0, width * TAG
    first, *more = paper.wrapped(event.place, NAME, room, BOLD)
    x = paper.text_width(first, NAME, BOLD) + 7.0
    told = _packed(paper, (event.clock, event.local, event.turn, event.name), CLOCK, room, first=x)
    yield (_Run(0.0, first, NAME, BOLD), *(_Run(x, text, CLOCK) for text in told[:1] if text))
    yield from ((_Run(0.0, line, NAME, BOLD),) for line in more)
    yield from ((_Run(0.0, text, CLOCK),) for text in told[1:])
    for text in _packed(paper, event.marks, LABEL, room - indent, font=MONO):
        yield (_Run(indent, text, LABEL, MONO),)
    tuned = f"tune {event.tune}" if event.tune else event.station
    yield from ((_Run(0.0, text, TUNED, MONO),) for text in paper.wrapped(tuned, TUNED, room, MONO))
    if event.inbound:
        yield (_Run(0.0, "IN"), *_course_runs(paper, indent, event.inbound, TOTAL))
    if event.flown is not None:
        yield (
            _Run(0.0, "OUT" if event.inbound else "SET"),
            *_course_runs(paper, indent, event.flown.set_course, FLOWN),
            _Run(width * (TAG + SET), event.flown.heading, FLOWN, BOLD),
            _Run(width * (TAG + SET + HEADING), event.flown.time, FLOWN, BOLD),
        )
    for phrases in (event.height, event.way, event.fuel, *((note,) for note in event.notes)):
        yield from ((_Run(indent, text),) for text in _packed(paper, phrases, LABEL, room - indent))


def _course_runs(paper: Paper, x: float, text: str, size: float) -> Iterator[_Run]:
    """A set course with its flag in smaller type."""
    number, _, flag = text.partition(" ")
    if not number[:1].isdigit():
        yield _Run(x, text, FLAG, BOLD)
        return
    yield _Run(x, number, size, BOLD)
    yield _Run(x + paper.text_width(number, size, BOLD) + 4.0, flag, FLAG, BOLD)


def _packed(
    paper: Paper, phrases: Iterable[str], size: float, width: float, *, font: str = SANS, first: float = 0.0
) -> list[str]:
    """Phrases on as few lines as they need; the first line begins `first` points in and may stay empty."""
    lines = [""]
    for phrase in filter(None, phrases):
        joined = f"{lines[-1]}   {phrase}" if lines[-1] else phrase
        if paper.text_width(joined, size, font) <= width - (first if len(lines) == 1 else 0.0):
            lines[-1] = joined
        else:
            lines.extend(paper.wrapped(phrase, size, width, font))
    return lines if first else [line for line in lines if line]


def drawings_piece(paper: Paper, drawings: Sequence[Drawing]) -> Block:
    """Drawings under each other with their titles."""
    heights = [drawing.height + 16.0 for drawing in drawings]

    def draw(top: float) -> None:
        for drawing, height in zip(drawings, heights, strict=True):
            paper.drawing(drawing, paper.left, top)
            paper.text(paper.left, top + drawing.height + 10.0, drawing.title, LABEL)
            top += height

    return Block(sum(heights), draw)
