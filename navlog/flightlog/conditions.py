"""What a flight meets, from what was asked: winds made true, fuel in one unit."""

from __future__ import annotations

from navlog.angles import normalize_deg
from navlog.chart import Position
from navlog.flightlog.records import Conditions, FuelUnit
from navlog.problems import problem_error
from navlog.request import Request, WindStatement
from navlog.route import Route
from navlog.units import US_GALLON_L, Amount, converted
from navlog.wind import Wind, WindColumn, WindLevel

UNITS = {
    "gal": FuelUnit("gal", 1.0),
    "L": FuelUnit("L", 1.0 / US_GALLON_L),
    "lb": FuelUnit("lb", None),
    "kg": FuelUnit("kg", None),
}
"""Units of fuel; a mass has no volume without a density."""

EVERY_HEIGHT_FT = (-2_000.0, 100_000.0)
"""A wind without a height is the same at both ends of every height that is flown."""


def conditions(route: Route) -> Conditions:
    """Winds and fuel of the flight that `route` answers.

    Raises NavlogError where volume and mass of fuel are mixed without a density, or a magnetic wind has no
    variation to be made true with.
    """
    request = route.request
    unit = fuel_unit(request)
    columns, turned = wind_columns(route)
    fuel, taxi = amount(request, "fuel", request.fuel, unit), amount(request, "taxi", request.taxi, unit)
    stops = tuple(
        (stretch.number, amount(request, "route", stretch.end.landing.fuel, unit) or 0.0)
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
        burn_per_h=amount(request, "burn", per_hour(request.burn), unit),
        on_board=None if fuel is None else fuel - (taxi or 0.0),
        taxi=taxi or 0.0,
        extra=amount(request, "extra", request.extra, unit) or 0.0,
        contingency_percent=request.contingency_percent or 0.0,
        fuel_at_stops=stops,
    )


def per_hour(burn: Amount | None) -> Amount | None:
    """The fuel of one hour at a burn."""
    return None if burn is None else Amount(burn.value, burn.unit.removesuffix("/h"))


def fuel_unit(request: Request) -> FuelUnit:
    """The unit that the pilot wrote: of the fuel on board, else of the burn."""
    for given in (request.fuel, per_hour(request.burn), request.taxi, request.extra):
        if given is not None:
            return UNITS[given.unit]
    return UNITS["gal"]


def amount(request: Request, keyword: str, given: Amount | None, unit: FuelUnit) -> float | None:
    """An amount of fuel in `unit`; None where nothing is given."""
    if given is None:
        return None
    found = converted(given, unit.name)
    if found is None:
        raise problem_error(
            "mixed-fuel-units",
            f"`{given.unit}` and `{unit.name}` cannot be counted together without a density",
            span=request.spans.get(keyword),
            hint=f"write every amount of fuel in {unit.name}",
        )
    return found.value


def true_levels(statement: WindStatement, shift_deg: float) -> tuple[WindLevel, ...]:
    """The stated levels with magnetic directions made true; a wind without a height holds at every height."""
    levels: list[WindLevel] = []
    for level in statement.levels:
        from_deg = normalize_deg(level.from_deg + (shift_deg if level.magnetic else 0.0))
        heights_ft = EVERY_HEIGHT_FT if level.height_ft is None else (level.height_ft,)
        wind = Wind(from_deg, level.speed_kt)
        levels.extend(WindLevel(height_ft, wind, level.temperature_c) for height_ft in heights_ft)
    return tuple(levels)


def wind_columns(route: Route) -> tuple[tuple[WindColumn, ...] | None, tuple[str, ...]]:
    """The stated winds as columns of true winds, and what was said to make a magnetic wind true."""
    statements = route.request.winds
    if not statements:
        return None, ()
    columns, turned = [], []
    for statement, place in zip(statements, route.wind_places, strict=True):
        shift_deg = 0.0
        if any(level.magnetic for level in statement.levels):
            shift_deg, said = magnetic_shift(route, statement, place)
            turned.append(said)
        name = statement.place.text if statement.place is not None else None
        columns.append(WindColumn(true_levels(statement, shift_deg), place, name))
    return tuple(columns), tuple(turned)


def magnetic_shift(route: Route, statement: WindStatement, place: Position | None) -> tuple[float, str]:
    """The variation that makes a magnetic wind true, and how to say so."""
    request = route.request
    if request.variation_deg is not None:
        return request.variation_deg, "magnetic wind made true with the stated variation"
    where = place or next((point.position for point in route.points if point.position is not None), None)
    if where is None:
        raise problem_error(
            "no-variation",
            "a magnetic wind needs a variation, and nothing here has a position",
            span=statement.span,
            hint="write the wind true, or give a `variation`",
        )
    from navlog.magnetism import variation_deg

    at = statement.place.text if statement.place is not None else route.points[0].name
    return variation_deg(where, request.day), f"magnetic wind made true with the variation at {at}"
