"""Words of a revision that several of its parts print: times of day and fuel."""

from __future__ import annotations

from datetime import datetime

from navlog.flightlog.records import Log
from navlog.nav import figures


def clock_of(log: Log, when: datetime | None) -> str:
    """A time of day in UTC, with seconds where it has some, marked where it is not of the flight's day."""
    if when is None or not when.second:
        return figures.zulu(when, log.conditions.day)
    return f"{when:%H:%M:%S}Z{figures.day_mark(when, log.conditions.day)}"


def closed_text(notice: str) -> str:
    """What is told of an airport that a notice closes when it is reached."""
    return f"CLOSED by notice {notice} when it is reached"


def fuel_text(log: Log, amount: float | None) -> str:
    """Fuel on board, rounded down, with its unit."""
    if amount is None:
        return figures.UNKNOWN
    step = log.fuel_unit.step
    return f"{figures.fuel(figures.down(amount, step), step)} {log.fuel_unit.name}"
