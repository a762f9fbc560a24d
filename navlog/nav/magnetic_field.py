"""The World Magnetic Model's field: the spherical harmonics of its coefficients, as its technical report sums them.

The coefficients are those that pygeomag ships, of which this is the only importer. Its own sum gives the same numbers
to the last bit at twice the cost: it counts the coefficients on to the day and makes its tables anew for every place.
"""

# ruff: noqa: B905 - `strict` costs a fifth of the whole sum.
from __future__ import annotations

from functools import lru_cache
from importlib import import_module
from math import cos, radians, sin, sqrt
from typing import TypeAlias

from navlog.nav.chart import Position

_DEGREE = 12
# How much faster the outward part of a degree falls off with distance.
_WEIGHTS = tuple(n + 1.0 for n in range(1, _DEGREE + 1))
# The WGS84 ellipsoid and the model's reference sphere, kilometres.
_A2, _B2 = 6378.137 * 6378.137, 6356.7523142 * 6356.7523142
_C2, _C4 = _A2 - _B2, _A2 * _A2 - _B2 * _B2
_SPHERE_KM = 6371.2
# How far from a pole its east is taken: the sum divides by it, and what is left of it is 1e-12 of the field.
_BESIDE_POLE = 1e-12

_Row: TypeAlias = tuple[tuple[float, ...], ...]


@lru_cache(maxsize=64)
def field_rows(name: str, decimal_year: float) -> tuple[_Row, ...]:
    """The coefficients of the model of that name, such as "2025", at a time, in nanotesla.

    A row for each degree, each by order: the factor of the Legendre recursion, the order, and the two Gauss
    coefficients without their Schmidt factor.
    """
    (epoch, *_), told = getattr(import_module(f"pygeomag.wmm.wmm_{name}"), f"WMM_{name}")
    coefficients = {(degree, order): rest for degree, order, *rest in told}
    years, factor = decimal_year - epoch, 1.0
    rows = []
    for n in range(1, _DEGREE + 1):
        factor = schmidt = factor * float(2 * n - 1) / float(n)
        row = []
        for m in range(n + 1):
            if m:
                schmidt *= sqrt((n - m + 1) * (2 if m == 1 else 1) / (n + m))
            g, h, g_a_year, h_a_year = (schmidt * each for each in coefficients[n, m])
            recursion = ((n - 1) ** 2 - m * m) / ((2 * n - 1) * (2 * n - 3))
            row.append((recursion, float(m), g + years * g_a_year, h + years * h_a_year))
        rows.append(tuple(zip(*row)))
    return tuple(rows)


def horizontal_field(rows: tuple[_Row, ...], position: Position, height_km: float = 0.0) -> tuple[float, float]:
    """The field to the north and to the east in nanotesla, at a height above the WGS84 ellipsoid."""
    latitude, longitude = radians(position.latitude_deg), radians(position.longitude_deg)
    sine, cosine = sin(latitude), cos(latitude)
    # The place as the sphere has it: its distance from the centre, and its angle from the pole.
    q = sqrt(_A2 - _C2 * (sine * sine))
    flattening = (height_km * q + _A2) / (height_km * q + _B2)
    up = sine / sqrt(flattening * flattening * (cosine * cosine) + sine * sine)
    aside = sqrt(1.0 - up * up) or _BESIDE_POLE
    distance = sqrt(height_km * height_km + 2.0 * (height_km * q) + (_A2 * _A2 - _C4 * (sine * sine)) / (q * q))
    of_a_degree = _SPHERE_KM / distance
    by_degree = of_a_degree * of_a_degree
    sines, cosines = [0.0, sin(longitude)], [1.0, cos(longitude)]
    for _ in range(2, _DEGREE + 1):
        last_sine, last_cosine = sines[-1], cosines[-1]
        sines.append(sines[1] * last_cosine + cosines[1] * last_sine)
        cosines.append(cosines[1] * last_cosine - sines[1] * last_sine)
    out = south = east = 0.0
    # The Legendre functions of the two degrees before, by order, and their slopes.
    before: list[float] = []
    slopes_before: list[float] = []
    legendre, slopes = [1.0], [0.0]
    for weight, (recursions, orders, gs, hs) in zip(_WEIGHTS, rows):
        by_degree *= of_a_degree
        # A function of higher order than degree is nothing.
        before.append(0.0)
        slopes_before.append(0.0)
        now = [up * one - k * two for k, one, two in zip(recursions, legendre, before)]
        now.append(aside * legendre[-1])
        slopes_now = [
            up * slope - aside * one - k * two
            for k, one, slope, two in zip(recursions, legendre, slopes, slopes_before)
        ]
        slopes_now.append(aside * slopes[-1] + up * legendre[-1])
        for m, g, h, s, c, one, slope in zip(orders, gs, hs, sines, cosines, now, slopes_now):
            part = by_degree * one
            along = g * c + h * s
            south -= by_degree * along * slope
            east += m * (g * s - h * c) * part
            out += weight * along * part
        before, slopes_before, legendre, slopes = legendre, slopes, now, slopes_now
    # From the sphere's north to the ellipsoid's.
    d = sqrt(_A2 * (cosine * cosine) + _B2 * (sine * sine))
    north = -south * ((height_km + d) / distance) - out * (_C2 * cosine * sine / (distance * d))
    return north, east / aside
