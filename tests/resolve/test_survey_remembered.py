"""What is remembered of airways and direct legs from one flight to the next, and what stays each flight's own."""

from __future__ import annotations

from itertools import permutations
from pathlib import Path

import pytest

from navlog.catalogue import open_catalogue
from navlog.catalogue.queries import Catalogue
from navlog.resolve import survey
from navlog.rules.answers import check_text
from navlog.sheets.json_lines import json_line

HEAD = "date 2026-07-18\noff 15:10Z\ntas 110kt\nburn 8.5gph\nwind 3000 230/12 6000 240/18\nfuel 38gal\n"
FLIGHTS = (
    "altitude 4500\nequipment vor 2 dme 1\nroute XHAR QHB V801 QEL XOLD\n",
    "altitude 8500\nequipment vor 2 dme 1\nroute XHAR QHB V801 QEL/A065 XOLD\n",
    "altitude 4500\nequipment vor 2 dme 1\nroute XHAR QHB/A055 V805 COVEY/A065 V805 QSK V803 REEFY XOLD\n",
    "altitude 6500\nequipment vor 2 dme 1\nroute QHB V805 QSK V803 QEL V801 QHB\n",
    "altitude 4500\nequipment vor 2 dme 0\nroute XHAR QHB V801 QEL XOLD\n",
    "altitude 5500\nequipment vor 2 dme 1\nvariation 12W\nroute XOLD QEL V801 QHB XHAR\n",
    "altitude 4500\nequipment vor 2 dme 1\nunavailable QEL\nroute XHAR QHB V801 QEL XOLD\n",
)


def told(catalogue: Catalogue, flight: str) -> str:
    """All that is told of a flight."""
    (answer,) = check_text(HEAD + flight, catalogue=catalogue)
    assert answer.report is not None, answer.problems
    return json_line(answer)


def test_runs_that_overlap_share_what_they_say_of_a_hop(islands: str) -> None:
    with open_catalogue(Path(islands)) as catalogue:
        there, part = (
            check_text(f"{HEAD}altitude 4500\nroute QHB {route}\n", catalogue=catalogue)[0].report
            for route in ("V805 QSK", "V805 COVEY")
        )
    assert there is not None
    assert part is not None
    before, after = there.log.route.stretches[0], part.log.route.stretches[0]
    assert before.end.ident == after.end.ident
    assert before.parts is after.parts


def test_hops_within_the_same_limits_share_them(islands: str) -> None:
    with open_catalogue(Path(islands)) as catalogue:
        (flown,) = check_text(f"{HEAD}altitude 4500\nroute XHAR QHB V801 QEL XOLD\n", catalogue=catalogue)
    assert flown.report is not None
    first, *_, last = flown.report.log.route.stretches
    assert (first.via, last.via) == ("DCT", "DCT")
    assert first.limits is last.limits


def test_what_tells_a_fix_is_worked_out_once_for_all_ways_to_it_on_one_station(islands: str) -> None:
    with open_catalogue(Path(islands)) as catalogue:
        by_airway, direct = (
            check_text(f"{HEAD}altitude 4500\nroute QSK {way} REEFY\n", catalogue=catalogue)[0].report
            for way in ("V803", "DCT")
        )
    assert by_airway is not None
    assert direct is not None
    one, other = by_airway.log.route.stretches[0], direct.log.route.stretches[0]
    assert one.parts is not other.parts
    assert one.candidates
    assert other.candidates
    assert one.candidates[0] is other.candidates[0]


def test_what_is_remembered_of_hops_has_a_bound(islands: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(survey, "REMEMBERED", 4)
    with open_catalogue(Path(islands)) as catalogue:
        before = [told(catalogue, flight) for flight in FLIGHTS]
        memory = survey._MEMORIES[catalogue]
        # Eight at most, and those that one run adds: itself, its hops, and their limits.
        assert len(memory.held) <= 8 + 11
        assert len(memory.marks) <= 4
        assert [told(catalogue, flight) for flight in FLIGHTS] == before


def test_a_flight_is_the_same_whatever_was_asked_of_the_catalogue_before(islands: str) -> None:
    alone: list[str] = []
    for flight in FLIGHTS:
        with open_catalogue(Path(islands)) as fresh:
            alone.append(told(fresh, flight))
    for first, second in permutations(range(len(FLIGHTS)), 2):
        with open_catalogue(Path(islands)) as shared:
            told(shared, FLIGHTS[first])
            # As a truth value: a difference of two logs in full says nothing to a reader.
            assert bool(told(shared, FLIGHTS[second]) == alone[second]), (FLIGHTS[first], FLIGHTS[second])
