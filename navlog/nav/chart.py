"""The records of the chart: positions, stations, airports, fixes, airways and their segments.

Angles are degrees; latitude north, longitude east and declination east are positive. Radials are counted
from the station's own north. Records are frozen; fields hold tuples.
"""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from functools import cached_property, lru_cache
from math import isfinite
from typing import ClassVar, TypeAlias

from msgspec import Struct
from msgspec.structs import force_setattr

from navlog.nav.problems import Span, problem_error
from navlog.nav.record import changed
from navlog.nav.sectors import Sector, first_reaching


class Position(Struct, frozen=True, cache_hash=True, gc=False):
    """A place on the WGS84 ellipsoid; longitude is kept within -180 up to, not including, 180."""

    latitude_deg: float
    longitude_deg: float

    def __post_init__(self) -> None:
        if not (isfinite(self.latitude_deg) and -90.0 <= self.latitude_deg <= 90.0):
            raise problem_error("bad-position", f"latitude {self.latitude_deg:g} is not between -90 and 90 degrees")
        if not (isfinite(self.longitude_deg) and -360.0 <= self.longitude_deg <= 360.0):
            raise problem_error("bad-position", f"longitude {self.longitude_deg:g} is not between -180 and 180 degrees")
        if not -180.0 <= self.longitude_deg < 180.0:
            force_setattr(self, "longitude_deg", (self.longitude_deg + 180.0) % 360.0 - 180.0)


class Source(StrEnum):
    """Where a record comes from, in order of trust."""

    FILE = "file"
    NASR = "nasr"
    CIFP = "cifp"
    OURAIRPORTS = "ourairports"
    DOF = "dof"


class Provenance(Struct, frozen=True, cache_hash=True):
    """Where a record comes from; `expires` is the first day on which it no longer holds.

    `oldest` is the date of the oldest file where files of an earlier cycle were imported along with it, else None.
    """

    source: Source = Source.FILE
    cycle: str | None = None
    effective: date | None = None
    expires: date | None = None
    verified: bool = True
    oldest: date | None = None


_FROM_FILE = Provenance()


class StationKind(StrEnum):
    """What a station radiates; only a VOR guides."""

    VOR = "vor"
    DME = "dme"
    TACAN = "tacan"
    NDB = "ndb"
    VOT = "vot"
    MARKER = "marker"


STATION_KINDS = {
    "VOR": (StationKind.VOR, False),
    "VOR/DME": (StationKind.VOR, True),
    "VORTAC": (StationKind.VOR, True),
    "TACAN": (StationKind.TACAN, True),
    "DME": (StationKind.DME, True),
    "NDB": (StationKind.NDB, False),
    "NDB/DME": (StationKind.NDB, True),
    "MARINE NDB": (StationKind.NDB, False),
    "MARINE NDB/DME": (StationKind.NDB, True),
    "UHF/NDB": (StationKind.NDB, False),
    "VOT": (StationKind.VOT, False),
    "FAN MARKER": (StationKind.MARKER, False),
}
"""What the published station types are, and whether distance can be had there."""


class Station(Struct, frozen=True, cache_hash=True):
    """A radio aid. `declination_deg` is the angle from true north to its 360 radial, east positive.

    A true-referenced station has `true_referenced` set and a declination of 0. `frequency_mhz` is None for
    an NDB (see `frequency_khz`) and for a TACAN, which is known by its `channel`. `service` and
    `dme_service` are standard service volume classes (T, L, H, VL, VH; T, L, H, DL, DH).
    `dme` says that distance can be had there.
    """

    ident: str
    kind: StationKind
    position: Position | None = None
    frequency_mhz: float | None = None
    frequency_khz: float | None = None
    channel: str | None = None
    declination_deg: float | None = None
    declination_year: int | None = None
    true_referenced: bool = False
    service: str | None = None
    dme: bool = False
    dme_service: str | None = None
    elevation_ft: float | None = None
    unusable: tuple[Sector, ...] = ()
    name: str | None = None
    status: str | None = None
    remarks: tuple[str, ...] = ()
    published_kind: str | None = None
    region: str | None = None
    provenance: Provenance = _FROM_FILE
    span: Span | None = None

    @property
    def in_service(self) -> bool:
        """False where the published status is another than one of operation, such as SHUTDOWN."""
        return self.status is None or self.status.startswith("OPERATIONAL")

    def unusable_at(
        self, part: str, radial_deg: float | None, *, distance_nm: float | None, altitude_ft: float
    ) -> Sector | None:
        """The sector in which its part "vor" or "dme" is unusable on a radial, so far out and so high."""
        return first_reaching(self.sectors_on(part, radial_deg), distance_nm=distance_nm, altitude_ft=altitude_ft)

    def sectors_on(self, part: str, radial_deg: float | None) -> tuple[Sector, ...]:
        """The sectors of its part "vor" or "dme" that hold a radial: mostly none, of twenty that a station may have."""
        return tuple([one for one in self.unusable if one.concerns(part) and one.holds(radial_deg)])


class Airport(Struct, frozen=True, cache_hash=True):
    """A landing place. `ident` is the name asked for, the FAA one or its ICAO twin.

    `kind` is "airport", or what else the published data says ("heliport", "seaplane base" ...). `use` is "public" or
    "private", None where the data does not say.
    """

    ident: str
    position: Position
    elevation_ft: float | None = None
    name: str | None = None
    kind: str = "airport"
    status: str | None = None
    region: str | None = None
    provenance: Provenance = _FROM_FILE
    span: Span | None = None
    use: str | None = None


class Bearing(Struct, frozen=True):
    """How a fix lies from a station: on a radial, at a distance over the ground, or both.

    `station_kind` is the type of the aid as published ("VORTAC", "LOC" ...); None where only a name is stated.
    """

    station: str
    radial_deg: float | None = None
    distance_nm: float | None = None
    station_kind: str | None = None

    def is_from(self, station: Station) -> bool:
        """Whether it is taken from that station: a localizer, marker or beacon may have a VOR's identifier."""
        if self.station != station.ident:
            return False
        kind, _ = STATION_KINDS.get(self.station_kind or "", (None, False))
        return self.station_kind is None or kind is station.kind


class Fix(Struct, frozen=True, cache_hash=True):
    """A named point in the air. `makeup` holds the published or stated radials and distances.

    `computed` says that no position is published and this one follows from the make-up. A place in the air has no
    elevation.
    """

    elevation_ft: ClassVar[None] = None

    ident: str
    position: Position | None = None
    makeup: tuple[Bearing, ...] = ()
    mra_ft: float | None = None
    name: str | None = None
    region: str | None = None
    published: bool = False
    provenance: Provenance = _FROM_FILE
    span: Span | None = None
    computed: bool = False


Place: TypeAlias = Station | Airport | Fix


class BothWays(Struct, frozen=True):
    """An altitude in feet for a segment flown as written (`forward_ft`) and the other way."""

    forward_ft: float | None = None
    backward_ft: float | None = None

    def reversed(self) -> BothWays:
        """The same altitudes seen from the other end."""
        return self if self.forward_ft == self.backward_ft else BothWays(self.backward_ft, self.forward_ft)


NO_ALTITUDE = BothWays()


class CrossingAltitude(Struct, frozen=True):
    """A minimum altitude for crossing the point `at` when flying on toward the point `toward`.

    `turning` marks a minimum turning altitude (MTA) instead of an MCA, for a flight that arrives from the
    point `coming_from` and turns off `toward` another airway; `remark` is its published text. `toward` is
    None where the published direction leads to no neighbour that is known.
    """

    altitude_ft: float
    at: str
    toward: str | None
    turning: bool = False
    remark: str | None = None
    coming_from: str | None = None


class ChangeoverAt(Struct, frozen=True):
    """A published or stated changeover: `distance_nm` along the airway from `station`, toward `ahead`.

    `ahead` may be a station off the airway; `until` is then the point up to which it guides, where the
    chart says so. `measured` is the published distance and its station, where that is another one.
    """

    distance_nm: float
    station: str
    ahead: str | None = None
    until: str | None = None
    measured: tuple[float, str] | None = None


class Service(StrEnum):
    """What a segment's signal is good for."""

    NORMAL = "normal"
    SIGNAL_GAP = "signal gap"
    UNUSABLE = "unusable"
    GNSS_ONLY = "GNSS only"
    NO_MEA = "no MEA"
    DISCONTINUED = "discontinued"
    BORDER = "border"


class UnusableRadial(Struct, frozen=True):
    """A remark on an airway: a station's radial is not to be used beyond `beyond_nm` from it, below `below_ft` MSL.

    Without either it is unusable at any distance and height. `remark` is the published text.
    """

    station: str
    radial_deg: float | None = None
    beyond_nm: float | None = None
    below_ft: float | None = None
    remark: str | None = None


class Segment(Struct, frozen=True):
    """A piece of an airway, or a direct leg, between two neighbouring points, as written.

    `start_radial_deg` is the radial of `start` on which the segment leaves it and `end_radial_deg` the
    radial of `end` on which it is met; each only where that point is a station. `along` is another
    station's radial that holds the segment. `minimum` is a direct leg's stated minimum, `course` its stated
    course with its north ("M" or "T"). `turn` says that the way bends at the segment's end. `gap_nm` is the
    length of a signal gap where it is stated. `doubtful` says that a remark speaks of the guidance here and
    could not be read, so that no guidance can be trusted. `unusable` is what remarks on the same leg call
    unusable; `along_below_ft` limits `along` to flights below that altitude.
    `published_courses_deg` are an airway's courses there and back, by the north of some station.
    """

    start: str
    end: str
    distance_nm: float | None = None
    start_radial_deg: float | None = None
    end_radial_deg: float | None = None
    along: Bearing | None = None
    course: tuple[float, str] | None = None
    mea: BothWays = NO_ALTITUDE
    moca: BothWays = NO_ALTITUDE
    maa: BothWays = NO_ALTITUDE
    gnss_mea: BothWays = NO_ALTITUDE
    minimum: BothWays = NO_ALTITUDE
    minimum_source: str | None = None
    crossings: tuple[CrossingAltitude, ...] = ()
    changeovers: tuple[ChangeoverAt, ...] = ()
    turn: bool = False
    service: Service = Service.NORMAL
    gap_nm: float | None = None
    remarks: tuple[str, ...] = ()
    span: Span | None = None
    doubtful: bool = False
    unusable: tuple[UnusableRadial, ...] = ()
    along_below_ft: float | None = None
    published_courses_deg: tuple[float | None, float | None] = (None, None)

    @property
    def silent(self) -> str | None:
        """A station whose radial a remark calls unusable at every distance and height: it guides nothing here."""
        for one in self.unusable:
            if one.beyond_nm is None and one.below_ft is None:
                return one.station
        return None

    def reversed(self) -> Segment:
        """The same segment flown the other way (`turn` at the new end must be set from the airway)."""
        return changed(
            self,
            start=self.end,
            end=self.start,
            start_radial_deg=self.end_radial_deg,
            end_radial_deg=self.start_radial_deg,
            course=None if self.course is None else ((self.course[0] + 180.0) % 360.0, self.course[1]),
            mea=self.mea.reversed(),
            moca=self.moca.reversed(),
            maa=self.maa.reversed(),
            gnss_mea=self.gnss_mea.reversed(),
            minimum=self.minimum.reversed(),
            published_courses_deg=self.published_courses_deg[::-1],
            turn=False,
        )


class Airway(Struct, frozen=True, dict=True):
    """A chain of points; `segments[i]` joins `points[i]` and `points[i + 1]`.

    `places` holds the published record of each point where the catalogue knows one; a route file's airway
    leaves it empty and its points are looked up by name. `location` tells airways of one number apart
    (C contiguous United States, A Alaska, H Hawaii).
    """

    ident: str
    points: tuple[str, ...]
    segments: tuple[Segment, ...]
    places: tuple[Place | None, ...] = ()
    location: str | None = None
    remarks: tuple[str, ...] = ()
    provenance: Provenance = _FROM_FILE
    span: Span | None = None

    def __hash__(self) -> int:
        # Every segment would count otherwise, each time an airway is looked up in a cache.
        return hash((self.ident, self.location, self.points[:1]))

    def reversed(self) -> Airway:
        """The same airway from its last point to its first, with bends at the same points."""
        return _reversed(self)

    @cached_property
    def has_outage(self) -> bool:
        """Whether a station on it is published as out of service."""
        return any(isinstance(place, Station) and not place.in_service for place in self.places)


@lru_cache(maxsize=4_096)
def _reversed(airway: Airway) -> Airway:
    flipped = [segment.reversed() for segment in reversed(airway.segments)]
    bends = {segment.end for segment in airway.segments if segment.turn}
    return changed(
        airway,
        points=airway.points[::-1],
        places=airway.places[::-1],
        segments=tuple(changed(segment, turn=segment.end in bends) for segment in flipped),
    )
