"""Height over the ground and obstacles below direct legs, where a terrain folder is named."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.altitudes import altitudes_ft, below
from navlog.flightlog.records import Leg
from navlog.nav.figures import distance, whole
from navlog.nav.terrain import Spot
from navlog.rules.heights import flown_text
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, FLOWN_BY_FILE, sample

_TERRAIN = "terrain terrain"
_BY_LAW = "14 CFR 91.177(a)(2) and part 95, subpart B"


@rule(
    "under-terrain",
    Severity.WARNING,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR, Severity.NOTE),
    source=_BY_LAW,
    remedy="plan at or above the minimum by terrain, or state the minimum of the chart",
    passing=sample(_TERRAIN, "-direct QHB", "-direct QEL"),
    failing=sample(_TERRAIN, "-direct QHB", "-direct QEL", "altitude 2500", "rules ifr"),
)
def under_terrain(case: Case) -> Iterator[Found]:
    """A direct leg without a stated minimum is flown below its minimum by terrain.

    An error under IFR. Under VFR no such minimum binds: a note, and a warning below the top of what stands within
    4 NM or within the guidance's error.
    """
    for leg, low_ft in case.bound:
        limits, ground = leg.stretch.limits, leg.stretch.ground
        if ground is None or ground.top is None or limits.minimum_kind != "terrain" or limits.minimum_ft is None:
            continue
        if below(low_ft, limits.minimum_ft):
            severity = case.by_rules
            if case.request.rules != "ifr" and not below(low_ft, ground.top.top_ft):
                severity = Severity.NOTE
            message = (
                f"{flown_text(leg, low_ft)} is below the minimum by terrain of {whole(limits.minimum_ft)} ft:"
                f" {_spot_text(ground.top)}, and {whole(ground.clearance_ft)} ft above it"
            )
            yield Found(message, leg, severity, by=limits.minimum_ft - low_ft)


@rule(
    "climb-under-terrain",
    Severity.WARNING,
    group=Group.HEIGHT,
    source=_BY_LAW,
    remedy="climb over the field or on another way until the high ground is cleared",
    passing=sample(_TERRAIN, *FLOWN_BY_FILE, "-direct QHB", "-direct QEL"),
    failing=sample(_TERRAIN, *FLOWN_BY_FILE, "airport XHAR N45 50.00 W039 06.00 elev 350ft", "-direct QHB"),
)
def climb_under_terrain(case: Case) -> Iterator[Found]:
    """A climb from an airport, or a descent to one, passes the highest place near its way lower than its top.

    Beside that place the planned height is below the ground or obstacle there, its source's tolerance added: who is
    off course by as much as is counted on meets it. No minimum binds there, so no other rule tells.
    """
    bound = {leg.number: low_ft for leg, low_ft in case.bound}
    for leg in case.legs:
        ground = leg.stretch.ground
        if ground is None or leg.stays:
            continue
        for spot in (ground.highest, ground.obstacle):
            if spot is None or not leg.start_nm <= spot.along_nm <= leg.end_nm or _at_end(leg, spot):
                continue
            height_ft = _height_beside_ft(leg, spot)
            # From where a minimum binds another rule tells.
            if below(height_ft, min(spot.top_ft, bound.get(leg.number, spot.top_ft))):
                message = f"{whole(height_ft)} ft is planned beside {_spot_text(spot)}"
                yield Found(message, leg, by=spot.top_ft - height_ft)


_OVER_FIELD_NM = 1.0
"""What is so near the airport is the field itself, as far as tiles can tell."""


def _at_end(leg: Leg, spot: Spot) -> bool:
    """Whether a spot lies at the airport from which a leg climbs, or to which it descends."""
    ends = 0.0, leg.stretch.length_nm
    return spot.away_nm < _OVER_FIELD_NM and min(abs(spot.along_nm - end) for end in ends) < _OVER_FIELD_NM


def _height_beside_ft(leg: Leg, spot: Spot) -> float:
    """The height planned where a leg passes a spot; it changes evenly along a leg."""
    start_ft, end_ft = altitudes_ft(leg)
    share = (spot.along_nm - leg.start_nm) / leg.distance_nm if leg.distance_nm > 0.0 else 0.0
    return start_ft + share * (end_ft - start_ft)


@rule(
    "stated-under-terrain",
    Severity.WARNING,
    group=Group.HEIGHT,
    source=_BY_LAW,
    remedy="look the minimum up again: the data have higher ground near this leg",
    passing=sample(_TERRAIN, "direct QHB - XHAR 9.6nm min 3000"),
    failing=sample(_TERRAIN),
)
def stated_under_terrain(case: Case) -> Iterator[Found]:
    """The minimum stated for a direct leg is lower than the one by terrain."""
    for leg in case.first_legs:
        limits, ground = leg.stretch.limits, leg.stretch.ground
        if ground is None or ground.top is None or ground.minimum_ft is None or limits.minimum_kind == "terrain":
            continue
        if limits.minimum_ft is not None and below(limits.minimum_ft, ground.minimum_ft):
            message = (
                f"the stated minimum of {whole(limits.minimum_ft)} ft is lower than {whole(ground.minimum_ft)} ft by"
                f" terrain: {_spot_text(ground.top)}, and {whole(ground.clearance_ft)} ft above it"
            )
            yield Found(message, leg, by=ground.minimum_ft - limits.minimum_ft)


@rule(
    "terrain-unknown",
    Severity.WARNING,
    group=Group.HEIGHT,
    source="nothing unknown is taken for low: common practice, no source",
    remedy="put the missing tiles into the terrain folder",
    passing=sample(_TERRAIN),
    failing=sample(_TERRAIN, "airport XOLD N44 58.00 W039 20.00 elev 350ft", "-direct QEL"),
)
def terrain_unknown(case: Case) -> Iterator[Found]:
    """The minimum by terrain of a direct leg is not known, as terrain is missing there."""
    for leg in case.first_legs:
        ground = leg.stretch.ground
        if ground is not None and ground.unknown:
            ends = f"{leg.stretch.start.name} to {leg.stretch.end.name}"
            yield Found(f"the ground from {ends} is not known: {', '.join(ground.unknown)}", leg)


@once_a_flight
@rule(
    "obstacles-unknown",
    Severity.NOTE,
    group=Group.HEIGHT,
    source=_BY_LAW,
    remedy="import the FAA's Digital Obstacle File into the catalogue, or add the towers of the chart",
    passing=BASE,
    failing=sample(_TERRAIN),
)
def obstacles_unknown(case: Case) -> Iterator[Found]:
    """Minimums by terrain are without towers and masts, as no obstacle is known."""
    grounds = [leg.stretch.ground for leg in case.first_legs if leg.stretch.ground is not None]
    if any(not ground.obstacles_known for ground in grounds):
        yield Found("no obstacles are known: towers and masts are not in the minimums by terrain")


def _spot_text(spot: Spot) -> str:
    """A high place in words: `4147 ft (+53), 24.2 NM along, 1.2 left, N44W072.hgt`."""
    tolerance = f" (+{whole(spot.tolerance_ft)})" if spot.tolerance_ft else ""
    side = "right" if spot.aside_nm > 0.0 else "left"
    return (
        f"{whole(spot.height_ft)} ft{tolerance}, {distance(spot.along_nm)} NM along,"
        f" {distance(abs(spot.aside_nm))} {side}, {spot.source}"
    )
