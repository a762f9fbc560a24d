"""What every sheet says of its origin: file and hash, version, data, variation, wind, findings, legend, cautions."""

from __future__ import annotations

import csv
import html
import io
import re
from datetime import date
from hashlib import sha256

import pytest
from helpers.drawn import NAMES, ROUTES, report, reports, sheet

from navlog.nav.chart import Provenance, Source
from navlog.nav.record import changed as replace
from navlog.printed.head import data_text, unverified_names
from navlog.rules.report import Report, judge
from navlog.sheets.pages import PAGES
from navlog.sheets.strip import strip
from navlog.version import VERSION

SHEETS = ("text", "strip", "steps", "planning", "markdown", "html")


def words(written: bytes) -> str:
    """A sheet's words in a row, without tags, entities and escapes."""
    text = re.sub(r"<style>.*?</style>|<[^>]*>", " ", written.decode(), flags=re.DOTALL)
    return " ".join(re.sub(r"\\(?=[\W_])", "", html.unescape(text)).split())


@pytest.mark.parametrize("form", SHEETS)
@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_says_what_it_was_computed_from(name: str, form: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROUTES)
    digest = sha256((ROUTES / f"{name}.route").read_bytes()).hexdigest()
    said = words(sheet(f"{name}.route", "--format", form))
    wind = "NO WIND GIVEN" if name == "nothing_given" else "(as stated)"
    for wanted in (
        f"navlog {VERSION}, {name}.route SHA-256 {digest[:12]}",
        "Data: the route file only",
        "Variation by WMM2025",
        "Wind, true: ",
        wind,
        "FINDINGS",
        "Distances NM",
        "For planning only. Verify every figure against current charts and NOTAMs",
    ):
        assert wanted in said, wanted
    assert re.search(r"2026-\d\d-\d\d", said)


def test_every_row_of_the_csv_says_where_it_comes_from() -> None:
    path = ROUTES / "marsh.route"
    rows = list(csv.DictReader(io.StringIO(sheet(str(path), "--format", "csv").decode(), newline="")))
    assert [row["alternate"] for row in rows] == [""] * 10 + ["XOLD from XHAR"] * 3
    for row in rows:
        assert row["sha256"] == sha256(path.read_bytes()).hexdigest()
        assert (row["navlog"], row["date"]) == (VERSION, "2026-11-14")
        assert "WMM2025" in row["variation_by"]
        assert row["caution"].startswith("For planning only.")


def unverified(name: str) -> Report:
    """A flight's report with every station from a source that does not vouch for its data."""
    text = (ROUTES / f"{name}.route").read_text("utf-8")
    (whole,) = reports(text)
    log = whole.log
    source = Provenance(Source.OURAIRPORTS, verified=False)
    stretches = tuple(
        replace(
            stretch,
            parts=tuple(
                part
                if part.guidance is None
                else replace(
                    part,
                    guidance=replace(part.guidance, station=replace(part.guidance.station, provenance=source)),
                )
                for part in stretch.parts
            ),
        )
        for stretch in log.route.stretches
    )
    legs = tuple(
        replace(
            leg,
            part=next(part for part in stretches[leg.stretch.number - 1].parts if part.start_nm == leg.part.start_nm),
        )
        for leg in log.legs
    )
    return judge(replace(log, legs=legs, route=replace(log.route, stretches=stretches, sources=(source,))))


def test_what_nobody_vouches_for_is_marked() -> None:
    marked = unverified("nothing_given")
    assert unverified_names(marked.log) == ("QHB", "QEL")
    printed = strip(marked, PAGES["half-letter"])
    assert "QHB* 113.70" in printed
    assert "UNVERIFIED" in printed
    assert "UNVERIFIED" not in strip(report("nothing_given"), PAGES["half-letter"])


def test_a_cycle_prints_the_day_it_expires() -> None:
    log = report("nothing_given").log
    source = Provenance(Source.NASR, "2605", date(2026, 5, 14), date(2026, 6, 11))
    assert data_text(replace(log, route=replace(log.route, sources=(source,)))) == (
        "NASR cycle 2605, 2026-05-14, expires 2026-06-11"
    )
