"""The head of a sheet: which flight, on what data, in what wind."""

from __future__ import annotations

from collections.abc import Iterator

from navlog import figures
from navlog.flightlog.records import Log
from navlog.request import RouteWord
from navlog.version import VERSION

WIDTH = 80


def header(log: Log) -> Iterator[str]:
    """The lines that say which flight this is and what it was computed from."""
    from textwrap import wrap

    for line in header_facts(log):
        yield from wrap(line, WIDTH, subsequent_indent="  ")


def header_facts(log: Log) -> Iterator[str]:
    """The same as unbroken lines."""
    request, conditions = log.route.request, log.conditions
    yield f"VOR NAVIGATION LOG - {request.name}"
    yield "Route " + " ".join(word_text(word) for word in request.route)
    off = f"off {figures.zulu(conditions.off)}" if conditions.off is not None else "NO OFF TIME GIVEN"
    daytime = f" {request.daytime}" if request.daytime else ""
    cruise = figures.level(request.cruise.altitude_ft, flight_level=request.cruise.flight_level)
    unit = "" if request.cruise.flight_level else " ft"
    yield f"{request.day:%Y-%m-%d}   {off}   {request.rules.upper()}{daytime}   cruise {cruise}{unit}   {speed(log)}"
    receivers = f"{request.equipment.vor} VOR, {request.equipment.dme or 'no'} DME"
    yield f"Receivers {receivers}"
    yield "Wind, true: " + wind_text(log)
    yield from conditions.winds_turned
    yield variation_text(log)
    yield f"Data: {data_text(log)}. navlog {VERSION}, {request.file} {request.digest[:12]}"


def word_text(word: RouteWord) -> str:
    """A word of the route line as it was written."""
    if word.landing is not None:
        return f"{word.text} (land)"
    return f"{word.text} (over)" if word.over else word.text


def speed(log: Log) -> str:
    """The true airspeed and burn."""
    request = log.route.request
    tas = f"TAS {figures.whole(request.tas_kt)} kt" if request.tas_kt is not None else "TAS by the aircraft file"
    burn = log.conditions.burn_per_h
    return f"{tas}, burn {burn:g} {log.fuel_unit.name}/h" if burn is not None else f"{tas}, burn ?"


def wind_text(log: Log) -> str:
    """The winds that the log was computed with."""
    columns = log.conditions.winds
    if columns is None:
        return "NO WIND GIVEN"
    told = []
    for column in columns:
        levels = list(dict.fromkeys((level.wind, level.height_ft, level.temperature_c) for level in column.levels))
        same = len({wind for wind, _, _ in levels}) == 1 and len(levels) == 2
        texts = []
        for wind, height_ft, temperature_c in levels[:1] if same else levels:
            height = "" if same else f"{figures.whole(height_ft)} ft "
            temperature = f" {temperature_c:+.0f}C" if temperature_c is not None else ""
            blows = (
                "calm"
                if wind.speed_kt == 0.0
                else f"{figures.course(wind.from_true_deg)}/{figures.whole(wind.speed_kt)}"
            )
            texts.append(f"{height}{blows}{temperature}")
        place = f"at {column.name} " if column.name else ""
        told.append(place + ", ".join(texts))
    return "; ".join(told)


def variation_text(log: Log) -> str:
    """Where the variation in the headings comes from."""
    stated = log.route.request.variation_deg
    if stated is not None:
        return f"Variation {figures.east_west(stated)} as stated, in headings only"
    if log.route.magnetic_model is not None:
        return f"Variation by {log.route.magnetic_model} for the day; radials by each station's own declination"
    return "No position and no variation: headings (~) by station north; the compass may differ by up to 8 degrees"


def data_text(log: Log) -> str:
    """The sources of the stations and airways."""
    told = []
    for source in log.route.sources:
        dates = (
            f" {source.effective:%Y-%m-%d} to {source.expires:%Y-%m-%d}" if source.effective and source.expires else ""
        )
        told.append(f"{source.source.value.upper()}{' ' + source.cycle if source.cycle else ''}{dates}")
    return ", ".join(told) if told else "the route file only"
