"""Small networks of airways over an empty ocean, and the same questions answered by trying every way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise
from math import inf
from typing import NamedTuple

from navlog.catalogue.network import NO_LIMIT_FT, Network


class Drawn(NamedTuple):
    """One direction of a piece of an airway; names for points and stations."""

    airway: str
    start: str
    end: str
    distance_nm: float
    mea_ft: float = 0.0
    mca_ft: float = 0.0
    maa_ft: float = NO_LIMIT_FT
    hears_ft: float = 0.0
    closed: str = ""
    behind: str | None = None
    ahead: str | None = None


def network_of(
    places: dict[str, tuple[float, float]],
    links: Sequence[Drawn],
    turns: Sequence[tuple[int, str | None, float]] = (),
) -> Network:
    """A network of `links`; `turns` are (place among `links`, point turned toward, altitude)."""
    points = list(places)
    order = sorted(range(len(links)), key=lambda one: points.index(links[one].start))
    rank = {old: new for new, old in enumerate(order)}
    ordered = [links[one] for one in order]
    airways = list(dict.fromkeys(one.airway for one in links))
    stations = list(dict.fromkeys(name for one in links for name in (one.behind, one.ahead) if name is not None))
    leaving = [0, *(sum(one.start == point for one in links) for point in points)]
    return Network(
        points=tuple(points),
        latitudes=tuple(place[0] for place in places.values()),
        longitudes=tuple(place[1] for place in places.values()),
        airways=tuple(airways),
        stations=tuple(stations),
        first=tuple(accumulate(leaving)),
        start=tuple(points.index(one.start) for one in ordered),
        end=tuple(points.index(one.end) for one in ordered),
        airway=tuple(airways.index(one.airway) for one in ordered),
        distance_nm=tuple(one.distance_nm for one in ordered),
        mea_ft=tuple(one.mea_ft for one in ordered),
        mca_ft=tuple(one.mca_ft for one in ordered),
        maa_ft=tuple(one.maa_ft for one in ordered),
        hears_ft=tuple(one.hears_ft for one in ordered),
        asked_ft=tuple(NO_LIMIT_FT if one.closed else max(one.mea_ft, one.mca_ft, one.hears_ft) for one in ordered),
        closed=tuple(one.closed for one in ordered),
        behind=tuple(stations.index(one.behind) if one.behind else -1 for one in ordered),
        ahead=tuple(stations.index(one.ahead) if one.ahead else -1 for one in ordered),
        turns=tuple((rank[link], points.index(toward) if toward else -1, ft) for link, toward, ft in turns),
    )


def every_way(
    network: Network, start: int, goal: int, altitude_ft: float, out: str | None
) -> Iterator[tuple[int, ...]]:
    """Every way at an altitude that flies no link twice and never turns straight back."""

    def grown(way: tuple[int, ...], point: int) -> Iterator[tuple[int, ...]]:
        if point == goal:
            yield way
        for link in range(len(network.start)):
            if network.start[link] == point and link not in way and open_at(network, way, link, altitude_ft, out):
                yield from grown((*way, link), network.end[link])

    return grown((), start)


def open_at(network: Network, way: tuple[int, ...], link: int, altitude_ft: float, out: str | None) -> bool:
    """Whether a link may follow a way at an altitude."""
    asked = (network.mea_ft[link], network.mca_ft[link], network.hears_ft[link])
    if network.closed[link] or max(asked) > altitude_ft or network.maa_ft[link] < altitude_ft:
        return False
    if out is not None and any(
        number >= 0 and network.stations[number] == out for number in (network.behind[link], network.ahead[link])
    ):
        return False
    if not way:
        return True
    if network.start[way[-1]] == network.end[link]:
        return False
    turning = [ft for one, toward, ft in network.turns if one == way[-1] and toward in (-1, network.end[link])]
    return network.airway[way[-1]] == network.airway[link] or max(turning, default=0.0) <= altitude_ft


def cost_of(network: Network, way: tuple[int, ...], change: float) -> float:
    """Miles, and so many for each change of airway."""
    changes = sum(network.airway[one] != network.airway[other] for one, other in pairwise(way))
    return sum(network.distance_nm[link] for link in way) + change * changes


def least_cost(network: Network, start: int, goal: int, altitude_ft: float, change: float, out: str | None) -> float:
    """The cost of the cheapest of every way; infinite where there is none."""
    ways = every_way(network, start, goal, altitude_ft, out)
    return min((cost_of(network, way, change) for way in ways), default=inf)
