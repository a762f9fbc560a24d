"""The knee page as PDF: a front and a back a flight, on paper of the size chosen.

Letter and A4 lie on their side and hold two. The same flight gives the same bytes. Letters that the built-in fonts
lack become `?`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from navlog.printed.boxes import before_flight, on_arrival
from navlog.printed.page import Printed
from navlog.rules.report import Report
from navlog.sheets.drawing import Drawing
from navlog.sheets.extras import extras
from navlog.sheets.pages import CLIP_MARGIN_MM, FOOT_MARGIN_MM, POINT_MM, Page
from navlog.sheets.pdf_back import back_pieces, box_piece, drawings_piece, extra_pieces
from navlog.sheets.pdf_front import BACK_HEAD, FRONT_HEAD, Panel, draw_head, front_pieces, heads_piece
from navlog.sheets.pdf_paper import Paper
from navlog.sheets.plan_drawing import plan_drawing
from navlog.sheets.profile_drawing import profile_drawing

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
        for folio, side in enumerate(sides, 1):
            if folio > 1:
                paper.next_side()
            draw_head(paper, printed.head, _TOP, f"page {folio}/{len(sides)}", front=side.front)
            for top, piece in side.placed:
                piece.draw(top)
    return paper.finish("VOR navigation log: " + ", ".join(report.log.route.request.name for report in reports))


def _sides(paper: Paper, report: Report, printed: Printed, names: Sequence[str]) -> Iterator[_Side]:
    """The sides of a flight: front, back, and what is asked for behind them."""
    front = list(_paginated(paper, front_pieces(paper, printed), front=True))
    whole = paper.height - _FOOT - _TOP - BACK_HEAD
    back, room = _back(paper, printed, whole)
    odd = (len(front) + len(back)) % 2 == 1
    on_back = not odd and room >= _LEAST_DRAWN * whole
    if on_back and (drawings := _drawings(paper, report, room)):
        back[-1].placed.append((paper.height - _FOOT - room, drawings_piece(paper, drawings)))
    yield from front
    yield from back
    if not on_back and (odd or "drawings" in names) and (drawings := _drawings(paper, report, whole)):
        yield _Side([(_TOP + BACK_HEAD, drawings_piece(paper, drawings))])
    if "forms" in names:
        boxes = (box_piece(paper, one) for one in (*before_flight(report.log), *on_arrival(report.log)))
        yield from _paginated(paper, boxes)
    asked = [piece for extra in extras(report, names) for piece in extra_pieces(paper, extra)]
    if asked:
        yield from _paginated(paper, asked)


def _back(paper: Paper, printed: Printed, whole: float) -> tuple[list[_Side], float]:
    """The back with the longest table of diversions that takes no side more nor the drawings' room, and what is left.

    `whole` is the height of a side in points.
    """
    best: tuple[list[_Side], float] | None = None
    for others in printed.backs:
        sides = list(_paginated(paper, back_pieces(paper, printed, others)))
        left = whole - sum(piece.height for _, piece in sides[-1].placed)
        if best is not None and (len(sides) > len(best[0]) or left < _LEAST_DRAWN * whole <= best[1]):
            break
        best = sides, left
    assert best is not None
    return best


def _drawings(paper: Paper, report: Report, height: float) -> list[Drawing]:
    """Plan and profile, sharing a height in points with their titles."""
    width, drawn = paper.right - paper.left, height - 36.0
    found = (plan_drawing(report.log, width, drawn * 0.6), profile_drawing(report, width, drawn * 0.4))
    return [one for one in found if one is not None]


def _paginated(paper: Paper, found: Iterable[Panel], *, front: bool = False) -> Iterator[_Side]:
    """Pieces with their tops, side by side; rows stand under the heads of the columns on every side."""
    heads = heads_piece(paper)
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
