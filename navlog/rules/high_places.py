"""The high places that a leg passes: at which height, how far from the field, and what is the field itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import hypot, inf
from typing import TYPE_CHECKING

from navlog.flightlog.altitudes import altitudes_ft
from navlog.flightlog.records import Leg, Phase
from navlog.nav.clearance import ON_COURSE_NM, Abeam, closer, obstacle_on_course
from navlog.resolve.route import PointKind

if TYPE_CHECKING:
    from navlog.nav.terrain import Spot

_OF_FIELD_NM = 0.5
"""So near its reference point lie a field's own ground and the buildings beside its runway: common practice, no source.
"""

CLOSE_IN_NM, _CLOSE_IN_FT = 1.0, 200.0
"""So near the end of a runway, and so high above it at most, obstacles ask for no steeper climb (FAA AIM 5-2-9)."""


def _from_field(leg: Leg, spot: Spot) -> tuple[float, float | None]:
    """How far a spot is from the airport at either end of a leg's stretch, the nearer, and its elevation.

    Without one it is infinitely far.
    """
    ends = (leg.stretch.start, 0.0), (leg.stretch.end, leg.stretch.length_nm)
    return min(
        (
            (hypot(spot.along_nm - at_nm, spot.away_nm), None if end.place is None else end.place.elevation_ft)
            for end, at_nm in ends
            if end.kind is PointKind.AIRPORT
        ),
        key=lambda one: one[0],
        default=(inf, None),
    )


def low_close_in(leg: Leg, spot: Spot) -> bool:
    """Whether a spot beside the course is so low and so near the field that obstacles there are told in notes."""
    away_nm, elevation_ft = _from_field(leg, spot)
    low = elevation_ft is not None and spot.height_ft <= elevation_ft + _CLOSE_IN_FT
    return low and away_nm < CLOSE_IN_NM and spot.away_nm > ON_COURSE_NM


def too_low_ft(leg: Leg, spot: Spot, at_ft: float) -> float:
    """By how much a leg is too low for a spot beside it: below its top, by the field below what is told of it."""
    # Tiles see the field itself as ground, and what they may be off by lies above the end of every take-off run.
    return (spot.height_ft if _from_field(leg, spot)[0] < CLOSE_IN_NM else spot.top_ft) - at_ft


def _of_field(leg: Leg, spot: Spot, at_ft: float) -> bool:
    """Whether a spot, passed at a height, may be the field's own ground or a building beside its runway."""
    surely_ft = spot.height_ft - (0.0 if spot.built else spot.tolerance_ft or 0.0)
    return surely_ft <= at_ft and _from_field(leg, spot)[0] < _OF_FIELD_NM


def passed(leg: Leg, spots: Iterable[Spot]) -> Iterator[tuple[float, Spot]]:
    """The height at which a leg passes each of several places, of those it passes; not those of the field itself."""
    for spot in spots:
        if not leg.stays and leg.start_nm <= spot.along_nm <= leg.end_nm:
            at_ft = height_beside_ft(leg, abreast_nm(leg, spot))
            if not _of_field(leg, spot, at_ft):
                yield at_ft, spot


def abreast_nm(leg: Leg, spot: Spot) -> float:
    """How far along a leg's stretch a flight is held against a spot: abeam of it, or as far from the field as it is.

    A spot beside the first or the last mile is met by who turns towards it, and then has climbed as far as it lies.
    """
    at_nm = spot.along_nm
    if by_end(leg, at_nm, CLOSE_IN_NM):
        away_nm = _from_field(leg, spot)[0]
        at_nm = away_nm if at_nm < leg.stretch.length_nm / 2.0 else leg.stretch.length_nm - away_nm
    return min(max(at_nm, leg.start_nm), leg.end_nm)


CHANGING = (Phase.CLIMB, Phase.DESCENT)


def closer_pieces(leg: Leg, piece: Abeam, above_ft: float = 0.0) -> tuple[Abeam, ...]:
    """A piece of the way, in short ones where a climb or descent is anywhere less than so much above its highest place.

    That may be passed above, and a lower one, where the flight is lower yet, not.
    """
    if leg.phase not in CHANGING or (miles := flown_nm(leg, piece)) is None:
        return (piece,)
    low = piece.top is None or lowest_ft(leg, *miles) < piece.top.top_ft + above_ft
    return closer(piece) if low else (piece,)


def flown_nm(leg: Leg, piece: Abeam) -> tuple[float, float] | None:
    """The miles of a piece that a leg flies; None where it flies none of it."""
    first_nm, last_nm = max(piece.start_nm, leg.start_nm), min(piece.end_nm, leg.end_nm)
    return (first_nm, last_nm) if first_nm < last_nm else None


def on_course_spots(leg: Leg) -> list[Spot]:
    """The highest ground under the course itself, and obstacle on it, of each piece of the way."""
    pieces = [one for piece in leg.stretch.abeam for one in closer_pieces(leg, piece)]
    found = [one.on_course for one in pieces]
    # Where even the highest place of all is passed above, no obstacle need be looked for.
    found += [obstacle_on_course(one) for one in pieces if _may_meet(leg, one)]
    return [one for one in found if one is not None]


def _may_meet(leg: Leg, piece: Abeam) -> bool:
    """Whether a leg is anywhere lower than the highest place of a piece."""
    miles = flown_nm(leg, piece)
    return miles is not None and piece.top is not None and lowest_ft(leg, *miles) < piece.top.top_ft


def beside_spots(leg: Leg) -> list[Spot]:
    """The high places near the way: the highest of its stretch, and the highest abeam of each piece."""
    ground = leg.stretch.ground
    whole_way = (ground.highest, ground.obstacle) if ground is not None else ()
    tops = (one.top for piece in leg.stretch.abeam for one in closer_pieces(leg, piece))
    return [spot for spot in (*whole_way, *tops) if spot is not None]


def by_end(leg: Leg, along_nm: float, within_nm: float = _OF_FIELD_NM) -> bool:
    """Whether a place along a leg is in the first or last half mile at an airport, or within so many."""
    ends = (leg.stretch.start, 0.0), (leg.stretch.end, leg.stretch.length_nm)
    return any(end.kind is PointKind.AIRPORT and abs(along_nm - at_nm) < within_nm for end, at_nm in ends)


def lowest_ft(leg: Leg, first_nm: float, last_nm: float) -> float:
    """The lowest height planned between two places along a leg's stretch."""
    return min(height_beside_ft(leg, nm) for nm in (first_nm, last_nm))


def height_beside_ft(leg: Leg, along_nm: float) -> float:
    """The height planned so far along a leg's stretch; it changes evenly along a leg."""
    start_ft, end_ft = altitudes_ft(leg)
    share = (along_nm - leg.start_nm) / leg.distance_nm
    return start_ft + share * (end_ft - start_ft)
