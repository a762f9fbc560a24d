"""The computed log of one flight: legs, fuel and totals, with the reason for every unknown number."""

from __future__ import annotations

from datetime import date, datetime
from enum import StrEnum
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.nav.chart import Position, Station
from navlog.nav.problems import Span
from navlog.nav.wind import Triangle, Wind, WindColumn
from navlog.resolve.route import Changeover, GuidedPart, Identification, MarkKind, Point, PointKind, Route, Stretch

if TYPE_CHECKING:
    from navlog.flightlog.marks import OtherSetting
    from navlog.request.aircraft import Aircraft


class Phase(StrEnum):
    """The phase of flight of a leg.

    LOSING is height that is left at an airport, lost before the landing in a way that is not told.
    """

    CLIMB = "climb"
    CRUISE = "cruise"
    DESCENT = "descent"
    HOLD = "hold"
    LOSING = "height to lose"


STAYING = _HOLD, _LOSING = (Phase.HOLD, Phase.LOSING)
"""Time at a place and no way."""


class Unknown(Struct, frozen=True):
    """A number that is not known, by its JSON key, and why."""

    key: str
    reason: str
    impossible: bool = False


class FuelUnit(Struct, frozen=True):
    """The unit in which a flight's fuel is counted: `name` is gal, impgal, L, lb or kg.

    `gal` is how many US gallons one unit is; None for a mass without a density. `step` is the printed step.
    """

    name: str = "gal"
    gal: float | None = 1.0

    @property
    def step(self) -> float:
        """The step to which fuel is printed: 0.1 gal or impgal; 1 L, lb or kg."""
        return 0.1 if self.name in ("gal", "impgal") else 1.0


class BulletinUse(Struct, frozen=True):
    """A winds-aloft bulletin used: its period in UTC, the stations that may count on the route.

    `missing` is how many of its stations have no known position.
    """

    file: str
    heading: str | None
    valid: datetime
    use_from: datetime
    use_to: datetime
    stations: tuple[str, ...]
    missing: int


class Conditions(Struct, frozen=True):
    """What the flight meets: aircraft, air, winds and fuel.

    `winds` is None where no wind was given. `winds_turned` says with which variation a magnetic wind was
    made true. Fuel figures are in `fuel_unit`; `on_board` is the usable fuel at start-up less taxi, `used_before` what
    of that filling is used already, `fuel_at_stops` what is on board at the take-off after a stretch, by its number.
    `burn_per_h` is the stated burn, which stands before the aircraft's; `aircraft_unit` is how many of `fuel_unit` one
    unit of the aircraft file is. `isa_deviation_c` is how much warmer than standard the air is said to be.
    `pattern_ft` is where the last descent ends as stated, `vfr` tells whether descents end at the pattern's height
    where none is stated; `entry_ft` is the height at which a way begins in the air; `level_span` of the highest level.
    """

    day: date
    off: datetime | None
    zone: str | None
    winds: tuple[WindColumn, ...] | None
    winds_turned: tuple[str, ...]
    fuel_unit: FuelUnit
    burn_per_h: float | None
    on_board: float | None
    taxi: float
    extra: float
    contingency_percent: float
    fuel_at_stops: tuple[tuple[int, float], ...] = ()
    aircraft: Aircraft | None = None
    aircraft_unit: float = 1.0
    altimeter_hpa: float | None = None
    altimeter_unit: str = "hPa"
    isa_deviation_c: float | None = None
    pattern_ft: float | None = None
    vfr: bool = False
    entry_ft: float | None = None
    bulletins: tuple[BulletinUse, ...] = ()
    level_span: Span | None = None
    used_before: float = 0.0


class LegPoint(Struct, frozen=True):
    """An end of a leg: a point of the route, or a place between two of them.

    `heard` names one where the stations' signal ends, `NO VOR`, or begins again, `VOR ON`.
    """

    kind: str
    ident: str | None
    position: Position | None
    point: Point | None = None
    heard: str = ""

    @property
    def name(self) -> str:
        """The identifier, or what the place is in words."""
        if self.ident is not None:
            return self.ident
        return self.point.name if self.point is not None else self.heard or self.kind


class Trouble(StrEnum):
    """What stands against receiving a radial or DME at a place."""

    SECTOR = "in an unusable sector"
    MRA = "below the MRA"
    HORIZON = "under the horizon"
    VOLUME = "outside the service volume"


class Mark(Struct, frozen=True):
    """What tells a place in flight, and how well.

    `cut_deg` is the angle between the station's radial there and the leg's true course, 0 to 90, `dme_nm` the
    DME's reading at the height flown, `error_nm` how far along track the published errors of radials and DMEs
    move the place; each is None where it is not known or does not apply.
    """

    by: Identification
    cut_deg: float | None
    dme_nm: float | None
    error_nm: float | None
    troubles: tuple[Trouble, ...] = ()

    @property
    def station(self) -> Station:
        """The station that tells it."""
        return self.by.station

    @property
    def kind(self) -> MarkKind:
        """Whether the needle or the DME tells it."""
        return self.by.kind


class Run(Struct, frozen=True):
    """A part of a stretch flown in one phase: from `start_nm` to `end_nm` along the stretch.

    Course and variation hold at the middle, degrees; `variation_source` is "station" where the station's
    declination stands in for the variation. Wind and speed are means over the time flown, and `wind_beyond_ft`
    is how far outside the heights of the wind given the run lies. Heights are altitudes, of a flight
    level too. `triangle` is None where wind or course is unknown; `groundspeed_kt`, `time_min` and
    `fuel_used` (in the log's unit) where they cannot be told. `changes` are the tops of climb and descent and the
    level changes within it, where level flight too short for a leg of its own is in it: each with how far along
    the stretch it lies.
    """

    stretch: Stretch
    part: GuidedPart
    phase: Phase
    start_nm: float
    end_nm: float
    start_altitude_ft: float
    end_altitude_ft: float
    true_course_deg: float | None
    variation_deg: float | None
    variation_source: str
    tas_kt: float | None
    wind: Wind | None
    wind_beyond_ft: float
    triangle: Triangle | None
    groundspeed_kt: float | None
    time_min: float | None
    fuel_used: float | None
    changes: tuple[tuple[PointKind, float], ...]


class Leg(Run, frozen=True):
    """One row of the log: a run from one end to the other, with headings, clock and fuel carried to its end.

    Headings are at the leg's middle, degrees; `deviation_deg` is None without a compass card. `elapsed_min` counts
    from wheels off to the leg's end, stops before it included. `fuel_remaining` and `fuel_least` (what must be left
    at the leg's end to go on as planned) are in the log's fuel unit. `dme_nm` is what the DME of the identifying
    station reads at the leg's end. `ends_stretch` tells a leg that ends at a point of the route, `lands` a landing on
    the way. `altimeter_hpa` is the setting by which flight levels are the altitudes flown, None where none is given, in
    `altimeter_unit`. `other_setting` is what a second VOR is best set to, None without one or where nothing is ahead.
    """

    number: int
    start: LegPoint
    end: LegPoint
    distance_remaining_nm: float
    magnetic_course_deg: float | None
    magnetic_heading_deg: float | None
    deviation_deg: float | None
    compass_heading_deg: float | None
    elapsed_min: float | None
    fuel_used_total: float | None
    fuel_remaining: float | None
    ends_stretch: bool
    lands: bool = False
    stop_min: float = 0.0
    fuel_taken: float | None = None
    altimeter_hpa: float | None = None
    altimeter_unit: str = "hPa"
    fuel_least: float | None = None
    unknown: tuple[Unknown, ...] = ()
    marks: tuple[Mark, ...] = ()
    told_by: tuple[Mark, ...] = ()
    other_setting: OtherSetting | None = None

    def __repr__(self) -> str:
        way = f"{self.start.name} to {self.end.name}"
        return f"<Leg {self.number}: {way}, {self.phase.value}, {self.distance_nm:.1f} NM>"

    @property
    def changeover(self) -> Changeover | None:
        """The changeover point at which the leg ends, if it ends at one."""
        return self.part.changeover if self.end_nm >= self.part.end_nm else None

    @property
    def distance_nm(self) -> float:
        """The distance flown on this leg."""
        return self.end_nm - self.start_nm

    @property
    def turn_deg(self) -> float | None:
        """The turn at the leg's end, right positive; 0 inside a stretch, None at a landing and at a place."""
        if self.stays:
            return None
        return self.stretch.turn_deg if self.ends_stretch else 0.0

    @property
    def stays(self) -> bool:
        """Whether it is time at a place and no way: a hold, or height to lose."""
        return self.phase is _HOLD or self.phase is _LOSING


class Passage(Struct, frozen=True):
    """Where a flight passes the point from which an alternate is flown, and with what on board.

    `leg` ends there, None where the flight begins there; `height_ft` is None on the ground. At a stop with fuel
    taken there are two, and `fuelled` is the take-off. `at` is the UTC time. `filling` counts the fillings of the
    tanks from 0, `used` is the fuel used on this one; figures are None where unknown.
    """

    leg: Leg | None
    height_ft: float | None
    fuelled: bool
    at: datetime | None
    filling: int
    used: float | None
    left: float | None

    @property
    def airborne(self) -> bool:
        """Whether the point is passed in the air."""
        return self.height_ft is not None


class Diversion(Struct, frozen=True):
    """The fuel to a point of the route, and from there to an alternate; None where unknown.

    `used` counts from the last take-off with fuel taken to `start`, and `contingency` is its share of that. The
    reserve is that of the landing at the alternate, or without an `airport` at `start` itself.
    """

    start: str
    airport: str | None
    used: float | None
    alternate: float | None
    contingency: float | None
    reserve: float | None
    reserve_min: float
    reserve_rule: str


class Fuel(Struct, frozen=True):
    """The fuel of the whole flight in the log's unit; None where unknown.

    `required` is what must be on board after taxi: trip, alternate, contingency, reserve and extra, counted from the
    last take-off with fuel taken. `alternate` is that of the farthest from the destination in fuel, `remaining` what is
    left at the last landing, `margin` what is on board beyond `required`. Both go by `diversion` where the way to an
    alternate from a point on the way, or the reserve at a landing on it, takes more than the flight to the destination
    and its alternate. `burn_per_h` is that of cruise, by which the reserve is counted; `endurance_min` is how long the
    tanks last: the flight as planned, then cruise on what is left. `earlier` accounts for the fillings before the last.
    """

    on_board: float | None
    used: float | None
    alternate: float | None
    contingency: float | None
    extra: float
    burn_per_h: float | None
    reserve: float | None
    reserve_min: float
    reserve_rule: str
    required: float | None
    remaining: float | None
    margin: float | None
    margin_min: float | None
    endurance_min: float | None = None
    diversion: Diversion | None = None
    earlier: tuple[Fuel, ...] = ()

    @property
    def parts(self) -> tuple[float | None, ...]:
        """What `required` is the sum of: trip, alternate, contingency, reserve, extra."""
        way = self.diversion or self
        return way.used, way.alternate, way.contingency, way.reserve, self.extra


class Totals(Struct, frozen=True):
    """Sums of the legs: distance in NM, time in the air in minutes, fuel in the log's unit."""

    distance_nm: float
    time_min: float | None
    fuel: float | None


class Log(Struct, frozen=True):
    """The whole computed answer for one flight; `alternates` are logs of their own.

    `ground_ft` is the lowest elevation known along the flight, 0 without one.
    On the way to an alternate `begun` is each passage of the flight at the point where that way begins, whose last
    one gives it its clock and fuel, and `flight` the flight that is left there, without its alternates.
    """

    route: Route
    conditions: Conditions
    legs: tuple[Leg, ...]
    fuel: Fuel
    totals: Totals
    ground_ft: float
    alternates: tuple[Log, ...] = ()
    begun: tuple[Passage, ...] = ()
    flight: Log | None = None

    def __repr__(self) -> str:
        time = "time unknown" if self.totals.time_min is None else f"{self.totals.time_min:.0f} min"
        told = f"{len(self.legs)} legs, {self.totals.distance_nm:.1f} NM, {time}"
        return f"<Log {self.route.request.name}: {told}>"

    @property
    def fuel_unit(self) -> FuelUnit:
        """The unit in which fuel is counted."""
        return self.conditions.fuel_unit

    def first_legs(self) -> tuple[Leg, ...]:
        """The leg that begins each stretch."""
        return tuple(leg for leg in self.legs if leg.start_nm == 0.0)

    def eta(self, leg: Leg) -> datetime | None:
        """The UTC time at the leg's end; None without `off` or with an unknown time."""
        from datetime import timedelta

        if self.conditions.off is None or leg.elapsed_min is None:
            return None
        return self.conditions.off + timedelta(minutes=leg.elapsed_min)
