"""Climb and descent in steps of height, forward from a point or backward from where they must end.

Each step is flown at the speed, rate and wind of its middle height, so the wind counts for the time spent in
each layer (the distance is the integral of groundspeed over time; steps of 200 ft).
"""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.altitudes import SAME_FT
from navlog.flightlog.performance import air_at, fuel_in_time, vertical, vertical_table
from navlog.flightlog.records import Conditions, Phase
from navlog.flightlog.runs import Step, along_stretch
from navlog.flightlog.track import CLOSE_NM, Piece, course_at
from navlog.nav.problems import NavlogError
from navlog.nav.wind import triangle
from navlog.resolve.route import Stretch

_STEP_FT = 200.0
CLOSE_FT = 1e-6
"""Heights are sums of floats; nearer than this is the same."""
_SHORT_NM = 0.05
"""Less prints as 0.0 NM: level flight so short beside a point is no leg, the climb or descent takes it in."""


class CannotClimb(Exception):  # noqa: N818
    """Raised where the way has no wind, no course, or a wind that no heading holds."""


def forward(
    track: tuple[Piece, ...], from_nm: float, start_ft: float, end_ft: float, until_nm: float, conditions: Conditions
) -> Iterator[Step]:
    """The steps of a change of height that begins at `from_nm`, to its end or to `until_nm`.

    Distances count from take-off. Raises CannotClimb, and a problem where the aeroplane cannot.
    """
    yield from _traced(track, from_nm, start_ft, end_ft, until_nm, conditions, ahead=True)


def backward(
    track: tuple[Piece, ...], to_nm: float, end_ft: float, start_ft: float, conditions: Conditions
) -> tuple[Step, ...]:
    """The steps, in the order flown, of a change of height from `start_ft` that must end at `to_nm`.

    It begins at take-off where there is not room for all of it.
    """
    return tuple(_traced(track, to_nm, end_ft, start_ft, 0.0, conditions, ahead=False))[::-1]


def standing(piece: Piece, phase: Phase, start_ft: float, end_ft: float, conditions: Conditions) -> Iterator[Step]:
    """The steps of a change of height at the end of a piece: time and fuel by the aircraft's table, no distance.

    Raises a problem where the table ends before a height, or the aeroplane no longer climbs.
    """
    table = vertical_table(conditions, Phase.CLIMB if end_ft > start_ft else Phase.DESCENT)
    assert table is not None
    stretch, end_nm = piece.stretch, piece.part.end_nm
    height_ft = start_ft
    # Exact comparison ends: `next_ft` below is set to the very goal as soon as the sums come near it.
    while height_ft != end_ft:
        rise_ft = max(-_STEP_FT, min(_STEP_FT, end_ft - height_ft))
        air = air_at(conditions, stretch.end.position, height_ft + rise_ft / 2.0)
        going = vertical(conditions, table, air, rise_ft)
        assert going.rate_ft_per_min is not None
        time_min = abs(rise_ft) / going.rate_ft_per_min
        next_ft = end_ft if abs(end_ft - height_ft - rise_ft) < CLOSE_FT else height_ft + rise_ft
        fuel = fuel_in_time(time_min, going.burn_per_h)
        yield Step(
            piece, phase, end_nm, end_nm, height_ft, next_ft, going.tas_kt, air.wind, air.beyond_ft, time_min, fuel
        )
        height_ft = next_ft


def climb_min(conditions: Conditions, stretch: Stretch, from_ft: float, to_ft: float) -> float | None:
    """The minutes of a climb between two altitudes at the end of a stretch.

    None without figures of climb, or where they end below the altitude.
    """
    if vertical_table(conditions, Phase.CLIMB) is None:
        return None
    part = stretch.parts[-1]
    piece = Piece(stretch, part, 0.0, part.end_nm - part.start_nm)
    try:
        return sum(step.time_min or 0.0 for step in standing(piece, Phase.HOLD, from_ft, to_ft, conditions))
    # Whoever asks for a time alone gets none; the flight itself raises the problem where it plans that height.
    except NavlogError:
        return None


def _traced(
    track: tuple[Piece, ...],
    along_nm: float,
    height_ft: float,
    goal_ft: float,
    limit_nm: float,
    conditions: Conditions,
    *,
    ahead: bool,
) -> Iterator[Step]:
    """Steps from one height toward another along the track; backward they go from the last to the first."""
    if height_ft == goal_ft:
        return
    phase = Phase.CLIMB if (goal_ft > height_ft) == ahead else Phase.DESCENT
    table = vertical_table(conditions, phase)
    assert table is not None
    for piece in track if ahead else reversed(track):
        edge_nm = min(piece.to_nm, limit_nm) if ahead else max(piece.from_nm, limit_nm)
        while height_ft != goal_ft and (edge_nm - along_nm if ahead else along_nm - edge_nm) > CLOSE_NM:
            rise_ft = max(-_STEP_FT, min(_STEP_FT, goal_ft - height_ft))
            course_deg, where = course_at(piece.stretch, piece.part, along_stretch(piece, along_nm))
            # Wind of the step's middle height, at its nearer end: half a mile changes less than a hundred feet do.
            air = air_at(conditions, where, height_ft + rise_ft / 2.0)
            if air.wind is None or course_deg is None:
                raise CannotClimb
            going = vertical(conditions, table, air, rise_ft)
            assert going.rate_ft_per_min is not None
            speed_kt = triangle(true_course_deg=course_deg, tas_kt=going.tas_kt, wind=air.wind).groundspeed_kt
            if speed_kt is None:
                raise CannotClimb
            time_min = abs(rise_ft) / going.rate_ft_per_min
            distance_nm = speed_kt * time_min / 60.0
            room_nm = abs(edge_nm - along_nm)
            next_ft = height_ft + rise_ft
            next_nm = along_nm + distance_nm if ahead else along_nm - distance_nm
            # Three cases at a piece's edge: cut there; reached as good as there and drawn out to it; or well inside.
            over_nm = distance_nm - room_nm
            if over_nm > -CLOSE_NM or (next_ft == goal_ft and over_nm > -_SHORT_NM):
                share = room_nm / distance_nm
                time_min, next_nm = time_min * share, edge_nm
                reached_ft = height_ft + rise_ft * share
                if over_nm > 0.0 and abs(next_ft - reached_ft) >= SAME_FT:
                    next_ft = reached_ft
            # A step is written as it is flown, also where it was found from its end.
            low, high = sorted(((along_nm, height_ft), (next_nm, next_ft)))
            yield Step(
                piece,
                phase,
                along_stretch(piece, low[0]),
                along_stretch(piece, high[0]),
                low[1],
                high[1],
                going.tas_kt,
                air.wind,
                air.beyond_ft,
                time_min,
                fuel_in_time(time_min, going.burn_per_h),
            )
            along_nm, height_ft = next_nm, goal_ft if abs(goal_ft - next_ft) < CLOSE_FT else next_ft
