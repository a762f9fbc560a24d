"""A second look at a flight's JSON: does what is set on the needle lead where the leg leads? Arithmetic alone."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

Json = dict[str, Any]

WITHIN_DEG = 8.0
"""A station's north lies within 8 degrees of magnetic north (FAA NASR); so far may needle and course be apart."""

WHY = {"radial-reversed", "radials-bent", "radial-differs", "needle-off-course"}
"""The rules that say why a needle leads elsewhere than its leg."""


def unexplained(flight: Json) -> list[str]:
    """Every leg whose needle strays, and every changeover without a bend where the course jumps, with no finding."""
    why = {finding["leg"] for finding in flight["findings"] if finding["rule"] in WHY}
    found = []
    for group in stretches(flight["legs"]):
        # A finding stands on the first leg of its stretch, or of the way from station to station.
        if not why.isdisjoint(leg["number"] for leg in group):
            continue
        found += [f"leg {leg['number']}: needle {needle_deg(leg)}" for leg in group if strays(leg)]
        found += [f"after leg {one['number']}: course jumps" for one, other in pairwise(group) if jumps(one, other)]
    return found


def stretches(legs: list[Json]) -> Iterator[list[Json]]:
    """The legs in groups between points at which another station or route begins: an airway is one group."""
    group: list[Json] = []
    for leg in legs:
        if (
            group
            and (leg["via"] == "DCT" or leg["via"] != group[-1]["via"] or leg["from"]["kind"] == "station")
            and leg["from"]["ident"]
        ):
            yield group
            group = []
        group.append(leg)
    yield group


def needle_deg(leg: Json) -> float | None:
    """The true course that the set course means by its station's north."""
    guidance = leg["guidance"]
    if guidance is None or guidance["set_course_deg"] is None or guidance["declination_deg"] is None:
        return None
    return float((guidance["set_course_deg"] + guidance["declination_deg"]) % 360.0)


def apart_deg(one_deg: float, other_deg: float) -> float:
    """How far two directions are apart, 0 to 180 degrees."""
    return abs((one_deg - other_deg + 180.0) % 360.0 - 180.0)


def strays(leg: Json) -> bool:
    """Whether the needle leads elsewhere than the leg."""
    led_deg, course_deg = needle_deg(leg), leg["true_course_deg"]
    return led_deg is not None and course_deg is not None and apart_deg(led_deg, course_deg) > WITHIN_DEG


def jumps(leg: Json, after: Json) -> bool:
    """Whether the course jumps at a changeover point that no bend makes."""
    changeover = leg["changeover"]
    if changeover is None or changeover["kind"] == "turn" or leg["to"]["kind"] != "changeover":
        return False
    one_deg, other_deg = leg["true_course_deg"], after["true_course_deg"]
    return one_deg is not None and other_deg is not None and apart_deg(one_deg, other_deg) > WITHIN_DEG
