"""Names to points, airways to stretches: a flight as asked for becomes a route that can be flown."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from itertools import accumulate
from typing import TYPE_CHECKING

from navlog.nav import earth
from navlog.nav.chart import Airport, Position, Segment, Station, StationKind
from navlog.nav.figures import course, distance
from navlog.nav.magnetism import model_for
from navlog.nav.problems import NavlogError, Problem
from navlog.nav.record import changed
from navlog.request.records import AlternateRequest, Name, Request, RouteWord, WindStatement
from navlog.resolve.lookup import ChartLookup, NoCatalogue
from navlog.resolve.names import Names, kind_word
from navlog.resolve.path import Hop, Stop, hops, with_shared_points
from navlog.resolve.route import Namesake, Point, PointKind, Route
from navlog.resolve.stretches import Surveyor
from navlog.resolve.survey import memory_for

if TYPE_CHECKING:
    from navlog.nav.receiver_check import Checkpoint
    from navlog.nav.terrain import Terrain

__all__ = ["ChartLookup", "NoCatalogue", "resolve_flight"]

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_AIRPORT = PointKind.AIRPORT

_ON_FIELD_NM = 1.0
"""Nearer a station is on the airport, and which of the two is meant moves no course."""


def dated(one: Problem, request: Request) -> Problem:
    """A problem with the date's place, where it is one of the day and has none."""
    undated = one.code == "no-magnetic-model" and one.span is None
    return one._replace(span=request.spans.get("date")) if undated else one


def resolve_flight(request: Request, catalogue: ChartLookup | None = None, terrain: Terrain | None = None) -> Route:
    """The route that a flight means, with its alternates.

    Names are looked up in the file, then in `catalogue`; with `terrain`, direct stretches are told what lies below
    them, and have a minimum by it where none is stated. Raises NavlogError with every unknown or ambiguous
    name, every point not on its airway and every broken airway; only when there are none, with what cannot
    be placed or measured.
    """
    try:
        route = _resolved(request, catalogue)
        if terrain is None:
            return route
        from navlog.resolve.ground import grounded

        return grounded(route, terrain, catalogue or NoCatalogue())
    except NavlogError as error:
        raise NavlogError(*(dated(one, request) for one in error.problems)) from None


def _resolved(request: Request, catalogue: ChartLookup | None) -> Route:
    """The route, with problems of the day without a place."""
    names = Names(request, catalogue or NoCatalogue())
    if request.pasted:
        request = changed(request, route=with_shared_points(names, request.route))
        names = Names(request, catalogue or NoCatalogue())
    path = hops(names, request.route)
    _check_definitions(names)
    _check_named_points(names)
    others = tuple(_alternate_request(one, request, path) for one in request.alternates)
    other_paths = tuple(hops(changed(names, request=other), other.route) for other in others)
    if other_paths:
        _check_alternates(names, path, other_paths)
    names.refuse()
    memory = memory_for(names)
    points, stretches = Surveyor(names, memory).stretches(path)
    wind_places = tuple(_wind_place(names, statement) for statement in request.winds)
    names.refuse()
    route = Route(
        request,
        points,
        stretches,
        wind_places=wind_places,
        checkpoints=_checkpoints(names, points[0]),
        namesakes=tuple(_namesakes(names, points)),
    )
    alternates = []
    for other, other_path in zip(others, other_paths, strict=True):
        points, stretches = Surveyor(changed(names, request=other), memory).stretches(other_path)
        alternates.append(changed(route, request=other, points=points, stretches=stretches))
    ways = (route, *alternates)
    model = _magnetic_model(request, ways)
    route = changed(route, magnetic_model=model)
    if catalogue is not None:
        from navlog.resolve.published import differences, sources_used, with_published_minimums

        used = sources_used(names, (path, *other_paths), ways)
        route, *alternates = (with_published_minimums(names, way) for way in (route, *alternates))
        route = changed(route, differs=differences(names), sources=used)
    return changed(route, alternates=tuple(changed(way, magnetic_model=model) for way in alternates))


def _namesakes(names: Names, points: tuple[Point, ...]) -> Iterator[Namesake]:
    """The VORs, elsewhere than on the field, whose names the route line gives at its ends, where airports are meant."""
    for word, point in ((names.request.route[0], points[0]), (names.request.route[-1], points[-1])):
        if point.kind is not _AIRPORT or word.ident is None or word.qualifier or word.qualifier_position:
            continue
        for station in names.stations_meant(word.ident):
            if station.kind is not StationKind.VOR:
                continue
            apart_nm = None
            if station.position is not None and point.position is not None:
                apart_nm = earth.distance_nm(station.position, point.position)
            if apart_nm is None or apart_nm > _ON_FIELD_NM:
                yield Namesake(word.ident, station, apart_nm, word.span)


def _checkpoints(names: Names, start: Point) -> tuple[Checkpoint, ...]:
    """The published checkpoints nearest to where the flight takes off, where a receiver check matters to it."""
    request = names.request
    matters = request.rules == "ifr" or request.receiver_check is not None
    if not matters or start.kind is not _AIRPORT or start.position is None:
        return ()
    return names.catalogue.checkpoints(start.position, request.day)


def _alternate_request(alternate: AlternateRequest, request: Request, path: tuple[Hop, ...]) -> Request:
    """The flight to an alternate, from the destination or from the point that it names."""
    # What the route passes comes before where it ends and begins.
    stops = [*(hop.end for hop in path), *(hop.start for hop in path[:1])]
    if alternate.start is None:
        start = _as_on_route(changed(request.route[-1], landing=None, over=False), stops[-2:-1])
    else:
        start = _as_on_route(alternate.start, stops)
    return changed(
        request,
        name=f"{request.name} alternate {alternate.words[-1].name}",
        route=(start, *alternate.words),
        cruise=alternate.level or request.cruise,
        cruise_taken_over=alternate.level is None,
        pattern_ft=None,
        alternates=(),
        holds=(),
    )


def _as_on_route(word: RouteWord, stops: Iterable[Stop]) -> RouteWord:
    """The word qualified by the kind of the first of `stops` that has its name.

    At the start of a way of its own the same name would be the airport.
    """
    if word.qualifier is not None or word.qualifier_position is not None or word.bearing_deg is not None:
        return word
    place = next((stop.place for stop in stops if stop.ident == word.ident and stop.place is not None), None)
    return word if place is None else changed(word, qualifier=kind_word(place))


def _check_alternates(names: Names, path: tuple[Hop, ...], ways: tuple[tuple[Hop, ...], ...]) -> None:
    """Note an alternate that is no airport, or that is flown from a point that the route does not pass."""
    on_route = {_point_name(stop) for hop in path for stop in (hop.start, hop.end)}
    for alternate, way in zip(names.request.alternates, ways, strict=True):
        if not way:
            continue
        start, end = alternate.start, way[-1].end
        if not isinstance(end.place, Airport):
            hint = "name an airport, or define one there with `airport`"
            if start is not None:
                hint = f"`{start.name}` is where the route is left; write: alternate AIRPORT from {start.name} via ..."
            names.report("not-an-airport", f"the alternate `{end.word.name}` is no airport", end.word.span, hint)
        if start is not None and _point_name(way[0].start) not in on_route:
            message = f"`{start.name}`, from which the alternate is flown, is not on the route"
            hint = "write: alternate AIRPORT from POINT via ..., where POINT is on the route"
            names.report("alternate-off-route", message, start.span, hint)


def _point_name(stop: Stop) -> str | Position | None:
    """What tells a point of the path from the others: its name, or where it is."""
    if stop.named and stop.word.bearing_deg is not None:
        return stop.word.name
    return stop.ident or stop.word.position


def _check_definitions(names: Names) -> None:
    """Note every place that a definition names and nobody knows, whether the route uses it or not."""
    given = names.request.definitions
    for fix in given.fixes.values():
        for name, _ in fix.radials:
            names.named_station(name)
    for ident in given.airways:
        for one in (given.fixes.get(ident), given.airports.get(ident), given.stations.get(ident)):
            if one is not None and one.span is not None:
                message = f"`{ident}` is an airway of this file too, and a route line could mean either"
                names.report("name-clash", message, one.span, "give one of them another name")
    for airway in given.airways.values():
        for segment, start, end in zip(airway.airway.segments, airway.names, airway.names[1:], strict=False):
            _check_segment(names, segment, start, end)
        _check_changeovers(names, airway.airway.segments, airway.changeovers)
        _check_guides(names, airway.guides)
    for direct in given.directs.values():
        _check_segment(names, direct.segment, direct.start, direct.end)
        _check_changeovers(names, (direct.segment,), (direct.changeover,))
        _check_guides(names, (direct.guide,))
    for name in given.unavailable.values():
        if not names.stations(name.ident):
            names.unknown(name.ident, name.span, what="station")


def _check_segment(names: Names, segment: Segment, start: Name, end: Name) -> None:
    """Note what is wrong with the two ends of a segment that the file states."""
    for name, radial in ((start, segment.start_radial_deg), (end, segment.end_radial_deg)):
        places = names.places(name.ident)
        if not places:
            names.unknown(name.ident, name.span)
        elif radial is not None and not any(isinstance(place, Station) for place in places):
            names.report(
                "radial-without-station",
                f"a number stands beside the station whose radial it is, and `{name.ident}` is no station",
                name.span,
                f"leave it out, or write `on STN {course(radial)}` for the radial of another station",
            )
        elif segment.course is not None and any(isinstance(place, Station) for place in places):
            names.report(
                "course-beside-station",
                f"`course` is for a leg without stations, and `{name.ident}` is one",
                name.span,
                f"write the radial beside it: `{name.ident} {course(segment.course[0])} - ...`",
            )


def _check_changeovers(names: Names, segments: tuple[Segment, ...], stated: tuple[Name | None, ...]) -> None:
    """Note a stated changeover whose station nobody knows, or is no end of its section, or that lies beyond it.

    A section runs from one VOR of the chain to the next.
    """
    if not any(stated):
        return
    points = (segments[0].start, *(segment.end for segment in segments))
    along_nm = (0.0, *accumulate(segment.distance_nm or 0.0 for segment in segments))
    edges = [0, *(k for k in range(1, len(segments)) if _has_vor(names, points[k])), len(segments)]
    told: set[tuple[int, str]] = set()
    for index, (segment, name) in enumerate(zip(segments, stated, strict=True)):
        if name is None:
            continue
        edge = bisect_right(edges, index)
        first, last = edges[edge - 1], edges[edge]
        ends = tuple(ident for ident in (points[first], points[last]) if _has_vor(names, ident))
        section = f"the section {points[first]} to {points[last]}"
        length_nm, changeover_nm = along_nm[last] - along_nm[first], segment.changeovers[0].distance_nm
        if not names.places(name.ident):
            names.unknown(name.ident, name.span, what="station")
        elif name.ident not in ends:
            hint = f"write the distance from {' or '.join(ends)}" if ends else "leave it out"
            names.report("bad-changeover", f"`{name.ident}` is no VOR at an end of {section}", name.span, hint)
        elif changeover_nm > length_nm + 1e-6:
            message = f"{distance(changeover_nm)} NM from `{name.ident}` lie beyond {section}, {distance(length_nm)} NM"
            names.report("bad-changeover", message, name.span, f"write a distance under {distance(length_nm)}")
        elif (first, name.ident) in told:
            message = f"{section} has its changeover from `{name.ident}` twice"
            names.report("given-twice", message, name.span, "state it once, at the segment where it lies")
        told.add((first, name.ident))


def _check_guides(names: Names, stated: tuple[Name | None, ...]) -> None:
    """Note a station of `on STN RADIAL` that nobody knows, or that is no VOR and so guides nothing."""
    for name in stated:
        if name is None or _has_vor(names, name.ident):
            continue
        if not names.places(name.ident):
            names.unknown(name.ident, name.span, what="station")
        else:
            message = f"`{name.ident}` is no VOR, and only a VOR guides"
            names.report("bad-guide", message, name.span, "name the VOR whose radial leads along here")


def _has_vor(names: Names, ident: str) -> bool:
    """Whether a VOR has that name."""
    return any(station.kind is StationKind.VOR for station in names.stations(ident))


def _check_named_points(names: Names) -> None:
    """Note a wind's place that nobody knows, and a hold away from the route."""
    for statement in names.request.winds:
        if statement.place is not None and statement.place.ident is not None:
            names.place(statement.place, at_end=False)
    for word in (names.request.route[0], names.request.route[-1]):
        if word.over or word.landing is not None:
            what = "`over`" if word.over else "`land`"
            names.report("no-stop", f"{what} is for an airport inside the route", word.span, "leave it out here")
    on_route = {word.ident for word in names.request.route}
    for hold in names.request.holds:
        if hold.point.ident not in on_route:
            message = f"the hold at `{hold.point.name}` is not on the route line"
            names.report("hold-off-route", message, hold.point.span, "name a point that the route line names")


def _wind_place(names: Names, statement: WindStatement) -> Position | None:
    """Where a `wind` statement holds; None for everywhere. Notes a place without a position."""
    if statement.place is None:
        return None
    from navlog.resolve.points import point

    word = statement.place
    place = names.place(word, at_end=False) if word.ident is not None else None
    position = point(names, Stop(word.ident, place, word)).position
    if position is None:
        names.report("no-position", f"`{word.name}` has no known position", word.span)
    return position


def _magnetic_model(request: Request, ways: tuple[Route, ...]) -> str | None:
    """The magnetic model behind the route's variation; None where no variation comes from a model."""
    modelled = any(stretch.variation_source == "model" for way in ways for stretch in way.stretches)
    return model_for(request.day) if modelled else None
