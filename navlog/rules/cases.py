"""A log as the rules see it: what several of them ask, found once."""

from __future__ import annotations

from navlog.flightlog.records import Leg, Log
from navlog.nav.chart import Station
from navlog.nav.guidance import Guidance
from navlog.resolve.route import Stretch
from navlog.rules.heights import binding, signal_assured
from navlog.rules.registry import DEFAULT_THRESHOLDS, Case, Neighbours, Thresholds


def case_of(log: Log, thresholds: Thresholds = DEFAULT_THRESHOLDS, neighbours: Neighbours | None = None) -> Case:
    """A log as the rules see it: of a route, or of the way to an alternate."""
    firsts: list[Leg] = []
    exposed: list[tuple[Leg, Guidance]] = []
    guided: list[tuple[Leg, Guidance]] = []
    stations: dict[str, tuple[Station, Leg]] = {}
    stretch: Stretch | None = None
    used: Guidance | None = None
    for leg in log.legs:
        if leg.stretch is not stretch and not leg.stays:
            firsts.append(leg)
            stretch, used = leg.stretch, None
        guidance = leg.part.guidance
        if guidance is None:
            continue
        if not signal_assured(leg):
            exposed.append((leg, guidance))
        if guidance is used:
            continue
        if used is None or guidance.station is not used.station or guidance.flag is not used.flag:
            guided.append((leg, guidance))
            stations.setdefault(guidance.station.ident, (guidance.station, leg))
        used = guidance
    return Case(
        log,
        log.legs,
        tuple(firsts),
        binding(log.legs, takes_off=log.conditions.entry_ft is None, vfr=log.conditions.vfr),
        tuple(exposed),
        tuple(guided),
        tuple(stations.values()),
        log.route.request,
        thresholds,
        neighbours,
        log.begun,
    )
