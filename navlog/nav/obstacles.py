"""Towers, masts and other obstacles: how high, how sure, and which is the highest near a course."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from navlog.nav.chart import Position, Provenance
from navlog.nav.corridor import Corridor, placed
from navlog.nav.terrain import Spot
from navlog.nav.units import FEET_PER_NM


class Obstacle(Struct, frozen=True):
    """An obstacle with its top above the sea, and how far off both place and top may be.

    `top_tolerance_ft` is None where its source does not know it.
    """

    ident: str
    kind: str
    position: Position
    top_ft: float
    place_tolerance_nm: float
    top_tolerance_ft: float | None


class Obstacles(Struct, frozen=True):
    """The obstacles known near a course, and the editions they are of."""

    found: tuple[Obstacle, ...]
    sources: tuple[Provenance, ...]


_PLACE_FT = {"1": 20.0, "2": 50.0, "3": 100.0, "4": 250.0, "5": 500.0, "6": 1000.0}
_TOP_FT = {"A": 3.0, "B": 10.0, "C": 20.0, "D": 50.0, "E": 125.0, "F": 250.0, "G": 500.0, "H": 1000.0}
"""Accuracy codes of the FAA's Digital Obstacle File, as public readers of it repeat its README; I is unknown."""

WIDEST_NM = 1.0
"""The farthest that any obstacle may be off."""


def place_tolerance_nm(code: str) -> float:
    """How far off an obstacle may be: 7 is half a mile and 8 a mile; of one of unknown accuracy (9) a mile too."""
    return 0.5 if code == "7" else _PLACE_FT[code] / FEET_PER_NM if code in _PLACE_FT else WIDEST_NM


def top_tolerance_ft(code: str) -> float | None:
    """How far off its top may be; None where that is unknown."""
    return _TOP_FT.get(code)


def highest_obstacle(obstacles: Iterable[Obstacle], corridor: Corridor, *, as_placed: bool = False) -> Spot | None:
    """The obstacle with the highest top, its tolerance added, of those that may stand in a corridor.

    One whose place is not sure counts where it would reach in if it were off by as much as its source allows, and
    `as_placed` where it is told to be.
    """
    best: Spot | None = None
    for obstacle in obstacles:
        # An unknown tolerance adds nothing: a guessed one would look like the source's own.
        top_ft = obstacle.top_ft + (obstacle.top_tolerance_ft or 0.0)
        if best is not None and top_ft <= best.top_ft:
            continue
        place = placed(corridor if as_placed else corridor.wider(obstacle.place_tolerance_nm), obstacle.position)
        if place is not None:
            where = place.along_nm, place.aside_nm, place.away_nm
            name = f"{obstacle.kind} {obstacle.ident}"
            best = Spot(obstacle.position, obstacle.top_ft, obstacle.top_tolerance_ft, *where, name, built=True)
    return best
