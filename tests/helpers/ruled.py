"""Paper that keeps what is drawn where, for measuring."""

from __future__ import annotations

from navlog.sheets.drawing import Drawing
from navlog.sheets.pages import PAGES, Page
from navlog.sheets.pdf_paper import SANS, Paper

Text = tuple[float, float, str, float, str]


class Ruled(Paper):
    """Keeps what is drawn where, in points from the top left of the side, by the page it is on."""

    def __init__(self, page: Page = PAGES["half-letter"]) -> None:
        super().__init__(page)
        self.texts: list[Text] = []
        self.boxes: list[tuple[float, float, float, float]] = []
        self.rules: list[float] = []
        self.sides: list[list[str]] = [[]]
        self.drawn: list[int] = []

    def next_page(self) -> None:
        self.sides.append([])
        super().next_page()

    def text(self, x: float, y: float, text: str, size: float, font: str = SANS) -> None:
        if text:
            self.texts.append((x, y, text, size, font))
            self.sides[-1].append(text)
        super().text(x, y, text, size, font)

    def box(self, x: float, y: float, width: float, height: float) -> None:
        self.boxes.append((x, y, width, height))
        super().box(x, y, width, height)

    def line(self, start: tuple[float, float], end: tuple[float, float], weight: float) -> None:
        self.rules.append(start[1] - weight / 2.0)
        super().line(start, end, weight)

    def drawing(self, drawing: Drawing, left: float, top: float) -> None:
        self.drawn.append(len(self.sides))
        super().drawing(drawing, left, top)

    def at(self, text: str) -> Text:
        (found,) = (one for one in self.texts if one[2] == text)
        return found

    def end(self, text: str) -> float:
        x, _, _, size, font = self.at(text)
        return x + self.text_width(text, size, font)
