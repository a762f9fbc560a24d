"""A second reading of cruising levels, by the JSON's courses and levels alone.

14 CFR 91.159 (VFR, more than 3,000 ft above the surface): magnetic course 000 to 179 odd thousands plus 500 ft, 180 to
359 even ones plus 500 ft; 91.179(b) (IFR): the thousands themselves. ICAO Annex 2, appendix 3 has the same halves;
NZ CAR 91.313 and 91.425 count odd levels from 270 through 089, VFR above 3,000 ft.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from helpers.flown import Json
from helpers.grammar_published import published_elevations_ft
from helpers.made import Made
from helpers.second_way import Way, ways

EDGE_DEG = 4.0
SURFACE_FT = 3000.0


def cruising_levels_agree(made: Made) -> Iterator[str]:
    """A level of the other half is told where no course can be counted otherwise; a right one is not."""
    for way in ways(made):
        if way.statements["terrain"]:
            continue  # the surface is then the ground's
        told = [leg for leg in way.legs if ("cruising-level", leg["number"]) in way.told]
        for leg in told:
            if {is_right(way, leg, half) for half in halves(way, leg)} == {True} and not near_edge(way, leg):
                yield f"leg {leg['number']}: {leg['altitude_ft']} is told on {courses(way, leg)}"
        severity = "note" if way.by_ifr else "warning"
        for stretch in way.stretches:
            for leg in cruised(stretch):
                decided = halves(way, leg)
                if len(decided) != 1 or near_edge(way, leg) or not binds(way, leg):
                    continue
                if is_right(way, leg, *decided):
                    continue
                # Told once for each level and half of the compass, of every leg that flies it.
                if way.told.get(("cruising-level", leg["number"])) not in (severity, "note"):
                    yield f"leg {leg['number']}: {leg['altitude_ft']} on {courses(way, leg)} is not told"


def cruised(stretch: list[Json]) -> list[Json]:
    """The legs of level flight of a stretch, where it is longer than the two minutes that a turn or hold may take."""
    level = [leg for leg in stretch if leg["phase"] == "cruise" and "level_changes" not in leg]
    times = [leg["time_min"] for leg in level]
    return level if None in times or sum(times) > 2.0 + 1e-6 else []


def courses(way: Way, leg: Json) -> list[float]:
    """Every number that may count as the course: those set on the stretch, and the magnetic ones."""
    stretch = way.stretch_of(leg)
    found = [one["magnetic_course_deg"] for one in stretch]
    found += [one["guidance"]["set_course_deg"] for one in stretch if one["guidance"] is not None]
    true_up = any(one["guidance"] is not None and one["guidance"]["north"] == "true" for one in stretch)
    found += [one["true_course_deg"] for one in stretch if true_up]
    return [one for one in found if one is not None]


def odd_from(way: Way) -> float:
    """The first degree of the half with odd levels."""
    return 270.0 if way.statements["levels"] == ["nz"] else 0.0


def halves(way: Way, leg: Json) -> set[bool]:
    """Whether odd levels hold, by each of the courses as printed, in whole degrees."""
    return {(floor(one + 0.5) - odd_from(way)) % 360.0 < 180.0 for one in courses(way, leg)}


def near_edge(way: Way, leg: Json) -> bool:
    """Whether one of the courses is so near to where the halves meet that both may hold."""
    past = [(one - odd_from(way)) % 180.0 for one in courses(way, leg)]
    return any(min(one, 180.0 - one) < EDGE_DEG for one in past)


def binds(way: Way, leg: Json) -> bool:
    """Whether the levels hold so high, whatever the surface below is taken to be.

    Over New Zealand the transition layer, 13,000 ft to FL150 (NZ AIP, ENR 1.7: from memory), has no cruising level.
    """
    if way.statements["levels"] == ["nz"] and 13_000.0 < leg["altitude_ft"] < 15_000.0:
        return False
    highest_ft = max(elevations(way), default=0.0)
    return way.by_ifr or leg["altitude_ft"] > SURFACE_FT + highest_ft + 300.0


def elevations(way: Way) -> Iterator[float]:
    """Every elevation that the file states, or the published ones of the VORs on the way and beside it; feet."""
    if way.published:
        idents = {leg[end]["ident"] for leg in way.legs for end in ("from", "to")}
        idents |= {leg["guidance"]["ident"] for leg in way.legs if leg["guidance"] is not None}
        known = published_elevations_ft()
        yield from (known[one] for one in idents if one in known)
    for line in way.statements["airport"] + way.statements["station"]:
        words = line.split()
        if "elev" in words:
            yield float(words[words.index("elev") + 1].removesuffix("ft"))


def is_right(way: Way, leg: Json, odd: bool) -> bool:
    """Whether a level is one for the half."""
    thousands, rest = divmod(leg["altitude_ft"], 1000.0)
    return bool(rest == (0.0 if way.by_ifr else 500.0) and thousands % 2 == odd)
