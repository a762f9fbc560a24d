"""What may tell a point in flight: DME distances and radials, with all of them that does not depend on height."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from navlog.nav.chart import Position, Station, StationKind
from navlog.nav.guidance import Guidance, radial_deg, true_bearing_deg
from navlog.nav.problems import NavlogError
from navlog.request.records import Equipment
from navlog.resolve.lines import Line, line
from navlog.resolve.makeup import bearings_from
from navlog.resolve.route import Identification, MarkKind, Point, PointKind
from navlog.resolve.sections import StationFinder

FARTHEST_NM = 80.0
"""Beyond this a cross radial below 18,000 ft is not counted on (common practice, no source)."""

SAME_NM = 0.05
"""A published distance that prints as the position's is the position's; a farther one is of another place."""


def candidates(
    point: Point,
    guidance: Guidance | None,
    equipment: Equipment,
    find_station: StationFinder,
    known: Iterable[Station],
    silent: str | None = None,
) -> tuple[Identification, ...]:
    """All that may tell `point`, a fix or position, on `guidance`; nothing needs to tell another point.

    The DME of the station flown; the radials and DMEs of the fix's make-up, published or the file's own; and
    the radials of the flight's `known` stations within 80 NM. `silent` is a station whose radial here is
    published as unusable.
    """
    if point.kind not in (PointKind.FIX, PointKind.POSITION):
        return ()
    flown = guidance.station if guidance is not None else None
    stations = {flown.ident: flown} if flown is not None else {}
    for bearing in point.fix.makeup if point.fix is not None else ():
        station = None if bearing.station in stations else find_station(bearing.station, point.position)
        if station is not None:
            stations[station.ident] = station
    others = {one.ident: one for one in known}
    stations |= {ident: one for ident, one in others.items() if ident not in stations}
    found: list[Identification] = []
    for station in stations.values():
        if station.kind is StationKind.VOR:
            found.extend(of_station(point, station, equipment, flown=station is flown, known=station.ident in others))
    return tuple(one for one in found if one.kind is MarkKind.DME or one.station.ident != silent)


def of_station(
    point: Point, station: Station, equipment: Equipment, *, flown: bool, known: bool
) -> Iterator[Identification]:
    """What one station may tell of a point; it is `flown`, or `known` to the flight, or named by the make-up."""
    bearings = bearings_from(point.fix, station)
    made_deg = next((one.radial_deg for one in bearings if one.radial_deg is not None), None)
    made_nm = next((one.distance_nm for one in bearings if one.distance_nm is not None), None)
    published = point.fix is not None and point.fix.published
    seen = seen_from(station, point.position)
    radial = None if seen is None else radial_deg(station, seen.true_course.start_deg)
    away_nm = None if seen is None else seen.distance_nm
    # The file's own figures are flown as typed; of a published point the needle reads what its position makes.
    if radial is None or (made_deg is not None and not published):
        radial = made_deg
    if made_nm is not None and (away_nm is None or not published or abs(made_nm - away_nm) <= SAME_NM):
        away_nm = made_nm
    bearing_deg = None if seen is None else seen.true_course.end_deg
    if bearing_deg is None and radial is not None:
        bearing_deg = true_bearing_deg(station, radial)
    if equipment.dme > 0 and station.dme and away_nm is not None and (flown or made_nm is not None):
        yield Identification(
            station,
            MarkKind.DME,
            radial,
            away_nm,
            bearing_deg,
            published_nm=made_nm if published else None,
            published=published and made_nm is not None,
            named=True,
            flown=flown,
        )
    near = known and away_nm is not None and away_nm <= FARTHEST_NM
    if radial is not None and not flown and (near or made_deg is not None):
        yield Identification(
            station,
            MarkKind.RADIAL,
            radial,
            away_nm,
            bearing_deg,
            published_radial_deg=made_deg if published else None,
            published=published and made_deg is not None,
            named=made_deg is not None,
        )


def seen_from(station: Station, position: Position | None) -> Line | None:
    """The line from a station to a place; None where either is not known or they are one place."""
    if station.position is None or position is None:
        return None
    try:
        return line(station.position, position)
    except NavlogError:
        return None
