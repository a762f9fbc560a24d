"""A second reading of what thin air asks for, by the JSON's heights and times and the route file alone.

14 CFR 91.211(a): above 12,500 ft up to 14,000 ft the crew uses oxygen for what is more than 30 minutes, above 14,000 ft
all the time, above 15,000 ft everyone has it; heights are cabin pressure altitudes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from helpers.flown import Json
from helpers.made import Made
from helpers.second_way import Way, lands, ways

HEIGHTS = (12_500.0, 14_000.0, 15_000.0)
SAME_MIN = 0.01
HPA = {"hPa": 1.0, "inHg": 33.8638866667}


def oxygen_agrees(made: Made) -> Iterator[str]:
    """The minutes above the law's heights, and the finding where they ask for oxygen, between each two landings."""
    for way in ways(made):
        over_ft = pressure_ft(way)
        for legs in between_landings(way.legs):
            low_min, high_min = (minutes_above(legs, feet - over_ft) for feet in HEIGHTS[:2])
            asked, edge = True, False  # of a time that is not known oxygen is asked for
            if low_min is not None and high_min is not None:
                asked = high_min > 0.0 or low_min - high_min > 30.0
                edge = abs(low_min - high_min - 30.0) < SAME_MIN
            found = any(("oxygen", leg["number"]) in way.told for leg in legs)
            if found != asked and not edge:
                said = f"{low_min} min above 12500 and {high_min} above 14000 ft"
                yield f"oxygen is {'' if found else 'not '}told of {said}"
        if way.alternate is None:
            for feet in HEIGHTS:
                one, other = way.flight["oxygen"][f"above_{feet:.0f}_min"], minutes_above(way.legs, feet - over_ft)
                if (one is None) != (other is None) or (one is not None and abs(one - other) > SAME_MIN):
                    yield f"{one} min are above {feet:.0f} ft, by the numbers {other}"


def pressure_ft(way: Way) -> float:
    """How much higher the pressure altitude is than what an altimeter on the stated setting shows, at least 0.

    ICAO Doc 7488: what an altimeter counts between 1013.25 hPa and its setting, in feet of the standard atmosphere.
    """
    return max(0.0, shown_by_standard_ft(way))


def shown_by_standard_ft(way: Way) -> float:
    """The same with its sign."""
    found = re.match(r"([\d.]+)(hPa|inHg)", " ".join(way.statements["altimeter"]))
    hpa = float(found[1]) * HPA[found[2]] if found else 1013.25
    return 145_442.156 * (1.0 - float((hpa / 1013.25) ** 0.190263))


def between_landings(legs: list[Json]) -> Iterator[list[Json]]:
    """The legs from each take-off to the next landing."""
    some: list[Json] = []
    for leg in legs:
        some.append(leg)
        if lands(leg) or leg is legs[-1]:
            yield some
            some = []


def minutes_above(legs: list[Json], height_ft: float) -> float | None:
    """The minutes of legs above a height, which changes evenly along a leg; None where the time is not known."""
    total_min = 0.0
    for leg in legs:
        low_ft, high_ft = sorted((leg["start_altitude_ft"], leg["end_altitude_ft"]))
        if high_ft <= height_ft + 0.01:
            continue
        if leg["time_min"] is None:
            return None
        share = 1.0 if low_ft >= height_ft else (high_ft - height_ft) / (high_ft - low_ft)
        total_min += share * leg["time_min"]
    return total_min


def at_the_field(way: Way) -> float:
    """How much colder than standard it is where the flight begins, at the field's pressure; 0 where nothing is said."""
    if not way.statements["temperature"]:
        return 0.0
    first = way.flight["legs"][0]["from"]["ident"]
    line = next((one for one in way.statements["airport"] if one.split()[0] == first), "")
    found = re.search(r"\belev (-?\d+)", line)
    if found is None:
        return 0.0
    field_ft = float(found[1]) + shown_by_standard_ft(way)
    return 15.0 - 1.9812 * field_ft / 1000.0 - float(way.statements["temperature"][0].rstrip("C"))
