"""The climb from an airport: where, after how long and how steeply the minimum of its way is reached."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from navlog.flightlog.altitudes import SAME_FT, below
from navlog.flightlog.climbing import CannotClimb, forward, standing
from navlog.flightlog.records import Conditions, Leg
from navlog.flightlog.runs import Step
from navlog.flightlog.track import Piece
from navlog.nav.problems import NavlogError


class Reached(Struct, frozen=True):
    """Where a climb reaches a minimum: on which leg, how far along the way and how long after take-off.

    `gradient_ft_per_nm` is the least that any part of the climb to there gains.
    """

    leg: Leg
    minimum_ft: float
    distance_nm: float
    time_min: float
    gradient_ft_per_nm: float


class _Flown(Struct):
    """How far and how long a climb has gone, and the least that any part of it gained."""

    distance_nm: float = 0.0
    time_min: float = 0.0
    gradient_ft_per_nm: float = float("inf")

    def add(self, step: Step) -> None:
        """Count a step."""
        distance_nm = step.to_nm - step.from_nm
        self.distance_nm += distance_nm
        self.time_min += step.time_min or 0.0
        # Level steps within a climb gain nothing and would make the least gradient zero; in a hold there are no miles.
        if distance_nm > 0.0 and step.end_ft - step.start_ft > SAME_FT:
            self.gradient_ft_per_nm = min(self.gradient_ft_per_nm, (step.end_ft - step.start_ft) / distance_nm)

    def at(self, leg: Leg, minimum_ft: float) -> Reached:
        """What was flown, as the way to a minimum."""
        return Reached(leg, minimum_ft, self.distance_nm, self.time_min, self.gradient_ft_per_nm)


def reached(climb: tuple[Leg, ...], conditions: Conditions) -> Reached | None:
    """Where an unbroken climb is from then on at or above the minimums of its way: each MEA or stated minimum.

    The climb is flown again in the steps of which its legs are made. None where it is never below a known minimum,
    and where it ends below one.
    """
    flown = _Flown()
    found: Reached | None = None
    short = False
    for leg in climb:
        minimum_ft = leg.stretch.limits.least_ft
        goal_ft = None
        if minimum_ft is not None and below(leg.start_altitude_ft, minimum_ft):
            goal_ft, found, short = minimum_ft, None, True
        elif minimum_ft is not None and short:
            # The way before was left below its minimum; this one's is met.
            found, short = flown.at(leg, minimum_ft), False
        for step in _steps_of(leg, goal_ft, conditions):
            flown.add(step)
            if minimum_ft is not None and goal_ft is not None and short and not below(step.end_ft, goal_ft):
                found, short = flown.at(leg, minimum_ft), False
    return found


def _steps_of(leg: Leg, through_ft: float | None, conditions: Conditions) -> Iterator[Step]:
    """The steps of a leg of a climb, or of a climb in a hold, one of which ends at `through_ft` where it is passed.

    None where the air is not known or the aircraft's table ends.
    """
    end_ft, from_nm, height_ft = leg.end_altitude_ft, leg.start_nm, leg.start_altitude_ft
    whole = Piece(leg.stretch, leg.part, leg.part.start_nm, leg.part.end_nm)
    # Cut at the minimum, so that the place is where it is passed and not the end of a step of 200 ft.
    goals = [end_ft] if through_ft is None or not height_ft < through_ft < end_ft else [through_ft, end_ft]
    try:
        for goal_ft in goals:
            if leg.stays:
                steps = standing(whole, leg.phase, height_ft, goal_ft, conditions)
            else:
                steps = forward((whole,), from_nm, height_ft, goal_ft, leg.end_nm, conditions)
            for step in steps:
                yield step
                from_nm, height_ft = step.to_nm, step.end_ft
    except (CannotClimb, NavlogError):
        return
