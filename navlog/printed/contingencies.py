"""What the planning sheet says of turning back and of a flight without radio."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from navlog.flightlog.facts import by_north, crossings, setting_text
from navlog.flightlog.lost_communications import WithoutRadio, without_radio
from navlog.flightlog.records import Log
from navlog.flightlog.turning_back import CRITICAL_POINT_SOURCE, WayHome, critical_points, ways_home
from navlog.nav import figures
from navlog.nav.figures import UNKNOWN, up


def turning_back(log: Log) -> Iterator[str]:
    """The way home from each point, and the critical point between the fields; nothing without an airport behind."""
    ways = ways_home(log)
    if ways:
        yield (
            "by the way flown, in cruise at the height reached, in today's wind; no descent is counted, and minimums"
            " of the other direction are not looked up"
        )
    yield from (_way_home(log, way) for way in ways)
    for point in critical_points(log):
        behind, to_go = (figures.distance(nm) for nm in (point.from_home_nm, point.to_go_nm))
        along = f"{figures.distance(point.along_nm)} NM after {point.leg.start.name}"
        yield (
            f"critical point between {point.home} and {point.ahead}: {behind} NM from {point.home} ({along}),"
            f" {to_go} NM to {point.ahead}, {figures.minutes(up(point.time_min, 1.0))} to either"
            f" ({CRITICAL_POINT_SOURCE})"
        )


def _way_home(log: Log, way: WayHome) -> str:
    """From one point: where to, how far, how long, with how much fuel, and what to set and hold first."""
    time = UNKNOWN if way.time_min is None else figures.minutes(up(way.time_min, 1.0))
    unit, step = log.fuel_unit.name, log.fuel_unit.step
    fuel = UNKNOWN if way.fuel is None else figures.fuel(up(way.fuel, step), step)
    text = f"from {way.leg.end.name} to {way.home} {figures.distance(way.distance_nm)} NM, {time}, {fuel} {unit}"
    if way.guidance is not None and way.guidance.set_course_deg is not None:
        text += f", set {setting_text(way.guidance)}"
    if way.magnetic_heading_deg is not None:
        text += f", heading {by_north(way.leg, figures.course(way.magnetic_heading_deg))}"
    if way.fuel_left is not None and way.fuel_left < 0.0:
        text += ": NOT ENOUGH FUEL"
    return text


def lost_communications(log: Log) -> Iterator[str]:
    """The altitude of each part without radio, neighbours of one altitude together; nothing under VFR."""
    parts = tuple(without_radio(log))
    if parts:
        yield (
            "the highest of assigned, expected and minimum altitude (14 CFR 91.185(c)(2)); the planned level stands"
            " for what is assigned and expected: where ATC gave or told another, that counts"
        )
    for (told, _), group in groupby(parts, key=lambda part: (_height(part), part.minimum_ft is None)):
        same = tuple(group)
        ends = f"{same[0].leg.start.name} to {same[-1].leg.stretch.end.name}"
        unknown = "; no minimum is known here" if same[0].minimum_ft is None else ""
        crossed = "".join(f", {one}" for part in same for one in crossings(part.leg))
        yield f"{ends} {told}{unknown}{crossed}"


def _height(part: WithoutRadio) -> str:
    """The altitude without radio, and what it is."""
    level = part.leg.stretch.level
    if part.by_minimum:
        return f"{figures.whole(part.altitude_ft)} ft ({part.kind})"
    planned = figures.level(level.altitude_ft, flight_level=level.flight_level)
    return f"{planned}{'' if level.flight_level else ' ft'} (as planned)"
