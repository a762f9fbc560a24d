"""Directions from true and from magnetic north: magnetic is true less the variation, east positive.

The rule of FAA-H-8083-25, chapter 16: going from true to magnetic, east is subtracted and west added. These
are headings and winds; radials and set courses go by their station's own declination, in `guidance`.
"""

from __future__ import annotations

from msgspec import Struct

from navlog.nav.angles import normalize_deg
from navlog.nav.problems import problem_error
from navlog.nav.units import read_angle_deg


class Direction(Struct, frozen=True):
    """A direction, counted from magnetic north where `magnetic` is set, else from true north."""

    angle_deg: float
    magnetic: bool


def read_direction(text: str) -> Direction:
    """A direction that says its north: `045T` or `045M`; a bare number is refused."""
    if text[-1:] not in ("T", "M"):
        angle_deg = read_angle_deg(text)
        raise problem_error(
            "bad-angle",
            f"`{text}` does not say its north",
            hint=f"write {angle_deg:03g}T for true or {angle_deg:03g}M for magnetic",
        )
    return Direction(read_angle_deg(text[:-1]), text[-1] == "M")


def true_deg(direction: Direction, variation_deg: float | None) -> float:
    """The direction from true north; raises `no-variation` where that is needed and unknown."""
    if not direction.magnetic:
        return normalize_deg(direction.angle_deg)
    return normalize_deg(direction.angle_deg + _known(variation_deg, "magnetic"))


def magnetic_deg(direction: Direction, variation_deg: float | None) -> float:
    """The direction from magnetic north; raises `no-variation` as `true_deg` does."""
    if direction.magnetic:
        return normalize_deg(direction.angle_deg)
    return normalize_deg(direction.angle_deg - _known(variation_deg, "true"))


def _known(variation_deg: float | None, north: str) -> float:
    if variation_deg is None:
        raise problem_error(
            "no-variation",
            f"a {north} direction is given without the variation",
            hint="give the variation, such as 7E",
        )
    return variation_deg
