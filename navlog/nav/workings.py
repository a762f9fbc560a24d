"""Workings as an instructor writes them on the board: formula, values put in, result and source."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

COMMON_PRACTICE = "common practice, no source"


class Step(Struct, frozen=True):
    """One step of a computation, in printed figures.

    `values` is the formula with the numbers put in; it is empty where a result is looked up in a table.
    """

    what: str
    formula: str
    values: str
    result: str
    source: str


def board(steps: Iterable[Step], title: str = "Workings") -> tuple[str, ...]:
    """The steps as numbered lines of text under a title."""
    lines = [title]
    for number, step in enumerate(steps, start=1):
        lines.append(f"{number}. {step.what}: {step.result}")
        lines.append(f"   {step.formula}")
        if step.values:
            lines.append(f"   {step.values}")
        lines.append(f"   [{step.source}]")
    return tuple(lines)
