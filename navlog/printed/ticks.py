"""What happens on the way without touching a knob, and how the place where a row begins is told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.flightlog.facts import (
    NO_CHANGEOVER,
    across_gap,
    changeover_place,
    crossing_kind,
    gap_minutes,
    lowest,
    no_signal,
    true_alone,
    why_no_guidance,
)
from navlog.flightlog.records import Leg, Mark, Phase
from navlog.nav import figures
from navlog.nav.chart import Station
from navlog.printed.level_words import new_level
from navlog.printed.marks import beside, by_time_alone, radial
from navlog.printed.place_names import SHORT, short_name
from navlog.printed.readings import by_time, dme_at_changeover, dme_reads_nm, minutes_since
from navlog.printed.remarks import along, change_of_level, tuned
from navlog.printed.rows import Row, heading, height, height_words, missed, set_course
from navlog.request.levels import level_altitude_ft
from navlog.resolve.route import MarkKind, PointKind

_MISSES = "misses "
"""Before a limit besides the minimum that a leg's heights miss, so that it is not read as that of the place beside."""
_LIMITS = ("MCA ", "MTA ", "MRA ", "MOCA ", "MAA ", _MISSES)


def ticks(
    group: Sequence[Row], before: Row | None, beyond: Row | None, known: Sequence[str], altitude: str
) -> Iterator[str]:
    """The ticks of a row of legs, in the order in which they come; `known` are stations told beside.

    `before` is the last leg of the row before, `beyond` the first of the next one. `altitude` is what the row prints.
    """
    yield from _begun(group[0], before, altitude)
    tenths, minutes = 0, 0 if group[0].time_min is not None else None
    for row, following in zip(group, (*group[1:], None), strict=True):
        leg = row.leg
        changes = ((kind, tenths + row.tenths(leg.start_nm, at_nm)) for kind, at_nm in leg.changes)
        yield from (f"{SHORT[kind]} {figures.tenths(far)}" for kind, far in changes)
        yield from _terrain(row)
        yield from (f"{_MISSES}{limit}" for limit in (missed(leg) if "altitude" in row.meant else ()))
        tenths += row.distance_tenths
        minutes = None if minutes is None or row.time_min is None else minutes + row.time_min
        if following is None:
            yield from _reached(row, beyond, altitude)
        elif following.leg.phase is Phase.LOSING:
            lost = figures.whole(following.leg.start_altitude_ft - following.leg.end_altitude_ft)
            yield f"{leg.end.name} {_after(minutes)}, {lost} ft to lose"
        else:
            yield _passed(row, following, figures.tenths(tenths), minutes, known)


def stays_on_front(tick: str) -> bool:
    """Whether a tick tells an altitude to be kept or crossed at: a sheet short of room drops any other before it."""
    return tick.startswith(_LIMITS) or " min " in tick


def _begun(row: Row, before: Row | None, altitude: str) -> Iterator[str]:
    """What holds where the row begins: a hold, a level not printed beside, a gap in the signal, dead reckoning."""
    leg = row.leg
    if leg.phase is Phase.HOLD:
        rises = leg.end_altitude_ft > leg.start_altitude_ft
        climb = f" climbing to {height_words(row, leg.end_altitude_ft)}, ask ATC" if rises else ""
        yield f"HOLD {figures.minutes(row.time_min)}{climb}"
        return
    onward = None if before is None else new_level(row.log, before.leg, leg, to_fly=True)
    if onward is not None and onward.removesuffix(" ft") != altitude:
        yield onward
    gap = no_signal(leg.stretch)
    # Told once: on a second row of the stretch it would read as another gap.
    if gap is not None and (before is None or before.leg.stretch is not leg.stretch):
        length = f" {figures.stated_distance(leg.stretch.gap_nm)} NM" if leg.stretch.gap_nm is not None else ""
        word = "GAP" if "gap" in gap else gap.upper()
        across = "" if (minutes := gap_minutes(across_gap(leg, row.log.legs))) is None else f" {minutes} min"
        # Where on the stretch it lies is not stated.
        up_to = "" if leg.ends_stretch else f" up to {leg.stretch.end.name}"
        yield f"{word}{length}{up_to} HDG {heading(row)}{across}"
    if leg.part.guidance is None and leg.phase is not Phase.LOSING:
        known = before is not None and before.leg.part.guidance is None and before.leg.part.reason == leg.part.reason
        yield from ("dead reckoning",) if known else ("dead reckoning", why_no_guidance(leg.part))
    if true_alone(leg):
        yield true_alone(leg)


def _terrain(row: Row) -> Iterator[str]:
    """The highest ground or obstacle beside a stretch that a leg begins, and the minimum computed of it."""
    ground = row.leg.stretch.ground
    if ground is None or ground.top is None or row.leg.start_nm > 0.0:
        return
    known = "" if ground.minimum_ft is not None else "known "
    where = f"{known}{figures.whole(ground.top.height_ft)} ft at {row.along(ground.top.along_nm)} NM"
    yield f"terrain {where}, min by terrain {figures.whole(ground.minimum_ft)}"


def _reached(row: Row, beyond: Row | None, altitude: str) -> Iterator[str]:
    """What is to be reached at the end of the row: the altitude of a crossing, the height of a climb still going on."""
    leg = row.leg
    for one in beyond.leg.stretch.limits.crossings_start if beyond is not None and beyond.leg.start_nm == 0.0 else ():
        yield f"{crossing_kind(one)} {short_name(leg.end)} {figures.whole(one.altitude_ft)}"
    if leg.phase is Phase.CLIMB and leg.end_altitude_ft != level_altitude_ft(leg.stretch.level, leg.altimeter_hpa):
        onward = "" if beyond is None else _next_level(leg, beyond, altitude)
        yield f"{short_name(leg.end)} at {height_words(row, leg.end_altitude_ft)}{onward}"


def _next_level(leg: Leg, beyond: Row, altitude: str) -> str:
    """The level to which a climb goes on beyond a leg's end, where that is neither the leg's own nor printed beside."""
    level = beyond.leg.stretch.level
    level_ft = level_altitude_ft(level, beyond.leg.altimeter_hpa)
    if level == leg.stretch.level or height(beyond, level_ft) == altitude:
        return ""
    return f", then to {height_words(beyond, level_ft)}"


def _passed(row: Row, following: Row, nm: str, minutes: int | None, known: Sequence[str]) -> str:
    """A place that is passed: how it is told, minutes after the row's point, and what is new there."""
    leg = row.leg
    phrases = [short_name(leg.end)]
    if not leg.ends_stretch:
        speed = figures.whole(following.leg.groundspeed_kt)
        phrases += [nm, _after(minutes), f"GS {speed}"]
    else:
        mark = _best(row)
        phrases += [nm if mark is None else _mark_words(mark, known), _after(minutes)]
    before, ahead = (lowest(one.leg.stretch.limits)[1] for one in (row, following))
    if before != ahead:
        phrases.append(f"min {figures.whole(ahead)}")
    onward = new_level(row.log, leg, following.leg, to_fly=True)
    if onward is not None:
        phrases.append(onward)
    return " ".join(phrases)


def _after(minutes: int | None) -> str:
    """Minutes after the row's point: `+7`, from an hour on `+1:24`."""
    if minutes is None or minutes < 60:
        return f"+{figures.UNKNOWN if minutes is None else minutes}"
    return f"+{figures.minutes(minutes)}"


def _best(row: Row) -> Mark | None:
    """What tells a fix without touching the needle flown: the DME flown, else the second receiver; None by time."""
    marks = row.leg.told_by
    flown = next((mark for mark in marks if mark.kind is MarkKind.DME and mark.by.flown), None)
    if flown is not None or row.log.route.request.equipment.vor == 1:
        return flown
    return next(iter(marks), None)


def _mark_words(mark: Mark, known: Sequence[str]) -> str:
    """A DME _reading or a cross radial; a station that does not stand beside is told with frequency and Morse."""
    station = "" if mark.by.flown else f"{mark.station.ident if mark.station.ident in known else tuned(mark.station)} "
    reads = f"{figures.distance(mark.dme_nm)} DME" if mark.kind is MarkKind.DME else f"R-{radial(mark)}"
    doubts = "; ".join(beside(mark))
    return f"{station}{reads}{f' ({doubts})' if doubts else ''}"


def told_at(flown: Sequence[Row], following: Row | None, known: Sequence[str]) -> Iterator[str]:
    """How the place is told at which the legs flown so far end, and the row of `following` begins."""
    row = flown[-1]
    leg = row.leg
    if leg.stays or leg.lands or (leg.end.kind == PointKind.STATION and leg.stretch.candidates is None):
        return
    words = tuple(_told(flown, following, known))
    if not words and by_time_alone(leg):
        words = (f"by time alone, {minutes_since(flown)}",)
    # Elsewhere the place has no other name than that.
    changes = "COP " if leg.changeover is not None and leg.ends_stretch else ""
    if words:
        yield f"{changes}at: {words[0]}"
        yield from (f"or {word}" for word in words[1:])
    if leg.ends_stretch and leg.stretch.limits.mra_end_ft is not None:
        yield f"MRA {figures.whole(leg.stretch.limits.mra_end_ft)}"


def _told(flown: Sequence[Row], following: Row | None, known: Sequence[str]) -> Iterator[str]:
    row = flown[-1]
    leg = row.leg
    if leg.ends_stretch:
        flown_first = sorted(leg.told_by, key=lambda mark: not mark.by.flown)
        yield from (_with_setting(row, mark, following, known) for mark in flown_first)
        if leg.told_by:
            return
    if row.changeover is not None:
        place = changeover_place(row.changeover)
        dme = dme_at_changeover(row)
        reads = None if dme is None else _reading(row, dme)
        where = NO_CHANGEOVER if place is None else reads or place
        yield where if dme is not None else f"{where}, {by_time(flown)}"
    elif not leg.ends_stretch:
        guidance = leg.part.guidance
        reads = None if guidance is None else _reading(row, guidance.station)
        yield reads or f"{change_of_level(row) or along(row, leg.end_nm)}, {minutes_since(flown)}"


def _with_setting(row: Row, mark: Mark, following: Row | None, known: Sequence[str]) -> str:
    """A mark; with one receiver what is set for it, and what is tuned and set again to go on."""
    words = _mark_words(mark, known)
    if mark.by.flown:
        return f"{mark.station.ident} {words}"
    if row.log.route.request.equipment.vor > 1:
        return words
    onward = None if following is None else following.leg.part.guidance
    told = f"{tuned(mark.station)} set {radial(mark)} FROM" if mark.kind is MarkKind.RADIAL else words
    return (
        told
        if onward is None or following is None
        else f"{told}, then {tuned(onward.station)} set {set_course(following)}"
    )


def _reading(row: Row, station: Station) -> str | None:
    """What the DME of a station reads at a leg's end: `IOW 53.6 DME`; None where there is none or it is not known."""
    reads_nm = dme_reads_nm(row, station)
    return None if reads_nm is None else f"{station.ident} {figures.distance(reads_nm)} DME"
