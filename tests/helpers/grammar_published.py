"""A grammar of flights along published airways, by the excerpt of the FAA's data: route lines and what is planned.

What the airways say is read here from the raw rows, without navlog: the altitudes of each hop in the direction flown.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cache
from random import Random

from helpers.nasr_excerpt import DATA, DAY
from helpers.raw_airways import one_of
from helpers.victor_system import WAYS_DEG, VictorSystem, apart_deg

NASR = DATA / "nasr"
_PLANS = (
    ("off 15:10Z", "off 03:40Z", "off 13:40 America/Denver"),
    ("aircraft trainer.toml", "tas 95kt", "tas 140kt"),
    ("burn 8.5gph", "burn 30L/h"),
    ("wind calm", "wind 230/15", "wind 3000 250/20 +5C 9000 280/35 -7C", "wind 2000 040/8 12000 330/40"),
    ("rules ifr", "rules ifr", "rules vfr day", "rules vfr night"),
    ("fuel 30gal", "fuel 48gal", "fuel 60gal"),
    ("equipment vor 2 dme 1", "equipment vor 1", "equipment vor 2"),
    ("reserve 60min", "contingency 5%", "extra 2gal", "taxi 1gal 8min"),
    ("altimeter 1002hPa", "altimeter 30.12inHg", "temperature +25C"),
    ("accuracy icao", "levels icao"),
)
"""What may be planned, one of each or none."""


@dataclass(frozen=True)
class Limits:
    """What the chart says of the way from one point to the next, in that direction; feet."""

    mea_ft: float | None = None
    moca_ft: float | None = None
    maa_ft: float | None = None
    min_ft: float | None = None
    mca_ft: float | None = None


@cache
def _system() -> VictorSystem:
    return VictorSystem(NASR)


@cache
def _parts() -> list[tuple[str, list[str]]]:
    """The airways' unbroken parts by their points, those of the contiguous states."""
    named: dict[str, set[str]] = {}
    for airway, location in _system().airways:
        named.setdefault(airway, set()).add(location)
    return [
        (airway, [row["FROM_POINT"] for row in part]) for airway, part in _system().unbroken() if named[airway] == {"C"}
    ]


def published_flight(seed: int) -> list[str]:
    """The lines of a flight along two to nine points of an airway, in either direction, the route line last."""
    chance = Random(seed)
    airway, points = chance.choice(_parts())
    first = chance.randrange(len(points) - 1)
    flown = points[first : first + chance.randint(2, 9)]
    flown = flown[::-1] if chance.random() < 0.5 else flown
    altitude_ft = chance.choice((3500, 4500, 6000, 7000, 8500, 9500, 11000, 12500))
    lines = [f"date {DAY}", f"altitude {altitude_ft}"]
    for choices in _PLANS:
        lines += [chance.choice(choices)] if chance.random() < 0.7 else []
    if not any(line.startswith(("aircraft ", "tas ")) for line in lines):
        lines.append("tas 110kt")
    stations = [one for one in flown if len(one) == 3]
    if len(flown) > 3 and len(flown[2]) == 3 and chance.random() < 0.5:
        lines.append(f"hold {flown[2]} 5min")
    if stations and chance.random() < 0.15:
        lines.insert(0, f"unavailable {chance.choice(stations)}")
    route = f"route {flown[0]} {airway} {flown[-1]}"
    if len(flown) > 3 and (lines[-1].startswith("hold ") or chance.random() < 0.3):
        level = altitude_ft // 100 + chance.choice((-10, 10, 20))
        route = f"route {flown[0]} {airway} {flown[2]}{{/A{level:03d}}} {airway} {flown[-1]}"
    return [*lines, route]


@cache
def _crossings() -> dict[tuple[str, str, str], float]:
    """The MCA of each airway's point toward a neighbour, by the columns and by remarks: `5200 - MCA ..., N BND`."""
    found: dict[tuple[str, str, str], float] = {}
    for one in _system().crossings():
        key = one.airway, one.point, one.toward
        found[key] = max(float(one.altitude_ft), found.get(key, 0.0))
    for airway, part in _system().unbroken():
        names = [row["FROM_POINT"] for row in part]
        for index, row in enumerate(part):
            told = re.search(r"(\d{4,5}) (?:- )?MCA .*, ([NESW]{1,2}) BND", row["REMARK"])
            beside = [names[near] for near in (index - 1, index + 1) if told and 0 <= near < len(names)]
            for name in beside:
                if told and apart_deg(_system().course_deg(part, names[index], name), WAYS_DEG[told[2]]) < 90.0:
                    found[airway, names[index], name] = float(told[1])
    return found


def published_limits(airway: str, start: str, end: str) -> Limits:
    """What the rows say of the hop from one point of an airway to the next."""
    for name, part in _system().unbroken():
        names = [row["FROM_POINT"] for row in part]
        if name != airway or not {start, end} <= set(names) or abs(names.index(start) - names.index(end)) != 1:
            continue
        row = part[min(names.index(start), names.index(end))]
        course_deg = float(row["MAG_COURSE" if row["FROM_POINT"] == start else "OPP_MAG_COURSE"] or "nan")
        two = ("MIN_ENROUTE_ALT", "MIN_ENROUTE_ALT_DIR", "MIN_ENROUTE_ALT_OPPOSITE", "MIN_ENROUTE_ALT_OPPOSITE_DIR")
        first, way, second, other_way = (row[column] for column in two)
        return Limits(
            mea_ft=one_of(first, way, second, other_way, course_deg),
            moca_ft=float(row["MIN_OBSTN_CLNC_ALT"]) if row["MIN_OBSTN_CLNC_ALT"] else None,
            maa_ft=float(row["MAX_AUTH_ALT"]) if row["MAX_AUTH_ALT"] else None,
            mca_ft=_crossings().get((airway, start, end)),
        )
    return Limits()


@cache
def published_mra_ft(ident: str) -> float | None:
    """The least altitude at which the rows say that a fix is received, of airways that pass it."""
    found = [float(row["MIN_RECEP_ALT"]) for own in _system().airways.values() for row in own
             if row["FROM_POINT"] == ident and row["MIN_RECEP_ALT"]]  # fmt: skip
    return max(found, default=None)


@cache
def published_elevations_ft() -> dict[str, float]:
    """The elevation of each VOR, the highest of a name."""
    found: dict[str, float] = {}
    with (NASR / "NAV_BASE.csv").open(newline="", encoding="ascii") as file:
        for row in csv.DictReader(file):
            found[row["NAV_ID"]] = max(float(row["ELEV"] or 0.0), found.get(row["NAV_ID"], 0.0))
    return found


@cache
def published_place(ident: str) -> tuple[float, float] | None:
    """Where a VOR stands, None for one of several of its name."""
    found = _system().vors[ident]
    return found[0].place if len(found) == 1 else None
