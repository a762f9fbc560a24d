"""A drawing as plain marks in points, origin at the top left: what SVG and PDF both draw.

Black and greys only: a drawing must survive a photocopy and red light.
"""

from __future__ import annotations

from math import hypot
from typing import TypeAlias

from msgspec import Struct

XY: TypeAlias = tuple[float, float]

BLACK, DARK, PALE = 0.0, 0.35, 0.75
LABEL_SIZE = 9.0
"""No label is smaller."""
_WIDTHS = (
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833,
    722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556,
    556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334,
    260, 334, 584,
)  # fmt: skip
_BOLD_WIDTHS = (
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833,
    722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556, 333, 556, 611, 556, 611,
    556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611, 611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389,
    280, 389, 584,
)  # fmt: skip
"""Widths of the characters from the space to `~` in thousandths of the size, regular and bold: Adobe's metrics of the
standard PDF fonts Helvetica and Helvetica-Bold. SVG is set to the same widths whatever face shows it."""
_ASCENT_EM, _DESCENT_EM = 0.93, 0.25
"""How far letters of a sans-serif face reach above and below the line they stand on."""


class Stroke(Struct, frozen=True):
    """A line through points; `dash` are lengths of ink and gap."""

    points: tuple[XY, ...]
    weight: float = 1.0
    grey: float = BLACK
    dash: tuple[float, ...] = ()


class Area(Struct, frozen=True):
    """A closed shape, filled with a grey (None: not at all) and outlined."""

    points: tuple[XY, ...]
    fill: float | None = None
    weight: float = 1.0
    grey: float = BLACK


class Circle(Struct, frozen=True):
    """A circle, outlined or filled."""

    center: XY
    radius: float
    fill: float | None = None
    weight: float = 1.0
    grey: float = BLACK


class Label(Struct, frozen=True):
    """Text whose baseline begins, is centred or ends at a place (`anchor` "start", "middle", "end")."""

    at: XY
    text: str
    size: float = LABEL_SIZE
    anchor: str = "start"
    bold: bool = False
    grey: float = BLACK

    @property
    def box(self) -> Rectangle:
        """The room that the text takes."""
        width = self.width
        left = self.at[0] - {"start": 0.0, "middle": width / 2.0, "end": width}[self.anchor]
        above, below = _ASCENT_EM * self.size, _DESCENT_EM * self.size
        return Rectangle(left, self.at[1] - above, left + width, self.at[1] + below)

    @property
    def width(self) -> float:
        """How wide the text is."""
        return text_width(self.text, self.size, bold=self.bold)


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """The width of a text; what is not ASCII is counted as wide as the widest letter."""
    widths = _BOLD_WIDTHS if bold else _WIDTHS
    return size / 1000.0 * sum(widths[ord(one) - 32] if " " <= one <= "~" else 1000 for one in text)


Mark: TypeAlias = Stroke | Area | Circle | Label


_MOST_LISTED = 60
"""Of what a drawing has no room for so many are listed below it: nobody reads more there than in the log."""


class Drawing(Struct, frozen=True):
    """A titled drawing of a size in points; `left_out` is what it should say and has no room for."""

    title: str
    width: float
    height: float
    marks: tuple[Mark, ...]
    left_out: tuple[str, ...] = ()

    @property
    def caption(self) -> str:
        """The title, and what is not drawn for want of room."""
        return self.caption_of(min(len(self.left_out), _MOST_LISTED))

    def caption_of(self, kept: int) -> str:
        """The caption with so many of what is not drawn, and how many more there are."""
        more = len(self.left_out) - kept
        told = [*self.left_out[:kept], *([f"{more} more, see the log"] if more else [])]
        return f"{self.title}. No room for: {'; '.join(told)}" if told else self.title


class Rectangle(Struct, frozen=True):
    """A rectangle by its edges."""

    left: float
    top: float
    right: float
    bottom: float

    def overlap(self, other: Rectangle) -> float:
        """The area that two rectangles share."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across * down if across > 0.0 and down > 0.0 else 0.0

    def outside(self, width: float, height: float) -> float:
        """How far it reaches beyond a drawing."""
        return (
            max(0.0, -self.left) + max(0.0, -self.top) + max(0.0, self.right - width) + max(0.0, self.bottom - height)
        )

    def distance(self, at: XY) -> float:
        """How far a place is from it; 0 inside."""
        return hypot(max(self.left - at[0], 0.0, at[0] - self.right), max(self.top - at[1], 0.0, at[1] - self.bottom))

    def length_inside(self, start: XY, end: XY) -> float:
        """How much of a straight line runs through it."""
        inside = self.shares_inside(start, end)
        return 0.0 if inside is None else hypot(end[0] - start[0], end[1] - start[1]) * (inside[1] - inside[0])

    def shares_inside(self, start: XY, end: XY) -> tuple[float, float] | None:
        """From which to which share of a straight line runs through it; None where none does."""
        (x1, y1), (x2, y2) = start, end
        if (x1 < self.left and x2 < self.left) or (x1 > self.right and x2 > self.right):
            return None
        if (y1 < self.top and y2 < self.top) or (y1 > self.bottom and y2 > self.bottom):
            return None
        low, high = 0.0, 1.0
        for from_, to, least, most in (
            (start[0], end[0], self.left, self.right),
            (start[1], end[1], self.top, self.bottom),
        ):
            step = to - from_
            if step == 0.0:
                if not least < from_ < most:
                    return None
                continue
            first, second = sorted(((least - from_) / step, (most - from_) / step))
            low, high = max(low, first), min(high, second)
        return (low, high) if high > low else None

    def clipped(self, start: XY, end: XY) -> tuple[XY, XY] | None:
        """The part of a straight line that runs through it; None where none does."""
        inside = self.shares_inside(start, end)
        if inside is None:
            return None
        across, down = end[0] - start[0], end[1] - start[1]
        first, last = ((start[0] + share * across, start[1] + share * down) for share in inside)
        return first, last
