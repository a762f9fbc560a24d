"""A second reading of ground and masts below direct legs, by their own figures, geodesics and the route file alone.

14 CFR 91.177(a)(2): 1,000 ft, in mountains 2,000, above the highest obstacle within 4 NM of the course, or within the
error of its guidance where that is more: 4.5 degrees (FAA JO 7400.2, 20-3-3), by ICAO Doc 8168 the root of the squares
of 3.5, 1, 2.7 and 3.5. Where no station guides the area opens by 15 degrees (Doc 8168, volume II, II-3-1) from the
width that the part before had.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, cached_property
from itertools import groupby
from math import asin, ceil, copysign, cos, hypot, radians, sin, sqrt, tan

from helpers import independent
from helpers.flown import Json
from helpers.made import Made
from helpers.masts import MASTS, PLACE_NM, TOP_FT
from helpers.second_heights import bound
from helpers.second_way import HALF_FT, Way, limits_of, ways
from helpers.tiles import island_height_m

LOOKED_NM = 4.0
OPENING = tan(radians(15.0))
ERRORS_DEG = {"": 4.5, "faa": 4.5, "icao": hypot(3.5, 1.0, 2.7, 3.5)}
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


@dataclass(frozen=True)
class Area:
    """A part of a course on one guidance, and what is looked at beside it: so wide at its start, opening by the NM."""

    start: Place
    end: Place
    first_nm: float
    opening: float

    @cached_property
    def line(self) -> tuple[float, float, float]:
        """Its length, NM, and the course at both ends."""
        return independent.inverse(self.start, self.end)

    @property
    def length_nm(self) -> float:
        """How long the part is."""
        return self.line[0]

    def width_nm(self, along_nm: float) -> float:
        """How far to each side is looked at, so far along the part."""
        return max(LOOKED_NM, self.first_nm + self.opening * along_nm)

    @property
    def widest_nm(self) -> float:
        """The same at its wider end."""
        return max(self.width_nm(0.0), self.width_nm(self.length_nm))

    def seen(self, place: Place) -> tuple[float, float]:
        """How far along the part, and to the side of its great circle, a place lies."""
        away_nm, bearing_deg, _ = independent.inverse(self.start, place)
        off = radians(bearing_deg - self.line[1])
        aside_nm = abs(ROUND_NM * asin(sin(away_nm / ROUND_NM) * sin(off)))
        return copysign(sqrt(max(0.0, away_nm**2 - aside_nm**2)), cos(off)), aside_nm

    def around(self, among: list[High]) -> Iterator[High]:
        """Those of the heights that are not far off; a mast may be off by a mile."""
        norths, easts = zip(self.start, self.end, strict=True)
        high, wide = ((self.widest_nm + 1.5) / nm for nm in (59.0, 40.0))
        for one in among:
            north, east = one.place
            if min(norths) - high < north < max(norths) + high and min(easts) - wide < east < max(easts) + wide:
                yield one

    def inside_nm(self, one: High) -> float:
        """How far inside the area, round at its ends, a height may lie; negative outside."""
        along_nm, aside_nm = self.seen(one.place)
        if along_nm < 0.0:
            aside_nm = independent.inverse(self.start, one.place)[0]
        elif along_nm > self.length_nm:
            aside_nm = independent.inverse(self.end, one.place)[0]
        return self.width_nm(min(max(along_nm, 0.0), self.length_nm)) + one.unsure_nm - aside_nm

    def highest_ft(self, among: list[High]) -> tuple[float, float]:
        """The highest surely inside, and the highest that may be; feet."""
        may_ft: float | None = None
        for one in self.around(among):
            inside_nm = self.inside_nm(one)
            if inside_nm > -EDGE_NM and may_ft is None:
                may_ft = one.feet
            if inside_nm > EDGE_NM:
                return one.feet, may_ft or one.feet
        return 0.0, may_ft or 0.0


def guiding(leg: Json) -> str | None:
    """The station that guides on a leg."""
    return leg["guidance"] and str(leg["guidance"]["ident"])


def areas(way: Way, stretch: list[Json]) -> list[Area] | None:
    """The area of each part of a stretch; None where a place is not known."""
    said = " ".join(way.statements["accuracy"])
    error = tan(radians(ERRORS_DEG[said] if said in ERRORS_DEG else float(said)))
    found, before_nm = [], LOOKED_NM
    for ident, held in groupby(stretch, guiding):
        legs = list(held)
        start, end = independent.place(legs[0]["from"]), independent.place(legs[-1]["to"])
        station = way.places.get(ident or "")
        if start is None or end is None or (ident is not None and station is None):
            return None
        if station is None:
            one = Area(start, end, before_nm, OPENING)
        else:
            first_nm, last_nm = (error * independent.inverse(station, at)[0] for at in (start, end))
            one = Area(start, end, first_nm, (last_nm - first_nm) / independent.inverse(start, end)[0])
        found.append(one)
        before_nm = one.width_nm(one.length_nm)
    return found


def ground_agrees(made: Made) -> Iterator[str]:
    """The highest ground and the minimum over it, and where a leg or a stated minimum is below that."""
    for way in ways(made):
        if not way.statements["terrain"]:
            continue
        low_ft = {leg["number"]: feet for leg, feet in bound(way)}
        for stretch in way.stretches:
            parts = areas(way, stretch) if "ground" in stretch[0] else None
            if parts is not None:
                yield from of_stretch(way, stretch, parts, low_ft)


def of_stretch(way: Way, stretch: list[Json], parts: list[Area], low_ft: dict[int, float]) -> Iterator[str]:
    """What is told of a stretch whose ground this reading knows."""
    ground, name = stretch[0]["ground"], f"{stretch[0]['from']['ident']} to {stretch[-1]['to']['ident']}"
    widest_nm = max(one.widest_nm for one in parts)
    if abs(ground["half_width_nm"] - widest_nm) > EDGE_NM:
        yield f"{name}: {ground['half_width_nm']} NM to each side are looked at, by the guidance {widest_nm}"
    if not all(covered(one.start, one.end, around_nm=one.widest_nm) for one in parts):
        if ground["minimum_ft"] is not None and not covered(parts[0].start, parts[-1].end, around_nm=0.0):
            yield f"{name}: the minimum is {ground['minimum_ft']} where no terrain is"
        return
    least_ft, most_ft = highest_of(parts, hills())
    tops_ft = highest_of(parts, hills_and_masts()) if ground["obstacles_known"] else (least_ft, most_ft)
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
        told, here_ft = way.told.get(("under-terrain", leg["number"])), low_ft.get(leg["number"], low)
        asked = "error" if way.by_ifr else "warning" if here_ft < tops_ft[0] - HALF_FT else "note"
        if told != (asked if here_ft < low - HALF_FT else None):
            yield f"leg {leg['number']} at {here_ft}: under-terrain of {low} is told as {told}, by the numbers {asked}"


def highest_of(parts: list[Area], among: list[High]) -> tuple[float, float]:
    """The highest surely inside any part, and the highest that may be; feet."""
    surely, maybe = zip(*(one.highest_ft(among) for one in parts), strict=True)
    return max(surely), max(maybe)
