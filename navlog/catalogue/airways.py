"""Rows of an airway's points to its chain of segments, with altitudes by direction and its odd cases.

What the columns mean: the FAA's AWY_SEG_ALT layout, checked against positions (radials to 0.01 degrees on
every straight leg between two VORs).
"""

from __future__ import annotations

from typing import Any, NamedTuple

from navlog.catalogue.nearness import angle_between_deg, bearing_deg
from navlog.catalogue.records import number, text
from navlog.catalogue.schema import FORWARD
from navlog.nav.chart import (
    NO_ALTITUDE,
    BothWays,
    ChangeoverAt,
    CrossingAltitude,
    Place,
    Segment,
    Service,
    Station,
    StationKind,
)
from navlog.nav.record import changed

COMPASS_DEG = {"N": 0.0, "NE": 45.0, "E": 90.0, "SE": 135.0, "S": 180.0, "SW": 225.0, "W": 270.0, "NW": 315.0}


def has_radials(ident: str) -> bool:
    """True for an airway whose published courses are radials: a VOR Federal airway (V) or jet route (J).

    On every other route, area navigation (ICAO Annex 11, Appendix 1: L, M, N, P, Q, T, Y, Z) or not, the FAA's
    courses follow the variation of some day and may be 20 degrees off a station's radial.
    """
    return ident[:1] in ("V", "J") and ident[1:].isdigit()


def is_border(point: str) -> bool:
    """True for a border point (`U.S. CANADIAN BORDER-2`, once without the blank), which has no position."""
    return point.startswith("U.S.") and "BORDER" in point


class Chain(NamedTuple):
    """An airway's rows in order, the place of each, and the names of its points."""

    rows: tuple[dict[str, Any], ...]
    places: tuple[Place | None, ...]
    points: tuple[str, ...]

    def is_joined(self, index: int) -> bool:
        """True where point `index` goes on to the next row; a row may be missing between them."""
        return text(self.rows[index]["next"]) == self.points[index + 1] and not self.is_discontinued(index)

    def is_discontinued(self, index: int) -> bool:
        """True where the airway is published as discontinued after point `index`."""
        return text(self.rows[index]["discontinued"]) == "Y"

    def course_deg(self, index: int) -> float | None:
        """Roughly the course from point `index` to the next: published, else from the positions."""
        return self._course_deg(index, index + 1, "course")

    def opposite_course_deg(self, index: int) -> float | None:
        """Roughly the course to point `index` from the next."""
        return self._course_deg(index + 1, index, "opposite_course")

    def _course_deg(self, start: int, end: int, column: str) -> float | None:
        # Published courses are magnetic, those of positions true: near enough to tell compass words apart.
        published = number(self.rows[min(start, end)][column])
        if published is not None and self.is_joined(min(start, end)):
            return published
        first, last = self.places[start], self.places[end]
        if first is None or last is None or first.position is None or last.position is None:
            return None
        return bearing_deg(first.position, last.position)

    def neighbour(self, index: int, way: str, *, arriving: bool = False) -> int | None:
        """The neighbouring point that lies the way the compass word says; None where neither does.

        With `arriving`, the point that a flight in that direction comes from.
        """
        wanted = COMPASS_DEG.get(way.removesuffix(" BND").strip())
        if way == FORWARD:
            return index + 1 if index + 1 < len(self.points) else None
        if wanted is None:
            return None
        found: list[tuple[float, int]] = []
        if index > 0:
            course = self.course_deg(index - 1) if arriving else self.opposite_course_deg(index - 1)
            if course is not None:
                found.append((angle_between_deg(course, wanted), index - 1))
        if index + 1 < len(self.points):
            course = self.opposite_course_deg(index) if arriving else self.course_deg(index)
            if course is not None:
                found.append((angle_between_deg(course, wanted), index + 1))
        best = min(found, default=(180.0, 0))
        # `E BND` is half the compass; at a right angle neither neighbour lies that way.
        return best[1] if best[0] < 90.0 else None


def _both_ways(chain: Chain, index: int, columns: tuple[str, str, str, str]) -> BothWays:
    """Two altitudes, each with its compass word, in columns of a row, sorted by the direction of the row.

    The first is not always the direction of the row, so each word is compared with the course. Where no
    course tells, the higher altitude holds both ways.
    """
    row = chain.rows[index]
    altitude = number(row[columns[0]])
    if altitude is None:
        return NO_ALTITUDE
    way, other, other_way = text(row[columns[1]]), number(row[columns[2]]), text(row[columns[3]])
    if way is None and other is None:
        return BothWays(altitude, altitude)
    if way == FORWARD:
        return BothWays(altitude, other)
    words = [COMPASS_DEG.get(word.removesuffix(" BND").strip()) if word else None for word in (way, other_way)]
    known = [(deg, sign) for deg, sign in zip(words, (1, -1), strict=True) if deg is not None]
    course = chain.course_deg(index)
    if course is None or not known:
        # A minimum too high costs a climb, one too low a hill.
        highest = max(altitude, other or altitude)
        return BothWays(highest, highest)
    # Positive where the first word fits the row's direction better than its reciprocal.
    # Both words vote, since one of them alone may be square to the course.
    fit = sum(sign * (90.0 - angle_between_deg(deg, course)) for deg, sign in known)
    return BothWays(altitude, other) if fit >= 0.0 else BothWays(other, altitude)


def _service_of(chain: Chain, index: int) -> Service:
    """What the signal of a segment is good for, the gravest first."""
    row = chain.rows[index]
    # In order of gravity: what is discontinued may carry an MEA all the same.
    if not chain.is_joined(index):
        return Service.DISCONTINUED
    if is_border(chain.points[index]) or is_border(chain.points[index + 1]):
        return Service.BORDER
    gap = text(row["mea_gap"])
    if gap == "U":
        return Service.UNUSABLE
    if number(row["mea"]) is None:
        return Service.NO_MEA if number(row["gnss_mea"]) is None else Service.GNSS_ONLY
    if gap == "N":
        return Service.NO_MEA
    return Service.SIGNAL_GAP if text(row["signal_gap"]) == "Y" else Service.NORMAL


def segments(chain: Chain) -> list[Segment]:
    """The segments between neighbouring points, remarks not yet read."""
    made = [_segment(chain, index) for index in range(len(chain.points) - 1)]
    if not made:
        # An airway of one point leads nowhere, whatever stands on its row.
        return made
    _add_crossings(chain, made)
    if last := text(chain.rows[-1]["remark"]):
        # A remark on the last point has no segment of its own.
        made[-1] = changed(made[-1], remarks=(*made[-1].remarks, last))
    return made


def _segment(chain: Chain, index: int) -> Segment:
    row = chain.rows[index]
    service = _service_of(chain, index)
    start, end = chain.places[index], chain.places[index + 1]
    remark = text(row["remark"])
    remarks = (remark,) if remark else ()
    turn = text(chain.rows[index + 1]["dogleg"]) == "Y"
    if service is Service.DISCONTINUED:
        # Some such rows keep the course and distance of a geometry long removed.
        return Segment(chain.points[index], chain.points[index + 1], service=service, turn=turn, remarks=remarks)
    cop, cop_station = number(row["cop_distance"]), text(row["cop_station"])
    adrift = cop is not None and not isinstance(start, Station)
    if adrift:
        # Counted from a fix, it tells no station behind it: once, at SOARS on V39.
        remarks = (*remarks, f"COP {cop:g} NM FROM {chain.points[index]} TO {cop_station}")
    maa, moca, radials = number(row["maa"]), number(row["moca"]), has_radials(row["airway"])
    return Segment(
        chain.points[index],
        chain.points[index + 1],
        distance_nm=number(row["distance"]),
        # A course at a fix is the radial of the station behind it, given already with that station.
        start_radial_deg=number(row["course"]) if radials and is_vor(start) else None,
        end_radial_deg=number(row["opposite_course"]) if radials and is_vor(end) else None,
        mea=_both_ways(chain, index, ("mea", "mea_way", "mea_opposite", "mea_opposite_way")),
        # The FAA's files have one MOCA and one MAA a segment, for both ways (AWY_SEG_ALT layout).
        moca=BothWays(moca, moca) if moca is not None else NO_ALTITUDE,
        maa=BothWays(maa, maa) if maa is not None else NO_ALTITUDE,
        gnss_mea=_both_ways(chain, index, ("gnss_mea", "gnss_way", "gnss_opposite", "gnss_opposite_way")),
        changeovers=(ChangeoverAt(cop, chain.points[index], cop_station),) if cop is not None and not adrift else (),
        turn=turn,
        service=service,
        remarks=remarks,
        published_courses_deg=(number(row["course"]), number(row["opposite_course"])) if radials else (None, None),
    )


def is_vor(place: Place | None) -> bool:
    """True for a station that has radials and guides."""
    return isinstance(place, Station) and place.kind is StationKind.VOR


def _add_crossings(chain: Chain, made: list[Segment]) -> None:
    """MCAs stand on the first row of their stretch; each goes to the segment flown after the crossing.

    One at a point that is not on the airway can't be placed; it is told in words on the segment of its row.
    """
    places = {point: index for index, point in enumerate(chain.points)}
    for own, row in enumerate(chain.rows):
        for altitude_column, way_column in (("mca", "mca_way"), ("mca_opposite", "mca_opposite_way")):
            altitude = number(row[altitude_column])
            if altitude is None:
                continue
            way, point = text(row[way_column]) or "", text(row["mca_point"]) or text(row["point"])
            index = places.get(point or "")
            if index is not None:
                add_crossing(chain, made, index, altitude, way)
            else:
                beside = min(own, len(made) - 1)
                told = f"MCA {altitude:g} AT {point} {way}".rstrip()
                made[beside] = changed(made[beside], remarks=(*made[beside].remarks, told))


def add_crossing(
    chain: Chain, made: list[Segment], index: int, altitude_ft: float, way: str, remark: str | None = None
) -> None:
    """Add a minimum crossing altitude at point `index` for flights the way the compass word says.

    It stands on the segment toward that way; on one beside the point, toward nobody, where no way fits.
    """
    toward = chain.neighbour(index, way)
    crossing = CrossingAltitude(
        altitude_ft, chain.points[index], chain.points[toward] if toward is not None else None, remark=remark
    )
    # Of two neighbouring segments the one between the point and `toward`: it has the lower of their numbers.
    beside = min(index, len(made) - 1) if toward is None else min(index, toward)
    if crossing not in made[beside].crossings:
        made[beside] = changed(made[beside], crossings=(*made[beside].crossings, crossing))
