"""Workings of changeover point, distance, time, what marks the leg's end, and the altitude limits."""

from __future__ import annotations

from collections.abc import Iterator

from navlog.flightlog.records import Leg, Phase
from navlog.flightlog.runs import Step as Flown
from navlog.nav.figures import distance as printed_distance
from navlog.nav.figures import level, whole
from navlog.nav.guidance import StatedDistance
from navlog.nav.units import FEET_PER_NM
from navlog.nav.workings import Step
from navlog.resolve.route import ChangeoverKind
from navlog.studies.explanation_numbers import HANDBOOK, added_up, hundredths, speed

CHANGEOVERS = {
    ChangeoverKind.PUBLISHED: "as published",
    ChangeoverKind.STATED: "as stated",
    ChangeoverKind.TURN: "at the one bend of the way, where the two radials cross",
    ChangeoverKind.RECEPTION: "nearest the middle, where both stations are in range",
}


def changeover(leg: Leg) -> Iterator[Step]:
    """Where the guidance changes at the leg's end."""
    point = leg.changeover
    if point is None or point.kind is ChangeoverKind.UNKNOWN:
        return
    behind, ahead = hundredths(point.distance_nm), hundredths(point.distance_ahead_nm)
    result = f"{behind} NM from {point.behind.ident}, {ahead} NM to {point.ahead.ident}"
    if point.kind is ChangeoverKind.MIDPOINT:
        formula = "the way is straight and nothing is published: half of it"
        yield Step("changeover point", formula, f"({behind} + {ahead}) / 2", result, "14 CFR 95.8001")
        return
    yield Step("changeover point", CHANGEOVERS[point.kind], "", result, "14 CFR 95.8001")


def distance(leg: Leg, flown: tuple[Flown, ...]) -> Iterator[Step]:
    """The stretch's length, and how much of it this leg is."""
    yield whole_stretch(leg.stretch.distance)
    if leg.phase is not Phase.CRUISE:
        terms = tuple(
            f"{hundredths(step.time_min or 0.0)} x {speed(groundspeed_kt(step))}" for step in flown if step.time_min
        )
        yield Step(
            f"distance of the {leg.phase.value}",
            "sum of (time x groundspeed) of the layers / 60",
            f"{added_up(terms)} / 60",
            f"{hundredths(leg.distance_nm)} NM",
            HANDBOOK,
        )
    elif leg.start_nm > 0.0 or not leg.ends_stretch:
        yield Step(
            "distance of this leg",
            "end - start along the way between the two points",
            f"{hundredths(leg.end_nm)} - {hundredths(leg.start_nm)}",
            f"{hundredths(leg.distance_nm)} NM",
            "geometry",
        )


def groundspeed_kt(step: Flown) -> float:
    """How fast a layer was flown over the ground."""
    return (step.end_nm - step.start_nm) / (step.time_min or 0.0) * 60.0


def whole_stretch(stated: StatedDistance) -> Step:
    """The distance between the two points as charted and by position, and which is flown."""
    result = f"{hundredths(stated.flown or 0.0)} NM"
    if stated.charted is None:
        return Step("distance between the points", "length of the geodesic", "", result, "WGS84")
    if stated.reference is None:
        return Step("distance between the points", "as charted", "", result, "chart or route file")
    by = "position" if stated.computed is not None else "the definitions of the points"
    by_position = f"charted {printed_distance(stated.charted)}, by {by} {hundredths(stated.reference)}"
    rule = "the charted one, within 0.5 NM or 1 % of the other" if stated.agrees else "they differ: the longer one"
    return Step("distance between the points", f"{by_position}; flown is {rule}", "", result, "chart or route file")


def time(leg: Leg, flown: tuple[Flown, ...]) -> Iterator[Step]:
    """The time of the leg; in climb and descent the groundspeed that follows from it."""
    if leg.time_min is None or leg.groundspeed_kt is None:
        return
    length, minutes, over_ground = hundredths(leg.distance_nm), hundredths(leg.time_min), speed(leg.groundspeed_kt)
    if leg.phase is Phase.CRUISE:
        yield Step("time", "60 x distance / groundspeed", f"60 x {length} / {over_ground}", f"{minutes} min", HANDBOOK)
        return
    yield layers(f"time of the {leg.phase.value}", leg, flown)
    yield Step("groundspeed", "60 x distance / time", f"60 x {length} / {minutes}", f"{over_ground} kt", HANDBOOK)


def at_a_place(leg: Leg, flown: tuple[Flown, ...]) -> Iterator[Step]:
    """The time of a hold, or of a climb in one, or of height to lose."""
    if leg.time_min is None:
        return
    if flown:
        yield layers(f"time of the {'climb in the hold' if leg.phase is Phase.HOLD else leg.phase.value}", leg, flown)
    else:
        yield Step("time of the hold", "as stated", "", f"{hundredths(leg.time_min)} min", "route file")


def layers(name: str, leg: Leg, flown: tuple[Flown, ...]) -> Step:
    """The time of a climb or descent out of its layers."""
    terms = tuple(
        f"{abs(step.end_ft - step.start_ft):.1f} / {abs(step.end_ft - step.start_ft) / step.time_min:.1f}"
        for step in flown
        if step.time_min and step.phase is not Phase.CRUISE
    )
    level = tuple(hundredths(step.time_min) for step in flown if step.time_min and step.phase is Phase.CRUISE)
    formula = "sum of height / rate of the layers" + (", and the time level" if level else "")
    return Step(name, formula, " + ".join((*terms, *level)), f"{hundredths(leg.time_min or 0.0)} min", "aircraft file")


def identification(leg: Leg) -> Iterator[Step]:
    """What the DME reads at the leg's end."""
    for one in leg.stretch.identified_by if leg.ends_stretch else ():
        elevation_ft = one.station.elevation_ft
        if one.ground_nm is None or leg.dme_nm is None or elevation_ft is None:
            continue
        height = f"({whole(leg.end_altitude_ft)} - {whole(elevation_ft)}) / {FEET_PER_NM:.1f}"
        yield Step(
            f"DME of {one.station.ident} at {leg.end.name}",
            "sqrt(ground distance^2 + height above the station^2)",
            f"sqrt({hundredths(one.ground_nm)}^2 + ({height})^2)",
            f"{hundredths(leg.dme_nm)} NM",
            "ICAO Doc 8168, Volume II, I-4-3, appendix C",
        )
        return


def limits(leg: Leg) -> Iterator[Step]:
    """The altitude limits beside the heights flown."""
    stated, flight_level = leg.stretch.limits, leg.stretch.level.flight_level
    start, end = (level(ft, flight_level=flight_level) for ft in (leg.start_altitude_ft, leg.end_altitude_ft))
    flown = f"flown {start}" if start == end else f"flown {start} to {end}"
    crossings = [one.altitude_ft for one in stated.crossings_start if not one.turning and leg.start_nm == 0.0]
    for name, what, altitude_ft, source in (
        ("MEA", "minimum en-route altitude", stated.mea_ft, "14 CFR 91.177(a), 95.1"),
        ("MOCA", "within 22 NM of the VOR in use", stated.moca_ft, "14 CFR 91.177(a)(1), 95.1"),
        ("minimum", "stated for this direct leg", stated.minimum_ft, stated.minimum_source or "route file"),
        ("MAA", "maximum authorised altitude", stated.maa_ft, "14 CFR 95.1"),
        ("MCA", f"to cross {leg.start.name}", max(crossings, default=None), "14 CFR 91.177(b), 95.1"),
        ("MRA", f"to receive the cross radial at {leg.end.name}", stated.mra_end_ft, "14 CFR 95.1"),
    ):
        if altitude_ft is not None:
            yield Step(name, what, "", f"{whole(altitude_ft)} ft, {flown}", source)
