"""The network made of the catalogue's airways: who guides each link, from which height, and what closes it.

A link is judged here as the resolver would fly it: by the stations at the two ends of its part of the airway, the
one behind up to the changeover point (published, at the one bend, or midway), each on the radial of the straight
part that adjoins it. Where another station's radial holds a link, that is not looked into; the log is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING, Generic, NamedTuple, TypeAlias, TypeVar

from navlog.catalogue.airway_queries import designators
from navlog.catalogue.airways import has_radials, is_vor
from navlog.catalogue.nearness import angle_between_deg, apart_nm, bearing_deg
from navlog.catalogue.network import NO_LIMIT_FT, Network
from navlog.nav.chart import Airway, Place, Position, Segment, Service, Station

if TYPE_CHECKING:
    from navlog.catalogue.queries import Catalogue

_Name = TypeVar("_Name")

_BEND_DEG = 6.0
"""As in the resolver: a geometric bend counts from 6 degrees."""

_OFF_NM, _OFF_SHARE = 0.5, 0.01
"""A published length that is farther off the positions is not flown; the longer of the two is."""

_ROUNDED_NM = 0.2
"""Changeover points and sectors are published in whole miles, lengths in hundredths, which add up."""

_DOUBTFUL = "guidance in doubt"
_SHUT_DOWN = "station shut down"


class _Link(NamedTuple):
    """One direction of a segment, points by number."""

    start: int
    end: int
    airway: int
    distance_nm: float
    mea_ft: float
    mca_ft: float
    maa_ft: float
    hears_ft: float
    closed: str
    behind: int
    ahead: int
    turns: tuple[tuple[str | None, float], ...]


_Point: TypeAlias = tuple[str, float, float]


class _Numbers(Generic[_Name]):
    """Names by number, in the order in which they first come up."""

    def __init__(self) -> None:
        self.names: dict[_Name, int] = {}

    def of(self, name: _Name) -> int:
        """The number of a name."""
        return self.names.setdefault(name, len(self.names))


class _Served(NamedTuple):
    """What one of the two stations of a part of an airway serves: from where to where along it, on which radial.

    `toward` is the neighbour that tells the radial where none is published; `at_nm` where along the part it stands.
    """

    place: int | None
    toward: int
    radial_deg: float | None
    at_nm: float
    from_nm: float
    to_nm: float


def build(catalogue: Catalogue, day: date) -> Network:
    """The network of every airway in force on `day` whose courses are radials."""
    points: _Numbers[_Point] = _Numbers()
    stations: _Numbers[str] = _Numbers()
    names: list[str] = []
    links: list[_Link] = []
    for ident in designators(catalogue, day):
        for airway in catalogue.airways(ident, day) if has_radials(ident) else ():
            links += _links(airway, len(names), points, stations)
            names.append(ident)
    links.sort(key=lambda link: link.start)
    leaving = [0] * (len(points.names) + 1)
    for link in links:
        leaving[link.start + 1] += 1
    toward = {(link.start, link.end): number for number, link in enumerate(links)}
    idents = [name[0] for name in points.names]
    return Network(
        points=tuple(idents),
        latitudes=tuple(name[1] for name in points.names),
        longitudes=tuple(name[2] for name in points.names),
        airways=tuple(names),
        stations=tuple(stations.names),
        first=tuple(accumulate(leaving)),
        start=tuple(link.start for link in links),
        end=tuple(link.end for link in links),
        airway=tuple(link.airway for link in links),
        distance_nm=tuple(link.distance_nm for link in links),
        mea_ft=tuple(link.mea_ft for link in links),
        mca_ft=tuple(link.mca_ft for link in links),
        maa_ft=tuple(link.maa_ft for link in links),
        hears_ft=tuple(link.hears_ft for link in links),
        # A closed link stays in, out of every altitude's reach, so that it can be named as what stands in the way.
        asked_ft=tuple(NO_LIMIT_FT if link.closed else max(link.mea_ft, link.mca_ft, link.hears_ft) for link in links),
        closed=tuple(link.closed for link in links),
        behind=tuple(link.behind for link in links),
        ahead=tuple(link.ahead for link in links),
        turns=tuple(_turns(links, idents, toward)),
    )


def _turns(
    links: Sequence[_Link], idents: Sequence[str], toward: dict[tuple[int, int], int]
) -> Iterator[tuple[int, int, float]]:
    neighbours: dict[int, list[int]] = {}
    for start, end in toward if any(link.turns for link in links) else ():
        neighbours.setdefault(start, []).append(end)
    for number, link in enumerate(links):
        for name, altitude_ft in link.turns:
            found = [point for point in neighbours[link.end] if idents[point] == name]
            yield from ((number, point, altitude_ft) for point in (found if name is not None else [-1]))


def _links(airway: Airway, number: int, points: _Numbers[_Point], stations: _Numbers[str]) -> Iterator[_Link]:
    """The links of one airway, both ways; none to or from a point of which nothing tells the place."""
    positions = _positions(airway)
    heard = _heard(airway, positions)
    guides = _guides(airway)
    for way in (airway, airway.reversed()):
        if way is not airway:
            positions, heard, guides = positions[::-1], heard[::-1], [one[::-1] for one in guides[::-1]]
        crossings = [one for segment in way.segments for one in segment.crossings]
        for index, segment in enumerate(way.segments):
            start, end = positions[index], positions[index + 1]
            # What crosses the border unpublished has neither length nor minimum: there is no link.
            if segment.service is Service.BORDER or start is None or end is None:
                continue
            mca_ft = max(
                (
                    one.altitude_ft
                    for one in crossings
                    if not one.turning and one.at == segment.start and one.toward in (segment.end, None)
                ),
                default=0.0,
            )
            turns = tuple(
                (one.toward, one.altitude_ft)
                for one in segment.crossings
                if one.turning and one.at == segment.end and one.coming_from in (segment.start, None)
            )
            behind, ahead = (one.ident if one is not None else None for one in guides[index])
            yield _Link(
                # By name and place: names come twice, and sources differ in the last decimals of one place.
                points.of((segment.start, round(start.latitude_deg, 6), round(start.longitude_deg, 6))),
                points.of((segment.end, round(end.latitude_deg, 6), round(end.longitude_deg, 6))),
                number,
                _length_nm(segment, start, end),
                segment.mea.forward_ft or 0.0,
                mca_ft,
                segment.maa.forward_ft or NO_LIMIT_FT,
                heard[index],
                _closed(segment, guides[index]),
                stations.of(behind) if behind is not None else -1,
                stations.of(ahead) if ahead is not None else -1,
                turns,
            )


def _length_nm(segment: Segment, start: Position, end: Position) -> float:
    """The published length where it fits the positions, else the longer of the two."""
    straight_nm = apart_nm(start, end)
    published_nm = segment.distance_nm
    if published_nm is None or abs(published_nm - straight_nm) > max(_OFF_NM, _OFF_SHARE * straight_nm):
        # As the log does: of two that contradict each other the longer is safe.
        return max(published_nm or 0.0, straight_nm)
    return published_nm


def _closed(segment: Segment, guides: Sequence[Station | None]) -> str:
    if segment.service is not Service.NORMAL:
        return segment.service.value
    if segment.mea.forward_ft is None:
        return Service.NO_MEA.value
    if segment.doubtful:
        return _DOUBTFUL
    if any(one is not None and not one.in_service for one in guides):
        return _SHUT_DOWN
    return ""


def _positions(airway: Airway) -> list[Position | None]:
    """Where each point is; one without a published place lies between its neighbours, by the published lengths."""
    found = [place.position if place is not None else None for place in airway.places]
    for index in range(1, len(found) - 1):
        before, after = found[index - 1], found[index + 1]
        if found[index] is None and before is not None and after is not None:
            one_nm, other_nm = airway.segments[index - 1].distance_nm, airway.segments[index].distance_nm
            if one_nm and other_nm and not airway.segments[index - 1].turn:
                share = one_nm / (one_nm + other_nm)
                found[index] = Position(
                    before.latitude_deg + share * (after.latitude_deg - before.latitude_deg),
                    before.longitude_deg + share * (after.longitude_deg - before.longitude_deg),
                )
    return found


def _vors(airway: Airway) -> list[int]:
    """The points that are VORs, by number."""
    return [index for index, place in enumerate(airway.places) if is_vor(place)]


def _guides(airway: Airway) -> list[tuple[Station | None, ...]]:
    """For each segment the first VOR behind it and the first ahead."""
    vors = _vors(airway)
    found: list[tuple[Station | None, ...]] = []
    for index in range(len(airway.segments)):
        behind = max((one for one in vors if one <= index), default=None)
        ahead = min((one for one in vors if one > index), default=None)
        found.append((_station(airway, behind), _station(airway, ahead)))
    return found


def _station(airway: Airway, index: int | None) -> Station | None:
    place: Place | None = airway.places[index] if index is not None else None
    return place if isinstance(place, Station) else None


def _heard(airway: Airway, positions: Sequence[Position | None]) -> list[float]:
    """For each segment the altitude from which its stations are usable on their radials along it, both ways alike."""
    lowest_ft = [0.0] * len(airway.segments)
    vors = _vors(airway)
    for behind, ahead in zip([None, *vors], [*vors, None], strict=True):
        low, high = behind or 0, ahead if ahead is not None else len(airway.segments)
        if low == high:
            continue
        along_nm = [0.0, *accumulate(segment.distance_nm or 0.0 for segment in airway.segments[low:high])]
        bends = [along_nm[one - low] for one in range(low + 1, high) if _bends(airway, positions, one)]
        cop_nm = _changeover_nm(airway, behind, ahead, along_nm, bends)
        total_nm = along_nm[-1]
        first, last = airway.segments[low], airway.segments[high - 1]
        served = (
            # Not beyond the first bend: from there the radial leads off the airway.
            _Served(behind, low + 1, first.start_radial_deg, 0.0, 0.0, min(cop_nm, *bends[:1], total_nm)),
            _Served(ahead, high - 1, last.end_radial_deg, total_nm, max(cop_nm, *bends[-1:], 0.0), total_nm),
        )
        for index, (from_nm, to_nm) in enumerate(pairwise(along_nm), low):
            segment = airway.segments[index]
            for one in served if segment.along is None else ():
                station = _station(airway, one.place)
                begin_nm, end_nm = max(from_nm, one.from_nm), min(to_nm, one.to_nm)
                if station is not None and begin_nm < end_nm:
                    radial_deg = one.radial_deg
                    if radial_deg is None:
                        radial_deg = _radial_deg(station, positions[one.toward])
                    # The farther end of what it serves: `beyond 30 NM` takes it away as soon as any of it is beyond.
                    reach_nm = max(abs(one.at_nm - begin_nm), abs(one.at_nm - end_nm))
                    asked_ft = _usable_from_ft(station, segment, radial_deg, reach_nm)
                    lowest_ft[index] = max(lowest_ft[index], asked_ft)
    return lowest_ft


def _bends(airway: Airway, positions: Sequence[Position | None], index: int) -> bool:
    before, here, after = positions[index - 1 : index + 2]
    if airway.segments[index - 1].turn or before is None or here is None or after is None:
        return airway.segments[index - 1].turn
    return angle_between_deg(bearing_deg(before, here), bearing_deg(here, after)) >= _BEND_DEG


def _changeover_nm(
    airway: Airway, behind: int | None, ahead: int | None, along_nm: Sequence[float], bends: Sequence[float]
) -> float:
    """How far along a part of the airway its stations change over; its end or start where it has one alone."""
    if behind is None or ahead is None:
        return along_nm[-1] if ahead is None else 0.0
    for segment in airway.segments[behind:ahead]:
        for one in segment.changeovers:
            if one.station == airway.points[behind]:
                return min(one.distance_nm, along_nm[-1])
            if one.station == airway.points[ahead]:
                return max(along_nm[-1] - one.distance_nm, 0.0)
    return bends[0] if len(bends) == 1 else along_nm[-1] / 2.0


def _radial_deg(station: Station, toward: Position | None) -> float | None:
    if station.position is None or toward is None or station.declination_deg is None:
        return None
    return (bearing_deg(station.position, toward) - station.declination_deg) % 360.0


def _usable_from_ft(station: Station, segment: Segment, radial_deg: float | None, reach_nm: float) -> float:
    """The altitude from which no published sector or remark takes a station away, as far out as `reach_nm`."""
    limits = [
        (sector.beyond_nm, sector.below_ft)
        for sector in station.unusable
        if sector.concerns("vor") and radial_deg is not None and sector.holds(radial_deg)
    ]
    limits += [(one.beyond_nm, one.below_ft) for one in segment.unusable if one.station == station.ident]
    # Where a segment or the changeover point ends at the sector the log tells which it is.
    beyond = (below_ft for beyond_nm, below_ft in limits if beyond_nm is None or reach_nm > beyond_nm + _ROUNDED_NM)
    return max((NO_LIMIT_FT if below_ft is None else below_ft for below_ft in beyond), default=0.0)
