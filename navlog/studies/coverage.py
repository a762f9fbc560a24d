"""Which places of the network of airways a smaller network of stations leaves without one, or far from an airport.

The criteria are those of the VOR Minimum Operational Network: at 5,000 ft above ground a VOR is received everywhere,
and an airport of the network lies within 100 NM (81 FR 48694, July 26, 2016, FR Doc 2016-17579; AIM 1-1-3). The height
of the ground is not published for fixes: that of the nearest airport stands for it, where one lies within 40 NM.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from msgspec import Struct

from navlog.catalogue.nearness import Cells
from navlog.catalogue.reliance import OpenAirport
from navlog.catalogue.text import source_text
from navlog.nav import earth
from navlog.nav.chart import Position, Station
from navlog.nav.figures import distance, whole
from navlog.nav.layout import WIDTH, wrapped
from navlog.nav.problems import NavlogError, Problem, Span, problem_error
from navlog.sheets.json_values import number
from navlog.studies.batch import Row
from navlog.studies.proposal_ends import received_from_ft
from navlog.studies.without import Hanging, problems_of

_SCHEMA = "navlog/coverage-1"
_ABOVE_GROUND_FT = 5_000.0
_AIRPORT_WITHIN_NM = 100.0
_GROUND_WITHIN_NM = 40.0
_REACH_NM = 131.0
"""No service volume is wider (AIM 1-1-8), with a sphere's error."""

COVERAGE_COLUMNS = (
    "place", "latitude_deg", "longitude_deg", "ground_ft", "ground_at", "station", "mon_airport", "mon_nm", "lacks",
)  # fmt: skip


class _Covered(Struct, frozen=True):
    """One place: the ground there and whose it is, the nearest station received, the nearest airport of the network.

    `ground_ft` is None where nothing tells it, and `station` then too; `airport` is None where none is asked about or
    none lies within 100 NM.
    """

    ident: str
    position: Position
    ground_ft: float | None
    ground_at: str | None
    station: str | None
    airport: str | None
    airport_nm: float | None
    lacks: tuple[str, ...]


class _Coverage(Struct, frozen=True):
    """Every place of the network, how many VORs are in service and how many stay, and of how many airports it asks."""

    places: tuple[_Covered, ...]
    in_service: int
    staying: int
    airports: int | None

    def lacking(self, what: str) -> tuple[_Covered, ...]:
        """The places that lack "station", "airport" or "ground"."""
        return tuple(one for one in self.places if what in one.lacks)


def idents_in(text: str, file: str) -> dict[str, Span]:
    """The identifiers of a list, parted by blanks, commas or lines, each where it stands first; `#` begins a note.

    Raises `empty-list` for a list of none.
    """
    found: dict[str, Span] = {}
    for number_of, line in enumerate(text.splitlines(), 1):
        column = 0
        written = line.partition("#")[0].replace(",", " ")
        for word in written.split():
            column = written.index(word, column)
            found.setdefault(word.upper(), Span(file, number_of, column + 1, len(word)))
            column += len(word)
    if not found:
        hint = "write the identifiers in lines, or with blanks or commas between them"
        raise problem_error("empty-list", "no identifier stands in this list", span=Span(file, 1), hint=hint)
    return found


def airports_named(asked: Hanging, names: Mapping[str, Span]) -> dict[str, Position]:
    """Where the airports of a list are; raises an `unknown-ident` problem for each that is none."""
    found: dict[str, Position] = {}
    problems: list[Problem] = []
    for ident, span in names.items():
        airports = asked.catalogue.airports(ident, asked.day)
        if airports:
            found[ident] = airports[0].position
        else:
            problems.append(Problem("unknown-ident", f"no airport is called `{ident}`", span))
    if problems:
        raise NavlogError(*problems)
    return found


def stations_named(asked: Hanging, names: Mapping[str, Span]) -> tuple[str, ...]:
    """The VORs of a list; raises an `unknown-ident` problem, at its place, for each that is no VOR in service."""
    problems = [problem for ident, span in names.items() for problem in problems_of(asked, ident, span)]
    if problems:
        raise NavlogError(*problems)
    return tuple(names)


def covered(asked: Hanging, staying: Iterable[str], airports: Mapping[str, Position] | None) -> _Coverage:
    """How the places of the network stand with the stations that stay, and with airports where they are given."""
    stays = [one for ident in staying for one in asked.stations[ident] if one.position is not None]
    stations = Cells((one.position, one) for one in stays if one.position is not None)
    fields = None if airports is None else Cells((one[1], one) for one in airports.items())
    network = asked.network
    places = {
        (network.points[point], network.latitudes[point], network.longitudes[point]): network.position(point)
        for point in sorted(range(len(network.points)), key=lambda one: network.points[one])
    }
    found = tuple(
        _covered(name, position, asked.airports, stations, fields) for (name, _, _), position in places.items()
    )
    staying_idents = {one.ident for one in stays}
    return _Coverage(found, len(asked.stations), len(staying_idents), None if airports is None else len(airports))


def _covered(
    name: str,
    place: Position,
    airports: Cells[OpenAirport],
    stations: Cells[Station],
    fields: Cells[tuple[str, Position]] | None,
) -> _Covered:
    around = airports.around(place, _GROUND_WITHIN_NM)
    nearest = next((airport for _, airport in around if airport.elevation_ft is not None), None)
    ground_ft = nearest.elevation_ft if nearest is not None else None
    station = _received(place, ground_ft, stations) if ground_ft is not None else None
    near: tuple[str, float] | None = None
    for _, (ident, position) in fields.around(place, _AIRPORT_WITHIN_NM + 1.0) if fields is not None else ():
        away_nm = earth.distance_nm(place, position)
        if away_nm <= _AIRPORT_WITHIN_NM and (near is None or away_nm < near[1]):
            near = ident, away_nm
    lacks = (
        *(("ground",) if ground_ft is None else ()),
        *(("station",) if ground_ft is not None and station is None else ()),
        *(("airport",) if fields is not None and near is None else ()),
    )
    at = nearest.ident if nearest is not None else None
    airport, airport_nm = near if near is not None else (None, None)
    return _Covered(name, place, ground_ft, at, station, airport, airport_nm, lacks)


def _received(place: Position, ground_ft: float, stations: Cells[Station]) -> str | None:
    """The nearest station that is received 5,000 ft above ground."""
    for _, station in stations.around(place, _REACH_NM):
        assert station.position is not None
        away_nm = earth.distance_nm(station.position, place)
        from_ft = received_from_ft(station, place, away_nm, ground_ft)
        if from_ft is not None and from_ft <= ground_ft + _ABOVE_GROUND_FT:
            return station.ident
    return None


def coverage_lines(asked: Hanging, found: _Coverage) -> Iterator[str]:
    """How many stations stay, and the places that lack something."""
    yield f"{whole(_ABOVE_GROUND_FT)} ft above ground, {asked.day.isoformat()}"
    yield from (f"  {source_text(one)}" for one in asked.sources)
    yield f"Stations that stay: {found.staying} of {found.in_service} VORs in service"
    told = [("station", "No station received"), ("ground", "Not judged, no airport within 40 NM tells the ground")]
    if found.airports is not None:
        yield f"Airports of the network: {found.airports}"
        told.insert(1, ("airport", "No airport of the network within 100 NM"))
    yield f"Places of the network of airways: {len(found.places)}"
    for what, heading in told:
        places = found.lacking(what)
        yield ""
        yield f"{heading}: {len(places) or 'none'}"
        yield from wrapped(" ".join(one.ident for one in places), WIDTH, "  ", first="  ") if places else ()
    yield ""
    yield from wrapped("The ground is taken to be as high as the nearest airport. Hills are not looked at.", WIDTH)


def coverage_rows(found: _Coverage) -> Iterator[Row]:
    """A row for each place that lacks something, in the columns of `COVERAGE_COLUMNS`."""
    for one in found.places:
        if one.lacks:
            where = (f"{one.position.latitude_deg:.6f}", f"{one.position.longitude_deg:.6f}")
            ground = whole(one.ground_ft) if one.ground_ft is not None else None
            away = distance(one.airport_nm) if one.airport_nm is not None else None
            yield (one.ident, *where, ground, one.ground_at, one.station, one.airport, away, " ".join(one.lacks))


def coverage_json(found: _Coverage) -> str:
    """One object a line for each place that lacks something."""
    import json

    return "".join(
        json.dumps(_object(one), allow_nan=False, ensure_ascii=True) + "\n" for one in found.places if one.lacks
    )


def _object(one: _Covered) -> dict[str, Any]:
    return {
        "schema": _SCHEMA,
        "place": one.ident,
        "latitude_deg": number(one.position.latitude_deg),
        "longitude_deg": number(one.position.longitude_deg),
        "ground_ft": number(one.ground_ft),
        "ground_at": one.ground_at,
        "station": one.station,
        "mon_airport": one.airport,
        "mon_nm": number(one.airport_nm),
        "lacks": list(one.lacks),
    }
