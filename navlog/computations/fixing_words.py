"""Fixes, and the stations seen from a position."""

from __future__ import annotations

from navlog.computations import fixing
from navlog.computations.amounts import degrees
from navlog.computations.answer import Answer
from navlog.computations.fixing import FixAnswer, RadialFound, RadialLine, StationBearing
from navlog.nav.angles import position_text
from navlog.nav.chart import StationKind
from navlog.nav.figures import course, distance, frequency, half_up

SHALLOW_CUT_DEG = 45.0
POOR_CUT_DEG = 30.0
"""Where a cut is called shallow, and poor (common practice, no source)."""


def fix(found: FixAnswer) -> Answer:
    """Where it is, from which radials, how well it is marked."""
    lines = [position_text(found.position), "; ".join(_line(line) for line in found.lines)]
    moved = f"a bearing error of {degrees(found.bearing_error_deg)} moves it"
    if found.cut_deg is not None:
        lines.append(f"cut {half_up(found.cut_deg)} degrees{_cut(found.cut_deg)}")
        each = ", ".join(f"{line.ident}'s by {line.shift_nm:.2f}" for line in found.lines)
        lines.append(f"{moved} by up to {found.error_nm:.2f} NM ({each})")
    else:
        lines.append(f"{moved} {found.lines[0].shift_nm:.2f} NM across")
        if found.dme_error_nm is not None:
            lines.append(f"the DME may be off by {found.dme_error_nm:.2f} NM; both together {found.error_nm:.2f} NM")
    return Answer((found,), tuple(lines), fixing.workings(found))


def position(bearings: tuple[StationBearing, ...]) -> tuple[Answer, ...]:
    """One answer a station."""
    return tuple(Answer((seen,), (_station(seen),), fixing.bearing_workings((seen,))) for seen in bearings)


def radial(found: RadialFound) -> Answer:
    """The radial that a centred needle shows."""
    line = f"radial {course(found.radial_deg)}: needle centred on {course(found.set_course_deg)} {found.flag}"
    return Answer((found,), (line,), fixing.needle_workings(found))


def _line(line: RadialLine) -> str:
    dme = "" if line.dme_nm is None else f" (DME {distance(line.dme_nm)})"
    return f"{line.ident} radial {course(line.radial_deg)}, {distance(line.distance_nm)} NM{dme}"


def _cut(cut_deg: float) -> str:
    if cut_deg < POOR_CUT_DEG:
        return ", poor"
    return ", shallow" if cut_deg < SHALLOW_CUT_DEG else ""


def _station(seen: StationBearing) -> str:
    parts = [f"{seen.ident} {frequency(seen.frequency_mhz)} {seen.morse}"]
    if seen.radial_deg is not None:
        north = "T" if seen.north == "true" else ""
        parts.append(f"radial {course(seen.radial_deg)}{north}, course {course(seen.course_to_deg)}{north} TO")
    else:
        undeclared = seen.kind is StationKind.VOR and seen.declination_deg is None
        parts.append("no declination, so no radial" if undeclared else "no radial")
    away = f"{distance(seen.distance_nm)} NM"
    parts.append(away if seen.dme_nm is None else f"{away}, DME {distance(seen.dme_nm)}")
    if seen.in_cone:
        parts.append("over the station: the needle is not to be trusted")
    if seen.service_nm is not None and seen.distance_nm > seen.service_nm:
        parts.append(f"outside its service volume of {seen.service_nm:.0f} NM")
    return "  ".join(parts)
