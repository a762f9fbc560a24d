"""The back on paper measured with a ruler: titles, fields, tables and captions."""

from __future__ import annotations

import pytest
from helpers.drawn import report
from helpers.ruled import Ruled

from navlog.printed.back import Block
from navlog.printed.page import Printed
from navlog.sheets.drawing import Drawing
from navlog.sheets.extras import Extra
from navlog.sheets.pdf_back import (
    _block_pieces,
    _fields_piece,
    _table_piece,
    back_pieces,
    drawings_piece,
    extra_pieces,
)
from navlog.sheets.pdf_front import (
    Panel,
)
from navlog.sheets.pdf_paper import BOLD, MONO, SANS

pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")


def test_a_title_and_its_line_stand_on_one_baseline_within_the_piece() -> None:
    paper = Ruled()
    (piece,) = _block_pieces(paper, Block("NOTES", ("one line",)))
    piece.draw(10.0)
    # Four points above, then 0.95 of nine points.
    assert paper.at("NOTES")[0] == paper.left
    assert paper.at("NOTES")[1] == pytest.approx(10.0 + 4.0 + 8.55)
    assert paper.at("NOTES")[3:] == (9.0, BOLD)
    assert paper.at("one line")[1] == paper.at("NOTES")[1]
    assert paper.at("one line")[0] - paper.end("NOTES") == pytest.approx(6.0)


def test_a_field_stands_behind_its_label_and_all_fill_the_width() -> None:
    paper = Ruled()
    _fields_piece(paper, Block("CHECK", fields=("ATIS", "runway"))).draw(0.0)
    assert [(text, font) for _, _, text, _, font in paper.texts] == [("CHECK", BOLD), ("ATIS", SANS), ("runway", SANS)]
    first, second = paper.boxes
    assert first[0] - paper.end("ATIS") == pytest.approx(4.0)
    assert paper.at("runway")[0] - (first[0] + first[2]) == pytest.approx(4.0)
    assert first[2] == second[2]
    assert second[0] + second[2] == pytest.approx(paper.right - 4.0)


def test_a_table_keeps_its_columns_and_stays_in_its_piece() -> None:
    paper = Ruled()
    paper.right = paper.left + paper.text_width("0" * 20, 8.5, MONO)
    whole = "  QHB  212  11.0  -- "
    piece = _table_piece(paper, (whole[:20], "a line that is wider than that page"))
    piece.draw(0.0)
    assert [text for _, _, text, *_ in paper.texts] == [
        "  QHB  212  11.0  --",
        "a line that is wider",
        "than that page",
    ]
    assert [y for _, y, *_ in paper.texts] == [pytest.approx(9.775 * number) for number in (1, 2, 3)]
    assert piece.height == pytest.approx(3 * 9.775)


def test_a_title_on_the_back_is_set_off_from_what_is_above_it() -> None:
    """By five points over the rows of an alternate, by six over what is asked for by name."""
    marsh = Printed.of(report("marsh"))
    paper = Ruled()
    (title,) = (one for one in back_pieces(paper, marsh, (), 2) if _told(one, paper) == [marsh.alternates[0].title])
    assert title.height == pytest.approx(5.0 + 10.35)
    (one,) = extra_pieces(paper, Extra("STATIONS", ("QHB",)))
    assert one.height == pytest.approx(6.0 + 10.35 + 10.35)


def _told(piece: Panel, paper: Ruled) -> list[str]:
    paper.texts.clear()
    piece.draw(0.0)
    return [text for _, _, text, *_ in paper.texts]


def test_captions_stand_under_their_drawings() -> None:
    paper = Ruled()
    plans = [Drawing("Plan of A", 100.0, 80.0, ()), Drawing("Profile of A", 100.0, 40.0, ())]
    piece = drawings_piece(paper, plans)
    piece.draw(0.0)
    # Each drawing, ten points for its caption, six points of white.
    assert [(text, y) for _, y, text, *_ in paper.texts] == [("Plan of A", 90.0), ("Profile of A", 96.0 + 50.0)]
    assert piece.height == 96.0 + 56.0
