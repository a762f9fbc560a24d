"""A second reading of ground and masts below direct legs, by their own figures, geodesics and the route file alone.

14 CFR 91.177(a)(2): 1,000 ft, in mountains 2,000, above the highest obstacle within 4 NM of the course. Where no
station guides the area opens by 15 degrees from its 4 NM (ICAO Doc 8168, volume II, II-3-1). Stretches of several
guidances, and errors of more than 4 NM, are not read.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from math import asin, ceil, copysign, cos, radians, sin, sqrt, tan

from helpers import independent
from helpers.flown import Json
from helpers.made import Made
from helpers.masts import MASTS, PLACE_NM, TOP_FT
from helpers.second_heights import bound
from helpers.second_way import HALF_FT, Way, limits_of, ways
from helpers.tiles import island_height_m

LOOKED_NM = 4.0
OPENING = tan(radians(15.0))
EDGE_NM = 0.02
"""Nearer to the edge than this a height may lie in or out: the earth is taken for a ball there."""

ROUND_NM = 3440.065
FOOT_M = 0.3048
Place = tuple[float, float]


@dataclass(frozen=True)
class High:
    """A height with what its source allows it to be higher and farther off."""

    feet: float
    place: Place
    unsure_nm: float = 0.0


@cache
def hills() -> list[High]:
    """Every height of the invented islands above the sea, the highest first, a minute apart."""
    found = [
        High(island_height_m(row, column) / FOOT_M, (47.0 - row / 60.0, -41.0 + column / 60.0))
        for row in range(121)
        for column in range(181)
    ]
    return sorted((one for one in found if one.feet > 0.0), key=lambda one: -one.feet)


@cache
def hills_and_masts() -> list[High]:
    """The same with the invented masts, their tolerances added."""
    masts = [High(one.top_ft + TOP_FT[one.accuracy[1]], one.place, PLACE_NM[one.accuracy[0]]) for one in MASTS]
    return sorted([*hills(), *masts], key=lambda one: -one.feet)


def covered(*places: Place, around_nm: float) -> bool:
    """Whether the tile of the islands lies under all that is so near."""
    high, wide = around_nm / 60.0, around_nm / 41.0
    return all(45.0 + high < north < 47.0 - high and -41.0 + wide < east < -38.0 - wide for north, east in places)


def over_the_islands(made: Made) -> bool:
    """Whether a flight lies where the tile of the islands does, and every end of a leg has a position."""
    ends = [independent.place(leg[end]) for leg in made.flight["legs"] for end in ("from", "to")]
    return all(end is not None and covered(end, around_nm=0.0) for end in ends)


def highest_ft(among: list[High], start: Place, end: Place, opening: float) -> tuple[float, float]:
    """The highest surely within the course's area, and the highest that may be in it; feet."""
    length_nm, course_deg, _ = independent.inverse(start, end)
    may_ft: float | None = None
    for one in among:
        away_nm, bearing_deg, _ = independent.inverse(start, one.place)
        off = radians(bearing_deg - course_deg)
        aside_nm = abs(ROUND_NM * asin(sin(away_nm / ROUND_NM) * sin(off)))
        along_nm = copysign(sqrt(max(0.0, away_nm**2 - aside_nm**2)), cos(off))
        if along_nm > length_nm:
            aside_nm = independent.inverse(end, one.place)[0]
        elif along_nm < 0.0:
            aside_nm = away_nm
        width_nm = LOOKED_NM + one.unsure_nm + opening * min(max(along_nm, 0.0), length_nm)
        if aside_nm < width_nm + EDGE_NM and may_ft is None:
            may_ft = one.feet
        if aside_nm < width_nm - EDGE_NM:
            return one.feet, may_ft or one.feet
    return 0.0, may_ft or 0.0


def ground_agrees(made: Made) -> Iterator[str]:
    """The highest ground and the minimum over it, and where a leg or a stated minimum is below that."""
    for way in ways(made):
        if not way.statements["terrain"]:
            continue
        low_ft = {leg["number"]: feet for leg, feet in bound(way)}
        for stretch in way.stretches:
            ground = stretch[0].get("ground")
            start, end = independent.place(stretch[0]["from"]), independent.place(stretch[-1]["to"])
            if ground is None or start is None or end is None:
                continue
            guided = {leg["guidance"] is not None and leg["guidance"]["ident"] for leg in stretch}
            if len(guided) != 1 or (guided != {False} and ground["half_width_nm"] > LOOKED_NM):
                continue
            yield from of_stretch(way, stretch, (start, end), OPENING if guided == {False} else 0.0, low_ft)


def of_stretch(
    way: Way, stretch: list[Json], ends: tuple[Place, Place], opening: float, low_ft: dict[int, float]
) -> Iterator[str]:
    """What is told of a stretch whose ground this reading knows."""
    ground, name = stretch[0]["ground"], f"{stretch[0]['from']['ident']} to {stretch[-1]['to']['ident']}"
    widest_nm = LOOKED_NM + opening * independent.inverse(*ends)[0]
    if not covered(*ends, around_nm=widest_nm):
        if ground["minimum_ft"] is not None and not covered(*ends, around_nm=0.0):
            yield f"{name}: the minimum is {ground['minimum_ft']} where no terrain is"
        return
    least_ft, most_ft = highest_ft(hills(), *ends, opening)
    tops_ft = highest_ft(hills_and_masts(), *ends, opening) if ground["obstacles_known"] else (least_ft, most_ft)
    clearance_ft = 1000.0 if ground["mountainous"] is False else 2000.0
    low, high = (ceil(round((feet + clearance_ft) / 100.0, 6)) * 100.0 for feet in tops_ft)
    if not least_ft - 0.01 <= ground["highest"]["height_ft"] <= most_ft + 0.01:
        yield f"{name}: the highest is {ground['highest']['height_ft']}, by the hills {least_ft}"
    if ground["minimum_ft"] not in (low, high):
        yield f"{name}: the minimum by terrain is {ground['minimum_ft']}, by ground and masts {low}"
    if low != high:
        return
    limits = limits_of(way, stretch)
    if limits.min_ft is not None and limits.mea_ft is None:
        under = {("stated-under-terrain", leg["number"]) for leg in stretch} & way.told.keys()
        if bool(under) != (limits.min_ft < low - HALF_FT):
            yield f"{name}: the stated {limits.min_ft} is {'' if under else 'not '}told against {low}"
    for leg in stretch if limits.min_ft is None and limits.mea_ft is None else ():
        missed = leg["number"] in low_ft and low_ft[leg["number"]] < low - HALF_FT
        if missed != (("under-terrain", leg["number"]) in way.told):
            yield f"leg {leg['number']} at {low_ft.get(leg['number'])}: under-terrain of {low} is told {not missed}"
