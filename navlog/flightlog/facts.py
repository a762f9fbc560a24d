"""The facts of a flight in words, each worded once: rules, sheets and second looks put them in their sentences."""

from __future__ import annotations

from collections.abc import Iterable

from navlog.flightlog.changeovers import place_text
from navlog.flightlog.records import Leg, Log
from navlog.nav.chart import CrossingAltitude, Service, Station
from navlog.nav.figures import BY_STATION_NORTH, course, half_up, set_course, stated_distance, tenths, whole
from navlog.nav.guidance import Flag, Guidance
from navlog.resolve.route import Changeover, ChangeoverKind, GuidedPart, Limits, Stretch

NO_CHANGEOVER = "changeover point not known"


def by_north(leg: Leg, text: str) -> str:
    """The figure, marked `~` where a station's declination stands in for the variation."""
    return BY_STATION_NORTH + text if leg.variation_source == "station" else text


def heading_text(leg: Leg) -> str | None:
    """The heading to hold in words: `214 magnetic`, `~214 magnetic` by station north, `213 compass`, or `214 true`.

    By compass where its card tells, as rows print it. True where magnetic north is not known; None where neither
    heading is known or the wind cannot be flown.
    """
    solved = leg.triangle
    if solved is None or solved.unflyable is not None or solved.true_heading_deg is None:
        return None
    if leg.magnetic_heading_deg is None:
        # A heading that can be flown by the model of the wind is told, with its north, rather than none.
        return f"{course(solved.true_heading_deg)} true"
    if leg.compass_heading_deg is not None:
        return f"{by_north(leg, course(leg.compass_heading_deg))} compass"
    return f"{by_north(leg, course(leg.magnetic_heading_deg))} magnetic"


def true_alone(leg: Leg) -> str:
    """The true heading, and why there is no magnetic one; empty where there is one, or none can be flown."""
    words = heading_text(leg)
    return (
        f"heading {words}, magnetic not known: {why_no_variation(leg)}"
        if words is not None and words.endswith("true")
        else ""
    )


def why_no_variation(leg: Leg) -> str:
    """What is missing for a direction by magnetic north."""
    guidance = leg.part.guidance
    if guidance is not None and guidance.station.true_referenced:
        return f"no position, no `variation`, and {guidance.station.ident} is aligned to true north"
    return "no position, no `variation` and no declination"


def course_to_set(guidance: Guidance) -> str:
    """The number on the course selector: `212`; of a true-referenced station `087T`."""
    inbound = guidance.flag is Flag.TO
    return set_course(guidance.radial.flown, inbound=inbound) + north_mark(guidance.station)


def north_mark(station: Station) -> str:
    """What stands behind a radial or course of a station: `T` where they count from true north."""
    return "T" if station.true_referenced else ""


def setting_text(guidance: Guidance) -> str:
    """The course to set, the flag and the station: `214 TO QEL`."""
    return f"{course_to_set(guidance)} {guidance.flag.value} {guidance.station.ident}"


def why_no_guidance(part: GuidedPart) -> str:
    """Why no station leads along a part of the way."""
    return part.reason or "no station serves this leg"


def no_signal(stretch: Stretch) -> str | None:
    """What is wrong with the signal along a stretch: `signal gap of 6 NM`, `unusable`; None where nothing is."""
    if stretch.service is Service.NORMAL:
        return None
    return stretch.service.value + (f" of {stated_distance(stretch.gap_nm)} NM" if stretch.gap_nm is not None else "")


def across_gap(leg: Leg, legs: Iterable[Leg]) -> Leg:
    """The longest leg of a leg's stretch: where a signal gap lies on it is not stated, and most likely it is there."""
    return max((one for one in legs if one.stretch is leg.stretch), key=lambda one: one.distance_nm, default=leg)


def gap_minutes(leg: Leg) -> str | None:
    """The minutes that a signal gap takes on a leg: `6.5`; None where length or speed is not known."""
    gap_nm = leg.stretch.gap_nm
    return (
        None if gap_nm is None or not leg.groundspeed_kt else tenths(half_up(gap_nm / leg.groundspeed_kt * 60.0, 0.1))
    )


def changeover_place(changeover: Changeover) -> str | None:
    """Where stations are changed: `11.0 NM from QHB`; None where it is not known."""
    if changeover.kind is ChangeoverKind.UNKNOWN:
        return None
    return place_text(changeover)


def crossing_kind(one: CrossingAltitude) -> str:
    """`MCA`, or `MTA` where it holds for a flight that turns."""
    return "MTA" if one.turning else "MCA"


def crossings(leg: Leg) -> tuple[str, ...]:
    """The altitudes at which a leg's start must be crossed: `cross QEL at 4500 ft or above (MCA)`."""
    return tuple(
        f"cross {leg.start.name} at {whole(one.altitude_ft)} ft or above ({crossing_kind(one)})"
        for one in (leg.stretch.limits.crossings_start if leg.start_nm == 0.0 else ())
    )


def lowest(limits: Limits) -> tuple[str, float | None]:
    """The minimum that a flight goes by, with its kind: the MEA, else what is stated for a direct leg, `min`.

    `terrain` is one computed where nothing is stated.
    """
    if limits.mea_ft is not None:
        return "MEA", limits.mea_ft
    return ("terrain" if limits.minimum_kind == "terrain" else "min"), limits.minimum_ft


def other_limits(leg: Leg) -> tuple[str, ...]:
    """The limits beside the minimum, once a stretch: `MOCA 2400`, `MAA 17500`."""
    limits = leg.stretch.limits
    named = (("MOCA", limits.moca_ft), ("MAA", limits.maa_ft), ("GNSS MEA", limits.gnss_mea_ft))
    return tuple(f"{name} {whole(value)}" for name, value in named if value is not None and leg.start_nm == 0.0)


def by_terrain(log: Log) -> bool:
    """Whether a leg of the flight, or of a way to an alternate, has a minimum by terrain."""
    legs = (leg for one in (log, *log.alternates) for leg in one.legs)
    return any(leg.stretch.limits.minimum_kind == "terrain" for leg in legs)
