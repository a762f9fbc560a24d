"""The best way through the network of airways at one altitude: A* over links.

A state is a link flown, so that a turn from one airway onto another can cost and be forbidden. Costs are those of
`WayTerms`; the straight distance to the goal, a little shortened, is the bound that leads the search.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from heapq import heappop, heappush
from itertools import pairwise
from math import inf

from navlog.catalogue.network import Network, chord_nm, vector
from navlog.studies.ways import WayEnd, WayFound, WayTerms, closed_by_name, turn_ft

_LEAST = 0.985
"""Of a distance on a sphere, what no geodesic and no published length falls under."""

_SET_OUT, _ARRIVED = -1, -2
"""In place of a link: the way to the first point, and the one from the last."""

_TIE = 1e-6
"""Costs so near each other are equal, whatever the order in which they were added up."""

_Vector = tuple[float, float, float]


def best_way(
    network: Network,
    starts: Sequence[WayEnd],
    goals: Sequence[WayEnd],
    altitude_ft: float,
    terms: WayTerms | None = None,
) -> WayFound | None:
    """The cheapest way from one of `starts` to one of `goals`, level at `altitude_ft`; None where there is none.

    A link is flown only where the altitude meets its MEA in that direction, the MCA at its start, the height from
    which its stations are usable, and its MAA; never where it is closed, guided by a station that is out, or
    avoided; a turn onto another airway only where the altitude meets the MTA. No way turns back on itself.
    """
    return _Search(network, terms or WayTerms(), altitude_ft).run(starts, goals)


class _Search:
    """One search: which links may be flown, what each costs, and how far it has come.

    `heap` holds (bound, cost, number, link, point, points to pass that are behind); `trail`
    holds by number what came before each, its link, and the end where it is one.
    """

    def __init__(self, network: Network, terms: WayTerms, altitude_ft: float) -> None:
        self.network = network
        self.terms = terms
        self.altitude_ft = altitude_ft
        self.closed = closed_by_name(network, terms)
        self.trail: list[tuple[int, int, WayEnd | None]] = []
        self.heap: list[tuple[float, float, int, int, int, int]] = []

    def run(self, starts: Sequence[WayEnd], goals: Sequence[WayEnd]) -> WayFound | None:
        """The cheapest way, None where there is none."""
        leaving: dict[int, list[WayEnd]] = {}
        for goal in goals:
            # Level all the way: a place that asks for more height is no place to leave from at this one.
            if goal.lowest_ft <= self.altitude_ft:
                leaving.setdefault(goal.point, []).append(goal)
        if not leaving:
            return None
        self.bound = _Bound(self.network, leaving, self.terms)
        for start in starts:
            if start.lowest_ft <= self.altitude_ft:
                self.push(self.off_cost(start), (_SET_OUT, start.point, 0), -1, start)
        number, cost = self.settled(leaving)
        return None if number < 0 else self.way(number, cost)

    def settled(self, leaving: Mapping[int, Sequence[WayEnd]]) -> tuple[int, float]:
        """The number in the trail, and the cost, of the first arrival; -1 where there is none."""
        heap, terms = self.heap, self.terms
        done: set[tuple[int, int]] = set()
        ways_on: dict[int, list[tuple[int, int, int, float]]] = {}
        turning, airways, starts = self.network.turning_links, self.network.airway, self.network.start
        last = len(terms.via)
        first_at: dict[int, float] = {}
        # A number in the trail from which, or from before which, a way may be barred that others may take.
        barred: set[int] = set()
        while heap:
            _, cost, number, link, point, passed = heappop(heap)
            if link == _ARRIVED:
                return number, cost
            # The bound never overestimates: what comes off the heap first is cheapest (Hart, Nilsson, Raphael, 1968).
            if (link, passed) in done:
                continue
            airway = came_from = -1
            turns = False
            # Several ends may begin at one point, each with its own miles off the airways behind it.
            if link != _SET_OUT:
                done.add((link, passed))
                airway, came_from, turns = airways[link], starts[link], link in turning
            if not last:
                # What came to a point for less by more than a change of airway goes on for less, whatever is ahead.
                if cost > first_at.get(point, inf):
                    continue
                if turns or self.trail[number][0] in barred or (link == _SET_OUT and point in leaving and not terms.by_station):
                    barred.add(number)
                elif point not in first_at:
                    first_at[point] = cost + terms.change + _TIE
            if passed == last and (link != _SET_OUT or terms.by_station):
                for goal in leaving.get(point, ()):
                    self.push(cost + self.off_cost(goal), (_ARRIVED, point, passed), number, goal)
            onward_ways = ways_on.get(point)
            if onward_ways is None:
                onward_ways = ways_on[point] = self.onward(point)
            for onward, end, its_airway, price in onward_ways:
                # Straight back is a reversal in the air, also where a point to pass would ask for it.
                if end == came_from or (onward, passed) in done:
                    continue
                if turns and turn_ft(self.network, link, onward) > self.altitude_ft:
                    continue
                # To set out on an airway is no change of one.
                so_far = cost + price + (terms.change if airway not in (-1, its_airway) else 0.0)
                if so_far <= first_at.get(end, inf):
                    self.push(so_far, (onward, end, passed), number, None)
        return -1, 0.0

    def off_cost(self, end: WayEnd) -> float:
        """What the miles off the airways cost at one end."""
        # Scaled like the bound, which counts them in; a tailwind would else make the bound too long.
        return self.terms.off * end.off_nm * self.terms.least

    def push(self, cost: float, state: tuple[int, int, int], before: int, end: WayEnd | None) -> None:
        """Put a state (link, point, points passed) on the heap, unless nothing leads on from it."""
        link, point, passed = state
        via = self.terms.via
        # One point may be the next two to pass.
        while passed < len(via) and point in via[passed]:
            passed += 1
        ahead = 0.0 if link == _ARRIVED else self.bound.least(point, passed)
        self.trail.append((before, link, end))
        heappush(self.heap, (cost + ahead, cost, len(self.trail) - 1, link, point, passed))

    def onward(self, point: int) -> list[tuple[int, int, int, float]]:
        """The links that may be flown from a point, each with its end, its airway and what it costs."""
        network, terms, altitude_ft = self.network, self.terms, self.altitude_ft
        found = []
        for link in network.links_from(point):
            if network.asked_ft[link] <= altitude_ft <= network.maa_ft[link] and link not in self.closed:
                price = network.distance_nm[link] if terms.weight is None else terms.weight(link)
                if terms.dearer:
                    price *= terms.dearer.get(link, 1.0)
                found.append((link, network.end[link], network.airway[link], price))
        return found

    def way(self, number: int, cost: float) -> WayFound:
        """The way whose last entry in the trail is `number`."""
        network = self.network
        links: list[int] = []
        ends: list[WayEnd] = []
        while number >= 0:
            number, link, end = self.trail[number]
            if end is None:
                links.append(link)
            else:
                ends.append(end)
        links.reverse()
        goal, start = ends
        off_nm = start.off_nm + goal.off_nm
        distance_nm = off_nm + sum(network.distance_nm[link] for link in links)
        changes = sum(network.airway[one] != network.airway[other] for one, other in pairwise(links))
        return WayFound(start, goal, tuple(links), distance_nm, off_nm, changes, cost)


class _Bound:
    """The least that the rest of a way costs, by straight lines to the goal or to the next point to pass."""

    def __init__(self, network: Network, leaving: Mapping[int, Sequence[WayEnd]], terms: WayTerms) -> None:
        self.network, self.scale = network, _LEAST * terms.least
        self.via = [[network.vector(one) for one in points] for points in terms.via]
        if terms.toward is not None:
            self.goals = [vector(terms.toward.latitude_deg, terms.toward.longitude_deg)]
        else:
            self.goals = [network.vector(one) for one in leaving]
        self.known: dict[tuple[int, int], float] = {}

    def least(self, point: int, passed: int) -> float:
        """The least cost from a point of the network on, `passed` points to pass being behind it."""
        known = self.known.get((point, passed))
        if known is None:
            here = self.network.vector(point)
            there = self.via[passed] if passed < len(self.via) else self.goals
            # To the next point to pass alone: a bound may be too short, never too long.
            known = self.scale * min(chord_nm(here, one) for one in there)
            self.known[point, passed] = known
        return known
