"""Workings as an instructor writes them on the board: formula, values put in, result and source."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.nav.figures import half_up

if TYPE_CHECKING:
    from navlog.nav.wind import Wind

COMMON_PRACTICE = "common practice, no source"
HANDBOOK = "FAA-H-8083-25, Pilot's Handbook of Aeronautical Knowledge, chapter 16"
INSTRUMENT_HANDBOOK = "FAA-H-8083-15, Instrument Flying Handbook, chapter 7"
PUBLISHED_COURSES = "FAA NASR: published courses are azimuth less the station's declination"


class Working(Struct, frozen=True):
    """One step of a computation, in printed figures.

    `values` is the formula with the numbers put in; it is empty where a result is looked up in a table.
    """

    what: str
    formula: str
    values: str
    result: str
    source: str


def board(steps: Iterable[Working], title: str = "Workings") -> tuple[str, ...]:
    """The steps as numbered lines of text under a title."""
    lines = [title]
    for number, step in enumerate(steps, start=1):
        lines.append(f"{number}. {step.what}: {step.result}")
        lines.append(f"   {step.formula}")
        if step.values:
            lines.append(f"   {step.values}")
        lines.append(f"   [{step.source}]")
    return tuple(lines)


def direction(angle_deg: float) -> str:
    """A direction to a tenth of a degree, 000.1 to 360.0."""
    tenths = half_up(angle_deg % 360.0, 0.1) % 3600 or 3600
    return f"{tenths // 10:03d}.{tenths % 10}"


def signed(value: float) -> str:
    """A number with its sign and one decimal, in brackets, as it stands in a formula."""
    return f"({value + 0.0:+.1f})"


def speed(speed_kt: float) -> str:
    """A speed to a tenth of a knot."""
    return f"{speed_kt:.1f}"


def hundredths(value: float) -> str:
    """A distance, time or fuel quantity to a hundredth."""
    return f"{value:.2f}"


def blowing(wind: Wind) -> str:
    """A wind to tenths: `232.1/12.6`; `calm` where it is none."""
    return "calm" if wind.speed_kt < 0.05 else f"{direction(wind.from_true_deg)}/{speed(wind.speed_kt)}"


def added_up(terms: tuple[str, ...]) -> str:
    """Terms with `+` between them, in brackets where there are several."""
    return terms[0] if len(terms) == 1 else f"({' + '.join(terms)})"
