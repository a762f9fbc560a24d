"""Runs of small invented airways: where each begins and ends, whatever stations go."""

from __future__ import annotations

import pytest
from helpers.networks import Drawn, network_of

from navlog.catalogue.network import Network
from navlog.studies.runs_lost import every_run, links_by_station, runs_lost

# V1 is AAA - fix1 - BBB - fix2 - CCC - DDD - fix3, 10 NM a piece; AAA, BBB, CCC and DDD are VORs.
POINTS = ("AAA", "FIXAA", "BBB", "FIXBB", "CCC", "DDD", "FIXCC")
GUIDES = (("AAA", "BBB"), ("AAA", "BBB"), ("BBB", "CCC"), ("BBB", "CCC"), ("CCC", "DDD"), ("DDD", None))
ORDER = {"V1": POINTS}


def drawn(closed: dict[int, str] | None = None) -> Network:
    links = []
    for index, (behind, ahead) in enumerate(GUIDES):
        start, end = POINTS[index : index + 2]
        why = (closed or {}).get(index, "")
        links.append(Drawn("V1", start, end, 10.0, 1_000.0 + index, closed=why, behind=behind, ahead=ahead))
        links.append(Drawn("V1", end, start, 10.0, 2_000.0 + index, closed=why, behind=ahead, ahead=behind))
    return network_of({name: (40.0 + place / 6.0, -60.0) for place, name in enumerate(POINTS)}, links)


def runs(out: tuple[str, ...], closed: dict[int, str] | None = None) -> list[tuple[str, str, float]]:
    network = drawn(closed)
    found = runs_lost(network, links_by_station(network), out, ORDER)
    return [(run.start, run.end, run.distance_nm) for run in found]


@pytest.mark.parametrize(
    ("out", "expected"),
    [
        (("BBB",), [("AAA", "CCC", 40.0)]),
        (("AAA",), [("AAA", "BBB", 20.0)]),
        (("DDD",), [("CCC", "FIXCC", 20.0)]),
        (("BBB", "CCC"), [("AAA", "DDD", 50.0)]),
        # CCC stays between them and parts the two.
        (("BBB", "DDD"), [("AAA", "CCC", 40.0), ("CCC", "FIXCC", 20.0)]),
        (("AAA", "BBB", "CCC", "DDD"), [("AAA", "FIXCC", 60.0)]),
        (("EEE",), []),
    ],
)
def test_a_run_ends_at_the_stations_that_stay(out: tuple[str, ...], expected: list[tuple[str, str, float]]) -> None:
    assert runs(out) == expected


def test_what_is_no_way_for_vor_is_no_part_of_a_run() -> None:
    assert runs(("BBB",), {1: "GNSS only"}) == [("AAA", "FIXAA", 10.0), ("BBB", "CCC", 20.0)]
    assert runs(("BBB",), {1: "signal gap"}) == [("AAA", "CCC", 40.0)]


def test_the_lowest_altitude_is_that_of_the_direction_as_written() -> None:
    network = drawn()
    (run,) = runs_lost(network, links_by_station(network), ("BBB",), ORDER)
    assert run.asked_ft == 1_003.0
    (back,) = runs_lost(network, links_by_station(network), ("BBB",), {"V1": POINTS[::-1]})
    assert (back.start, back.end, back.asked_ft) == ("CCC", "AAA", 2_003.0)


def test_every_run_lies_between_two_neighbouring_stations() -> None:
    found = [(run.start, run.end) for run in every_run(drawn(), ORDER)]
    assert found == [("AAA", "BBB"), ("BBB", "CCC"), ("CCC", "DDD"), ("DDD", "FIXCC")]
