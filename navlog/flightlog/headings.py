"""A heading in the words of rules and sheets, with what is known of its north."""

from __future__ import annotations

from navlog.flightlog.records import Leg
from navlog.nav.figures import BY_STATION_NORTH, course


def by_north(leg: Leg, text: str) -> str:
    """The figure, marked `~` where a station's declination stands in for the variation."""
    return BY_STATION_NORTH + text if leg.variation_source == "station" else text


def heading_text(leg: Leg) -> str | None:
    """The heading to hold in words: `214 magnetic`, `~214 magnetic` by station north, or `214 true`.

    True where magnetic north is not known; None where neither heading is known or the wind cannot be flown.
    """
    solved = leg.triangle
    if solved is None or solved.unflyable is not None or solved.true_heading_deg is None:
        return None
    if leg.magnetic_heading_deg is None:
        return f"{course(solved.true_heading_deg)} true"
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
