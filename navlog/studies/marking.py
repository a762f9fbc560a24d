"""An instructor's marking: a pilot's own figures beside those of the log, and the slip that explains one.

A figure is right within the tolerance of the exact number or of the printed one. A figure that is off is said to
follow where it agrees with the pilot's own figures before it; else every slip is named that leads to it within the
tolerance, the likeliest first: the one that explains most of the leg's wrong figures, then the nearest.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import StrEnum

from msgspec import Struct

from navlog.flightlog.records import FuelUnit, Log
from navlog.nav.problems import NavlogError, Span, at
from navlog.nav.record import changed
from navlog.printed.rows import Row, rows
from navlog.studies.answersheet import AnswerRow, read_answers, template
from navlog.studies.marking_marks import expected_of, quantity_of
from navlog.studies.marking_quantities import (
    BY_KEY,
    QUANTITIES,
    TOTALLED,
    Expected,
    MarkedQuantity,
    Tolerances,
    expected_totals,
)
from navlog.studies.marking_written import read_fuel
from navlog.studies.slips import Slip, leg_slips, total_slips

__all__ = ["FigureMarked", "MarkedVerdict", "Marking", "Tolerances", "mark", "read_answers", "template", "tolerances"]

_CLOSE = 1e-6
"""A figure exactly at the tolerance is right."""


class MarkedVerdict(StrEnum):
    """What a figure is worth."""

    RIGHT = "right"
    OFF = "off"
    NOT_MARKED = "not marked"


class FigureMarked(Struct, frozen=True):
    """One of the pilot's figures marked; `leg` is None for the totals.

    `off` is the figure less the printed one, None where the log has no number. `follows` names the pilot's own
    wrong figures from which this one follows. `way` is 0 for the route, else which of its alternates, from 1.
    """

    leg: int | None
    quantity: MarkedQuantity
    given: float
    expected: Expected
    verdict: MarkedVerdict
    off: float | None = None
    follows: tuple[str, ...] = ()
    slips: tuple[Slip, ...] = ()
    way: int = 0


class Marking(Struct, frozen=True):
    """Every figure that the pilot gave, marked, leg by leg in the order of the columns."""

    log: Log
    marks: tuple[FigureMarked, ...]

    def count(self, verdict: MarkedVerdict) -> int:
        """How many figures came to a verdict."""
        return sum(mark.verdict is verdict for mark in self.marks)


def tolerances(
    unit: FuelUnit,
    *,
    angle_deg: float = 1.0,
    speed_kt: float = 1.0,
    time_min: float = 1.0,
    distance_nm: float = 0.5,
    fuel: str | None = None,
) -> Tolerances:
    """The tolerances for a log in that fuel unit; for fuel its printed step unless `fuel` says more, as written."""
    if fuel is None:
        return Tolerances(angle_deg, speed_kt, time_min, distance_nm, unit.step)
    try:
        return Tolerances(angle_deg, speed_kt, time_min, distance_nm, read_fuel(fuel, unit))
    except NavlogError as error:
        raise at(error, Span("--fuel", 1, 1, max(1, len(fuel))), fuel) from None


def mark(log: Log, answers: Iterable[AnswerRow], allowed: Tolerances) -> Marking:
    """The pilot's answers marked against the log, those on the way to an alternate against that."""
    given = tuple(answers)
    found: list[FigureMarked] = []
    for number, way in enumerate((log, *log.alternates)):
        own = {row.leg: row.values for row in given if row.way == number}
        found += [changed(one, way=number) if number else one for one in _on_way(way, own, allowed)] if own else ()
    return Marking(log, tuple(found))


def _on_way(log: Log, given: dict[int | None, dict[str, float]], allowed: Tolerances) -> Iterator[FigureMarked]:
    """The answers for one way marked, leg by leg."""
    printed = rows(log)
    marks: list[FigureMarked] = []
    for row in printed:
        values = given.get(row.leg.number, {})
        marks += _marked(row.leg.number, values, {key: expected_of(key, row) for key in values}, allowed)
    marks += _marked(None, given.get(None, {}), expected_totals(log, printed), allowed)
    wrong = frozenset((one.leg, one.quantity.key) for one in marks if one.verdict is MarkedVerdict.OFF)
    own = _OwnFigures(given, wrong, printed)
    for leg, slips in (*((row.leg.number, leg_slips(log, row.leg)) for row in printed), (None, total_slips(log))):
        yield from _explained([one for one in marks if one.leg == leg], own, slips, allowed)


def _marked(
    leg: int | None, values: dict[str, float], expected: dict[str, Expected], allowed: Tolerances
) -> list[FigureMarked]:
    """Each figure of one row, right or off."""
    columns = [quantity.key for quantity in QUANTITIES if quantity.key in values]
    keys = (*columns, *(key for key in values if key not in BY_KEY))
    return [_verdict_on(leg, quantity_of(key), values[key], expected[key], allowed) for key in keys]


def _verdict_on(
    leg: int | None, quantity: MarkedQuantity, given: float, expected: Expected, allowed: Tolerances
) -> FigureMarked:
    """One figure marked, not yet explained."""
    if expected.exact is None or expected.printed is None:
        verdict = MarkedVerdict.OFF if expected.impossible else MarkedVerdict.NOT_MARKED
        return FigureMarked(leg, quantity, given, expected, verdict)
    off = quantity.apart(given, expected.printed)
    near = min(abs(off), abs(quantity.apart(given, expected.exact)))
    right = near <= allowed.of(quantity.unit) + _CLOSE
    return FigureMarked(leg, quantity, given, expected, MarkedVerdict.RIGHT if right else MarkedVerdict.OFF, off)


def _explained(
    marks: list[FigureMarked], own: _OwnFigures, slips: tuple[Slip, ...], allowed: Tolerances
) -> Iterator[FigureMarked]:
    """The marks of one row, each that is off with what it follows from, else with the slips that lead to it."""
    fitting = {
        one.quantity.key: [slip for slip in slips if _leads_to(slip, one, allowed)]
        for one in marks
        if one.verdict is MarkedVerdict.OFF
    }
    explains = {slip.code: sum(slip in found for found in fitting.values()) for slip in slips}
    for one in marks:
        found = fitting.get(one.quantity.key)
        if found is None:
            yield one
            continue
        origin = _follows(own, one.leg, one.quantity, one.given, allowed.of(one.quantity.unit) + _CLOSE)
        if origin:
            yield changed(one, follows=origin)
            continue
        ordered = sorted((-explains[slip.code], _distance_to(slip, one), slip.code, slip) for slip in found)
        yield changed(one, slips=tuple(slip for *_, slip in ordered))


def _leads_to(slip: Slip, one: FigureMarked, allowed: Tolerances) -> bool:
    """Whether a slip explains a wrong figure: it leads there, and away from the right one, beyond tolerance."""
    if one.quantity.key not in slip.leads_to or one.expected.exact is None:
        return False
    apart = abs(one.quantity.apart(slip.leads_to[one.quantity.key], one.expected.exact))
    tolerance = allowed.of(one.quantity.unit)
    near = tolerance if slip.within is None else min(tolerance, slip.within)
    return _distance_to(slip, one) <= near + _CLOSE and tolerance + _CLOSE < apart


def _distance_to(slip: Slip, one: FigureMarked) -> float:
    """How far a figure is from the one that the slip leads to."""
    return abs(one.quantity.apart(one.given, slip.leads_to[one.quantity.key]))


_Term = tuple[str, int, float]
"""A figure that another is made of: its quantity, 0 for the same leg or -1 for the one before, and its sign."""

_SUMS: dict[str, tuple[tuple[_Term, ...], ...]] = {
    "magnetic_course": ((("true_course", 0, 1.0),),),
    "true_heading": ((("true_course", 0, 1.0), ("wca", 0, 1.0)),),
    "magnetic_heading": (
        (("true_heading", 0, 1.0),),
        (("magnetic_course", 0, 1.0), ("wca", 0, 1.0)),
        (("true_course", 0, 1.0), ("wca", 0, 1.0)),
    ),
    "compass_heading": ((("magnetic_heading", 0, 1.0),), (("true_heading", 0, 1.0),)),
    "heading": (
        (("magnetic_heading", 0, 1.0),),
        (("true_heading", 0, 1.0),),
        (("magnetic_course", 0, 1.0), ("wca", 0, 1.0)),
        (("true_course", 0, 1.0), ("wca", 0, 1.0)),
    ),
    "eta": ((("eta", -1, 1.0), ("time", 0, 1.0)),),
    "fuel_left": ((("fuel_left", -1, 1.0), ("fuel_used", 0, -1.0)),),
}
"""The figures that others are sums of; what else is in the sum is as in the log."""


class _OwnFigures(Struct, frozen=True):
    """The pilot's figures beside the log's rows; `wrong` holds those that are off, by leg and quantity."""

    given: dict[int | None, dict[str, float]]
    wrong: frozenset[tuple[int | None, str]]
    rows: tuple[Row, ...]

    def error(self, leg: int, key: str) -> float:
        """How far the pilot's figure is from the exact one; 0 where none is given or known."""
        value, quantity = self.given.get(leg, {}).get(key), BY_KEY[key]
        exact = quantity.exact(self.rows[leg - 1])
        return 0.0 if value is None or exact is None else quantity.apart(value, exact)

    def used(self, leg: int, key: str) -> float | None:
        """The pilot's figure, else the exact one."""
        return self.given.get(leg, {}).get(key, BY_KEY[key].exact(self.rows[leg - 1]))

    def names_wrong(self, leg: int | None, keys: tuple[tuple[str, int], ...]) -> tuple[str, ...]:
        """The figures among these that are off, in words."""
        found = []
        for key, before in keys:
            which = None if leg is None else leg + before
            if (which, key) in self.wrong:
                found.append(f"{key} of leg {which}" if before else key)
        return tuple(found)


def _follows(
    own: _OwnFigures, leg: int | None, quantity: MarkedQuantity, value: float, allowed: float
) -> tuple[str, ...]:
    """The pilot's own wrong figures from which this one follows within the tolerance; none where it does not."""
    ways = _from_legs(own, quantity) if leg is None else _from_own_row(own, leg, quantity)
    for made_of, result in ways:
        if made_of and abs(quantity.apart(value, result)) <= allowed:
            return made_of
    return ()


def _from_own_row(own: _OwnFigures, leg: int, quantity: MarkedQuantity) -> Iterator[tuple[tuple[str, ...], float]]:
    """What a leg's quantity is by the pilot's other figures, and which of those are off."""
    exact = quantity.exact(own.rows[leg - 1])
    if exact is None:
        return
    for terms in _SUMS.get(quantity.key, ()):
        usable = tuple(term for term in terms if term[1] == 0 or _counts_on(own, leg, quantity.key))
        error = sum(sign * own.error(leg + before, key) for key, before, sign in usable)
        yield own.names_wrong(leg, tuple((key, before) for key, before, _ in usable)), exact + error
    if quantity.key == "time":
        distance_nm, speed_kt = own.used(leg, "distance"), own.used(leg, "groundspeed")
        if distance_nm is not None and speed_kt:
            yield own.names_wrong(leg, (("distance", 0), ("groundspeed", 0))), distance_nm / speed_kt * 60.0
    if quantity.key == "fuel_used":
        time_min, exact_min = own.used(leg, "time"), own.rows[leg - 1].leg.time_min
        if time_min is not None and exact_min:
            yield own.names_wrong(leg, (("time", 0),)), exact * time_min / exact_min


def _counts_on(own: _OwnFigures, leg: int, key: str) -> bool:
    """Whether the figure of the leg before goes into this one: not on the first leg, nor where tanks were filled."""
    return leg > 1 and not (key == "fuel_left" and own.rows[leg - 2].leg.fuel_taken is not None)


def _from_legs(own: _OwnFigures, quantity: MarkedQuantity) -> Iterator[tuple[tuple[str, ...], float]]:
    """What a total is by the pilot's figures of the legs."""
    legs = [row.leg.number for row in own.rows if (row.leg.number, quantity.key) in own.wrong]
    exact = [quantity.exact(row) for row in own.rows]
    if quantity.key in TOTALLED and quantity.key != "groundspeed" and None not in exact:
        total = sum(value for value in exact if value is not None)
        names = tuple(f"{quantity.key} of leg {leg}" for leg in legs)
        yield names, total + sum(own.error(leg, quantity.key) for leg in legs)
    totals = own.given.get(None, {})
    if quantity.key == "groundspeed" and totals.get("distance") and totals.get("time"):
        names = own.names_wrong(None, (("distance", 0), ("time", 0)))
        yield names, totals["distance"] / totals["time"] * 60.0
