"""Magnetic variation by the World Magnetic Model: how much, how sure, and where a compass fails.

Variation is the model's declination in degrees, east positive. The model is that of NOAA's National Centers
for Environmental Information and the British Geological Survey; the one in force on the day is used. This is
the only importer of pygeomag, whose traps end here: heights in kilometres, years as floats, dates outside a
model, and instances that give wrong answers when threads share them.
"""

from __future__ import annotations

import threading
from datetime import date
from functools import lru_cache
from importlib import import_module
from math import atan2, degrees, hypot
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.nav.chart import Position
from navlog.nav.problems import problem_error

if TYPE_CHECKING:
    from pygeomag import GeoMag, GeoMagResult

# Each model holds for five years from the first of January of its first year.
# The second version replaced WMM2015 in 2019, when the pole had moved faster than forecast (NOAA; from memory).
_MODELS = {2010: "2010", 2015: "2015v2", 2020: "2020", 2025: "2025"}
_MODEL_YEARS = 5
_FIRST_YEAR, _LAST_YEAR = min(_MODELS), max(_MODELS) + _MODEL_YEARS - 1


_STRAIGHT_UP_TO_DEG, _NEAR_POLE_DEG, _BEND_DEG = 60.0, 80.0, 1.0
"""The magnetic poles lie beyond 60 degrees of latitude (86 N, 64 S in 2026, WMM2025); within 80 degrees of it
stretches of 100 NM that bend by less are within half a degree of a line (1,500 random ones, WMM2025)."""


class _Variation(Struct, frozen=True):
    """The model's answer for a place and a day.

    `uncertainty_deg` is the error by the formula published with the model, at most 180; None for that of
    2010, whose formula is not known here. `zone` is "caution" where the horizontal field is under 6,000 nT,
    so that a compass is sluggish, and "blackout" under 2,000 nT, where it is useless.
    """

    declination_deg: float
    change_deg_per_year: float
    uncertainty_deg: float | None
    zone: str | None
    model: str


class MagneticField(Struct, frozen=True, cache_hash=True, gc=False, array_like=True):
    """A model's horizontal field at a place at mean sea level, of which each day of that model follows.

    North and east in nT as the model's first year begins, and by how much they change a year: evenly within a model.
    """

    model_year: int
    north_nt: float
    east_nt: float
    north_nt_a_year: float
    east_nt_a_year: float

    def declination_and_zone(self, day: date) -> tuple[float, str | None]:
        """What `declination_and_zone` finds at the place on a day of the model."""
        years = _decimal_year(day) - self.model_year
        north_nt = self.north_nt + years * self.north_nt_a_year
        east_nt = self.east_nt + years * self.east_nt_a_year
        return degrees(atan2(east_nt, north_nt)), _zone(hypot(north_nt, east_nt))


class _ThreadModels(threading.local):
    """The models that one thread has loaded: an instance keeps its work in progress in itself."""

    def __init__(self) -> None:
        self.by_year: dict[int, GeoMag] = {}


_thread = _ThreadModels()


def model_for(day: date) -> str:
    """The name of the model in force on `day`, such as `WMM2025`.

    Raises a `no-magnetic-model` problem for a day that no model covers.
    """
    return f"WMM{_MODELS[_first_year(day)]}"


def variation(position: Position, day: date) -> _Variation:
    """The variation at mean sea level, for the whole day: as it is at 00:00 UTC.

    Height may be left out: 10,000 ft move the variation by 0.015 degrees at most over the United States.
    Raises a `no-magnetic-model` problem for a day that no model covers.
    """
    return _variation_at(position, _first_year(day), _decimal_year(day))


def variation_deg(position: Position, day: date, field: MagneticField | None = None) -> float:
    """`variation(position, day).declination_deg` alone, at half the cost; of the field there where it is known."""
    return declination_and_zone(position, day, field)[0]


def field_at(position: Position, day: date) -> MagneticField:
    """The field at a place by the model in force on a day; raises a `no-magnetic-model` problem."""
    year = _first_year(day)
    first, last = (_evaluate(position, year, float(year + years)) for years in (0, _MODEL_YEARS))
    return MagneticField(year, first.x, first.y, (last.x - first.x) / _MODEL_YEARS, (last.y - first.y) / _MODEL_YEARS)


@lru_cache(maxsize=16384)
def declination_and_zone(position: Position, day: date, field: MagneticField | None = None) -> tuple[float, str | None]:
    """`declination_deg` and `zone` of `variation(position, day)`, at half the cost; a known field's at a tenth."""
    if field is not None and field.model_year == _first_year(day):
        return field.declination_and_zone(day)
    now = _evaluate(position, _first_year(day), _decimal_year(day))
    return now.d, _zone(now.h)


class VariationAlong(Struct, frozen=True, gc=False):
    """The model's variation at three places of a line on a day that a model covers.

    Each is asked for where it is used, and the model's answers are remembered: of most stretches, which are one leg,
    only the middle is.
    """

    start: Position
    middle: Position
    end: Position
    day: date
    start_field: MagneticField | None = None
    middle_field: MagneticField | None = None
    end_field: MagneticField | None = None

    @property
    def start_deg(self) -> float:
        """The variation at the start, degrees."""
        return variation_deg(self.start, self.day, self.start_field)

    @property
    def middle_deg(self) -> float:
        """The variation in the middle, degrees."""
        return variation_deg(self.middle, self.day, self.middle_field)

    @property
    def end_deg(self) -> float:
        """The variation at the end, degrees."""
        return variation_deg(self.end, self.day, self.end_field)

    @property
    def bends(self) -> bool:
        """Whether a straight line between the three is no measure of what lies between them: near a pole.

        Of the earth, beyond 80 degrees of latitude, or of its field, where the three are over 1 degree off one line.
        """
        start, middle, end = self.start.latitude_deg, self.middle.latitude_deg, self.end.latitude_deg
        latitude_deg = max(abs(start), abs(middle), abs(end))
        if latitude_deg <= _STRAIGHT_UP_TO_DEG:
            return False
        return latitude_deg > _NEAR_POLE_DEG or abs(self.start_deg + self.end_deg - 2.0 * self.middle_deg) > _BEND_DEG


def _variation_at(position: Position, model_year: int, decimal_year: float, *, height_km: float = 0.0) -> _Variation:
    """The answer of the model that begins with `model_year`, at a height above the WGS84 ellipsoid."""
    now = _evaluate(position, model_year, decimal_year, height_km)
    # The field's components change evenly with time within a model, so a year's difference is their rate.
    later = _evaluate(position, model_year, decimal_year + 1.0, height_km)
    # The derivative of atan2(y, x), so that no step over 180 degrees near the poles can spoil the rate.
    turning = (now.x * (later.y - now.y) - now.y * (later.x - now.x)) / now.h**2
    return _Variation(
        declination_deg=now.d,
        change_deg_per_year=degrees(turning),
        # Near the magnetic poles the published formula, a share of 1 / h, grows without bound.
        uncertainty_deg=None if model_year < 2015 else min(180.0, now.calculate_uncertainty().d),
        zone=_zone(now.h),
        model=f"WMM{_MODELS[model_year]}",
    )


def _zone(horizontal_nt: float) -> str | None:
    """Where a compass fails; the limits are those published with the model."""
    return "blackout" if horizontal_nt < 2_000.0 else "caution" if horizontal_nt < 6_000.0 else None


def _first_year(day: date) -> int:
    """The year with which the model in force on `day` begins."""
    if not _FIRST_YEAR <= day.year <= _LAST_YEAR:
        raise problem_error(
            "no-magnetic-model",
            f"no magnetic model covers {day.isoformat()}; they reach from {_FIRST_YEAR} to {_LAST_YEAR}",
            hint="state the variation, such as `variation 7E`, or correct the date",
        )
    # A model begins in each year that ends in 0 or 5.
    return day.year - day.year % _MODEL_YEARS


@lru_cache(maxsize=512)
def _decimal_year(day: date) -> float:
    """The day's beginning as a year and the part of it that has passed."""
    first, following = date(day.year, 1, 1), date(day.year + 1, 1, 1)
    return day.year + (day - first).days / (following - first).days


def _evaluate(position: Position, model_year: int, decimal_year: float, height_km: float = 0.0) -> GeoMagResult:
    model = _thread.by_year.get(model_year)
    if model is None:
        model = _thread.by_year[model_year] = _load(model_year)
    return model.calculate(
        glat=position.latitude_deg,
        glon=position.longitude_deg,
        alt=height_km,
        time=decimal_year,
        # The rate of the last year reaches a year beyond the model's end; `_first_year` has refused days outside.
        allow_date_outside_lifespan=True,
    )


def _load(model_year: int) -> GeoMag:
    """A new instance, from the coefficients shipped as a module, which Python imports once, under a lock.

    pygeomag finds its coefficient files by a path that goes wrong when two threads work it out at once.
    """
    from pygeomag import GeoMag

    name = _MODELS[model_year]
    coefficients = getattr(import_module(f"pygeomag.wmm.wmm_{name}"), f"WMM_{name}")
    return GeoMag(coefficients_data=coefficients)
