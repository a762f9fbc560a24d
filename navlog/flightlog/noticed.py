"""A flight planned with the notices that it hands in: which of them count, by its own hours at each place.

It is planned without them; those in force within 30 minutes of each place are applied, and it is planned again, as
long as that makes further ones count. Without `off` all count.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime, timedelta

from msgspec import Struct

from navlog.flightlog.planning import as_written, plan
from navlog.flightlog.records import Log
from navlog.nav.notices import (
    MARGIN,
    AirportClosed,
    CrossingMinimum,
    Effect,
    Notice,
    OtherMatter,
    ReceptionMinimum,
    SegmentChangeover,
    SegmentClosed,
    SegmentMinimum,
    StationOut,
    StationSector,
    StationUnmonitored,
    effect_words,
)
from navlog.nav.record import changed
from navlog.request.references import References
from navlog.resolve.lookup import ChartLookup
from navlog.resolve.noticed import as_told
from navlog.resolve.route import NoticeUse, Route, Stretch

_MOST_ROUNDS = 4
_ON_AN_ALTERNATE = timedelta(hours=2)
"""How long after the last landing a way to an alternate may still be flown: its own hours are not known."""


class _Visit(Struct, frozen=True):
    """A stretch, the names of what it uses, and from when to when it is flown; None where that is not known."""

    stretch: Stretch
    names: frozenset[str]
    number: int | None
    hours: tuple[datetime, datetime] | None


def with_notices(log: Log, references: References, catalogue: ChartLookup | None) -> Log:
    """The log of a flight with what the notices that it names change. Raises the flight's problems."""
    request = log.route.request
    by_file = [(reference, references.notices(reference)) for reference in request.notices]
    notices = tuple(one for _, read in by_file for one in read)
    visits = tuple(_visits(log))
    counting: tuple[Notice, ...] = ()
    for _ in range(_MOST_ROUNDS):
        # What counted once stays, though a later round comes by at other hours: else two notices could take turns.
        found = tuple(one for one in notices if one in counting or _counts(one, visits))
        if found == counting:
            break
        counting = found
        told, chart = as_told(request, catalogue, counting)
        log = as_written(told, references, chart)
        # The hours of every round: the flight may be flown as it was before a notice moved it, too.
        visits = (*visits, *_visits(log))
    uses = tuple(_uses(notices, counting, visits))
    empty = tuple(reference for reference, read in by_file if not read)
    route = changed(_with_words(log.route, uses), notices=uses, notices_read=len(notices), notices_empty=empty)
    return plan(route, log.conditions)


def _visits(log: Log) -> Iterator[_Visit]:
    """The stretches of the route and of the ways to its alternates, with their names and hours."""
    off = log.conditions.off
    elapsed: dict[int, list[float | None]] = {}
    before: float | None = 0.0
    for leg in log.legs:
        elapsed.setdefault(leg.stretch.number, []).extend((before, leg.elapsed_min))
        before = leg.elapsed_min
    stations: dict[int, set[str]] = {}
    for leg in log.legs:
        stations.setdefault(leg.stretch.number, set()).update(mark.station.ident for mark in leg.marks)
    for stretch in log.route.stretches:
        times = [one for one in elapsed.get(stretch.number, ()) if one is not None]
        known = off is not None and times and None not in elapsed[stretch.number]
        hours = (off + timedelta(minutes=min(times)), off + timedelta(minutes=max(times))) if off and known else None
        names = _names(log.route, stretch) | stations.get(stretch.number, set())
        yield _Visit(stretch, frozenset(names), stretch.number, hours)
    landing = log.legs[-1].elapsed_min
    # A diversion may begin at any time of the flight, so its hours are all of them and some after.
    late = (off, off + timedelta(minutes=landing) + _ON_AN_ALTERNATE) if off and landing is not None else None
    for way in log.route.alternates:
        for stretch in way.stretches:
            yield _Visit(stretch, frozenset(_names(way, stretch)), None, late)


def _names(route: Route, stretch: Stretch) -> set[str]:
    """The points and stations of a stretch by name."""
    found = {point.ident for point in (stretch.start, stretch.end) if point.ident is not None}
    for part in stretch.parts:
        if part.guidance is not None:
            found.add(part.guidance.station.ident)
    definition = route.request.definitions.fixes.get(stretch.end.ident or "")
    if definition is not None:
        found.update(name.ident for name, _ in definition.radials)
    return found


def _counts(notice: Notice, visits: tuple[_Visit, ...]) -> bool:
    """Whether a notice changes something of the flight at an hour at which it is there."""
    if notice.void is not None:
        return False
    # Effect and hour at the same visit: a notice of the morning says nothing of a leg flown in the evening.
    return any(
        _concerns(effect, visit) and _in_force(notice, visit)
        for effect in notice.effects
        if not isinstance(effect, OtherMatter)
        for visit in visits
    )


def _in_force(notice: Notice, visit: _Visit) -> bool:
    """Whether it is in force in the hours of a visit, or within half an hour of them; without hours it counts."""
    # Unknown hours are held against the flight.
    if visit.hours is None:
        return True
    first, last = visit.hours
    return notice.in_force(first - MARGIN, last + MARGIN)


def _concerns(effect: Effect, visit: _Visit) -> bool:
    """Whether an effect is about something that a stretch uses."""
    match effect:
        case StationOut() | StationSector() | StationUnmonitored():
            return effect.station in visit.names
        case SegmentMinimum() | SegmentClosed() | SegmentChangeover():
            return _overlaps(effect.airways, effect.start, effect.end, visit.stretch)
        case CrossingMinimum():
            return effect.at in visit.names and _on_one(effect.airways, visit.stretch)
        case ReceptionMinimum():
            return effect.fix in visit.names
        # Domestic notices name an airport without its `K`, route files with it (from memory of FAA Order JO 7930.2).
        case AirportClosed():
            return bool({effect.airport, f"K{effect.airport}"} & visit.names)
        case _:
            return False


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


def _uses(notices: tuple[Notice, ...], counting: tuple[Notice, ...], visits: tuple[_Visit, ...]) -> Iterator[NoticeUse]:
    """The notices that concern the flight: those that change something, and those that name something of it."""
    named = {name for visit in visits for name in visit.names}
    named |= {visit.stretch.airway.ident for visit in visits if visit.stretch.airway is not None}
    for notice in notices:
        about = [
            visit
            for visit in visits
            if any(_concerns(effect, visit) for effect in notice.effects if not isinstance(effect, OtherMatter))
        ]
        told = _told_names(notice, named)
        if not about and not told:
            continue
        numbers = dict.fromkeys(one.number for one in about if one.number is not None)
        hours = [one.hours[1] for one in about if one.hours is not None]
        yield NoticeUse(notice, notice in counting, tuple(numbers), told, max(hours, default=None))


def _told_names(notice: Notice, named: set[str]) -> tuple[str, ...]:
    """What of the flight a notice names, in its words or as the place that it is filed under."""
    words = dict.fromkeys(re.findall(r"[A-Z0-9]{2,6}", f"{notice.location} {notice.text}"))
    return tuple(one for one in words if one in named or f"K{one}" in named)


def _with_words(route: Route, uses: tuple[NoticeUse, ...]) -> Route:
    """The route with what notices say at each stretch in words."""
    words: dict[int, list[str]] = {}
    for use in uses:
        for number in use.stretches if use.counts else ():
            words.setdefault(number, []).extend(
                f"by {use.notice.ident}: {effect_words(one)}"
                for one in use.notice.effects
                if not isinstance(one, OtherMatter)
            )
    stretches = tuple(
        changed(one, notices=tuple(words[one.number])) if one.number in words else one for one in route.stretches
    )
    return changed(route, stretches=stretches)
