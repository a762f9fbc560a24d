"""What goes if stations go: runs of airways, fixes, changeovers, direct legs, airports, and the way round each run."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.catalogue.nearness import Cells
from navlog.catalogue.network import Network
from navlog.catalogue.network_store import read_network
from navlog.catalogue.reliance import (
    OpenAirport,
    PublishedChangeover,
    open_airports,
    points_in_order,
    published_changeovers,
    radials_of_fixes,
    vors_in_service,
)
from navlog.nav import earth
from navlog.nav.chart import Provenance, Station
from navlog.nav.problems import NavlogError, Problem, Span
from navlog.studies.proposal_ends import received_from_ft
from navlog.studies.runs_lost import LostRun, links_by_station, runs_lost
from navlog.studies.way_heights import way_round
from navlog.studies.ways import hops

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue

HEIGHTS_FT = (1_000.0, 5_000.0)
"""Above an airport, where it is asked which VORs are received."""

_PAIRS_WITHIN_NM = 80.0
"""Off airways stations are 80 NM apart at most below 18,000 ft (AIM 5-1-8)."""

_AIRPORTS_WITHIN_NM = 40.0
_FARTHEST_NM = 71.0
"""No service volume is wider 14,500 ft and less above its station: 70 NM (AIM 1-1-8), and a sphere's error."""

_NARROW_NM, _WIDE_FROM_FT = 41.0, 5_000.0
_MOST_TIMES = 1.3
"""So much longer than the shortest a way may be that keeps the altitude, as with proposals."""

_LADDER_FT = (6_000.0, 8_000.0, 10_000.0, 12_000.0, 14_000.0, 16_000.0, 17_500.0, 24_000.0, 33_000.0)
"""Other altitudes at which a way round is looked for."""

_WIDEST_NM, _WIDER_FROM_FT = 131.0, 14_500.0
"""A volume is 40 NM wide at the most up to 5,000 ft above its station, and wider than 70 NM from 14,500 ft."""


class _Pair(Struct, frozen=True):
    """A direct leg from a station to another VOR in service, NM."""

    station: str
    other: str
    distance_nm: float


class _AirportLost(Struct, frozen=True):
    """An airport near a station, and the heights above it at which no other VOR is received, feet."""

    ident: str
    distance_nm: float
    heights_ft: tuple[float, ...]


class _WayRound(Struct, frozen=True):
    """The way round a run: each stay on an airway (airway, from, to, NM), its length, and its altitude."""

    hops: tuple[tuple[str, str, str, float], ...]
    distance_nm: float
    altitude_ft: float


class RunRound(Struct, frozen=True):
    """A run, how much of it log and rules fly without guidance then, NM, and the way round it; None where unknown."""

    run: LostRun
    unguided_nm: float | None
    way: _WayRound | None

    @property
    def more_nm(self) -> float | None:
        """How much longer the way round is."""
        return self.way.distance_nm - self.run.distance_nm if self.way is not None else None

    @property
    def more_ft(self) -> float | None:
        """How much higher than the run it is flown at the least."""
        if self.way is None or self.run.asked_ft is None:
            return None
        return self.way.altitude_ft - self.run.asked_ft


class Without(Struct, frozen=True):
    """What goes with some stations. `fixes` are those, with their region, that lose their last radial."""

    idents: tuple[str, ...]
    names: tuple[str | None, ...]
    runs: tuple[LostRun, ...]
    fixes: tuple[tuple[str, str], ...]
    changeovers: tuple[PublishedChangeover, ...]
    pairs: tuple[_Pair, ...]
    airports: tuple[_AirportLost, ...]

    @property
    def runs_nm(self) -> float:
        """The length of all runs."""
        return sum(run.distance_nm for run in self.runs)

    @property
    def airways(self) -> tuple[str, ...]:
        """The airways of the runs, each once."""
        return tuple(dict.fromkeys(run.airway for run in self.runs))

    def airports_at(self, height_ft: float) -> int:
        """How many airports receive no other VOR at a height above them."""
        return sum(height_ft in one.heights_ft for one in self.airports)


class Hanging(Struct, frozen=True, dict=True):
    """What hangs on which station on one day, read from the catalogue once for all questions."""

    catalogue: Catalogue
    day: date
    network: Network
    stations: Mapping[str, tuple[Station, ...]]

    @property
    def sources(self) -> tuple[Provenance, ...]:
        """Whose data speak on the day."""
        return self.catalogue.sources(self.day)

    @cached_property
    def _guided(self) -> dict[str, tuple[int, ...]]:
        return links_by_station(self.network)

    @cached_property
    def _order(self) -> dict[str, tuple[str, ...]]:
        return points_in_order(self.catalogue, self.day)

    @cached_property
    def _fixes_by_station(self) -> dict[str, list[tuple[tuple[str, str], frozenset[str]]]]:
        """The fixes by each VOR in service that their make-up names, with all of those."""
        found: dict[str, list[tuple[tuple[str, str], frozenset[str]]]] = {}
        for fix, named in radials_of_fixes(self.catalogue, self.day).items():
            guiding = named & self.stations.keys()
            for ident in guiding:
                found.setdefault(ident, []).append((fix, guiding))
        return found

    @cached_property
    def _changeovers(self) -> dict[str, list[PublishedChangeover]]:
        found: dict[str, list[PublishedChangeover]] = {}
        for one in published_changeovers(self.catalogue, self.day):
            for ident in {one.station, one.ahead}:
                found.setdefault(ident, []).append(one)
        return found

    @cached_property
    def _vors(self) -> Cells[Station]:
        """The VORs in service by where they stand."""
        every = (one for named in self.stations.values() for one in named)
        return Cells((one.position, one) for one in every if one.position is not None)

    @cached_property
    def airports(self) -> Cells[OpenAirport]:
        """The open airports by where they lie."""
        return Cells((one.position, one) for one in open_airports(self.catalogue, self.day))

    @cached_property
    def _heard(self) -> dict[tuple[str, int], dict[str, float]]:
        return {}

    def _hearing(self, airport: OpenAirport, most: int) -> dict[str, float]:
        """From which height above an airport each VOR is received, feet, of those up to the highest height asked.

        More than `most` that are received at every height asked are not looked for.
        """
        key = airport.ident, most
        if key not in self._heard:
            found: dict[str, float] = {}
            self._heard[key] = found
            if airport.elevation_ft is None:
                return found
            elevation_ft, highest_ft = airport.elevation_ft, airport.elevation_ft + HEIGHTS_FT[-1]
            reach_nm = _WIDEST_NM if highest_ft >= _WIDER_FROM_FT else _FARTHEST_NM
            for near_nm, station in self._vors.around(airport.position, reach_nm):
                above_ft = highest_ft - (station.elevation_ft or 0.0)
                if near_nm > _NARROW_NM and above_ft < _WIDE_FROM_FT:
                    continue
                if sum(from_ft <= HEIGHTS_FT[0] for from_ft in found.values()) > most:
                    break
                assert station.position is not None
                away_nm = earth.distance_nm(station.position, airport.position)
                from_ft = received_from_ft(station, airport.position, away_nm, elevation_ft)
                if from_ft is not None and from_ft <= highest_ft:
                    known_ft = found.get(station.ident, from_ft - elevation_ft)
                    found[station.ident] = min(from_ft - elevation_ft, known_ft)
        return self._heard[key]

    def without(self, out: Iterable[str]) -> Without:
        """What goes with the stations of some identifiers, each a VOR in service."""
        idents = tuple(dict.fromkeys(out))
        gone = frozenset(idents)
        fixes = {fix: None for ident in idents for fix, named in self._fixes_by_station.get(ident, ()) if named <= gone}
        changeovers = {one: None for ident in idents for one in self._changeovers.get(ident, ())}
        return Without(
            idents,
            tuple(self.stations[ident][0].name for ident in idents),
            runs_lost(self.network, self._guided, idents, self._order),
            tuple(sorted(fixes)),
            tuple(changeovers),
            tuple(self._pairs(idents, gone)),
            tuple(self._airports_lost(idents, gone)),
        )

    def _pairs(self, idents: Iterable[str], gone: frozenset[str]) -> Iterator[_Pair]:
        """The direct legs to stations that stay, the nearest first."""
        for ident in idents:
            for place in (one.position for one in self.stations[ident] if one.position is not None):
                for _, other in self._vors.around(place, _PAIRS_WITHIN_NM + 1.0):
                    if other.ident not in gone and other.position is not None:
                        away_nm = earth.distance_nm(place, other.position)
                        if away_nm <= _PAIRS_WITHIN_NM:
                            yield _Pair(ident, other.ident, away_nm)

    def _airports_lost(self, idents: Iterable[str], gone: frozenset[str]) -> Iterator[_AirportLost]:
        """The airports near a station that receive one of those that go at a height, and no VOR that stays."""
        found: dict[str, _AirportLost] = {}
        for place in (one.position for ident in idents for one in self.stations[ident] if one.position is not None):
            for _, airport in self.airports.around(place, _AIRPORTS_WITHIN_NM + 1.0):
                heard = self._hearing(airport, len(gone))
                heights_ft = tuple(
                    height_ft
                    for height_ft in HEIGHTS_FT
                    if (names := {ident for ident, from_ft in heard.items() if from_ft <= height_ft}) and names <= gone
                )
                away_nm = earth.distance_nm(place, airport.position) if heights_ft else _FARTHEST_NM
                known = found.get(airport.ident)
                if away_nm <= _AIRPORTS_WITHIN_NM and (known is None or away_nm < known.distance_nm):
                    found[airport.ident] = _AirportLost(airport.ident, away_nm, heights_ft)
        yield from (found[ident] for ident in sorted(found))

    def rounds(self, found: Without) -> tuple[RunRound, ...]:
        """Each run with what log and rules fly without guidance on it, and the way round it."""
        return tuple(
            RunRound(run, _unguided_nm(self.catalogue, run, found.idents, self.day), self._way(run, found.idents))
            for run in found.runs
        )

    def _way(self, run: LostRun, out: tuple[str, ...]) -> _WayRound | None:
        """The best way round at the run's altitude, or the nearest to it that is at most 1.3 times the shortest.

        Where none is there at any of them, at the lowest altitude at which the airways connect.
        """
        ends = self.network.start[run.links[0]], self.network.end[run.links[-1]]
        own_ft = run.asked_ft or _WIDER_FROM_FT
        tried = (
            way_round(self.network, *ends, out, altitude_ft) for altitude_ft in dict.fromkeys((own_ft, *_LADDER_FT))
        )
        found = [one for one in tried if one is not None]
        lowest = way_round(self.network, *ends, out) if not found else None
        found += [lowest] if lowest is not None else []
        shortest_nm = min((way.distance_nm for way, _ in found), default=0.0)
        near = (one for one in found if one[0].distance_nm <= _MOST_TIMES * shortest_nm)
        way = min(near, key=lambda one: (abs(one[1] - own_ft), one[1]), default=None)
        return _WayRound(hops(self.network, way[0]), way[0].distance_nm, way[1]) if way is not None else None


def hanging(catalogue: Catalogue, day: date) -> Hanging:
    """What hangs on the stations of the catalogue on a day."""
    return Hanging(catalogue, day, read_network(catalogue, day), vors_in_service(catalogue, day))


def known_vors(found: Hanging, names: Iterable[str]) -> tuple[str, ...]:
    """The names in capitals, each once; raises an `unknown-ident` problem for each that is no VOR in service."""
    idents = tuple(dict.fromkeys(name.upper() for name in names))
    problems = [problem for ident in idents for problem in problems_of(found, ident)]
    if problems:
        raise NavlogError(*problems)
    return idents


def problems_of(found: Hanging, ident: str, span: Span | None = None) -> tuple[Problem, ...]:
    """The `unknown-ident` problem of a name that is no VOR in service, at its place; none of one that is."""
    if ident in found.stations:
        return ()
    stations = found.catalogue.stations(ident, found.day) if ident.isascii() else ()
    if stations:
        one = stations[0]
        told = f"{one.published_kind or one.kind.value.upper()}, {one.status.lower()}" if one.status else one.kind.value
        return (Problem("unknown-ident", f"`{ident}` is no VOR in service: {told}", span),)
    from navlog.nav.spelling import suggestion

    close = suggestion(ident, found.stations)
    hint = f"did you mean `{close}`?" if close else "`navlog catalogue nearby` lists the stations near a place"
    return (Problem("unknown-ident", f"no VOR is called `{ident}`", span, hint),)


def _unguided_nm(catalogue: Catalogue, run: LostRun, out: tuple[str, ...], day: date) -> float | None:
    """How many miles of a run the log flies without guidance with the stations out; None where it can't be flown."""
    from navlog.rules.answers import check_text

    lines = (
        f"date {day.isoformat()}",
        "tas 120kt",
        "wind calm",
        f"altitude {run.asked_ft or _WIDER_FROM_FT:.0f}",
        *(f"unavailable {ident}" for ident in out),
        f"route {run.start} {run.airway} {run.end}",
    )
    (answer,) = check_text("\n".join((*lines, "")), catalogue=catalogue)
    if answer.report is None:
        return None
    return sum(leg.distance_nm for leg in answer.report.log.legs if leg.part.guidance is None)


def ranked(found: Hanging) -> tuple[Without, ...]:
    """What goes with each VOR in service alone, those first on which the longest runs of airways hang."""
    every = (found.without((ident,)) for ident in sorted(found.stations))
    return tuple(sorted(every, key=lambda one: (-round(one.runs_nm, 6), -len(one.fixes), one.idents)))
