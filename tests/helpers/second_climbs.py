"""A second reading of ground and masts beside climbs and descents: every high place, where the flight passes it.

14 CFR 91.177(a) leaves out what take-off and landing need: no minimum binds there, and what is told is where the
flight is planned lower than the top of a place in the area that is looked at.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate, groupby, pairwise

from helpers.flown import Json
from helpers.made import Made
from helpers.second_ground import EDGE_NM, High, areas, covered, guiding, hills, hills_and_masts
from helpers.second_heights import bound
from helpers.second_way import Way, ways

FIELD_NM = 1.0
"""What is so near the end of a stretch is the field itself, as far as tiles can tell."""

SHORT_FT = 85.0
"""What the steepest climb against the wind gains in the 0.1 NM of which the highest place alone is looked at."""


@dataclass(frozen=True)
class Passed:
    """A leg passes a high place at a height.

    `surely`: it lies inside the area that is looked at, abeam of the leg, and no ground of the field may hide it.
    """

    leg: Json
    high: High
    at_ft: float
    surely: bool

    @property
    def over_ft(self) -> float:
        """How far above its top that is."""
        return self.at_ft - self.high.feet


def climbs_agree(made: Made) -> Iterator[str]:
    """Told where a climb or descent passes a high place below its top, unless a minimum binds there; nowhere else."""
    for way in ways(made):
        low_ft = {leg["number"]: feet for leg, feet in bound(way)}
        for stretch in way.stretches if way.statements["terrain"] else ():
            parts = areas(way, stretch) or ()
            if not parts or not all(covered(one.start, one.end, around_nm=one.widest_nm) for one in parts):
                continue
            masts = any(leg.get("ground", {}).get("obstacles_known") for leg in way.legs)
            seen = list(passed(way, stretch, hills_and_masts() if masts else hills()))
            for leg in stretch:
                here = [one for one in seen if one.leg is leg]
                yield from of_leg(way, leg, here, low_ft.get(leg["number"]))


def of_leg(way: Way, leg: Json, seen: list[Passed], bound_ft: float | None) -> Iterator[str]:
    """What is told of a leg that passes these places."""
    told = way.told.get(("climb-under-terrain", leg["number"]))
    for one in seen:
        binds = bound_ft is not None and bound_ft < one.at_ft + 1.0
        if leg["phase"] in ("climb", "descent") and one.surely and one.over_ft < -SHORT_FT and not binds:
            low = way.told.get(("climb-low", leg["number"]))
            if told is None or low not in (None, "warning", "error"):
                yield f"leg {leg['number']} passes {one.high} at {one.at_ft:.0f} ft, told as {told} and {low}"
    if told is not None and not any(one.over_ft < SHORT_FT for one in seen):
        yield f"leg {leg['number']} is told of a place below whose top it is planned nowhere"


def passed(way: Way, stretch: list[Json], among: list[High]) -> Iterator[Passed]:
    """The high places that may be beside a stretch, each where a leg passes it."""
    whole_nm = sum(leg["distance_nm"] for leg in stretch)
    from_nm = 0.0
    for part, (_, held) in zip(areas(way, stretch) or (), groupby(stretch, guiding), strict=True):
        legs = list(held)
        ends_nm = list(accumulate((leg["distance_nm"] for leg in legs), initial=from_nm))
        scale = (ends_nm[-1] - from_nm) / part.length_nm
        for one in part.around(among):
            along_nm, _ = part.seen(one.place)
            inside_nm, at_nm = part.inside_nm(one), min(max(from_nm + along_nm * scale, from_nm), ends_nm[-1])
            by_field = min(at_nm, whole_nm - at_nm) < FIELD_NM
            if inside_nm < -EDGE_NM:
                continue
            surely = inside_nm > EDGE_NM and not by_field and 0.0 < along_nm < part.length_nm
            for leg, (start_nm, end_nm) in zip(legs, pairwise(ends_nm), strict=True):
                if start_nm <= at_nm <= end_nm:
                    share = (at_nm - start_nm) / (end_nm - start_nm)
                    at_ft = leg["start_altitude_ft"] + share * (leg["end_altitude_ft"] - leg["start_altitude_ft"])
                    yield Passed(leg, one, at_ft, surely and start_nm + EDGE_NM < at_nm < end_nm - EDGE_NM)
        from_nm = ends_nm[-1]
