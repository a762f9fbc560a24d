"""The ways to alternates, judged by the checks of the flight itself: limits, stations, guidance, minimums."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from navlog.figures import distance
from navlog.flightlog.records import Log
from navlog.route import Stretch
from navlog.rules.altitudes import minimum_unknown, moca_range, under_ground, under_mea, under_minimum
from navlog.rules.cases import case_of
from navlog.rules.courses import distance_differs
from navlog.rules.performance import arrival_height
from navlog.rules.reception import unusable_sector
from navlog.rules.registry import Case, Found, Rule, Severity, rule
from navlog.rules.samples import sample
from navlog.rules.stations import station_out
from navlog.rules.unknowns import course_unknown
from navlog.rules.windfuel import unflyable_wind

TO_XHAR = "direct XOLD - XHAR 34.7nm min 4000"

BACK = ("alternate QEL via V801 QHB XHAR", "route XHAR QHB V801 QEL XOLD")
"""An alternate that stations guide to: back along the airway."""

ONCE_A_STRETCH = (under_mea, moca_range, under_minimum, unflyable_wind)
"""What these find on several legs of a stretch is one thing, told where the lowest height binds."""


@rule(
    "alternate-limits",
    Severity.WARNING,
    at_times=(Severity.ERROR,),
    source="14 CFR 91.177, 95.1; wind triangle; the aircraft file's descent",
    remedy="name another level, `alternate XHAR at 5500`, or another alternate",
    passing=sample("alternate XHAR at 4500", TO_XHAR),
    failing=sample("alternate XHAR at 3500", TO_XHAR),
)
def alternate_limits(case: Case) -> Iterator[Found]:
    """The way to an alternate is below a minimum, cannot be flown in the wind, or is longer than it is said to be.

    Also where it arrives higher than the field, or below it. An error where it cannot be flown, where its
    distance differs, where it ends below the field, and under IFR.
    """
    checks = (*ONCE_A_STRETCH, under_ground, distance_differs, arrival_height)
    for found in on_the_ways(case, *checks):
        yield Found(found.message, severity=found.severity)


@rule(
    "alternate-guidance",
    Severity.WARNING,
    at_times=(Severity.ERROR,),
    source="the sources of `station-out`, `unusable-sector`, `course-unknown` and `no-guidance`",
    remedy="name another way or another alternate, or navigate this part by other means that you have on board",
    passing=sample(*BACK),
    failing=sample("alternate XHAR"),
)
def alternate_guidance(case: Case) -> Iterator[Found]:
    """The way to an alternate is not guided by stations, or by one that does not serve it.

    An error where it relies on a station that is out of service.
    """
    for found in on_the_ways(case, station_out, unusable_sector, course_unknown):
        yield Found(found.message, severity=found.severity)
    for alternate in case.log.alternates:
        for stretch, legs in groupby(alternate.legs, key=lambda leg: leg.stretch):
            dead = [leg for leg in legs if leg.part.guidance is None]
            if dead:
                length, why = distance(sum(leg.distance_nm for leg in dead)), dead[0].part.reason
                message = f"dead reckoning for {length} NM of {way(stretch)}: {why or 'no station serves this leg'}"
                yield Found(f"alternate {alternate.route.points[-1].name}: {message}")


@rule(
    "alternate-minimum",
    Severity.NOTE,
    source="the sources of `minimum-unknown`",
    remedy="state a minimum: `direct XOLD - XHAR min 4000`",
    passing=sample("alternate XHAR", TO_XHAR),
    failing=sample("alternate XHAR"),
)
def alternate_minimum(case: Case) -> Iterator[Found]:
    """No minimum altitude is known on the way to an alternate."""
    yield from on_the_ways(case, minimum_unknown)


def on_the_ways(case: Case, *checks: Rule) -> Iterator[Found]:
    """What rules find on the ways to the alternates, with the way and the severity; alike findings are told once."""
    for alternate in case.log.alternates:
        other = case_of(alternate)
        bound_ft = {leg.number: low_ft for leg, low_ft in other.bound}
        for one in checks:
            told: dict[tuple[int, str], tuple[float, Found]] = {}
            for found in one.check(other):
                assert found.leg is not None
                low_ft = bound_ft.get(found.leg.number, 0.0)
                key = (id(found.leg.stretch), "" if one in ONCE_A_STRETCH else found.message)
                if key not in told or low_ft < told[key][0]:
                    told[key] = (low_ft, found)
            for _, found in told.values():
                yield Found(placed(alternate, found), severity=found.severity or one.severity)


def placed(alternate: Log, found: Found) -> str:
    """A finding's message with the alternate and, where it does not say it, the stretch."""
    assert found.leg is not None
    name, between = alternate.route.points[-1].name, way(found.leg.stretch)
    place = "" if between in found.message else f", {between}"
    return f"alternate {name}{place}: {found.message}"


def way(stretch: Stretch) -> str:
    """From where to where a stretch leads."""
    return f"{stretch.start.name} to {stretch.end.name}"


RULES: tuple[Rule, ...] = (alternate_limits, alternate_guidance, alternate_minimum)
