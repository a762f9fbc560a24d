"""Each golden sheet against its twin, worked outside navlog step by step (`tests/golden/*/worked.txt`)."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from helpers.flown import GOLDEN
from helpers.printed import PrintedLog, printed_logs

TWINS = sorted(GOLDEN.glob("*/worked.txt"))


@dataclass(slots=True)
class Twin:
    """What a twin says the sheet must show for one flight."""

    name: str
    stations: dict[str, str] = field(default_factory=dict)
    legs: dict[int, dict[str, str]] = field(default_factory=dict)
    remarks: dict[int, list[str]] = field(default_factory=dict)
    total: dict[str, str] = field(default_factory=dict)
    fuel: dict[str, str] = field(default_factory=dict)


def twins(text: str) -> list[Twin]:
    """The flights of a twin: its `sheet` lines, cells apart by `|`, each a heading and a figure."""
    found: list[Twin] = []
    for line in text.splitlines():
        if line.startswith("flight "):
            found.append(Twin(line.removeprefix("flight ")))
        match = re.match(r"  sheet (\w+) ?(\w*) \| (.*)", line)
        if match is None:
            continue
        kind, which, rest = match.groups()
        cells = dict(cell.split(" ", 1) for cell in rest.split(" | "))
        if kind == "station":
            found[-1].stations[which] = rest
        elif kind == "leg":
            found[-1].legs[int(which)] = cells
        elif kind == "remark":
            found[-1].remarks.setdefault(int(which), []).append(rest)
        elif kind == "total":
            found[-1].total = cells
        elif kind == "fuel":
            found[-1].fuel = {key.replace("on", "board"): value.removeprefix("board ") for key, value in cells.items()}
    return found


PAIRS = [
    pytest.param(twin, sheet, id=twin.name)
    for path in TWINS
    for twin, sheet in zip(
        twins(path.read_text("utf-8")),
        printed_logs((path.parent / "text").read_text("utf-8")),
        strict=True,
    )
]


@pytest.mark.parametrize(("twin", "sheet"), PAIRS)
def test_legs_are_as_worked(twin: Twin, sheet: PrintedLog) -> None:
    assert twin.name == sheet.name
    printed = {int(leg.cells["No"]): leg.cells for leg in sheet.legs}
    assert printed.keys() == twin.legs.keys()
    for number, cells in twin.legs.items():
        assert {key: printed[number][key] for key in cells} == cells


@pytest.mark.parametrize(("twin", "sheet"), PAIRS)
def test_remarks_are_as_worked(twin: Twin, sheet: PrintedLog) -> None:
    """Every remark that follows from geometry; whose minimum it is and the like stands in the route file."""
    worked = [(number, text) for number, texts in sorted(twin.remarks.items()) for text in texts]
    printed = [
        (int(leg.cells["No"]), text)
        for leg in sheet.legs
        for text in leg.remarks
        if re.search(r"^needle \d|^at \w+ the course turns|set \d+ FROM", text)
    ]
    assert printed == worked


@pytest.mark.parametrize(("twin", "sheet"), PAIRS)
def test_stations_totals_and_fuel_are_as_worked(twin: Twin, sheet: PrintedLog) -> None:
    assert sheet.stations.keys() == twin.stations.keys()
    for ident, worked in twin.stations.items():
        figures = [cell.split(" ", 1)[1] for cell in worked.split(" | ")]
        assert sheet.stations[ident].split()[1 : 1 + len(" ".join(figures).split())] == " ".join(figures).split()
    assert sheet.total == twin.total
    assert sheet.fuel == twin.fuel


@pytest.mark.parametrize("path", TWINS, ids=lambda path: path.parent.name)
def test_a_twin_says_how_it_was_worked(path: Path) -> None:
    assert path.read_text("utf-8").startswith("Worked outside navlog, independently of it:")
