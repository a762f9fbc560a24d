"""Routes proposed between two places: published preferred ones, then the best along the airways and others unlike it.

Every route goes through the log and the rules before it is proposed.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.catalogue.network_store import read_network
from navlog.nav.cruising_levels import US, fits
from navlog.nav.figures import distance, whole, whole_course
from navlog.nav.record import changed
from navlog.rules.registry import Severity
from navlog.studies.proposal_ends import ends_at
from navlog.studies.proposal_flights import Flights
from navlog.studies.proposals_at_level import WORTH, LevelProposals
from navlog.studies.published_proposals import Proposal, published_proposals
from navlog.studies.way_heights import Lowest, asked_on, closed_between, closed_on, lowest_way, without_signal_gaps
from navlog.studies.way_search import best_way

if TYPE_CHECKING:
    from collections.abc import Sequence

    from navlog.catalogue.network import Network
    from navlog.catalogue.queries import Catalogue
    from navlog.studies.ways import WayEnd, WayTerms

_FARTHEST, _SHORT_FLIGHT_NM = 2.0, 40.0
"""No route of ours under VFR is longer than both: so many times the direct distance, and so much more than it.

Common practice, no source.
"""

_LEVELS = 6
_TOLD = 4


class Proposals(Struct, frozen=True):
    """What was found between two places: the straight distance, the lowest altitude that connects, and the routes.

    `lowest` is None where no altitude connects; `shorter` tells of a way that a higher altitude would open, or a gap
    closes, where ours is more than 1.3 times as long. `why_none` says why there is no route of ours, `left_out` why a
    published one is not among them. `passed_over` are the best ways of lower altitudes that are long detours, or for
    which the fuel is not enough.
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
    passed_over: tuple[Proposal, ...] = ()

    @property
    def all(self) -> tuple[Proposal, ...]:
        """Every route that is offered, the published ones first."""
        return (*self.published, *self.own)

    @property
    def lacks_fuel(self) -> bool:
        """Whether routes are offered, and the fuel is enough for none of them."""
        return bool(self.all) and all(one.lacks_fuel for one in self.all)


def propose(catalogue: Catalogue, flights: Flights) -> Proposals:
    """The routes between the two places of a flight, all of them flown through the log and the rules.

    Raises NavlogError for points to pass, or to avoid, that are on no airway.
    """
    network = read_network(catalogue, flights.day)
    return _Proposer(catalogue, network, flights.by_name(network)).all()


class _Proposer:
    """The proposals of one pair."""

    def __init__(self, catalogue: Catalogue, network: Network, flights: Flights) -> None:
        self.catalogue, self.network, self.asked, self.flights = catalogue, network, flights.asked, flights
        self.start, self.goal = flights.base.points[0], flights.base.points[-1]
        terms = flights.terms(network)
        self.ends = self.joined(terms)
        self.terms = changed(terms, toward=self.goal.position)
        self.ceiling_ft = flights.ceiling_ft
        self.least = Severity.WARNING
        self.against: dict[str, None] = {}

    def joined(self, terms: WayTerms) -> tuple[tuple[WayEnd, ...], tuple[WayEnd, ...]]:
        """Where either place joins the network: at no station that is out, or to be avoided."""
        near, gone = (self.network, self.catalogue), terms.out | terms.avoided
        day, limit_nm = self.flights.day, self.asked.most_off_nm
        return ends_at(*near, self.start, day, gone, limit_nm), ends_at(*near, self.goal, day, gone, limit_nm)

    def all(self) -> Proposals:
        """Everything that is to be said of the pair."""
        flights = self.flights
        published, left_out = published_proposals(flights)
        lowest = lowest_way(self.network, *self.ends, self.terms)
        if lowest is None:
            by_station = changed(self.terms, by_station=True)
            # Only where no airway connects: a way by one station alone has nobody's minimum.
            lowest = lowest_way(self.network, *self.ends, by_station)
        levels = self.levels(lowest)
        own, passed_over, far_round = self.at_levels(levels)
        if not own and far_round is None and levels:
            # What the rules call a warning alone is better told than left out, where there is nothing without it.
            self.least = Severity.ERROR
            own, passed_over, far_round = self.at_levels(levels)
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
            passed_over,
        )

    def at_levels(self, levels: Sequence[float]) -> tuple[tuple[Proposal, ...], tuple[Proposal, ...], Proposal | None]:
        """Our proposals at the lowest level that serves, the best of lower levels passed over, and one too far round.

        A level serves where its best way is no detour beside a higher one's and the fuel is enough for one of its
        ways. Where none does, those with fuel come first, then the shortest.
        """
        far_round: Proposal | None = None
        tried: dict[LevelProposals, Proposal] = {}
        for altitude_ft in levels:
            level = LevelProposals(self.network, self.flights, altitude_ft, self.terms, self.ends, self.least)
            found = level.within(self.farthest_nm, all_of_them=False)
            self.against |= level.against
            if not found:
                far_round = far_round or level.best
                continue
            tried[level] = best = found[0]
            if not best.lacks_fuel and best.distance_nm <= WORTH * self.least_above_nm(levels):
                break
        if not tried:
            return (), (), far_round
        _, least_nm = min((best.lacks_fuel, best.distance_nm) for best in tried.values())

        def against(level: LevelProposals) -> tuple[bool, bool]:
            return tried[level].lacks_fuel, tried[level].distance_nm > WORTH * least_nm

        chosen = min(tried, key=against)
        # A level that is no worse, as one of the other half of the compass, has nothing against it to be told.
        lower = (level for level in tried if level.altitude_ft < chosen.altitude_ft)
        passed_over = tuple(tried[level] for level in lower if against(level) > against(chosen))
        own = enumerate(chosen.within(self.farthest_nm, all_of_them=True), 1)
        return tuple(changed(one, rank=rank) for rank, one in own), passed_over, far_round

    def least_above_nm(self, levels: Sequence[float]) -> float:
        """The shortest that any of the levels gives, whatever the rules may say of it."""
        terms = changed(self.terms, change=0.0, off=1.0, weight=None, least=1.0)
        way = best_way(self.network, *self.ends, max(levels), terms)
        return way.distance_nm if way is not None else inf

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
        """The altitudes to try: the one asked for, else cruising levels from the lowest that connects upward.

        Those of the other half of the compass come last.
        """
        ceiling_ft = self.ceiling_ft
        if lowest is None:
            return ()
        if self.flights.altitude_ft is not None:
            return (self.flights.altitude_ft,) if lowest.altitude_ft <= self.flights.altitude_ft else ()
        odd = US.is_odd(whole_course(self.flights.direct_magnetic_deg))
        # Up to the next 500 ft, on which every cruising level lies; -(-x // y) rounds up.
        first = 500.0 * -(-max(lowest.altitude_ft, self.asked.lowest_cruise_ft) // 500.0)
        below_ceiling = [first + 500.0 * step for step in range(100) if first + 500.0 * step <= ceiling_ft]
        # Under a low ceiling a level of the other half is better than a detour at one's own, or none.
        found = [ft for half in (odd, not odd) for ft in below_ceiling if fits(ft, odd=half, rules=self.flights.rules)]
        return tuple(found[:_LEVELS]) or tuple(below_ceiling[:1])

    def shorter(self, best: Proposal) -> Iterator[str]:
        """Where the best way is a detour: what a higher altitude would open, and what a gap closes."""
        terms = changed(self.terms, change=0.0, off=1.0, weight=None, least=1.0)
        shortest_nm = best.distance_nm
        # No way is shorter than the direct one: most proposals are no detour beside it.
        if shortest_nm <= WORTH * self.flights.direct_nm:
            return
        top = best_way(self.network, *self.ends, self.ceiling_ft, terms)
        if top is not None and shortest_nm > WORTH * top.distance_nm:
            altitude_ft, way = best.altitude_ft, None
            while way is None or way.distance_nm > WORTH * top.distance_nm:
                altitude_ft = min(altitude_ft + 500.0, self.ceiling_ft)
                way = best_way(self.network, *self.ends, altitude_ft, terms)
            lowest = asked_on(self.network, way)
            shortest_nm = way.distance_nm
            yield f"from {whole(lowest.altitude_ft)} ft, {distance(way.distance_nm)} NM: {lowest.forced_by}"
        opened = without_signal_gaps(self.network)
        across = best_way(opened, *self.ends, self.ceiling_ft, terms)
        if across is not None and shortest_nm > WORTH * across.distance_nm:
            gaps, from_ft = "; ".join(closed_on(self.network, across)), asked_on(opened, across).altitude_ft
            yield f"from {whole(from_ft)} ft, {distance(across.distance_nm)} NM, but for a gap: {gaps}"

    def why_none(self, lowest: Lowest | None, levels: Sequence[float]) -> str:
        """What stands in the way of a route of ours, and the nearest that would work."""
        network, pair = self.network, f"{self.start.name} and {self.goal.name}"
        every = self.joined(changed(self.terms, avoided=frozenset(), out=frozenset()))
        for place, ends in zip((self.start, self.goal), every, strict=True):
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
            at_ft = ", ".join(whole(one) for one in sorted(levels))
            told = list(self.against)
            more = f"; {len(told) - _TOLD} more" if len(told) > _TOLD else ""
            return (
                f"airways connect {pair} from {whole(lowest.altitude_ft)} ft ({lowest.forced_by}), but the rules find"
                f" a fault with each way tried at {at_ft} ft: {'; '.join(told[:_TOLD])}{more}"
            )
        for name, terms in (
            ("what is to be avoided", changed(self.terms, avoided=frozenset())),
            ("the points to pass", changed(self.terms, via=())),
            ("the stations out of service", changed(self.terms, out=frozenset())),
        ):
            joined, by_station = self.joined(terms), changed(terms, by_station=True)
            other = lowest_way(network, *joined, terms) or lowest_way(network, *joined, by_station)
            if other is not None:
                from_ft, way = whole(other.altitude_ft), self.flights.route_of(network, other.way)
                return f"no airways connect {pair}; without {name} there is a way from {from_ft} ft: {way}"
        return f"no airways connect {pair} at any altitude{self.gap_between()}"

    def gap_between(self) -> str:
        """The closed links of the way that there would be without their gaps, in words."""
        closed = closed_between(self.network, *self.ends, self.terms)
        return f": {'; '.join(closed)}" if closed else ""
