"""The head of a sheet: which flight, on what data, in what wind."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from math import ceil

from navlog.flightlog.records import BulletinUse, Log, Phase
from navlog.nav import figures
from navlog.nav.chart import Airport
from navlog.nav.layout import WIDTH, wrapped
from navlog.nav.units import setting_text
from navlog.nav.wind import WindColumn, WindLevel
from navlog.printed.clocks import clock_text
from navlog.printed.level_words import level_words, levels_on_the_way
from navlog.request.levels import level_altitude_ft
from navlog.request.records import RouteWord
from navlog.version import VERSION

FEWEST_DIGITS = 12
"""How much of the file's hash a sheet shows."""


def header(log: Log) -> Iterator[str]:
    """The head of the text log."""
    for line in (f"VOR NAVIGATION LOG - {log.route.request.name}", f"Route {route_text(log)}", *facts(log)):
        yield from wrapped(line, WIDTH, "  ")


def facts(log: Log) -> Iterator[str]:
    """What the flight was computed from, one line each, for every sheet: flight, winds, north, data, file."""
    yield _flight_text(log)
    yield from _setting_text(log)
    yield f"{_aircraft_text(log)}, {_receivers_text(log)}"
    yield from _levels_text(log)
    yield from compass_text(log)
    yield f"Wind, true: {wind_text(log)}"
    yield from (_bulletin_text(use) for use in log.conditions.bulletins)
    yield from log.conditions.winds_turned
    yield variation_text(log)
    yield from bearing_texts(log)
    yield f"Data: {data_text(log)}"
    yield from _notices_text(log)
    yield from terrain_text(log)
    stated = "" if "accuracy" in log.route.request.spans else " (default)"
    yield f"VOR and DME errors: {log.route.request.accuracy.name}{stated}"
    unverified = unverified_names(log)
    if unverified:
        yield f"* UNVERIFIED, from a source that does not vouch for it: {', '.join(unverified)}"
    yield f"navlog {VERSION}, {log.route.request.file} SHA-256 {log.route.request.digest[:FEWEST_DIGITS]}"


def route_text(log: Log) -> str:
    """The route line as it was written."""
    return " ".join(_word_text(word) for word in log.route.request.route)


def _word_text(word: RouteWord) -> str:
    """A word of the route line as it was written."""
    if word.landing is not None:
        return f"{word.text} (land)"
    return f"{word.text} (over)" if word.over else word.text


def _flight_text(log: Log) -> str:
    """Day, wheels off, off-block where the taxi time is stated, rules, the levels in cruise with their table."""
    request, conditions = log.route.request, log.conditions
    moment = clock_text(conditions.off, conditions.zone, conditions.day)
    off = f"off {moment}" if conditions.off else "NO OFF TIME GIVEN"
    if request.taxi_min is not None:
        taxi_min = ceil(request.taxi_min)
        left = None if conditions.off is None else conditions.off - timedelta(minutes=taxi_min)
        off += f", taxi {taxi_min} min" if left is None else f", off-block {figures.zulu(left, conditions.day)}"
    daytime = f" {request.daytime}" if request.daytime else ""
    cruise = "; ".join((level_words(request.cruise), *levels_on_the_way(log)))
    levels = f"   levels {request.levels}" if "levels" in request.spans else ""
    return f"{request.day:%Y-%m-%d}   {off}   {request.rules.upper()}{daytime}   cruise {cruise}{levels}"


def _setting_text(log: Log) -> Iterator[str]:
    """The altimeter setting with the altitudes of the flight levels planned: `Altimeter 980 hPa: FL090 is 8080 ft`."""
    hpa = log.conditions.altimeter_hpa
    levels = {one.level.altitude_ft: one.level for one in log.route.stretches if one.level.flight_level}
    if hpa is not None:
        told = [
            f"{figures.level(ft, flight_level=True)} is {figures.whole(level_altitude_ft(level, hpa))} ft"
            for ft, level in levels.items()
        ]
        setting = f"Altimeter {setting_text(hpa, log.conditions.altimeter_unit)}"
        yield f"{setting}: {', '.join(told)}" if told else setting


def _aircraft_text(log: Log) -> str:
    """The true airspeed and burn, as stated or by the aircraft's file."""
    request, aircraft = log.route.request, log.conditions.aircraft
    by_file = f"by {aircraft.name}" if aircraft is not None else figures.UNKNOWN
    tas = f"{figures.whole(request.tas_kt)} kt" if request.tas_kt is not None else by_file
    stated, unit = request.burn, f"{log.fuel_unit.name}/h"
    burn = by_file if stated is None else f"{stated.value:g} {stated.unit}"
    if stated is not None and stated.unit != unit and log.conditions.burn_per_h is not None:
        burn += f" (about {log.conditions.burn_per_h:.1f} {unit})"
    return f"TAS {tas}, burn {burn}"


def _levels_text(log: Log) -> Iterator[str]:
    """What is not modelled of climb and descent."""
    aircraft, named = log.conditions.aircraft, log.route.request.aircraft
    if aircraft is None or named is None:
        yield "No aircraft file: level throughout, no climb, descent or airport height counts"
        return
    yield from _pattern_text(log)
    missing = [name for name, table in (("climb", aircraft.climb), ("descent", aircraft.descent)) if table is None]
    if missing:
        yield f"No {' and no '.join(missing)} in {named.path}: there the level changes at once"


def _pattern_text(log: Log) -> Iterator[str]:
    """At which heights descents end where a pattern is flown, and by what."""
    ends = {}
    for way, leg in [(one, leg) for one in (log, *log.alternates) for leg in one.legs]:
        place = leg.stretch.end.place
        if not (leg.lands or leg is way.legs[-1]) or not isinstance(place, Airport):
            continue
        if leg.phase not in (Phase.DESCENT, Phase.LOSING) or place.elevation_ft is None:
            continue
        stated = leg is way.legs[-1] and way.conditions.pattern_ft is not None
        if stated or way.conditions.vfr:
            by = "as stated" if stated else "1,000 ft above the field by AIM 4-3-3"
            ends[place.ident] = f"{place.ident} {figures.whole(leg.end_altitude_ft)} ft ({by})"
    if ends:
        yield f"Descent to the pattern: {', '.join(ends.values())}; no time for the pattern itself is planned"


def compass_text(log: Log) -> Iterator[str]:
    """Whose compass card the headings go by."""
    aircraft, named = log.conditions.aircraft, log.route.request.aircraft
    if aircraft is not None and named is not None and aircraft.compass is not None:
        yield f"Headings by compass: the card of {aircraft.name} ({named.path})"


def _receivers_text(log: Log) -> str:
    """The receivers on board."""
    equipment = log.route.request.equipment
    return f"receivers {equipment.vor} VOR, {equipment.dme or 'no'} DME"


def wind_text(log: Log) -> str:
    """The winds that the log was computed with, up to the first level above the flight."""
    columns = log.conditions.winds
    if columns is None:
        return "NO WIND GIVEN"
    highest_ft = max(leg.end_altitude_ft for way in (log, *log.alternates) for leg in way.legs)
    told = []
    for column in columns:
        place = f"at {column.name} " if column.name else ""
        told.append(place + ", ".join(_level_texts(column, highest_ft)))
    stated = " (as stated)" if log.route.request.winds else ""
    return "; ".join(told) + stated


def _level_texts(column: WindColumn, highest_ft: float) -> Iterator[str]:
    """The levels of a column up to the first at or above a height; a wind that holds everywhere has no height."""
    if len(column.levels) == 2 and column.levels[0].wind == column.levels[1].wind:
        yield _level_text(column.levels[0])
        return
    for level in column.levels:
        yield f"{figures.whole(level.height_ft)} ft {_level_text(level)}"
        if level.height_ft >= highest_ft:
            return


def _level_text(level: WindLevel) -> str:
    """A wind and, where it is known, the temperature."""
    wind = level.wind
    temperature = f" {level.temperature_c:+.0f}C" if level.temperature_c is not None else ""
    blows = f"{figures.course(wind.from_true_deg)}/{figures.whole(wind.speed_kt)}" if wind.speed_kt else "calm"
    return blows + temperature


def _bulletin_text(use: BulletinUse) -> str:
    """A bulletin behind the winds: which, its hours of use, and stations left out."""
    name = f"{use.heading} " if use.heading else ""
    plural = "" if use.missing == 1 else "s"
    missing = f", {use.missing} station{plural} without a place left out" if use.missing else ""
    return (
        f"Winds by bulletin {name}({use.file}), valid {use.valid:%Y-%m-%d %H:%M}Z,"
        f" for use {use.use_from:%H:%M}Z to {use.use_to:%H:%M}Z{missing}"
    )


def variation_text(log: Log) -> str:
    """Where the variation in the headings comes from."""
    stated = log.route.request.variation_deg
    if stated is not None:
        return f"Variation {figures.east_west(stated)} as stated, in headings only"
    sources = {leg.variation_source for way in (log, *log.alternates) for leg in way.legs}
    by_station = "headings (~) by station north; the compass may differ by up to 8 degrees"
    none = "magnetic headings are not known (?), no station's north standing in for magnetic north"
    without = [text for source, text in (("station", by_station), ("unknown", none)) if source in sources]
    if log.route.magnetic_model is not None:
        model = f"Variation by {log.route.magnetic_model} for the day; radials by each station's own declination"
        return "; ".join((model, *(f"without a position {text}" for text in without)))
    return f"No position and no variation: {'; where one is true-referenced '.join(without)}"


def bearing_texts(log: Log) -> Iterator[str]:
    """The points whose bearing is from a place without radials, so magnetic by the model: `LAKER090012`."""
    ways = (log.route, *log.route.alternates)
    for point in dict.fromkeys(point for way in ways for point in way.points if point.bearing is not None):
        one = point.bearing
        if one is not None:
            yield (
                f"{point.name}: {figures.course(one.magnetic_deg)} from {one.place} is magnetic by {one.model}"
                f" (variation {figures.east_west(one.variation_deg)}), {figures.course(one.true_deg)} true"
            )


def data_text(log: Log) -> str:
    """The sources of the stations and airways, with their cycle and its last day."""
    told = []
    for source in log.route.sources:
        cycle = f" cycle {source.cycle}" if source.cycle else ""
        dates = (
            f", {source.effective:%Y-%m-%d}, expires {source.expires:%Y-%m-%d}"
            if source.effective and source.expires
            else ", no dates"
        )
        mixed = f", mixed cycles, oldest {source.oldest:%Y-%m-%d}" if source.oldest else ""
        unverified = "" if source.verified else ", unverified"
        told.append(f"{source.source.value.upper()}{cycle}{dates}{mixed}{unverified}")
    return "; ".join(told) if told else "the route file only"


def _notices_text(log: Log) -> Iterator[str]:
    """The files of notices that were handed in, how many they hold, and which of them count."""
    request, uses = log.route.request, log.route.notices
    if not request.notices:
        return
    files = ", ".join(one.path for one in request.notices)
    count = ", ".join(use.notice.ident for use in uses if use.counts) or "none"
    read = f"{log.route.notices_read} read, {len(uses)} about this flight" if log.route.notices_read else "NONE FOUND"
    yield f"Notices of {files}: {read}, counting: {count}"


def unverified_names(log: Log) -> tuple[str, ...]:
    """The points and airways of the flight whose data nobody vouches for, in order of use, alternates last."""
    found: dict[str, None] = {}
    for stretch in (one for way in (log.route, *log.route.alternates) for one in way.stretches):
        for place in (stretch.start.place, stretch.airway, stretch.end.place):
            if place is not None and not place.provenance.verified:
                found[place.ident] = None
        for part in stretch.parts:
            if part.guidance is not None and not part.guidance.station.provenance.verified:
                found[part.guidance.station.ident] = None
    return tuple(found)


def terrain_text(log: Log) -> Iterator[str]:
    """The tiles looked at below the flight and its alternates, and whether obstacles are known below direct legs."""
    stretches = [stretch for one in (log, *log.alternates) for stretch in one.route.stretches]
    grounds = [stretch.ground for stretch in stretches if stretch.ground is not None]
    below = {name for stretch in stretches for piece in stretch.abeam for name in piece.tiles}
    tiles = sorted(below.union(*(ground.tiles for ground in grounds)))
    if tiles and not grounds:
        yield f"Terrain: {' '.join(tiles)}; no direct leg has a minimum by it"
    if grounds:
        editions = dict.fromkeys(edition for ground in grounds for edition in ground.editions)
        told = ", ".join(f"{one.source.value.upper()} {one.cycle or 'without a date'}" for one in editions)
        obstacles = (
            f"with obstacles of {told}" if told and all(one.obstacles_known for one in grounds) else "WITHOUT OBSTACLES"
        )
        unread = dict.fromkeys(name for ground in grounds for name, _ in ground.unread)
        damaged = f", CANNOT BE READ: {' '.join(unread)}" if unread else ""
        told = f"{obstacles}: {' '.join(tiles) or 'no tile'}{damaged}"
        yield f"Terrain {told}; minimums by terrain are computed, no clearance"
