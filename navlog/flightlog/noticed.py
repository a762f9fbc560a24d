"""A flight planned with the notices that it hands in: which of them count, by its own hours at each place.

It is planned without them; those in force within 30 minutes of a use of what they are about are applied, and it is
planned again, as long as that makes further ones count. A station is used from when it is tuned to when it is left, a
point when it is passed, a segment while it is flown. Without `off` all count, without other times those of the day from
`off`. What counts does so on the hop of that use alone, up to a landing or to where the flight comes back to a point,
and there not on stretches that use it at other hours; the way to an alternate is a hop by itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from typing import TypeAlias

from msgspec import Struct

from navlog.flightlog.conditions import conditions
from navlog.flightlog.notices_unnamed import may_mean, tuned, with_its_station
from navlog.flightlog.planning import plan
from navlog.flightlog.records import Log
from navlog.nav.accuracy import Accuracy
from navlog.nav.chart import Station
from navlog.nav.notices import (
    BY_MARGIN,
    MARGIN,
    AirportClosed,
    CrossingMinimum,
    Effect,
    NoFuel,
    Notice,
    ObstacleTold,
    OtherMatter,
    ReceptionMinimum,
    SegmentChangeover,
    SegmentClosed,
    SegmentMinimum,
    StationOut,
    StationSector,
    StationUnmonitored,
    airport_names,
    effect_words,
)
from navlog.nav.record import changed
from navlog.request.records import Request
from navlog.request.references import References
from navlog.resolve.flight import resolve_flight
from navlog.resolve.lookup import ChartLookup
from navlog.resolve.noticed import as_told
from navlog.resolve.route import NoticeUse, Point, PointKind, Route, Stretch

_Hours: TypeAlias = tuple[datetime, datetime]
_Minutes: TypeAlias = list[float | None]
_Told: TypeAlias = dict[tuple[int, int], tuple[Notice, ...]]
"""The notices that count, by way and number of the stretch."""

_ON_AN_ALTERNATE = timedelta(hours=2)
"""How long after the last landing a way to an alternate may still be flown: its own hours are not known."""
_A_DAY = timedelta(hours=24)
"""How long a flight may last whose times are not known, its stops apart: no endurance is near it (common practice)."""


class _Visit(Struct, frozen=True):
    """A stretch with the hours in which it is flown, and those of each name that it uses; None where not known.

    `way` is 0 on the route and counts the alternates from 1; `hop` counts the hops of a way.
    """

    stretch: Stretch
    way: int
    hop: int
    hours: _Hours | None
    names: Mapping[str, _Hours | None]
    accuracy: Accuracy

    def of(self, name: str) -> tuple[_Hours | None, ...]:
        """The hours of a name; nothing where it is not used."""
        return (self.names[name],) if name in self.names else ()


_Use: TypeAlias = tuple[_Visit, _Hours | None]
"""Where the flight uses what a notice is about, and in which hours."""


def with_notices(log: Log, references: References, catalogue: ChartLookup | None) -> Log:
    """The log of a flight with what the notices that it names change. Raises the flight's problems."""
    request = log.route.request
    by_file = [(reference, references.notices(reference)) for reference in request.notices]
    as_read = tuple(one for _, read in by_file for one in read)
    stations, visits = tuple(tuned(log)), tuple(_visits(log))
    notices = tuple(with_its_station(one, stations) for one in as_read)
    told: _Told = {}
    # The hours of every round count: the flight may be flown as it was before a notice moved it, too, and else two
    # notices could take turns. A plan that was made before adds no hours, so that there comes an end.
    while (found := _counting(notices, visits)) != told:
        told = found
        log = _planned_with(told, request, references, catalogue)
        stations, visits = (*stations, *tuned(log)), (*visits, *_visits(log))
        notices = tuple(with_its_station(one, stations) for one in as_read)
    empty = tuple(reference for reference, read in by_file if not read)
    route = changed(
        _named(log.route, notices, told, visits, 0, stations), notices_read=len(notices), notices_empty=empty
    )
    ways = (_named(way, notices, told, visits, number, stations) for number, way in enumerate(route.alternates, 1))
    return plan(changed(route, alternates=tuple(ways)), log.conditions)


def _counting(notices: tuple[Notice, ...], visits: tuple[_Visit, ...]) -> _Told:
    """The notices that count on each stretch: on all of a hop on which one is met but where it is used at other hours.

    What a stretch does not use but might, as a mark that another one is better than, is out there as well.
    """
    hops = {(one.way, one.stretch.number): (one.way, one.hop) for one in visits}
    found: _Told = {}
    for notice in notices:
        counting, at_other_hours = set[tuple[int, int]](), set[tuple[int, int]]()
        for run in _runs(notice, visits) if notice.void is None else ():
            if any(_in_force(notice, hours) for _, hours in run):
                counting |= {(visit.way, visit.hop) for visit, _ in run}
            else:
                at_other_hours |= {(visit.way, visit.stretch.number) for visit, _ in run}
        for stretch, hop in hops.items():
            if hop in counting and stretch not in at_other_hours:
                found[stretch] = (*found.get(stretch, ()), notice)
    return found


def _runs(notice: Notice, visits: Iterable[_Visit]) -> Iterator[list[_Use]]:
    """The uses of what a notice is about, those of stretches in a row together.

    A station is behind one stretch and ahead of the next and guides both, and a changeover point cuts all of its
    section: what counts on one of them does so on all.
    """
    run: list[_Use] = []
    for use in sorted(_met(notice, visits), key=lambda one: (one[0].way, one[0].stretch.number)):
        visit, last = use[0], run[-1][0] if run else use[0]
        apart = visit.stretch.number > last.stretch.number + 1
        if apart or (visit.way, visit.hop) != (last.way, last.hop):
            yield run
            run = []
        run.append(use)
    if run:
        yield run


def _planned_with(told: _Told, request: Request, references: References, catalogue: ChartLookup | None) -> Log:
    """The log of a flight of which each stretch is resolved with the notices that count on it."""
    terrain = references.terrain(request.terrain) if request.terrain is not None else None
    every = tuple(dict.fromkeys(notice for counting in told.values() for notice in counting))
    charts = {one: as_told(request, catalogue, one) for one in dict.fromkeys((every, (), *told.values()))}
    routes = {counting: resolve_flight(*chart, terrain) for counting, chart in charts.items()}
    route = routes[every]
    ways = [
        changed(
            way,
            stretches=tuple(
                _ways(routes[told.get((number, one.number), ())])[number].stretches[index]
                for index, one in enumerate(way.stretches)
            ),
        )
        for number, way in enumerate(_ways(route))
    ]
    route = changed(ways[0], alternates=tuple(ways[1:]))
    return plan(route, conditions(route, references, charts[every][1]))


def _ways(route: Route) -> tuple[Route, ...]:
    return route, *route.alternates


def _hops(stretches: tuple[Stretch, ...]) -> dict[int, int]:
    """The hop of each stretch by its number; one ends where the flight lands or next comes to a point again."""
    found, hop = dict[int, int](), 0
    passed: set[str] = set()
    for stretch in stretches:
        if stretch.start.landing is not None or stretch.end.name in passed:
            hop, passed = hop + 1, set()
        passed |= {stretch.start.name, stretch.end.name}
        found[stretch.number] = hop
    return found


def _visits(log: Log) -> Iterator[_Visit]:
    """The stretches of the route and of the ways to its alternates, with their names and hours."""
    off, accuracy = log.conditions.off, log.route.request.accuracy
    flown, hops = _flown_min(log), _hops(log.route.stretches)
    over = off + _A_DAY + timedelta(minutes=sum(leg.stop_min for leg in log.legs)) if off is not None else None
    for stretch in log.route.stretches:
        whole, by_name = flown[stretch.number]
        names = {name: _span(off, times, over) for name, times in by_name.items()}
        yield _Visit(stretch, 0, hops[stretch.number], _span(off, whole, over), names, accuracy)
    # A diversion may begin at any time of the flight, so its hours are all of them and some after.
    flight = _span(off, [0.0, log.legs[-1].elapsed_min], over)
    late = (flight[0], flight[1] + _ON_AN_ALTERNATE) if flight is not None else None
    for number, way in enumerate(log.route.alternates, 1):
        for stretch in way.stretches:
            # All of a way has the same hours, so it is one hop.
            names = dict.fromkeys((*_at_start(stretch), *_along(way, stretch)), late)
            yield _Visit(stretch, number, 0, late, names, accuracy)


def _flown_min(log: Log) -> dict[int, tuple[_Minutes, dict[str, _Minutes]]]:
    """The minutes after take-off at which each stretch, by its number, begins and ends legs, and uses each name."""
    found: dict[int, tuple[_Minutes, dict[str, _Minutes]]] = {}
    began: float | None = 0.0
    for leg in log.legs:
        ended, (whole, by_name) = leg.elapsed_min, found.setdefault(leg.stretch.number, ([], {}))
        whole += [began, ended]
        uses = [(mark.station.ident, ended) for mark in leg.marks]
        if leg.ends_stretch:
            uses += [(name, ended) for name in _at_end(log.route, leg.stretch)]
        if leg.start_nm == 0.0:
            uses += [(name, began) for name in _at_start(leg.stretch)]
        if leg.part.guidance is not None:
            uses += [(leg.part.guidance.station.ident, at) for at in (began, ended)]
        for name, at in uses:
            by_name.setdefault(name, []).append(at)
        began = None if ended is None else ended + leg.stop_min
    return found


def _span(off: datetime | None, times_min: _Minutes, over: datetime | None) -> _Hours | None:
    """From when to when, to when the flight is `over` where a time is not known; None without a take-off."""
    if off is None or over is None:
        return None
    known = [off + timedelta(minutes=one) for one in times_min if one is not None]
    # Without wind nobody knows when it comes by, and still it does on this day.
    return min(known, default=off), over if len(known) < len(times_min) else max(known)


def _at_start(stretch: Stretch) -> Iterator[str]:
    if stretch.start.ident is not None:
        yield stretch.start.ident


def _at_end(route: Route, stretch: Stretch) -> Iterator[str]:
    """The point at which a stretch ends, and the stations by which the file places it."""
    if stretch.end.ident is not None:
        yield stretch.end.ident
        definition = route.request.definitions.fixes.get(stretch.end.ident)
        yield from (name.ident for name, _ in definition.radials) if definition is not None else ()


def _along(route: Route, stretch: Stretch) -> Iterator[str]:
    """The stations that guide a stretch, and what is used at its end."""
    yield from (part.guidance.station.ident for part in stretch.parts if part.guidance is not None)
    yield from _at_end(route, stretch)


def _met(notice: Notice, visits: Iterable[_Visit]) -> Iterator[_Use]:
    """Where the flight uses what a notice changes, and in which hours."""
    # Effect and hour at the same visit: a notice of the morning says nothing of a leg flown in the evening.
    for effect in notice.effects:
        for visit in visits if not isinstance(effect, OtherMatter) else ():
            yield from ((visit, hours) for hours in _used(effect, visit))


def _in_force(notice: Notice, hours: _Hours | None, margin: timedelta = MARGIN) -> bool:
    """Whether it is in force in those hours, or so near to them; without hours it counts."""
    # Unknown hours are held against the flight.
    return hours is None or notice.in_force(hours[0] - margin, hours[1] + margin)


def _used(effect: Effect, visit: _Visit) -> tuple[_Hours | None, ...]:
    """In which hours a stretch uses what an effect is about; nothing where it does not."""
    match effect:
        case StationOut() | StationSector() | StationUnmonitored():
            return visit.of(effect.station)
        case SegmentMinimum() | SegmentClosed() | SegmentChangeover():
            overlaps = _overlaps(effect.airways, effect.start, effect.end, visit.stretch)
            return (visit.hours,) if overlaps else ()
        case CrossingMinimum():
            return visit.of(effect.at) if _on_one(effect.airways, visit.stretch) else ()
        case ReceptionMinimum():
            return visit.of(effect.fix)
        case AirportClosed():
            # A VOR of the same name is tuned, closed or not.
            return tuple(
                visit.names[name] for name in _airports(visit.stretch) if name in airport_names(effect.airport)
            )
        case NoFuel():
            fuelled = (one.ident for one in (visit.stretch.start, visit.stretch.end) if _takes_fuel(one))
            return tuple(visit.names[name] for name in fuelled if name in airport_names(effect.airport))
        case ObstacleTold():
            return (visit.hours,) if _stands_near(effect, visit) else ()
        case _:
            return ()


def _stands_near(obstacle: ObstacleTold, visit: _Visit) -> bool:
    """Whether an obstacle stands where a stretch is looked at for any."""
    from navlog.nav.corridor import placed
    from navlog.resolve.ground import corridors

    reached = (one.wider(obstacle.radius_nm) for _, one in corridors(visit.stretch, visit.accuracy))
    return any(placed(one, obstacle.position) is not None for one in reached)


def _airports(stretch: Stretch) -> tuple[str, ...]:
    """The airports at which a stretch begins or ends."""
    ends = (stretch.start, stretch.end)
    return tuple(one.ident for one in ends if one.kind == PointKind.AIRPORT and one.ident is not None)


def _takes_fuel(point: Point) -> bool:
    """Whether the flight lands at a point and its fuel at the next take-off is stated."""
    return point.landing is not None and point.landing.fuel is not None


def _on_one(airways: tuple[str, ...], stretch: Stretch) -> bool:
    return stretch.airway is not None and stretch.airway.ident in airways


def _overlaps(airways: tuple[str, ...], start: str, end: str, stretch: Stretch) -> bool:
    """Whether a stretch lies, in part at least, between two points of one of the airways."""
    if stretch.airway is None or stretch.airway.ident not in airways:
        return False
    # By order along the airway, so that a notice from A to D holds on B to C and on B to E alike.
    points = stretch.airway.points
    places = [points.index(one) for one in (start, end, stretch.start.ident, stretch.end.ident) if one in points]
    if len(places) < 4:
        return False
    low, high = sorted(places[:2])
    first, last = sorted(places[2:])
    return max(low, first) < min(high, last)


def _uses(
    notices: tuple[Notice, ...], told: _Told, visits: tuple[_Visit, ...], way: int, stations: tuple[Station, ...]
) -> Iterator[NoticeUse]:
    """The notices that change something of a way, and of the route also those that name something of the flight."""
    named = {name for visit in visits for name in visit.names}
    named |= {visit.stretch.airway.ident for visit in visits if visit.stretch.airway is not None}
    for told_as in notices:
        notice = _doubted(told_as, named, visits)
        met = tuple(_met(notice, (visit for visit in visits if visit.way == way)))
        # It names what stands in its words, or what it is filed under.
        told_names = _among(f"{notice.location} {notice.text}", named)
        guessed = tuple(name for name in may_mean(notice, stations) if name not in told_names) if way == 0 else ()
        names = (*told_names, *guessed) if way == 0 else ()
        if met or names:
            numbers = dict.fromkeys(visit.stretch.number for visit, _ in met)
            counts = [at for at, counting in told.items() if told_as in counting]
            end = notice.period.end
            late = dict.fromkeys(
                visit.stretch.number for visit, hours in met if hours is None or (end is not None and hours[1] >= end)
            )
            planned_on = tuple(number for there, number in counts if there == way)
            near = not any(_in_force(notice, hours, timedelta()) for _, hours in met)
            yield NoticeUse(notice, bool(counts), tuple(numbers), names, planned_on, tuple(late), near, guessed)


def _among(text: str, named: set[str]) -> tuple[str, ...]:
    words = dict.fromkeys(re.findall(r"[A-Z0-9]{2,6}", text))
    return tuple(one for one in words if named.intersection(airport_names(one)))


def _doubted(notice: Notice, named: set[str], visits: tuple[_Visit, ...]) -> Notice:
    """The notice, not understood where it names what the flight uses and is not sure to mean nothing to it."""
    subjects = [one.subject for one in notice.effects if isinstance(one, OtherMatter) and not one.sure]
    if notice.unread is not None or not subjects or not any(_in_force(notice, one.hours) for one in visits):
        return notice
    names = ", ".join(_among(notice.body, named))
    # A log reads none of these, so what they say of an airway or a station in use is for the pilot to read.
    return changed(notice, unread=f"what it says of {names} is not read ({subjects[0]})") if names else notice


def _named(
    route: Route,
    notices: tuple[Notice, ...],
    told: _Told,
    visits: tuple[_Visit, ...],
    way: int,
    stations: tuple[Station, ...],
) -> Route:
    """The route, or the way to an alternate, with its notices, and at each stretch what they say in words."""
    uses = tuple(_uses(notices, told, visits, way, stations))
    words: dict[int, list[str]] = {}
    for use in uses:
        for number in use.stretches_counting:
            words.setdefault(number, []).extend(
                f"by {use.notice.ident}: {effect_words(one)}{BY_MARGIN if use.near else ''}"
                for one in use.notice.effects
                if not isinstance(one, OtherMatter | ObstacleTold)
            )
    stretches = tuple(
        changed(one, notices=tuple(words[one.number])) if one.number in words else one for one in route.stretches
    )
    return changed(route, stretches=stretches, notices=uses)
