"""How each figure of a log came about, step by step, as an instructor writes it on the board.

It reads a computed log: results are the log's own numbers, and values put in are those that the planner used.
"""

from __future__ import annotations

from msgspec import Struct

from navlog.flightlog import profile
from navlog.flightlog.records import Leg, Log, Phase
from navlog.flightlog.runs import Step as Flown
from navlog.flightlog.runs import grouped
from navlog.nav.problems import Span, problem_error
from navlog.nav.workings import Step
from navlog.studies import (
    explanation_account as account,
)
from navlog.studies import (
    explanation_courses as courses,
)
from navlog.studies import (
    explanation_passages as passages,
)
from navlog.studies import (
    explanation_winds as winds,
)
from navlog.studies.explanation_account import Printed


class ExplainedLeg(Struct, frozen=True):
    """The workings of one leg."""

    leg: Leg
    steps: tuple[Step, ...]


class Explanation(Struct, frozen=True):
    """The workings of the legs of a flight, and of its fuel (empty where only one leg is asked for)."""

    log: Log
    legs: tuple[ExplainedLeg, ...]
    fuel: tuple[Step, ...]


def explain(log: Log, printed: tuple[Printed, ...], *, leg: int | None = None) -> Explanation:
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
        ExplainedLeg(one, leg_steps(log, one, flown, shown))
        for one, flown, shown in zip(log.legs, flown_steps(log), printed, strict=True)
        if leg in (None, one.number)
    )
    return Explanation(log, found, account.fuel_of_flight(log) if leg is None else ())


def flown_steps(log: Log) -> tuple[tuple[Flown, ...], ...]:
    """The short steps of flight that the planner made each leg of; none for a hold at a level."""
    groups = grouped(profile.steps(log.route, log.conditions))
    return tuple(() if holds_level(leg) else next(groups) for leg in log.legs)


def holds_level(leg: Leg) -> bool:
    """Whether a leg is a hold of a stated time, which has no steps."""
    return leg.phase is Phase.HOLD and leg.start_altitude_ft == leg.end_altitude_ft


def leg_steps(log: Log, leg: Leg, flown: tuple[Flown, ...], printed: Printed) -> tuple[Step, ...]:
    """The workings of one leg, in the order in which they are done."""
    if leg.stays:
        return (*passages.at_a_place(leg, flown), *account.clock_and_fuel(log, leg, printed))
    return (
        *courses.needle(leg),
        *courses.course(log, leg),
        *winds.wind(log, leg, flown),
        *winds.airspeed(log, leg, flown),
        *winds.heading(log, leg),
        *passages.changeover(leg),
        *passages.distance(leg, flown),
        *passages.time(leg, flown),
        *account.clock_and_fuel(log, leg, printed),
        *passages.identification(leg),
        *passages.limits(leg),
    )
