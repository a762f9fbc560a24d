"""A stated changeover point that no section of its airway can have is refused, never moved to the middle."""

from __future__ import annotations

import pytest
from helpers.flown import changed, flight, flights

SPLIT = "airway V801 QHB 212 - MARSH 8.9nm mea 3000 {} - 034 QEL 20.7nm mea 3000 {}"
MARSH = "fix MARSH N46 04.00 W039 24.23"


def told(*statements: str) -> list[tuple[str, str, int]]:
    """Code and message of each problem, and the column where it stands."""
    (found,) = flights(changed(*statements))
    return [(one["code"], one["message"], one["column"]) for one in found["problems"]]


@pytest.mark.parametrize(
    ("cop", "code", "message"),
    [
        ("cop 11 QXX", "unknown-name", "no station is called `QXX`"),
        ("cop 11 XHAR", "bad-changeover", "`XHAR` is no VOR at an end of the section QHB to QEL"),
        ("cop 11 QSK", "bad-changeover", "`QSK` is no VOR at an end of the section QHB to QEL"),
        ("cop 45 QHB", "bad-changeover", "45.0 NM from `QHB` lie beyond the section QHB to QEL, 29.5 NM"),
    ],
)
def test_a_changeover_that_cannot_be_is_a_problem_at_its_station(cop: str, code: str, message: str) -> None:
    statement = f"airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 {cop}"
    assert told(statement) == [(code, message, statement.rindex(cop.split()[2]) + 1)]


def test_the_same_holds_for_a_direct_leg() -> None:
    statement = "direct QHB 212 - 034 QEL 29.5nm cop 30 QEL"
    ((code, message, _),) = told(statement, "route XHAR QHB QEL XOLD")
    assert code == "bad-changeover"
    assert message == "30.0 NM from `QEL` lie beyond the section QHB to QEL, 29.5 NM"


@pytest.mark.parametrize("places", [("cop 11 QHB", ""), ("", "cop 11 QHB"), ("", "cop 18 QEL")])
def test_a_section_runs_over_fixes_from_one_station_to_the_next(places: tuple[str, str]) -> None:
    legs = flight(changed(MARSH, SPLIT.format(*places)))["legs"]
    (changeover,) = [leg["changeover"] for leg in legs if leg["changeover"] is not None]
    assert changeover["kind"] == "stated"


def test_the_length_of_the_whole_section_counts() -> None:
    assert told(MARSH, SPLIT.format("cop 25 QHB", "")) == []
    (found,) = told(MARSH, SPLIT.format("cop 31 QHB", ""))
    assert found[1] == "31.0 NM from `QHB` lie beyond the section QHB to QEL, 29.6 NM"


def test_a_station_out_of_service_still_ends_its_section() -> None:
    assert told("unavailable QEL", "airway V801 QHB 212 - 034 QEL 29.5nm mea 3000 cop 11 QEL") == []
