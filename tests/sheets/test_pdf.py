"""The PDF: repeatable bytes, the page chosen, every place whole, large numbers; what it says without its package."""

from __future__ import annotations

import re
import sys
from dataclasses import dataclass
from importlib.util import find_spec

import pytest
from helpers.drawn import NAMES, ROUTES, report, reports
from helpers.flown import changed, navlog

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


@needs_reportlab
@pytest.mark.parametrize("page", PAGES.values(), ids=lambda page: page.name)
@pytest.mark.parametrize("name", NAMES)
def test_every_page_is_of_the_size_with_name_and_number(name: str, page: Page) -> None:
    raw = document([report(name)], page)
    boxes = re.findall(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", raw)
    sheets = pages(raw)
    assert len(boxes) == len(sheets) > 0
    for width, height in boxes:
        assert float(width) * POINT_MM == pytest.approx(page.width_mm, abs=0.01)
        assert float(height) * POINT_MM == pytest.approx(page.height_mm, abs=0.01)
    for number, words in enumerate(sheets, 1):
        assert f"{number}/{len(sheets)}" in [word.text for word in words]
        assert any("2026-" in word.text for word in words[:2])


@needs_reportlab
@pytest.mark.parametrize("page", PAGES.values(), ids=lambda page: page.name)
@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_written_off_the_page_or_under_the_clip(name: str, page: Page) -> None:
    for words in pages(document([report(name)], page)):
        for word in words:
            assert SIDE_MARGIN_MM - 0.1 <= word.x * POINT_MM <= page.width_mm - SIDE_MARGIN_MM
            assert FOOT_MARGIN_MM - 2.0 <= word.y * POINT_MM <= page.height_mm - CLIP_MARGIN_MM
            assert word.size >= 9.0


@needs_reportlab
def test_flown_numbers_are_of_14_points_at_least() -> None:
    words = [word for sheet in pages(document([report("hostile")], PAGES["half-letter"])) for word in sheet]
    for number in ("212", "213", "0:06"):
        assert max(word.size for word in words if word.text == number) >= 14.0


@needs_reportlab
@pytest.mark.parametrize("page", PAGES.values(), ids=lambda page: page.name)
def test_what_comes_in_and_what_goes_out_of_a_station_are_on_one_page(page: Page) -> None:
    there = " ".join(["QHB", "QEL"] * 15)
    (whole,) = reports(changed(f"route {there}", without=("direct", "airport", "airway")))
    sheets = pages(document([whole], page))
    tags = [[word.text for word in sheet if word.text in ("IN", "OUT", "SET", "HDG")] for sheet in sheets]
    assert sum(found.count("IN") for found in tags) == 29
    for found in tags:
        assert found.count("IN") - found.count("OUT") in (0, 1 if found is last_with_in(tags) else 0)
        for index, tag in enumerate(found):
            assert tag != "IN" or found[index + 1 : index + 2] == ["OUT"] or found is last_with_in(tags)
        assert "IN" not in found or found[:2] == ["SET", "HDG"]


def last_with_in(tags: list[list[str]]) -> list[str]:
    """The page of the last station, which nothing leaves."""
    return [found for found in tags if "IN" in found][-1]


@needs_reportlab
def test_the_same_flight_gives_the_same_bytes() -> None:
    assert document([report("marsh")], PAGES["a5"]) == document([report("marsh")], PAGES["a5"])


@needs_reportlab
def test_letters_that_the_fonts_lack_become_question_marks() -> None:
    said = " ".join(word.text for sheet in pages(document([report("hostile")], PAGES["a4"])) for word in sheet)
    assert "=HYPERLINK" in said
    assert "東" not in said


@needs_reportlab
def test_several_flights_are_numbered_through() -> None:
    sheets = pages(document([report("marsh"), report("dateline")], PAGES["a4"]))
    assert f"{len(sheets)}/{len(sheets)}" in [word.text for word in sheets[-1]]


def test_without_the_package_the_message_says_how_to_install_it(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in [module for module in sys.modules if module.partition(".")[0] == "reportlab"]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "reportlab", None)
    tried = navlog("log", str(ROUTES / "marsh.route"), "--format", "pdf")
    assert tried.status == 2
    assert tried.out == ""
    assert "PDF needs the package `reportlab`, which is not installed [no-reportlab]" in tried.err
    assert "hint: pip install 'navlog[pdf]'" in tried.err
