"""Columns as wide as they need, whatever stands in a cell, and paragraphs within a width."""

from __future__ import annotations

from textwrap import wrap

from hypothesis import given
from hypothesis import strategies as st

from navlog.nav.layout import columns, wrapped

CELLS = st.text("aZ09.-/:|", max_size=9)


def test_headings_a_rule_and_cells_on_their_sides() -> None:
    cells = [("No", "Alt", "Name"), ("", "ft", ""), ("1", "10000", "QHB"), ("22", "-", "QEL")]
    assert columns(cells, "rrl", heads=2, rule="-", indent="  ") == [
        "  No    Alt  Name",
        "         ft",
        "  --  -----  ----",
        "   1  10000  QHB",
        "  22      -  QEL",
    ]


def test_a_table_of_markdown() -> None:
    # GitHub Flavored Markdown 0.29, section 4.10: a colon ends the delimiter of a column set to the right.
    cells = [("GS", "Via"), ("98", "V801")]
    assert columns(cells, "rl", heads=1, rule="|") == ["| GS | Via  |", "| --: | ---- |", "| 98 | V801 |"]


def test_no_rows_are_no_lines() -> None:
    assert columns([], "lr") == []


def test_a_cell_that_looks_like_a_number_stays_as_it_is() -> None:
    assert columns([("0012", "1e5"), ("100,000", "nan")], "rr") == ["   0012  1e5", "100,000  nan"]


def test_a_row_stays_one_line_whatever_stands_in_a_cell() -> None:
    hostile = [("\x01", "a\nerror: forged"), ("\x1b[31mred", "b\r\n"), ("\u2028", "c\x85d")]
    lines = columns(hostile, "ll")
    assert len(lines) == len(hostile)
    assert all(line.isprintable() for line in lines)


@given(st.lists(st.tuples(CELLS, CELLS, CELLS), min_size=1, max_size=6))
def test_every_cell_stands_whole_in_its_own_column(rows: list[tuple[str, str, str]]) -> None:
    lines = columns(rows, "lrl")
    first, second = (max(len(row[index]) for row in rows) for index in (0, 1))
    assert len(lines) == len(rows)
    for row, line in zip(rows, lines, strict=True):
        cut = (line[:first], line[first + 2 : first + second + 4], line[first + second + 4 :])
        assert [part.strip() for part in cut] == list(row)


@given(
    st.text("ab-. ", max_size=90) | st.text(st.sampled_from("ab-.\t\n\v\x1c\x85\u2028\xa0  "), max_size=30),
    st.integers(8, 30),
    st.sampled_from(("", "  ", "   > ")),
)
def test_a_paragraph_is_laid_as_pythons_own_library_lays_it(text: str, width: int, first: str) -> None:
    whole = wrap(text, width, initial_indent=first, subsequent_indent="  ", break_on_hyphens=False)
    assert wrapped(text, width, "  ", first=first) == [line.replace("\xa0", " ") for line in whole]
