"""A fact of the flight is told in the same words by the finding and by every sheet."""

from __future__ import annotations

import pytest
from helpers.folder import Folder

ROUTE = (
    "station QHB 113.70 N46 12.30 W039 20.70 decl 15W dme elev 820ft\n"
    "station QEL 110.20 N45 44.10 W039 33.00 decl true dme elev 410ft\n"
    "station QSO 112.30 N45 20.00 W039 40.00 decl 17W dme elev 410ft\n"
    "airway V801 QHB 212 - QEL 29.5nm mea 3000 gap 6nm cop 11 QHB\n"
    "airway V802 QEL - 030 QSO 24.6nm mea 5000 mca 4500 QEL to QSO\n"
    "date 2026-07-18\noff 15:10Z\ntas 110kt\nburn 8gph\nfuel 38gal\nwind 230/12\naltitude 5500\n"
    "route QHB V801 QEL V802 QSO\n"
)
SHEETS = ("text", "steps", "strip", "markdown", "html")


@pytest.mark.parametrize("form", SHEETS)
def test_a_gap_is_told_in_the_same_words(folder: Folder, form: str) -> None:
    told = " ".join(folder.run(ROUTE, "--format", form).out.split())
    assert "signal gap of 6 NM" in told
    assert "signal gap of 6 NM, hold heading" in " ".join(folder.run(ROUTE).out.split())


@pytest.mark.parametrize("form", ["text", "steps", "markdown"])
def test_a_crossing_altitude_is_told_in_the_same_words(folder: Folder, form: str) -> None:
    told = " ".join(folder.run(ROUTE, "--format", form).out.split()).lower()
    assert "cross qel at 4500 ft or above (mca)" in told


@pytest.mark.parametrize("form", SHEETS)
def test_a_changeover_point_is_told_in_the_same_words(folder: Folder, form: str) -> None:
    assert "11.0 NM from QHB" in " ".join(folder.run(ROUTE, "--format", form).out.split())


def test_a_setting_by_true_north_is_marked_in_findings_as_on_the_sheet(folder: Folder) -> None:
    told = " ".join(folder.run(ROUTE).out.split())
    assert "QEL 110.20 192T FROM" in told
    assert "at QEL set 192T FROM QEL, 5 degrees from 197" in told
