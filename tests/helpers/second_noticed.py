"""A second reading of notices: a briefing drawn for a flight, and what its hours make of the JSON's clock.

A notice counts where the flight uses what it is about within half an hour of its hours. The flight may be flown as it
was before a notice moved it, so that the clock without notices counts too; an alternate may be needed at any time from
take-off to two hours after the landing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random

from helpers import independent
from helpers.flown import Json
from helpers.made import Made
from helpers.second_way import lands

from navlog.request.references import References

MARGIN = timedelta(minutes=30)
AFTER_LANDING = timedelta(hours=2)
SAME = timedelta(seconds=1)
"""What milliseconds of the JSON may make."""

RAISED_FT = 11_100.0
Hours = tuple[datetime, datetime]


@dataclass(frozen=True)
class Notice:
    """A notice: what it is about and its hours."""

    number: int
    kind: str
    name: str
    other: str
    hours: Hours

    @property
    def digits(self) -> int:
        """How many digits its number has."""
        return 4 if self.kind == "airway" else 3

    @property
    def text(self) -> str:
        """As it is issued."""
        said = {
            "station": f"!XHA 07/{self.number:03d} {self.name} NAV VOR U/S",
            "airport": f"!XHA 07/{self.number:03d} {self.name} AD AP CLSD",
            "airway": f"!FDC 6/{self.number:04d} ZZZ ROUTE ZZZ. {self.name} {self.other} MEA {RAISED_FT:.0f}.",
        }
        start, end = (f"{one:%y%m%d%H%M}" for one in self.hours)
        return f"{said[self.kind]} {start}-{end}"

    def meets(self, used: Hours, margin: timedelta = MARGIN) -> bool:
        """Whether it is in force in those hours, or so near to them."""
        return self.hours[0] <= used[1] + margin and used[0] - margin <= self.hours[1]


def notices_agree(made: Made) -> Iterator[str]:
    """What is out, closed or raised in the hours of its use counts there, and nothing else does."""
    lines = [line for line in made.lines if not line.startswith(("notices ", "unavailable "))]
    plain = made.other(lines).flight
    if plain["off"] is None or not is_timed(plain):
        return
    drawn = list(briefing(plain, Random(made.text)))
    noticed = with_notices(made, lines, drawn)
    flights = [plain, noticed, *between(made, lines, drawn, plain)]
    if not all(is_timed(one) for one in flights):
        return
    told = [f"{one['rule']}: {one['message']}" for one in noticed["findings"]]
    moving = False
    for one in drawn:
        counts, surely = (any(one.meets(used, margin) for flight in flights for used in uses(flight, one, lines))
                          for margin in (MARGIN + SAME, MARGIN - SAME))  # fmt: skip
        rule = "airport-closed" if one.kind == "airport" else "notice-counts"
        said = any(text.startswith(f"{rule}: ") and f"/{one.number:0{one.digits}d}" in text for text in told)
        moving |= counts and one.kind != "airport"
        if said not in (counts, surely):
            yield f"{one.text} is {'' if said else 'not '}told to count"
    yield from used_in_force(noticed, drawn)
    if not moving and noticed["legs"] != plain["legs"]:
        yield "the flight is another though no notice of the way counts"


def is_timed(flight: Json) -> bool:
    """Whether the time of every leg is known."""
    return all(leg["elapsed_min"] is not None for leg in flight["legs"])


def with_notices(made: Made, lines: list[str], notices: list[Notice]) -> Json:
    """The flight with these notices."""
    files = References({"drawn.txt": "".join(f"{one.text}\n" for one in notices)})
    noticed = [*lines[:-1], "notices drawn.txt", lines[-1]]
    return Made(noticed, made.folder, files, made.ran, made.published).flight


def between(made: Made, lines: list[str], drawn: list[Notice], plain: Json) -> Iterator[Json]:
    """The flight with the notices that count as it was planned, then with those that count as that moved it."""
    before, counting = None, [one for one in drawn if any(one.meets(used) for used in uses(plain, one, lines))]
    for _ in range(3):
        if counting == before:
            return
        flight = with_notices(made, lines, counting)
        yield flight
        if not is_timed(flight):
            return
        more = [one for one in drawn if any(one.meets(used) for used in uses(flight, one, lines))]
        before, counting = counting, [one for one in drawn if one in counting or one in more]


def briefing(flight: Json, chance: Random) -> Iterator[Notice]:
    """Up to five notices about what a flight uses, some hours before, while and after it does."""
    off = independent.clock(flight["off"])
    about = {("station", leg["guidance"]["ident"], "") for leg in flight["legs"] if leg["guidance"]}
    about |= {("airport", leg[end]["ident"], "") for leg in flight["legs"] for end in ("from", "to")
              if leg[end]["kind"] == "airport"}  # fmt: skip
    about |= {("airport", way["to"], "") for way in flight["alternates"]}
    whole = (leg for leg in flight["legs"] if leg["distance_nm"] and leg["from"]["ident"] and leg["to"]["ident"])
    about |= {("airway", leg["via"], f"{of(leg['from'])} TO {of(leg['to'])}") for leg in whole if leg["via"] != "DCT"}
    for number, (kind, name, other) in enumerate(chance.sample(sorted(about), min(5, len(about))), 1):
        begins = (off + timedelta(minutes=chance.randint(-150, 150))).replace(second=0, microsecond=0)
        yield Notice(number, kind, name, other, (begins, begins + timedelta(minutes=chance.randint(5, 120))))


def of(point: Json) -> str:
    """A point as a notice of an airway names it."""
    return f"SHOAL ({point['ident']}) VOR/DME" if point["kind"] == "station" else f"{point['ident']}, PA"


def flown(flight: Json) -> Iterator[tuple[Json, Hours]]:
    """Each leg of the route with its hours."""
    off = began = independent.clock(flight["off"])
    for leg in flight["legs"]:
        ended = off + timedelta(minutes=leg["elapsed_min"])
        yield leg, (began, ended)
        began = ended + timedelta(minutes=leg["stop_min"] if lands(leg) else 0.0)


def placing(lines: list[str], ident: str | None) -> set[str]:
    """The stations by whose radials the file places a fix."""
    stated = next((line for line in lines if line.startswith(f"fix {ident} ")), "")
    return set(re.findall(r"\b([A-Z]{3}) [\d.]+", stated))


def uses(flight: Json, notice: Notice, lines: list[str]) -> Iterator[Hours]:
    """The hours in which a flight uses what a notice is about, on each stretch from the first use to the last."""
    on_stretches: dict[int, list[datetime]] = {}
    for stretch, hours in _uses(flight, notice, lines):
        on_stretches.setdefault(stretch, []).extend(hours)
    yield from ((min(hours), max(hours)) for hours in on_stretches.values())


def _uses(flight: Json, notice: Notice, lines: list[str]) -> Iterator[tuple[int, Hours]]:
    """Each use with the number of its stretch, which ends at a point with a name; time spent there belongs to it."""
    legs = list(flown(flight))
    number, stretches = 0, list[int]()
    for leg, _ in legs:
        number += leg["distance_nm"] > 0.0 and leg["from"]["ident"] is not None
        stretches.append(number)
    for way in flight["alternates"]:
        late = legs[0][1][0], legs[-1][1][1] + AFTER_LANDING
        named = {leg[end]["ident"] for leg in way["legs"] for end in ("from", "to")}
        named |= {leg["guidance"]["ident"] for leg in way["legs"] if leg["guidance"]}
        if notice.kind != "airway" and notice.name in named:
            yield -1, late
    for index, (stretch, (leg, hours)) in enumerate(zip(stretches, legs, strict=True)):
        if notice.kind == "airway":
            # Time spent at a point is spent on the way there.
            there = index if leg["distance_nm"] else index - 1
            if leg["via"] == notice.name and notice.other in spans(legs, there):
                yield stretch, hours
            continue
        if leg["from"]["ident"] == notice.name:
            yield stretch, (hours[0], hours[0])
        if leg["to"]["ident"] == notice.name:
            yield stretch, (hours[1], hours[1])
        if notice.kind == "station" and leg["guidance"] and leg["guidance"]["ident"] == notice.name:
            yield stretch, hours
        told_by = {mark["ident"] for mark in leg["marks"]} | placing(lines, leg["to"]["ident"])
        if notice.kind == "station" and notice.name in told_by:
            yield stretch, (hours[1], hours[1])


def spans(legs: list[tuple[Json, Hours]], index: int) -> list[str]:
    """The points between which a leg lies, as a notice may name them."""
    before = next(leg["from"] for leg, _ in reversed(legs[: index + 1]) if leg["from"]["ident"])
    after = next(leg["to"] for leg, _ in legs[index:] if leg["to"]["ident"])
    return [f"{of(before)} TO {of(after)}", f"{of(after)} TO {of(before)}"]


def used_in_force(flight: Json, drawn: list[Notice]) -> Iterator[str]:
    """What the flight uses though it is out at that minute, and an airway flown without its raised minimum."""
    legs = list(flown(flight))
    for index, (leg, hours) in enumerate(legs):
        at_end = hours[1], hours[1]
        for one in drawn:
            if one.kind == "station":
                guides = leg["guidance"] is not None and leg["guidance"]["ident"] == one.name
                tells = any(mark["ident"] == one.name and mark["radial_deg"] is not None for mark in leg["marks"])
                if (guides and one.meets(hours, -SAME)) or (tells and one.meets(at_end, -SAME)):
                    yield f"leg {leg['number']} goes by {one.name}, which is out by {one.text}"
            raises = one.kind == "airway" and leg["via"] == one.name and one.other in spans(legs, index)
            if raises and one.meets(hours, -SAME) and leg["minimum_altitude_ft"] != RAISED_FT:
                yield f"leg {leg['number']} has a minimum of {leg['minimum_altitude_ft']}, by {one.text}"
