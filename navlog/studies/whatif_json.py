"""Other levels and other winds as JSON, under keys of their own beside the log's."""

from __future__ import annotations

from navlog.flightlog.records import Log
from navlog.request.records import Level
from navlog.rules.answers import Answer
from navlog.sheets.json_lines import Json, flight_object, gallons, number
from navlog.studies.whatif import AtLevel, Spread, WhatIf


def json_line_with(answer: Answer, found: WhatIf | None) -> str:
    """One flight as one line of JSON with what was asked beside the log, without a line end."""
    import json

    whole = flight_object(answer)
    if found is not None and answer.report is not None:
        whole |= what_if_object(answer.report.log, found)
    return json.dumps(whole, allow_nan=False, ensure_ascii=True)


def what_if_object(log: Log, found: WhatIf) -> Json:
    """The keys `altitudes` and `wind_spread`, as far as they were asked for."""
    keys: Json = {}
    if found.comparison is not None:
        planned = found.comparison.planned
        keys["altitudes"] = [level_object(one, planned) for one in found.comparison.levels]
    if found.spread is not None:
        keys["wind_spread"] = spread_object(log, found.spread, found.headwind_kt)
    return keys


def level_object(one: AtLevel, planned: Level) -> Json:
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
        "reason": one.reason,
    }


def spread_object(log: Log, found: Spread, headwind_kt: float | None) -> Json:
    """Time and fuel over the sampled winds."""
    unit = log.fuel_unit
    fuels = None if found.fuel is None or unit.gal is None else range_object(found.fuel, unit.gal)
    return {
        "error_kt": number(found.error_kt),
        "samples": found.samples,
        "unflyable": found.unflyable,
        "time_min": range_object(found.time_min, 1.0),
        "fuel_gal": fuels,
        "headwind_to_reserve_kt": number(headwind_kt),
    }


def range_object(values: tuple[float, float, float, float], factor: float) -> Json:
    """The least, the ends that hold nine in ten, and the most."""
    names = ("least", "low", "high", "most")
    return {name: number(value * factor) for name, value in zip(names, values, strict=True)}
