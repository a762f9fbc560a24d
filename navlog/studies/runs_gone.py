"""The runs of airways that one cycle has and the next has not, and the flights that used them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any, TypeAlias

from msgspec import Struct

from navlog.catalogue.network import Network
from navlog.catalogue.network_store import read_network
from navlog.catalogue.reliance import points_in_order
from navlog.nav.figures import distance
from navlog.nav.problems import printable
from navlog.sheets.json_values import number
from navlog.studies.batch import Row
from navlog.studies.runs_lost import LostRun, every_run, open_links

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue

_SCHEMA = "navlog/gone-1"

Hop: TypeAlias = tuple[str, str, str]
"""A piece of an airway: its designator and two neighbouring points."""

Flown: TypeAlias = tuple[str, int, str]
"""A flight: file, line, name."""


class _Gone(Struct, frozen=True):
    """A run that is no way for VOR any more, why where it is still published, and its pieces, both ways."""

    run: LostRun
    why: str
    hops: frozenset[Hop]


def runs_gone(old: Catalogue, old_day: date, new: Catalogue, new_day: date) -> tuple[_Gone, ...]:
    """The runs between neighbouring guiding stations that airways had on one day and have no longer on the other.

    One stays where its airway still leads from the one station to the other, whatever fixes it passes, and whether or
    not they guide.
    """
    before, after = read_network(old, old_day), read_network(new, new_day)
    joined = _joined(after)
    closed = {_hop(after, link): reason for link, reason in enumerate(after.closed) if reason}
    found = []
    for run in every_run(before, points_in_order(old, old_day)):
        ends = joined.get((run.airway, run.start)), joined.get((run.airway, run.end))
        if None in ends or ends[0] != ends[1]:
            hops = [_hop(before, link) for link in run.links]
            why = next((closed[hop] for hop in hops if hop in closed), "")
            both = frozenset(one for airway, start, end in hops for one in ((airway, start, end), (airway, end, start)))
            found.append(_Gone(run, why, both))
    return tuple(found)


def _hop(network: Network, link: int) -> Hop:
    airway = network.airways[network.airway[link]]
    return airway, network.points[network.start[link]], network.points[network.end[link]]


def _joined(network: Network) -> dict[tuple[str, str], tuple[str, str]]:
    """For each point of each airway one that stands for all that the airway joins it with by VOR."""
    chosen: dict[tuple[str, str], tuple[str, str]] = {}

    def root(point: tuple[str, str]) -> tuple[str, str]:
        while chosen.setdefault(point, point) != point:
            chosen[point] = chosen[chosen[point]]
            point = chosen[point]
        return point

    for link in open_links(network):
        airway, start, end = _hop(network, link)
        chosen[root((airway, start))] = root((airway, end))
    return {point: root(point) for point in list(chosen)}


def users(gone: Sequence[_Gone], flown: Mapping[Flown, Iterable[Hop]]) -> tuple[tuple[Flown, ...], ...]:
    """For each run the flights that used it, in their order."""
    pieces = {flight: frozenset(hops) for flight, hops in flown.items()}
    return tuple(tuple(flight for flight, hops in pieces.items() if hops & one.hops) for one in gone)


def gone_lines(gone: Sequence[_Gone], flown: Sequence[Sequence[Flown]]) -> Iterator[str]:
    """`gone: V21 PUC to FFU, 88.6 NM: used by routes/a.route:1 trip`, a line a run."""
    for one, flights in zip(gone, flown, strict=True):
        told = ", ".join(f"{file}:{line} {name}" for file, line, name in flights) or "none of these flights"
        why = f" ({one.why})" if one.why else ""
        run = one.run
        yield printable(
            f"gone: {run.airway} {run.start} to {run.end}, {distance(run.distance_nm)} NM{why}: used by {told}"
        )


def gone_rows(gone: Sequence[_Gone], flown: Sequence[Sequence[Flown]]) -> Iterator[Row]:
    """A row for each run and flight that used it, in the columns of a comparison of cycles; one where none did."""
    for one, flights in zip(gone, flown, strict=True):
        run = one.run
        told = ("run", f"{run.airway} {run.start} to {run.end}", "length in NM", distance(run.distance_nm), None)
        for file, line, name in flights or ((None, None, None),):
            yield (file, line, name, *told)


def gone_json(gone: Sequence[_Gone], flown: Sequence[Sequence[Flown]]) -> str:
    """One object a line for each run."""
    import json

    return "".join(
        json.dumps(_object(one, flights), ensure_ascii=True, allow_nan=False) + "\n"
        for one, flights in zip(gone, flown, strict=True)
    )


def _object(one: _Gone, flights: Sequence[Flown]) -> dict[str, Any]:
    run = one.run
    return {
        "schema": _SCHEMA,
        "airway": run.airway,
        "from": run.start,
        "to": run.end,
        "distance_nm": number(run.distance_nm),
        "reason": one.why or None,
        "flights": [{"flight": name, "file": file, "line": line} for file, line, name in flights],
    }
