"""The domains of rules, in the order in which they are told, and of what flight each is asked.

A domain is a module beside this one, loaded when a flight has its subject: most flights have no notices, no terrain
and nothing accepted.
"""

from __future__ import annotations

from functools import cache, lru_cache
from importlib import import_module

from navlog.rules.registry import Case, Rule, Subject

_HIGH_FT = 10_000.0
"""No rule of oxygen is asked of a flight that stays as low; the lowest height of any is 12,500 ft."""

DOMAINS: dict[str, tuple[Subject, ...]] = {
    "altitudes": (),
    "minimums": (),
    "climbout": ("ifr",),
    "cold": ("temperature",),
    "oxygen": ("height",),
    "cruising": (),
    "reception": (),
    "courses": (),
    "closure": ("unplaced",),
    "passages": (),
    "stations": (),
    "receivers": ("ifr", "receiver"),
    "fixes": (),
    "windfuel": (),
    "light": (),
    "forecasts": ("bulletin", "wind at a place", "aircraft", "temperature stated"),
    "performance": (),
    "airspeeds": (),
    "doubts": (),
    "reserves": (),
    "data": (),
    "noticed": ("notice",),
    "obstacles_told": ("notice",),
    "unknowns": (),
    "stated": ("place stated",),
    "terrain": ("terrain",),
    "low_climbs": ("terrain",),
    "accuracy": (),
    "retired": ("acceptance",),
}
"""Each domain, and what its rules are about where that is not in every flight: one of them is enough."""


def subjects(case: Case) -> frozenset[Subject]:
    """What of the subjects the route, or the way to an alternate, has."""
    request, route, conditions = case.request, case.log.route, case.log.conditions
    winds, heights = conditions.winds or (), (request.pattern_ft, request.ceiling, request.route[-1].level)
    has: dict[Subject, object] = {
        "acceptance": request.accepted,
        "aircraft": conditions.aircraft,
        "alternate": case.log.alternates,
        "bulletin": conditions.bulletins,
        "changeover": case.changeovers,
        "difference": route.differs,
        "fix of the file": request.definitions.fixes,
        "fuel stop": conditions.fuel_at_stops,
        "height": [leg for leg in case.legs if leg.start_altitude_ft > _HIGH_FT or leg.end_altitude_ft > _HIGH_FT],
        "hold": request.holds,
        "ifr": request.rules == "ifr",
        "notice": request.notices,
        "place stated": request.radios or request.holds or route.namesakes or heights != (None, None, None),
        "receiver": request.receiver_check,
        "reserve stated": request.reserve_min is not None or request.daytime,
        "temperature": conditions.isa_deviation_c is not None
        or [level for column in winds for level in column.levels if level.temperature_c is not None],
        "temperature stated": request.temperature_c is not None,
        "terrain": [leg for leg in case.first_legs if leg.stretch.ground is not None or leg.stretch.abeam],
        "unguided": case.unguided,
        "unplaced": [leg for leg in case.first_legs if leg.stretch.course_source != "geodesic"],
        "variation stated": request.variation_deg is not None,
        "wind at a place": [column for column in winds if column.position is not None],
    }
    return frozenset([subject for subject, found in has.items() if found])


@lru_cache(maxsize=256)
def rules_on(has: frozenset[Subject]) -> tuple[Rule, ...]:
    """The rules that are asked of a flight with these subjects, in the order in which their findings are told."""
    asked = [domain for domain, about in DOMAINS.items() if not about or not has.isdisjoint(about)]
    found = [one for domain in asked for one in _rules_of(domain)]
    return tuple([one for one in found if one.subject is None or one.subject in has])


@cache
def _rules_of(domain: str) -> tuple[Rule, ...]:
    """The rules that the decorators of a domain's module made, in the order in which they are written."""
    module = import_module(f"navlog.rules.{domain}")
    made = [one for one in vars(module).values() if type(one) is Rule]
    return tuple([one for one in made if one.check.__module__ == module.__name__])


def every_rule() -> tuple[Rule, ...]:
    """Every rule, in the order in which its findings are told."""
    return tuple(one for domain in DOMAINS for one in _rules_of(domain))


def rule_named(ident: str) -> Rule | None:
    """The rule of that id."""
    return next((one for one in every_rule() if one.ident == ident), None)
