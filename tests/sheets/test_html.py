"""The HTML sheet: one file, no script, nothing fetched, escaped; and printed by a browser without a cut."""

from __future__ import annotations

import re
import shutil
import subprocess
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from helpers.drawn import NAMES, report, reports
from helpers.flown import changed

from navlog.printed.page import Printed
from navlog.rules.report import Report
from navlog.sheets.html import document
from navlog.sheets.html_style import css_text
from navlog.sheets.pages import FOOT_MARGIN_MM, PAGES, POINT_MM, SIDE_MARGIN_MM, Page

VOID = {"meta", "br", "img", "hr", "input", "link"}


class Outline(HTMLParser):
    """Checks that every element is closed in turn; gathers elements, attributes and text."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] not in ("style", "title"):
            self.text.append(data)


def outline(written: str) -> Outline:
    found = Outline()
    found.feed(written)
    found.close()
    assert found.open == []
    return found


@pytest.mark.parametrize("name", NAMES)
def test_a_file_is_well_formed_and_needs_nothing_else(name: str) -> None:
    written = document([report(name)], PAGES["half-letter"])
    assert written.startswith("<!DOCTYPE html>\n")
    for tag, attributes in outline(written).elements:
        assert tag not in ("script", "link", "img", "iframe", "object", "base", "form")
        assert not {"src", "href", "style"} & set(attributes)
        assert not any(key.startswith("on") for key in attributes)
    style = re.search(r"<style>(.*?)</style>", written, re.DOTALL)
    assert style is not None
    assert "url(" not in style[1]
    assert "@import" not in style[1]


def test_a_hostile_name_is_only_text() -> None:
    found = outline(document([report("hostile")], PAGES["a5"], ("stations", "forms")))
    said = "".join(found.text)
    assert "</td><script>alert(1)</script>" in said
    assert "</style><img src=x onerror=alert(1)>" in said
    assert [tag for tag, _ in found.elements].count("style") == 1


def test_what_is_for_the_pen_may_be_typed_into_and_is_named() -> None:
    written = document([report("marsh")], PAGES["a5"])
    assert "<label>limit<input></label>" in written
    assert '<input aria-label="ATA QHB">' in written
    assert '<input aria-label="fuel QHB">' in written
    assert '--.- .... -...</code><input type="checkbox" aria-label="identified">' in written


def test_it_is_dark_where_the_reader_asks_for_it_and_never_on_paper() -> None:
    style = document([report("marsh")], PAGES["a5"])
    assert re.search(
        r"@media screen and \(prefers-color-scheme: dark\) \{\s*:root \{ --ink: #ddd; --paper: #000;", style
    )


def test_a_name_cannot_leave_a_string_of_css() -> None:
    assert css_text('a"b\n}</style>') == r'"a\22 b\a \7d \3c \2f style\3e "'


def test_flown_numbers_are_large_and_labels_legible() -> None:
    style = document([report("marsh")], PAGES["a5"])
    assert min(float(size) for size in re.findall(r"font(?:-size)?:[^;]*?([\d.]+)pt", style)) >= 8.0
    sizes = {
        name: float(size) for name, size in re.findall(r"\.(eta b|set b, \.hdg b|row) \{[^}]*?size: (\d+)pt", style)
    }
    assert sizes["eta b"] >= 14
    assert sizes["set b, .hdg b"] >= 14
    # Frequency, altitude and minimum stand in the type of the row.
    assert sizes["row"] >= 10


def test_only_black_white_and_greys() -> None:
    for name in NAMES:
        written = document([report(name)], PAGES["a4"])
        for colour in re.findall(r"#([0-9a-f]{6}|[0-9a-f]{3})\b(?=[\";])", written):
            assert len(set(re.findall("..", colour) if len(colour) == 6 else colour)) == 1


def printed(whole: Report, page: Page, folder: Path) -> Path:
    """The sheet as headless Chromium prints it."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if chromium is None or shutil.which("pdfinfo") is None:
        pytest.skip("chromium or pdfinfo (poppler-utils) is not installed: nothing was printed")
    source, target = folder / "sheet.html", folder / "sheet.pdf"
    source.write_text(document([whole], page), "utf-8")
    switches = [
        "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
        "--disable-component-update", "--disable-sync", "--no-pdf-header-footer", f"--user-data-dir={folder / 'user'}",
    ]  # fmt: skip
    command = [chromium, *switches, f"--print-to-pdf={target}", source.as_uri()]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return target


def output(*command: str) -> str:
    return subprocess.run(command, check=True, capture_output=True, timeout=60).stdout.decode()


@pytest.mark.parametrize(
    ("name", "paper", "most"), [("hostile", "half-letter", 5), ("marsh", "a5", 7), ("dateline", "a4", 4)]
)
def test_a_browser_prints_it_whole(name: str, paper: str, most: int, tmp_path: Path) -> None:
    """Page size and number, every word of the file on paper, and none of it off the page."""
    page = PAGES[paper]
    target = printed(report(name), page, tmp_path)
    facts = dict(line.split(":", 1) for line in output("pdfinfo", str(target)).splitlines() if ":" in line)
    width, height = re.findall(r"[\d.]+", facts["Page size"])[:2]
    assert float(width) * POINT_MM == pytest.approx(page.width_mm, abs=0.5)
    assert float(height) * POINT_MM == pytest.approx(page.height_mm, abs=0.5)
    count = int(facts["Pages"])
    assert 2 <= count <= most
    boxes = ET.fromstring(
        re.sub(r"&(?!amp;|lt;|gt;|quot;|apos;|#)", "&amp;", output("pdftotext", "-bbox", str(target), "-"))
    )
    space = "{http://www.w3.org/1999/xhtml}"
    words = []
    for sheet in boxes.iter(f"{space}page"):
        for box in sheet.iter(f"{space}word"):
            words.append(box.text or "")
            assert float(box.attrib["xMin"]) * POINT_MM >= SIDE_MARGIN_MM - 0.5
            assert float(box.attrib["xMax"]) * POINT_MM <= page.width_mm - SIDE_MARGIN_MM + 0.5
            assert float(box.attrib["yMax"]) * POINT_MM <= page.height_mm - FOOT_MARGIN_MM + 0.5
    said = "".join(words)
    for number in range(1, count + 1):
        assert f"{number}/{count}" in words
    for phrase in outline(document([report(name)], page)).text:
        for word in phrase.split():
            assert word in said or not word.isascii(), word


@pytest.mark.parametrize("paper", ["half-letter", "a5"])
def test_ten_rows_are_one_front_in_a_browser_too(paper: str, tmp_path: Path) -> None:
    """The last landing with them; two receivers, a DME and an alternate, as for the PDF."""
    assert len(Printed.of(ten_rows()).route.needles) == 10
    target = printed(ten_rows(), PAGES[paper], tmp_path)
    front, back = (output("pdftotext", "-f", page, "-l", page, str(target), "-").split() for page in ("1", "2"))
    assert "out" in front[front.index("block") :]
    assert back.index("FINDINGS") < 12
    assert sum(bool(re.fullmatch(r"\d{4}", word)) for word in front) >= 10


@pytest.mark.parametrize("paper", ["half-letter", "a5"])
@pytest.mark.parametrize("many", [1, 6])
def test_notes_without_room_on_the_front_take_no_page_of_their_own(many: int, paper: str, tmp_path: Path) -> None:
    """They go on upon the back, as in the PDF; none is lost, and a short flight has them on its front."""
    said = [f"{number}: " + "of what the pilot wants to have before him in flight " * 3 for number in range(many)]
    notes = [f'note "{one.strip()}"' for one in said]
    target = printed(ten_rows(*notes), PAGES[paper], tmp_path)
    front, back = (output("pdftotext", "-f", page, "-l", page, str(target), "-").split() for page in ("1", "2"))
    assert "out" in front[front.index("block") :]
    assert back.index("FINDINGS") < 12
    assert " ".join(output("pdftotext", str(target), "-").split()).count("to have before him in flight") == 3 * many
    short, *_ = reports(changed(*notes[:1]))
    head, _, rest = document([short], PAGES[paper]).partition('<section class="back">')
    assert ("NOTE: 0: of" in head, "0: of" in rest) == (True, False)


def ten_rows(*more: str) -> Report:
    """A flight of eight fixes between two landings at one airport."""
    names = [f"N{number:03d}" for number in range(1, 9)]
    fixes = (f"fix {name} QHB {(37 * number) % 360 + 1:03d} {8 + number}nm" for number, name in enumerate(names, 1))
    text = changed(
        *fixes, *more, "equipment vor 2 dme 1", "alternate XOLD", f"route XHAR {' '.join(names)} XHAR",
        without=("direct", "airway"),
    )  # fmt: skip
    (whole,) = reports(text)
    return whole
