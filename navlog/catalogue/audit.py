"""Published airways against their own positions: courses, lengths, changeover points, discontinued parts.

A leg is a straight run between turning points (a station, a fix where the airway bends), and all its rows
carry the same two courses. At a VOR a course is that station's radial; at the leg's other end, where that is
a fix, it is counted from the same station's north (found on every such leg of FAA NASR AWY_SEG_ALT). Radials
and distances are measured as the log measures them, by `navlog.nav.guidance`.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.catalogue.airway_queries import airways_with_rows
from navlog.catalogue.airways import has_radials, is_vor
from navlog.catalogue.changeover_audit import changeovers_of, compare_changeovers, compare_pairs
from navlog.catalogue.comparisons import BROKEN, Checked, FigureComparison, measured
from navlog.catalogue.records import number, text
from navlog.nav import earth
from navlog.nav.chart import Airway, Fix, Place, Provenance, Segment, Service, Station
from navlog.nav.guidance import StatedDistance, StatedRadial, radial_deg, radial_toward

if TYPE_CHECKING:
    from collections.abc import Sequence
    from sqlite3 import Row

    from navlog.catalogue.opened import Opened


class AuditLimits(Struct, frozen=True):
    """From how much on a difference counts.

    A course or a length is out beyond its limit, two figures for one changeover point from theirs on.
    Published courses agree within 0.01 degrees and lengths within 0.05 NM where nothing is wrong; changeover
    points are whole miles.
    """

    course_deg: float = 0.1
    length_nm: float = 0.1
    changeover_nm: float = 1.0


class Tally(Struct, frozen=True):
    """How many figures of one kind were compared, and which of them disagree."""

    checked: Checked
    compared: int
    disagreeing: tuple[FigureComparison, ...]


class Audit(Struct, frozen=True):
    """What an audit of `airways` airways found, one tally for each kind of figure.

    `unmeasured` counts segments without two positions and a length, the discontinued ones left out.
    """

    sources: tuple[Provenance, ...]
    limits: AuditLimits
    airways: int
    legs: int
    segments: int
    unmeasured: int
    tallies: tuple[Tally, ...]

    @property
    def disagreements(self) -> int:
        """How many figures disagree."""
        return sum(len(tally.disagreeing) for tally in self.tallies)


class _Leg(Struct, frozen=True):
    """A straight run of an airway, with the rows of its points but for the last."""

    airway: Airway
    segments: tuple[Segment, ...]
    places: tuple[Place | None, ...]
    rows: tuple[Row, ...]

    @property
    def start(self) -> Place | None:
        """The place where the leg begins."""
        return self.places[0]

    @property
    def end(self) -> Place | None:
        """The place where the leg ends."""
        return self.places[-1]


def audit(catalogue: Opened, idents: Sequence[str], day: date, limits: AuditLimits) -> Audit:
    """The airways of these designators as they hold on `day`, every figure measured again."""
    told = [one for found in airways_with_rows(catalogue, idents, day).values() for one in found]
    airways = [airway for airway, _ in told]
    legs = [leg for airway, rows in told for leg in _legs_of(airway, rows)]
    changeovers = [one for airway in airways for one in changeovers_of(catalogue, airway, day)]
    lengths = [one for leg in legs for one in _compare_lengths(leg, limits)]
    segments = sum(len(leg.segments) for leg in legs)
    border = sum(segment.service is Service.BORDER for airway in airways for segment in airway.segments)
    found = {
        Checked.RADIAL: [one for leg in legs for one in _compare_radials(leg)],
        Checked.COURSE: [one for leg in legs for one in _compare_courses_at_fixes(leg)],
        Checked.LENGTH: lengths,
        Checked.CHANGEOVER: compare_changeovers(changeovers),
        Checked.PAIR: compare_pairs(changeovers),
        Checked.GAP: [one for airway, rows in told for one in _figures_in_gaps(airway, rows)],
    }
    return Audit(
        catalogue.sources(day),
        limits,
        len(airways),
        len(legs),
        segments + border,
        segments + border - len(lengths),
        tuple(
            Tally(checked, len(all_of), tuple(one for one in all_of if _disagrees(one, limits)))
            for checked, all_of in found.items()
        ),
    )


def _disagrees(one: FigureComparison, limits: AuditLimits) -> bool:
    """Whether a difference counts. What a discontinued part keeps always does."""
    if one.checked is Checked.GAP:
        return True
    if one.difference is None:
        return False
    # Only beyond the far station it is wrong; nearer than the middle it may well be meant.
    if one.checked is Checked.CHANGEOVER:
        return one.difference > 0.0
    off = abs(one.difference)
    if one.checked is Checked.PAIR:
        return off >= limits.changeover_nm
    return off > (limits.length_nm if one.checked is Checked.LENGTH else limits.course_deg)


def _legs_of(airway: Airway, rows: tuple[Row, ...]) -> Iterator[_Leg]:
    """The straight runs of an airway, where it is unbroken."""
    start = 0
    for index, segment in enumerate(airway.segments):
        following = index + 1
        if segment.service in BROKEN:
            start = following
            continue
        ends = (
            segment.turn
            or isinstance(airway.places[following], Station)
            or following == len(airway.segments)
            or airway.segments[following].service in BROKEN
            # A bend without a mark still changes the courses, which all rows of one straight leg share.
            or _courses(rows[index]) != _courses(rows[following])
        )
        if ends:
            yield _Leg(
                airway,
                airway.segments[start:following],
                airway.places[start : following + 1],
                rows[start:following],
            )
            start = following


def _courses(row: Row) -> tuple[float | None, float | None]:
    """The two published courses of a row."""
    return number(row["course"]), number(row["opposite_course"])


def _compare_radials(leg: _Leg) -> Iterator[FigureComparison]:
    """The radials of the stations at the two ends."""
    if not has_radials(leg.airway.ident):
        return
    ends = ((leg.start, leg.end, leg.rows[0]["course"]), (leg.end, leg.start, leg.rows[-1]["opposite_course"]))
    for place, other, column in ends:
        published = number(column)
        if published is None or not isinstance(place, Station) or not is_vor(place) or other is None:
            continue
        radial = StatedRadial(published, radial_toward(place, other.position))
        if radial.difference is not None:
            yield _compared(leg, Checked.RADIAL, place.ident, radial)


def _compare_courses_at_fixes(leg: _Leg) -> Iterator[FigureComparison]:
    """The course at a fix toward the station at the leg's other end, counted from that station's north."""
    if not has_radials(leg.airway.ident):
        return
    ends = ((leg.start, leg.end, leg.rows[0]["course"]), (leg.end, leg.start, leg.rows[-1]["opposite_course"]))
    for fix, station, column in ends:
        published = number(column)
        if published is None or not isinstance(fix, Fix) or not isinstance(station, Station) or not is_vor(station):
            continue
        if fix.position is None or station.position is None:
            continue
        toward_deg = earth.inverse(fix.position, station.position).course_deg
        course = StatedRadial(published, radial_deg(station, toward_deg))
        if course.difference is not None:
            yield _compared(leg, Checked.COURSE, fix.ident, course)


def _compared(leg: _Leg, checked: Checked, at: str, radial: StatedRadial) -> FigureComparison:
    """A radial or course of a leg as published and as computed."""
    assert radial.charted is not None
    return FigureComparison(
        checked,
        leg.airway.ident,
        leg.airway.location,
        leg.segments[0].start,
        leg.segments[-1].end,
        at,
        radial.charted,
        radial.computed,
        radial.difference,
    )


def _compare_lengths(leg: _Leg, limits: AuditLimits) -> list[FigureComparison]:
    """The length of each segment of a leg; where the whole leg agrees, a fix stands elsewhere along it."""
    found = []
    for segment, start, end in zip(leg.segments, leg.places, leg.places[1:], strict=False):
        length = measured(segment, start, end)
        if length.charted is not None and length.computed is not None:
            found.append((segment, length))
    whole_nm = sum(length.difference or 0.0 for _, length in found)
    # The leg's length is measured between its ends: a fix published elsewhere along it moves two parts, not the sum.
    agrees = len(found) > 1 and len(found) == len(leg.segments) and abs(whole_nm) <= limits.length_nm
    ends = f"{leg.segments[0].start}-{leg.segments[-1].end}"
    return [
        FigureComparison(
            Checked.LENGTH,
            leg.airway.ident,
            leg.airway.location,
            segment.start,
            segment.end,
            segment.start,
            length.charted or 0.0,
            length.computed,
            length.difference,
            f"{ends} as a whole agrees" if agrees else None,
        )
        for segment, length in found
    ]


def _figures_in_gaps(airway: Airway, rows: tuple[Row, ...]) -> Iterator[FigureComparison]:
    """The courses that discontinued parts of an airway keep, of a geometry long removed.

    What they would be today is known only where a station stands at the part's beginning.
    """
    for index, row in enumerate(rows):
        published = number(row["course"])
        if text(row["discontinued"]) != "Y" or published is None:
            continue
        onward = text(row["next"])
        here, there = airway.places[index], airway.places[index + 1] if onward and index + 1 < len(rows) else None
        computed = None
        if isinstance(here, Station) and there is not None and has_radials(airway.ident):
            computed = radial_toward(here, there.position)
        yield FigureComparison(
            Checked.GAP,
            airway.ident,
            airway.location,
            row["point"],
            onward or "nowhere",
            row["point"],
            published,
            computed,
            StatedRadial(published, computed).difference,
            _length_in_gap(measured(Segment(row["point"], onward or "", number(row["distance"])), here, there)),
        )


def _length_in_gap(length: StatedDistance) -> str | None:
    """What a discontinued part says of its length, and how far its points are apart."""
    if length.charted is None:
        return None
    apart = f", {length.computed:.2f} NM apart" if length.computed is not None else ""
    return f"length {length.charted:.2f} NM{apart}"
