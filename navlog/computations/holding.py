"""Holding: the entry by sector, headings with and without wind, timing, and the greatest speed.

Directions are magnetic. Sources: FAA AIM 5-3-8 (entries, timing, wind correction and the United States'
speeds); ICAO Doc 8168, Volume I, as given in USAF AFMAN 11-217 V1, table 18.4, and Somalia AIP ENR 1.5 (speeds).
"""

from __future__ import annotations

from enum import StrEnum
from math import inf, isfinite

from msgspec import Struct

from navlog.computations.amounts import time
from navlog.computations.answer import Solution
from navlog.nav.angles import difference_deg, normalize_deg, reciprocal_deg, sin_cos_deg
from navlog.nav.figures import correction, course, whole
from navlog.nav.norths import Direction, magnetic_deg
from navlog.nav.problems import problem_error
from navlog.nav.wind import Wind, triangle
from navlog.nav.workings import Working
from navlog.request.records import StatedWind

_TEARDROP_DEG = 70.0
_PARALLEL_DEG = 110.0
_EITHER_WAY_DEG = 5.0
_TEARDROP_OFFSET_DEG = 30.0
_LONGER_ABOVE_FT = 14_000.0
_LARGEST_DRIFT_DEG = 30.0
"""Three times as much is a right angle, on which nothing is flown outbound."""

_STANDARD_TURN_MIN = 1.0
"""Half a circle at 3 degrees a second."""

_AIM = "FAA AIM 5-3-8"


class Turns(StrEnum):
    """The side of the turns; right is standard."""

    RIGHT = "right"
    LEFT = "left"


class Entry(StrEnum):
    """How the pattern is joined."""

    DIRECT = "direct"
    PARALLEL = "parallel"
    TEARDROP = "teardrop"


class Rules(StrEnum):
    """Whose speeds and timing apply."""

    US = "us"
    ICAO = "icao"


class _SpeedLimit(Struct, frozen=True):
    """The greatest holding speed up to and including `up_to_ft`, as indicated airspeed or Mach number."""

    up_to_ft: float
    kias: float | None
    mach: float | None = None
    note: str = ""


_SPEED_LIMITS = {
    Rules.US: (
        _SpeedLimit(6_000.0, 200.0),
        _SpeedLimit(14_000.0, 230.0, note="210 where the chart says so"),
        _SpeedLimit(inf, 265.0),
    ),
    Rules.ICAO: (
        _SpeedLimit(14_000.0, 230.0, note="170 where holding is for categories A and B only"),
        _SpeedLimit(20_000.0, 240.0),
        _SpeedLimit(34_000.0, 265.0),
        _SpeedLimit(inf, None, 0.83),
    ),
}
_SPEED_SOURCE = {
    Rules.US: f"{_AIM}, maximum holding airspeeds",
    Rules.ICAO: "ICAO Doc 8168, Volume I, as in USAF AFMAN 11-217 V1, table 18.4",
}


class HoldingWind(Struct, frozen=True):
    """What the wind does in the pattern: corrections (right positive), headings, groundspeeds along the legs.

    `outbound_min` makes the inbound leg as long as it should be, turns at 3 degrees a second; None where the
    wind is too strong for that, or where the outbound leg is the timed one.
    """

    inbound_correction_deg: float
    inbound_heading_deg: float
    outbound_heading_deg: float
    inbound_groundspeed_kt: float
    outbound_groundspeed_kt: float
    headwind_inbound_kt: float
    outbound_min: float | None


class _Holding(Struct, frozen=True):
    """A pattern and how it is joined on a heading.

    `outbound_from_heading_deg` is where the outbound course lies from the nose, right positive.
    `also_allowed` is the entry across the sector's edge when that is within 5 degrees.
    """

    inbound_course_deg: float
    outbound_course_deg: float
    turns: Turns
    heading_deg: float
    outbound_from_heading_deg: float
    entry: Entry
    also_allowed: Entry | None
    entry_heading_deg: float
    entry_turn: Turns
    rules: Rules
    altitude_ft: float
    limit_kias: float | None
    limit_mach: float | None
    limit_note: str
    timed_leg: str
    leg_min: float
    tas_kt: float | None = None
    wind: HoldingWind | None = None


def solve(
    *,
    inbound_course_deg: float,
    heading_deg: float,
    altitude_ft: float,
    turns: Turns = Turns.RIGHT,
    rules: Rules = Rules.US,
    tas_kt: float | None = None,
    wind: StatedWind | None = None,
    variation_deg: float | None = None,
) -> _Holding:
    """Entry, timing and speed for a pattern; with `tas_kt` and a wind the corrected headings too.

    Raises `no-variation` for a true wind, unless calm, without one, `impossible-triangle` where no heading holds
    the inbound course, `too-much-drift` where three times the inbound correction would be 90 degrees or more, and
    `bad-value` for a TAS of 0 or only one of TAS and wind.
    """
    if (tas_kt is None) != (wind is None):
        raise problem_error("missing-value", "a wind correction needs TAS and wind", hint="give both, or neither")
    outbound_deg = reciprocal_deg(inbound_course_deg)
    from_heading_deg = difference_deg(outbound_deg, heading_deg)
    joined = _entry_from(from_heading_deg, turns)
    limit = _speed_limit(rules, altitude_ft)
    # At 14,000 ft itself it is a minute still: the longer leg is for above it (AIM 5-3-8).
    leg_min = 1.0 if altitude_ft <= _LONGER_ABOVE_FT else 1.5
    timed_leg = "inbound" if rules is Rules.US else "outbound"
    corrected = None
    if tas_kt is not None and wind is not None:
        # A calm blows from nowhere, so it needs no variation.
        stated = Direction(wind.from_deg, wind.magnetic or not wind.speed_kt)
        from_deg = magnetic_deg(stated, variation_deg)
        # Only a timed inbound leg leaves an outbound time to be found; ICAO times the outbound leg itself.
        timed_min = leg_min if rules is Rules.US else None
        corrected = _corrected(inbound_course_deg, tas_kt, Wind(from_deg, wind.speed_kt), timed_min)
    return _Holding(
        inbound_course_deg=inbound_course_deg,
        outbound_course_deg=outbound_deg,
        turns=turns,
        heading_deg=heading_deg,
        outbound_from_heading_deg=from_heading_deg,
        entry=joined,
        also_allowed=_also_allowed(from_heading_deg, turns, joined),
        entry_heading_deg=_entry_heading_deg(joined, outbound_deg, turns),
        entry_turn=_entry_turn(joined, turns),
        rules=rules,
        altitude_ft=altitude_ft,
        limit_kias=limit.kias,
        limit_mach=limit.mach,
        limit_note=limit.note,
        timed_leg=timed_leg,
        leg_min=leg_min,
        tas_kt=tas_kt,
        wind=corrected,
    )


def _entry_from(outbound_from_heading_deg: float, turns: Turns) -> Entry:
    """The entry by where the outbound course lies from the nose, degrees, right positive.

    With right turns: up to 70 degrees right a teardrop, up to 110 left parallel, else direct; the mirror
    image with left turns (CNATRA P-821, figure 3-8; the 70-degree line of FAA AIM 5-3-8).
    """
    outbound_deg = difference_deg(outbound_from_heading_deg, 0.0)
    side_deg = outbound_deg if turns is Turns.RIGHT else -outbound_deg
    # On a line between two sectors either entry is allowed; `_also_allowed` names the other.
    if 0.0 <= side_deg <= _TEARDROP_DEG:
        return Entry.TEARDROP
    if -_PARALLEL_DEG <= side_deg < 0.0:
        return Entry.PARALLEL
    return Entry.DIRECT


def _speed_limit(rules: Rules, altitude_ft: float) -> _SpeedLimit:
    """The greatest holding speed at an altitude above mean sea level; a chart may publish another."""
    return next(limit for limit in _SPEED_LIMITS[rules] if altitude_ft <= limit.up_to_ft)


def _workings(found: _Holding) -> tuple[Working, ...]:
    """Entry, limit and timing, and the wind correction where there is one."""
    limit = _speed_limit(found.rules, found.altitude_ft)
    band = f"up to {limit.up_to_ft:,.0f} ft" if isfinite(limit.up_to_ft) else "above that"
    steps = [
        Working(
            "outbound course from the nose",
            "inbound course + 180 - heading, right positive",
            f"{course(found.inbound_course_deg)} + 180 - {course(found.heading_deg)}",
            f"{found.outbound_from_heading_deg:+.0f}",
            "geometry",
        ),
        Working(
            "entry",
            f"{found.turns} turns: teardrop to 70 on the {found.turns}, parallel to 110 on the other side",
            f"{found.outbound_from_heading_deg:+.0f}",
            found.entry.value,
            f"CNATRA P-821, figure 3-8; {_AIM}",
        ),
        Working(
            "greatest speed",
            f"table of {found.rules.upper()} holding speeds, {band}",
            f"{whole(found.altitude_ft)} ft",
            f"Mach {found.limit_mach:g}" if found.limit_kias is None else f"{found.limit_kias:g} KIAS",
            _SPEED_SOURCE[found.rules],
        ),
        Working(
            f"{found.timed_leg} leg",
            "1 min up to 14,000 ft, 1.5 min above",
            f"{whole(found.altitude_ft)} ft",
            f"{found.leg_min:g} min",
            _AIM if found.rules is Rules.US else "ICAO Doc 8168, Volume I, still air",
        ),
    ]
    if found.wind is not None:
        steps += _wind_steps(found, found.wind)
    return tuple(steps)


def _wind_steps(found: _Holding, wind: HoldingWind) -> list[Working]:
    inbound = f"{wind.inbound_correction_deg:+.1f}"
    steps = [
        Working(
            "inbound heading",
            "inbound course + wind correction",
            f"{course(found.inbound_course_deg)} {inbound}",
            course(wind.inbound_heading_deg),
            "the wind triangle",
        ),
        Working(
            "outbound heading",
            "outbound course - 3 x inbound correction",
            f"{course(found.outbound_course_deg)} - 3 x ({inbound})",
            course(wind.outbound_heading_deg),
            f"{_AIM}: triple the inbound drift correction",
        ),
    ]
    if wind.outbound_min is not None:
        steps.append(
            Working(
                "outbound time",
                "(inbound GS x inbound time - headwind inbound x 2 min of turns) / outbound GS",
                f"({wind.inbound_groundspeed_kt:.0f} x {found.leg_min:g} - ({wind.headwind_inbound_kt:.0f}) x 2)"
                f" / {wind.outbound_groundspeed_kt:.0f}",
                f"{wind.outbound_min:.1f} min",
                "geometry of a closed pattern; adjust it on the next turn",
            )
        )
    return steps


def _corrected(inbound_deg: float, tas_kt: float, wind: Wind, inbound_min: float | None) -> HoldingWind:
    """Headings and groundspeeds along both legs, all from magnetic north: the triangle turns with it."""
    flown = triangle(true_course_deg=inbound_deg, tas_kt=tas_kt, wind=wind)
    correction_deg, inbound_kt = flown.wind_correction_deg, flown.groundspeed_kt
    if correction_deg is None or inbound_kt is None or flown.true_heading_deg is None:
        raise problem_error("impossible-triangle", flown.unflyable or "", hint="check wind and airspeed")
    if abs(correction_deg) >= _LARGEST_DRIFT_DEG:
        raise problem_error(
            "too-much-drift",
            f"an inbound correction of {abs(correction_deg):.0f} degrees cannot be tripled outbound:"
            f" {3.0 * abs(correction_deg):.0f} degrees",
            hint=f"the limit is under {_LARGEST_DRIFT_DEG:.0f} degrees inbound; hold faster, or in less wind",
        )
    outbound_kt = tas_kt * sin_cos_deg(3.0 * correction_deg)[1] + flown.headwind_kt
    outbound_min = None
    if inbound_min is not None and outbound_kt > 0.0:
        # The wind carries the two turns along as well: what they gain or lose the outbound leg makes good.
        along = inbound_kt * inbound_min - flown.headwind_kt * 2.0 * _STANDARD_TURN_MIN
        outbound_min = along / outbound_kt if along > 0.0 else None
    return HoldingWind(
        inbound_correction_deg=correction_deg,
        inbound_heading_deg=flown.true_heading_deg,
        outbound_heading_deg=normalize_deg(inbound_deg + 180.0 - 3.0 * correction_deg),
        inbound_groundspeed_kt=inbound_kt,
        outbound_groundspeed_kt=outbound_kt,
        headwind_inbound_kt=flown.headwind_kt,
        outbound_min=outbound_min,
    )


def _also_allowed(from_heading_deg: float, turns: Turns, joined: Entry) -> Entry | None:
    """5 degrees either way are within good operating limits for the choice (FAA AIM 5-3-8)."""
    for other_deg in (from_heading_deg - _EITHER_WAY_DEG, from_heading_deg + _EITHER_WAY_DEG):
        other = _entry_from(other_deg, turns)
        if other is not joined:
            return other
    return None


def _entry_heading_deg(joined: Entry, outbound_deg: float, turns: Turns) -> float:
    """The first heading after the fix: 30 degrees off the outbound course, into the pattern, for a teardrop."""
    if joined is not Entry.TEARDROP:
        return outbound_deg
    # Right turns put the pattern right of the inbound course, which is left of the nose on the way out.
    offset = -_TEARDROP_OFFSET_DEG if turns is Turns.RIGHT else _TEARDROP_OFFSET_DEG
    return normalize_deg(outbound_deg + offset)


def _entry_turn(joined: Entry, turns: Turns) -> Turns:
    """The turn back to the inbound course: against the pattern after a parallel entry."""
    if joined is not Entry.PARALLEL:
        return turns
    return Turns.LEFT if turns is Turns.RIGHT else Turns.RIGHT


def _lines(found: _Holding) -> tuple[str, ...]:
    """Entry, pattern, timing, speed, and the wind correction where there is one."""
    also = f" (or {found.also_allowed}: within 5 degrees of the line)" if found.also_allowed else ""
    told = [
        f"{found.entry} entry{also}: {_entry(found)}",
        f"inbound {course(found.inbound_course_deg)}, outbound {course(found.outbound_course_deg)},"
        f" {found.turns} turns",
        f"{found.timed_leg} leg {_leg(found.leg_min)}, speed at most {_limit(found)}",
    ]
    if found.wind is not None:
        told += _wind(found.wind)
    return tuple(told)


def answer(found: _Holding) -> Solution:
    """What is printed, with its workings."""
    return Solution((found,), _lines(found), _workings(found))


def _entry(found: _Holding) -> str:
    heading = course(found.entry_heading_deg)
    if found.entry is Entry.DIRECT:
        return f"over the fix turn {found.entry_turn} to {heading}"
    inbound = course(found.inbound_course_deg)
    return f"over the fix fly {heading} for 1 min, then turn {found.entry_turn} to meet {inbound} inbound"


def _leg(leg_min: float) -> str:
    return "1 min" if leg_min == 1.0 else "1 min 30 s"


def _limit(found: _Holding) -> str:
    speed = f"Mach {found.limit_mach:g}" if found.limit_kias is None else f"{whole(found.limit_kias)} KIAS"
    note = f" ({found.limit_note})" if found.limit_note else ""
    return f"{speed} at {whole(found.altitude_ft)} ft by {found.rules.upper()} rules{note}"


def _wind(wind: HoldingWind) -> list[str]:
    lines = [
        f"inbound heading {course(wind.inbound_heading_deg)}"
        f" (correction {correction(wind.inbound_correction_deg)}),"
        f" outbound heading {course(wind.outbound_heading_deg)}"
        f" (correction {correction(-3.0 * wind.inbound_correction_deg)})"
    ]
    if wind.outbound_min is not None:
        lines.append(f"first outbound leg about {time(wind.outbound_min)}; adjust it on the next")
    return lines
