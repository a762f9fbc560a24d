"""Which figures of a leg the errors and warnings mean: what a sheet marks with `!`."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TypeAlias

from navlog.rules.registry import Group, Severity
from navlog.rules.report import Report

Meant: TypeAlias = Mapping[int, frozenset[str]]
"""The keys of the columns that findings mean, by the leg's number."""

NOTHING: Meant = MappingProxyType({})

MARK = "!"

_OF_RULE = {
    "unflyable-wind": "groundspeed",
    "slow-groundspeed": "groundspeed",
    "wind-far": "groundspeed",
    "wind-beyond-heights": "groundspeed",
    "dark-arrival": "eta",
    "under-mra": "altitude",
    "out-of-range": "station",
    "below-horizon": "station",
    "stations-apart": "station",
    "unusable-sector": "station",
    "station-out": "station",
    "station-class-unknown": "station",
    "frequency-shared": "station",
    "channel-unpaired": "station",
    "unverified-source": "station",
    "no-guidance": "heading",
    "signal": "heading",
    "course-turns": "heading",
    "declination-old": "set_course",
    "variation-unknown": "heading",
    "variation-differs": "heading",
    "compass-card-silent": "heading",
    "compass-zone": "heading",
    "distance-differs": "distance",
    "short-leg": "distance",
    "changeover-sum": "distance",
    "cruising-level": "altitude",
    "vfr-too-high": "altitude",
    "poor-cut": "to",
    "dme-missing": "to",
    "fix-computed": "to",
}
"""The column that a rule's findings mean, where it is not that of the rule's group."""

_OF_GROUP = {
    Group.FLYING: "fuel_left",
    Group.HEIGHT: "altitude",
    Group.GUIDANCE: "set_course",
    Group.REST: "to",
    Group.DATA: "station",
}


def meant(report: Report, alternate: int | None = None) -> Meant:
    """The figures of each leg that an error or warning means, of the route or of an alternate by its number.

    Accepted findings and notes mark nothing.
    """
    found: dict[int, set[str]] = {}
    for one in report.findings:
        there = None if one.alternate is None else one.alternate.number
        if one.accepted is not None or one.severity is Severity.NOTE or there != alternate or one.number is None:
            continue
        key = _OF_RULE.get(one.rule, _OF_GROUP[one.group])
        # A part that relies on a station out of service may be flown by another: that one is on the air.
        if one.rule == "station-out" and one.station != _tuned(report, alternate, one.number):
            key = "to"
        for number in (one.number, *one.also):
            found.setdefault(number, set()).add(key)
    return {number: frozenset(keys) for number, keys in found.items()}


def _tuned(report: Report, alternate: int | None, number: int) -> str | None:
    """The station that guides a leg of the route, or of an alternate by its number; None where none does."""
    log = report.log if alternate is None else report.log.alternates[alternate - 1]
    guidance = next((leg.part.guidance for leg in log.legs if leg.number == number), None)
    return None if guidance is None else guidance.station.ident
