"""What is painted on paper, in the operators of the PDF reference, and where."""

from __future__ import annotations

import re

import pytest
from helpers.ruled import Ruled

from navlog.sheets.drawing import Area, Circle, Label
from navlog.sheets.pages import PAGES
from navlog.sheets.pdf_paper import Paper

pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")


def test_a_word_too_long_for_a_line_is_broken_where_it_ends() -> None:
    # Of letters of 6.67 points 14 take 93.38 and 15 take 100.05.
    assert Ruled().wrapped("A" * 30, 10.0, 100.0) == ["A" * 14, "A" * 14, "AA"]


def stream(paper: Paper) -> str:
    """What is painted, in the operators of the PDF reference."""
    found = re.search(rb"stream\n(.*?)endstream", paper.finish("title", "author"), re.DOTALL)
    assert found is not None
    return found[1].decode("ascii")


def test_what_has_no_weight_has_no_outline() -> None:
    """PDF 32000-1, 8.5.3: `f*` fills a path, `B*` fills and strokes it."""
    corners = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0))
    for weight, painted in ((0.0, "f*"), (1.0, "B*")):
        for mark in (Area(corners, 0.5, weight), Circle((9.0, 9.0), 3.0, 0.5, weight)):
            paper = Paper(PAGES["half-letter"])
            paper.draw(mark, 0.0, 0.0)
            assert re.findall(r"^[fBSb]\*?$", stream(paper), re.MULTILINE) == [painted]


def test_text_behind_a_grey_label_or_area_is_black() -> None:
    """PDF 32000-1, 8.6.8: `g` sets the grey that is filled with, 0 black and 1 white."""
    for mark in (Label((9.0, 9.0), "grey", grey=0.35), Area(((0.0, 0.0), (9.0, 0.0), (9.0, 9.0)), 0.75)):
        paper = Paper(PAGES["half-letter"])
        paper.draw(mark, 0.0, 0.0)
        paper.text(20.0, 20.0, "figure", 9.0)
        before = stream(paper).partition("(figure)")[0]
        assert re.findall(r"^([\d.]+) g$", before, re.MULTILINE)[-1] == "0"


@pytest.mark.parametrize(
    ("name", "first", "second"),
    [
        ("half-letter", 14.173, None),
        # Half of 792 points holds a side of 396; half of 841.89 one of 419.53: 0.7 points are left on either side.
        ("letter", 14.173, 396.0 + 14.173),
        ("a4", 0.709 + 14.173, 420.945 + 0.709 + 14.173),
    ],
)
def test_a_side_stands_in_the_middle_of_its_half(name: str, first: float, second: float | None) -> None:
    paper = Paper(PAGES[name])
    paper.text(paper.left, 20.0, "one", 9.0)
    if second is not None:
        paper.next_side()
        paper.text(paper.left, 20.0, "two", 9.0)
    found = [float(x) for x in re.findall(r"1 0 0 1 ([\d.]+) [\d.]+ Tm", stream(paper))]
    assert found == pytest.approx([first] if second is None else [first, second], abs=0.01)


@pytest.mark.parametrize(("anchor", "x"), [("start", 100.0), ("middle", 86.66), ("end", 73.32)])
def test_a_label_begins_is_centred_or_ends_at_its_place(anchor: str, x: float) -> None:
    """Four letters of 6.67 points are 26.68 wide."""
    paper = Paper(PAGES["half-letter"])
    paper.draw(Label((90.0, 9.0), "AAAA", 10.0, anchor), 10.0, 0.0)
    assert re.findall(r"1 0 0 1 ([\d.]+) [\d.]+ Tm", stream(paper)) == [f"{x:g}"]
