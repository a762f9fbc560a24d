"""Steps of flight to runs: all that is flown of one piece in one phase, with its mean wind and speed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby, pairwise

from msgspec import Struct

from navlog.flightlog.performance import air_at, cruise, fuel_in_time
from navlog.flightlog.records import STAYING, Conditions, Phase, Run
from navlog.flightlog.track import Piece, course_at, variation_at
from navlog.nav.problems import NavlogError, Problem
from navlog.nav.record import changed
from navlog.nav.wind import Triangle, Wind, mix, triangle
from navlog.request.records import RouteWord
from navlog.resolve.route import Point, PointKind, Route

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_CRUISE = Phase.CRUISE

_SHORT_NM = 1.0
_SHORT_MIN = 1.0
"""Level flight beside a climb or descent that is shorter than either is no leg: nobody flies it as one."""
_HOLD_HINT = "name a point that the flight passes in the air"


class Step(Struct, frozen=True):
    """A short part of a piece flown in one phase, from `start_nm` to `end_nm` along its stretch.

    `time_min` and `fuel` (in the log's unit) are None where they cannot be told. Level flight carries its
    course and triangle, which hold at its middle.
    """

    piece: Piece
    phase: Phase
    start_nm: float
    end_nm: float
    start_ft: float
    end_ft: float
    tas_kt: float | None
    wind: Wind | None
    beyond_ft: float
    time_min: float | None
    fuel: float | None
    true_course_deg: float | None = None
    triangle: Triangle | None = None

    @property
    def from_nm(self) -> float:
        """How far its start lies from take-off."""
        return self.piece.from_nm + self.start_nm - self.piece.part.start_nm

    @property
    def to_nm(self) -> float:
        """How far its end lies from take-off."""
        return self.piece.from_nm + self.end_nm - self.piece.part.start_nm

    def height_at(self, along_nm: float) -> float:
        """The height at a distance from take-off within the step."""
        if self.to_nm == self.from_nm:
            return self.end_ft
        share = (along_nm - self.from_nm) / (self.to_nm - self.from_nm)
        return self.start_ft + share * (self.end_ft - self.start_ft)

    def between(self, from_nm: float, to_nm: float) -> Step:
        """The part of the step between two distances from take-off, with its share of time and fuel."""
        share = (to_nm - from_nm) / (self.to_nm - self.from_nm)
        shift_nm = self.start_nm - self.from_nm
        return changed(
            self,
            start_nm=self.start_nm if from_nm == self.from_nm else from_nm + shift_nm,
            end_nm=self.end_nm if to_nm == self.to_nm else to_nm + shift_nm,
            start_ft=self.height_at(from_nm),
            end_ft=self.height_at(to_nm),
            time_min=None if self.time_min is None else self.time_min * share,
            fuel=None if self.fuel is None else self.fuel * share,
        )


def level_step(piece: Piece, from_nm: float, to_nm: float, altitude_ft: float, conditions: Conditions) -> Step:
    """Level flight over a part of a piece: wind, speed and triangle at its middle."""
    start_nm, end_nm = along_stretch(piece, from_nm), along_stretch(piece, to_nm)
    course_deg, where = course_at(piece.stretch, piece.part, (start_nm + end_nm) / 2.0)
    air = air_at(conditions, where, altitude_ft)
    going = cruise(conditions, air, piece.stretch.tas_kt)
    time_min = fuel = solved = None
    if going is not None and air.wind is not None and course_deg is not None:
        solved = triangle(true_course_deg=course_deg, tas_kt=going.tas_kt, wind=air.wind)
        if solved.groundspeed_kt is not None:
            time_min = (end_nm - start_nm) / solved.groundspeed_kt * 60.0
    if time_min is not None and going is not None and going.burn_per_h is not None:
        fuel = time_min / 60.0 * going.burn_per_h
    tas_kt = going.tas_kt if going is not None else None
    return Step(
        piece,
        _CRUISE,
        start_nm,
        end_nm,
        altitude_ft,
        altitude_ft,
        tas_kt,
        air.wind,
        air.beyond_ft,
        time_min,
        fuel,
        course_deg,
        solved,
    )


def along_stretch(piece: Piece, along_nm: float) -> float:
    """A distance from take-off counted along the piece's stretch; its two ends come out exact."""
    if along_nm <= piece.from_nm:
        return piece.part.start_nm
    if along_nm >= piece.to_nm:
        return piece.part.end_nm
    return piece.part.start_nm + along_nm - piece.from_nm


def runs(steps: Iterable[Step]) -> list[Run]:
    """The runs that neighbouring steps of one piece and phase make up."""
    return [_run(group) for group in grouped(steps)]


def grouped(steps: Iterable[Step]) -> list[tuple[Step, ...]]:
    """Neighbouring steps of one piece and phase together: what makes up each run.

    Level flight too short for a leg goes with the climb before it or the descent behind it on the same piece.
    """
    pieced: list[list[Step]] = []
    for step in steps:
        # By identity: two pieces may be equal where a flight goes round the same way twice.
        if pieced and pieced[-1][0].piece is step.piece:
            pieced[-1].append(step)
        else:
            pieced.append([step])
    found: list[tuple[Step, ...]] = []
    for some in pieced:
        # What is flown in one step, as nearly every piece in cruise, has no neighbour to go with.
        if len(some) == 1:
            found.append((some[0],))
        else:
            found.extend(_merged([tuple(group) for _, group in groupby(some, key=lambda step: step.phase)]))
    return found


def _merged(groups: list[tuple[Step, ...]]) -> list[tuple[Step, ...]]:
    """The groups of one piece, by phase, with short level flight taken in by its neighbour."""
    found: list[tuple[Step, ...]] = []
    ahead: tuple[Step, ...] = ()
    for group, following in zip(groups, (*groups[1:], ()), strict=True):
        if _short_level(group) and found and _goes_up_or_down(found[-1]):
            found[-1] = (*found[-1], *group)
        elif _short_level(group) and _goes_up_or_down(following):
            ahead = group
        elif found and _goes_up_or_down(group) and _vertical_phase(found[-1]) is group[0].phase:
            # Two climbs with the short level flight between them, taken in already.
            found[-1] = (*found[-1], *group)
        else:
            found.append((*ahead, *group))
            ahead = ()
    return found


def _goes_up_or_down(group: tuple[Step, ...]) -> bool:
    """Whether steps are, or contain, a climb or descent on the way."""
    return any(step.phase in (Phase.CLIMB, Phase.DESCENT) for step in group)


def _short_level(group: tuple[Step, ...]) -> bool:
    """Whether level flight is less than 1 NM or 1 minute: no leg of its own beside a climb or descent."""
    if group[0].phase is not _CRUISE:
        return False
    time_min = group[0].time_min
    # Either will do: in a strong tailwind a minute is long, in a headwind a mile is.
    return group[-1].end_nm - group[0].start_nm < _SHORT_NM or (time_min is not None and time_min < _SHORT_MIN)


def _vertical_phase(group: tuple[Step, ...]) -> Phase:
    """The phase of a group: the climb or descent in it, else that of all its steps."""
    return next((step.phase for step in group if step.phase is not _CRUISE), group[0].phase)


def _level_changes(group: tuple[Step, ...]) -> Iterator[tuple[PointKind, float]]:
    """Where within a group a climb or descent begins or ends, along the stretch."""
    for before, after in pairwise(group):
        if before.phase is after.phase:
            continue
        if after.phase is Phase.DESCENT:
            yield PointKind.TOP_OF_DESCENT, after.start_nm
        else:
            yield PointKind.TOP_OF_CLIMB if before.phase is Phase.CLIMB else PointKind.LEVEL_CHANGE, after.start_nm


def _run(steps: tuple[Step, ...]) -> Run:
    """One run: course and variation at its middle, wind and speed as means over the time flown."""
    first, last = steps[0], steps[-1]
    alone = first is last
    if alone and first.phase is _CRUISE:
        return _level_run(first)
    phase = first.phase if alone else _vertical_phase(steps)
    stretch, part = first.piece.stretch, first.piece.part
    middle_nm = (first.start_nm + last.end_nm) / 2.0
    variation_deg, variation_source = variation_at(stretch, part, middle_nm)
    tas_kt, wind, time_min = (first.tas_kt, first.wind, first.time_min) if alone else _means(steps)
    fuel = first.fuel if alone else _total_fuel(steps)
    # Before the course: at a place there is none, and a middle of nothing.
    if first.phase in STAYING:
        return _at_a_place(first, last, variation_deg, variation_source, time_min, fuel)
    course_deg, _ = course_at(stretch, part, middle_nm)
    solved = None
    if wind is not None and course_deg is not None and tas_kt is not None:
        solved = triangle(true_course_deg=course_deg, tas_kt=tas_kt, wind=wind)
    groundspeed_kt = solved.groundspeed_kt if solved is not None else None
    # Over layers of different wind the speed made good is way over time; the mean triangle comes near, not to it.
    if phase is not _CRUISE and groundspeed_kt is not None and time_min:
        groundspeed_kt = (last.end_nm - first.start_nm) / time_min * 60.0
    return Run(
        stretch=stretch,
        part=part,
        start_nm=first.start_nm,
        end_nm=last.end_nm,
        phase=phase,
        start_altitude_ft=first.start_ft,
        end_altitude_ft=last.end_ft,
        true_course_deg=course_deg,
        variation_deg=variation_deg,
        variation_source=variation_source,
        tas_kt=tas_kt,
        wind=wind,
        wind_beyond_ft=first.beyond_ft if alone else max(step.beyond_ft for step in steps),
        triangle=solved,
        groundspeed_kt=groundspeed_kt,
        time_min=time_min,
        fuel_used=fuel,
        changes=() if alone else tuple(_level_changes(steps)),
    )


def _level_run(step: Step) -> Run:
    """The run of a single step in level flight, which has course and triangle of its middle already."""
    stretch, part, solved = step.piece.stretch, step.piece.part, step.triangle
    variation_deg, variation_source = variation_at(stretch, part, (step.start_nm + step.end_nm) / 2.0)
    return Run(
        stretch,
        part,
        _CRUISE,
        step.start_nm,
        step.end_nm,
        step.start_ft,
        step.end_ft,
        step.true_course_deg,
        variation_deg,
        variation_source,
        step.tas_kt,
        step.wind,
        step.beyond_ft,
        solved,
        solved.groundspeed_kt if solved is not None else None,
        step.time_min,
        step.fuel,
        (),
    )


def _total_fuel(steps: tuple[Step, ...]) -> float | None:
    """The fuel of all steps; None where that of one is not known."""
    fuels = [step.fuel for step in steps]
    # A sum that left out an unknown part would read as less fuel than is needed.
    return None if None in fuels else sum(fuel for fuel in fuels if fuel is not None)


def _at_a_place(
    first: Step,
    last: Step,
    variation_deg: float | None,
    variation_source: str,
    time_min: float | None,
    fuel: float | None,
) -> Run:
    """A climb in the hold, or height to lose: there is no course to fly and no way made."""
    return Run(
        stretch=first.piece.stretch,
        part=first.piece.part,
        start_nm=last.end_nm,
        end_nm=last.end_nm,
        phase=first.phase,
        start_altitude_ft=first.start_ft,
        end_altitude_ft=last.end_ft,
        true_course_deg=None,
        variation_deg=variation_deg,
        variation_source=variation_source,
        tas_kt=first.tas_kt,
        wind=first.wind,
        wind_beyond_ft=max(first.beyond_ft, last.beyond_ft),
        triangle=None,
        groundspeed_kt=None,
        time_min=time_min,
        fuel_used=fuel,
        changes=(),
    )


def _means(steps: tuple[Step, ...]) -> tuple[float | None, Wind | None, float | None]:
    """True airspeed and wind as means over the time flown, and that time."""
    timed = [(step.time_min, step.tas_kt, step.wind) for step in steps]
    total_min = sum(time_min for time_min, _, _ in timed if time_min is not None)
    # Means over no time have no value; the first step stands for what is too short to print.
    if total_min <= 0.0:
        return steps[0].tas_kt, steps[0].wind, None
    tas_kt = sum((tas or 0.0) * (time_min or 0.0) for time_min, tas, _ in timed) / total_min
    # A climb in the hold takes its time whether or not a wind is known.
    winds = [(wind, (time_min or 0.0) / total_min) for time_min, _, wind in timed if wind is not None]
    return tas_kt, mix(winds) if winds else None, total_min


def with_holds(route: Route, flown: Iterable[Run], conditions: Conditions) -> tuple[Run, ...]:
    """The runs with each stated hold after the one that first ends at its point.

    Raises a `hold-off-route` problem for a hold where the flight takes off or lands.
    """
    waiting = list(route.request.holds)
    if not waiting:
        return tuple(flown)
    found: list[Run] = []
    for one in flown:
        found.append(one)
        point = one.stretch.end
        # A changeover or top of climb may share the point's name; held is at the end of the stretch alone.
        if one.end_nm < one.stretch.length_nm or lands(route, point):
            continue
        for hold in [hold for hold in waiting if names(hold.point, point)]:
            waiting.remove(hold)
            # A climb in the hold is a step of the profile.
            if hold.until is None:
                found.append(_held(one, hold.time_min, conditions))
    if waiting:
        message = "no hold at `{}`: the flight takes off or lands there"
        problems = (
            Problem("hold-off-route", message.format(hold.point.text), hold.span, _HOLD_HINT) for hold in waiting
        )
        raise NavlogError(*problems)
    return tuple(found)


def lands(route: Route, point: Point) -> bool:
    """Whether the flight lands at a point, on the way or at its end."""
    return point.landing is not None or (point is route.points[-1] and point.kind is PointKind.AIRPORT)


def names(word: RouteWord, point: Point) -> bool:
    """Whether a word names a point of the route."""
    if word.ident is None:
        return point.ident is None and point.position == word.position
    return point.ident == (word.ident if word.bearing_deg is None else word.text)


def _held(before: Run, time_min: float, conditions: Conditions) -> Run:
    """A hold at the end of a run: time and fuel at cruise, no distance."""
    stretch, altitude_ft = before.stretch, before.end_altitude_ft
    air = air_at(conditions, stretch.end.position, altitude_ft)
    going = cruise(conditions, air, stretch.tas_kt)
    burn = going.burn_per_h if going is not None else None
    return changed(
        before,
        start_nm=stretch.length_nm,
        phase=Phase.HOLD,
        start_altitude_ft=altitude_ft,
        true_course_deg=None,
        tas_kt=going.tas_kt if going is not None else None,
        wind=air.wind,
        wind_beyond_ft=air.beyond_ft,
        triangle=None,
        groundspeed_kt=None,
        time_min=time_min,
        fuel_used=fuel_in_time(time_min, burn),
        changes=(),
    )
