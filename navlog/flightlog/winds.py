"""The winds of a flight as columns of true winds: as stated, and from winds-aloft bulletins."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from navlog.flightlog.records import BulletinUse
from navlog.nav import earth
from navlog.nav.angles import normalize_deg
from navlog.nav.chart import Airport, Position, Station
from navlog.nav.problems import problem_error
from navlog.nav.wind import NEAREST_COLUMNS, Wind, WindColumn, WindLevel
from navlog.request.records import Request, StatedWind, WindStatement
from navlog.resolve.lookup import ChartLookup
from navlog.resolve.route import Route

if TYPE_CHECKING:
    from navlog.request.bulletin import Bulletin

_EVERY_HEIGHT_FT = (-2_000.0, 100_000.0)
"""A wind without a height is the same at both ends of every height that is flown."""


def stated_columns(route: Route) -> tuple[tuple[WindColumn, ...], tuple[str, ...]]:
    """The `wind` statements as columns, and with which variation magnetic ones were made true.

    Raises a `no-variation` problem for a magnetic wind where nothing has a position.
    """
    found: list[WindColumn] = []
    turned: list[str] = []
    for statement, place in zip(route.request.winds, route.wind_places, strict=True):
        shift_deg = 0.0
        if [level for level in statement.levels if level.magnetic]:
            shift_deg, said = _magnetic_shift(route, statement, place)
            turned.append(said)
        name = statement.place.text if statement.place is not None else None
        found.append(_column(statement.levels, shift_deg, place, name))
    return tuple(found), tuple(turned)


@lru_cache(maxsize=1_024)
def _column(stated: tuple[StatedWind, ...], shift_deg: float, place: Position | None, name: str | None) -> WindColumn:
    """Stated levels with magnetic directions made true, remembered for the flights that share them.

    A wind without a height holds at every height.
    """
    levels: list[WindLevel] = []
    for level in stated:
        from_deg = normalize_deg(level.from_deg + (shift_deg if level.magnetic else 0.0))
        heights_ft = _EVERY_HEIGHT_FT if level.height_ft is None else (level.height_ft,)
        wind = Wind(from_deg, level.speed_kt)
        levels.extend(WindLevel(height_ft, wind, level.temperature_c) for height_ft in heights_ft)
    return WindColumn(tuple(levels), place, name)


def _magnetic_shift(route: Route, statement: WindStatement, place: Position | None) -> tuple[float, str]:
    """The variation that makes a magnetic wind true, and how to say so."""
    request = route.request
    if request.variation_deg is not None:
        return request.variation_deg, "magnetic wind made true with the stated variation"
    # Magnetic by the variation of the place that it is told for; without one that of the first known point stands in.
    where = place or next((point.position for point in route.points if point.position is not None), None)
    if where is None:
        raise problem_error(
            "no-variation",
            "a magnetic wind needs a variation, and nothing here has a position",
            span=statement.span,
            hint="write the wind true, or give a `variation`",
        )
    from navlog.nav.magnetism import variation_deg

    at = statement.place.text if statement.place is not None else route.points[0].name
    return variation_deg(where, request.day), f"magnetic wind made true with the variation at {at}"


def bulletin_columns(
    route: Route, bulletin: Bulletin, catalogue: ChartLookup | None
) -> tuple[tuple[WindColumn, ...], BulletinUse]:
    """The columns of a bulletin that may count on the route, and what is to be said of them.

    Station positions come from the route file, then from the catalogue. Raises a `no-position` problem
    where no station of the bulletin has one.
    """
    from navlog.request.bulletin import columns, dated

    places = {one.ident: _place_of(one.ident, route.request, catalogue) for one in bulletin.stations}
    found, missing = columns(bulletin, {ident: place for ident, place in places.items() if place is not None})
    if not found:
        raise problem_error(
            "no-position",
            f"no station of {bulletin.file} has a known position",
            span=route.request.spans.get("winds"),
            hint="define its stations as `airport` or `station`, or import a catalogue",
        )
    ways = [
        [point.position for point in way.points if point.position is not None] for way in (route, *route.alternates)
    ]
    near = _around(found, ways)
    period = dated(bulletin, route.request.day)
    names = tuple(column.name or "?" for column in near)
    use = BulletinUse(
        bulletin.file, bulletin.heading, period.valid, period.use_from, period.use_to, names, len(missing)
    )
    return near, use


def _place_of(ident: str, request: Request, catalogue: ChartLookup | None) -> Position | None:
    """Where a bulletin's station is: an airport or station of the file, else of the catalogue."""
    given = request.definitions
    known: list[Station | Airport] = [own for own in (given.airports.get(ident), given.stations.get(ident)) if own]
    if not known and catalogue is not None:
        known += [*catalogue.stations(ident, request.day), *catalogue.airports(ident, request.day)]
    return next((place.position for place in known if place.position is not None), None)


def _around(found: Sequence[WindColumn], ways: Sequence[Sequence[Position]]) -> tuple[WindColumn, ...]:
    """The columns that may be among the nearest of any place between the points of each way.

    A place between two neighbours is no farther from one of them than the longest leg, so no column farther
    than its third nearest plus twice that leg can count there.
    """
    legs = [earth.distance_nm(one, other) for way in ways for one, other in pairwise(way)]
    if not legs or len(found) <= NEAREST_COLUMNS:
        return tuple(found)
    longest_nm = max(legs)
    kept: set[int] = set()
    for point in dict.fromkeys(point for way in ways for point in way):
        distances = [earth.distance_nm(point, column.position) for column in found if column.position is not None]
        reach_nm = sorted(distances)[NEAREST_COLUMNS - 1] + 2.0 * longest_nm
        kept.update(index for index, distance_nm in enumerate(distances) if distance_nm <= reach_nm)
    return tuple(column for index, column in enumerate(found) if index in kept)
