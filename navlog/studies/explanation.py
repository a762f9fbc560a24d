"""How each figure of a log came about, step by step, as an instructor writes it on the board.

It reads a computed log: results are the log's own numbers, and values put in are those that the planner used.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from msgspec import Struct

from navlog.flightlog import profile
from navlog.flightlog.records import Diversion, Fuel, Leg, Log, Phase
from navlog.flightlog.runs import Step as Flown
from navlog.flightlog.runs import grouped
from navlog.nav.figures import fuel as printed_fuel
from navlog.nav.figures import minutes, zulu
from navlog.nav.problems import Span, problem_error
from navlog.nav.workings import HANDBOOK, Working, hundredths
from navlog.studies import explanation_way as way
from navlog.studies import explanation_winds as winds
from navlog.studies.explanation_limits import limits, second_receiver

_ROUNDED_ONCE = "rounding rule of this log: a running total is rounded once, so that columns add"


class PrintedLeg(Struct, frozen=True):
    """What the sheet shows for a leg: minutes since take-off, clock, fuel steps on board, used and left."""

    elapsed_min: int | None
    clock: datetime | None
    board_steps: int | None
    left_steps: int | None


class ExplainedLeg(Struct, frozen=True):
    """The workings of one leg."""

    leg: Leg
    steps: tuple[Working, ...]


class Explanation(Struct, frozen=True):
    """The workings of the legs of a flight, of its fuel, and of oxygen and daylight.

    The last two are empty where only one leg is asked for.
    """

    log: Log
    legs: tuple[ExplainedLeg, ...]
    fuel: tuple[Working, ...] = ()
    limits: tuple[Working, ...] = ()


def explain(log: Log, printed: tuple[PrintedLeg, ...], *, leg: int | None = None) -> Explanation:
    """The workings of every leg, or of leg number `leg` alone; `printed` are the figures that the sheet shows.

    Raises an `unknown-leg` problem where there is no leg of that number.
    """
    if leg is not None and not 1 <= leg <= len(log.legs):
        request = log.route.request
        raise problem_error(
            "unknown-leg",
            f"`{request.name}` has no leg {leg}",
            span=Span(request.file, request.line),
            hint=f"its legs are numbered 1 to {len(log.legs)}",
        )
    found = tuple(
        ExplainedLeg(one, _leg_steps(log, one, flown, shown))
        for one, flown, shown in zip(log.legs, _flown_steps(log), printed, strict=True)
        if leg in (None, one.number)
    )
    return Explanation(log, found) if leg is not None else Explanation(log, found, _fuel_of_flight(log), limits(log))


def _flown_steps(log: Log) -> tuple[tuple[Flown, ...], ...]:
    """The short steps of flight that the planner made each leg of; none for a hold at a level."""
    groups = iter(grouped(profile.steps(log.route, log.conditions)))
    return tuple(() if _holds_level(leg) else next(groups) for leg in log.legs)


def _holds_level(leg: Leg) -> bool:
    """Whether a leg is a hold of a stated time, which has no steps."""
    return leg.phase is Phase.HOLD and leg.start_altitude_ft == leg.end_altitude_ft


def _leg_steps(log: Log, leg: Leg, flown: tuple[Flown, ...], printed: PrintedLeg) -> tuple[Working, ...]:
    """The workings of one leg, in the order in which they are done."""
    if leg.stays:
        return (*way.at_a_place(leg, flown), *_clock_and_fuel(log, leg, printed))
    return (
        *way.bearings(leg),
        *way.needle(leg),
        *way.course(log, leg),
        *winds.wind(log, leg, flown),
        *winds.airspeed(log, leg, flown),
        *winds.heading(log, leg),
        *way.changeover(leg),
        *way.distance(leg, flown),
        *way.time(leg, flown),
        *_clock_and_fuel(log, leg, printed),
        *way.identification(leg, log.route.request.accuracy),
        *second_receiver(leg),
        *way.limits(leg),
    )


def _clock_and_fuel(log: Log, leg: Leg, printed: PrintedLeg) -> Iterator[Working]:
    """Time since take-off, arrival, fuel used and left."""
    yield from _clock(log, leg, printed)
    yield from _fuel(log, leg, printed)


def _clock(log: Log, leg: Leg, printed: PrintedLeg) -> Iterator[Working]:
    """The running time and the arrival."""
    if leg.elapsed_min is None or leg.time_min is None or printed.elapsed_min is None:
        return
    yield Working(
        "time since take-off" if log.flight is None else f"time since {log.legs[0].start.name}",
        "time up to this leg, stops in it + time of this leg",
        f"{hundredths(leg.elapsed_min - leg.time_min + 0.0)} + {hundredths(leg.time_min)}",
        f"{hundredths(leg.elapsed_min)} min, printed {minutes(printed.elapsed_min)}",
        _ROUNDED_ONCE,
    )
    if printed.clock is not None:
        begun = "take-off" if log.flight is None else f"arrival at {log.legs[0].start.name}"
        yield Working(
            f"arrival at {leg.end.name}",
            f"{begun} + printed running time",
            f"{printed.clock - timedelta(minutes=printed.elapsed_min):%H:%M} + {minutes(printed.elapsed_min)}",
            zulu(printed.clock, log.conditions.day),
            _ROUNDED_ONCE,
        )


def _fuel(log: Log, leg: Leg, printed: PrintedLeg) -> Iterator[Working]:
    """The fuel of the leg, and what is left of that on board since the last fuelling."""
    unit, step = log.fuel_unit.name, log.fuel_unit.step
    if leg.fuel_used is None or leg.time_min is None:
        return
    if leg.time_min:
        burn = f"{leg.fuel_used / leg.time_min * 60.0:.2f}"
        yield Working(
            "fuel of this leg",
            f"burn in {unit}/h x time / 60",
            f"{burn} x {hundredths(leg.time_min)} / 60",
            f"{hundredths(leg.fuel_used)} {unit}",
            HANDBOOK,
        )
    if printed.left_steps is not None and printed.board_steps is not None:
        used = printed_fuel(printed.board_steps - printed.left_steps, step)
        yield Working(
            f"fuel left at {leg.end.name}",
            "on board at the last fuelling, rounded down - used since, rounded up",
            f"{printed_fuel(printed.board_steps, step)} - {used}",
            f"{printed_fuel(printed.left_steps, step)} {unit}",
            _ROUNDED_ONCE,
        )


def _fuel_of_flight(log: Log) -> tuple[Working, ...]:
    """The reserve, the fuel required and what is left beyond it, exact; the sheet rounds each amount up."""
    fuel, unit = log.fuel, log.fuel_unit.name
    way, steps = fuel.diversion, []
    planned: Fuel | Diversion = way or fuel
    if planned.reserve is not None and fuel.burn_per_h is not None:
        steps.append(
            Working(
                "reserve",
                f"minutes x cruise burn in {unit}/h / 60",
                f"{planned.reserve_min:.1f} x {hundredths(fuel.burn_per_h)} / 60",
                f"{hundredths(planned.reserve)} {unit}",
                planned.reserve_rule,
            )
        )
    trip = "trip + alternate"
    if way is not None:
        trip = f"trip to {way.start} + alternate {f'{way.airport} from there' if way.airport else '0'}"
    parts = (planned.used, planned.alternate, planned.contingency, planned.reserve, fuel.extra)
    known = tuple(hundredths(part) for part in parts if part is not None)
    if fuel.required is not None and len(known) == len(parts):
        steps.append(
            Working(
                "fuel required",
                f"{trip} + contingency + reserve + extra",
                " + ".join(known),
                f"{hundredths(fuel.required)} {unit}",
                "14 CFR 91.151, 91.167",
            )
        )
    if fuel.margin is not None and fuel.on_board is not None and fuel.required is not None:
        steps.append(
            Working(
                "margin",
                "on board after taxi - required",
                f"{hundredths(fuel.on_board)} - {hundredths(fuel.required)}",
                f"{fuel.margin + 0.0:+.2f} {unit}",
                HANDBOOK,
            )
        )
    return tuple(steps)
