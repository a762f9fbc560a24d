"""Fixes that are hard to tell, and legs too short to fly as drawn."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians, sin

from navlog.flightlog.records import Leg
from navlog.nav.figures import distance, whole
from navlog.resolve.route import PointKind, Stretch
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import BASE, sample

WEAK_CUT_DEG = 45.0
BAD_CUT_DEG = 30.0
"""Practice case A28, common practice, no source."""

CROSSING_ERROR_DEG = 3.6
"""The crossing radial's error in FAA Order 8260.3 (TERPS): 3.6 degrees either side."""

SHORT_NM = 2.0
SHORT_MIN = 1.0
"""Practice case A64: at 110 kt a rate-one turn has a radius of 0.6 NM; common practice, no source."""

CORNER_DEG = 30.0
"""From here a turn takes up a good part of a short leg (common practice, no source)."""


def along_track_nm(distance_nm: float, cut_deg: float) -> float:
    """How far along track a crossing radial's 3.6 degrees may move a fix that is `distance_nm` from it."""
    return distance_nm * sin(radians(CROSSING_ERROR_DEG)) / sin(radians(cut_deg))


@rule(
    "poor-cut",
    Severity.WARNING,
    group=Group.REST,
    at_times=(Severity.ERROR,),
    source="TERPS crossing error of 3.6 degrees; limits of 45 and 30 degrees common practice, no source",
    remedy="choose a station more nearly abeam, or mark the fix by DME",
    passing=sample("fix ROSKO QHB 160 x QEL 090", "route XHAR QHB ROSKO QEL/A055 XOLD"),
    failing=sample("fix ROSKO QHB 185 x QEL 042", "route XHAR QHB ROSKO QEL/A055 XOLD"),
)
def poor_cut(case: Case) -> Iterator[Found]:
    """Two radials that mark a fix cross at less than 45 degrees, an error at less than 30.

    Published fixes are left out, and fixes that DME marks.
    """
    for leg in case.legs:
        if not leg.ends_stretch or leg.stretch.end.kind is not PointKind.FIX:
            continue
        found = crossing_of(leg)
        if found is None:
            continue
        cut_deg, distance_nm = found
        if 0.0 < cut_deg < WEAK_CUT_DEG:
            moved = distance(along_track_nm(distance_nm, cut_deg))
            message = (
                f"the radials that mark {leg.end.name} cross at {whole(cut_deg)} degrees:"
                f" an error of {CROSSING_ERROR_DEG} degrees moves it {moved} NM"
            )
            yield Found(
                message, leg, Severity.ERROR if cut_deg < BAD_CUT_DEG else Severity.WARNING, by=WEAK_CUT_DEG - cut_deg
            )


def crossing_of(leg: Leg) -> tuple[float, float] | None:
    """The cut that marks a leg's end, degrees, and the distance to the station that counts, NM.

    None for a published fix and where DME or nothing marks it.
    """
    end, marks = leg.stretch.end, leg.stretch.identified_by
    if any(one.ground_nm is not None for one in marks):
        return None
    if end.crossing is not None:
        cut_deg = end.crossing.cut_deg
        # What 1 degree moves the fix, back to the distance it was computed from.
        return cut_deg, end.crossing.error_nm_per_deg * sin(radians(cut_deg)) / sin(radians(1.0))
    if not marks or end.fix is None or end.fix.published:
        return None
    from navlog.nav.guidance import distance_from
    from navlog.resolve.identify import cut_deg as cut_at

    distance_nm = distance_from(marks[0].station, end.position)
    return None if distance_nm is None else (cut_at(marks[0].station, leg.part.guidance, end), distance_nm)


@rule(
    "short-leg",
    Severity.WARNING,
    group=Group.REST,
    at_times=(Severity.NOTE,),
    source="practice: two corners 1 NM apart cannot be flown as drawn",
    remedy="leave one of the two points out, or fly it as one turn",
    passing=BASE,
    failing=sample("fix LAKER N46 11.00 W039 19.50", "route XHAR QHB LAKER QEL/A055 XOLD"),
)
def short_leg(case: Case) -> Iterator[Found]:
    """Two points of the route are less than 2 NM or 1 minute apart.

    A note where the way hardly turns at either of them. Departure and arrival do not count.
    """
    turned_deg: float | None = None
    stretches = case.first_legs
    for leg in stretches:
        stretch = leg.stretch
        time_min = stretch.length_nm / leg.groundspeed_kt * 60.0 if leg.groundspeed_kt else None
        if not is_ground(stretch) and (stretch.length_nm < SHORT_NM or (time_min is not None and time_min < SHORT_MIN)):
            corner = max(abs(turned_deg or 0.0), abs(stretch.turn_deg or 0.0)) >= CORNER_DEG
            took = f", {time_min * 60.0:.0f} s" if time_min is not None else ""
            message = f"{stretch.start.name} and {stretch.end.name} are {distance(stretch.length_nm)} NM apart{took}"
            yield Found(message, leg, None if corner else Severity.NOTE)
        turned_deg = stretch.turn_deg


def is_ground(stretch: Stretch) -> bool:
    """Whether a stretch begins or ends at an airport."""
    return PointKind.AIRPORT in (stretch.start.kind, stretch.end.kind)
