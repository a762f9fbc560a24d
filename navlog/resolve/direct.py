"""Guidance off airways: the changeover must lie inside both stations' service volumes (AIM 1-1-8)."""

from __future__ import annotations

from itertools import product

from navlog.nav.angles import difference_deg
from navlog.nav.chart import Station
from navlog.nav.guidance import Flag, Guidance, StatedRadial
from navlog.nav.record import changed
from navlog.resolve.makeup import bearings_from
from navlog.resolve.route import Changeover, ChangeoverKind, GuidedPart, Point, PointKind
from navlog.resolve.sections import Section
from navlog.resolve.told import guide

_AT_STATION_NM = 1.0
"""An airport this near its station has no set course: the needle swings in the cone."""

_SAME_RADIAL_DEG = 0.5
"""Two fixes of one station lie on one radial when theirs print the same."""


def guide_direct(section: Section, altitude_ft: float) -> tuple[GuidedPart, ...]:
    """The parts of one direct leg flown at an altitude."""
    start, end = section.points
    length_nm = section.lengths_nm[0]
    station = section.behind or section.ahead
    if station is not None and length_nm <= _AT_STATION_NM and PointKind.AIRPORT in (start.kind, end.kind):
        flag = Flag.FROM if section.behind is not None else Flag.TO
        return (GuidedPart(0.0, length_nm, Guidance(station, StatedRadial(), flag)),)
    if station is None:
        return _on_one_radial(section) or guide(section)[0]
    parts = guide(section)[0]
    changeover = next((part.changeover for part in parts if part.changeover is not None), None)
    # A point that is stated or at a turn is the pilot's or the chart's; the convention alone gives way to reception.
    if changeover is None or changeover.kind is not ChangeoverKind.MIDPOINT:
        return parts
    return _within_volumes(parts, changeover, length_nm, altitude_ft)


def _within_volumes(
    parts: tuple[GuidedPart, ...], changeover: Changeover, length_nm: float, altitude_ft: float
) -> tuple[GuidedPart, ...]:
    """The parts with the midpoint moved to where both stations are in range, or with a gap between them.

    A station without a class has no known volume: the point then stays at the middle and says so.
    """
    behind_nm = _service_nm(changeover.behind, altitude_ft)
    ahead_nm = _service_nm(changeover.ahead, altitude_ft)
    if behind_nm is None or ahead_nm is None:
        unclassed = tuple(
            station.ident
            for station, known in ((changeover.behind, behind_nm), (changeover.ahead, ahead_nm))
            if known is None
        )
        noted = changed(changeover, unclassed=unclassed)
        return tuple(changed(part, changeover=noted) if part.changeover else part for part in parts)
    outbound = next(part for part in parts if part.changeover)
    inbound = parts[-1]
    # The window in which both are heard: from where the one ahead begins to where the one behind ends.
    earliest_nm, latest_nm = max(0.0, length_nm - ahead_nm), min(behind_nm, length_nm)
    if earliest_nm > latest_nm:
        return _nonempty(
            changed(outbound, end_nm=latest_nm, changeover=None),
            GuidedPart(latest_nm, earliest_nm, None, "outside the service volumes of both stations"),
            changed(inbound, start_nm=earliest_nm),
        )
    # As near to the middle as the window lets it: the convention gives way only as far as reception asks.
    at_nm = min(max(changeover.distance_nm, earliest_nm), latest_nm)
    if at_nm == changeover.distance_nm:
        return parts
    moved = changed(changeover, kind=ChangeoverKind.RECEPTION, distance_nm=at_nm, distance_ahead_nm=length_nm - at_nm)
    return _nonempty(changed(outbound, end_nm=at_nm, changeover=moved), changed(inbound, start_nm=at_nm))


def _nonempty(*parts: GuidedPart) -> tuple[GuidedPart, ...]:
    """The parts that have a length."""
    return tuple(part for part in parts if part.end_nm > part.start_nm)


def _service_nm(station: Station, altitude_ft: float) -> float | None:
    """How far a station's service volume reaches at an altitude; None where its class or elevation is unknown."""
    from navlog.nav.radio import service_radius_nm

    if station.service is None or station.elevation_ft is None:
        return None
    return service_radius_nm(station.service, altitude_ft - station.elevation_ft)


def _on_one_radial(section: Section) -> tuple[GuidedPart, ...] | None:
    """Guidance between two fixes that lie on the same radial of one station; None where they do not."""
    start, end = section.points
    for ident in dict.fromkeys(bearing.station for bearing in start.fix.makeup) if start.fix is not None else ():
        station = section.find_station(ident, start.position)
        if station is None or station.declination_deg is None:
            continue
        for (one_deg, one_nm), (other_deg, other_nm) in product(_polar(start, station), _polar(end, station)):
            # Equal distances leave no way to go along the radial, and no flag.
            if one_nm == other_nm or abs(difference_deg(one_deg, other_deg)) > _SAME_RADIAL_DEG:
                continue
            flag = Flag.FROM if other_nm > one_nm else Flag.TO
            radial = StatedRadial(other_deg if flag is Flag.FROM else one_deg, None)
            return (GuidedPart(0.0, section.lengths_nm[0], Guidance(station, radial, flag)),)
    return None


def _polar(point: Point, station: Station) -> tuple[tuple[float, float], ...]:
    """The (radial, distance) pairs from a station by which a fix is defined."""
    return tuple(
        (bearing.radial_deg, bearing.distance_nm)
        for bearing in bearings_from(point.fix, station)
        if bearing.radial_deg is not None and bearing.distance_nm is not None
    )
