"""What a flight meets, from what was asked: aircraft, winds made true, fuel in one unit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from navlog.flightlog.records import BulletinUse, Conditions, FuelUnit
from navlog.flightlog.winds import bulletin_columns, stated_columns
from navlog.nav.chart import Airport
from navlog.nav.problems import Span, problem_error
from navlog.nav.units import Amount, fuel_in
from navlog.nav.wind import WindColumn
from navlog.request.levels import level_altitude_ft
from navlog.request.records import Request
from navlog.request.references import References
from navlog.resolve.lookup import ChartLookup
from navlog.resolve.route import Route

if TYPE_CHECKING:
    from navlog.request.aircraft import Aircraft


def conditions(route: Route, references: References | None = None, catalogue: ChartLookup | None = None) -> Conditions:
    """Aircraft, winds and fuel of the flight that `route` answers.

    Raises NavlogError where a named file cannot be used, where volume and mass of fuel are mixed without a
    density, or where a wind cannot be made true or has no place.
    """
    request, files = route.request, references if references is not None else References()
    aircraft = files.aircraft(request.aircraft) if request.aircraft is not None else None
    unit = _fuel_unit(request, aircraft)
    columns: tuple[WindColumn, ...] | None = None
    turned: tuple[str, ...] = ()
    if request.winds:
        columns, turned = stated_columns(route)
    uses: list[BulletinUse] = []
    for reference in request.bulletins:
        more, use = bulletin_columns(route, files.bulletin(reference), catalogue)
        columns = (*(columns or ()), *more)
        uses.append(use)
    fuel = _amount(request, "fuel", request.fuel, unit, aircraft)
    taxi = _amount(request, "taxi", request.taxi, unit, aircraft)
    if taxi is None and aircraft is not None:
        taxi = _amount(request, "aircraft", aircraft.taxi_fuel, unit, aircraft)
    stops = tuple(
        (stretch.number, _amount(request, "route", stretch.end.landing.fuel, unit, aircraft) or 0.0)
        for stretch in route.stretches
        if stretch.end.landing is not None and stretch.end.landing.fuel is not None
    )
    return Conditions(
        day=request.day,
        off=request.off.moment if request.off is not None else None,
        zone=request.off.zone if request.off is not None else None,
        winds=columns,
        winds_turned=turned,
        fuel_unit=unit,
        burn_per_h=_amount(request, "burn", _per_hour(request.burn), unit, aircraft),
        # `fuel` is what the tanks hold at the ramp; the log begins at take-off.
        on_board=None if fuel is None else fuel - (taxi or 0.0),
        taxi=taxi or 0.0,
        extra=_amount(request, "extra", request.extra, unit, aircraft) or 0.0,
        contingency_percent=request.contingency_percent or 0.0,
        fuel_at_stops=stops,
        aircraft=aircraft,
        aircraft_unit=_aircraft_unit(request, aircraft, unit),
        altimeter_hpa=request.altimeter_hpa,
        altimeter_unit=request.altimeter_unit,
        isa_deviation_c=_isa_deviation_c(route),
        pattern_ft=request.pattern_ft,
        vfr=request.rules == "vfr",
        bulletins=tuple(uses),
        level_span=_highest_span(route),
    )


def _highest_span(route: Route) -> Span | None:
    """Where the highest level of the route is written: the `altitude`, or a point of the route line."""
    hpa = route.request.altimeter_hpa
    heights_ft = [level_altitude_ft(stretch.level, hpa) for stretch in route.stretches]
    highest = route.stretches[heights_ft.index(max(heights_ft))]
    return route.request.spans.get("altitude") if highest.level == route.request.cruise else highest.span


def _per_hour(burn: Amount | None) -> Amount | None:
    """The fuel of one hour at a burn."""
    return None if burn is None else Amount(burn.value, burn.unit.removesuffix("/h"))


def _fuel_unit(request: Request, aircraft: Aircraft | None) -> FuelUnit:
    """The unit that the pilot wrote: of the fuel on board, else of the burn, else of the aircraft file."""
    given = [amount.unit for amount in (request.fuel, _per_hour(request.burn), request.taxi, request.extra) if amount]
    density = None
    if aircraft is not None:
        density = aircraft.fuel_density_kg_per_l
        given += [aircraft.fuel_unit] if aircraft.fuel_unit is not None else []
    # The first that the pilot wrote, so that the log answers in his unit and the book's is turned.
    name = given[0] if given else "gal"
    gallon = fuel_in(Amount(1.0, name), "gal", density_kg_per_l=density)
    return FuelUnit(name, None if gallon is None else gallon.value)


def _aircraft_unit(request: Request, aircraft: Aircraft | None, unit: FuelUnit) -> float:
    """How many of the log's fuel unit one unit of the aircraft file is."""
    if aircraft is None or aircraft.fuel_unit is None:
        return 1.0
    return _amount(request, "aircraft", Amount(1.0, aircraft.fuel_unit), unit, aircraft) or 1.0


def _amount(
    request: Request, keyword: str, given: Amount | None, unit: FuelUnit, aircraft: Aircraft | None
) -> float | None:
    """An amount of fuel in `unit`; None where nothing is given."""
    if given is None:
        return None
    density = aircraft.fuel_density_kg_per_l if aircraft is not None else None
    found = fuel_in(given, unit.name, density_kg_per_l=density)
    if found is None:
        raise problem_error(
            "mixed-fuel-units",
            f"`{given.unit}` and `{unit.name}` cannot be counted together without a density",
            span=request.spans.get(keyword),
            hint=f"write every amount of fuel in {unit.name}, or give the aircraft file a fuel density",
        )
    return found.value


def _isa_deviation_c(route: Route) -> float | None:
    """How much warmer than standard the stated temperature is; it is the air's at the field of departure.

    None where no temperature is stated, or the field's elevation is not known.
    """
    request, start = route.request, route.points[0].place
    elevation_ft = start.elevation_ft if isinstance(start, Airport) else None
    if request.temperature_c is None or elevation_ft is None:
        return None
    from navlog.nav.atmosphere import pressure_altitude_ft, standard_temperature_c

    if request.altimeter_hpa is not None:
        # A thermometer at the field measures air of the field's pressure, by which the standard temperature goes.
        elevation_ft = pressure_altitude_ft(indicated_altitude_ft=elevation_ft, altimeter_hpa=request.altimeter_hpa)
    return request.temperature_c - standard_temperature_c(elevation_ft)
