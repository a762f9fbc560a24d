"""A flight's JSON as a second reader takes it: each way flown, what is found on its legs, and what its file says."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from helpers import independent
from helpers.flown import Json, apart_deg
from helpers.grammar_published import Limits, published_limits, published_place
from helpers.made import Made

HALF_FT = 0.5 + 1e-6
"""Altitudes are flown and printed in whole feet."""

_WRITTEN = re.compile(r"\b(\d\d)(\d\d)([NS])(\d{3})(\d\d)([EW])\b")


@dataclass
class Way:
    """The route, or the way to an alternate by its number; `findings` are those told of it."""

    flight: Json
    legs: list[Json]
    findings: list[Json]
    statements: dict[str, list[str]]
    alternate: Json | None = None
    published: bool = False

    @property
    def by_ifr(self) -> bool:
        """Whether it is flown under IFR."""
        return self.statements["rules"] == ["ifr"]

    @property
    def ends_away(self) -> bool:
        """Whether the flight ends at a place that is no airport."""
        last = self.flight["legs"][-1]["to"]
        return bool(last["kind"] != "airport" and last["latitude_deg"] is not None)

    @property
    def takes_off(self) -> bool:
        """Whether it begins on the ground."""
        passed = [] if self.alternate is None else self.alternate["passages"]
        return self.legs[0]["from"]["kind"] == "airport" and all(one["altitude_ft"] is None for one in passed[-1:])

    @cached_property
    def told(self) -> dict[tuple[str, int | None], str]:
        """The severity of what is told, by rule and number of each leg that it holds for."""
        return {
            (one["rule"], number): one["severity"]
            for one in self.findings
            for number in (self.leg_of(one), *one["also_legs"])
        }

    @property
    def rules(self) -> set[str]:
        """The rules that are told of anything on it."""
        return {rule for rule, _ in self.told}

    def leg_of(self, finding: Json) -> int | None:
        """The leg that a finding names."""
        number: int | None = finding["leg"] if self.alternate is None else finding["alternate"]["leg"]
        return number

    @cached_property
    def stretches(self) -> list[list[Json]]:
        """The legs from each point of the route to the next; time spent at a point is no stretch."""
        found: list[list[Json]] = [[]]
        for leg in self.legs:
            if leg["phase"] in ("hold", "height to lose") and leg["distance_nm"] == 0.0:
                continue
            found[-1].append(leg)
            if leg["to"]["ident"] is not None or self.is_written(leg["to"]):
                found.append([])
        return [one for one in found if one]

    def is_written(self, point: Json) -> bool:
        """Whether a point without a name stands in the route line: `4612N03921W`."""
        for degrees, minutes, north, far, off, east in _WRITTEN.findall(self.statements["route"][0]):
            latitude = (int(degrees) + int(minutes) / 60.0) * (1 if north == "N" else -1)
            longitude = (int(far) + int(off) / 60.0) * (1 if east == "E" else -1)
            if point["latitude_deg"] is not None and abs(point["latitude_deg"] - latitude) < 1e-6:
                return apart_deg(point["longitude_deg"], longitude) < 1e-6
        return False

    def stretch_of(self, leg: Json) -> list[Json]:
        """The stretch on which a leg lies; of time spent at a point the one that leads there."""
        found = next((one for one in self.stretches if leg in one), None)
        return found or next(one for one in self.stretches if one[-1]["to"]["ident"] == leg["to"]["ident"])

    @cached_property
    def places(self) -> dict[str, tuple[float, float]]:
        """Where the points are that have a name and a position."""
        ends = (leg[end] for leg in self.flight["legs"] + self.legs for end in ("from", "to"))
        return {end["ident"]: at for end in ends if end["ident"] and (at := independent.place(end)) is not None}

    def reach_nm(self, leg: Json) -> tuple[float, float] | None:
        """How far its two ends are from the station that guides it; None where nothing tells."""
        if leg["guidance"] is None:
            return None
        ident = leg["guidance"]["ident"]
        stretch = self.stretch_of(leg)
        whole = sum(one["distance_nm"] for one in stretch)
        before = sum(one["distance_nm"] for one in stretch[: stretch.index(leg)]) if leg in stretch else whole
        if stretch[0]["from"]["ident"] == ident:
            return before, before + leg["distance_nm"]
        if stretch[-1]["to"]["ident"] == ident:
            return whole - before, whole - before - leg["distance_nm"]
        ends = [independent.place(leg[end]) for end in ("from", "to")]
        place = published_place(ident) if self.published else self.places.get(ident)
        if place is None or None in ends:
            return None
        near, far = (independent.inverse(place, end)[0] for end in ends if end is not None)
        return near, far


def ways(made: Made) -> Iterator[Way]:
    """The route and the ways to alternates."""
    flight = made.flight
    statements: dict[str, list[str]] = defaultdict(list)
    for line in made.text.splitlines():
        keyword, _, rest = line.partition(" ")
        statements[keyword].append(rest.strip())
    route = [one for one in flight["findings"] if one["alternate"] is None]
    yield Way(flight, flight["legs"], route, statements, None, made.by_excerpt)
    for number, way in enumerate(flight["alternates"], 1):
        found = [one for one in flight["findings"] if one["alternate"] and one["alternate"]["number"] == number]
        yield Way(flight, way["legs"], found, statements, way, made.by_excerpt)


def limits_of(way: Way, stretch: list[Json]) -> Limits:
    """What the file says of a stretch, read from its `airway` and `direct` statements alone."""
    ends = stretch[0]["from"]["ident"], stretch[-1]["to"]["ident"]
    if way.published:
        return published_limits(stretch[0]["via"], *ends)
    keyword = "direct" if stretch[0]["via"] == "DCT" else "airway"
    for line in way.statements[keyword]:
        words = re.sub(r'"[^"]*"', "", line).split()
        if keyword == "airway" and words.pop(0) != stretch[0]["via"]:
            continue
        start = words[0]
        for part in " ".join(words[1:]).split("- ")[1:]:
            _, end, said = re.split(r"\b([A-Z]{3,5}) ", part, maxsplit=1)
            if ends in ((start, end), (end, start)):
                return _read(said, ends, other_way=ends[0] == end)
            start = end
    return Limits()


def _read(said: str, ends: tuple[str, str], *, other_way: bool) -> Limits:
    """The altitudes among the options of a segment: `4000/5000` is as written and the other way."""
    found: dict[str, float] = {}
    for name, one, other in re.findall(r"\b(mea|moca|maa|min) (\d+)(?:/(\d+))?", said):
        found[f"{name}_ft"] = float(other if other and other_way else one)
    for feet, start, end in re.findall(r"\bmca (\d+) (\w+) to (\w+)", said):
        if (start, end) == ends:
            found["mca_ft"] = float(feet)
    return Limits(**found)


def lands(leg: Json) -> bool:
    """Whether a leg ends in a landing with the flight going on."""
    return "stop_min" in leg
