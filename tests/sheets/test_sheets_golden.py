"""Every format of text, byte for byte, over invented flights; `pytest --update-golden` rewrites them."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from helpers.drawn import NAMES, ROUTES, sheet
from helpers.flown import GOLDEN

from navlog.sheets.formats import MODULES

FOLDER = GOLDEN / "sheets"
TEXTS = [form for form in MODULES if form not in ("pdf", "json")]


@pytest.fixture(autouse=True)
def _beside_the_routes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROUTES)


def compare(golden: Path, written: bytes, request: pytest.FixtureRequest) -> None:
    if request.config.getoption("--update-golden"):
        golden.parent.mkdir(parents=True, exist_ok=True)
        golden.write_bytes(written)
    assert golden.read_bytes() == written


@pytest.mark.parametrize("form", TEXTS)
@pytest.mark.parametrize("name", NAMES)
def test_a_flight_prints_its_golden_sheet(name: str, form: str, request: pytest.FixtureRequest) -> None:
    compare(FOLDER / name / form, sheet(f"{name}.route", "--format", form), request)


@pytest.mark.parametrize("name", NAMES)
def test_a_pdf_holds_its_golden_words_on_as_many_pages(
    name: str, request: pytest.FixtureRequest, tmp_path: Path
) -> None:
    """The words of each page as poppler reads them, a form feed behind each page."""
    pytest.importorskip("reportlab", reason="the extra `pdf` is not installed")
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext (poppler-utils) is not installed")
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet(f"{name}.route", "--format", "pdf"))
    text = subprocess.run(["pdftotext", "-raw", str(path), "-"], capture_output=True, check=True).stdout.decode()
    pages = [" ".join(page.split()) for page in text.removesuffix("\f").split("\f")]
    compare(FOLDER / name / "pdf.txt", "\n\f\n".join(pages).encode() + b"\n", request)
