"""What holds for every flight, asked of some flights of the grammar; `fuzz_flights.py` asks it of many."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.grammar import flight
from helpers.invariants import INVARIANTS
from helpers.made import Made, folder_of_files

from navlog.request.references import References

# The first two are flown back as well; among the others are an aircraft file, a landing, a pole and the 180th meridian.
FLIGHTS = (14, 28, 3, 8, 12)


@pytest.mark.parametrize("number", FLIGHTS)
def test_what_holds_for_every_flight(number: int, tmp_path: Path) -> None:
    made = Made(flight(number), folder_of_files(tmp_path), References())
    assert {name: faults for name, one in INVARIANTS.items() if (faults := list(one(made)))} == {}
