"""Whether a wrong figure follows from the pilot's own figures before it: then it is no slip of its own."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from navlog.printed.rows import Row
from navlog.studies.marking_quantities import BY_KEY, TOTALLED, Quantity

Term = tuple[str, int, float]
"""A figure that another is made of: its quantity, 0 for the same leg or -1 for the one before, and its sign."""

SUMS: dict[str, tuple[tuple[Term, ...], ...]] = {
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


class OwnFigures(Struct, frozen=True):
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


def follows(own: OwnFigures, leg: int | None, quantity: Quantity, value: float, allowed: float) -> tuple[str, ...]:
    """The pilot's own wrong figures from which this one follows within the tolerance; none where it does not."""
    ways = from_legs(own, quantity) if leg is None else from_own_row(own, leg, quantity)
    for made_of, result in ways:
        if made_of and abs(quantity.apart(value, result)) <= allowed:
            return made_of
    return ()


def from_own_row(own: OwnFigures, leg: int, quantity: Quantity) -> Iterator[tuple[tuple[str, ...], float]]:
    """What a leg's quantity is by the pilot's other figures, and which of those are off."""
    exact = quantity.exact(own.rows[leg - 1])
    if exact is None:
        return
    for terms in SUMS.get(quantity.key, ()):
        usable = tuple(term for term in terms if term[1] == 0 or counts_on(own, leg, quantity.key))
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


def counts_on(own: OwnFigures, leg: int, key: str) -> bool:
    """Whether the figure of the leg before goes into this one: not on the first leg, nor where tanks were filled."""
    return leg > 1 and not (key == "fuel_left" and own.rows[leg - 2].leg.fuel_taken is not None)


def from_legs(own: OwnFigures, quantity: Quantity) -> Iterator[tuple[tuple[str, ...], float]]:
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
