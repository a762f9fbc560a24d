"""The runs of airways that stations guide: the parts between neighbouring guiding stations that are lost with them.

A run goes by the same two stations that `station-out` goes by: the first VOR behind a segment and the first ahead.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from navlog.catalogue.network import NO_LIMIT_FT, Network
from navlog.nav.chart import Service

_NO_WAY_NOW = frozenset(
    {service.value for service in Service if service not in (Service.NORMAL, Service.SIGNAL_GAP)} - {""}
)
"""What closes a segment to VOR with every station on the air, so that nothing is lost there."""


class LostRun(Struct, frozen=True):
    """A part of an airway between neighbouring guiding stations, or from one to the airway's end, with its length, NM.

    `links` are those of the network from `start` to `end`; `asked_ft` is the lowest altitude at which it is flown that
    way with every station on the air, None where nothing is published.
    """

    airway: str
    start: str
    end: str
    distance_nm: float
    links: tuple[int, ...]
    asked_ft: float | None


def links_by_station(network: Network) -> dict[str, tuple[int, ...]]:
    """The links that each station guides, at one end or the other."""
    found: dict[str, list[int]] = {ident: [] for ident in network.stations}
    for link, (behind, ahead) in enumerate(zip(network.behind, network.ahead, strict=True)):
        for station in {behind, ahead} - {-1}:
            found[network.stations[station]].append(link)
    return {ident: tuple(links) for ident, links in found.items()}


def runs_lost(
    network: Network,
    guided: Mapping[str, Sequence[int]],
    out: Iterable[str],
    order: Mapping[str, Sequence[str]],
) -> tuple[LostRun, ...]:
    """The runs that stations guide, each from its first point as the airway is written, by airway.

    `guided` are the links by station; `order` the points of each airway as written. A segment that is closed to VOR
    with every station on the air is no part of a run.
    """
    gone = frozenset(out)
    by_airway: dict[int, set[int]] = {}
    for ident in gone:
        for link in guided.get(ident, ()):
            if network.closed[link] not in _NO_WAY_NOW:
                by_airway.setdefault(network.airway[link], set()).add(link)
    return _runs(network, by_airway, gone, order)


def every_run(network: Network, order: Mapping[str, Sequence[str]]) -> tuple[LostRun, ...]:
    """Every run of every airway that is a way for VOR, as `runs_lost` tells them."""
    by_airway: dict[int, set[int]] = {}
    for link in open_links(network):
        by_airway.setdefault(network.airway[link], set()).add(link)
    return _runs(network, by_airway, frozenset(), order)


def open_links(network: Network) -> Iterator[int]:
    """The links that are a way for VOR; one with a signal gap is."""
    return (link for link, closed in enumerate(network.closed) if closed not in _NO_WAY_NOW)


def _runs(
    network: Network, by_airway: Mapping[int, set[int]], gone: frozenset[str], order: Mapping[str, Sequence[str]]
) -> tuple[LostRun, ...]:
    found: list[LostRun] = []
    for airway in sorted(by_airway):
        ident = network.airways[airway]
        places = {point: place for place, point in reversed(list(enumerate(order.get(ident, ()))))}
        runs = [_run(network, ident, chain) for chain in _chains(network, by_airway[airway], gone)]
        found += sorted(
            (one for one in runs if places.get(one.start, 0) <= places.get(one.end, 0)),
            key=lambda one: places.get(one.start, 0),
        )
    return tuple(found)


def _chains(network: Network, links: Iterable[int], gone: frozenset[str]) -> Iterator[tuple[int, ...]]:
    """The ways along one airway from one guiding station, or end of what is lost, to the next, in both directions."""
    leaving: dict[int, list[int]] = {}
    for link in sorted(links):
        leaving.setdefault(network.start[link], []).append(link)

    def ends(point: int) -> bool:
        onward = leaving.get(point, ())
        return len(onward) != 2 or (network.points[point] not in gone and any(_guides(network, one) for one in onward))

    for point, onward in leaving.items():
        for first in onward if ends(point) else ():
            chain = [first]
            while not ends(network.end[chain[-1]]):
                here, came_from = network.end[chain[-1]], network.start[chain[-1]]
                chain.append(next(link for link in leaving[here] if network.end[link] != came_from))
            yield tuple(chain)


def _guides(network: Network, link: int) -> bool:
    """Whether the point that a link leaves is the station behind it."""
    behind = network.behind[link]
    return behind >= 0 and network.stations[behind] == network.points[network.start[link]]


def _run(network: Network, airway: str, chain: tuple[int, ...]) -> LostRun:
    # A signal gap closes a way to a proposal, and has its minimums all the same.
    minimums = (network.mea_ft, network.mca_ft, network.hears_ft)
    asked_ft = max(column[link] for link in chain for column in minimums)
    return LostRun(
        airway,
        network.points[network.start[chain[0]]],
        network.points[network.end[chain[-1]]],
        sum(network.distance_nm[link] for link in chain),
        chain,
        asked_ft if 0.0 < asked_ft < NO_LIMIT_FT else None,
    )
