"""What holds for every flight, asked of some flights of the grammar; `fuzz_flights.py` asks it of many."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.grammar import flight
from helpers.grammar_files import several
from helpers.grammar_hills import hill_flight
from helpers.grammar_published import published_flight
from helpers.invariants import INVARIANTS
from helpers.invariants_of_files import INVARIANTS_OF_FILES
from helpers.made import CATALOGUE, EXCERPT, Made, folder_of_files
from helpers.second_climbs import climbs_agree
from helpers.second_ground import ground_agrees

from navlog.request.references import References

# The first two are flown back as well; among the others are an aircraft file, a landing, a pole and the 180th meridian.
FLIGHTS = ((14, 0.0), (28, 0.0), (3, 0.0), (8, 0.0), (12, 0.0), (13, 0.5), (14, 1.0))


@pytest.mark.parametrize(("number", "charted"), FLIGHTS)
def test_what_holds_for_every_flight(number: int, charted: float, tmp_path: Path) -> None:
    made = Made(flight(number, charted), folder_of_files(tmp_path), References())
    assert {name: faults for name, one in INVARIANTS.items() if (faults := list(one(made)))} == {}


@pytest.mark.parametrize("number", [29, 45])
def test_what_holds_for_every_flight_along_published_airways(number: int, tmp_path: Path) -> None:
    folder = folder_of_files(tmp_path)
    made = Made(published_flight(number), folder, References(), published=str(folder / EXCERPT))
    assert {name: faults for name, one in INVARIANTS.items() if (faults := list(one(made)))} == {}


def test_what_holds_for_climbs_and_descents_past_hills(tmp_path: Path) -> None:
    folder = folder_of_files(tmp_path)
    made = Made(hill_flight(132), folder, References(), published=str(folder / CATALOGUE))
    assert [fault for one in (ground_agrees, climbs_agree) for fault in one(made)] == []


@pytest.mark.parametrize("number", [7, 15])
def test_what_holds_for_every_file_of_several_flights(number: int, tmp_path: Path) -> None:
    file = several(number)
    made = Made(file.lines, folder_of_files(tmp_path), References())
    assert {name: faults for name, one in INVARIANTS_OF_FILES.items() if (faults := list(one(file, made)))} == {}
