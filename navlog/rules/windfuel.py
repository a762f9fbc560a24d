"""Wind that cannot be flown, and fuel that is not there."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.figures import down, fuel, up, whole
from navlog.flightlog.records import Leg, Log
from navlog.rules.registry import Found, Rule, Severity, rule
from navlog.rules.samples import BASE, sample

BEYOND_FT = 2_000.0
"""A wind held over more than this is a guess (the format's own bound)."""


@rule(
    "unflyable-wind",
    Severity.ERROR,
    source="wind triangle: crosswind no more than the true airspeed and a groundspeed above 0",
    remedy="wait for another wind, fly faster, or go another way",
    passing=BASE,
    failing=sample("wind 300/150"),
    acceptable=False,
)
def unflyable_wind(log: Log) -> Iterator[Found]:
    """No heading holds the course, or the wind blows the aeroplane backwards."""
    for leg in log.legs:
        if leg.triangle is not None and leg.triangle.unflyable is not None:
            yield Found(f"impossible at {whole(leg.tas_kt)} kt: {leg.triangle.unflyable}", leg)


@rule(
    "wind-beyond-heights",
    Severity.WARNING,
    source="the route file's heights; winds change with height",
    remedy="give the wind at a height nearer the one flown",
    passing=sample("wind 3000 230/12 6000 240/18"),
    failing=sample("wind 9000 230/12 12000 240/18"),
)
def wind_beyond_heights(log: Log) -> Iterator[Found]:
    """The wind is held over more than 2,000 ft beyond the heights given."""
    for leg in log.legs:
        if leg.wind_beyond_ft > BEYOND_FT:
            yield Found(f"the nearest wind is {whole(leg.wind_beyond_ft)} ft away in height", leg)
            return


@rule(
    "reserve",
    Severity.ERROR,
    source="14 CFR 91.151, 91.167",
    remedy="take more fuel, stop on the way, or fly a shorter route",
    passing=BASE,
    failing=sample("fuel 8gal"),
)
def reserve(log: Log) -> Iterator[Found]:
    """The reserve is not on board at a landing."""
    figures = log.fuel
    if figures.reserve is None:
        return
    for leg in log.legs:
        if not (leg.lands or leg is log.legs[-1]) or leg.fuel_remaining is None:
            continue
        if 0.0 <= leg.fuel_remaining < figures.reserve - 1e-9:
            needed = f"{whole(figures.reserve_min)} min, {amount(log, figures.reserve, upward=True)}"
            message = f"{printed(log, leg)} left at {leg.end.name}, and the reserve is {needed}"
            yield Found(f"{message} ({figures.reserve_rule})", leg)


@rule(
    "fuel-below-zero",
    Severity.ERROR,
    source="arithmetic",
    remedy="take more fuel, or stop on the way",
    passing=BASE,
    failing=sample("fuel 4gal"),
    acceptable=False,
)
def fuel_below_zero(log: Log) -> Iterator[Found]:
    """The fuel on board runs out on the way."""
    for leg in log.legs:
        if leg.fuel_remaining is not None and leg.fuel_remaining < 0.0:
            yield Found(f"the fuel runs out before {leg.end.name}", leg)
            return


def printed(log: Log, leg: Leg) -> str:
    """What is left at a leg's end, as printed: rounded down."""
    return amount(log, leg.fuel_remaining or 0.0, upward=False)


def amount(log: Log, value: float, *, upward: bool) -> str:
    """An amount of fuel with its unit."""
    step = log.fuel_unit.step
    return f"{fuel((up if upward else down)(value, step), step)} {log.fuel_unit.name}"


RULES: tuple[Rule, ...] = (unflyable_wind, wind_beyond_heights, reserve, fuel_below_zero)
