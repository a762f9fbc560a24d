"""The PDF: repeatable bytes, the page chosen, every place whole, large numbers; what it says without its package."""

from __future__ import annotations

import re
import sys
from dataclasses import dataclass
from importlib.util import find_spec

import pytest
from helpers.drawn import NAMES, ROUTES, report, reports
from helpers.flown import changed, navlog

from navlog.printed.page import Printed
from navlog.sheets.formats import EXTRAS
from navlog.sheets.pages import CLIP_MARGIN_MM, FOOT_MARGIN_MM, PAGES, POINT_MM, SIDE_MARGIN_MM, Page
from navlog.sheets.pdf import document

needs_reportlab = pytest.mark.skipif(find_spec("reportlab") is None, reason="the extra `pdf` is not installed")


@dataclass(frozen=True, slots=True)
class Word:
    """A text on a page: its place from the bottom left in points, and its size."""

    x: float
    y: float
    size: float
    text: str


def pages(raw: bytes) -> list[list[Word]]:
    """The texts of each page, from its content stream (PDF 1.3 as reportlab writes it)."""
    found = []
    for match in re.finditer(rb"stream\r?\n(.*?)endstream", raw, re.DOTALL):
        size, words = 0.0, []
        for line in match[1].decode("cp1252").splitlines():
            font = re.search(r"/F\d+ ([\d.]+) Tf", line)
            size = float(font[1]) if font else size
            shown = re.search(r"1 0 0 1 ([\d.-]+) ([\d.-]+) Tm .*?\((.*)\) Tj", line)
            if shown:
                text = re.sub(r"\\(\d{3}|.)", lambda part: part[1] if len(part[1]) == 1 else "?", shown[3])
                words.append(Word(float(shown[1]), float(shown[2]), size, text))
        found.append(words)
    return found


def folios(words: list[Word]) -> list[str]:
    return [word.text for word in words if re.fullmatch(r"page \d+/\d+", word.text)]


@needs_reportlab
@pytest.mark.parametrize("page", PAGES.values(), ids=lambda page: page.name)
@pytest.mark.parametrize("name", NAMES)
def test_every_side_has_name_and_number_and_large_paper_lies_on_its_side(name: str, page: Page) -> None:
    raw = document([report(name)], page)
    boxes = re.findall(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", raw)
    sheets = pages(raw)
    size = (page.width_mm, page.height_mm) if page.side is None else (page.height_mm, page.width_mm)
    assert len(boxes) == len(sheets) > 0
    for width, height in boxes:
        assert float(width) * POINT_MM == pytest.approx(size[0], abs=0.01)
        assert float(height) * POINT_MM == pytest.approx(size[1], abs=0.01)
    told = [folio for words in sheets for folio in folios(words)]
    assert told == [f"page {number}/{len(told)}" for number in range(1, len(told) + 1)]
    assert len(sheets) == (len(told) if page.side is None else (len(told) + 1) // 2)


@needs_reportlab
@pytest.mark.parametrize("page", PAGES.values(), ids=lambda page: page.name)
@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_written_off_the_page_or_under_the_clip(name: str, page: Page) -> None:
    width, height = (page.width_mm, page.height_mm) if page.side is None else (page.height_mm, page.width_mm)
    for words in pages(document([report(name)], page, EXTRAS)):
        for word in words:
            assert SIDE_MARGIN_MM - 0.1 <= word.x * POINT_MM <= width - SIDE_MARGIN_MM
            assert FOOT_MARGIN_MM - 2.0 <= word.y * POINT_MM <= height - CLIP_MARGIN_MM
            assert word.size >= 8.0


@needs_reportlab
def test_type_carries_what_is_flown() -> None:
    """At least 14 points for clock, course and heading, 10 for frequency, altitude and minimum, 8 for ticks."""
    front = pages(document([report("marsh")], PAGES["half-letter"]))[0]

    def size(text: str) -> float:
        return max(word.size for word in front if word.text == text)

    assert min(size(text) for text in ("1319", "212", "215")) >= 14.0
    assert min(size(text) for text in ("QHB 113.70", "4500", "2500")) >= 10.0
    assert min(word.size for word in front if "+7" in word.text or "DME" in word.text) >= 8.0


@needs_reportlab
@pytest.mark.parametrize("page", PAGES.values(), ids=lambda page: page.name)
def test_a_row_is_never_split_and_stands_under_the_heads(page: Page) -> None:
    there = " ".join(["QHB", "QEL"] * 15)
    (whole,) = reports(changed(f"route {there}", without=("direct", "airport", "airway")))
    fronts = [words for words in pages(document([whole], page)) if "SET" in [word.text for word in words]]
    rows = 0
    for words in fronts:
        clocks = [word for word in words if re.fullmatch(r"\d{4}", word.text) and word.size == 14.0]
        heads = [word for word in words if word.text == "ETA Z"]
        for clock in clocks:
            assert any(head.x == pytest.approx(clock.x, abs=0.1) and head.y > clock.y for head in heads)
        rows += len(clocks)
    assert rows == 59  # 29 stretches, each with a changeover, and the last station


def leg(number: int) -> str:
    return f"fix N{number:03d} QHB {(37 * number) % 360 + 1:03d} {8 + number}nm"


@needs_reportlab
@pytest.mark.parametrize("name", ["half-letter", "a5"])
def test_ten_rows_are_one_front_and_one_back(name: str) -> None:
    """Ten rows, the last landing with them, with two receivers, a DME and an alternate."""
    names = [f"N{number:03d}" for number in range(1, 9)]
    text = changed(
        *(leg(number) for number in range(1, 9)), "equipment vor 2 dme 1", "alternate XOLD",
        f"route XHAR {' '.join(names)} XHAR", without=("direct", "airway"),
    )  # fmt: skip
    (whole,) = reports(text)
    assert len(Printed.of(whole).route.needles) == 10
    assert len(pages(document([whole], PAGES[name]))) == 2


@needs_reportlab
@pytest.mark.parametrize("name", ["half-letter", "a5"])
@pytest.mark.parametrize("fixes", [10, 11, 12, 13])
def test_the_last_front_is_flown_by_and_takes_no_further_side(fixes: int, name: str) -> None:
    names = [f"N{number:03d}" for number in range(1, fixes + 1)]
    text = changed(
        *(leg(number) for number in range(1, fixes + 1)), "equipment vor 2 dme 1", 'note "Call the marina."',
        f"route XHAR {' '.join(names)} XHAR", without=("direct", "airway"),
    )  # fmt: skip
    (whole,) = reports(text)
    assert len(Printed.of(whole).route.needles) == fixes + 2
    sides = pages(document([whole], PAGES[name]))
    fronts = [words for words in sides if any(word.text == "HDG" for word in words)]
    clocks = [sum(bool(re.fullmatch(r"\d{4}", word.text)) and word.size == 14.0 for word in words) for words in fronts]
    assert len(clocks) == 2
    assert sum(clocks) == fixes + 2
    assert clocks[-1] >= 2


@needs_reportlab
def test_a_row_has_all_its_ticks_where_the_front_has_room_for_them() -> None:
    """With two lines a row this one would leave why no station guides there to the back."""
    (front, *_) = pages(document([report("dateline")], PAGES["half-letter"]))
    words = " ".join(word.text for word in front)
    assert "outside the service volumes of both stations" in words
    assert "on the back" not in words


@needs_reportlab
def test_the_same_flight_gives_the_same_bytes() -> None:
    assert document([report("marsh")], PAGES["a5"]) == document([report("marsh")], PAGES["a5"])


@needs_reportlab
def test_letters_that_the_fonts_lack_become_question_marks() -> None:
    said = " ".join(word.text for sheet in pages(document([report("hostile")], PAGES["a4"])) for word in sheet)
    assert "=HYPERLINK" in said
    assert "東" not in said


@needs_reportlab
def test_each_flight_has_its_own_numbers_and_begins_a_page() -> None:
    sheets = pages(document([report("marsh"), report("dateline")], PAGES["a4"]))
    told = [folios(words) for words in sheets]
    assert [one[0] for one in told].count("page 1/2") + [one[0] for one in told].count("page 1/4") == 2


def test_without_the_package_the_message_says_how_to_install_it(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in [module for module in sys.modules if module.partition(".")[0] == "reportlab"]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "reportlab", None)
    tried = navlog("log", str(ROUTES / "marsh.route"), "--format", "pdf")
    assert tried.status == 2
    assert tried.out == ""
    assert "PDF needs the package `reportlab`, which is not installed [no-reportlab]" in tried.err
    assert "hint: pip install 'navlog[pdf]'" in tried.err
