"""The domains of rules, in the order in which they are told, and of what flight each is asked.

A domain is a module beside this one, loaded when a flight has its subject: most flights have no notices, no terrain
and nothing accepted.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib import import_module

from navlog.rules.registry import Case, Rule

_HIGH_FT = 10_000.0
"""No rule of oxygen is asked of a flight that stays as low; the lowest height of any is 12,500 ft."""


def always(case: Case) -> bool:
    """Whether a domain is asked of a flight: of every one."""
    del case
    return True


def _climbs_by_instruments(case: Case) -> bool:
    return case.request.rules == "ifr" and case.takes_off


def _tells_temperature(case: Case) -> bool:
    conditions = case.log.conditions
    columns = conditions.winds or ()
    told = any(level.temperature_c is not None for column in columns for level in column.levels)
    return told or conditions.isa_deviation_c is not None


def _is_high(case: Case) -> bool:
    return any(leg.start_altitude_ft > _HIGH_FT or leg.end_altitude_ft > _HIGH_FT for leg in case.legs)


def _is_not_all_placed(case: Case) -> bool:
    return any(leg.stretch.course_source != "geodesic" for leg in case.first_legs)


def _checks_receivers(case: Case) -> bool:
    return case.request.rules == "ifr" or case.request.receiver_check is not None


def _names_notices(case: Case) -> bool:
    return bool(case.request.notices)


def _states_places(case: Case) -> bool:
    request = case.request
    values = (request.pattern_ft, request.ceiling, request.route[-1].level)
    stated = any(value is not None for value in values) or request.radios or request.holds
    return bool(stated or case.log.route.namesakes)


def _sees_terrain(case: Case) -> bool:
    return any(leg.stretch.ground is not None or leg.stretch.abeam for leg in case.first_legs)


def _accepts(case: Case) -> bool:
    return bool(case.request.accepted)


DOMAINS: dict[str, Callable[[Case], bool]] = {
    "altitudes": always,
    "minimums": always,
    "climbout": _climbs_by_instruments,
    "cold": _tells_temperature,
    "oxygen": _is_high,
    "cruising": always,
    "reception": always,
    "courses": always,
    "closure": _is_not_all_placed,
    "passages": always,
    "stations": always,
    "receivers": _checks_receivers,
    "fixes": always,
    "windfuel": always,
    "light": always,
    "performance": always,
    "airspeeds": always,
    "doubts": always,
    "reserves": always,
    "data": always,
    "noticed": _names_notices,
    "obstacles_told": _names_notices,
    "unknowns": always,
    "stated": _states_places,
    "terrain": _sees_terrain,
    "low_climbs": _sees_terrain,
    "accuracy": always,
    "retired": _accepts,
}
"""Each domain, and whether the route or the way to an alternate has what its rules are about."""


@cache
def rules_of(domain: str) -> tuple[Rule, ...]:
    """The rules that the decorators of a domain's module made, in the order in which they are written."""
    module = import_module(f"navlog.rules.{domain}")
    made = [one for one in vars(module).values() if type(one) is Rule]
    return tuple([one for one in made if one.check.__module__ == module.__name__])


def every_rule() -> tuple[Rule, ...]:
    """Every rule, in the order in which its findings are told."""
    return tuple(one for domain in DOMAINS for one in rules_of(domain))


def rule_named(ident: str) -> Rule | None:
    """The rule of that id."""
    return next((one for one in every_rule() if one.ident == ident), None)
