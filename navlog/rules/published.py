"""What the published data leaves open and the log fills in by a computation."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.records import Phase
from navlog.nav.angles import difference_deg
from navlog.nav.figures import course, distance
from navlog.nav.guidance import StatedDistance
from navlog.resolve.route import Identification, MarkKind, Point
from navlog.rules.registry import Case, Found, Rule, Severity, rule
from navlog.rules.samples import PUBLISHED, sample


@rule(
    "fix-computed",
    Severity.WARNING,
    source="FAA NASR FIX_NAV: radials and distances over the ground; re-aligned stations leave old radials behind",
    remedy="define the fix in the file with the position from the chart",
    passing=PUBLISHED,
    failing=sample("route XHAR QHB V801 QEL/A055 MAKER XOLD", "-direct QEL"),
)
def fix_computed(case: Case) -> Iterator[Found]:
    """A fix has no published position and stands where its radials and distances put it."""
    told = set()
    for leg in case.first_legs:
        for point in (leg.stretch.start, leg.stretch.end):
            fix = point.fix
            if fix is not None and fix.computed and fix.ident not in told:
                told.add(fix.ident)
                by = " and ".join(dict.fromkeys(bearing.station for bearing in fix.makeup))
                message = f"{fix.ident} has no published position; it is placed by its make-up from {by}"
                yield Found(message, leg, about=fix.ident)


@rule(
    "makeup-differs",
    Severity.WARNING,
    source="FAA NASR FIX_NAV beside FIX_BASE and NAV_BASE: re-aligned stations leave old radials behind",
    remedy="compare with the current chart; the needle and the DME read what the position makes",
    passing=sample("route XHAR QHB V801 QEL/A055 QPB XOLD"),
    failing=sample("route XHAR QHB V801 QEL/A055 OLDEN XOLD"),
)
def makeup_differs(case: Case) -> Iterator[Found]:
    """A published radial or distance of a fix is not what its position makes of the station as it is today.

    By more than 1 degree of a radial, or by 0.5 NM and 1 % of a distance.
    """
    for leg in case.legs:
        for mark in leg.marks if leg.phase is not Phase.HOLD else ():
            told = differing(mark.by) if leg.end.point is not None and not computed(leg.end.point) else ""
            if told:
                yield Found(f"{leg.end.name} is published {told}", leg, about=f"{leg.end.name} {told}")


def computed(point: Point) -> bool:
    """Whether a point's position is itself computed from its make-up."""
    return point.fix is not None and point.fix.computed


def differing(one: Identification) -> str:
    """What a fix's make-up says of a station and what its position makes of it; empty where they agree."""
    ident = one.station.ident
    if one.kind is MarkKind.RADIAL and one.makeup_differs:
        moved = difference_deg(one.published_radial_deg or 0.0, one.radial_deg or 0.0)
        return (
            f"on {ident} R-{course(one.published_radial_deg)} and lies on R-{course(one.radial_deg)} by its position:"
            f" {abs(moved):.1f} degrees apart"
        )
    if one.kind is MarkKind.DME and not StatedDistance(one.published_nm, one.away_nm).agrees:
        return (
            f"{distance(one.published_nm)} NM from {ident} and lies {distance(one.away_nm)} NM from it by its position"
        )
    return ""


RULES: tuple[Rule, ...] = (fix_computed, makeup_differs)
