"""Workings of the clock, of the fuel used and left on a leg, and of the fuel of the whole flight."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from msgspec import Struct

from navlog.flightlog.records import Diversion, Fuel, Leg, Log
from navlog.nav.figures import fuel as printed_fuel
from navlog.nav.figures import minutes, zulu
from navlog.nav.workings import Step
from navlog.studies.explanation_numbers import HANDBOOK, hundredths

ROUNDED_ONCE = "rounding rule of this log: a running total is rounded once, so that columns add"


class Printed(Struct, frozen=True):
    """What the sheet shows for a leg: minutes since take-off, clock, fuel steps on board, used and left."""

    elapsed_min: int | None
    clock: datetime | None
    board_steps: int | None
    left_steps: int | None


def clock_and_fuel(log: Log, leg: Leg, printed: Printed) -> Iterator[Step]:
    """Time since take-off, arrival, fuel used and left."""
    yield from clock(log, leg, printed)
    yield from fuel(log, leg, printed)


def clock(log: Log, leg: Leg, printed: Printed) -> Iterator[Step]:
    """The running time and the arrival."""
    if leg.elapsed_min is None or leg.time_min is None or printed.elapsed_min is None:
        return
    yield Step(
        "time since take-off",
        "time up to this leg, stops in it + time of this leg",
        f"{hundredths(leg.elapsed_min - leg.time_min + 0.0)} + {hundredths(leg.time_min)}",
        f"{hundredths(leg.elapsed_min)} min, printed {minutes(printed.elapsed_min)}",
        ROUNDED_ONCE,
    )
    if printed.clock is not None and log.conditions.off is not None:
        yield Step(
            f"arrival at {leg.end.name}",
            "take-off + printed running time",
            f"{log.conditions.off:%H:%M} + {minutes(printed.elapsed_min)}",
            zulu(printed.clock, log.conditions.day),
            ROUNDED_ONCE,
        )


def fuel(log: Log, leg: Leg, printed: Printed) -> Iterator[Step]:
    """The fuel of the leg, and what is left of that on board since the last fuelling."""
    unit, step = log.fuel_unit.name, log.fuel_unit.step
    if leg.fuel_used is None or leg.time_min is None:
        return
    if leg.time_min:
        burn = f"{leg.fuel_used / leg.time_min * 60.0:.2f}"
        yield Step(
            "fuel of this leg",
            f"burn in {unit}/h x time / 60",
            f"{burn} x {hundredths(leg.time_min)} / 60",
            f"{hundredths(leg.fuel_used)} {unit}",
            HANDBOOK,
        )
    if printed.left_steps is not None and printed.board_steps is not None:
        used = printed_fuel(printed.board_steps - printed.left_steps, step)
        yield Step(
            f"fuel left at {leg.end.name}",
            "on board at the last fuelling, rounded down - used since, rounded up",
            f"{printed_fuel(printed.board_steps, step)} - {used}",
            f"{printed_fuel(printed.left_steps, step)} {unit}",
            ROUNDED_ONCE,
        )


def fuel_of_flight(log: Log) -> tuple[Step, ...]:
    """The reserve, the fuel required and what is left beyond it, exact; the sheet rounds each amount up."""
    fuel, unit = log.fuel, log.fuel_unit.name
    steps = []
    if fuel.reserve is not None and fuel.burn_per_h is not None:
        steps.append(
            Step(
                "reserve",
                f"minutes x cruise burn in {unit}/h / 60",
                f"{fuel.reserve_min:.1f} x {hundredths(fuel.burn_per_h)} / 60",
                f"{hundredths(fuel.reserve)} {unit}",
                fuel.reserve_rule,
            )
        )
    way: Fuel | Diversion = fuel
    trip = "trip + alternate"
    if fuel.diversion is not None:
        way, trip = fuel.diversion, f"trip to {fuel.diversion.start} + alternate {fuel.diversion.airport} from there"
    parts = (way.used, way.alternate, way.contingency, fuel.reserve, fuel.extra)
    known = tuple(hundredths(part) for part in parts if part is not None)
    if fuel.required is not None and len(known) == len(parts):
        steps.append(
            Step(
                "fuel required",
                f"{trip} + contingency + reserve + extra",
                " + ".join(known),
                f"{hundredths(fuel.required)} {unit}",
                "14 CFR 91.151, 91.167",
            )
        )
    if fuel.margin is not None and fuel.on_board is not None and fuel.required is not None:
        steps.append(
            Step(
                "margin",
                "on board after taxi - required",
                f"{hundredths(fuel.on_board)} - {hundredths(fuel.required)}",
                f"{fuel.margin + 0.0:+.2f} {unit}",
                HANDBOOK,
            )
        )
    return tuple(steps)
