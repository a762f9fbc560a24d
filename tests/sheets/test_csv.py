"""The log as CSV: RFC 4180 to the letter, and nothing in it that a spreadsheet would compute or spoil."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter

import pytest
from helpers.drawn import NAMES, ROUTES, report, reports, sheet
from hypothesis import given
from hypothesis import strategies as st

from navlog.sheets.csv_rows import FORMULA_STARTS, document, safe
from navlog.sheets.pages import PAGES

# RFC 4180, section 2: TEXTDATA has no comma, quote, CR or LF; quoted fields double their quotes.
FIELD = r'(?:[^",\r\n]*|"(?:[^"]|"")*")'
FILE = re.compile(rf"(?:{FIELD}(?:,{FIELD})*\r\n)+")


def table(name: str) -> list[dict[str, str]]:
    written = document([report(name)], PAGES["a4"]).decode()
    return list(csv.DictReader(io.StringIO(written, newline="")))


@pytest.mark.parametrize("name", NAMES)
def test_a_file_is_of_the_standards_grammar(name: str) -> None:
    written = document([report(name)], PAGES["a4"]).decode()
    assert FILE.fullmatch(written)
    rows = list(csv.reader(io.StringIO(written, newline=""), strict=True))
    assert {len(row) for row in rows} == {len(rows[0])}
    log = report(name).log
    assert Counter(row[-1] == "" for row in rows[1:])[True] == len(log.legs)
    assert len(rows) == 1 + sum(len(way.legs) for way in (log, *log.alternates))


def test_each_course_is_by_its_own_north() -> None:
    # The radial 090 of a station turned to true north, and 7 W of variation: 097 magnetic, in calm air to fly too.
    (found,) = reports(
        "station QAA 113.00 decl 0E\nstation QBB 114.00 decl 0E\ndirect QAA 090 - 270 QBB 30nm\ndate 2026-07-18\n"
        "variation 7W\nwind calm\ntas 120kt\naltitude 4500\nroute QAA QBB\n"
    )
    row = next(csv.DictReader(io.StringIO(document([found], PAGES["a4"]).decode(), newline="")))
    keys = ("set_course", "true_course", "true_heading", "magnetic_course", "magnetic_heading")
    assert [row[key] for key in keys] == ["090 FROM", "090T", "090T", "097M", "097M"]


def test_zeros_before_a_course_survive_a_spreadsheet() -> None:
    """A course carries its north's letter, so that no program takes 022 for the number 22."""
    flown = [row for row in table("marsh") if row["phase"] != "hold"]
    courses = [row[key] for row in flown for key in ("true_course", "magnetic_course", "magnetic_heading")]
    assert "029T" in courses
    assert all(re.fullmatch(r"~?\d{3}[TM]|\?", course) for course in courses)
    assert {row["compass_heading"][-1] for row in flown if row["compass_heading"] != "?"} == {"C"}


def test_a_set_course_never_stands_without_its_flag() -> None:
    """By plane sailing at N10: 256 and 077 true from QAA (9 east), 077 and 056 true at QBB, which counts from true."""
    assert [row["set_course"] for row in table("dateline")] == ["067 TO", "068 FROM", "", "077T TO", "056T FROM"]


def test_no_cell_begins_like_a_formula() -> None:
    for name in NAMES:
        for row in table(name):
            for cell in row.values():
                assert not cell.startswith(FORMULA_STARTS) or re.fullmatch(r"-\d+(\.\d)?", cell), cell
    assert table("hostile")[0]["flight"].startswith("'=HYPERLINK")


@given(st.text())
def test_only_numbers_keep_a_sign_at_their_start(text: str) -> None:
    shown = safe(text)
    assert shown.removeprefix("'") == text.removeprefix("'")
    assert not shown.startswith(FORMULA_STARTS) or float(shown) <= 0.0


@pytest.mark.parametrize(
    ("cell", "shown"), [("-1.2", "-1.2"), ("-1.2-3", "'-1.2-3"), ("=A1", "'=A1"), ("022M", "022M")]
)
def test_cells(cell: str, shown: str) -> None:
    assert safe(cell) == shown


def test_flights_of_one_file_share_one_line_of_names() -> None:
    written = sheet(str(ROUTES.parents[2] / "examples" / "club_day.route"), "--format", "csv").decode()
    assert written.count("flight,leg,from") == 1
    assert {row["flight"] for row in csv.DictReader(io.StringIO(written, newline=""))} == {
        "Out to Skerry",
        "Back from Skerry",
        "Across the harbour",
    }
