"""Air much colder than standard, in which an altimeter reads too high."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.altitudes import below
from navlog.flightlog.records import Leg
from navlog.nav.atmosphere import standard_temperature_c
from navlog.nav.figures import whole
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import sample

_COLD_C = 15.0
"""From so much colder than standard a correction is due (ICAO Doc 8168, as IFALPA cites it)."""

_LOWER_PER_DEGREE = 0.004
"""An altimeter reads 4 % too high for every 10 degrees colder than standard (ICAO Doc 8168, volume I)."""


@rule(
    "cold-air",
    Severity.WARNING,
    group=Group.HEIGHT,
    source="ICAO Doc 8168, volume I: 4 % of the height for every 10 degrees C under standard; from 15 under (IFALPA)",
    remedy="plan higher by the difference; ask air traffic control where a level is assigned",
    passing=sample("wind 3000 230/12 -5C 6000 240/18 -11C", "altitude 3100"),
    failing=sample("wind 3000 230/12 -25C 6000 240/18 -31C", "altitude 3100"),
)
def cold_air(case: Case) -> Iterator[Found]:
    """In air much colder than standard the aeroplane is lower than the altimeter says, below a minimum.

    ICAO Doc 8168, volume I: "an approximate correction is 4 per cent height increase for every 10 C below standard
    temperature as measured at the altimeter setting source. This is safe for all altimeter setting source altitudes
    for temperatures above -15 C"; where it is colder there the aeroplane is lower yet. FAA AIM 7-3-1: "When the
    ambient (at altitude) temperature is colder than standard, the aircraft's true altitude is lower than the
    indicated barometric altitude", with a table by the height above the airport. From when on: IFALPA's paper Cold
    Weather Altimetry, 2018: "ICAO PANS-OPS recommends cold altimetry correction to be applied when ambient
    temperature is ISA-15 or lower". The source of the setting is not known, so the height is counted from sea
    level, which is the most that it can be, and the temperature is that of the level, as forecasts give it (common
    practice, no source).
    """
    if _coldest_c(case) < _COLD_C:
        return
    for leg, indicated_ft in case.bound:
        minimum_ft = leg.stretch.limits.least_ft
        if minimum_ft is None or below(indicated_ft, minimum_ft):
            continue
        under_c = _colder_than_standard_c(case, leg, indicated_ft)
        true_ft = indicated_ft * (1.0 - _LOWER_PER_DEGREE * under_c)
        if under_c >= _COLD_C and below(true_ft, minimum_ft):
            yield Found(
                f"in air {whole(under_c)} degrees C colder than standard {whole(indicated_ft)} ft by the altimeter"
                f" is about {whole(true_ft)} ft, below the minimum of {whole(minimum_ft)} ft",
                leg,
                by=minimum_ft - true_ft,
            )


def _coldest_c(case: Case) -> float:
    """How much colder than standard the coldest air is of which a temperature is given."""
    conditions = case.log.conditions
    aloft = [
        standard_temperature_c(level.height_ft) - level.temperature_c
        for column in conditions.winds or ()
        for level in column.levels
        if level.temperature_c is not None
    ]
    return max((*aloft, -(conditions.isa_deviation_c or 0.0)))


def _colder_than_standard_c(case: Case, leg: Leg, altitude_ft: float) -> float:
    """How much colder than standard the air is on a leg, in degrees C: by the winds aloft, else as stated."""
    from navlog.nav.wind import at_place

    conditions, where = case.log.conditions, leg.start.position
    columns = [column for column in conditions.winds or () if column.position is None or where is not None]
    temperature_c = at_place(columns, where, altitude_ft).temperature_c if columns else None
    if temperature_c is not None:
        return standard_temperature_c(altitude_ft) - temperature_c
    return -(conditions.isa_deviation_c or 0.0)
