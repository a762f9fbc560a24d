"""Other levels and other winds in words, as blocks after the log, and as JSON, under keys of their own beside its."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from navlog.flightlog.records import Log
from navlog.nav import figures
from navlog.nav.layout import WIDTH, columns
from navlog.printed.fuel import account
from navlog.request.records import Level
from navlog.rules.answers import Answer
from navlog.rules.windfuel import BEYOND_FT
from navlog.sheets.json_legs import gallons
from navlog.sheets.json_lines import flight_object
from navlog.sheets.json_values import Json, number
from navlog.studies.whatif import CENTRAL, AtLevel, LevelComparison, Spread, WhatIf


def what_if_text(log: Log, found: WhatIf) -> str:
    """The blocks that were asked for, each after an empty line."""
    lines: list[str] = []
    if found.comparison is not None:
        lines += ["", *_comparison_lines(found.comparison)]
    if found.spread is not None:
        lines += ["", *_spread_lines(log, found.spread), _headwind_line(log, found)]
    return "".join(part + "\n" for line in lines for part in _within_width(line))


def _within_width(line: str) -> list[str]:
    """The line, in several where it is too long for the sheet."""
    if len(line) <= WIDTH:
        return [line]
    from textwrap import wrap

    return wrap(line, WIDTH, subsequent_indent=" " * 4)


def _comparison_lines(found: LevelComparison) -> Iterator[str]:
    """A row a level, then the least time and the least fuel in words."""
    lowest, highest = figures.whole(found.lowest_ft), figures.whole(found.highest_ft)
    yield f"ALTITUDES by rule for the courses, from {lowest} ft (highest minimum) to {highest} ft"
    if not found.minimum_known:
        yield "  no minimum is known for a part of the route: check each level on the chart"
    figured = [(_level_text(one.level), *_level_figures(one)) for one in found.levels]
    heading, *table = columns([("Alt", "GS", "Time", "Fuel", "Margin"), *figured], "rrrrr", indent="  ")
    yield heading
    for one, line in zip(found.levels, table, strict=True):
        yield f"{line}{_sign(one) or ' '}{_level_remark(one, found)}".rstrip()
    if any(one.wind_beyond_ft is not None for one in found.levels):
        yield f"! the nearest wind is more than {BEYOND_FT:,.0f} ft away in height"
    if found.least_time is not None:
        best = found.least_time
        yield f"Least time at {_level_text(best.level)}: {_time_text(best)}{_sign(best)} h:min."
    if found.least_fuel is not None and found.least_fuel.log is not None:
        best, unit = found.least_fuel, found.least_fuel.log.fuel_unit.name
        yield f"Least fuel at {_level_text(best.level)}: {_fuel_text(best)}{_sign(best)} {unit}."


def _sign(one: AtLevel) -> str:
    """What marks a level whose figures stand on a wind of another height."""
    return "" if one.wind_beyond_ft is None else "!"


def _level_text(level: Level) -> str:
    """A level as printed."""
    return figures.level(level.altitude_ft, flight_level=level.flight_level)


def _level_figures(one: AtLevel) -> tuple[str, str, str, str]:
    """Mean groundspeed, time, fuel and margin; nothing where the level cannot be flown."""
    if one.log is None:
        return "", "", "", ""
    totals = one.log.totals
    speed = figures.whole(totals.distance_nm / totals.time_min * 60.0) if totals.time_min else figures.UNKNOWN
    margin = account(one.log).margin or figures.UNKNOWN
    return speed, _time_text(one), _fuel_text(one), margin


def _time_text(one: AtLevel) -> str:
    """The time of flight at a level."""
    time_min = one.log.totals.time_min if one.log is not None else None
    return figures.minutes(None if time_min is None else figures.half_up(time_min))


def _fuel_text(one: AtLevel) -> str:
    """The trip fuel at a level."""
    if one.log is None or one.log.totals.fuel is None:
        return figures.UNKNOWN
    step = one.log.fuel_unit.step
    return figures.fuel(figures.up(one.log.totals.fuel, step), step)


def _level_remark(one: AtLevel, found: LevelComparison) -> str:
    """What is to be said of a level beside its figures."""
    told = ["planned"] if one.level == found.planned else []
    if one.by_rule < found.stretches:
        told.append(f"by rule on {one.by_rule} of {found.stretches} stretches")
    if one.reason is not None:
        told.append(one.reason)
    return f"  {', '.join(told)}" if told else ""


def _spread_lines(log: Log, found: Spread) -> Iterator[str]:
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


def _headwind_line(log: Log, found: WhatIf) -> str:
    """The steady headwind at which the reserve is gone."""
    if found.headwind_kt is None:
        return "  the headwind that takes the reserve is not known"
    if found.headwind_kt == 0.0:
        return "  the reserve is not whole in the wind given"
    headwind = figures.down(found.headwind_kt, 1.0)
    return f"  the reserve lasts up to a steady headwind of {headwind} kt more than the wind given"


def json_line_with(answer: Answer, found: WhatIf | None) -> str:
    """One flight as one line of JSON with what was asked beside the log, without a line end."""
    import json

    whole = flight_object(answer)
    if found is not None and answer.report is not None:
        whole |= _what_if_object(answer.report.log, found)
    return json.dumps(whole, allow_nan=False, ensure_ascii=True)


def _what_if_object(log: Log, found: WhatIf) -> Json:
    """The keys `altitudes` and `wind_spread`, as far as they were asked for."""
    keys: Json = {}
    if found.comparison is not None:
        planned = found.comparison.planned
        keys["altitudes"] = [_level_object(one, planned) for one in found.comparison.levels]
    if found.spread is not None:
        keys["wind_spread"] = _spread_object(log, found.spread, found.headwind_kt)
    return keys


def _level_object(one: AtLevel, planned: Level) -> Json:
    """The flight at one level."""
    log = one.log
    time_min = log.totals.time_min if log is not None else None
    return {
        "altitude_ft": number(one.level.altitude_ft),
        "flight_level": one.level.flight_level,
        "planned": one.level == planned,
        "stretches_by_rule": one.by_rule,
        "groundspeed_kt": number(log.totals.distance_nm / time_min * 60.0) if log is not None and time_min else None,
        "time_min": number(time_min),
        "fuel_gal": gallons(log.totals.fuel, log.fuel_unit) if log is not None else None,
        "margin_gal": gallons(log.fuel.margin, log.fuel_unit) if log is not None else None,
        "margin_min": number(log.fuel.margin_min) if log is not None else None,
        "wind_beyond_ft": number(one.wind_beyond_ft),
        "reason": one.reason,
    }


def _spread_object(log: Log, found: Spread, headwind_kt: float | None) -> Json:
    """Time and fuel over the sampled winds."""
    unit = log.fuel_unit
    fuels = None if found.fuel is None or unit.gal is None else _range_object(found.fuel, unit.gal)
    return {
        "error_kt": number(found.error_kt),
        "samples": found.samples,
        "unflyable": found.unflyable,
        "time_min": _range_object(found.time_min, 1.0),
        "fuel_gal": fuels,
        "headwind_to_reserve_kt": number(headwind_kt),
    }


def _range_object(values: tuple[float, float, float, float], factor: float) -> Json:
    """The least, the ends that hold nine in ten, and the most."""
    names = ("least", "low", "high", "most")
    return {name: number(value * factor) for name, value in zip(names, values, strict=True)}
