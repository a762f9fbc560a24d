"""Values that can be, and that hardly any flight has: a digit lost, a unit or a sign that is not meant."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from navlog.flightlog.altitudes import below
from navlog.nav.chart import Position
from navlog.nav.figures import down, minutes, whole
from navlog.nav.units import Amount, converted, in_inches_of_mercury, setting_text
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, sample
from navlog.rules.windfuel import temperature_doubt, there

if TYPE_CHECKING:
    from navlog.nav.clearance import Abeam

_LOWEST_INHG = 28.0
_HIGHEST_INHG = 31.0
"""Beyond these many altimeters cannot be set: AIM 7-2-2."""

_LOWEST_FT = -223.0
"""CN70, the lowest airport of FAA NASR 2026-05-14; no station is lower."""

_HIGHEST_FT = 14_472.0
"""Daocheng Yading, the highest civil airport at 4,411 m (as reported when it opened in 2013); of FAA NASR 2026-05-14
the highest heliport lies at 12,442 ft and the highest VOR at 11,800."""

_NEAR_TOP_FT = 500.0
"""How far a peak may stand above the heights that a tile has around it (common practice, no source)."""

_RIFT = (30.5, 33.0, 35.0, 36.0)
"""South, north, west and east of the Jordan valley and the Dead Sea, where the lowest airfield lies at -1,240 ft."""

_LONG_TAXI_MIN = 90.0
_LONGEST_H = 12.0
"""Hardly any flight taxies, or light aeroplane stays up, for so long (common practice, no source)."""


@once_a_flight
@rule(
    "value-doubtful",
    Severity.WARNING,
    group=Group.HEIGHT,
    source="AIM 7-2-2 for altimeters; temperature, time and fuel to taxi: common practice, no source",
    remedy="read the value again: a digit or a unit may have slipped",
    passing=sample("altimeter 970hPa"),
    failing=sample("altimeter 920hPa"),
)
def value_doubtful(case: Case) -> Iterator[Found]:
    """An altimeter setting, a temperature, or what taxiing takes, is hardly ever so.

    Below 28.00 or above 31.00 inches of mercury, which many altimeters cannot be set to (AIM 7-2-2); more than 90
    minutes for taxiing, or more fuel for it, of the route or the aircraft file, than an hour of cruise takes; a
    temperature at the field more than 40 degrees C above or 65 below standard there (ICAO Doc 7488).
    """
    request = case.request
    hpa = request.altimeter_hpa
    if hpa is not None and not _LOWEST_INHG <= in_inches_of_mercury(hpa) <= _HIGHEST_INHG:
        setting = f"altimeter setting {setting_text(hpa, request.altimeter_unit)}"
        message = f"{setting}: many altimeters can be set from 28.00 to 31.00 inHg alone, 948.2 to 1049.7 hPa"
        yield Found(message, span=request.spans.get("altimeter"))
    deviation_c = case.log.conditions.isa_deviation_c
    if request.temperature_c is not None and deviation_c is not None:
        doubt = temperature_doubt(request.temperature_c, case.log.route.points[0].name, deviation_c)
        if doubt is not None:
            yield Found(doubt, span=request.spans.get("temperature"))
    if request.taxi_min is not None and request.taxi_min > _LONG_TAXI_MIN:
        yield Found(f"{whole(request.taxi_min)} minutes are long for taxiing", span=request.spans.get("taxi"))
    burn, aircraft = case.log.fuel.burn_per_h, case.log.conditions.aircraft
    by_file = request.taxi is None
    taxi = aircraft.taxi_fuel if by_file and aircraft is not None else request.taxi
    if taxi is not None and burn is not None and case.log.conditions.taxi > burn:
        source = " by the aircraft file" if by_file else ""
        message = f"{_written(taxi)} for taxiing{source} is more than an hour of cruise takes"
        yield Found(message, span=request.spans.get("aircraft" if by_file else "taxi"))


@rule(
    "elevation-doubtful",
    Severity.WARNING,
    group=Group.HEIGHT,
    source="the lowest airport of FAA NASR 2026-05-14, CN70, lies at -223 ft; airfields by the Dead Sea down to -1,240;"
    " the highest, Daocheng Yading, at 14,472 ft; the terrain handed in",
    remedy="read the elevation again: its sign may be a slip, or a digit one too many",
    passing=sample("airport XOLD N45 41.00 W039 20.00 elev -210ft"),
    failing=sample("airport XOLD N45 41.00 W039 20.00 elev -350ft"),
)
def elevation_doubtful(case: Case) -> Iterator[Found]:
    """A station or airport lies lower than any of the United States, and not by the Dead Sea, or higher than any.

    Also where terrain is looked at and it lies more than 500 ft above everything near it.
    """
    known = [point.place for point in case.log.route.points] + [station for station, _ in case.stations]
    highest_ft = max((one.elevation_ft for one in known if one is not None and one.elevation_ft is not None), default=0)
    # Hardly any flight has one to look at.
    if below(case.ground_ft, _LOWEST_FT) or highest_ft > _HIGHEST_FT or case.request.terrain is not None:
        ends = (
            (place, leg, beside)
            for leg in case.first_legs
            for place, beside in (
                (leg.stretch.start.place, leg.stretch.abeam[:1]),
                (leg.stretch.end.place, leg.stretch.abeam[-1:]),
            )
        )
        for place, leg, beside in (*ends, *((station, leg, ()) for station, leg in case.stations)):
            if place is not None and place.elevation_ft is not None:
                doubt = _elevation_doubt(place.elevation_ft, place.position, beside)
                if doubt is not None:
                    yield Found(f"{place.ident} at {whole(place.elevation_ft)} ft {doubt}", leg, about=place.ident)


def _elevation_doubt(elevation_ft: float, position: Position | None, beside: tuple[Abeam, ...]) -> str | None:
    """What speaks against an elevation; `beside` is the ground by the way where it begins or ends there."""
    if below(elevation_ft, _LOWEST_FT) and not _in_rift(position):
        return "is lower than any airport but by the Dead Sea"
    if elevation_ft > _HIGHEST_FT:
        return "is higher than any airport"
    # Where some terrain is missing the highest may be there.
    for piece in beside:
        if piece.minimum_ft is not None and piece.top is not None and elevation_ft > piece.top.top_ft + _NEAR_TOP_FT:
            return f"is {whole(elevation_ft - piece.top.top_ft)} ft above all that stands near it by the terrain"
    return None


def _in_rift(position: Position | None) -> bool:
    """Whether a place lies in the Jordan valley."""
    south, north, west, east = _RIFT
    return position is not None and south < position.latitude_deg < north and west < position.longitude_deg < east


@once_a_flight
@rule(
    "endurance-doubtful",
    Severity.WARNING,
    group=Group.FLYING,
    at_times=(Severity.NOTE,),
    source="common practice, no source: hardly any light aeroplane stays up for 12 hours",
    remedy="read fuel and burn again with their units: gallons may be litres, or a digit too many",
    passing=BASE,
    failing=sample("fuel 38gal", "burn 8.5L/h"),
)
def endurance_doubtful(case: Case) -> Iterator[Found]:
    """The fuel on board at a take-off lasts more than 12 hours at the burn.

    Up to that a note where fuel and burn are written in different units, gallons and litres or pounds and kilograms:
    both are counted as written.
    """
    request, burn = case.request, case.log.fuel.burn_per_h
    if not burn:
        return
    board, at = case.log.conditions.on_board, "the burn by file" if request.burn is None else _written(request.burn)
    mixed = request.fuel is not None and request.burn is not None and _other_unit(request.fuel, request.burn)
    if request.fuel is not None and board is not None and (mixed or board > _LONGEST_H * burn):
        message = f"{_written(request.fuel)} of fuel, less taxi, last {_lasting(board, burn)} at {at}"
        severity = None if board > _LONGEST_H * burn else Severity.NOTE
        span = request.spans.get("fuel")
        yield Found(f"{message}: the units differ" if mixed else message, None, severity, span)
    for leg in case.legs:
        if leg.fuel_taken is not None and leg.fuel_taken > _LONGEST_H * burn:
            taken = f"{there(case.log, leg.fuel_taken)} of fuel at take-off from {leg.end.name}"
            yield Found(f"{taken} last {_lasting(leg.fuel_taken, burn)} at {at}", leg)


def _lasting(fuel: float, burn_per_h: float) -> str:
    """How long fuel lasts, in hours and minutes."""
    return minutes(down(fuel / burn_per_h * 60.0, 1.0))


def _other_unit(fuel: Amount, burn: Amount) -> bool:
    """Whether a burn is in another unit than fuel; volume beside mass takes a density, and who states one knows."""
    unit = burn.unit.removesuffix("/h")
    return unit != fuel.unit and converted(Amount(burn.value, unit), fuel.unit) is not None


def _written(amount: Amount) -> str:
    """An amount as the file has it: `38 gal`, `8.5 L/h`."""
    return f"{amount.value:g} {amount.unit}"
