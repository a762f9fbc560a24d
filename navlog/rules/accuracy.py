"""How sure the needle is: bands wider than an airway, and fixes told no better than a leg is long."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.sure import along_track_nm, band
from navlog.nav.figures import distance
from navlog.rules.registry import Case, Found, Group, Severity, rule
from navlog.rules.samples import BASE, sample

_AIRWAY_NM = 4.0
"""Half the width of a Federal airway (14 CFR 71.75; FAA JO 7400.2, 20-3-3)."""


@rule(
    "wide-band",
    Severity.NOTE,
    group=Group.GUIDANCE,
    source="FAA JO 7400.2, 20-3-3: 4 NM either side, 4.5 degrees from 51 NM on; ICAO Doc 8168: 5 NM at 49.8 NM",
    remedy="choose a nearer station, or a point on the way to check the position at",
    passing=BASE,
    failing=sample("airport XHAR N46 12.30 W037 54.10 elev 0ft", "-direct QHB"),
)
def wide_band(case: Case) -> Iterator[Found]:
    """Off airways the guidance of a leg lets the aircraft be farther aside than the 4 NM of an airway."""
    accuracy = case.request.accuracy
    for leg in case.legs:
        found = band(leg, accuracy) if leg.stretch.airway is None else None
        if found is not None and found.half_width_nm > _AIRWAY_NM + 0.05:
            message = (
                f"VOR error {accuracy.along_deg:g} degrees = {distance(found.half_width_nm)} NM either side at"
                f" {case.count(leg).away(found.away_nm)} NM from the station"
            )
            yield Found(message, leg, by=found.half_width_nm - _AIRWAY_NM)


@rule(
    "fix-unsure",
    Severity.WARNING,
    group=Group.GUIDANCE,
    source="common practice, no source",
    remedy="tell the fix by another station or DME, or leave it out",
    passing=sample("fix ROSKO QHB 160 x QEL 090", "route XHAR QHB ROSKO QEL/A055 XOLD"),
    failing=sample("fix ROSKO QHB 160 x QEL 038", "route XHAR QHB ROSKO QEL/A055 XOLD"),
)
def fix_unsure(case: Case) -> Iterator[Found]:
    """A fix may be found along a length of the track that is longer than the leg to it."""
    for leg in case.marked:
        error_nm = along_track_nm(leg)
        if error_nm is not None and 2.0 * error_nm > leg.stretch.length_nm:
            message = (
                f"{leg.end.name} may be found {distance(error_nm)} NM before or beyond its place,"
                f" {case.count(leg).along(leg.stretch.length_nm)} NM from {leg.stretch.start.name}"
            )
            yield Found(message, leg, by=2.0 * error_nm - leg.stretch.length_nm)
