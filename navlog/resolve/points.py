"""Places to points: fixes by radial and distance, by DME reading and by two crossing radials are placed."""

from __future__ import annotations

from math import radians, sin

from navlog.nav import earth
from navlog.nav.chart import Airport, Fix, Position, Station
from navlog.nav.guidance import true_bearing_deg
from navlog.nav.problems import NavlogError, Span, at
from navlog.nav.problems import problem_error as error
from navlog.nav.record import changed
from navlog.request.records import FixDefinition
from navlog.resolve.makeup import taken_from
from navlog.resolve.names import Names
from navlog.resolve.path import Stop
from navlog.resolve.route import Crossing, ModelBearing, Point, PointKind

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_FIX, _STATION, _AIRPORT = PointKind.FIX, PointKind.STATION, PointKind.AIRPORT


def point(names: Names, stop: Stop) -> Point:
    """The point that a stop of the path is, with its position where one can be had.

    Raises NavlogError where a fix cannot be where the file says it is.
    """
    word = stop.word
    on_route_line = stop.ident == word.ident
    if stop.place is None:
        kind = PointKind.POSITION if stop.ident is None else _FIX
        # An airway's point without a record has a name and no place; only a bare position brings its own.
        return Point(kind, stop.ident, word.position if stop.ident is None else None, span=word.span)
    if on_route_line and word.bearing_deg is not None and word.distance_nm is not None:
        return _bearing_point(names, stop, word.bearing_deg, word.distance_nm)
    if isinstance(stop.place, Station):
        return Point(_STATION, stop.ident, stop.place.position, stop.place, span=word.span)
    if isinstance(stop.place, Airport):
        landing = word.landing if on_route_line else None
        return Point(_AIRPORT, stop.ident, stop.place.position, stop.place, landing=landing, span=word.span)
    definition = names.request.definitions.fixes.get(stop.place.ident)
    if definition is not None:
        return _fix_point(names, definition, word.span)
    return Point(_FIX, stop.ident, stop.place.position, stop.place, span=word.span)


def _bearing_point(names: Names, stop: Stop, bearing_deg: float, distance_nm: float) -> Point:
    """A point such as QHB084021: a station's radial, or a magnetic bearing by the model from anything else.

    ICAO Doc 4444, Appendix 2, item 15.
    """
    place, word = stop.place, stop.word
    assert place is not None
    if isinstance(place, Station):
        makeup = (taken_from(place, bearing_deg, distance_nm),)
        position = _on_radial(place, bearing_deg, distance_nm)
        return Point(
            _FIX,
            word.name,
            position,
            Fix(word.name, position, makeup),
            span=word.span,
        )
    if place.position is None:
        raise error("no-position", f"`{place.ident}` has no known position to measure from", span=word.span)
    from navlog.nav.magnetism import model_for, variation_deg

    day = names.request.day
    by_model = ModelBearing(place.ident, bearing_deg, variation_deg(place.position, day), distance_nm, model_for(day))
    position = earth.direct(place.position, by_model.true_deg, distance_nm)
    name = word.name
    return Point(_FIX, name, position, Fix(name, position), bearing=by_model, span=word.span)


def _on_radial(station: Station, radial_deg: float, distance_nm: float) -> Position | None:
    """The place on a radial at a distance over the ground; None where the station's is not known."""
    bearing_deg = true_bearing_deg(station, radial_deg)
    if station.position is None or bearing_deg is None:
        return None
    return earth.direct(station.position, bearing_deg, distance_nm)


def _fix_point(names: Names, definition: FixDefinition, span: Span | None) -> Point:
    """The point of a `fix` statement, placed by position, radial and distance, or two crossing radials."""
    fix, crossing = placed(names, definition)
    return Point(_FIX, fix.ident, fix.position, fix, crossing, span=span)


def placed(names: Names, definition: FixDefinition) -> tuple[Fix, Crossing | None]:
    """The fix with its position and, for crossing radials, how well they cross."""
    stations = [names.named_station(name) for name, _ in definition.radials]
    radials = [radial for _, radial in definition.radials]
    fix = Fix(definition.ident, definition.position, mra_ft=definition.mra_ft, span=definition.span)
    known = [station for station in stations if station is not None]
    if definition.position is not None or len(known) != len(stations):
        return fix, None
    try:
        if len(known) == 1 and definition.distance_nm is not None:
            distance_nm = _ground_distance_nm(definition, known[0])
            makeup = (taken_from(known[0], radials[0], distance_nm),)
            return changed(fix, position=_on_radial(known[0], radials[0], distance_nm), makeup=makeup), None
        crossing_makeup = tuple(taken_from(s, radial) for s, radial in zip(known, radials, strict=True))
        position, crossing = _crossed(known[0], radials[0], known[1], radials[1])
        return changed(fix, position=position, makeup=crossing_makeup), crossing
    except NavlogError as problem:
        raise at(problem, definition.span) from None


def _ground_distance_nm(definition: FixDefinition, station: Station) -> float:
    """The distance over the ground of a radial-distance fix, from a DME reading where that is given."""
    assert definition.distance_nm is not None
    if definition.dme_altitude_ft is None:
        return definition.distance_nm
    if station.elevation_ft is None:
        raise error(
            "no-elevation",
            f"a DME reading needs the elevation of `{station.ident}`",
            hint=f"give `{station.ident}` an `elev`, or the distance over the ground without `dme`",
        )
    from navlog.nav.radio import ground_nm

    return ground_nm(definition.distance_nm, definition.dme_altitude_ft - station.elevation_ft)


def _crossed(
    first: Station, first_radial_deg: float, second: Station, second_radial_deg: float
) -> tuple[Position | None, Crossing | None]:
    """Where two radials meet ahead of both stations, the cut angle and the error for 1 degree of bearing.

    The error is the longer distance times the sine of 1 degree over the sine of the cut.
    """
    first_deg = true_bearing_deg(first, first_radial_deg)
    second_deg = true_bearing_deg(second, second_radial_deg)
    if first.position is None or second.position is None or first_deg is None or second_deg is None:
        return None, None
    met = earth.crossing(first.position, first_deg, second.position, second_deg)
    # The farther station moves the point more for the same error, so its error is the one to tell.
    farther_nm = max(met.first_distance_nm, met.second_distance_nm)
    return met.position, Crossing(met.cut_deg, farther_nm * sin(radians(1.0)) / sin(radians(met.cut_deg)))
