"""Routes proposed between two places: published preferred ones, then the best along the airways and others unlike it.

Every route goes through the log and the rules before it is proposed. Where these find an altitude, gap, reception or
station fault on one of ours, the link or end at fault is left out and the search begins again.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import inf
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.catalogue.network_store import read_network
from navlog.nav.cruising_levels import US, fits
from navlog.nav.figures import distance, whole, whole_course
from navlog.nav.record import changed
from navlog.rules.answers import Answer
from navlog.studies.proposal_ends import ends_at
from navlog.studies.proposal_flights import Flights, faults, is_link, is_start
from navlog.studies.published_routes import Fitting, fitting
from navlog.studies.way_heights import Lowest, asked_on, closed_between, closed_on, lowest_way, without_signal_gaps
from navlog.studies.way_search import best_way
from navlog.studies.ways import WayEnd, WayFound, WayTerms, shared_nm

if TYPE_CHECKING:
    from collections.abc import Sequence

    from navlog.catalogue.network import Network
    from navlog.catalogue.queries import Catalogue

_LONGER = 1.05
"""The first proposal is at most so many times as long, or as costly in the wind, as the shortest that works."""

_SHARED = 0.6
"""At most so much of a proposal is flown by one before it, too."""

_WORTH = 1.3
"""An alternative costs at most so many times what the best does."""

_FARTHEST, _SHORT_FLIGHT_NM = 2.0, 40.0
"""No route of ours under VFR is longer than both: so many times the direct distance, and so much more than it.

Common practice, no source.
"""

# Small, so that the next way leaves the best where that costs least; large would send it round the country.
_DEARER = 1.3
_TRIES = 30
_LEVELS = 6


class Proposal(Struct, frozen=True):
    """One route proposed: its string, altitude in feet, and what log and rules say of it.

    `kind` is "published" or "airways", `rank` counts from 1 within the kind. `highest_ft` is the highest minimum on it,
    `off_airway_nm` what is flown off the airways. `published` is set where the FAA prefers it.
    """

    rank: int
    kind: str
    route: str
    altitude_ft: float
    answer: Answer
    off_airway_nm: float
    airway_changes: int
    published: Fitting | None = None

    @property
    def distance_nm(self) -> float:
        """How long it is."""
        return self.answer.report.log.totals.distance_nm if self.answer.report is not None else 0.0


class Proposals(Struct, frozen=True):
    """What was found between two places: the straight distance, the lowest altitude that connects, and the routes.

    `lowest` is None where no altitude connects; `shorter` tells of a way that a higher altitude would open, or a gap
    closes, where ours is more than 1.3 times as long. `why_none` says why there is no route of ours, `left_out` why a
    published one is not among them.
    """

    start: str
    goal: str
    direct_nm: float
    lowest: Lowest | None
    published: tuple[Proposal, ...]
    own: tuple[Proposal, ...]
    left_out: tuple[str, ...] = ()
    why_none: str = ""
    shorter: tuple[str, ...] = ()


def propose(catalogue: Catalogue, flights: Flights) -> Proposals:
    """The routes between the two places of a flight, all of them flown through the log and the rules.

    Raises NavlogError for points to pass, or to avoid, that are on no airway.
    """
    return _Proposer(catalogue, read_network(catalogue, flights.day), flights).all()


class _Proposer:
    """The proposals of one pair."""

    def __init__(self, catalogue: Catalogue, network: Network, flights: Flights) -> None:
        self.catalogue, self.network, self.asked, self.flights = catalogue, network, flights.asked, flights
        self.start, self.goal = flights.base.points[0], flights.base.points[-1]
        terms = flights.terms(network)
        near = (network, catalogue)
        limit_nm = self.asked.most_off_nm
        self.starts = ends_at(*near, self.start, flights.day, terms.out, limit_nm)
        self.goals = ends_at(*near, self.goal, flights.day, terms.out, limit_nm)
        self.terms = changed(terms, toward=self.goal.position)
        self.ceiling_ft = flights.ceiling_ft
        self.dropped: set[WayEnd] = set()

    def all(self) -> Proposals:
        """Everything that is to be said of the pair."""
        flights = self.flights
        published, left_out = self.published()
        lowest = lowest_way(self.network, self.starts, self.goals, self.terms)
        if lowest is None:
            by_station = changed(self.terms, by_station=True)
            # Only where no airway connects: a way by one station alone has nobody's minimum.
            lowest = lowest_way(self.network, self.starts, self.goals, by_station)
        own: tuple[Proposal, ...] = ()
        far_round: Proposal | None = None
        levels = self.levels(lowest)
        for altitude_ft in levels:
            found = tuple(self.own(altitude_ft))
            own = tuple(one for one in found if one.distance_nm <= self.farthest_nm)
            if own:
                break
            far_round = far_round or next(iter(found), None)
        why_none = "" if own else self.why_none(lowest, levels) if far_round is None else self.too_far(far_round)
        return Proposals(
            self.start.name,
            self.goal.name,
            flights.direct_nm,
            lowest,
            published,
            own,
            left_out,
            why_none,
            tuple(self.shorter(own[0])) if own else (),
        )

    @property
    def farthest_nm(self) -> float:
        """How long a route of ours may be under VFR, which may fly direct: twice the direct distance, or 40 NM more.

        Under IFR, and with points that are to be passed, as long as it takes.
        """
        if self.flights.rules == "ifr" or self.asked.via:
            return inf
        return max(_FARTHEST * self.flights.direct_nm, self.flights.direct_nm + _SHORT_FLIGHT_NM)

    def too_far(self, best: Proposal) -> str:
        """Why a way is not proposed that leads too far round, and what would be shorter."""
        direct_nm = self.flights.direct_nm
        told = (
            f"the best way along the airways at {whole(best.altitude_ft)} ft, {best.route}, is"
            f" {distance(best.distance_nm)} NM, {best.distance_nm / direct_nm:.1f} times the direct"
            f" {distance(direct_nm)} NM: too far round under VFR, which may fly direct"
        )
        return "; ".join((told, *(f"shorter {one}" for one in self.shorter(best))))

    def levels(self, lowest: Lowest | None) -> tuple[float, ...]:
        """The altitudes to try: the one asked for, else cruising levels from the lowest that connects upward."""
        ceiling_ft = self.ceiling_ft
        if lowest is None:
            return ()
        if self.flights.altitude_ft is not None:
            return (self.flights.altitude_ft,) if lowest.altitude_ft <= self.flights.altitude_ft else ()
        odd = US.is_odd(whole_course(self.flights.direct_magnetic_deg))
        # Up to the next 500 ft, on which every cruising level lies; -(-x // y) rounds up.
        first = 500.0 * -(-max(lowest.altitude_ft, self.asked.lowest_cruise_ft) // 500.0)
        found = [
            first + 500.0 * step
            for step in range(100)
            if fits(first + 500.0 * step, odd=odd, rules=self.flights.rules) and first + 500.0 * step <= ceiling_ft
        ]
        # Under a low ceiling a level of the other half is better than none.
        return tuple(found[:_LEVELS]) or ((first,) if first <= ceiling_ft else ())

    def shorter(self, best: Proposal) -> Iterator[str]:
        """Where the best way is a detour: what a higher altitude would open, and what a gap closes."""
        terms = changed(self.terms, change=0.0, off=1.0, weight=None, least=1.0)
        ends = self.starts, self.goals
        shortest_nm = best.distance_nm
        top = best_way(self.network, *ends, self.ceiling_ft, terms)
        if top is not None and shortest_nm > _WORTH * top.distance_nm:
            altitude_ft, way = best.altitude_ft, None
            while way is None or way.distance_nm > _WORTH * top.distance_nm:
                altitude_ft = min(altitude_ft + 500.0, self.ceiling_ft)
                way = best_way(self.network, *ends, altitude_ft, terms)
            lowest = asked_on(self.network, way)
            shortest_nm = way.distance_nm
            yield f"from {whole(lowest.altitude_ft)} ft, {distance(way.distance_nm)} NM: {lowest.forced_by}"
        opened = without_signal_gaps(self.network)
        across = best_way(opened, *ends, self.ceiling_ft, terms)
        if across is not None and shortest_nm > _WORTH * across.distance_nm:
            gaps, from_ft = "; ".join(closed_on(self.network, across)), asked_on(opened, across).altitude_ft
            yield f"from {whole(from_ft)} ft, {distance(across.distance_nm)} NM, but for a gap: {gaps}"

    def own(self, altitude_ft: float) -> Iterator[Proposal]:
        """Our proposals at an altitude, best first."""
        found: list[WayFound] = []
        weight, least = self.flights.weights(self.network, altitude_ft)
        self.terms = changed(self.terms, weight=weight, least=least)
        if {end.point for end in self.starts} & {end.point for end in self.goals}:
            by_station = self.search(altitude_ft, changed(self.terms, by_station=True))
            by_airways = self.search(altitude_ft, self.terms)
            if by_station is not None and (
                by_airways is None or self.bare(by_airways) > _WORTH * self.bare(by_station)
            ):
                self.terms = changed(self.terms, by_station=True)
        best = self.best(altitude_ft)
        if best is None:
            return
        dearer: dict[int, float] = {}
        for way, answer in (best, *self.others(best[0], altitude_ft, dearer)):
            found.append(way)
            yield Proposal(
                len(found),
                "airways",
                self.flights.route_of(self.network, way),
                altitude_ft,
                answer,
                way.off_airway_nm,
                way.changes,
            )

    def best(self, altitude_ft: float) -> tuple[WayFound, Answer] | None:
        """The best way, no more than 5 percent longer than the shortest."""
        shortest = self.search(altitude_ft, changed(self.terms, change=0.0, off=1.0))
        if shortest is None:
            return None
        terms = self.terms
        for _ in range(4):
            found = self.flown(altitude_ft, terms)
            if found is None:
                return None
            if self.bare(found[0]) <= _LONGER * self.bare(shortest):
                return found
            # Prices of changes are wishes, length is fuel: they are lowered until the way is at most 5 % longer.
            terms = changed(terms, change=terms.change / 3.0, off=1.0 + (terms.off - 1.0) / 3.0)
        return self.flown(altitude_ft, changed(self.terms, change=0.0, off=1.0))

    def others(self, best: WayFound, altitude_ft: float, dearer: dict[int, float]) -> Iterator[tuple[WayFound, Answer]]:
        """Ways unlike those before: what has been flown is made dearer, and the search begins again."""
        taken = [best]
        wanted, tries = self.asked.count - 1, 10 * self.asked.count
        found: WayFound | None = best
        while wanted > 0 and tries > 0 and found is not None:
            tries -= 1
            for link in found.links:
                # Both directions, or the next way would fly the same segment the other way round.
                for one in (link, *self.opposite(link)):
                    dearer[one] = dearer.get(one, 1.0) * _DEARER
            found = self.search(altitude_ft, changed(self.terms, dearer=dearer))
            if found is None or not self.is_worth(found, taken):
                continue
            answer = self.flights.fly(self.network, found, altitude_ft)
            at_fault = faults(answer, self.network, found)
            if at_fault:
                self.leave_out(found, at_fault)
                continue
            wanted -= 1
            taken.append(found)
            yield found, answer

    def is_worth(self, way: WayFound, taken: Sequence[WayFound]) -> bool:
        """Whether a way is no more than 1.3 times the best, and unlike each before it."""
        if self.bare(way) > _WORTH * self.bare(taken[0]):
            return False
        return all(shared_nm(self.network, way, other) <= _SHARED * way.distance_nm for other in taken)

    def bare(self, way: WayFound) -> float:
        """What a way costs without the prices of changes and miles off the airways: NM, or the same in the wind."""
        weight = self.terms.weight
        if weight is None:
            return way.distance_nm
        return way.off_airway_nm + sum(weight(link) for link in way.links)

    def opposite(self, link: int) -> list[int]:
        """The links flown the other way between the two points of one."""
        network = self.network
        return [one for one in network.links_from(network.end[link]) if network.end[one] == network.start[link]]

    def search(self, altitude_ft: float, terms: WayTerms) -> WayFound | None:
        """The cheapest way that nothing found so far speaks against."""
        starts = [end for end in self.starts if end not in self.dropped]
        goals = [end for end in self.goals if end not in self.dropped]
        return best_way(self.network, starts, goals, altitude_ft, changed(terms, banned=self.terms.banned))

    def flown(self, altitude_ft: float, terms: WayTerms) -> tuple[WayFound, Answer] | None:
        """The cheapest way with which log and rules find no fault; what they find at fault stays out from then on."""
        for _ in range(_TRIES):
            way = self.search(altitude_ft, terms)
            if way is None:
                return None
            answer = self.flights.fly(self.network, way, altitude_ft)
            at_fault = faults(answer, self.network, way)
            if not at_fault:
                return way, answer
            self.leave_out(way, at_fault)
        return None

    def leave_out(self, way: WayFound, at_fault: frozenset[int]) -> None:
        """Keep links and ends that are at fault out of every later search."""
        self.terms = changed(self.terms, banned=self.terms.banned | {one for one in at_fault if is_link(one)})
        self.dropped |= {way.start if is_start(one) else way.goal for one in at_fault if not is_link(one)}

    def published(self) -> tuple[tuple[Proposal, ...], tuple[str, ...]]:
        """The published routes that fit, each flown; and why others do not."""
        found: list[Proposal] = []
        left_out: list[str] = []
        for route in self.flights.preferred():
            one = fitting(route, altitude_ft=self.flights.altitude_ft, tas_kt=self.flights.tas_kt, off=self.flights.off)
            told = f"{route.kind} {route.altitude} `{route.route or 'direct'}`".replace("  ", " ")
            if isinstance(one, str):
                left_out.append(f"{told}: {one}")
                continue
            altitude_ft = self.published_level_ft(one)
            text = self.flights.published_line(route)
            answer = self.flights.fly_route(text, altitude_ft)
            if answer.report is None:
                left_out.append(f"{told}: {answer.problems[0].message}")
                continue
            if against := self.flights.speaks_against(answer, altitude_ft):
                left_out.append(f"{told}: {against}")
                continue
            stretches = answer.report.log.route.stretches
            off_nm = sum(one.length_nm for one in stretches if one.airway is None)
            vias = [one.via for one in stretches if one.airway is not None]
            changes = sum(one != other for one, other in pairwise(vias))
            found.append(Proposal(len(found) + 1, "published", text, altitude_ft, answer, off_nm, changes, one))
        return tuple(found), tuple(left_out)

    def published_level_ft(self, one: Fitting) -> float:
        """The altitude to fly a published route at: as asked, else the lowest level of the direction that it names."""
        if self.flights.altitude_ft is not None:
            return self.flights.altitude_ft
        low_ft = max(one.low_ft, self.asked.lowest_cruise_ft)
        if one.low_ft == one.high_ft:
            return one.low_ft
        odd = US.is_odd(whole_course(self.flights.direct_magnetic_deg))
        level_ft = 500.0 * -(-low_ft // 500.0)
        while not fits(level_ft, odd=odd, rules=self.flights.rules):
            level_ft += 500.0
        return level_ft if level_ft <= one.high_ft else low_ft

    def why_none(self, lowest: Lowest | None, levels: Sequence[float]) -> str:
        """What stands in the way of a route of ours, and the nearest that would work."""
        network, pair = self.network, f"{self.start.name} and {self.goal.name}"
        for place, ends in ((self.start, self.starts), (self.goal, self.goals)):
            if not ends:
                return (
                    f"no station on an airway is received at {place.name} within"
                    f" {min(80.0, self.asked.most_off_nm):.0f} NM"
                )
        wanted_ft = self.flights.altitude_ft
        if lowest is not None and wanted_ft is not None and lowest.altitude_ft > wanted_ft:
            return (
                f"at {whole(wanted_ft)} ft no airways connect {pair}: the lowest altitude that does is"
                f" {whole(lowest.altitude_ft)} ft ({lowest.forced_by})"
            )
        if lowest is not None and not levels:
            return (
                f"airways connect {pair} from {whole(lowest.altitude_ft)} ft ({lowest.forced_by}),"
                f" above the ceiling of {whole(self.ceiling_ft)} ft"
            )
        if lowest is not None:
            at_ft = ", ".join(whole(one) for one in levels)
            return (
                f"airways connect {pair} from {whole(lowest.altitude_ft)} ft ({lowest.forced_by}), but the rules find"
                f" a fault with each way tried at {at_ft} ft"
            )
        for name, terms in (
            ("what is to be avoided", changed(self.terms, avoided=frozenset())),
            ("the points to pass", changed(self.terms, via=())),
            ("the stations out of service", changed(self.terms, out=frozenset())),
        ):
            other = lowest_way(network, self.starts, self.goals, terms)
            if other is not None:
                way = self.flights.route_of(network, other.way)
                return f"no airways connect {pair}; without {name} they do from {whole(other.altitude_ft)} ft: {way}"
        return f"no airways connect {pair} at any altitude{self.gap_between()}"

    def gap_between(self) -> str:
        """The closed links of the way that there would be without their gaps, in words."""
        closed = closed_between(self.network, self.starts, self.goals, self.terms)
        return f": {'; '.join(closed)}" if closed else ""
