"""The preferred routes published between two places as proposals, and the record of a proposal."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from msgspec import Struct

from navlog.nav.cruising_levels import US, fits
from navlog.nav.figures import whole_course
from navlog.rules.answers import Answer
from navlog.rules.registry import Severity
from navlog.studies.published_routes import Fitting, fitting

if TYPE_CHECKING:
    from navlog.studies.proposal_flights import Flights

_OF_FUEL = frozenset({"reserve", "fuel-below-zero"})


class Proposal(Struct, frozen=True):
    """One route proposed: its string, altitude in feet, and what log and rules say of it.

    `kind` is "published" or "airways", `rank` counts from 1 within the kind. `highest_ft` is the highest minimum on it,
    `off_airway_nm` what is flown off the airways. `published` is set where the FAA prefers it.
    """

    rank: int
    kind: str
    route: str
    altitude_ft: float
    answer: Answer
    off_airway_nm: float
    airway_changes: int
    published: Fitting | None = None

    @property
    def lacks_fuel(self) -> bool:
        """Whether its log has an error of fuel: the reserve broken, or the tanks dry on the way."""
        return any(one.rule in _OF_FUEL and one.severity is Severity.ERROR for one in self.answer.findings)

    @property
    def distance_nm(self) -> float:
        """How long it is."""
        return self.answer.report.log.totals.distance_nm if self.answer.report is not None else 0.0


def published_proposals(flights: Flights) -> tuple[tuple[Proposal, ...], tuple[str, ...]]:
    """The published routes that fit, each flown; and why others do not."""
    found: list[Proposal] = []
    left_out: list[str] = []
    for route in flights.preferred():
        one = fitting(route, altitude_ft=flights.altitude_ft, tas_kt=flights.tas_kt, off=flights.off)
        told = f"{route.kind} {route.altitude} `{route.route or 'direct'}`".replace("  ", " ")
        if isinstance(one, str):
            left_out.append(f"{told}: {one}")
            continue
        altitude_ft = _level_ft(flights, one)
        text = flights.published_line(route)
        answer = flights.fly_route(text, altitude_ft)
        if answer.report is None:
            left_out.append(f"{told}: {answer.problems[0].message}")
            continue
        if against := flights.speaks_against(answer, altitude_ft):
            left_out.append(f"{told}: {against}")
            continue
        stretches = answer.report.log.route.stretches
        off_nm = sum(one.length_nm for one in stretches if one.airway is None)
        vias = [one.via for one in stretches if one.airway is not None]
        changes = sum(one != other for one, other in pairwise(vias))
        found.append(Proposal(len(found) + 1, "published", text, altitude_ft, answer, off_nm, changes, one))
    return tuple(found), tuple(left_out)


def _level_ft(flights: Flights, one: Fitting) -> float:
    """The altitude to fly a published route at: as asked, else the lowest level of the direction that it names."""
    if flights.altitude_ft is not None:
        return flights.altitude_ft
    low_ft = max(one.low_ft, flights.asked.lowest_cruise_ft)
    if one.low_ft == one.high_ft:
        return one.low_ft
    odd = US.is_odd(whole_course(flights.direct_magnetic_deg))
    level_ft = 500.0 * -(-low_ft // 500.0)
    while not fits(level_ft, odd=odd, rules=flights.rules):
        level_ft += 500.0
    return level_ft if level_ft <= one.high_ft else low_ft
