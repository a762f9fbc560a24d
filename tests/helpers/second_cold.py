"""A second reading of what cold air asks for, by the file's winds and the JSON's heights alone.

ICAO Doc 8168, volume I: 4 per cent of the height for every 10 C below standard, and by IFALPA's paper of 2018 from
15 C below on.
"""

from __future__ import annotations

from collections.abc import Iterator

from helpers import independent
from helpers.flown import Json
from helpers.made import Made
from helpers.second_air import at_the_field
from helpers.second_heights import bound
from helpers.second_way import HALF_FT, Way, ways
from helpers.second_winds import air, columns

COLD_C = 15.0
EDGE_C = 0.1
EDGE_FT = 2.0


def cold_air_agrees(made: Made) -> Iterator[str]:
    """Told where a minimum is kept by the altimeter and missed in air so cold, and nowhere else."""
    for way in ways(made):
        for leg, low_ft in bound(way):
            minimum_ft, under_c = leg["minimum_altitude_ft"], colder_c(way, leg, low_ft)
            if minimum_ft is None:
                continue
            true_ft = low_ft - 0.004 * under_c * low_ft
            if abs(under_c - COLD_C) < EDGE_C or abs(true_ft - minimum_ft) < EDGE_FT:
                continue
            asked = low_ft >= minimum_ft - HALF_FT and under_c > COLD_C and true_ft < minimum_ft
            if asked != (("cold-air", leg["number"]) in way.told):
                yield f"leg {leg['number']}: {low_ft} ft {under_c:.1f} C under standard, {true_ft:.0f} of {minimum_ft}"


def colder_c(way: Way, leg: Json, altitude_ft: float) -> float:
    """How much colder than standard it is where a leg begins, by the winds there, else as at the field of departure."""
    winds = columns(way)
    known = air(winds, independent.place(leg["from"]), altitude_ft) if winds else None
    if known is None or known[1] is None:
        return at_the_field(way)
    return -known[1]
