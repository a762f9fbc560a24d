"""A drawing as plain marks in points, origin at the top left: what SVG and PDF both draw.

Black and greys only: a drawing must survive a photocopy and red light.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import cos, hypot, inf, radians, sin
from typing import TypeAlias

from msgspec import Struct

XY: TypeAlias = tuple[float, float]

BLACK, DARK, PALE = 0.0, 0.35, 0.75
_NEAR = 10.0
"""A label this near to its symbol is as good as any nearer."""
LABEL_SIZE = 9.0
"""No label is smaller."""
CAPITAL_EM, OTHER_EM = 0.74, 0.58
"""The width reserved for a character of a sans-serif face; its digits take 0.56 em."""


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

    @property
    def box(self) -> Rectangle:
        """The room that the text takes."""
        width = text_width(self.text, self.size)
        left = self.at[0] - {"start": 0.0, "middle": width / 2.0, "end": width}[self.anchor]
        return Rectangle(left, self.at[1] - 0.8 * self.size, left + width, self.at[1] + 0.25 * self.size)


def text_width(text: str, size: float) -> float:
    """The width of a text, rather too large than too small."""
    return size * sum(CAPITAL_EM if character.isupper() else OTHER_EM for character in text)


Mark: TypeAlias = Stroke | Area | Circle | Label


class Drawing(Struct, frozen=True):
    """A titled drawing of a size in points."""

    title: str
    width: float
    height: float
    marks: tuple[Mark, ...]


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
        (x1, y1), (x2, y2) = start, end
        if (x1 < self.left and x2 < self.left) or (x1 > self.right and x2 > self.right):
            return 0.0
        if (y1 < self.top and y2 < self.top) or (y1 > self.bottom and y2 > self.bottom):
            return 0.0
        length = hypot(end[0] - start[0], end[1] - start[1])
        low, high = 0.0, 1.0
        for from_, to, least, most in (
            (start[0], end[0], self.left, self.right),
            (start[1], end[1], self.top, self.bottom),
        ):
            step = to - from_
            if step == 0.0:
                if not least < from_ < most:
                    return 0.0
                continue
            first, second = sorted(((least - from_) / step, (most - from_) / step))
            low, high = max(low, first), min(high, second)
        return length * (high - low) if high > low else 0.0


_MOST_PLACED = 150
"""With more on it nobody can read a drawing; labels take their first place."""


class LabelRoom:
    """Places labels one after the other where they cover neither each other nor, if it can be helped, lines."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self.taken: list[Rectangle] = []
        self.lines: list[tuple[XY, XY]] = []
        self.spots: list[XY] = []

    def keep_clear(self, points: Iterable[XY]) -> None:
        """A line that labels should not cover."""
        self.lines.extend(pairwise(points))

    def take(self, box: Rectangle) -> None:
        """A place that labels must not cover."""
        self.taken.append(box)

    def mark(self, at: XY, size: float) -> None:
        """A symbol of half that size at a place, which a label of its own will name."""
        self.spots.append(at)
        self.take(Rectangle(at[0] - size, at[1] - size, at[0] + size, at[1] + size))

    def best(self, candidates: Iterable[Label], of: XY | None = None) -> Label:
        """The first candidate that covers nothing, else the one that covers least; its place is then taken.

        Candidates come nearest first. `of` is the place of the symbol that the label names.
        """
        chosen, least = None, inf
        for label in candidates:
            if len(self.taken) > _MOST_PLACED:
                return label
            box = label.box
            cost = self.cost(box) + self.doubt(box, of)
            if cost < least:
                chosen, least = label, cost
            if cost == 0.0:
                break
        assert chosen is not None
        self.taken.append(chosen.box)
        return chosen

    def cost(self, box: Rectangle) -> float:
        """How bad a place is: other labels and the edge weigh most, lines less."""
        covered = sum(box.overlap(other) for other in self.taken)
        crossed = sum(box.length_inside(*line) for line in self.lines)
        return 100.0 * covered + 1000.0 * box.outside(self.width, self.height) + crossed

    def doubt(self, box: Rectangle, of: XY | None) -> float:
        """How bad a place is for naming a symbol: worse where another symbol is as near, then the farther out."""
        if of is None:
            return 0.0
        own = box.distance(of)
        nearer = sum(1 for spot in self.spots if spot != of and box.distance(spot) <= own + _NEAR)
        return 40.0 * nearer + max(0.0, own - _NEAR)

    def around(self, at: XY, text: str, *, gap: float, size: float = LABEL_SIZE, bold: bool = False) -> Label:
        """A label beside a point: right, left, above, below, at the corners, and farther out."""
        candidates = (
            _beside(at, text, distance, angle_deg, size=size, bold=bold)
            for distance in (gap, gap + 8.0, gap + 18.0, gap + 30.0, gap + 44.0, gap + 60.0)
            for angle_deg in (0, 180, 315, 45, 225, 135, 270, 90, 20, 340, 160, 200, 290, 250, 70, 110)
        )
        return self.best(candidates, at)


def _beside(at: XY, text: str, distance: float, angle_deg: float, *, size: float, bold: bool) -> Label:
    """A label that begins `distance` away from a point in a direction, clockwise from the right."""
    across, down = cos(radians(angle_deg)), sin(radians(angle_deg))
    anchor = "start" if across > 0.3 else "end" if across < -0.3 else "middle"
    x = at[0] + distance * across
    y = at[1] + distance * down + size * (0.3 + 0.45 * down)
    return Label((x, y), text, size, anchor, bold)
