"""Holding patterns."""

from __future__ import annotations

from navlog.computations import holding
from navlog.computations.amounts import time
from navlog.computations.answer import Answer
from navlog.computations.holding import Entry, Holding, HoldingWind
from navlog.nav.figures import correction, course, whole


def answer(found: Holding) -> Answer:
    """Entry, pattern, timing, speed, and the wind correction where there is one."""
    also = f" (or {found.also_allowed}: within 5 degrees of the line)" if found.also_allowed else ""
    lines = [
        f"{found.entry} entry{also}: {_entry(found)}",
        f"inbound {course(found.inbound_course_deg)}, outbound {course(found.outbound_course_deg)},"
        f" {found.turns} turns",
        f"{found.timed_leg} leg {_leg(found.leg_min)}, speed at most {_limit(found)}",
    ]
    if found.wind is not None:
        lines += _wind(found.wind)
    return Answer((found,), tuple(lines), holding.workings(found))


def _entry(found: Holding) -> str:
    heading = course(found.entry_heading_deg)
    if found.entry is Entry.DIRECT:
        return f"over the fix turn {found.entry_turn} to {heading}"
    inbound = course(found.inbound_course_deg)
    return f"over the fix fly {heading} for 1 min, then turn {found.entry_turn} to meet {inbound} inbound"


def _leg(leg_min: float) -> str:
    return "1 min" if leg_min == 1.0 else "1 min 30 s"


def _limit(found: Holding) -> str:
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
