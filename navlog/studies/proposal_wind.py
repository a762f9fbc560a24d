"""What the links of a network cost in the wind."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache

from navlog.catalogue.nearness import bearing_deg
from navlog.catalogue.network import Network
from navlog.nav.chart import Position
from navlog.nav.wind import WindColumn, at_place, triangle

_NEVER_NM = 100_000.0
"""A link that the wind does not let be flown costs more than any way round it."""


def link_weights(
    network: Network, winds: Sequence[WindColumn], tas_kt: float, altitude_ft: float
) -> Callable[[int], float]:
    """What a link costs: the miles of still air that take as long, in the wind at its middle."""

    @cache
    def weight(link: int) -> float:
        start, end = network.position(network.start[link]), network.position(network.end[link])
        east_deg = (end.longitude_deg - start.longitude_deg + 180.0) % 360.0 - 180.0
        middle = Position((start.latitude_deg + end.latitude_deg) / 2.0, start.longitude_deg + east_deg / 2.0)
        wind = at_place(winds, middle, altitude_ft).wind
        solved = triangle(true_course_deg=bearing_deg(start, end), tas_kt=tas_kt, wind=wind)
        nm = network.distance_nm[link]
        return nm * tas_kt / solved.groundspeed_kt if solved.groundspeed_kt else _NEVER_NM + nm

    return weight
