"""The front on paper measured with a ruler: figures under their heads, nothing over another, nothing off the side.

Widths are of Adobe's metrics of Helvetica (a digit 0.556, `A` 0.667 of the size) and Courier (0.6).
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from helpers.ruled import Ruled

from navlog.nav.record import changed as replace
from navlog.printed.needles import Needle
from navlog.sheets.pdf_front import (
    _cut,
    _ticks,
    _totals_piece,
    heads_piece,
    row_piece,
    text_piece,
    ticks_without_room,
)
from navlog.sheets.pdf_paper import BOLD, SANS

pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")

ROW = Needle(
    legs="1, 2", place="XHAR", clock="1310+1", turn="L49", tune="QHB 113.70", morse="--.- .... -...", set_course="272",
    flag="TO", heading="264", altitude="4500", minimum="2500", via="V801", distance="19.6", minutes="59",
    groundspeed="167", left="88.8", fuel="37.0", at=("at: QEL 7.1 DME",), ticks=("TOC 7.8 +7 GS 90", "MCA 9000"),
)  # fmt: skip


def row(one: Needle = ROW) -> Ruled:
    """The heads and a row under them."""
    paper = Ruled()
    heads = heads_piece(paper, "comp", whole=True)
    heads.draw(0.0)
    row_piece(paper, one).draw(heads.height)
    return paper


@pytest.mark.parametrize(
    ("head", "under"),
    [("AT", "XHAR"), ("ETA Z", "1310"), ("turn", "L49"), ("TUNE", "QHB 113.70"), ("SET", "272"), ("HDG", "264"),
     ("via", "V801"), ("legs", "1, 2"), ("identified", "--.- .... -...")],
)  # fmt: skip
def test_a_figure_begins_under_its_head(head: str, under: str) -> None:
    paper = row()
    assert paper.at(head)[0] == pytest.approx(paper.at(under)[0])


@pytest.mark.parametrize(
    ("head", "under"),
    [("NM", "19.6"), ("min", "59"), ("left", "88.8"), ("GS", "167"), ("ALT", "4500"), ("minimum", "2500")],
)
def test_a_figure_ends_under_the_end_of_its_head(head: str, under: str) -> None:
    paper = row()
    assert paper.end(head) == pytest.approx(paper.end(under))


def test_the_figures_of_a_row_stand_in_three_lines() -> None:
    paper = row()
    first, second, third = (
        {paper.at(one)[1] for one in line}
        for line in (
            ("XHAR", "1310", "L49", "QHB 113.70", "272", "TO", "264", "4500"),
            ("V801", "19.6", "59", "--.- .... -...", "at: QEL 7.1 DME"),
            ("1, 2", "88.8", "167"),
        )
    )
    assert (len(first), len(second), len(third)) == (1, 1, 1)
    assert third.pop() - second.pop() == pytest.approx(9.5)


def test_the_two_boxes_for_the_pen_adjoin_under_their_heads_and_the_fuel_is_in_the_second() -> None:
    paper = row()
    ata, fuel, _ = paper.boxes
    assert fuel[0] == pytest.approx(ata[0] + ata[2])
    assert (ata[1], ata[3]) == (fuel[1], fuel[3])
    assert paper.at("ATA")[0] - ata[0] == pytest.approx(2.0)
    assert paper.at("fuel")[0] - fuel[0] == pytest.approx(2.0)
    x, y, *_ = paper.at("37.0")
    assert x - fuel[0] == pytest.approx(2.0)
    assert fuel[1] < y - 9.0 * 0.718 < y < fuel[1] + fuel[3]


def test_the_box_to_tick_stands_behind_the_morse() -> None:
    paper = row()
    x, top, width, height = paper.boxes[2]
    assert x - paper.end("--.- .... -...") == pytest.approx(3.0)
    assert paper.at("at: QEL 7.1 DME")[0] > x + width
    assert top < paper.at("--.- .... -...")[1] < top + height


def test_the_mark_of_another_day_stands_raised_and_bold_behind_the_clock() -> None:
    paper = row()
    x, y, _, size, font = paper.at("+1")
    assert x == pytest.approx(paper.end("1310"))
    assert font == BOLD
    assert y < paper.at("1310")[1]
    assert size < paper.at("1310")[3]


@pytest.mark.parametrize(
    ("course", "texts"),
    [("272", ("272", "TO")), ("087T", ("087", "T", "TO")), ("~304", ("~", "304", "TO")), ("272!", ("272", "!", "TO"))],
)
def test_what_is_set_is_large_and_nothing_stands_over_it(course: str, texts: tuple[str, ...]) -> None:
    paper = row(replace(ROW, set_course=course))
    for one, other in pairwise(texts):
        assert paper.at(other)[0] >= paper.end(one) - 1e-6
    assert paper.at("TO")[0] - paper.end(texts[-2]) == pytest.approx(2.0)
    assert [paper.at(one)[3] for one in texts] == [
        16.0 if one.isdigit() else 8.5 if one == "TO" else 8.0 for one in texts
    ]


def test_no_letter_of_the_heads_touches_the_rule_under_them() -> None:
    """Helvetica's descender is 0.207 of its size (Adobe's metrics)."""
    for whole in (True, False):
        paper = Ruled()
        piece = heads_piece(paper, "mag", whole=whole)
        piece.draw(0.0)
        (rule,) = paper.rules
        assert max(y + 0.207 * size for _, y, _, size, _ in paper.texts) <= rule
        assert {y for _, y, *_ in paper.texts} == ({7.5, 15.5, 23.5} if whole else {7.5})
        assert rule < piece.height


@pytest.mark.parametrize(("legs", "where"), [("4", "leg 4"), ("1, 2", "legs 1, 2"), ("1-3", "legs 1-3"), ("", "XHAR")])
def test_what_leaves_a_row_is_told_with_its_legs(legs: str, where: str) -> None:
    crowded = replace(ROW, legs=legs, ticks=tuple(f"QEL R-{number:03d} +{number}" for number in range(100, 140)))
    (line,) = ticks_without_room(Ruled(), [crowded])
    assert line.partition(":")[0] == where


def test_more_ticks_take_a_longer_line_then_smaller_type_then_the_back() -> None:
    ways = [
        (found.size, found.under, bool(found.rest))
        for number in range(1, 24)
        for found in (_ticks(Ruled(), replace(ROW, at=(), ticks=("QEL R-100 +1",) * number)),)
    ]
    assert list(dict.fromkeys(ways)) == [
        (8.5, False, False),
        (8.5, True, False),
        (8.0, True, False),
        (8.0, True, True),
    ]


def test_a_line_is_cut_only_where_it_is_wider_than_its_room() -> None:
    paper = Ruled()
    # Four letters of 6.67 points are 26.68; of 26 points three take 20.01, and the dots (0.278 each) 8.34.
    exact = paper.text_width("AAAA", 10.0)
    assert _cut(paper, "AAAA", 10.0, exact, SANS) == "AAAA"
    assert _cut(paper, "AAAA", 10.0, 26.0, SANS) == "AA..."


def test_the_lines_of_a_paragraph_stand_under_each_other() -> None:
    """Nine point: the first baseline 0.95 of the size below the top, each further one 1.15 below the one before."""
    paper = Ruled()
    piece = text_piece(paper, "wind " * 60, 9.0, above=5.0)
    piece.draw(100.0)
    lines = [y for _, y, *_ in paper.texts]
    assert len(lines) > 2
    assert lines == [pytest.approx(100.0 + 5.0 + 8.55 + 10.35 * number) for number in range(len(lines))]
    assert piece.height == pytest.approx(5.0 + 10.35 * len(lines))


@pytest.mark.parametrize("last", ["on board 37.0", "on board 37.0, " + "margin 19.1 " * 6])
def test_each_block_time_has_its_box_beside_it_and_covers_no_total(last: str) -> None:
    paper = Ruled()
    piece = _totals_piece(paper, ("TRIP 98.4 NM 1:06", last))
    piece.draw(0.0)
    out, into = paper.boxes
    total = max((one for one in paper.texts if one[3] == 8.5), key=lambda one: one[1])
    if total[1] == paper.at("block out")[1] - 1.0:
        assert paper.at("block out")[0] >= total[0] + paper.text_width(total[2], 8.5, BOLD)
    assert out[0] - paper.end("block out") == pytest.approx(2.0)
    assert into[0] - paper.end("in") == pytest.approx(2.0)
    assert paper.at("in")[0] - (out[0] + out[2]) > 3.0
    assert into[0] + into[2] <= paper.right
    assert out[1] + out[3] <= piece.height
