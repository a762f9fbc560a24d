"""Paper for PDF: text, lines and drawings at places counted in points from the top left of a page.

The only importer of reportlab.
"""

from __future__ import annotations

from bisect import bisect_right
from typing import Any

from navlog.nav.layout import loosened, plain
from navlog.nav.problems import problem_error
from navlog.sheets.drawing import Area, Circle, Drawing, Label, Mark, Stroke
from navlog.sheets.pages import PAGES, POINT_MM, SIDE_MARGIN_MM, Page

SANS, BOLD, MONO = "Helvetica", "Helvetica-Bold", "Courier-Bold"
_ENCODING = "cp1252"
"""The letters that the built-in fonts have (WinAnsi of the PDF reference)."""

_NARROWEST = 0.15
"""No letter of these fonts is so narrow, as a share of the size; Helvetica's quote has 0.191 (Adobe's metrics)."""


class Paper:
    """Pages of one size to write on; `text_width` is in points."""

    def __init__(self, page: Page) -> None:
        """Raise `no-reportlab` where the package is not installed."""
        try:
            from reportlab.pdfbase.pdfmetrics import stringWidth
            from reportlab.pdfgen.canvas import Canvas
        except ImportError:
            raise problem_error(
                "no-reportlab",
                "PDF needs the package `reportlab`, which is not installed",
                hint="pip install 'navlog[pdf]', or print the HTML: --format html",
            ) from None
        from io import BytesIO

        one = PAGES[page.side] if page.side is not None else page
        self.page = page
        self.width, self.height = one.width_mm / POINT_MM, one.height_mm / POINT_MM
        # On a page that holds two sides each stands in the middle of its half.
        self._half = page.height_mm / POINT_MM / 2.0 if page.side is not None else None
        self._inset = 0.0 if self._half is None else (self._half - self.width) / 2.0
        self._offset = self._inset
        self.left = SIDE_MARGIN_MM / POINT_MM
        self.right = self.width - self.left
        self._string_width = stringWidth
        self._file = BytesIO()
        size = (self.width, self.height) if self._half is None else (2.0 * self._half, page.width_mm / POINT_MM)
        self._canvas: Any = Canvas(self._file, pagesize=size, invariant=1, pageCompression=0)
        self._canvas.setCreator("navlog")

    def bookmark(self, key: str, title: str) -> None:
        """Name the page for the reader's list of contents."""
        self._canvas.bookmarkPage(key)
        self._canvas.addOutlineEntry(plain(title, _ENCODING), key)

    def finish(self, title: str, author: str) -> bytes:
        """The bytes of the file."""
        self._canvas.setTitle(plain(title, _ENCODING))
        self._canvas.setAuthor(plain(author, _ENCODING))
        self._canvas.save()
        return self._file.getvalue()

    def next_page(self) -> None:
        """Go on with a new page."""
        self._canvas.showPage()
        self._offset = self._inset

    def next_side(self) -> None:
        """Go on with the right half of a page that holds two sides, else with a new page."""
        if self._half is None or self._offset >= self._half:
            self.next_page()
            return
        self.line((self._half - self._offset, 0.0), (self._half - self._offset, self.height), 0.25)
        self._offset += self._half

    def text_width(self, text: str, size: float, font: str = SANS) -> float:
        """The width of a text."""
        width: float = self._string_width(plain(loosened(text), _ENCODING), font, size)
        return width

    def text(self, x: float, y: float, text: str, size: float, font: str = SANS) -> None:
        """Text that begins at a place, on its baseline."""
        self._canvas.setFont(font, size)
        self._canvas.drawString(self._offset + x, self.height - y, plain(loosened(text), _ENCODING))

    def box(self, x: float, y: float, width: float, height: float) -> None:
        """An empty box for the pen, its top left corner at a place."""
        self._canvas.setStrokeGray(0.0)
        self._canvas.setLineWidth(0.4)
        self._canvas.rect(self._offset + x, self.height - y - height, width, height)

    def letters_within(self, text: str, size: float, width: float, font: str = SANS) -> int:
        """How many letters of a text a width holds, found by halves: a text may have thousands."""
        most = min(len(text), int(max(width, 0.0) / (_NARROWEST * size)) + 1)
        return bisect_right(range(1, most + 1), width, key=lambda n: self.text_width(text[:n], size, font))

    def wrapped(self, text: str, size: float, width: float, font: str = SANS) -> list[str]:
        """A paragraph in lines of a width; words too long for one are broken."""
        lines, line = [], ""
        for word in text.split(" "):
            joined = f"{line} {word}" if line else word
            if self.text_width(joined, size, font) <= width:
                line = joined
                continue
            if line:
                lines.append(line)
            line = word
            while self.text_width(line, size, font) > width:
                fits = max(1, self.letters_within(line, size, width, font))
                lines.append(line[:fits])
                line = line[fits:]
        return [*lines, line] if line else lines

    def line(self, start: tuple[float, float], end: tuple[float, float], weight: float) -> None:
        """A black line."""
        self.draw(Stroke((start, end), weight), 0.0, 0.0)

    def drawing(self, drawing: Drawing, left: float, top: float) -> None:
        """A drawing with its top left corner at a place."""
        for mark in drawing.marks:
            self.draw(mark, left, top)

    def draw(self, mark: Mark, left: float, top: float) -> None:
        """One mark of a drawing."""
        canvas = self._canvas
        if isinstance(mark, Label):
            self.label(mark, left, top)
            return
        left += self._offset
        canvas.setStrokeGray(mark.grey)
        canvas.setLineWidth(mark.weight)
        stroke = int(mark.weight > 0.0)
        if isinstance(mark, Circle):
            if mark.fill is not None:
                canvas.setFillGray(mark.fill)
            x, y = left + mark.center[0], self.height - top - mark.center[1]
            canvas.circle(x, y, mark.radius, stroke=stroke, fill=int(mark.fill is not None))
        else:
            path = canvas.beginPath()
            points = [(left + x, self.height - top - y) for x, y in mark.points]
            path.moveTo(*points[0])
            for point in points[1:]:
                path.lineTo(*point)
            if isinstance(mark, Area):
                path.close()
                if mark.fill is not None:
                    canvas.setFillGray(mark.fill)
                canvas.drawPath(path, stroke=stroke, fill=int(mark.fill is not None))
            else:
                if mark.dash:
                    canvas.setDash(list(mark.dash))
                canvas.drawPath(path, stroke=1, fill=0)
                if mark.dash:
                    canvas.setDash([])
        if not isinstance(mark, Stroke) and mark.fill is not None:
            canvas.setFillGray(0.0)

    def label(self, mark: Label, left: float, top: float) -> None:
        """A label."""
        font = BOLD if mark.bold else SANS
        width = self.text_width(mark.text, mark.size, font)
        x = self._offset + left + mark.at[0] - {"start": 0.0, "middle": width / 2.0, "end": width}[mark.anchor]
        y = self.height - top - mark.at[1]
        text = plain(mark.text, _ENCODING)
        canvas = self._canvas
        canvas.setFont(font, mark.size)
        canvas.setFillGray(mark.grey)
        canvas.drawString(x, y, text)
        canvas.setFillGray(0.0)
