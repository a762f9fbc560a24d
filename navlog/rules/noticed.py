"""What notices do to the flight: those that count, those that do not, and those that nobody understood."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from navlog.flightlog.records import Leg
from navlog.nav.notices import (
    AirportClosed,
    Cancellation,
    NoFuel,
    ObstacleTold,
    OtherMatter,
    SegmentChangeover,
    airport_names,
    effect_words,
    period_words,
)
from navlog.resolve.route import NoticeUse, PointKind
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, sample

_BRIEFING = sample("notices notices.txt")


@once_a_flight
@rule(
    "notices-empty",
    Severity.WARNING,
    group=Group.DATA,
    source="the notices handed in; FAA Order JO 7930.2, ICAO Doc 8126",
    remedy="hand in the briefing's own text; `navlog notices FILE` tells what is read of it",
    passing=_BRIEFING,
    failing=sample("notices no_notices.txt"),
)
def notices_empty(case: Case) -> Iterator[Found]:
    """A file of notices holds none that can be read, so the flight is computed as if there were none."""
    for reference in case.log.route.notices_empty:
        yield Found(f"no notice is found in {reference.path}: nothing of it counts", span=reference.span)


@once_a_flight
@rule(
    "notice-not-understood",
    Severity.WARNING,
    apart=(Severity.WARNING,),
    group=Group.DATA,
    source="the notices handed in; FAA Order JO 7930.2, ICAO Doc 8126",
    remedy="read it, and state what it changes: unavailable, unusable, an airway's altitudes",
    passing=BASE,
    failing=_BRIEFING,
)
def notice_not_understood(case: Case) -> Iterator[Found]:
    """A notice that names something of the flight is not understood, or not whole.

    It is printed whole. What was understood of it counts.
    """
    for use in case.log.route.notices:
        notice = use.notice
        if notice.unread is not None and notice.void is None:
            names = f"{'may mean' if use.guessed else 'names'} {', '.join(use.names) or notice.location}"
            yield Found(f"{notice.ident} {names}; {notice.unread}: {notice.text}", span=notice.span)


@rule(
    "airport-closed",
    Severity.ERROR,
    apart=(Severity.ERROR,),
    group=Group.REST,
    source="the notices handed in",
    remedy="plan to another airport, or ask whether the notice still holds",
    passing=BASE,
    failing=_BRIEFING,
)
def airport_closed(case: Case) -> Iterator[Found]:
    """An airport of the flight is closed by notice when the flight is there."""
    for use in case.log.route.notices:
        for effect in use.notice.effects:
            if isinstance(effect, AirportClosed):
                message = f"{effect.airport} is closed by {use.notice.ident} {period_words(use.notice, near=use.near)}"
                for leg in _legs_at(case, use, effect):
                    yield Found(message, leg, span=use.notice.span)


@once_a_flight
@rule(
    "fuel-not-available",
    Severity.WARNING,
    apart=(Severity.WARNING,),
    group=Group.FLYING,
    source="the notices handed in",
    remedy="take fuel elsewhere or all of it at the start, or ask whether there is the kind that you need",
    passing=BASE,
    failing=sample("notices no_fuel.txt", "route XHAR QHB V801 QEL XOLD land 20min fuel 30gal QEL"),
)
def fuel_not_available(case: Case) -> Iterator[Found]:
    """Fuel is not to be had by notice at a landing where the log takes it."""
    for use, leg in _on_legs(case):
        for effect in use.notice.effects:
            if isinstance(effect, NoFuel):
                at = next(_legs_at(case, use, effect), None)
                message = f"the log takes fuel at {effect.airport}: {use.notice.text}"
                yield Found(message, at or leg, span=use.notice.span, about=message)


def _legs_at(case: Case, use: NoticeUse, told: AirportClosed | NoFuel) -> Iterator[Leg]:
    """The legs of stretches on which a notice on an airport counts that end there, or with which the flight begins."""
    names = airport_names(told.airport)
    ended = False
    for leg in case.legs:
        stretch = leg.stretch
        # A VOR may have the name of the airport.
        there = [one.ident in names and one.kind == PointKind.AIRPORT for one in (stretch.start, stretch.end)]
        # A take-off after a landing is at the field that the landing was told of, if it counted there.
        begins, ends = leg.start_nm == 0.0 and there[0] and not ended, leg.ends_stretch and there[1]
        counts = stretch.number in use.stretches_counting
        if counts and (begins or ends):
            yield leg
        ended = counts and ends if leg.ends_stretch else ended


@rule(
    "notice-estimated",
    Severity.WARNING,
    apart=(Severity.WARNING,),
    group=Group.DATA,
    source="common practice, no source",
    remedy="ask before departure whether it is back",
    passing=BASE,
    failing=_BRIEFING,
)
def notice_estimated(case: Case) -> Iterator[Found]:
    """The flight passes after the estimated end of a notice, which may be late."""
    for use in case.log.route.notices:
        end = use.notice.period.end
        if not use.notice.period.estimated or end is None or use.notice.void is not None:
            continue
        leg = _first_of(case, use.late)
        if leg is not None:
            words = "; ".join(effect_words(one) for one in use.notice.effects if not isinstance(one, OtherMatter))
            message = f"{words} by {use.notice.ident}: estimated back {end:%Y-%m-%d %H%M}Z: ask"
            yield Found(message, leg, span=use.notice.span, about=message)


@rule(
    "notice-counts",
    Severity.NOTE,
    apart=(Severity.NOTE,),
    group=Group.DATA,
    source="the notices handed in",
    remedy="the log is computed with it; fly by the sheet",
    passing=BASE,
    failing=_BRIEFING,
)
def notice_counts(case: Case) -> Iterator[Found]:
    """A notice changes something of the flight, and the log is computed with it."""
    for use, leg in _on_legs(case):
        for effect in use.notice.effects:
            if not isinstance(effect, OtherMatter | AirportClosed | NoFuel | ObstacleTold):
                message = f"by {use.notice.ident}: {effect_words(effect)} ({period_words(use.notice, near=use.near)})"
                yield Found(message, leg, span=use.notice.span, about=message)


@once_a_flight
@rule(
    "notices-contradict",
    Severity.WARNING,
    group=Group.DATA,
    source="the notices handed in",
    remedy="ask which of them holds: on this stretch the stations are changed where the last says",
    passing=_BRIEFING,
    failing=sample("notices points.txt"),
)
def notices_contradict(case: Case) -> Iterator[Found]:
    """Two notices that count state the changeover point of one stretch differently; the last in the briefing holds."""
    told = [
        (use, effect)
        for use in case.log.route.notices
        for effect in use.notice.effects
        if use.counts and isinstance(effect, SegmentChangeover)
    ]
    for (use, effect), (later, other) in combinations(told, 2):
        apart = (effect.station, effect.distance_nm) != (other.station, other.distance_nm)
        if (
            apart
            and set(effect.airways) & set(other.airways)
            and set(use.stretches_counting) & set(later.stretches_counting)
        ):
            message = (
                f"{use.notice.ident} and {later.notice.ident} differ, and the later in the briefing holds:"
                f" {effect_words(effect)}; {effect_words(other)}"
            )
            leg = next(leg for one, leg in _on_legs(case) if one is later)
            yield Found(message, leg, span=use.notice.span)


@once_a_flight
@rule(
    "notice-idle",
    Severity.NOTE,
    apart=(Severity.NOTE,),
    group=Group.DATA,
    source="the notices handed in",
    remedy="read it, where the hours of the flight may change",
    passing=BASE,
    failing=_BRIEFING,
)
def notice_idle(case: Case) -> Iterator[Found]:
    """A notice about something of the flight does not count: outside its hours, cancelled, or of another matter."""
    ways = (case.log.route, *case.log.route.alternates)
    concerned = [use.notice for way in ways for use in way.notices if use.stretches]
    for use in case.log.route.notices:
        notice = use.notice
        if use.counts or (notice.unread is not None and notice.void is None):
            continue
        if all(isinstance(one, Cancellation) for one in notice.effects):
            continue
        words = "; ".join(effect_words(one) for one in notice.effects)
        # What changes no figure may still keep a pilot on the ground, as a runway that is closed.
        if any(isinstance(one, OtherMatter) for one in notice.effects):
            words = f"{words}: {notice.text}"
        why = notice.void or (period_words(notice) if use.notice in concerned else None)
        yield Found(f"{notice.ident} is not counted: {words}{f' ({why})' if why else ''}", span=notice.span)


def _on_legs(case: Case) -> Iterator[tuple[NoticeUse, Leg]]:
    """The notices that count on this way, each with the first leg that it changes."""
    for use in case.log.route.notices:
        leg = _first_of(case, use.stretches_counting)
        if leg is not None:
            yield use, leg


def _first_of(case: Case, stretches: tuple[int, ...]) -> Leg | None:
    return next((leg for leg in case.legs if leg.stretch.number in stretches), None)
