"""What a pilot does or checks on a leg, in words: the lines under a row of the log."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from navlog.flightlog.changeovers import kind_text
from navlog.flightlog.facts import (
    NO_CHANGEOVER,
    changeover_place,
    course_to_set,
    crossings,
    no_signal,
    other_limits,
    true_alone,
    why_no_guidance,
)
from navlog.flightlog.marks import OtherSetting, SettingKind
from navlog.flightlog.records import Leg, Log, Mark, Phase
from navlog.flightlog.sure import along_track_nm, band
from navlog.nav import figures
from navlog.nav.angles import difference_deg
from navlog.nav.chart import Station
from navlog.nav.guidance import Guidance
from navlog.nav.layout import held
from navlog.printed.level_words import held_height, new_level
from navlog.printed.marks import by_time_alone, in_brackets, radial
from navlog.printed.readings import by_time, dme_at_changeover, dme_reads_nm, minutes_since
from navlog.printed.rows import Row, compass_card, heading, height, marked, no_course, on_board_steps
from navlog.resolve.route import Changeover, MarkKind, PointKind

_NORTHS_APART_DEG = 2.0
"""From here the nil-wind heading stands beside the set course."""
_SMALLEST_TURN_DEG = 3
"""A smaller turn, as printed, is not told: a great circle and a needle bend by as much."""


def remarks(printed: Sequence[Row], index: int) -> tuple[str, ...]:
    """The remarks of one leg of a log, by its place among the printed rows; spaces in them may be held ones."""
    return (
        *_during(printed[index]),
        *_other_receiver(printed, index),
        *_at_end(printed[: index + 1], printed[index + 1] if printed[index + 1 :] else None),
    )


def _during(row: Row) -> Iterator[str]:
    """What holds on the leg itself."""
    leg = row.leg
    guidance = leg.part.guidance
    if leg.stays:
        yield staying(row)
        return
    if guidance is None:
        yield _by_dead_reckoning(row)
    elif no_course(row):
        yield f"beside {guidance.station.ident}: no course to set"
    else:
        yield from _two_norths(row, guidance)
    if true_alone(leg):
        yield true_alone(leg)
    if leg.start_nm == 0.0:
        yield from _without_signal(row)
    extra = other_limits(leg)
    if leg.stretch.limits.minimum_source and leg.start_nm == 0.0:
        extra += (f"minimum by {leg.stretch.limits.minimum_source}",)
    if extra:
        yield ", ".join(extra)
    yield from _terrain(row)
    yield from _sure(row)
    for remark in leg.stretch.remarks if leg.start_nm == 0.0 else ():
        yield f"published: {remark}"
    yield from leg.stretch.notices if leg.start_nm == 0.0 else ()


def guidance_remarks(row: Row) -> Iterator[str]:
    """Of what `remarks` says of a leg: that nothing leads along it, and the notices that change its stretch.

    Every leg has the notices, as what is left of a stretch may begin beyond the leg under which `remarks` has them.
    """
    leg = row.leg
    if leg.part.guidance is None and not leg.stays:
        yield _by_dead_reckoning(row)
    yield from leg.stretch.notices


def _by_dead_reckoning(row: Row) -> str:
    """The heading to hold where nothing leads, for how long, and why."""
    return f"dead reckoning, hold {heading(row)} for {figures.minutes(row.time_min)}: {why_no_guidance(row.leg.part)}"


def _other_receiver(printed: Sequence[Row], index: int) -> Iterator[str]:
    """What the other receiver is set to from this leg on for a fix farther ahead, where it is not tuned next anyway.

    At the fix that ends the leg itself its radial is told there.
    """
    leg = printed[index].leg
    setting = leg.other_setting
    before = printed[index - 1].leg if index > 0 and not printed[index - 1].leg.lands else None
    if setting is None or setting.kind is not SettingKind.CROSS_RADIAL or setting.leg == leg.number:
        return
    if before is None or before.other_setting != setting:
        yield f"other VOR: {other_setting_text(setting)}"


def other_setting_text(setting: OtherSetting) -> str:
    """What the other receiver is set to, and for which place: `QEL 110.20 --.- . .-.., set 058 FROM for WRASS`."""
    return f"{_to_set(setting.guidance)} for {setting.place}"


def _sure(row: Row) -> Iterator[str]:
    """How far off course the guidance lets the aircraft be, where it is widest, and how sure the end's place is.

    `VOR error 4.5 degrees = 1.2 NM either side at 14.8 NM from QHB; MARSH within 0.8 NM along track`.
    """
    leg, accuracy = row.leg, row.log.route.request.accuracy
    wide, along_nm = band(leg, accuracy), along_track_nm(leg) if leg.ends_stretch else None
    told = []
    if wide is not None and leg.part.guidance is not None:
        width, far = figures.distance(wide.half_width_nm), row.away(wide.away_nm)
        station = leg.part.guidance.station.ident
        told.append(f"VOR error {accuracy.along_deg:g} degrees = {width} NM either side at {far} NM from {station}")
    if along_nm is not None:
        told.append(f"{leg.end.name} within {figures.distance(along_nm)} NM along track")
    if told:
        yield "; ".join(told)


def _terrain(row: Row) -> Iterator[str]:
    """The highest place below the leg itself and beside it, and the minimum where its stretch begins.

    `highest 1220 ft, 19.7 NM along, 1.0 left; min by terrain 2300`. The minimum is that of the whole stretch, and says
    so where the leg is only a piece of it; where terrain is missing the highest is the highest known.
    """
    leg, ground = row.leg, row.leg.stretch.ground
    if ground is None or leg.stays:
        return
    found = ground.between(leg.start_nm, leg.end_nm)
    word = "highest" if found is not None and found.minimum_ft is not None else "highest known"
    told = [f"{word} {figures.UNKNOWN}"]
    if found is not None and found.top is not None:
        along_nm = min(max(found.top.along_nm, 0.0), leg.distance_nm)
        along_leg = figures.tenths(row.tenths(leg.start_nm, leg.start_nm + along_nm))
        off_end = f"behind {leg.start.name}" if along_nm < leg.distance_nm / 2.0 else f"beyond {leg.end.name}"
        where = figures.place_text(f"{along_leg} NM along", found.top.aside_nm, found.top.away_nm, off_end)
        told = [f"{word} {figures.whole(found.top.height_ft)} ft, {where}"]
    if leg.start_nm == 0.0:
        way = "" if leg.ends_stretch else f" from {leg.stretch.start.name} to {leg.stretch.end.name}"
        told.append(f"min by terrain{way} {figures.whole(ground.minimum_ft)}")
    yield "; ".join(told)


def _without_signal(row: Row) -> Iterator[str]:
    """What is wrong with the signal, and the heading to hold without one."""
    gap = no_signal(row.leg.stretch)
    if gap is not None:
        yield f"{gap}: without a signal hold {heading(row)}"


def _two_norths(row: Row, guidance: Guidance) -> Iterator[str]:
    """The nil-wind heading where the needle and the compass disagree by 2 degrees or more."""
    compass = nil_wind(row)
    if compass is not None:
        yield f"needle {course_to_set(guidance)}, compass {compass} in no wind"


def nil_wind(row: Row) -> str | None:
    """What the compass reads on the course in no wind, by its card where it has one; `?` where that is silent.

    None where it is within 2 degrees of the set course, or the two norths are not known apart.
    """
    leg, card = row.leg, compass_card(row.log)
    guidance, compass_deg = leg.part.guidance, leg.magnetic_course_deg
    set_deg = guidance.set_course_deg if guidance is not None else None
    if set_deg is None or compass_deg is None or leg.variation_source == "station":
        return None
    if card is not None:
        from navlog.request.aircraft import deviation_deg

        deviation = deviation_deg(card, compass_deg)
        if deviation is None:
            return figures.UNKNOWN
        compass_deg -= deviation
    return figures.course(compass_deg) if abs(difference_deg(set_deg, compass_deg)) >= _NORTHS_APART_DEG else None


def staying(row: Row) -> str:
    """What is done in the time spent at a place: a hold, a climb in one, or height to lose."""
    leg, time = row.leg, figures.minutes(row.time_min)
    if leg.phase is Phase.LOSING:
        lost = figures.whole(leg.start_altitude_ft - leg.end_altitude_ft)
        return f"{lost} ft to lose at {leg.end.name} before the landing, {time}"
    if leg.end_altitude_ft > leg.start_altitude_ft:
        top = height(row, leg.end_altitude_ft)
        return f"climb in the hold at {leg.end.name} to {top} for {time}: ask ATC"
    return f"hold at {leg.end.name} for {time} at {held_height(row)}"


def _at_end(flown_so_far: Sequence[Row], following: Row | None) -> Iterator[str]:
    """What happens at the end of the last leg flown; `following` is the row after it, None at the end."""
    row = flown_so_far[-1]
    leg = row.leg
    if row.clock is None and row.time_min is not None and len(flown_so_far) > 1:
        before = flown_so_far[-2]
        if before.time_min is None:
            yield f"no arrival from here on: the time of leg {before.leg.number} is not known"
    if row.changeover is not None and following is not None:
        yield _changeover(flown_so_far, row.changeover, following)
    yield from changes_within(row)
    between = change_of_level(row)
    if between is not None:
        yield f"{leg.end.kind} {between}"
    if leg.ends_stretch and not leg.stays:
        yield from (_identified(row, mark, following) for mark in leg.told_by)
        if by_time_alone(leg):
            since = minutes_since(flown_so_far)
            yield f"{leg.end.name} by time alone, {since}: no DME and no radial across the way serves it"
        if leg.stretch.limits.mra_end_ft is not None:
            yield f"MRA {figures.whole(leg.stretch.limits.mra_end_ft)} at {leg.end.name} by cross radial"
    if leg.lands:
        yield _landing(row)
    elif leg.ends_stretch and following is not None and not leg.stays:
        yield from crossings(following.leg)
    onward = None if following is None else new_level(row.log, leg, following.leg)
    if onward is not None:
        yield f"from {leg.end.name} on {onward}"
    turn_deg = turn_after(leg, following)
    if turn_deg is not None:
        # Beside the courses the turn is the course's; the steps and the knee page, which fly headings, turn by those.
        yield f"at {leg.end.name} the course turns {figures.turn(turn_deg)}"


def change_of_level(row: Row) -> str | None:
    """How far along its stretch the leg ends where a climb or descent begins or ends between two points."""
    leg = row.leg
    if leg.ends_stretch or leg.end.kind not in (
        PointKind.TOP_OF_CLIMB,
        PointKind.TOP_OF_DESCENT,
        PointKind.LEVEL_CHANGE,
    ):
        return None
    return along(row, leg.end_nm)


def changes_within(row: Row) -> Iterator[str]:
    """The tops of climb and descent within a leg, where level flight too short for a leg is in it."""
    for kind, at_nm in row.leg.changes:
        yield f"{kind.value} {along(row, at_nm)}"


def along(row: Row, at_nm: float) -> str:
    """How far a place on a leg's stretch is from its two ends, as the rows print their distances."""
    stretch = row.leg.stretch
    from_start, to_end = row.along(at_nm), figures.tenths(row.tenths(at_nm, stretch.length_nm))
    return f"{from_start} NM from {stretch.start.name}, {to_end} NM to {stretch.end.name}"


def turn_after(leg: Leg, following: Row | None) -> float | None:
    """The turn at a leg's end that is worth telling, after a hold there; None where there is none.

    There is none before a hold, at a landing and inside a stretch, nor where it is under 3 degrees.
    """
    turn_deg = leg.stretch.turn_deg
    if following is None or following.leg.stays or not leg.ends_stretch or turn_deg is None:
        return None
    return turn_deg if figures.half_up(abs(turn_deg)) >= _SMALLEST_TURN_DEG else None


def heading_turn_deg(before: Row, following: Row) -> int | None:
    """The turn from one printed heading to the next, 180 or less, right positive; 0 where it is under 3 degrees.

    None where either is no figure, out of a hold, and where only one of them is by compass.
    """
    printed = (heading(before), heading(following))
    by_compass = [text[-1] != "M" for text in printed]
    first, second = (text.strip("~M!") for text in printed)
    if before.leg.stays or by_compass[0] != by_compass[1] or not (first.isdigit() and second.isdigit()):
        return None
    turn_deg = figures.half_up(difference_deg(float(second), float(first)))
    return turn_deg if abs(turn_deg) >= _SMALLEST_TURN_DEG else 0


def turn_words(before: Row, following: Row) -> str:
    """The turn between two legs: `turn left 85` by their headings, else `course turns left 75`; empty under 3 degrees.

    A turn of the course is another than that of the headings, which hold the wind.
    """
    turn_deg = heading_turn_deg(before, following)
    if turn_deg is None:
        return f"course turns {figures.turn(before.leg.stretch.turn_deg)}"
    return f"turn {figures.turn(turn_deg)}" if turn_deg else ""


def _changeover(flown_so_far: Sequence[Row], point: Changeover, following: Row) -> str:
    """Where to change stations, to which, and what to set."""
    guidance, place = following.leg.part.guidance, changeover_place(point)
    where = NO_CHANGEOVER if place is None else f"COP {place} ({kind_text(point)})"
    row = flown_so_far[-1]
    dme = dme_at_changeover(row)
    if place is not None and dme is None:
        where += f", {by_time(flown_so_far)}"
    elif place is not None and dme is not None and dme != point.behind:
        where += f", {held(f'{dme.ident} DME reads {figures.distance(dme_reads_nm(row, dme))}')}"
    if guidance is None:
        return f"{where}: no station serves the next part"
    return f"{where}: {_to_set(guidance)}"


def _to_set(guidance: Guidance) -> str:
    """The station to tune and the course to set, neither broken between lines."""
    return f"{held(tuned(guidance.station))}, {held(f'set {course_to_set(guidance)} {guidance.flag.value}')}"


def tuned(station: Station) -> str:
    """A station as it is tuned and identified."""
    from navlog.nav.radio import morse

    return f"{marked(station)} {figures.frequency(station.frequency_mhz)} {morse(station.ident)}"


def _identified(row: Row, mark: Mark, following: Row | None) -> str:
    """How the leg's end is recognised; with one receiver also what to tune and set again to go on."""
    leg = row.leg
    if mark.kind is MarkKind.DME:
        reads, ground = figures.distance(mark.dme_nm), figures.distance(mark.by.away_nm)
        text = f"{leg.end.name}: {mark.station.ident} DME reads {reads} ({ground} NM over the ground)"
        if mark.by.flown:
            return text + in_brackets(mark)
    else:
        crosses = f"R-{radial(mark)} crosses{in_brackets(mark)}"
        text = f"{leg.end.name}: {held(tuned(mark.station))}, {crosses}, set {radial(mark)} FROM"
    onward = following.leg.part.guidance if following is not None and not leg.lands else None
    if onward is None or row.log.route.request.equipment.vor > 1:
        return text
    return f"{text}, then tune {_to_set(onward)}"


def _landing(row: Row) -> str:
    """A landing on the way: how long, and the fuel at the next take-off."""
    leg, stop_min = row.leg, figures.half_up(row.leg.stop_min)
    text = f"land at {leg.end.name}, {figures.minutes(stop_min)} stop"
    if stop_min == 0:
        text += " (no time on the ground is counted)"
    if leg.fuel_taken is None:
        # Taxi fuel is taken off once, at the first start-up.
        return f"{text}, no fuel taken, taxi fuel there not counted"
    steps = figures.down(leg.fuel_taken, row.log.fuel_unit.step)
    return f"{text}, {row.fuel(steps)} {row.log.fuel_unit.name} at take-off, after taxi"


def take_off(row: Row) -> datetime | None:
    """When the flight goes on after the stop at a row's end, by the printed clock."""
    return None if row.clock is None else row.clock + timedelta(minutes=figures.half_up(row.leg.stop_min))


def stop(arriving: Row, leaving: Row, off: str) -> str:
    """What is planned at a landing on the way: how long, when to take off, in the words `off`, and the fuel then."""
    fuel = f"{leaving.fuel(on_board_steps(leaving))} {arriving.log.fuel_unit.name}"
    taxi = "after taxi" if arriving.leg.fuel_taken is not None else "no taxi counted"
    return f"{figures.minutes(figures.half_up(arriving.leg.stop_min))}, {off} with {fuel}, {taxi}"


def dme_channel(station: Station) -> str | None:
    """The DME channel of a station: as stated, else the one paired with its frequency; None without DME."""
    if not station.dme:
        return None
    if station.channel is not None or station.frequency_mhz is None:
        return station.channel
    from navlog.nav.radio import channel_for

    return channel_for(station.frequency_mhz)


def station_variation_deg(log: Log, station: Station) -> float | None:
    """The day's variation at a station; None where it has no position or the log needs no magnetic model."""
    if station.position is None or log.route.magnetic_model is None:
        return None
    from navlog.nav.magnetism import variation_deg

    return variation_deg(station.position, log.conditions.day)


def stations_in_order(log: Log) -> tuple[Station, ...]:
    """The stations tuned on the flight and then on the ways to its alternates, each once, in order of use."""
    found: dict[str, Station] = {}
    for leg in (leg for way in (log, *log.alternates) for leg in way.legs):
        if leg.part.guidance is not None:
            found.setdefault(leg.part.guidance.station.ident, leg.part.guidance.station)
        for mark in leg.told_by:
            found.setdefault(mark.station.ident, mark.station)
    return tuple(found.values())
