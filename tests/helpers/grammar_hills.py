"""A grammar of flights from and to airports near the hills of the invented islands, in climbs that may be too low."""

from __future__ import annotations

from random import Random

from helpers.grammar import Spot
from helpers.tiles import ISLANDS

_HIGH = [hill for hill in ISLANDS if hill[2] > 800]


def hill_flight(seed: int) -> list[str]:
    """The lines of a flight past a hill near its first or last airport, the route line last."""
    chance = Random(seed)
    north, west, _, _ = chance.choice(_HIGH)
    course_deg = chance.uniform(0.0, 360.0)
    field = Spot("XAA", "airport", *Spot("", "", north, -west).beyond(course_deg, chance.uniform(0.5, 8.0)))
    course_deg += 180.0 + chance.uniform(-40.0, 40.0)
    station = Spot("QAB", "station", *field.beyond(course_deg, chance.uniform(14.0, 26.0)))
    course_deg += chance.uniform(-60.0, 60.0)
    other = Spot("XAC", "airport", *station.beyond(course_deg, chance.uniform(10.0, 25.0)))
    route = ["XAA", "QAB", "XAC"] if chance.random() < 0.5 else ["XAC", "QAB", "XAA"]
    return [
        f"airport XAA {field.written} elev {chance.randint(0, 9)}00ft",
        f"station QAB 113.00 {station.written} decl 14W class {chance.choice('TLH')} dme elev 100ft",
        f"airport XAC {other.written} elev {chance.randint(0, 9)}00ft",
        "date 2026-07-18",
        f"altitude {chance.randrange(1500, 5500, 500)}",
        "aircraft trainer.toml",
        "terrain terrain",
        chance.choice(("wind calm", "wind 230/25", "wind 050/35")),
        chance.choice(("rules ifr", "rules vfr day")),
        chance.choice(("accuracy icao", "accuracy faa", "accuracy 10")),
        *(["pattern 1500ft"] if chance.random() < 0.3 else []),
        f"route {' '.join(route)}",
    ]
