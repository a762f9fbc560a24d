"""Workings of wind, airspeed, the wind triangle and the headings."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.facts import by_north
from navlog.flightlog.performance import air_at, wind_height_ft
from navlog.flightlog.records import Leg, Log, Phase
from navlog.flightlog.runs import Step as Flown
from navlog.flightlog.track import course_at
from navlog.nav.figures import correction, whole
from navlog.nav.figures import course as whole_course
from navlog.nav.wind import Wind, WindColumn, at_height, columns_around, levels_around
from navlog.nav.workings import (
    COMMON_PRACTICE,
    HANDBOOK,
    Working,
    added_up,
    blowing,
    direction,
    hundredths,
    signed,
    speed,
)

_LAYERS = "layers of 200 ft, each flown at the figures of its middle height"


def wind(log: Log, leg: Leg, flown: tuple[Flown, ...]) -> Iterator[Working]:
    """The wind at the leg's height and place, or its mean over the layers flown."""
    columns = log.conditions.winds
    if leg.wind is None or columns is None:
        return
    if _in_layers(leg, flown):
        yield Working(
            f"mean wind of the {leg.phase.value}",
            f"sum of (time x wind) as vectors / time; {_LAYERS}",
            _layered_mean(flown, [_mixed_in(step.wind) for step in flown], "of"),
            f"{blowing(leg.wind)}T",
            "vector mean over the time flown",
        )
        return
    height_ft = wind_height_ft(log.conditions, leg.start_altitude_ft)
    _, place = course_at(leg.stretch, leg.part, (leg.start_nm + leg.end_nm) / 2.0)
    used = columns_around(columns, place)
    for column, _ in used:
        yield _at_the_height(column, height_ft)
    if len(used) > 1:
        total = sum(weight for _, weight in used)
        yield Working(
            "wind at the place",
            "the nearest columns by the inverse square of their distance, as vectors",
            " + ".join(
                f"{weight / total:.3f} of {_mixed_in(at_height(column, height_ft).wind)}" for column, weight in used
            ),
            f"{blowing(leg.wind)}T",
            COMMON_PRACTICE,
        )


def _at_the_height(column: WindColumn, height_ft: float) -> Working:
    """The wind of one column at a height."""
    below, above, share = levels_around(column.levels, height_ft)
    where = f" at {column.name}" if column.name is not None else ""
    found = f"{blowing(at_height(column, height_ft).wind)}T"
    if share == 0.0 or below.wind == above.wind:
        same = len({level.wind for level in column.levels}) == 1
        how = "as given" if same else f"as given at {whole(below.height_ft)} ft"
        return Working(f"wind{where}", how, "", found, "route file or bulletin")
    return Working(
        f"wind{where} at {whole(height_ft)} ft",
        f"between {whole(below.height_ft)} ft and {whole(above.height_ft)} ft, as vectors",
        f"{1.0 - share:.3f} of {_mixed_in(below.wind)} + {share:.3f} of {_mixed_in(above.wind)}",
        found,
        "linear between the heights given",
    )


def _mixed_in(one: Wind | None) -> str:
    """A wind as it stands in a mixture."""
    return "calm" if one is None else blowing(one)


def _in_layers(leg: Leg, flown: tuple[Flown, ...]) -> bool:
    """Whether the leg's wind and speed are means over layers."""
    return leg.phase is not Phase.CRUISE or len(flown) > 1


def _layered_mean(flown: tuple[Flown, ...], values: list[str], sign: str) -> str:
    """The mean of the layers' values, each by the time in its layer."""
    times = [step.time_min or 0.0 for step in flown]
    terms = tuple(f"{hundredths(time_min)} {sign} {value}" for time_min, value in zip(times, values, strict=True))
    return f"{added_up(terms)} / {hundredths(sum(times))}"


def airspeed(log: Log, leg: Leg, flown: tuple[Flown, ...]) -> Iterator[Working]:
    """The true airspeed: as stated, out of the aircraft file, or its mean over the layers flown."""
    if leg.tas_kt is None:
        return
    result = f"{speed(leg.tas_kt)} kt"
    if _in_layers(leg, flown):
        values = _layered_mean(flown, [speed(step.tas_kt or 0.0) for step in flown], "x")
        yield Working("mean true airspeed", f"sum of (time x TAS) / time; {_LAYERS}", values, result, "aircraft file")
        return
    if leg.stretch.tas_kt is not None:
        yield Working("true airspeed", "as stated", "", result, "route file")
        return
    _, place = course_at(leg.stretch, leg.part, (leg.start_nm + leg.end_nm) / 2.0)
    air = air_at(log.conditions, place, leg.start_altitude_ft)
    table = f"cruise table at a pressure altitude of {whole(air.pressure_altitude_ft)} ft"
    yield Working("true airspeed", f"{table} and {air.temperature_c:+.1f}C", "", result, "aircraft file")


def heading(log: Log, leg: Leg) -> Iterator[Working]:
    """The triangle: crosswind, headwind, correction, true heading and, in cruise, groundspeed; then by compass."""
    solved = leg.triangle
    if solved is None:
        return
    angle = f"({direction(solved.wind.from_true_deg)} - {direction(solved.true_course_deg)})"
    blows, tas = speed(solved.wind.speed_kt), speed(solved.tas_kt)
    across, ahead = (value + 0.0 for value in (solved.crosswind_kt, solved.headwind_kt))
    yield Working(
        "crosswind",
        "wind speed x sin(wind from - true course), from the right positive",
        f"{blows} x sin{angle}",
        f"{across:+.1f} kt",
        HANDBOOK,
    )
    yield Working(
        "headwind", "wind speed x cos(wind from - true course)", f"{blows} x cos{angle}", f"{ahead:+.1f} kt", HANDBOOK
    )
    if solved.wind_correction_deg is None or solved.true_heading_deg is None or solved.groundspeed_kt is None:
        return
    turned_deg = solved.wind_correction_deg + 0.0
    yield Working(
        "wind correction",
        "arcsin(crosswind / true airspeed), to the right positive",
        f"arcsin({across:+.1f} / {tas})",
        f"{turned_deg:+.1f} degrees, printed {correction(turned_deg)}",
        HANDBOOK,
    )
    if leg.phase is Phase.CRUISE:
        yield Working(
            "groundspeed",
            "true airspeed x cos(correction) - headwind",
            f"{tas} x cos{signed(turned_deg)} - {signed(ahead)}",
            f"{speed(solved.groundspeed_kt)} kt",
            HANDBOOK,
        )
    yield Working(
        "true heading",
        "true course + wind correction",
        f"{direction(solved.true_course_deg)} + {signed(turned_deg)}",
        f"{direction(solved.true_heading_deg)}T",
        HANDBOOK,
    )
    yield from _by_compass(leg, solved.true_heading_deg)


def _by_compass(leg: Leg, true_deg: float) -> Iterator[Working]:
    """The magnetic heading and, with a card, the compass heading."""
    if leg.magnetic_heading_deg is None or leg.variation_deg is None:
        return
    yield Working(
        "magnetic heading",
        "true heading - variation, east positive",
        f"{direction(true_deg)} - {signed(leg.variation_deg)}",
        f"{direction(leg.magnetic_heading_deg)}M, printed {by_north(leg, whole_course(leg.magnetic_heading_deg))}",
        HANDBOOK,
    )
    if leg.compass_heading_deg is None or leg.deviation_deg is None:
        return
    yield Working(
        "compass heading",
        "magnetic heading - deviation by the card on that heading, east positive",
        f"{direction(leg.magnetic_heading_deg)} - {signed(leg.deviation_deg)}",
        f"{direction(leg.compass_heading_deg)}, printed {by_north(leg, whole_course(leg.compass_heading_deg))}",
        "compass card of the aircraft file",
    )
