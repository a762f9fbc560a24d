"""The pages that a sheet is printed on: sizes, and how much 12 point type each takes."""

from __future__ import annotations

from msgspec import Struct

POINT_MM = 25.4 / 72.0
SIDE_MARGIN_MM = 5.0
CLIP_MARGIN_MM = 10.0
"""Kept free at the top for the clip of a knee board (common practice, no source)."""
HEAD_MARGIN_MM = 4.8
FOOT_MARGIN_MM = 6.0
"""For the flight's name and the page number under the clip, and what printers cannot reach at the foot."""
SMALL_TYPE_PT = 9.0
"""Type for more on a page of text, which takes a lamp."""


class Page(Struct, frozen=True):
    """A page in portrait; `type_pt` is the size of fixed-width type on it, `side` the page of which it holds two."""

    name: str
    width_mm: float
    height_mm: float
    type_pt: float = 12.0
    side: str | None = None

    @property
    def columns(self) -> int:
        """Characters of fixed-width type between margins of 5 mm, each 0.6 em wide."""
        return int((self.width_mm - 2 * SIDE_MARGIN_MM) / (0.6 * self.type_pt * POINT_MM))

    @property
    def lines(self) -> int:
        """Lines of that type with 1.25 leading under the clip margin."""
        return int((self.height_mm - CLIP_MARGIN_MM) / (1.25 * self.type_pt * POINT_MM))

    @property
    def drawing_width_pt(self) -> float:
        """The width of a drawing in points."""
        return (self.width_mm - 2 * SIDE_MARGIN_MM) / POINT_MM

    @property
    def drawing_height_pt(self) -> float:
        """The height in points that the two drawings share with their titles on one page."""
        kept_mm = CLIP_MARGIN_MM + HEAD_MARGIN_MM + FOOT_MARGIN_MM
        return (self.height_mm - kept_mm) / POINT_MM - 60.0


# ISO 216 for A5 and A4; letter is 8.5 by 11 inches and half-letter 5.5 by 8.5.
PAGES = {
    "half-letter": Page("half-letter", 139.7, 215.9),
    "a5": Page("a5", 148.0, 210.0),
    "letter": Page("letter", 215.9, 279.4, side="half-letter"),
    "a4": Page("a4", 210.0, 297.0, side="a5"),
}
