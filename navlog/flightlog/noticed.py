"""A flight planned with the notices that it hands in: which of them count, by its own hours at each place.

It is planned without them; those in force within 30 minutes of what they are about are applied, and it is planned
again, as long as that makes further ones count. A station counts from when it is tuned to when it is left, a point
when it is passed, a segment while it is flown. Without `off` all count.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from typing import TypeAlias

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

_Hours: TypeAlias = tuple[datetime, datetime]
_Minutes: TypeAlias = list[float | None]
_MOST_ROUNDS = 4
_ON_AN_ALTERNATE = timedelta(hours=2)
"""How long after the last landing a way to an alternate may still be flown: its own hours are not known."""


class _Visit(Struct, frozen=True):
    """A stretch with the hours in which it is flown, and those of each name that it uses; None where not known.

    `way` is 0 on the route and counts the alternates from 1.
    """

    stretch: Stretch
    way: int
    hours: _Hours | None
    names: Mapping[str, _Hours | None]

    def of(self, name: str) -> tuple[_Hours | None, ...]:
        """The hours of a name; nothing where it is not used."""
        return (self.names[name],) if name in self.names else ()


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
    empty = tuple(reference for reference, read in by_file if not read)
    route = changed(_told(log.route, notices, counting, visits, 0), notices_read=len(notices), notices_empty=empty)
    ways = (_told(way, notices, counting, visits, number) for number, way in enumerate(route.alternates, 1))
    return plan(changed(route, alternates=tuple(ways)), log.conditions)


def _visits(log: Log) -> Iterator[_Visit]:
    """The stretches of the route and of the ways to its alternates, with their names and hours."""
    off = log.conditions.off
    flown = _flown_min(log)
    for stretch in log.route.stretches:
        whole, by_name = flown[stretch.number]
        yield _Visit(stretch, 0, _span(off, whole), {name: _span(off, times) for name, times in by_name.items()})
    landing = log.legs[-1].elapsed_min
    # A diversion may begin at any time of the flight, so its hours are all of them and some after.
    late = (off, off + timedelta(minutes=landing) + _ON_AN_ALTERNATE) if off and landing is not None else None
    for number, way in enumerate(log.route.alternates, 1):
        for stretch in way.stretches:
            yield _Visit(stretch, number, late, dict.fromkeys((*_at_start(stretch), *_along(way, stretch)), late))


def _flown_min(log: Log) -> dict[int, tuple[_Minutes, dict[str, _Minutes]]]:
    """The minutes after take-off at which each stretch, by its number, begins and ends legs, and uses each name."""
    found: dict[int, tuple[_Minutes, dict[str, _Minutes]]] = {}
    began: float | None = 0.0
    for leg in log.legs:
        ended, (whole, by_name) = leg.elapsed_min, found.setdefault(leg.stretch.number, ([], {}))
        whole += [began, ended]
        names: dict[str, tuple[float | None, ...]] = {mark.station.ident: (ended,) for mark in leg.marks}
        if leg.ends_stretch:
            names |= dict.fromkeys(_at_end(log.route, leg.stretch), (ended,))
        if leg.start_nm == 0.0:
            names |= dict.fromkeys(_at_start(leg.stretch), (began,))
        if leg.part.guidance is not None:
            names[leg.part.guidance.station.ident] = (began, ended)
        for name, times in names.items():
            by_name.setdefault(name, []).extend(times)
        began = None if ended is None else ended + leg.stop_min
    return found


def _span(off: datetime | None, times_min: _Minutes) -> _Hours | None:
    """From when to when; None where the take-off or one of the times is not known."""
    known = [one for one in times_min if one is not None]
    if off is None or len(known) < len(times_min):
        return None
    return off + timedelta(minutes=min(known)), off + timedelta(minutes=max(known))


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


def _counts(notice: Notice, visits: tuple[_Visit, ...]) -> bool:
    """Whether a notice changes something of the flight at an hour at which it is there."""
    if notice.void is not None:
        return False
    return any(_in_force(notice, hours) for _, hours in _met(notice, visits))


def _met(notice: Notice, visits: Iterable[_Visit]) -> Iterator[tuple[_Visit, _Hours | None]]:
    """Where the flight uses what a notice changes, and in which hours."""
    # Effect and hour at the same visit: a notice of the morning says nothing of a leg flown in the evening.
    for effect in notice.effects:
        for visit in visits if not isinstance(effect, OtherMatter) else ():
            yield from ((visit, hours) for hours in _used(effect, visit))


def _in_force(notice: Notice, hours: _Hours | None) -> bool:
    """Whether it is in force in those hours, or within half an hour of them; without hours it counts."""
    # Unknown hours are held against the flight.
    return hours is None or notice.in_force(hours[0] - MARGIN, hours[1] + MARGIN)


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
            return tuple(hours for name in _airport_names(effect.airport) for hours in visit.of(name))
        case _:
            return ()


def _airport_names(ident: str) -> tuple[str, ...]:
    """The names under which a flight may have an airport of a notice."""
    # The domestic form names it without its `K`, the ICAO form with it (from memory of FAA Order JO 7930.2).
    return (ident, f"K{ident}", *((ident[1:],) if re.fullmatch(r"K[A-Z]{3}", ident) else ()))


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
    notices: tuple[Notice, ...], counting: tuple[Notice, ...], visits: tuple[_Visit, ...], way: int
) -> Iterator[NoticeUse]:
    """The notices that change something of a way, and of the route also those that name something of the flight."""
    named = {name for visit in visits for name in visit.names}
    named |= {visit.stretch.airway.ident for visit in visits if visit.stretch.airway is not None}
    for notice in notices:
        met = tuple(_met(notice, (visit for visit in visits if visit.way == way)))
        names = _told_names(notice, named) if way == 0 else ()
        if met or names:
            numbers = dict.fromkeys(visit.stretch.number for visit, _ in met)
            until = max((hours[1] for _, hours in met if hours is not None), default=None)
            yield NoticeUse(notice, notice in counting, tuple(numbers), names, until)


def _told_names(notice: Notice, named: set[str]) -> tuple[str, ...]:
    """What of the flight a notice names, in its words or as the place that it is filed under."""
    words = dict.fromkeys(re.findall(r"[A-Z0-9]{2,6}", f"{notice.location} {notice.text}"))
    return tuple(one for one in words if named.intersection(_airport_names(one)))


def _told(
    route: Route, notices: tuple[Notice, ...], counting: tuple[Notice, ...], visits: tuple[_Visit, ...], way: int
) -> Route:
    """The route, or the way to an alternate, with its notices, and at each stretch what they say in words."""
    uses = tuple(_uses(notices, counting, visits, way))
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
    return changed(route, stretches=stretches, notices=uses)
