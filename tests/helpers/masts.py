"""Invented masts over the invented islands, as the FAA's Digital Obstacle File would list them."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from random import Random

PLACE_NM = {"1": 20 / 6076.115, "4": 250 / 6076.115, "6": 1000 / 6076.115, "7": 0.5, "8": 1.0, "9": 1.0}
TOP_FT = {"A": 3.0, "D": 50.0, "E": 125.0, "H": 1000.0, "I": 0.0}
"""What the file's accuracy codes allow, horizontal and vertical (its README, from memory); 9 and I are unknown."""


@dataclass(frozen=True)
class Mast:
    """A mast: its top above the sea, where it stands in whole seconds, and its two accuracy codes."""

    top_ft: int
    seconds: tuple[int, int]
    accuracy: tuple[str, str]

    @property
    def place(self) -> tuple[float, float]:
        """Latitude and longitude, degrees."""
        return self.seconds[0] / 3600.0, -self.seconds[1] / 3600.0


def _drawn() -> list[Mast]:
    """Eighty masts between N45 and N47, W041 and W038."""
    chance = Random(2026)
    return [
        Mast(
            chance.randint(200, 2600),
            (chance.randint(45 * 3600, 47 * 3600 - 1), chance.randint(38 * 3600, 41 * 3600 - 1)),
            (chance.choice(tuple(PLACE_NM)), chance.choice(tuple(TOP_FT))),
        )
        for _ in range(80)
    ]


MASTS = _drawn()


def write_masts(path: Path) -> Path:
    """The file of all of them."""
    lines = ["  CURRENCY DATE = 06/27/26", "", "", ""]
    for number, one in enumerate(MASTS):
        (north, east), (place, top) = (_written(seconds) for seconds in one.seconds), one.accuracy
        lines.append(
            f"01-{number:06d} O US AL {'SHOAL':16} {north}N {east:0>12}W {'TOWER':18} 1 00200 {one.top_ft:05d} R"
            f" {place} {top} M 1990ASO01578OE C 2014138 "
        )
    path.write_text("\n".join(lines) + "\n", "ascii", newline="\r\n")
    return path


def _written(seconds: int) -> str:
    """Degrees, minutes and seconds as the file has them."""
    return f"{seconds // 3600:02d} {seconds // 60 % 60:02d} {seconds % 60:05.2f}"
