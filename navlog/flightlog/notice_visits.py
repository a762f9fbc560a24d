"""When a flight uses what notices are about: its stretches with their hours, and those of each name on them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from typing import TypeAlias

from msgspec import Struct

from navlog.flightlog.records import Log
from navlog.nav.accuracy import Accuracy
from navlog.nav.notices import (
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
)
from navlog.resolve.route import Point, PointKind, Route, Stretch

Hours: TypeAlias = tuple[datetime, datetime]
_Minutes: TypeAlias = list[float | None]

_ON_AN_ALTERNATE = timedelta(hours=2)
"""How long after the last landing a way to an alternate may still be flown: its own hours are not known."""
_A_DAY = timedelta(hours=24)
"""How long a flight may last whose times are not known, its stops apart: no endurance is near it (common practice)."""


class Visit(Struct, frozen=True):
    """A stretch with the hours in which it is flown, and those of each name that it uses; None where not known.

    `way` is 0 on the route and counts the alternates from 1; `hop` counts the hops of a way.
    """

    stretch: Stretch
    way: int
    hop: int
    hours: Hours | None
    names: Mapping[str, Hours | None]
    accuracy: Accuracy

    def of(self, name: str) -> tuple[Hours | None, ...]:
        """The hours of a name; nothing where it is not used."""
        return (self.names[name],) if name in self.names else ()


Use: TypeAlias = tuple[Visit, Hours | None]
"""Where the flight uses what a notice is about, and in which hours."""


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


def visits_of(log: Log) -> Iterator[Visit]:
    """The stretches flown of the route, and those of the ways to its alternates, with their names and hours."""
    off, accuracy = log.conditions.off, log.route.request.accuracy
    flown, hops = _flown_min(log), _hops(log.route.stretches)
    over = off + _A_DAY + timedelta(minutes=sum(leg.stop_min for leg in log.legs)) if off is not None else None
    for stretch in log.route.stretches:
        # The log of what lies ahead has no legs of the others.
        if stretch.number not in flown:
            continue
        whole, by_name = flown[stretch.number]
        names = {name: _span(off, times, over) for name, times in by_name.items()}
        yield Visit(stretch, 0, hops[stretch.number], _span(off, whole, over), names, accuracy)
    # A diversion may begin at any time of the flight, so its hours are all of them and some after.
    flight = _span(off, [0.0, log.legs[-1].elapsed_min], over)
    late = (flight[0], flight[1] + _ON_AN_ALTERNATE) if flight is not None else None
    for number, way in enumerate(log.route.alternates, 1):
        for stretch in way.stretches:
            # All of a way has the same hours, so it is one hop.
            names = dict.fromkeys((*_at_start(stretch), *_along(way, stretch)), late)
            yield Visit(stretch, number, 0, late, names, accuracy)


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


def _span(off: datetime | None, times_min: _Minutes, over: datetime | None) -> Hours | None:
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


def uses_of(notice: Notice, visits: Sequence[Visit]) -> Iterator[Use]:
    """Where the flight uses what a notice changes, and in which hours."""
    # Effect and hour at the same visit: a notice of the morning says nothing of a leg flown in the evening.
    for effect in notice.effects:
        for visit in visits if not isinstance(effect, OtherMatter) else ():
            yield from ((visit, hours) for hours in _used(effect, visit))


def _used(effect: Effect, visit: Visit) -> tuple[Hours | None, ...]:
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


def _stands_near(obstacle: ObstacleTold, visit: Visit) -> bool:
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
