"""A second reading of the climb after take-off under IFR: where it reaches the minimum of its way, and how steep it is.

14 CFR 91.177(a) begins "Except when necessary for takeoff or landing"; FAA AIM 5-2-9 counts on 200 ft a NM, and looks
at obstacles within 25 NM, 46 in mountains.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from helpers.flown import Json
from helpers.made import Made
from helpers.second_way import HALF_FT, Way, lands, ways
from helpers.second_winds import Column, columns, flown

GAINED_FT, NEAR_NM = 200.0, 25.0
EDGE_NM, EDGE_MIN, EDGE = 0.2, 0.6, 0.04
"""What printing, a leg drawn out to its point, and means of 200 ft instead of a few may make."""

TOLD = re.compile(r"minimum of (\d+) ft is reached ([\d.]+) NM from .*?, (\d+) min after .*(?:least|only) (\d+) ft")


@dataclass(frozen=True)
class Reached:
    """A minimum, how far and how long after take-off it is reached, and the least that a NM of the climb gains."""

    minimum_ft: float
    distance_nm: float
    time_min: float
    gains_ft: float


def climbouts_agree(made: Made) -> Iterator[str]:
    """Told of each climb from an airport that has been below the minimum of its way, with these figures."""
    for way in ways(made):
        winds = columns(way)
        told = {way.leg_of(one): one for one in way.findings if one["rule"] == "climb-out"}
        if not way.by_ifr and told:
            yield "a climb-out is told under VFR"
        for climb in climbs(way) if way.by_ifr and winds and way.statements["aircraft"] else ():
            here = next((told[leg["number"]] for leg in climb if leg["number"] in told), None)
            yield from differences(reached(way, winds or [], climb), here, climb)


def climbs(way: Way) -> Iterator[list[Json]]:
    """The legs of each unbroken climb from an airport."""
    for first, leg in enumerate(way.legs):
        begins = way.takes_off if first == 0 else lands(way.legs[first - 1])
        if begins and leg["phase"] == "climb":
            climb: list[Json] = []
            for one in way.legs[first:]:
                if one["phase"] != "climb":
                    break
                climb.append(one)
                if lands(one):
                    break
            yield climb


def reached(way: Way, winds: list[Column], climb: list[Json]) -> Reached | None:
    """The last place from which on a climb is at the minimum of its way; None where it never was below, or stays so."""
    distance_nm = time_min = 0.0
    gains_ft = float("inf")
    found: Reached | None = None
    below_ft: float | None = None
    for leg in climb:
        minimum_ft = leg["minimum_altitude_ft"]
        if minimum_ft is not None:
            is_low = leg["start_altitude_ft"] < minimum_ft - HALF_FT
            if below_ft is not None and not is_low:
                found, below_ft = Reached(minimum_ft, distance_nm, time_min, gains_ft), None
            elif is_low:
                found, below_ft = None, minimum_ft
        height_ft = leg["start_altitude_ft"]
        for step in flown(way, winds, leg):
            distance_nm, time_min = distance_nm + step.distance_nm, time_min + step.time_min
            gains_ft, height_ft = min(gains_ft, (step.end_ft - height_ft) / step.distance_nm), step.end_ft
            if below_ft is not None and minimum_ft is not None and step.end_ft >= below_ft - HALF_FT:
                found, below_ft = Reached(below_ft, distance_nm, time_min, gains_ft), None
    return None if below_ft is not None else found


def differences(place: Reached | None, told: Json | None, climb: list[Json]) -> Iterator[str]:
    """What is told of a climb and is not so."""
    name = f"the climb from leg {climb[0]['number']}"
    if place is None or told is None:
        if (place is None) != (told is None):
            yield f"{name}: {told and told['message']}, by the numbers {place}"
        return
    figures = TOLD.search(told["message"])
    minimum_ft, distance_nm, time_min, gains_ft = (float(one) for one in figures.groups()) if figures else (0.0,) * 4
    off = abs(distance_nm - place.distance_nm) > EDGE_NM or abs(time_min - place.time_min) > EDGE_MIN
    if minimum_ft != place.minimum_ft or off or abs(gains_ft / place.gains_ft - 1.0) > EDGE:
        yield f"{name}: {told['message']}, by the numbers {place}"
    edge = abs(place.gains_ft / GAINED_FT - 1.0) < EDGE or abs(place.distance_nm - NEAR_NM) < EDGE_NM
    grave = place.gains_ft < GAINED_FT or place.distance_nm > NEAR_NM
    if not edge and (told["severity"] == "warning") != grave:
        yield f"{name} is told as a {told['severity']}: {place}"
