"""The back of the knee page on paper, and what is asked for behind it, in pieces never split."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.printed.back import Block
from navlog.printed.boxes import Box
from navlog.printed.needles import Needle
from navlog.printed.page import Printed
from navlog.sheets.drawing import Drawing
from navlog.sheets.extras import Extra
from navlog.sheets.pages import POINT_MM
from navlog.sheets.pdf_front import (
    FEW_LINES,
    LABEL,
    SMALL,
    TICK,
    Panel,
    row_piece,
    stacked,
    text_piece,
    ticks_without_room,
)
from navlog.sheets.pdf_paper import BOLD, MONO, SANS, Paper

_CAPTION = 10.0
"""From one line of a caption to the next, points."""
_FIELD_HEIGHT = 9.0 / POINT_MM


def back_pieces(paper: Paper, printed: Printed, blocks: Sequence[Block], lines: int) -> Iterator[Panel]:
    """The back: what has no room in the lines of the front's rows, findings, the alternates' rows, other blocks."""
    yield from _rest_pieces(paper, printed.route.needles, lines)
    yield from _block_pieces(paper, printed.findings, above=0.0)
    for way in printed.alternates:
        yield text_piece(paper, way.title, LABEL, BOLD, above=5.0)
        yield from (row_piece(paper, one) for one in way.needles)
        yield from _rest_pieces(paper, way.needles, FEW_LINES)
    for block in blocks:
        yield from _block_pieces(paper, block)


def _rest_pieces(paper: Paper, rows: Sequence[Needle], lines: int) -> Iterator[Panel]:
    """The ticks that find no room in their rows."""
    yield from (text_piece(paper, f"ON THE WAY {line}", TICK) for line in ticks_without_room(paper, rows, lines))


def _block_pieces(paper: Paper, block: Block, above: float = 4.0) -> Iterator[Panel]:
    """A block: its title with the first line, then a piece a line; small print without a title."""
    if block.fields:
        yield _fields_piece(paper, block)
        return
    if not block.title:
        yield from (text_piece(paper, line, SMALL, above=2.0) for line in block.lines)
        return
    first, *rest = block.lines
    yield _titled_piece(paper, block.title, first, above)
    yield from (text_piece(paper, line, TICK) for line in rest)
    if block.table:
        yield _table_piece(paper, block.table)


def _titled_piece(paper: Paper, title: str, text: str, above: float) -> Panel:
    """A title and its first line, behind it where that has room there."""
    indent = paper.text_width(title, LABEL, BOLD) + 6.0
    if indent + paper.text_width(text, TICK) > paper.right - paper.left:
        return stacked((text_piece(paper, title, LABEL, BOLD, above=above), text_piece(paper, text, TICK)))

    def draw(top: float) -> None:
        paper.text(paper.left, top + above + LABEL * 0.95, title, LABEL, BOLD)
        paper.text(paper.left + indent, top + above + LABEL * 0.95, text, TICK)

    return Panel(above + 1.15 * LABEL, draw)


def _fields_piece(paper: Paper, block: Block) -> Panel:
    """Labels side by side behind the title, each with room for the pen."""
    texts = (block.title, *block.fields)
    widths = [paper.text_width(text, LABEL, BOLD if text is block.title else SANS) + 4.0 for text in texts]
    box = (paper.right - paper.left - sum(widths)) / len(block.fields) - 4.0

    def draw(top: float) -> None:
        x = paper.left
        for text, width in zip(texts, widths, strict=True):
            paper.text(x, top + 15.0, text, LABEL, BOLD if text is block.title else SANS)
            x += width
            if text is not block.title:
                paper.box(x, top + 4.0, box, 14.0)
                x += box + 4.0

    return Panel(20.0, draw)


def _table_piece(paper: Paper, lines: Sequence[str]) -> Panel:
    """Lines in columns; one that is wider than the page goes on below."""
    shown = [
        part
        for line in lines
        for part in (
            [line]
            if paper.text_width(line, TICK, MONO) <= paper.right - paper.left
            else paper.wrapped(line, TICK, paper.right - paper.left, MONO)
        )
    ]

    def draw(top: float) -> None:
        for number, line in enumerate(shown, 1):
            paper.text(paper.left, top + 1.15 * TICK * number, line, TICK, MONO)

    return Panel(1.15 * TICK * len(shown), draw)


def extra_pieces(paper: Paper, extra: Extra) -> Iterator[Panel]:
    """A section that was asked for; its title stays with the first line."""
    font = MONO if extra.figures else SANS
    lines = [text_piece(paper, line, LABEL, font) for line in extra.lines]
    title = text_piece(paper, extra.title, LABEL, BOLD, above=6.0)
    yield stacked((title, *lines[:1]))
    yield from lines[1:]
    yield from (_table_piece(paper, (line,)) for line in extra.table)


def box_piece(paper: Paper, box: Box) -> Panel:
    """A box to fill in: each field has its label in the corner and room for a pen."""
    width = paper.right - paper.left
    title = text_piece(paper, box.title, LABEL, BOLD, above=5.0)

    def draw(top: float) -> None:
        title.draw(top)
        y = top + title.height + 1.0
        for labels in box.lines:
            share = width / len(labels)
            for number, label in enumerate(labels):
                left = paper.left + number * share
                paper.box(left, y, share, _FIELD_HEIGHT)
                for line, text in enumerate(paper.wrapped(label, LABEL, share - 6.0)[:2]):
                    paper.text(left + 3.0, y + 9.0 + line * 10.0, text, LABEL)
            y += _FIELD_HEIGHT

    return Panel(title.height + 2.0 + _FIELD_HEIGHT * len(box.lines), draw)


_MOST_CAPTION = 4
"""Lines under a drawing; the log itself holds all that a drawing leaves out."""


def _caption_lines(paper: Paper, drawing: Drawing) -> list[str]:
    """What stands under a drawing: its title, and of what it has no room for as much as four lines hold."""
    lines: list[str] = []
    for kept in range(len(drawing.left_out), -1, -1):
        lines = paper.wrapped(drawing.caption_of(kept), LABEL, paper.right - paper.left)
        if len(lines) <= _MOST_CAPTION:
            break
    return lines


def drawings_piece(paper: Paper, drawings: Sequence[Drawing]) -> Panel:
    """Drawings under each other with their captions."""
    captions = [_caption_lines(paper, drawing) for drawing in drawings]
    heights = [drawing.height + 6.0 + _CAPTION * len(lines) for drawing, lines in zip(drawings, captions, strict=True)]

    def draw(top: float) -> None:
        for drawing, lines, height in zip(drawings, captions, heights, strict=True):
            paper.drawing(drawing, paper.left, top)
            for number, line in enumerate(lines, 1):
                paper.text(paper.left, top + drawing.height + _CAPTION * number, line, LABEL)
            top += height

    return Panel(sum(heights), draw)
