"""The sheet as PDF: the same places, boxes and drawings as the HTML, on pages of the size chosen.

The same flight gives the same bytes. Letters that the built-in fonts lack become `?`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from navlog.printed.boxes import Box, in_order
from navlog.printed.closing import joined, sections
from navlog.printed.findings import findings_summary
from navlog.printed.head import route_text
from navlog.printed.meant import meant
from navlog.rules.report import Report
from navlog.sheets.pages import CLIP_MARGIN_MM, FOOT_MARGIN_MM, HEAD_MARGIN_MM, POINT_MM, Page
from navlog.sheets.pdf_paper import SANS, Paper
from navlog.sheets.pdf_pieces import (
    LABEL,
    Block,
    box_piece,
    drawings_piece,
    head_pieces,
    heads_piece,
    place_piece,
    section_pieces,
    total_piece,
)
from navlog.sheets.plan_drawing import plan_drawing
from navlog.sheets.profile_drawing import profile_drawing

_TOP = (CLIP_MARGIN_MM + HEAD_MARGIN_MM) / POINT_MM
_FOOT = FOOT_MARGIN_MM / POINT_MM


def document(reports: Sequence[Report], page: Page) -> bytes:
    """The sheets of several flights, each from a new page on.

    Raises `no-reportlab` where the package is not installed.
    """
    paper = Paper(page)
    sheets = [
        (f"{report.log.route.request.name}  {report.log.route.request.day:%Y-%m-%d}", placed)
        for report in reports
        for placed in _paginated(paper, _pieces(paper, report))
    ]
    for number, (title, placed) in enumerate(sheets, 1):
        if number > 1:
            paper.next_page()
        folio = f"{number}/{len(sheets)}"
        room = paper.right - paper.left - paper.text_width(folio, LABEL) - 10.0
        paper.text(paper.left, _TOP - 5.0, paper.wrapped(title, LABEL, room)[0], LABEL)
        paper.text(paper.right - paper.text_width(folio, LABEL, SANS), _TOP - 5.0, folio, LABEL)
        for top, piece in placed:
            piece.draw(top)
    return paper.finish("VOR navigation log: " + ", ".join(report.log.route.request.name for report in reports))


def _paginated(paper: Paper, found: Iterable[Block]) -> Iterator[list[tuple[float, Block]]]:
    """Pieces with their tops, page by page; places stand under the heads of the columns on every page."""
    heads = heads_piece(paper)
    bottom = paper.height - _FOOT
    placed: list[tuple[float, Block]] = []
    y, headed = _TOP, False
    for piece in found:
        needed = piece.height + (heads.height if piece.place and not headed else 0.0)
        if placed and y + needed > bottom:
            yield placed
            placed, y, headed = [], _TOP, False
        if piece.place and not headed:
            placed.append((y, heads))
            y += heads.height
        headed = piece.place
        placed.append((y, piece))
        y += piece.height
    yield placed


def _pieces(paper: Paper, report: Report) -> Iterator[Block]:
    """One flight in flying order, then what closes it."""
    log = report.log
    findings = f"FINDINGS: {findings_summary(report.findings)}"
    yield from head_pieces(paper, log.route.request.name, route_text(log), findings)
    for one in in_order(log, meant(report)):
        yield box_piece(paper, one) if isinstance(one, Box) else place_piece(paper, one)
    total, *others = sections(report)
    yield total_piece(paper, joined(total.lines[0]))
    for section in others:
        yield from section_pieces(paper, section)
    width, height = paper.page.drawing_width_pt, paper.page.drawing_height_pt
    drawn = (plan_drawing(log, width, height * 0.6), profile_drawing(report, width, height * 0.4))
    drawings = [drawing for drawing in drawn if drawing is not None]
    if drawings:
        yield drawings_piece(paper, drawings)
