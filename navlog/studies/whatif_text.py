"""Other levels and other winds in words, as blocks after the log."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from navlog.flightlog.records import Log
from navlog.nav import figures
from navlog.printed.fuel import account
from navlog.request.records import Level
from navlog.sheets.text import WIDTH
from navlog.studies.whatif import CENTRAL, AtLevel, Comparison, Spread, WhatIf


def what_if_text(log: Log, found: WhatIf) -> str:
    """The blocks that were asked for, each after an empty line."""
    lines: list[str] = []
    if found.comparison is not None:
        lines += ["", *comparison_lines(found.comparison)]
    if found.spread is not None:
        lines += ["", *spread_lines(log, found.spread), headwind_line(log, found)]
    return "".join(part + "\n" for line in lines for part in within_width(line))


def within_width(line: str) -> list[str]:
    """The line, in several where it is too long for the sheet."""
    if len(line) <= WIDTH:
        return [line]
    from textwrap import wrap

    return wrap(line, WIDTH, subsequent_indent=" " * 4)


def comparison_lines(found: Comparison) -> Iterator[str]:
    """A row a level, then the least time and the least fuel in words."""
    lowest, highest = figures.whole(found.lowest_ft), figures.whole(found.highest_ft)
    yield f"ALTITUDES by rule for the courses, from {lowest} ft (highest minimum) to {highest} ft"
    if not found.minimum_known:
        yield "  no minimum is known for a part of the route: check each level on the chart"
    yield f"{'Alt':>7}{'GS':>6}{'Time':>7}{'Fuel':>7}{'Margin':>8}"
    for one in found.levels:
        yield f"{level_text(one.level):>7}{level_figures(one)}{level_remark(one, found)}".rstrip()
    if found.least_time is not None:
        yield f"Least time at {level_text(found.least_time.level)}: {time_text(found.least_time)} h:min."
    if found.least_fuel is not None and found.least_fuel.log is not None:
        unit = found.least_fuel.log.fuel_unit.name
        yield f"Least fuel at {level_text(found.least_fuel.level)}: {fuel_text(found.least_fuel)} {unit}."


def level_text(level: Level) -> str:
    """A level as printed."""
    return figures.level(level.altitude_ft, flight_level=level.flight_level)


def level_figures(one: AtLevel) -> str:
    """Mean groundspeed, time, fuel and margin; nothing where the level cannot be flown."""
    if one.log is None:
        return ""
    totals = one.log.totals
    speed = figures.whole(totals.distance_nm / totals.time_min * 60.0) if totals.time_min else figures.UNKNOWN
    margin = account(one.log).margin or figures.UNKNOWN
    return f"{speed:>6}{time_text(one):>7}{fuel_text(one):>7}{margin:>8}"


def time_text(one: AtLevel) -> str:
    """The time of flight at a level."""
    time_min = one.log.totals.time_min if one.log is not None else None
    return figures.minutes(None if time_min is None else figures.half_up(time_min))


def fuel_text(one: AtLevel) -> str:
    """The trip fuel at a level."""
    if one.log is None or one.log.totals.fuel is None:
        return figures.UNKNOWN
    step = one.log.fuel_unit.step
    return figures.fuel(figures.up(one.log.totals.fuel, step), step)


def level_remark(one: AtLevel, found: Comparison) -> str:
    """What is to be said of a level beside its figures."""
    told = ["planned"] if one.level == found.planned else []
    if one.by_rule < found.stretches:
        told.append(f"by rule on {one.by_rule} of {found.stretches} stretches")
    if one.reason is not None:
        told.append(one.reason)
    return f"   {', '.join(told)}" if told else ""


def spread_lines(log: Log, found: Spread) -> Iterator[str]:
    """The range of time, arrival and fuel."""
    yield (f"WIND SPREAD {found.error_kt:g} kt: {found.samples} winds around the one given, the same ones every time")
    share = f"{CENTRAL * 10:.0f} in 10"
    least, low, high, most = (figures.minutes(figures.half_up(value)) for value in found.time_min)
    yield f"  flight time {low} to {high} in {share}, {least} to {most} in all"
    off, last_min, planned_min = log.conditions.off, log.legs[-1].elapsed_min, log.totals.time_min
    if off is not None and last_min is not None and planned_min is not None:
        stops_min = last_min - planned_min
        least, low, high, most = (
            figures.zulu(off + timedelta(minutes=figures.half_up(value + stops_min)), log.conditions.day)
            for value in found.time_min
        )
        yield f"  arrival     {low} to {high} in {share}, {least} to {most} in all"
    if found.fuel is not None:
        step, unit = log.fuel_unit.step, log.fuel_unit.name
        least, low, high, most = (figures.fuel(figures.up(value, step), step) for value in found.fuel)
        yield f"  trip fuel   {low} to {high} {unit} in {share}, {least} to {most} {unit} in all"
    if found.unflyable:
        yield f"  cannot be flown in {found.unflyable} of the {found.samples} winds"


def headwind_line(log: Log, found: WhatIf) -> str:
    """The steady headwind at which the reserve is gone."""
    if found.headwind_kt is None:
        return "  the headwind that takes the reserve is not known"
    if found.headwind_kt == 0.0:
        return "  the reserve is not whole in the wind given"
    headwind = figures.down(found.headwind_kt, 1.0)
    return f"  the reserve lasts up to a steady headwind of {headwind} kt more than the wind given"
