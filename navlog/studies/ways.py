"""Ways through the network of airways: what a search is given, what it finds, and its words."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from navlog.catalogue.network import Network
from navlog.nav.chart import Position

CHANGE_NM = 5.0
"""What a change of airway may add to a way: 5 NM take 0.77 changes off a way and add 0.7 NM (200 random pairs)."""

_OFF_AIRWAY = 1.5
"""A mile off the airways counts as so many on one: no minimum is published there, and nobody checks the signal."""


class WayEnd(Struct, frozen=True):
    """A point of the network where the airways are joined or left, and the way there off the airways, NM.

    `lowest_ft` is the altitude from which a station is received all along that way, `forced_by` says which.
    """

    point: int
    off_nm: float = 0.0
    lowest_ft: float = 0.0
    forced_by: str = ""


class WayFound(Struct, frozen=True):
    """A way through the network: its two ends and the links between, none where one station serves it all.

    `distance_nm` is with the parts off the airways; `cost` is what the search counted.
    """

    start: WayEnd
    goal: WayEnd
    links: tuple[int, ...]
    distance_nm: float
    off_airway_nm: float
    changes: int
    cost: float


class WayTerms(Struct, frozen=True):
    """What a search goes by.

    `out` are stations (identifiers) that guide nothing; `avoided` points and airways (identifiers) not to be flown;
    `banned` links by number. `via` are points to pass in this order, each by its numbers in the network. A link costs
    what `weight` says of it, else its length in NM; `least` is the least that a mile of a link costs. Changes of
    airway and miles off the airways cost `change` each and `off` a mile. `toward` is the place to which the `off_nm`
    of all goals lead, where they lead to one. A way by one station and no airway at all counts only with `by_station`.
    """

    out: frozenset[str] = frozenset()
    avoided: frozenset[str] = frozenset()
    banned: frozenset[int] = frozenset()
    via: tuple[frozenset[int], ...] = ()
    weight: Callable[[int], float] | None = None
    least: float = 1.0
    change: float = CHANGE_NM
    off: float = _OFF_AIRWAY
    by_station: bool = False
    toward: Position | None = None


def link_text(network: Network, link: int) -> str:
    """A link in words: `V134 FFU to PUC`."""
    start, end = network.points[network.start[link]], network.points[network.end[link]]
    return f"{network.airways[network.airway[link]]} {start} to {end}"


def hops(network: Network, way: WayFound) -> tuple[tuple[str, str, str, float], ...]:
    """The way as (airway, from, to, NM), one for each stay on an airway."""
    found: list[tuple[str, str, str, float]] = []
    before: int | None = None
    for link in way.links:
        airway = network.airways[network.airway[link]]
        start, end, nm = (
            network.points[network.start[link]],
            network.points[network.end[link]],
            network.distance_nm[link],
        )
        # By number and not by name: two airways of one name may meet, and a pilot must be told where.
        if before is not None and network.airway[before] == network.airway[link]:
            _, from_, _, so_far = found.pop()
            found.append((airway, from_, end, so_far + nm))
        else:
            found.append((airway, start, end, nm))
        before = link
    return tuple(found)


def turn_ft(network: Network, before: int, link: int) -> float:
    """The minimum altitude for turning from one link onto another, 0 where there is none."""
    if before not in network.turning_links or network.airway[before] == network.airway[link]:
        return 0.0
    # An MTA may name the point turned to, or none (-1), which holds for every turn off the airway there.
    return max(network.turn_ft.get((before, network.end[link]), 0.0), network.turn_ft.get((before, -1), 0.0))


def closed_by_name(network: Network, terms: WayTerms) -> frozenset[int]:
    """The links that a search must not fly: banned, guided by a station that is out, on or to what is avoided."""
    # Most searches avoid nothing by name, and a network has thousands of links to look through.
    if not terms.out and not terms.avoided:
        return terms.banned
    stations = {number for number, ident in enumerate(network.stations) if ident in terms.out}
    airways = {number for number, ident in enumerate(network.airways) if ident in terms.avoided}
    points = {point for ident in terms.avoided for point in network.named(ident)}
    found = (
        link
        for link in range(len(network.start))
        # A link is out with either of its stations: that the other reaches across nobody has published.
        if network.behind[link] in stations
        or network.ahead[link] in stations
        or network.airway[link] in airways
        or network.end[link] in points
        or network.start[link] in points
    )
    return terms.banned.union(found)
