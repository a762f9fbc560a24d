"""An aircraft file's figures as a second reader takes them: straight between the rows of its tables."""

from __future__ import annotations

import tomllib
from functools import cache
from typing import Any

from helpers.flown import EXAMPLES
from helpers.named_files import FILES

TABLED = "tabled.toml"
"""The example's aircraft, whose figures change with height, and in cruise with the temperature."""

Rows = dict[float, dict[float, dict[str, Any]]]


class Book:
    """The figures of a file by phase: one set for every height, or rows by pressure altitude and temperature."""

    def __init__(self, name: str) -> None:
        text = FILES[name] if name in FILES else (EXAMPLES / "trainer.toml").read_text("utf-8")
        self.phases: dict[str, Rows] = {}
        for phase in ("climb", "cruise", "descent"):
            table = tomllib.loads(text)[phase]
            found: Rows = {}
            for row in table.get("rows", [table]):
                if row.get("power") == table.get("power"):
                    by_height = found.setdefault(row.get("pressure_altitude_ft", 0.0), {})
                    by_height[row.get("isa_deviation_c", 0.0)] = row
            self.phases[phase] = found

    def at(self, phase: str, key: str, pressure_ft: float, warmer_c: float) -> float:
        """A figure of a phase at a pressure altitude, so much warmer than standard."""
        heights = {
            feet: between({warm: row[key] for warm, row in rows.items()}, warmer_c)
            for feet, rows in self.phases[phase].items()
        }
        return between(heights, pressure_ft)


def between(values: dict[float, float], at: float) -> float:
    """A value in its place among those of rows, straight from each to the next; one alone holds everywhere."""
    if len(values) == 1:
        return next(iter(values.values()))
    low = max((one for one in values if one <= at), default=min(values))
    high = min((one for one in values if one > low), default=low)
    return values[low] if high == low else values[low] + (at - low) / (high - low) * (values[high] - values[low])


book = cache(Book)
