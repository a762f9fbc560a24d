"""A flight re-figured in the air: what was flown, the wind found, what lies ahead and whether the reserve holds."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from navlog.flightlog.counted import count_of, leaving
from navlog.flightlog.records import Leg, Log
from navlog.nav import figures
from navlog.nav.layout import WIDTH, broken_before, wrapped
from navlog.nav.wind import Wind
from navlog.printed.cautions import CAUTIONS
from navlog.printed.findings import legs_text
from navlog.printed.remarks import guidance_remarks
from navlog.printed.rows import BY_KEY, Row, point_name, rows
from navlog.studies.revision import (
    PartFlown,
    Revision,
    WindFound,
    alternate_closed_by,
    alternates_of,
    reserve_holds_at,
)
from navlog.studies.revision_field_text import fields_text
from navlog.studies.revision_fuel import Reading
from navlog.studies.revision_notices import change_words
from navlog.studies.revision_words import clock_of, closed_text, fuel_text

_COLUMNS = (
    ("number", 2),
    ("from", 10),
    ("to", 10),
    ("station", 10),
    ("set_course", 9),
    ("heading", 4),
    ("time", 5),
    ("eta", 8),
    ("fuel_left", 5),
)
"""The columns of a leg ahead with their widths; the planned arrival stands behind them."""

_RIGHT = ("number", "heading", "time", "fuel_left")


def revision_text(revision: Revision) -> str:
    """The revision as printed."""
    log = revision.planned
    lines = [f"REVISED - {log.route.request.name}", *wrapped(_situation(revision), WIDTH, "  ")]
    lines += [line for text in warnings_of(revision) for line in wrapped(f"WARNING: {text}", WIDTH, "  ")]
    lines += ["", "FLOWN"]
    for part in revision.parts:
        lines += wrapped(f"  {_flown(part, _printed_minutes(log, part))}", WIDTH, "    ")
    lines += ["", "WIND", *wrapped(f"  {_wind_text(revision)}", WIDTH, "    ")]
    if revision.noticed:
        lines += ["", "NOTICES by the clock as it runs"]
        lines += [line for one in revision.noticed for line in wrapped(f"  {change_words(one)}", WIDTH, "    ")]
    if revision.rest is not None:
        lines += ["", *_ahead(revision, revision.rest)]
    lines += ["", "FUEL", *(line for text in _fuel_lines(revision) for line in wrapped(f"  {text}", WIDTH, "    "))]
    if revision.reserve_holds is False and revision.worst is not None:
        lines += ["", *fields_text(revision, revision.worst)]
    lines += ["", *wrapped(CAUTIONS, WIDTH)]
    return "\n".join(lines) + "\n"


def _situation(revision: Revision) -> str:
    """Where the aeroplane is, when, and with how much fuel."""
    passed, steps = revision.passed, _on_board_steps(revision)
    how = _how_known(revision)
    if steps is None:
        board = "fuel on board not known"
    elif steps < 0:
        board = f"no fuel left {how}, {_steps_text(revision.planned, -steps)} short"
    else:
        board = f"{_steps_text(revision.planned, steps)} on board {how}"
    planned = clock_of(revision.planned, _printed_clock(revision.planned, passed.leg.number))
    name = point_name(passed.leg.end.kind, passed.leg.end.name)
    clock, late = clock_of(revision.planned, passed.moment), _late_text(revision)
    return f"{name} at {clock}, {planned} planned{late}; {board}{_against_plan(revision)}"


def _how_known(revision: Revision) -> str:
    """How the fuel on board is known, and whether before or after the tanks are filled."""
    how = "by the planned burn" if revision.reading is None else "as read"
    if revision.after_refuelling is None:
        return how
    return f"{how} {'after refuelling' if revision.after_refuelling else 'on landing'}"


def _on_board_steps(revision: Revision) -> int | None:
    """The fuel on board as printed; by the planned burn what the sheet's own sum leaves."""
    fuel, filled, step = revision.fuel, revision.plan.filled, revision.planned.fuel_unit.step
    if fuel is None or revision.reading is not None or filled is None:
        return None if fuel is None else figures.down(fuel, step)
    return figures.down(filled, step) - figures.up(filled - fuel, step)


def _late_text(revision: Revision) -> str:
    """How far the clock is from the sheet's, in words; nothing where they agree or the plan has none."""
    planned = _printed_clock(revision.planned, revision.passed.leg.number)
    if planned is None:
        return ""
    late_min = figures.half_up(abs(apart := (revision.passed.moment - planned).total_seconds() / 60.0))
    return f" ({late_min} min {'late' if apart > 0.0 else 'early'})" if late_min else ""


def _against_plan(revision: Revision) -> str:
    """How far a reading is from the plan there, and the burn since the reading before, which is the take-off's.

    By the figures that the sheet prints: fuel on board is rounded down, and what is used is between two of those.
    """
    log, leg, reading, plan = revision.planned, revision.passed.leg, revision.reading, revision.plan
    if reading is None:
        return ""
    step, unit = log.fuel_unit.step, log.fuel_unit.name
    planned = figures.down(plan.taken, step) if reading.refuelled and plan.taken else count_of(log, leg).left_steps
    if planned is None:
        return ""
    read = figures.down(reading.fuel, step)
    over = figures.fuel(abs(read - planned), step)
    text = f", {over} {unit} {'over' if read > planned else 'under'} the plan" if read != planned else ", as planned"
    if plan.filled is None or reading.refuelled:
        return text
    filled = figures.down(plan.filled, step)
    told = f"; {figures.fuel(filled - read, step)} {unit} used since {plan.since}"
    if reading.read_per_h is not None:
        told += f", {reading.read_per_h:.1f} {unit}/h"
    return f"{text}{told} ({figures.fuel(filled - planned, step)} {unit} planned)"


def warnings_of(revision: Revision) -> Iterator[str]:
    """What is odd in the readings."""
    yield from (part.passed.taken for part in revision.parts if part.passed.taken is not None)
    reading = revision.reading
    if reading is not None and reading.far is not None:
        log, name = revision.planned, revision.passed.name
        read, planned = fuel_text(log, reading.fuel), fuel_text(log, reading.fuel - reading.far)
        by = f"{planned} are planned after refuelling"
        if not reading.refuelled:
            by = f"the planned burn leaves {planned} by then"
        yield f"{read} read at {name}, where {by}: {_why_far(revision, reading)}"
    if revision.beyond is not None:
        yield f"{revision.beyond}, where the wind found takes the way ahead: its nearest row is counted there"
    yield from _doubtful_speeds(revision)
    if revision.wind is not None:
        yield from _doubts_of(revision.wind, revision)


def _why_far(revision: Revision, reading: Reading) -> str:
    """What a reading far from the plan may mean."""
    if reading.far is None or reading.far > 0.0:
        return "check the reading"
    if reading.refuelled:
        return "less was taken on, or the reading is wrong; the table ahead counts the reading"
    ahead = "" if revision.rest is None else "; the table ahead counts the planned burn"
    return f"the burn is more than planned, the mixture is rich, fuel is leaking, or the reading is wrong{ahead}"


def _doubtful_speeds(revision: Revision) -> Iterator[str]:
    """Parts flown in a time that no forecast so wrong would make."""
    for part in revision.parts:
        # The wind made of such a part is doubted by its own.
        told = part.headwind_kt is not None and revision.wind is not None and revision.wind.doubtful
        if part.doubtful_kt is None or told:
            continue
        kt, planned_kt = figures.whole(part.doubtful_kt), figures.whole(part.planned_kt)
        bound = "at least" if part.doubtful_kt > (part.planned_kt or 0.0) else "at most"
        yield (
            f"{bound} {kt} kt were made good to {part.passed.name}, where {planned_kt} are planned:"
            " check the clock, the take-off time and the points passed"
        )


def _doubts_of(wind: WindFound, revision: Revision) -> Iterator[str]:
    """What speaks against the wind found, or against using it ahead."""
    if wind.doubtful:
        change = f"{figures.whole(wind.more.speed_kt)} kt"
        told = f"{change} from the forecast" if wind.forecast is not None else change
        yield f"the wind is {told}: check the clock, the take-off time and the points passed"
    if wind.contradicted is not None:
        other = f"{wind.contradicted.method} tells {_blowing(wind.contradicted.wind)}"
        yield f"{other}, and groundspeeds after it another wind: it is not used; check the heading and the times"
    legs = () if revision.rest is None else revision.rest.legs
    guessed = [leg for leg in legs if leg.true_course_deg is not None and wind.is_guess_on(leg.true_course_deg)]
    if guessed:
        numbers = legs_text([leg.number for leg in guessed])
        guess = "the time of {} is a guess" if wind.headwind_alone else "heading and time of {} are a guess"
        yield f"the wind across the course flown is not known: {guess.format(numbers)}"


def _printed_clock(log: Log, leg: int) -> datetime | None:
    """When the plan's sheet has the end of a leg."""
    return rows(log)[leg - 1].clock


def _printed_minutes(log: Log, part: PartFlown) -> int | None:
    """The minutes that the plan's sheet has for a part."""
    times = [rows(log)[leg.number - 1].time_min for leg in part.legs]
    return None if None in times else sum(time for time in times if time is not None)


def _flown(part: PartFlown, minutes: int | None) -> str:
    """One part flown: distance, time against the plan, groundspeed, and the headwind part against the forecast."""
    leg = part.passed.leg
    ends = f"{point_name(part.start.kind, part.start.name)} to {point_name(leg.end.kind, leg.end.name)}"
    stop = f" and {figures.half_up(part.stop_min)} on the ground" if part.stop_min else ""
    planned = f" ({minutes} planned{stop})" if minutes is not None else ""
    text = f"{ends}: {figures.distance(part.distance_nm)} NM in {part.time_min:g} min{planned}"
    if part.groundspeed_kt is not None and part.error_kt is not None:
        was = f" ({figures.whole(part.planned_kt)} planned)" if part.planned_kt is not None else ""
        text += f", groundspeed {figures.whole(part.groundspeed_kt)} kt{was}"
        text += f", {figures.whole(part.error_kt)} kt for half a minute"
    if part.headwind_kt is not None:
        forecast = f" (forecast {_head(part.forecast_kt or 0.0)})" if part.forecast_given else ""
        return f"{text}; {_head(part.headwind_kt)}{forecast}"
    return f"{text}; no wind from it, {part.reason}"


def _head(headwind_kt: float) -> str:
    """A headwind, or a tailwind where it is negative."""
    return f"{'headwind' if headwind_kt >= 0.0 else 'tailwind'} {figures.whole(abs(headwind_kt))} kt"


def _wind_text(revision: Revision) -> str:
    """The wind found and what is done with it."""
    wind = revision.wind
    if wind is None:
        given = revision.planned.conditions.winds is not None
        ahead = "the forecast holds ahead" if given else "none is given, and none is known ahead"
        return f"no part flown tells a wind: {ahead}"
    if wind.forecast is None:
        return _without_forecast(wind, revision)
    if not wind.more.speed_kt:
        told = "no different from the forecast, which holds ahead unchanged"
        return f"{_blowing(wind.forecast)}, {told}, by {wind.method}"
    part = "" if wind.whole else ", headwind part alone"
    return (
        f"{_blowing(wind.wind)} (forecast {_blowing(wind.forecast)}{part}), by {wind.method}."
        f" Ahead every forecast wind is changed by the difference, {_blowing(wind.more)}, as a vector."
    )


def _without_forecast(wind: WindFound, revision: Revision) -> str:
    """The wind found where none is forecast: a headwind part alone has no direction, and no heading comes of it."""
    if wind.whole:
        return f"{_blowing(wind.wind)}, by {wind.method}; no forecast is given, and ahead it holds everywhere"
    part = next(one for one in reversed(revision.parts) if one.headwind_kt is not None)
    assert part.mean is not None
    assert part.headwind_kt is not None
    return (
        f"{_head(part.headwind_kt)} on {figures.course(part.mean.true_course_deg)}T, by {wind.method}, and no forecast"
        " is given. Ahead times are with that headwind alone, and headings are not known."
    )


def _blowing(wind: Wind) -> str:
    """A wind from true north."""
    if figures.half_up(wind.speed_kt) == 0:
        return "calm"
    return f"{figures.course(wind.from_true_deg)}T/{figures.whole(wind.speed_kt)}"


def _ahead(revision: Revision, rest: Log) -> Iterator[str]:
    """The legs ahead, with the planned arrival behind each; under each what changes or takes its guidance."""
    heads = [_cell(BY_KEY[key].heading, key, width) for key, width in _COLUMNS]
    yield " ".join([*heads, "Planned"]).rstrip()
    yield "-" * WIDTH
    for row in rows(rest):
        planned = revision.planned_leg(row.leg)
        was = (
            figures.NOT_APPLICABLE
            if planned is None
            else clock_of(revision.planned, _printed_clock(revision.planned, planned.number))
        )
        cells = {key: BY_KEY[key].figure(row) for key, _ in _COLUMNS}
        if row.left_steps is not None and row.left_steps < 0:
            cells["fuel_left"] = "none"
        if any(len(cells[key]) > width for key, width in _COLUMNS):
            yield from wrapped(f"{cells['number']:>2} {cells['from']} to {cells['to']}", WIDTH, "   ")
            cells |= {"number": "", "from": "", "to": ""}
        line = " ".join([*(_cell(cells[key], key, width) for key, width in _COLUMNS), was]).rstrip()
        yield from [line] if len(line) <= WIDTH else broken_before(line, WIDTH)
        for remark in guidance_remarks(row):
            yield from wrapped(remark, WIDTH, "     ", first="   > ")


def _cell(text: str, key: str, width: int) -> str:
    """A cell of the table."""
    return text.rjust(width) if key in _RIGHT else text.ljust(width)


def _fuel_lines(revision: Revision) -> Iterator[str]:
    """What is left at the destination and at alternates, and whether the reserve holds; at the measured burn first."""
    measured = revision.measured
    if measured is not None:
        assert revision.reading is not None
        per_h = revision.reading.read_per_h
        rate = "" if per_h is None else f", {per_h:.1f} {revision.planned.fuel_unit.name}/h so far"
        yield f"by the readings {measured.times:.1f} times the planned burn{rate}; should that go on:"
        yield from _fuel_ahead(revision, measured.rest, measured.reserve_holds, measured.lost_at)
        yield from _alternate_lines(revision, measured.rest)
        yield "at the planned burn from now on:"
    if revision.unfilled is not None:
        yield f"with the {fuel_text(revision.planned, revision.plan.taken)} planned after refuelling:"
    yield from _fuel_ahead(revision, revision.rest, revision.holds_by_plan, revision.lost_at)
    yield from _alternate_lines(revision, revision.rest)
    if revision.unfilled is not None:
        read = fuel_text(revision.planned, revision.fuel)
        yield f"should the {read} read be all that is on board after refuelling:"
        other = revision.unfilled
        yield from _fuel_ahead(revision, other.rest, other.reserve_holds, other.lost_at)


def _fuel_ahead(revision: Revision, rest: Log | None, holds: bool | None, lost: Leg | None) -> Iterator[str]:
    """What is left at the end of what lies ahead, and whether the reserve holds up to there."""
    log = rest or revision.planned
    if rest is not None:
        last: Row = rows(rest)[-1]
        yield f"at {last.leg.end.name}, {figures.zulu(last.clock, log.conditions.day)}: {_left_text(last)}"
    kept = log.fuel
    if kept.reserve is None or holds is None:
        yield "whether the reserve holds is not known"
        return
    needed = f"{_needed_text(log, kept.reserve)} ({figures.whole(kept.reserve_min)} min, {kept.reserve_rule})"
    if kept.alternate:
        needed += f" and {_needed_text(log, kept.alternate)} for the alternate"
    if lost is None:
        yield f"the reserve of {needed} holds"
        return
    if lost.triangle is not None and lost.triangle.unflyable is not None:
        yield f"THE FLIGHT CANNOT GO ON AS PLANNED: {lost.triangle.unflyable}"
        return
    dry = next((leg for leg in log.legs if leg.fuel_remaining is not None and leg.fuel_remaining < 0.0), None)
    if revision.fuel is not None and revision.fuel < 0.0:
        yield f"THE FUEL HAS RUN OUT before {revision.passed.leg.end.name} by the planned burn"
    elif rest is not None and dry is not None:
        yield f"THE FUEL RUNS OUT before {dry.end.name}"
    steps = rows(rest)[lost.number - rest.legs[0].number].left_steps if rest else _on_board_steps(revision)
    there = "none" if steps is None or steps < 0 else _steps_text(log, steps)
    yield f"THE RESERVE IS LOST: {there} left at {lost.end.name}, and the reserve is {needed}"


_STATE = {None: "whether the reserve holds is not known", True: "the reserve holds", False: "THE RESERVE IS LOST"}


def _alternate_lines(revision: Revision, rest: Log | None) -> Iterator[str]:
    """Each alternate that can still be flown to: when the way there begins, the arrival, whether the reserve holds.

    One that a notice closes by then is told so.
    """
    for way in alternates_of(rest):
        last, day = rows(way)[-1], way.conditions.day
        clock, there = figures.zulu(leaving(way)[0], day), figures.zulu(last.clock, day)
        told = f"alternate {last.leg.end.name} from {way.legs[0].start.name} {clock}: at {there}, {_left_text(last)}"
        notice = alternate_closed_by(revision, way)
        shut = "" if notice is None else f"; {closed_text(notice)}"
        yield f"{told}, {_STATE[reserve_holds_at(way)]}{shut}"


def _left_text(row: Row) -> str:
    """What is left at the end of a leg, in words; below zero how much is missing."""
    if row.left_steps is None:
        return "left not known"
    if row.left_steps < 0:
        return f"none left, {row.fuel(-row.left_steps)} {row.log.fuel_unit.name} short"
    return f"left {_printed_left(row)}"


def _printed_left(row: Row) -> str:
    """The fuel left at the end of a leg as its row prints it, with its unit."""
    return f"{row.fuel(row.left_steps)} {row.log.fuel_unit.name}"


def _steps_text(log: Log, steps: int) -> str:
    """Printed steps of fuel with their unit."""
    return f"{figures.fuel(steps, log.fuel_unit.step)} {log.fuel_unit.name}"


def _needed_text(log: Log, amount: float) -> str:
    """Fuel that must be there, rounded up, with its unit."""
    step = log.fuel_unit.step
    return f"{figures.fuel(figures.up(amount, step), step)} {log.fuel_unit.name}"
