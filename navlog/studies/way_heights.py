"""The lowest altitude at which airways connect, what forces it, and the best way round at it."""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heapify, heappop, heappush
from itertools import pairwise

from msgspec import Struct

from navlog.catalogue.network import NO_LIMIT_FT, Network
from navlog.nav.chart import Service
from navlog.nav.record import changed
from navlog.studies.way_search import best_way
from navlog.studies.ways import WayEnd, WayFound, WayTerms, closed_by_name, link_text, turn_ft

_SET_OUT, _ARRIVED = -1, -2


class Lowest(Struct, frozen=True):
    """The lowest altitude at which a way is there, feet, and what forces it in words; a way at it."""

    altitude_ft: float
    forced_by: str
    way: WayFound


def lowest_way(
    network: Network,
    starts: Sequence[WayEnd],
    goals: Sequence[WayEnd],
    terms: WayTerms | None = None,
    *,
    floor_ft: float = 0.0,
    ceiling_ft: float = NO_LIMIT_FT,
) -> Lowest | None:
    """The lowest altitude in feet at which `best_way` finds one, at `floor_ft` or above; None under `ceiling_ft`.

    It is the least of the altitudes that links, turns and ends ask for on some way, MAA considered.
    """
    terms = terms or WayTerms()
    least_ft = floor_ft
    while True:
        # The quick answer first, which looks at heights alone; a MAA may yet stand in its way at that one altitude.
        needed_ft = _bottleneck(network, starts, goals, terms, least_ft)
        # The bottleneck only rises from here, so nothing under the ceiling is missed.
        if needed_ft is None or needed_ft > ceiling_ft:
            return None
        way = best_way(network, starts, goals, needed_ft, terms)
        if way is not None:
            return Lowest(needed_ft, _forced_by(network, way, needed_ft), way)
        # A link's MAA stood in the way: higher up there may be others.
        higher = _next_asked_ft(network, starts, goals, needed_ft)
        if higher is None:
            return None
        least_ft = higher


def way_round(
    network: Network, start: str | int, goal: str | int, out: Sequence[str] = (), altitude_ft: float | None = None
) -> tuple[WayFound, float] | None:
    """The best way along airways between two points of the network with some stations out, and its altitude in feet.

    `start`, `goal` and `out` are identifiers as the network names them; of a name that several points have, all are
    tried. A number is that point of the network. Without `altitude_ft` the altitude is the lowest at which a way is
    there. None where there is none, also where a name is not on any airway.
    """
    named = (network.named(one) if isinstance(one, str) else (one,) for one in (start, goal))
    starts, goals = ([WayEnd(point) for point in points] for points in named)
    terms = WayTerms(out=frozenset(out))
    if altitude_ft is None:
        lowest = lowest_way(network, starts, goals, terms)
        return (lowest.way, lowest.altitude_ft) if lowest is not None else None
    way = best_way(network, starts, goals, altitude_ft, terms)
    return (way, altitude_ft) if way is not None else None


def asked_on(network: Network, way: WayFound) -> Lowest:
    """The lowest altitude at which a way can be flown, by its own links, turns and ends."""
    turns = (turn_ft(network, one, other) for one, other in pairwise(way.links))
    links = (network.asked_ft[link] for link in way.links)
    altitude_ft = max(way.start.lowest_ft, way.goal.lowest_ft, *turns, *links)
    return Lowest(altitude_ft, _forced_by(network, way, altitude_ft), way)


def _forced_by(network: Network, way: WayFound, altitude_ft: float) -> str:
    """What on a way asks for so high an altitude, in words; empty where nothing does."""
    # The ends first: what they ask for is a matter of the airport, which another airway would not mend.
    for end in (way.start, way.goal):
        if end.lowest_ft >= altitude_ft > 0.0:
            return end.forced_by
    before: int | None = None
    for link in way.links:
        turning_ft = turn_ft(network, before, link) if before is not None else 0.0
        if turning_ft >= altitude_ft > 0.0:
            at = network.points[network.start[link]]
            return f"turn at {at} onto {link_text(network, link)}, MTA {turning_ft:.0f}"
        if network.asked_ft[link] >= altitude_ft > 0.0:
            return f"{link_text(network, link)}, {_asked(network, link, altitude_ft)}"
        before = link
    return ""


def _asked(network: Network, link: int, altitude_ft: float) -> str:
    if network.mea_ft[link] >= altitude_ft:
        return f"MEA {network.mea_ft[link]:.0f}"
    if network.mca_ft[link] >= altitude_ft:
        return f"MCA {network.mca_ft[link]:.0f} at {network.points[network.start[link]]}"
    return f"a station is unusable there below {network.hears_ft[link]:.0f}"


def _bottleneck(
    network: Network, starts: Sequence[WayEnd], goals: Sequence[WayEnd], terms: WayTerms, floor_ft: float
) -> float | None:
    """The least altitude, `floor_ft` or above, that the links, turns and ends of some way ask for.

    A link whose MAA is under what the way to it asks for does not count; None where there is no way at any altitude.
    """
    closed, last = closed_by_name(network, terms), len(terms.via)
    leaving: dict[int, float] = {}
    for goal in goals:
        # Dijkstra with `max` in place of `+`: the heap gives the way whose highest demand is lowest.
        leaving[goal.point] = min(goal.lowest_ft, leaving.get(goal.point, NO_LIMIT_FT))
    heap = [(max(floor_ft, start.lowest_ft), _SET_OUT, start.point, 0) for start in starts]
    heapify(heap)
    # By link, or by point below nought, and points passed; as one number, which is quicker found than a pair.
    known: dict[int, float] = {}
    passes = last + 1
    asked, most, ends, first, turning = (
        network.asked_ft, network.maa_ft, network.end, network.first, network.turning_links
    )  # fmt: skip
    while heap:
        needed_ft, link, point, passed = heappop(heap)
        if link == _ARRIVED:
            return needed_ft
        turns = link in turning
        if link != _SET_OUT and needed_ft > known[(link if turns else -1 - point) * passes + passed]:
            continue
        while passed < last and point in terms.via[passed]:
            passed += 1
        if passed == last and point in leaving and (link != _SET_OUT or terms.by_station):
            heappush(heap, (max(needed_ft, leaving[point]), _ARRIVED, point, passed))
        for onward in range(first[point], first[point + 1]):
            end = ends[onward]
            # Only where a turn has a minimum does it matter by which link a point is reached.
            state = (onward if onward in turning else -1 - end) * passes + passed
            least_ft = known.get(state, NO_LIMIT_FT)
            if least_ft <= needed_ft or asked[onward] >= least_ft or onward in closed:
                continue
            asked_ft = max(needed_ft, asked[onward], turn_ft(network, link, onward) if turns else 0.0)
            # The height that the way asks for so far must fit under this link's MAA too: it is flown level.
            if asked_ft < least_ft and asked_ft <= most[onward]:
                known[state] = asked_ft
                heappush(heap, (asked_ft, onward, end, passed))
    return None


def _next_asked_ft(
    network: Network, starts: Sequence[WayEnd], goals: Sequence[WayEnd], above_ft: float
) -> float | None:
    """The next altitude above one that some link, turn or end asks for."""
    asked = (
        *network.asked_ft,
        *(altitude_ft for _, _, altitude_ft in network.turns),
        *(end.lowest_ft for end in (*starts, *goals)),
    )
    return min((one for one in asked if above_ft < one < NO_LIMIT_FT), default=None)


def closed_between(
    network: Network, starts: Sequence[WayEnd], goals: Sequence[WayEnd], terms: WayTerms
) -> tuple[str, ...]:
    """The closed links, in words, of the best way that there would be if none were closed; none where there is none."""
    lowest = lowest_way(_opened(network, frozenset(network.closed)), starts, goals, terms)
    return closed_on(network, lowest.way) if lowest is not None else ()


def closed_on(network: Network, way: WayFound) -> tuple[str, ...]:
    """The closed links of a way, in words."""
    return tuple(f"{link_text(network, link)}, {network.closed[link]}" for link in way.links if network.closed[link])


def without_signal_gaps(network: Network) -> Network:
    """The network with the links open that have an MEA and no signal along a part of them."""
    return _opened(network, frozenset({Service.SIGNAL_GAP.value}))


def _opened(network: Network, closed: frozenset[str]) -> Network:
    """The network with the links open that are closed for one of some reasons."""
    rows = zip(network.closed, network.asked_ft, network.mea_ft, network.mca_ft, network.hears_ft, strict=True)
    asked_ft = tuple(max(more) if why in closed else asked for why, asked, *more in rows)
    return changed(network, asked_ft=asked_ft)
