"""Height over the ground and obstacles below direct legs, where a terrain folder is named."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.flightlog.altitudes import below
from navlog.flightlog.counted import Count
from navlog.flightlog.records import Leg
from navlog.nav.figures import distance, place_text, up, whole
from navlog.request.levels import level_altitude_ft
from navlog.rules.heights import flown_text
from navlog.rules.registry import Case, Found, Group, Severity, once_a_flight, rule
from navlog.rules.samples import BASE, sample

if TYPE_CHECKING:
    from navlog.nav.terrain import Spot
    from navlog.resolve.ground import Ground, InBand

TERRAIN = "terrain terrain"
BY_LAW = "14 CFR 91.177(a)(2) and part 95, subpart B"


@rule(
    "under-terrain",
    Severity.WARNING,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR, Severity.NOTE),
    source=BY_LAW,
    remedy="plan at or above the minimum by terrain, or state the minimum of the chart",
    passing=sample(TERRAIN, "-direct QHB", "-direct QEL"),
    failing=sample(TERRAIN, "-direct QHB", "-direct QEL", "altitude 2500", "rules ifr"),
)
def under_terrain(case: Case) -> Iterator[Found]:
    """A direct leg without a stated minimum is flown below its minimum by terrain.

    An error under IFR. Under VFR no such minimum binds: a note, and a warning below the top of what stands within
    4 NM or within the guidance's error. Where terrain is missing, so that no minimum is known, the one over the
    highest known counts: the true one is no lower.
    """
    for leg, low_ft in case.bound:
        limits, ground = leg.stretch.limits, leg.stretch.ground
        stated = limits.minimum_kind != "terrain" and (limits.minimum_ft is not None or limits.mea_ft is not None)
        if ground is None or ground.top is None or ground.least_ft is None or stated:
            continue
        if below(low_ft, ground.least_ft):
            severity = case.by_rules
            if case.request.rules != "ifr" and not below(low_ft, ground.top.top_ft):
                severity = Severity.NOTE
            message = f"{flown_text(leg, low_ft)} is below the {_minimum_text(ground, case.count(leg))}"
            yield Found(message, leg, severity, by=ground.least_ft - low_ft)


def _minimum_text(ground: Ground, count: Count) -> str:
    """The minimum by terrain of a stretch and what it is made of; where terrain is missing that over what is known."""
    over = "" if ground.minimum_ft is not None else " over the highest known"
    assert ground.top is not None
    return (
        f"minimum by terrain of {whole(ground.least_ft)} ft{over}: {spot_text(count, ground.top)}, and"
        f" {whole(ground.clearance_ft)} ft above it"
    )


_LEAST_FT = {True: 1500.0, False: 1000.0, None: 1000.0}
"""What the minimum of an airway is above obstacles at the least, in mountains or not (FAA Order 8260.3)."""


@rule(
    "stated-under-terrain",
    Severity.WARNING,
    group=Group.HEIGHT,
    at_times=(Severity.ERROR,),
    source=f"{BY_LAW}; FAA Order 8260.3 lets airways have 1,500 ft in mountains",
    remedy="look the minimum up again: the data have higher ground near this leg",
    passing=sample(TERRAIN, "direct QHB - XHAR 9.6nm min 3000"),
    failing=sample(TERRAIN),
)
def stated_under_terrain(case: Case) -> Iterator[Found]:
    """The minimum stated for a direct leg is lower than the one by terrain, or an airway's lies too near the ground.

    An airway was surveyed, and may have less above obstacles than 14 CFR 91.177 asks elsewhere: its MOCA, else its MEA,
    is told where it lies less than 1,000 ft, in mountains 1,500 ft, above the highest place that is known. Under IFR it
    is an error where the flight itself is planned below that place all along the leg.
    """
    for leg in case.first_legs:
        count = case.count(leg)
        told = _direct_under_terrain(count) if leg.stretch.airway is None else _airway_under_terrain(count)
        if told is not None:
            yield Found(told.message, leg, case.by_rules if told.met else None, by=told.by_ft)


class _TooLow(Struct, frozen=True):
    """A minimum too near the ground in words, by how much, and whether the flight itself is below what stands there."""

    message: str
    by_ft: float
    met: bool


def _direct_under_terrain(count: Count) -> _TooLow | None:
    """The minimum stated for a direct leg, where it is lower than the one by terrain."""
    limits, ground = count.leg.stretch.limits, count.leg.stretch.ground
    if ground is None or ground.least_ft is None or limits.minimum_ft is None:
        return None
    # Where none is stated the minimum is the one by terrain.
    if not below(limits.minimum_ft, ground.least_ft):
        return None
    message = f"the stated minimum of {whole(limits.minimum_ft)} ft is lower than the {_minimum_text(ground, count)}"
    passed, met = ("", False) if ground.top is None else _passed(count.leg, ground.top, ground.clearance_ft)
    return _TooLow(message + passed, ground.least_ft - limits.minimum_ft, met)


def _airway_under_terrain(count: Count) -> _TooLow | None:
    """The lowest minimum of an airway in the direction flown, where higher ground stands abeam than it allows for."""
    leg, limits = count.leg, count.leg.stretch.limits
    name, stated_ft = ("MEA", limits.mea_ft) if limits.moca_ft is None else ("MOCA", limits.moca_ft)
    tops = [(one.top, _LEAST_FT[one.mountainous]) for one in leg.stretch.abeam if one.top is not None]
    if stated_ft is None or not tops:
        return None
    top, least_ft = max(tops, key=lambda one: one[0].height_ft + one[1])
    if not below(stated_ft, top.height_ft + least_ft):
        return None
    passed, met = _passed(leg, top, least_ft)
    message = (
        f"the {name} of {whole(stated_ft)} ft on {leg.stretch.via} is less than {whole(least_ft)} ft above"
        f" {spot_text(count, top)}{passed}"
    )
    return _TooLow(message, top.height_ft + least_ft - stated_ft, met)


def _passed(leg: Leg, top: Spot, least_ft: float) -> tuple[str, bool]:
    """What a flight has above a high place at its highest on a leg, where that is less than asked; whether it is below.

    Without a word it looks safe.
    """
    flown_ft = max(leg.start_altitude_ft, leg.end_altitude_ft, level_altitude_ft(leg.stretch.level, leg.altimeter_hpa))
    if not below(flown_ft, top.height_ft + least_ft):
        return "", False
    over_ft = flown_ft - top.height_ft
    side = f"{whole(abs(over_ft))} ft {'above' if over_ft >= 0.0 else 'BELOW'} it"
    return f"; the flight is planned no more than {side}", below(over_ft, 0.0)


@rule(
    "terrain-unknown",
    Severity.WARNING,
    group=Group.HEIGHT,
    source="nothing unknown is taken for low: common practice, no source",
    remedy="put the missing tiles into the terrain folder, and whole ones in place of those that cannot be read",
    passing=sample(TERRAIN),
    failing=sample(TERRAIN, "airport XOLD N44 58.00 W039 20.00 elev 350ft", "-direct QEL"),
)
def terrain_unknown(case: Case) -> Iterator[Found]:
    """The minimum by terrain of a direct leg is not known, as terrain is missing there.

    A file that is there and cannot be read is told by itself: it is damaged, not missing.
    """
    files = dict.fromkeys(
        file for leg in case.first_legs if leg.stretch.ground is not None for file in leg.stretch.ground.unread
    )
    for name, why in files:
        yield Found(f"the terrain file {name} cannot be read: {why}", about=name, apart=True)
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
    source=BY_LAW,
    remedy="import the FAA's Digital Obstacle File into the catalogue, or add the towers of the chart",
    passing=BASE,
    failing=sample(TERRAIN),
)
def obstacles_unknown(case: Case) -> Iterator[Found]:
    """Minimums by terrain are without towers and masts, as no obstacle is known."""
    grounds = [leg.stretch.ground for leg in case.first_legs if leg.stretch.ground is not None]
    if any(not ground.obstacles_known for ground in grounds):
        yield Found("no obstacles are known: towers and masts are not in the minimums by terrain")


_ROUNDED_FT = 100.0
"""To what a minimum is rounded up: higher ground by less hardly changes one."""


@rule(
    "band-over-higher-ground",
    Severity.NOTE,
    group=Group.HEIGHT,
    source="ICAO Doc 8168 and FAA JO 7400.2, 20-3-3: a course is as wide as the errors of its guidance",
    remedy="hold the needle centred there, fly higher, or choose a nearer station",
    passing=sample(TERRAIN),
    failing=sample(TERRAIN, "airport XHAR N45 50.00 W039 06.00 elev 350ft", "-direct QHB"),
)
def band_over_higher_ground(case: Case) -> Iterator[Found]:
    """Within the error of a direct leg's guidance stands higher ground than under its course.

    By more than 100 ft, to which minimums are rounded, and what the tiles themselves may be off by.
    """
    angle_deg = case.request.accuracy.along_deg
    for leg in case.first_legs:
        ground = leg.stretch.ground
        bands = [one.band for one in ground.parts if one.band is not None] if ground is not None else []
        higher = [one for one in bands if _higher_ft(one) > _ROUNDED_FT and not _at_end(leg, one.highest)]
        if higher:
            most = max(higher, key=_higher_ft)
            top = spot_text(case.count(leg), most.highest)
            message = (
                f"within {angle_deg:g} degrees of the course, {distance(most.half_width_nm)} NM there, stand {top};"
                f" on the course no more than {whole(most.on_course_ft)} ft"
            )
            yield Found(message, leg, by=_higher_ft(most))


def _higher_ft(band: InBand) -> float:
    """How much higher than under the course it is within the band, less what the tiles may be off by."""
    return band.highest.height_ft - band.on_course_ft - (band.highest.tolerance_ft or 0.0)


def spot_text(count: Count, spot: Spot) -> str:
    """A high place in words: `4147 ft (+53), 24.2 NM along, 1.2 left, N44W072.hgt`.

    Miles count from the start of the stretch, which is named where the leg is only a piece of it. Off an end it is
    `2.5 NM beyond XOLD`: a climb out the other way, a circuit and a go-around come there.
    """
    tolerance = f" (+{up(spot.tolerance_ft, 1.0)})" if spot.tolerance_ft else spot.unsure_words
    leg = count.leg
    stretch = leg.stretch
    way = "" if leg.start_nm == 0.0 and leg.ends_stretch else f" {way_text(leg)}"
    along = f"{count.along(spot.along_nm)} NM along{way}"
    by_start_nm, by_end_nm = abs(spot.along_nm), abs(spot.along_nm - stretch.length_nm)
    off_end = f"behind {stretch.start.name}" if by_start_nm < by_end_nm else f"beyond {stretch.end.name}"
    # Off the end of a part of the stretch, at a changeover point, it lies beside the next one.
    away_nm = spot.away_nm if min(by_start_nm, by_end_nm) < _OVER_FIELD_NM else 0.0
    where = place_text(along, spot.aside_nm, away_nm, off_end)
    return f"{whole(spot.height_ft)} ft{tolerance}, {where}, {spot.source}"


def way_text(leg: Leg) -> str:
    """The two ends of the stretch that a leg is of."""
    return f"{leg.stretch.start.name} to {leg.stretch.end.name}"


_OVER_FIELD_NM = 1.0
"""What is so near the airport is no hill beside the way, as far as tiles can tell."""


def _at_end(leg: Leg, spot: Spot) -> bool:
    """Whether a spot lies at the airport from which a leg climbs, or to which it descends."""
    ends = 0.0, leg.stretch.length_nm
    return spot.away_nm < _OVER_FIELD_NM and min(abs(spot.along_nm - end) for end in ends) < _OVER_FIELD_NM
