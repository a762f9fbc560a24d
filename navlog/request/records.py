"""What one flight asks for: the records that a route file's statements become once they are merged.

Nothing here is looked up yet: names are words with a place in the file. Unset figures are None.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import TYPE_CHECKING

from msgspec import Struct, field

from navlog.nav.accuracy import FAA, Accuracy
from navlog.nav.chart import Airport, Airway, Position, Segment, Station
from navlog.nav.problems import Problem, Span
from navlog.nav.units import Amount

if TYPE_CHECKING:
    from navlog.nav.receiver_check import Check


class Level(Struct, frozen=True):
    """A cruising level: feet above mean sea level, or of pressure altitude where `flight_level` is set."""

    altitude_ft: float
    flight_level: bool = False


class Name(Struct, frozen=True):
    """An identifier where it stands in the file."""

    ident: str
    span: Span


class Landing(Struct, frozen=True):
    """A stop on the way; `fuel` is on board at the next take-off, None where nothing is said."""

    stop_min: float = 0.0
    fuel: Amount | None = None


class RouteWord(Struct, frozen=True):
    """One word of the route line: a point, an airway or `DCT`; which of these, the resolver decides.

    `ident` is None for a bare position. `qualifier` is what stands after `:` ("vor", "fix" ...),
    `qualifier_position` a position there. `bearing_deg` and `distance_nm` belong to a point such as
    `QHB084021`. `tas_kt` and `level` change at the point. `over` and `landing` say what an airport
    inside a route is for.
    """

    text: str
    span: Span
    ident: str | None = None
    position: Position | None = None
    qualifier: str | None = None
    qualifier_position: Position | None = None
    bearing_deg: float | None = None
    distance_nm: float | None = None
    tas_kt: float | None = None
    level: Level | None = None
    over: bool = False
    landing: Landing | None = None

    @property
    def name(self) -> str:
        """What is named, without a change of speed and level: `QHB` of `QHB/A055`."""
        return self.text.partition("/")[0]


class FixDefinition(Struct, frozen=True):
    """A `fix` statement. `radials` are station, radial and, for a radial and distance, the distance.

    `dme_altitude_ft` is set where the distance is a DME reading taken at that altitude.
    """

    ident: str
    span: Span
    position: Position | None = None
    radials: tuple[tuple[Name, float], ...] = ()
    distance_nm: float | None = None
    dme_altitude_ft: float | None = None
    mra_ft: float | None = None


class AirwayDefinition(Struct, frozen=True):
    """An `airway` statement; `names[i]` is where `airway.points[i]` stands in the file.

    `changeovers[i]` is the station that `cop` names on segment `i`, `guides[i]` the one that `on` names,
    where they do.
    """

    airway: Airway
    names: tuple[Name, ...]
    changeovers: tuple[Name | None, ...] = ()
    guides: tuple[Name | None, ...] = ()


class DirectDefinition(Struct, frozen=True):
    """One pair of a `direct` statement; `changeover` is the station that `cop` names, `guide` that of `on`."""

    segment: Segment
    start: Name
    end: Name
    changeover: Name | None = None
    guide: Name | None = None


class StatedWind(Struct, frozen=True):
    """A wind as written: where it blows from, in degrees true or, with `magnetic`, magnetic.

    Without a height it holds at every height.
    """

    from_deg: float
    speed_kt: float
    magnetic: bool = False
    height_ft: float | None = None
    temperature_c: float | None = None


class WindStatement(Struct, frozen=True):
    """A `wind` statement; without a place it holds everywhere. `wind calm` is one level of 0 kt."""

    levels: tuple[StatedWind, ...]
    span: Span
    place: RouteWord | None = None


class FileReference(Struct, frozen=True):
    """A file that a statement names, relative to the route file's folder."""

    path: str
    span: Span


class AlternateRequest(Struct, frozen=True):
    """An `alternate` statement: the way in words, the airport last; `start` is the point of the route, if named."""

    words: tuple[RouteWord, ...]
    span: Span
    start: RouteWord | None = None
    level: Level | None = None


class HoldRequest(Struct, frozen=True):
    """A `hold` statement: minutes at a point, or a climb there to `until`; no distance."""

    point: RouteWord
    time_min: float
    span: Span
    until: Level | None = None


class Part(Struct, frozen=True):
    """A part of a flight by name: an airway, the way between two points, or what begins or ends at a point."""

    airway: Name | None = None
    between: tuple[Name, Name] | None = None
    at: Name | None = None

    @property
    def names(self) -> tuple[Name, ...]:
        """The names by which it is told."""
        return tuple(one for one in (self.airway, *(self.between or ()), self.at) if one is not None)

    @property
    def key(self) -> tuple[str, ...]:
        """What tells it from another part."""
        return ("at" if self.at is not None else "on", *(one.ident for one in self.names))


class Acceptance(Struct, frozen=True):
    """An `accept` statement: a rule silenced for this flight, or for a `part` of it, with its reason."""

    rule: str
    reason: str
    span: Span
    part: Part | None = None


class ReceiverCheck(Struct, frozen=True):
    """A `vor-check` statement: the record of 14 CFR 91.171(d), without its signature.

    `errors_deg` are indicated less expected, one a receiver, or the two receivers' difference of a dual check. `kind`
    is None where it is not said.
    """

    day: date
    place: str
    errors_deg: tuple[float, ...]
    span: Span
    kind: Check | None = None


class RadioFrequency(Struct, frozen=True):
    """A `radio` statement; the frequency is kept as written."""

    place: str
    name: str
    frequency_mhz: str
    span: Span


class Off(Struct, frozen=True):
    """Wheels off: the moment in UTC, and the zone's name where the file names one."""

    moment: datetime
    zone: str | None = None


class Equipment(Struct, frozen=True):
    """Receivers on board."""

    vor: int = 1
    dme: int = 0


class Definitions(Struct, frozen=True):
    """What the file itself defines, by name; `directs` by their two ends; `unavailable` are stations out of service.

    Of those the VOR alone is out where `dme_serves` has their name.
    """

    stations: Mapping[str, Station] = field(default_factory=dict)
    airports: Mapping[str, Airport] = field(default_factory=dict)
    fixes: Mapping[str, FixDefinition] = field(default_factory=dict)
    airways: Mapping[str, AirwayDefinition] = field(default_factory=dict)
    directs: Mapping[frozenset[str], DirectDefinition] = field(default_factory=dict)
    unavailable: Mapping[str, Name] = field(default_factory=dict)
    dme_serves: tuple[str, ...] = ()

    def __hash__(self) -> int:
        # What has a name tells two files apart nearly always, and tables cannot be hashed.
        return hash((frozenset(self.stations), frozenset(self.airways), frozenset(self.directs)))


class Request(Struct, frozen=True):
    """One flight as asked for, common part, own statements and overrides merged.

    `spans` gives the place of each statement that was given, by keyword; `line` is the flight's own line.
    `taxi`, `fuel`, `extra` and `burn` keep the unit they were written in. In a `pasted` route the one point that two
    airways share need not be named. `cruise_taken_over` marks the way to an alternate whose level is the flight's.
    """

    name: str
    file: str
    line: int
    digest: str
    day: date
    route: tuple[RouteWord, ...]
    cruise: Level
    definitions: Definitions = Definitions()
    off: Off | None = None
    rules: str = "vfr"
    daytime: str | None = None
    levels: str = "us"
    equipment: Equipment = Equipment()
    tas_kt: float | None = None
    burn: Amount | None = None
    aircraft: FileReference | None = None
    terrain: FileReference | None = None
    accuracy: Accuracy = FAA
    winds: tuple[WindStatement, ...] = ()
    bulletins: tuple[FileReference, ...] = ()
    notices: tuple[FileReference, ...] = ()
    fuel: Amount | None = None
    taxi: Amount | None = None
    taxi_min: float | None = None
    extra: Amount | None = None
    reserve_min: float | None = None
    contingency_percent: float | None = None
    variation_deg: float | None = None
    altimeter_hpa: float | None = None
    altimeter_unit: str = "hPa"
    temperature_c: float | None = None
    ceiling: Level | None = None
    pattern_ft: float | None = None
    alternates: tuple[AlternateRequest, ...] = ()
    holds: tuple[HoldRequest, ...] = ()
    accepted: tuple[Acceptance, ...] = ()
    receiver_check: ReceiverCheck | None = None
    radios: tuple[RadioFrequency, ...] = ()
    notes: tuple[str, ...] = ()
    pasted: bool = False
    cruise_taken_over: bool = False
    spans: Mapping[str, Span] = field(default_factory=dict)

    def __repr__(self) -> str:
        return f"<Request {self.name} of {self.file}, line {self.line}>"

    def __hash__(self) -> int:
        # The table of places in the file cannot be hashed, and the digest is of all that the file says.
        return hash((self.name, self.file, self.line, self.digest, self.day, self.route))


class BrokenFlight(Struct, frozen=True):
    """A flight that could not be read, with the reasons."""

    name: str
    file: str
    line: int
    problems: tuple[Problem, ...]


class FlightPlans(Struct, frozen=True):
    """Everything one route file holds: flights in file order, and problems of the common part.

    With problems in the common part `flights` is empty. `lines` are the file's own, for printing problems. `partial`
    tells that some of the file's flights are left out.
    """

    file: str
    lines: tuple[str, ...]
    flights: tuple[Request | BrokenFlight, ...]
    problems: tuple[Problem, ...] = ()
    partial: bool = False
