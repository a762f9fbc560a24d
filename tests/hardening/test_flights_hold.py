"""What holds for every flight, asked of some flights of the grammar; `fuzz_flights.py` asks it of many."""

from __future__ import annotations

import pytest
from helpers.grammar import FILES, flight
from helpers.invariants import INVARIANTS, Made
from helpers.tiles import write_islands

from navlog.request.references import References

# Of these the first two are flown back as well; among them are an aircraft file, a landing, a pole and the 180th
# meridian.
FLIGHTS = (14, 28, 3, 8, 12)


@pytest.fixture(scope="module")
def references(tmp_path_factory: pytest.TempPathFactory) -> References:
    return References({**FILES, "terrain": str(write_islands(tmp_path_factory.mktemp("terrain")).parent)})


@pytest.mark.parametrize("number", FLIGHTS)
def test_what_holds_for_every_flight(number: int, references: References) -> None:
    made = Made(flight(number), references)
    assert {name: faults for name, one in INVARIANTS.items() if (faults := list(one(made)))} == {}
