"""The flight as a numbered list in words: each thing to do, place by place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from navlog.computations.intercept import LARGEST_ANGLE_DEG
from navlog.flightlog.changeovers import NOT_IN_SOURCE
from navlog.flightlog.facts import changeover_place, crossings, no_signal, true_alone, why_no_guidance
from navlog.flightlog.records import Leg, Log, Mark, Phase
from navlog.nav import figures
from navlog.nav.chart import Station
from navlog.nav.guidance import Flag, Guidance
from navlog.nav.layout import WIDTH, wrapped
from navlog.printed.clocks import clock_text
from navlog.printed.closing import sections
from navlog.printed.findings import findings_summary
from navlog.printed.head import route_text
from navlog.printed.level_words import held_height, new_level
from navlog.printed.marks import by_time_alone, in_brackets, radial
from navlog.printed.meant import NOTHING, Meant, meant
from navlog.printed.place_names import place_name
from navlog.printed.readings import (
    by_time,
    dme_at_changeover,
    dme_reads_nm,
    height_above_station_ft,
    minutes_since,
    tuned_away,
)
from navlog.printed.remarks import changes_within, heading_turn_deg, staying, stop, take_off, turn_after, turn_words
from navlog.printed.rows import BY_KEY, Row, by_north, heading, height, kept_ft, marked, minimum, rows
from navlog.resolve.route import MarkKind, PointKind
from navlog.rules.report import Report
from navlog.sheets.pages import Page

ALWAYS = (
    f"Off the radial: intercept it at {LARGEST_ANGLE_DEG:g} degrees at most, by the headings told with its setting."
    " Inbound the angle must be wider than you are off in degrees, or the station is passed before the radial is met.",
    "Over a station the needle wanders and the flag flips from TO to FROM: hold the heading. It does so within the"
    " distance told (ICAO Doc 8168 Vol I, I-2-2, 2.4.4.1: height above the station x tan 50 degrees).",
)
"""What holds at every station, told once."""


def document(reports: Sequence[Report], page: Page) -> str:
    """The steps of several flights."""
    del page
    return ("\n" + "=" * WIDTH + "\n\n").join("\n".join(_sheet(report)) + "\n" for report in reports)


def _sheet(report: Report) -> Iterator[str]:
    """The steps of one flight with everything that a sheet says of its origin."""
    log = report.log
    yield from wrapped(f"STEPS - {log.route.request.name}", WIDTH)
    yield from wrapped(f"Route {route_text(log)}", WIDTH, "  ")
    yield f"FINDINGS: {findings_summary(report.findings, every=report.every)}"
    yield ""
    yield from _boxed(ALWAYS)
    number = 0
    for place, told in steps(log, meant(report)):
        yield ""
        yield from wrapped(place, WIDTH)
        for step in told:
            number += 1
            yield from wrapped(f"{number:>3}. {step}", WIDTH, "     ")
    for section in sections(report):
        yield ""
        yield from wrapped(section.title, WIDTH)
        for line in section.lines:
            yield from (f"  {part}" for part in wrapped(line, WIDTH - 2, "  "))


def _boxed(paragraphs: Sequence[str]) -> Iterator[str]:
    """Paragraphs in a frame as wide as the page."""
    frame = f"+{'-' * (WIDTH - 2)}+"
    yield frame
    yield from (f"| {line:<{WIDTH - 4}} |" for text in paragraphs for line in wrapped(text, WIDTH - 4))
    yield frame


def steps(log: Log, means: Meant = NOTHING) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Each place of the flight with what is done there, in order."""
    printed = rows(log, means)
    start = printed[0].leg.start
    yield (
        _titled(start.name, figures.zulu(log.conditions.off, log.conditions.day), "take off"),
        tuple(_leave(printed, 0)),
    )
    for index, row in enumerate(printed, 1):
        onward = tuple(_leave(printed, index)) if index < len(printed) else ()
        place, clock = place_name(row.leg.end), figures.zulu(row.clock, log.conditions.day)
        if index < len(printed) and row.leg.lands:
            off = clock_text(take_off(row), log.conditions.zone, log.conditions.day)
            stays = f"Stop {stop(row, printed[index], f'take off {off}')}."
            yield _titled(place, clock, "land"), (*_arrive(printed[:index]), stays)
            yield _titled(place, figures.zulu(take_off(row), log.conditions.day), "take off"), onward
        else:
            ahead = printed[index] if index < len(printed) else None
            yield _titled(place, clock, ""), (*_arrive(printed[:index], ahead), *onward)


def _titled(place: str, clock: str, what: str) -> str:
    """The heading of a place."""
    return ", ".join(part for part in (place, what, "" if clock == figures.UNKNOWN else clock) if part)


def _arrive(flown: tuple[Row, ...], ahead: Row | None = None) -> Iterator[str]:
    """How a place is known, and what is done on reaching it; what is tuned there to go on is told with that alone."""
    row = flown[-1]
    leg = row.leg
    if leg.changeover is not None and not leg.stays:
        yield _change_over(flown)
    if leg.ends_stretch and not leg.stays:
        yield from (_cross_check(row, mark) for mark in leg.told_by if not _told_anyway(row, mark, ahead))
        if by_time_alone(leg):
            yield f"Find it by time alone: expect it {minutes_since(flown)}."
        elif leg.marks and (leg.changeover is None or changeover_place(leg.changeover) is None):
            yield f"Expect it {minutes_since(flown)}."
        height_ft = height_above_station_ft(row)
        if height_ft is not None and _arrives_over(leg):
            yield _over_station(leg, height_ft)
    if leg.lands or leg is row.log.legs[-1]:
        left = f"{row.fuel(row.left_steps)} {row.log.fuel_unit.name}"
        ends = "Land." if leg.lands or leg.end.kind == PointKind.AIRPORT else "The flight ends here."
        yield f"{ends} Fuel left as planned {left}, at least {row.fuel(row.least_steps)}."


def _told_anyway(row: Row, mark: Mark, ahead: Row | None) -> bool:
    """Whether a mark is the changeover's own reading, or what another receiver is set to there to go on."""
    if mark.kind is MarkKind.DME:
        reading = dme_reads_nm(row, mark.station) if mark.station == dme_at_changeover(row) else None
        return reading is not None and figures.distance(reading) == figures.distance(mark.dme_nm)
    onward = None if ahead is None else ahead.leg.part.guidance
    if onward is None or ahead is None or row.log.route.request.equipment.vor < 2:
        return False
    setting = f"{radial(mark)} {Flag.FROM.value}"
    return onward.station == mark.station and BY_KEY["set_course"].plain(ahead) == setting


def _change_over(flown: tuple[Row, ...]) -> str:
    """Where the changeover point is."""
    row = flown[-1]
    changeover = row.changeover
    assert changeover is not None
    place = changeover_place(changeover)
    if place is None:
        return "The changeover point is not known; change when the station ahead comes in."
    told_by = dme_at_changeover(row)
    reading = None if told_by is None else dme_reads_nm(row, told_by)
    dme = "" if told_by is None or reading is None else f" ({told_by.ident} DME reads {figures.distance(reading)})"
    silent = f", {NOT_IN_SOURCE}" if changeover.not_in_source else ""
    return f"Change over here: {place}{dme}, {by_time(flown)}; {changeover.kind.value} changeover point{silent}."


def _cross_check(row: Row, mark: Mark) -> str:
    """How a fix is told by another station or by DME."""
    name, vor = row.leg.end.name, row.log.route.request.equipment.vor
    if mark.kind is MarkKind.DME and mark.by.flown:
        return f"At {name} {mark.station.ident} DME reads {figures.distance(mark.dme_nm)}{in_brackets(mark)}."
    receiver = "On the other receiver tune" if vor > 1 else "Before it tune"
    if mark.kind is MarkKind.DME:
        reads = figures.distance(mark.dme_nm)
        return f"{receiver} {_bracketed(mark.station)}: at {name} its DME reads {reads}{in_brackets(mark)}."
    return (
        f"{receiver} {_bracketed(mark.station)} and set {radial(mark)} FROM:"
        f" at {name} the needle centres{in_brackets(mark)}."
    )


def _bracketed(station: Station) -> str:
    """A station with its frequency and its Morse in brackets, so that no full stop reads as a dot."""
    from navlog.nav.radio import morse

    return f"{marked(station)} {figures.frequency(station.frequency_mhz)} [{morse(station.ident)}]"


def _arrives_over(leg: Leg) -> bool:
    """Whether the leg ends over the station that guides it."""
    guidance, station = leg.part.guidance, leg.end.point.station if leg.end.point is not None else None
    return guidance is not None and station is not None and guidance.station.ident == station.ident


def _over_station(leg: Leg, height_ft: float) -> str:
    """How near the station the needle wanders."""
    from navlog.nav.radio import cone_radius_nm

    radius, above = figures.distance(cone_radius_nm(height_ft)), figures.whole(max(height_ft, 0.0))
    return f"Over {leg.end.name} hold the heading within {radius} NM ({above} ft above the station)."


def _leave(printed: tuple[Row, ...], index: int) -> Iterator[str]:
    """What is tuned, set and flown from a place on."""
    row, before = printed[index], printed[index - 1] if index else None
    leg = row.leg
    if leg.stays:
        text = staying(row)
        level = leg.start_altitude_ft == leg.end_altitude_ft
        yield (
            f"Hold for {figures.minutes(row.time_min)} at {held_height(row)}."
            if level
            else f"{text[0].upper()}{text[1:]}."
        )
        return
    if before is not None and turn_after(before.leg, row) is not None:
        yield _turned(before, row)
    if leg.part.guidance is None:
        yield f"Dead reckoning by heading and time: {why_no_guidance(leg.part)}."
    else:
        yield from _tune_and_set(row, before, leg.part.guidance)
    gap = no_signal(leg.stretch)
    if gap is not None and leg.start_nm == 0.0:
        yield f"{gap[0].upper()}{gap[1:]} on this way: without a signal hold heading {heading(row)}."
    if true_alone(leg):
        yield f"{true_alone(leg)}."
    onward = None if before is None else new_level(row.log, before.leg, leg, to_fly=True)
    if onward is not None:
        yield f"From here the plan is {onward}."
    yield _flown_step(row)
    yield from (f"{text[0].upper()}{text[1:]}." for text in changes_within(row))
    if index + 1 < len(printed):
        yield from (f"{one[0].upper()}{one[1:]}." for one in crossings(printed[index + 1].leg))


def _turned(before: Row, row: Row) -> str:
    """The turn from heading to heading; where either is not known, that of the course under its name."""
    turn_deg, words = heading_turn_deg(before, row), turn_words(before, row)
    if turn_deg is None:
        return f"Note the time. The {words} degrees: fly heading {heading(row)}."
    if not words:
        return f"Note the time. Fly heading {heading(row)}."
    return f"Note the time. {words[0].upper()}{words[1:]} degrees to heading {heading(row)}."


def _tune_and_set(row: Row, before: Row | None, guidance: Guidance) -> Iterator[str]:
    """Tuning and identifying, the course to set and the flag to expect, and how the radial is met."""
    station = guidance.station
    known = before.leg.part.guidance if before is not None and not before.leg.lands else None
    same = known is not None and known.station == station
    if not same or (before is not None and tuned_away(before)):
        yield f"Tune and identify {row.marked('station', _bracketed(station))}."
    if known == guidance and before is not None and not tuned_away(before):
        return
    course = BY_KEY["set_course"].plain(row)
    if course == figures.NOT_APPLICABLE:
        yield f"Beside {station.ident} there is no course to set."
        return
    number, _, flag = course.partition(" ")
    yield f"Set {row.marked('set_course', number)} on the course selector and expect {flag}."
    if guidance.radial.flown is not None and known != guidance and not row.leg.start_nm:
        yield from _meet_radial(row)


def _meet_radial(row: Row) -> Iterator[str]:
    """The steepest headings back to the radial."""
    course_deg = row.leg.magnetic_course_deg
    if course_deg is not None:
        right, left = (by_north(row, figures.course(course_deg + side * LARGEST_ANGLE_DEG)) for side in (1, -1))
        yield f"Off the radial: heading {right} with the needle right, {left} with it left."


def _flown_step(row: Row) -> str:
    """The leg itself: phase, heading, time, distance and height."""
    leg = row.leg
    reached = height(row, kept_ft(row))
    end = row.marked("altitude", reached) + (" ft" if reached.isdecimal() else "")
    down = "from" if kept_ft(row) == leg.start_altitude_ft else "to"
    verb = {Phase.CLIMB: f"Climb to {end}", Phase.DESCENT: f"Descend {down} {end}"}.get(leg.phase, f"Fly at {end}")
    bound = f" ({minimum(row)})"
    if leg.phase is Phase.DESCENT and leg.ends_stretch and leg.end.kind == PointKind.AIRPORT:
        # Behind the height of the airport a minimum would read as an order to go below it.
        bound = f" for {leg.end.name}"
    figure = {key: BY_KEY[key].figure(row) for key in ("time", "distance", "groundspeed")}
    steered = row.marked("heading", heading(row))
    return (
        f"{verb}{bound} on heading {steered} for {figure['time']} to {place_name(leg.end)},"
        f" {figure['distance']} NM at {figure['groundspeed']} kt over the ground."
    )
