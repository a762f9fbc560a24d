"""The airways of a route line held against the rows of AWY_SEG_ALT.csv, by the standard library alone.

What the columns mean is the FAA's layout: a row is a point and the segment from it on; `MIN_ENROUTE_ALT_DIR` is the
direction of flight for which the first altitude holds; `MIN_CROSS_ALT_NAV_PT` the point to be crossed.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

WORDS_DEG = {"N": 0, "NE": 45, "E": 90, "SE": 135, "S": 180, "SW": 225, "W": 270, "NW": 315}


class RawAirways:
    """The rows of each airway by designator and location, in order."""

    def __init__(self, folder: Path) -> None:
        self.rows: dict[str, dict[str, list[dict[str, str]]]] = defaultdict(lambda: defaultdict(list))
        with (folder / "AWY_SEG_ALT.csv").open(newline="", encoding="ascii") as file:
            for row in csv.DictReader(file):
                self.rows[row["AWY_ID"]][row["AWY_LOCATION"]].append(row)
        for locations in self.rows.values():
            for rows in locations.values():
                rows.sort(key=lambda row: float(row["POINT_SEQ"]))

    def faults(self, route: str, altitude_ft: float) -> list[str]:
        """What speaks against flying a route line level at an altitude; empty where nothing does."""
        words = route.split()
        found: list[str] = []
        flown = 0
        for before, airway, after in zip(words, words[1:], words[2:], strict=False):
            if airway in self.rows and airway[0] in "VJ":
                flown += 1
                start, end = before.partition(":")[0], after.partition(":")[0]
                found += self.along(airway, start, end, altitude_ft)
        return found if flown or len(words) <= 3 else ["no airway of the route is a published one"]

    def along(self, airway: str, start: str, end: str, altitude_ft: float) -> list[str]:
        """The same for one airway from one point to another; of several locations the one without a fault counts."""
        tried: list[list[str]] = []
        for rows in self.rows[airway].values():
            points = [row["FROM_POINT"] for row in rows]
            if start in points and end in points:
                low, high = points.index(start), points.index(end)
                tried.append(list(self.between(airway, rows, low, high, altitude_ft)))
        return min(tried, key=len, default=[f"{airway} does not join {start} and {end}"])

    def between(
        self, airway: str, rows: list[dict[str, str]], start: int, end: int, altitude_ft: float
    ) -> Iterator[str]:
        step = 1 if end > start else -1
        for index in range(start, end, step):
            row = rows[min(index, index + step)]
            after = rows[max(index, index + step)]
            name = f"{airway} {rows[index]['FROM_POINT']} to {rows[index + step]['FROM_POINT']}"
            if row["TO_POINT"] != after["FROM_POINT"]:
                yield f"{name}: no segment joins them"
                continue
            if row["AWY_SEG_GAP_FLAG"] == "Y":
                yield f"{name}: discontinued"
                continue
            if row["MEA_GAP"].strip() or row["SIGNAL_GAP_FLAG"] == "Y":
                yield f"{name}: gap"
            course = float(row["MAG_COURSE" if step > 0 else "OPP_MAG_COURSE"] or "nan")
            minimum = one_of(
                row["MIN_ENROUTE_ALT"],
                row["MIN_ENROUTE_ALT_DIR"],
                row["MIN_ENROUTE_ALT_OPPOSITE"],
                row["MIN_ENROUTE_ALT_OPPOSITE_DIR"],
                course,
            )
            if minimum is None:
                yield f"{name}: no MEA"
            elif minimum > altitude_ft:
                yield f"{name}: MEA {minimum:.0f}"
            if row["MAX_AUTH_ALT"] and float(row["MAX_AUTH_ALT"]) < altitude_ft:
                yield f"{name}: MAA {row['MAX_AUTH_ALT']}"
            for crossing_ft in crossings(rows, rows[index]["FROM_POINT"], course):
                if crossing_ft > altitude_ft:
                    yield f"{name}: MCA {crossing_ft:.0f} at {rows[index]['FROM_POINT']}"


def one_of(first: str, way: str, second: str, other_way: str, course: float) -> float | None:
    """The altitude that holds on a course: of two with compass words the one whose word is nearer."""
    if not first:
        return None
    if not second or not way.strip():
        return float(first)
    words = ((float(first), way), (float(second), other_way))
    return min(words, key=lambda pair: off(course, pair[1]))[0]


def off(course: float, word: str) -> float:
    """How far a course is from a compass word such as `NE BND`."""
    wanted = WORDS_DEG[word.removesuffix("BND").strip()]
    return abs((course - wanted + 180.0) % 360.0 - 180.0)


def crossings(rows: list[dict[str, str]], point: str, course: float) -> Iterator[float]:
    """The minimum crossing altitudes of a point for a flight that goes on from there on a course."""
    for row in rows:
        if (row["MIN_CROSS_ALT_NAV_PT"].strip() or row["FROM_POINT"]) != point:
            continue
        for altitude, way in (
            (row["MIN_CROSS_ALT"], row["MIN_CROSS_ALT_DIR"]),
            (row["MIN_CROSS_ALT_OPPOSITE"], row["MIN_CROSS_ALT_OPPOSITE_DIR"]),
        ):
            # A word is up to 60 degrees off the course that it means, so nearer than 45 there is no doubt.
            if altitude and way.strip() and off(course, way) < 45.0:
                yield float(altitude)
