"""The search for ways against trying every one, on small drawn networks; and what its answers say."""

from __future__ import annotations

from itertools import pairwise
from math import inf

import pytest
from helpers.networks import Drawn, cost_of, every_way, least_cost, network_of
from hypothesis import given, settings
from hypothesis import strategies as st

from navlog.catalogue.network import Network
from navlog.nav import earth
from navlog.nav.chart import Position
from navlog.studies.way_alternatives import UnlikeWays
from navlog.studies.way_heights import lowest_way, way_round
from navlog.studies.way_search import WaySearch, best_way
from navlog.studies.ways import WayEnd, WayTerms, hops

PLACES = {
    name: (46.0 + 0.4 * row, -39.0 + 0.6 * column)
    for name, (row, column) in {
        "QAA": (0, 0), "QBB": (0, 1), "QCC": (0, 2), "QDD": (1, 0), "QEE": (1, 1), "QFF": (1, 2),
    }.items()
}  # fmt: skip
ALTITUDES = st.sampled_from([0.0, 3000.0, 4000.0, 6000.0, 9000.0])


@st.composite
def networks(draw: st.DrawFn) -> Network:
    """Up to four airways over six points, each way with its own limits, and some minimum turning altitudes."""
    links: list[Drawn] = []
    for number in range(draw(st.integers(1, 4))):
        chain = draw(st.lists(st.sampled_from(list(PLACES)), min_size=2, max_size=4, unique=True))
        for one, other in pairwise(chain):
            straight_nm = earth.distance_nm(Position(*PLACES[one]), Position(*PLACES[other]))
            distance_nm = straight_nm * draw(st.sampled_from([1.0, 1.0, 1.3]))
            for start, end in ((one, other), (other, one)):
                maa_ft = draw(st.sampled_from([99_999.0, 99_999.0, 5000.0, 9000.0]))
                closed = draw(st.sampled_from(["", "", "", "signal gap"]))
                heights = draw(ALTITUDES), draw(st.sampled_from([0.0, 0.0, 7000.0])), maa_ft, 0.0
                links.append(Drawn(f"V80{number}", start, end, distance_nm, *heights, closed, one, other))
    turns = draw(
        st.lists(
            st.tuples(st.integers(0, len(links) - 1), st.sampled_from([*PLACES, None]), st.just(8000.0)), max_size=3
        )
    )
    return network_of(PLACES, links, turns)


@settings(max_examples=300, deadline=None)
@given(networks(), st.sampled_from([3000.0, 5000.0, 9000.0]), st.sampled_from([0.0, 5.0, 40.0]), st.booleans())
def test_no_way_of_all_is_cheaper_than_the_best(network: Network, altitude_ft: float, change: float, out: bool) -> None:
    station = "QEE" if out else None
    terms = WayTerms(out=frozenset({station} if station else ()), change=change)
    found = best_way(network, [WayEnd(0)], [WayEnd(5)], altitude_ft, terms)
    least = least_cost(network, 0, 5, altitude_ft, change, station)
    assert (found.cost if found is not None else inf) == pytest.approx(least, abs=1e-6)
    if found is not None:
        assert found.distance_nm + change * found.changes == pytest.approx(found.cost, abs=1e-6)


@settings(max_examples=300, deadline=None)
@given(networks())
def test_the_lowest_altitude_is_the_lowest_of_all_at_which_some_way_is_there(network: Network) -> None:
    asked = {0.0, 8000.0, *network.mea_ft, *network.mca_ft}
    open_at = [ft for ft in sorted(asked) if least_cost(network, 0, 5, ft, 0.0, None) < inf]
    found = lowest_way(network, [WayEnd(0)], [WayEnd(5)])
    assert (found.altitude_ft if found is not None else None) == (open_at[0] if open_at else None)
    if found is not None and found.altitude_ft > 0.0:
        assert f"{found.altitude_ft:.0f}" in found.forced_by


LADDER = network_of(
    PLACES,
    [
        Drawn("V801", "QAA", "QBB", 25.0, 3000.0, behind="QAA", ahead="QBB"),
        Drawn("V801", "QBB", "QCC", 25.0, 3000.0, behind="QBB", ahead="QCC"),
        Drawn("V802", "QAA", "QDD", 24.0, 6000.0, behind="QAA", ahead="QDD"),
        Drawn("V802", "QDD", "QEE", 25.0, 6000.0, behind="QDD", ahead="QFF"),
        Drawn("V802", "QEE", "QFF", 25.0, 6000.0, behind="QDD", ahead="QFF"),
        Drawn("V803", "QFF", "QCC", 24.0, 5000.0, mca_ft=7000.0, behind="QFF", ahead="QCC"),
    ],
)


def test_with_a_station_out_the_way_round_costs_miles_and_feet() -> None:
    straight, round_it = way_round(LADDER, "QAA", "QCC"), way_round(LADDER, "QAA", "QCC", ("QBB",))
    assert straight is not None
    assert round_it is not None
    assert (hops(LADDER, straight[0]), straight[1]) == ((("V801", "QAA", "QCC", 50.0),), 3000.0)
    assert hops(LADDER, round_it[0]) == (("V802", "QAA", "QFF", 74.0), ("V803", "QFF", "QCC", 24.0))
    assert (round_it[0].distance_nm - straight[0].distance_nm, round_it[1]) == (48.0, 7000.0)
    assert way_round(LADDER, "QAA", "QCC", ("QBB",), 6000.0) is None
    assert way_round(LADDER, "QAA", "QCC", ("QBB", "QFF")) is None
    assert way_round(LADDER, "QAA", "QZZ") is None


def test_points_to_pass_are_passed_in_order_and_what_is_avoided_is_not() -> None:
    starts, goals = [WayEnd(0)], [WayEnd(2)]
    by_the_south = WayTerms(via=(frozenset({4}),))
    found = best_way(LADDER, starts, goals, 9000.0, by_the_south)
    assert found is not None
    assert 4 in {LADDER.end[link] for link in found.links}
    assert best_way(LADDER, starts, goals, 9000.0, WayTerms(via=(frozenset({4}), frozenset({1})))) is None
    assert best_way(LADDER, starts, goals, 9000.0, WayTerms(avoided=frozenset({"QBB", "V802"}))) is None


def test_a_mile_off_the_airways_costs_more_than_one_on_them() -> None:
    starts = [WayEnd(0, off_nm=30.0), WayEnd(3, off_nm=5.0)]
    goals = [WayEnd(2, off_nm=20.0)]
    found = best_way(LADDER, starts, goals, 9000.0)
    dear = best_way(LADDER, starts, goals, 9000.0, WayTerms(off=1.0, change=0.0))
    assert found is not None
    assert dear is not None
    assert (found.off_airway_nm, found.distance_nm, found.cost) == (25.0, 99.0, 1.5 * 25.0 + 74.0 + 5.0)
    assert (dear.distance_nm, dear.cost) == (99.0, 99.0)


def test_a_way_by_one_station_alone_is_found_only_where_it_is_asked_for() -> None:
    starts, goals = [WayEnd(0, off_nm=10.0)], [WayEnd(0, off_nm=10.0), WayEnd(2, off_nm=1.0)]
    by_airways = best_way(LADDER, starts, goals, 9000.0)
    by_station = best_way(LADDER, starts, goals, 9000.0, WayTerms(by_station=True))
    assert by_airways is not None
    assert by_station is not None
    assert (by_airways.distance_nm, by_station.distance_nm) == (61.0, 20.0)


def test_an_end_counts_only_where_its_station_is_received() -> None:
    high = [WayEnd(0, lowest_ft=8000.0, forced_by="QAA is received at XHAR from 8000")]
    assert best_way(LADDER, high, [WayEnd(2)], 7000.0) is None
    lowest = lowest_way(LADDER, high, [WayEnd(2)])
    assert lowest is not None
    assert (lowest.altitude_ft, lowest.forced_by) == (8000.0, "QAA is received at XHAR from 8000")


SHARED = 0.6
"""At most 60 percent of an alternative is flown by one before it."""


def segments(network: Network, links: tuple[int, ...]) -> set[frozenset[int]]:
    return {frozenset((network.start[link], network.end[link])) for link in links}


def points(network: Network, links: tuple[int, ...]) -> list[int]:
    return [network.start[links[0]], *(network.end[link] for link in links)]


def shared_nm(network: Network, links: tuple[int, ...], other: tuple[int, ...]) -> float:
    own = ((frozenset((network.start[link], network.end[link])), network.distance_nm[link]) for link in links)
    return sum(nm for segment, nm in own if segment in segments(network, other))


@settings(max_examples=400, deadline=None)
@given(networks())
def test_no_way_of_all_that_is_unlike_those_before_it_is_cheaper(network: Network) -> None:
    search = WaySearch(network, WayTerms(change=5.0), 9000.0)
    ends = [WayEnd(0)], [WayEnd(5)]
    best = search.best(*ends)
    if best is None:
        return
    most = 2.0 * best.distance_nm
    alternatives = UnlikeWays(search, ends, most, (1.2 * best.cost, 2.0 * most))
    taken = [best]
    every = [way for way in every_way(network, 0, 5, 9000.0, None) if way]
    simple = [way for way in every if len(set(points(network, way))) == len(way) + 1]
    for _ in range(2):
        unlike = [
            way
            for way in simple
            if sum(network.distance_nm[link] for link in way) <= most
            and all(
                shared_nm(network, way, one.links) <= SHARED * sum(network.distance_nm[link] for link in way) + 1e-9
                for one in taken
            )
        ]
        found = alternatives.unlike(taken)
        least = min((cost_of(network, way, 5.0) for way in unlike), default=inf)
        assert (found.cost if found is not None else inf) == pytest.approx(least, abs=1e-6)
        if found is None:
            return
        assert found.cost == pytest.approx(cost_of(network, found.links, 5.0), abs=1e-6)
        taken.append(found)


def test_the_miles_off_the_airways_count_as_shared_where_two_ways_leave_at_one_point() -> None:
    search = WaySearch(LADDER, WayTerms(), 9000.0)
    best = search.best([WayEnd(0, 60.0)], [WayEnd(2, 60.0)])
    assert best is not None
    # By the south 98 NM are all another's, of 218 the 120 off the airways are shared: 55 percent.
    near, far = ([WayEnd(0, 60.0)], [WayEnd(2, 60.0)]), ([WayEnd(0, 90.0)], [WayEnd(2, 90.0)])
    found = UnlikeWays(search, near, 300.0, (400.0,)).unlike([best])
    assert found is not None
    assert (found.distance_nm, found.off_airway_nm) == (218.0, 120.0)
    # Of 278 NM 180 are: 65 percent.
    assert UnlikeWays(search, far, 400.0, (500.0,)).unlike([best]) is None


def test_a_point_to_pass_is_passed_by_the_others_too() -> None:
    links = [
        Drawn("V801", "QAA", "QBB", 25.0), Drawn("V801", "QBB", "QCC", 25.0),
        Drawn("V802", "QAA", "QDD", 25.0), Drawn("V802", "QDD", "QEE", 25.0), Drawn("V802", "QEE", "QCC", 40.0),
        Drawn("V803", "QDD", "QFF", 50.0), Drawn("V803", "QFF", "QCC", 25.0),
    ]  # fmt: skip
    network = network_of(PLACES, links)
    search = WaySearch(network, WayTerms(via=(frozenset({5}),)), 9000.0)
    ends = [WayEnd(0)], [WayEnd(2)]
    straight = WaySearch(network, WayTerms(), 9000.0).best(*ends)
    assert straight is not None
    found = UnlikeWays(search, ends, 200.0, (300.0,)).unlike([straight])
    assert found is not None
    assert points(network, found.links) == [0, 3, 5, 2]
