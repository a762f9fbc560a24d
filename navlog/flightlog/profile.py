"""How high each part of the way is flown, from take-off to landing: climb, cruise and descent.

A change of level begins at its point; a climb begins earlier where a crossing altitude asks for it. The last
descent is laid back from the airport; under IFR it stays at or above each leg's minimum until that leg's end.
What height is left over the airport is lost there, in time and fuel alone. Without an aircraft file, or without
wind, every part is flown at its level.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest

from msgspec import Struct

from navlog.flightlog.altitudes import below
from navlog.flightlog.climbing import CLOSE_FT, CannotClimb, backward, forward, standing
from navlog.flightlog.performance import vertical_table
from navlog.flightlog.records import Conditions, Phase
from navlog.flightlog.runs import Step, lands, level_step, names
from navlog.flightlog.track import CLOSE_NM, Piece, pieces, settled
from navlog.nav.chart import Airport
from navlog.nav.problems import NavlogError, Problem
from navlog.request.levels import level_altitude_ft
from navlog.request.records import HoldRequest
from navlog.resolve.route import Point, Route, Stretch

# Named once: up to Python 3.11 a member asked of its enumeration costs as much as four calls.
_CLIMB, _DESCENT = Phase.CLIMB, Phase.DESCENT

PATTERN_FT = 1_000.0
"""The height of a traffic pattern above its field where none is stated (AIM 4-3-3)."""


def steps(route: Route, conditions: Conditions) -> list[Step]:
    """The steps of the whole flight, sector by sector.

    Raises a problem where the aircraft file does not cover a height or temperature flown.
    """
    found: list[Step] = []
    waiting = _climbs_in_holds(route, conditions)
    for sector in _sectors(route.stretches):
        track = pieces(sector)
        holds = tuple(_climbs_on(track, route, conditions, waiting))
        entry_ft = conditions.entry_ft if sector[0] is route.stretches[0] else None
        start_ft = entry_ft if entry_ft is not None else _field_elevation_ft(sector[0].start)
        last = sector[-1] is route.stretches[-1]
        try:
            found += _sector_steps(track, start_ft, holds, conditions, last=last)
        except CannotClimb:
            found += _level_steps(track, conditions)
    return found


def _sectors(stretches: tuple[Stretch, ...]) -> Iterator[tuple[Stretch, ...]]:
    """The stretches between take-offs and landings."""
    sector: list[Stretch] = []
    for stretch in stretches:
        sector.append(stretch)
        if stretch.end.landing is not None:
            yield tuple(sector)
            sector = []
    if sector:
        yield tuple(sector)


def _level_steps(track: tuple[Piece, ...], conditions: Conditions) -> tuple[Step, ...]:
    """Every piece at its planned level."""
    return tuple(
        [
            level_step(piece, piece.from_nm, piece.to_nm, _planned_ft(piece.stretch, conditions), conditions)
            for piece in track
        ]
    )


def _sector_steps(
    track: tuple[Piece, ...],
    start_ft: float | None,
    holds: tuple[_HoldClimb, ...],
    conditions: Conditions,
    *,
    last: bool,
) -> tuple[Step, ...]:
    """The steps between a take-off, or the height where a way begins in the air, and the next landing."""
    if vertical_table(conditions, _CLIMB) is None and vertical_table(conditions, _DESCENT) is None:
        return _level_steps(track, conditions)
    climbed = _up_and_along(track, start_ft, holds, conditions)
    end_ft = landing_height_ft(track[-1].stretch.end, conditions, last=last)
    too_high = end_ft is not None and end_ft >= max(step.end_ft for step in climbed)
    if end_ft is None or too_high or vertical_table(conditions, _DESCENT) is None:
        return climbed
    flown = tuple(_with_descent(track, climbed, end_ft, conditions))
    if below(end_ft, flown[-1].end_ft):
        return (*flown, *standing(track[-1], Phase.LOSING, flown[-1].end_ft, end_ft, conditions))
    return flown


def _up_and_along(
    track: tuple[Piece, ...], start_ft: float | None, holds: tuple[_HoldClimb, ...], conditions: Conditions
) -> tuple[Step, ...]:
    """The steps without the last descent: climbs, in holds too, and level changes where they are due.

    They begin at the first level where `start_ft` is not known.
    """
    height_ft = start_ft if start_ft is not None else _planned_ft(track[0].stretch, conditions)
    due = _level_changes(track, conditions)
    flown: tuple[Step, ...] = ()
    from_nm = 0.0
    for hold in holds:
        flown = (*flown, *_between_holds(track, from_nm, hold.piece.to_nm, height_ft, due, conditions))
        from_nm, height_ft = hold.piece.to_nm, flown[-1].end_ft
        if below(height_ft, hold.until_ft):
            flown = (*flown, *standing(hold.piece, Phase.HOLD, height_ft, hold.until_ft, conditions))
            height_ft = hold.until_ft
    return (*flown, *_between_holds(track, from_nm, track[-1].to_nm, height_ft, due, conditions))


def _between_holds(
    track: tuple[Piece, ...],
    from_nm: float,
    end_nm: float,
    height_ft: float,
    due: tuple[_LevelChange, ...],
    conditions: Conditions,
) -> tuple[Step, ...]:
    """The steps from take-off or a climb in a hold to the next one or to the end."""
    if end_nm - from_nm <= CLOSE_NM:
        return ()
    *_, first = (change for change in due if change.at_nm <= from_nm + CLOSE_NM)
    ahead = tuple(change for change in due if from_nm + CLOSE_NM < change.at_nm < end_nm - CLOSE_NM)
    flown = tuple(_to_level(track, from_nm, height_ft, first.goal_ft, ahead[0].at_nm if ahead else end_nm, conditions))
    for change, following in zip_longest(ahead, ahead[1:]):
        flown = _in_time_for(change, track, flown, conditions)
        until_nm = end_nm if following is None else following.at_nm
        flown = (*flown, *_to_level(track, change.at_nm, flown[-1].end_ft, change.goal_ft, until_nm, conditions))
    return flown


class _HoldClimb(Struct, frozen=True):
    """A climb in the hold at the end of a piece, to an altitude."""

    piece: Piece
    until_ft: float


def _climbs_in_holds(route: Route, conditions: Conditions) -> list[HoldRequest]:
    """The holds of the flight in which it climbs. Raises a problem where there are no figures of climb."""
    asked = [hold for hold in route.request.holds if hold.until is not None]
    if asked and vertical_table(conditions, _CLIMB) is None:
        raise NavlogError(
            *(
                Problem("no-climb-figures", "a climb in the hold needs an aircraft file with [climb]", hold.span)
                for hold in asked
            )
        )
    return asked


def _climbs_on(
    track: tuple[Piece, ...], route: Route, conditions: Conditions, waiting: list[HoldRequest]
) -> Iterator[_HoldClimb]:
    """The climbs in holds on a sector, each at the first passage of its point in the air; taken from `waiting`."""
    for piece in track if waiting else ():
        stretch = piece.stretch
        if piece.part is not stretch.parts[-1] or lands(route, stretch.end):
            continue
        for hold in [one for one in waiting if names(one.point, stretch.end)]:
            waiting.remove(hold)
            assert hold.until is not None
            yield _HoldClimb(piece, level_altitude_ft(hold.until, conditions.altimeter_hpa))


def _planned_ft(stretch: Stretch, conditions: Conditions) -> float:
    """The altitude of a stretch's planned level."""
    return level_altitude_ft(stretch.level, conditions.altimeter_hpa)


class _LevelChange(Struct, frozen=True):
    """A planned level that begins `at_nm` from take-off; what must be reached there before it, None for nothing."""

    at_nm: float
    goal_ft: float
    crossing_ft: float | None = None


def _level_changes(track: tuple[Piece, ...], conditions: Conditions) -> tuple[_LevelChange, ...]:
    """Where each planned level begins or must be reached so far: at each point with a crossing altitude.

    A crossing altitude counts as far as the level beyond it goes: a level that is stated is not climbed above.
    """
    due: list[_LevelChange] = []
    for piece in track:
        planned_ft = _planned_ft(piece.stretch, conditions)
        if not due:
            due.append(_LevelChange(0.0, planned_ft))
        elif piece.part.start_nm == 0.0:
            crossing_ft = _crossed_at_least_ft(piece.stretch, planned_ft)
            if crossing_ft is None and planned_ft == due[-1].goal_ft:
                continue
            due.append(_LevelChange(piece.from_nm, planned_ft, crossing_ft))
    return tuple(due)


def _crossed_at_least_ft(stretch: Stretch, level_ft: float) -> float | None:
    """The altitude at which a stretch must be begun, by its crossing altitudes, as far as a level goes."""
    crossings = [one.altitude_ft for one in stretch.limits.crossings_start]
    return min(max(crossings), level_ft) if crossings else None


def _to_level(
    track: tuple[Piece, ...], from_nm: float, start_ft: float, goal_ft: float, until_nm: float, conditions: Conditions
) -> Iterator[Step]:
    """The steps to a level and along it, from one distance from take-off to another."""
    along_nm, height_ft = from_nm, start_ft
    phase = _CLIMB if goal_ft > height_ft else _DESCENT
    if vertical_table(conditions, phase) is None:
        height_ft = goal_ft
    for step in forward(track, along_nm, height_ft, goal_ft, until_nm, conditions) if height_ft != goal_ft else ():
        yield step
        along_nm, height_ft = step.to_nm, step.end_ft
    for piece in track:
        stop_nm = min(piece.to_nm, until_nm)
        if stop_nm > along_nm + CLOSE_NM:
            yield level_step(piece, max(piece.from_nm, along_nm), stop_nm, height_ft, conditions)
            along_nm = stop_nm


def _in_time_for(
    change: _LevelChange, track: tuple[Piece, ...], flown: tuple[Step, ...], conditions: Conditions
) -> tuple[Step, ...]:
    """The way flown before a level change, with the climb to its crossing altitude laid back from its point.

    Where that would have to begin before the start, the climb takes all the way there is.
    """
    asked_ft = change.crossing_ft
    if asked_ft is None or not flown or asked_ft <= flown[-1].end_ft:
        return flown
    if vertical_table(conditions, _CLIMB) is None:
        return flown
    lowest_ft = min(step.start_ft for step in flown)
    climb = backward(track, change.at_nm, asked_ft, min(lowest_ft, flown[-1].end_ft), conditions)
    start_nm = _climb_start_nm(flown, climb)
    if start_nm is None:
        return tuple(_to_level(track, flown[0].from_nm, flown[0].start_ft, asked_ft, change.at_nm, conditions))
    start_nm = settled(track, start_nm)
    return (*_until(flown, start_nm, conditions), *_since(climb, start_nm))


def _climb_start_nm(flown: tuple[Step, ...], climb: tuple[Step, ...]) -> float | None:
    """Where a climb laid back from its end leaves the way flown before it; None where it begins below take-off."""
    for step in reversed(climb):
        low_nm, high_nm = step.from_nm, step.to_nm
        over_ft = step.start_ft - _height_on(flown, low_nm)
        if abs(over_ft) < CLOSE_FT:
            return low_nm
        if over_ft > 0.0:
            continue
        for _ in range(50):
            middle_nm = (low_nm + high_nm) / 2.0
            if step.height_at(middle_nm) <= _height_on(flown, middle_nm):
                low_nm = middle_nm
            else:
                high_nm = middle_nm
        return low_nm
    return None


def _until(steps: tuple[Step, ...], end_nm: float, conditions: Conditions) -> Iterator[Step]:
    """The steps as far as a distance from take-off."""
    for step in steps:
        if step.to_nm <= end_nm + CLOSE_NM:
            yield step
        elif step.from_nm < end_nm - CLOSE_NM and step.phase is Phase.CRUISE:
            yield level_step(step.piece, step.from_nm, end_nm, step.start_ft, conditions)
        elif step.from_nm < end_nm - CLOSE_NM:
            yield step.between(step.from_nm, end_nm)


def _since(steps: tuple[Step, ...], start_nm: float) -> Iterator[Step]:
    """The steps of a climb or descent from a distance from take-off on."""
    for step in steps:
        if step.from_nm >= start_nm - CLOSE_NM:
            yield step
        elif step.to_nm > start_nm + CLOSE_NM:
            yield step.between(start_nm, step.to_nm)


def _with_descent(
    track: tuple[Piece, ...], climbed: tuple[Step, ...], end_ft: float, conditions: Conditions
) -> Iterator[Step]:
    """The steps, cut where the descent to the landing begins."""
    descent = _descent_steps(track, climbed, end_ft, conditions)
    top_nm = _top_of_descent_nm(climbed, descent)
    if top_nm is None:
        yield from forward(track, 0.0, climbed[0].start_ft, end_ft, track[-1].to_nm, conditions)
        return
    top_nm = settled(track, top_nm)
    down = tuple(_since(descent, top_nm))
    for step in _until(climbed, top_nm, conditions):
        if step.phase is not Phase.HOLD or step.to_nm < top_nm - CLOSE_NM or step.end_ft <= down[0].start_ft:
            yield step
        elif step.start_ft < down[0].start_ft:
            # The way down from the hold begins lower than was asked for.
            yield from standing(step.piece, Phase.HOLD, step.start_ft, down[0].start_ft, conditions)
    yield from down


def _descent_steps(
    track: tuple[Piece, ...], climbed: tuple[Step, ...], end_ft: float, conditions: Conditions
) -> tuple[Step, ...]:
    """The descent laid back from the landing, under IFR never below a leg's minimum before that leg's end.

    Where a minimum holds it up, it goes on from that leg's end and may arrive above `end_ft`.
    """
    top_ft = max(step.end_ft for step in climbed)
    laid = backward(track, track[-1].to_nm, end_ft, top_ft, conditions)
    ahead = track[-1]
    for piece in () if conditions.vfr else reversed(track):
        floor_ft = _minimum_ft(piece, ahead, _height_on(climbed, piece.to_nm))
        ahead = piece
        if piece.stretch is track[-1].stretch or floor_ft is None:
            continue
        if below(_height_on(laid, piece.to_nm, beyond=top_ft), floor_ft):
            down_to = backward(track, piece.to_nm, floor_ft, top_ft, conditions)
            after = forward(track, piece.to_nm, floor_ft, end_ft, track[-1].to_nm, conditions)
            laid = (*down_to, *after)
    return laid


def _minimum_ft(piece: Piece, ahead: Piece, planned_ft: float) -> float | None:
    """The minimum that the descent keeps to a piece's end, as far as it is flown above that.

    Its MEA or stated minimum, that of the piece `ahead`, and the altitude at which its end must be crossed toward it.
    """
    crossing_ft = _crossed_at_least_ft(ahead.stretch, planned_ft) if ahead.stretch is not piece.stretch else None
    minimums = piece.stretch.limits.least_ft, ahead.stretch.limits.least_ft, crossing_ft
    asked = [one for one in minimums if one is not None]
    return min(max(asked), planned_ft) if asked else None


def _height_on(flown: tuple[Step, ...], along_nm: float, beyond: float = 0.0) -> float:
    """The height at a distance from take-off; `beyond` where the steps do not reach."""
    for step in flown:
        if step.from_nm - CLOSE_NM <= along_nm <= step.to_nm + CLOSE_NM:
            return step.height_at(min(max(along_nm, step.from_nm), step.to_nm))
    return beyond


def _top_of_descent_nm(climbed: tuple[Step, ...], descent: tuple[Step, ...]) -> float | None:
    """Where the laid-back descent meets the way flown before it; None where it begins below take-off."""
    for step in reversed(descent):
        low_nm, high_nm = step.from_nm, step.to_nm
        if step.height_at(low_nm) < _height_on(climbed, low_nm) - 1e-6:
            continue
        for _ in range(50):
            middle_nm = (low_nm + high_nm) / 2.0
            if step.height_at(middle_nm) >= _height_on(climbed, middle_nm):
                low_nm = middle_nm
            else:
                high_nm = middle_nm
        return low_nm
    return None


def _field_elevation_ft(point: Point) -> float | None:
    """The elevation of an airport; None for another point or where it is not known."""
    return point.place.elevation_ft if isinstance(point.place, Airport) else None


def landing_height_ft(point: Point, conditions: Conditions, *, last: bool) -> float | None:
    """The height at which the descent ends: that of the pattern, else the field's elevation.

    At the last landing the pattern is where it is stated; else, under VFR, 1,000 ft above the field.
    """
    if not isinstance(point.place, Airport):
        return None
    if last and conditions.pattern_ft is not None:
        return conditions.pattern_ft
    elevation_ft = point.place.elevation_ft
    return elevation_ft + PATTERN_FT if conditions.vfr and elevation_ft is not None else elevation_ft
