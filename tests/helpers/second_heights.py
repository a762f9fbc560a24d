"""A second reading of the rules of altitude, by the JSON's numbers and the route file alone.

14 CFR 91.177(a): no lower than the minimums "except when necessary for takeoff or landing", between MOCA and MEA only
within 22 NM of the VOR in use; (b): "Climb to a higher minimum IFR altitude shall begin immediately after passing the
point beyond which that minimum altitude applies", and a crossing altitude is met at its point. Under VFR no MEA binds.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from helpers import independent
from helpers.flown import Json
from helpers.grammar_published import published_mra_ft
from helpers.made import Made
from helpers.second_way import HALF_FT, Way, lands, limits_of, ways

from navlog.nav.chart import Position
from navlog.nav.mountains import mountainous

MOCA_NM = 22.0
UNSURE_NM = 0.3
"""What a charted distance and one by positions may differ by: nearer to 22 NM both answers pass."""


def heights_agree(made: Made) -> Iterator[str]:
    """Minimums, MOCA, MAA, MCA and MRA: told where they are missed, and nowhere else."""
    for way in ways(made):
        where = "" if way.alternate is None else f"to {way.alternate['to']} "
        seen = dict(expected(way))
        judged = ("under-minimum", "under-mea", "moca-range", "over-maa", "under-mca", "under-mra")
        told = {key: severity for key, severity in way.told.items() if key[0] in judged}
        for key in sorted(seen.keys() | told.keys(), key=str):
            if "either" not in seen.get(key, "") and seen.get(key) != told.get(key):
                yield f"{where}leg {key[1]}: {key[0]} is {told.get(key)}, by the numbers {seen.get(key)}"


def limits_are_those_of_the_file(made: Made) -> Iterator[str]:
    """Each leg has the altitudes that the file states of its way in the direction of flight."""
    for way in ways(made):
        for stretch in way.stretches:
            limits = limits_of(way, stretch)
            for leg in stretch:
                said = {"moca_ft": limits.moca_ft, "maa_ft": limits.maa_ft}
                said["mca_ft"] = limits.mca_ft if leg is stretch[0] else None
                said["minimum_altitude_ft"] = limits.mea_ft if limits.mea_ft is not None else limits.min_ft
                if leg["minimum_kind"] == "terrain":
                    said["minimum_altitude_ft"] = leg["minimum_altitude_ft"]
                for key, stated_ft in said.items():
                    if leg[key] != stated_ft:
                        yield f"leg {leg['number']}: {key} is {leg[key]}, in the file {stated_ft}"


def expected(way: Way) -> Iterator[tuple[tuple[str, int | None], str]]:
    """What is to be told of each leg, and how gravely; `either` where the numbers leave it open."""
    grave = "error" if way.by_ifr else "warning"
    for leg, low_ft in bound(way):
        for rule, severity in of_minimums(way, leg, low_ft, grave):
            yield (rule, leg["number"]), severity
    for before, leg in zip([None, *way.legs], way.legs, strict=False):
        limits = limits_of(way, way.stretch_of(leg))
        high_ft = max(leg["start_altitude_ft"], leg["end_altitude_ft"])
        if limits.maa_ft is not None and high_ft > limits.maa_ft + HALF_FT:
            yield ("over-maa", leg["number"]), grave
        begins = leg is way.stretch_of(leg)[0]
        flies = before is not None and not lands(before)
        crossed_ft = before["end_altitude_ft"] if flies and before else leg["start_altitude_ft"]
        if begins and limits.mca_ft is not None and crossed_ft < limits.mca_ft - HALF_FT:
            yield ("under-mca", leg["number"]), grave
        mra_ft, mark = mra_of(way, leg["to"]["ident"]), leg["identified_by"]
        if mra_ft is not None and mark is not None and leg["end_altitude_ft"] < mra_ft - HALF_FT:
            # A DME that is not received tells nothing, so that a radial beside it counts.
            deaf = {(rule, leg["number"]) for rule in ("out-of-range", "below-horizon")} & way.told.keys()
            if mark["radial_deg"] is not None or deaf:
                yield ("under-mra", leg["number"]), grave if mark["radial_deg"] is not None else "either"


def mra_of(way: Way, ident: str | None) -> float | None:
    """The reception altitude that the file states of a fix, or the published rows."""
    if way.published:
        return None if ident is None else published_mra_ft(ident)
    for line in way.statements["fix"]:
        found = re.search(r"\bmra (\d+)", line)
        if found is not None and line.split()[0] == ident:
            return float(found[1])
    return None


def of_minimums(way: Way, leg: Json, low_ft: float, grave: str) -> Iterator[tuple[str, str]]:
    """What is told of a leg on which minimums bind at `low_ft`."""
    limits = limits_of(way, way.stretch_of(leg))
    mea_ft, moca_ft = limits.mea_ft, limits.moca_ft
    if limits.min_ft is not None and low_ft < limits.min_ft - HALF_FT:
        yield "under-minimum", grave
    if not way.by_ifr and leg["phase"] not in ("cruise", "hold"):
        return  # Under VFR level flight alone is told.
    unclear = moca_ft is not None and low_ft < moca_ft - HALF_FT
    if mea_ft is None or low_ft >= mea_ft - HALF_FT:
        # 14 CFR 91.177(a)(1): "down to, but not below, the MOCA", also of one above its MEA.
        if unclear:
            yield "under-mea", grave
    elif unclear and moca_ft is not None and moca_ft > mea_ft:
        yield "under-mea", grave
    elif not way.by_ifr:
        blind = moca_ft is None and low_ft < mea_ft - 1000.0 - HALF_FT and not way.statements["terrain"]
        yield "under-mea", "warning" if unclear or blind else "either note"
    elif moca_ft is None or unclear:
        yield "under-mea", grave
    else:
        yield from between_moca_and_mea(way, leg, mea_ft)


def between_moca_and_mea(way: Way, leg: Json, mea_ft: float) -> Iterator[tuple[str, str]]:
    """Under IFR it is a note within 22 NM of the VOR in use, and an error where any of it is farther."""
    reach = way.reach_nm(leg)
    if reach is None:
        yield "moca-range", "error"
        return
    near, far = sorted(((reach[0], leg["start_altitude_ft"]), (reach[1], leg["end_altitude_ft"])))
    if abs(far[0] - MOCA_NM) < UNSURE_NM or abs(near[0] - MOCA_NM) < UNSURE_NM:
        yield "moca-range", "either"
        yield "under-mea", "either"
    elif far[0] <= MOCA_NM:
        yield "under-mea", "note"
    else:
        share = max(0.0, (MOCA_NM - near[0]) / (far[0] - near[0]))
        at_reach_ft = near[1] + share * (far[1] - near[1])
        if min(at_reach_ft, far[1]) < mea_ft - HALF_FT:
            yield "moca-range", "error"
        else:
            yield "under-mea", "note"


def bound(way: Way) -> Iterator[tuple[Json, float]]:
    """The legs on which minimums bind, and the lowest altitude at which they do."""
    ground = [leg for leg in way.legs if leg["to"]["kind"] == "airport" and (leg is way.legs[-1] or lands(leg))]
    landing = [way.stretch_of(leg) for leg in ground]
    for leg in way.legs:
        ends_ft = leg["start_altitude_ft"], leg["end_altitude_ft"]
        to_land = any(leg in one for one in landing)
        if leg["phase"] == "climb":
            yield from ((leg, low_ft) for low_ft in climb_bound(way, leg))
        elif leg["phase"] == "height to lose" or (leg["phase"] == "descent" and not way.by_ifr):
            continue
        elif leg["phase"] == "descent" and to_land:
            # What is left of the landing's descent behind a changeover is all of it for the landing.
            if leg["from"]["kind"] not in ("changeover", "position") or leg["from"]["ident"]:
                yield leg, ends_ft[0]
        else:
            yield leg, min(ends_ft)


def climb_bound(way: Way, leg: Json) -> Iterator[float]:
    """The lowest altitude of a climb at which a minimum binds: none up from a field, and none up to a higher one."""
    index = way.legs.index(leg)
    first = index
    while first > 0 and way.legs[first - 1]["phase"] == "climb" and not lands(way.legs[first - 1]):
        first -= 1
    before = way.legs[first - 1] if first else None
    goes_on = index + 1 < len(way.legs) and way.legs[index + 1]["phase"] == "climb"
    if way.takes_off if before is None else lands(before):
        ended = next((at for at in range(first, index + 1) if departs_no_more(way, first, at)), None)
        if ended is None or ended == index:
            if ended is not None or (not goes_on and leg is not way.legs[-1]):
                yield leg["end_altitude_ft"]
            return
        first, before = ended + 1, way.legs[ended]
    late = before is not None and too_low(way, before)
    for one in way.legs[first:index]:
        if one["to"]["ident"] is not None:
            late = too_low(way, one)
    if late:
        yield leg["start_altitude_ft"]
    elif leg["to"]["ident"] is not None or not goes_on:
        yield leg["end_altitude_ft"]


def departs_no_more(way: Way, first: int, at: int) -> bool:
    """Whether a climb under IFR passes the end of a leg too low to be a departure still, a higher minimum beyond it.

    91.177(b), past the first point; FAA AIM 5-2-9 counts on 200 ft a mile, within 25 NM, in mountainous areas 46.
    """
    leg, following = way.legs[at], way.legs[at + 1 : at + 2]
    if not way.by_ifr or not following or lands(leg) or not too_low(way, leg):
        return False
    ends_stretch = following[0] not in way.stretch_of(leg)
    minimums = leg["minimum_altitude_ft"], following[0]["minimum_altitude_ft"]
    if not ends_stretch or leg in way.stretch_of(way.legs[first]) or None in minimums or minimums[1] <= minimums[0]:
        return False
    flown_nm = sum(one["distance_nm"] for one in way.legs[first : at + 1])
    gained_ft = leg["end_altitude_ft"] - way.legs[first]["start_altitude_ft"]
    airport = independent.place(way.legs[first]["from"])
    assessed_nm = 46.0 if airport is not None and mountainous(Position(*airport)) else 25.0
    return bool(flown_nm > assessed_nm or gained_ft < 200.0 * flown_nm - HALF_FT)


def too_low(way: Way, leg: Json) -> bool:
    """Whether a leg ends below its own minimum, from where a climb is late."""
    limits, reach = limits_of(way, way.stretch_of(leg)), way.reach_nm(leg)
    minimum_ft = limits.mea_ft if limits.mea_ft is not None else limits.min_ft
    if leg["minimum_kind"] == "terrain":
        minimum_ft = leg["minimum_altitude_ft"]
    if limits.moca_ft is not None and reach is not None and reach[1] <= MOCA_NM:
        minimum_ft = limits.moca_ft
    return minimum_ft is not None and leg["end_altitude_ft"] < minimum_ft - HALF_FT
