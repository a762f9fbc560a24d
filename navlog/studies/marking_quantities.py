"""What a pilot's own figures are marked on: each quantity with how it is written and what the log says of it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from math import remainder

from msgspec import Struct

from navlog.flightlog.records import FuelUnit, Leg, Log
from navlog.nav import figures, units
from navlog.nav.guidance import Flag
from navlog.nav.problems import NavlogError, problem_error
from navlog.nav.units import DAY_MIN
from navlog.printed.rows import Row
from navlog.studies.marking_written import (
    read_clock,
    read_correction,
    read_course,
    read_flag,
    read_fuel,
    read_minutes,
    show_clock,
    show_correction,
    show_course,
    show_flag,
    show_fuel,
    show_minutes,
    show_whole,
)


class Tolerances(Struct, frozen=True):
    """How far a figure may be off and still be right; `fuel` is in the log's unit."""

    angle_deg: float
    speed_kt: float
    time_min: float
    distance_nm: float
    fuel: float

    def of(self, unit: str) -> float:
        """The tolerance of quantities in a unit; words have none."""
        known = {
            "deg": self.angle_deg,
            "kt": self.speed_kt,
            "min": self.time_min,
            "UTC": self.time_min,
            "NM": self.distance_nm,
            "fuel": self.fuel,
        }
        return known.get(unit, 0.0)


class Expected(Struct, frozen=True):
    """What the log says: the exact number, and what its sheet prints; a flag is a number too, TO 1 and FROM 0.

    Without a number `reason` says why there is none; `impossible` tells a wind that cannot be flown.
    """

    exact: float | None = None
    printed: float | None = None
    reason: str = "it does not apply here"
    impossible: bool = False


class MarkedQuantity(Struct, frozen=True):
    """A column of the answers: its key and unit, how it is read and shown, and the key of its unknowns.

    `turn` is what a full circle is in this unit, None where there is none; `why_none` says why a leg has none of it.
    """

    key: str
    unit: str
    read: Callable[[str, FuelUnit], float]
    shown: Callable[[float, FuelUnit], str]
    exact: Callable[[Row], float | None]
    printed: Callable[[Row], float | None]
    unknown_key: str
    turn: float | None = None
    why_none: Callable[[Row], str] | None = None

    def apart(self, one: float, other: float) -> float:
        """The first less the second, the short way round a circle."""
        return one - other if self.turn is None else remainder(one - other, self.turn)

    def expected(self, row: Row) -> Expected:
        """What the log says of this quantity on a leg."""
        exact, printed = self.exact(row), self.printed(row)
        if exact is not None and printed is not None:
            return Expected(exact, printed)
        for one in row.leg.unknown:
            if one.key.split("_gal")[0] == self.unknown_key:
                return Expected(reason=one.reason, impossible=one.impossible)
        return Expected() if self.why_none is None else Expected(reason=self.why_none(row))


def _course_of(value: Callable[[Leg], float | None]) -> tuple[Callable[[Row], float | None], ...]:
    """The exact direction of a leg, and the whole degree that is printed."""

    def exact(row: Row) -> float | None:
        return value(row.leg)

    def printed(row: Row) -> float | None:
        angle_deg = value(row.leg)
        return None if angle_deg is None else float(figures.whole_course(angle_deg))

    return exact, printed


def _number_of(
    value: Callable[[Row], float | None], step: float = 1.0
) -> tuple[Callable[[Row], float | None], Callable[[Row], float | None]]:
    """The exact number of a leg, and that number rounded half up to a step."""

    def printed(row: Row) -> float | None:
        exact = value(row)
        if exact is None:
            return None
        return (1.0 if exact >= 0.0 else -1.0) * figures.half_up(abs(exact), step) * step

    return value, printed


def _set_course(leg: Leg) -> float | None:
    """The number on the course selector."""
    return leg.part.guidance.set_course_deg if leg.part.guidance is not None else None


def _printed_set_course(row: Row) -> float | None:
    """The number that the sheet shows for it: the reciprocal of the printed radial with TO."""
    guidance = row.leg.part.guidance
    if guidance is None or guidance.radial.flown is None:
        return None
    return float(figures.set_course(guidance.radial.flown, inbound=guidance.flag is Flag.TO))


def _flag(row: Row) -> float | None:
    """1 for TO and 0 for FROM; None where nothing is set."""
    guidance = row.leg.part.guidance
    return None if guidance is None or guidance.radial.flown is None else float(guidance.flag is Flag.TO)


def _flown_heading(leg: Leg) -> float | None:
    """The heading in the sheet's column: by compass where a card is given, else magnetic."""
    return leg.compass_heading_deg if leg.compass_heading_deg is not None else leg.magnetic_heading_deg


def _true_heading(leg: Leg) -> float | None:
    """The true heading."""
    return leg.triangle.true_heading_deg if leg.triangle is not None else None


def _wind_correction(row: Row) -> float | None:
    """The wind correction, right positive."""
    return row.leg.triangle.wind_correction_deg if row.leg.triangle is not None else None


def _changeover_nm(row: Row) -> float | None:
    """How far the changeover point at the leg's end lies from the station behind."""
    point = row.leg.changeover
    return None if point is None or point.kind.value == "unknown" else point.distance_nm


def _clock_min(moment: datetime | None) -> float | None:
    """Minutes after midnight UTC."""
    return None if moment is None else moment.hour * 60.0 + moment.minute + moment.second / 60.0


def _eta_min(row: Row) -> float | None:
    """The arrival as minutes after midnight UTC; on the way to an alternate that of the printed clock."""
    return _clock_min(row.log.eta(row.leg) if row.log.flight is None else row.clock)


def _fuel_left(row: Row) -> float | None:
    """The fuel left at a leg's end; on the way to an alternate as the sheet prints it."""
    return row.leg.fuel_remaining if row.log.flight is None else _steps_of(row, row.left_steps)


def _steps_of(row: Row, steps: int | None) -> float | None:
    """A printed count of fuel steps as an amount."""
    return None if steps is None else steps * row.log.fuel_unit.step


def _direction(key: str, value: Callable[[Leg], float | None], unknown_key: str) -> MarkedQuantity:
    """A quantity that is a direction."""
    exact, printed = _course_of(value)
    return MarkedQuantity(key, "deg", read_course, show_course, exact, printed, unknown_key, 360.0)


def _unit_free(read: Callable[[str], float]) -> Callable[[str, FuelUnit], float]:
    """A reader that has no use for the log's fuel unit."""
    return lambda text, _: read(text)


QUANTITIES: tuple[MarkedQuantity, ...] = (
    _direction("true_course", lambda leg: leg.true_course_deg, "true_course_deg"),
    _direction("magnetic_course", lambda leg: leg.magnetic_course_deg, "magnetic_course_deg"),
    MarkedQuantity(
        "set_course",
        "deg",
        read_course,
        show_course,
        _course_of(_set_course)[0],
        _printed_set_course,
        "guidance.set_course_deg",
        360.0,
    ),
    MarkedQuantity("flag", "", read_flag, show_flag, _flag, _flag, "guidance.set_course_deg"),
    MarkedQuantity(
        "wca", "deg", read_correction, show_correction, *_number_of(_wind_correction), "wind_correction_deg"
    ),
    _direction("true_heading", _true_heading, "true_heading_deg"),
    _direction("magnetic_heading", lambda leg: leg.magnetic_heading_deg, "magnetic_heading_deg"),
    _direction("compass_heading", lambda leg: leg.compass_heading_deg, "compass_heading_deg"),
    _direction("heading", _flown_heading, "magnetic_heading_deg"),
    MarkedQuantity(
        "groundspeed",
        "kt",
        _unit_free(units.read_speed_kt),
        show_whole,
        *_number_of(lambda row: row.leg.groundspeed_kt),
        "groundspeed_kt",
    ),
    MarkedQuantity(
        "changeover",
        "NM",
        _unit_free(units.read_distance_nm),
        show_whole,
        *_number_of(_changeover_nm, 0.1),
        "changeover",
    ),
    MarkedQuantity(
        "distance",
        "NM",
        _unit_free(units.read_distance_nm),
        show_whole,
        lambda row: row.leg.distance_nm,
        lambda row: row.distance_tenths / 10.0,
        "distance_nm",
    ),
    MarkedQuantity(
        "time", "min", read_minutes, show_minutes, lambda row: row.leg.time_min, lambda row: row.time_min, "time_min"
    ),
    MarkedQuantity("eta", "UTC", read_clock, show_clock, _eta_min, lambda row: _clock_min(row.clock), "eta", DAY_MIN),
    MarkedQuantity(
        "fuel_used",
        "fuel",
        read_fuel,
        show_fuel,
        lambda row: row.leg.fuel_used,
        lambda row: _steps_of(row, row.fuel_steps),
        "fuel_used",
    ),
    MarkedQuantity(
        "fuel_left",
        "fuel",
        read_fuel,
        show_fuel,
        _fuel_left,
        lambda row: _steps_of(row, row.left_steps),
        "fuel_remaining",
    ),
)
"""Every quantity, in the order of its column."""

BY_KEY = {quantity.key: quantity for quantity in QUANTITIES}
TOTALLED = ("groundspeed", "distance", "time", "fuel_used")
"""The quantities that the row of totals may give; its groundspeed is the whole distance over the whole time."""


def expected_totals(log: Log, printed: tuple[Row, ...]) -> dict[str, Expected]:
    """What the log says of the totals."""
    totals = log.totals
    time_min = _sum_known([row.time_min for row in printed])
    steps = _sum_known([row.fuel_steps for row in printed])
    found = {"distance": Expected(totals.distance_nm, sum(row.distance_tenths for row in printed) / 10.0)}
    if totals.time_min and time_min is not None:
        found["time"] = Expected(totals.time_min, time_min)
        speed_kt = totals.distance_nm / totals.time_min * 60.0
        found["groundspeed"] = Expected(speed_kt, float(figures.half_up(speed_kt)))
    if totals.fuel is not None and steps is not None:
        found["fuel_used"] = Expected(totals.fuel, steps * log.fuel_unit.step)
    return {key: found.get(key, Expected(reason="a leg's is not known")) for key in TOTALLED}


def _sum_known(values: list[int | None]) -> float | None:
    """The sum; None where a part of it is not known."""
    known = [value for value in values if value is not None]
    return float(sum(known)) if len(known) == len(values) else None


_NORTHS = {
    "true_course": "T",
    "true_heading": "T",
    "magnetic_course": "M",
    "magnetic_heading": "M",
    "compass_heading": "C",
}
"""The letter of the north that a direction counts from, as the sheets set it behind the figure."""


def _north(quantity: MarkedQuantity, row: Row | None) -> str | None:
    """The letter that may stand behind a figure, of a set course by its station; None where none may."""
    guidance = row.leg.part.guidance if row is not None else None
    if quantity.key == "set_course":
        return "T" if guidance is not None and guidance.station.true_referenced else None
    return _NORTHS.get(quantity.key)


_SHEET_MARKS = "!~"
"""What a sheet sets beside a figure: one that a finding means, one by station north."""


def read_value(quantity: MarkedQuantity, text: str, unit: FuelUnit, row: Row | None = None) -> float:
    """A pilot's figure, on the leg of `row`, as the sheet prints it too; a problem in it names the column."""
    bare = text.strip(_SHEET_MARKS)
    if bare[-1:] and bare[-1].upper() == _north(quantity, row):
        bare = bare[:-1]
    try:
        return quantity.read(bare, unit)
    except NavlogError as error:
        (problem,) = error.problems
        raise problem_error(problem.code, f"{quantity.key}: {problem.message}", hint=problem.hint) from None
