"""The model's declination at a place and day, beside the one that a station was aligned to."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from navlog.computations.answer import Solution
from navlog.nav.angles import position_text
from navlog.nav.chart import Position
from navlog.nav.figures import east_west, half_up, tenths
from navlog.nav.magnetism import variation
from navlog.nav.problems import NavlogError
from navlog.nav.workings import Working


class _Declination(Struct, frozen=True):
    """The variation, its error and change; where a station's is given, how its needle and a compass differ.

    `declination_deg` is the variation too, under the wrong name that it had: it goes with the next version.
    `station_difference_deg` is the station's less the model's: a compass flying along the 360 radial in nil
    wind reads that much, east positive.
    """

    position: Position
    day: date
    variation_deg: float
    declination_deg: float
    uncertainty_deg: float | None
    change_deg_per_year: float
    zone: str | None
    model: str
    station_declination_deg: float | None = None
    station_difference_deg: float | None = None


def solve(position: Position, day: date, *, station_declination_deg: float | None = None) -> _Declination:
    """The World Magnetic Model's answer; raises `no-magnetic-model` for a day that no model covers."""
    try:
        found = variation(position, day)
    except NavlogError as error:
        raise NavlogError(*(one._replace(hint="give a day in those years") for one in error.problems)) from None
    difference_deg = None
    if station_declination_deg is not None:
        difference_deg = station_declination_deg - found.declination_deg
    return _Declination(
        position=position,
        day=day,
        variation_deg=found.declination_deg,
        declination_deg=found.declination_deg,
        uncertainty_deg=found.uncertainty_deg,
        change_deg_per_year=found.change_deg_per_year,
        zone=found.zone,
        model=found.model,
        station_declination_deg=station_declination_deg,
        station_difference_deg=difference_deg,
    )


def _workings(found: _Declination) -> tuple[Working, ...]:
    """Where the value comes from, and the station's beside it."""
    steps = [
        Working(
            "declination",
            f"{found.model} at mean sea level, at 00:00 UTC",
            f"latitude {found.position.latitude_deg:.4f}, longitude {found.position.longitude_deg:.4f},"
            f" {found.day.isoformat()}",
            f"{found.variation_deg:+.2f} = {east_west(found.variation_deg)}",
            "World Magnetic Model, NOAA and British Geological Survey",
        )
    ]
    if found.station_declination_deg is not None:
        steps.append(
            Working(
                "needle and compass",
                "station declination - declination of the day",
                f"{found.station_declination_deg:+g} - ({found.variation_deg:+.2f})",
                f"{found.station_difference_deg:+.1f}",
                "a radial counts from the station's north, a compass from the day's",
            )
        )
    return tuple(steps)


def _lines(found: _Declination) -> tuple[str, ...]:
    """Value, uncertainty and yearly change, where a compass fails, and the station's difference."""
    sure = "" if found.uncertainty_deg is None else f", uncertain by {_tenths(found.uncertainty_deg)} degrees"
    yearly = found.change_deg_per_year
    told = [
        f"variation {east_west(found.variation_deg)} at {position_text(found.position)}"
        f" on {found.day.isoformat()} ({found.model}){sure}",
        f"changing {abs(yearly):.2f} degrees {'east' if yearly > 0.0 else 'west'} a year",
    ]
    if found.zone == "caution":
        told.append("caution: the compass is sluggish here (horizontal field under 6,000 nT)")
    elif found.zone == "blackout":
        told.append("the compass is useless here (horizontal field under 2,000 nT)")
    if found.station_difference_deg is not None:
        told.append(_station(found, found.station_difference_deg))
    return tuple(told)


def answer(found: _Declination) -> Solution:
    """What is printed, with its workings."""
    return Solution((found,), _lines(found), _workings(found))


def _station(found: _Declination, difference_deg: float) -> str:
    station = f"station declination {east_west(found.station_declination_deg)}"
    if not half_up(abs(difference_deg), 0.1):
        return f"{station}: needle and compass agree"
    more = "more" if difference_deg > 0.0 else "less"
    return f"{station}: in nil wind the compass reads {_tenths(abs(difference_deg))} {more} than the needle"


def _tenths(value: float) -> str:
    return tenths(half_up(value, 0.1))
