"""The published Victor airways as they stand in FAA NASR's CSV files, read without navlog, and looked at as flown.

What is told of a flight comes from its JSON alone. Geodesics are geographiclib's.
"""

from __future__ import annotations

import csv
import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

from geographiclib.geodesic import Geodesic

Json = dict[str, Any]
Row = dict[str, str]

VORS = ("VOR", "VOR/DME", "VORTAC")
STEADY_DEG = 1.0
"""A radial leads along a part where it prints the same, or nearly, at both ends."""
RECEIVED_NM = 300.0
"""No VOR is received farther away; namesakes stand all over the country."""
WAYS_DEG = {"N": 0.0, "NE": 45.0, "E": 90.0, "SE": 135.0, "S": 180.0, "SW": 225.0, "W": 270.0, "NW": 315.0}


def rows(folder: Path, name: str) -> list[Row]:
    """The rows of a published file."""
    with (folder / name).open(newline="", encoding="ascii") as file:
        return list(csv.DictReader(file))


def apart_deg(one_deg: float, other_deg: float) -> float:
    """How far two directions are apart, 0 to 180 degrees."""
    return abs((one_deg - other_deg + 180.0) % 360.0 - 180.0)


def line(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    """Distance in NM and true course at the start of the geodesic between two places."""
    found = Geodesic.WGS84.Inverse(*start, *end)
    return found["s12"] / 1852.0, found["azi1"] % 360.0


@dataclass(frozen=True, slots=True)
class Vor:
    """A VOR: where it stands and how its radials count."""

    ident: str
    place: tuple[float, float]
    declination_deg: float

    def seen_from(self, place: tuple[float, float]) -> tuple[float, float]:
        """Distance and radial on which a place lies."""
        distance_nm, azimuth_deg = line(self.place, place)
        return distance_nm, (azimuth_deg - self.declination_deg) % 360.0


@dataclass(frozen=True, slots=True)
class Crossing:
    """A published minimum crossing altitude: where, toward which neighbour, and the neighbour come from if any."""

    airway: str
    point: str
    toward: str
    coming_from: str | None
    altitude_ft: int


class VictorSystem:
    """The published airways, stations and make-ups of one folder."""

    def __init__(self, folder: Path) -> None:
        self.vors: dict[str, list[Vor]] = defaultdict(list)
        for row in rows(folder, "NAV_BASE.csv"):
            if row["NAV_TYPE"] in VORS and row["MAG_VARN"]:
                sign = -1.0 if row["MAG_VARN_HEMIS"] == "W" else 1.0
                place = float(row["LAT_DECIMAL"]), float(row["LONG_DECIMAL"])
                self.vors[row["NAV_ID"]].append(Vor(row["NAV_ID"], place, sign * float(row["MAG_VARN"])))
        self.makeups: dict[str, list[tuple[str, float]]] = defaultdict(list)
        for row in rows(folder, "FIX_NAV.csv"):
            if row["NAV_TYPE"] in VORS and row["BEARING"]:
                self.makeups[row["FIX_ID"]].append((row["NAV_ID"], float(row["BEARING"])))
        self.places: dict[str, list[tuple[float, float]]] = defaultdict(list)
        for name, column in (("FIX_BASE.csv", "FIX_ID"), ("NAV_BASE.csv", "NAV_ID")):
            for row in rows(folder, name):
                self.places[row[column]].append((float(row["LAT_DECIMAL"]), float(row["LONG_DECIMAL"])))
        self.airways: dict[tuple[str, str], list[Row]] = defaultdict(list)
        for row in rows(folder, "AWY_SEG_ALT.csv"):
            if re.fullmatch(r"V\d+", row["AWY_ID"]):
                self.airways[row["AWY_ID"], row["AWY_LOCATION"]].append(row)
        for own in self.airways.values():
            own.sort(key=lambda row: int(row["POINT_SEQ"]))

    def unbroken(self) -> Iterator[tuple[str, list[Row]]]:
        """The parts of each airway between breaks and borders, with their rows."""
        for (airway, _), own in self.airways.items():
            part = own[:1]
            for row, following in pairwise(own):
                if self.joined(row, following):
                    part.append(following)
                    continue
                if len(part) > 1:
                    yield airway, part
                part = [following]
            if len(part) > 1:
                yield airway, part

    @staticmethod
    def joined(row: Row, following: Row) -> bool:
        """Whether an airway goes on from one point to the next, both places that can be flown to."""
        borders = any(one["FROM_POINT"].startswith("U.S.") for one in (row, following))
        return row["TO_POINT"] == following["FROM_POINT"] and row["AWY_SEG_GAP_FLAG"] != "Y" and not borders

    def routes(self) -> list[tuple[str, str]]:
        """Every unbroken part both ways: its airway and a route line."""
        found = []
        for airway, part in self.unbroken():
            first, last = part[0]["FROM_POINT"], part[-1]["FROM_POINT"]
            found += [(airway, f"{first} {airway} {last}"), (airway, f"{last} {airway} {first}")]
        return found

    def crossings(self) -> Iterator[Crossing]:
        """Every published MCA, with the neighbour that lies the way its compass word says."""
        for airway, part in self.unbroken():
            names = [row["FROM_POINT"] for row in part]
            for row in part:
                at = row["MIN_CROSS_ALT_NAV_PT"] or row["FROM_POINT"]
                if at not in names:
                    continue
                index = names.index(at)
                beside = [names[near] for near in (index - 1, index + 1) if 0 <= near < len(names)]
                for altitude, way in (
                    (row["MIN_CROSS_ALT"], row["MIN_CROSS_ALT_DIR"]),
                    (row["MIN_CROSS_ALT_OPPOSITE"], row["MIN_CROSS_ALT_OPPOSITE_DIR"]),
                ):
                    if not altitude:
                        continue
                    wanted_deg = WAYS_DEG[way.removesuffix(" BND").strip()]
                    off_deg = {name: apart_deg(self.course_deg(part, at, name), wanted_deg) for name in beside}
                    toward = min(beside, key=off_deg.__getitem__)
                    if off_deg[toward] < 90.0:
                        before = next((name for name in beside if name != toward), None)
                        yield Crossing(airway, at, toward, before, int(altitude))

    def course_deg(self, part: list[Row], start: str, end: str) -> float:
        """Roughly the course between neighbours, as published on the row that joins them."""
        for row, following in pairwise(part):
            if (row["FROM_POINT"], following["FROM_POINT"]) == (start, end):
                return float(row["MAG_COURSE"])
            if (row["FROM_POINT"], following["FROM_POINT"]) == (end, start):
                return float(row["OPP_MAG_COURSE"])
        raise AssertionError(f"{start} and {end} are no neighbours")

    def vors_along(self, start: Json, end: Json, names: tuple[str | None, str | None]) -> Iterator[tuple[Vor, bool]]:
        """The VORs whose radial leads along a part, which the make-up of a fix at an end of its hop names.

        With each, whether the farther end names it: there its signal is checked, and nearer it is stronger.
        """
        places = [(point["latitude_deg"], point["longitude_deg"]) for point in (start, end)]
        named = {ident for name in names if name is not None for ident, _ in self.makeups[name]}
        for ident in sorted(named):
            for vor in self.vors[ident]:
                (near_nm, one_deg), (far_nm, other_deg) = (vor.seen_from(place) for place in places)
                if max(near_nm, far_nm) > RECEIVED_NM or min(near_nm, far_nm) < 0.1:
                    continue
                if apart_deg(one_deg, other_deg) > STEADY_DEG:
                    continue
                farther = names[0] if near_nm > far_nm else names[1]
                yield vor, farther is not None and any(ident == one for one, _ in self.makeups[farther])


def hop_names(legs: list[Json], index: int) -> tuple[str | None, str | None]:
    """The named points at the two ends of the hop of which a leg is a part."""
    before = next((leg["from"]["ident"] for leg in reversed(legs[: index + 1]) if leg["from"]["ident"]), None)
    after = next((leg["to"]["ident"] for leg in legs[index:] if leg["to"]["ident"]), None)
    return before, after


def why_unguided(flight: Json, leg: Json) -> str:
    """The reason that the flight's findings give for a leg without guidance."""
    told = (
        one["message"] for one in flight["findings"] if one["rule"] == "no-guidance" and one["leg"] == leg["number"]
    )
    return next(told, "").rpartition(": ")[2]
