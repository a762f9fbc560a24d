"""The VORs and airways around a flight, asked of published data for the background of its plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from navlog.flightlog.records import Log
from navlog.nav import earth
from navlog.nav.chart import Position, StationKind
from navlog.nav.record import changed
from navlog.nav.surroundings import Line, Surroundings
from navlog.request.references import References
from navlog.rules.answers import Answer

if TYPE_CHECKING:
    from navlog.catalogue.network import Network
    from navlog.catalogue.queries import Catalogue

_BESIDE_NM = 25.0
_FARTHEST_NM = 500.0
"""On the plan of a longer flight nothing faint could be told apart."""
_MOST_STATIONS = 40
_JETS_FROM_FT = 18_000.0
"""The low airways end there (14 CFR 71.71)."""


def for_sheets(
    found: Iterable[Answer], forms: Iterable[str], published: Catalogue | None, references: References
) -> tuple[Answer, ...]:
    """The answers with what the sheets of these formats show besides the log: fields beside the way, and around it."""
    from navlog.sheets.formats import DRAWN, PAGED

    asked, given = frozenset(forms), tuple(found)
    if asked.intersection(PAGED):
        from navlog.studies.diversions import with_diversions

        given = tuple(with_diversions(one, published, references) for one in given)
    return tuple(_with_surroundings(one, published) for one in given) if asked.intersection(DRAWN) else given


def _with_surroundings(answer: Answer, published: Catalogue | None) -> Answer:
    """The answer with what published data know around its flight; as it is without a catalogue or positions."""
    if answer.report is None or published is None:
        return answer
    return changed(answer, report=changed(answer.report, surroundings=_surroundings(answer.report.log, published)))


def _surroundings(log: Log, published: Catalogue) -> Surroundings | None:
    """The VORs and airways within 25 NM of the circle about a flight; None where nothing of it has a position."""
    from navlog.catalogue.network_store import read_network

    logs = (log, *log.alternates)
    places = [end.position for each in logs for leg in each.legs for end in (leg.start, leg.end)]
    known = [one for one in places if one is not None]
    if not known:
        return None
    middle = _middle(known)
    radius_nm = max(earth.distance_nm(middle, one) for one in known) + _BESIDE_NM
    if radius_nm > _FARTHEST_NM:
        return Surroundings((), ())
    day = log.conditions.day
    near = published.nearby(middle, radius_nm, day, frozenset({StationKind.VOR}))
    stations = tuple((one.ident, one.position) for one in near if one.position is not None)[:_MOST_STATIONS]
    high = max(max(leg.start_altitude_ft, leg.end_altitude_ft) for leg in log.legs) >= _JETS_FROM_FT
    network = read_network(published, day)
    return Surroundings(stations, tuple(_airways(network, middle, radius_nm, high=high)))


def _middle(places: list[Position]) -> Position:
    """The middle between two places that are far apart."""
    first = max(places, key=lambda one: earth.distance_nm(places[0], one))
    last = max(places, key=lambda one: earth.distance_nm(first, one))
    length_nm = earth.distance_nm(first, last)
    return first if length_nm < earth.COINCIDENT_NM else earth.point_along(first, last, length_nm / 2.0)[0]


def _airways(network: Network, middle: Position, radius_nm: float, *, high: bool) -> Iterator[Line]:
    """The low or the high airways near a place, each run of their segments as a line."""
    inside = {point for point in range(len(network.points)) if network.apart_nm(point, middle) <= radius_nm}
    seen: set[tuple[int, int, int]] = set()
    runs: dict[int, list[list[int]]] = {}
    for point in sorted(inside):
        for link in network.links_from(point):
            airway, end = network.airway[link], network.end[link]
            is_high = network.airways[airway][:1] in ("J", "Q")
            if end not in inside or is_high is not high or (airway, end, point) in seen:
                continue
            seen.add((airway, point, end))
            joined = next((run for run in runs.setdefault(airway, []) if point in (run[0], run[-1])), None)
            if joined is None:
                runs[airway].append([point, end])
            elif joined[-1] == point:
                joined.append(end)
            else:
                joined.insert(0, end)
    for airway, found in sorted(runs.items(), key=lambda one: network.airways[one[0]]):
        for run in found:
            yield Line(network.airways[airway], tuple(network.position(point) for point in run))
