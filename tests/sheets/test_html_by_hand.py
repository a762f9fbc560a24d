"""How many notes the front of the HTML holds, counted in lines, and what stands behind the page."""

from __future__ import annotations

import pytest
from helpers.drawn import report

from navlog.nav.record import changed
from navlog.printed.page import Printed
from navlog.printed.radios import Radios
from navlog.sheets import html
from navlog.sheets.drawing import Circle, Drawing, Stroke
from navlog.sheets.extras import Extra
from navlog.sheets.html import _lines_of, _notes_on_front
from navlog.sheets.pages import PAGES
from navlog.sheets.svg import svg

PAGE = PAGES["half-letter"]
WIDE = 76
"""139.7 mm less two margins of 5 have room for 76 letters of 1.7."""


@pytest.mark.parametrize(("letters", "lines"), [(0, 0), (1, 1), (50, 1), (51, 2), (100, 2), (101, 3)])
def test_lines_of_50_letters_that_a_text_takes(letters: int, lines: int) -> None:
    assert _lines_of("a" * letters, 50) == lines


@pytest.mark.parametrize(
    ("told", "radios", "note", "held"),
    [
        # 33 lines on the lowest front, that of 210 mm, and one of 3.8 in the 5.9 mm that half-letter has more. Two rows
        # take three lines each and `no alternate stated` one: 27 are left.
        pytest.param((), False, 1, 27, id="rows with nothing told"),
        # Twice 74 and the two spaces between are 150, three lines of 50, so that each row has four.
        pytest.param(("a" * 74, "b" * 74), False, 1, 25, id="rows with three lines of ticks"),
        pytest.param((), True, 1, 23, id="frequencies above both, two lines each"),
        pytest.param((), False, WIDE, 27, id="notes as wide as the page"),
        pytest.param((), False, WIDE + 1, 13, id="notes a letter wider, two lines each"),
    ],
)
def test_how_many_notes_have_room_on_the_front(told: tuple[str, ...], radios: bool, note: int, held: int) -> None:
    whole = Printed.of(report("hostile"))
    one = changed(whole.route.needles[0], at=(), ticks=told, radios=Radios("XOLD", ()) if radios else None)
    page = changed(
        whole,
        route=changed(whole.route, needles=(one, one)),
        not_as_planned=(),
        alternates=(),
        notes=("n" * note,) * 60,
    )
    assert _notes_on_front(page, PAGE) == held


def test_a_table_that_is_asked_for_keeps_its_columns(monkeypatch: pytest.MonkeyPatch) -> None:
    extra = Extra("FIELDS", ("words",), table=("XAA  12.0", "XBB   3.5"))
    monkeypatch.setattr(html, "extras", lambda report, names: [extra])
    written = html.document([report("hostile")], PAGE, ("diversions",))
    assert "<h2>FIELDS</h2>\n<p>words</p>\n<pre>XAA  12.0\nXBB   3.5</pre>" in written


def test_a_shape_that_is_not_filled_says_so_in_the_words_of_svg() -> None:
    """SVG 1.1, 11.2: a paint is `none` or a colour."""
    marks = (Circle((5.0, 5.0), 3.0), Circle((5.0, 5.0), 3.0, fill=0.0), Stroke(((0.0, 0.0), (9.0, 9.0))))
    fills = [line.split('fill="')[1].split('"')[0] for line in svg(Drawing("A", 9.0, 9.0, marks)).splitlines()[1:-1]]
    assert fills == ["none", "#000000", "none"]
