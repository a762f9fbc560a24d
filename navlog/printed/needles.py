"""The rows of the knee page, a row a needle change: every figure is text already, sheets only place it.

Time of arrival and fuel belong to the point where a row begins, distance, minutes and groundspeed to the way from it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import takewhile

from msgspec import Struct

from navlog.flightlog.counted import leaving
from navlog.flightlog.facts import lowest
from navlog.flightlog.records import Log, Phase
from navlog.nav import figures
from navlog.printed.airfields import BY_NIGHT, sunset_texts
from navlog.printed.breaks import needle_rows
from navlog.printed.findings import ranges
from navlog.printed.meant import NOTHING, Meant
from navlog.printed.place_names import short_name
from navlog.printed.radios import Radios, radios_landing
from navlog.printed.readings import tuned_away
from navlog.printed.remarks import heading_turn_deg, stop, take_off, turn_after
from navlog.printed.rows import (
    Row,
    heading,
    height,
    kept_ft,
    marked,
    on_board_steps,
    rows,
    set_course,
    to_next_landing,
    unless_impossible,
)
from navlog.printed.ticks import ticks, told_at
from navlog.request.levels import level_altitude_ft


class Needle(Struct, frozen=True):
    """A row: what is done at `place`, and the way from it to the next row; empty texts where there is nothing.

    `legs` are the numbers of the legs flown from it. `tune` is the station with its frequency, and `morse` its
    identification where it is tuned anew. `turn` leads from the heading of the row before to this one's.
    `set_course` is the number on the selector and `flag` what it shows. `at` is how the place is told, `ticks` what
    comes on the way. Of the last row only place, clock and fuel stand. `radios` are written down before a landing,
    and `landed` tells what is planned at it.
    """

    legs: str
    place: str
    clock: str
    turn: str
    tune: str
    morse: str
    set_course: str
    flag: str
    heading: str
    altitude: str
    minimum: str
    via: str
    distance: str
    minutes: str
    groundspeed: str
    left: str
    fuel: str
    at: tuple[str, ...]
    ticks: tuple[str, ...]
    radios: Radios | None = None
    landed: tuple[str, ...] = ()

    @property
    def told(self) -> tuple[str, ...]:
        """What is planned at the landing, how the place is told, then what comes on the way."""
        return (*self.landed, *self.at, *self.ticks)


def needles(log: Log, meant: Meant = NOTHING) -> tuple[Needle, ...]:
    """The rows of a way, the place of take-off first and the last landing at the end."""
    printed = rows(log, meant)
    groups = needle_rows(printed)
    found, flown = [], 0
    for number, group in enumerate(groups):
        before = groups[number - 1] if number else ()
        beyond = groups[number + 1][0] if number + 1 < len(groups) else None
        found.append(_needle(printed, flown, before, group, beyond))
        flown += len(group)
    return (*found, _last(printed))


def _needle(
    printed: tuple[Row, ...], flown: int, before: Sequence[Row], group: Sequence[Row], beyond: Row | None
) -> Needle:
    """The row of a group of legs, behind `flown` legs and the group `before` it, before the leg `beyond`."""
    first = group[0]
    leg, arrived = first.leg, before[-1] if before else None
    known = tuple(dict.fromkeys(_stations(arrived) + _stations(first)))
    anew = _tuned_anew(arrived, first)
    altitude = _altitude(group)
    course, _, flag = set_course(first).partition(" ")
    if leg.phase is Phase.HOLD:
        course, flag = "HOLD", ""
    turns = arrived is not None and turn_after(arrived.leg, first) is not None
    at = () if arrived is None else tuple(told_at(printed[:flown], first, known))
    landed = () if arrived is None or not arrived.leg.lands else (*_night(arrived), _landed(arrived, first))
    return Needle(
        legs=ranges([row.leg.number for row in group]),
        place=short_name(leg.start) if arrived is None else _marked(arrived, "to", short_name(arrived.leg.end)),
        clock=_clock(arrived, first, flown),
        turn=_turn(before[0], first) if turns else "",
        tune=_tune(first, group),
        morse=_morse(first) if anew else "",
        set_course=_any_marked(group, "set_course", course),
        flag=flag,
        heading="-" if leg.stays else _any_marked(group, "heading", heading(first)),
        altitude=_any_marked(group, "altitude", altitude),
        minimum=_minimum(group),
        via=leg.stretch.via,
        distance=_any_marked(group, "distance", figures.tenths(sum(row.distance_tenths for row in group))),
        minutes=unless_impossible(first, _minutes(group)),
        groundspeed=_any_marked(group, "groundspeed", _groundspeed(group)),
        left=figures.tenths(to_next_landing(printed, flown + len(group) - 1)[0]),
        fuel=_fuel(arrived, first),
        at=at,
        ticks=tuple(ticks(group, arrived, beyond, known, altitude)),
        radios=None if arrived is None or not arrived.leg.lands else _radios(arrived),
        landed=landed,
    )


def _turn(before: Row, first: Row) -> str:
    """The turn from the heading of the row before to this one's, `L85`; empty where either is not known."""
    turn_deg = heading_turn_deg(before, first)
    return "" if not turn_deg else f"{'R' if turn_deg > 0 else 'L'}{abs(turn_deg)}"


def _last(printed: tuple[Row, ...]) -> Needle:
    """The row of the last landing."""
    row = printed[-1]
    return Needle(
        legs="", place=_marked(row, "to", short_name(row.leg.end)), clock=_clock(row, row, len(printed)), turn="",
        tune="", morse="", set_course="", flag="", heading="", altitude="", minimum="", via="", distance="",
        minutes="", groundspeed="", left="", fuel=_fuel(row, row),
        at=(*told_at(printed, None, _stations(row)), *(() if row.log.begun else sunset_texts(row.log, row.leg))),
        ticks=(),
        radios=None if row.log.begun else _radios(row),
    )  # fmt: skip


def _radios(arrived: Row) -> Radios | None:
    """What is written down before the landing that ends a leg."""
    point = arrived.leg.end.point
    if point is None:
        return None
    off = take_off(arrived)
    known = "" if off is None else f" {off:%H%M}Z{figures.day_mark(off, arrived.log.conditions.day)}"
    return radios_landing(arrived.log, point, f"off{known}")


def _landed(arrived: Row, first: Row) -> str:
    """What is planned at a landing on the way."""
    return f"LAND, stop {stop(arrived, first, f'off {_clock_words(take_off(arrived), arrived)}')}"


def _night(arrived: Row) -> Iterator[str]:
    """That a landing on the way is by night."""
    yield from (text for text in sunset_texts(arrived.log, arrived.leg) if text.startswith(BY_NIGHT))


def _marked(row: Row, key: str, text: str) -> str:
    return row.marked(key, text)


def _any_marked(group: Sequence[Row], key: str, text: str) -> str:
    """A figure of several legs, marked where a finding means it on one of them."""
    return next((row for row in group if key in row.meant), group[0]).marked(key, text)


def _stations(row: Row | None) -> tuple[str, ...]:
    """The station that guides a leg, by name."""
    guidance = None if row is None else row.leg.part.guidance
    return () if guidance is None else (guidance.station.ident,)


def _tuned_anew(arrived: Row | None, first: Row) -> bool:
    """Whether a station is tuned and identified here: another than before, or behind a cross radial."""
    if arrived is None or arrived.leg.lands or tuned_away(arrived):
        return True
    return _stations(arrived) != _stations(first)


def _tune(first: Row, group: Sequence[Row]) -> str:
    """The station with its frequency, marked where a finding means it; `no VOR` in dead reckoning."""
    guidance = first.leg.part.guidance
    if guidance is None:
        return "no VOR"
    one = guidance.station
    return _any_marked(group, "station", f"{marked(one)} {figures.frequency(one.frequency_mhz)}")


def _morse(first: Row) -> str:
    from navlog.nav.radio import morse

    guidance = first.leg.part.guidance
    return "" if guidance is None else morse(guidance.station.ident)


def _clock_words(moment: datetime | None, row: Row) -> str:
    """A time of day in UTC as four figures, with a mark of another day: `1338`, `0008+1`."""
    if moment is None:
        return figures.UNKNOWN
    return f"{moment:%H%M}{figures.day_mark(moment, row.log.conditions.day)}"


def _clock(arrived: Row | None, first: Row, flown: int) -> str:
    """The time at the row's point; on a way without a clock the minutes since it began."""
    log = first.log
    if log.conditions.off is None and log.begun:
        elapsed = 0 if not flown else (arrived.elapsed_min if arrived is not None else None)
        return f"+{figures.UNKNOWN if elapsed is None else elapsed}"
    if arrived is None:
        return _clock_words(leaving(log)[0], first)
    return arrived.marked("eta", _clock_words(arrived.clock, first))


def _altitude(group: Sequence[Row]) -> str:
    """The altitude to fly to or at: in a climb its level, or where it ends below that; else where the row ends.

    Under IFR height that is lost over the airport is none to fly at: what is kept up to there is told.
    """
    by_ifr = group[-1].log.route.request.rules == "ifr"
    last = next((row for row in reversed(group) if not by_ifr or row.leg.phase is not Phase.LOSING), group[-1])
    leg = last.leg
    if leg.phase is not Phase.CLIMB:
        return height(last, kept_ft(last))
    climbing = takewhile(lambda one: one.phase is Phase.CLIMB, last.log.legs[leg.number - 1 :])
    reached_ft = max((one.end_altitude_ft for one in climbing), default=leg.end_altitude_ft)
    planned_ft = level_altitude_ft(leg.stretch.level, leg.altimeter_hpa)
    return height(last, max(min(planned_ft, reached_ft), leg.end_altitude_ft))


def _minimum(group: Sequence[Row]) -> str:
    """The highest minimum of the row."""
    known = [lowest(row.leg.stretch.limits)[1] for row in group]
    return figures.whole(max((one for one in known if one is not None), default=None))


def _minutes(group: Sequence[Row]) -> str:
    """The minutes of the row as they add: `25`, from 100 on `1:40`."""
    total = figures.total(row.time_min for row in group)
    if total is None:
        return figures.UNKNOWN
    return str(total) if total < 100 else figures.minutes(total)


def _groundspeed(group: Sequence[Row]) -> str:
    """The mean groundspeed on the way of the row."""
    flown = [row.leg for row in group if not row.leg.stays]
    if not flown:
        return figures.NOT_APPLICABLE
    times = [leg.time_min for leg in flown]
    total = sum(time for time in times if time is not None)
    # Way over time: a mean of groundspeeds would give the fast miles too much weight.
    nm = sum(leg.distance_nm for leg in flown)
    if None in times or not total:
        speed = flown[0].groundspeed_kt if len(flown) == 1 else None
        # Without times a single leg's own speed is still true; a mean of several is not.
        return unless_impossible(group[0], figures.whole(speed))
    return unless_impossible(group[0], figures.whole(nm / total * 60.0))


def _fuel(arrived: Row | None, first: Row) -> str:
    """The fuel planned to be left at the row's point, or to be on board at the take-off."""
    if first.log.begun and first.log.conditions.on_board is None:
        return ""
    if arrived is None:
        return first.fuel(on_board_steps(first))
    return arrived.marked("fuel_left", arrived.fuel(arrived.left_steps))
