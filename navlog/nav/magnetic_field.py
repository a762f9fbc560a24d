"""The declination of the World Magnetic Model at a place, by its sums of spherical harmonics.

The sums are those of the model's own program, of which pygeomag is a translation, in the same order and so the same to
the last bit; a test holds one against the other. What belongs to the day is worked out once, not for every place: a
library of flights asks for thousands of places on few days.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import atan2, cos, degrees, radians, sin, sqrt
from typing import TypeAlias

_EQUATOR_KM = 6378.137
_POLE_KM = 6356.7523142
_EARTH_KM = 6371.2
"""The WGS84 ellipsoid's half axes, and the radius to which the model's coefficients refer."""

Terms: TypeAlias = tuple[tuple[tuple[float, float, float, float], ...], ...]
"""By degree n from 1 and order m from 0: m, the factor of the recursion, and the coefficients g and h on a day."""


def terms_on(coefficients: Iterable[tuple[int, int, float, float, float, float]], years: float) -> Terms:
    """The model's terms so many years after its epoch, freed of their Schmidt normalisation.

    `coefficients` are degree, order, g and h in nT and their change a year, by degree and order.
    """
    found: list[tuple[tuple[float, float, float, float], ...]] = []
    row: list[tuple[float, float, float, float]] = []
    zonal = norm = 1.0
    for n, m, g, h, g_a_year, h_a_year in coefficients:
        if m == 0:
            zonal = norm = zonal * float(2 * n - 1) / float(n)
            row = []
        else:
            norm *= sqrt(float((n - m + 1) * (2 if m == 1 else 1)) / float(n + m))
        factor = 0.0 if n == 1 else float((n - 1) ** 2 - m**2) / float((2 * n - 1) * (2 * n - 3))
        row.append((float(m), factor, norm * g + years * (norm * g_a_year), norm * h + years * (norm * h_a_year)))
        if m == n:
            found.append(tuple(row))
    return tuple(found)


def declination_deg(latitude_deg: float, longitude_deg: float, terms: Terms) -> float | None:
    """Where the model's horizontal field points at mean sea level, degrees east of true north; None at a pole."""
    sin_lat, cos_lat = sin(radians(latitude_deg)), cos(radians(latitude_deg))
    sin_lon, cos_lon = sin(radians(longitude_deg)), cos(radians(longitude_deg))
    a2, b2 = _EQUATOR_KM * _EQUATOR_KM, _POLE_KM * _POLE_KM
    # Geodetic latitude to the colatitude on a sphere, and the angle between the two verticals.
    q = sqrt(a2 - (a2 - b2) * (sin_lat * sin_lat))
    ct = sin_lat / sqrt((a2 / b2) * (a2 / b2) * (cos_lat * cos_lat) + sin_lat * sin_lat)
    st = sqrt(1.0 - ct * ct)
    if st == 0.0:
        return None
    r = sqrt((a2 * a2 - (a2 * a2 - b2 * b2) * (sin_lat * sin_lat)) / (q * q))
    d = sqrt(a2 * (cos_lat * cos_lat) + b2 * (sin_lat * sin_lat))
    ca, sa = d / r, (a2 - b2) * cos_lat * sin_lat / (r * d)
    sines, cosines = [0.0, sin_lon], [1.0, cos_lon]
    for _ in terms[1:]:
        sines.append(sin_lon * cosines[-1] + cos_lon * sines[-1])
        cosines.append(cos_lon * cosines[-1] - sin_lon * sines[-2])
    ratio = _EARTH_KM / r
    power = ratio * ratio
    radial = south = east = 0.0
    # Legendre functions of the two degrees before, and their derivatives; beyond the diagonal they are 0.
    p1, p2, d1, d2 = [1.0], [0.0], [0.0], [0.0]
    for n, row in enumerate(terms, 1):
        power *= ratio
        p, dp = [], []
        for (m, factor, g, h), sine, cosine, pa, pb, da, db in zip(row, sines, cosines, p1, p2, d1, d2, strict=False):
            here, slope = ct * pa - factor * pb, ct * da - st * pa - factor * db
            p.append(here)
            dp.append(slope)
            across, scaled = g * cosine + h * sine, power * here
            south -= power * across * slope
            east += m * (g * sine - h * cosine) * scaled
            radial += (n + 1.0) * across * scaled
        m, _, g, h = row[n]
        here, slope = st * p1[-1], st * d1[-1] + ct * p1[-1]
        across, scaled = g * cosines[n] + h * sines[n], power * here
        south -= power * across * slope
        east += m * (g * sines[n] - h * cosines[n]) * scaled
        radial += (n + 1.0) * across * scaled
        p1, p2 = [*p, here], [*p1, 0.0]
        d1, d2 = [*dp, slope], [*d1, 0.0]
    return degrees(atan2(east / st, -south * ca - radial * sa))
