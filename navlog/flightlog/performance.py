"""How fast the aeroplane goes, climbs and burns in the air of a place and height."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.flightlog.altitudes import STANDARD_FROM_FT, below, pressure_ft
from navlog.flightlog.records import Conditions, Phase
from navlog.nav.chart import Position
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.record import changed
from navlog.nav.wind import Wind, at_place

if TYPE_CHECKING:
    from navlog.request.aircraft import PhaseTable
    from navlog.request.records import Request


class Air(Struct, frozen=True):
    """The air at a place and height; the wind is None where none is known there.

    `beyond_ft` is how far outside the heights of the winds given it lies.
    """

    wind: Wind | None
    temperature_c: float
    pressure_altitude_ft: float
    beyond_ft: float


class Going(Struct, frozen=True):
    """True airspeed, burn in the log's unit an hour, and rate of climb or descent; None where not known."""

    tas_kt: float
    burn_per_h: float | None
    rate_ft_per_min: float | None = None


def air_at(conditions: Conditions, where: Position | None, altitude_ft: float) -> Air:
    """Wind, temperature and pressure altitude at a place and an altitude.

    Without a temperature aloft or stated, that of the standard atmosphere holds.
    """
    standard_ft = pressure_ft(altitude_ft, conditions.altimeter_hpa)
    wind, temperature_c, beyond_ft = None, None, 0.0
    winds = conditions.winds
    # Winds at places say nothing of a leg without one; a wind that holds everywhere does.
    if winds is not None and not (where is None and all(column.position is not None for column in winds)):
        aloft = at_place(winds, where, wind_height_ft(conditions, altitude_ft))
        wind, temperature_c, beyond_ft = aloft.wind, aloft.temperature_c, aloft.beyond_ft
    if temperature_c is None:
        if conditions.aircraft is None:
            # Nothing reads the temperature without an aircraft file; the model of the atmosphere is not loaded for it.
            return Air(wind, 15.0, standard_ft, beyond_ft)
        from navlog.nav.atmosphere import standard_temperature_c

        temperature_c = standard_temperature_c(standard_ft) + (conditions.isa_deviation_c or 0.0)
    return Air(wind, temperature_c, standard_ft, beyond_ft)


def wind_height_ft(conditions: Conditions, altitude_ft: float) -> float:
    """The height at which the winds given hold for an altitude.

    Winds aloft are forecast at true altitudes up to 12,000 ft and at pressure altitudes from 18,000 ft on (US Aviation
    Weather Center, About Forecast Winds and Temperatures Aloft).
    """
    if conditions.altimeter_hpa is None:
        return altitude_ft
    standard_ft = pressure_ft(altitude_ft, conditions.altimeter_hpa)
    # Between 12,000 and 18,000 ft levels are mixed, where the two scales differ by the setting alone (no source).
    return altitude_ft if below(standard_ft, STANDARD_FROM_FT) else standard_ft


def cruise(conditions: Conditions, air: Air, stated_tas_kt: float | None) -> Going | None:
    """The cruise: stated speed and burn before the aircraft's; None where no speed is known.

    Raises an `outside-table` problem where the aircraft file ends before this height or temperature.
    """
    table = conditions.aircraft.cruise if conditions.aircraft is not None else None
    # All is stated: the book is not asked, so a level above its last row is no problem.
    if table is None or (stated_tas_kt is not None and conditions.burn_per_h is not None):
        return None if stated_tas_kt is None else Going(stated_tas_kt, conditions.burn_per_h)
    book = table.at(air.pressure_altitude_ft, air.temperature_c)
    burn = conditions.burn_per_h
    if burn is None and book.burn_per_h is not None:
        burn = book.burn_per_h * conditions.aircraft_unit
    return Going(stated_tas_kt if stated_tas_kt is not None else book.tas_kt, burn)


def with_cruise_beyond(conditions: Conditions, by_ft: float, by_c: float = 0.0) -> Conditions:
    """The conditions in which the cruise table holds its end rows so much farther in height and temperature."""
    aircraft = conditions.aircraft
    if aircraft is None:
        return conditions
    return changed(conditions, aircraft=changed(aircraft, cruise=aircraft.cruise.held_beyond(by_ft, by_c)))


def vertical_table(conditions: Conditions, phase: Phase) -> PhaseTable | None:
    """The aircraft's table of climb or descent; None where it has none and levels change at once."""
    if conditions.aircraft is None:
        return None
    return conditions.aircraft.climb if phase is Phase.CLIMB else conditions.aircraft.descent


def vertical(conditions: Conditions, table: PhaseTable, air: Air, rise_ft: float) -> Going:
    """Climb or descent by a little height in the air of its middle.

    Raises a problem where the table ends before it, or the aeroplane no longer climbs.
    """
    # A chart of climbs tells sums from sea level, so its rate is a difference over the step, not a value at its middle.
    half_ft = abs(rise_ft) / 2.0
    book = table.over(air.pressure_altitude_ft - half_ft, air.pressure_altitude_ft + half_ft, air.temperature_c)
    if book.rate_ft_per_min is None or book.rate_ft_per_min <= 0.0:
        raise problem_error(
            "no-climb",
            f"the aeroplane has no rate of {table.phase} at a pressure altitude of {air.pressure_altitude_ft:,.0f} ft",
            hint="plan a lower level",
        )
    burn = None if book.burn_per_h is None else book.burn_per_h * conditions.aircraft_unit
    return Going(book.tas_kt, burn, book.rate_ft_per_min)


def fuel_in_time(minutes: float, burn_per_h: float | None) -> float | None:
    """The fuel burnt in so many minutes; None without a burn."""
    return None if burn_per_h is None else minutes / 60.0 * burn_per_h


def placed_at_level(error: NavlogError, conditions: Conditions, request: Request) -> NavlogError:
    """A table's problem where the flight's altitude is written, of a temperature where that is, if it has no place."""
    from navlog.nav.problems import at

    span = conditions.level_span
    if error.problems[0].of_temperature:
        warm = (one.span for one in request.winds if any(level.temperature_c is not None for level in one.levels))
        told = (*warm, *(one.span for one in request.bulletins))
        span = told[0] if told else request.spans.get("temperature", span)
    return at(error, span) if span is not None else error
