"""Our proposals at one altitude, each flown through the log and the rules: the best, and others unlike it.

Where log and rules find an altitude, gap, reception or station fault on a way, the link or end at fault is left out and
the search begins again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from navlog.nav.record import changed
from navlog.rules.answers import Answer
from navlog.rules.registry import Severity
from navlog.studies.proposal_flights import Flights
from navlog.studies.published_proposals import Proposal
from navlog.studies.way_alternatives import UnlikeWays
from navlog.studies.way_faults import faults, faults_told, is_link, is_start
from navlog.studies.way_search import WaySearch
from navlog.studies.ways import WayEnd, WayFound, WayTerms

if TYPE_CHECKING:
    from navlog.catalogue.network import Network

_LONGER = 1.05
"""The first proposal is at most so many times as long, or as costly in the wind, as the shortest that works."""

WORTH = 1.3
"""An alternative costs at most so many times what the best does."""

_NEAR = 1.15
"""Most alternatives cost no more than so many times the best; farther away is looked where there is none."""

_PRICES = 1.1
"""So many times that it may cost with the prices of changes and miles off the airways, by which the search goes."""

_TRIES = 30


class LevelProposals:
    """The proposals at an altitude.

    `against` are in words the faults of ways left out; what is less grave than `least` is none.
    """

    def __init__(
        self,
        network: Network,
        flights: Flights,
        altitude_ft: float,
        terms: WayTerms,
        ends: tuple[Sequence[WayEnd], Sequence[WayEnd]],
        least: Severity,
    ) -> None:
        self.network, self.flights, self.altitude_ft, self.least = network, flights, altitude_ft, least
        weight, least_price = flights.weights(network, altitude_ft)
        self.terms = changed(terms, weight=weight, least=least_price)
        self.starts, self.goals = map(list, ends)
        self.against: dict[str, None] = {}

    @cached_property
    def best(self) -> Proposal | None:
        """The best way flown; None where log and rules find a fault with every one."""
        return self._proposal(1, *self._best) if self._best is not None else None

    @cached_property
    def proposals(self) -> tuple[Proposal, ...]:
        """The best and those unlike it, cheapest first."""
        if self.best is None or self._best is None:
            return ()
        others = enumerate(self._others(self._best[0]), 2)
        return (self.best, *(self._proposal(rank, way, answer) for rank, (way, answer) in others))

    def within(self, farthest_nm: float, *, all_of_them: bool) -> tuple[Proposal, ...]:
        """Those that are no longer, of which those that lack fuel only where all do; or the first of these alone."""
        # The others are only looked for where they are asked for, or the best does not serve.
        best = self.best
        if not all_of_them and best is not None and best.distance_nm <= farthest_nm and not best.lacks_fuel:
            return (best,)
        fit = [one for one in self.proposals if one.distance_nm <= farthest_nm]
        return tuple(one for one in fit if not one.lacks_fuel) or tuple(fit)

    def _proposal(self, rank: int, way: WayFound, answer: Answer) -> Proposal:
        route = self.flights.route_of(self.network, way)
        return Proposal(rank, "airways", route, self.altitude_ft, answer, way.off_airway_nm, way.changes)

    @cached_property
    def _best(self) -> tuple[WayFound, Answer] | None:
        """The best way, no more than 5 percent longer than the shortest."""
        if {end.point for end in self.starts} & {end.point for end in self.goals}:
            by_station = self._search(changed(self.terms, by_station=True)).best(self.starts, self.goals)
            by_airways = self._search(self.terms).best(self.starts, self.goals)
            if by_station is not None and (
                by_airways is None or self._bare(by_airways) > WORTH * self._bare(by_station)
            ):
                self.terms = changed(self.terms, by_station=True)
        shortest = self._search(changed(self.terms, change=0.0, off=1.0)).best(self.starts, self.goals)
        if shortest is None:
            return None
        change, off = self.terms.change, self.terms.off
        for _ in range(4):
            found = self._flown(change, off)
            if found is None or self._bare(found[0]) <= _LONGER * self._bare(shortest):
                return found
            # Prices of changes are wishes, length is fuel: they are lowered until the way is at most 5 % longer.
            change, off = change / 3.0, 1.0 + (off - 1.0) / 3.0
        return self._flown(0.0, 1.0)

    def _flown(self, change: float, off: float) -> tuple[WayFound, Answer] | None:
        """The cheapest way with which log and rules find no fault; what they find at fault stays out from then on."""
        for _ in range(_TRIES):
            way = self._search(changed(self.terms, change=change, off=off)).best(self.starts, self.goals)
            if way is None:
                return None
            answer = self._answer(way)
            if answer is not None:
                return way, answer
        return None

    def _others(self, best: WayFound) -> Iterator[tuple[WayFound, Answer]]:
        """The cheapest ways unlike the best and each other."""
        taken = [best]
        most = WORTH * self._bare(best)
        limits = (_NEAR * best.cost, _PRICES * WORTH * best.cost)
        alternatives: UnlikeWays | None = None
        for _ in range(_TRIES):
            if len(taken) == self.flights.asked.count:
                return
            if alternatives is None:
                search = self._search(self.terms)
                alternatives = UnlikeWays(search, (self.starts, self.goals), most, limits)
            way = alternatives.unlike(taken)
            if way is None:
                return
            answer = self._answer(way)
            if answer is None:
                alternatives = None
                continue
            taken.append(way)
            yield way, answer

    def _bare(self, way: WayFound) -> float:
        """What a way costs without the prices of changes and miles off the airways: NM, or the same in the wind."""
        weight = self.terms.weight
        return way.distance_nm if weight is None else way.off_airway_nm + sum(weight(link) for link in way.links)

    def _search(self, terms: WayTerms) -> WaySearch:
        return WaySearch(self.network, terms, self.altitude_ft)

    def _answer(self, way: WayFound) -> Answer | None:
        """The answer of log and rules for a way; None where it has a fault, which stays out from then on."""
        answer = self.flights.fly(self.network, way, self.altitude_ft)
        self.against |= dict.fromkeys(faults_told(answer, self.least))
        at_fault = faults(answer, self.network, way, self.least)
        if not at_fault:
            return answer
        banned = {one for one in at_fault if is_link(one)}
        self.terms = changed(self.terms, banned=self.terms.banned | banned)
        for one in at_fault - banned:
            (self.starts if is_start(one) else self.goals).remove(way.start if is_start(one) else way.goal)
        return None
