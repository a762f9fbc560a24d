"""Levels in words: where the route line's new ones begin, and how high a hold is flown."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, takewhile

from navlog.flightlog.altitudes import SAME_FT, altitudes_ft, below
from navlog.flightlog.records import Leg, Log, Phase
from navlog.nav import figures
from navlog.printed.rows import Row, height_words
from navlog.request.levels import level_altitude_ft
from navlog.request.records import Level


def level_words(level: Level) -> str:
    """A level as planned, where words stand around it: `5500 ft`, `FL090`."""
    return figures.level(level.altitude_ft, flight_level=level.flight_level) + ("" if level.flight_level else " ft")


def new_level(log: Log, before: Leg | None, leg: Leg, *, to_fly: bool = False) -> str | None:
    """The level, and with another speed the true airspeed, that the route line writes where a leg begins.

    `5500 ft`, `FL090, TAS 95 kt`; None where both go on as on the stretch before, and where the flight begins. That a
    level is not flown is said, but with `to_fly`, which leaves it out.
    """
    if before is None or leg.start_nm > 0.0 or before.stretch is leg.stretch:
        return None
    earlier, stretch = before.stretch, leg.stretch
    told = []
    if stretch.level != earlier.level:
        held = _is_held(log, leg)
        # Beside the heights of a descent that goes on, a level to keep would read as an order to stop there.
        told += [level_words(stretch.level)] if held else [] if to_fly else [_unheld(stretch.level, leg)]
    if stretch.tas_kt is not None and stretch.tas_kt != earlier.tas_kt:
        told.append(f"TAS {figures.whole(stretch.tas_kt)} kt")
    return ", ".join(told) or None


def _is_held(log: Log, leg: Leg) -> bool:
    """Whether the level that begins with a leg is reached before another one begins."""
    level_ft = level_altitude_ft(leg.stretch.level, leg.altimeter_hpa)
    same = takewhile(lambda one: one.stretch.level == leg.stretch.level, log.legs[log.legs.index(leg) :])
    return any(abs(ft - level_ft) < SAME_FT for one in same for ft in altitudes_ft(one))


def _unheld(level: Level, leg: Leg) -> str:
    """A level that is not flown, with what comes before it."""
    down = leg.phase in (Phase.DESCENT, Phase.LOSING)
    return f"{level_words(level)} (not {'held in the descent to land' if down else 'reached'})"


def levels_on_the_way(log: Log) -> Iterator[str]:
    """Each level of a way with the point at which it begins: `from QHB 5500 ft`; the first where it is not cruise."""
    first = log.legs[0]
    if not log.begun and first.stretch.level != log.route.request.cruise:
        told = level_words(first.stretch.level) if _is_held(log, first) else _unheld(first.stretch.level, first)
        yield f"from {first.start.name} {told}"
    for before, leg in pairwise(log.legs):
        onward = new_level(log, before, leg)
        if onward is not None:
            yield f"from {leg.start.name} {onward}"


def held_height(row: Row) -> str:
    """How high a level hold is flown: `4500 ft`; within a climb or descent `3970 ft, below the planned FL090`."""
    leg = row.leg
    planned_ft, words = level_altitude_ft(leg.stretch.level, leg.altimeter_hpa), height_words(row, leg.end_altitude_ft)
    lower = below(leg.end_altitude_ft, planned_ft)
    return f"{words}, below the planned {level_words(leg.stretch.level)}" if lower else words
