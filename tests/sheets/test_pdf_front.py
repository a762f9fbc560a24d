"""The ticks of a row on paper: two lines of them at most, and what has no room is told on the back."""

from __future__ import annotations

import pytest
from helpers.drawn import report, reports
from helpers.generated import Generated, generated_flights
from hypothesis import given, settings

from navlog.nav.record import changed
from navlog.printed.needles import Needle
from navlog.printed.page import Printed
from navlog.sheets.pages import PAGES
from navlog.sheets.pdf_front import _ticks, row_piece, ticks_without_room
from navlog.sheets.pdf_paper import Paper

pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")
TALLEST_PT = 38.0  # ten rows, a head, two lines of clearance and the foot on the 612 points of half a letter page


def paper() -> Paper:
    return Paper(PAGES["half-letter"])


def row(*told: str) -> Needle:
    """The first row of the marsh flight, which has a Morse, with these ticks."""
    return changed(Printed.of(report("marsh")).route.needles[0], at=(), ticks=told)


def test_few_ticks_stand_in_their_size_and_many_in_a_smaller_one_and_a_longer_line() -> None:
    few, more = row("TOC 7.6 +5"), row("TOC 7.6 +5", *(f"FIXA{letter} 10.1 DME +19" for letter in "BCD"))
    assert (_ticks(paper(), few).size, _ticks(paper(), few).under) == (8.5, False)
    told = _ticks(paper(), more)
    assert (told.size >= 8.0, told.under, told.rest) == (True, True, ())
    assert len(told.lines) == 2


def test_the_last_ticks_go_to_the_back_and_the_row_says_how_many() -> None:
    crowded = row(*(f"FIXA{letter} 10.1 DME +19" for letter in "BCDEFGH"))
    told = _ticks(paper(), crowded)
    assert told.lines[-1].endswith(f"on the back: {len(told.rest)}")
    assert told.rest[-1] == "FIXAH 10.1 DME +19"
    assert list(ticks_without_room(paper(), [crowded])) == [f"legs 1, 2: {'; '.join(told.rest)}"]


def test_a_tick_too_long_for_two_lines_is_on_the_back_whole() -> None:
    endless = row("word " * 60)
    assert _ticks(paper(), endless).rest == ("word " * 60,)
    assert row_piece(paper(), endless).height <= TALLEST_PT


@settings(max_examples=100, deadline=None)
@given(generated_flights())
def test_no_row_is_higher_than_ten_a_page_allow_and_no_tick_is_lost(flight: Generated) -> None:
    sheet = paper()
    for one in Printed.of(reports(flight.text)[0]).route.needles:
        told = _ticks(sheet, one)
        assert row_piece(sheet, one).height <= TALLEST_PT
        assert told.size >= 8.0
        words = " ".join(told.lines).split()
        kept = list(one.told)
        for phrase in told.rest:
            kept.remove(phrase)
        said = " ".join((*kept, *((f"on the back: {len(told.rest)}",) if told.rest else ()))).split()
        assert sorted(words) == sorted(said)
        assert all(sheet.text_width(line, told.size) <= sheet.right - sheet.left - 83.0 for line in told.lines)


def test_a_short_tick_takes_the_first_line_where_the_first_is_too_long_for_it() -> None:
    crowded = row("at: 37.6 NM from QHB, by time 0:08 after FIXAB", "FIXAC 9.1 +6", "FIXAD 17.6 DME +11")
    told = _ticks(paper(), crowded)
    assert told.rest == ()
    assert told.lines[0] == "FIXAC 9.1 +6"


def test_a_change_of_the_minimum_stays_in_the_row() -> None:
    crowded = row(*(f"FIXA{letter} 10.1 DME +19" for letter in "BCDEFGH"), "FIXAI 6.4 DME +8 min 5000")
    told = _ticks(paper(), crowded)
    assert told.rest
    assert "min 5000" in " ".join(told.lines)
