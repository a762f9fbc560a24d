"""Route files of several flights over the same places, and what each flight would be in a file of its own."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass
from random import Random

from helpers.grammar import flight, written

_ADDED = ("unavailable", "radio", "note", "notices")
"""What a flight says besides what is common to all; anything else stands in the common statement's place."""

_PLANS = (
    "altitude 3500", "altitude 6500", "altitude FL055", "tas 95kt", "burn 7.5gph", "burn 30L/h", "wind calm",
    "wind 310/25", "wind 2000 240/10 9000 270/35", "off 03:20Z", "off 18:45Z", "rules ifr", "rules vfr night",
    "equipment vor 2 dme 1", "fuel 21gal", "fuel 55gal", "taxi 2gal", "reserve 60min", "contingency 10%", "extra 1gal",
    "variation 9W", "altimeter 990hPa", "temperature +30C", "ceiling 12500", "pattern 1700ft", "levels icao",
    "accuracy icao", 'note "this flight alone"', "aircraft trainer.toml", "date 2026-11-28",
    'accept fix-unsure "found by eye"', "winds winds.txt", "terrain terrain", "notices briefing.txt",
)  # fmt: skip
"""What a flight may say for itself."""


@dataclass(frozen=True, slots=True)
class Several:
    """A file's statements before its first flight, and those of each flight, whose first is its `flight` line."""

    common: list[str]
    flights: list[list[str]]

    @property
    def lines(self) -> list[str]:
        """All of its lines."""
        return [line for block in (self.common, *self.flights) for line in block]

    def alone(self, number: int) -> str:
        """The file of one of its flights, merged by what `routefile.md` says of a flight's own statements."""
        own = self.flights[number]
        keys = {_key(line) for line in own}
        # A plain wind or a bulletin replaces all common wind, alternates all common ones.
        winds = ("wind", None) in keys
        alternates = any(line.startswith("alternate ") for line in own)
        kept = [
            line
            for line in self.common
            if (line.split()[0] in _ADDED or _key(line) not in keys)
            and not (winds and line.startswith(("wind ", "winds ")))
            and not (alternates and line.startswith("alternate "))
        ]
        return written([*kept, *own])


def several(seed: int) -> Several:
    """Two to four flights: the one of the grammar, and others that say something else for themselves."""
    chance = Random(seed)
    *lines, route = flight(seed, charted=chance.choice((0.0, 0.0, 0.0, 1.0)))
    lines = [line for line in lines if not line.startswith("flight ")]
    charted = not any(line.startswith("airport XAA ") for line in lines)
    plans = [line for line in _PLANS if not (charted and line.startswith("winds "))]
    definitions = [line for line in lines if line.startswith(("station ", "airway ")) and "kind ndb" not in line]
    flights = []
    for name in ("First of the day", "Second", "The third, in the evening", "Last")[: chance.randint(2, 4)]:
        own = {_key(line): line for line in chance.sample(plans, chance.randint(0, 6))}
        if chance.random() < 0.3:
            # The chart as another flight has it: a station without its last option, an airway with a higher MEA.
            line = chance.choice(definitions)
            own[_key(line)] = line.replace("mea ", "mea 1") if line[0] == "a" else line[: line.rindex("{")]
        if chance.random() < 0.2 and any(line.startswith("airport XALT ") for line in lines):
            own["alternate", "XALT"] = "alternate XALT at 4500"
        flights.append([f'flight "{name}"', *own.values(), route])
    return Several(lines, flights)


def _key(line: str) -> Hashable:
    """What two statements have in common of which a scope has but one."""
    words = line.replace("{", " ").replace("}", " ").split()
    keyword = words[0]
    if keyword in ("station", "airport", "fix", "airway", "hold", "accept", "alternate"):
        return keyword, words[1]
    if keyword == "direct":
        return keyword, frozenset((words[1], next(word for word in words[words.index("-") + 1 :] if word.isalpha())))
    if keyword in ("wind", "winds"):
        return "wind", words[2] if words[1] == "at" else None
    return keyword
