"""A flight planned with the notices that it hands in: which of them count, by its own hours at each place.

It is planned without them; those in force within 30 minutes of a use of what they are about are applied, and it is
planned again, as long as that makes further ones count. A station is used from when it is tuned to when it is left, a
point when it is passed, a segment while it is flown. Without `off` all count, without other times those of the day from
`off`. What counts does so on the hop of that use alone, up to a landing or to where the flight comes back to a point,
and there not on stretches that use it at other hours; the way to an alternate is a hop by itself.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from datetime import timedelta
from typing import TypeAlias

from navlog.flightlog.conditions import conditions
from navlog.flightlog.notice_visits import Hours, Use, Visit, uses_of, visits_of
from navlog.flightlog.notices_unnamed import may_mean, tuned, with_its_station
from navlog.flightlog.planning import plan
from navlog.flightlog.records import Log
from navlog.nav.chart import Station
from navlog.nav.notices import (
    BY_MARGIN,
    MARGIN,
    Notice,
    ObstacleTold,
    OtherMatter,
    airport_names,
    effect_words,
)
from navlog.nav.record import changed
from navlog.request.records import Request
from navlog.request.references import References
from navlog.resolve.flight import resolve_flight
from navlog.resolve.lookup import ChartLookup
from navlog.resolve.noticed import as_told
from navlog.resolve.route import NoticeUse, Route

Told: TypeAlias = dict[tuple[int, int], tuple[Notice, ...]]
"""The notices that count, by way and number of the stretch."""


def with_notices(log: Log, references: References, catalogue: ChartLookup | None) -> Log:
    """The log of a flight with what the notices that it names change. Raises the flight's problems."""
    request = log.route.request

    def again(told: Told) -> Log:
        route, chart = resolved_with(told, request, references, catalogue)
        return plan(route, conditions(route, references, chart))

    settled = settle(log, request, references, again)
    return plan(settled.route, settled.conditions)


def settle(log: Log, request: Request, references: References, again: Callable[[Told], Log]) -> Log:
    """The log of a flight with its notices named in its route; its legs are to be planned once more.

    `log` is without notices, `again` makes one with those that count on each stretch. Raises what it raises.
    """
    by_file = [(reference, references.notices(reference)) for reference in request.notices]
    as_read = tuple(one for _, read in by_file for one in read)
    stations, visits = tuple(tuned(log)), tuple(visits_of(log))
    notices = tuple(with_its_station(one, stations) for one in as_read)
    told: Told = {}
    # The hours of every round count: the flight may be flown as it was before a notice moved it, too, and else two
    # notices could take turns. A plan that was made before adds no hours, so that there comes an end.
    while (found := _counting(notices, visits)) != told:
        told = found
        log = again(told)
        stations, visits = (*stations, *tuned(log)), (*visits, *visits_of(log))
        notices = tuple(with_its_station(one, stations) for one in as_read)
    empty = tuple(reference for reference, read in by_file if not read)
    route = changed(
        _named(log.route, notices, told, visits, 0, stations), notices_read=len(notices), notices_empty=empty
    )
    ways = (_named(way, notices, told, visits, number, stations) for number, way in enumerate(route.alternates, 1))
    return changed(log, route=changed(route, alternates=tuple(ways)))


def _counting(notices: tuple[Notice, ...], visits: tuple[Visit, ...]) -> Told:
    """The notices that count on each stretch: on all of a hop on which one is met but where it is used at other hours.

    What a stretch does not use but might, as a mark that another one is better than, is out there as well.
    """
    hops = {(one.way, one.stretch.number): (one.way, one.hop) for one in visits}
    found: Told = {}
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


def _runs(notice: Notice, visits: Sequence[Visit]) -> Iterator[list[Use]]:
    """The uses of what a notice is about, those of stretches in a row together.

    A station is behind one stretch and ahead of the next and guides both, and a changeover point cuts all of its
    section: what counts on one of them does so on all.
    """
    run: list[Use] = []
    for use in sorted(uses_of(notice, visits), key=lambda one: (one[0].way, one[0].stretch.number)):
        visit, last = use[0], run[-1][0] if run else use[0]
        apart = visit.stretch.number > last.stretch.number + 1
        if apart or (visit.way, visit.hop) != (last.way, last.hop):
            yield run
            run = []
        run.append(use)
    if run:
        yield run


def resolved_with(
    told: Told, request: Request, references: References, catalogue: ChartLookup | None
) -> tuple[Route, ChartLookup | None]:
    """The route of a flight of which each stretch has the notices that count on it, and the chart with all of them."""
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
    return changed(ways[0], alternates=tuple(ways[1:])), charts[every][1]


def _ways(route: Route) -> tuple[Route, ...]:
    return route, *route.alternates


def _in_force(notice: Notice, hours: Hours | None, margin: timedelta = MARGIN) -> bool:
    """Whether it is in force in those hours, or so near to them; without hours it counts."""
    # Unknown hours are held against the flight.
    return hours is None or notice.in_force(hours[0] - margin, hours[1] + margin)


def _uses(
    notices: tuple[Notice, ...], told: Told, visits: tuple[Visit, ...], way: int, stations: tuple[Station, ...]
) -> Iterator[NoticeUse]:
    """The notices that change something of a way, and of the route also those that name something of the flight."""
    named = {name for visit in visits for name in visit.names}
    named |= {visit.stretch.airway.ident for visit in visits if visit.stretch.airway is not None}
    for told_as in notices:
        notice = _doubted(told_as, named, visits)
        # Each of its effects goes over all of them.
        met = tuple(uses_of(notice, tuple(visit for visit in visits if visit.way == way)))
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


def _doubted(notice: Notice, named: set[str], visits: tuple[Visit, ...]) -> Notice:
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
    told: Told,
    visits: tuple[Visit, ...],
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
