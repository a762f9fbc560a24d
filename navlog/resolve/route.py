"""The resolved route: points, and stretches with their guidance and limits.

No wind, clock or flown height is in it.
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import force_setattr

from navlog.nav.angles import difference_deg, normalize_deg
from navlog.nav.chart import (
    Airway,
    Bearing,
    CrossingAltitude,
    Fix,
    Place,
    Position,
    Provenance,
    Service,
    Source,
    Station,
)
from navlog.nav.guidance import Guidance, StatedDistance
from navlog.nav.lines import Along
from navlog.nav.magnetism import VariationAlong
from navlog.nav.problems import Span
from navlog.nav.sectors import Sector, first_reaching
from navlog.request.records import FileReference, Landing, Level, Request

if TYPE_CHECKING:
    from navlog.nav.clearance import Abeam
    from navlog.nav.notices import Notice
    from navlog.nav.receiver_check import Checkpoint
    from navlog.resolve.ground import Ground


class PointKind(StrEnum):
    """What a point of the log is."""

    STATION = "station"
    AIRPORT = "airport"
    FIX = "fix"
    POSITION = "position"
    CHANGEOVER = "changeover"
    TOP_OF_CLIMB = "top of climb"
    TOP_OF_DESCENT = "top of descent"
    LEVEL_CHANGE = "level change"


class Crossing(Struct, frozen=True):
    """How well a fix by two crossing radials is defined: the cut, and NM of error for 1 degree of bearing."""

    cut_deg: float
    error_nm_per_deg: float


class ModelBearing(Struct, frozen=True):
    """How a point lies from a place that has no radials: a magnetic bearing, by a model's variation there.

    The variation is that of the day, east positive; the distance is over the ground.
    """

    place: str
    magnetic_deg: float
    variation_deg: float
    distance_nm: float
    model: str

    @property
    def true_deg(self) -> float:
        """The bearing from true north."""
        return normalize_deg(self.magnetic_deg + self.variation_deg)


class Point(Struct, frozen=True):
    """A point of the route. `place` is the station, airport or fix it is; None for a bare position.

    `crossing` is set for a fix by two crossing radials, `bearing` for one by a bearing from a place other than a
    station. `landing` is set where the flight stops here.
    """

    kind: PointKind
    ident: str | None
    position: Position | None = None
    place: Place | None = None
    crossing: Crossing | None = None
    landing: Landing | None = None
    bearing: ModelBearing | None = None
    span: Span | None = None

    @property
    def station(self) -> Station | None:
        """The station this point is, if it is one."""
        return self.place if isinstance(self.place, Station) else None

    @property
    def fix(self) -> Fix | None:
        """The fix this point is, if it is one."""
        return self.place if isinstance(self.place, Fix) else None

    @property
    def definition(self) -> tuple[Bearing, ...]:
        """The radials and distances by which the route file itself defines the fix; none of anything else."""
        fix = self.fix
        return fix.makeup if fix is not None and fix.provenance.source is Source.FILE else ()

    def defined_radial_deg(self, station: Station) -> float | None:
        """The radial of a station on which the route file defines the fix; None where it names no such radial."""
        named = (one.radial_deg for one in self.definition if one.is_from(station))
        return next((radial for radial in named if radial is not None), None)

    @property
    def name(self) -> str:
        """The identifier, or the position in words for a bare position."""
        if self.ident is not None:
            return self.ident
        if self.position is None:
            return self.kind.value
        from navlog.nav.angles import icao_position_text

        return icao_position_text(self.position)


class ChangeoverKind(StrEnum):
    """How a changeover point was found."""

    PUBLISHED = "published"
    STATED = "stated"
    TURN = "turn"
    MIDPOINT = "midpoint"
    RECEPTION = "reception"
    UNKNOWN = "unknown"


class Changeover(Struct, frozen=True, gc=False):
    """Where to change stations: NM along the path from the station behind and to the one ahead.

    `stated` holds every distance that chart or file give, as (distance, station); `unclassed` names the
    stations without a service class, whose range off airways is not known. `not_in_source` says that what
    the airway is read from carries no changeover points, so that this one is convention alone.
    """

    kind: ChangeoverKind
    behind: Station
    ahead: Station
    distance_nm: float
    distance_ahead_nm: float
    stated: tuple[tuple[float, str], ...] = ()
    unclassed: tuple[str, ...] = ()
    not_in_source: bool = False


class Facing(Struct, frozen=True, gc=False):
    """What holds the two ends of the way from one station to the next, and at how many points it bends between."""

    outbound: Guidance
    inbound: Guidance
    bends: int


class GuidedPart(Struct, frozen=True, gc=False):
    """A part of a stretch on one guidance, from `start_nm` to `end_nm` along the stretch.

    `guidance` is None where no station serves it, and `reason` then says why. `changeover` is set on the
    part that ends at the changeover point. `facing` is set where the part lies between two guiding stations.
    `past_changeover` says that the station guides past its changeover point with one that is out of service, as far as
    it is received: no MEA assures that.
    """

    start_nm: float
    end_nm: float
    guidance: Guidance | None
    reason: str | None = None
    changeover: Changeover | None = None
    facing: Facing | None = None
    past_changeover: bool = False


class Limits(Struct, frozen=True, gc=False):
    """Altitude limits in the direction of flight, feet; None where nothing is published or stated.

    `minimum_ft` is a direct leg's stated minimum, or the one by terrain that stands in its place where
    `minimum_kind` is "terrain". `crossings_start` are those for crossing the start
    towards this stretch. `published_mea_ft` and `published_moca_ft` are set where the file's own airway states less
    than is published: lower ones, or no MEA.
    """

    mea_ft: float | None = None
    moca_ft: float | None = None
    maa_ft: float | None = None
    gnss_mea_ft: float | None = None
    minimum_ft: float | None = None
    minimum_source: str | None = None
    crossings_start: tuple[CrossingAltitude, ...] = ()
    mra_end_ft: float | None = None
    minimum_kind: str = "stated"
    published_mea_ft: float | None = None
    published_moca_ft: float | None = None

    @property
    def least_ft(self) -> float | None:
        """The MEA, or a MOCA over it; without an MEA the minimum stated or by terrain."""
        return self.minimum_ft if self.mea_ft is None else max(self.mea_ft, self.moca_ft or self.mea_ft)


_MAKEUP_DIFFERS_DEG = 1.0
"""A published radial farther off is of before its station's last alignment, or of another position (FAA NASR
2026-05-14: 99 in 100 of 17,988 lie within 1 degree)."""


class MarkKind(StrEnum):
    """What tells a point in flight: the needle that centres on a radial, or the reading of a DME."""

    RADIAL = "radial"
    DME = "dme"


class Identification(Struct, frozen=True, gc=False):
    """A way in which a point may be told in flight: by a station's radial, or by the distance from its DME.

    `radial_deg` is the station's radial on which the point lies, by its position and the station's declination
    where these are known, else as the make-up has it; `published_radial_deg` and `published_nm` are a published
    make-up's own figures. `away_nm` is the distance over the ground and `bearing_deg` the true direction of the
    line from the station where it passes the point; each is None where it is not known. `published` says that
    a published make-up names it, which was checked in flight; `named` that a make-up does, published or the
    file's own, or that it is a DME at hand; `flown` that its station guides there. `unusable` are the sectors of the
    station on that radial in which what tells is unusable, found once for all flights.
    """

    station: Station
    kind: MarkKind
    radial_deg: float | None = None
    away_nm: float | None = None
    bearing_deg: float | None = None
    published_radial_deg: float | None = None
    published_nm: float | None = None
    published: bool = False
    named: bool = False
    flown: bool = False
    unusable: tuple[Sector, ...] = ()

    def __post_init__(self) -> None:
        if self.station.unusable:
            part = "dme" if self.kind is MarkKind.DME else "vor"
            force_setattr(self, "unusable", self.station.sectors_on(part, self.radial_deg))

    def unusable_at(self, altitude_ft: float) -> Sector | None:
        """The sector in which it is unusable at a height."""
        return first_reaching(self.unusable, distance_nm=self.away_nm, altitude_ft=altitude_ft)

    @property
    def makeup_differs(self) -> bool:
        """Whether the published radial is more than 1 degree from the one on which the point lies."""
        if self.published_radial_deg is None or self.radial_deg is None:
            return False
        return abs(difference_deg(self.published_radial_deg, self.radial_deg)) > _MAKEUP_DIFFERS_DEG


class Stretch(Struct, frozen=True):
    """The way between two points of the route.

    `length_nm` is the distance flown. `true_course` is the geodesic's where both positions are known;
    `course_source` says where it comes from ("geodesic", "station north", "stated", "unknown"). `variation`
    is the model's, the file's or the station's (`variation_source` "model", "file", "station", "unknown").
    `turn_deg` is the change of true course at the end, right positive; None at the last point and where the
    flight lands. `airway` is None on a direct stretch; `joins` names airways that would join the two points.
    `ground` is what lies below a direct stretch where a terrain folder is named, `abeam` what lies below and beside
    each piece of any.
    `candidates` are what may tell the end in flight, None where it tells itself or is seen; which of them do is chosen
    for the height flown there.
    `notices` are what notices that count say of it, in words.
    """

    number: int
    start: Point
    end: Point
    via: str
    distance: StatedDistance
    length_nm: float
    parts: tuple[GuidedPart, ...]
    limits: Limits
    level: Level
    tas_kt: float | None
    true_course: Along | None
    course_source: str
    variation: Along | VariationAlong | None
    variation_source: str
    turn_deg: float | None = None
    candidates: tuple[Identification, ...] | None = None
    stated_course: tuple[float, str] | None = None
    airway: Airway | None = None
    service: Service = Service.NORMAL
    gap_nm: float | None = None
    remarks: tuple[str, ...] = ()
    joins: tuple[str, ...] = ()
    span: Span | None = None
    ground: Ground | None = None
    abeam: tuple[Abeam, ...] = ()
    notices: tuple[str, ...] = ()


class NoticeUse(Struct, frozen=True):
    """A notice about something of the flight, and whether it `counts` at the flight's hours.

    `stretches` are the numbers of those of the route, or of the way to an alternate, that it is about, `names` what of
    the flight it names or may mean, `guessed` those of them that it does not name itself. `planned_on` are the
    stretches that are planned with it, whether it is about them or not, and `late` those that use what it is about at
    its end or after, or at hours that are not known. It is `near` where it is in force at no use itself, so that what
    counts of it does so by the half hour around them alone.
    """

    notice: Notice
    counts: bool
    stretches: tuple[int, ...] = ()
    names: tuple[str, ...] = ()
    planned_on: tuple[int, ...] = ()
    late: tuple[int, ...] = ()
    near: bool = False
    guessed: tuple[str, ...] = ()

    @property
    def stretches_counting(self) -> tuple[int, ...]:
        """The stretches that it is about and that are planned with it."""
        return tuple(number for number in self.stretches if number in self.planned_on)


class Namesake(Struct, frozen=True):
    """A VOR that has the name of the airport at which the route line's first or last word begins or ends the flight."""

    airport: str
    station: Station
    apart_nm: float | None
    span: Span


class Route(Struct, frozen=True):
    """Everything of a flight that does not depend on wind, clock or height.

    `sources` are the published ones of which it or an alternate uses something. `differs` says what the file
    defines otherwise than the catalogue. `wind_places` are the places of the request's `wind` statements, None
    where one holds everywhere. `checkpoints` are the published ones for VOR receivers nearest to where the flight
    takes off, looked for under IFR and where a check is stated. `notices` are those about something of
    the flight, of `notices_read` in all; `notices_empty` are the files handed in that hold none.
    """

    request: Request
    points: tuple[Point, ...]
    stretches: tuple[Stretch, ...]
    alternates: tuple[Route, ...] = ()
    sources: tuple[Provenance, ...] = ()
    magnetic_model: str | None = None
    differs: tuple[str, ...] = ()
    unavailable: tuple[Station, ...] = ()
    wind_places: tuple[Position | None, ...] = ()
    checkpoints: tuple[Checkpoint, ...] = ()
    namesakes: tuple[Namesake, ...] = ()
    notices: tuple[NoticeUse, ...] = ()
    notices_read: int = 0
    notices_empty: tuple[FileReference, ...] = ()

    def __repr__(self) -> str:
        return f"<Route {self.request.name}: {' '.join(point.name for point in self.points)}>"
