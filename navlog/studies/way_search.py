"""The best way through the network of airways at one altitude: A* over links.

A state is a link flown, so that a turn from one airway onto another can cost and be forbidden. Costs are those of
`WayTerms`; the straight distance to the goal, a little shortened, is the bound that leads the search.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
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
    return WaySearch(network, terms or WayTerms(), altitude_ft).best(starts, goals)


class WaySearch:
    """What may be flown at one altitude, what it costs, and the cheapest way; `best` can be asked again and again."""

    def __init__(self, network: Network, terms: WayTerms, altitude_ft: float) -> None:
        self.network = network
        self.terms = terms
        self.altitude_ft = altitude_ft
        self._closed = closed_by_name(network, terms)
        self._onward: dict[int, list[tuple[int, int, int, float]]] = {}

    def best(self, starts: Sequence[WayEnd], goals: Sequence[WayEnd]) -> WayFound | None:
        """The cheapest way, None where there is none."""
        goals = self.at_height(goals)
        return _Best(self, goals).found(self.at_height(starts)) if goals else None

    def at_height(self, ends: Sequence[WayEnd]) -> list[WayEnd]:
        """The ends that serve: level all the way, a place that asks for more height is none to join or leave at."""
        return [end for end in ends if end.lowest_ft <= self.altitude_ft]

    def onward(self, point: int) -> list[tuple[int, int, int, float]]:
        """The links that may be flown from a point, each with its end, its airway and what it costs."""
        found = self._onward.get(point)
        if found is None:
            network, altitude_ft = self.network, self.altitude_ft
            found = self._onward[point] = [
                (link, network.end[link], network.airway[link], self.price(link))
                for link in network.links_from(point)
                if network.asked_ft[link] <= altitude_ft <= network.maa_ft[link] and link not in self._closed
            ]
        return found

    def price(self, link: int) -> float:
        """What a link costs without a change of airway."""
        return self.network.distance_nm[link] if self.terms.weight is None else self.terms.weight(link)

    def change(self, before: int, link: int) -> float:
        """What it costs to turn from one link onto another."""
        return self.terms.change if self.network.airway[before] != self.network.airway[link] else 0.0

    def may_turn(self, before: int, link: int) -> bool:
        """Whether one link may follow another: not straight back, and not below a minimum turning altitude."""
        if self.network.end[link] == self.network.start[before]:
            return False
        return before not in self.network.turning_links or turn_ft(self.network, before, link) <= self.altitude_ft

    def off_cost(self, end: WayEnd) -> float:
        """What the miles off the airways cost at one end."""
        # Scaled like the bound, which counts them in; a tailwind would else make the bound too long.
        return self.terms.off * end.off_nm * self.terms.least

    def passed(self, passed: int, point: int) -> int:
        """How many of the points to pass are behind at a point, of which so many were before it."""
        via = self.terms.via
        # One point may be the next two to pass.
        while passed < len(via) and point in via[passed]:
            passed += 1
        return passed

    def way(self, start: WayEnd, links: Sequence[int], goal: WayEnd, cost: float) -> WayFound:
        """The way of some links between two ends."""
        network, off_nm = self.network, start.off_nm + goal.off_nm
        distance_nm = off_nm + sum(network.distance_nm[link] for link in links)
        changes = sum(network.airway[one] != network.airway[other] for one, other in pairwise(links))
        return WayFound(start, goal, tuple(links), distance_nm, off_nm, changes, cost)


class _Best:
    """The search for the cheapest way to some goals.

    `heap` holds (bound, cost, number, link, point, points to pass that are behind); `trail`
    holds by number what came before each, its link, and the end where it is one.
    """

    def __init__(self, search: WaySearch, goals: Sequence[WayEnd]) -> None:
        self.search = search
        self.leaving: dict[int, list[WayEnd]] = {}
        for goal in goals:
            self.leaving.setdefault(goal.point, []).append(goal)
        self.bound = WayBound(search.network, self.leaving, search.terms)
        self.trail: list[tuple[int, int, WayEnd | None]] = []
        self.heap: list[tuple[float, float, int, int, int, int]] = []

    def found(self, starts: Sequence[WayEnd]) -> WayFound | None:
        """The cheapest way from one of `starts`, None where there is none."""
        for start in starts:
            self.push(self.search.off_cost(start), _SET_OUT, (start.point, 0), -1, start)
        number, cost = self.settled()
        return None if number < 0 else self.way(number, cost)

    def settled(self) -> tuple[int, float]:
        """The number in the trail, and the cost, of the first arrival; -1 where there is none."""
        heap, search, leaving = self.heap, self.search, self.leaving
        network, terms = search.network, search.terms
        turning, airways, starts = network.turning_links, network.airway, network.start
        last = len(terms.via)
        done: set[tuple[int, int]] = set()
        # By point what the first way there cost, with a change of airway: what comes for more is dearer onward, too.
        most: dict[int, float] = {}
        # Numbers of the trail that are, or come from, what some ways on are barred to and so outdo nothing.
        barred: set[int] = set()
        while heap:
            _, cost, number, link, point, passed = heappop(heap)
            if link == _ARRIVED:
                return number, cost
            # The bound never overestimates: what comes off the heap first is cheapest (Hart, Nilsson, Raphael, 1968).
            if (link, passed) in done or cost > most.get(point, inf):
                continue
            sets_out = link == _SET_OUT
            # Several ends may begin at one point, each with its own miles off the airways behind it.
            if not sets_out:
                done.add((link, passed))
            airway, came_from = (-1, -1) if sets_out else (airways[link], starts[link])
            turns = link in turning
            arrives = point in leaving and passed == last
            if turns or self.trail[number][0] in barred or (sets_out and arrives and not terms.by_station):
                barred.add(number)
            elif not last:
                most.setdefault(point, cost + terms.change + _TIE)
            if arrives and (not sets_out or terms.by_station):
                for goal in leaving[point]:
                    self.push(cost + search.off_cost(goal), _ARRIVED, (point, passed), number, goal)
            for onward, end, its_airway, price in search.onward(point):
                # Straight back is a reversal in the air, also where a point to pass would ask for it.
                if end == came_from or (onward, passed) in done or (turns and not search.may_turn(link, onward)):
                    continue
                # To set out on an airway is no change of one.
                so_far = cost + price + (terms.change if airway not in (-1, its_airway) else 0.0)
                if so_far <= most.get(end, inf):
                    self.push(so_far, onward, (end, passed), number, None)
        return -1, 0.0

    def push(self, cost: float, link: int, at: tuple[int, int], before: int, end: WayEnd | None) -> None:
        """Put a link, with the point where it ends and the points passed before, on the heap."""
        point, passed = at
        if self.search.terms.via:
            passed = self.search.passed(passed, point)
        ahead = 0.0 if link == _ARRIVED else self.bound.least(point, passed)
        self.trail.append((before, link, end))
        heappush(self.heap, (cost + ahead, cost, len(self.trail) - 1, link, point, passed))

    def way(self, number: int, cost: float) -> WayFound:
        """The way whose last entry in the trail is `number`."""
        links: list[int] = []
        ends: list[WayEnd] = []
        while number >= 0:
            number, link, end = self.trail[number]
            if end is None:
                links.append(link)
            else:
                ends.append(end)
        goal, start = ends
        return self.search.way(start, links[::-1], goal, cost)


class WayBound:
    """The least that the rest of a way costs, by straight lines to the goal or to the next point to pass."""

    def __init__(self, network: Network, leaving: Iterable[int], terms: WayTerms) -> None:
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
