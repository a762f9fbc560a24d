"""What holds between a flight and what is done with it in flight or after it: revised on time, and marked."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from datetime import datetime, timedelta

from helpers.made import Made

from navlog.flightlog.records import Leg, Log
from navlog.nav.problems import NavlogError
from navlog.studies import marking
from navlog.studies.revision import AsWritten, Revision, revise

MINUTE_OF_FUEL = 0.3
"""Gallons, or some litres, that half a minute of any of the aircraft may be."""


def revised_on_time_is_the_plan(made: Made) -> Iterator[str]:
    """Passed at the planned minutes, the flight goes on as planned, within what half a minute makes of its speed.

    The landings before the point are timed too. What is ahead has the plan's guidance and levels, notices and all.
    """
    log = made.report.log
    ends = [one.end.name for one in log.legs]
    named = [
        leg
        for leg in log.legs[:-1]
        if leg.end.point is not None and leg.elapsed_min and ends.count(leg.end.name) == 1 and leg.distance_nm
    ]
    if not named or log.eta(log.legs[-1]) is None:
        return
    for leg in dict.fromkeys((named[len(named) // 2].number, named[-1].number)):
        yield from _revised_at(log, next(one for one in named if one.number == leg), ends, made.as_written)


def _revised_at(log: Log, leg: Leg, ends: list[str], written: AsWritten) -> Iterator[str]:
    """The flight revised where a leg ends, on time."""
    landings = [one for one in log.legs if one.lands and one.number < leg.number]
    if any(ends.count(one.end.name) > 1 for one in landings):
        return
    timed = [(one.end.name, log.eta(one)) for one in (*landings, leg)]
    actuals = [(name, (moment(at) + timedelta(seconds=30)).strftime("%H:%M")) for name, at in timed]
    try:
        found = revise(log, actuals=actuals, written=written)
    except NavlogError as error:
        yield f"revise refuses {leg.end.name} at its planned time: {error.problems[0].message}"
        return
    yield from ahead_as_planned(log, leg, found)
    if found.rest is None or found.rest.eta(found.rest.legs[-1]) is None:
        return
    end = moment(log.eta(log.legs[-1]))
    late_min = abs((moment(found.rest.eta(found.rest.legs[-1])) - end).total_seconds()) / 60
    ahead_min = (end - moment(log.eta(leg))).total_seconds() / 60
    begun_min = max(((one.elapsed_min or 0.0) + one.stop_min for one in landings), default=0.0)
    if late_min > 1.0 + 2.0 * ahead_min / max((leg.elapsed_min or 1.0) - begun_min, 1.0):
        yield f"{late_min:.1f} min off after {leg.end.name} on time"


def ahead_as_planned(log: Log, passed: Leg, found: Revision) -> Iterator[str]:
    """Guidance, levels and limits of what is ahead are the plan's, and so is the fuel where it is passed."""
    planned = {(leg.stretch.number, leg.end.name): leg for leg in log.legs if leg.ends_stretch and leg.distance_nm}
    for leg in found.rest.legs if found.rest is not None else ():
        plan = planned.get((leg.stretch.number, leg.end.name))
        if plan is None or not leg.ends_stretch or not leg.distance_nm:
            continue
        for what in ("guidance", "limits", "notices"):
            one, other = (getattr(it.part if what == "guidance" else it.stretch, what) for it in (plan, leg))
            if one != other:
                yield f"after {passed.end.name} the leg to {leg.end.name} has {what} {other}, in the plan {one}"
    left = passed.fuel_remaining
    if left is not None and found.fuel is not None and abs(found.fuel - left) > MINUTE_OF_FUEL * (1 + len(found.parts)):
        yield f"{found.fuel} on board at {passed.end.name} on time, by the plan {left}"


def moment(found: datetime | None) -> datetime:
    """A moment that is known."""
    assert found is not None
    return found


def own_figures_are_marked_right(made: Made) -> Iterator[str]:
    """The sheet's own figures, marked as a pilot's answers."""
    log = made.report.log
    names = {
        "set_course": "set_course", "true_course": "true_course", "magnetic_heading": "magnetic_heading",
        "groundspeed": "groundspeed_kt", "distance": "distance_nm", "time": "time_h_min", "fuel_used": "fuel_used",
        "fuel_left": "fuel_left",
    }  # fmt: skip
    told = io.StringIO(newline="")
    writer = csv.writer(told)
    writer.writerow(["leg", *names])
    for row in made.rows:
        cells = [row[name].removeprefix("'").split(" ")[0] for name in names.values()]
        writer.writerow([row["leg"], *("" if re.fullmatch(r"[?X~-]*", cell) else cell for cell in cells)])
    given = marking.read_answers(told.getvalue(), "answers.csv", log)
    for one in marking.mark(log, given, marking.tolerances(log.fuel_unit)).marks:
        if one.verdict is not marking.MarkedVerdict.RIGHT:
            yield f"leg {one.leg} {one.quantity.key}: {one.given} is marked {one.verdict.value}"
