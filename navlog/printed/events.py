"""The flight as a pilot meets it: one event for each place where something is done, in flying order.

Every figure is text already; strip, HTML and PDF only place it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from msgspec import Struct

from navlog.flightlog.changeovers import kind_text
from navlog.flightlog.facts import (
    NO_CHANGEOVER,
    changeover_place,
    crossing_kind,
    other_limits,
    true_alone,
    why_no_guidance,
)
from navlog.flightlog.records import Leg, LegPoint, Log, Phase
from navlog.nav import figures
from navlog.nav.guidance import Flag
from navlog.nav.record import changed
from navlog.printed.clocks import local_text
from navlog.printed.marks import beside, by_time_alone, mark_text, radial
from navlog.printed.meant import NOTHING, Meant
from navlog.printed.readings import by_time, changeover_dme_nm, minutes_since
from navlog.printed.remarks import (
    change_of_level,
    changes_within,
    nil_wind,
    staying,
    stop,
    take_off,
    tuned,
    turn_after,
    without_signal,
)
from navlog.printed.rows import BY_KEY, Row, leaving, minimum, rows, set_course
from navlog.resolve.route import Changeover, MarkKind, PointKind


class _Flown(Struct, frozen=True):
    """The three flown numbers of the leg that begins here: course to set with flag, heading, time."""

    set_course: str
    heading: str
    time: str


class Event(Struct, frozen=True):
    """One place with what is done there; empty texts and tuples where there is nothing.

    `inbound` is the course that was set to come in, `flown` what is set to go on (None at the end). `station`
    is how the station that this place is, is tuned; `tune` the station to tune now. `marks` tell the place;
    `way`, `height` and `fuel` belong to the leg that begins here (the fuel is what is left here); `notes` are
    whole sentences. `stop` is what is planned at a landing on the way, named `stop_at`: the landing is an event
    without a leg, the take-off after it one of its own.
    """

    kind: str
    place: str
    name: str
    clock: str
    local: str
    turn: str
    marks: tuple[str, ...]
    inbound: str
    station: str
    tune: str
    flown: _Flown | None
    way: tuple[str, ...]
    height: tuple[str, ...]
    fuel: tuple[str, ...]
    notes: tuple[str, ...]
    stop_at: str = ""
    stop: str = ""


def events(log: Log, meant: Meant = NOTHING) -> tuple[Event, ...]:
    """Every event of the flight, the take-off first and the last landing at the end."""
    printed = rows(log, meant)
    return tuple(one for index in range(len(printed) + 1) for one in _events_before(log, printed, index))


def _events_before(log: Log, printed: tuple[Row, ...], index: int) -> Iterator[Event]:
    """The event before row `index`, at a stop the landing and the take-off; the last one is behind the last row."""
    arriving = printed[index - 1] if index > 0 else None
    leaving = printed[index] if index < len(printed) else None
    if arriving is None or leaving is None or not arriving.leg.lands:
        yield _event(log, printed, index, arriving, leaving)
        return
    name = arriving.leg.end.name
    lands = _event(log, printed, index, arriving, None)
    yield changed(lands, place=f"LAND {lands.place}", stop_at=name, stop=stop(arriving, leaving))
    goes_on = _event(log, printed, index, None, leaving)
    yield changed(goes_on, place=f"TAKE OFF {goes_on.place}")


def _event(log: Log, printed: tuple[Row, ...], index: int, arriving: Row | None, leaving: Row | None) -> Event:
    """The event before row `index` of one that arrives, leaves or does both."""
    row = arriving or leaving
    assert row is not None
    point = row.leg.end if arriving is not None else row.leg.start
    moment = arriving.clock if arriving is not None else _off(log, printed, index)
    named = point.point.place.name if point.point is not None and point.point.place is not None else None
    station = point.point.station if point.point is not None else None
    return Event(
        kind=point.kind,
        place=place_name(point) if arriving is None else _arrived_at(arriving, leaving),
        name=named or "",
        clock="" if moment is None else _clock(arriving, figures.zulu(moment, log.conditions.day)),
        local=local_text(moment, log.conditions.zone, log.conditions.day),
        turn=_turn(arriving, leaving),
        marks=() if arriving is None else tuple(_marks(printed[:index])),
        inbound=_inbound(arriving),
        station="" if station is None else tuned(station),
        tune="" if leaving is None else leaving.marked("station", _tune(arriving, leaving)),
        flown=None if leaving is None else _flown(leaving),
        way=() if leaving is None else tuple(_way(printed, index)),
        height=() if leaving is None else tuple(_height(printed, index)),
        fuel=_fuel(row, taking_off=arriving is None),
        notes=tuple(_notes(arriving, leaving)),
    )


def _arrived_at(arriving: Row, leaving: Row | None) -> str:
    """The name of the place where a leg ends, marked where a finding means it."""
    return arriving.marked("to", end_name(arriving.leg, leaving.leg if leaving is not None else None))


def _clock(arriving: Row | None, text: str) -> str:
    """The time at a place, marked where a finding means the arrival."""
    return text if arriving is None else arriving.marked("eta", text)


def _off(log: Log, printed: Sequence[Row], index: int) -> datetime | None:
    """When the flight takes off for row `index`: at the first one and after a stop."""
    return take_off(printed[index - 1]) if index > 0 else leaving(log)[0]


def place_name(point: LegPoint) -> str:
    """The name of a place; one that has none is called what it is: `COP`, `TOP OF CLIMB`."""
    if point.kind == PointKind.CHANGEOVER and point.ident is None:
        return "COP"
    return point.name if point.ident is not None or point.point is not None else point.kind.upper()


def end_name(leg: Leg, following: Leg | None) -> str:
    """The name of a leg's end; inside a stretch, where a station's range ends or begins, what is heard there."""
    if leg.end.kind == PointKind.POSITION and not leg.ends_stretch and following is not None:
        guided, goes_on = (one.part.guidance is not None for one in (leg, following))
        if guided != goes_on:
            return "END OF SIGNAL" if guided else "SIGNAL AGAIN"
    return place_name(leg.end)


def _turn(arriving: Row | None, leaving: Row | None) -> str:
    """The turn at the place, empty where the flight goes straight on."""
    degrees = turn_after(arriving.leg, leaving) if arriving is not None else None
    return f"turn {figures.turn(degrees)}" if degrees is not None else ""


def _inbound(arriving: Row | None) -> str:
    """The course that was set to come in to a station: `272 TO`."""
    guidance = arriving.leg.part.guidance if arriving is not None else None
    if arriving is None or guidance is None or arriving.leg.stays or not arriving.leg.ends_stretch:
        return ""
    return set_course(arriving) if guidance.flag is Flag.TO else ""


def _tune(arriving: Row | None, leaving: Row) -> str:
    """The station to tune and identify now, empty while the one before goes on.

    With one receiver a fix found by another station's radial asks for the first one to be tuned again.
    """
    guidance = leaving.leg.part.guidance
    if guidance is None:
        return ""
    before = arriving.leg.part.guidance if arriving is not None and not arriving.leg.lands else None
    if before is None or before.station != guidance.station or (arriving is not None and tuned_away(arriving)):
        return tuned(guidance.station)
    return ""


def tuned_away(arriving: Row) -> bool:
    """Whether the only receiver was set to a cross radial at the leg's end."""
    leg = arriving.leg
    alone = arriving.log.route.request.equipment.vor == 1
    return alone and any(not mark.by.flown for mark in leg.told_by)


def _flown(leaving: Row) -> _Flown:
    """What is set and flown from here."""
    figure = {key: BY_KEY[key].figure(leaving) for key in ("set_course", "heading", "time")}
    if leaving.leg.stays:
        return _Flown("hold" if leaving.leg.phase is Phase.HOLD else "lose height", "", figure["time"])
    if leaving.leg.part.guidance is None:
        return _Flown("no station", figure["heading"], figure["time"])
    return _Flown(figure["set_course"], figure["heading"], figure["time"])


def _marks(flown_so_far: tuple[Row, ...]) -> Iterator[str]:
    """How the place is known when it is reached: distances, DME readings, cross radials, minutes."""
    arriving = flown_so_far[-1]
    leg = arriving.leg
    if leg.stays:
        return
    if leg.changeover is not None:
        yield from _changeover_marks(arriving, leg.changeover)
    between = change_of_level(leg)
    if between is not None:
        yield between
    if leg.ends_stretch:
        for mark in leg.told_by:
            if mark.kind is MarkKind.DME:
                yield mark_text(mark)
            else:
                yield from (tuned(mark.station), f"R-{radial(mark)} crosses", f"set {radial(mark)} FROM")
            yield from beside(mark)
        if by_time_alone(leg):
            yield "by time alone"
    if leg.changeover is not None:
        yield by_time(flown_so_far)
    elif leg.ends_stretch and leg.end.kind in (PointKind.FIX, PointKind.POSITION):
        yield minutes_since(flown_so_far)
    if not leg.ends_stretch and leg.end.kind == PointKind.POSITION:
        yield minutes_since(flown_so_far)
    if leg.ends_stretch and leg.stretch.limits.mra_end_ft is not None:
        yield f"MRA {figures.whole(leg.stretch.limits.mra_end_ft)}"


def _changeover_marks(arriving: Row, changeover: Changeover) -> Iterator[str]:
    """Where the changeover point is."""
    place = changeover_place(changeover)
    if place is None:
        yield NO_CHANGEOVER
        return
    yield f"{place} ({kind_text(changeover)})"
    reading = changeover_dme_nm(arriving)
    if reading is not None:
        yield f"{changeover.behind.ident} DME {figures.distance(reading)}"


def _way(printed: tuple[Row, ...], index: int) -> Iterator[str]:
    """How far to the next place and to the next station, and how fast."""
    row = printed[index]
    if row.leg.stays:
        return
    following = printed[index + 1].leg if index + 1 < len(printed) else None
    yield f"{end_name(row.leg, following)} {row.marked('distance', figures.tenths(row.distance_tenths))} NM"
    if row.leg.end.kind != PointKind.STATION and not row.leg.lands:
        tenths = row.distance_tenths
        for later in printed[index + 1 :]:
            tenths += later.distance_tenths
            if later.leg.end.kind == PointKind.STATION:
                yield f"{later.leg.end.name} {figures.tenths(tenths)} NM"
            if later.leg.end.kind == PointKind.STATION or later.leg.lands:
                break
    yield f"GS {BY_KEY['groundspeed'].figure(row)}"


def _height(printed: tuple[Row, ...], index: int) -> Iterator[str]:
    """The planned altitude with the minimum beside it, and the altitude at which the next point is crossed."""
    leaving = printed[index]
    yield f"alt {BY_KEY['altitude'].figure(leaving)}"
    if leaving.leg.stays:
        return
    yield minimum(leaving)
    yield from other_limits(leaving.leg)
    yield from _crossings_ahead(printed, index)


def _crossings_ahead(printed: tuple[Row, ...], index: int) -> Iterator[str]:
    """The altitudes at which the end of the row's stretch is crossed: `MCA QEL 4500`."""
    for later in printed[index + 1 :]:
        if later.leg.stretch.number != printed[index].leg.stretch.number:
            for one in later.leg.stretch.limits.crossings_start:
                yield f"{crossing_kind(one)} {later.leg.start.name} {figures.whole(one.altitude_ft)}"
            return


def _fuel(row: Row, *, taking_off: bool) -> tuple[str, ...]:
    """The fuel planned to be left at the row's end, or at take-off before it, and the least to go on with."""
    left, least = row.left_steps, row.least_steps
    if taking_off:
        left = None if left is None or row.fuel_steps is None else left + row.fuel_steps
        least = None if least is None or row.fuel_steps is None else least + row.fuel_steps
    left_text = row.fuel(left) if taking_off else row.marked("fuel_left", row.fuel(left))
    return f"fuel {left_text}", f"least {row.fuel(least)}"


def _notes(arriving: Row | None, leaving: Row | None) -> Iterator[str]:
    """What else must be known here, in sentences."""
    if arriving is not None and arriving.leg.lands:
        return
    if leaving is None:
        yield "land" if arriving is not None and arriving.leg.end.kind == PointKind.AIRPORT else "end of the flight"
        return
    leg = leaving.leg
    yield from changes_within(leg)
    if leg.stays:
        if leg.start_altitude_ft != leg.end_altitude_ft:
            yield staying(leaving)
        return
    if leg.part.guidance is None:
        yield f"dead reckoning: {why_no_guidance(leg.part)}"
    else:
        compass = nil_wind(leaving)
        if compass is not None:
            yield f"compass {compass} in no wind"
    if true_alone(leg):
        yield true_alone(leg)
    if leg.start_nm != 0.0:
        return
    yield from without_signal(leaving)
    yield from (f"published: {remark}" for remark in leg.stretch.remarks)
    yield from leg.stretch.notices
