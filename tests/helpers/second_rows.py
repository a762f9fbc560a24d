"""A second reading of a flight's rows, those to alternates too: courses, triangles, the clock, holds and passages."""

from __future__ import annotations

from collections.abc import Iterator

from helpers import independent
from helpers.flown import Json
from helpers.made import Made
from helpers.second_way import Way, lands, ways

SAME = 1e-6
TOLERANCES = independent.TOLERANCES | {"true course": 1e-3}
RATE_FT_PER_MIN = 600.0
"""The climb of the grammar's aircraft."""


def rows_agree(made: Made) -> Iterator[str]:
    """Each row of the route and of the ways to alternates is what places, winds and speeds make of it."""
    for way in ways(made):
        where = "" if way.alternate is None else f"to {way.alternate['to']} "
        yield from (f"{where}{fault}" for fault in (*of_legs(way), *of_clock(way)))
        if way.alternate is None:
            yield from of_holds(way)
        else:
            yield from of_passages(way, way.alternate)


def of_legs(way: Way) -> Iterator[str]:
    """Courses and triangles of level flight, and what a heading is made of on every leg."""
    whole = independent.dated(way.flight | {"legs": way.legs})
    for leg in whole["legs"]:
        if leg["phase"] != "cruise" or leg["distance_nm"] == 0.0 or "level_changes" in leg:
            continue
        for name, seen in independent.of_leg(leg):
            # A stated variation is not the model's; near the poles the model bends more than a line between its values.
            if name == "variation" and (way.statements["variation"] or far_north_or_south(leg)):
                continue
            if abs(seen) > TOLERANCES[name]:
                yield f"leg {leg['number']}: {name} differs by {seen:g}"


def far_north_or_south(leg: Json) -> bool:
    """Whether a leg lies where the model's variation bends."""
    latitude_deg: float | None = leg["from"]["latitude_deg"]
    return latitude_deg is not None and abs(latitude_deg) > 60.0


def of_clock(way: Way) -> Iterator[str]:
    """Elapsed time, arrivals, what is to go, and totals are sums of the rows."""
    totals = way.flight["totals"] if way.alternate is None else way.alternate
    off = way.flight["off"] if way.alternate is None else way.alternate["off"]
    elapsed: float | None = 0.0
    left_nm = sum(leg["distance_nm"] for leg in way.legs)
    flown = [leg["time_min"] for leg in way.legs]
    for leg in way.legs:
        elapsed = None if elapsed is None or leg["time_min"] is None else elapsed + leg["time_min"]
        left_nm -= leg["distance_nm"]
        if differ(leg["elapsed_min"], elapsed) or abs(leg["distance_remaining_nm"] - left_nm) > SAME:
            yield f"leg {leg['number']}: {leg['elapsed_min']} min, {leg['distance_remaining_nm']} NM to go"
        if None not in (off, elapsed):
            late_s = (independent.clock(leg["eta"]) - independent.clock(off)).total_seconds() - 60.0 * (elapsed or 0.0)
            if abs(late_s) > 2e-3:
                yield f"leg {leg['number']}: {leg['eta']} is {late_s} s late"
        if lands(leg) and elapsed is not None:
            elapsed += leg["stop_min"]
    if differ(totals["time_min"], None if None in flown else sum(flown)):
        yield f"{totals['time_min']} min in all"
    if abs(totals["distance_nm"] - sum(leg["distance_nm"] for leg in way.legs)) > SAME:
        yield f"{totals['distance_nm']} NM in all"


def differ(one: float | None, other: float | None) -> bool:
    """Whether two figures differ, or one alone is known."""
    return (one is None) != (other is None) or (one is not None and other is not None and abs(one - other) > SAME)


def of_holds(way: Way) -> Iterator[str]:
    """Each hold is flown once, at the first passage of its point: its minutes, or the climb that it is for."""
    for stated in way.statements["hold"]:
        point, *how = stated.split()
        first = next(leg for leg in way.legs if leg["to"]["ident"] == point)
        held = [leg for leg in way.legs if leg["phase"] == "hold" and leg["to"]["ident"] == point]
        if how[0] == "until":
            until_ft = float(how[1].removesuffix("ft"))
            if first["end_altitude_ft"] >= until_ft - SAME:
                continue
            # What is not flown, or not as high as stated because the descent comes first, is told.
            if not held and "climb-in-hold" in way.rules:
                continue
            minutes = (held[0]["end_altitude_ft"] - held[0]["start_altitude_ft"]) / RATE_FT_PER_MIN if held else 0.0
        else:
            minutes = float(how[0].removesuffix("min"))
        if len(held) != 1 or differ(held[0]["time_min"], minutes) or held[0]["distance_nm"]:
            yield f"hold {stated}: {[(one['number'], one['time_min'], one['end_altitude_ft']) for one in held]}"
        elif held[0]["number"] != first["number"] + 1:
            yield f"hold {stated} is leg {held[0]['number']}, the point is passed on leg {first['number']}"


def of_passages(way: Way, alternate: Json) -> Iterator[str]:
    """Clock, height and fuel of each passage are those of the route's leg there; the way begins with the last."""
    route = {leg["number"]: leg for leg in way.flight["legs"]}
    for passage in alternate["passages"]:
        leg = route.get(passage["leg"])
        if leg is None:
            continue
        taken = leg.get("fuel_taken_gal")
        if leg["to"]["ident"] != alternate["from"] or passage["fuel_gal"] not in (leg["fuel_remaining_gal"], taken):
            yield f"passage {passage} on leg {leg['number']}: {leg['fuel_remaining_gal']} gal"
        if not lands(leg) and passage["at"] != leg["eta"]:
            yield f"passage at {passage['at']}, the leg ends {leg['eta']}"
        if passage["altitude_ft"] is not None and differ(passage["altitude_ft"], leg["end_altitude_ft"]):
            yield f"passage at {passage['altitude_ft']} ft, the leg ends at {leg['end_altitude_ft']}"
    if alternate["passages"] and alternate["off"] != alternate["passages"][-1]["at"]:
        yield f"left at {alternate['off']}, passed last at {alternate['passages'][-1]['at']}"
