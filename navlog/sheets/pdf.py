"""The knee page as PDF: a front and a back a flight, on paper of the size chosen.

Letter and A4 lie on their side and hold two. The same flight gives the same bytes. Letters that the built-in fonts
lack become `?`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import PurePath

from msgspec import Struct

from navlog.printed.back import BackPart, Block, Room, laid_out
from navlog.printed.boxes import before_flight, on_arrival
from navlog.printed.page import Printed
from navlog.rules.report import Report
from navlog.sheets.drawing import Drawing
from navlog.sheets.extras import extras
from navlog.sheets.pages import CLIP_MARGIN_MM, FOOT_MARGIN_MM, POINT_MM, Page
from navlog.sheets.pdf_back import back_pieces, box_piece, drawings_piece, extra_pieces
from navlog.sheets.pdf_front import (
    BACK_HEAD,
    FEW_LINES,
    FRONT_HEAD,
    MANY_LINES,
    Panel,
    draw_head,
    front_pieces,
    heads_piece,
)
from navlog.sheets.pdf_paper import Paper
from navlog.sheets.plan_drawing import plan_drawing
from navlog.sheets.profile_drawing import profile_drawing
from navlog.version import VERSION

_TOP = CLIP_MARGIN_MM / POINT_MM
_FOOT = FOOT_MARGIN_MM / POINT_MM
_LEAST_DRAWN = 0.5
"""Drawings stand on the back where this much of a side is left."""


class _Side(Struct, frozen=True):
    """Pieces with their tops; a front has the whole head."""

    placed: list[tuple[float, Panel]]
    front: bool = False


def document(reports: Sequence[Report], page: Page, names: Sequence[str] = ()) -> bytes:
    """The pages of several flights, each from a new page on.

    Raises `no-reportlab` where the package is not installed.
    """
    paper = Paper(page)
    for number, report in enumerate(reports):
        printed = Printed.of(report)
        sides = list(_sides(paper, report, printed, names))
        if number:
            paper.next_page()
        paper.bookmark(f"flight{number}", f"{printed.head.name}  {printed.head.day}")
        for folio, side in enumerate(sides, 1):
            if folio > 1:
                paper.next_side()
            draw_head(paper, printed.head, _TOP, f"page {folio}/{len(sides)}", front=side.front)
            for top, piece in side.placed:
                piece.draw(top)
    requests = [report.log.route.request for report in reports]
    files = dict.fromkeys(PurePath(request.file).name for request in requests)
    title = "VOR navigation log: " + ", ".join(request.name for request in requests)
    return paper.finish(title, f"navlog {VERSION} from {', '.join(files)}")


def _sides(paper: Paper, report: Report, printed: Printed, names: Sequence[str]) -> Iterator[_Side]:
    """The sides of a flight: front, back, and what is asked for behind them."""
    front = _front(paper, printed)
    back = _back(paper, report, printed, front, names)
    room = _left(paper, back[-1])
    odd = (len(front.sides) + len(back)) % 2 == 1
    on_back = not odd and room >= _LEAST_DRAWN * _whole(paper)
    if on_back and (drawings := _drawings(paper, report, room)):
        back[-1].placed.append((paper.height - _FOOT - room, drawings_piece(paper, drawings)))
    yield from front.sides
    yield from back
    if not on_back and (odd or "drawings" in names) and (drawings := _drawings(paper, report, _whole(paper))):
        yield _Side([(_TOP + BACK_HEAD, drawings_piece(paper, drawings))])
    if "forms" in names:
        boxes = (box_piece(paper, one) for one in (*before_flight(report.log), *on_arrival(report.log)))
        yield from _paginated(paper, boxes)
    asked = [piece for extra in extras(report, names) for piece in extra_pieces(paper, extra)]
    if asked:
        yield from _paginated(paper, asked)


class _Front(Struct, frozen=True):
    """The sides of a front, with ticks in up to so many lines of a row, with or without the pilot's notes."""

    sides: list[_Side]
    lines: int
    notes: bool


def _front(paper: Paper, printed: Printed) -> _Front:
    """The front that tells most on the fewest sides: all ticks and notes are wanted in flight, but no further side."""

    def laid(lines: int, *, notes: bool) -> _Front:
        pieces = front_pieces(paper, printed, lines, notes=notes)
        return _Front(list(_paginated(paper, pieces, printed.headings, front=True)), lines, notes)

    least = laid(FEW_LINES, notes=False)
    fuller = (laid(lines, notes=notes) for lines in (MANY_LINES, FEW_LINES) for notes in (True, False))
    return next(one for one in fuller if len(one.sides) == len(least.sides))


def _back(paper: Paper, report: Report, printed: Printed, front: _Front, names: Sequence[str]) -> list[_Side]:
    """The back with as much as has room on the sides that it takes at least; drawings may have the odd side."""
    notes = report.log.route.request.notes
    untold = (BackPart((Block("NOTES", notes),)),) if notes and not front.notes else ()

    def laid(blocks: Sequence[Block]) -> list[_Side]:
        return list(_paginated(paper, back_pieces(paper, printed, blocks, front.lines), printed.headings))

    def room(blocks: Sequence[Block]) -> Room:
        sides = laid(blocks)
        odd = (len(front.sides) + len(sides)) % 2 == 1
        return Room(len(sides), odd or _left(paper, sides[-1]) >= _LEAST_DRAWN * _whole(paper))

    return laid(laid_out((*untold, *printed.back), () if "drawings" in names else ("drawings",), room))


def _whole(paper: Paper) -> float:
    """The height in points of a side under its head."""
    return paper.height - _FOOT - _TOP - BACK_HEAD


def _left(paper: Paper, side: _Side) -> float:
    """How much of it a side leaves."""
    return _whole(paper) - sum(piece.height for _, piece in side.placed)


def _drawings(paper: Paper, report: Report, height: float) -> list[Drawing]:
    """Plan and profile, sharing a height in points with their captions."""
    width, drawn = paper.right - paper.left, height
    # What has no room, and so the lines of a caption, hang on the height; a smaller one asks for more at the most.
    for _ in range(4):
        pair = (
            plan_drawing(report.log, width, drawn * 0.6, report.surroundings),
            profile_drawing(report, width, drawn * 0.4),
        )
        found = [one for one in pair if one is not None]
        needed = drawings_piece(paper, found).height
        if needed <= height:
            return found
        drawn -= needed - height
    return []


def _paginated(paper: Paper, found: Iterable[Panel], headings: str = "", *, front: bool = False) -> Iterator[_Side]:
    """Pieces with their tops, side by side; rows stand under heads, on a back under the first line of them."""
    heads = heads_piece(paper, headings, whole=front)
    top, bottom = _TOP + (FRONT_HEAD if front else BACK_HEAD), paper.height - _FOOT
    placed: list[tuple[float, Panel]] = []
    y, headed = top, False
    for piece in found:
        needed = piece.height + (heads.height if piece.row and not headed else 0.0)
        if placed and y + needed > bottom:
            yield _Side(placed, front)
            placed, y, headed = [], top, False
        if piece.row and not headed:
            placed.append((y, heads))
            y += heads.height
        headed = piece.row
        placed.append((y, piece))
        y += piece.height
    yield _Side(placed, front)
